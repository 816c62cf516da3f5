//! What a search is asked: who stands where, by what sets are ranked, what it may cost.

use ramwright_units::PieceMass;
use serde::{Deserialize, Serialize};
use utoipa::ToSchema;

/// Which sets come into question.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize, ToSchema)]
#[serde(rename_all = "snake_case")]
pub enum Assignment {
    /// One model and one number of rams at every point.
    Uniform,
    /// One model at every point; the number may differ from point to point.
    ByPoint,
    /// Models and numbers may differ from point to point.
    Mixed,
}

/// By what sets are compared, each the less the better.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize, ToSchema)]
#[serde(rename_all = "snake_case")]
pub enum Objective {
    /// Number of rams.
    Rams,
    /// Number of packing lifts.
    PackingLifts,
    /// Hire of rams, pumps and hoses for the hire period.
    Cost,
    /// Mass of all rams.
    Mass,
    /// Greatest utilisation of any check of force.
    Utilisation,
    /// Time at the lift: handling, pumps and retracting.
    Time,
}

impl Objective {
    /// All of them, in the order in which they break ties.
    pub const ALL: [Self; 6] = [Self::Rams, Self::PackingLifts, Self::Cost, Self::Mass, Self::Utilisation, Self::Time];
}

/// What the request allows; what is absent is not limited.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Budget {
    /// Greatest number of rams in all.
    pub rams: Option<u32>,
    /// Greatest mass of one ram.
    pub ram_mass: Option<PieceMass>,
    /// Greatest hire of rams, pumps and hoses, in the currency of the catalogue.
    pub hire: Option<f64>,
}

/// What is searched for. There is no `Default`: `api` fills it and lists what it assumed.
#[derive(Clone, Debug, PartialEq)]
pub struct SearchTerms {
    /// Which sets come into question.
    pub assignment: Assignment,
    /// By what they are compared, the most important first; at least one, none twice.
    pub objectives: Vec<Objective>,
    /// How many options are listed at most, beside those that no other beats.
    pub options: usize,
    /// What the request allows.
    pub budget: Budget,
}
