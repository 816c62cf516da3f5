//! The lifting engine: pure functions from typed inputs to results.
//!
//! It knows no clock, no files, no environment and no HTTP; the same input gives the same bits on every machine.

pub mod catalogue;
pub mod check;
pub mod circuit;
pub mod defaults;
mod effort;
mod error;
pub mod feed;
pub mod force;
pub mod load;
pub mod packing_lift;
pub mod plan;
pub mod price;
pub mod ram;
pub mod remark;
pub mod settings;
pub mod size;
pub mod support;
mod text;
pub mod verification;
pub mod verify;

pub use effort::Effort;
pub use error::EngineError;
pub use text::Text;
