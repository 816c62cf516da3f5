//! What could be reached if the two stacks did not share their pieces: quick proofs that there is no plan, and a
//! lower bound for the number of cycles.
//!
//! With the stacks apart and any rebuilding allowed, a higher rest always lets in a base stack at least as good, so
//! going as high as possible each time gives an upper bound for the rise after each cycle.
#![expect(
    clippy::indexing_slicing,
    reason = "the lists have one element for each height up to the room, checked first"
)]

use super::lattice::Place;
use super::meter::{Halt, Meter};
use super::model::{Kind, Model};

/// Cells of a table that count as one state.
const CELLS_PER_STATE: usize = 8;

/// No stack of this height.
const NO_STACK: i64 = i64::MIN / 2;

/// What is taken to be there.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) struct Supply {
    /// As many pieces of each kind as wanted, instead of the stock.
    pub(super) unlimited: bool,
    /// Whether the height limit of base stacks holds.
    pub(super) base_limit: bool,
    /// Whether the height limit of holding stacks holds.
    pub(super) holding_limit: bool,
}

impl Supply {
    /// The problem as it is.
    pub(super) const REAL: Self = Self { unlimited: false, base_limit: true, holding_limit: true };
}

/// Greatest loaded height of a stack no higher than each height, in steps of which all its pieces are multiples.
#[derive(Debug)]
pub(super) struct Profile {
    best: Vec<i64>,
    step: i64,
}

impl Profile {
    /// Tabulates the stacks for a place.
    pub(super) fn new(model: &Model, place: Place, supply: Supply, meter: &mut Meter<'_>) -> Result<Self, Halt> {
        let (limited, limit, room) = match place {
            Place::Base => (supply.base_limit, model.base_height_max, model.base_room),
            Place::Holding => (supply.holding_limit, model.holding_height_max, model.holding_room),
        };
        let Ok(top) = usize::try_from(if limited { limit } else { room }) else {
            return Ok(Self { best: Vec::new(), step: 1 });
        };
        let used = |kind: &&Kind| match place {
            Place::Base => kind.use_.in_base(),
            Place::Holding => kind.use_.in_holding(),
        };
        let step = model.kinds.iter().filter(used).fold(0, |step, kind| common(step, kind.height)).max(1);
        let top = top / usize::try_from(step).unwrap_or(1);
        let mut best = vec![NO_STACK; top + 1];
        best[0] = 0;
        if place == Place::Holding {
            for kind in model.kinds.iter().filter(used).filter(|kind| !kind.thin) {
                add(&mut best, step, (kind, place), supply, meter)?;
            }
            let first = usize::try_from(model.first_height_max / step).map_or(0, |height| height.min(top));
            best[first + 1..].fill(NO_STACK);
        }
        // Those of lower limits later, on to the stacks that are within their limits.
        let mut rest: Vec<&Kind> =
            model.kinds.iter().filter(used).filter(|kind| place == Place::Base || kind.thin).collect();
        rest.sort_by_key(|kind| std::cmp::Reverse(limit_of(kind, place)));
        for kind in rest {
            add(&mut best, step, (kind, place), supply, meter)?;
        }
        for height in 1..best.len() {
            best[height] = best[height].max(best[height - 1]);
        }
        Ok(Self { best, step })
    }

    /// Greatest loaded height within an unloaded height; `None` if even the empty stack is too high.
    pub(super) fn within(&self, height: i64) -> Option<i64> {
        let height = usize::try_from(height.div_euclid(self.step)).ok()?;
        self.best.get(height.min(self.best.len().saturating_sub(1))).copied()
    }

    /// Greatest loaded height of all.
    pub(super) fn greatest(&self) -> i64 {
        self.best.last().copied().unwrap_or(0)
    }

    /// Least unloaded height that gives a loaded height.
    pub(super) fn lowest_for(&self, loaded: i64) -> Option<i64> {
        let height = self.best.partition_point(|&best| best < loaded);
        if height < self.best.len() { i64::try_from(height).ok().map(|height| height * self.step) } else { None }
    }
}

fn limit_of(kind: &Kind, place: Place) -> i64 {
    match place {
        Place::Base => kind.base_limit,
        Place::Holding => kind.holding_limit,
    }
}

