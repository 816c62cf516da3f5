//! The steps for the crew.

mod account;
mod lower;
mod prove;
mod raise;
mod stand;
mod words;
mod writer;

pub(super) use lower::steps_down;
pub(super) use raise::steps_up;

use super::kernel::{Cycle, Range as Tenths};
use super::result::PieceCount;
use crate::Text;
use ramwright_units::{Length, LengthRange, OilPressure, OilPressureRange, Time};
use serde::{Deserialize, Serialize};
use utoipa::ToSchema;

/// What is done in a step.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize, ToSchema)]
#[serde(rename_all = "snake_case")]
pub enum StepKind {
    /// Rams move over to another end.
    MoveRams,
    /// Rams go in on their base stacks.
    SetRams,
    /// The load is preloaded in steps until it is free everywhere.
    FreeLoad,
    /// The load is lifted a little, held and watched.
    ProveLift,
    /// The rams raise the load.
    Raise,
    /// A piece is added under the load.
    AddPiece,
    /// A piece is taken out from under the load.
    RemovePiece,
    /// The lock collars take the load.
    LockCollars,
    /// The second support takes the load.
    SecondSupport,
    /// The holding stacks are rebuilt under a load that stands on collars or on a second support.
    RebuildStacks,
    /// The rams let the load down to where the next piece comes out.
    LowerToPause,
    /// The load goes down on to the holding stacks, or on to its final bearing.
    Lower,
    /// Rams and packing are taken out at the end.
    TakeOut,
}

/// Oil pressure in the rams of a point.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, ToSchema)]
pub struct StepPressure {
    /// The point.
    pub point: String,
    /// What is expected, with all tolerances.
    pub expected: OilPressureRange,
    /// At which to stop: above the greatest expected, and never above what the ram is rated for.
    pub stop: OilPressure,
}

/// How things stand at some points after a step.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, ToSchema)]
pub struct StepAt {
    /// The points.
    pub points: Vec<String>,
    /// Height of the load over the foundation of the holding stack.
    pub soffit: LengthRange,
    /// Extension of the rams.
    pub extension: LengthRange,
    /// Pieces under each ram, counted by kind; the widest lie at the bottom, of one size the thickest.
    pub base_stack: Vec<PieceCount>,
    /// Pieces of each holding stack, counted by kind. Where steps add or draw out single pieces, they lie in the order in which
    /// the steps add them, or in that of `stands_on`; a stack that is set or rebuilt has the widest at the bottom.
    pub holding_stack: Vec<PieceCount>,
    /// What holds the load.
    pub held_by: Text,
    /// Oil pressure at each point, where the rams carry.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub pressures: Vec<StepPressure>,
}

/// A step: what moves, where the load is, what holds it.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, ToSchema)]
pub struct Step {
    /// Its number, from 1.
    pub number: u32,
    /// The packing lift that it belongs to, from 1.
    pub cycle: u32,
    /// What is done.
    pub kind: StepKind,
    /// Who does it.
    pub who: Text,
    /// The points at which it is done.
    pub points: Vec<String>,
    /// The same in words.
    pub text: Text,
    /// How things stand after it, at all points.
    pub at: Vec<StepAt>,
    /// Greatest drop to the next mechanical support during the step, if the load is on oil.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub drop: Option<Length>,
    /// What to check before going on.
    pub check: Text,
    /// Whether somebody must release the next step.
    pub hold_point: bool,
    /// Pieces placed and taken out in the step, at all its points; of a crib layer each member.
    pub pieces_moved: u32,
    /// Pieces in all stacks after it.
    pub pieces_in_use: Vec<PieceCount>,
    /// Estimated duration.
    pub duration: Time,
}

/// A cycle as it is carried out: the stroke that frees a collar is kept, where the planner counts it as height.
fn carried_out(cycle: &Cycle, spare: i64) -> Cycle {
    let shorter = |range: Tenths| Tenths { least: range.least - spare, greatest: range.greatest - spare };
    Cycle { raise: cycle.raise - spare, extension: shorter(cycle.extension), ..cycle.clone() }
}
