//! The calculations: each parses its sections of a request, calls one engine function and judges the result.

mod calculations;
mod prepared;

pub use calculations::{AssessCircuit, PlanLift, SequencePackingLifts, ShareLoad, SizeRamSet, VerifyRamSet};
pub use prepared::Prepared;

use crate::read::Read;
use crate::request::{Context, Sections, Yard};
use ramwright_engine::remark::Caution;
use ramwright_engine::verify::Verdict;
use ramwright_engine::{Effort, EngineError, defaults};
use serde::Serialize;
use serde::de::DeserializeOwned;
use utoipa::ToSchema;

/// A calculation.
pub trait Operation {
    /// Its name.
    const NAME: &'static str;
    /// The path to which its requests are sent.
    const PATH: &'static str;
    /// States that it visits if the request does not say.
    const STATES: u64 = defaults::SEARCH_STATES;
    /// The request as it is sent.
    type Request: Read + ToSchema;
    /// The engine's input.
    type Input: Send + Sync;
    /// The engine's result.
    type Result: Serialize + DeserializeOwned + ToSchema + Send;

    /// The yard that the request works with, where the operation uses one.
    fn yard(sections: &Sections, context: &mut Context<'_>) -> Option<Yard> {
        context.yard(sections)
    }

    /// Parses the sections; every contradiction is collected in the context.
    fn parse(sections: &Sections, yard: Option<&Yard>, context: &mut Context<'_>) -> Option<Self::Input>;

    /// Calls the engine.
    ///
    /// # Errors
    /// As the engine's function.
    fn compute(input: &Self::Input, effort: Effort<'_>) -> Result<Self::Result, EngineError>;

    /// One word over the result.
    fn verdict(result: &Self::Result) -> Verdict;

    /// What a reader of this result must know.
    fn cautions(result: &Self::Result) -> Vec<Caution>;
}
