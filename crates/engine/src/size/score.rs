//! The figures by which sets are compared.

use super::terms::Objective;
use crate::check::Status;
use std::cmp::Ordering;

/// A figure for each objective, in the order of [`Objective::ALL`]; what is not known counts as worst.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Score([f64; Objective::ALL.len()]);

/// What is not known.
pub(super) const UNKNOWN: f64 = f64::MAX;

impl Score {
    /// Figures by objective, rounded to nine digits, so that the units of a request cannot turn equals into unequals.
    pub(super) fn of(figure: impl Fn(Objective) -> f64) -> Self {
        Self(Objective::ALL.map(|objective| rounded(figure(objective))))
    }

    /// The figure of one objective.
    pub(super) fn figure(&self, objective: Objective) -> f64 {
        let pairs = Objective::ALL.iter().zip(&self.0);
        pairs.filter(|(known, _)| **known == objective).map(|(_, figure)| *figure).sum()
    }

    /// The same in the order in which sets are compared: the named objectives, then the others.
    pub(super) fn ordered(&self, objectives: &[Objective]) -> [f64; Objective::ALL.len()] {
        let others = Objective::ALL.iter().filter(|objective| !objectives.contains(objective));
        let mut ordered = [0.0; Objective::ALL.len()];
        for (slot, objective) in ordered.iter_mut().zip(objectives.iter().chain(others)) {
            *slot = self.figure(*objective);
        }
        ordered
    }
}

/// A verdict with the figures in the order in which they count.
#[derive(Clone, Copy, Debug)]
pub(super) struct Merit {
    pub(super) status: Status,
    figures: [f64; Objective::ALL.len()],
    named: usize,
}

impl Merit {
    pub(super) fn new(status: Status, score: &Score, objectives: &[Objective]) -> Self {
        Self { status, figures: score.ordered(objectives), named: objectives.len() }
    }

    /// The order of ranking: the verdict first, then the figures one after the other.
    pub(super) fn compare(&self, other: &Self) -> Ordering {
        let pairs = self.figures.iter().zip(&other.figures);
        let figures = pairs.map(|(a, b)| a.total_cmp(b)).find(|order| *order != Ordering::Equal);
        self.status.cmp(&other.status).then(figures.unwrap_or(Ordering::Equal))
    }

    /// Whether this is at least as good in verdict and every named objective, and better in one of them.
    pub(super) fn beats(&self, other: &Self) -> bool {
        let named = || self.figures.iter().zip(&other.figures).take(self.named);
        self.status <= other.status
            && named().all(|(a, b)| a <= b)
            && (self.status < other.status || named().any(|(a, b)| a < b))
    }
}

fn rounded(value: f64) -> f64 {
    const DIGITS: f64 = 1e9;
    if value <= 0.0 || !value.is_finite() || UNKNOWN <= value {
        return value;
    }
    let magnitude = libm::exp2(libm::ilogb(value).into());
    (value / magnitude * DIGITS).round() / DIGITS * magnitude
}

#[cfg(test)]
mod tests {
    use super::*;

    fn merit(status: Status, rams: f64, mass: f64) -> Merit {
        let score = Score::of(|objective| match objective {
            Objective::Rams => rams,
            Objective::Mass => mass,
            _ => 1.0,
        });
        Merit::new(status, &score, &[Objective::Mass, Objective::Rams])
    }

    #[test]
    fn verify_named_objectives_rank_in_their_order() {
        let (light, few) = (merit(Status::Pass, 8.0, 100.0), merit(Status::Pass, 4.0, 200.0));
        assert_eq!(light.compare(&few), Ordering::Less);
        assert_eq!(few.compare(&merit(Status::Caution, 1.0, 1.0)), Ordering::Less);
    }

    #[test]
    fn verify_beaten_is_worse_somewhere_and_better_nowhere() {
        let (light, few) = (merit(Status::Pass, 8.0, 100.0), merit(Status::Pass, 4.0, 200.0));
        assert!(!light.beats(&few) && !few.beats(&light) && !few.beats(&few));
        assert!(few.beats(&merit(Status::Pass, 4.0, 201.0)));
        // A worse verdict is beaten by equals, and beats nothing.
        assert!(few.beats(&merit(Status::Caution, 4.0, 200.0)));
        assert!(!merit(Status::Caution, 1.0, 1.0).beats(&few));
    }

    #[test]
    fn verify_rounding_merges_what_units_tell_apart() {
        assert!(rounded(412.0) - rounded(412.0 * (1.0 + 1e-13)) == 0.0);
        assert!(rounded(412.0) < rounded(412.0 * (1.0 + 1e-7)));
        assert!(rounded(0.0) == 0.0 && UNKNOWN <= rounded(UNKNOWN));
    }
}
