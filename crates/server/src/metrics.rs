//! What the service counts of itself, in the text that Prometheus reads.
//!
//! Labels are names out of closed lists: routes, methods, statuses, codes, calculations, verdicts. No id, name or value of
//! a client is ever one, so that the number of series is bounded.

use axum::extract::State;
use axum::http::{HeaderValue, Method, header};
use axum::response::{IntoResponse, Response};
use prometheus_client::encoding::{EncodeLabelSet, prometheus_text};
use prometheus_client::metrics::counter::Counter;
use prometheus_client::metrics::family::Family;
use prometheus_client::metrics::gauge::Gauge;
use prometheus_client::metrics::histogram::Histogram;
use prometheus_client::registry::Registry;
use ramwright_api::problem::{Problem, ProblemCode};
use ramwright_engine::check::Status;

use crate::audit;
use crate::problem::Failure;
use crate::state::AppState;

/// Upper bounds in seconds of the requests' classes, as the semantic conventions of OpenTelemetry advise.
const REQUEST_BOUNDS_S: [f64; 14] = [0.005, 0.01, 0.025, 0.05, 0.075, 0.1, 0.25, 0.5, 0.75, 1.0, 2.5, 5.0, 7.5, 10.0];

/// Upper bounds in seconds of the calculations' classes: the shortest take microseconds.
const CALCULATION_BOUNDS_S: [f64; 12] = [0.0001, 0.00025, 0.001, 0.0025, 0.01, 0.025, 0.1, 0.25, 1.0, 2.5, 10.0, 25.0];

#[derive(Clone, Debug, Eq, Hash, PartialEq, EncodeLabelSet)]
struct RequestLabels {
    method: &'static str,
    route: String,
    status: u16,
}

#[derive(Clone, Debug, Eq, Hash, PartialEq, EncodeLabelSet)]
struct OperationLabels {
    operation: &'static str,
}

#[derive(Clone, Debug, Eq, Hash, PartialEq, EncodeLabelSet)]
struct VerdictLabels {
    operation: &'static str,
    verdict: &'static str,
}

#[derive(Clone, Debug, Eq, Hash, PartialEq, EncodeLabelSet)]
struct CodeLabels {
    code: &'static str,
}

#[derive(Clone, Debug, Eq, Hash, PartialEq, EncodeLabelSet)]
struct BuildLabels {
    version: &'static str,
    commit: &'static str,
    catalogue_digest: String,
}

/// Everything that is counted.
#[derive(Debug)]
pub(crate) struct Metrics {
    registry: Registry,
    requests: Family<RequestLabels, Histogram, fn() -> Histogram>,
    active: Gauge,
    calculations: Family<OperationLabels, Histogram, fn() -> Histogram>,
    verdicts: Family<VerdictLabels, Counter>,
    problems: Family<CodeLabels, Counter>,
    queue_depth: Gauge,
    build: Family<BuildLabels, Gauge>,
}

impl Default for Metrics {
    fn default() -> Self {
        let mut metrics = Self {
            registry: Registry::default(),
            requests: Family::new_with_constructor(|| Histogram::new(REQUEST_BOUNDS_S)),
            active: Gauge::default(),
            calculations: Family::new_with_constructor(|| Histogram::new(CALCULATION_BOUNDS_S)),
            verdicts: Family::default(),
            problems: Family::default(),
            queue_depth: Gauge::default(),
            build: Family::default(),
        };
        metrics.register();
        metrics
    }
}

impl Metrics {
    fn register(&mut self) {
        let registry = &mut self.registry;
        let help = "From the head of a request to the last byte of its answer";
        registry.register("http_server_request_duration_seconds", help, self.requests.clone());
        registry.register("http_server_active_requests", "Requests that are being answered", self.active.clone());
        let help = "Time of a calculation on its thread, waiting not included";
        registry.register("ramwright_calculation_seconds", help, self.calculations.clone());
        registry.register("ramwright_verdicts", "Results by their verdict", self.verdicts.clone());
        registry.register("ramwright_problems", "Problems by their code", self.problems.clone());
        registry.register("ramwright_queue_depth", "Calculations that wait for a thread", self.queue_depth.clone());
        registry.register("ramwright_build_info", "What runs, and with which catalogues", self.build.clone());
    }

