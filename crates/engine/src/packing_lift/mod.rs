//! Packing lifts: when one stroke is not enough.

mod kernel;
mod problem;
mod sequence;
mod shortlist;
mod stack_rules;
mod steps;

pub use problem::{LiftGeometry, SequenceInput};
pub use sequence::{Ending, PackingSequence, PieceCount, SequenceOutcome, Stopped, sequence_packing_lifts};
pub use stack_rules::{Pressed, StackDemand};
pub use steps::{Step, StepKind};
