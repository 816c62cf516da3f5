//! One log line for each request, written when its answer has gone out.
//!
//! The line names the route and not the address, so that nothing of what a client asked about is kept.

use std::pin::Pin;
use std::task::{Context, Poll};
use std::time::Instant;

use axum::body::{Body, Bytes, HttpBody};
use axum::extract::{MatchedPath, Request};
use axum::http::Method;
use axum::middleware::Next;
use axum::response::Response;
use hyper::body::{Frame, SizeHint};

use super::request_id::RequestId;

/// What is logged where the client left before the answer; not a status of HTTP.
const CLIENT_LEFT: u16 = 499;

/// Logs the request when the answer's body has been sent, or dropped.
pub(crate) async fn log(request: Request, next: Next) -> Response {
    let mut line = Line {
        id: RequestId::of(&request),
        method: request.method().clone(),
        route: request.extensions().get::<MatchedPath>().cloned(),
        begun: Instant::now(),
        status: CLIENT_LEFT,
        sent_bytes: 0,
    };
    let response = next.run(request).await;
    line.status = response.status().as_u16();
    response.map(|inner| Body::new(Logged { inner, line }))
}

/// One line of the log; written when it is dropped, so that no way out of a request goes unlogged.
struct Line {
    id: RequestId,
    method: Method,
    route: Option<MatchedPath>,
    begun: Instant,
    status: u16,
    sent_bytes: usize,
}

impl Drop for Line {
    fn drop(&mut self) {
        let route = self.route.as_ref().map_or("unmatched", MatchedPath::as_str);
        // To the microsecond; more digits are noise.
        let ms = (self.begun.elapsed().as_secs_f64() * 1e6).round() / 1e3;
        let (id, method, status, bytes) = (self.id.as_str(), self.method.as_str(), self.status, self.sent_bytes);
        match status {
            ..500 => tracing::info!(request_id = id, method, route, status, ms, bytes, "request"),
            503 => tracing::warn!(request_id = id, method, route, status, ms, bytes, "request"),
            _ => tracing::error!(request_id = id, method, route, status, ms, bytes, "request"),
        }
    }
}

/// A body that counts what is sent of it.
struct Logged {
    inner: Body,
    line: Line,
}

impl HttpBody for Logged {
    type Data = Bytes;
    type Error = axum::Error;

    fn poll_frame(self: Pin<&mut Self>, context: &mut Context<'_>) -> Poll<Option<Result<Frame<Bytes>, axum::Error>>> {
        let this = self.get_mut();
        let polled = Pin::new(&mut this.inner).poll_frame(context);
        if let Poll::Ready(Some(Ok(frame))) = &polled {
            this.line.sent_bytes += frame.data_ref().map_or(0, Bytes::len);
        }
        polled
    }

    fn is_end_stream(&self) -> bool {
        self.inner.is_end_stream()
    }

    fn size_hint(&self) -> SizeHint {
        self.inner.size_hint()
    }
}
