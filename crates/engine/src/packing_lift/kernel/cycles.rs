//! Fewest cycles: breadth first over the holding stacks on which the load can rest.
//!
//! A shortest plan rests on a stack of the first layer after its first cycle, of the second layer after its second,
//! and so on; what does not lie on a shortest plan is dropped again from the end.
#![expect(clippy::indexing_slicing, reason = "all lists have the length of the list of stacks they speak of")]

use super::bounds::rises_needed;
use super::meter::{Halt, Meter};
use super::model::Model;
use super::problem::CYCLES_MAX;
use super::rebuild;
use super::stacks::Stacks;

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
/// The same when only some stacks of each layer are kept.
const TRIED_NARROW: usize = 4;
/// Stacks of each layer kept then.
const WIDTH: usize = 200;

/// The search while it runs.
struct Search<'a> {
    model: &'a Model,
    stacks: &'a Stacks,
    /// Stacks of one layer kept at most.
    width: usize,
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
    let mut search = Search::new(model, stacks, usize::MAX);
    let mut at_least = lower_bound;
    match search.try_numbers(&mut at_least, meter) {
        Err(Halt::Effort) => Ok(Fewest::Unknown { at_least }),
        other => other,
    }
}

/// Looks for plans with few cycles while keeping only some stacks of each layer; `None` if it meets none.
pub(super) fn few(
    model: &Model,
    stacks: &Stacks,
    lower_bound: usize,
    meter: &mut Meter<'_>,
) -> Result<Option<Layers>, Halt> {
    let mut search = Search::new(model, stacks, WIDTH);
    if model.add_only {
        search.prepare(meter)?;
    }
    let needed = rises_needed(model, meter)?;
    for cycles in lower_bound..lower_bound + TRIED_NARROW {
        if let Fewest::Found(layers) = search.run_for(cycles, &needed, meter)? {
            return Ok(Some(layers));
        }
    }
    Ok(None)
}

impl<'a> Search<'a> {
    fn new(model: &'a Model, stacks: &'a Stacks, width: usize) -> Self {
        Self {
            model,
            stacks,
            width,
            rises: Vec::new(),
            of_use: Vec::new(),
            cycle_of: Vec::new(),
            layers: Vec::new(),
            collars_next: Vec::new(),
            base_needed: Vec::new(),
        }
    }

    /// Tries the lower bound and what follows it, then any number at once.
    fn try_numbers(&mut self, at_least: &mut usize, meter: &mut Meter<'_>) -> Result<Fewest, Halt> {
        if self.model.add_only {
            self.prepare(meter)?;
        }
        let mut needed = Vec::new();
        for _ in 0..TRIED_APART {
            // What is needed on the way leaves nothing out where there is no way: one cycle is found without.
            if needed.is_empty() && 1 < *at_least {
                needed = rises_needed(self.model, meter)?;
            }
            if let Fewest::Found(layers) = self.run_for(*at_least, &needed, meter)? {
                return Ok(Fewest::Found(layers));
            }
            *at_least += 1;
        }
        self.rises.clear();
        self.run(CYCLES_MAX, meter)
    }

