//! What the service does of a trace, told to a collector (OpenTelemetry, OTLP over HTTP) where one is configured.
//!
//! One span a request, of the kind of a server, with the attributes that the conventions of OpenTelemetry name for HTTP. As in
//! the log, the route stands for the address, so that nothing of what a client asked about goes out. Telling never holds up an
//! answer: what a slow collector does not take in time is dropped.

use std::time::{Duration, SystemTime};

use axum::http::{Method, Uri};
use opentelemetry::trace::{SpanContext, SpanId, SpanKind, Status, TraceFlags, TraceId, TraceState};
use opentelemetry::{InstrumentationScope, KeyValue};
use opentelemetry_otlp::{SpanExporter, WithExportConfig, WithHttpConfig};
use opentelemetry_sdk::Resource;
use opentelemetry_sdk::trace::{
    BatchConfigBuilder, BatchSpanProcessor, SpanData, SpanEvents, SpanLinks, SpanProcessor,
};
use reqwest::blocking::Client;
use reqwest::redirect::Policy;

use crate::audit::{Calculation, word};
use crate::metrics::known_method;
use crate::middleware::trace_context::TraceContext;

/// Where a collector takes spans, below its address (OTLP specification, "OTLP/HTTP Request").
const PATH: &str = "/v1/traces";

/// How long one delivery may take.
const DELIVERY: Duration = Duration::from_secs(5);

/// How long the last spans may take when the service stops.
const LAST_DELIVERY: Duration = Duration::from_secs(3);

/// Spans that may wait for their delivery; further ones are dropped.
const MOST_WAITING: usize = 2048;

/// Spans of one delivery.
const AT_ONCE: usize = 512;

/// Time between deliveries.
const EVERY: Duration = Duration::from_secs(5);

/// Why nothing can be told to a collector.
type Hindrance = Box<dyn std::error::Error + Send + Sync>;

/// The way to the collector.
#[derive(Debug)]
pub(crate) struct Spans(BatchSpanProcessor);

/// What a request came to.
#[derive(Debug)]
pub(crate) struct Ended<'a> {
    pub(crate) trace: &'a TraceContext,
    pub(crate) request_id: &'a str,
    pub(crate) method: &'a Method,
    /// The route, where the address has one.
    pub(crate) route: Option<&'a str>,
    pub(crate) begun: SystemTime,
    /// The status of the answer; none where the client left before it.
    pub(crate) status: Option<u16>,
    pub(crate) problem: Option<&'static str>,
    pub(crate) calculation: Option<&'a Calculation>,
}

impl Spans {
    /// Begins to deliver to the collector at an address.
    ///
    /// # Errors
    /// The client that delivers cannot be made.
    pub(crate) fn to(collector: &Uri) -> Result<Self, Hindrance> {
        let address = format!("{}{PATH}", collector.to_string().trim_end_matches('/'));
        let exporter =
            SpanExporter::builder().with_http().with_http_client(client()?).with_endpoint(address).build()?;
        let pace = BatchConfigBuilder::default()
            .with_max_queue_size(MOST_WAITING)
            .with_max_export_batch_size(AT_ONCE)
            .with_scheduled_delay(EVERY);
        let mut processor = BatchSpanProcessor::builder(exporter).with_batch_config(pace.build()).build();
        let service = [KeyValue::new("service.version", env!("CARGO_PKG_VERSION"))];
        // Of the environment nothing is read: it may name more of the machine than an operator means to send.
        let resource = Resource::builder_empty().with_service_name("ramwright").with_attributes(service).build();
        processor.set_resource(&resource);
        Ok(Self(processor))
    }

    /// Tells of a request that has ended, unless its trace is one that is not recorded.
    pub(crate) fn tell(&self, ended: &Ended) {
        if let Some(span) = span(ended) {
            self.0.on_end(span);
        }
    }

    /// Delivers what is left and ends. Blocks until that is done, a few seconds at most.
    pub(crate) fn end(&self) {
        if let Err(error) = self.0.shutdown_with_timeout(LAST_DELIVERY) {
            tracing::warn!(%error, "the last spans were not delivered");
        }
    }
}

/// A client that goes to the one address it is given: neither where that sends it on to, nor by way of a proxy.
fn client() -> Result<Client, Hindrance> {
    let build = || Client::builder().timeout(DELIVERY).redirect(Policy::none()).no_proxy().build();
    // It blocks, and may not be made where others wait for their turn.
    let made = std::thread::spawn(build).join().map_err(|_| "the thread that makes the client failed")?;
    Ok(made?)
}

fn span(ended: &Ended) -> Option<SpanData> {
    let trace = ended.trace;
    if !trace.is_recorded() {
        return None;
    }
    let id = |text: &str| SpanId::from_hex(text).ok();
    let span_context = SpanContext::new(
        TraceId::from_hex(trace.trace_id()).ok()?,
        id(trace.span_id())?,
        TraceFlags::SAMPLED,
        false,
        TraceState::NONE,
    );
    let failed = ended.status.is_some_and(|status| status >= 500);
    Some(SpanData {
        span_context,
        parent_span_id: trace.parent_id().and_then(id).unwrap_or(SpanId::INVALID),
        parent_span_is_remote: trace.parent_id().is_some(),
        span_kind: SpanKind::Server,
        name: name(ended).into(),
        start_time: ended.begun,
        end_time: SystemTime::now(),
        attributes: attributes(ended),
        dropped_attributes_count: 0,
        events: SpanEvents::default(),
        links: SpanLinks::default(),
        status: if failed { Status::error("") } else { Status::Unset },
        instrumentation_scope: InstrumentationScope::builder("ramwright").build(),
    })
}

/// By the conventions the method and the route, or the method alone; one that HTTP does not know is `HTTP`.
fn name(ended: &Ended) -> String {
    let method = match known_method(ended.method) {
        "_OTHER" => "HTTP",
        method => method,
    };
    ended.route.map_or_else(|| method.to_owned(), |route| format!("{method} {route}"))
}

fn attributes(ended: &Ended) -> Vec<KeyValue> {
    let mut all = vec![
        KeyValue::new("http.request.method", known_method(ended.method)),
        KeyValue::new("url.scheme", "http"),
        KeyValue::new("ramwright.request_id", ended.request_id.to_owned()),
    ];
    all.extend(ended.route.map(|route| KeyValue::new("http.route", route.to_owned())));
    all.push(match ended.status {
        Some(status) => KeyValue::new("http.response.status_code", i64::from(status)),
        None => KeyValue::new("error.type", "client_left"),
    });
    if let Some(status) = ended.status.filter(|status| *status >= 500) {
        all.push(KeyValue::new("error.type", status.to_string()));
    }
    all.extend(ended.problem.map(|code| KeyValue::new("ramwright.problem", code)));
    if let Some(made) = ended.calculation {
        all.push(KeyValue::new("ramwright.operation", made.operation));
        all.push(KeyValue::new("ramwright.verdict", word(made.verdict)));
        all.push(KeyValue::new("ramwright.request_digest", made.request_digest.clone()));
        all.push(KeyValue::new("ramwright.result_digest", made.result_digest.clone()));
    }
    all
}
