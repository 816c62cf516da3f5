//! All stacks of one kind of place (base or holding) that can be of use, with the sweeps that carry a value from
//! every stack to all larger or all smaller ones.
#![expect(clippy::indexing_slicing, reason = "indices come from the tables built here, all of the length of the list")]

use super::meter::{Halt, Meter};
use super::model::Model;
use super::problem::{KindSet, LENGTH_MAX};

/// No such stack.
pub(super) const NONE: usize = usize::MAX;

/// A list of stacks, closed downwards: with a stack it holds all smaller ones. In ascending order of the packed
/// counts, so that the empty stack is first.
#[derive(Debug)]
pub(super) struct Lattice {
    /// Packed counts.
    pub(super) keys: Vec<u128>,
    /// Unloaded height.
    pub(super) height: Vec<i64>,
    /// Least loaded height.
    pub(super) net: Vec<i64>,
    /// Greatest loaded height.
    pub(super) top: Vec<i64>,
    /// Whether the stack may be set as it is: some are only parts of others.
    pub(super) stands: Vec<bool>,
    /// Kinds of piece that occur.
    kinds: Vec<usize>,
    /// For each kind that occurs, the stack with one piece less of it.
    less: Vec<Vec<usize>>,
    /// Counts, stack by stack, of the kinds that occur.
    counts: Vec<u32>,
    /// Weight of one piece of each kind that occurs.
    weights: Vec<u64>,
}

/// Heights of a stack while the list is being built.
#[derive(Debug, Clone, Copy, Default)]
struct Partial {
    key: u128,
    height: i64,
    net: i64,
    top: i64,
    thick: i64,
    /// Kinds in it.
    with: KindSet,
    /// Kinds that may not join it.
    apart: KindSet,
    /// By how much the lowest limit of a kind in it lies below the greatest length.
    below: i64,
}

impl Partial {
    /// The stack with one more piece of a kind.
    fn add(&mut self, model: &Model, place: Place, kind: usize) {
        let piece = &model.kinds[kind];
        let (limit, apart) = match place {
            Place::Base => (piece.base_limit, piece.base_apart),
            Place::Holding => (piece.holding_limit, piece.holding_apart),
        };
        self.key += model.lanes.one(kind);
        self.height += piece.height;
        self.net += piece.net;
        self.top += piece.top;
        self.thick += if piece.thin { 0 } else { piece.height };
        self.with = self.with.with(KindSet::one(kind));
        self.apart = self.apart.with(apart);
        self.below = self.below.max(LENGTH_MAX - limit);
    }
}

/// Which of the two stacks a list is for.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Place {
    /// Under the ram.
    Base,
    /// Under the load.
    Holding,
}

impl Lattice {
    /// Lists the stacks; `None` if there are more than `most`.
    pub(super) fn new(model: &Model, place: Place, most: usize, meter: &mut Meter<'_>) -> Result<Option<Self>, Halt> {
        let caps: Vec<u32> = (model.kinds.iter())
            .map(|kind| if place == Place::Base { kind.base_cap } else { kind.holding_cap })
            .collect();
        let kinds: Vec<usize> = (0..caps.len()).filter(|&kind| 0 < caps[kind]).collect();
        let mut list = Self {
            keys: Vec::new(),
            height: Vec::new(),
            net: Vec::new(),
            top: Vec::new(),
            stands: Vec::new(),
            less: Vec::new(),
            counts: Vec::new(),
            weights: kinds.iter().map(|&kind| model.kinds[kind].weight).collect(),
            kinds,
        };
        let fits = |stack: &Partial| match place {
            _ if stack.key == 0 => true,
            _ if stack.with.meets(stack.apart) || LENGTH_MAX < stack.height + stack.below => false,
            Place::Base => stack.height <= model.base_height_max,
            Place::Holding => {
                let settled = if model.add_only { stack.top } else { stack.net };
                stack.height <= model.holding_height_max
                    && model.rise(settled) <= model.rise_greatest
                    && (stack.thick == 0 || stack.thick <= model.first_height_max)
            }
        };
        if !list.fill(model, place, &caps, 0, Partial::default(), &fits, most, meter)? {
            return Ok(None);
        }
        list.link(model, meter)?;
        Ok(Some(list))
    }

