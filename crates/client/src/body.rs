//! What is sent.

use ramwright_api::catalogue::CatalogueFiles;
use ramwright_api::read::Read;
use ramwright_api::request::{
    AssessCircuitRequest, PlanLiftRequest, SequenceRequest, ShareLoadRequest, SizeRequest, VerifyRequest,
};
use serde_json::Value;

/// The body of a request: JSON of one's own, or one of the request types of the API.
#[derive(Clone, Debug, PartialEq)]
pub struct Body(pub(crate) Value);

impl From<Value> for Body {
    fn from(value: Value) -> Self {
        Self(value)
    }
}

impl From<&Value> for Body {
    fn from(value: &Value) -> Self {
        Self(value.clone())
    }
}

macro_rules! from_requests {
    ($($request:ty),+ $(,)?) => {
        $(impl From<&$request> for Body {
            fn from(request: &$request) -> Self {
                // An object always has a canonical form; only an absent optional has none.
                Self(request.canonical().unwrap_or_default())
            }
        })+
    };
}

from_requests!(
    AssessCircuitRequest,
    CatalogueFiles,
    PlanLiftRequest,
    SequenceRequest,
    ShareLoadRequest,
    SizeRequest,
    VerifyRequest,
);
