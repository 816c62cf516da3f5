//! Packing lifts: when one stroke is not enough.

mod book;
mod input;
mod kernel;
mod let_down;
mod problem;
mod reasons;
mod result;
mod sequence;
mod shortlist;
mod stack_rules;
mod steps;

pub(crate) use book::{PlanBook, Planned};
pub use input::{Direction, Manner, PointsAlike, SequenceInput};
pub use kernel::Cures;
pub use result::{
    Ending, InfeasibleReason, PackingSequence, PieceCount, PieceLeftOut, PointGroup, SequenceOutcome, SequenceTotals,
    Stopped, TiltedShare, TiltedState,
};
pub use sequence::sequence_packing_lifts;
pub use stack_rules::{Pressed, StackDemand};
pub use steps::{Step, StepAt, StepKind, StepPressure};
