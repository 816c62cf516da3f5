//! Why a load cannot stand on its points at all.

use super::kernel::{InputError, Stance, Vec2};
use thiserror::Error;

/// No equilibrium at the expected weight and centre of gravity.
#[derive(Clone, Debug, PartialEq, Error)]
#[non_exhaustive]
pub enum NoEquilibrium {
    /// The centre of gravity lies outside the polygon of the points.
    #[error(
        "the centre of gravity lies on or outside (by {by_mm:.1} mm) the line through points {from} and {to}, so the load tips over that line, towards ({toward_x:+.3}, {toward_y:+.3})"
    )]
    OutsideEdge {
        /// A point at one end of the line over which it tips.
        from: String,
        /// The point at the other end.
        to: String,
        /// Distance outside the line in mm.
        by_mm: f64,
        /// Direction of tipping along x, as a unit vector.
        toward_x: f64,
        /// Direction of tipping along y.
        toward_y: f64,
    },
    /// All points in one line, and the centre of gravity off it.
    #[error(
        "all points lie in the line through {from} and {to}, and the centre of gravity is {by_mm:.1} mm off it: the load tips over that line, towards ({toward_x:+.3}, {toward_y:+.3})"
    )]
    OffLine {
        /// The point at one end of the line.
        from: String,
        /// The point at the other end.
        to: String,
        /// Distance from the line in mm.
        by_mm: f64,
        /// Direction of tipping along x.
        toward_x: f64,
        /// Direction of tipping along y.
        toward_y: f64,
    },
    /// One point, and the centre of gravity not over it.
    #[error(
        "the only point is {point}, and the centre of gravity is {by_mm:.1} mm from it: the load tips towards ({toward_x:+.3}, {toward_y:+.3})"
    )]
    OffPoint {
        /// The point.
        point: String,
        /// Distance in mm.
        by_mm: f64,
        /// Direction of tipping along x.
        toward_x: f64,
        /// Direction of tipping along y.
        toward_y: f64,
    },
    /// Several points at one place.
    #[error("points {from} and {to} stand at one place, so nothing says how they share")]
    Coincident {
        /// One point.
        from: String,
        /// Another.
        to: String,
    },
    /// Three or more points in line with the centre of gravity.
    #[error(
        "three or more points in the line through {from} and {to} carry the load by their levels alone, and nothing holds it across that line; leave out all but two, or place the points off one line"
    )]
    InLine {
        /// The point at one end.
        from: String,
        /// The point at the other end.
        to: String,
    },
    /// Numbers that no plan has.
    #[error("the positions cannot be computed with")]
    Unusable,
}

impl NoEquilibrium {
    /// The direction in which the load tips, as a unit vector in plan.
    pub fn direction(&self) -> Option<(f64, f64)> {
        match self {
            Self::OutsideEdge { toward_x, toward_y, .. }
            | Self::OffLine { toward_x, toward_y, .. }
            | Self::OffPoint { toward_x, toward_y, .. } => Some((*toward_x, *toward_y)),
            Self::Coincident { .. } | Self::InLine { .. } | Self::Unusable => None,
        }
    }
}

impl From<InputError> for NoEquilibrium {
    fn from(_error: InputError) -> Self {
        Self::Unusable
    }
}

/// Holds the stance of the expected centre of gravity against what can stand.
pub(super) fn require(stance: &Stance, ids: &[&str], tolerance_m: f64) -> Result<(), NoEquilibrium> {
    let name = |index: usize| ids.get(index).copied().unwrap_or_default().to_owned();
    let unit = |v: Vec2| v.unit().unwrap_or(Vec2::ZERO);
    match stance {
        Stance::NoSupport => Err(NoEquilibrium::Unusable),
        Stance::Point { index, offset_m } => {
            if tolerance_m < offset_m.length() {
                let toward = unit(*offset_m);
                return Err(NoEquilibrium::OffPoint {
                    point: name(*index),
                    by_mm: offset_m.length() * 1e3,
                    toward_x: toward.x,
                    toward_y: toward.y,
                });
            }
            if ids.len() == 1 { Ok(()) } else { Err(NoEquilibrium::Coincident { from: name(0), to: name(1) }) }
        }
        Stance::Line { from, to, offset_m, on_line, end, .. } => {
            if !on_line {
                let toward = unit(*offset_m);
                return Err(NoEquilibrium::OffLine {
                    from: name(*from),
                    to: name(*to),
                    by_mm: offset_m.length() * 1e3,
                    toward_x: toward.x,
                    toward_y: toward.y,
                });
            }
            if ids.len() != 2 {
                return Err(NoEquilibrium::InLine { from: name(*from), to: name(*to) });
            }
            inside(end.distance_m, -tolerance_m, || (name(end.from), name(end.to), end.outward))
        }
        Stance::Polygon { edges, governing } => {
            // The edge that the expected centre is farthest outside of, whatever the tolerances do.
            let worst = edges
                .iter()
                .fold(*governing, |worst, edge| if edge.distance_m < worst.distance_m { *edge } else { worst });
            // On the edge itself nothing holds the load, so it must lie inside by more than rounding.
            inside(worst.distance_m, tolerance_m, || (name(worst.from), name(worst.to), worst.outward))
        }
    }
}

fn inside(distance_m: f64, least_m: f64, edge: impl FnOnce() -> (String, String, Vec2)) -> Result<(), NoEquilibrium> {
    if least_m < distance_m {
        return Ok(());
    }
    let (from, to, outward) = edge();
    let by_mm = (-distance_m * 1e3).max(0.0);
    Err(NoEquilibrium::OutsideEdge { from, to, by_mm, toward_x: outward.x, toward_y: outward.y })
}
