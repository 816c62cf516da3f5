//! Least and greatest reaction of any equilibrium with `R >= 0`, over every load that must be held.
//!
//! # Method
//! Support i carries T, the others together W - T. The resultant of the others acts at some place q of their hull K,
//! so T is possible at the weight W iff some moment M of the domain is `M = T p_i + (W - T) q`, that is: the set of
//! the moments at this weight meets the convex set `T p_i + (W - T) K`.
//!
//! Two convex polygons meet iff no direction separates them, and it is enough to try the outward normals of the one and
//! the reversed outward normals of the other (for a segment both normals and both directions along it). In direction d
//! they are not separated iff
//! `T (d . p_i - low) <= W (high - low) + push`,
//! with `W high + push` the greatest `d . M` at the weight W and `low` the least `d . q` over the hull. All directions
//! together are linear inequalities in T and W: a linear programme in two variables.
//!
//! *Greatest.* Letting the others include i itself changes nothing (i then carries at least T) and makes every bracket
//! on the left positive or zero. So T is at most the least of lines in W, with the weight itself as one of them, and the
//! highest place under these is wanted: [`programme`]. It lies at the greatest weight unless the centre of gravity
//! is outside the hull wherever it may be, and only a push that matters more the lighter the load is holds it.
//!
//! *Least.* It occurs at the least weight: an equilibrium multiplied by a number below one is one of a lesser weight
//! with lesser pushes, all of which the domain contains. There T is at least what the directions with a negative bracket
//! give.
//!
//! The answer is exact up to rounding, which is taken outward, for boxes and forces of known direction; a disc counts
//! as a polygon about it, cut back to the disc itself along the normals of the hull.
//!
//! Where a part of the domain lies outside the hull of the supports (the load tips there), the answer holds for the
//! rest.

mod programme;

use self::programme::{Line, highest, lowest_at, place};
use super::domain::LoadDomain;
use super::geometry::{
    Corner, Hull, HullShape, InputError, Vec2, check_points, hull_of_checked, hull_of_sorted, mean, plan_size_m,
    sorted, tolerance_m,
};
use super::region::axes;

/// Growth of the domain that outweighs rounding, as a part of the size of plan and region together.
const OUTWARD: f64 = 4e-15;

/// A direction bounds T only if its bracket is above this part of the plan size; leaving it out is on the safe side.
const FLAT: f64 = 1e-12;

/// An extreme reaction and the load at which it occurs.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct BoundExtreme {
    /// The reaction, in N.
    pub reaction_n: f64,
    /// Weight at which it occurs, in N.
    pub weight_n: f64,
    /// Place of the resultant at which it occurs, in m; none if no single place governs (a support that can be left
    /// without load, or never loaded).
    pub resultant: Option<Vec2>,
}

/// Range of the reaction of one support.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct ReactionBound {
    /// Least reaction in any equilibrium.
    pub least: BoundExtreme,
    /// Greatest reaction in any equilibrium.
    pub greatest: BoundExtreme,
}

/// Least and greatest reaction of each support over all equilibria without tension, for every load of the domain that
/// has any. `None` if there is no equilibrium at all.
///
/// # Source
/// Statics and the separating axis theorem of convex geometry; derivation in the text of the module.
///
/// # Validity
/// Supports that only push, of any stiffness and at any level. It does not say whether every load is held: see
/// [`mod@super::tipping`].
///
/// # Errors
/// [`InputError::Coordinate`]; [`InputError::Weight`]; [`InputError::Spread`] if a place of the resultant is too far
/// away.
pub(crate) fn reaction_bounds(points: &[Vec2], domain: &LoadDomain) -> Result<Option<Vec<ReactionBound>>, InputError> {
    check_points(points)?;
    domain.check()?;
    if !domain.is_usable() {
        return Err(InputError::Spread);
    }
    let shift = mean(points);
    let local: Vec<Vec2> = points.iter().map(|&p| p - shift).collect();
    let hull = hull_of_checked(&local);
    let problem = Problem::new(local, domain, shift);
    let bounds = match (hull.shape(), hull.corners()) {
        (HullShape::Point, [corner, ..]) => problem.one_place(*corner),
        (HullShape::Segment, [from, to, ..]) => problem.in_line(*from, *to),
        (HullShape::Polygon, _) => problem.in_plane(&hull),
        _ => None,
    };
    Ok(bounds.map(|bounds| bounds.into_iter().map(|bound| bound.moved(shift)).collect()))
}

impl ReactionBound {
    fn moved(self, shift: Vec2) -> Self {
        let moved = |e: BoundExtreme| BoundExtreme { resultant: e.resultant.map(|at| at + shift), ..e };
        Self { least: moved(self.least), greatest: moved(self.greatest) }
    }
}

/// One direction in which load and hull might be separated.
#[derive(Debug, Clone, Copy)]
struct Cut {
    direction: Vec2,
    /// Greatest coordinate of the resultant for a weight of one, apart from the pushes, in m, rounded outward.
    per_weight_m: f64,
    /// What the pushes add, in N m.
    push_nm: f64,
    /// Least coordinate of the hull, in m.
    hull_low_m: f64,
}

