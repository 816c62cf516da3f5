//! What a collector of traces is told: read as the protocol has it, by a collector of this suite's own.

use std::fmt::Write as _;
use std::net::SocketAddr;
use std::sync::{Arc, Mutex};
use std::time::{Duration, Instant};

use axum::body::Bytes;
use axum::extract::State;
use axum::http::{HeaderMap, StatusCode};
use axum::routing::post;
use opentelemetry_proto::tonic::collector::trace::v1::ExportTraceServiceRequest;
use opentelemetry_proto::tonic::common::v1::{KeyValue, any_value::Value};
use opentelemetry_proto::tonic::trace::v1::{Span, span::SpanKind, status::StatusCode as SpanStatus};
use prost::Message;
use ramwright_server::{Config, cli};
use ramwright_tests::{Service, examples};

const SHARES: &str = "/v1/load-shares";
const TRACE: &str = "4bf92f3577b34da6a3ce929d0e0e4736";
const PARENT: &str = "00f067aa0ba902b7";

type Received = Arc<Mutex<Vec<ExportTraceServiceRequest>>>;

/// A collector that keeps what it is sent.
async fn collector() -> (SocketAddr, Received) {
    async fn keep(State(received): State<Received>, headers: HeaderMap, body: Bytes) -> StatusCode {
        assert_eq!(headers["content-type"], "application/x-protobuf");
        received.lock().unwrap().push(ExportTraceServiceRequest::decode(body).unwrap());
        StatusCode::OK
    }
    let received = Received::default();
    let app = axum::Router::new().route("/v1/traces", post(keep)).with_state(Arc::clone(&received));
    let listener = tokio::net::TcpListener::bind("127.0.0.1:0").await.unwrap();
    let address = listener.local_addr().unwrap();
    tokio::spawn(async move { axum::serve(listener, app).await });
    (address, received)
}

fn telling(collector: SocketAddr) -> Config {
    let words = ["ramwright".to_owned(), "--otlp-endpoint".to_owned(), format!("http://{collector}")];
    let otlp_endpoint = cli::parse(words.map(Into::into), []).unwrap().config.otlp_endpoint;
    Config { otlp_endpoint, ..Config::on_loopback() }
}

fn spans(received: &Received) -> Vec<Span> {
    let received = received.lock().unwrap();
    let scopes = received.iter().flat_map(|request| &request.resource_spans).flat_map(|all| &all.scope_spans);
    scopes.flat_map(|scope| scope.spans.clone()).collect()
}

fn text(attributes: &[KeyValue], key: &str) -> Option<String> {
    let found = attributes.iter().find(|attribute| attribute.key == key)?;
    Some(match found.value.as_ref()?.value.as_ref()? {
        Value::StringValue(text) => text.clone(),
        Value::IntValue(number) => number.to_string(),
        other => panic!("{key} is {other:?}"),
    })
}

fn hex(bytes: &[u8]) -> String {
    bytes.iter().fold(String::new(), |mut text, byte| {
        write!(text, "{byte:02x}").unwrap();
        text
    })
}

