//! The choices that lead on from a state.
#![expect(clippy::indexing_slicing, reason = "all lists have the length of the list of stacks they speak of")]

use super::frame::{Frame, State};
use super::problem::Manner;
use crate::packing_lift::kernel::meter::{Halt, Meter};
use crate::packing_lift::kernel::model::Cost;

/// A state reached at some cost.
#[derive(Debug, Clone)]
pub(super) struct Node {
    /// Choices made so far.
    pub(super) depth: usize,
    pub(super) state: State,
    pub(super) spent: Cost,
    /// The least rise to which the load must be raised, of the groups that have chosen a holding stack in this cycle.
    lift: i64,
    /// Their rests, the lowest and the highest.
    rests: (i64, i64),
    /// The greatest rise at which all of them are still within the follow-up gap.
    drop_limit: i64,
    pub(super) parent: usize,
}

/// No group has chosen yet.
const NO_LIFT: i64 = i64::MIN / 4;
const NO_RESTS: (i64, i64) = (i64::MAX / 4, i64::MIN / 4);
const NO_LIMIT: i64 = i64::MAX / 4;

impl Node {
    pub(super) fn start(groups: usize) -> Self {
        Self {
            depth: 0,
            state: State::start(groups),
            spent: Cost::ZERO,
            lift: NO_LIFT,
            rests: NO_RESTS,
            drop_limit: NO_LIMIT,
            parent: usize::MAX,
        }
    }

    /// What decides on all that can follow.
    pub(super) fn key(&self) -> (usize, State, i64, (i64, i64), i64) {
        (self.depth, self.state.clone(), self.lift, self.rests, self.drop_limit)
    }

    /// The next choice.
    fn on(&self, index: usize, state: State, spent: Cost) -> Self {
        Self { depth: self.depth + 1, state, spent, parent: index, ..*self }
    }

    /// The same with nothing of the cycle left to mind.
    fn settled(self) -> Self {
        Self { lift: NO_LIFT, rests: NO_RESTS, drop_limit: NO_LIMIT, ..self }
    }
}

/// Visits all that a node leads to.
pub(super) fn successors(
    frame: &Frame,
    node: &Node,
    index: usize,
    meter: &mut Meter<'_>,
    visit: &mut dyn FnMut(Node),
) -> Result<(), Halt> {
    let choices = frame.choices();
    let (cycle, step) = (node.depth / choices, node.depth % choices);
    match frame.manner {
        Manner::Together { .. } if step < frame.groups() => together_set(frame, node, (step, index), meter, visit),
        Manner::Together { level_tolerance } => {
            let group = step - frame.groups();
            if group == 0 && cycle + 1 == frame.cycles && all_on_collars(frame, &node.state) {
                let end = node.on(index, node.state.with_collars(), node.spent);
                visit(Node { depth: choices * frame.cycles, ..end }.settled());
            }
            together_pack(frame, node, (cycle, group, index, level_tolerance), meter, visit)
        }
        Manner::EndByEnd { .. } if step == 0 => {
            for group in 0..frame.groups() {
                turn_set(frame, node, (group, index), meter, visit)?;
            }
            Ok(())
        }
        Manner::EndByEnd { greatest_difference } => {
            turn_pack(frame, node, (cycle, index, greatest_difference), meter, visit)
        }
    }
}

fn all_on_collars(frame: &Frame, state: &State) -> bool {
    frame.sides.iter().enumerate().all(|(group, side)| {
        let net = side.stacks.base.net[state.base(group)];
        side.model.collar_demand.is_some_and(|demand| demand <= net)
            && side.stacks.below_ceiling(&side.model, state.rest(group))
    })
}

/// Base stacks that let the ram in under a rest and raise the load clear of it, beside the pieces in use.
fn bases(
    frame: &Frame,
    (group, used): (usize, u128),
    state: &State,
    meter: &mut Meter<'_>,
    visit: &mut dyn FnMut(usize),
) -> Result<(), Halt> {
    let side = &frame.sides[group];
    let rest = state.rest(group);
    let entry = side.model.entry(side.rest(rest).0);
    let old = side.raise_for(rest);
    for base in side.stacks.base_by_height.iter().take_while(|base| base.height <= entry) {
        meter.spend(1)?;
        let clear = old <= side.reach(base.stack);
        if clear && frame.in_pool(used, frame.pieces(group, base.key)) {
            visit(base.stack);
        }
    }
    Ok(())
}

/// Sets the rams of a group on each of the base stacks that it may have.
fn set(
    frame: &Frame,
    node: &Node,
    (group, index, used): (usize, usize, u128),
    meter: &mut Meter<'_>,
    visit: &mut dyn FnMut(Node),
) -> Result<(), Halt> {
    let (side, state) = (&frame.sides[group], &node.state);
    let old = state.base(group);
    bases(frame, (group, used), state, meter, &mut |base| {
        let list = &side.stacks.base;
        let spent = node.spent.and(Cost::ZERO.plus(list.distance(old, base)).times(side.points));
        visit(node.on(index, state.with_base(group, base), spent.at_least(list.height[base])));
    })
}

fn together_set(
    frame: &Frame,
    node: &Node,
    (group, index): (usize, usize),
    meter: &mut Meter<'_>,
    visit: &mut dyn FnMut(Node),
) -> Result<(), Halt> {
    let state = &node.state;
    let rests = (0..frame.groups()).map(|other| frame.pieces(other, frame.sides[other].held(state.rest(other))));
    let under = (0..group).map(|other| frame.pieces(other, frame.sides[other].stacks.base.keys[state.base(other)]));
    let used = rests.chain(under).sum();
    set(frame, node, (group, index, used), meter, visit)
}

