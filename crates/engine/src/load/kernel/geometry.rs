//! Points in plan, the tolerance for "on the line", and the convex hull of the supports.
//!
//! Coordinates are in m. The tolerance follows the size of the plan, so a plan in millimetres and one of a hundred
//! metres are judged alike.

use core::fmt;
use core::ops::{Add, Mul, Neg, Sub};

/// Distance from a line, as a part of the plan size, up to which a point counts as lying on it (dimensionless).
pub(crate) const ON_LINE_TOLERANCE: f64 = 1e-9;

/// Plan size below which the tolerance no longer shrinks, in m. It gives a single support a tolerance at all.
const LEAST_TOLERANCE_SIZE_M: f64 = 1e-3;

/// Greatest coordinate, radius or half width accepted, in m; far above any plan, far below where squares overflow.
pub(crate) const GREATEST_LENGTH_M: f64 = 1e9;

/// Distance from an edge, as a part of the plan size, up to which a point is not a corner of the hull: only rounding
/// of coordinates, so that the hull does not shrink.
const CORNER_TOLERANCE: f64 = 1e-13;

/// A point or a direction in plan: coordinates in m, or dimensionless where it is a direction.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct Vec2 {
    /// Coordinate along x, in m.
    pub x: f64,
    /// Coordinate along y, in m.
    pub y: f64,
}

impl Vec2 {
    /// The origin, in m.
    pub(crate) const ZERO: Self = Self { x: 0.0, y: 0.0 };

    /// A point from its coordinates in m.
    pub(crate) const fn new(x: f64, y: f64) -> Self {
        Self { x, y }
    }

    /// Scalar product, in m².
    pub(crate) fn dot(self, other: Self) -> f64 {
        self.x * other.x + self.y * other.y
    }

    /// Third component of the vector product, in m²: positive if `other` lies to the left of `self`.
    pub(crate) fn cross(self, other: Self) -> f64 {
        self.x * other.y - self.y * other.x
    }

    /// Length, in m.
    pub(crate) fn length(self) -> f64 {
        libm::hypot(self.x, self.y)
    }

    /// The vector turned left by a right angle, in m.
    #[must_use]
    pub(crate) fn turned_left(self) -> Self {
        Self::new(-self.y, self.x)
    }

    /// The vector turned right by a right angle, in m.
    #[must_use]
    pub(crate) fn turned_right(self) -> Self {
        Self::new(self.y, -self.x)
    }

    /// The direction of the vector (dimensionless), or `None` if it has no length.
    pub(crate) fn unit(self) -> Option<Self> {
        let length = self.length();
        (0.0 < length && length.is_finite()).then(|| Self::new(self.x / length, self.y / length))
    }

    /// Whether both coordinates are finite and not above [`GREATEST_LENGTH_M`].
    fn is_usable(self) -> bool {
        self.x.abs() <= GREATEST_LENGTH_M && self.y.abs() <= GREATEST_LENGTH_M
    }
}

impl Add for Vec2 {
    type Output = Self;
    fn add(self, other: Self) -> Self {
        Self::new(self.x + other.x, self.y + other.y)
    }
}

impl Sub for Vec2 {
    type Output = Self;
    fn sub(self, other: Self) -> Self {
        Self::new(self.x - other.x, self.y - other.y)
    }
}

impl Neg for Vec2 {
    type Output = Self;
    fn neg(self) -> Self {
        Self::new(-self.x, -self.y)
    }
}

impl Mul<f64> for Vec2 {
    type Output = Self;
    fn mul(self, factor: f64) -> Self {
        Self::new(self.x * factor, self.y * factor)
    }
}

/// An argument no kernel can work with.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
#[non_exhaustive]
pub(crate) enum InputError {
    /// A coordinate is not finite or its magnitude is above [`GREATEST_LENGTH_M`].
    Coordinate,
    /// A half width or radius of the centre's tolerance is negative, not finite or above [`GREATEST_LENGTH_M`].
    Spread,
    /// A weight is not positive and finite, or the least, expected and greatest are not in order.
    Weight,
}

