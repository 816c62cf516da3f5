//! The cap on requests open at once; health checks are outside it.

use std::sync::Arc;

use axum::extract::{Request, State};
use axum::middleware::Next;
use axum::response::{IntoResponse, Response};
use ramwright_api::problem::{Problem, ProblemCode};
use tokio::sync::Semaphore;

use crate::problem::Failure;

/// Answers 503 where too many requests are open.
pub(crate) async fn cap(State(places): State<Arc<Semaphore>>, request: Request, next: Next) -> Response {
    if request.uri().path().starts_with("/health/") {
        return next.run(request).await;
    }
    match places.try_acquire() {
        Ok(_place) => next.run(request).await,
        Err(_) => Failure(Problem::new(ProblemCode::Overloaded, "Too many requests are open.")).into_response(),
    }
}