pub(crate) async fn verify_a_collector_is_told_of_every_request(_: &'static Service) {
    let (address, received) = collector().await;
    let service = Service::start_with(telling(address)).await;
    let sent = format!("00-{TRACE}-{PARENT}-01");
    let body = examples::of(SHARES).to_string();
    let json = ("content-type", "application/json");
    let reply = service.send("POST", SHARES, &[json, ("traceparent", &sent)], body.clone()).await;
    let own = reply.header("traceparent").to_owned();
    let answer = reply.answer();
    // Of a trace that its client does not have recorded, nothing is told.
    let unrecorded = format!("00-{TRACE}-{PARENT}-00");
    service.get_with("/v1/units", &[("traceparent", &unrecorded)]).await.answer();
    let begun = service.send("BREW", "/coffee?for=somebody", &[], "").await.header("traceparent").to_owned();
    assert!(begun.ends_with("-01"), "{begun}");
    service.shutdown().await;

    // The suite reads the description first.
    let mut told = spans(&received);
    told.retain(|span| span.name != "GET /openapi.json");
    assert_eq!(told.iter().map(|span| span.name.as_str()).collect::<Vec<_>>(), ["POST /v1/load-shares", "HTTP"]);
    let (calculated, unknown) = (&told[0], &told[1]);
    assert_eq!(own, format!("00-{TRACE}-{}-01", hex(&calculated.span_id)));
    assert_eq!((hex(&calculated.trace_id).as_str(), hex(&calculated.parent_span_id).as_str()), (TRACE, PARENT));
    assert_eq!(calculated.kind(), SpanKind::Server);
    assert!(calculated.start_time_unix_nano < calculated.end_time_unix_nano);
    let of = |key| text(&calculated.attributes, key);
    assert_eq!(of("http.request.method").as_deref(), Some("POST"));
    assert_eq!(of("http.route").as_deref(), Some(SHARES));
    assert_eq!(of("http.response.status_code").as_deref(), Some("200"));
    assert_eq!(of("ramwright.operation").as_deref(), Some("share_load"));
    assert_eq!(of("ramwright.verdict").as_deref(), answer["verdict"]["status"].as_str());
    assert_eq!(of("ramwright.request_digest").as_deref(), answer["request_digest"].as_str());
    assert_eq!(of("ramwright.result_digest").as_deref(), answer["result_digest"].as_str());

    assert!(begun.contains(&hex(&unknown.trace_id)) && unknown.parent_span_id.is_empty());
    assert_eq!(text(&unknown.attributes, "http.request.method").as_deref(), Some("_OTHER"));
    assert_eq!(text(&unknown.attributes, "ramwright.problem").as_deref(), Some("not_found"));
    assert_eq!(unknown.status.as_ref().map_or(0, |status| status.code), SpanStatus::Unset as i32);
    let resource = received.lock().unwrap()[0].resource_spans[0].resource.clone().unwrap();
    assert_eq!(text(&resource.attributes, "service.name").as_deref(), Some("ramwright"));
    // Nothing of what was asked about goes out.
    let whole = format!("{:?}", received.lock().unwrap());
    for secret in ["coffee", "somebody", "load_case"] {
        assert!(!whole.contains(secret), "{secret} is in {whole}");
    }
}

/// What was asked, and the key that a collector may be sent, go to the address that the operator named and to no other.
pub(crate) async fn verify_a_collector_that_sends_on_is_not_followed(_: &'static Service) {
    let (elsewhere, received) = collector().await;
    for status in [StatusCode::MOVED_PERMANENTLY, StatusCode::TEMPORARY_REDIRECT] {
        let answer = move || async move { (status, [("location", format!("http://{elsewhere}/v1/traces"))]) };
        let listener = tokio::net::TcpListener::bind("127.0.0.1:0").await.unwrap();
        let address = listener.local_addr().unwrap();
        let app = axum::Router::new().route("/v1/traces", post(answer));
        tokio::spawn(async move { axum::serve(listener, app).await });
        let service = Service::start_with(telling(address)).await;
        service.post(SHARES, &examples::of(SHARES)).await.answer();
        service.shutdown().await;
    }
    assert!(spans(&received).is_empty());
}

pub(crate) async fn verify_a_collector_that_is_gone_harms_nothing(_: &'static Service) {
    // A port on which nobody listens any more.
    let gone = std::net::TcpListener::bind("127.0.0.1:0").unwrap().local_addr().unwrap();
    // One that takes a connection and never answers.
    let silent = std::net::TcpListener::bind("127.0.0.1:0").unwrap();
    for address in [gone, silent.local_addr().unwrap()] {
        let service = Service::start_with(telling(address)).await;
        service.post(SHARES, &examples::of(SHARES)).await.answer();
        let stopping = Instant::now();
        service.shutdown().await;
        assert!(stopping.elapsed() < Duration::from_secs(8), "it stopped after {:?}", stopping.elapsed());
    }
}
