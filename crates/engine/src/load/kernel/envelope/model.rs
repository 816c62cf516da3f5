//! The scaled linear relaxation of a load on one-sided springs with levels within bands.
//!
//! Units: lengths in plan by the plan size, forces by the greatest weight, stiffness by the greatest one, levels by force
//! over stiffness. Columns: the reactions, then how far the load comes down at three supports, from which the plane
//! at every other follows. Rows, one of each kind for every support: `contact` (reaction less stiffness times plane),
//! `plane`, `chord`; then the weight and one row for each direction of the domain.

use super::super::domain::LoadDomain;
use super::super::elastic::{ElasticError, Spring, checked_scales};
use super::super::geometry::{Corner, Hull, Vec2, convex_hull};
use super::super::tipping::TippingEdge;
use super::Bearing;
use super::simplex::{Program, Range, Tableau, Work};

/// Growth of ranges that outweighs rounding of the data, in scaled units.
const OUTWARD: f64 = 1e-13;

/// Least distance of the resultant from the edge of the hull, in plan sizes, for which the plane is bounded well enough.
const LEAST_MARGIN: f64 = 1e-5;

/// Least distance from an edge of the hull that bounds the reaction of a support, in plan sizes.
const LEAST_ARM: f64 = 1e-9;

/// Twice the area of a triangle, in plan sizes squared, up to which its corners count as being in line.
const IN_LINE: f64 = 1e-12;

/// Supports among which all triples are looked at.
const GREATEST_TRIPLES: usize = 24;

/// How many times its values at three supports the plane may be elsewhere, for the relaxation to be of use.
const GREATEST_FACTOR: f64 = 1e4;

/// Directions of a box.
const AXES: usize = 4;

/// A support in scaled units.
#[derive(Debug, Clone, Copy)]
pub(super) struct Support {
    pub(super) at: Vec2,
    pub(super) stiffness: f64,
    /// Least and greatest level.
    pub(super) level: Range,
    /// Most it carries in any equilibrium.
    pub(super) most: f64,
    /// How far the load comes down at it.
    pub(super) plane: Range,
    /// The plane there, from that at the three supports of reference.
    pub(super) weights: [f64; 3],
}

/// A half plane of the domain: `direction . M <= W per_weight + push`.
#[derive(Debug, Clone, Copy)]
struct HalfPlane {
    direction: Vec2,
    per_weight: f64,
    push: f64,
}

/// Supports and domain in scaled units.
#[derive(Debug, Clone)]
pub(super) struct Model {
    pub(super) bearings: Vec<Bearing>,
    pub(super) supports: Vec<Support>,
    pub(super) force_n: f64,
    pub(super) size_m: f64,
    pub(super) level_unit_m: f64,
    pub(super) origin: Vec2,
    pub(super) least_weight: f64,
    /// Whether the plane of the load is bounded; not so where it may tip.
    pub(super) is_bounded: bool,
    reference: [usize; 3],
    half_planes: Vec<HalfPlane>,
}

impl Model {
    pub(super) fn new(bearings: &[Bearing], domain: &LoadDomain) -> Result<Self, ElasticError> {
        let springs: Vec<Spring> = bearings.iter().map(Bearing::spring).collect();
        let scales = checked_scales(&springs, domain.expected_at)?;
        let force_n = domain.greatest_n;
        let level_unit_m = force_n / scales.stiffness_n_per_m;
        let half_plane = |direction: Vec2| HalfPlane {
            direction,
            per_weight: (domain.per_weight_m(direction) - direction.dot(scales.centroid)) / scales.size_m,
            push: domain.push.reach(direction) / (force_n * scales.size_m),
        };
        let points: Vec<Vec2> = springs.iter().map(|s| scales.scaled(s.at)).collect();
        let hull = convex_hull(&points)?;
        let least_weight = domain.least_n / force_n;
        let edges = edges(&hull, half_plane, least_weight, scales.size_m)?;
        let reference = widest(hull.corners());
        let scaled = |(bearing, &at): (&Bearing, &Vec2)| {
            let (low, high) = (bearing.level_m - bearing.half_band_m, bearing.level_m + bearing.half_band_m);
            let stiffness = bearing.stiffness_n_per_m / scales.stiffness_n_per_m;
            let level = Range::new(low / level_unit_m, high / level_unit_m);
            let most = edges.iter().filter_map(|e| e.most_at(at)).fold(1.0, f64::min) + OUTWARD;
            let plane = Range::new(f64::NEG_INFINITY, most / stiffness - level.low);
            Support { at, stiffness, level, most, plane, weights: barycentric(&points, reference, at) }
        };
        let mut supports: Vec<Support> = bearings.iter().zip(&points).map(scaled).collect();
        let is_bounded = bound_planes(&mut supports, &edges);
        let mut directions = domain.directions();
        if AXES < directions.len() {
            // The polygon about a disc is not enough for the greatest of `most_at`.
            directions.extend(edges.iter().map(|e| -e.outward));
        }
        Ok(Self {
            bearings: bearings.to_vec(),
            supports,
            force_n,
            size_m: scales.size_m,
            level_unit_m,
            origin: scales.centroid,
            least_weight,
            is_bounded,
            reference,
            half_planes: directions.into_iter().map(half_plane).collect(),
        })
    }

