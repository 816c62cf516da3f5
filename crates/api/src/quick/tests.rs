use super::*;
use crate::json::Node;
use crate::operation::{ShareLoad, SizeRamSet};
use crate::problem::FaultCode;
use serde_json::{Value, json};
use std::sync::atomic::AtomicBool;

fn given(pairs: &[(&str, &str)]) -> Vec<(String, String)> {
    pairs.iter().map(|(name, text)| ((*name).to_owned(), (*text).to_owned())).collect()
}

/// The request made, as JSON.
fn made(pairs: &[(&str, &str)]) -> Value {
    let pairs = given(pairs);
    let mut faults = Vec::new();
    let node = tree::request(Enquiry::RamSet, Given(&pairs), None, &mut faults);
    assert!(faults.is_empty(), "{faults:?}");
    value(&node)
}

fn value(node: &Node) -> Value {
    match node {
        Node::Null => Value::Null,
        Node::Bool(value) => json!(value),
        Node::Number(value) => json!(value),
        Node::Text(text) => json!(text),
        Node::List(items) => items.iter().map(value).collect(),
        Node::Object(fields) => Value::Object(fields.iter().map(|(name, node)| (name.clone(), value(node))).collect()),
    }
}

/// Parameter and code of each fault.
fn faults(pairs: &[(&str, &str)]) -> Vec<(String, FaultCode)> {
    let problem =
        prepare::<SizeRamSet>(&given(pairs), None, &Catalogues::default()).err().map(|problem| problem.errors);
    let faults = problem.unwrap_or_default().into_iter();
    faults.map(|fault| (fault.parameter.unwrap_or_else(|| panic!("{:?}", fault.pointer)), fault.code)).collect()
}

const LIFT: [(&str, &str); 3] = [("load", "100 t"), ("travel", "40 mm"), ("clearance", "300 mm")];

fn lift<'a>(more: &[(&'a str, &'a str)]) -> Vec<(&'a str, &'a str)> {
    LIFT.iter().chain(more).copied().collect()
}

/// The positions in metres.
fn positions(points: &str, distances: &[(&str, &str)]) -> Vec<[f64; 2]> {
    let request = made(&[&lift(&[("points", points)]), distances].concat());
    let points = request["load_case"]["points"].as_array().unwrap().clone();
    points.iter().map(|point| ["x", "y"].map(|axis| point[axis]["value"].as_f64().unwrap())).collect()
}

#[test]
fn verify_points_go_round_the_load() {
    let both = [("length", "4 m"), ("width", "3 m")];
    assert_eq!(positions("2", &both[..1]), [[0.0, 0.0], [4.0, 0.0]]);
    assert_eq!(positions("3", &both), [[0.0, 0.0], [4.0, 1.5], [0.0, 3.0]]);
    assert_eq!(positions("4", &both), [[0.0, 0.0], [4.0, 0.0], [4.0, 3.0], [0.0, 3.0]]);
    assert_eq!(positions("6", &both), [[0.0, 0.0], [2.0, 0.0], [4.0, 0.0], [4.0, 3.0], [2.0, 3.0], [0.0, 3.0]]);
    assert_eq!(positions("200", &both).len(), 200);
}

#[test]
fn verify_a_centre_that_is_not_given_is_a_guess_and_one_that_is_given_is_none() {
    let placed = lift(&[("points", "4"), ("length", "4 m"), ("width", "3 m")]);
    let centre = made(&placed)["load_case"]["centre_of_gravity"].clone();
    let metres = |value: f64| json!({"value": value, "unit": "m"});
    assert_eq!(centre, json!({"x": metres(2.0), "y": metres(1.5), "guessed": true}));
    let known = [placed, vec![("centre_x", "1.9 m"), ("centre_y", "1.4 m"), ("centre_z", "2 m")]].concat();
    let centre = made(&known)["load_case"]["centre_of_gravity"].clone();
    assert_eq!(centre, json!({"x": "1.9 m", "y": "1.4 m", "z": "2 m"}));
}

#[test]
fn verify_a_guessed_centre_is_assumed_aloud_and_no_better_for_a_weighed_load() {
    let catalogues = Catalogues::default();
    let mut request = made(&lift(&[("points", "4"), ("length", "4 m"), ("width", "3 m"), ("origin", "weighed")]));
    let mut shared = |guessed: bool| {
        request["load_case"]["centre_of_gravity"]["guessed"] = json!(guessed);
        let body = json!({"load_case": request["load_case"]}).to_string();
        let prepared = Prepared::<ShareLoad>::from_json(body.as_bytes(), &catalogues).unwrap();
        serde_json::from_slice::<Value>(&prepared.compute(&AtomicBool::new(false)).unwrap().to_json().unwrap()).unwrap()
    };
    let tolerance = |answer: &Value| {
        let assumptions = answer["assumptions"].as_array().unwrap();
        let own = assumptions.iter().find(|one| one["field"] == "load_case/centre_of_gravity/tolerance").unwrap();
        own["value"]["value"].as_f64().unwrap()
    };
    let status = |answer: &Value| {
        let checks = answer["result"]["checks"].as_array().unwrap();
        checks.iter().find(|check| check["id"] == "tolerances").unwrap()["status"].clone()
    };
    let cautioned = |answer: &Value| answer["cautions"].to_string().contains("guessed_centre");
    let (guess, found) = (shared(true), shared(false));
    // 5 % and 1 % of the diagonal of 5 m.
    assert!((tolerance(&guess) - 250.0).abs() < 1e-9 && (tolerance(&found) - 50.0).abs() < 1e-9);
    assert_eq!((status(&guess), status(&found)), (json!("caution"), json!("pass")));
    assert_eq!((cautioned(&guess), cautioned(&found)), (true, false));
}

