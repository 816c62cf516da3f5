//! A packing-lift sequence as it is answered.

use super::steps::Step;
use crate::Text;
use ramwright_units::{Angle, Force, ForceRange, Length, OilVolume, PieceMass, Time};
use serde::{Deserialize, Serialize};
use thiserror::Error;
use utoipa::ToSchema;

/// The work was stopped from outside.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Error)]
#[error("the calculation was stopped")]
pub struct Stopped;

/// How good the sequence is.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize, ToSchema)]
#[serde(rename_all = "snake_case")]
pub enum SequenceOutcome {
    /// Proven best.
    Optimal,
    /// The best that was found before the effort was used up.
    WithinEffort,
    /// There is none; see `reason`.
    Infeasible,
    /// None was found before the effort was used up; there may be one.
    NotFound,
}

/// What holds the load at the end.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize, ToSchema)]
#[serde(rename_all = "snake_case")]
pub enum Ending {
    /// The holding stacks.
    OnPacking,
    /// The lock collars of the rams.
    OnLockCollars,
    /// The bearing on to which it was let down.
    OnFinalBearing,
}

/// Pieces of one kind.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, ToSchema)]
pub struct PieceCount {
    /// The piece's id.
    pub piece: String,
    /// How many.
    pub count: u32,
}

/// A kind of piece that was not used.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, ToSchema)]
pub struct PieceLeftOut {
    /// The piece's id.
    pub piece: String,
    /// Why.
    pub why: Text,
}

/// Why there is no sequence, and what would cure it.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, ToSchema)]
pub struct InfeasibleReason {
    /// A fixed name to branch on. More may appear.
    pub code: Text,
    /// The reason in words.
    pub text: Text,
    /// The least changes after which there is a sequence, each on its own.
    pub least_changes: Vec<Text>,
}

/// Points that are packed alike.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, ToSchema)]
pub struct PointGroup {
    /// Their ids.
    pub points: Vec<String>,
    /// Rams that stand at them together, each with a base stack and a holding stack of its own.
    pub rams: u32,
    /// Height between foundation and load where the rams go, at the start.
    pub clearance: Length,
    /// The same where the holding stacks go.
    pub packing_clearance: Length,
}

/// What the whole sequence takes.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, ToSchema)]
pub struct SequenceTotals {
    /// Oil that the rams take in, over all raises.
    pub oil: OilVolume,
    /// Time in which the pumps give it under load; absent if their flow is not known.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub pump_time: Option<Time>,
    /// Estimated duration, from the handling times; without the time of the pumps where that is not known.
    pub duration: Time,
    /// Number of steps.
    pub steps: u32,
    /// Steps that somebody must release.
    pub hold_points: u32,
}

/// What a point carries while the load is tilted.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, ToSchema)]
pub struct TiltedShare {
    /// The point's id.
    pub point: String,
    /// What one of its rams, or one of its stacks, carries, with all tolerances.
    pub share: ForceRange,
}

/// A state of a load that goes up end by end.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, ToSchema)]
pub struct TiltedState {
    /// The packing lift, from 1.
    pub cycle: u32,
    /// The end that is raised.
    pub raised: Vec<String>,
    /// By how much the raised end stands higher than the other at the top of the raise; lower if negative.
    pub difference: Length,
    /// The slope that this makes.
    pub slope: Angle,
    /// What each point carries.
    pub shares: Vec<TiltedShare>,
    /// Greatest share of one ram, or of one stack, over what a ram may carry.
    pub ram_utilisation: f64,
    /// The greatest horizontal force on one of the rams that carry, if they took all of it.
    pub sideways_on_one_ram: Force,
}

/// A packing-lift sequence.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, ToSchema)]
pub struct PackingSequence {
    /// How good it is.
    pub outcome: SequenceOutcome,
    /// Whether nothing better exists: fewest packing lifts, then fewest pieces handled, least mass handled, lowest stacks.
    pub optimal: bool,
    /// What is proven, in words.
    pub why: Text,
    /// Number of packing lifts; absent if there is no sequence.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub cycles: Option<u32>,
    /// No sequence has fewer.
    pub lower_bound: u32,
    /// By how many packing lifts the sequence may be above the fewest.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub gap: Option<u32>,
    /// What holds the load at the end.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub ending: Option<Ending>,
    /// The points, in groups that are packed alike.
    pub groups: Vec<PointGroup>,
    /// How many stacks of each kind there are: one for each ram at every point.
    pub stacks: u32,
    /// How many rams are needed: with an end at a time, as many as the end with more of them takes.
    pub rams: u32,
    /// How often the rams move over to another end.
    pub ram_moves: u32,
    /// Greatest share of one ram over what it may carry, by its capacity and the capacity limit.
    pub ram_utilisation: f64,
    /// Pieces placed and removed, over all stacks; of a crib layer each member.
    pub pieces_handled: u64,
    /// Mass placed and removed, over all stacks.
    pub mass_handled: PieceMass,
    /// Highest stack.
    pub greatest_stack: Length,
    /// Highest base stack.
    pub greatest_base_stack: Length,
    /// Greatest extension of a ram.
    pub greatest_extension: Length,
    /// Pieces needed, all stacks together.
    pub pieces: Vec<PieceCount>,
    /// Kinds that could not be used.
    pub left_out: Vec<PieceLeftOut>,
    /// What it takes; absent if there is no sequence.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub totals: Option<SequenceTotals>,
    /// The load as it tilts, where it goes up end by end.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub tilted: Vec<TiltedState>,
    /// The steps for the crew.
    pub steps: Vec<Step>,
    /// Why there is none.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub reason: Option<InfeasibleReason>,
}