fn together_pack(
    frame: &Frame,
    node: &Node,
    (cycle, group, index, tolerance): (usize, usize, usize, i64),
    meter: &mut Meter<'_>,
    visit: &mut dyn FnMut(Node),
) -> Result<(), Halt> {
    let state = &node.state;
    let under =
        (0..frame.groups()).map(|other| frame.pieces(other, frame.sides[other].stacks.base.keys[state.base(other)]));
    let packed = (0..group).map(|other| frame.pieces(other, frame.sides[other].held(state.rest(other))));
    let used: u128 = under.chain(packed).sum();
    let reach = (0..frame.groups()).map(|other| frame.sides[other].reach(state.base(other))).min().unwrap_or(0);
    let side = &frame.sides[group];
    let (old, left) = (state.rest(group), frame.cycles - cycle - 1);
    let last_group = group + 1 == frame.groups();
    meter.spend(side.stacks.holding.len())?;
    for stack in 0..side.stacks.holding.len() {
        let rest = side.rest(Some(stack));
        let lift = node.lift.max(side.raise_for(Some(stack))).max(side.raise_for(old));
        let rests = (node.rests.0.min(rest.0), node.rests.1.max(rest.1));
        let drop_limit = node.drop_limit.min(side.drop_limit(stack));
        let fits = side.stacks.rests(&side.model, stack)
            && side.cycles_from(rest.0) <= left
            && (0 < left || side.done(Some(stack)))
            && side.raise_for(Some(stack)) <= side.reach(state.base(group))
            && lift - tolerance <= reach.min(drop_limit)
            && rests.1 - rests.0 <= tolerance
            && side.follows(old, stack)
            && frame.in_pool(used, frame.pieces(group, side.stacks.holding.keys[stack]));
        if fits {
            let list = &side.stacks.holding;
            let weight = list.distance(old.unwrap_or(0), stack);
            let spent = node.spent.and(Cost::ZERO.plus(weight).times(side.points)).at_least(list.height[stack]);
            let next = Node { lift, rests, drop_limit, ..node.on(index, state.with_rest(group, stack), spent) };
            visit(if last_group { next.settled() } else { next });
        }
    }
    Ok(())
}

/// The rams, and the base stacks with them, go to a group, or stay there.
fn turn_set(
    frame: &Frame,
    node: &Node,
    (group, index): (usize, usize),
    meter: &mut Meter<'_>,
    visit: &mut dyn FnMut(Node),
) -> Result<(), Halt> {
    let mut state = node.state.clone();
    let mut spent = node.spent;
    if let Some(from) = state.at.filter(|from| *from != group) {
        let side = &frame.sides[from];
        spent = spent.and(Cost::ZERO.plus(side.stacks.base.weight(state.base(from))).times(side.points));
        state = state.with_base(from, 0);
    }
    state.at = Some(group);
    let used = (0..frame.groups()).map(|other| frame.pieces(other, frame.sides[other].held(state.rest(other)))).sum();
    set(frame, &Node { state, spent, ..node.clone() }, (group, index, used), meter, visit)
}

/// The group that has the rams is raised and packed, the others standing.
fn turn_pack(
    frame: &Frame,
    node: &Node,
    (cycle, index, difference): (usize, usize, i64),
    meter: &mut Meter<'_>,
    visit: &mut dyn FnMut(Node),
) -> Result<(), Halt> {
    let state = &node.state;
    let Some(group) = state.at else { return Ok(()) };
    let side = &frame.sides[group];
    let others = || (0..frame.groups()).filter(move |other| *other != group);
    let standing = others().map(|other| frame.sides[other].rest(state.rest(other)));
    let (lowest, highest) = standing.fold(NO_RESTS, |all, rest| (all.0.min(rest.0), all.1.max(rest.1)));
    let to_come: usize =
        others().map(|other| frame.sides[other].cycles_from(frame.sides[other].rest(state.rest(other)).0)).sum();
    let others_done = others().all(|other| frame.sides[other].done(state.rest(other)));
    let held: u128 = others().map(|other| frame.pieces(other, frame.sides[other].held(state.rest(other)))).sum();
    let used = held + frame.pieces(group, side.stacks.base.keys[state.base(group)]);
    let (old, left) = (state.rest(group), frame.cycles - cycle - 1);
    meter.spend(side.stacks.holding.len())?;
    for stack in 0..side.stacks.holding.len() {
        let rest = side.rest(Some(stack));
        let lift = side.raise_for(Some(stack)).max(side.raise_for(old));
        let fits = side.stacks.rests(&side.model, stack)
            && to_come + side.cycles_from(rest.0) <= left
            && (0 < left || (others_done && side.done(Some(stack))))
            && lift <= side.reach(state.base(group)).min(side.drop_limit(stack))
            && lift - lowest <= difference
            && rest.1 - lowest <= difference
            && highest - rest.0 <= difference
            && side.follows(old, stack)
            && frame.in_pool(used, frame.pieces(group, side.stacks.holding.keys[stack]));
        if fits {
            let list = &side.stacks.holding;
            let weight = list.distance(old.unwrap_or(0), stack);
            let spent = node.spent.and(Cost::ZERO.plus(weight).times(side.points)).at_least(list.height[stack]);
            visit(node.on(index, state.with_rest(group, stack), spent));
        }
    }
    Ok(())
}
