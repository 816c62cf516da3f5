//! Texts that are, or only look like, JSON, written for this suite.

use ramwright_api::problem::ProblemCode;
use ramwright_tests::{Service, examples};
use serde_json::json;

const PATH: &str = "/v1/load-shares";

/// JSON by RFC 8259; none of them is a request.
const GOOD: &[&str] = &[
    "{}",
    "[]",
    "null",
    "true",
    "false",
    "0",
    "-0",
    "7e5",
    "1E-2",
    "-1.5e+3",
    "\"\"",
    " \t\r\n{} \t\r\n",
    "[[[[[]]]]]",
    "[0, -0, 1.0]",
    "123456789012345678901234567890",
    "5e-324",
    "1e-999",
    "-0.0",
    "\"\\u0041\\n\\/\\\\\"",
    "\"\\ud83d\\ude00\"",
    "\"\u{7f}\"",
    "\"\u{2028}\"",
    "\"\u{10ffff}\"",
    "{\"\":1}",
    "{\"\\u0000\":1}",
    "{\"load_case\":{}}",
    "{\"a\":{\"a\":{}}}",
    "[{\"a\":[]},{\"a\":[]}]",
];

/// No JSON.
const BAD: &[&[u8]] = &[
    b"",
    b" ",
    b"{",
    b"}",
    b"[",
    b"]",
    b"[1",
    b"[1,",
    b"[1,]",
    b"[,1]",
    b"[1 2]",
    b"[1;2]",
    b"{\"a\"}",
    b"{\"a\":}",
    b"{\"a\":1,}",
    b"{,}",
    b"{a:1}",
    b"{'a':1}",
    b"{\"a\":1 \"b\":2}",
    b"{\"a\" 1}",
    b"{1:1}",
    b"{\"a\":1}}",
    b"{} {}",
    b"{}x",
    b"[]]",
    b"nul",
    b"None",
    b"True",
    b"NaN",
    b"Infinity",
    b"-Infinity",
    b"undefined",
    b"+1",
    b".5",
    b"5.",
    b"01",
    b"-",
    b"1e",
    b"1e+",
    b"0x10",
    b"1_000",
    b"--1",
    b"1.2.3",
    b"-.5",
    b"\"",
    b"\"a",
    b"'a'",
    b"\"\\x41\"",
    b"\"\\u12\"",
    b"\"\\uZZZZ\"",
    b"\"\\ud800\"",
    b"\"\\udc00\\ud800\"",
    b"\"a\nb\"",
    b"\"a\tb\"",
    b"\"\x00\"",
    b"\"\xff\"",
    b"\"\xc0\x80\"",
    b"\"\xed\xa0\x80\"",
    b"\"\xf4\x90\x80\x80\"",
    b"\xef\xbb\xbf{}",
    b"\xff\xfe{\x00}\x00",
    b"{\"a\":1}\x00",
    b"// {}\n{}",
    b"{/* */}",
    b"#{}",
    b"\x0c{}",
    b"\xc2\xa0{}",
    b"1e999",
    b"-1e999",
    b"[1e400]",
    b"\x1f\x8b\x08\x00",
    b"<a/>",
    b"weight=212",
];

pub(crate) async fn verify_texts_that_are_json_are_read(service: &'static Service) {
    for text in GOOD {
        let reply = service.post_bytes(PATH, *text).await;
        assert_ne!(reply.header("problem-code"), "malformed_json", "{text:?}");
        assert!([400, 422].contains(&reply.status), "{text:?}: {}", reply.text());
    }
    let nested = format!("{}{}", "[".repeat(100), "]".repeat(100));
    service.post_bytes(PATH, nested).await.problem(400, ProblemCode::InvalidRequest);
}

