//! The id of a request: the client's own if it is fit, otherwise a new one; echoed in the answer.

use std::hash::{BuildHasher, Hasher, RandomState};

use axum::extract::Request;
use axum::http::{HeaderName, HeaderValue};
use axum::middleware::Next;
use axum::response::Response;

/// The header that carries the id, both ways.
pub(crate) const HEADER: HeaderName = HeaderName::from_static("x-request-id");

const GREATEST_LENGTH: usize = 64;

/// The id of a request.
#[derive(Clone, Debug, Eq, PartialEq)]
pub(crate) struct RequestId(String);

impl RequestId {
    /// The id that [`identify`] gave the request.
    pub(crate) fn of(request: &Request) -> Self {
        request.extensions().get::<Self>().cloned().unwrap_or_else(Self::new)
    }

    /// The id as text.
    pub(crate) fn as_str(&self) -> &str {
        &self.0
    }

    /// The id as the `instance` of a problem.
    pub(crate) fn urn(&self) -> String {
        format!("urn:request:{}", self.0)
    }

    fn new() -> Self {
        Self(format!("{:016x}{:016x}", jitter(), jitter()))
    }

    fn from_client(value: &HeaderValue) -> Option<Self> {
        let text = value.to_str().ok()?;
        let fit = text.bytes().all(|byte| byte.is_ascii_alphanumeric() || b"._-".contains(&byte));
        (fit && (1..=GREATEST_LENGTH).contains(&text.len())).then(|| Self(text.to_owned()))
    }
}

/// A number that differs from call to call and from process to process; not fit for secrets.
pub(crate) fn jitter() -> u64 {
    RandomState::new().build_hasher().finish()
}

/// Gives every request its id and every answer the same.
pub(crate) async fn identify(mut request: Request, next: Next) -> Response {
    let id = request.headers().get(HEADER).and_then(RequestId::from_client).unwrap_or_else(RequestId::new);
    request.extensions_mut().insert(id.clone());
    let mut response = next.run(request).await;
    if let Ok(value) = HeaderValue::from_str(id.as_str()) {
        response.headers_mut().insert(HEADER, value);
    }
    response
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn verify_only_a_fit_id_is_taken_over() {
        let taken = |text: &str| RequestId::from_client(&HeaderValue::from_str(text).unwrap()).map(|id| id.0);
        assert_eq!(taken("a-B_9.z"), Some("a-B_9.z".to_owned()));
        assert_eq!(taken(&"x".repeat(64)), Some("x".repeat(64)));
        for bad in ["", "a b", "a/b", "a\"b"] {
            assert_eq!(taken(bad), None, "{bad}");
        }
        assert_eq!(taken(&"x".repeat(65)), None);
    }

    #[test]
    fn verify_new_ids_differ_and_are_fit() {
        let (first, second) = (RequestId::new(), RequestId::new());
        assert_ne!(first, second);
        assert_eq!(RequestId::from_client(&HeaderValue::from_str(&first.0).unwrap()), Some(first));
    }
}
