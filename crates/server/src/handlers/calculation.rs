//! What every calculation shares: read the request, calculate on the pool, write the format, set the headers.

use std::convert::Infallible;
use std::pin::Pin;
use std::sync::atomic::AtomicBool;
use std::task::{Context, Poll};

use axum::body::{Body, Bytes, HttpBody};
use axum::http::{HeaderMap, HeaderValue, Method, StatusCode, header};
use axum::response::{IntoResponse, Response};
use hyper::body::Frame;
use ramwright_api::problem::Problem;
use ramwright_api::{Operation, Prepared};
use ramwright_report::Tables;
use sha2::{Digest, Sha256};

use crate::audit;
use crate::body::JsonBody;
use crate::format::{Format, Wanted};
use crate::problem::Failure;
use crate::state::{AppState, Loaded};
use crate::validate_only::{ValidateOnly, validation};

/// The formats of every calculation.
const FORMATS: &[Format] = &[Format::Json, Format::Csv];

/// Answers a calculation that was sent as a body.
pub(crate) async fn answer<O>(
    state: &AppState,
    wanted: &Wanted,
    ValidateOnly(validate_only): ValidateOnly,
    body: JsonBody,
) -> Result<Response, Failure>
where
    O: Operation + 'static,
    O::Result: Tables,
{
    if validate_only {
        return validation::<O>(state, wanted, body).await;
    }
    let JsonBody(body) = body;
    let format = wanted.choose(FORMATS)?;
    let catalogues = state.catalogues();
    let calculation = move |stop: &AtomicBool| {
        let prepared = Prepared::<O>::from_json(&body, &catalogues)?;
        written(&prepared, format, stop)
    };
    let bytes = state.pool().calculate(calculation).await?;
    let mut response = respond(format, Body::from(bytes), None);
    response.headers_mut().insert(header::CACHE_CONTROL, HeaderValue::from_static("no-store"));
    Ok(response)
}

/// Answers a calculation that was asked for by its permalink.
pub(crate) async fn again<O>(
    state: &AppState,
    method: &Method,
    headers: &HeaderMap,
    permalink: String,
    wanted: &Wanted,
) -> Result<Response, Failure>
where
    O: Operation + 'static,
    O::Result: Tables,
{
    let format = wanted.choose(FORMATS)?;
    let Loaded { catalogues, digest } = state.loaded();
    let known = Kept { method, headers, format, tag: entity_tag(O::PATH, &permalink, &digest, format) };
    let read = move || Prepared::<O>::from_permalink(&permalink, &catalogues);
    kept(state, &known, read, move |prepared, stop| written(prepared, format, stop).map(Output::from)).await
}

/// A calculation that is asked for by its address alone, so that the client may keep its answer.
pub(super) struct Kept<'a> {
    pub(super) method: &'a Method,
    pub(super) headers: &'a HeaderMap,
    pub(super) format: Format,
    /// What [`entity_tag`] makes of the address.
    pub(super) tag: String,
}

/// An answer as it goes out.
pub(super) struct Output {
    pub(super) bytes: Vec<u8>,
    /// What a browser may do with it.
    pub(super) policy: Option<String>,
}

impl From<Vec<u8>> for Output {
    fn from(bytes: Vec<u8>) -> Self {
        Self { bytes, policy: None }
    }
}

