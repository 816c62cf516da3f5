//! What a packing-lift sequence is made from.

use super::kernel::Cures;
use super::result::PieceCount;
use super::stack_rules::StackDemand;
use crate::catalogue::Packing;
use crate::ram::{Pad, Ram};
use crate::settings::Settings;
use ramwright_units::{Force, ForceRange, Length};

/// Points whose heights are alike, or one end of a load that goes up end by end.
#[derive(Clone, Debug, PartialEq)]
pub struct PointsAlike {
    /// Their ids.
    pub points: Vec<String>,
    /// Rams that stand at them together; each has a base stack and a holding stack of its own.
    pub rams: u32,
    /// Height between foundation and load where the rams go.
    pub clearance: Length,
    /// The same where the holding stacks go.
    pub packing_clearance: Length,
    /// What one ram carries at each of them, in their order.
    pub on_one_ram: Vec<ForceRange>,
}

/// How points that differ go up.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Manner {
    /// All in every packing lift, level within the tolerance of the settings.
    Together,
    /// One end in every packing lift while the other stands; the rams move over.
    EndByEnd {
        /// By how much the ends may differ in height.
        greatest_difference: Length,
    },
}

/// Which way the load goes.
#[derive(Clone, Debug, PartialEq)]
pub enum Direction {
    /// Up.
    Raise,
    /// Down on to its final bearing.
    Lower {
        /// The stack on which it stands at every ram, from the bottom up, each kind named once.
        stands_on: Vec<PieceCount>,
    },
}

/// What a packing-lift sequence is made from.
#[derive(Clone, Debug, PartialEq)]
pub struct SequenceInput<'a> {
    /// The points, in groups.
    pub groups: &'a [PointsAlike],
    /// How far the load goes.
    pub travel: Length,
    /// Which way.
    pub direction: &'a Direction,
    /// How the groups go.
    pub manner: Manner,
    /// The ram, the same at every point.
    pub ram: &'a Ram,
    /// The greatest share that one ram, and so one stack, carries.
    pub share: Force,
    /// The part of the pad on which one base stack must find room, if the pad is known.
    pub base_room: Option<Pad>,
    /// What presses on the stacks, as far as it is known.
    pub stacks: StackDemand<'a>,
    /// What else carries the load while holding stacks are rebuilt, if the request names something.
    pub second_support: Option<&'a str>,
    /// Limits and gaps.
    pub settings: &'a Settings,
    /// The pieces on site, in the order of their ids.
    pub pieces: &'a [Packing],
    /// Whether a reason says which least changes would cure it.
    pub cures: Cures,
}

impl SequenceInput<'_> {
    /// The fewest rams at any group of points: a kind with fewer pieces is of no use.
    pub(super) fn fewest_rams(&self) -> u32 {
        self.groups.iter().map(|group| group.rams).min().unwrap_or(0)
    }

    /// Pairs of stacks: one for each ram at every point.
    pub(super) fn stack_pairs(&self) -> u32 {
        self.groups.iter().map(|group| group.rams).fold(0, u32::saturating_add)
    }

    /// Whether holding stacks may be rebuilt under the load.
    pub(super) fn rebuilds(&self) -> bool {
        self.ram.lock_collar || self.second_support.is_some()
    }
}
