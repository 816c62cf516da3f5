//! How the service ends.

use std::io::Write;
use std::time::{Duration, Instant};

use crate::support::{PATIENCE, Serving, connect, get, read_all};

const BODY: &str = r#"{"load_case":{"weight":"40 t","travel":"10 mm","points":[{"id":"1"},{"id":"2"}]}}"#;

/// Begins a request and keeps back the end of its body.
fn begin(serving: &Serving) -> (std::net::TcpStream, &'static str) {
    let mut stream = connect(serving.address);
    let (sent, kept) = BODY.split_at(20);
    let head = "POST /v1/load-shares HTTP/1.1\r\nHost: x\r\nContent-Type: application/json\r\nContent-Length:";
    write!(stream, "{head} {}\r\n\r\n{sent}", BODY.len()).unwrap();
    stream.flush().unwrap();
    (stream, kept)
}

/// Waits until the service says that it is stopping.
fn wait_until_not_ready(serving: &Serving) -> String {
    let begun = Instant::now();
    loop {
        let ready = get(serving.address, "/health/ready");
        if ready.starts_with("HTTP/1.1 503") {
            return ready;
        }
        assert!(ready.starts_with("HTTP/1.1 200") && begun.elapsed() < PATIENCE, "{ready}");
        std::thread::sleep(Duration::from_millis(10));
    }
}

#[test]
fn verify_the_first_signal_drains() {
    for signal in ["TERM", "INT"] {
        let serving = Serving::start(&[("RAMWRIGHT_DRAIN_SETTLE_S", "1.5")]);
        assert!(get(serving.address, "/health/ready").starts_with("HTTP/1.1 200"));
        let (mut open, kept) = begin(&serving);
        serving.signal(signal);
        // First it says so, still answering, for a balancer to notice.
        let not_ready = wait_until_not_ready(&serving);
        assert!(not_ready.contains("problem-code: service_unavailable") && not_ready.contains("retry-after: "));
        assert!(get(serving.address, "/health/live").starts_with("HTTP/1.1 200"));
        assert!(get(serving.address, "/v1/limits").starts_with("HTTP/1.1 200"));
        // Then it takes nothing new, and what is open is answered.
        let begun = Instant::now();
        while std::net::TcpStream::connect(serving.address).is_ok() {
            assert!(begun.elapsed() < PATIENCE, "it listens still");
            std::thread::sleep(Duration::from_millis(20));
        }
        open.write_all(kept.as_bytes()).unwrap();
        let answer = read_all(open);
        assert!(answer.starts_with("HTTP/1.1 200") && answer.contains("\"share_load\""), "{signal}: {answer}");
        let (status, log) = serving.end();
        assert_eq!(status.code(), Some(0), "{signal}: {log}");
        assert!(log.contains("every request was finished"), "{log}");
    }
}

#[test]
fn verify_the_second_signal_ends_at_once() {
    let mut serving = Serving::start(&[("RAMWRIGHT_DRAIN_SETTLE_S", "600"), ("RAMWRIGHT_DRAIN_TIMEOUT_S", "600")]);
    let (open, _) = begin(&serving);
    serving.signal("TERM");
    serving.log_line("not ready any more");
    serving.signal("TERM");
    let (status, log) = serving.end();
    assert_eq!(status.code(), Some(1), "{log}");
    assert!(log.contains("asked twice"), "{log}");
    drop(open);
}

#[test]
fn verify_a_request_that_does_not_end_is_given_up() {
    let variables = [("RAMWRIGHT_DRAIN_SETTLE_S", "0"), ("RAMWRIGHT_DRAIN_TIMEOUT_S", "0.3")];
    let serving = Serving::start(&variables);
    let (open, _) = begin(&serving);
    // Once this is answered, the request above has been taken in.
    get(serving.address, "/health/live");
    serving.signal("TERM");
    let (status, log) = serving.end();
    assert_eq!(status.code(), Some(0), "{log}");
    assert!(log.contains("still open were given up"), "{log}");
    drop(open);
}