    /// Narrows the range of the plane at every support to what the relaxation allows, `rounds` times.
    pub(super) fn tighten(&mut self, rounds: usize, work: &mut Work) {
        for _ in 0..rounds {
            let (program, ranges) = self.relaxation(&self.supports);
            for index in 0..self.supports.len() {
                let Some(support) = self.supports.get(index).copied() else { continue };
                let [low, high] = [-1.0, 1.0].map(|sign| {
                    let objective = program.with_objective(self.plane_at(&support, sign));
                    let mut tableau = Tableau::new(&objective);
                    tableau.solve(&ranges, work);
                    objective.bound(&tableau.multipliers(), &ranges) + OUTWARD
                });
                if let Some(s) = self.supports.get_mut(index) {
                    s.plane = Range::new(s.plane.low.max(-low), s.plane.high.min(high));
                }
            }
        }
    }

    /// `sign` times the plane at a support, as an objective.
    fn plane_at(&self, support: &Support, sign: f64) -> Vec<f64> {
        let reactions = core::iter::repeat_n(0.0, self.supports.len());
        reactions.chain(support.weights.map(|w| w * sign)).collect()
    }

    /// The relaxation for supports whose levels are those given, with the objective zero, and the ranges of columns and
    /// rows.
    pub(super) fn relaxation(&self, supports: &[Support]) -> (Program, Vec<Range>) {
        let count = supports.len();
        let row = |index: usize, reaction: f64, plane: f64| {
            let mut row = vec![0.0; count];
            if let (Some(cell), true) = (row.get_mut(index), reaction != 0.0) {
                *cell = reaction;
            }
            row.extend(supports.get(index).map_or([0.0; 3], |s| s.weights.map(|w| w * plane)));
            row
        };
        let by_force = |value: &dyn Fn(&Support) -> f64| {
            let mut row: Vec<f64> = supports.iter().map(value).collect();
            row.extend([0.0; 3]);
            row
        };
        let mut rows: Vec<Vec<f64>> = Vec::new();
        let mut ranges: Vec<Range> = supports.iter().map(|s| Range::new(0.0, s.most_held())).collect();
        ranges.extend(self.reference.iter().map(|&r| supports.get(r).map_or(Range::new(0.0, 0.0), |s| s.plane)));
        for (index, s) in supports.iter().enumerate() {
            rows.push(row(index, 1.0, -s.stiffness));
            let most = if s.always_touches() { s.stiffness * s.level.high + OUTWARD } else { f64::INFINITY };
            ranges.push(Range::new(s.stiffness * s.level.low - OUTWARD, most));
        }
        for (index, s) in supports.iter().enumerate() {
            rows.push(row(index, 0.0, 1.0));
            ranges.push(s.plane);
        }
        for (index, s) in supports.iter().enumerate().filter(|(_, s)| s.is_open()) {
            let slope = s.chord_slope();
            rows.push(row(index, 1.0, -slope));
            ranges.push(Range::new(f64::NEG_INFINITY, -slope * s.plane.low + OUTWARD));
        }
        rows.push(by_force(&|_| 1.0));
        ranges.push(Range::new(self.least_weight, 1.0));
        for h in &self.half_planes {
            rows.push(by_force(&|s: &Support| h.direction.dot(s.at) - h.per_weight));
            ranges.push(Range::new(f64::NEG_INFINITY, h.push + OUTWARD));
        }
        (Program::new(vec![0.0; count + 3], &rows), ranges)
    }
}

impl Support {
    /// Whether the load comes down onto it at its highest, at the ends of the range of the plane.
    fn compression(&self) -> Range {
        Range::new(self.plane.low + self.level.high, self.plane.high + self.level.high)
    }

    fn always_touches(&self) -> bool {
        0.0 <= self.compression().low
    }

    /// Whether it is not known if the load touches it.
    pub(super) fn is_open(&self) -> bool {
        let range = self.compression();
        range.low < 0.0 && 0.0 < range.high
    }

    fn most_held(&self) -> f64 {
        if 0.0 < self.compression().high { self.most } else { 0.0 }
    }

    /// Slope of the chord over the upper end of the reaction.
    fn chord_slope(&self) -> f64 {
        let range = self.compression();
        self.stiffness * range.high / (range.high - range.low)
    }
}

/// An edge of the hull of the supports and what the resultant can do about it.
struct Edge {
    outward: Vec2,
    offset: f64,
    /// Greatest moment of the load about the edge, inwards.
    most: f64,
    /// Least distance of the resultant from the edge.
    margin: f64,
}

impl Edge {
    fn new(outward: Vec2, offset: f64, out: HalfPlane, inward: HalfPlane, least_weight: f64) -> Self {
        let most_at = |weight: f64| weight * (offset + inward.per_weight) + inward.push;
        let most = most_at(1.0).max(most_at(least_weight));
        Self { outward, offset, most, margin: offset - out.per_weight - out.push / least_weight }
    }

    fn arm(&self, at: Vec2) -> f64 {
        self.offset - self.outward.dot(at)
    }

