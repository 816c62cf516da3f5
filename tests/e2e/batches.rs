//! Batches: what each line is answered with, and what a line, a client and a service that stops can do to the others.

use std::fmt::Write as _;
use std::time::{Duration, Instant};

use ramwright_api::problem::ProblemCode;
use ramwright_server::Config;
use ramwright_tests::{Reply, Service, examples, socket};
use serde_json::{Value, json};
use tokio::io::{AsyncBufReadExt, AsyncWriteExt, BufReader};
use tokio::net::TcpStream;

const PATH: &str = "/v1/batches";
const LINES: &str = "application/x-ndjson";
const SHORT: Duration = Duration::from_millis(400);
/// Far above what is waited for and far below the time limits of the service.
const SOON: Duration = Duration::from_secs(8);

async fn batch(service: &Service, body: impl Into<Vec<u8>>) -> Reply {
    service.send("POST", PATH, &[("content-type", LINES)], body.into()).await
}

fn lines(reply: &Reply) -> Vec<Value> {
    assert_eq!((reply.status, reply.media_type().as_str()), (200, LINES), "{}", reply.text());
    assert!(reply.text().ends_with('\n'));
    reply.text().lines().map(|line| serde_json::from_str(line).unwrap()).collect()
}

/// The operation that is answered at a path.
fn operation(path: &str) -> &'static str {
    match path {
        "/v1/load-shares" => "share_load",
        "/v1/ram-sets/size" => "size_ram_set",
        "/v1/ram-sets/verify" => "verify_ram_set",
        "/v1/packing-lifts/sequence" => "sequence_packing_lifts",
        "/v1/circuits/assess" => "assess_circuit",
        "/v1/lift-plans" => "plan_lift",
        other => panic!("{other} is no calculation"),
    }
}

/// A line that is answered fast.
fn fast(id: &str) -> String {
    json!({"id": id, "operation": "share_load", "request": examples::of("/v1/load-shares")}).to_string()
}

/// A line whose calculation takes longer than any test waits for it.
fn endless() -> String {
    let mut request = examples::of("/v1/ram-sets/size");
    request["settings"] = json!({"search_states": 20_000_000, "rams_per_point": 8});
    request["search"] = json!({"assignment": "mixed", "options": 500, "objectives": ["mass", "cost", "utilisation"]});
    request["load_case"]["travel"] = json!("12 in");
    json!({"operation": "size_ram_set", "request": request}).to_string()
}

pub(crate) async fn verify_each_line_is_answered_in_order_as_by_its_own_address(service: &'static Service) {
    let examples = examples::quick();
    let mut body = String::new();
    for (number, (path, request)) in examples.iter().enumerate() {
        let line = json!({"id": format!("lift {number}"), "operation": operation(path), "request": request});
        // Lines may end as on any system, and empty ones do not count.
        write!(body, "{line}\r\n\n").unwrap();
    }
    let answered = lines(&batch(service, body).await);
    assert_eq!(answered.len(), examples.len() + 1);
    for (number, (path, request)) in examples.iter().enumerate() {
        let line = &answered[number];
        assert_eq!((&line["index"], &line["id"]), (&json!(number), &json!(format!("lift {number}"))));
        assert_eq!(line["status"], 200, "{line}");
        assert_eq!(line["result"], service.post(path, request).await.answer(), "{path}");
    }
    let count = examples.len();
    let summary = json!({"summary": {"lines": count, "results": count, "problems": 0, "complete": true}});
    assert_eq!(answered.last(), Some(&summary));
    let empty = lines(&batch(service, "").await);
    assert_eq!(empty, [json!({"summary": {"lines": 0, "results": 0, "problems": 0, "complete": true}})]);
}

pub(crate) async fn verify_a_bad_line_harms_only_itself(_: &'static Service) {
    let service = Service::start_with(Config { body_limit_bytes: 8192, ..Config::on_loopback() }).await;
    let mut tipping = examples::of("/v1/load-shares");
    tipping["load_case"]["weight"] = json!(3);
    let bad = [
        ("{".to_owned(), 400, "malformed_json"),
        ("\u{0}".to_owned(), 400, "malformed_json"),
        (format!("\"{}\"", "x".repeat(9000)), 413, "payload_too_large"),
        (json!({"id": "q", "operation": "share_lode", "request": {}}).to_string(), 400, "invalid_request"),
        (json!({"id": "q", "operation": "share_load", "request": tipping}).to_string(), 400, "invalid_request"),
        (json!({"operation": "share_load", "request": {}, "units": "us"}).to_string(), 400, "invalid_request"),
        ("[".repeat(4000), 400, "malformed_json"),
    ];
    let mut body = fast("before");
    for (line, ..) in &bad {
        write!(body, "\n{line}\n{}", fast("between")).unwrap();
    }
    let answered = lines(&batch(&service, body).await);
    assert_eq!(answered.len(), 2 * bad.len() + 2);
    for (number, line) in answered[..answered.len() - 1].iter().enumerate() {
        assert_eq!(line["index"], number);
        if number % 2 == 0 {
            assert_eq!(line["status"], 200, "{line}");
            continue;
        }
        let (_, status, code) = &bad[number / 2];
        assert_eq!((&line["status"], &line["problem"]["code"]), (&json!(status), &json!(code)), "{line}");
        assert_eq!(line["problem"]["status"], *status);
        if line["problem"]["code"] == "invalid_request" {
            assert!(line["problem"]["errors"][0]["pointer"].is_string(), "{line}");
        }
    }
    let summary = &answered.last().unwrap()["summary"];
    assert_eq!((&summary["results"], &summary["problems"]), (&json!(bad.len() + 1), &json!(bad.len())));
    assert_eq!(summary["complete"], true);
    service.shutdown().await;
}

