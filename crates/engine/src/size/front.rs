//! The sets found so far, and whether another one could still count.

use super::score::Merit;

/// A set with its merit, in the order of ranking.
pub(super) struct Front<T> {
    found: Vec<(Merit, T)>,
    options: usize,
}

impl<T: Ord> Front<T> {
    /// Nothing found yet; so many are to be listed beside those that no other beats.
    pub(super) fn new(options: usize) -> Self {
        Self { found: Vec::new(), options }
    }

    /// Whether a set that is no better than this can neither be among the best nor go unbeaten.
    ///
    /// Exact as long as no figure of the bound is above that of the set: then whatever ranks before the bound ranks before
    /// the set, and whatever beats the bound beats the set.
    pub(super) fn rules_out(&self, bound: &Merit) -> bool {
        let Some(last) = self.options.checked_sub(1) else {
            return self.found.iter().any(|(merit, _)| merit.beats(bound));
        };
        self.found.get(last).is_some_and(|(merit, _)| merit.compare(bound).is_lt())
            && self.found.iter().any(|(merit, _)| merit.beats(bound))
    }

    /// Adds a set in its place.
    pub(super) fn add(&mut self, merit: Merit, set: T) {
        let place =
            self.found.partition_point(|(known, other)| known.compare(&merit).then_with(|| other.cmp(&set)).is_lt());
        self.found.insert(place, (merit, set));
    }

    /// How many were found.
    pub(super) fn len(&self) -> usize {
        self.found.len()
    }

    /// The best, and after them those that no other beats; each with whether that is so.
    pub(super) fn into_listed(self) -> Vec<(bool, T)> {
        let merits: Vec<Merit> = self.found.iter().map(|(merit, _)| *merit).collect();
        let options = self.options;
        let marked = self
            .found
            .into_iter()
            .enumerate()
            .map(|(index, (merit, set))| (index < options, !merits.iter().any(|other| other.beats(&merit)), set));
        marked.filter(|(best, unbeaten, _)| *best || *unbeaten).map(|(_, unbeaten, set)| (unbeaten, set)).collect()
    }
}
