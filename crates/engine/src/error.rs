//! Why the engine gives no answer.

use crate::load::NoEquilibrium;
use crate::packing_lift::Stopped;
use thiserror::Error;

/// Why there is no answer. A check that fails is an answer and not among these.
#[derive(Clone, Debug, PartialEq, Error)]
#[non_exhaustive]
pub enum EngineError {
    /// The load cannot stand on its points at all.
    #[error(transparent)]
    NoEquilibrium(#[from] NoEquilibrium),
    /// The caller stopped the work.
    #[error(transparent)]
    Stopped(#[from] Stopped),
}
