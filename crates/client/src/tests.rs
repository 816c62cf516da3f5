//! The client against an answerer that keeps what it was sent.

use super::{Body, Client, ClientError, Probe};
use ramwright_api::catalogue::Catalogues;
use ramwright_api::json::Node;
use ramwright_api::operation::{PlanLift, ShareLoad, SizeRamSet};
use ramwright_api::problem::{Fault, FaultCode, Problem, ProblemCode};
use ramwright_api::read::{Faults, Pointer, Read as _};
use ramwright_api::request::ShareLoadRequest;
use ramwright_api::{Answer, Prepared};
use ramwright_engine::load::{LoadShares, Method};
use serde_json::{Value, json};
use std::error::Error as _;
use std::io::{BufRead as _, BufReader, Read as _, Write as _};
use std::net::TcpListener;
use std::sync::atomic::AtomicBool;
use std::thread::JoinHandle;

/// What the answerer was sent.
struct Asked {
    line: String,
    headers: String,
    body: Vec<u8>,
}

/// Answers one request on loopback, then closes.
fn answer_once(status: u16, content_type: &str, body: impl Into<Vec<u8>>) -> (String, JoinHandle<Asked>) {
    let listener = TcpListener::bind("127.0.0.1:0").unwrap();
    let address = format!("http://{}", listener.local_addr().unwrap());
    let (content_type, body) = (content_type.to_owned(), body.into());
    let asked = std::thread::spawn(move || {
        let (stream, _) = listener.accept().unwrap();
        let mut reader = BufReader::new(stream);
        let mut lines = Vec::new();
        loop {
            let mut line = String::new();
            reader.read_line(&mut line).unwrap();
            if line.trim().is_empty() {
                break;
            }
            lines.push(line.trim().to_ascii_lowercase());
        }
        let length = lines.iter().find_map(|line| line.strip_prefix("content-length: "));
        let mut sent = vec![0; length.map_or(0, |length| length.parse().unwrap())];
        reader.read_exact(&mut sent).unwrap();
        let mut stream = reader.into_inner();
        let head = format!(
            "HTTP/1.1 {status} x\r\nContent-Type: {content_type}\r\nContent-Length: {}\r\nConnection: close\r\n\r\n",
            body.len()
        );
        stream.write_all(head.as_bytes()).unwrap();
        stream.write_all(&body).unwrap();
        Asked { line: lines.remove(0), headers: lines.join("\n"), body: sent }
    });
    (address, asked)
}

fn request() -> Value {
    json!({ "load_case": { "weight": "212 t", "travel": "420 mm", "points": [{ "id": "A" }, { "id": "B" }, { "id": "C" }, { "id": "D" }] } })
}

/// The answer that the service would give.
fn computed() -> Answer<LoadShares> {
    let body = request().to_string();
    let prepared = Prepared::<ShareLoad>::from_json(body.as_bytes(), &Catalogues::default()).unwrap();
    prepared.compute(&AtomicBool::new(false)).unwrap()
}

#[tokio::test]
async fn verify_a_calculation_is_sent_as_json_and_its_answer_read() {
    let (address, asked) = answer_once(200, "application/json", computed().to_json().unwrap());
    let answer = Client::new(&address).unwrap().share_load(request()).await.unwrap();
    let asked = asked.join().unwrap();
    assert_eq!(asked.line, "post /v1/load-shares http/1.1");
    assert!(
        asked.headers.contains("content-type: application/json") && asked.headers.contains("accept: application/json")
    );
    assert_eq!(serde_json::from_slice::<Value>(&asked.body).unwrap(), request());
    assert_eq!(answer.operation, "share_load");
    assert_eq!(answer.result.method, Method::Equal);
    assert_eq!(answer.result.points.len(), 4);
    // 212 t x 9.80665 m/s2 / 4 points (standard gravity, exact by definition).
    assert!((answer.result.points[0].share.expected.kn() / (212.0 * 9.806_65 / 4.0) - 1.0).abs() < 1e-12);
}

