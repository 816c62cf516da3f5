//! Batches: many calculations in one request, a line each.

use axum::body::Body;
use axum::extract::{Request, State};
use axum::http::{HeaderName, HeaderValue, header};
use axum::response::Response;
use ramwright_api::batch::{BatchLine, BatchReply};
use ramwright_api::problem::{Problem, ProblemCode};

use super::problems::BatchProblems;
use crate::batch;
use crate::body;
use crate::format::{Format, Wanted};
use crate::middleware::request_id::RequestId;
use crate::problem::Failure;
use crate::state::AppState;

/// A proxy that knows this header hands lines on as they come.
const UNBUFFERED: (HeaderName, HeaderValue) =
    (HeaderName::from_static("x-accel-buffering"), HeaderValue::from_static("no"));

/// Answers many calculations, a line each.
///
/// Each line of the body is a JSON object with `operation`, `request` and, if wanted, an `id`; each line of the answer has the
/// line's `index` and `id`, its `status`, and `result` or `problem`, in the order of the lines. A line that is bad or longer than
/// a body may be harms only itself. Answers go out while lines still come, and a client that takes none before it has sent
/// everything may send about as many bytes as one body may have. The last line of the answer is the `summary`: without it the answer was cut
/// short.
#[utoipa::path(
    post, path = "/v1/batches", tag = "Batches",
    request_body(content = BatchLine, content_type = "application/x-ndjson", description = "One such object on each line."),
    responses(
        (status = 200, description = "One such object on each line.", body = BatchReply, content_type = "application/x-ndjson"),
        BatchProblems,
    ),
)]
pub(crate) async fn answer_batch(
    State(state): State<AppState>,
    wanted: Wanted,
    request: Request,
) -> Result<Response, Failure> {
    wanted.choose(&[Format::Lines])?;
    body::require_lines(request.headers())?;
    let place = state.batch_place().ok_or_else(|| {
        let most = state.config().batches_max;
        Problem::new(ProblemCode::Overloaded, format!("{most} batches are open; no more are taken at once."))
    })?;
    let instance = RequestId::of(&request).urn();
    let answered: Body = batch::answered(&state, request.into_body(), instance, place);
    let mut response = Response::new(answered);
    let headers = response.headers_mut();
    headers.insert(header::CONTENT_TYPE, HeaderValue::from_static(Format::Lines.content_type()));
    headers.insert(header::CACHE_CONTROL, HeaderValue::from_static("no-store"));
    headers.insert(UNBUFFERED.0, UNBUFFERED.1);
    Ok(response)
}
