//! Pressing and pulling in a machine frame: estimated forces, how the ram is held, the room it has, and its cycle.

#![allow(
    clippy::unwrap_used,
    clippy::panic,
    clippy::indexing_slicing,
    reason = "tests stop at what they do not expect"
)]

use ramwright_api::operation::{PlanLift, ShareLoad, VerifyRamSet};
use ramwright_api::problem::Problem;
use ramwright_api::{Answer, Catalogues, Operation, Prepared};
use ramwright_engine::check::{Check, CheckId, Scenario, Status};
use ramwright_engine::plan::LiftPlan;
use serde_json::{Value, json};
use std::sync::atomic::AtomicBool;

fn ask<O: Operation>(request: &Value) -> Result<Answer<O::Result>, Problem> {
    let catalogues = Catalogues::embedded().unwrap();
    Prepared::<O>::from_json(request.to_string().as_bytes(), &catalogues)?.compute(&AtomicBool::new(false))
}

fn example(name: &str) -> Value {
    let text = match name {
        "link_press" => include_str!("../../../openapi/examples/link_press.json"),
        "hub_pull" => include_str!("../../../openapi/examples/hub_pull.json"),
        "plate_bending" => include_str!("../../../openapi/examples/plate_bending.json"),
        _ => panic!("{name}"),
    };
    serde_json::from_str(text).unwrap()
}

fn plan(request: &Value) -> Answer<LiftPlan> {
    ask::<PlanLift>(request).unwrap_or_else(|problem| panic!("{problem:?}"))
}

/// The pointers of the faults of a request.
fn faults(request: &Value) -> Vec<String> {
    let problem = ask::<PlanLift>(request).err().unwrap_or_else(|| panic!("no fault in {request}"));
    problem.errors.into_iter().filter_map(|fault| fault.pointer).collect()
}

fn point(request: &mut Value) -> &mut Value {
    &mut request["load_case"]["points"][0]
}

/// A press of one ram with all that its checks need; the field given is set at its point.
fn press(changes: &[(&str, Value)]) -> Value {
    let mut request = json!({
        "load_case": { "task": "press", "travel": "60 mm", "points": [{
            "id": "1", "clearance": "340 mm", "limit": "900 kN", "foundation_limit": "900 kN", "head": "restrained",
            "pad": { "length": "400 mm", "width": "400 mm" },
            "stated_reaction": { "least": "200 kN", "expected": "280 kN", "greatest": "310 kN" }
        }] },
        "line_of_force": {
            "everywhere": { "off_centre": "1 mm", "lean": "0.1 deg" }, "return_line": "open", "handling": "lifting_gear"
        },
        "inline": { "rams": [{ "id": "r", "action": "double_acting", "material": "steel", "lock_collar": false,
            "effective_area": "80 cm2", "annulus_area": "60 cm2", "rated_pressure": "690 bar", "stroke": "150 mm",
            "closed_height": "300 mm", "body_diameter": "140 mm", "base_diameter": "150 mm", "mass": "40 kg",
            "plunger_diameter": "70 mm", "plunger_bore": "0 mm", "plunger_yield": "640 MPa", "stock": 4 }] },
        "ram_set": { "everywhere": { "ram": "r" } }
    });
    for (name, value) in changes {
        point(&mut request)[*name] = value.clone();
    }
    request
}

fn checked(request: &Value, id: CheckId) -> Check {
    let answer = ask::<VerifyRamSet>(request).unwrap_or_else(|problem| panic!("{problem:?}"));
    let of_id = |check: &&Check| check.id == id && check.scenario == Scenario::AsPlanned;
    answer.result.checks.iter().find(of_id).unwrap().clone()
}

fn status(request: &Value, id: CheckId) -> Status {
    checked(request, id).status
}

