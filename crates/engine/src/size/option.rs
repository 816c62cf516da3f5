//! A ram set that was found, as it is answered.

use crate::Text;
use crate::catalogue::Money;
use crate::check::{Check, CheckId, Scenario, Status, is_worse};
use crate::ram::Action;
use crate::verify::{Judged, RamsAtPoint, Verdict};
use ramwright_units::{Force, HoseLength, Length, OilPressure, PieceMass, Time};
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

impl From<&Check> for CheckSummary {
    fn from(check: &Check) -> Self {
        Self {
            id: check.id,
            subject: check.subject.clone(),
            scenario: check.scenario,
            status: check.status,
            utilisation: check.utilisation,
        }
    }
}

impl<'a> From<&'a CheckSummary> for Judged<'a> {
    fn from(check: &'a CheckSummary) -> Self {
        Self {
            id: check.id,
            subject: &check.subject,
            scenario: check.scenario,
            status: check.status,
            utilisation: check.utilisation,
        }
    }
}

impl CheckSummary {
    /// Whether another outcome of the same check is worse by more than rounding.
    pub(super) fn is_outdone_by(&self, other: &Self) -> bool {
        is_worse((other.status, other.utilisation), (self.status, self.utilisation))
    }
}

/// The rams of one model in a set.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, ToSchema)]
pub struct ModelUsed {
    /// The model.
    pub ram: String,
    /// How many of them, at all points together.
    pub rams: u32,
    /// The model's family; empty if none.
    pub family: String,
    /// How it is extended and retracted.
    pub action: Action,
    /// Whether it has a lock collar.
    pub lock_collar: bool,
    /// Effective area x rated pressure of one ram.
    pub capacity: Force,
    /// Stroke.
    pub stroke: Length,
    /// Closed height.
    pub closed_height: Length,
}

/// Pumps and hoses that were chosen for a set.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, ToSchema)]
pub struct CircuitOption {
    /// The model of pump.
    pub pump: String,
    /// How many of them.
    pub pumps: u32,
    /// The model of hose.
    pub hose: String,
    /// How many are joined end to end in a run.
    pub hoses_in_series: u32,
    /// How many hoses in all.
    pub hoses: u32,
    /// Length of a run.
    pub run: HoseLength,
    /// Greatest pressure at the pump; absent where the losses are not known.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub pump_pressure: Option<OilPressure>,
    /// Time of the greatest raise, without pauses.
    pub raise: Time,
    /// Time to retract after it; absent where it is not known or the rams do not retract by themselves.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub retract: Option<Time>,
    /// Hire of pumps and hoses; absent where a rate is not known.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub hire: Option<Money>,
    /// One word over the checks of the circuit, which are not among those of the set.
    pub verdict: Verdict,
}

/// A ram set that no check refuses.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, ToSchema)]
pub struct RamOption {
    /// Its place in the ranking, from 1.
    pub rank: u32,
    /// Whether this is the one recommended; none is where the load as a whole fails, whatever the rams.
    pub recommended: bool,
    /// Whether no other set with as good a verdict is at least as good in every named objective and better in one.
    pub pareto: bool,
    /// The set in words: number and model, such as `8 x A`.
    pub set: String,
    /// The models in it, in the order of their ids.
    pub models: Vec<ModelUsed>,
    /// What stands at each point.
    pub at_points: Vec<RamsAtPoint>,
    /// Rams in all.
    pub rams: u32,
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
    /// The circuit that was chosen, the cheapest that does it; absent where none was asked for, or too little is known.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub circuit: Option<CircuitOption>,
    /// What is missing for a circuit, where one was to be chosen: the set is then not known to be fed.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub circuit_missing: Option<Text>,
    /// Hire of rams, pumps and hoses; of the rams alone where no circuit was asked for; absent where not all of it is known.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub cost: Option<Money>,
    /// Time at the lift: handling, pumps and retracting, with the circuit chosen; absent where the pumps are not known.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub time: Option<Time>,
    /// Greatest utilisation of any check of force, load apart.
    pub utilisation: f64,
    /// One word over all checks of the set: the very verdict of its verification, and with what the request allows. The circuit
    /// has a verdict of its own.
    pub verdict: Verdict,
    /// Each check at the point and in the scenario where it is worst.
    pub checks: Vec<CheckSummary>,
}

impl RamOption {
    /// How many stand side by side, if that is the same at every point.
    pub fn rams_per_point(&self) -> Option<u32> {
        let (first, rest) = self.at_points.split_first()?;
        rest.iter().all(|at| at.count == first.count).then_some(first.count)
    }

    /// The model, if there is only one.
    pub fn only_model(&self) -> Option<&ModelUsed> {
        let [only] = self.models.as_slice() else { return None };
        Some(only)
    }
}
