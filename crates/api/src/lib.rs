//! What comes over the wire: request types and their parsing, catalogues, answers and problems.

mod answer;
pub mod batch;
pub mod catalogue;
mod digest;
pub mod json;
mod limits;
pub mod operation;
pub mod problem;
pub mod quick;
pub mod read;
pub mod replay;
pub mod request;
pub mod sent;

pub use answer::{Answer, AnswerOrValidation, CatalogueUsed, Validation, written};
pub use catalogue::Catalogues;
pub use digest::{LONGEST_PERMALINK, sha256};
pub use limits::{Limits, NumberLimit, QuantityLimit, limits};
pub use operation::{Operation, Prepared};