impl Cut {
    /// Greatest coordinate of the resultant at a weight in N, in m.
    fn load_high_m(&self, weight_n: f64) -> f64 {
        self.per_weight_m + self.push_nm / weight_n
    }

    /// How far the hull lies beyond the load apart from the pushes, in m; negative if it does not.
    fn gap_m(&self) -> f64 {
        self.hull_low_m - self.per_weight_m
    }

    /// The factor of the reaction of a support at `p`, in m: `d . p - low`.
    fn bracket_m(&self, p: Vec2) -> f64 {
        self.direction.dot(p) - self.hull_low_m
    }

    /// The bound of the reaction for a factor other than zero.
    fn line(&self, bracket_m: f64) -> Line {
        let per_weight = -self.gap_m() / bracket_m;
        Line { per_weight, fixed_n: self.push_nm / bracket_m, cut: Some(*self) }
    }
}

/// A direction that comes from the load, for the hull of all supports and for that of all but one.
struct LoadCut {
    all: Cut,
    /// The support that lies least far in this direction.
    lowest: usize,
    /// Least coordinate of the others, in m.
    second_low_m: f64,
}

impl LoadCut {
    fn without(&self, index: usize) -> Cut {
        if index == self.lowest { Cut { hull_low_m: self.second_low_m, ..self.all } } else { self.all }
    }
}

/// Supports and load about the mean of the supports.
struct Problem {
    points: Vec<Vec2>,
    size_m: f64,
    domain: LoadDomain,
    /// By how much the region is taken larger against rounding, in m.
    outward_m: f64,
}

impl Problem {
    fn new(points: Vec<Vec2>, domain: &LoadDomain, shift: Vec2) -> Self {
        let domain =
            LoadDomain { expected_at: domain.expected_at - shift, middle: domain.middle - shift, ..domain.clone() };
        let extent = |d: &Vec2| domain.per_weight_m(*d).abs() + domain.push.reach(*d) / domain.least_n;
        let size_m = plan_size_m(&points);
        let outward_m = OUTWARD * axes().iter().map(extent).fold(size_m, |sum, m| sum + m);
        Self { points, size_m, domain, outward_m }
    }

    /// All supports at one place.
    fn one_place(&self, corner: Corner) -> Option<Vec<ReactionBound>> {
        let cuts: Vec<Cut> = self.domain.directions().iter().map(|&d| self.cut(d, d.dot(corner.at))).collect();
        let greatest_n = self.greatest_held_n(&cuts)?;
        let all = |weight_n: f64| BoundExtreme { reaction_n: weight_n, weight_n, resultant: Some(corner.at) };
        let least = if self.points.len() == 1 { all(self.domain.least_n) } else { self.none() };
        Some(vec![ReactionBound { least, greatest: all(greatest_n) }; self.points.len()])
    }

    /// All supports on one line: only what the load has in common with the line matters.
    fn in_line(mut self, from: Corner, to: Corner) -> Option<Vec<ReactionBound>> {
        let along = (to.at - from.at).unit()?;
        let normal = along.turned_left();
        // Supports off the line by no more than the tolerance are put on it, and so is the load.
        for p in &mut self.points {
            *p = from.at + along * along.dot(*p - from.at);
        }
        let beyond = |d: Vec2| (d.dot(from.at) - self.domain.per_weight_m(d)).max(0.0);
        let gap_m = beyond(normal) - beyond(-normal);
        if gap_m.abs() <= tolerance_m(self.size_m) {
            self.domain.middle = self.domain.middle + normal * gap_m;
        }
        let directions = self.domain.directions().into_iter().chain([along, -along, normal, -normal]);
        let load_cuts = self.load_cuts(directions);
        let all: Vec<Cut> = load_cuts.iter().map(|c| c.all).collect();
        self.bounds(&all, |i, _| load_cuts.iter().map(|c| c.without(i)).collect())
    }

    /// Supports that span an area.
    fn in_plane(&self, hull: &Hull) -> Option<Vec<ReactionBound>> {
        let load_cuts = self.load_cuts(self.domain.directions().into_iter());
        let edges = hull.edges().filter_map(|(a, b)| self.edge_cut(a, b));
        let all: Vec<Cut> = load_cuts.iter().map(|c| c.all).chain(edges).collect();
        let order = sorted(&self.points);
        self.bounds(&all, |i, p| {
            // A support that is no corner has the whole hull on either side, and need not carry anything.
            if !hull.has_corner(i) {
                return Vec::new();
            }
            let others: Vec<Corner> = order.iter().filter(|c| c.index != i).copied().collect();
            let rest = hull_of_sorted(&others, self.size_m);
            let mut cuts: Vec<Cut> = load_cuts.iter().map(|c| c.without(i)).collect();
            cuts.extend(self.facing_cuts(&rest, p));
            cuts
        })
    }

