//! The plans with the fewest cycles as a graph, and for each of its nodes what the rest must cost at least.
//!
//! A node is a rest (cycle, holding stack, base stack) or a set ram (the base stack of the next cycle chosen, the
//! load still on the old holding stack). The least cost of the rest is exact for each of the two stacks taken alone,
//! within the heights that occur in that cycle; their sum is a lower bound, as the shared stock is left out.
#![expect(clippy::indexing_slicing, reason = "all lists have the length of the list of stacks they speak of")]

use super::cycles::{Layers, Stacks};
use super::meter::{Halt, Meter};
use super::model::{Cost, Model};

/// Rests looked at for one base stack, at least, before it is taken as possible.
const LOOKS: usize = 200;
/// Looks for all base stacks of one cycle, if these are few.
const LOOK_STATES: usize = 10_000_000;
/// Steps in which limits for the next base stack are taken, at most.
const STEPS_MAX: usize = 32;
/// States that all steps of one cycle may take together.
const STEP_STATES: usize = 400_000;

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

/// A base stack that may be set in a cycle, with what all later base stacks cost at least and how high the stacks
/// from itself on are.
#[derive(Debug, Clone, Copy)]
pub(super) struct Base {
    /// Index of the stack.
    pub(super) stack: usize,
    /// The later base stacks taken alone.
    pub(super) alone: Cost,
    /// The same and the whole of the last holding stack, which shares the stock with the last base stack.
    pub(super) joint: Cost,
}

/// A base stack that may be set in a cycle, and how high that of the next cycle may be.
#[derive(Debug, Clone, Copy)]
struct Member {
    base: usize,
    next_max: i64,
}

/// A rest that a raise can lead to.
#[derive(Debug, Clone, Copy)]
struct Reachable {
    /// Loaded height of the base stack that it takes.
    demand: i64,
    /// Greatest height of the next base stack.
    entry: i64,
    key: u128,
    /// The greatest `entry` of this and all that take less.
    highest: i64,
}

/// One cycle of the graph.
#[derive(Debug)]
pub(super) struct Stage {
    /// Base stacks that may be set in this cycle, ascending.
    pub(super) bases: Vec<Base>,
    /// Holding stacks after this cycle, ascending.
    pub(super) rests: Vec<usize>,
}

/// The graph.
#[derive(Debug)]
pub(super) struct Graph<'a> {
    pub(super) model: &'a Model,
    pub(super) stacks: &'a Stacks,
    pub(super) stages: Vec<Stage>,
    rests_to_go: RestsToGo,
    layers: &'a Layers,
}

/// What the later holding stacks cost at least.
#[derive(Debug)]
struct RestsToGo {
    /// For each holding stack, the later ones alone, and the greatest height from itself on.
    alone: Vec<Cost>,
    /// The same and the whole of the last base stack.
    joint: Vec<Cost>,
    /// The first for the load on its own bearing.
    alone_first: Cost,
    /// The second for the load on its own bearing.
    joint_first: Cost,
}

/// Carries the cheaper of two costs.
fn cheaper(own: Cost, other: Cost, weight: u64) -> Cost {
    own.min(other.plus(weight))
}

/// Of stacks in ascending cost the first that fits; after [`LOOKS`] the next one, fitting or not, as a lower bound.
fn first_fit(sorted: &[(Cost, usize)], fits: impl Fn(usize) -> bool, meter: &mut Meter<'_>) -> Result<Cost, Halt> {
    let found = sorted.iter().enumerate().find(|(look, (_, stack))| *look == LOOKS || fits(*stack));
    meter.spend(found.map_or(sorted.len(), |(look, _)| look + 1))?;
    Ok(found.map_or(Cost::NONE, |(_, &(cost, _))| cost))
}

impl<'a> Graph<'a> {
    /// Builds the stages and the lower bounds.
    pub(super) fn new(
        model: &'a Model,
        stacks: &'a Stacks,
        layers: &'a Layers,
        meter: &mut Meter<'_>,
    ) -> Result<Self, Halt> {
        let rests_to_go =
            RestsToGo { alone: Vec::new(), joint: Vec::new(), alone_first: Cost::NONE, joint_first: Cost::NONE };
        let mut graph = Self { model, stacks, stages: Vec::new(), rests_to_go, layers };
        let members: Vec<Vec<Member>> =
            (0..layers.cycles).map(|cycle| graph.bases_of(cycle, meter)).collect::<Result<_, _>>()?;
        let last: Vec<usize> = members.last().into_iter().flatten().map(|member| member.base).collect();
        graph.bound_rests(&last, meter)?;
        graph.bound_bases(&members, meter)?;
        Ok(graph)
    }

