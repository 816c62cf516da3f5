//! Fewest cycles: breadth first over the holding stacks on which the load can rest.
//!
//! A shortest plan rests on a stack of the first layer after its first cycle, of the second layer after its second,
//! and so on; what does not lie on a shortest plan is dropped again from the end.
#![expect(clippy::indexing_slicing, reason = "all lists have the length of the list of stacks they speak of")]

use super::bounds::rises_needed;
use super::lattice::{Lattice, Place};
use super::meter::{Halt, Meter};
use super::model::Model;
use super::problem::CYCLES_MAX;

/// Both lists of stacks.
#[derive(Debug)]
pub(super) struct Stacks {
    pub(super) base: Lattice,
    pub(super) holding: Lattice,
    /// Base stacks by ascending height.
    pub(super) base_by_height: Vec<usize>,
}

impl Stacks {
    /// Lists both; `None` if either has more than `most`.
    pub(super) fn new(model: &Model, most: usize, meter: &mut Meter<'_>) -> Result<Option<Self>, Halt> {
        let Some(holding) = Lattice::new(model, Place::Holding, most, meter)? else { return Ok(None) };
        let Some(base) = Lattice::new(model, Place::Base, most, meter)? else { return Ok(None) };
        let mut base_by_height: Vec<usize> = (0..base.len()).collect();
        base_by_height.sort_by_key(|&index| (base.height[index], index));
        Ok(Some(Self { base, holding, base_by_height }))
    }

    /// Settled rise on a holding stack.
    pub(super) fn rise(&self, model: &Model, stack: usize) -> i64 {
        model.rise(self.holding.net[stack])
    }

    /// Whether the load may rest on a stack between or after cycles: it stands no lower than on its own bearing.
    pub(super) fn rests(&self, model: &Model, stack: usize) -> bool {
        stack != 0 && 0 <= self.rise(model, stack)
    }

    /// Whether the job may end on a stack.
    pub(super) fn ends(&self, model: &Model, stack: usize) -> bool {
        model.rise_least <= self.rise(model, stack) && model.rise(self.holding.top[stack]) <= model.rise_greatest
    }

    /// Base stacks from this height on, as a part of `base_by_height`.
    fn bases_from(&self, height: i64) -> &[usize] {
        let start = self.base_by_height.partition_point(|&base| self.base.height[base] < height);
        &self.base_by_height[start..]
    }

    /// Lowest base stack within `entry` that meets a demand and leaves the pieces of `holding`.
    pub(super) fn lowest_base(
        &self,
        model: &Model,
        holding: u128,
        demand: i64,
        entry: i64,
        meter: &mut Meter<'_>,
    ) -> Result<Option<usize>, Halt> {
        let room = model.stock - holding;
        for &base in self.bases_from(demand) {
            meter.spend(1)?;
            if entry < self.base.height[base] {
                break;
            }
            if demand <= self.base.net[base] && model.lanes.fits(self.base.keys[base], room) {
                return Ok(Some(base));
            }
        }
        Ok(None)
    }

    /// Whether the cycle after resting on `holding` (`None`: own bearing, no stack) can end on the collars.
    pub(super) fn collars_reached(
        &self,
        model: &Model,
        holding: Option<usize>,
        meter: &mut Meter<'_>,
    ) -> Result<bool, Halt> {
        let Some(demand) = model.collar_demand else { return Ok(false) };
        let (key, rise) = holding.map_or((0, 0), |stack| (self.holding.keys[stack], self.rise(model, stack)));
        if !self.below_ceiling(model, holding) {
            return Ok(false);
        }
        Ok(self.lowest_base(model, key, demand, model.entry(rise), meter)?.is_some())
    }

    /// Whether a stack holds the load no higher than the job may end.
    pub(super) fn below_ceiling(&self, model: &Model, holding: Option<usize>) -> bool {
        holding.is_none_or(|stack| model.rise(self.holding.top[stack]) <= model.rise_greatest)
    }
}

/// The stacks on shortest plans, cycle by cycle.
#[derive(Debug)]
pub(super) struct Layers {
    /// Fewest cycles.
    pub(super) cycles: usize,
    /// After cycle 1, 2 and so on: the holding stacks, ascending. The last is empty if only collars end the job.
    pub(super) rests: Vec<Vec<usize>>,
    /// For each holding stack, whether the cycle after it may be the last and end on the collars.
    pub(super) collars_next: Vec<bool>,
    /// The same for the load on its own bearing.
    pub(super) collars_first: bool,
}