pub(crate) async fn verify_texts_that_are_not_json_are_refused(service: &'static Service) {
    for text in BAD {
        let reply = service.post_bytes(PATH, *text).await;
        let shown = String::from_utf8_lossy(text);
        assert_eq!(
            (reply.status, reply.header("problem-code")),
            (400, "malformed_json"),
            "{shown:?}: {}",
            reply.text()
        );
        assert!(reply.json()["detail"].as_str().unwrap().contains("line "), "{shown:?} is refused with its place");
    }
    for (open, close) in [("[", "]"), ("{\"a\":", "}")] {
        for depth in [200, 100_000] {
            let nested = format!("{}1{}", open.repeat(depth), close.repeat(depth));
            service.post_bytes(PATH, nested).await.problem(400, ProblemCode::MalformedJson);
            service.post_bytes(PATH, open.repeat(depth)).await.problem(400, ProblemCode::MalformedJson);
        }
    }
    for path in [
        "/v1/ram-sets/size",
        "/v1/ram-sets/verify",
        "/v1/packing-lifts/sequence",
        "/v1/circuits/assess",
        "/v1/lift-plans",
        "/v1/catalogues/check",
    ] {
        service.post_bytes(path, "{\"a\":1,}").await.problem(400, ProblemCode::MalformedJson);
    }
}

pub(crate) async fn verify_double_fields_are_refused(service: &'static Service) {
    let good = examples::of(PATH).to_string();
    // The second would win in many readers, the first in others.
    let doubled = good.replacen("\"weight\":", "\"weight\":\"1 t\",\"weight\":", 1);
    let faults = service.post_bytes(PATH, doubled).await.faults(400);
    assert_eq!(faults, [("#/load_case/weight".to_owned(), "duplicate_field".to_owned())]);
    let escaped = good.replacen("\"weight\":", "\"\\u0077eight\":\"1 t\",\"weight\":", 1);
    let faults = service.post_bytes(PATH, escaped).await.faults(400);
    assert_eq!(faults, [("#/load_case/weight".to_owned(), "duplicate_field".to_owned())]);
    let inside = good.replacen("\"64 t\"", "{\"value\":64,\"unit\":\"t\",\"value\":65}", 1);
    let faults = service.post_bytes(PATH, inside).await.faults(400);
    assert_eq!(faults, [("#/load_case/weight/value".to_owned(), "duplicate_field".to_owned())]);
}

pub(crate) async fn verify_odd_values_in_fields_are_faults_and_no_more(service: &'static Service) {
    for (weight, status, code) in [
        (json!("64"), 400, "bare_number"),
        (json!("64 T"), 400, "unknown_unit"),
        (json!("t"), 400, "not_a_quantity"),
        (json!("1,5 t"), 400, "not_a_quantity"),
        (json!("64 mm"), 400, "wrong_dimension"),
        (json!("NaN t"), 400, "not_a_quantity"),
        (json!("1e400 t"), 422, "not_finite"),
        (json!("1e308 t"), 422, "not_finite"),
        (json!("-0 t"), 422, "out_of_range"),
        (json!("5e-324 t"), 422, "out_of_range"),
        (json!({"value": "64", "unit": "t"}), 400, "wrong_type"),
        (json!({"value": 64, "unit": null}), 400, "wrong_type"),
        (json!({"value": 64, "unit": "ton"}), 400, "ambiguous_unit"),
        (json!({"value": 64}), 400, "missing_field"),
        (json!(["64 t"]), 400, "wrong_type"),
        (json!(false), 400, "wrong_type"),
        (json!("6\u{0664} t"), 400, "unknown_unit"),
        (json!("64 t\u{0}"), 400, "unknown_unit"),
    ] {
        let mut body = examples::of(PATH);
        body["load_case"]["weight"] = weight.clone();
        let faults = service.post(PATH, &body).await.faults(status);
        assert!(faults.len() == 1 && faults[0].0.starts_with("#/load_case/weight"), "{weight}: {faults:?}");
        assert_eq!(faults[0].1, code, "{weight}");
    }
    // Names are text and may be anything that can be printed; they come back as they were sent.
    for id in ["1", "-1", "=1+1", "\u{202e}abc", "<b>", "point \"A\"", "\u{1f3d7}"] {
        let mut body = examples::of(PATH);
        body["load_case"]["points"][0]["id"] = json!(id);
        let answer = service.post(PATH, &body).await.answer();
        let points = answer["result"]["points"].as_array().unwrap();
        assert!(points.iter().any(|point| point["point"] == id), "{id}");
    }
}
