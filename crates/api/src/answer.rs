//! The envelope of every calculation's answer.

use crate::problem::{Problem, ProblemCode};
use ramwright_engine::remark::{Assumption, Caution};
use ramwright_engine::verify::Verdict;
use ramwright_units::{In, Profile};
use serde::{Deserialize, Serialize};
use utoipa::ToSchema;

/// The catalogue that a calculation used.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize, ToSchema)]
pub struct CatalogueUsed {
    /// Its name.
    pub name: String,
    /// Digest of its contents.
    pub digest: String,
}

/// A result with all that is needed to understand it, check it and compute it again.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, ToSchema)]
pub struct Answer<T> {
    /// The calculation.
    pub operation: String,
    /// Version of the engine.
    pub engine_version: String,
    /// Name of the profile of default values.
    pub defaults: String,
    /// The catalogue used; absent where none is.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub catalogue: Option<CatalogueUsed>,
    /// Units of the result.
    pub units: Profile,
    /// The request as it was understood, keys sorted, quantities in the sender's units.
    #[schema(value_type = Object)]
    pub request: serde_json::Value,
    /// SHA-256 of the request in compact form.
    pub request_digest: String,
    /// SHA-256 of the result in metric units in compact form.
    pub result_digest: String,
    /// Address that computes this again; null if it would be too long.
    pub permalink: Option<String>,
    /// Why there is no permalink.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub permalink_note: Option<String>,
    /// Values that were assumed.
    pub assumptions: Vec<Assumption>,
    /// What a reader must know.
    pub cautions: Vec<Caution>,
    /// One word over the result.
    pub verdict: Verdict,
    /// The engine's result.
    pub result: T,
}

/// What a request that was only validated is answered with: it was understood, and nothing was computed.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, ToSchema)]
pub struct Validation {
    /// The calculation that was not done.
    pub operation: String,
    /// Always true: a request with faults is a problem.
    pub valid: bool,
    /// Name of the profile of default values.
    pub defaults: String,
    /// The catalogue in which ids were looked up; absent where none is used.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub catalogue: Option<CatalogueUsed>,
    /// Units of the assumptions.
    pub units: Profile,
    /// The request as it was understood, keys sorted, quantities in the sender's units.
    #[schema(value_type = Object)]
    pub request: serde_json::Value,
    /// SHA-256 of the request in compact form: that of the answer that it would get.
    pub request_digest: String,
    /// Values that would be assumed.
    pub assumptions: Vec<Assumption>,
    /// What a reader must know, as far as the request alone tells it.
    pub cautions: Vec<Caution>,
}

impl Validation {
    /// The validation as compact JSON in its own units.
    ///
    /// # Errors
    /// A problem if it holds a number that JSON cannot.
    pub fn to_json(&self) -> Result<Vec<u8>, Problem> {
        written(self.units, self)
    }
}

/// The answer of a calculation, or with `validate_only=true` what was understood of its request.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, ToSchema)]
#[serde(untagged)]
pub enum AnswerOrValidation<T: ToSchema> {
    /// It was computed.
    Answer(Box<Answer<T>>),
    /// It was only read.
    Validation(Validation),
}

impl<T: Serialize> Answer<T> {
    /// The answer as compact JSON in its own units.
    ///
    /// # Errors
    /// A problem if the result holds a number that JSON cannot.
    pub fn to_json(&self) -> Result<Vec<u8>, Problem> {
        written(self.units, self)
    }
}

/// A value as compact JSON in the units of a profile.
///
/// # Errors
/// A problem if it holds a number that JSON cannot.
pub fn written<T: Serialize>(units: Profile, value: &T) -> Result<Vec<u8>, Problem> {
    serde_json::to_vec(&In(units, value))
        .map_err(|error| Problem::new(ProblemCode::InternalError, format!("the answer cannot be written: {error}")))
}