    pub(crate) fn request_begun(&self) {
        self.active.inc();
    }

    pub(crate) fn request_ended(&self, method: &Method, route: &str, status: u16, seconds: f64) {
        self.active.dec();
        let labels = RequestLabels { method: known_method(method), route: route.to_owned(), status };
        self.requests.get_or_create(&labels).observe(seconds);
    }

    pub(crate) fn calculated(&self, operation: &'static str, verdict: Status, seconds: f64) {
        self.calculations.get_or_create(&OperationLabels { operation }).observe(seconds);
        self.verdicts.get_or_create(&VerdictLabels { operation, verdict: audit::word(verdict) }).inc();
    }

    pub(crate) fn problem(&self, code: ProblemCode) {
        self.problems.get_or_create(&CodeLabels { code: code.as_str() }).inc();
    }

    /// Everything as text.
    fn text(&self, queue_depth: usize, catalogue_digest: &str) -> Result<String, std::fmt::Error> {
        self.queue_depth.set(i64::try_from(queue_depth).unwrap_or(i64::MAX));
        let build = BuildLabels {
            version: env!("CARGO_PKG_VERSION"),
            commit: option_env!("RAMWRIGHT_BUILD_COMMIT").unwrap_or("unknown"),
            catalogue_digest: catalogue_digest.to_owned(),
        };
        self.build.clear();
        self.build.get_or_create(&build).set(1);
        let mut text = String::new();
        prometheus_text::encode(&mut text, &self.registry)?;
        Ok(text)
    }
}

/// A client may send any word as a method; only those of HTTP are counted by name.
pub(crate) fn known_method(method: &Method) -> &'static str {
    match *method {
        Method::GET => "GET",
        Method::HEAD => "HEAD",
        Method::POST => "POST",
        Method::PUT => "PUT",
        Method::PATCH => "PATCH",
        Method::DELETE => "DELETE",
        Method::OPTIONS => "OPTIONS",
        _ => "_OTHER",
    }
}

/// The metrics as they stand.
pub(crate) async fn show(State(state): State<AppState>) -> Result<Response, Failure> {
    let digest = state.loaded().digest;
    let text = state.metrics().text(state.pool().waiting(), &digest);
    let text = text.map_err(|_| Problem::new(ProblemCode::InternalError, "The metrics cannot be written."))?;
    let content_type = HeaderValue::from_static(prometheus_text::CONTENT_TYPE);
    Ok(([(header::CONTENT_TYPE, content_type)], text).into_response())
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn verify_what_was_counted_is_written_by_its_name() {
        let metrics = Metrics::default();
        metrics.request_begun();
        metrics.request_begun();
        metrics.request_ended(&Method::POST, "/v1/load-shares", 200, 0.003);
        metrics.calculated("share_load", Status::NotChecked, 0.002);
        metrics.problem(ProblemCode::Overloaded);
        let text = metrics.text(3, "abc").unwrap();
        for line in [
            "http_server_request_duration_seconds_bucket{method=\"POST\",route=\"/v1/load-shares\",status=\"200\",le=\"0.005\"} 1",
            "http_server_active_requests 1",
            "ramwright_calculation_seconds_count{operation=\"share_load\"} 1",
            "ramwright_verdicts_total{operation=\"share_load\",verdict=\"not_checked\"} 1",
            "ramwright_problems_total{code=\"overloaded\"} 1",
            "ramwright_queue_depth 3",
        ] {
            assert!(text.lines().any(|one| one == line), "{line} is not in\n{text}");
        }
        assert!(text.contains("ramwright_build_info{version=") && text.contains("catalogue_digest=\"abc\""), "{text}");
        assert!(!metrics.text(0, "new").unwrap().contains("\"abc\""), "an old catalogue is still named");
    }

    #[test]
    fn verify_a_word_of_a_clients_own_is_no_label() {
        assert_eq!(known_method(&Method::from_bytes(b"BREW").unwrap()), "_OTHER");
    }
}
