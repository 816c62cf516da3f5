//! What every answer says beside its result, and that a bad answer is an answer.

use ramwright_tests::{Service, examples};
use serde_json::{Value, json};

const STATUSES: [&str; 4] = ["pass", "caution", "not_checked", "fail"];

pub(crate) async fn verify_every_example_is_answered_with_all_that_an_answer_has(service: &'static Service) {
    for (path, body) in examples::quick() {
        let reply = service.post(path, &body).await;
        let answer = reply.answer();
        assert_eq!(reply.header("cache-control"), "no-store", "{path}");
        assert_eq!(answer["units"], body["units"], "{path}");
        for name in ["request_digest", "result_digest"] {
            let digest = answer[name].as_str().unwrap().strip_prefix("sha256:").unwrap();
            assert!(digest.len() == 64 && digest.bytes().all(|byte| byte.is_ascii_hexdigit()), "{path}");
        }
        assert!(answer["permalink"].as_str().unwrap().starts_with(&format!("{path}/")), "{path}");
        assert!(answer["defaults"].as_str().unwrap().starts_with("ramwright-"), "{path}");
        assert!(STATUSES.contains(&answer["verdict"]["status"].as_str().unwrap()), "{path}");
        assert_what_a_reader_must_know(path, &answer);
        // What the service needs no catalogue for names none.
        assert_eq!(answer["catalogue"].is_object(), path != "/v1/load-shares", "{path}");
        // Time and request id make no answer differ from the next.
        let text = reply.text();
        assert!(!text.contains(reply.header("x-request-id")), "{path}");
    }
}

/// The standing cautions come first in every answer, and what is not covered is said.
fn assert_what_a_reader_must_know(path: &str, answer: &Value) {
    let cautions = answer["cautions"].as_array().unwrap();
    let codes: Vec<&str> = cautions.iter().map(|caution| caution["code"].as_str().unwrap()).collect();
    assert_eq!(codes[..2], ["deference", "oil_alone"], "{path}");
    assert!(cautions.iter().all(|caution| caution["text"].as_str().is_some_and(|text| !text.is_empty())), "{path}");
    let deference = cautions[0]["text"].as_str().unwrap();
    for word in ["local codes", "maker's data", "engineer"] {
        assert!(deference.contains(word), "{path}: {deference}");
    }
    for assumption in answer["assumptions"].as_array().unwrap() {
        assert!(!assumption["text"].as_str().unwrap().is_empty(), "{path}");
        assert!(assumption["source"]["text"].as_str().is_some_and(|text| !text.is_empty()), "{path}");
    }
}

pub(crate) async fn verify_what_does_not_fit_is_an_answer(service: &'static Service) {
    for path in ["/v1/ram-sets/size", "/v1/lift-plans"] {
        let mut body = examples::of(path);
        body["load_case"]["weight"] = json!("60000 t");
        let answer = service.post(path, &body).await.answer();
        assert_eq!(answer["verdict"]["status"], "fail", "{path}");
        let sizing = if path == "/v1/lift-plans" { &answer["result"]["sizing"] } else { &answer["result"] };
        assert_eq!(sizing["options"], json!([]), "{path}");
        let refusals = sizing["refusals"].as_array().unwrap();
        assert!(!refusals.is_empty(), "{path}");
        for refusal in refusals {
            assert!(1 <= refusal["models"].as_u64().unwrap(), "{path}");
            let nearest = &refusal["nearest"];
            assert!(nearest["ram"].is_string() && nearest["subject"].is_string(), "{path}");
            assert!(nearest["would_pass"].as_str().is_some_and(|text| !text.is_empty()), "{path}");
        }
        let capacity = refusals.iter().find(|refusal| refusal["check"] == "capacity").unwrap();
        assert!(1.0 < capacity["nearest"]["utilisation"].as_f64().unwrap(), "{path}");
    }
    let csv = service.post("/v1/ram-sets/size?format=csv", &too_heavy()).await;
    assert_eq!(csv.text().lines().count(), 1, "the head, and no ram set");
}

fn too_heavy() -> Value {
    let mut body = examples::of("/v1/ram-sets/size");
    body["load_case"]["weight"] = json!("60000 t");
    body
}

pub(crate) async fn verify_a_failed_check_is_an_answer(service: &'static Service) {
    let mut body = examples::of("/v1/ram-sets/verify");
    for point in body["load_case"]["points"].as_array_mut().unwrap() {
        point["limit"] = json!("1 kN");
    }
    let answer = service.post("/v1/ram-sets/verify", &body).await.answer();
    assert_eq!(answer["verdict"]["status"], "fail");
    let checks = answer["result"]["checks"].as_array().unwrap();
    let failed: Vec<&Value> = checks.iter().filter(|check| check["id"] == "jacking_point_limit").collect();
    assert!(!failed.is_empty());
    assert!(failed.iter().any(|check| check["status"] == "fail" && 1.0 < check["utilisation"].as_f64().unwrap()));
    // Lost only within the tolerances: an answer, with the check that fails.
    let mut body = examples::of("/v1/load-shares");
    body["load_case"]["centre_of_gravity"] = json!({"x": "0.02 m", "y": "0.88 m", "z": "1.4 m", "tolerance": "100 mm"});
    let answer = service.post("/v1/load-shares", &body).await.answer();
    let checks = answer["result"]["checks"].as_array().unwrap();
    let tipping = checks.iter().find(|check| check["id"] == "tipping").unwrap();
    assert_eq!((&tipping["status"], &answer["verdict"]["status"]), (&json!("fail"), &json!("fail")));
}
