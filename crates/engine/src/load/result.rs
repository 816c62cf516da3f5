//! The shares as they are answered.

use super::phases::SupportKind;
use super::weighing::Weighed;
use crate::Text;
use crate::check::{Check, Line, Phase};
use crate::force::ForceEstimate;
use ramwright_units::{Force, ForceRange, Length, Moment, Stiffness};
use serde::{Deserialize, Serialize};
use utoipa::ToSchema;

/// By which method the shares were found.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize, ToSchema)]
#[serde(rename_all = "snake_case")]
pub enum Method {
    /// As stated in the request.
    Stated,
    /// Total over number of points.
    Equal,
    /// Statics on up to three supports.
    Statics,
    /// A rigid body on springs that only push.
    Elastic,
    /// The worst of all equilibria.
    WorstEquilibrium,
    /// A bending beam on springs that only push.
    Girder,
}

/// How a least or greatest share was found.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize, ToSchema)]
#[serde(rename_all = "snake_case")]
pub enum Exactness {
    /// The extreme itself (where a point can lift off, but for a circle drawn as 32 sides about it).
    Exact,
    /// A bound on the safe side of the extreme.
    SafeSide,
}

/// The combination of weight, place and levels at which a share is least or greatest.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, ToSchema)]
pub struct Combination {
    /// The combination in words.
    pub words: Text,
    /// Vertical load.
    pub vertical_load: Force,
    /// Where the resultant of weight and horizontal forces meets the plane of the supports; absent if only its bound is known.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub x: Option<Length>,
    /// The same along y.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub y: Option<Length>,
    /// Level error of every support in its order, positive if it stands high; absent where levels do not matter and for more
    /// than 24 supports.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub levels: Vec<Length>,
}

/// What governs both ends of a share.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, ToSchema)]
pub struct GoverningEnds {
    /// At the least share.
    pub least: Combination,
    /// At the greatest share.
    pub greatest: Combination,
}

/// What small errors cost at a support: by how much its greatest share grows, near the combination that governs it.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize, ToSchema)]
pub struct Sensitivity {
    /// The centre of gravity 10 mm farther in the worst direction.
    pub centre_10_mm: Force,
    /// The weight 1 % greater.
    pub weight_1_percent: Force,
    /// This support alone standing 1 mm higher; absent where levels do not matter or their effect is not known.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub level_1_mm: Option<Force>,
}

/// What one support carries in one phase.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, ToSchema)]
pub struct SupportShare {
    /// Its name: that of its point, or of its points joined by `+`.
    pub support: String,
    /// What it is.
    pub kind: SupportKind,
    /// The points that take its reaction.
    pub points: Vec<String>,
    /// Least, expected and greatest reaction.
    pub share: ForceRange,
    /// How least and greatest were found.
    pub exactness: Exactness,
    /// The least and greatest of any equilibrium, whatever stiffness and levels are.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub any_equilibrium: Option<ForceRange>,
    /// What governs.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub governing: Option<GoverningEnds>,
    /// What small errors cost.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub sensitivity: Option<Sensitivity>,
    /// Change of the share of each support, in their order, when this one alone is raised, while all stay in contact; absent
    /// where stiffness is not known and for more than 24 supports.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub raised_alone: Vec<Stiffness>,
}

/// The bending moments of a girder under its expected loads.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize, ToSchema)]
pub struct Bending {
    /// Greatest sagging moment.
    pub sagging: Moment,
    /// Where it is.
    pub sagging_at: Length,
    /// Greatest hogging moment.
    pub hogging: Moment,
    /// Where it is.
    pub hogging_at: Length,
}

/// What carries in one phase, and how much.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, ToSchema)]
pub struct PhaseShares {
    /// The phase.
    pub phase: Phase,
    /// Its name, if the request gives one.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub name: Option<String>,
    /// The method used.
    pub method: Method,
    /// Why this one.
    pub why: Text,
    /// The supports.
    pub supports: Vec<SupportShare>,
    /// Distance from tipping.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub tipping: Option<Tipping>,
    /// Bending of a girder.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub bending: Option<Bending>,
}

