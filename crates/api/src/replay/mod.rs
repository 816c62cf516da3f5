//! A saved answer computed again from its request, and compared with what was saved: output with output.
//!
//! What was sent is the saved answer, and its faults are problems. The request inside is what is computed again: if it is
//! refused now, that is an outcome of the replay and no problem of it.

mod compare;
mod digests;
mod literal;
mod recompute;
mod saved;
#[cfg(test)]
mod tests;
mod why;

pub use compare::{Difference, MOST_DIFFERENCES};
pub use digests::{DigestCheck, DigestStatus};
pub use saved::{LONGEST_SAVED_TEXT, SavedAnswer};
pub use why::{Reason, ReasonCode};

use crate::answer::CatalogueUsed;
use crate::catalogue::Catalogues;
use crate::json::Node;
use crate::problem::{Problem, ProblemCode, ProblemDocument};
use digests::Evidence;
use recompute::Recomputed;
use saved::Saved;
use serde::{Deserialize, Serialize};
use serde_json::Value;
use std::sync::atomic::AtomicBool;
use utoipa::ToSchema;

/// An answer is longer than its request: so many times the greatest request may a saved answer have.
pub const ANSWER_TO_REQUEST: usize = 4;

/// What came of a replay.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize, ToSchema)]
#[serde(rename_all = "snake_case")]
#[schema(as = ReplayOutcome)]
pub enum Outcome {
    /// What is computed now is what was saved, to the last digit.
    Same,
    /// It is not; `differences` says where.
    Differs,
    /// The request of the saved answer is refused now, so that nothing could be compared; `problem` says why.
    Refused,
}

/// By what an answer tells which calculation it is.
#[derive(Clone, Debug, Default, PartialEq, Eq, Serialize, Deserialize, ToSchema)]
#[schema(as = ReplayStamp)]
pub struct Stamp {
    /// Version of the engine.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub engine_version: Option<String>,
    /// Name of the profile of default values.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub defaults: Option<String>,
    /// The catalogue used; absent where none is.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub catalogue: Option<CatalogueUsed>,
    /// Units of the result.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub units: Option<String>,
    /// Digest of the request.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub request_digest: Option<String>,
    /// Digest of the result in metric units.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub result_digest: Option<String>,
}

/// A saved answer held against what its request gives now.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, ToSchema)]
pub struct Replay {
    /// Whether all of it is the same.
    pub outcome: Outcome,
    /// The calculation.
    pub operation: String,
    /// Whether nothing differs under `result` and `verdict`, whatever else does; absent if the request is refused now.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub result_same: Option<bool>,
    /// What the saved answer says of itself; a field that it does not have is absent.
    pub saved: Stamp,
    /// What the answer computed now says of itself; absent if the request is refused now.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub now: Option<Stamp>,
    /// Whether the saved request is the one that the saved digest was made of.
    pub saved_request_digest: DigestCheck,
    /// Whether the saved result is the one that the saved digest was made of.
    pub saved_result_digest: DigestCheck,
    /// What may explain the differences, as far as the saved answer itself tells. More codes may appear.
    pub why: Vec<Reason>,
    /// Where the two differ, in the order of the saved answer; what only the new one has comes behind its siblings.
    #[schema(max_items = 200)]
    pub differences: Vec<Difference>,
    /// How many more differences there are.
    pub left_off: usize,
    /// Why the request is refused now; its places are those in the saved answer.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false, value_type = Option<ProblemDocument>)]
    pub problem: Option<Problem>,
}

/// The request of a saved answer as it is written.
#[derive(Deserialize)]
struct Written {
    request: Value,
}

/// Computes a saved answer again from its request and compares. A request of more than `most_request_bytes` in compact form
/// is refused, as it would be by its own address.
///
/// # Errors
/// Every fault of the saved answer outside its request; `calculation_timeout` if it was stopped.
pub fn replay(
    body: &[u8],
    catalogues: &Catalogues,
    most_request_bytes: usize,
    stop: &AtomicBool,
) -> Result<Replay, Problem> {
    let node = Node::parse(body).map_err(|error| malformed(&error))?;
    let saved = Saved::read(&node)?;
    let written: Written = serde_json::from_slice(body).map_err(|error| malformed(&error))?;
    let request_text = written.request.to_string();
    let recomputed = if most_request_bytes < request_text.len() {
        Err(too_large(request_text.len(), most_request_bytes))
    } else {
        recompute::recompute(&saved, catalogues, stop)
    };
    let evidence = Evidence { body, request_text: &request_text, saved: &saved };
    match recomputed {
        Ok(now) => compared(&node, &evidence, &now),
        Err(problem) if problem.status < 500 => refused(&evidence, catalogues, problem),
        Err(problem) => Err(problem),
    }
}

fn malformed(error: &serde_json::Error) -> Problem {
    Problem::new(ProblemCode::MalformedJson, error.to_string())
}

fn too_large(bytes: usize, most: usize) -> Problem {
    let detail = format!("The request in the saved answer has {bytes} bytes; a request may have at most {most}.");
    Problem::new(ProblemCode::PayloadTooLarge, detail)
}

fn compared(node: &Node, evidence: &Evidence<'_>, now: &Recomputed) -> Result<Replay, Problem> {
    let saved = evidence.saved;
    let found = compare::differences(node, &now.node);
    let request_check = evidence.of_request(Some(&now.stamp));
    let result_check = evidence.of_result(Some(now), found.touches("result"))?;
    let why = why::of_differences(&saved.stamp, &now.stamp, &found, [&request_check, &result_check]);
    Ok(Replay {
        outcome: if found.is_empty() { Outcome::Same } else { Outcome::Differs },
        operation: saved.operation.to_owned(),
        result_same: Some(!found.touches("result") && !found.touches("verdict")),
        saved: saved.stamp.clone(),
        now: Some(now.stamp.clone()),
        saved_request_digest: request_check,
        saved_result_digest: result_check,
        why,
        left_off: found.left_off(),
        differences: found.into_listed(),
        problem: None,
    })
}

fn refused(evidence: &Evidence<'_>, catalogues: &Catalogues, problem: Problem) -> Result<Replay, Problem> {
    let saved = evidence.saved;
    let request_check = evidence.of_request(None);
    let result_check = evidence.of_result(None, true)?;
    Ok(Replay {
        outcome: Outcome::Refused,
        operation: saved.operation.to_owned(),
        result_same: None,
        saved: saved.stamp.clone(),
        now: None,
        why: why::of_refusal(saved, catalogues, [&request_check, &result_check]),
        saved_request_digest: request_check,
        saved_result_digest: result_check,
        differences: Vec::new(),
        left_off: 0,
        problem: Some(inside_request(problem)),
    })
}

/// The problem with its places as they are in the saved answer.
fn inside_request(mut problem: Problem) -> Problem {
    for fault in &mut problem.errors {
        if let Some(pointer) = &mut fault.pointer {
            *pointer = pointer.replacen('#', "#/request", 1);
        }
    }
    problem
}