    /// Whether the last raise can end on a holding stack over a base stack.
    fn last_packs(&self, base: usize, rest: usize) -> bool {
        let (model, stacks) = (self.model, self.stacks);
        model.demand(stacks.holding.height[rest]) <= stacks.base.net[base]
            && model.lanes.fits(stacks.holding.keys[rest], model.stock - stacks.base.keys[base])
    }

    /// Whether the cycle after a rest may be the last and end on the collars.
    fn collars_next(&self, rest: Rest) -> bool {
        rest.map_or(self.layers.collars_first, |stack| self.layers.collars_next[stack])
    }

    /// Whether the last raise can end on the collars over a base stack, from a rest of the cycle before.
    fn last_on_collars(&self, base: usize, rest: Rest) -> bool {
        let (model, stacks) = (self.model, self.stacks);
        self.collars_next(rest)
            && model.collar_demand.is_some_and(|demand| demand <= stacks.base.net[base])
            && model.lanes.fits(self.key(rest), model.stock - stacks.base.keys[base])
    }

    fn bound_rests(&mut self, last_bases: &[usize], meter: &mut Meter<'_>) -> Result<(), Halt> {
        let list = &self.stacks.holding;
        let bases = &self.stacks.base;
        let mut sorted: Vec<(Cost, usize)> = (last_bases.iter())
            .map(|&base| (Cost { handled: bases.weight(base), height: bases.height[base] }, base))
            .collect();
        sorted.sort_unstable();
        let mut alone = vec![Cost::NONE; list.len()];
        let mut joint = vec![Cost::NONE; list.len()];
        for &stack in self.layers.rests.last().map_or(&[][..], Vec::as_slice) {
            alone[stack] = Cost::ZERO.at_least(list.height[stack]);
            joint[stack] = first_fit(&sorted, |base| self.last_packs(base, stack), meter)?.at_least(list.height[stack]);
        }
        for cycle in (0..self.layers.cycles).rev() {
            let next = &self.layers.rests[cycle];
            let alone_before = self.carry_rests(cycle, next, &alone, meter)?;
            let joint_before = self.carry_rests(cycle, next, &joint, meter)?;
            let last = cycle + 1 == self.layers.cycles;
            let on_collars = |rest: Rest, meter: &mut Meter<'_>| -> Result<Cost, Halt> {
                if last && self.collars_next(rest) {
                    first_fit(&sorted, |base| self.last_on_collars(base, rest), meter)
                } else {
                    Ok(Cost::NONE)
                }
            };
            let Some(before) = cycle.checked_sub(1) else {
                let collars = on_collars(None, meter)?;
                let collars_alone = if collars == Cost::NONE { collars } else { Cost::ZERO };
                self.rests_to_go.alone_first = alone_before[0].min(collars_alone);
                self.rests_to_go.joint_first = joint_before[0].min(collars);
                break;
            };
            for &stack in &self.layers.rests[before] {
                let collars = on_collars(Some(stack), meter)?;
                let collars_alone = if collars == Cost::NONE { collars } else { Cost::ZERO };
                alone[stack] = alone_before[stack].min(collars_alone).at_least(list.height[stack]);
                joint[stack] = joint_before[stack].min(collars).at_least(list.height[stack]);
            }
        }
        (self.rests_to_go.alone, self.rests_to_go.joint) = (alone, joint);
        Ok(())
    }

    /// Carries the costs of the rests after a cycle to all stacks before it.
    fn carry_rests(
        &self,
        cycle: usize,
        next: &[usize],
        costs: &[Cost],
        meter: &mut Meter<'_>,
    ) -> Result<Vec<Cost>, Halt> {
        let (model, list) = (self.model, &self.stacks.holding);
        meter.spend(list.len())?;
        let mut values = vec![Cost::NONE; list.len()];
        for &stack in next {
            values[stack] = costs[stack];
        }
        list.sweep_down(&mut values, |kind| cycle == 0 || !model.add_only || model.kinds[kind].thin, cheaper);
        if !model.add_only {
            list.sweep_up(&mut values, |_| true, cheaper);
        }
        Ok(values)
    }

    fn bound_bases(&mut self, members: &[Vec<Member>], meter: &mut Meter<'_>) -> Result<(), Halt> {
        let list = &self.stacks.base;
        for (cycle, members) in members.iter().enumerate().rev() {
            let later = match self.stages.last() {
                None => self.last_holding(members, meter)?.into_iter().map(|joint| (Cost::ZERO, joint)).collect(),
                Some(next) => self.carry_bases(members, &next.bases, meter)?,
            };
            let bases: Vec<Base> = (members.iter().zip(later))
                .map(|(member, (alone, joint))| Base {
                    stack: member.base,
                    alone: alone.at_least(list.height[member.base]),
                    joint: joint.at_least(list.height[member.base]),
                })
                .filter(|base| base.joint.handled != u64::MAX)
                .collect();
            self.stages.push(Stage { bases, rests: self.layers.rests[cycle].clone() });
        }
        self.stages.reverse();
        Ok(())
    }

    /// Carries the costs of the base stacks of the next cycle to those of this one. What comes after a stack is no
    /// higher than the highest rest it reaches lets in; these limits are taken in a few steps, each rounded up.
    fn carry_bases(&self, members: &[Member], next: &[Base], meter: &mut Meter<'_>) -> Result<Vec<(Cost, Cost)>, Halt> {
        let list = &self.stacks.base;
        let mut by_limit: Vec<usize> = (0..members.len()).collect();
        by_limit.sort_by_key(|&member| (members[member].next_max, member));
        let mut by_height: Vec<&Base> = next.iter().collect();
        by_height.sort_by_key(|base| (list.height[base.stack], base.stack));
        let steps = (STEP_STATES / (list.len() + 1)).clamp(1, STEPS_MAX);
        let mut later = vec![(Cost::NONE, Cost::NONE); members.len()];
        let mut alone = vec![Cost::NONE; list.len()];
        let mut joint = vec![Cost::NONE; list.len()];
        let mut taken = 0;
        for step in by_limit.chunks(by_limit.len().div_ceil(steps).max(1)) {
            let limit = step.last().map_or(i64::MIN, |&member| members[member].next_max);
            let new = by_height[taken..].partition_point(|base| list.height[base.stack] <= limit);
            if 0 < new {
                meter.spend(2 * list.len())?;
                for base in &by_height[taken..taken + new] {
                    alone[base.stack] = alone[base.stack].min(base.alone);
                    joint[base.stack] = joint[base.stack].min(base.joint);
                }
                for values in [&mut alone, &mut joint] {
                    list.sweep_down(values, |_| true, cheaper);
                    list.sweep_up(values, |_| true, cheaper);
                }
                taken += new;
            }
            for &member in step {
                let base = members[member].base;
                later[member] = (alone[base], joint[base]);
            }
        }
        Ok(later)
    }

    /// For each base stack of the last cycle, the cheapest holding stack at the end beside it.
    fn last_holding(&self, members: &[Member], meter: &mut Meter<'_>) -> Result<Vec<Cost>, Halt> {
        let list = &self.stacks.holding;
        let whole = |stack: usize| Cost { handled: list.weight(stack), height: list.height[stack] };
        let rests = &self.layers.rests;
        let mut packing: Vec<(Cost, usize)> =
            rests.last().into_iter().flatten().map(|&stack| (whole(stack), stack)).collect();
        packing.sort_unstable();
        let before = rests.len().checked_sub(2).and_then(|index| rests.get(index));
        let mut collars: Vec<(Cost, usize)> = before
            .into_iter()
            .flatten()
            .filter(|&&stack| self.collars_next(Some(stack)))
            .map(|&stack| (whole(stack), stack))
            .collect();
        collars.sort_unstable();
        let mut costs = Vec::new();
        for &Member { base, .. } in members {
            let on_packing = first_fit(&packing, |rest| self.last_packs(base, rest), meter)?;
            let on_collars = if self.last_on_collars(base, None) {
                Cost::ZERO
            } else {
                first_fit(&collars, |rest| self.last_on_collars(base, Some(rest)), meter)?
            };
            costs.push(on_packing.min(on_collars));
        }
        Ok(costs)
    }

    /// Base stacks that some rest before the cycle lets in and that reach some rest after it, as far as a few looks
    /// show; one too many, or too high a limit for the next, only makes the lower bound weaker.
    fn bases_of(&self, cycle: usize, meter: &mut Meter<'_>) -> Result<Vec<Member>, Halt> {
        let (model, stacks) = (self.model, self.stacks);
        let list = &stacks.holding;
        let mut before: Vec<(i64, u128)> = match cycle.checked_sub(1) {
            None => vec![(model.entry(0), 0)],
            Some(last) => (self.layers.rests[last].iter())
                .map(|&stack| (model.entry(stacks.rise(model, stack)), list.keys[stack]))
                .collect(),
        };
        before.sort_unstable_by(|a, b| b.cmp(a));
        let looks = (LOOK_STATES / (stacks.base.len() + 1)).max(LOOKS);
        let after = self.reachable(cycle);
        let mut members = Vec::new();
        for base in 0..stacks.base.len() {
            let room = model.stock - stacks.base.keys[base];
            let height = stacks.base.height[base];
            let mut looked = 1;
            let enters = before.iter().take_while(|rest| height <= rest.0).enumerate().any(|(look, rest)| {
                looked += 1;
                look == looks || model.lanes.fits(rest.1, room)
            });
            let reached = after.partition_point(|rest| rest.demand <= stacks.base.net[base]);
            let mut next_max = i64::MIN;
            for (look, rest) in after[..reached].iter().rev().filter(|_| enters).enumerate() {
                looked += 1;
                if rest.highest <= next_max {
                    break;
                }
                if look == looks {
                    next_max = rest.highest;
                } else if model.lanes.fits(rest.key, room) {
                    next_max = next_max.max(rest.entry);
                }
            }
            meter.spend(looked)?;
            if next_max != i64::MIN {
                members.push(Member { base, next_max });
            }
        }
        Ok(members)
    }

    /// What the raise of a cycle can lead to, by ascending demand.
    fn reachable(&self, cycle: usize) -> Vec<Reachable> {
        let (model, list) = (self.model, &self.stacks.holding);
        let mut after: Vec<Reachable> = (self.layers.rests[cycle].iter())
            .map(|&stack| {
                let entry = model.entry(self.stacks.rise(model, stack));
                Reachable { demand: model.demand(list.height[stack]), entry, key: list.keys[stack], highest: entry }
            })
            .collect();
        if let Some(demand) = model.collar_demand.filter(|_| cycle + 1 == self.layers.cycles) {
            after.push(Reachable { demand, entry: 0, key: 0, highest: 0 });
        }
        after.sort_unstable_by_key(|rest| (rest.demand, rest.key));
        let mut highest = i64::MIN;
        for rest in &mut after {
            highest = highest.max(rest.entry);
            rest.highest = highest;
        }
        after
    }

    /// Number of cycles.
    pub(super) fn cycles(&self) -> usize {
        self.stages.len()
    }

    /// Lower bound for every plan through a node: a rest, and the base stack under the ram, or that of the next cycle.
    pub(super) fn bound(&self, spent: Cost, rest: Rest, base: &Base) -> Cost {
        let to_go = &self.rests_to_go;
        let (alone, joint) =
            rest.map_or((to_go.alone_first, to_go.joint_first), |stack| (to_go.alone[stack], to_go.joint[stack]));
        // What stands now has been paid for, and is a part of what the joint bounds count.
        let holding_now = rest.map_or(0, |stack| self.stacks.holding.weight(stack));
        let base_now = self.stacks.base.weight(base.stack);
        let by_bases = spent.and(base.joint).less(holding_now);
        let by_rests = spent.and(joint).less(base_now);
        spent.and(alone).and(base.alone).max(by_bases).max(by_rests)
    }

    fn key(&self, rest: Rest) -> u128 {
        rest.map_or(0, |stack| self.stacks.holding.keys[stack])
    }

    fn rise(&self, rest: Rest) -> i64 {
        rest.map_or(0, |stack| self.stacks.rise(self.model, stack))
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
        let (model, list) = (self.model, &self.stacks.base);
        let entry = model.entry(self.rise(rest));
        let room = model.stock - self.key(rest);
        let stage = &self.stages[cycle];
        meter.spend(stage.bases.len())?;
        for next in &stage.bases {
            if list.height[next.stack] <= entry && model.lanes.fits(list.keys[next.stack], room) {
                visit(next, list.distance(base, next.stack));
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
        let (model, list) = (self.model, &self.stacks.holding);
        let net = self.stacks.base.net[base];
        let (key, rise) = (self.key(rest), self.rise(rest));
        let room = model.stock - self.stacks.base.keys[base];
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
                rise <= self.stacks.rise(model, next)
            };
            if open && follows {
                visit(Top::Packing(next), list.distance(rest.unwrap_or(0), next));
            }
        }
        let collars = cycle + 1 == self.cycles()
            && model.collar_demand.is_some_and(|demand| demand <= net)
            && self.stacks.below_ceiling(model, rest);
        if collars {
            visit(Top::Collars, 0);
        }
        Ok(())
    }
}