#[test]
fn verify_the_examples_leave_nothing_open() {
    for name in ["link_press", "hub_pull", "plate_bending"] {
        let answer = plan(&example(name));
        assert_eq!(answer.verdict.status, Status::Caution, "{name}: {:?}", answer.verdict);
        let verification = answer.result.verification.unwrap();
        let all = verification.checks.iter().chain(&answer.result.open_checks);
        let open: Vec<&Check> = all.filter(|check| check.status == Status::NotChecked).collect();
        assert!(open.is_empty(), "{name}: {open:?}");
        let estimates = verification.load_shares.estimates;
        assert_eq!(estimates.len(), 1);
        assert_eq!(estimates[0].force, verification.load_shares.points[0].share);
        assert!(!estimates[0].lines.is_empty());
        assert!(answer.cautions.iter().any(|caution| caution.code.as_str() == "estimated_force"));
        let cycle = answer.result.cycle.unwrap();
        assert!(0.0 < cycle.total.unwrap().s() && cycle.work.speed < cycle.approach.speed);
    }
}

#[test]
fn verify_an_estimate_is_checked_as_a_stated_reaction_is() {
    let mut estimated = example("link_press");
    estimated["ram_set"] = json!({ "everywhere": { "ram": "rowan-06", "count": 2 } });
    let answer = plan(&estimated);
    let force = answer.result.verification.as_ref().unwrap().load_shares.points[0].share;
    let mut stated = estimated.clone();
    point(&mut stated).as_object_mut().unwrap().remove("estimated_reaction");
    let newton = |force: ramwright_units::Force| json!({ "value": force.n(), "unit": "N" });
    point(&mut stated)["stated_reaction"] = json!({
        "least": newton(force.least), "expected": newton(force.expected), "greatest": newton(force.greatest)
    });
    let other = plan(&stated);
    let checks = |answer: &Answer<LiftPlan>| -> Vec<Check> {
        let verification = answer.result.verification.as_ref().unwrap();
        verification.checks.iter().filter(|check| check.id != CheckId::HubBore).cloned().collect()
    };
    assert_eq!(checks(&answer), checks(&other));
    assert_eq!(answer.result.circuit, other.result.circuit);
    assert!(other.result.verification.unwrap().load_shares.estimates.is_empty());
}

#[test]
fn verify_radial_and_diametral_interference_agree_when_halved() {
    let force = |measure: &str, least: &str, greatest: &str| {
        let mut request = example("link_press");
        let interference = &mut point(&mut request)["estimated_reaction"]["interference_fit"]["interference"];
        *interference = json!({ "measure": measure, "least": least, "greatest": greatest });
        let alone = json!({ "load_case": request["load_case"] });
        ask::<ShareLoad>(&alone).unwrap().result.points[0].share
    };
    assert_eq!(force("diametral", "0.0625 mm", "0.125 mm"), force("radial", "0.03125 mm", "0.0625 mm"));
    let twice =
        force("radial", "0.0625 mm", "0.125 mm").greatest / force("diametral", "0.0625 mm", "0.125 mm").greatest;
    assert!((twice - 2.0).abs() < 1e-12);
    let mut unsaid = example("link_press");
    point(&mut unsaid)["estimated_reaction"]["interference_fit"]["interference"]
        .as_object_mut()
        .unwrap()
        .remove("measure");
    assert_eq!(faults(&unsaid), ["#/load_case/points/0/estimated_reaction/interference_fit/interference/measure"]);
}