/// What one point carries: on its rams, in the phase that loads it most.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, ToSchema)]
pub struct PointShare {
    /// The point.
    pub point: String,
    /// Least, expected and greatest share: least and greatest over all phases in which its rams carry, expected in the first.
    pub share: ForceRange,
    /// The least and greatest that any equilibrium can bring to this point in the phase that loads it most.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub any_equilibrium: Option<ForceRange>,
    /// The phase that loads it most, as its place in `phases` (from 0).
    #[serde(default, skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub governing_phase: Option<u32>,
    /// What its holding stack carries, over all phases in which it does.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub held: Option<ForceRange>,
}

/// How far the load is from tipping.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, ToSchema)]
pub struct Tipping {
    /// The support at one end of the edge over which it would tip first.
    pub from: String,
    /// The support at the other end.
    pub to: String,
    /// Distance of the expected centre of gravity from that edge.
    pub distance: Length,
    /// How far tolerance and horizontal force can move it towards the edge.
    pub reach: Length,
    /// What is left.
    pub margin: Length,
    /// The part of the distance that is left; below 0 the load can tip.
    pub ratio: f64,
}

/// One point lost: everything that stands there, and with it all that hangs on its oil.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, ToSchema)]
pub struct PointLost {
    /// The point.
    pub point: String,
    /// The phase.
    pub phase: Phase,
    /// Points whose rams are linked with it and are lost too.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub lost_with: Vec<String>,
    /// Whether the rest holds the load within all tolerances, by statics alone: no blow, and no limit of a ram, is looked at here.
    pub stands: bool,
    /// What happens, in words.
    pub what: Text,
    /// The point that then carries most.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub heaviest: Option<String>,
    /// The greatest share there, of any equilibrium.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub heaviest_share: Option<Force>,
    /// Distance from tipping on what is left.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub tipping: Option<Tipping>,
}

/// What would bring the greatest share down.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, ToSchema)]
pub struct Advice {
    /// What to do and what it gains.
    pub words: Text,
    /// Groups of points to be linked, if that is the advice.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub link: Vec<Vec<String>>,
    /// The level band to be held, if that is the advice.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub level_tolerance: Option<Length>,
    /// The greatest share of any point now.
    pub greatest_share: Force,
    /// The greatest share of any point then.
    pub greatest_share_then: Force,
}

/// The shares of all points.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, ToSchema)]
pub struct LoadShares {
    /// The method used in the first phase.
    pub method: Method,
    /// Why this one.
    pub why: Text,
    /// The weight within its tolerance.
    pub weight: ForceRange,
    /// The vertical load: weight, dynamic factor and slope.
    pub vertical_load: ForceRange,
    /// Horizontal force that was taken into account.
    pub horizontal_force: Force,
    /// The points in their order.
    pub points: Vec<PointShare>,
    /// The least distance from tipping of all phases; absent where no positions were given.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub tipping: Option<Tipping>,
    /// What carries in each phase.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub phases: Vec<PhaseShares>,
    /// Each point lost in turn, in the first phase.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub losses: Vec<PointLost>,
    /// What would bring the greatest share down.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub advice: Vec<Advice>,
    /// How weight, centre of gravity and stiffness were come by, where they were computed.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub lines: Vec<Line>,
    /// The weighing, if there was one.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub weighed: Option<Weighed>,
    /// Forces in a machine frame that were estimated from the work to be done.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub estimates: Vec<ForceEstimate>,
    /// Checks on the load as a whole.
    pub checks: Vec<Check>,
}

impl LoadShares {
    /// The share of the point with this index.
    pub fn share(&self, index: usize) -> Option<&PointShare> {
        self.points.get(index)
    }

    /// The greatest share of any point.
    pub fn heaviest(&self) -> Option<&PointShare> {
        self.points.iter().reduce(
            |worst, point| {
                if worst.share.greatest < point.share.greatest { point } else { worst }
            },
        )
    }
}
