//! Packing lifts: when one stroke is not enough.

mod kernel;
mod problem;
mod sequence;
mod shortlist;
mod steps;

pub use problem::{LiftGeometry, SequenceInput};
pub use sequence::{Ending, PackingSequence, PieceCount, SequenceOutcome, Stopped, sequence_packing_lifts};
pub use steps::{Step, StepKind};
