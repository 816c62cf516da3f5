//! Any plan with the fewest cycles, straight from the layers: every rest on them leads on, whatever was done before it.
#![expect(clippy::indexing_slicing, reason = "all lists have the length of the list of stacks they speak of")]

use super::cycles::Layers;
use super::meter::{Halt, Meter};
use super::model::{Cost, Model};
use super::search::Move;
use super::stacks::Stacks;
use super::stages::{Rest, Top};

/// Walks along the layers, always to the first rest that can be reached, over the lowest base stack that does.
pub(super) fn any_plan(
    model: &Model,
    stacks: &Stacks,
    layers: &Layers,
    meter: &mut Meter<'_>,
) -> Result<Option<(Vec<Move>, Cost)>, Halt> {
    let mut moves = Vec::new();
    let mut cost = Cost::ZERO;
    let mut rest: Rest = None;
    let mut base = 0;
    for cycle in 0..layers.cycles {
        let Some((next_base, top)) = step(model, stacks, layers, cycle, rest, meter)? else { return Ok(None) };
        cost = cost.plus(stacks.base.distance(base, next_base)).at_least(stacks.base.height[next_base]);
        base = next_base;
        if let Top::Packing(stack) = top {
            let weight = stacks.holding.distance(rest.unwrap_or(0), stack);
            cost = cost.plus(weight).at_least(stacks.holding.height[stack]);
            rest = Some(stack);
        }
        moves.push((base, top));
    }
    let cost = cost.plus(stacks.taken_out(model, base));
    Ok(Some((moves, cost)))
}

fn step(
    model: &Model,
    stacks: &Stacks,
    layers: &Layers,
    cycle: usize,
    rest: Rest,
    meter: &mut Meter<'_>,
) -> Result<Option<Move>, Halt> {
    let key = rest.map_or(0, |stack| stacks.holding.keys[stack]);
    let rise = rest.map_or(0, |stack| stacks.rise(model, stack));
    let entry = model.entry(rise);
    let old_demand = rest.map_or(i64::MIN, |stack| model.demand(stacks.holding.height[stack]));
    for &next in &layers.rests[cycle] {
        meter.spend(1)?;
        let next_key = stacks.holding.keys[next];
        let follows = if model.add_only {
            model.lanes.fits(key, next_key) && (rest.is_none() || model.thick_part(key) == model.thick_part(next_key))
        } else {
            rise <= stacks.rise(model, next)
        };
        let demand = old_demand.max(model.demand(stacks.holding.height[next]));
        if !follows || entry < demand {
            continue;
        }
        let both = model.lanes.larger(key, next_key);
        if let Some(base) = stacks.lowest_base(model, both, demand, entry, meter)? {
            return Ok(Some((base, Top::Packing(next))));
        }
    }
    let collars = rest.map_or(layers.collars_first, |stack| layers.collars_next[stack]);
    if let Some(demand) = model.collar_demand.filter(|_| collars && cycle + 1 == layers.cycles) {
        let base = stacks.lowest_base(model, key, demand, entry, meter)?;
        return Ok(base.map(|base| (base, Top::Collars)));
    }
    Ok(None)
}
