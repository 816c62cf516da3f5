//! The quick form of the search for ram sets: plain parameters of an address, made into the request of the search.
//!
//! Nothing is judged here that the search's own reader judges: its faults come back under the names of the parameters.

mod faults;
mod layout;
mod parameters;
mod tree;

pub use parameters::{PARAMETERS, Parameter, parameters};

use crate::catalogue::Catalogues;
use crate::operation::{Prepared, SizeRamSet};
use crate::problem::{Problem, ProblemCode};

/// The parameters as they were given, in their order, decoded; of one that is repeated the first counts.
#[derive(Clone, Copy)]
struct Given<'a>(&'a [(String, String)]);

impl<'a> Given<'a> {
    fn text(self, name: &str) -> Option<&'a str> {
        self.0.iter().find(|(own, _)| own == name).map(|(_, text)| text.as_str())
    }

    /// The place of a parameter in the address; one that is not given comes last.
    fn place(self, name: &str) -> usize {
        self.0.iter().position(|(own, _)| own == name).unwrap_or(usize::MAX)
    }
}

/// Makes the request of the search from the parameters of an address, and reads it.
///
/// # Errors
/// Every fault, each with its parameter.
pub fn prepare(given: &[(String, String)], catalogues: &Catalogues) -> Result<Prepared<SizeRamSet>, Problem> {
    let given = Given(given);
    let mut own = Vec::new();
    let request = tree::request(given, &mut own);
    match Prepared::<SizeRamSet>::from_node(&request, catalogues) {
        Ok(prepared) if own.is_empty() => Ok(prepared),
        Ok(_) => Err(faults::collected(given, own, Vec::new())),
        Err(problem) if problem.code == ProblemCode::InvalidRequest => {
            Err(faults::collected(given, own, problem.errors))
        }
        Err(problem) => Err(problem),
    }
}

#[cfg(test)]
mod tests;
