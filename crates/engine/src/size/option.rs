//! A ram set that was found, as it is answered.

use crate::catalogue::Money;
use crate::check::{CheckId, Finding, Scenario, Status, is_worse};
use crate::ram::Action;
use crate::verify::Verdict;
use ramwright_units::{Force, Length, PieceMass};
use serde::{Deserialize, Serialize};
use utoipa::ToSchema;

/// The outcome of one check at the point where it is worst.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, ToSchema)]
pub struct CheckSummary {
    /// Which check.
    pub id: CheckId,
    /// At which point it is worst, or `set`, or `load`.
    pub subject: String,
    /// In which case.
    pub scenario: Scenario,
    /// The outcome.
    pub status: Status,
    /// Demand / limit, where there is one.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub utilisation: Option<f64>,
}

impl CheckSummary {
    pub(super) fn new(id: CheckId, subject: &str, finding: &Finding) -> Self {
        Self {
            id,
            subject: subject.to_owned(),
            scenario: Scenario::AsPlanned,
            status: finding.status(),
            utilisation: finding.utilisation(),
        }
    }

    /// Whether another outcome of the same check is worse by more than rounding.
    pub(super) fn is_outdone_by(&self, other: &Self) -> bool {
        is_worse((other.status, other.utilisation), (self.status, self.utilisation))
    }
}

/// A ram set that no check refuses.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, ToSchema)]
pub struct RamOption {
    /// Its place in the ranking, from 1.
    pub rank: u32,
    /// Whether this is the one recommended; none is where the load as a whole fails, whatever the rams.
    pub recommended: bool,
    /// Whether no other option is at least as good in everything that is ranked and better in something.
    pub pareto: bool,
    /// The model.
    pub ram: String,
    /// The model's family; empty if none.
    pub family: String,
    /// How it is extended and retracted.
    pub action: Action,
    /// Whether it has a lock collar.
    pub lock_collar: bool,
    /// Rams side by side at each point.
    pub rams_per_point: u32,
    /// Rams in all.
    pub rams: u32,
    /// Effective area x rated pressure of one ram.
    pub capacity: Force,
    /// Stroke.
    pub stroke: Length,
    /// Closed height.
    pub closed_height: Length,
    /// Number of packing lifts; absent in a frame or where it is not known.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub packing_lifts: Option<u32>,
    /// Mass of all rams.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub mass: Option<PieceMass>,
    /// Rate of all rams for a day.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub day_rate: Option<Money>,
    /// Hire of all rams for the hire period, to the cent; absent where their rates are not known.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub hire: Option<Money>,
    /// Greatest utilisation of any check of force on the rams.
    pub utilisation: f64,
    /// One word over all checks.
    pub verdict: Verdict,
    /// Each check at the point where it is worst.
    pub checks: Vec<CheckSummary>,
}
