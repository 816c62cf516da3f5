//! One group as the joint search sees it: its stacks, and what it needs at least from each of them on.
#![expect(clippy::indexing_slicing, reason = "all lists have the length of the list of stacks they speak of")]

use super::problem::Group;
use crate::packing_lift::kernel::bounds::rises_needed;
use crate::packing_lift::kernel::meter::{Halt, Meter};
use crate::packing_lift::kernel::model::{Cost, Model};
use crate::packing_lift::kernel::rests_to_go::cheaper;
use crate::packing_lift::kernel::stacks::Stacks;

/// Stacks of one place listed at most.
const STACKS_MOST: usize = 1 << 17;

/// One group.
#[derive(Debug)]
pub(super) struct Side {
    pub(super) points: u32,
    pub(super) model: Model,
    pub(super) stacks: Stacks,
    /// Height of the closed ram with its plates and usable stroke below the clearance: what a base stack must make up.
    pub(super) under_ram: i64,
    pub(super) follow_up_gap: i64,
    /// For each number of cycles still to come, the least rise from which they can suffice.
    needed: Vec<i64>,
    /// Least cost of the later holding stacks from each on.
    holding_to_go: Vec<Cost>,
    /// The same from the load's own bearing.
    holding_first: Cost,
    /// Least cost of the later base stacks from each on.
    base_to_go: Vec<Cost>,
}

impl Side {
    /// Lists the stacks of a group; `None` if they are too many.
    pub(super) fn new(group: &Group, meter: &mut Meter<'_>) -> Result<Option<Self>, Halt> {
        let problem = &group.sought();
        let Ok(model) = Model::new(problem) else { return Ok(None) };
        let Some(stacks) = Stacks::new(&model, STACKS_MOST, meter)? else { return Ok(None) };
        let needed = rises_needed(&model, meter)?;
        let mut side = Self {
            points: group.points,
            under_ram: problem.clearance - problem.closed_height - problem.plates - problem.usable_stroke,
            follow_up_gap: problem.follow_up_gap,
            needed,
            holding_to_go: Vec::new(),
            holding_first: Cost::NONE,
            base_to_go: Vec::new(),
            model,
            stacks,
        };
        side.weigh(meter)?;
        Ok(Some(side))
    }

    fn weigh(&mut self, meter: &mut Meter<'_>) -> Result<(), Halt> {
        let (model, stacks) = (&self.model, &self.stacks);
        let (holding, base) = (&stacks.holding, &stacks.base);
        meter.spend(2 * holding.sweep_states() + 2 * base.sweep_states())?;
        let ends = |stack: usize| model.collar_demand.is_some() || stacks.ends(model, stack);
        let end = |stack: usize| if ends(stack) { Cost::ZERO.at_least(holding.height[stack]) } else { Cost::NONE };
        let mut to_go: Vec<Cost> = (0..holding.len()).map(end).collect();
        let mut first = to_go.clone();
        holding.sweep_down(&mut to_go, |kind| !model.add_only || model.kinds[kind].thin, cheaper);
        holding.sweep_down(&mut first, |_| true, cheaper);
        if !model.add_only {
            for values in [&mut to_go, &mut first] {
                holding.sweep_up(values, |_| true, cheaper);
            }
        }
        let demands = (0..holding.len()).filter(|&stack| stacks.ends(model, stack));
        let least = demands.map(|stack| model.demand(holding.height[stack])).chain(model.collar_demand).min();
        let reaches = |stack: usize| base.stands[stack] && least.is_some_and(|least| least <= base.net[stack]);
        let mut base_to_go: Vec<Cost> = (0..base.len())
            .map(|stack| if reaches(stack) { Cost::ZERO.at_least(base.height[stack]) } else { Cost::NONE })
            .collect();
        base.sweep_down(&mut base_to_go, |_| true, cheaper);
        base.sweep_up(&mut base_to_go, |_| true, cheaper);
        self.holding_first = first.first().copied().unwrap_or(Cost::NONE);
        self.holding_to_go = to_go;
        self.base_to_go = base_to_go;
        Ok(())
    }

    /// Rise at rest, least and greatest; `None`: on the load's own bearing.
    pub(super) fn rest(&self, stack: Option<usize>) -> (i64, i64) {
        let holding = &self.stacks.holding;
        stack.map_or((0, 0), |stack| (self.model.rise(holding.net[stack]), self.model.rise(holding.top[stack])))
    }

    /// Pieces of a holding stack; none on the load's own bearing.
    pub(super) fn held(&self, stack: Option<usize>) -> u128 {
        stack.map_or(0, |stack| self.stacks.holding.keys[stack])
    }

    /// Greatest rise over a base stack.
    pub(super) fn reach(&self, base: usize) -> i64 {
        self.stacks.base.net[base] - self.under_ram
    }

    /// Least rise that opens room for a holding stack.
    pub(super) fn raise_for(&self, stack: Option<usize>) -> i64 {
        let height = stack.map_or(i64::MIN / 4, |stack| self.stacks.holding.height[stack]);
        self.model.demand(height) - self.under_ram
    }

    /// Greatest rise at which the drop on to a holding stack is still within the gap.
    pub(super) fn drop_limit(&self, stack: usize) -> i64 {
        if self.model.add_only {
            (self.stacks.holding.height[stack] - self.model.packing_clearance).max(0) + self.follow_up_gap
        } else {
            i64::MAX / 4
        }
    }

    /// Cycles that are needed at least from a rise on.
    pub(super) fn cycles_from(&self, rise: i64) -> usize {
        self.needed.iter().position(|&needed| needed <= rise).unwrap_or(self.needed.len())
    }

    /// Whether the job may end on a rest.
    pub(super) fn done(&self, stack: Option<usize>) -> bool {
        stack.is_some_and(|stack| self.stacks.ends(&self.model, stack))
    }

    /// What the later holding stacks cost at least, for all points of the group.
    pub(super) fn holding_to_go(&self, stack: Option<usize>) -> Cost {
        stack.map_or(self.holding_first, |stack| self.holding_to_go[stack]).times(self.points)
    }

    /// What the later base stacks cost at least, for all points of the group.
    pub(super) fn base_to_go(&self, base: usize) -> Cost {
        self.base_to_go[base].times(self.points)
    }

    /// Whether a stack may follow another while the load is on the rams.
    pub(super) fn follows(&self, old: Option<usize>, new: usize) -> bool {
        let list = &self.stacks.holding;
        let key = list.keys[new];
        if !self.model.add_only {
            return self.rest(old).0 <= self.rest(Some(new)).0;
        }
        let before = self.held(old);
        self.model.lanes.fits(before, key)
            && (old.is_none() || self.model.thick_part(before) == self.model.thick_part(key))
    }
}