    /// Tries one number of cycles, given the rises needed for what is still to come.
    fn run_for(&mut self, cycles: usize, needed: &[i64], meter: &mut Meter<'_>) -> Result<Fewest, Halt> {
        self.rises = (0..=cycles).map(|done| needed.get(cycles - done).copied().unwrap_or(i64::MIN)).collect();
        self.run(cycles, meter)
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
            meter.spend(count)?;
            let mut new = if self.model.add_only {
                self.next_added(cycle, meter)?
            } else {
                let layer = self.layers.last().map(Vec::as_slice);
                rebuild::next(self.model, self.stacks, layer, &self.open(cycle), self.width, meter)?
            };
            new.sort_unstable();
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

    /// Stacks that may be rested on after a cycle, as far as they alone show. Where not all can be kept, the highest and
    /// some of all heights come first.
    fn open(&self, cycle: usize) -> Vec<usize> {
        let (model, stacks) = (self.model, self.stacks);
        let least = self.rises.get(cycle).copied().unwrap_or(i64::MIN);
        let last = cycle + 1 == self.rises.len();
        let mut open: Vec<usize> = (0..stacks.holding.len())
            .filter(|&stack| self.cycle_of[stack] == 0 && stacks.rests(model, stack))
            .filter(|&stack| least <= stacks.rise(model, stack) && (!last || stacks.ends(model, stack)))
            .filter(|&stack| self.of_use.get(stack).is_none_or(|of_use| *of_use))
            .collect();
        if self.width < open.len() {
            open.sort_by_key(|&stack| (-stacks.rise(model, stack), stack));
            let stride = open.len() / (self.width / 2).max(1) + 1;
            let spread = (0..stride).flat_map(|first| open.iter().skip(first).step_by(stride));
            let both = open.iter().zip(spread).flat_map(|(&highest, &any)| [highest, any]);
            let mut seen = vec![false; stacks.holding.len()];
            open = both.filter(|&stack| !std::mem::replace(&mut seen[stack], true)).collect();
        }
        open
    }

    fn prepare(&mut self, meter: &mut Meter<'_>) -> Result<(), Halt> {
        let (model, stacks) = (self.model, self.stacks);
        let list = &stacks.holding;
        meter.spend(list.sweep_states())?;
        self.base_needed = (list.height.iter())
            .map(|&height| {
                let demand = model.demand(height);
                let start = stacks.base_by_height.partition_point(|base| base.height < demand);
                Lowest::NotBefore(start)
            })
            .collect();
        self.of_use = (0..list.len()).map(|stack| model.collar_demand.is_some() || stacks.ends(model, stack)).collect();
        list.sweep_down(&mut self.of_use, |kind| model.kinds[kind].thin, |own, larger, _| own || larger);
        for (stack, of_use) in self.of_use.iter_mut().enumerate().filter(|(_, of_use)| **of_use) {
            *of_use = model.demand(list.height[stack]) <= model.base_left(list.keys[stack]);
        }
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
        for (place, base) in stacks.base_by_height.iter().enumerate().skip(start) {
            if entry < base.height {
                self.base_needed[stack] = Lowest::NotBefore(place);
                return Ok(false);
            }
            meter.spend(1)?;
            if demand <= base.net && model.lanes.fits(base.key, room) {
                self.base_needed[stack] = Lowest::Height(base.height);
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
        meter.spend(list.sweep_states())?;
        let mut highest: Vec<i64> = (0..list.len())
            .map(|stack| if self.cycle_of[stack] == 0 { i64::MIN } else { stacks.rise(model, stack) })
            .collect();
        list.sweep_up(&mut highest, |kind| model.kinds[kind].thin, |own, smaller, _| own.max(smaller));
        let mut new = Vec::new();
        for stack in self.open(cycle) {
            let rise = if cycle == 1 { 0 } else { highest[stack] };
            if rise != i64::MIN && self.raised_within(stack, model.entry(rise), meter)? {
                new.push(stack);
            }
            if new.len() == self.width {
                break;
            }
        }
        Ok(new)
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
                rebuild::leads(model, stacks, &rests[cycle - 1], &rests[cycle], meter)?
            };
            let last = cycle + 1 == cycles;
            let collars = &self.collars_next;
            rests[cycle - 1].retain(|&stack| leads[stack] || last && collars[stack]);
        }
        Ok(Layers { cycles, rests, collars_next: std::mem::take(&mut self.collars_next), collars_first })
    }

    fn leads_by_adding(&self, layer: &[usize], next: &[usize], meter: &mut Meter<'_>) -> Result<Vec<bool>, Halt> {
        let (model, list) = (self.model, &self.stacks.holding);
        meter.spend(list.sweep_states())?;
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
}