#[test]
fn verify_work_that_makes_no_force_is_a_fault() {
    let fit = "#/load_case/points/0/estimated_reaction/interference_fit";
    let of_fit = |field: &str, value: Value| {
        let mut request = example("link_press");
        point(&mut request)["estimated_reaction"]["interference_fit"][field] = value;
        faults(&request)
    };
    assert_eq!(of_fit("hub_outside_diameter", json!("160 mm")), [fit]);
    assert_eq!(of_fit("shaft_bore", json!("160 mm")), [fit]);
    assert_eq!(of_fit("interference", json!({ "measure": "radial", "least": "1 mm", "greatest": "2 mm" })), [fit]);
    assert_eq!(of_fit("friction", json!({ "least": 0.2, "greatest": 0.1 })), [format!("{fit}/friction")]);
    assert_eq!(of_fit("after_service_factor", json!(2.0)), [format!("{fit}/after_service_factor")]);
    assert_eq!(of_fit("joint_length", json!("1e9 m")), [format!("{fit}/joint_length")]);
    let mut none = example("link_press");
    point(&mut none)["estimated_reaction"] = json!({});
    assert_eq!(faults(&none), ["#/load_case/points/0/estimated_reaction"]);
    let mut both = example("link_press");
    point(&mut both)["stated_reaction"] = json!({ "expected": "300 kN" });
    assert!(faults(&both).contains(&"#/load_case/points/0/estimated_reaction".to_owned()));
    let mut wide = example("plate_bending");
    point(&mut wide)["estimated_reaction"]["air_bending"]["thickness"] = json!("20 mm");
    assert_eq!(faults(&wide), ["#/load_case/points/0/estimated_reaction/air_bending"]);
}

#[test]
fn verify_a_bar_is_bent_back() {
    let shares = |section: Value, tensile: Option<&str>| {
        let mut work = json!({ "span": "1 m", "section": section, "yield_strength": { "least": "200 MPa", "greatest": "400 MPa" } });
        if let Some(tensile) = tensile {
            work["tensile_strength"] = json!(tensile);
        }
        ask::<ShareLoad>(&json!({ "load_case": { "task": "press", "travel": "20 mm", "points": [
            { "id": "1", "estimated_reaction": { "straightening": work } }
        ] } }))
    };
    let kn = |section: Value, tensile| {
        let share = shares(section, tensile).unwrap().result.points[0].share;
        [share.least, share.expected, share.greatest].map(|force| format!("{:.6}", force.kn()))
    };
    // Z 36 cm3: 4 x 36 cm3 x 200 MPa / 1 m = 28.8 kN, by arithmetic.
    assert_eq!(kn(json!({ "diameter": "60 mm" }), Some("500 MPa")), ["28.800000", "43.200000", "72.000000"]);
    assert_eq!(kn(json!({ "width": "40 mm", "height": "60 mm" }), None), ["28.800000", "43.200000", "92.160000"]);
    assert_eq!(
        kn(json!({ "plastic_modulus": "36 cm3", "height": "60 mm" }), Some("500 MPa")),
        ["28.800000", "43.200000", "72.000000"]
    );
    assert!(shares(json!({ "diameter": "60 mm", "height": "60 mm" }), None).is_err());
    assert!(shares(json!({ "diameter": "60 mm", "bore": "60 mm" }), None).is_err());
    assert!(shares(json!({ "diameter": "60 mm" }), Some("399 MPa")).is_err());
}

#[test]
fn verify_fields_of_a_frame_are_refused_where_a_load_is_raised() {
    let mut request = press(&[
        ("mounting", json!("pins")),
        ("axis", json!("inclined")),
        ("axis_angle", json!("30 deg")),
        ("daylight", json!("900 mm")),
        ("work_height", json!("100 mm")),
        ("estimated_reaction", json!({})),
    ]);
    request["load_case"]["task"] = json!("raise");
    let found = faults(&request);
    for name in ["mounting", "axis", "axis_angle", "daylight", "work_height", "estimated_reaction"] {
        assert!(found.contains(&format!("#/load_case/points/0/{name}")), "{name}: {found:?}");
    }
}

