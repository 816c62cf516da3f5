//! `validate_only=true`: what a request is understood as, without its answer.

use ramwright_tests::{Service, examples};
use serde_json::{Value, json};

fn validated(path: &str) -> String {
    format!("{path}?validate_only=true")
}

fn transformer() -> Value {
    serde_json::from_str(include_str!("../../openapi/examples/transformer.json")).unwrap()
}

pub(crate) async fn verify_validating_says_of_a_request_what_its_answer_does(service: &'static Service) {
    for (path, body) in examples::quick() {
        let (answer, read) =
            (service.post(path, &body).await.answer(), service.post(&validated(path), &body).await.answer());
        for same in ["operation", "defaults", "catalogue", "units", "request", "request_digest", "assumptions"] {
            assert_eq!(read[same], answer[same], "{path}: {same}");
        }
        assert_eq!((&read["valid"], read.get("result")), (&json!(true), None), "{path}");
        let cautions = answer["cautions"].as_array().unwrap();
        let told = read["cautions"].as_array().unwrap();
        assert!(!told.is_empty() && told.iter().all(|caution| cautions.contains(caution)), "{path}: {told:?}");
        let not = service.post(&format!("{path}?validate_only=false"), &body).await.answer();
        assert_eq!(not["result_digest"], answer["result_digest"], "{path}");
    }
}

pub(crate) async fn verify_validating_finds_the_same_faults(service: &'static Service) {
    let mut body = transformer();
    body["load_case"]["weight"] = json!("212 ton");
    body["load_case"]["points"][1]["clearance"] = json!(335);
    body["circuit"]["pump"] = json!("heron-20");
    body["nonsense"] = json!(1);
    let computed = service.post("/v1/lift-plans", &body).await;
    let read = service.post(&validated("/v1/lift-plans"), &body).await;
    assert_eq!(read.faults(400), computed.faults(400));
    assert_eq!(read.faults(400).len(), 4);
}

/// Whether a load stands on its points is worked out, and so is not known when nothing is.
pub(crate) async fn verify_validating_computes_nothing(service: &'static Service) {
    let mut body = transformer();
    body["load_case"]["centre_of_gravity"]["x"] = json!("9 m");
    assert_eq!(service.post("/v1/lift-plans", &body).await.status, 422);
    let read = service.post(&validated("/v1/lift-plans"), &body).await;
    assert_eq!((read.status, &read.answer()["valid"]), (200, &json!(true)));
    for (query, status) in [
        ("validate_only=true&view=plan", 422),
        ("validate_only=true&theme=dark", 422),
        ("validate_only=true&format=csv", 406),
        ("validate_only=true&format=json", 200),
        ("validate_only=yes", 400),
        ("validate_only=true&validate_only=true", 400),
    ] {
        assert_eq!(service.post(&format!("/v1/lift-plans?{query}"), &transformer()).await.status, status, "{query}");
    }
    assert_eq!(service.get("/v1/units?validate_only=true").await.status, 400, "only where it is described");
}
