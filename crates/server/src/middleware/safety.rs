//! Headers that tell a browser what an answer may do: nothing but what a page has asked for itself, and in no frame
//! of a stranger.

use std::sync::Arc;

use axum::extract::{Request, State};
use axum::http::{HeaderValue, Method, StatusCode, header};
use axum::middleware::Next;
use axum::response::Response;

use crate::config::{Origin, Origins};

/// For answers that say nothing themselves: they ask for nothing.
const CLOSED: &str = "default-src 'none'";

/// Who may show the service in a frame.
#[derive(Clone, Debug)]
pub(crate) struct Frames(Option<Arc<str>>);

impl Frames {
    /// Nobody, unless these are named.
    pub(crate) fn of(ancestors: &Origins) -> Self {
        let words: Vec<String> = ancestors.0.iter().map(Origin::to_string).collect();
        Self((!words.is_empty()).then(|| words.join(" ").into()))
    }

    /// The policy with who may frame the answer; what it says of that itself is replaced.
    fn policy(&self, own: &str) -> String {
        let ancestors = self.0.as_deref().unwrap_or("'none'");
        let kept =
            own.split(';').map(str::trim).filter(|part| !part.is_empty() && !part.starts_with("frame-ancestors"));
        let parts: Vec<&str> = kept.collect();
        format!("{}; frame-ancestors {ancestors}", parts.join("; "))
    }
}

/// Sets the headers of every answer.
pub(crate) async fn guard(State(frames): State<Frames>, request: Request, next: Next) -> Response {
    let head = request.method() == Method::HEAD;
    let mut response = next.run(request).await;
    let known = response.status() == StatusCode::NOT_MODIFIED;
    let headers = response.headers_mut();
    headers.insert(header::X_CONTENT_TYPE_OPTIONS, HeaderValue::from_static("nosniff"));
    headers.insert(header::REFERRER_POLICY, HeaderValue::from_static("no-referrer"));
    match frames.0 {
        None => headers.insert(header::X_FRAME_OPTIONS, HeaderValue::from_static("DENY")),
        // It cannot name an origin; the policy does.
        Some(_) => headers.remove(header::X_FRAME_OPTIONS),
    };
    let own = headers.get(header::CONTENT_SECURITY_POLICY).and_then(|value| value.to_str().ok());
    // An answer without its body may be laid over one that the browser has kept, whose policy must stay.
    if own.is_some() || !(known || head) {
        let policy = frames.policy(own.unwrap_or(CLOSED));
        if let Ok(value) = HeaderValue::from_str(&policy) {
            headers.insert(header::CONTENT_SECURITY_POLICY, value);
        }
    }
    response
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn verify_nobody_frames_an_answer_unless_named() {
        let nobody = Frames::of(&Origins::default());
        assert_eq!(nobody.policy(CLOSED), "default-src 'none'; frame-ancestors 'none'");
        let origin = Origin::Exactly(HeaderValue::from_static("https://portal.example"));
        let portal = Frames::of(&Origins(vec![origin]));
        let own = "default-src 'none'; frame-ancestors 'none'; img-src 'self'";
        assert_eq!(portal.policy(own), "default-src 'none'; img-src 'self'; frame-ancestors https://portal.example");
    }
}
