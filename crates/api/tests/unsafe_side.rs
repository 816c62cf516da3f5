//! Requests whose wrong answer would be a pass: each once hid a failure.

#![allow(clippy::unwrap_used, clippy::indexing_slicing, reason = "tests stop at what they do not expect")]

use ramwright_api::operation::{AssessCircuit, PlanLift, VerifyRamSet};
use ramwright_api::problem::{Problem, ProblemCode};
use ramwright_api::{Answer, Catalogues, Operation, Prepared};
use ramwright_engine::check::{Check, CheckId, Scenario, Status};
use serde_json::{Value, json};
use std::sync::atomic::AtomicBool;

fn ask<O: Operation>(request: &Value) -> Result<Answer<O::Result>, Problem> {
    let catalogues = Catalogues::embedded().unwrap();
    Prepared::<O>::from_json(request.to_string().as_bytes(), &catalogues)?.compute(&AtomicBool::new(false))
}

/// Three or more points at the corners given, in m, with nothing missing.
fn points(corners: &[(f64, f64)]) -> Value {
    let point = |(index, (x, y)): (usize, &(f64, f64))| {
        json!({
            "id": (index + 1).to_string(), "x": format!("{x} m"), "y": format!("{y} m"), "clearance": "320 mm",
            "limit": "900 kN", "foundation_limit": "900 kN", "pad": { "length": "900 mm", "width": "900 mm" },
            "base": "concrete"
        })
    };
    corners.iter().enumerate().map(point).collect()
}

fn triangle() -> Value {
    json!({
        "load_case": {
            "weight": "80 t", "travel": "50 mm",
            "centre_of_gravity": { "x": "2 m", "y": "1 m", "z": "1 m", "tolerance": "20 mm" },
            "points": points(&[(0.0, 0.0), (4.0, 0.0), (2.0, 3.0)])
        },
        "ram_set": { "everywhere": { "ram": "willow-01", "count": 1 } }
    })
}

fn statuses(checks: &[Check], id: CheckId) -> Vec<Status> {
    let as_planned = |check: &&Check| id == CheckId::RamLost || check.scenario == Scenario::AsPlanned;
    checks.iter().filter(|check| check.id == id).filter(as_planned).map(|check| check.status).collect()
}

#[test]
fn verify_pulling_takes_the_pressure_of_the_annulus() {
    let request = json!({
        "load_case": { "task": "pull", "travel": "60 mm", "points": [{
            "id": "1", "clearance": "360 mm", "limit": "900 kN", "foundation_limit": "900 kN", "base": "concrete",
            "pad": { "length": "400 mm", "width": "400 mm" },
            "stated_reaction": { "least": "200 kN", "expected": "280 kN", "greatest": "310 kN" }
        }] },
        "catalogue": "demo_yard",
        "inline": { "pumps": [{ "id": "p", "drive": "electric", "rated_pressure": "200 bar",
            "flow_fast": "2 L/min", "flow_slow": "2 L/min", "usable_oil": "40 L" }] },
        "ram_set": { "everywhere": { "ram": "willow-01" } },
        "circuit": { "pump": "p", "hose": "reed-05" }
    });
    assert_eq!(ask::<PlanLift>(&request).unwrap().verdict.status, Status::Fail);
}

#[test]
fn verify_a_free_head_in_a_frame_is_taken_as_free() {
    let mut request = json!({
        "load_case": { "task": "press", "travel": "700 mm", "points": [{
            "id": "1", "clearance": "1250 mm", "head": "free", "base": "steel", "limit": "900 kN",
            "foundation_limit": "900 kN", "pad": { "length": "400 mm", "width": "400 mm" },
            "stated_reaction": { "least": "100 kN", "expected": "105 kN", "greatest": "110 kN" }
        }] },
        "inline": { "rams": [{ "id": "r", "action": "double_acting", "material": "steel", "lock_collar": false,
            "effective_area": "60 cm2", "annulus_area": "20 cm2", "rated_pressure": "690 bar", "stroke": "1000 mm",
            "closed_height": "1200 mm", "body_diameter": "120 mm", "base_diameter": "130 mm",
            "plunger_diameter": "60 mm", "plunger_bore": "0 mm", "stock": 4 }] },
        "ram_set": { "everywhere": { "ram": "r" } }
    });
    let stability =
        |request: &Value| statuses(&ask::<VerifyRamSet>(request).unwrap().result.checks, CheckId::Stability);
    assert_eq!(stability(&request), [Status::Fail]);
    request["load_case"]["points"][0]["head"] = json!("restrained");
    assert_eq!(stability(&request), [Status::Pass]);
}

