//! Parameters of the address: none but those that the description names, and each once.
//!
//! What an operation takes is read from the description itself, so that the two cannot differ.

use std::collections::{BTreeMap, BTreeSet};
use std::sync::Arc;

use axum::extract::{MatchedPath, Query, Request, State};
use axum::http::{Method, Uri};
use axum::middleware::Next;
use axum::response::{IntoResponse, Response};
use ramwright_api::problem::{Fault, FaultCode, Problem};
use ramwright_api::read::nearest;
use utoipa::openapi::path::{Operation, ParameterIn};
use utoipa::openapi::{OpenApi, RefOr};

use crate::problem::Failure;

/// The names of the parameters that each route and method takes.
#[derive(Clone, Debug)]
pub(crate) struct Known(Arc<BTreeMap<(String, &'static str), BTreeSet<String>>>);

impl Known {
    /// Reads the names from the description.
    pub(crate) fn from_description(description: &OpenApi) -> Self {
        let mut known = BTreeMap::new();
        for (path, item) in &description.paths.paths {
            for (method, operation) in [("GET", &item.get), ("POST", &item.post)] {
                if let Some(operation) = operation {
                    known.insert((path.clone(), method), query_parameters(operation));
                }
            }
        }
        Self(Arc::new(known))
    }

    /// The names for a request; nothing where the description does not know it, as for pages and unfit methods.
    fn names(&self, path: &str, method: &Method) -> Option<&BTreeSet<String>> {
        let method = match *method {
            Method::GET | Method::HEAD => "GET",
            Method::POST => "POST",
            _ => return None,
        };
        self.0.get(&(path.to_owned(), method))
    }
}

fn query_parameters(operation: &Operation) -> BTreeSet<String> {
    let parameters = operation.parameters.iter().flatten();
    parameters
        .filter_map(|one| match one {
            RefOr::T(parameter) if parameter.parameter_in == ParameterIn::Query => Some(parameter.name.clone()),
            _ => None,
        })
        .collect()
}

/// Refuses a request with a parameter that is unknown or given twice.
pub(crate) async fn check(State(known): State<Known>, request: Request, next: Next) -> Response {
    let path = request.extensions().get::<MatchedPath>();
    if let Some(names) = path.and_then(|path| known.names(path.as_str(), request.method())) {
        let faults = faults(&pairs(request.uri()), names);
        if !faults.is_empty() {
            return Failure(Problem::invalid_request(faults)).into_response();
        }
    }
    next.run(request).await
}

/// The parameters of an address in their order, decoded.
pub(crate) fn pairs(uri: &Uri) -> Vec<(String, String)> {
    Query::<Vec<(String, String)>>::try_from_uri(uri).map(|Query(pairs)| pairs).unwrap_or_default()
}

/// What is said for a parameter, if anything.
pub(crate) fn said<'a>(given: &'a [(String, String)], name: &str) -> Option<&'a str> {
    given.iter().find(|(own, _)| own == name).map(|(_, text)| text.as_str())
}

fn faults(pairs: &[(String, String)], known: &BTreeSet<String>) -> Vec<Fault> {
    let mut seen = BTreeSet::new();
    let mut faults = Vec::new();
    for (name, _) in pairs {
        if !known.contains(name) {
            let hint = nearest(name, known.iter().map(String::as_str));
            let fault =
                Fault::in_parameter(name, FaultCode::UnknownField, format!("There is no parameter {name:?} here."));
            faults.push(fault.with_nearest(hint));
        } else if !seen.insert(name) {
            let detail = format!("The parameter {name} is given twice.");
            faults.push(Fault::in_parameter(name, FaultCode::DuplicateField, detail));
        }
    }
    faults
}

#[cfg(test)]
mod tests {
    use super::*;

    fn codes(address: &str) -> Vec<(FaultCode, Option<String>)> {
        let known = BTreeSet::from(["format".to_owned(), "units".to_owned()]);
        let uri: Uri = address.parse().unwrap();
        faults(&pairs(&uri), &known).into_iter().map(|fault| (fault.code, fault.nearest)).collect()
    }

    #[test]
    fn verify_known_parameters_pass_once() {
        assert_eq!(codes("/x"), []);
        assert_eq!(codes("/x?format=csv&units=us"), []);
        assert_eq!(codes("/x?format=csv&format=csv"), [(FaultCode::DuplicateField, None)]);
    }

    #[test]
    fn verify_an_unknown_parameter_is_named_with_its_nearest() {
        assert_eq!(codes("/x?fromat=csv"), [(FaultCode::UnknownField, Some("format".to_owned()))]);
        assert_eq!(
            codes("/x?%66romat=csv&zz"),
            [(FaultCode::UnknownField, Some("format".to_owned())), (FaultCode::UnknownField, None)]
        );
    }
}
