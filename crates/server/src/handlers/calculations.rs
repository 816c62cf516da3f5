//! The calculations: each sent as a body, and asked for again by its permalink.

use axum::extract::{Path, State};
use axum::http::{HeaderMap, Method};
use axum::response::Response;
use ramwright_api::operation::{AssessCircuit, PlanLift, SequencePackingLifts, ShareLoad, SizeRamSet, VerifyRamSet};
use ramwright_api::request::{
    AssessCircuitRequest, PlanLiftRequest, SequenceRequest, ShareLoadRequest, SizeRequest, VerifyRequest,
};
use ramwright_api::{Answer, AnswerOrValidation};
use ramwright_engine::circuit::CircuitAssessment;
use ramwright_engine::load::LoadShares;
use ramwright_engine::packing_lift::PackingSequence;
use ramwright_engine::plan::LiftPlan;
use ramwright_engine::size::Sizing;
use ramwright_engine::verify::Verification;

use super::calculation::{again, answer};
use super::problems::{CalculationProblems, PermalinkProblems};
use super::sheets;
use crate::body::JsonBody;
use crate::format::{FormatParameter, Wanted};
use crate::problem::Failure;
use crate::state::AppState;
use crate::validate_only::{ValidateOnly, ValidateOnlyParameter};
use crate::view::{Asked, ViewParameters};

/// Shares the load among its points.
///
/// The least, expected and greatest reaction at each point, the tipping margin, and what governs each.
#[utoipa::path(
    post, path = "/v1/load-shares", tag = "Calculations", params(FormatParameter, ValidateOnlyParameter), request_body = ShareLoadRequest,
    responses(
        (status = 200, description = "The shares.", content((AnswerOrValidation<LoadShares> = "application/json"), (String = "text/csv"))),
        CalculationProblems,
    ),
)]
pub(crate) async fn share_load(
    State(state): State<AppState>,
    wanted: Wanted,
    validate_only: ValidateOnly,
    body: JsonBody,
) -> Result<Response, Failure> {
    answer::<ShareLoad>(&state, &wanted, validate_only, body).await
}

/// Shares the load again, from a permalink.
#[utoipa::path(
    get, path = "/v1/load-shares/{permalink}", tag = "Calculations",
    params(("permalink" = String, Path, description = "The request, packed.", pattern = "^[A-Za-z0-9_-]+$"), FormatParameter),
    responses(
        (status = 200, description = "The shares.", content((Answer<LoadShares> = "application/json"), (String = "text/csv"))),
        (status = 304, description = "The client has this answer already: its entity tag was in `If-None-Match`."),
        PermalinkProblems,
    ),
)]
pub(crate) async fn get_load_shares(
    State(state): State<AppState>,
    method: Method,
    headers: HeaderMap,
    Path(permalink): Path<String>,
    wanted: Wanted,
) -> Result<Response, Failure> {
    again::<ShareLoad>(&state, &method, &headers, permalink, &wanted).await
}

/// Sizes ram sets for a load case.
///
/// Ranked ram sets out of a catalogue, each with its checks; what was refused, why, and the nearest misses.
#[utoipa::path(
    post, path = "/v1/ram-sets/size", tag = "Calculations", params(FormatParameter, ValidateOnlyParameter), request_body = SizeRequest,
    responses(
        (status = 200, description = "The ram sets.", content((AnswerOrValidation<Sizing> = "application/json"), (String = "text/csv"))),
        CalculationProblems,
    ),
)]
pub(crate) async fn size_ram_set(
    State(state): State<AppState>,
    wanted: Wanted,
    validate_only: ValidateOnly,
    body: JsonBody,
) -> Result<Response, Failure> {
    answer::<SizeRamSet>(&state, &wanted, validate_only, body).await
}