    /// The directions from the hull of the others: of its edges only those that face the support at `p`, since the rest
    /// are edges of the hull of all and do not bound its least reaction; both along it where it is a segment.
    fn facing_cuts(&self, rest: &Hull, p: Vec2) -> Vec<Cut> {
        let facing = rest.edges().filter(|(a, b)| (b.at - a.at).cross(p - a.at) < 0.0);
        let mut cuts: Vec<Cut> = facing.filter_map(|(a, b)| self.edge_cut(a, b)).collect();
        if let [a, b] = rest.corners() {
            let tangents = (b.at - a.at).unit().into_iter().flat_map(|t| [t, -t]);
            cuts.extend(tangents.map(|t| self.cut(t, t.dot(a.at).min(t.dot(b.at)))));
        }
        cuts
    }

    /// The direction in which an edge is what lies least far of the hull.
    fn edge_cut(&self, from: Corner, to: Corner) -> Option<Cut> {
        let inward = (to.at - from.at).unit()?.turned_left();
        Some(self.cut(inward, inward.dot(from.at)))
    }

    fn load_cuts(&self, directions: impl Iterator<Item = Vec2>) -> Vec<LoadCut> {
        let of = |direction: Vec2| {
            let start = (0, f64::INFINITY, f64::INFINITY);
            let (lowest, low_m, second_low_m) =
                self.points.iter().enumerate().fold(start, |(lowest, low, second), (i, p)| {
                    let at = direction.dot(*p);
                    if at < low { (i, at, low) } else { (lowest, low, second.min(at)) }
                });
            LoadCut { all: self.cut(direction, low_m), lowest, second_low_m }
        };
        directions.map(of).collect()
    }

    fn cut(&self, direction: Vec2, hull_low_m: f64) -> Cut {
        let per_weight_m = self.domain.per_weight_m(direction) + self.outward_m;
        Cut { direction, per_weight_m, push_nm: self.domain.push.reach(direction), hull_low_m }
    }

    /// The greatest weight that has any equilibrium, in N; every lesser one has, too. The least weight needs one within
    /// the tolerance only.
    fn greatest_held_n(&self, cuts: &[Cut]) -> Option<f64> {
        let tolerance = tolerance_m(self.size_m);
        let least_n = self.domain.least_n;
        cuts.iter().filter(|c| tolerance < c.gap_m()).try_fold(self.domain.greatest_n, |held_n, c| {
            let is_held = (c.gap_m() - tolerance) * least_n <= c.push_nm;
            is_held.then(|| held_n.min(c.push_nm / c.gap_m()).max(least_n))
        })
    }

    /// The ranges from the directions for the hull of all supports and, for each, for that of the others.
    fn bounds(&self, all: &[Cut], without: impl Fn(usize, Vec2) -> Vec<Cut>) -> Option<Vec<ReactionBound>> {
        let greatest_n = self.greatest_held_n(all)?;
        let bound = |(i, &p): (usize, &Vec2)| {
            let flat = FLAT * self.size_m;
            let usable = all.iter().map(|c| (c, c.bracket_m(p))).filter(|(_, bracket)| flat < *bracket);
            let lines: Vec<Line> = usable.map(|(c, bracket)| c.line(bracket)).collect();
            let possible_n = lowest_at(&lines, self.domain.least_n).at(self.domain.least_n);
            ReactionBound {
                least: self.least(p, all, &without(i, p), possible_n),
                greatest: self.greatest(p, all, &lines, greatest_n),
            }
        };
        Some(self.points.iter().enumerate().map(bound).collect())
    }

    fn greatest(&self, p: Vec2, cuts: &[Cut], lines: &[Line], greatest_n: f64) -> BoundExtreme {
        let peak = highest(lines, self.domain.least_n, greatest_n);
        let (reaction_n, weight_n) = (peak.reaction_n.clamp(0.0, peak.weight_n), peak.weight_n);
        let resultant = peak.line.cut.map_or(p, |cut| place(&cut, cuts.iter(), p, reaction_n, weight_n));
        BoundExtreme { reaction_n, weight_n, resultant: (0.0 < reaction_n).then_some(resultant) }
    }

    /// The least reaction, which is no more than what is possible at the least weight at all.
    fn least(&self, p: Vec2, all: &[Cut], without_i: &[Cut], possible_n: f64) -> BoundExtreme {
        let flat = FLAT * self.size_m;
        let weight_n = self.domain.least_n;
        let usable = without_i.iter().map(|c| (c, c.bracket_m(p))).filter(|(_, bracket)| *bracket < -flat);
        let values = usable.map(|(c, bracket)| (c, c.line(bracket).at(weight_n).min(possible_n)));
        match values.max_by(|a, b| a.1.total_cmp(&b.1)) {
            Some((cut, reaction_n)) if 0.0 < reaction_n => {
                let resultant = Some(place(cut, all.iter().chain(without_i), p, reaction_n, weight_n));
                BoundExtreme { reaction_n, weight_n, resultant }
            }
            _ => self.none(),
        }
    }

    /// No reaction at all.
    fn none(&self) -> BoundExtreme {
        BoundExtreme { reaction_n: 0.0, weight_n: self.domain.least_n, resultant: None }
    }
}

#[cfg(test)]
mod tests;
