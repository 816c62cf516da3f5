//! What requests may say: units and limits.

use axum::Json;
use axum::extract::State;
use axum::response::{IntoResponse, Response};
use ramwright_api::{Limits, limits};
use ramwright_units::{UNITS, Unit};
use serde::Serialize;
use utoipa::ToSchema;

use super::problems::ListProblems;
use crate::format::{Format, Wanted};
use crate::problem::Failure;
use crate::state::AppState;

/// Every unit.
#[derive(Debug, Serialize, ToSchema)]
pub(crate) struct UnitList {
    /// One entry for each symbol.
    units: &'static [Unit],
}

/// Lists every unit: its symbol, what it measures, and its code in the Unified Code for Units of Measure.
#[utoipa::path(
    get, path = "/v1/units", tag = "Reference",
    responses((status = 200, description = "The units.", body = UnitList), ListProblems),
)]
pub(crate) async fn list_units(wanted: Wanted) -> Result<Response, Failure> {
    wanted.choose(&[Format::Json])?;
    Ok(Json(UnitList { units: UNITS }).into_response())
}

/// Lists how much a request may hold, and the bounds of every quantity and number.
#[utoipa::path(
    get, path = "/v1/limits", tag = "Reference",
    responses((status = 200, description = "The limits.", body = Limits), ListProblems),
)]
pub(crate) async fn list_limits(State(state): State<AppState>, wanted: Wanted) -> Result<Response, Failure> {
    wanted.choose(&[Format::Json])?;
    // A limit above the type's greatest value is none that a body can reach.
    let body_bytes = u64::try_from(state.config().body_limit_bytes).unwrap_or(u64::MAX);
    Ok(Json(limits(body_bytes)).into_response())
}
