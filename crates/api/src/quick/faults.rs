//! Faults of the request, under the names of the parameters that made it.

use super::{Given, PARAMETERS};
use crate::problem::{Fault, Problem};

/// All faults as one problem, in the order of the address.
pub(super) fn collected(given: Given<'_>, own: Vec<Fault>, of_request: Vec<Fault>) -> Problem {
    let mut faults = own;
    for fault in of_request.into_iter().map(in_parameter) {
        // What is wrong with a field is wrong at every point, and what was found by its parameter is said already.
        if !faults.iter().any(|known| {
            known.parameter == fault.parameter && known.pointer == fault.pointer && known.code == fault.code
        }) {
            faults.push(fault);
        }
    }
    faults.sort_by_key(|fault| fault.parameter.as_deref().map_or(usize::MAX, |name| given.place(name)));
    Problem::invalid_request(faults)
}

/// The fault at the parameter from which its field comes; one that comes from none keeps its pointer.
fn in_parameter(fault: Fault) -> Fault {
    let Some(name) = fault.pointer.as_deref().and_then(parameter_of) else { return fault };
    Fault { pointer: None, parameter: Some(name.to_owned()), ..fault }
}

/// The parameter whose field is at a pointer, or nearest above it.
fn parameter_of(pointer: &str) -> Option<&'static str> {
    let parts = pointer.trim_start_matches("#/").split('/').filter(|part| part.parse::<usize>().is_err());
    let path = parts.collect::<Vec<_>>().join("/");
    let within =
        |field: &&'static str| path.strip_prefix(*field).is_some_and(|rest| rest.is_empty() || rest.starts_with('/'));
    let nearest =
        |fields: &'static [&'static str]| fields.iter().filter(|field| within(field)).map(|field| field.len()).max();
    let reached = PARAMETERS.iter().filter_map(|parameter| Some((nearest(parameter.fields)?, parameter.name)));
    reached.max_by_key(|(length, _)| *length).map(|(_, name)| name)
}
