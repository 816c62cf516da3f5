//! Faults of the request, under the names of the parameters that made it.

use super::{Enquiry, Given, parameters_of};
use crate::problem::{Fault, Problem};

/// All faults as one problem, in the order of the address.
pub(super) fn collected(enquiry: Enquiry, given: Given<'_>, own: Vec<Fault>, of_request: Vec<Fault>) -> Problem {
    let mut faults = own;
    for fault in of_request.into_iter().map(|fault| in_parameter(enquiry, given, fault)) {
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
fn in_parameter(enquiry: Enquiry, given: Given<'_>, fault: Fault) -> Fault {
    let found = fault.pointer.as_deref().and_then(|pointer| parameter_of(enquiry, given, pointer));
    let Some(name) = found else { return fault };
    Fault { pointer: None, parameter: Some(name.to_owned()), ..fault }
}

/// The parameter whose field is at a pointer, or nearest above it; of two for one field the one that is given.
fn parameter_of(enquiry: Enquiry, given: Given<'_>, pointer: &str) -> Option<&'static str> {
    let parts = pointer.trim_start_matches("#/").split('/').filter(|part| part.parse::<usize>().is_err());
    let path = parts.collect::<Vec<_>>().join("/");
    let within =
        |field: &&'static str| path.strip_prefix(*field).is_some_and(|rest| rest.is_empty() || rest.starts_with('/'));
    let nearest =
        |fields: &'static [&'static str]| fields.iter().filter(|field| within(field)).map(|field| field.len()).max();
    let reached = parameters_of(enquiry).filter_map(|parameter| Some((nearest(parameter.fields)?, parameter.name)));
    reached.max_by_key(|(length, name)| (*length, given.text(name).is_some())).map(|(_, name)| name)
}
