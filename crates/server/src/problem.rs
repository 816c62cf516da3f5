//! Problems on their way out: every error answer of the service becomes `application/problem+json` here.
//!
//! A handler fails with a [`Failure`]; the problem travels as an extension of the response to [`render`], which
//! knows the request's id. Whatever else answers with an error status (axum's own refusals, a caught panic) is made
//! a problem at the same place, so that no other kind of error answer exists.

use std::any::Any;

use axum::body::Body;
use axum::extract::Request;
use axum::http::{HeaderMap, HeaderValue, Method, StatusCode, header};
use axum::middleware::Next;
use axum::response::{IntoResponse, Response};
use ramwright_api::problem::{MEDIA_TYPE, Problem, ProblemCode};

use crate::cell;
use crate::format::Format;
use crate::middleware::request_id::{RequestId, jitter};

/// The response header that repeats the code of a problem.
pub(crate) const PROBLEM_CODE_HEADER: &str = "problem-code";

/// The greatest number of seconds in `Retry-After`.
const GREATEST_RETRY_AFTER_S: u64 = 5;

/// A problem as the error of a handler or extractor.
#[derive(Debug)]
pub(crate) struct Failure(pub(crate) Problem);

impl From<Problem> for Failure {
    fn from(problem: Problem) -> Self {
        Self(problem)
    }
}

impl IntoResponse for Failure {
    fn into_response(self) -> Response {
        let status = StatusCode::from_u16(self.0.status).unwrap_or(StatusCode::INTERNAL_SERVER_ERROR);
        let mut response = status.into_response();
        response.extensions_mut().insert(self.0);
        response
    }
}

/// Writes the problem of every error answer.
pub(crate) async fn render(request: Request, next: Next) -> Response {
    let id = RequestId::of(&request);
    let in_cell = cell::is_wanted(request.method(), request.uri());
    let mut response = next.run(request).await;
    let status = response.status();
    if !status.is_client_error() && !status.is_server_error() {
        return response;
    }
    let problem = response.extensions_mut().remove::<Problem>().unwrap_or_else(|| foreign(status));
    let code = problem.code;
    let (mut parts, _) = response.into_parts();
    if in_cell && status.is_client_error() {
        set_headers(&mut parts.headers, code);
        parts.headers.insert(header::CONTENT_TYPE, HeaderValue::from_static(Format::Text.content_type()));
        parts.status = StatusCode::OK;
        return Response::from_parts(parts, Body::from(cell::text(&problem)));
    }
    let body = serde_json::to_vec(&problem.with_instance(id.urn())).unwrap_or_default();
    set_headers(&mut parts.headers, code);
    Response::from_parts(parts, Body::from(body))
}

fn set_headers(headers: &mut HeaderMap, code: ProblemCode) {
    headers.remove(header::CONTENT_LENGTH);
    headers.remove(header::ETAG);
    headers.insert(header::CONTENT_TYPE, HeaderValue::from_static(MEDIA_TYPE));
    headers.insert(header::CACHE_CONTROL, HeaderValue::from_static("no-store"));
    headers.insert(PROBLEM_CODE_HEADER, HeaderValue::from_static(code.as_str()));
    if matches!(code, ProblemCode::Overloaded | ProblemCode::ServiceUnavailable) {
        // Spread out, so that clients refused together do not come back together.
        headers.insert(header::RETRY_AFTER, HeaderValue::from(1 + jitter() % GREATEST_RETRY_AFTER_S));
    }
}

/// The problem of an error answer that is not from our own code.
fn foreign(status: StatusCode) -> Problem {
    let code = match status {
        StatusCode::UNAUTHORIZED => ProblemCode::Unauthorized,
        StatusCode::NOT_FOUND => ProblemCode::NotFound,
        StatusCode::METHOD_NOT_ALLOWED => ProblemCode::MethodNotAllowed,
        StatusCode::NOT_ACCEPTABLE => ProblemCode::NotAcceptable,
        StatusCode::REQUEST_TIMEOUT => ProblemCode::RequestTimeout,
        StatusCode::PAYLOAD_TOO_LARGE => ProblemCode::PayloadTooLarge,
        StatusCode::UNSUPPORTED_MEDIA_TYPE => ProblemCode::UnsupportedMediaType,
        StatusCode::TOO_MANY_REQUESTS => ProblemCode::RateLimited,
        status if status.is_client_error() => ProblemCode::InvalidRequest,
        _ => ProblemCode::InternalError,
    };
    let detail = match code {
        ProblemCode::InvalidRequest => "The request could not be read.",
        other => other.help().meaning,
    };
    Problem { status: status.as_u16(), ..Problem::new(code, detail) }
}

