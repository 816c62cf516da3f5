//! What a job costs by the rates that are stated: hire, transport, crew, handling plant, spares, timber and standby.
//!
//! Nothing is converted between currencies, and nothing without a rate counts as free: it is listed as not priced.

mod cents;
mod estimate;
mod hire;
mod result;
mod sheet;
mod terms;

pub use cents::GREATEST_AMOUNT;
pub use estimate::{PriceJob, estimate};
pub use hire::{HireItem, HireMix, HireOfItem, ItemKind, hire_of, hire_total};
pub use result::{Estimate, NotPriced, PriceItem, PriceRow, PriceUnit};
pub use terms::{PriceTerms, Rates};
