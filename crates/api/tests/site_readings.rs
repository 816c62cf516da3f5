//! Readings on site in a request: what is refused, what is assumed, and that nothing but the readings counts.

#![allow(clippy::unwrap_used, clippy::indexing_slicing, reason = "tests stop at what they do not expect")]

use ramwright_api::operation::{PlanLift, VerifyRamSet};
use ramwright_api::problem::{FaultCode, Problem};
use ramwright_api::{Answer, Catalogues, Operation, Prepared};
use ramwright_engine::check::{CheckId, Status};
use ramwright_engine::verify::Stands;
use serde_json::{Value, json};
use std::sync::atomic::AtomicBool;

fn ask<O: Operation>(request: &Value) -> Result<Answer<O::Result>, Problem> {
    let catalogues = Catalogues::embedded().unwrap();
    Prepared::<O>::from_json(request.to_string().as_bytes(), &catalogues)?.compute(&AtomicBool::new(false))
}

/// An invented lift that was read at all points after one step, everything as planned.
fn example() -> Value {
    serde_json::from_str(include_str!("../../../openapi/examples/site_readings.json")).unwrap()
}

fn faults<O: Operation>(request: &Value) -> Vec<(String, FaultCode)> {
    let Err(problem) = ask::<O>(request) else { return Vec::new() };
    problem.errors.into_iter().map(|fault| (fault.pointer.unwrap(), fault.code)).collect()
}

#[test]
fn verify_a_lift_that_was_read_as_planned_still_stands() {
    let answer = ask::<VerifyRamSet>(&example()).unwrap();
    let site = answer.result.site.unwrap();
    assert_eq!(site.stands, Stands::Yes, "{:?} {:?}", site.words, answer.verdict);
    let assumed: Vec<&str> = answer.assumptions.iter().map(|assumption| assumption.field.as_str()).collect();
    assert!(
        assumed.contains(&"site_gauge/class") && assumed.contains(&"site_gauge/full_scale_pressure"),
        "{assumed:?}"
    );
    // Without readings nothing is said or assumed of them.
    let mut plain = example();
    plain.as_object_mut().unwrap().remove("site_readings");
    let plain = ask::<VerifyRamSet>(&plain).unwrap();
    assert!(plain.result.site.is_none());
    assert!(plain.assumptions.iter().all(|assumption| !assumption.field.starts_with("site")));
    assert!(plain.verdict.status <= answer.verdict.status);
}

#[test]
fn verify_a_pressure_above_all_that_is_expected_fails_the_verification() {
    let mut request = example();
    request["site_readings"][1]["pressure"] = json!("640 bar");
    let answer = ask::<VerifyRamSet>(&request).unwrap();
    let site = answer.result.site.unwrap();
    assert_eq!((answer.verdict.status, site.stands), (Status::Fail, Stands::No));
    assert!(site.words.as_str().starts_with("Stop: the lift is not as planned. point 2, step"), "{}", site.words);
    let ids = [CheckId::SiteReading, CheckId::SiteWeight];
    assert!(ids.contains(&answer.verdict.governing.unwrap().check));
}

#[test]
fn verify_units_of_readings_change_no_status() {
    let metric = ask::<VerifyRamSet>(&example()).unwrap();
    let mut request = example();
    for reading in request["site_readings"].as_array_mut().unwrap() {
        for (field, unit, per_unit) in
            [("pressure", "psi", 0.068_947_572_931_683_6), ("extension", "in", 25.4), ("level", "in", 25.4)]
        {
            if let Some(text) = reading[field].as_str() {
                let (value, _) = text.split_once(' ').unwrap();
                reading[field] = json!({ "value": value.parse::<f64>().unwrap() / per_unit, "unit": unit });
            }
        }
    }
    let us = ask::<VerifyRamSet>(&request).unwrap();
    assert_ne!(us.request_digest, metric.request_digest);
    let told = |answer: &Answer<_>| -> Vec<(CheckId, String, Status)> {
        let verification: &ramwright_engine::verify::Verification = &answer.result;
        verification.checks.iter().map(|check| (check.id, check.subject.clone(), check.status)).collect()
    };
    assert_eq!(told(&us), told(&metric));
    assert_eq!(us.result.site.map(|site| site.words), metric.result.site.map(|site| site.words));
}

