//! Numbers with a decimal comma, made into those with a point.

use super::{Enquiry, parameters_of};
use crate::problem::{Fault, FaultCode, Problem};

/// The same parameters with a point in each number.
///
/// # Errors
/// A number that has a point: whether it parts decimals or thousands is not known.
pub fn with_points(enquiry: Enquiry, given: Vec<(String, String)>) -> Result<Vec<(String, String)>, Problem> {
    let has_numbers =
        |name: &str| parameters_of(enquiry).any(|parameter| parameter.name == name && parameter.has_numbers());
    let mut faults = Vec::new();
    let changed = given.into_iter().map(|(name, text)| {
        if !has_numbers(&name) {
            return (name, text);
        }
        if text.contains('.') {
            let detail = "a decimal comma was announced, and this has a point";
            let hint = "write a comma in every number, or leave decimal=comma out";
            let fault = Fault::in_parameter(name.as_str(), FaultCode::Inconsistent, detail);
            faults.push(fault.with_given(text.as_str()).with_hint(hint));
        }
        let text = text.replace(',', ".");
        (name, text)
    });
    let changed = changed.collect();
    if faults.is_empty() { Ok(changed) } else { Err(Problem::invalid_request(faults)) }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn changed(name: &str, text: &str) -> Result<String, FaultCode> {
        let given = vec![(name.to_owned(), text.to_owned())];
        let changed = with_points(Enquiry::RamSet, given).map_err(|problem| problem.errors[0].code)?;
        Ok(changed[0].1.clone())
    }

    #[test]
    fn verify_commas_become_points_in_numbers_only() {
        for (name, text, wanted) in [
            ("load", "212,5 t", "212.5 t"),
            ("capacity_limit", "0,75", "0.75"),
            ("at", "0 m/0 m;4,4 m/0 m", "0 m/0 m;4.4 m/0 m"),
            ("title", "a, b. c", "a, b. c"),
            ("catalogue", "demo_yard", "demo_yard"),
            // One comma too many is no number, and the reader says so.
            ("load", "1,212,5 t", "1.212.5 t"),
        ] {
            assert_eq!(changed(name, text).as_deref(), Ok(wanted));
        }
    }

    #[test]
    fn verify_mixed_conventions_are_refused() {
        for (name, text) in [("load", "212.5 t"), ("load", "1.212,5 t"), ("stroke_limit", "0.8")] {
            assert_eq!(changed(name, text), Err(FaultCode::Inconsistent));
        }
    }
}
