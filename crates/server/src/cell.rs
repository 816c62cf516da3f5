//! Problems as a cell of a spreadsheet shows them: one line of text with status 200, since it hides what has another.

use axum::http::{Method, Uri};
use ramwright_api::problem::{Fault, Problem};

use crate::parameters;

/// Under this addresses may ask for problems in a cell.
const QUICK: &str = "/v1/quick/";

/// The only value of the parameter `errors`.
pub(crate) const CELL: &str = "cell";

/// Whether a request asks for problems in a cell, or as the whole answer to a table that a macro sent.
pub(crate) fn is_wanted(method: &Method, uri: &Uri) -> bool {
    matches!(*method, Method::GET | Method::HEAD | Method::POST)
        && uri.path().starts_with(QUICK)
        && parameters::said(&parameters::pairs(uri), "errors") == Some(CELL)
}

/// The problem as one line: its first fault, and how many more there are.
pub(crate) fn text(problem: &Problem) -> String {
    let (place, detail, remedy) = match problem.errors.first() {
        None => ("", problem.detail.as_str(), None),
        Some(fault) => (place(fault), fault.detail.as_str(), remedy(fault)),
    };
    let space = if place.is_empty() { "" } else { " " };
    let remedy = remedy.map(|remedy| format!(" {}", sentence(&remedy))).unwrap_or_default();
    let more = match problem.errors.len() {
        0 | 1 => String::new(),
        all => format!(" (1 of {all} faults)"),
    };
    let line = format!("#ERROR{space}{place}: {}{remedy}{more}", sentence(detail));
    line.chars().map(|one| if one.is_control() { ' ' } else { one }).collect()
}

fn sentence(text: &str) -> String {
    if text.ends_with(['.', '?']) { text.to_owned() } else { format!("{text}.") }
}

fn place(fault: &Fault) -> &str {
    // What is wrong with the whole is at no place.
    let pointer = fault.pointer.as_deref().filter(|pointer| *pointer != "#");
    fault.parameter.as_deref().or(pointer).unwrap_or_default()
}

fn remedy(fault: &Fault) -> Option<String> {
    fault.hint.clone().or_else(|| fault.nearest.as_ref().map(|near| format!("did you mean `{near}`?")))
}

#[cfg(test)]
mod tests {
    use super::*;
    use ramwright_api::problem::FaultCode;

    fn wanted(address: &'static str) -> bool {
        is_wanted(&Method::GET, &Uri::from_static(address))
    }

    #[test]
    fn verify_only_quick_addresses_have_cells() {
        assert!(wanted("/v1/quick/ram-set?errors=cell"));
        assert!(wanted("/v1/quick/ram-set?a=b&errors=cell"));
        for address in ["/v1/quick/ram-set", "/v1/quick/ram-set?errors=sell", "/v1/units?errors=cell"] {
            assert!(!wanted(address), "{address}");
        }
        let uri = Uri::from_static("/v1/quick/ram-set?errors=cell");
        assert!(is_wanted(&Method::HEAD, &uri) && is_wanted(&Method::POST, &uri) && !is_wanted(&Method::PUT, &uri));
    }

    #[test]
    fn verify_a_problem_is_one_line() {
        let near = Fault::in_parameter("laod", FaultCode::UnknownField, "no such parameter").with_nearest(Some("load"));
        let hinted = Fault::in_parameter("load", FaultCode::BareNumber, "212 has no\nunit.").with_hint("write 212 t");
        assert_eq!(
            text(&Problem::invalid_request(vec![near, hinted.clone()])),
            "#ERROR laod: no such parameter. did you mean `load`? (1 of 2 faults)"
        );
        assert_eq!(text(&Problem::invalid_request(vec![hinted])), "#ERROR load: 212 has no unit. write 212 t.");
        assert_eq!(text(&Problem::no_equilibrium("it tips", None)), "#ERROR: it tips.");
    }
}
