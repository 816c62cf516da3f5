//! The greatest reaction over all weights: the highest place under a set of straight lines over an interval.

use super::super::geometry::Vec2;
use super::Cut;

/// Cuts closer in direction than this to the one that governs say nothing about the place along it.
const PARALLEL: f64 = 1e-9;

/// A bound of a reaction that is linear in the weight: `per_weight W + fixed_n`.
#[derive(Debug, Clone, Copy)]
pub(super) struct Line {
    /// Change with the weight (dimensionless).
    pub per_weight: f64,
    /// Part that does not depend on the weight, in N.
    pub fixed_n: f64,
    /// The direction it comes from; none for the weight itself.
    pub cut: Option<Cut>,
}

impl Line {
    /// No support carries more than the weight.
    pub(super) const WEIGHT: Self = Self { per_weight: 1.0, fixed_n: 0.0, cut: None };

    /// Value at a weight, in N.
    pub(super) fn at(&self, weight_n: f64) -> f64 {
        self.per_weight * weight_n + self.fixed_n
    }

    /// The weight at which a steeper line meets this one, in N.
    fn meets(&self, steeper: &Self) -> f64 {
        (self.fixed_n - steeper.fixed_n) / (steeper.per_weight - self.per_weight)
    }
}

/// The highest place under the lines.
pub(super) struct Peak {
    /// Height, in N.
    pub reaction_n: f64,
    /// The weight there, in N.
    pub weight_n: f64,
    /// A line through it.
    pub line: Line,
}

/// The line that is lowest at a weight; of several the one that is lowest just before it.
pub(super) fn lowest_at(lines: &[Line], weight_n: f64) -> Line {
    lines.iter().fold(Line::WEIGHT, |lowest, line| {
        let (a, b) = (line.at(weight_n), lowest.at(weight_n));
        let lower = a < b || (a <= b && lowest.per_weight < line.per_weight);
        if lower { *line } else { lowest }
    })
}

/// The highest place under the lines and under the weight itself, over an interval of weights in N.
///
/// It walks down from the greatest weight along the lower edge of the lines as long as that rises. Every step goes to
/// a steeper line, so it ends. What it returns is never too low, however the steps are rounded: a line that rises is
/// highest at the greatest weight, one that falls at the least weight, and two such lines where they meet.
pub(super) fn highest(lines: &[Line], least_n: f64, greatest_n: f64) -> Peak {
    let mut line = lowest_at(lines, greatest_n);
    if 0.0 <= line.per_weight {
        return Peak { reaction_n: line.at(greatest_n), weight_n: greatest_n, line };
    }
    loop {
        let (weight_n, next) = next_before(&line, lines);
        if weight_n <= least_n {
            return Peak { reaction_n: line.at(least_n), weight_n: least_n, line };
        }
        if 0.0 <= next.per_weight {
            // A mean of the fixed parts, which are not negative: no digits cancel.
            let between = next.per_weight - line.per_weight;
            let reaction_n = line.fixed_n * (next.per_weight / between) - next.fixed_n * (line.per_weight / between);
            return Peak { reaction_n, weight_n: weight_n.min(greatest_n), line };
        }
        line = next;
    }
}

/// Where the falling line is first crossed by a steeper one on the way to lesser weights, and that one.
fn next_before(line: &Line, lines: &[Line]) -> (f64, Line) {
    let steeper = lines.iter().filter(|other| line.per_weight < other.per_weight);
    steeper.fold((line.meets(&Line::WEIGHT), Line::WEIGHT), |(weight_n, best), other| {
        let at = line.meets(other);
        let earlier = weight_n < at || (weight_n <= at && best.per_weight < other.per_weight);
        if earlier { (at, *other) } else { (weight_n, best) }
    })
}

/// The place of the resultant, in m, where the direction `governing` bounds the reaction of the support at `p`: the
/// load and the supports touch along a line across it, and this is the middle of what they have in common there.
pub(super) fn place<'a>(
    governing: &Cut,
    cuts: impl Iterator<Item = &'a Cut>,
    p: Vec2,
    reaction_n: f64,
    weight_n: f64,
) -> Vec2 {
    let share = reaction_n / weight_n;
    let foot = governing.direction * governing.load_high_m(weight_n);
    let along = governing.direction.turned_left();
    let (from, to) = cuts.fold((f64::NEG_INFINITY, f64::INFINITY), |(from, to), cut| {
        let rate = cut.direction.dot(along);
        let offset = cut.direction.dot(foot);
        let low = (share * cut.direction.dot(p) + (1.0 - share) * cut.hull_low_m - offset) / rate;
        let high = (cut.load_high_m(weight_n) - offset) / rate;
        if rate.abs() <= PARALLEL { (from, to) } else { (from.max(low.min(high)), to.min(low.max(high))) }
    });
    foot + along * (from + 0.5 * (to - from))
}
