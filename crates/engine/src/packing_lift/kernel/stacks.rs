//! Both lists of stacks, and the rules that speak of one base stack and one holding stack.
#![expect(clippy::indexing_slicing, reason = "indices of the lists' own stacks")]

use super::lattice::{Lattice, Place};
use super::meter::{Halt, Meter};
use super::model::Model;

/// A base stack, all that the rules need of it together.
#[derive(Debug, Clone, Copy)]
pub(super) struct BaseStack {
    /// Packed counts.
    pub(super) key: u128,
    /// Unloaded height.
    pub(super) height: i64,
    /// Least loaded height.
    pub(super) net: i64,
    /// Index in the list.
    pub(super) stack: usize,
}

/// Both lists of stacks.
#[derive(Debug)]
pub(super) struct Stacks {
    pub(super) base: Lattice,
    pub(super) holding: Lattice,
    /// Base stacks by ascending height.
    pub(super) base_by_height: Vec<BaseStack>,
}

impl Stacks {
    /// Lists both; `None` if either has more than `most`.
    pub(super) fn new(model: &Model, most: usize, meter: &mut Meter<'_>) -> Result<Option<Self>, Halt> {
        let Some(holding) = Lattice::new(model, Place::Holding, most, meter)? else { return Ok(None) };
        let Some(base) = Lattice::new(model, Place::Base, most, meter)? else { return Ok(None) };
        let mut base_by_height: Vec<BaseStack> = (0..base.len())
            .filter(|&stack| base.stands[stack])
            .map(|stack| BaseStack { key: base.keys[stack], height: base.height[stack], net: base.net[stack], stack })
            .collect();
        base_by_height.sort_unstable_by_key(|base| (base.height, base.stack));
        Ok(Some(Self { base, holding, base_by_height }))
    }

    /// Settled rise on a holding stack.
    pub(super) fn rise(&self, model: &Model, stack: usize) -> i64 {
        model.rise(self.holding.net[stack])
    }

    /// Whether the load may rest on a stack between or after cycles: it stands no lower than on its own bearing.
    pub(super) fn rests(&self, model: &Model, stack: usize) -> bool {
        stack != 0 && self.holding.stands[stack] && 0 <= self.rise(model, stack)
    }

    /// Whether the job may end on a stack.
    pub(super) fn ends(&self, model: &Model, stack: usize) -> bool {
        model.goal.is_none_or(|goal| goal == self.holding.keys[stack])
            && model.rise_least <= self.rise(model, stack)
            && model.rise(self.holding.top[stack]) <= model.rise_greatest
    }

    /// What is still handled when the job has ended over a base stack.
    pub(super) fn taken_out(&self, model: &Model, base: usize) -> u64 {
        if model.goal.is_some() { self.base.weight(base) } else { 0 }
    }

    /// Base stacks from this height on, as a part of `base_by_height`.
    pub(super) fn bases_from(&self, height: i64) -> &[BaseStack] {
        let start = self.base_by_height.partition_point(|base| base.height < height);
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
        for base in self.bases_from(demand) {
            meter.spend(1)?;
            if entry < base.height {
                break;
            }
            if demand <= base.net && model.lanes.fits(base.key, room) {
                return Ok(Some(base.stack));
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
