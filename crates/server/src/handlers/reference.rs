//! What requests may say, and what results rest on: units, limits, checks and materials.

use axum::Json;
use axum::body::Body;
use axum::extract::State;
use axum::http::{HeaderValue, header};
use axum::response::{IntoResponse, Response};
use ramwright_api::problem::{Problem, ProblemCode};
use ramwright_api::{Limits, limits};
use ramwright_engine::check::{BasisEntry, basis};
use ramwright_engine::support::{MaterialValue, materials};
use ramwright_report::Tables;
use ramwright_units::{In, Profile, UNITS, Unit};
use serde::Serialize;
use utoipa::ToSchema;

use super::problems::ListProblems;
use crate::format::{Format, FormatParameter, Wanted};
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

/// Every check.
#[derive(Debug, Serialize, ToSchema)]
pub(crate) struct BasisList {
    /// One entry for each check.
    checks: Vec<BasisEntry>,
}

/// Every value of a material.
#[derive(Debug, Serialize, ToSchema)]
pub(crate) struct MaterialList {
    /// One entry for each value, in metric units.
    materials: Vec<MaterialValue>,
}

/// Lists every check: its formula, its source and how sure that is, where it holds, and the value it is tested with.
#[utoipa::path(
    get, path = "/v1/basis", tag = "Reference", params(FormatParameter),
    responses((status = 200, description = "The checks.", content((BasisList = "application/json"), (String = "text/csv"))), ListProblems),
)]
pub(crate) async fn list_basis(wanted: Wanted) -> Result<Response, Failure> {
    let format = wanted.choose(&[Format::Json, Format::Csv])?;
    let checks = basis();
    written(format, &checks, &BasisList { checks: checks.clone() })
}

/// Lists every value of a material that the checks use, with its source and how sure that is.
#[utoipa::path(
    get, path = "/v1/materials", tag = "Reference", params(FormatParameter),
    responses((status = 200, description = "The values.", content((MaterialList = "application/json"), (String = "text/csv"))), ListProblems),
)]
pub(crate) async fn list_materials(wanted: Wanted) -> Result<Response, Failure> {
    let format = wanted.choose(&[Format::Json, Format::Csv])?;
    let materials = materials();
    written(format, &materials, &MaterialList { materials: materials.clone() })
}

fn written<T: Serialize>(format: Format, table: &impl Tables, list: &T) -> Result<Response, Failure> {
    let bytes = match format {
        Format::Csv => table.csv(Profile::Metric).into_bytes(),
        _ => serde_json::to_vec(&In(Profile::Metric, list))
            .map_err(|_| Problem::new(ProblemCode::InternalError, "The list cannot be written."))?,
    };
    Ok(([(header::CONTENT_TYPE, HeaderValue::from_static(format.content_type()))], Body::from(bytes)).into_response())
}
