//! The quick forms of calculations: plain parameters of an address or of a row, made into the request of a calculation.
//!
//! Nothing is judged here that the calculation's own reader judges: its faults come back under the names of the parameters.

mod decimals;
mod enquiry;
mod faults;
mod layout;
mod parameters;
pub mod rows;
mod tree;

pub use decimals::with_points;
pub use enquiry::{Enquired, Enquiry};
pub use parameters::{PARAMETERS, Parameter, parameters, parameters_of};

use crate::catalogue::{Carried, Catalogues};
use crate::operation::Prepared;
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

/// Makes the request of a calculation from the parameters of an enquiry, and reads it; `carried` are lists that go with it.
///
/// # Errors
/// Every fault, each with its parameter.
pub fn prepare<O: Enquired>(
    given: &[(String, String)],
    carried: Option<&Carried>,
    catalogues: &Catalogues,
) -> Result<Prepared<O>, Problem> {
    let given = Given(given);
    let mut own = Vec::new();
    let request = tree::request(O::ENQUIRY, given, carried, &mut own);
    match Prepared::<O>::from_node(&request, catalogues) {
        Ok(prepared) if own.is_empty() => Ok(prepared),
        Ok(_) => Err(faults::collected(O::ENQUIRY, given, own, Vec::new())),
        Err(problem) if problem.code == ProblemCode::InvalidRequest => {
            Err(faults::collected(O::ENQUIRY, given, own, problem.errors))
        }
        Err(problem) => Err(problem),
    }
}

#[cfg(test)]
mod tests;