#[test]
fn verify_a_centre_on_the_edge_does_not_stand() {
    let mut request = triangle();
    request["load_case"]["centre_of_gravity"] = json!({ "x": "2 m", "y": "0 m", "z": "0 m", "tolerance": "0 mm" });
    assert_eq!(ask::<VerifyRamSet>(&request).unwrap_err().code, ProblemCode::NoEquilibrium);
}

#[test]
fn verify_without_its_height_the_centre_is_not_known_to_stand() {
    let mut request = triangle();
    request["load_case"]["centre_of_gravity"].as_object_mut().unwrap().remove("z");
    let answer = ask::<VerifyRamSet>(&request).unwrap();
    assert_eq!(statuses(&answer.result.checks, CheckId::Tipping), [Status::NotChecked]);
    assert_eq!(answer.verdict.status, Status::NotChecked);
}

#[test]
fn verify_a_lost_ram_overloads_what_the_rest_stands_between() {
    let mut request = json!({
        "load_case": {
            "weight": "96 t", "travel": "8 mm", "weight_tolerance": 0.05,
            "centre_of_gravity": { "x": "2.9 m", "y": "0.85 m", "z": "0.9 m", "tolerance": "50 mm" },
            "sharing": "elastic", "level_tolerance": "0.4 mm", "support_stiffness": "180 kN/mm",
            "points": points(&[(0.0, 0.0), (2.8, 0.0), (5.6, 0.0), (5.6, 1.7), (2.8, 1.7), (0.0, 1.7)])
        },
        "ram_set": { "everywhere": { "ram": "willow-01" } }
    });
    let lost = |request: &Value| {
        let answer = ask::<VerifyRamSet>(request).unwrap();
        answer.result.checks.into_iter().filter(|check| check.scenario == Scenario::OneRamLost).collect::<Vec<_>>()
    };
    assert!(lost(&request).iter().any(|check| check.utilisation.is_some()), "with strong points the rest carries it");
    for point in request["load_case"]["points"].as_array_mut().unwrap() {
        point["limit"] = json!("300 kN");
        point["foundation_limit"] = json!("300 kN");
    }
    assert!(lost(&request).iter().all(|check| check.status == Status::NotChecked));
}

#[test]
fn verify_a_circuit_is_no_better_than_the_shares_it_rests_on() {
    let request = json!({
        "load_case": { "weight": "80 t", "travel": "50 mm", "points": [
            { "id": "1", "clearance": "320 mm" }, { "id": "2", "clearance": "320 mm" }, { "id": "3", "clearance": "320 mm" }
        ] },
        "ram_set": { "everywhere": { "ram": "willow-01" } },
        "circuit": { "pump": "heron-02", "hose": "reed-05" }
    });
    assert_eq!(ask::<AssessCircuit>(&request).unwrap().verdict.status, Status::NotChecked);
}

#[test]
fn verify_oil_in_a_frame_needs_the_opening() {
    let request = json!({
        "load_case": { "task": "press", "travel": "140 mm", "points": [{
            "id": "1", "stated_reaction": { "least": "380 kN", "expected": "560 kN", "greatest": "690 kN" }
        }] },
        "ram_set": { "everywhere": { "ram": "rowan-09" } },
        "circuit": { "pump": "heron-01", "hose": "reed-02" }
    });
    let answer = ask::<PlanLift>(&request).unwrap();
    assert!(answer.result.circuit.is_none());
    assert_eq!(answer.verdict.status, Status::NotChecked);
    assert!(ask::<AssessCircuit>(&request).is_err());
}

