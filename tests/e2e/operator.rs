//! What an operator relies on: keys, limits, metrics, traces, and the headers of every answer.

use std::path::PathBuf;
use std::sync::atomic::{AtomicU32, Ordering};

use ramwright_api::problem::ProblemCode;
use ramwright_server::{Config, keys};
use ramwright_tests::{Service, examples, socket};

const SHARES: &str = "/v1/load-shares";
const KEY: &str = "an-invented-key-for-the-north-desk";
const OTHER_KEY: &str = "an-invented-key-for-the-south-desk";

/// A file of keys; removed when dropped.
struct KeyFile(PathBuf);

impl KeyFile {
    fn with(keys: &[(&str, &str)]) -> Self {
        static NUMBER: AtomicU32 = AtomicU32::new(0);
        let number = NUMBER.fetch_add(1, Ordering::Relaxed);
        let path = std::env::temp_dir().join(format!("ramwright-keys-{}-{number}", std::process::id()));
        let lines = keys.iter().map(|(name, key)| format!("{name} {}\n", keys::hash(key).unwrap()));
        std::fs::write(&path, lines.collect::<String>()).unwrap();
        Self(path)
    }
}

impl Drop for KeyFile {
    fn drop(&mut self) {
        // What is left over in the folder for such files harms nobody.
        let _ = std::fs::remove_file(&self.0);
    }
}

fn with_keys(file: &KeyFile) -> Config {
    Config { api_keys_file: Some(file.0.clone()), ..Config::on_loopback() }
}

pub(crate) async fn verify_a_key_is_asked_for_where_there_are_keys(_: &'static Service) {
    let file = KeyFile::with(&[("north", KEY), ("south", OTHER_KEY)]);
    let service = Service::start_with(with_keys(&file)).await;
    let body = examples::of(SHARES).to_string();
    let json = ("content-type", "application/json");
    let missing = service.post_bytes(SHARES, body.clone()).await;
    missing.problem(401, ProblemCode::Unauthorized);
    assert_eq!(missing.header("www-authenticate"), "Bearer");
    let bearer = |key: &str| format!("Bearer {key}");
    let wrong = service.send("POST", SHARES, &[json, ("authorization", &bearer("wrong"))], body.clone()).await;
    wrong.problem(401, ProblemCode::Unauthorized);
    assert!(wrong.header("www-authenticate").contains("invalid_token"));
    for key in [KEY, OTHER_KEY] {
        let let_in = service.send("POST", SHARES, &[json, ("authorization", &bearer(key))], body.clone()).await;
        let_in.answer();
    }
    // A key in the address is none, and is not even read.
    let address = format!("/v1/units?authorization={}", bearer(KEY).replace(' ', "%20"));
    service.get(&address).await.problem(401, ProblemCode::Unauthorized);
    for closed in ["/v1/catalogues", "/v1/no-such-address", "/metrics"] {
        service.get(closed).await.problem(401, ProblemCode::Unauthorized);
    }
    for open in ["/health/live", "/health/ready", "/openapi.json", "/docs", "/problems/unauthorized"] {
        assert_eq!(service.get(open).await.status, 200, "{open}");
    }
    assert_eq!(service.send("OPTIONS", SHARES, &[], "").await.status, 204);
    service.shutdown().await;
}

pub(crate) async fn verify_a_key_that_asks_too_often_waits_and_others_do_not(_: &'static Service) {
    let file = KeyFile::with(&[("north", KEY), ("south", OTHER_KEY)]);
    let service = Service::start_with(Config { key_requests_per_minute: 3, ..with_keys(&file) }).await;
    let (north, south) = (format!("Bearer {KEY}"), format!("Bearer {OTHER_KEY}"));
    for _ in 0..3 {
        service.get_with("/v1/units", &[("authorization", &north)]).await.answer();
    }
    let late = service.get_with("/v1/units", &[("authorization", &north)]).await;
    late.problem(429, ProblemCode::RateLimited);
    assert!((1..=20).contains(&late.header("retry-after").parse::<u64>().unwrap()));
    service.get_with("/v1/units", &[("authorization", &south)]).await.answer();
    assert_eq!(service.get("/health/ready").await.status, 200);
    service.shutdown().await;
}

/// The value of a series, by its whole name with labels.
fn value(text: &str, series: &str) -> f64 {
    let found = text.lines().find_map(|line| line.strip_prefix(series)?.trim().parse().ok());
    found.unwrap_or_else(|| panic!("{series} is not in\n{text}"))
}

pub(crate) async fn verify_what_happens_is_counted(_: &'static Service) {
    let service = Service::start_with(Config::on_loopback()).await;
    let answer = service.post(SHARES, &examples::of(SHARES)).await.answer();
    service.post_bytes(SHARES, "{").await.problem(400, ProblemCode::MalformedJson);
    service.send("BREW", "/coffee", &[], "").await.problem(404, ProblemCode::NotFound);
    let line = serde_json::json!({"id": "secret-id", "operation": "share_load", "request": examples::of(SHARES)});
    service.send("POST", "/v1/batches", &[("content-type", "application/x-ndjson")], format!("{line}\n{{\n")).await;
    let metrics = service.get("/metrics").await;
    assert!(metrics.header("content-type").starts_with("text/plain; version=0.0.4"));
    let text = metrics.text();
    let count = |method: &str, route: &str, status: u16| {
        let labels = format!("{{method=\"{method}\",route=\"{route}\",status=\"{status}\"}}");
        value(text, &format!("http_server_request_duration_seconds_count{labels}"))
    };
    let is = |found: f64, wanted: u32| (found - f64::from(wanted)).abs() < 0.5;
    assert!(is(count("POST", SHARES, 200), 1) && is(count("POST", SHARES, 400), 1));
    assert!(is(count("_OTHER", "unmatched", 404), 1));
    assert!(is(value(text, "ramwright_calculation_seconds_count{operation=\"share_load\"}"), 2));
    let verdict = answer["verdict"]["status"].as_str().unwrap();
    let verdicts = format!("ramwright_verdicts_total{{operation=\"share_load\",verdict=\"{verdict}\"}}");
    assert!(is(value(text, &verdicts), 2));
    assert!(is(value(text, "ramwright_problems_total{code=\"malformed_json\"}"), 2));
    assert!(is(value(text, "http_server_active_requests"), 1), "this very request");
    value(text, "ramwright_queue_depth");
    assert!(text.contains("ramwright_build_info{version=\""));
    for line in text.lines().filter(|line| !line.starts_with('#')) {
        assert!(!line.contains("secret-id") && !line.contains("coffee"), "{line}");
    }
    service.shutdown().await;
}

