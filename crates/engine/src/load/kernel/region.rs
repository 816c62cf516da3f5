//! Where the centre of gravity may be: its nominal place, a box from tolerances along the axes and a disc from
//! effects that act in any direction (a horizontal force of unknown direction, for one).

use super::geometry::{GREATEST_LENGTH_M, InputError, Vec2, check_points};

/// Edges of the polygon drawn about the disc in one quadrant.
const EDGES_PER_QUADRANT: u8 = 8;

/// Tolerance of the centre of gravity in plan: a box and a disc, added to each other.
#[derive(Debug, Clone, Copy, PartialEq)]
#[expect(clippy::struct_field_names, reason = "the common ending is the unit")]
pub(crate) struct CentreSpread {
    half_x_m: f64,
    half_y_m: f64,
    radius_m: f64,
}

impl CentreSpread {
    /// No tolerance.
    pub(crate) const NONE: Self = Self { half_x_m: 0.0, half_y_m: 0.0, radius_m: 0.0 };

    /// A tolerance from the half widths of the box along x and y and the radius of the disc, all in m.
    ///
    /// # Errors
    /// [`InputError::Spread`] if one is negative, not finite or too large.
    pub(crate) fn new(half_x_m: f64, half_y_m: f64, radius_m: f64) -> Result<Self, InputError> {
        let usable = |v: &f64| (0.0..=GREATEST_LENGTH_M).contains(v);
        if [half_x_m, half_y_m, radius_m].iter().all(usable) {
            Ok(Self { half_x_m, half_y_m, radius_m })
        } else {
            Err(InputError::Spread)
        }
    }

    /// Greatest growth of the linear function `gradient . g` as g leaves its nominal place: exact, with the true
    /// disc. In m for a unit gradient, else in m times the unit of the gradient.
    ///
    /// # Source
    /// Support function of a box and of a disc; that of a sum of sets is the sum.
    ///
    /// # Validity
    /// Any finite gradient.
    pub(crate) fn reach(&self, gradient: Vec2) -> f64 {
        gradient.x.abs() * self.half_x_m + gradient.y.abs() * self.half_y_m + gradient.length() * self.radius_m
    }
}

/// Convex polygon that holds every place the centre of gravity may be at; a segment or a point where the box is flat.
///
/// The disc is replaced by the regular polygon of 32 sides drawn *about* it, which is outward and so on the safe
/// side (by less than 0.5 % of its radius). Two of its sides are parallel to each axis, so the sum with the box has the
/// same directions of sides and reaches exactly the tolerance along the axes.
#[derive(Debug, Clone, PartialEq)]
pub(crate) struct ConvexRegion {
    nominal: Vec2,
    vertices: Vec<Vec2>,
    normals: Vec<Vec2>,
}

impl ConvexRegion {
    /// The region about the nominal centre of gravity (in m).
    ///
    /// # Source
    /// Minkowski sum of a box and a regular polygon, by elementary geometry.
    ///
    /// # Validity
    /// Coordinates up to [`GREATEST_LENGTH_M`].
    ///
    /// # Errors
    /// [`InputError::Coordinate`].
    pub(crate) fn new(nominal: Vec2, spread: CentreSpread) -> Result<Self, InputError> {
        check_points(&[nominal])?;
        let normals = if 0.0 < spread.radius_m { polygon_normals() } else { axes().to_vec() };
        let mut vertices: Vec<Vec2> = Vec::new();
        for corner in corner_offsets(spread) {
            if vertices.last() != Some(&(nominal + corner)) {
                vertices.push(nominal + corner);
            }
        }
        while 1 < vertices.len() && vertices.first() == vertices.last() {
            vertices.pop();
        }
        Ok(Self { nominal, vertices, normals })
    }

    /// The region that is one point, in m.
    ///
    /// # Errors
    /// [`InputError::Coordinate`].
    #[cfg(test)]
    pub(crate) fn point(at: Vec2) -> Result<Self, InputError> {
        Self::new(at, CentreSpread::NONE)
    }

    /// Corners, counter-clockwise, in m.
    pub(crate) fn vertices(&self) -> &[Vec2] {
        &self.vertices
    }

    /// Unit directions that are enough to separate this region from another convex set (with those of the other):
    /// the outward normals of its sides; for a segment and a point all four axis directions.
    pub(crate) fn normals(&self) -> &[Vec2] {
        &self.normals
    }

    /// Support function: the greatest `direction . v` over the region, in m for a unit direction.
    ///
    /// # Source
    /// A linear function over a convex polygon is greatest at a vertex.
    ///
    /// # Validity
    /// Any finite direction.
    #[cfg(test)]
    pub(crate) fn support(&self, direction: Vec2) -> f64 {
        self.vertices.iter().map(|&v| direction.dot(v)).fold(f64::NEG_INFINITY, f64::max)
    }
}

