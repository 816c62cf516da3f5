//! What is wrong with a request is said all at once, each fault with its place, and how to put it right.

use ramwright_api::problem::{Fault, ProblemCode};
use ramwright_tests::{Reply, Service, examples};
use serde_json::{Value, json};

fn pairs(expected: &[(&str, &str)]) -> Vec<(String, String)> {
    expected.iter().map(|(pointer, code)| ((*pointer).to_owned(), (*code).to_owned())).collect()
}

fn fault(reply: &Reply, pointer: &str) -> Fault {
    let problem: ramwright_api::problem::Problem = serde_json::from_slice(&reply.body).unwrap();
    let found = problem.errors.into_iter().find(|fault| fault.pointer.as_deref() == Some(pointer));
    found.unwrap_or_else(|| panic!("no fault at {pointer}: {}", reply.text()))
}

pub(crate) async fn verify_four_faults_are_named_in_document_order(service: &'static Service) {
    let body = r#"{
        "load_case": {
            "travel": 420,
            "weight": "80 ton",
            "centre_of_gravity": {"x": "1 m", "y": "0.5 m", "tolerence": "20 mm"},
            "points": [
                {"id": "1", "x": "0 ft", "y": "0 ft"},
                {"id": "2", "x": "6 ft", "y": "0 ft"},
                {"id": "3", "x": "9000 ft", "y": "6 ft"}
            ]
        }
    }"#;
    let reply = service.post_bytes("/v1/load-shares", body).await;
    let expected = pairs(&[
        ("#/load_case/travel", "bare_number"),
        ("#/load_case/weight", "ambiguous_unit"),
        ("#/load_case/centre_of_gravity/tolerence", "unknown_field"),
        ("#/load_case/points/2/x", "out_of_range"),
    ]);
    assert_eq!(reply.faults(400), expected);
    let bare = fault(&reply, "#/load_case/travel");
    assert_eq!(bare.given.as_deref(), Some("420"));
    assert!(bare.hint.unwrap().contains("\"420 "));
    let ton = fault(&reply, "#/load_case/weight");
    for reading in [
        "80 t (tonne, 784.5 kN)",
        "80 ton_us (short ton of 2000 lb, 711.7 kN)",
        "80 ton_uk (long ton of 2240 lb, 797.1 kN)",
    ] {
        assert!(ton.detail.contains(reading), "{}", ton.detail);
    }
    assert_eq!(fault(&reply, "#/load_case/centre_of_gravity/tolerence").nearest.as_deref(), Some("tolerance"));
    let range = fault(&reply, "#/load_case/points/2/x");
    assert_eq!(range.given.as_deref(), Some("9000 ft"));
    let limit_ft: f64 = range.limit.unwrap().strip_suffix(" ft").unwrap().parse().unwrap();
    assert!((limit_ft - 1000.0 / 0.3048).abs() < 1e-9, "the limit is in the unit that was sent");
}

pub(crate) async fn verify_a_range_alone_is_unprocessable(service: &'static Service) {
    let mut body = examples::of("/v1/load-shares");
    body["load_case"]["weight"] = json!("-3 lb");
    body["load_case"]["weight_tolerance"] = json!(0.75);
    let reply = service.post("/v1/load-shares", &body).await;
    let expected = pairs(&[("#/load_case/weight", "out_of_range"), ("#/load_case/weight_tolerance", "out_of_range")]);
    assert_eq!(reply.faults(422), expected);
    let weight = fault(&reply, "#/load_case/weight");
    assert_eq!(weight.given.as_deref(), Some("-3 lb"));
    assert!(weight.limit.unwrap().ends_with(" lb"));
    assert_eq!(fault(&reply, "#/load_case/weight_tolerance").limit.as_deref(), Some("0.5"));
}

pub(crate) async fn verify_unknown_ids_are_named_with_the_nearest(service: &'static Service) {
    let mut circuit = examples::of("/v1/circuits/assess");
    circuit["settings"] = json!({"packing": ["slate-03"]});
    let given = |pointer: &str| circuit.pointer(pointer).and_then(Value::as_str).unwrap().to_owned();
    for pointer in ["/catalogue", "/ram_set/everywhere/ram", "/circuit/pump", "/circuit/hose", "/settings/packing/0"] {
        let right = given(pointer);
        // Two letters changed places.
        let wrong: String = right[1..2].chars().chain(right[..1].chars()).chain(right[2..].chars()).collect();
        let mut body = circuit.clone();
        *body.pointer_mut(pointer).unwrap() = json!(wrong);
        let reply = service.post("/v1/circuits/assess", &body).await;
        let place = format!("#{pointer}");
        assert_eq!(reply.faults(422), [(place.clone(), "unknown_id".to_owned())], "{pointer}");
        let fault = fault(&reply, &place);
        assert_eq!((fault.given, fault.nearest), (Some(wrong), Some(right)), "{pointer}");
    }
    let problem = service.get("/v1/catalogues/demo_yrad").await.problem(404, ProblemCode::UnknownCatalogue);
    assert!(problem.detail.contains("demo_yard"), "{}", problem.detail);
}

pub(crate) async fn verify_no_equilibrium_is_unprocessable_with_its_direction(service: &'static Service) {
    let paths = [
        "/v1/load-shares",
        "/v1/ram-sets/size",
        "/v1/ram-sets/verify",
        "/v1/packing-lifts/sequence",
        "/v1/circuits/assess",
        "/v1/lift-plans",
    ];
    for path in paths {
        let mut body = examples::of(path);
        // Far out along x, beyond every point.
        body["load_case"]["centre_of_gravity"]["x"] = json!("60 m");
        let problem = service.post(path, &body).await.problem(422, ProblemCode::NoEquilibrium);
        let direction = problem.direction.unwrap_or_else(|| panic!("{path}: no direction"));
        // Square to the edge over which it tips, and that edge is on the side of the centre of gravity.
        assert!(0.5 < direction.x, "{path}: {direction:?}");
        assert!((direction.x.hypot(direction.y) - 1.0).abs() < 1e-9, "{path}: {direction:?}");
    }
}

pub(crate) async fn verify_contradictions_are_unprocessable(service: &'static Service) {
    let mut body = examples::of("/v1/load-shares");
    body["load_case"]["points"][1]["id"] = body["load_case"]["points"][0]["id"].clone();
    body["load_case"]["points"][3]["x"] = body["load_case"]["points"][2]["x"].clone();
    let expected = pairs(&[("#/load_case/points/1/id", "duplicate_id"), ("#/load_case/points/3/x", "inconsistent")]);
    assert_eq!(service.post("/v1/load-shares", &body).await.faults(422), expected);
    let mut body = examples::of("/v1/load-shares");
    body["load_case"].as_object_mut().unwrap().remove("centre_of_gravity");
    body["load_case"].as_object_mut().unwrap().remove("support_stiffness");
    let faults = service.post("/v1/load-shares", &body).await.faults(422);
    assert!(faults.contains(&("#/load_case/centre_of_gravity".to_owned(), "inconsistent".to_owned())), "{faults:?}");
}