#[test]
fn verify_a_typed_request_is_sent_in_its_canonical_form() {
    let node = Node::parse(request().to_string().as_bytes()).unwrap();
    let mut faults = Faults::default();
    let typed = ShareLoadRequest::read(&node, &Pointer::default(), &mut faults).unwrap();
    assert_eq!(Body::from(&typed), Body::from(computed().request));
    assert_eq!(Body::from(&request()), Body::from(request()));
}

/// The whole answer of a lift plan, with every kind of result in it, is read without loss.
#[tokio::test]
async fn verify_the_largest_answer_is_read_whole() {
    let request = include_bytes!("../../../openapi/examples/transformer.json");
    let prepared = Prepared::<PlanLift>::from_json(request, &Catalogues::embedded().unwrap()).unwrap();
    let written = prepared.compute(&AtomicBool::new(false)).unwrap().to_json().unwrap();
    let (address, asked) = answer_once(200, "application/json", written.clone());
    let sent: Value = serde_json::from_slice(request).unwrap();
    let answer = Client::new(&address).unwrap().plan_lift(&sent).await.unwrap();
    asked.join().unwrap();
    assert!(answer.result.sizing.is_some() && answer.result.verification.is_some() && answer.result.circuit.is_some());
    let again: Value = serde_json::from_slice(&answer.to_json().unwrap()).unwrap();
    assert_alike(&again, &serde_json::from_slice(&written).unwrap());
}

/// Alike but for the rounding of numbers into SI and back.
#[track_caller]
fn assert_alike(one: &Value, other: &Value) {
    match (one, other) {
        (Value::Object(one), Value::Object(other)) => {
            assert!(one.keys().eq(other.keys()));
            one.iter().for_each(|(key, value)| assert_alike(value, &other[key]));
        }
        (Value::Array(one), Value::Array(other)) => {
            assert_eq!(one.len(), other.len());
            one.iter().zip(other).for_each(|(one, other)| assert_alike(one, other));
        }
        (Value::Number(one), Value::Number(other)) => {
            let (one, other) = (one.as_f64().unwrap(), other.as_f64().unwrap());
            assert!((one - other).abs() <= 4.0 * f64::EPSILON * other.abs(), "{one} is not {other}");
        }
        (one, other) => assert_eq!(one, other),
    }
}

#[tokio::test]
async fn verify_a_problem_comes_back_whole() {
    let fault = Fault::at("/load_case/weight", FaultCode::BareNumber, "212 has no unit");
    let problem = Problem::invalid_request(vec![fault]);
    let (address, asked) = answer_once(400, "application/problem+json", serde_json::to_vec(&problem).unwrap());
    let error = Client::new(&address).unwrap().call::<ShareLoad>(json!({})).await.unwrap_err();
    asked.join().unwrap();
    assert_eq!(error.to_string(), problem.to_string());
    assert!(error.source().is_none());
    assert!(matches!(error, ClientError::Problem(answered) if *answered == problem));
}