#[test]
fn verify_contradictions_about_the_ends_are_faults() {
    let at = |name: &str| vec![format!("#/load_case/points/0/{name}")];
    let found = |changes: &[(&str, Value)]| faults(&press(changes));
    assert_eq!(found(&[("mounting", json!("base")), ("base", json!("soft"))]), at("base"));
    assert_eq!(found(&[("mounting", json!("base")), ("base_stiffness", json!("900 kN.m/rad"))]), at("base_stiffness"));
    assert_eq!(found(&[("mounting", json!("pins")), ("base", json!("steel"))]), at("base"));
    assert_eq!(found(&[("mounting", json!("front_flange")), ("base", json!("concrete"))]), at("base"));
    assert_eq!(found(&[("mounting", json!("pins")), ("head", json!("free"))]), at("head"));
    assert_eq!(found(&[("axis", json!("inclined"))]), at("axis_angle"));
    assert_eq!(found(&[("axis", json!("vertical")), ("axis_angle", json!("10 deg"))]), at("axis_angle"));
    assert_eq!(found(&[("daylight", json!("900 mm")), ("work_height", json!("500 mm"))]), at("clearance"));
    let mut alone = press(&[("daylight", json!("900 mm"))]);
    point(&mut alone).as_object_mut().unwrap().remove("clearance");
    assert_eq!(faults(&alone), at("work_height"));
}

/// Euler's loads by hand: two pins over 420 mm (300 closed, 120 out), a plunger of 70 mm alone over 300 mm.
#[test]
fn validate_the_mounting_sets_the_column() {
    let critical = |mounting: &str, head: &str| {
        let request = press(&[("mounting", json!(mounting)), ("head", json!(head))]);
        let check = checked(&request, CheckId::Stability);
        check.lines.iter().find(|line| line.symbol.as_str() == "P_cr").unwrap().value.value_si
    };
    let inertia = std::f64::consts::PI / 64.0 * 0.07_f64.powi(4);
    let euler = |length: f64| std::f64::consts::PI.powi(2) * 205e9 * inertia / (length * length);
    // Held at its front: the plunger alone, as long as the closed ram.
    assert!((critical("front_flange", "restrained") / euler(0.300) - 1.0).abs() < 1e-6);
    assert!((critical("front_flange", "free") / euler(0.600) - 1.0).abs() < 1e-6);
    // Two pins over the whole length carry less than a fixed base does, and more than the plunger's section alone.
    let (pins, base) = (critical("pins", "restrained"), critical("base", "restrained"));
    assert!(euler(0.420) < pins && pins < base, "{pins} {base}");
    assert!(critical("base", "free") < base);
    let with_base = checked(&press(&[("base", json!("steel"))]), CheckId::Stability);
    assert_eq!(with_base, checked(&press(&[("mounting", json!("base"))]), CheckId::Stability));
}

#[test]
fn verify_a_lying_ram_bends_under_its_own_weight() {
    let found = |axis: &str, angle: Option<&str>, change: &dyn Fn(&mut Value)| {
        let mut request = press(&[("mounting", json!("pins")), ("axis", json!(axis))]);
        if let Some(angle) = angle {
            point(&mut request)["axis_angle"] = json!(angle);
        }
        change(&mut request["inline"]["rams"][0]);
        checked(&request, CheckId::Stress)
    };
    let used =
        |axis, angle, mass: &'static str| found(axis, angle, &|ram| ram["mass"] = json!(mass)).utilisation.unwrap();
    let (plumb, lying) = (used("vertical", None, "40 kg"), used("horizontal", None, "40 kg"));
    assert!(plumb < used("inclined", Some("30 deg"), "40 kg") && used("inclined", Some("30 deg"), "40 kg") < lying);
    assert!(lying < used("horizontal", None, "400 kg"));
    assert!((used("inclined", Some("90 deg"), "40 kg") - lying).abs() < 1e-12);
    let without = |axis| {
        found(axis, None, &|ram| {
            ram.as_object_mut().unwrap().remove("mass");
        })
    };
    assert_eq!(without("horizontal").status, Status::NotChecked);
    assert_eq!(without("horizontal").missing[0].as_str(), "rams/r/mass");
    assert_eq!(without("vertical").status, Status::Pass);
}

