//! Clients that are slow, silent or gone, and a service that has too much to do.

use std::time::{Duration, Instant};

use ramwright_api::problem::ProblemCode;
use ramwright_server::Config;
use ramwright_tests::{Service, examples, socket};
use serde_json::{Value, json};
use tokio::io::{AsyncReadExt, AsyncWriteExt};

const SHORT: Duration = Duration::from_millis(400);
const DRIBBLE: Duration = Duration::from_millis(40);
/// Far above what is configured and far below the defaults.
const SOON: Duration = Duration::from_secs(5);

/// Whoever holds a place and says nothing keeps others out for no longer than a head may take.
pub(crate) async fn verify_who_says_nothing_is_cut_off(_: &'static Service) {
    let config = Config { header_timeout_s: SHORT, connections_max: 3, ..Config::on_loopback() };
    let service = Service::start_with(config).await;
    for said in ["", "P", "PRI * HTTP/2.0\r\n\r\nSM\r\n\r\n"] {
        let mut silent = Vec::new();
        for _ in 0..8 {
            let mut stream = socket::connect(service.address()).await;
            stream.write_all(said.as_bytes()).await.unwrap();
            silent.push(stream);
        }
        let begun = Instant::now();
        let asked = b"GET /health/live HTTP/1.1\r\nHost: x\r\nConnection: close\r\n\r\n";
        let answer = tokio::time::timeout(SOON, socket::exchange(service.address(), asked)).await;
        assert_eq!(answer.ok().as_deref().and_then(socket::status), Some(200), "{said:?} {:?}", begun.elapsed());
    }
    service.shutdown().await;
}

pub(crate) async fn verify_a_head_that_dribbles_is_cut_off(_: &'static Service) {
    let service = Service::start_with(Config { header_timeout_s: SHORT, ..Config::on_loopback() }).await;
    let begun = Instant::now();
    let mut stream = socket::connect(service.address()).await;
    let mut sent = 0;
    for byte in "GET /health/live HTTP/1.1\r\nHost: x\r\nX-Long: ".bytes().chain(std::iter::repeat(b'a')) {
        // Once the service has closed, writing or reading shows it.
        if stream.write_all(&[byte]).await.is_err() {
            break;
        }
        sent += 1;
        let mut answer = [0; 64];
        match tokio::time::timeout(DRIBBLE, stream.read(&mut answer)).await {
            Ok(Ok(0) | Err(_)) => break,
            Ok(Ok(count)) => assert!(!answer[..count].starts_with(b"HTTP/1.1 200"), "nothing was asked yet"),
            Err(_) => {}
        }
        assert!(begun.elapsed() < SOON, "still open after {sent} bytes");
    }
    assert!(SHORT / 2 < begun.elapsed(), "cut off before its time");
    service.get("/health/live").await.answer();
    service.shutdown().await;
}

pub(crate) async fn verify_a_body_that_dribbles_is_cut_off(_: &'static Service) {
    let config = Config { body_timeout_s: SHORT, idle_timeout_s: SHORT * 4, ..Config::on_loopback() };
    let service = Service::start_with(config).await;
    let head =
        "POST /v1/load-shares HTTP/1.1\r\nHost: x\r\nContent-Type: application/json\r\nContent-Length: 400\r\n\r\n{";
    let begun = Instant::now();
    let mut stream = socket::connect(service.address()).await;
    stream.write_all(head.as_bytes()).await.unwrap();
    let answer = socket::read_to_end(&mut stream).await;
    assert_eq!(socket::status(&answer), Some(408), "{answer}");
    assert!(answer.contains("problem-code: request_timeout"), "{answer}");
    // A connection on which nothing is ever said.
    let mut silent = socket::connect(service.address()).await;
    assert_eq!(socket::read_to_end(&mut silent).await, "");
    assert!(begun.elapsed() < SOON * 2);
    service.shutdown().await;
}

