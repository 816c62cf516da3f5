//! What a request says of its circuit, and what is assumed where it says nothing.

#![allow(clippy::unwrap_used, clippy::indexing_slicing, reason = "tests stop at what they do not expect")]

use ramwright_api::operation::AssessCircuit;
use ramwright_api::{Answer, Catalogues, Prepared};
use ramwright_engine::check::{CheckId, Status};
use ramwright_engine::circuit::{CircuitAssessment, RetractOutcome};
use serde_json::{Value, json};
use std::sync::atomic::AtomicBool;

/// The invented example: three spring-return rams on long hoses in the cold.
fn example() -> Value {
    serde_json::from_str(include_str!("../../../openapi/examples/circuit.json")).unwrap()
}

fn with(changes: &[(&str, Value)]) -> Value {
    let mut request = example();
    for (field, value) in changes {
        request["circuit"][*field] = value.clone();
    }
    request
}

fn answer(request: &Value) -> Answer<CircuitAssessment> {
    let catalogues = Catalogues::embedded().unwrap();
    let prepared = Prepared::<AssessCircuit>::from_json(request.to_string().as_bytes(), &catalogues).unwrap();
    prepared.compute(&AtomicBool::new(false)).unwrap()
}

/// The places of the faults of a request.
fn faults(request: &Value) -> Vec<String> {
    let catalogues = Catalogues::embedded().unwrap();
    let problem = Prepared::<AssessCircuit>::from_json(request.to_string().as_bytes(), &catalogues).err().unwrap();
    problem.errors.iter().map(|fault| fault.pointer.clone().unwrap_or_default()).collect()
}

fn status(answer: &Answer<CircuitAssessment>, id: CheckId) -> Status {
    answer.result.checks.iter().find(|check| check.id == id).unwrap().status
}

/// A grade is the middle of ISO 3448 at 40 degrees Celsius.
#[test]
fn validate_grades_of_iso_3448() {
    for (grade, mm2_per_s) in [("vg_15", 15.0), ("vg_22", 22.0), ("vg_32", 32.0), ("vg_46", 46.0), ("vg_68", 68.0)] {
        let found = answer(&with(&[("oil", json!({ "grade": grade, "temperature": "40 degC" }))]));
        let viscosity = found.result.hose_run.unwrap().viscosity.mm2_per_s();
        assert!((viscosity / mm2_per_s - 1.0).abs() < 1e-12, "{grade}: {viscosity}");
    }
    let by_grade = answer(&with(&[("oil", json!({ "grade": "vg_32", "temperature": "5 degC" }))]));
    let both = json!({ "viscosity_40": "32 mm2/s", "viscosity_100": "5.4 mm2/s", "temperature": "5 degC" });
    assert_eq!(by_grade.result, answer(&with(&[("oil", both)])).result);
}

#[test]
fn verify_the_oil_is_said_in_one_way() {
    let oil = |oil: Value| faults(&with(&[("oil", oil)]));
    let at = "#/circuit/oil/grade";
    assert_eq!(oil(json!({ "temperature": "5 degC" })), [at]);
    assert_eq!(oil(json!({ "viscosity_40": "32 mm2/s", "temperature": "5 degC" })), [at]);
    let twice =
        json!({ "grade": "vg_32", "viscosity_40": "32 mm2/s", "viscosity_100": "5 mm2/s", "temperature": "5 degC" });
    assert_eq!(oil(twice), [at]);
    let warmer = json!({ "grade": "vg_32", "temperature": "5 degC", "coldest": "6 degC" });
    assert_eq!(oil(warmer), ["#/circuit/oil/coldest"]);
}