/// Lets a table use pieces of one kind, up to its height limit.
fn add(
    best: &mut [i64],
    step: i64,
    (kind, place): (&Kind, Place),
    supply: Supply,
    meter: &mut Meter<'_>,
) -> Result<(), Halt> {
    let Ok(height) = usize::try_from(kind.height / step) else { return Ok(()) };
    let limited = if place == Place::Base { supply.base_limit } else { supply.holding_limit };
    let cells = usize::try_from(limit_of(kind, place).div_euclid(step).saturating_add(1)).unwrap_or(0);
    let cells = if limited { cells.min(best.len()) } else { best.len() };
    let best = &mut best[..cells];
    if supply.unlimited {
        meter.spend(1 + best.len() / CELLS_PER_STATE)?;
        for at in height..best.len() {
            best[at] = best[at].max(best[at - height] + kind.net);
        }
        return Ok(());
    }
    // Parcels of 1, 2, 4 and so on, and the rest, make up every count to the stock.
    let mut left = usize::try_from(kind.stock).unwrap_or(0);
    let mut parcel = 1;
    while 0 < left {
        let pieces = parcel.min(left);
        meter.spend(1 + best.len() / CELLS_PER_STATE)?;
        let net = kind.net * i64::try_from(pieces).unwrap_or(0);
        raise(best, height * pieces, net);
        left -= pieces;
        parcel *= 2;
    }
    Ok(())
}

/// The greatest common divisor of a step and a height.
fn common(step: i64, height: i64) -> i64 {
    let (mut a, mut b) = (step, height);
    while b != 0 {
        (a, b) = (b, a % b);
    }
    a
}

/// Lets a table use one parcel of this height: block by block from the top, so that none is used twice.
fn raise(best: &mut [i64], height: usize, net: i64) {
    let mut end = best.len();
    while 0 < height && height < end {
        // A block no longer than the parcel is high, and what lies under it.
        let start = end.saturating_sub(height).max(height);
        let (below, block) = best[..end].split_at_mut(start);
        for (here, under) in block.iter_mut().zip(&below[start - height..]) {
            *here = (*here).max(under + net);
        }
        end = start;
    }
}

/// How far a climb comes.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) struct Climb {
    /// Cycles after which the wanted rise may be reached; `None` if never.
    pub(super) cycles: Option<usize>,
    /// Greatest rise at rest.
    pub(super) furthest: i64,
}

/// For each number of cycles still to come, from zero on, the least rise from which they can suffice with the stacks
/// apart, down to the load's own bearing. The first is the wanted rise itself; it also stands for an end on collars.
pub(super) fn rises_needed(model: &Model, meter: &mut Meter<'_>) -> Result<Vec<i64>, Halt> {
    let base = Profile::new(model, Place::Base, Supply::REAL, meter)?;
    let holding = Profile::new(model, Place::Holding, Supply::REAL, meter)?;
    let mut needed = vec![model.rise_least];
    let mut demand = model.collar_demand.unwrap_or(i64::MAX);
    let mut rise = model.rise_least;
    while 0 < rise {
        meter.spend(1)?;
        if let Some(height) = holding.lowest_for(rise + model.packing_clearance) {
            demand = demand.min(model.demand(height));
        }
        let Some(height) = base.lowest_for(demand) else { break };
        let from = height - model.entry_at_start;
        if rise <= from {
            break;
        }
        rise = from;
        needed.push(rise);
    }
    Ok(needed)
}

/// The stacks of both places, apart.
#[derive(Debug)]
pub(super) struct Profiles {
    pub(super) base: Profile,
    pub(super) holding: Profile,
}

impl Profiles {
    /// Tabulates both.
    pub(super) fn new(model: &Model, supply: Supply, meter: &mut Meter<'_>) -> Result<Self, Halt> {
        let base = Profile::new(model, Place::Base, supply, meter)?;
        Ok(Self { base, holding: Profile::new(model, Place::Holding, supply, meter)? })
    }
}

/// Climbs as high as possible each time, the stacks apart.
pub(super) fn climb(model: &Model, supply: Supply, meter: &mut Meter<'_>) -> Result<Climb, Halt> {
    climb_by(model, &Profiles::new(model, supply, meter)?, meter)
}

/// The same by stacks that have been tabulated.
pub(super) fn climb_by(
    model: &Model,
    Profiles { base, holding }: &Profiles,
    meter: &mut Meter<'_>,
) -> Result<Climb, Halt> {
    let mut rise = 0;
    for cycle in 1.. {
        meter.spend(1)?;
        let Some(net) = base.within(model.entry(rise)) else { break };
        if model.collar_demand.is_some_and(|demand| demand <= net) {
            return Ok(Climb { cycles: Some(cycle), furthest: rise });
        }
        let Some(loaded) = holding.within(net - model.height_to_demand) else { break };
        let next = model.rise(loaded);
        if model.rise_least <= next {
            return Ok(Climb { cycles: Some(cycle), furthest: next });
        }
        if next <= rise {
            break;
        }
        rise = next;
    }
    Ok(Climb { cycles: None, furthest: rise })
}