#[test]
fn verify_what_would_be_ignored_is_refused_at_its_place() {
    let mut request = triangle();
    request["load_case"]["points"][1]["base_stiffness"] = json!("500 kN.m/rad");
    let problem = ask::<VerifyRamSet>(&request).unwrap_err();
    assert_eq!(problem.status, 422);
    assert_eq!(problem.errors[0].pointer.as_deref(), Some("#/load_case/points/1/base_stiffness"));
}

#[test]
fn verify_weak_settings_are_a_caution() {
    let verdict = |request: &Value| statuses(&ask::<VerifyRamSet>(request).unwrap().result.checks, CheckId::Settings);
    let mut request = triangle();
    assert_eq!(verdict(&request), [Status::Pass]);
    for (name, value) in [
        ("stability_factor", json!(1.0)),
        ("heavier_factor", json!(1.0)),
        ("follow_up_gap", json!("60 mm")),
        ("entry_gap", json!("0 mm")),
    ] {
        request["settings"] = json!({ name: value });
        assert_eq!(verdict(&request), [Status::Caution], "{name}");
    }
}

/// A rectangle of four points with rams linked at 1 and 2.
fn linked() -> Value {
    let mut request = triangle();
    request["load_case"]["points"] = points(&[(0.0, 0.0), (4.0, 0.0), (4.0, 3.0), (0.0, 3.0)]);
    request["load_case"]["phases"] =
        json!([{ "phase": "raising", "linked": [["1", "2"]] }, { "phase": "pause", "linked": [["1", "2"]] }]);
    request
}

#[test]
fn verify_linked_rams_share_as_the_set_has_their_areas() {
    let mut request = linked();
    let of_phases = |request: &Value| {
        let answer = ask::<VerifyRamSet>(request).unwrap();
        let worst = statuses(&answer.result.checks, CheckId::Phases).into_iter().max().unwrap();
        (worst, answer.verdict.status)
    };
    assert_eq!(of_phases(&request).0, Status::Pass);
    let at = |point: &str, count: u32| json!({ "point": point, "ram": "willow-01", "count": count });
    request["ram_set"] = json!({ "at_points": [at("1", 2), at("2", 1), at("3", 1), at("4", 1)] });
    let (check, verdict) = of_phases(&request);
    assert_eq!(check, Status::NotChecked);
    assert!(matches!(verdict, Status::NotChecked | Status::Fail));
}

#[test]
fn verify_rams_that_never_carry_do_not_pass() {
    let mut request = linked();
    request["load_case"]["phases"] = json!([{ "phase": "holding", "on_packing": ["1", "2", "3", "4"] }]);
    let problem = ask::<VerifyRamSet>(&request).unwrap_err();
    assert!(problem.errors.iter().any(|fault| fault.pointer.as_deref() == Some("#/load_case/phases")), "{problem:?}");
    request["load_case"]["phases"] = json!([{ "phase": "raising", "not_carrying": ["4"] }]);
    let answer = ask::<VerifyRamSet>(&request).unwrap();
    assert_eq!(statuses(&answer.result.checks, CheckId::Phases), [Status::NotChecked]);
    assert!(matches!(answer.verdict.status, Status::NotChecked | Status::Fail));
}

/// The heaviest stack carries 441 kN, the heaviest linked ram 222 kN.
fn held_on_stacks() -> Value {
    let mut request = linked();
    request["load_case"]["centre_of_gravity"]["y"] = json!("1.5 m");
    let phases = request["load_case"]["phases"].as_array_mut().unwrap();
    phases.push(json!({ "phase": "holding", "on_packing": ["1", "2", "3", "4"] }));
    for point in request["load_case"]["points"].as_array_mut().unwrap() {
        (point["limit"], point["foundation_limit"]) = (json!("320 kN"), json!("320 kN"));
    }
    request
}

