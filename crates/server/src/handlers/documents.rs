//! The description of the service.

use axum::extract::State;
use axum::http::{HeaderValue, header};
use axum::response::{IntoResponse, Response};

use super::problems::ListProblems;
use crate::format::{Format, Wanted};
use crate::problem::Failure;
use crate::state::AppState;

/// This description, as OpenAPI 3.1.
#[utoipa::path(
    get, path = "/openapi.json", tag = "Service",
    responses((status = 200, description = "The description.", body = serde_json::Value), ListProblems)
)]
pub(crate) async fn get_openapi(State(state): State<AppState>, wanted: Wanted) -> Result<Response, Failure> {
    respond(state.documents().v3_1.clone(), &wanted)
}

/// The same in JSON formats only, as OpenAPI 3.0.3, for client generators.
#[utoipa::path(
    get, path = "/openapi-3.0.json", tag = "Service",
    responses((status = 200, description = "The description.", body = serde_json::Value), ListProblems)
)]
pub(crate) async fn get_openapi_3_0(State(state): State<AppState>, wanted: Wanted) -> Result<Response, Failure> {
    respond(state.documents().v3_0.clone(), &wanted)
}

fn respond(document: axum::body::Bytes, wanted: &Wanted) -> Result<Response, Failure> {
    let format = wanted.choose(&[Format::Json])?;
    let content_type = HeaderValue::from_static(format.content_type());
    Ok(([(header::CONTENT_TYPE, content_type)], document).into_response())
}