impl fmt::Display for InputError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(match self {
            Self::Coordinate => "a coordinate in plan is not finite or too large",
            Self::Spread => "a tolerance of the centre of gravity is negative, not finite or too large",
            Self::Weight => "a weight is not positive, or least, expected and greatest are not in order",
        })
    }
}

impl core::error::Error for InputError {}

/// Refuses points that are not finite or too far away.
pub(super) fn check_points(points: &[Vec2]) -> Result<(), InputError> {
    if points.iter().all(|p| p.is_usable()) { Ok(()) } else { Err(InputError::Coordinate) }
}

/// Mean of the points, in m, summed in the given order; the origin if there are none.
///
/// # Source
/// Definition of the centroid of equal areas.
///
/// # Validity
/// Any finite points.
pub(crate) fn mean(points: &[Vec2]) -> Vec2 {
    let (sum, count) = points.iter().fold((Vec2::ZERO, 0.0), |(sum, count), &p| (sum + p, count + 1.0));
    if 0.0 < count { Vec2::new(sum.x / count, sum.y / count) } else { Vec2::ZERO }
}

/// Size of the plan, in m: the greatest distance of a point from the mean of all.
///
/// # Source
/// Own definition; it only scales the tolerances.
///
/// # Validity
/// Any finite points; zero if there are none or one.
pub(crate) fn plan_size_m(points: &[Vec2]) -> f64 {
    let centre = mean(points);
    points.iter().map(|&p| (p - centre).length()).fold(0.0, f64::max)
}

/// Distance, in m, up to which a point counts as lying on a line or point of a plan of the given size in m.
///
/// # Source
/// Own choice: 1e-9 of the size, never below a picometre.
///
/// # Validity
/// Any size that is not negative.
pub(crate) fn tolerance_m(size_m: f64) -> f64 {
    ON_LINE_TOLERANCE * size_m.max(LEAST_TOLERANCE_SIZE_M)
}

/// What the hull of the supports looks like.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum HullShape {
    /// No supports.
    Empty,
    /// One support, or all at one place.
    Point,
    /// All supports on one line.
    Segment,
    /// At least three supports that are not in line.
    Polygon,
}

/// A corner of the hull: the support it stands for and where that is.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct Corner {
    /// Index of the support; the lowest one where several stand at the same place.
    pub index: usize,
    /// Its position, in m.
    pub at: Vec2,
}

/// Convex hull of the supports, counter-clockwise, without the points that lie on its edges.
#[derive(Debug, Clone, PartialEq)]
pub(crate) struct Hull {
    corners: Vec<Corner>,
}

impl Hull {
    /// The corners, counter-clockwise from the one with least x (then least y).
    pub(crate) fn corners(&self) -> &[Corner] {
        &self.corners
    }

    /// The kind of hull.
    pub(crate) fn shape(&self) -> HullShape {
        match self.corners.as_slice() {
            [] => HullShape::Empty,
            [_] => HullShape::Point,
            [_, _] => HullShape::Segment,
            _ => HullShape::Polygon,
        }
    }

    /// Whether the support with this index is a corner.
    pub(crate) fn has_corner(&self, index: usize) -> bool {
        self.corners.iter().any(|c| c.index == index)
    }

    /// The edges of a polygon in order, from corner to next corner; a segment gives its two sides, a point nothing.
    pub(crate) fn edges(&self) -> impl Iterator<Item = (Corner, Corner)> + '_ {
        let next = self.corners.iter().cycle().skip(1);
        let count = if self.corners.len() < 2 { 0 } else { self.corners.len() };
        self.corners.iter().zip(next).take(count).map(|(a, b)| (*a, *b))
    }
}