/// Sizes ram sets again, from a permalink.
#[utoipa::path(
    get, path = "/v1/ram-sets/size/{permalink}", tag = "Calculations",
    params(("permalink" = String, Path, description = "The request, packed.", pattern = "^[A-Za-z0-9_-]+$"), FormatParameter),
    responses(
        (status = 200, description = "The ram sets.", content((Answer<Sizing> = "application/json"), (String = "text/csv"))),
        (status = 304, description = "The client has this answer already: its entity tag was in `If-None-Match`."),
        PermalinkProblems,
    ),
)]
pub(crate) async fn get_ram_set_size(
    State(state): State<AppState>,
    method: Method,
    headers: HeaderMap,
    Path(permalink): Path<String>,
    wanted: Wanted,
) -> Result<Response, Failure> {
    again::<SizeRamSet>(&state, &method, &headers, permalink, &wanted).await
}

/// Verifies a proposed ram set against a load case.
///
/// Every check at every point, under every scenario, and the check that governs. A failed check is an answer, not a problem.
#[utoipa::path(
    post, path = "/v1/ram-sets/verify", tag = "Calculations", params(ViewParameters, ValidateOnlyParameter), request_body = VerifyRequest,
    responses(
        (status = 200, description = "The checks.", content((AnswerOrValidation<Verification> = "application/json"), (String = "text/csv"), (String = "text/html"), (Vec<u8> = "application/pdf"), (String = "image/svg+xml"))),
        CalculationProblems,
    ),
)]
pub(crate) async fn verify_ram_set(
    State(state): State<AppState>,
    asked: Asked,
    validate_only: ValidateOnly,
    body: JsonBody,
) -> Result<Response, Failure> {
    sheets::answer::<VerifyRamSet>(&state, &asked, validate_only, body).await
}

/// Verifies a ram set again, from a permalink.
#[utoipa::path(
    get, path = "/v1/ram-sets/verify/{permalink}", tag = "Calculations",
    params(("permalink" = String, Path, description = "The request, packed.", pattern = "^[A-Za-z0-9_-]+$"), ViewParameters),
    responses(
        (status = 200, description = "The checks.", content((Answer<Verification> = "application/json"), (String = "text/csv"), (String = "text/html"), (Vec<u8> = "application/pdf"), (String = "image/svg+xml"))),
        (status = 304, description = "The client has this answer already: its entity tag was in `If-None-Match`."),
        PermalinkProblems,
    ),
)]
pub(crate) async fn get_ram_set_verification(
    State(state): State<AppState>,
    method: Method,
    headers: HeaderMap,
    Path(permalink): Path<String>,
    asked: Asked,
) -> Result<Response, Failure> {
    sheets::again::<VerifyRamSet>(&state, &method, &headers, permalink, &asked).await
}

/// Plans the packing lifts for more travel than one stroke.
///
/// Steps with heights and pieces, the list of pieces, and whether the plan is proved the best.
#[utoipa::path(
    post, path = "/v1/packing-lifts/sequence", tag = "Calculations", params(FormatParameter, ValidateOnlyParameter), request_body = SequenceRequest,
    responses(
        (status = 200, description = "The sequence.", content((AnswerOrValidation<PackingSequence> = "application/json"), (String = "text/csv"))),
        CalculationProblems,
    ),
)]
pub(crate) async fn sequence_packing_lifts(
    State(state): State<AppState>,
    wanted: Wanted,
    validate_only: ValidateOnly,
    body: JsonBody,
) -> Result<Response, Failure> {
    answer::<SequencePackingLifts>(&state, &wanted, validate_only, body).await
}

/// Plans packing lifts again, from a permalink.
#[utoipa::path(
    get, path = "/v1/packing-lifts/sequence/{permalink}", tag = "Calculations",
    params(("permalink" = String, Path, description = "The request, packed.", pattern = "^[A-Za-z0-9_-]+$"), FormatParameter),
    responses(
        (status = 200, description = "The sequence.", content((Answer<PackingSequence> = "application/json"), (String = "text/csv"))),
        (status = 304, description = "The client has this answer already: its entity tag was in `If-None-Match`."),
        PermalinkProblems,
    ),
)]
pub(crate) async fn get_packing_lift_sequence(
    State(state): State<AppState>,
    method: Method,
    headers: HeaderMap,
    Path(permalink): Path<String>,
    wanted: Wanted,
) -> Result<Response, Failure> {
    again::<SequencePackingLifts>(&state, &method, &headers, permalink, &wanted).await
}

