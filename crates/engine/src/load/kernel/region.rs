//! Where the centre of gravity may be: its nominal place, a box from tolerances along the axes and a disc from
//! effects that act in any direction (a horizontal force of unknown direction, for one).

use super::geometry::{GREATEST_LENGTH_M, InputError, Vec2};

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
    #[cfg(test)]
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

    /// The same with a disc wider by this, in m.
    ///
    /// # Errors
    /// [`InputError::Spread`] if the radius is no longer usable.
    pub(super) fn with_disc_wider(&self, by_m: f64) -> Result<Self, InputError> {
        Self::new(self.half_x_m, self.half_y_m, self.radius_m + by_m)
    }

    /// Reach of the box alone; see [`Self::reach`].
    pub(super) fn box_reach(&self, gradient: Vec2) -> f64 {
        gradient.x.abs() * self.half_x_m + gradient.y.abs() * self.half_y_m
    }

    /// The place of box and disc that lies farthest in a direction, in m.
    pub(super) fn farthest(&self, direction: Vec2) -> Vec2 {
        // Along an axis that only rounding has to do with, the middle will do.
        let nothing = 1e-12 * direction.length();
        let side = |along: f64, half_m: f64| if along.abs() <= nothing { 0.0 } else { half_m * along.signum() };
        let round = direction.unit().map_or(Vec2::ZERO, |unit| unit * self.radius_m);
        Vec2::new(side(direction.x, self.half_x_m), side(direction.y, self.half_y_m)) + round
    }

    /// Whether there is no tolerance at all.
    pub(super) fn is_none(&self) -> bool {
        [self.half_x_m, self.half_y_m, self.radius_m].iter().all(|width| *width <= 0.0)
    }

    /// Whether there is a disc, and so a curved edge.
    pub(super) fn has_disc(&self) -> bool {
        0.0 < self.radius_m
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

/// Outward normals of a box.
pub(super) fn axes() -> [Vec2; 4] {
    [Vec2::new(1.0, 0.0), Vec2::new(0.0, 1.0), Vec2::new(-1.0, 0.0), Vec2::new(0.0, -1.0)]
}

/// Normals of the 32-gon, counter-clockwise from the x axis. Quadrants are copies of the first, so the four axis
/// directions are exact.
pub(super) fn polygon_normals() -> Vec<Vec2> {
    axes()
        .iter()
        .flat_map(|axis| (0..EDGES_PER_QUADRANT).map(move |k| turned(direction(f64::from(k)), *axis)))
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

    #[test]
    fn verify_bad_tolerances_are_refused() {
        for bad in [-1e-9, f64::NAN, f64::INFINITY, 1e10] {
            assert_eq!(CentreSpread::new(bad, 0.0, 0.0), Err(InputError::Spread));
            assert_eq!(CentreSpread::new(0.0, bad, 0.0), Err(InputError::Spread));
            assert_eq!(CentreSpread::new(0.0, 0.0, bad), Err(InputError::Spread));
        }
    }

    #[test]
    fn verify_polygon_normals_are_evenly_spaced_and_hold_the_axes() {
        let normals = polygon_normals();
        assert_eq!(normals.len(), 32);
        for (k, normal) in normals.iter().enumerate() {
            assert!((normal.length() - 1.0).abs() < 1e-15);
            let next = normals[(k + 1) % 32];
            assert!((normal.cross(next) - libm::sin(core::f64::consts::TAU / 32.0)).abs() < 1e-15);
            assert!(0.0 < normal.dot(next));
        }
        assert_eq!([normals[0], normals[8], normals[16], normals[24]], axes());
    }

    #[test]
    fn verify_reach_by_hand() {
        let spread = CentreSpread::new(0.5, 0.25, 0.125).unwrap();
        assert_eq!(spread.reach(Vec2::new(-1.0, 0.0)).to_bits(), 0.625f64.to_bits());
        // A gradient of length 5: 3 x 0.5 + 4 x 0.25 + 5 x 0.125.
        assert_eq!(spread.reach(Vec2::new(3.0, -4.0)).to_bits(), 3.125f64.to_bits());
    }
}
