//! Why a load cannot stand on its points at all.

use super::kernel::{InputError, Stance, TippingEdge, Vec2};
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
    /// All supports that carry are one linked group.
    #[error(
        "{group} are linked and share one pressure, so they act as one support, at x {x_mm:.0} mm, y {y_mm:.0} mm: nothing holds the load against turning over about it, and it goes over {}; close valves so that at least three groups or rams, not in line, stand by themselves",
        direction_in_words(*toward_x, *toward_y)
    )]
    OneSupport {
        /// The group.
        group: String,
        /// Where it acts, in mm.
        x_mm: f64,
        /// Where it acts, in mm.
        y_mm: f64,
        /// Direction of tipping along x; zero where the centre of gravity is over the support and any direction will do.
        toward_x: f64,
        /// Direction of tipping along y.
        toward_y: f64,
    },
    /// Linked groups leave supports in one line.
    #[error(
        "with their rams linked, {from} and {to} act as supports in one line: nothing holds the load against rolling over that line, and it rolls towards ({toward_x:+.3}, {toward_y:+.3}) or the other way; close valves so that at least three groups or rams, not in line, stand by themselves"
    )]
    LinkedInLine {
        /// The support at one end.
        from: String,
        /// The support at the other end.
        to: String,
        /// Direction of rolling along x.
        toward_x: f64,
        /// Direction of rolling along y.
        toward_y: f64,
    },
    /// Nothing carries.
    #[error("nothing carries the load")]
    NothingCarries,
    /// A girder whose model does not suit its points.
    #[error("the girder cannot be computed: {0}")]
    Girder(String),
    /// In one of several phases.
    #[error("in the phase {phase}: {cause}")]
    InPhase {
        /// The phase in words.
        phase: String,
        /// Why.
        cause: Box<Self>,
    },
    /// Numbers that no plan has.
    #[error("the positions cannot be computed with")]
    Unusable,
}

impl NoEquilibrium {
    /// The direction in which the load tips, as a unit vector in plan.
    pub fn direction(&self) -> Option<(f64, f64)> {
        // Over its only support a load goes over any way.
        let known = |x: f64, y: f64| (0.0 < x.abs() + y.abs()).then_some((x, y));
        match self {
            Self::OneSupport { toward_x, toward_y, .. } => known(*toward_x, *toward_y),
            Self::OutsideEdge { toward_x, toward_y, .. }
            | Self::OffLine { toward_x, toward_y, .. }
            | Self::OffPoint { toward_x, toward_y, .. }
            | Self::LinkedInLine { toward_x, toward_y, .. } => Some((*toward_x, *toward_y)),
            Self::InPhase { cause, .. } => cause.direction(),
            Self::Coincident { .. } | Self::InLine { .. } | Self::NothingCarries | Self::Girder(_) | Self::Unusable => {
                None
            }
        }
    }
}

impl From<InputError> for NoEquilibrium {
    fn from(_error: InputError) -> Self {
        Self::Unusable
    }
}

fn direction_in_words(x: f64, y: f64) -> String {
    if 0.0 < x.abs() + y.abs() {
        format!("towards ({x:+.3}, {y:+.3})")
    } else {
        "to whichever side its centre of gravity strays".to_owned()
    }
}

/// Supports in plan, and what each of them is.
pub(super) struct Standing<'a> {
    /// Their names.
    pub(super) names: &'a [&'a str],
    /// Whether each is a linked group.
    pub(super) linked: &'a [bool],
    /// Where each stands, in the coordinates of the request, in m.
    pub(super) at: &'a [Vec2],
    /// Distance that counts as none, in m.
    pub(super) tolerance_m: f64,
}

/// Holds the stance of the expected centre of gravity against what can stand.
pub(super) fn require(stance: &Stance, standing: &Standing<'_>) -> Result<(), NoEquilibrium> {
    let Standing { names: ids, linked, at, tolerance_m } = *standing;
    let name = |index: usize| ids.get(index).copied().unwrap_or_default().to_owned();
    let unit = |v: Vec2| v.unit().unwrap_or(Vec2::ZERO);
    // Ends in the order of the supports, whichever way round the hull goes.
    let edge = |edge: &TippingEdge| (name(edge.from.min(edge.to)), name(edge.from.max(edge.to)), edge.outward);
    let any_linked = linked.iter().any(|linked| *linked);
    match stance {
        Stance::NoSupport => Err(NoEquilibrium::Unusable),
        Stance::Point { index, offset_m } if any_linked => {
            let place = at.get(*index).copied().unwrap_or(Vec2::ZERO);
            let toward = if tolerance_m < offset_m.length() { unit(*offset_m) } else { Vec2::ZERO };
            Err(NoEquilibrium::OneSupport {
                group: ids.join(", "),
                x_mm: place.x * 1e3,
                y_mm: place.y * 1e3,
                toward_x: toward.x,
                toward_y: toward.y,
            })
        }
        Stance::Line { from, to, direction, offset_m, on_line, .. } if any_linked => {
            let toward = if *on_line { direction.turned_left() } else { unit(*offset_m) };
            Err(NoEquilibrium::LinkedInLine {
                from: name(*from),
                to: name(*to),
                toward_x: toward.x,
                toward_y: toward.y,
            })
        }
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
            inside(end.distance_m, -tolerance_m, || edge(end))
        }
        Stance::Polygon { edges, governing } => {
            // The edge that the expected centre is farthest outside of, whatever the tolerances do.
            let worst = edges
                .iter()
                .fold(*governing, |worst, edge| if edge.distance_m < worst.distance_m { *edge } else { worst });
            // On the edge itself nothing holds the load, so it must lie inside by more than rounding.
            inside(worst.distance_m, tolerance_m, || edge(&worst))
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