/// Assesses a hydraulic circuit.
///
/// Pressures, oil, times to raise and to retract, losses in hoses, and the checks of pump and reservoir.
#[utoipa::path(
    post, path = "/v1/circuits/assess", tag = "Calculations", params(FormatParameter, ValidateOnlyParameter), request_body = AssessCircuitRequest,
    responses(
        (status = 200, description = "The assessment.", content((AnswerOrValidation<CircuitAssessment> = "application/json"), (String = "text/csv"))),
        CalculationProblems,
    ),
)]
pub(crate) async fn assess_circuit(
    State(state): State<AppState>,
    wanted: Wanted,
    validate_only: ValidateOnly,
    body: JsonBody,
) -> Result<Response, Failure> {
    answer::<AssessCircuit>(&state, &wanted, validate_only, body).await
}

/// Assesses a circuit again, from a permalink.
#[utoipa::path(
    get, path = "/v1/circuits/assess/{permalink}", tag = "Calculations",
    params(("permalink" = String, Path, description = "The request, packed.", pattern = "^[A-Za-z0-9_-]+$"), FormatParameter),
    responses(
        (status = 200, description = "The assessment.", content((Answer<CircuitAssessment> = "application/json"), (String = "text/csv"))),
        (status = 304, description = "The client has this answer already: its entity tag was in `If-None-Match`."),
        PermalinkProblems,
    ),
)]
pub(crate) async fn get_circuit_assessment(
    State(state): State<AppState>,
    method: Method,
    headers: HeaderMap,
    Path(permalink): Path<String>,
    wanted: Wanted,
) -> Result<Response, Failure> {
    again::<AssessCircuit>(&state, &method, &headers, permalink, &wanted).await
}

/// Plans a whole lift in one call.
///
/// Shares, ram set, checks, packing lifts and circuit together.
#[utoipa::path(
    post, path = "/v1/lift-plans", tag = "Calculations", params(ViewParameters, ValidateOnlyParameter), request_body = PlanLiftRequest,
    responses(
        (status = 200, description = "The plan.", content((AnswerOrValidation<LiftPlan> = "application/json"), (String = "text/csv"), (String = "text/html"), (Vec<u8> = "application/pdf"), (String = "image/svg+xml"))),
        CalculationProblems,
    ),
)]
pub(crate) async fn plan_lift(
    State(state): State<AppState>,
    asked: Asked,
    validate_only: ValidateOnly,
    body: JsonBody,
) -> Result<Response, Failure> {
    sheets::answer::<PlanLift>(&state, &asked, validate_only, body).await
}

/// Plans a lift again, from a permalink.
#[utoipa::path(
    get, path = "/v1/lift-plans/{permalink}", tag = "Calculations",
    params(("permalink" = String, Path, description = "The request, packed.", pattern = "^[A-Za-z0-9_-]+$"), ViewParameters),
    responses(
        (status = 200, description = "The plan.", content((Answer<LiftPlan> = "application/json"), (String = "text/csv"), (String = "text/html"), (Vec<u8> = "application/pdf"), (String = "image/svg+xml"))),
        (status = 304, description = "The client has this answer already: its entity tag was in `If-None-Match`."),
        PermalinkProblems,
    ),
)]
pub(crate) async fn get_lift_plan(
    State(state): State<AppState>,
    method: Method,
    headers: HeaderMap,
    Path(permalink): Path<String>,
    asked: Asked,
) -> Result<Response, Failure> {
    sheets::again::<PlanLift>(&state, &method, &headers, permalink, &asked).await
}
