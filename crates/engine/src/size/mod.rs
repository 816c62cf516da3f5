//! The search for ram sets: every model and number in the yard against the checks of a verification.
//!
//! `hunt` and `descent` bring up sets, the most promising first; `trial` holds one against the checks; `front` knows what
//! could still be listed; `refusal` keeps how near each refused model came.

mod descent;
mod front;
mod hunt;
mod listed;
mod option;
mod order;
mod reason;
mod refusal;
mod score;
mod search;
mod tally;
mod terms;
mod trial;

pub use option::{CheckSummary, CircuitOption, ModelUsed, RamOption};
pub use refusal::{NearestMiss, Refusal};
pub(crate) use search::size_fed;
pub use search::{SizeInput, Sizing, size_ram_set};
pub use terms::{Assignment, Budget, Objective, SearchTerms};
