//! One log line for each request, written when its answer has gone out.
//!
//! The line names the route and not the address, so that nothing of what a client asked about is kept; of a calculation it
//! has the digests, by which an answer that somebody kept is found again, and the verdict. The metrics are told of it and, where
//! there is one, the collector of traces.

use std::pin::Pin;
use std::sync::Arc;
use std::task::{Context, Poll};
use std::time::{Instant, SystemTime};

use axum::body::{Body, Bytes, HttpBody};
use axum::extract::{MatchedPath, Request, State};
use axum::http::Method;
use axum::middleware::Next;
use axum::response::Response;
use hyper::body::{Frame, SizeHint};
use ramwright_api::problem::ProblemCode;

use super::request_id::RequestId;
use super::trace_context::TraceContext;
use crate::audit::{self, Audit};
use crate::metrics::Metrics;
use crate::problem::PROBLEM_CODE_HEADER;
use crate::spans::{Ended, Spans};

/// What is logged where the client left before the answer; not a status of HTTP.
const CLIENT_LEFT: u16 = 499;

/// Who is told of every request, beside the log.
#[derive(Clone, Debug)]
pub(crate) struct Told {
    pub(crate) metrics: Arc<Metrics>,
    pub(crate) spans: Option<Arc<Spans>>,
}

/// Logs the request when the answer's body has been sent, or dropped.
pub(crate) async fn log(State(told): State<Told>, request: Request, next: Next) -> Response {
    told.metrics.request_begun();
    let audit = Audit::default();
    let mut line = Line {
        told,
        audit: audit.clone(),
        id: RequestId::of(&request),
        trace: TraceContext::of(&request),
        method: request.method().clone(),
        route: request.extensions().get::<MatchedPath>().cloned(),
        begun: Instant::now(),
        begun_at: SystemTime::now(),
        status: CLIENT_LEFT,
        sent_bytes: 0,
        problem: None,
    };
    let response = audit.of(next.run(request)).await;
    line.status = response.status().as_u16();
    let code = response.headers().get(PROBLEM_CODE_HEADER).and_then(|value| value.to_str().ok());
    line.problem = code.and_then(ProblemCode::from_wire);
    response.map(|inner| Body::new(Logged { inner, line }))
}

/// One line of the log; written when it is dropped, so that no way out of a request goes unlogged.
struct Line {
    told: Told,
    audit: Audit,
    trace: TraceContext,
    id: RequestId,
    method: Method,
    route: Option<MatchedPath>,
    begun: Instant,
    begun_at: SystemTime,
    status: u16,
    sent_bytes: usize,
    problem: Option<ProblemCode>,
}

impl Drop for Line {
    fn drop(&mut self) {
        let route = self.route.as_ref().map_or("unmatched", MatchedPath::as_str);
        let seconds = self.begun.elapsed().as_secs_f64();
        let noted = self.audit.noted();
        self.told.metrics.request_ended(&self.method, route, self.status, seconds);
        if let Some(code) = self.problem {
            self.told.metrics.problem(code);
        }
        if let Some(made) = &noted.calculation {
            self.told.metrics.calculated(made.operation, made.verdict, made.seconds);
        }
        self.write(route, seconds, &noted);
        if let Some(spans) = &self.told.spans {
            spans.tell(&self.ended(&noted));
        }
    }
}

impl Line {
    fn ended<'a>(&'a self, noted: &'a audit::Noted) -> Ended<'a> {
        Ended {
            trace: &self.trace,
            request_id: self.id.as_str(),
            method: &self.method,
            route: self.route.as_ref().map(MatchedPath::as_str),
            begun: self.begun_at,
            status: (self.status != CLIENT_LEFT).then_some(self.status),
            problem: self.problem.map(ProblemCode::as_str),
            calculation: noted.calculation.as_ref(),
        }
    }

    fn write(&self, route: &str, seconds: f64, noted: &audit::Noted) {
        // To the microsecond; more digits are noise.
        let ms = (seconds * 1e6).round() / 1e3;
        let (id, method, status, bytes) = (self.id.as_str(), self.method.as_str(), self.status, self.sent_bytes);
        let (trace_id, span_id, key) = (self.trace.trace_id(), self.trace.span_id(), noted.key.as_deref());
        let problem = self.problem.map(ProblemCode::as_str);
        let made = noted.calculation.as_ref();
        let (operation, verdict) = (made.map(|made| made.operation), made.map(|made| audit::word(made.verdict)));
        let request_digest = made.map(|made| made.request_digest.as_str());
        let result_digest = made.map(|made| made.result_digest.as_str());
        macro_rules! tell {
            ($level:ident) => {
                tracing::$level!(
                    request_id = id,
                    trace_id,
                    span_id,
                    key,
                    method,
                    route,
                    status,
                    problem,
                    ms,
                    bytes,
                    operation,
                    verdict,
                    request_digest,
                    result_digest,
                    "request"
                )
            };
        }
        match status {
            ..500 => tell!(info),
            503 => tell!(warn),
            _ => tell!(error),
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
