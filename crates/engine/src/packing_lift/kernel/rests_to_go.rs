//! What the later holding stacks cost at least, for every holding stack.
//!
//! Exact for the holding stacks alone, the layers taken for granted; and a second bound that adds the whole of the last
//! base stack, which shares the stock with the last holding stack.
#![expect(clippy::indexing_slicing, reason = "all lists have the length of the list of stacks they speak of")]

use super::members::Member;
use super::meter::{Halt, Meter};
use super::model::Cost;
use super::stages::{Frame, Rest};

/// Stacks looked at for one that stands beside another before any is taken.
const LOOKS: usize = 200;

/// Carries the cheaper of two costs.
pub(super) fn cheaper(own: Cost, other: Cost, weight: u64) -> Cost {
    own.min(other.plus(weight))
}

/// Of stacks in ascending cost the first that fits; after [`LOOKS`] the next one, fitting or not, as a lower bound.
pub(super) fn first_fit(
    sorted: &[(Cost, usize)],
    fits: impl Fn(usize) -> bool,
    meter: &mut Meter<'_>,
) -> Result<Cost, Halt> {
    let found = sorted.iter().enumerate().find(|(look, (_, stack))| *look == LOOKS || fits(*stack));
    meter.spend(found.map_or(sorted.len(), |(look, _)| look + 1))?;
    Ok(found.map_or(Cost::NONE, |(_, &(cost, _))| cost))
}

/// What the later holding stacks cost at least.
#[derive(Debug)]
pub(super) struct RestsToGo {
    /// For each holding stack, the later ones alone, and the greatest height from itself on.
    alone: Vec<Cost>,
    /// The same and the whole of the last base stack.
    joint: Vec<Cost>,
    /// The first for the load on its own bearing.
    alone_first: Cost,
    /// The second for the load on its own bearing.
    joint_first: Cost,
}

impl RestsToGo {
    /// Computes both bounds from the base stacks of the last cycle.
    pub(super) fn new(frame: Frame<'_>, last_bases: &[Member], meter: &mut Meter<'_>) -> Result<Self, Halt> {
        let list = &frame.stacks.holding;
        let bases = &frame.stacks.base;
        let mut sorted: Vec<(Cost, usize)> = (last_bases.iter())
            .map(|&Member { base, .. }| (Cost { handled: bases.weight(base), height: bases.height[base] }, base))
            .collect();
        sorted.sort_unstable();
        let mut alone = vec![Cost::NONE; list.len()];
        let mut joint = vec![Cost::NONE; list.len()];
        for &stack in frame.layers.rests.last().map_or(&[][..], Vec::as_slice) {
            alone[stack] = Cost::ZERO.at_least(list.height[stack]);
            joint[stack] =
                first_fit(&sorted, |base| frame.last_packs(base, stack), meter)?.at_least(list.height[stack]);
        }
        for cycle in (0..frame.layers.cycles).rev() {
            let next = &frame.layers.rests[cycle];
            let alone_before = carry(frame, cycle, next, &alone, meter)?;
            let joint_before = carry(frame, cycle, next, &joint, meter)?;
            let last = frame.is_last(cycle);
            let on_collars = |rest: Rest, meter: &mut Meter<'_>| -> Result<Cost, Halt> {
                if last && frame.collars_next(rest) {
                    first_fit(&sorted, |base| frame.last_on_collars(base, rest), meter)
                } else {
                    Ok(Cost::NONE)
                }
            };
            let Some(before) = cycle.checked_sub(1) else {
                let collars = on_collars(None, meter)?;
                let collars_alone = if collars == Cost::NONE { collars } else { Cost::ZERO };
                let (alone_first, joint_first) = (alone_before[0].min(collars_alone), joint_before[0].min(collars));
                return Ok(Self { alone, joint, alone_first, joint_first });
            };
            for &stack in &frame.layers.rests[before] {
                let collars = on_collars(Some(stack), meter)?;
                let collars_alone = if collars == Cost::NONE { collars } else { Cost::ZERO };
                alone[stack] = alone_before[stack].min(collars_alone).at_least(list.height[stack]);
                joint[stack] = joint_before[stack].min(collars).at_least(list.height[stack]);
            }
        }
        Ok(Self { alone, joint, alone_first: Cost::NONE, joint_first: Cost::NONE })
    }

    /// Both bounds from a rest on.
    pub(super) fn from(&self, rest: Rest) -> (Cost, Cost) {
        rest.map_or((self.alone_first, self.joint_first), |stack| (self.alone[stack], self.joint[stack]))
    }
}

/// Carries the costs of the rests after a cycle to all stacks before it.
fn carry(
    frame: Frame<'_>,
    cycle: usize,
    next: &[usize],
    costs: &[Cost],
    meter: &mut Meter<'_>,
) -> Result<Vec<Cost>, Halt> {
    let (model, list) = (frame.model, &frame.stacks.holding);
    meter.spend(list.sweep_states())?;
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