#[tokio::test]
async fn verify_what_is_no_answer_is_told_apart() {
    for (status, content_type, body) in [
        (200, "text/html", "<p>welcome</p>"),
        (200, "application/json", "{}"),
        (502, "text/html", "<p>bad gateway</p>"),
        (302, "text/html", "elsewhere"),
        (204, "application/json", ""),
        (500, "application/problem+json", r#"{"code": "of_a_later_version"}"#),
    ] {
        let (address, asked) = answer_once(status, content_type, body);
        let error = Client::new(&address).unwrap().share_load(request()).await.unwrap_err();
        asked.join().unwrap();
        let text = error.to_string();
        assert!(text.contains(&status.to_string()) && text.contains(body), "{text}");
        if let Some(source) = error.source() {
            assert!(!text.contains(&source.to_string()), "{text}");
        }
        assert!(matches!(error, ClientError::Unreadable { status: read, .. } if read == status), "{text}");
    }
}

#[tokio::test]
async fn verify_nobody_there_is_a_fault_of_transport() {
    let listener = TcpListener::bind("127.0.0.1:0").unwrap();
    let address = format!("http://{}", listener.local_addr().unwrap());
    drop(listener);
    let error = Client::new(&address).unwrap().health(Probe::Live).await.unwrap_err();
    assert!(matches!(error, ClientError::Transport(_)));
    assert!(!error.to_string().contains(&error.source().unwrap().to_string()));
}

#[tokio::test]
async fn verify_a_table_is_asked_for_and_taken_only_as_one() {
    let (address, asked) = answer_once(200, "text/csv; charset=utf-8; header=present", "point\r\nA\r\n");
    let csv = Client::new(&address).unwrap().csv::<ShareLoad>(request()).await.unwrap();
    assert_eq!(csv, "point\r\nA\r\n");
    assert!(asked.join().unwrap().headers.contains("accept: text/csv"));
    for (content_type, body) in [("application/json", b"{}".as_slice()), ("text/csv", b"\xff".as_slice())] {
        let (address, asked) = answer_once(200, content_type, body);
        let error = Client::new(&address).unwrap().csv::<ShareLoad>(request()).await.unwrap_err();
        asked.join().unwrap();
        assert!(matches!(error, ClientError::Unreadable { .. }));
    }
}

#[tokio::test]
async fn verify_a_permalink_is_followed_only_for_its_own_operation() {
    let permalink = computed().permalink.unwrap();
    let (address, asked) = answer_once(200, "application/json", computed().to_json().unwrap());
    let client = Client::new(&format!("{address}/lifting/")).unwrap();
    let answer = client.again::<ShareLoad>(&permalink).await.unwrap();
    assert_eq!(answer, computed());
    assert_eq!(asked.join().unwrap().line, format!("get /lifting{permalink} http/1.1").to_ascii_lowercase());
    for foreign in [permalink.as_str(), "http://elsewhere/v1/ram-sets/size/x", ""] {
        let error = client.again::<SizeRamSet>(foreign).await.unwrap_err();
        assert!(matches!(error, ClientError::Permalink { operation: "size_ram_set", .. }));
    }
}

#[tokio::test]
async fn verify_a_name_stays_one_part_of_the_address() {
    let problem = Problem::new(ProblemCode::UnknownCatalogue, "none of this name");
    let (address, asked) = answer_once(404, "application/problem+json", serde_json::to_vec(&problem).unwrap());
    let error = Client::new(&address).unwrap().catalogue("a/../b?c#d e").await.unwrap_err();
    assert_eq!(asked.join().unwrap().line, "get /v1/catalogues/a%2f..%2fb%3fc%23d%20e http/1.1");
    assert!(matches!(error, ClientError::Problem(answered) if answered.code == ProblemCode::UnknownCatalogue));
}

#[tokio::test]
async fn verify_lists_are_read() {
    let (address, asked) = answer_once(200, "application/json", r#"{"status":"ready","version":"0.1.0"}"#);
    let health = Client::new(&address).unwrap().health(Probe::Ready).await.unwrap();
    assert_eq!((health.status.as_str(), asked.join().unwrap().line.as_str()), ("ready", "get /health/ready http/1.1"));

    let limits = ramwright_api::limits(1_048_576);
    let (address, asked) = answer_once(200, "application/json", serde_json::to_vec(&limits).unwrap());
    assert_eq!(Client::new(&address).unwrap().limits().await.unwrap(), limits);
    asked.join().unwrap();

    let units = json!({ "units": ramwright_units::UNITS });
    let (address, asked) = answer_once(200, "application/json", units.to_string());
    let read = Client::new(&address).unwrap().units().await.unwrap();
    asked.join().unwrap();
    assert_eq!(serde_json::to_value(&read).unwrap(), units);
}

#[test]
fn verify_an_address_without_a_service_is_refused() {
    for address in ["", "127.0.0.1:8080", "/v1", "ftp://host", "file:///v1", "http://"] {
        assert!(matches!(Client::new(address), Err(ClientError::Address { .. })), "{address}");
    }
}
