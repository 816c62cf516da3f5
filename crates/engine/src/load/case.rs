//! The load case: what is moved, where it bears, how far it must go.

use crate::ram::{BaseFixity, Head, Pad};
use ramwright_units::{Force, Length, Range, Stiffness};
use serde::{Deserialize, Serialize};
use utoipa::ToSchema;

/// What the rams are to do.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize, ToSchema)]
#[serde(rename_all = "snake_case")]
pub enum Task {
    /// Lift a load; it must be held mechanically.
    Raise,
    /// Push in a machine frame.
    Press,
    /// Pull in a machine frame.
    Pull,
}

/// Where the centre of gravity is.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Centre {
    /// Expected position in plan.
    pub x: Length,
    /// Expected position in plan.
    pub y: Length,
    /// Height above the plane of the supports, if known.
    pub z: Option<Length>,
    /// By how much x and y may each be wrong, either way.
    pub tolerance: Length,
}

/// The horizontal force that acts at the centre of gravity, in any direction.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Horizontal {
    /// A share of the weight.
    ShareOfWeight(f64),
    /// A force, whatever the weight is.
    Stated(Force),
}

/// By which rule more than three points share.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Rule {
    /// Statics for up to three points, the worst equilibrium for more.
    Automatic,
    /// Equal springs under a rigid body, with level errors if stated.
    Elastic(Option<Level>),
    /// The worst of all equilibria.
    WorstEquilibrium,
}

/// Level differences between the points.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Level {
    /// Width of the band in which every point's level error lies.
    pub band: Length,
    /// Stiffness of each support.
    pub stiffness: Stiffness,
}

/// A load with positions.
#[derive(Clone, Debug, PartialEq)]
pub struct Placed {
    /// Where its centre of gravity is.
    pub centre: Centre,
    /// Position in plan of each point, in the order of the points.
    pub positions: Vec<(Length, Length)>,
    /// How it is shared.
    pub rule: Rule,
}

/// A reaction from somebody's own analysis.
pub type StatedShare = Range<Force>;

/// How the weight comes to the points.
#[derive(Clone, Debug, PartialEq)]
pub enum Sharing {
    /// By the positions of the points and of the centre of gravity.
    Placed(Placed),
    /// Equally: only where no positions were given.
    Equal,
    /// As stated for each point, in the order of the points.
    Stated(Vec<StatedShare>),
}

/// A jacking point.
#[derive(Clone, Debug, PartialEq)]
pub struct JackingPoint {
    /// Its number or name.
    pub id: String,
    /// Height between foundation and load at the start, where the ram goes.
    pub clearance: Option<Length>,
    /// The same where the holding stack goes.
    pub packing_clearance: Option<Length>,
    /// What the point on the load may take.
    pub limit: Option<Force>,
    /// What the foundation under it may take.
    pub foundation_limit: Option<Force>,
    /// The pad that the rams stand on.
    pub pad: Option<Pad>,
    /// How a ram's base is held against turning when it stands on the foundation itself.
    pub base: BaseFixity,
    /// How the ram's head is held sideways.
    pub head: Head,
}

/// What is to be moved.
#[derive(Clone, Debug, PartialEq)]
pub struct LoadCase {
    /// What the rams are to do.
    pub task: Task,
    /// Weight (or, in a frame, force) within its tolerance.
    pub weight: Range<Force>,
    /// How it comes to the points.
    pub sharing: Sharing,
    /// Horizontal force at the centre of gravity.
    pub horizontal: Horizontal,
    /// The points in the order of [`super::point_order`].
    pub points: Vec<JackingPoint>,
    /// How far the load must move.
    pub travel: Length,
}

impl LoadCase {
    /// The greatest horizontal force.
    pub fn greatest_horizontal(&self) -> Force {
        match (self.task, self.horizontal) {
            (Task::Press | Task::Pull, _) => Force::ZERO,
            (Task::Raise, Horizontal::ShareOfWeight(share)) => self.weight.greatest * share,
            (Task::Raise, Horizontal::Stated(force)) => force,
        }
    }

    /// The same load, heavier by a factor.
    #[must_use]
    pub fn heavier(&self, factor: f64) -> Self {
        let scale =
            |range: &Range<Force>| Range::new(range.least * factor, range.expected * factor, range.greatest * factor);
        let sharing = match &self.sharing {
            Sharing::Stated(shares) => Sharing::Stated(shares.iter().map(scale).collect()),
            other => other.clone(),
        };
        Self { weight: scale(&self.weight), sharing, ..self.clone() }
    }
}
