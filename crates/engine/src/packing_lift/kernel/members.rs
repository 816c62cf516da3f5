//! Which base stacks may be set in a cycle, and how high the next one may be.
#![expect(clippy::indexing_slicing, reason = "all lists have the length of the list of stacks they speak of")]

use super::meter::{Halt, Meter};
use super::stages::Frame;

/// Rests looked at for one base stack, at least, before it is taken as possible.
const LOOKS: usize = 200;
/// Looks for all base stacks of one cycle, if these are few.
const LOOK_STATES: usize = 10_000_000;

/// A base stack that may be set in a cycle, and how high that of the next cycle may be.
#[derive(Debug, Clone, Copy)]
pub(super) struct Member {
    /// Index of the stack.
    pub(super) base: usize,
    /// Greatest unloaded height of the next base stack.
    pub(super) next_max: i64,
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

/// Base stacks that some rest before the cycle lets in and that reach some rest after it, as far as a few looks
/// show; one too many, or too high a limit for the next, only makes the lower bound weaker.
pub(super) fn members(frame: Frame<'_>, cycle: usize, meter: &mut Meter<'_>) -> Result<Vec<Member>, Halt> {
    let (model, stacks) = (frame.model, frame.stacks);
    let list = &stacks.holding;
    let mut before: Vec<(i64, u128)> = match cycle.checked_sub(1) {
        None => vec![(model.entry(0), 0)],
        Some(last) => (frame.layers.rests[last].iter())
            .map(|&stack| (model.entry(stacks.rise(model, stack)), list.keys[stack]))
            .collect(),
    };
    before.sort_unstable_by(|a, b| b.cmp(a));
    let looks = (LOOK_STATES / (stacks.base.len() + 1)).max(LOOKS);
    let after = reachable(frame, cycle);
    let mut members = Vec::new();
    for base in (0..stacks.base.len()).filter(|&base| stacks.base.stands[base]) {
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
fn reachable(frame: Frame<'_>, cycle: usize) -> Vec<Reachable> {
    let (model, list) = (frame.model, &frame.stacks.holding);
    let mut after: Vec<Reachable> = (frame.layers.rests[cycle].iter())
        .map(|&stack| {
            let entry = model.entry(frame.stacks.rise(model, stack));
            Reachable { demand: model.demand(list.height[stack]), entry, key: list.keys[stack], highest: entry }
        })
        .collect();
    if let Some(demand) = model.collar_demand.filter(|_| frame.is_last(cycle)) {
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
