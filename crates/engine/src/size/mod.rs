//! The search for ram sets: every model and count in the catalogue against every check.

mod candidate;
mod option;
mod pareto;
mod refusal;
mod search;

pub use option::{CheckSummary, RamOption};
pub use refusal::{NearestMiss, Refusal};
pub use search::{SizeInput, Sizing, size_ram_set};
