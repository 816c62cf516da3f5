//! Replays: a saved answer computed again and compared.

use axum::Json;
use axum::extract::State;
use axum::http::{HeaderValue, header};
use axum::response::{IntoResponse, Response};
use ramwright_api::replay::{Replay, SavedAnswer, replay};

use super::problems::CalculationProblems;
use crate::body::AnswerBody;
use crate::format::{Format, Wanted};
use crate::problem::Failure;
use crate::state::AppState;

/// Computes a saved answer again and compares.
///
/// The saved JSON answer of any calculation, or of the quick form, is computed again from its `request` and compared with what
/// was saved, output with output: `same`, or each place that differs with both values and what may explain it. A request that is
/// refused now is the outcome `refused` with its problem inside; only a body that is no saved answer is a problem.
#[utoipa::path(
    post, path = "/v1/replays", tag = "Replays", request_body = SavedAnswer,
    responses((status = 200, description = "What came of it.", body = Replay), CalculationProblems),
)]
pub(crate) async fn replay_answer(
    State(state): State<AppState>,
    wanted: Wanted,
    AnswerBody(body): AnswerBody,
) -> Result<Response, Failure> {
    wanted.choose(&[Format::Json])?;
    let catalogues = state.catalogues();
    let most_request_bytes = state.config().body_limit_bytes;
    let replayed = state.pool().calculate(move |stop| replay(&body, &catalogues, most_request_bytes, stop)).await?;
    Ok(([(header::CACHE_CONTROL, HeaderValue::from_static("no-store"))], Json(replayed)).into_response())
}