#[test]
fn verify_what_is_wrong_with_readings_is_said() {
    let mut request = example();
    request["site_readings"][0]["point"] = json!("11");
    request["site_readings"][2] = request["site_readings"][1].clone();
    request["site_readings"][3] = json!({ "step": 3, "point": "4" });
    let found = faults::<VerifyRamSet>(&request);
    let expected = [
        ("#/site_readings/0/point", FaultCode::UnknownId),
        ("#/site_readings/2/point", FaultCode::DuplicateId),
        ("#/site_readings/3", FaultCode::Inconsistent),
    ];
    assert_eq!(found, expected.map(|(place, code)| (place.to_owned(), code)));
    let of = |change: &dyn Fn(&mut Value)| {
        let mut request = example();
        change(&mut request);
        faults::<VerifyRamSet>(&request)
    };
    let one = |place: &str, code| vec![(place.to_owned(), code)];
    assert_eq!(of(&|r| r["site_readings"][0]["step"] = json!(0)), one("#/site_readings/0/step", FaultCode::OutOfRange));
    assert_eq!(of(&|r| r["site_readings"] = json!([])), one("#/site_readings", FaultCode::TooFewItems));
    assert_eq!(
        of(&|r| r["site_readings"][0]["pressure"] = json!(412)),
        one("#/site_readings/0/pressure", FaultCode::BareNumber)
    );
    let gauge_alone = |r: &mut Value| {
        r.as_object_mut().unwrap().remove("site_readings");
        r["site_gauge"] = json!({ "class": 0.01 });
    };
    assert_eq!(of(&gauge_alone), one("#/site_gauge", FaultCode::Inconsistent));
    // The longest list that is taken, and one more.
    let list = |count: usize| json!(vec![json!({ "step": 3, "point": "1", "level": "345 mm" }); count]);
    assert_eq!(of(&|r| r["site_readings"] = list(4097)), one("#/site_readings", FaultCode::TooManyItems));
}

#[test]
fn verify_a_step_that_the_sequence_does_not_have_is_left_open() {
    let mut request = example();
    request["site_readings"][0]["step"] = json!(999);
    let answer = ask::<VerifyRamSet>(&request).unwrap();
    let open = answer.result.checks.iter().filter(|check| check.status == Status::NotChecked);
    let missing: Vec<String> = open.flat_map(|check| &check.missing).map(ToString::to_string).collect();
    assert!(missing.iter().any(|text| text.contains("999 is no step of the sequence")), "{missing:?}");
    assert_eq!((answer.verdict.status, answer.result.site.unwrap().stands), (Status::NotChecked, Stands::NotKnown));
}

#[test]
fn verify_a_plan_takes_readings_of_the_rams_that_it_names() {
    let mut request = example();
    request["circuit"] = json!({ "pump": "heron-02", "hose": "reed-04", "flow_division": { "kind": "valve_per_point", "held_within": "6 mm" } });
    let answer = ask::<PlanLift>(&request).unwrap();
    let site = answer.result.verification.unwrap().site.unwrap();
    let expected = match answer.verdict.status {
        Status::Fail => Stands::No,
        Status::NotChecked => Stands::NotKnown,
        Status::Pass | Status::Caution => Stands::Yes,
    };
    assert_eq!(site.stands, expected, "{}", site.words);
    request.as_object_mut().unwrap().remove("ram_set");
    assert_eq!(faults::<PlanLift>(&request), [("#/site_readings".to_owned(), FaultCode::Inconsistent)]);
}

#[test]
fn verify_only_a_load_that_is_raised_goes_in_steps() {
    let request = json!({
        "load_case": { "task": "press", "travel": "40 mm", "points": [
            { "id": "1", "clearance": "400 mm", "stated_reaction": { "least": "200 kN", "expected": "280 kN", "greatest": "310 kN" } }
        ] },
        "ram_set": { "everywhere": { "ram": "willow-01" } },
        "site_readings": [{ "step": 1, "point": "1", "pressure": "300 bar" }]
    });
    assert_eq!(faults::<VerifyRamSet>(&request), [("#/site_readings".to_owned(), FaultCode::Inconsistent)]);
}