/// Answers what the client does not have already; for `HEAD` the request is read and nothing is computed.
pub(super) async fn kept<O, R, W>(state: &AppState, known: &Kept<'_>, read: R, write: W) -> Result<Response, Failure>
where
    O: Operation + 'static,
    R: FnOnce() -> Result<Prepared<O>, Problem> + Send + 'static,
    W: FnOnce(&Prepared<O>, &AtomicBool) -> Result<Output, Problem> + Send + 'static,
{
    if is_known(known.headers, &known.tag) {
        return Ok(cacheable(StatusCode::NOT_MODIFIED.into_response(), &known.tag));
    }
    let (body, policy) = if known.method == Method::HEAD {
        state.pool().calculate(move |_| read().map(|_| ())).await?;
        (Body::new(Unmeasured), None)
    } else {
        let output = state.pool().calculate(move |stop| write(&read()?, stop)).await?;
        (Body::from(output.bytes), output.policy)
    };
    Ok(cacheable(respond(known.format, body, policy.as_deref()), &known.tag))
}

pub(super) fn written<O>(prepared: &Prepared<O>, format: Format, stop: &AtomicBool) -> Result<Vec<u8>, Problem>
where
    O: Operation,
    O::Result: Tables,
{
    let answer = audit::computed(prepared, stop)?;
    match format {
        Format::Csv => Ok(answer.result.csv(answer.units).into_bytes()),
        _ => answer.to_json(),
    }
}

pub(crate) fn respond(format: Format, body: Body, policy: Option<&str>) -> Response {
    let mut response = Response::new(body);
    response.headers_mut().insert(header::CONTENT_TYPE, HeaderValue::from_static(format.content_type()));
    response.headers_mut().insert(header::VARY, HeaderValue::from_static("accept"));
    if let Some(policy) = policy.and_then(|policy| HeaderValue::from_str(policy).ok()) {
        response.headers_mut().insert(header::CONTENT_SECURITY_POLICY, policy);
    }
    response
}

fn cacheable(mut response: Response, tag: &str) -> Response {
    response.headers_mut().insert(header::CACHE_CONTROL, HeaderValue::from_static("private, no-cache"));
    if let Ok(value) = HeaderValue::from_str(tag) {
        response.headers_mut().insert(header::ETAG, value);
    }
    response
}

/// The answer is a function of these, so they identify it before it is computed.
/// Weak, since the same answer goes out compressed in more than one way.
pub(super) fn entity_tag(operation: &str, request: &str, catalogues: &str, format: Format) -> String {
    let mut digest = Sha256::new();
    for part in [env!("CARGO_PKG_VERSION"), catalogues, operation, format.name(), request] {
        digest.update(part.as_bytes());
        digest.update([0]);
    }
    format!("W/\"{}\"", crate::hex(&digest.finalize()))
}

/// Whether the client has this answer already (RFC 9110, 13.1.2; weak comparison).
fn is_known(headers: &HeaderMap, tag: &str) -> bool {
    let opaque = |tag: &str| tag.trim().trim_start_matches("W/").to_owned();
    let values = headers.get_all(header::IF_NONE_MATCH).iter().filter_map(|value| value.to_str().ok());
    values.flat_map(|value| value.split(',')).any(|known| opaque(known) == opaque(tag))
}

/// The body of an answer to `HEAD`: nothing, and it does not say how much the answer to `GET` would be.
struct Unmeasured;

impl HttpBody for Unmeasured {
    type Data = Bytes;
    type Error = Infallible;

    fn poll_frame(self: Pin<&mut Self>, _: &mut Context<'_>) -> Poll<Option<Result<Frame<Bytes>, Infallible>>> {
        Poll::Ready(None)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn verify_the_tag_tells_all_apart_that_changes_the_answer() {
        let tag = entity_tag("/a", "p", "c", Format::Json);
        assert_eq!(tag, entity_tag("/a", "p", "c", Format::Json));
        for other in [
            entity_tag("/b", "p", "c", Format::Json),
            entity_tag("/a", "q", "c", Format::Json),
            entity_tag("/a", "p", "d", Format::Json),
            entity_tag("/a", "p", "c", Format::Csv),
        ] {
            assert_ne!(tag, other);
        }
    }

    #[test]
    fn verify_a_known_tag_is_found_in_a_list() {
        let headers =
            |value: &'static str| HeaderMap::from_iter([(header::IF_NONE_MATCH, HeaderValue::from_static(value))]);
        assert!(is_known(&headers("\"a\", W/\"b\""), "W/\"b\""));
        assert!(is_known(&headers("\"b\""), "W/\"b\""));
        assert!(!is_known(&headers("\"a\""), "W/\"b\""));
        assert!(!is_known(&HeaderMap::new(), "W/\"b\""));
    }
}
