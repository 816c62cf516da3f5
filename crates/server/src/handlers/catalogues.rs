//! Catalogues: those the service has, and the check of one it has not.

use axum::Json;
use axum::extract::{Path, State};
use axum::http::{HeaderValue, header};
use axum::response::{IntoResponse, Response};
use ramwright_api::catalogue::{
    CatalogueAnswer, CatalogueCheck, CatalogueFiles, CatalogueList, check_catalogue as check,
};
use ramwright_api::json::Node;
use ramwright_api::problem::{Problem, ProblemCode};
use ramwright_api::read::{Faults, Pointer, Read, in_document_order};
use ramwright_units::{In, Profile};

use super::problems::{CalculationProblems, ListProblems, NamedProblems};
use crate::body::JsonBody;
use crate::format::{Format, Wanted};
use crate::problem::Failure;
use crate::state::AppState;

/// Lists the catalogues that requests can name.
#[utoipa::path(
    get, path = "/v1/catalogues", tag = "Catalogues",
    responses((status = 200, description = "The catalogues.", body = CatalogueList), ListProblems),
)]
pub(crate) async fn list_catalogues(State(state): State<AppState>, wanted: Wanted) -> Result<Response, Failure> {
    wanted.choose(&[Format::Json])?;
    Ok(Json(state.catalogues().list()).into_response())
}

/// Gives one catalogue with all its rams, pumps, hoses and packing pieces, in metric units.
#[utoipa::path(
    get, path = "/v1/catalogues/{name}", tag = "Catalogues",
    params(("name" = String, Path, description = "Name of the catalogue.")),
    responses((status = 200, description = "The catalogue.", body = CatalogueAnswer), NamedProblems),
)]
pub(crate) async fn get_catalogue(
    State(state): State<AppState>,
    Path(name): Path<String>,
    wanted: Wanted,
) -> Result<Response, Failure> {
    let format = wanted.choose(&[Format::Json])?;
    let catalogues = state.catalogues();
    let catalogue = catalogues.get(&name).ok_or_else(|| {
        let nearest = catalogues.nearest(&name).map(|name| format!(" The nearest is {name}.")).unwrap_or_default();
        Problem::new(ProblemCode::UnknownCatalogue, format!("The service has no catalogue of this name.{nearest}"))
    })?;
    let written = serde_json::to_vec(&In(Profile::Metric, &catalogue.answer()))
        .map_err(|_| Problem::new(ProblemCode::InternalError, "The catalogue cannot be written."))?;
    Ok(([(header::CONTENT_TYPE, HeaderValue::from_static(format.content_type()))], written).into_response())
}

/// Checks the files of a catalogue as the service would read them at its start.
#[utoipa::path(
    post, path = "/v1/catalogues/check", tag = "Catalogues", request_body = CatalogueFiles,
    responses((status = 200, description = "What was found.", body = CatalogueCheck), CalculationProblems),
)]
pub(crate) async fn check_catalogue(
    State(state): State<AppState>,
    wanted: Wanted,
    JsonBody(body): JsonBody,
) -> Result<Response, Failure> {
    wanted.choose(&[Format::Json])?;
    let checked = state.pool().calculate(move |_| Ok(check(&read(&body)?))).await?;
    Ok(Json(checked).into_response())
}

fn read(body: &[u8]) -> Result<CatalogueFiles, Problem> {
    let node = Node::parse(body).map_err(|error| Problem::new(ProblemCode::MalformedJson, error.to_string()))?;
    let mut faults = Faults::default();
    match CatalogueFiles::read(&node, &Pointer::default(), &mut faults) {
        Some(files) if faults.is_empty() => Ok(files),
        _ => Err(Problem::invalid_request(in_document_order(&node, faults.into_vec()))),
    }
}