#[test]
fn verify_the_division_of_the_flow_is_said_whole() {
    let division = |division: Value| faults(&with(&[("flow_division", division)]));
    assert_eq!(division(json!({ "kind": "split_flow" })), ["#/circuit/flow_division/error"]);
    assert_eq!(division(json!({ "kind": "manifold", "error": 0.1 })), ["#/circuit/flow_division/error"]);
    let wrong = json!({ "kind": "valve_per_point", "levelled_every": "20 mm" });
    assert_eq!(division(wrong), ["#/circuit/flow_division/levelled_every"]);
    // A divider without any error, or points held to nothing, would pass whatever the tolerance is.
    let perfect = json!({ "kind": "split_flow", "error": 0 });
    assert_eq!(division(perfect), ["#/circuit/flow_division/error"]);
    let perfect = json!({ "kind": "valve_per_point", "held_within": "0 mm" });
    assert_eq!(division(perfect), ["#/circuit/flow_division/held_within"]);
    let found = |division| status(&answer(&with(&[("flow_division", division)])), CheckId::LevelControl);
    assert_eq!(found(json!({ "kind": "split_flow", "error": 0.04 })), Status::Pass);
    assert_eq!(found(json!({ "kind": "manifold" })), Status::Fail);
    assert_eq!(found(json!({ "kind": "valve_per_point" })), Status::NotChecked);
    assert_eq!(found(json!(null)), Status::NotChecked);
}

/// What is not stated is listed; what is stated is not.
#[test]
fn verify_what_is_assumed_is_listed() {
    let assumed = |request: &Value| -> Vec<String> {
        let fields = answer(request).assumptions.into_iter().map(|assumption| assumption.field);
        fields.filter(|field| field.starts_with("circuit")).collect()
    };
    let whole = with(&[
        ("fittings_k", json!(20)),
        ("back_pressure", json!("0.5 bar")),
        ("pump_efficiency", json!(0.8)),
        (
            "oil",
            json!({ "viscosity_40": "32 mm2/s", "viscosity_100": "5.4 mm2/s", "temperature": "5 degC",
                "density_kg_per_m3": 860, "bulk_modulus": "1.6 GPa" }),
        ),
    ]);
    assert_eq!(assumed(&whole), Vec::<String>::new());
    for field in ["fittings_k", "back_pressure", "pump_efficiency", "oil/density_kg_per_m3", "oil/bulk_modulus"] {
        let place = format!("circuit/{field}");
        assert!(assumed(&example()).contains(&place), "{place}: {:?}", assumed(&example()));
    }
}

/// The example shows what long hoses, cold oil and a spring cost.
#[test]
fn verify_the_example_has_a_retract_time_and_advice() {
    let found = answer(&example()).result;
    assert_eq!(found.retract.outcome, RetractOutcome::Retracts);
    let codes: Vec<&str> = found.advice.iter().map(|advice| advice.code.as_str()).collect();
    assert!(codes.contains(&"double_acting") && codes.contains(&"warm_oil"), "{codes:?}");
    let [stated, coldest] = found.at_temperatures.as_slice() else { unreachable!("two temperatures are stated") };
    assert!(stated.retract < coldest.retract && coldest.retract == found.retract.time);
    assert!(stated.pump_pressure < coldest.pump_pressure && coldest.pump_pressure == found.pump_pressure);
}

/// A pump's curve is taken as a list and as a line of text, and they give one answer.
#[test]
fn verify_a_curve_as_list_and_as_text() {
    let own = |curve: Value| {
        let mut request = with(&[("pump", json!("own"))]);
        request["inline"] = json!({ "pumps": [{
            "id": "own", "drive": "electric", "rated_pressure": "700 bar", "flow_fast": "8 L/min",
            "flow_slow": "1 L/min", "usable_oil": "30 L", "flow_curve": curve
        }] });
        request
    };
    let list = json!([{ "pressure": "0 bar", "flow": "8 L/min" }, { "pressure": "700 bar", "flow": "1 L/min" }]);
    let (by_list, by_text) = (answer(&own(list)), answer(&own(json!("0 bar: 8 L/min; 700 bar: 1 L/min"))));
    assert_eq!(by_list.request_digest, by_text.request_digest);
    assert_eq!(by_list.result, by_text.result);
    let rising = json!("0 bar: 2 L/min; 700 bar: 3 L/min");
    assert_eq!(faults(&own(rising)), ["#/inline/pumps/0/flow_curve"]);
}
