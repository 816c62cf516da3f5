//! Bodies of requests: of the right type, not too large, not too slow.

use std::future::poll_fn;
use std::pin::Pin;
use std::time::Duration;

use axum::body::{Body, HttpBody};
use axum::extract::{FromRequest, Request};
use axum::http::{HeaderMap, header};
use ramwright_api::problem::{Problem, ProblemCode};
use ramwright_api::replay::ANSWER_TO_REQUEST;

use crate::problem::Failure;
use crate::state::AppState;

/// The body of a request that says it is JSON; not yet read as such.
#[derive(Debug)]
pub(crate) struct JsonBody(pub(crate) Vec<u8>);

impl FromRequest<AppState> for JsonBody {
    type Rejection = Failure;

    async fn from_request(request: Request, state: &AppState) -> Result<Self, Failure> {
        Ok(Self(json(request, state, state.config().body_limit_bytes).await?))
    }
}

/// The body of a request that is a saved answer, which may be larger than a request.
#[derive(Debug)]
pub(crate) struct AnswerBody(pub(crate) Vec<u8>);

impl FromRequest<AppState> for AnswerBody {
    type Rejection = Failure;

    async fn from_request(request: Request, state: &AppState) -> Result<Self, Failure> {
        Ok(Self(json(request, state, greatest_answer(state.config().body_limit_bytes)).await?))
    }
}

/// The greatest size of a saved answer, in bytes.
pub(crate) fn greatest_answer(body_limit_bytes: usize) -> usize {
    body_limit_bytes.saturating_mul(ANSWER_TO_REQUEST)
}

async fn json(request: Request, state: &AppState, limit_bytes: usize) -> Result<Vec<u8>, Problem> {
    if !is_json(request.headers()) {
        let detail = "The header Content-Type must be application/json, in UTF-8 and not compressed.";
        return Err(Problem::new(ProblemCode::UnsupportedMediaType, detail));
    }
    collect(request.into_body(), limit_bytes, state.config().body_timeout_s).await
}

/// Refuses a body that is not said to be lines of JSON.
pub(crate) fn require_lines(headers: &HeaderMap) -> Result<(), Problem> {
    if is_of(headers, |essence| matches!(essence, "application/x-ndjson" | "application/ndjson" | "application/jsonl"))
    {
        return Ok(());
    }
    let detail = "The header Content-Type must be application/x-ndjson, in UTF-8 and not compressed.";
    Err(Problem::new(ProblemCode::UnsupportedMediaType, detail))
}

/// Whether the headers say that the body is JSON: `application/json` or a type that ends in `+json`.
fn is_json(headers: &HeaderMap) -> bool {
    is_of(headers, |essence| {
        essence == "application/json" || (essence.starts_with("application/") && essence.ends_with("+json"))
    })
}

/// Whether the headers say that the body is of a type, in UTF-8 and not compressed.
pub(crate) fn is_of(headers: &HeaderMap, is_wanted: impl Fn(&str) -> bool) -> bool {
    let plain = headers.get(header::CONTENT_ENCODING).is_none_or(|coding| coding.as_bytes() == b"identity");
    let Some(content_type) = headers.get(header::CONTENT_TYPE).and_then(|value| value.to_str().ok()) else {
        return false;
    };
    let lower = content_type.to_ascii_lowercase();
    let mut parts = lower.split(';').map(str::trim);
    let essence = parts.next().unwrap_or_default();
    let utf_8 = parts
        .filter_map(|parameter| parameter.strip_prefix("charset="))
        .all(|charset| matches!(charset.trim_matches('"'), "utf-8" | "utf8"));
    plain && is_wanted(essence) && utf_8
}

pub(crate) async fn collect(body: Body, limit_bytes: usize, timeout: Duration) -> Result<Vec<u8>, Problem> {
    tokio::time::timeout(timeout, collect_within(body, limit_bytes)).await.unwrap_or_else(|_| {
        let detail = format!("The body had not wholly come after {} s.", timeout.as_secs_f64());
        Err(Problem::new(ProblemCode::RequestTimeout, detail))
    })
}

/// Collects the body, whether its length was announced or it comes in chunks.
async fn collect_within(mut body: Body, limit_bytes: usize) -> Result<Vec<u8>, Problem> {
    let announced = body.size_hint().lower();
    if usize::try_from(announced).map_or(true, |announced| limit_bytes < announced) {
        return Err(too_large(limit_bytes));
    }
    let mut collected = Vec::new();
    while let Some(frame) = poll_fn(|context| Pin::new(&mut body).poll_frame(context)).await {
        let frame = frame.map_err(|_| broken_off())?;
        let Ok(data) = frame.into_data() else { continue };
        if limit_bytes - collected.len() < data.len() {
            return Err(too_large(limit_bytes));
        }
        collected.extend_from_slice(&data);
    }
    Ok(collected)
}

fn too_large(limit_bytes: usize) -> Problem {
    Problem::new(ProblemCode::PayloadTooLarge, format!("The body may have at most {limit_bytes} bytes."))
}

fn broken_off() -> Problem {
    Problem::new(ProblemCode::MalformedJson, "The body broke off before its end.")
}

#[cfg(test)]
mod tests {
    use super::*;
    use axum::http::HeaderValue;

    fn accepted(content_type: &'static str) -> bool {
        is_json(&HeaderMap::from_iter([(header::CONTENT_TYPE, HeaderValue::from_static(content_type))]))
    }

    #[test]
    fn verify_json_types_are_accepted_and_others_not() {
        for good in [
            "application/json",
            "Application/JSON; charset=UTF-8",
            "application/json; charset=\"utf-8\"",
            "application/vnd.example+json",
        ] {
            assert!(accepted(good), "{good}");
        }
        for bad in ["text/plain", "application/x-www-form-urlencoded", "application/json; charset=utf-16", "", "json"] {
            assert!(!accepted(bad), "{bad}");
        }
        assert!(!is_json(&HeaderMap::new()));
    }

    #[test]
    fn verify_a_compressed_body_is_not_accepted() {
        let headers = HeaderMap::from_iter([
            (header::CONTENT_TYPE, HeaderValue::from_static("application/json")),
            (header::CONTENT_ENCODING, HeaderValue::from_static("gzip")),
        ]);
        assert!(!is_json(&headers));
    }

    #[tokio::test]
    async fn verify_the_limit_is_inclusive() {
        const LONG: Duration = Duration::from_secs(30);
        assert_eq!(collect(Body::from("12345"), 5, LONG).await.unwrap(), b"12345");
        let refused = collect(Body::from("123456"), 5, LONG).await.unwrap_err();
        assert_eq!(refused.code, ProblemCode::PayloadTooLarge);
    }
}
