//! The plans with the fewest cycles as a graph, with a lower bound for every plan through a node.
//!
//! A node is a rest (cycle, holding stack, base stack) or a set ram (the base stack of the next cycle chosen, the
//! load still on the old holding stack).
#![expect(clippy::indexing_slicing, reason = "all lists have the length of the list of stacks they speak of")]

use super::bases_to_go::{Base, Stage, stages};
use super::cycles::Layers;
use super::members::{Member, members};
use super::meter::{Halt, Meter};
use super::model::{Cost, Model};
use super::rests_to_go::RestsToGo;
use super::stacks::Stacks;

/// Where the load stands: on its own bearing, or on a holding stack.
pub(super) type Rest = Option<usize>;

/// What a raise leads to.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub(super) enum Top {
    /// On to a holding stack.
    Packing(usize),
    /// On to the collars; the job is done.
    Collars,
}

/// What the graph is made of.
#[derive(Debug, Clone, Copy)]
pub(super) struct Frame<'a> {
    pub(super) model: &'a Model,
    pub(super) stacks: &'a Stacks,
    pub(super) layers: &'a Layers,
}

impl Frame<'_> {
    /// Pieces of the stack on which the load rests.
    pub(super) fn key(&self, rest: Rest) -> u128 {
        rest.map_or(0, |stack| self.stacks.holding.keys[stack])
    }

    /// Rise at which it rests.
    pub(super) fn rise(&self, rest: Rest) -> i64 {
        rest.map_or(0, |stack| self.stacks.rise(self.model, stack))
    }

    /// Whether a cycle is the last one.
    pub(super) fn is_last(&self, cycle: usize) -> bool {
        cycle + 1 == self.layers.cycles
    }

    /// Whether the last raise can end on a holding stack over a base stack.
    pub(super) fn last_packs(&self, base: usize, rest: usize) -> bool {
        let (model, stacks) = (self.model, self.stacks);
        model.demand(stacks.holding.height[rest]) <= stacks.base.net[base]
            && model.lanes.fits(stacks.holding.keys[rest], model.stock - stacks.base.keys[base])
    }

    /// Whether the cycle after a rest may be the last and end on the collars.
    pub(super) fn collars_next(&self, rest: Rest) -> bool {
        rest.map_or(self.layers.collars_first, |stack| self.layers.collars_next[stack])
    }

    /// Whether the last raise can end on the collars over a base stack, from a rest of the cycle before.
    pub(super) fn last_on_collars(&self, base: usize, rest: Rest) -> bool {
        let (model, stacks) = (self.model, self.stacks);
        self.collars_next(rest)
            && model.collar_demand.is_some_and(|demand| demand <= stacks.base.net[base])
            && model.lanes.fits(self.key(rest), model.stock - stacks.base.keys[base])
    }
}

/// The graph.
#[derive(Debug)]
pub(super) struct Graph<'a> {
    frame: Frame<'a>,
    stages: Vec<Stage>,
    rests_to_go: RestsToGo,
}

impl<'a> Graph<'a> {
    /// Builds the stages and the lower bounds.
    pub(super) fn new(
        model: &'a Model,
        stacks: &'a Stacks,
        layers: &'a Layers,
        meter: &mut Meter<'_>,
    ) -> Result<Self, Halt> {
        let frame = Frame { model, stacks, layers };
        let members: Vec<Vec<Member>> =
            (0..layers.cycles).map(|cycle| members(frame, cycle, meter)).collect::<Result<_, _>>()?;
        let rests_to_go = RestsToGo::new(frame, members.last().map_or(&[], Vec::as_slice), meter)?;
        Ok(Self { frame, stages: stages(frame, &members, meter)?, rests_to_go })
    }

    /// Unloaded height of a base stack.
    pub(super) fn base_height(&self, base: usize) -> i64 {
        self.frame.stacks.base.height[base]
    }

    /// Unloaded height of a holding stack.
    pub(super) fn holding_height(&self, stack: usize) -> i64 {
        self.frame.stacks.holding.height[stack]
    }

    /// Number of cycles.
    pub(super) fn cycles(&self) -> usize {
        self.stages.len()
    }

    /// Lower bound for every plan through a node: a rest, and the base stack under the ram, or that of the next cycle.
    pub(super) fn bound(&self, spent: Cost, rest: Rest, base: &Base) -> Cost {
        let stacks = self.frame.stacks;
        let (alone, joint) = self.rests_to_go.from(rest);
        // What stands now has been paid for, and is a part of what the joint bounds count.
        let holding_now = rest.map_or(0, |stack| stacks.holding.weight(stack));
        let base_now = stacks.base.weight(base.stack);
        let by_bases = spent.and(base.joint).less(holding_now);
        let by_rests = spent.and(joint).less(base_now);
        spent.and(alone).and(base.alone).max(by_bases).max(by_rests)
    }

    /// Base stacks that can be set in a cycle while the load rests, and the weight of the change.
    pub(super) fn bases(
        &self,
        cycle: usize,
        rest: Rest,
        base: usize,
        meter: &mut Meter<'_>,
        mut visit: impl FnMut(&Base, u64),
    ) -> Result<(), Halt> {
        let (model, list) = (self.frame.model, &self.frame.stacks.base);
        let entry = model.entry(self.frame.rise(rest));
        let room = model.stock - self.frame.key(rest);
        let stage = &self.stages[cycle];
        meter.spend(stage.bases.len())?;
        for next in &stage.bases {
            if list.height[next.stack] <= entry && model.lanes.fits(list.keys[next.stack], room) {
                visit(next, list.distance(base, next.stack) + next.out);
            }
        }
        Ok(())
    }

    /// What the raise of a cycle can lead to with its base stack set, and the weight of the change.
    pub(super) fn tops(
        &self,
        cycle: usize,
        rest: Rest,
        base: usize,
        meter: &mut Meter<'_>,
        mut visit: impl FnMut(Top, u64),
    ) -> Result<(), Halt> {
        let (model, stacks) = (self.frame.model, self.frame.stacks);
        let list = &stacks.holding;
        let net = stacks.base.net[base];
        let (key, rise) = (self.frame.key(rest), self.frame.rise(rest));
        let room = model.stock - stacks.base.keys[base];
        let stage = &self.stages[cycle];
        meter.spend(stage.rests.len() + 1)?;
        let thick = model.thick_part(key);
        let old_comes_free = rest.is_none_or(|stack| model.demand(list.height[stack]) <= net);
        for &next in stage.rests.iter().filter(|_| old_comes_free) {
            let next_key = list.keys[next];
            let open = model.demand(list.height[next]) <= net && model.lanes.fits(next_key, room);
            let follows = if model.add_only {
                model.lanes.fits(key, next_key) && (rest.is_none() || thick == model.thick_part(next_key))
            } else {
                rise <= stacks.rise(model, next)
            };
            if open && follows {
                visit(Top::Packing(next), list.distance(rest.unwrap_or(0), next));
            }
        }
        let collars = self.frame.is_last(cycle)
            && model.collar_demand.is_some_and(|demand| demand <= net)
            && stacks.below_ceiling(model, rest);
        if collars {
            visit(Top::Collars, 0);
        }
        Ok(())
    }
}