#[test]
fn verify_the_load_of_a_frame_is_the_force_at_each_point() {
    let reaction = |load: &str, duty: &str| {
        let pairs = [("load", load), ("points", "2"), ("travel", "40 mm"), ("duty", duty)];
        let request = made(&pairs);
        assert_eq!(request["load_case"]["weight"], Value::Null);
        request["load_case"]["points"][1]["stated_reaction"]["expected"].clone()
    };
    assert_eq!(reaction("500 kN", "press"), "500 kN");
    assert_eq!(reaction("50 t", "pull"), json!({"value": 490.3325, "unit": "kN"}));
}

#[test]
fn verify_a_level_tolerance_decides_shares_only_where_it_can() {
    let level = ("level_tolerance", "5 mm");
    let without = made(&lift(&[("points", "4"), level]));
    assert_eq!(
        (&without["settings"]["level_tolerance"], &without["load_case"]["level_tolerance"]),
        (&json!("5 mm"), &Value::Null)
    );
    let placed = [("points", "4"), ("length", "4 m"), ("width", "3 m"), ("support_stiffness", "80 kN/mm"), level];
    assert_eq!(made(&lift(&placed))["load_case"]["level_tolerance"], "5 mm");
}

#[test]
fn verify_faults_are_at_parameters_once_and_in_the_order_of_the_address() {
    let bad = [
        ("clearance", "0 mm"),
        ("travel", "420"),
        ("load", "212 ton"),
        ("points", "4"),
        ("weight_tolerance", "5 %"),
        ("pad_length", "1 bar"),
        ("pad_width", "1 m"),
        ("rams_per_point", "99"),
        ("packing_lifts", "yes"),
    ];
    assert_eq!(
        faults(&bad),
        [
            ("clearance", FaultCode::OutOfRange),
            ("travel", FaultCode::BareNumber),
            ("load", FaultCode::AmbiguousUnit),
            ("weight_tolerance", FaultCode::WrongType),
            ("pad_length", FaultCode::WrongDimension),
            ("rams_per_point", FaultCode::OutOfRange),
            ("packing_lifts", FaultCode::UnknownValue),
            ("catalogue", FaultCode::UnknownId),
        ]
        .map(|(name, code)| (name.to_owned(), code))
    );
}

#[test]
fn verify_each_parameter_reaches_its_field() {
    let placed = [("points", "4"), ("length", "4 m"), ("width", "3 m")];
    // Each value is one that no other parameter has here.
    for (parameter, text) in [
        ("load", "96 t"),
        ("travel", "60 mm"),
        ("clearance", "290 mm"),
        ("duty", "raise"),
        ("weight_tolerance", "0.07"),
        ("origin", "weighed"),
        ("centre_z", "1.4 m"),
        ("centre_tolerance", "51 mm"),
        ("support_stiffness", "80 kN/mm"),
        ("horizontal_share", "0.04"),
        ("horizontal_force", "31 kN"),
        ("base", "concrete"),
        ("limit", "1500 kN"),
        ("foundation_limit", "1600 kN"),
        ("capacity_limit", "0.75"),
        ("stroke_limit", "0.7"),
        ("packing_lifts", "allowed"),
        ("rams_per_point", "2"),
        ("hire_days", "3"),
        ("catalogue", "own_yard"),
        ("units", "us"),
        ("title", "Invented"),
        ("level_tolerance", "4 mm"),
    ] {
        let others = LIFT.into_iter().filter(|(name, _)| *name != parameter).chain(placed);
        let request = made(&others.chain([(parameter, text)]).collect::<Vec<_>>());
        let declared = PARAMETERS.iter().find(|own| own.name == parameter).unwrap();
        let pointer = format!("/{}", declared.fields[0]).replace("/points/", "/points/3/");
        let found = request.pointer(&pointer).unwrap_or_else(|| panic!("{pointer} in {request}"));
        let wanted = text.parse::<f64>().map_or_else(|_| json!(text), |number| json!(number));
        assert_eq!(*found, wanted, "{parameter}");
    }
    let pad = made(&lift(&[("points", "1"), ("pad_length", "600 mm"), ("pad_width", "500 mm")]));
    assert_eq!(pad["load_case"]["points"][0]["pad"], json!({"length": "600 mm", "width": "500 mm"}));
}