/// What the search for the fewest cycles found.
#[derive(Debug)]
pub(super) enum Fewest {
    /// There are plans.
    Found(Layers),
    /// There is none; the greatest settled rise that can be reached.
    Never {
        /// Greatest settled rise.
        furthest: i64,
    },
    /// Not within the effort; no plan has fewer cycles than this.
    Unknown {
        /// Lower bound.
        at_least: usize,
    },
}

/// Numbers of cycles, from the lower bound on, that are tried with everything left out that rests too low for them.
const TRIED_APART: usize = 2;

/// The search while it runs.
struct Search<'a> {
    model: &'a Model,
    stacks: &'a Stacks,
    /// Least rise after each cycle, the first after none, for the number of cycles now tried; empty for any number.
    rises: Vec<i64>,
    /// In add-only mode: whether pieces can be added to a stack so that the job may end on it, or on collars.
    of_use: Vec<bool>,
    /// Cycle after which a stack is first rested on; zero if not yet.
    cycle_of: Vec<usize>,
    /// Stacks of each layer.
    layers: Vec<Vec<usize>>,
    collars_next: Vec<bool>,
    /// In add-only mode, how far the search has come for the lowest base stack that raises the load clear of a stack.
    base_needed: Vec<Lowest>,
}

/// The search for a lowest base stack, taken up again where it stopped.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Lowest {
    /// Not among the base stacks before this place of `base_by_height`.
    NotBefore(usize),
    /// Of this height.
    Height(i64),
}

/// Finds the fewest cycles and the stacks on shortest plans.
pub(super) fn fewest(
    model: &Model,
    stacks: &Stacks,
    lower_bound: usize,
    meter: &mut Meter<'_>,
) -> Result<Fewest, Halt> {
    let mut search = Search {
        model,
        stacks,
        rises: Vec::new(),
        of_use: Vec::new(),
        cycle_of: Vec::new(),
        layers: Vec::new(),
        collars_next: Vec::new(),
        base_needed: Vec::new(),
    };
    let mut at_least = lower_bound;
    match search.try_numbers(&mut at_least, meter) {
        Err(Halt::Effort) => Ok(Fewest::Unknown { at_least }),
        other => other,
    }
}