    /// The others only add to the moment about the edge.
    fn most_at(&self, at: Vec2) -> Option<f64> {
        let arm = self.arm(at);
        (LEAST_ARM < arm).then(|| (self.most + OUTWARD) / arm)
    }
}

/// The edges of the hull; an error if the load tips about one of them whatever the combination.
fn edges(
    hull: &Hull,
    half_plane: impl Fn(Vec2) -> HalfPlane,
    least_weight: f64,
    size_m: f64,
) -> Result<Vec<Edge>, ElasticError> {
    let mut edges = Vec::new();
    for (from, to) in hull.edges() {
        let Some(outward) = (to.at - from.at).unit().map(Vec2::turned_right) else { continue };
        let out = half_plane(outward);
        let edge = Edge::new(outward, outward.dot(from.at), out, half_plane(-outward), least_weight);
        if edge.most < 0.0 {
            let distance_m = (edge.offset - out.per_weight) * size_m;
            let tips = TippingEdge { from: from.index, to: to.index, outward, distance_m, reach_m: 0.0 };
            return Err(ElasticError::Tips(tips));
        }
        edges.push(edge);
    }
    Ok(edges)
}

/// Bounds the plane from below; false where it is not bounded well enough.
///
/// At the resultant g the plane is a mean of its values at loaded supports, so at least `-E` with E the greatest level.
/// And g lies between support l and a place q of the hull, `g = t p_l + (1 - t) q`, with t at least the ratio of the
/// distances of g and `p_l` from some edge. At q the plane is at most P, its greatest value at a support.
fn bound_planes(supports: &mut [Support], edges: &[Edge]) -> bool {
    let level = supports.iter().map(|s| s.level.high).fold(f64::NEG_INFINITY, f64::max);
    let most = supports.iter().map(|s| s.plane.high).fold(f64::NEG_INFINITY, f64::max);
    let margin = edges.iter().map(|e| e.margin).fold(f64::INFINITY, f64::min);
    if margin.is_nan() || margin < LEAST_MARGIN {
        return bound_tipping_planes(supports);
    }
    for s in supports {
        let part = edges.iter().filter(|e| e.margin < e.arm(s.at)).map(|e| e.margin / e.arm(s.at)).fold(1.0, f64::min);
        let low = -level - (level + most).max(0.0) * (1.0 / part - 1.0);
        s.plane.low = low - OUTWARD * (1.0 + low.abs());
    }
    true
}

/// Bounds the plane from below where the resultant can reach the edge of the hull; false if that is not possible.
///
/// The planes that go with given reactions are a polyhedron: at each loaded support the plane is known within the
/// levels, at each other one it has an upper end. It holds no line, so it has corners, and it is enough to look at
/// those: there the plane is at one of its ends at three supports that are not in line.
fn bound_tipping_planes(supports: &mut [Support]) -> bool {
    if GREATEST_TRIPLES < supports.len() {
        return false;
    }
    let end = |s: &Support| s.most / s.stiffness + s.level.low.abs().max(s.level.high.abs());
    let most = supports.iter().map(end).fold(0.0, f64::max);
    let points: Vec<Vec2> = supports.iter().map(|s| s.at).collect();
    let mut factors = vec![1.0_f64; supports.len()];
    for (i, a) in points.iter().enumerate() {
        for (j, b) in points.iter().enumerate().skip(i + 1) {
            for (k, c) in points.iter().enumerate().skip(j + 1) {
                let area = (*b - *a).cross(*c - *a).abs();
                if area <= IN_LINE {
                    continue;
                }
                for (factor, at) in factors.iter_mut().zip(&points) {
                    *factor = barycentric(&points, [i, j, k], *at).iter().map(|w| w.abs()).sum::<f64>().max(*factor);
                }
            }
        }
    }
    for (s, factor) in supports.iter_mut().zip(&factors) {
        s.plane.low = -most * factor * (1.0 + OUTWARD.sqrt()) - OUTWARD;
    }
    factors.iter().all(|f| *f <= GREATEST_FACTOR)
}

/// Three corners far apart: the first, the one farthest from it, and the one farthest from the line of the two.
fn widest(corners: &[Corner]) -> [usize; 3] {
    let Some(&start) = corners.first() else { return [0; 3] };
    let best = |value: &dyn Fn(&Corner) -> f64| {
        corners
            .iter()
            .fold((start, f64::NEG_INFINITY), |best, c| if best.1 < value(c) { (*c, value(c)) } else { best })
            .0
    };
    let a = best(&|c| (c.at - start.at).length());
    let b = best(&|c| (c.at - a.at).length());
    let c = best(&|c| (b.at - a.at).cross(c.at - a.at).abs());
    [a.index, b.index, c.index]
}

fn barycentric(points: &[Vec2], reference: [usize; 3], at: Vec2) -> [f64; 3] {
    let [a, b, c] = reference.map(|r| points.get(r).copied().unwrap_or(Vec2::ZERO));
    let area = (b - a).cross(c - a);
    [(b - at).cross(c - at), (c - at).cross(a - at), (a - at).cross(b - at)].map(|part| part / area)
}
