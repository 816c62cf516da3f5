//! Layers of holding stacks when the stack may be rebuilt at the top of a raise.
#![expect(clippy::indexing_slicing, reason = "all lists have the length of the list of stacks they speak of")]

use super::meter::{Halt, Meter};
use super::model::Model;
use super::stacks::{BaseStack, Stacks};

/// Base stacks tried, from the highest down, for each rest that is to be kept.
const BASES_PER_REST: usize = 4;

/// A rest, as seen from the base stacks beside it.
#[derive(Debug, Clone, Copy)]
struct Beside {
    rise: i64,
    demand: i64,
    key: u128,
}

/// The rests of a layer by ascending rise.
fn by_rise(model: &Model, stacks: &Stacks, layer: &[usize]) -> Vec<Beside> {
    let mut rests: Vec<Beside> = (layer.iter())
        .map(|&stack| Beside {
            rise: stacks.rise(model, stack),
            demand: model.demand(stacks.holding.height[stack]),
            key: stacks.holding.keys[stack],
        })
        .collect();
    rests.sort_unstable_by_key(|rest| (rest.rise, rest.key));
    rests
}

/// The first `width` stacks of `open` that can be rested on after one more cycle: first the base stacks that can be set on the layer
/// (`None`: on the load's own bearing), each with the lowest rise from which it can, then what they lead to.
pub(super) fn next(
    model: &Model,
    stacks: &Stacks,
    layer: Option<&[usize]>,
    open: &[usize],
    width: usize,
    meter: &mut Meter<'_>,
) -> Result<Vec<usize>, Halt> {
    let rests = match layer {
        None => vec![Beside { rise: 0, demand: i64::MIN, key: 0 }],
        Some(layer) => by_rise(model, stacks, layer),
    };
    let mut set = Vec::new();
    for base in stacks.base_by_height.iter().rev() {
        if let Some(from) = lowest_rest(model, &rests, base, meter)? {
            set.push((*base, from));
        }
        if set.len() == width.saturating_mul(BASES_PER_REST) {
            break;
        }
    }
    set.reverse();
    let mut reached = Vec::new();
    for &stack in open {
        if is_reached(model, stacks, &set, stack, meter)? {
            reached.push(stack);
        }
        if reached.len() == width {
            break;
        }
    }
    Ok(reached)
}

/// How many of the rests a base stack could raise the load clear of if they did not settle.
fn clear_of(model: &Model, rests: &[Beside], net: i64) -> usize {
    rests.partition_point(|rest| model.demand(rest.rise + model.packing_clearance) <= net)
}

/// Lowest rise from which a base stack can be set so that the old stack comes free.
fn lowest_rest(model: &Model, rests: &[Beside], base: &BaseStack, meter: &mut Meter<'_>) -> Result<Option<i64>, Halt> {
    let room = model.stock - base.key;
    let start = rests.partition_point(|rest| model.entry(rest.rise) < base.height);
    let end = clear_of(model, rests, base.net).max(start);
    meter.spend(1)?;
    for rest in &rests[start..end] {
        meter.spend(1)?;
        if rest.demand <= base.net && model.lanes.fits(rest.key, room) {
            return Ok(Some(rest.rise));
        }
    }
    Ok(None)
}

/// Whether one of the base stacks that can be set, by ascending height, leads to a holding stack.
fn is_reached(
    model: &Model,
    stacks: &Stacks,
    set: &[(BaseStack, i64)],
    stack: usize,
    meter: &mut Meter<'_>,
) -> Result<bool, Halt> {
    let rise = stacks.rise(model, stack);
    let demand = model.demand(stacks.holding.height[stack]);
    let room = model.stock - stacks.holding.keys[stack];
    let start = set.partition_point(|(base, _)| base.height < demand);
    meter.spend(1)?;
    for (base, from) in &set[start..] {
        meter.spend(1)?;
        // Any rest that lets in a base stack this high lies above the stack.
        if model.entry(rise) < base.height {
            break;
        }
        if *from <= rise && demand <= base.net && model.lanes.fits(base.key, room) {
            return Ok(true);
        }
    }
    Ok(false)
}

/// Which stacks of a layer lead to one of the next layer.
pub(super) fn leads(
    model: &Model,
    stacks: &Stacks,
    layer: &[usize],
    next: &[usize],
    meter: &mut Meter<'_>,
) -> Result<Vec<bool>, Halt> {
    let rests = by_rise(model, stacks, next);
    let mut up_to = vec![i64::MIN; stacks.base.len()];
    for (base, up_to) in up_to.iter_mut().enumerate() {
        let room = model.stock - stacks.base.keys[base];
        let end = clear_of(model, &rests, stacks.base.net[base]);
        for rest in rests[..end].iter().rev() {
            meter.spend(1)?;
            if rest.demand <= stacks.base.net[base] && model.lanes.fits(rest.key, room) {
                *up_to = rest.rise;
                break;
            }
        }
    }
    let mut leads = vec![false; stacks.holding.len()];
    for &stack in layer {
        let rise = stacks.rise(model, stack);
        let demand = model.demand(stacks.holding.height[stack]);
        let room = model.stock - stacks.holding.keys[stack];
        for base in stacks.bases_from(demand) {
            meter.spend(1)?;
            if model.entry(rise) < base.height || leads[stack] {
                break;
            }
            let fits = model.lanes.fits(base.key, room);
            leads[stack] = fits && demand <= base.net && rise <= up_to[base.stack];
        }
    }
    Ok(leads)
}
