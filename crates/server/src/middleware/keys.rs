//! Who may ask: where keys are configured, all but what is open to everybody needs one.

use std::sync::Arc;
use std::time::Instant;

use axum::extract::{Request, State};
use axum::http::{HeaderValue, Method, header};
use axum::middleware::Next;
use axum::response::{IntoResponse, Response};
use ramwright_api::problem::{Problem, ProblemCode};

use crate::audit;
use crate::keys::{Gate, Refusal};
use crate::problem::Failure;

/// Lets a request in, or answers why not.
pub(crate) async fn require(State(gate): State<Arc<Gate>>, request: Request, next: Next) -> Response {
    if is_open(request.method(), request.uri().path()) {
        return next.run(request).await;
    }
    let authorization = request.headers().get(header::AUTHORIZATION).and_then(|value| value.to_str().ok());
    match gate.admit(authorization, Instant::now()) {
        Ok(name) => {
            if let Some(name) = name {
                audit::name_key(name);
            }
            next.run(request).await
        }
        Err(refusal) => refused(&refusal),
    }
}

/// Health checks come from machines, `OPTIONS` from browsers that send no key with it, and pages and the description hold
/// nothing of anybody. All else is closed, whatever is added.
fn is_open(method: &Method, path: &str) -> bool {
    *method == Method::OPTIONS || !(path.starts_with("/v1/") || path == "/metrics")
}

fn refused(refusal: &Refusal) -> Response {
    let (code, detail) = match refusal {
        Refusal::NoKey => (ProblemCode::Unauthorized, "The request has no key: send Authorization: Bearer KEY."),
        Refusal::WrongKey => (ProblemCode::Unauthorized, "The service does not know this key."),
        Refusal::TooOften(_) => (ProblemCode::RateLimited, "This key has been used too often within a minute."),
    };
    let mut response = Failure(Problem::new(code, detail)).into_response();
    let headers = response.headers_mut();
    match refusal {
        Refusal::NoKey => headers.insert(header::WWW_AUTHENTICATE, HeaderValue::from_static("Bearer")),
        Refusal::WrongKey => {
            headers.insert(header::WWW_AUTHENTICATE, HeaderValue::from_static("Bearer error=\"invalid_token\""))
        }
        Refusal::TooOften(wait) => {
            let whole_s = wait.as_secs() + u64::from(0 < wait.subsec_nanos());
            headers.insert(header::RETRY_AFTER, HeaderValue::from(whole_s.max(1)))
        }
    };
    response
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn verify_what_calculates_or_tells_is_closed() {
        for path in ["/v1/load-shares", "/v1/catalogues", "/v1/units", "/v1/anything", "/metrics"] {
            assert!(!is_open(&Method::GET, path), "{path}");
            assert!(is_open(&Method::OPTIONS, path), "{path}");
        }
        for path in ["/health/live", "/health/ready", "/", "/docs", "/problems/overloaded", "/openapi.json"] {
            assert!(is_open(&Method::GET, path), "{path}");
        }
    }
}