    #[expect(clippy::too_many_arguments, reason = "one recursive step, all of it changes or is passed on")]
    fn fill(
        &mut self,
        model: &Model,
        place: Place,
        caps: &[u32],
        at: usize,
        stack: Partial,
        fits: &dyn Fn(&Partial) -> bool,
        most: usize,
        meter: &mut Meter<'_>,
    ) -> Result<bool, Halt> {
        let Some(&kind) = self.kinds.get(at) else {
            meter.spend(1)?;
            self.keys.push(stack.key);
            self.height.push(stack.height);
            self.net.push(stack.net);
            self.top.push(stack.top);
            self.stands.push(match place {
                Place::Base => self.is_spread(model, stack.with),
                Place::Holding => !model.add_only || model.lies_in_order(stack.key),
            });
            for index in 0..self.kinds.len() {
                self.counts.push(model.lanes.count(stack.key, self.kinds[index]));
            }
            return Ok(self.keys.len() <= most);
        };
        let mut stack = stack;
        for _ in 0..=caps[kind] {
            if !fits(&stack) {
                break;
            }
            if !self.fill(model, place, caps, at + 1, stack, fits, most, meter)? {
                return Ok(false);
            }
            stack.add(model, place, kind);
        }
        Ok(true)
    }

    /// Whether a base stack has the foot that it needs, and every kind in it another to spread the force if it needs one.
    fn is_spread(&self, model: &Model, with: KindSet) -> bool {
        if model.base_needs.is_some_and(|needs| !needs.meets(with)) {
            return false;
        }
        let needs = self.kinds.iter().filter(|&&kind| with.meets(KindSet::one(kind)));
        needs.map(|&kind| model.kinds[kind].spread_by).all(|spread_by| spread_by.is_empty() || spread_by.meets(with))
    }

    /// Finds each stack with one piece less. Both lists ascend, so one pass for each kind does.
    fn link(&mut self, model: &Model, meter: &mut Meter<'_>) -> Result<(), Halt> {
        for (slot, &kind) in self.kinds.iter().enumerate() {
            meter.spend(self.keys.len())?;
            let one = model.lanes.one(kind);
            let mut table = vec![NONE; self.keys.len()];
            let mut at = 0;
            for (index, &key) in self.keys.iter().enumerate() {
                if self.counts[index * self.kinds.len() + slot] == 0 {
                    continue;
                }
                while self.keys[at] < key - one {
                    at += 1;
                }
                table[index] = at;
            }
            self.less.push(table);
        }
        Ok(())
    }

    /// Number of stacks.
    pub(super) fn len(&self) -> usize {
        self.keys.len()
    }

    /// What a sweep over the whole list counts for, in states.
    pub(super) fn sweep_states(&self) -> usize {
        self.len() * (1 + self.kinds.len()) / 2
    }

    /// Weight of what changes between two stacks of the list.
    pub(super) fn distance(&self, from: usize, to: usize) -> u64 {
        let width = self.kinds.len();
        let from = &self.counts[from * width..(from + 1) * width];
        let to = &self.counts[to * width..(to + 1) * width];
        let parts = from.iter().zip(to).zip(&self.weights);
        parts.map(|((&a, &b), &weight)| u64::from(a.abs_diff(b)) * weight).sum()
    }

    /// Weight of a whole stack.
    pub(super) fn weight(&self, stack: usize) -> u64 {
        self.distance(0, stack)
    }

    /// Carries values from every stack to those larger by pieces of the chosen kinds.
    pub(super) fn sweep_up<T: Copy>(
        &self,
        values: &mut [T],
        chosen: impl Fn(usize) -> bool,
        mut join: impl FnMut(T, T, u64) -> T,
    ) {
        for (slot, table) in self.less.iter().enumerate().filter(|(slot, _)| chosen(self.kinds[*slot])) {
            for (index, &less) in table.iter().enumerate().filter(|(_, less)| **less != NONE) {
                values[index] = join(values[index], values[less], self.weights[slot]);
            }
        }
    }

    /// Carries values from every stack to those smaller by pieces of the chosen kinds.
    pub(super) fn sweep_down<T: Copy>(
        &self,
        values: &mut [T],
        chosen: impl Fn(usize) -> bool,
        mut join: impl FnMut(T, T, u64) -> T,
    ) {
        for (slot, table) in self.less.iter().enumerate().filter(|(slot, _)| chosen(self.kinds[*slot])) {
            for (index, &less) in table.iter().enumerate().rev().filter(|(_, less)| **less != NONE) {
                values[less] = join(values[less], values[index], self.weights[slot]);
            }
        }
    }
}