impl Search<'_> {
    /// Tries the lower bound and what follows it, then any number at once.
    fn try_numbers(&mut self, at_least: &mut usize, meter: &mut Meter<'_>) -> Result<Fewest, Halt> {
        if self.model.add_only {
            self.prepare(meter)?;
        }
        let needed = rises_needed(self.model, meter)?;
        for _ in 0..TRIED_APART {
            let cycles = *at_least;
            self.rises = (0..=cycles).map(|done| needed.get(cycles - done).copied().unwrap_or(i64::MIN)).collect();
            if let Fewest::Found(layers) = self.run(cycles, meter)? {
                return Ok(Fewest::Found(layers));
            }
            *at_least += 1;
        }
        self.rises.clear();
        self.run(CYCLES_MAX, meter)
    }

    fn run(&mut self, cycles: usize, meter: &mut Meter<'_>) -> Result<Fewest, Halt> {
        let count = self.stacks.holding.len();
        meter.spend(count)?;
        self.cycle_of = vec![0; count];
        self.collars_next = vec![false; count];
        self.layers = Vec::new();
        for cycle in 1..=cycles {
            let collars_first = cycle == 1 && self.stacks.collars_reached(self.model, None, meter)?;
            let mut collars = collars_first;
            for &stack in self.layers.last().map_or(&[][..], Vec::as_slice) {
                self.collars_next[stack] = self.stacks.collars_reached(self.model, Some(stack), meter)?;
                collars |= self.collars_next[stack];
            }
            let new =
                if self.model.add_only { self.next_added(cycle, meter)? } else { self.next_rebuilt(cycle, meter)? };
            for &stack in &new {
                self.cycle_of[stack] = cycle;
            }
            let done = collars || new.iter().any(|&stack| self.stacks.ends(self.model, stack));
            let stuck = new.is_empty();
            self.layers.push(new);
            if done {
                return Ok(Fewest::Found(self.trim(collars_first, meter)?));
            }
            if stuck {
                let rises = self.layers.iter().flatten().map(|&stack| self.stacks.rise(self.model, stack));
                return Ok(Fewest::Never { furthest: rises.max().unwrap_or(0) });
            }
        }
        Ok(Fewest::Unknown { at_least: cycles + 1 })
    }

    /// Whether a stack may be rested on after a cycle at all.
    fn high_enough(&self, stack: usize, cycle: usize) -> bool {
        let least = self.rises.get(cycle).copied().unwrap_or(i64::MIN);
        self.stacks.rests(self.model, stack) && least <= self.stacks.rise(self.model, stack)
    }

    fn prepare(&mut self, meter: &mut Meter<'_>) -> Result<(), Halt> {
        let (model, stacks) = (self.model, self.stacks);
        let list = &stacks.holding;
        meter.spend(list.len())?;
        self.base_needed = (list.height.iter())
            .map(|&height| {
                let demand = model.demand(height);
                let start = stacks.base_by_height.partition_point(|&base| stacks.base.height[base] < demand);
                Lowest::NotBefore(start)
            })
            .collect();
        self.of_use = (0..list.len()).map(|stack| model.collar_demand.is_some() || stacks.ends(model, stack)).collect();
        list.sweep_down(&mut self.of_use, |kind| model.kinds[kind].thin, |own, larger, _| own || larger);
        Ok(())
    }

    /// Whether a base stack within `entry` raises the load clear of a stack.
    fn raised_within(&mut self, stack: usize, entry: i64, meter: &mut Meter<'_>) -> Result<bool, Halt> {
        let (model, stacks) = (self.model, self.stacks);
        let start = match self.base_needed[stack] {
            Lowest::Height(height) => return Ok(height <= entry),
            Lowest::NotBefore(start) => start,
        };
        let demand = model.demand(stacks.holding.height[stack]);
        let room = model.stock - stacks.holding.keys[stack];
        for (place, &base) in stacks.base_by_height.iter().enumerate().skip(start) {
            if entry < stacks.base.height[base] {
                self.base_needed[stack] = Lowest::NotBefore(place);
                return Ok(false);
            }
            meter.spend(1)?;
            if demand <= stacks.base.net[base] && model.lanes.fits(stacks.base.keys[base], room) {
                self.base_needed[stack] = Lowest::Height(stacks.base.height[base]);
                return Ok(true);
            }
        }
        self.base_needed[stack] = Lowest::NotBefore(stacks.base_by_height.len());
        Ok(false)
    }

    /// Stacks first rested on after this cycle, when pieces are only added: there is a smaller one, equal in thick
    /// pieces, that lets the base stack in.
    fn next_added(&mut self, cycle: usize, meter: &mut Meter<'_>) -> Result<Vec<usize>, Halt> {
        let (model, stacks) = (self.model, self.stacks);
        let list = &stacks.holding;
        meter.spend(list.len())?;
        let mut highest: Vec<i64> = (0..list.len())
            .map(|stack| if self.cycle_of[stack] == 0 { i64::MIN } else { stacks.rise(model, stack) })
            .collect();
        list.sweep_up(&mut highest, |kind| model.kinds[kind].thin, |own, smaller, _| own.max(smaller));
        let mut new = Vec::new();
        for stack in 0..list.len() {
            let rise = if cycle == 1 { 0 } else { highest[stack] };
            let open = self.cycle_of[stack] == 0 && self.of_use[stack] && self.high_enough(stack, cycle);
            if open && rise != i64::MIN && self.raised_within(stack, model.entry(rise), meter)? {
                new.push(stack);
            }
        }
        Ok(new)
    }

    /// The same when the stack may be rebuilt: first the base stacks that can be set, each with the lowest rise from
    /// which it can, then what they lead to.
    fn next_rebuilt(&self, cycle: usize, meter: &mut Meter<'_>) -> Result<Vec<usize>, Halt> {
        let (model, stacks) = (self.model, self.stacks);
        let mut from = vec![i64::MAX; stacks.base.len()];
        let mut set = |holding: u128, rise: i64, demand: i64, meter: &mut Meter<'_>| -> Result<(), Halt> {
            for &base in stacks.bases_from(demand) {
                meter.spend(1)?;
                if model.entry(rise) < stacks.base.height[base] {
                    break;
                }
                let fits = model.lanes.fits(stacks.base.keys[base], model.stock - holding);
                if fits && demand <= stacks.base.net[base] && rise < from[base] {
                    from[base] = rise;
                }
            }
            Ok(())
        };
        match self.layers.last() {
            None => set(0, 0, i64::MIN, meter)?,
            Some(layer) => {
                for &stack in layer {
                    let demand = model.demand(stacks.holding.height[stack]);
                    set(stacks.holding.keys[stack], stacks.rise(model, stack), demand, meter)?;
                }
            }
        }
        let mut open: Vec<usize> = (0..stacks.holding.len())
            .filter(|&stack| self.cycle_of[stack] == 0 && self.high_enough(stack, cycle))
            .collect();
        open.sort_by_key(|&stack| stacks.holding.height[stack]);
        let mut reached = vec![false; stacks.holding.len()];
        for base in (0..stacks.base.len()).filter(|&base| from[base] != i64::MAX) {
            let room = model.stock - stacks.base.keys[base];
            for &stack in &open {
                meter.spend(1)?;
                if stacks.base.net[base] < model.demand(stacks.holding.height[stack]) {
                    break;
                }
                let fits = model.lanes.fits(stacks.holding.keys[stack], room);
                reached[stack] |= fits && from[base] <= stacks.rise(model, stack);
            }
        }
        Ok((0..reached.len()).filter(|&stack| reached[stack]).collect())
    }

    /// Drops from every layer what no shortest plan rests on.
    fn trim(&mut self, collars_first: bool, meter: &mut Meter<'_>) -> Result<Layers, Halt> {
        let (model, stacks) = (self.model, self.stacks);
        let cycles = self.layers.len();
        let mut rests = std::mem::take(&mut self.layers);
        if let Some(last) = rests.last_mut() {
            last.retain(|&stack| stacks.ends(model, stack));
        }
        for cycle in (1..cycles).rev() {
            let leads = if model.add_only {
                self.leads_by_adding(&rests[cycle - 1], &rests[cycle], meter)?
            } else {
                self.leads_by_rebuilding(&rests[cycle - 1], &rests[cycle], meter)?
            };
            let last = cycle + 1 == cycles;
            let collars = &self.collars_next;
            rests[cycle - 1].retain(|&stack| leads[stack] || last && collars[stack]);
        }
        Ok(Layers { cycles, rests, collars_next: std::mem::take(&mut self.collars_next), collars_first })
    }

    fn leads_by_adding(&self, layer: &[usize], next: &[usize], meter: &mut Meter<'_>) -> Result<Vec<bool>, Halt> {
        let (model, list) = (self.model, &self.stacks.holding);
        meter.spend(list.len())?;
        let mut needed = vec![i64::MAX; list.len()];
        for &stack in next {
            if let Lowest::Height(height) = self.base_needed[stack] {
                needed[stack] = height;
            }
        }
        list.sweep_down(&mut needed, |kind| model.kinds[kind].thin, |own, larger, _| own.min(larger));
        let mut leads = vec![false; list.len()];
        for &stack in layer {
            leads[stack] = needed[stack] <= model.entry(self.stacks.rise(model, stack));
        }
        Ok(leads)
    }

    fn leads_by_rebuilding(&self, layer: &[usize], next: &[usize], meter: &mut Meter<'_>) -> Result<Vec<bool>, Halt> {
        let (model, stacks) = (self.model, self.stacks);
        let mut up_to = vec![i64::MIN; stacks.base.len()];
        for &stack in next {
            let demand = model.demand(stacks.holding.height[stack]);
            for &base in stacks.bases_from(demand) {
                meter.spend(1)?;
                let fits = model.lanes.fits(stacks.base.keys[base], model.stock - stacks.holding.keys[stack]);
                if fits && demand <= stacks.base.net[base] {
                    up_to[base] = up_to[base].max(stacks.rise(model, stack));
                }
            }
        }
        let mut leads = vec![false; stacks.holding.len()];
        for &stack in layer {
            let (rise, demand) = (stacks.rise(model, stack), model.demand(stacks.holding.height[stack]));
            for &base in stacks.bases_from(demand) {
                meter.spend(1)?;
                if model.entry(rise) < stacks.base.height[base] || leads[stack] {
                    break;
                }
                let fits = model.lanes.fits(stacks.base.keys[base], model.stock - stacks.holding.keys[stack]);
                leads[stack] = fits && demand <= stacks.base.net[base] && rise <= up_to[base];
            }
        }
        Ok(leads)
    }
}