pub(crate) async fn verify_a_client_that_leaves_harms_nobody(service: &'static Service) {
    for half in [
        "",
        "GET /hea",
        "POST /v1/load-shares HTTP/1.1\r\nHost: x\r\nContent-Length: 9\r\nContent-Type: application/json\r\n\r\n{",
    ] {
        let mut stream = socket::connect(service.address()).await;
        stream.write_all(half.as_bytes()).await.unwrap();
        drop(stream);
    }
    for nonsense in [
        &b"\x16\x03\x01\x02\x00\x01\x00"[..],
        b"GET / HTTP/1.1\r\n\r\n",
        b"GET  / HTTP/1.1\r\nHost: x\r\n\r\n",
        b"\r\n\r\n\x00\x01 / HTTP/9.9\r\n\r\n",
    ] {
        let mut stream = socket::connect(service.address()).await;
        stream.write_all(nonsense).await.unwrap();
        stream.shutdown().await.unwrap();
        let answer = socket::read_to_end(&mut stream).await;
        assert!(socket::status(&answer).is_none_or(|status| status < 500), "{answer}");
    }
    service.get("/health/ready").await.answer();
}

/// A client that writes to the end before it reads must see why it was refused, and not a reset.
pub(crate) async fn verify_who_sends_on_still_reads_the_refusal(service: &'static Service) {
    // More than the buffers of both ends hold.
    const SENT: usize = 32 << 20;
    for (content_type, status) in [("application/json", 413), ("text/plain", 415)] {
        let head = format!(
            "POST /v1/load-shares HTTP/1.1\r\nHost: x\r\nContent-Type: {content_type}\r\nContent-Length: {SENT}\r\n\r\n"
        );
        let mut stream = socket::connect(service.address()).await;
        stream.write_all(head.as_bytes()).await.unwrap();
        stream.write_all(&vec![b' '; SENT]).await.unwrap();
        // The connection is still good.
        stream.write_all(b"GET /health/live HTTP/1.1\r\nHost: x\r\nConnection: close\r\n\r\n").await.unwrap();
        let answers = socket::read_to_end(&mut stream).await;
        assert_eq!(socket::status(&answers), Some(status), "{answers}");
        assert!(answers.contains("HTTP/1.1 200"), "{answers}");
    }
}

/// A calculation that takes longer than any test waits for it.
fn endless() -> Value {
    let mut body = examples::of("/v1/ram-sets/size");
    body["settings"] = json!({"search_states": 20_000_000, "rams_per_point": 8});
    body["search"] = json!({"assignment": "mixed", "options": 500, "objectives": ["mass", "cost", "utilisation"]});
    body["load_case"]["travel"] = json!("12 in");
    body
}

pub(crate) async fn verify_a_full_queue_is_refused_with_a_time_to_come_back(_: &'static Service) {
    let busy = Config { calculation_threads: 1, calculation_queue: 1, ..Config::on_loopback() };
    let service: &'static Service = Box::leak(Box::new(Service::start_with(busy).await));
    let waiting: Vec<_> =
        (0..2).map(|_| tokio::spawn(async { service.post("/v1/ram-sets/size", &endless()).await })).collect();
    tokio::time::sleep(SHORT).await;
    let body = examples::of("/v1/load-shares");
    let refused = service.post("/v1/load-shares", &body).await;
    refused.problem(503, ProblemCode::Overloaded);
    assert!((1..=5).contains(&refused.header("retry-after").parse::<u64>().unwrap()));
    // Health is answered all the while.
    service.get("/health/live").await.answer();
    // Once nobody waits for them the calculations are given up, long before their own time limit.
    for one in waiting {
        one.abort();
    }
    let begun = Instant::now();
    while service.post("/v1/load-shares", &body).await.status != 200 {
        assert!(begun.elapsed() < SOON, "what nobody waits for is still being calculated");
        tokio::time::sleep(DRIBBLE).await;
    }
    let hasty = Config { calculation_timeout_s: Duration::from_millis(50), ..Config::on_loopback() };
    let service = Service::start_with(hasty).await;
    let late = service.post("/v1/ram-sets/size", &endless()).await;
    late.problem(503, ProblemCode::CalculationTimeout);
    assert!(late.took < SOON);
    service.shutdown().await;
}
