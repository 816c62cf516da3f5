//! The shares as they are answered.

use crate::Text;
use crate::check::Check;
use ramwright_units::{Force, ForceRange, Length};
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
    /// Statics on up to three points.
    Statics,
    /// A rigid body on springs that only push.
    Elastic,
    /// The worst of all equilibria.
    WorstEquilibrium,
}

/// What one point carries.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, ToSchema)]
pub struct PointShare {
    /// The point.
    pub point: String,
    /// Least, expected and greatest share.
    pub share: ForceRange,
    /// The least and greatest that any equilibrium can bring to this point, beside the share on equal springs.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub any_equilibrium: Option<ForceRange>,
}

/// How far the load is from tipping.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, ToSchema)]
pub struct Tipping {
    /// A point at one end of the edge over which it would tip first.
    pub from: String,
    /// The point at the other end.
    pub to: String,
    /// Distance of the expected centre of gravity from that edge.
    pub distance: Length,
    /// How far tolerance and horizontal force can move it towards the edge.
    pub reach: Length,
    /// What is left.
    pub margin: Length,
}

/// The shares of all points.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, ToSchema)]
pub struct LoadShares {
    /// The method used.
    pub method: Method,
    /// Why this one.
    pub why: Text,
    /// The weight within its tolerance.
    pub weight: ForceRange,
    /// Horizontal force that was taken into account.
    pub horizontal_force: Force,
    /// The points in their order.
    pub points: Vec<PointShare>,
    /// Distance from tipping; absent where no positions were given.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub tipping: Option<Tipping>,
    /// Checks on the load as a whole.
    pub checks: Vec<Check>,
}

impl LoadShares {
    /// The share of the point with this index.
    pub fn share(&self, index: usize) -> Option<&PointShare> {
        self.points.get(index)
    }
}