/// Answers an address that does not exist.
pub(crate) async fn not_found() -> Failure {
    Failure(Problem::new(ProblemCode::NotFound, "The service has nothing at this address."))
}

/// Answers a method that an address does not take; axum adds `Allow`. `OPTIONS` asks for just that.
pub(crate) async fn method_not_allowed(method: Method) -> Response {
    if method == Method::OPTIONS {
        return StatusCode::NO_CONTENT.into_response();
    }
    let detail = "The address exists, but does not take this method.";
    Failure(Problem::new(ProblemCode::MethodNotAllowed, detail)).into_response()
}

/// Answers where a handler panicked. The panic's message may hold what the client sent, and is not repeated.
pub(crate) fn panicked(_: Box<dyn Any + Send>) -> Response {
    tracing::error!("a handler panicked");
    Failure(Problem::new(ProblemCode::InternalError, "A fault of the service itself.")).into_response()
}

#[cfg(test)]
mod tests {
    use super::*;
    use axum::Router;
    use axum::routing::get;
    use tower::ServiceExt;

    async fn answer(path: &str) -> (StatusCode, HeaderMap, serde_json::Value) {
        let app: Router = Router::new()
            .route("/ours", get(|| async { Failure(Problem::new(ProblemCode::Overloaded, "busy")) }))
            .route("/foreign", get(|| async { (StatusCode::BAD_REQUEST, "text of some library") }))
            .route("/good", get(|| async { "\"good\"" }))
            .fallback(not_found)
            .method_not_allowed_fallback(method_not_allowed)
            .layer(axum::middleware::from_fn(render));
        let request = Request::get(path).body(Body::empty()).unwrap();
        let response = app.oneshot(request).await.unwrap();
        let (parts, body) = response.into_parts();
        let bytes = axum::body::to_bytes(body, usize::MAX).await.unwrap();
        (parts.status, parts.headers, serde_json::from_slice(&bytes).unwrap())
    }

    #[tokio::test]
    async fn verify_our_own_problem_is_written_with_its_headers() {
        let (status, headers, body) = answer("/ours").await;
        assert_eq!(status, 503);
        assert_eq!(headers[header::CONTENT_TYPE], MEDIA_TYPE);
        assert_eq!(headers[PROBLEM_CODE_HEADER], "overloaded");
        let retry_after: u64 = headers[header::RETRY_AFTER].to_str().unwrap().parse().unwrap();
        assert!((1..=GREATEST_RETRY_AFTER_S).contains(&retry_after));
        assert_eq!(body["type"], "/problems/overloaded");
        assert!(body["instance"].as_str().unwrap().starts_with("urn:request:"));
    }

    #[tokio::test]
    async fn verify_a_foreign_error_becomes_a_problem_without_its_text() {
        let (status, headers, body) = answer("/foreign").await;
        assert_eq!(status, 400);
        assert_eq!(headers[header::CONTENT_TYPE], MEDIA_TYPE);
        assert_eq!(body["code"], "invalid_request");
        assert_eq!(body["status"], 400);
        assert!(!body.to_string().contains("library"));
    }

    #[tokio::test]
    async fn verify_an_unknown_address_is_a_problem_and_a_good_answer_is_left_alone() {
        let (status, headers, _) = answer("/nothing").await;
        assert_eq!(
            (status, &headers[PROBLEM_CODE_HEADER]),
            (StatusCode::NOT_FOUND, &HeaderValue::from_static("not_found"))
        );
        let (status, headers, body) = answer("/good").await;
        assert_eq!((status, body), (StatusCode::OK, "good".into()));
        assert!(!headers.contains_key(PROBLEM_CODE_HEADER));
    }
}