#[test]
fn verify_a_stack_is_held_against_the_limits_where_it_stands() {
    let mut request = held_on_stacks();
    let limits = |request: &Value| {
        let answer = ask::<VerifyRamSet>(request).unwrap();
        let at_1 = |id| {
            let mut all = answer.result.checks.iter();
            all.find(|c| c.id == id && c.subject == "1" && c.scenario == Scenario::AsPlanned).unwrap().status
        };
        [at_1(CheckId::JackingPointLimit), at_1(CheckId::FoundationLimit)]
    };
    assert_eq!(limits(&request), [Status::Fail, Status::Fail], "a stack under the jacking point");
    let point = &mut request["load_case"]["points"][0];
    (point["packing_x"], point["packing_y"]) = (json!("0.2 m"), json!("0.2 m"));
    assert_eq!(limits(&request), [Status::NotChecked, Status::NotChecked], "elsewhere the limits are not known");
    let point = &mut request["load_case"]["points"][0];
    (point["packing_limit"], point["packing_foundation_limit"]) = (json!("400 kN"), json!("700 kN"));
    assert_eq!(limits(&request), [Status::Fail, Status::Pass]);
}

#[test]
fn verify_rams_that_do_not_carry_take_no_horizontal_force() {
    let mut request = linked();
    request["load_case"]["centre_of_gravity"]["x"] = json!("1.2 m");
    request["line_of_force"] = json!({ "everywhere": { "lean": "0 deg" } });
    let side = |request: &Value| {
        let answer = ask::<VerifyRamSet>(request).unwrap();
        answer.result.checks.iter().find(|check| check.id == CheckId::SideLoad).unwrap().utilisation.unwrap()
    };
    request["load_case"]["phases"] = json!([{ "phase": "raising" }]);
    let all_four = side(&request);
    request["load_case"]["phases"] =
        json!([{ "phase": "raising" }, { "phase": "raising", "name": "first end", "on_packing": ["2", "3"] }]);
    assert!((side(&request) / all_four - 2.0).abs() < 1e-9);
}

#[test]
fn verify_what_counts_only_with_positions_is_refused_without() {
    let mut request = triangle();
    request["load_case"]["centre_of_gravity"].take();
    request["load_case"].as_object_mut().unwrap().remove("centre_of_gravity");
    for point in request["load_case"]["points"].as_array_mut().unwrap() {
        let point = point.as_object_mut().unwrap();
        point.remove("x");
        point.remove("y");
        point.insert("level".to_owned(), json!("3 mm"));
        point.insert("packing_x".to_owned(), json!("1 m"));
    }
    let problem = ask::<VerifyRamSet>(&request).unwrap_err();
    let at = |pointer: &str| problem.errors.iter().any(|fault| fault.pointer.as_deref() == Some(pointer));
    assert!(at("#/load_case/points/0/level") && at("#/load_case/points/2/packing_x"), "{problem:?}");
}

#[test]
fn verify_oil_shared_between_points_is_lost_at_all_of_them() {
    let mut request = linked();
    request["ram_set"] = json!({ "everywhere": { "ram": "willow-01", "count": 2 } });
    let lost = |request: &Value| {
        let answer = ask::<VerifyRamSet>(request).unwrap();
        let mut all = answer.result.checks.iter();
        all.find(|check| check.id == CheckId::RamLost && check.subject == "1").unwrap().status
    };
    assert_eq!(lost(&request), Status::NotChecked, "points 3 and 4 alone hold nothing");
    request["load_case"]["phases"] = json!([{ "phase": "raising" }]);
    assert_eq!(lost(&request), Status::Caution, "the ram beside it carries on");
}

#[test]
fn verify_a_level_tolerance_of_zero_is_a_caution() {
    let mut request = linked();
    request["load_case"]["phases"] = json!([{ "phase": "raising" }]);
    request["load_case"]["support_stiffness"] = json!("60 kN/mm");
    request["load_case"]["level_tolerance"] = json!("0 mm");
    let answer = ask::<VerifyRamSet>(&request).unwrap();
    assert_eq!(statuses(&answer.result.checks, CheckId::LevelErrors), [Status::Caution]);
}
