//! What the later base stacks cost at least, for every base stack that may be set in a cycle.
//!
//! Exact for the base stacks alone, each no higher than the one before can have raised the load for; and a second bound
//! that adds the whole of the last holding stack, which shares the stock with the last base stack.
#![expect(clippy::indexing_slicing, reason = "all lists have the length of the list of stacks they speak of")]

use super::members::Member;
use super::meter::{Halt, Meter};
use super::model::Cost;
use super::rests_to_go::{cheaper, first_fit};
use super::stages::Frame;

/// Steps in which limits for the next base stack are taken, at most.
const STEPS_MAX: usize = 32;
/// States that all steps of one cycle may take together.
const STEP_STATES: usize = 400_000;

/// A base stack that may be set in a cycle, with what all later base stacks cost at least and how high the stacks
/// from itself on are.
#[derive(Debug, Clone, Copy)]
pub(super) struct Base {
    /// Index of the stack.
    pub(super) stack: usize,
    /// What it costs to take it out at the end of the job, if it is the last one and must be.
    pub(super) out: u64,
    /// The later base stacks taken alone.
    pub(super) alone: Cost,
    /// The same and the whole of the last holding stack, which shares the stock with the last base stack.
    pub(super) joint: Cost,
}

/// One cycle of the graph.
#[derive(Debug)]
pub(super) struct Stage {
    /// Base stacks that may be set in this cycle, ascending.
    pub(super) bases: Vec<Base>,
    /// Holding stacks after this cycle, ascending.
    pub(super) rests: Vec<usize>,
}

/// Builds the stages.
pub(super) fn stages(frame: Frame<'_>, members: &[Vec<Member>], meter: &mut Meter<'_>) -> Result<Vec<Stage>, Halt> {
    let list = &frame.stacks.base;
    let mut stages: Vec<Stage> = Vec::new();
    for (cycle, members) in members.iter().enumerate().rev() {
        let later = match stages.last() {
            None => last_holding(frame, members, meter)?.into_iter().map(|joint| (Cost::ZERO, joint)).collect(),
            Some(next) => carry(frame, members, &next.bases, meter)?,
        };
        let bases: Vec<Base> = (members.iter().zip(later))
            .map(|(member, (alone, joint))| Base {
                stack: member.base,
                out: if frame.is_last(cycle) { frame.stacks.taken_out(frame.model, member.base) } else { 0 },
                alone: alone.at_least(list.height[member.base]),
                joint: joint.at_least(list.height[member.base]),
            })
            .filter(|base| base.joint.handled != u64::MAX)
            .collect();
        stages.push(Stage { bases, rests: frame.layers.rests[cycle].clone() });
    }
    stages.reverse();
    Ok(stages)
}

/// Carries the costs of the base stacks of the next cycle to those of this one. What comes after a stack is no
/// higher than the highest rest it reaches lets in; these limits are taken in a few steps, each rounded up.
fn carry(
    frame: Frame<'_>,
    members: &[Member],
    next: &[Base],
    meter: &mut Meter<'_>,
) -> Result<Vec<(Cost, Cost)>, Halt> {
    let list = &frame.stacks.base;
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
            meter.spend(4 * list.sweep_states())?;
            for base in &by_height[taken..taken + new] {
                alone[base.stack] = alone[base.stack].min(base.alone.plus(base.out));
                joint[base.stack] = joint[base.stack].min(base.joint.plus(base.out));
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
fn last_holding(frame: Frame<'_>, members: &[Member], meter: &mut Meter<'_>) -> Result<Vec<Cost>, Halt> {
    let list = &frame.stacks.holding;
    let whole = |stack: usize| Cost { handled: list.weight(stack), height: list.height[stack] };
    let rests = &frame.layers.rests;
    let mut packing: Vec<(Cost, usize)> =
        rests.last().into_iter().flatten().map(|&stack| (whole(stack), stack)).collect();
    packing.sort_unstable();
    let before = rests.len().checked_sub(2).and_then(|index| rests.get(index));
    let mut collars: Vec<(Cost, usize)> = before
        .into_iter()
        .flatten()
        .filter(|&&stack| frame.collars_next(Some(stack)))
        .map(|&stack| (whole(stack), stack))
        .collect();
    collars.sort_unstable();
    let mut costs = Vec::new();
    for &Member { base, .. } in members {
        let on_packing = first_fit(&packing, |rest| frame.last_packs(base, rest), meter)?;
        let on_collars = if frame.last_on_collars(base, None) {
            Cost::ZERO
        } else {
            first_fit(&collars, |rest| frame.last_on_collars(base, Some(rest)), meter)?
        };
        costs.push(on_packing.min(on_collars));
    }
    Ok(costs)
}
