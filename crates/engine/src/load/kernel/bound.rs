//! Least and greatest share of any equilibrium with `r >= 0`, wherever in its region the centre of gravity is.
//!
//! # Method
//! Support i carries the share t, the others together 1 - t. The resultant of the others acts at some place q of their
//! hull, so a share of t is possible iff some `g` of the region is `g = t p_i + (1 - t) q`. With `rho = 1 - t` and K the
//! hull of the others less `p_i`, that is: the region meets `p_i + rho K`.
//!
//! *Greatest.* Letting the others include i itself changes nothing (i then carries at least t) and makes K hold the
//! origin, so the sets grow with rho and the least possible rho is wanted. *Least.* K is the hull of the others, the
//! possible rho form an interval, and its upper end is wanted, at most 1.
//!
//! Two convex polygons meet iff no direction separates them, and it is enough to try the outward normals of the one and
//! the reversed outward normals of the other (for a segment both normals and both directions along it). In direction d
//! they are not separated iff
//! `d . p_i - high <= rho (d . p_i - low)`,
//! with `high` the greatest `d . g` over the region and `low` the least `d . q` over the hull. Each direction thus
//! bounds rho from below (right-hand bracket positive) or from above (negative), or does not depend on rho. There is no
//! search: the answer is exact up to rounding, and rounding is taken outward.
//!
//! Where a part of the region lies outside the hull of the supports (the load tips there), the answer holds for the
//! rest.

use super::geometry::{
    Corner, Hull, HullShape, InputError, Vec2, check_points, hull_of_checked, hull_of_sorted, mean, plan_size_m,
    sorted, tolerance_m,
};
use super::region::ConvexRegion;

/// Growth of the region that outweighs rounding, as a part of the size of plan and region together.
const OUTWARD: f64 = 4e-15;

/// A direction bounds rho only if its bracket is above this part of the plan size; leaving it out is on the safe side.
const FLAT: f64 = 1e-12;

/// Range of the share of one support (dimensionless).
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct ShareBound {
    /// Least share in any equilibrium.
    pub least: f64,
    /// Greatest share in any equilibrium.
    pub greatest: f64,
}

impl ShareBound {
    const ALL: Self = Self { least: 1.0, greatest: 1.0 };
    const ANY: Self = Self { least: 0.0, greatest: 1.0 };
}

/// Least and greatest share of each support over all equilibria without tension, with the centre of gravity anywhere
/// in the region. `None` if there is no equilibrium at any place of the region.
///
/// # Source
/// Statics and the separating axis theorem of convex geometry; derivation in the text of the module.
///
/// # Validity
/// Supports that only push, of any stiffness and at any level. It does not say whether the whole region is held: see
/// [`mod@super::tipping`].
///
/// # Errors
/// [`InputError::Coordinate`].
pub(crate) fn share_bounds(points: &[Vec2], region: &ConvexRegion) -> Result<Option<Vec<ShareBound>>, InputError> {
    check_points(points)?;
    let shift = mean(points);
    let local: Vec<Vec2> = points.iter().map(|&p| p - shift).collect();
    let hull = hull_of_checked(&local);
    let vertices: Vec<Vec2> = region.vertices().iter().map(|&v| v - shift).collect();
    let size_m = plan_size_m(&local);
    let outward_m = OUTWARD * vertices.iter().map(|v| v.length()).fold(size_m, f64::max);
    let problem = Problem { points: &local, size_m, vertices, normals: region.normals(), outward_m };
    Ok(match (hull.shape(), hull.corners()) {
        (HullShape::Point, [corner, ..]) => problem.one_place(*corner),
        (HullShape::Segment, [from, to, ..]) => problem.in_line(*from, *to),
        (HullShape::Polygon, _) => problem.in_plane(&hull),
        _ => None,
    })
}

/// [`share_bounds`] for a centre of gravity known exactly, in m.
///
/// # Source
/// As [`share_bounds`].
///
/// # Validity
/// As [`share_bounds`].
///
/// # Errors
/// [`InputError::Coordinate`].
#[cfg(test)]
pub(crate) fn worst_equilibrium_at(points: &[Vec2], centre: Vec2) -> Result<Option<Vec<ShareBound>>, InputError> {
    share_bounds(points, &ConvexRegion::point(centre)?)
}

/// One direction in which region and hull might be separated.
#[derive(Clone, Copy)]
struct Cut {
    direction: Vec2,
    /// Greatest coordinate of the region in this direction, in m, rounded outward.
    region_high: f64,
    /// Least coordinate of the hull in this direction, in m.
    hull_low: f64,
}

/// Supports and region about the mean of the supports.
struct Problem<'a> {
    points: &'a [Vec2],
    size_m: f64,
    vertices: Vec<Vec2>,
    normals: &'a [Vec2],
    /// By how much the region is taken larger against rounding, in m.
    outward_m: f64,
}