pub(crate) async fn verify_every_calculation_is_counted_by_its_verdict(_: &'static Service) {
    let service = Service::start_with(Config::on_loopback()).await;
    for path in [SHARES, "/v1/ram-sets/verify", "/v1/circuits/assess", "/v1/packing-lifts/sequence"] {
        service.post(path, &examples::of(path)).await.answer();
    }
    assert_eq!(
        service.get("/v1/quick/ram-set?load=40%20t&points=4&travel=20%20mm&clearance=300%20mm").await.status,
        200
    );
    let plan = service.send(
        "POST",
        "/v1/lift-plans?view=calculation",
        &[("content-type", "application/json")],
        examples::of("/v1/lift-plans").to_string(),
    );
    assert_eq!(plan.await.status, 200);
    let text = service.get("/metrics").await.text().to_owned();
    for operation in
        ["share_load", "verify_ram_set", "assess_circuit", "sequence_packing_lifts", "size_ram_set", "plan_lift"]
    {
        let counted = format!("ramwright_calculation_seconds_count{{operation=\"{operation}\"}} 1");
        assert!(text.lines().any(|line| line == counted), "{counted} is not in\n{text}");
    }
    service.shutdown().await;
}

pub(crate) async fn verify_the_operator_may_have_an_address_of_its_own(_: &'static Service) {
    let admin = std::net::TcpListener::bind("127.0.0.1:0").unwrap().local_addr().unwrap();
    let file = KeyFile::with(&[("north", KEY)]);
    let service = Service::start_with(Config { admin_address: Some(admin), ..with_keys(&file) }).await;
    let ask = |path: &'static str| async move {
        let request = format!("GET {path} HTTP/1.1\r\nHost: x\r\nConnection: close\r\n\r\n");
        socket::exchange(admin, request.as_bytes()).await
    };
    // No key is asked for there: who reaches that address is the operator.
    let metrics = ask("/metrics").await;
    assert_eq!(socket::status(&metrics), Some(200));
    assert!(metrics.contains("ramwright_build_info"), "{metrics}");
    for health in ["/health/live", "/health/ready"] {
        assert_eq!(socket::status(&ask(health).await), Some(200), "{health}");
    }
    let absent = ask("/v1/units").await;
    assert_eq!(socket::status(&absent), Some(404));
    assert!(absent.contains("problem-code: not_found"), "{absent}");
    let bearer = format!("Bearer {KEY}");
    service.get_with("/metrics", &[("authorization", &bearer)]).await.problem(404, ProblemCode::NotFound);
    service.shutdown().await;
}

pub(crate) async fn verify_a_trace_is_continued(service: &'static Service) {
    let trace = "4bf92f3577b34da6a3ce929d0e0e4736";
    let sent = format!("00-{trace}-00f067aa0ba902b7-01");
    let reply = service.get_with("/v1/units", &[("traceparent", &sent)]).await;
    let back = reply.header("traceparent");
    assert!(back.starts_with(&format!("00-{trace}-")) && back.ends_with("-01") && back != sent, "{back}");
    let fresh = service.get_with("/v1/units", &[("traceparent", "nonsense")]).await;
    assert_eq!(fresh.header("traceparent").len(), sent.len());
    assert!(!fresh.header("traceparent").contains(trace));
}

pub(crate) async fn verify_every_answer_closes_what_browsers_leave_open(service: &'static Service) {
    for path in ["/v1/units", "/", "/docs", "/nothing", "/health/live", "/problems"] {
        let reply = service.get(path).await;
        assert!(reply.header("content-security-policy").contains("default-src 'none'"), "{path}");
        assert!(reply.header("content-security-policy").contains("frame-ancestors 'none'"), "{path}");
        assert_eq!(reply.header("x-frame-options"), "DENY", "{path}");
        assert_eq!(reply.header("referrer-policy"), "no-referrer", "{path}");
        assert_eq!(reply.headers.get_all("content-security-policy").iter().count(), 1, "{path}");
    }
    let origin = "https://portal.example";
    let words = ["ramwright", "--frame-ancestors", origin].map(Into::into);
    let frame_ancestors = ramwright_server::cli::parse(words, []).unwrap().config.frame_ancestors;
    let service = Service::start_with(Config { frame_ancestors, ..Config::on_loopback() }).await;
    let page = service.get("/").await;
    assert!(page.header("content-security-policy").contains(&format!("frame-ancestors {origin}")));
    assert!(!page.header("content-security-policy").contains("frame-ancestors 'none'"));
    assert_eq!(page.header("x-frame-options"), "");
    service.shutdown().await;
}