pub(crate) async fn verify_what_is_no_batch_is_a_problem(service: &'static Service) {
    let json = service.send("POST", PATH, &[("content-type", "application/json")], fast("x")).await;
    json.problem(415, ProblemCode::UnsupportedMediaType);
    let headers = [("content-type", LINES), ("accept", "text/csv")];
    service.send("POST", PATH, &headers, fast("x")).await.problem(406, ProblemCode::NotAcceptable);
    service.get(PATH).await.problem(405, ProblemCode::MethodNotAllowed);
}

/// Begins a batch whose length is not said.
async fn begin(service: &Service) -> BufReader<TcpStream> {
    let mut stream = socket::connect(service.address()).await;
    let head =
        format!("POST {PATH} HTTP/1.1\r\nHost: x\r\nContent-Type: {LINES}\r\nTransfer-Encoding: chunked\r\n\r\n");
    stream.write_all(head.as_bytes()).await.unwrap();
    BufReader::new(stream)
}

async fn send(stream: &mut BufReader<TcpStream>, text: &str) {
    stream.write_all(format!("{:x}\r\n{text}\r\n", text.len()).as_bytes()).await.unwrap();
}

/// Reads on until a line holds this text.
async fn read_until(stream: &mut BufReader<TcpStream>, text: &str) -> String {
    let read = async {
        loop {
            let mut line = String::new();
            assert_ne!(stream.read_line(&mut line).await.unwrap(), 0, "it ended before {text}");
            if line.contains(text) {
                return line;
            }
        }
    };
    tokio::time::timeout(SOON, read).await.unwrap_or_else(|_| panic!("{text} did not come"))
}

pub(crate) async fn verify_answers_go_out_while_lines_come(service: &'static Service) {
    let mut stream = begin(service).await;
    for number in 0..3 {
        send(&mut stream, &format!("{}\n", fast(&format!("n{number}")))).await;
        read_until(&mut stream, &format!("\"id\":\"n{number}\"")).await;
    }
    // The last line needs no end.
    let (first, second) = ("{\"operation\":", "1}");
    send(&mut stream, first).await;
    send(&mut stream, second).await;
    stream.write_all(b"0\r\n\r\n").await.unwrap();
    read_until(&mut stream, "\"index\":3").await;
    let summary = read_until(&mut stream, "\"summary\"").await;
    assert!(summary.contains("\"lines\":4") && summary.contains("\"complete\":true"), "{summary}");
}

pub(crate) async fn verify_a_batch_that_breaks_off_says_so(_: &'static Service) {
    let service = Service::start_with(Config { body_timeout_s: SHORT, ..Config::on_loopback() }).await;
    let mut stream = begin(&service).await;
    send(&mut stream, &format!("{}\n{{\"half", fast("whole"))).await;
    read_until(&mut stream, "\"id\":\"whole\"").await;
    let summary = read_until(&mut stream, "\"summary\"").await;
    assert!(summary.contains("\"lines\":1") && summary.contains("\"complete\":false"), "{summary}");
    assert!(summary.contains("\"code\":\"request_timeout\""), "{summary}");
    service.shutdown().await;
}

pub(crate) async fn verify_a_client_that_leaves_a_batch_stops_it(_: &'static Service) {
    let config = Config { calculation_threads: 1, calculation_queue: 4, batches_max: 1, ..Config::on_loopback() };
    let service = Service::start_with(config).await;
    let mut stream = begin(&service).await;
    for _ in 0..20 {
        send(&mut stream, &format!("{}\n", endless())).await;
    }
    read_until(&mut stream, "content-type: application/x-ndjson").await;
    tokio::time::sleep(SHORT).await;
    // One batch may be open; a calculation by itself still has its place in the queue.
    batch(&service, fast("x")).await.problem(503, ProblemCode::Overloaded);
    drop(stream);
    let begun = Instant::now();
    let alone = service.post("/v1/load-shares", &examples::of("/v1/load-shares")).await;
    alone.answer();
    assert!(begun.elapsed() < SOON, "what nobody waits for is still being calculated");
    while batch(&service, fast("x")).await.status != 200 {
        assert!(begun.elapsed() < SOON, "the batch is still open");
        tokio::time::sleep(SHORT / 10).await;
    }
    service.shutdown().await;
}

pub(crate) async fn verify_batches_leave_others_a_place(_: &'static Service) {
    let config = Config { calculation_threads: 2, calculation_queue: 2, ..Config::on_loopback() };
    let service = Service::start_with(config).await;
    let mut open = Vec::new();
    for _ in 0..4 {
        let mut stream = begin(&service).await;
        for number in 0..100 {
            send(&mut stream, &format!("{}\n", fast(&number.to_string()))).await;
        }
        open.push(stream);
    }
    let body = examples::of("/v1/load-shares");
    for _ in 0..20 {
        service.post("/v1/load-shares", &body).await.answer();
    }
    for mut stream in open {
        stream.write_all(b"0\r\n\r\n").await.unwrap();
        let summary = read_until(&mut stream, "\"summary\"").await;
        assert!(summary.contains("\"results\":100"), "{summary}");
    }
    service.shutdown().await;
}