impl Problem<'_> {
    /// All supports at one place.
    fn one_place(&self, corner: Corner) -> Option<Vec<ShareBound>> {
        let tolerance = tolerance_m(self.size_m);
        let held = self.normals.iter().all(|&d| d.dot(corner.at) <= self.region_high(d) + tolerance);
        let bound = if self.points.len() == 1 { ShareBound::ALL } else { ShareBound::ANY };
        held.then(|| vec![bound; self.points.len()])
    }

    /// All supports on one line: only what the region has in common with the line matters.
    fn in_line(&self, from: Corner, to: Corner) -> Option<Vec<ShareBound>> {
        let along = (to.at - from.at).unit()?;
        let (start, end) = self.on_line(from.at, along)?;
        let cuts_for = |held: &dyn Fn(usize) -> bool| -> Vec<Cut> {
            [(along, end), (-along, -start)]
                .into_iter()
                .map(|(direction, high)| {
                    let others = self.points.iter().enumerate().filter(|(i, _)| held(*i)).map(|(_, &p)| p);
                    let hull_low = low(others, direction);
                    Cut { direction, region_high: high + self.outward_m, hull_low }
                })
                .collect()
        };
        let all = cuts_for(&|_| true);
        self.meets(&all).then(|| {
            let bound = |(i, &p): (usize, &Vec2)| self.bound(p, &all, &cuts_for(&|j| j != i));
            self.points.iter().enumerate().map(bound).collect()
        })
    }

    /// Supports that span an area.
    fn in_plane(&self, hull: &Hull) -> Option<Vec<ShareBound>> {
        let all = self.cuts(hull);
        if !self.meets(&all) {
            return None;
        }
        let order = sorted(self.points);
        let bounds = self.points.iter().enumerate().map(|(i, &p)| {
            // A support that is no corner has the whole hull on either side, and need not carry anything.
            let without_i = if hull.has_corner(i) {
                let others: Vec<Corner> = order.iter().filter(|c| c.index != i).copied().collect();
                self.cuts(&hull_of_sorted(&others, self.size_m))
            } else {
                Vec::new()
            };
            self.bound(p, &all, &without_i)
        });
        Some(bounds.collect())
    }

    /// The directions for a hull that is a polygon or, where one of three supports was left out, a segment.
    fn cuts(&self, hull: &Hull) -> Vec<Cut> {
        let corners = || hull.corners().iter().map(|c| c.at);
        let of_region = self.normals.iter().map(|&direction| Cut {
            direction,
            region_high: self.region_high(direction),
            hull_low: low(corners(), direction),
        });
        let of_hull = hull.edges().filter_map(|(a, b)| {
            let outward = (b.at - a.at).unit()?.turned_right();
            // The edge is where the hull lies least far in the reversed direction.
            Some(Cut { direction: -outward, region_high: self.region_high(-outward), hull_low: -outward.dot(a.at) })
        });
        let mut cuts: Vec<Cut> = of_region.chain(of_hull).collect();
        if let [a, b] = hull.corners() {
            let tangents = (b.at - a.at).unit().into_iter().flat_map(|t| [t, -t]);
            cuts.extend(tangents.map(|direction| Cut {
                direction,
                region_high: self.region_high(direction),
                hull_low: low(corners(), direction),
            }));
        }
        cuts
    }

    fn region_high(&self, direction: Vec2) -> f64 {
        self.outward_m + self.vertices.iter().map(|v| direction.dot(*v)).fold(f64::NEG_INFINITY, f64::max)
    }

    /// Whether region and hull have a place in common, within the tolerance.
    fn meets(&self, cuts: &[Cut]) -> bool {
        let tolerance = tolerance_m(self.size_m);
        cuts.iter().all(|c| c.hull_low <= c.region_high + tolerance)
    }

    /// Range of the share of the support at `p`, from the directions for the hull of all supports and for that of the
    /// others. The region is known to meet the hull of all.
    fn bound(&self, p: Vec2, all: &[Cut], without_i: &[Cut]) -> ShareBound {
        let flat = FLAT * self.size_m;
        let sides = |c: &Cut| {
            let at = c.direction.dot(p);
            (at - c.region_high, at - c.hull_low)
        };
        let least_rho = all
            .iter()
            .map(sides)
            .filter(|(_, bracket)| flat < *bracket)
            .map(|(left, bracket)| left / bracket)
            .fold(0.0, f64::max)
            .min(1.0);
        let greatest_rho = without_i
            .iter()
            .map(sides)
            .filter(|(_, bracket)| *bracket < -flat)
            .map(|(left, bracket)| left / bracket)
            .fold(1.0, f64::min)
            .max(least_rho);
        ShareBound { least: 1.0 - greatest_rho, greatest: 1.0 - least_rho }
    }

    /// The part of a line that lies in the region, as coordinates along it; `None` if they have nothing in common.
    fn on_line(&self, origin: Vec2, along: Vec2) -> Option<(f64, f64)> {
        let tolerance = tolerance_m(self.size_m);
        let side = |v: Vec2| {
            let off = along.cross(v - origin);
            if off.abs() <= tolerance { 0.0 } else { off }
        };
        let next = self.vertices.iter().cycle().skip(1);
        let mut range: Option<(f64, f64)> = None;
        for (&v, &w) in self.vertices.iter().zip(next) {
            let (a, b) = (side(v), side(w));
            let crossing = if a.abs() <= 0.0 {
                along.dot(v)
            } else if a * b < 0.0 {
                let t = a / (a - b);
                along.dot(v) * (1.0 - t) + along.dot(w) * t
            } else {
                continue;
            };
            range = Some(range.map_or((crossing, crossing), |(lo, hi)| (lo.min(crossing), hi.max(crossing))));
        }
        range
    }
}

/// Least coordinate of the points in a direction, in m.
fn low(points: impl Iterator<Item = Vec2>, direction: Vec2) -> f64 {
    points.map(|p| direction.dot(p)).fold(f64::INFINITY, f64::min)
}

#[cfg(test)]
mod tests;
