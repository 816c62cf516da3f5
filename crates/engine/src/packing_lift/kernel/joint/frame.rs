//! All groups together, and the pool of pieces that they draw on.
#![expect(clippy::indexing_slicing, reason = "states have one rest and one base stack for every group")]

use super::problem::{JointProblem, Manner};
use super::side::Side;
use crate::packing_lift::kernel::model::{Cost, Lanes};
use crate::packing_lift::kernel::problem::ProblemError;

/// The load's own bearing, in a state.
const OWN: u32 = u32::MAX;
/// The lock collars, in a state.
const COLLARS: u32 = u32::MAX - 1;

/// What is searched.
#[derive(Debug)]
pub(super) struct Frame {
    pub(super) sides: Vec<Side>,
    pub(super) manner: Manner,
    /// Number of cycles now tried.
    pub(super) cycles: usize,
    pub(super) lanes: Lanes,
    /// All pieces on site.
    pub(super) pool: u128,
}

/// Where each group stands: its rest and its base stack, and in turn which of them has the rams.
#[derive(Debug, Clone, PartialEq, Eq, PartialOrd, Ord)]
pub(super) struct State {
    rests: Box<[u32]>,
    bases: Box<[u32]>,
    /// The group that has the rams, when they go up in turn.
    pub(super) at: Option<usize>,
}

impl State {
    pub(super) fn start(groups: usize) -> Self {
        Self { rests: vec![OWN; groups].into(), bases: vec![0; groups].into(), at: None }
    }

    /// The holding stack of a group; `None` on its own bearing, or on the collars.
    pub(super) fn rest(&self, group: usize) -> Option<usize> {
        let rest = self.rests[group];
        if rest < COLLARS { usize::try_from(rest).ok() } else { None }
    }

    pub(super) fn on_collars(&self) -> bool {
        self.rests.contains(&COLLARS)
    }

    pub(super) fn base(&self, group: usize) -> usize {
        usize::try_from(self.bases[group]).unwrap_or(0)
    }

    pub(super) fn with_base(&self, group: usize, base: usize) -> Self {
        let mut next = self.clone();
        next.bases[group] = u32::try_from(base).unwrap_or(0);
        next
    }

    pub(super) fn with_rest(&self, group: usize, rest: usize) -> Self {
        let mut next = self.clone();
        next.rests[group] = u32::try_from(rest).unwrap_or(OWN);
        next
    }

    pub(super) fn with_collars(&self) -> Self {
        Self { rests: vec![COLLARS; self.rests.len()].into(), ..self.clone() }
    }
}

impl Frame {
    pub(super) fn new(problem: &JointProblem, sides: Vec<Side>) -> Result<Self, ProblemError> {
        let lanes = sides.first().map_or_else(Lanes::none, |side| side.model.lanes);
        let mut pool = 0;
        for (kind, &stock) in problem.stock.iter().enumerate() {
            // What no group could ever use is left out.
            let of_use: u32 = sides
                .iter()
                .map(|side| {
                    let kind = &side.model.kinds[kind];
                    side.points.saturating_mul(kind.base_cap.saturating_add(kind.holding_cap))
                })
                .fold(0, u32::saturating_add);
            let count = stock.min(of_use);
            if lanes.count_max() < count.saturating_add(lanes.count_max() / 2) {
                return Err(ProblemError::TooManyPieces { piece: kind });
            }
            pool += lanes.one(kind) * u128::from(count);
        }
        Ok(Self { sides, manner: problem.manner, cycles: 0, lanes, pool })
    }

    pub(super) fn groups(&self) -> usize {
        self.sides.len()
    }

    /// Choices that make one cycle.
    pub(super) fn choices(&self) -> usize {
        match self.manner {
            Manner::Together { .. } => 2 * self.groups(),
            Manner::EndByEnd { .. } => 2,
        }
    }

    /// Whether both lists of pieces together are on site.
    pub(super) fn in_pool(&self, used: u128, more: u128) -> bool {
        self.lanes.fits(used + more, self.pool)
    }

    /// Pieces of a group's stacks, all its points together.
    pub(super) fn pieces(&self, group: usize, key: u128) -> u128 {
        key * u128::from(self.sides[group].points)
    }

    /// What is still to be paid at least from a state on.
    pub(super) fn to_go(&self, state: &State) -> Cost {
        if state.on_collars() {
            return Cost::ZERO;
        }
        let of = |group: usize| {
            let side = &self.sides[group];
            let rest = state.rest(group);
            // In turn, a group that is done needs no more base stacks.
            let base = match self.manner {
                Manner::EndByEnd { .. } if side.done(rest) => Cost::ZERO,
                _ => side.base_to_go(state.base(group)),
            };
            side.holding_to_go(rest).and(base)
        };
        (0..self.groups()).map(of).fold(Cost::ZERO, Cost::and)
    }
}