/// Outward normals of a box.
fn axes() -> [Vec2; 4] {
    [Vec2::new(1.0, 0.0), Vec2::new(0.0, 1.0), Vec2::new(-1.0, 0.0), Vec2::new(0.0, -1.0)]
}

/// Normals of the 32-gon, counter-clockwise from the x axis. Quadrants are copies of the first, so the four axis
/// directions are exact.
fn polygon_normals() -> Vec<Vec2> {
    axes()
        .iter()
        .flat_map(|axis| (0..EDGES_PER_QUADRANT).map(move |k| turned(direction(f64::from(k)), *axis)))
        .collect()
}

/// Corners of the region less the nominal centre, counter-clockwise; equal neighbours where the box is flat.
fn corner_offsets(spread: CentreSpread) -> Vec<Vec2> {
    let (x, y) = (spread.half_x_m, spread.half_y_m);
    let box_corners = [Vec2::new(x, y), Vec2::new(-x, y), Vec2::new(-x, -y), Vec2::new(x, -y)];
    if spread.radius_m <= 0.0 {
        return box_corners.to_vec();
    }
    // The last factor outweighs the rounding of the line itself: the polygon must not cut into the disc.
    let corner_radius = spread.radius_m / direction(0.5).x * (1.0 + 4.0 * f64::EPSILON);
    axes()
        .iter()
        .zip(box_corners)
        .flat_map(|(axis, corner)| {
            (0..EDGES_PER_QUADRANT).map(move |k| turned(direction(f64::from(k) + 0.5) * corner_radius, *axis) + corner)
        })
        .collect()
}

/// Unit vector at `step` sides of the 32-gon from the x axis.
fn direction(step: f64) -> Vec2 {
    let angle = step * core::f64::consts::FRAC_PI_2 / f64::from(EDGES_PER_QUADRANT);
    Vec2::new(libm::cos(angle), libm::sin(angle))
}

/// The vector in a frame whose x axis is `axis`.
fn turned(v: Vec2, axis: Vec2) -> Vec2 {
    axis * v.x + axis.turned_left() * v.y
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    fn region(x: f64, y: f64, r: f64) -> ConvexRegion {
        ConvexRegion::new(Vec2::new(0.3, -0.2), CentreSpread::new(x, y, r).unwrap()).unwrap()
    }

    #[test]
    fn verify_degenerate_regions() {
        assert_eq!(region(0.0, 0.0, 0.0).vertices(), [Vec2::new(0.3, -0.2)]);
        assert_eq!(region(0.1, 0.0, 0.0).vertices().len(), 2);
        assert_eq!(region(0.0, 0.1, 0.0).vertices().len(), 2);
        assert_eq!(region(0.1, 0.2, 0.0).vertices().len(), 4);
        assert_eq!(region(0.1, 0.2, 0.3).vertices().len(), 32);
        assert_eq!(region(0.0, 0.0, 0.3).vertices().len(), 32);
    }

    #[test]
    fn verify_bad_tolerances_are_refused() {
        for bad in [-1e-9, f64::NAN, f64::INFINITY, 1e10] {
            assert_eq!(CentreSpread::new(bad, 0.0, 0.0), Err(InputError::Spread));
            assert_eq!(CentreSpread::new(0.0, bad, 0.0), Err(InputError::Spread));
            assert_eq!(CentreSpread::new(0.0, 0.0, bad), Err(InputError::Spread));
        }
        assert_eq!(ConvexRegion::point(Vec2::new(f64::NAN, 0.0)), Err(InputError::Coordinate));
    }

    proptest! {
        #[test]
        fn verify_region_holds_the_true_tolerance_and_little_more(
            x in 0.0f64..2.0, y in 0.0f64..2.0, r in 0.0f64..2.0, angle in 0.0f64..6.3,
        ) {
            let d = Vec2::new(libm::cos(angle), libm::sin(angle));
            let spread = CentreSpread::new(x, y, r).unwrap();
            let excess = region(x, y, r).support(d) - d.dot(Vec2::new(0.3, -0.2)) - spread.reach(d);
            prop_assert!((-1e-14..=0.005 * r + 1e-14).contains(&excess), "{excess}");
            for axis in axes() {
                let excess = region(x, y, r).support(axis) - axis.dot(Vec2::new(0.3, -0.2)) - spread.reach(axis);
                prop_assert!(excess.abs() < 1e-14);
            }
        }

        #[test]
        fn verify_region_is_convex_and_its_normals_are_those_of_its_sides(
            x in 0.0f64..2.0, y in 0.0f64..2.0, r in 0.01f64..2.0,
        ) {
            let region = region(x, y, r);
            let v = region.vertices();
            // Vertex k lies between side k and side k + 1.
            for (k, normal) in region.normals().iter().enumerate() {
                let side = v[k] - v[(k + v.len() - 1) % v.len()];
                prop_assert!(side.dot(*normal).abs() < 1e-13);
                prop_assert!(0.0 < side.cross(-*normal));
            }
        }
    }
}