#[test]
fn verify_the_work_takes_its_height_from_the_daylight() {
    let stated = press(&[("clearance", json!("340 mm"))]);
    let mut daylight = press(&[("daylight", json!("500 mm")), ("work_height", json!("160 mm"))]);
    point(&mut daylight).as_object_mut().unwrap().remove("clearance");
    for id in [CheckId::ClosedHeight, CheckId::Stroke] {
        let (one, other) = (checked(&stated, id), checked(&daylight, id));
        assert_eq!(one.status, other.status);
        assert!((one.utilisation.unwrap() - other.utilisation.unwrap()).abs() < 1e-12);
    }
    point(&mut daylight)["work_height"] = json!("500 mm");
    assert_eq!(faults(&daylight), ["#/load_case/points/0/work_height"]);
}

/// 300 mm closed and 60 mm of travel need 360 mm to the grip; out by more than 0.8 x 150 mm is too far: by arithmetic.
#[test]
fn verify_a_pull_begins_extended() {
    let pull = |clearance: &str| {
        let mut request = press(&[("clearance", json!(clearance))]);
        request["load_case"]["task"] = json!("pull");
        request
    };
    assert_eq!(status(&pull("359.9 mm"), CheckId::ClosedHeight), Status::Fail);
    assert_eq!(status(&pull("360 mm"), CheckId::ClosedHeight), Status::Pass);
    assert_eq!(status(&pull("420 mm"), CheckId::Stroke), Status::Pass);
    assert_eq!(status(&pull("420.1 mm"), CheckId::Stroke), Status::Fail);
    assert_eq!(status(&pull("400 mm"), CheckId::Stability), Status::Pass);
    // In tension the plunger is checked by its section, and what it hangs on stays a caution.
    let stress = checked(&pull("400 mm"), CheckId::Stress);
    assert_eq!(stress.status, Status::Caution);
    assert!(stress.note.unwrap().as_str().contains("thread"));
    let mut weak = pull("400 mm");
    weak["inline"]["rams"][0]["plunger_yield"] = json!("100 MPa");
    assert_eq!(status(&weak, CheckId::Stress), Status::Fail);
}

#[test]
fn verify_a_pull_counts_the_oil_that_takes_it_out() {
    let mut request = example("hub_pull");
    let found = |request: &Value| {
        let checks = plan(request).result.circuit.unwrap().checks;
        checks.iter().find(|check| check.id == CheckId::OilVolume).unwrap().status
    };
    assert_eq!(found(&request), Status::Pass);
    // Two bores of 190.6 cm2 out by 137 mm take 5.222 L, more than the annulus takes on the whole way; compression comes on top.
    let checks = plan(&request).result.circuit.unwrap().checks;
    let demand = checks.iter().find(|check| check.id == CheckId::OilVolume).unwrap().demand.unwrap();
    assert!(5.222e-3 < demand.value_si && demand.value_si < 5.6e-3, "{demand:?}");
    // Having pulled by 120 mm the rams go out again by as much, which is less than their stroke.
    let back = plan(&request).result.circuit.unwrap().retract;
    assert!((back.from.mm() - 120.0).abs() < 1e-9 && back.text.as_str().contains("out again by 120 mm"), "{back:?}");
    request["circuit"]["pump"] = json!("wren-01");
    request["circuit"]["pumps"] = json!(1);
    assert_eq!(found(&request), Status::Fail);
}

#[test]
fn verify_a_single_acting_ram_has_no_time_back() {
    let mut request = press(&[("mounting", json!("base"))]);
    request["catalogue"] = json!("demo_yard");
    request["circuit"] = json!({ "pump": "heron-02", "hose": "reed-05" });
    let cycle = |request: &Value| plan(request).result.cycle.unwrap();
    let both = cycle(&request);
    // Back on 60 of 80 cm2 at the flow of the approach.
    let ratio = both.back.unwrap().speed / both.approach.speed;
    assert!((ratio - 80.0 / 60.0).abs() < 1e-12);
    request["inline"]["rams"][0]["action"] = json!("single_acting_spring_return");
    request["inline"]["rams"][0].as_object_mut().unwrap().remove("annulus_area");
    let alone = cycle(&request);
    assert_eq!((alone.back, alone.total), (None, None));
}
