//! Readings on site, asked of the running service.

use ramwright_tests::Service;
use serde_json::{Value, json};

const PATH: &str = "/v1/ram-sets/verify";

fn example() -> Value {
    serde_json::from_str(include_str!("../../openapi/examples/site_readings.json")).unwrap()
}

pub(crate) async fn verify_readings_say_whether_the_plan_stands(service: &'static Service) {
    let as_planned = service.post(PATH, &example()).await.answer();
    assert_eq!(as_planned["result"]["site"]["stands"], "yes", "{}", as_planned["result"]["site"]);
    assert_ne!(as_planned["verdict"]["status"], "fail");
    let mut heavy = example();
    heavy["site_readings"][0]["pressure"] = json!("650 bar");
    let heavy = service.post(PATH, &heavy).await.answer();
    assert_eq!((&heavy["result"]["site"]["stands"], &heavy["verdict"]["status"]), (&json!("no"), &json!("fail")));
    let checks = heavy["result"]["checks"].as_array().unwrap();
    let failed: Vec<&str> =
        checks.iter().filter(|check| check["status"] == "fail").map(|check| check["id"].as_str().unwrap()).collect();
    assert!(failed.contains(&"site_reading"), "{failed:?}");
    assert!(failed.iter().all(|id| id.starts_with("site_")), "{failed:?}");
}

pub(crate) async fn verify_the_order_of_readings_changes_nothing(service: &'static Service) {
    let mut backwards = example();
    backwards["site_readings"].as_array_mut().unwrap().reverse();
    let (one, other) = (service.post(PATH, &example()).await.answer(), service.post(PATH, &backwards).await.answer());
    assert_eq!(one["result_digest"], other["result_digest"]);
    assert_ne!(one["request_digest"], other["request_digest"]);
}
