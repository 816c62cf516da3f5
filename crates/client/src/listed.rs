//! What the service says about itself.

use ramwright_engine::check::BasisEntry;
use ramwright_engine::support::MaterialValue;
use serde::{Deserialize, Serialize};

/// What is asked of a service's health.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Probe {
    /// Whether the process is alive.
    Live,
    /// Whether it should be sent requests.
    Ready,
}

impl Probe {
    pub(crate) const fn path(self) -> &'static str {
        match self {
            Self::Live => "/health/live",
            Self::Ready => "/health/ready",
        }
    }
}

/// How a service is.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct Health {
    /// How it is, in one word.
    pub status: String,
    /// Version of the service.
    pub version: String,
}

/// A unit that requests may use: SI value = value x `factor` + `offset`.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct ListedUnit {
    /// The symbol used in answers and accepted in requests.
    pub symbol: String,
    /// The unit's code in the Unified Code for Units of Measure.
    pub ucum: String,
    /// What it measures.
    pub dimension: String,
    /// SI value of one unit.
    pub factor: f64,
    /// SI value of zero; differs from 0 only for temperatures.
    pub offset: f64,
    /// Other spellings accepted in requests.
    pub also: Vec<String>,
}

/// Every unit that requests may use.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct UnitList {
    /// One entry a symbol.
    pub units: Vec<ListedUnit>,
}

/// Every check with what it rests on.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct BasisList {
    /// One entry a check.
    pub checks: Vec<BasisEntry>,
}

/// Every value of a material.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct MaterialList {
    /// One entry a value.
    pub materials: Vec<MaterialValue>,
}