/// Convex hull of the points by the monotone chain, with flat sets reduced to a segment or a point.
///
/// Points on an edge and repeated points are not corners. The order of the corners does not depend on the order of
/// the points.
///
/// # Source
/// A. M. Andrew, "Another efficient algorithm for convex hulls in two dimensions", Information Processing Letters
/// 9 (1979) (from memory); flatness by the tolerance of [`tolerance_m`].
///
/// # Validity
/// Coordinates up to [`GREATEST_LENGTH_M`] in magnitude.
///
/// # Errors
/// [`InputError::Coordinate`].
pub(crate) fn convex_hull(points: &[Vec2]) -> Result<Hull, InputError> {
    check_points(points)?;
    Ok(hull_of_checked(points))
}

/// [`convex_hull`] of points that are known to be usable.
pub(super) fn hull_of_checked(points: &[Vec2]) -> Hull {
    let size_m = plan_size_m(points);
    flattened(hull_of_sorted(&sorted(points), size_m), points, size_m)
}

/// The points with their indices, sorted by x, then y, then index.
pub(super) fn sorted(points: &[Vec2]) -> Vec<Corner> {
    let mut order: Vec<Corner> = points.iter().enumerate().map(|(index, &at)| Corner { index, at }).collect();
    order.sort_by(|a, b| a.at.x.total_cmp(&b.at.x).then(a.at.y.total_cmp(&b.at.y)).then(a.index.cmp(&b.index)));
    order
}

/// Hull of points already in the order of [`sorted`]; it may be a sliver, which [`convex_hull`] flattens.
pub(super) fn hull_of_sorted(order: &[Corner], size_m: f64) -> Hull {
    let tolerance = CORNER_TOLERANCE * size_m;
    let mut corners = chain(order.iter(), tolerance);
    let mut upper = chain(order.iter().rev(), tolerance);
    // Each chain ends where the other begins.
    corners.pop();
    upper.pop();
    corners.append(&mut upper);
    if corners.is_empty() {
        corners.extend(order.first());
    }
    corners.dedup_by(|b, a| (b.at - a.at).length() <= tolerance);
    while let [first, .., last] = corners.as_slice() {
        if tolerance < (last.at - first.at).length() {
            break;
        }
        corners.pop();
    }
    Hull { corners }
}

/// One half of the hull: the points along which the path keeps turning left.
fn chain<'a>(points: impl Iterator<Item = &'a Corner>, tolerance: f64) -> Vec<Corner> {
    let mut chain: Vec<Corner> = Vec::new();
    for &next in points {
        // Several points at one place are named by the lowest index, in whichever order they come.
        if chain.last().is_some_and(|last| last.at == next.at) {
            if let Some(last) = chain.last_mut() {
                last.index = last.index.min(next.index);
            }
            continue;
        }
        while let [.., a, b] = chain.as_slice() {
            let (ab, ac) = (b.at - a.at, next.at - a.at);
            if tolerance * ac.length() < ab.cross(ac) {
                break;
            }
            chain.pop();
        }
        chain.push(next);
    }
    chain
}

/// The hull with a set that is flat within the tolerance replaced by its two ends or by one point.
fn flattened(hull: Hull, points: &[Vec2], size_m: f64) -> Hull {
    let Some(&first) = hull.corners.first() else {
        return hull;
    };
    let distance = |a: Corner, b: Corner| (b.at - a.at).length();
    let farthest = |from: Corner| {
        hull.corners.iter().fold(from, |best, &c| if distance(from, best) < distance(from, c) { c } else { best })
    };
    // Twice, because the first corner of a line parallel to y can be a middle one by rounding.
    let end = farthest(first);
    let start = farthest(end);
    let along = end.at - start.at;
    let tolerance = tolerance_m(size_m);
    if along.length() <= tolerance {
        let index = 0;
        return Hull { corners: points.first().map(|&at| Corner { index, at }).into_iter().collect() };
    }
    let width = hull.corners.iter().map(|c| along.cross(c.at - start.at).abs()).fold(0.0, f64::max);
    if width <= tolerance * along.length() {
        let corners = if start.index < end.index { vec![start, end] } else { vec![end, start] };
        return Hull { corners };
    }
    hull
}

#[cfg(test)]
mod tests;
