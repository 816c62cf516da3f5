//! Problems: every answer that is not a result, as RFC 9457 describes it.
//!
//! A [`Problem`] knows its code and its occurrence; `type` and `title` follow from the code when it is written.
//! All faults of a request travel in one problem, in the order of the document.

mod code;
mod fault;

pub use code::{Help, ProblemCode};
pub use fault::{Fault, FaultCode};

use crate::read::MOST_FAULTS;
use serde::{Deserialize, Serialize};
use utoipa::ToSchema;

/// The media type of every problem.
pub const MEDIA_TYPE: &str = "application/problem+json";

/// The way in which a load without equilibrium moves: a unit vector in plan, in the axes of the request.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize, ToSchema)]
pub struct Direction {
    /// Share along x; from -1 to 1, no unit.
    pub x: f64,
    /// Share along y; from -1 to 1, no unit.
    pub y: f64,
}

/// An answer that is not a result.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, thiserror::Error)]
#[serde(into = "ProblemDocument", from = "ProblemDocument")]
#[error("{}: {detail}", code.title())]
pub struct Problem {
    /// What kind of problem it is.
    pub code: ProblemCode,
    /// The HTTP status of the answer.
    pub status: u16,
    /// What is wrong in this case, in words.
    pub detail: String,
    /// Which request it was; the server fills it in.
    pub instance: Option<String>,
    /// Which way the load goes, where it has no equilibrium.
    pub direction: Option<Direction>,
    /// Every fault of the request, in document order.
    pub errors: Vec<Fault>,
}

impl Problem {
    /// A problem of this kind, with the status that belongs to it.
    pub fn new(code: ProblemCode, detail: impl Into<String>) -> Self {
        Self { code, status: code.status(), detail: detail.into(), instance: None, direction: None, errors: Vec::new() }
    }

    /// The problem of a request with these faults: 400 if any of them is structural, otherwise 422.
    pub fn invalid_request(faults: Vec<Fault>) -> Self {
        let status = if faults.iter().any(|fault| fault.code.is_structural()) { 400 } else { 422 };
        let detail = match faults.as_slice() {
            [only] => only.detail.clone(),
            all if MOST_FAULTS < all.len() => {
                format!(
                    "The request has more than {MOST_FAULTS} faults; errors lists so many, and how many more there are."
                )
            }
            all => format!("The request has {} faults; each is listed in errors.", all.len()),
        };
        Self { status, errors: faults, ..Self::new(ProblemCode::InvalidRequest, detail) }
    }

    /// The problem of a load that cannot stand on its points, and which way it goes if that is known.
    pub fn no_equilibrium(detail: impl Into<String>, direction: Option<Direction>) -> Self {
        Self { direction, ..Self::new(ProblemCode::NoEquilibrium, detail) }
    }

    /// Names the request that met the problem.
    #[must_use]
    pub fn with_instance(mut self, instance: impl Into<String>) -> Self {
        self.instance = Some(instance.into());
        self
    }
}

/// A problem as it is written (RFC 9457).
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, ToSchema)]
#[schema(as = Problem)]
pub struct ProblemDocument {
    /// Identity of the problem, and the address of its help page: `/problems/` and the code.
    #[serde(rename = "type")]
    pub type_uri: String,
    /// The same text for every occurrence of the code.
    pub title: String,
    /// The HTTP status of the answer.
    #[schema(minimum = 400, maximum = 599)]
    pub status: u16,
    /// What kind of problem it is; also in the header `Problem-Code`.
    pub code: ProblemCode,
    /// What is wrong in this case, in words.
    pub detail: String,
    /// Which request it was: `urn:request:` and the request id.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub instance: Option<String>,
    /// Which way the load goes, where it has no equilibrium.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub direction: Option<Direction>,
    /// Every fault of the request, in document order.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub errors: Vec<Fault>,
}

impl From<Problem> for ProblemDocument {
    fn from(problem: Problem) -> Self {
        Self {
            type_uri: problem.code.type_uri(),
            title: problem.code.title().to_owned(),
            status: problem.status,
            code: problem.code,
            detail: problem.detail,
            instance: problem.instance,
            direction: problem.direction,
            errors: problem.errors,
        }
    }
}

impl From<ProblemDocument> for Problem {
    fn from(document: ProblemDocument) -> Self {
        Self {
            code: document.code,
            status: document.status,
            detail: document.detail,
            instance: document.instance,
            direction: document.direction,
            errors: document.errors,
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn status_of(codes: &[FaultCode]) -> u16 {
        let faults = codes.iter().map(|code| Fault::at("/a", *code, "x")).collect();
        Problem::invalid_request(faults).status
    }

    #[test]
    fn verify_one_structural_fault_makes_the_whole_answer_400() {
        assert_eq!(status_of(&[FaultCode::OutOfRange, FaultCode::UnknownId]), 422);
        assert_eq!(status_of(&[FaultCode::OutOfRange, FaultCode::BareNumber]), 400);
    }

    #[test]
    fn verify_the_document_has_the_members_of_rfc_9457_and_comes_back() {
        let problem = Problem::invalid_request(vec![Fault::at("/weight", FaultCode::BareNumber, "a unit is missing")])
            .with_instance("urn:request:abc");
        let written = serde_json::to_value(&problem).unwrap();
        let expected = serde_json::json!({
            "type": "/problems/invalid_request",
            "title": "The request has faults",
            "status": 400,
            "code": "invalid_request",
            "detail": "a unit is missing",
            "instance": "urn:request:abc",
            "errors": [{"pointer": "#/weight", "code": "bare_number", "detail": "a unit is missing"}]
        });
        assert_eq!(written, expected);
        assert_eq!(serde_json::from_value::<Problem>(written).unwrap(), problem);
    }

    #[test]
    fn verify_a_problem_is_small_enough_to_return_by_value() {
        assert!(size_of::<Problem>() <= 128, "{}", size_of::<Problem>());
    }
}
