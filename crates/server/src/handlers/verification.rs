//! Known values computed on this server, for whoever has to be shown that it calculates right.

use axum::Json;
use axum::extract::State;
use axum::http::{HeaderValue, header};
use axum::response::{IntoResponse, Response};
use ramwright_engine::verification::{VerificationValue, verification_values};
use serde::Serialize;
use utoipa::ToSchema;

use super::problems::ListProblems;
use crate::format::{Format, Wanted};
use crate::problem::Failure;
use crate::state::AppState;

/// Known values beside what this server makes of them.
#[derive(Debug, Serialize, ToSchema)]
pub(crate) struct BasisVerification {
    /// Version of the engine.
    engine_version: &'static str,
    /// Whether every value holds. A server on which one does not is not ready.
    holds: bool,
    /// One entry for each value.
    values: Vec<VerificationValue>,
}

/// Computes known values on this server and compares.
///
/// Published and independently computed values, each computed anew now by the formula that the checks use, with its source,
/// difference and tolerance. The same values are the self-test at the start.
#[utoipa::path(
    get, path = "/v1/basis/verification", tag = "Reference",
    responses((status = 200, description = "The values.", body = BasisVerification), ListProblems),
)]
pub(crate) async fn verify_basis(State(state): State<AppState>, wanted: Wanted) -> Result<Response, Failure> {
    wanted.choose(&[Format::Json])?;
    let values = state.pool().calculate(|_| Ok(verification_values())).await?;
    let holds = values.iter().all(|value| value.holds);
    let verification = BasisVerification { engine_version: env!("CARGO_PKG_VERSION"), holds, values };
    Ok(([(header::CACHE_CONTROL, HeaderValue::from_static("no-store"))], Json(verification)).into_response())
}
