//! Every check can fail, and just passes just below; every input that is taken away leaves just its checks open.

#![allow(
    clippy::unwrap_used,
    clippy::indexing_slicing,
    clippy::panic,
    reason = "tests stop at what they do not expect"
)]

use ramwright_api::operation::PlanLift;
use ramwright_api::{Catalogues, Prepared};
use ramwright_engine::check::{Check, CheckId, Scenario, Status};
use serde_json::{Value, json};
use std::collections::BTreeSet;
use std::sync::atomic::AtomicBool;

/// The demonstration transformer: an invented lift with everything stated.
fn transformer() -> Value {
    serde_json::from_str(include_str!("../../../openapi/examples/transformer.json")).unwrap()
}

/// The same with the rams that the search finds for it, written out so that one number can be changed.
fn written_out() -> Value {
    let mut request = transformer();
    request["ram_set"] = json!({ "everywhere": { "ram": "own", "count": 1 } });
    request["inline"] = json!({
        "rams": [{
            "id": "own", "action": "single_acting_spring_return", "material": "steel", "lock_collar": true,
            "effective_area": "229 cm2", "rated_pressure": "675 bar", "stroke": "127 mm", "closed_height": "261 mm",
            "body_diameter": "220 mm", "base_diameter": "227 mm", "plunger_diameter": "163 mm", "plunger_bore": "49 mm",
            "plunger_yield": "640 MPa", "saddle_diameter": "130 mm", "saddle_tilt_limit": "4 deg",
            "side_load_limit_ratio": 0.023, "mass": "70 kg", "stock": 6
        }],
        "packing": THICKNESSES.map(piece)
    });
    request["settings"]["packing"] = json!(THICKNESSES.map(|thickness| format!("own-{thickness}")));
    request
}

/// Thicknesses of the pieces in mm.
const THICKNESSES: [u32; 7] = [2, 5, 10, 20, 40, 75, 120];

/// A square steel piece of an invented yard.
fn piece(thickness: u32) -> Value {
    json!({
        "id": format!("own-{thickness}"), "material": "steel", "form": "block", "thickness": format!("{thickness} mm"),
        "length": "280 mm", "width": "280 mm", "mass": "20 kg", "settlement_least": "0 mm",
        "settlement_greatest": "0.1 mm", "load_limit": "6000 kN", "yield_strength": "265 MPa", "use": "either",
        "stock": 80
    })
}

fn checks_of(request: &Value) -> Vec<Check> {
    let catalogues = Catalogues::embedded().unwrap();
    let prepared = Prepared::<PlanLift>::from_json(request.to_string().as_bytes(), &catalogues);
    let prepared = prepared.unwrap_or_else(|problem| panic!("{problem:?}"));
    let answer = prepared.compute(&AtomicBool::new(false)).unwrap_or_else(|problem| panic!("{problem:?}"));
    let verification = answer.result.verification.unwrap();
    let circuit = answer.result.circuit.into_iter().flat_map(|circuit| circuit.checks);
    verification.checks.into_iter().chain(circuit).chain(answer.result.open_checks).collect()
}

/// The worst status of a check as planned.
fn worst(checks: &[Check], id: CheckId) -> Status {
    let of_id = checks.iter().filter(|check| check.id == id && check.scenario == Scenario::AsPlanned);
    of_id.map(|check| check.status).max().unwrap_or_else(|| panic!("no check {id:?}"))
}

/// A change by one number that a check hangs on: its place, its unit, a number that passes and one that fails.
struct Edge {
    id: CheckId,
    places: &'static [&'static str],
    unit: &'static str,
    passes: f64,
    fails: f64,
    prepare: fn(&mut Value),
}

const fn edge(id: CheckId, places: &'static [&'static str], unit: &'static str, passes: f64, fails: f64) -> Edge {
    Edge { id, places, unit, passes, fails, prepare: |_| {} }
}

const EVERYWHERE: &str = "/line_of_force/everywhere";

fn set(request: &mut Value, place: &str, value: Value) {
    let place = place.replace("~everywhere", EVERYWHERE);
    let (parent, field) = place.rsplit_once('/').unwrap();
    let parent = request.pointer_mut(parent).unwrap_or_else(|| panic!("{parent}"));
    parent[field] = value;
}

fn of_timber(request: &mut Value) {
    for index in 0..THICKNESSES.len() {
        let piece = &mut request["inline"]["packing"][index];
        piece["material"] = json!("hardwood");
        (piece["nds_species"], piece["en338_class"]) = (json!("white_oak"), json!("d30_2016"));
        (piece["length"], piece["width"]) = (json!("590 mm"), json!("490 mm"));
        (piece["settlement_greatest"], piece["load_limit"]) = (json!("0.5 mm"), json!("6000 kN"));
        piece.as_object_mut().unwrap().remove("yield_strength");
    }
    for point in request["load_case"]["points"].as_array_mut().unwrap() {
        (point["base"], point["base_stiffness"]) = (json!("soft"), json!("900000 kN.m/rad"));
    }
}

fn double_acting(request: &mut Value) {
    let ram = &mut request["inline"]["rams"][0];
    (ram["action"], ram["annulus_area"]) = (json!("double_acting"), json!("60 cm2"));
    request["line_of_force"]["return_line"] = json!("relief");
}

fn a_slab(request: &mut Value) {
    request["line_of_force"]["everywhere"]["foundation"]["material"] = json!("concrete_slab");
}

fn friction_alone(request: &mut Value) {
    request["line_of_force"]["restraint"] = json!({ "kind": "none" });
    request["line_of_force"]["everywhere"]["soffit"] = json!({ "material": "timber", "nds_species": "white_oak" });
    // Known levels, so that every point keeps a part of the load.
    request["load_case"]["level_tolerance"] = json!("0.1 mm");
    request["load_case"]["support_stiffness"] = json!("100 kN/mm");
    of_timber(request);
}

/// What the crew read of all points after the third step, the prove lift.
fn read_on_site(request: &mut Value) {
    let reading = |point: &str| json!({ "step": 3, "point": point, "pressure": "210 bar", "level": "345 mm" });
    request["site_readings"] = json!(["1", "2", "3", "4"].map(reading));
    request["load_case"]["level_tolerance"] = json!("8 mm");
    request["load_case"]["support_stiffness"] = json!("80 kN/mm");
}

/// One edge for each check that can fail by a number. Where a place stands for a list, every entry is set.
const EDGES: &[Edge] = &[
    edge(CheckId::Tipping, &["/load_case/centre_of_gravity/tolerance"], "mm", 40.0, 1500.0),
    edge(CheckId::Capacity, &["/inline/rams/0/rated_pressure"], "bar", 675.0, 400.0),
    edge(CheckId::ClosedHeight, &["/inline/rams/0/closed_height"], "mm", 261.0, 340.0),
    edge(CheckId::Footprint, &["/inline/rams/0/base_diameter"], "mm", 227.0, 700.0),
    Edge {
        prepare: |request| request["inline"]["rams"][0]["plunger_bore"] = json!("0 mm"),
        ..edge(CheckId::Stability, &["/inline/rams/0/plunger_diameter"], "mm", 163.0, 20.0)
    },
    edge(CheckId::Stress, &["/inline/rams/0/plunger_yield"], "MPa", 640.0, 20.0),
    edge(CheckId::SideLoad, &["~everywhere/lean"], "deg", 0.1, 5.0),
    edge(CheckId::SaddleAngle, &["~everywhere/soffit_angle"], "deg", 0.5, 8.0),
    edge(CheckId::SaddleOffCentre, &["~everywhere/off_centre"], "mm", 5.0, 60.0),
    edge(CheckId::WarmOil, &["/line_of_force/oil_temperature_rise_k"], "", 1.0, 60.0),
    Edge {
        prepare: double_acting,
        ..edge(CheckId::ReturnLine, &["/line_of_force/return_relief"], "bar", 300.0, 900.0)
    },
    edge(CheckId::SoffitBearing, &["~everywhere/soffit/yield_strength"], "MPa", 235.0, 10.0),
    edge(CheckId::HeadPlate, &["~everywhere/head_plate/yield_strength"], "MPa", 355.0, 60.0),
    Edge {
        prepare: |request| {
            let plate =
                json!({ "length": "270 mm", "width": "270 mm", "thickness": "8 mm", "yield_strength": "355 MPa" });
            request["line_of_force"]["everywhere"]["base_plate"] = plate;
            request["line_of_force"]["everywhere"].as_object_mut().unwrap().remove("head_plate");
        },
        ..edge(CheckId::BasePlate, &["~everywhere/base_plate/yield_strength"], "MPa", 2900.0, 200.0)
    },
    edge(
        CheckId::StackBearing,
        &[
            "/inline/packing/0/yield_strength",
            "/inline/packing/1/yield_strength",
            "/inline/packing/2/yield_strength",
            "/inline/packing/3/yield_strength",
            "/inline/packing/4/yield_strength",
            "/inline/packing/5/yield_strength",
            "/inline/packing/6/yield_strength",
        ],
        "MPa",
        265.0,
        10.0,
    ),
    edge(CheckId::StackPlumb, &["~everywhere/lean"], "deg", 0.1, 20.0),
    edge(CheckId::FoundationBearing, &["~everywhere/foundation/concrete_strength"], "MPa", 40.0, 10.0),
    Edge {
        prepare: a_slab,
        ..edge(CheckId::Punching, &["~everywhere/foundation/punching_resistance"], "kN", 3000.0, 500.0)
    },
    edge(CheckId::GroundPressure, &["~everywhere/foundation/ground/allowable"], "kPa", 400.0, 100.0),
    edge(CheckId::Restraint, &["/line_of_force/restraint/capacity"], "kN", 120.0, 10.0),
    edge(
        CheckId::JackingPointLimit,
        &[
            "/load_case/points/0/limit",
            "/load_case/points/1/limit",
            "/load_case/points/2/limit",
            "/load_case/points/3/limit",
        ],
        "kN",
        1500.0,
        300.0,
    ),
    edge(
        CheckId::FoundationLimit,
        &[
            "/load_case/points/0/foundation_limit",
            "/load_case/points/1/foundation_limit",
            "/load_case/points/2/foundation_limit",
            "/load_case/points/3/foundation_limit",
        ],
        "kN",
        1600.0,
        300.0,
    ),
    edge(CheckId::LevelControl, &["/circuit/flow_division/held_within"], "mm", 6.0, 16.0),
    Edge { prepare: read_on_site, ..edge(CheckId::SiteReading, &["/site_readings/2/pressure"], "bar", 210.0, 800.0) },
    Edge { prepare: read_on_site, ..edge(CheckId::SiteLevels, &["/site_readings/1/level"], "mm", 346.0, 360.0) },
    Edge {
        prepare: read_on_site,
        ..edge(
            CheckId::SiteWeight,
            &[
                "/site_readings/0/pressure",
                "/site_readings/1/pressure",
                "/site_readings/2/pressure",
                "/site_readings/3/pressure",
            ],
            "bar",
            210.0,
            300.0,
        )
    },
    Edge { prepare: friction_alone, ..edge(CheckId::Sideways, &["/load_case/horizontal_force"], "kN", 1.0, 2000.0) },
];

fn with(edge: &Edge, value: f64) -> Vec<Check> {
    let mut request = written_out();
    (edge.prepare)(&mut request);
    for place in edge.places {
        let sent = if edge.unit.is_empty() { json!(value) } else { json!(format!("{value} {}", edge.unit)) };
        set(&mut request, place, sent);
    }
    checks_of(&request)
}

#[test]
fn verify_every_check_just_passes_and_just_fails() {
    for edge in EDGES {
        let fails = |value: f64| worst(&with(edge, value), edge.id) == Status::Fail;
        let (mut passes, mut failing) = (edge.passes, edge.fails);
        let before = worst(&with(edge, passes), edge.id);
        assert!(matches!(before, Status::Pass | Status::Caution), "{:?} at {passes}: {before:?}", edge.id);
        assert!(fails(failing), "{:?} at {failing}", edge.id);
        // Halved to a thousandth: what just passes and what just fails lie beside each other.
        for _ in 0..10 {
            let middle = f64::midpoint(passes, failing);
            if fails(middle) { failing = middle } else { passes = middle }
        }
        let after = worst(&with(edge, passes), edge.id);
        assert!(matches!(after, Status::Pass | Status::Caution), "{:?} at {passes}: {after:?}", edge.id);
        assert!((passes - failing).abs() <= 1e-3 * (edge.passes - edge.fails).abs());
        let failed = with(edge, failing);
        let over = failed.iter().filter(|check| check.id == edge.id && check.status == Status::Fail);
        for check in over {
            assert!(check.utilisation.is_none_or(|utilisation| 1.0 < utilisation), "{check:?}");
        }
    }
}

/// Checks that no number of the request makes fail, or that have a test of their own; each with the worst that it can be.
#[test]
fn verify_no_check_is_left_out() {
    let beside = [
        // Never worse than a caution or not checked: they say what is known.
        CheckId::HorizontalForce,
        CheckId::LevelErrors,
        CheckId::Tolerances,
        CheckId::Contact,
        CheckId::Weighing,
        CheckId::Settings,
        CheckId::Phases,
        CheckId::Handling,
        CheckId::PointLost,
        // Held to their edges in tests of the engine: just passing and just failing stacks, strokes, stocks, rams and oil.
        CheckId::HubBore,
        CheckId::Stroke,
        CheckId::Stock,
        // Made by searches only, and no check of a verification.
        CheckId::Budget,
        CheckId::Action,
        CheckId::CollarRelease,
        CheckId::StackHeight,
        CheckId::StackOverhang,
        CheckId::Settlement,
        CheckId::Holding,
        CheckId::RamLost,
        CheckId::PumpPressure,
        CheckId::ReliefSetting,
        CheckId::OilVolume,
        CheckId::OilReturn,
    ];
    for id in CheckId::ALL {
        let edged = EDGES.iter().any(|edge| edge.id == *id);
        assert!(edged != beside.contains(id), "{id:?} stands in both lists or in none");
    }
}

/// An input, and the checks that hang on it.
const INPUTS: &[(&str, &[CheckId])] = &[
    (
        "/line_of_force/design_basis",
        &[CheckId::SoffitBearing, CheckId::HeadPlate, CheckId::StackBearing, CheckId::FoundationBearing],
    ),
    ("~everywhere/soffit", &[CheckId::SoffitBearing, CheckId::Sideways]),
    ("~everywhere/soffit/yield_strength", &[CheckId::SoffitBearing]),
    ("~everywhere/soffit_angle", &[CheckId::SaddleAngle]),
    ("~everywhere/off_centre", &[CheckId::Stress, CheckId::SaddleOffCentre, CheckId::StackPlumb]),
    ("~everywhere/lean", &[CheckId::Stress, CheckId::SideLoad, CheckId::StackPlumb]),
    ("~everywhere/head_plate/yield_strength", &[CheckId::HeadPlate]),
    (
        "~everywhere/foundation",
        &[CheckId::FoundationBearing, CheckId::Punching, CheckId::GroundPressure, CheckId::Sideways],
    ),
    ("~everywhere/foundation/concrete_strength", &[CheckId::FoundationBearing]),
    ("~everywhere/foundation/ground", &[CheckId::GroundPressure]),
    ("~everywhere/foundation/ground/allowable", &[CheckId::GroundPressure]),
    ("/line_of_force/restraint", &[CheckId::Restraint, CheckId::Sideways, CheckId::StackPlumb]),
    ("/line_of_force/restraint/capacity", &[CheckId::Restraint]),
    ("/line_of_force/restraint/play", &[CheckId::Restraint, CheckId::StackPlumb]),
    ("/line_of_force/holding_valve", &[CheckId::RamLost]),
    ("/line_of_force/oil_temperature_rise_k", &[CheckId::WarmOil]),
    ("/line_of_force/handling", &[CheckId::Handling]),
    ("/inline/rams/0/plunger_yield", &[CheckId::Stress]),
    ("/inline/rams/0/saddle_tilt_limit", &[CheckId::SaddleAngle]),
    ("/inline/rams/0/saddle_diameter", &[CheckId::SaddleOffCentre, CheckId::HeadPlate]),
    ("/inline/rams/0/side_load_limit_ratio", &[CheckId::SideLoad]),
    ("/inline/packing/4/yield_strength", &[CheckId::StackBearing]),
    ("/inline/rams/0/stock", &[CheckId::Stock]),
    // Pumps and hoses are then chosen out of the catalogue; nothing says how their flow is divided.
    ("/circuit", &[CheckId::LevelControl]),
    ("/circuit/hose", &[CheckId::PumpPressure, CheckId::ReliefSetting]),
    ("/circuit/flow_division", &[CheckId::LevelControl]),
    ("/circuit/flow_division/held_within", &[CheckId::LevelControl]),
];

fn not_checked(checks: &[Check]) -> BTreeSet<CheckId> {
    checks.iter().filter(|check| check.status == Status::NotChecked).map(|check| check.id).collect()
}

#[test]
fn verify_the_transformer_has_every_link_and_leaves_none_open() {
    let checks = checks_of(&transformer());
    assert!(not_checked(&checks).is_empty(), "{:?}", not_checked(&checks));
    let failed: Vec<&Check> = checks.iter().filter(|check| check.status == Status::Fail).collect();
    assert!(failed.is_empty(), "{failed:?}");
    let present: BTreeSet<CheckId> = checks.iter().map(|check| check.id).collect();
    // No weighing, no linked rams, no fit, no budget and no readings stand in the request, so nothing is to be checked of them.
    let absent: Vec<CheckId> = CheckId::ALL.iter().copied().filter(|id| !present.contains(id)).collect();
    let of_others = [
        CheckId::Contact,
        CheckId::Phases,
        CheckId::Weighing,
        CheckId::HubBore,
        CheckId::Budget,
        CheckId::SiteReading,
        CheckId::SiteLevels,
        CheckId::SiteWeight,
    ];
    assert!(absent.iter().all(|id| of_others.contains(id)), "{absent:?}");
}

#[test]
fn verify_an_input_taken_away_leaves_just_its_checks_open() {
    let whole = checks_of(&written_out());
    assert!(not_checked(&whole).is_empty(), "{:?}", not_checked(&whole));
    for (place, expected) in INPUTS {
        let mut request = written_out();
        let place = place.replace("~everywhere", EVERYWHERE);
        let (parent, field) = place.rsplit_once('/').unwrap();
        let removed = request.pointer_mut(parent).unwrap().as_object_mut().unwrap().remove(field);
        assert!(removed.is_some(), "{place}");
        let open = not_checked(&checks_of(&request));
        let expected: BTreeSet<CheckId> = expected.iter().copied().collect();
        assert_eq!(open, expected, "without {place}");
    }
}

/// A ram that is lost under a load that falls: the blow on the collar is more than the ram bears; where every ram has a
/// load-holding valve the load comes down slowly.
#[test]
fn verify_a_load_that_falls_fails_and_one_that_leaks_down_does_not() {
    let lost = |valve: &str| {
        let mut request = written_out();
        request["line_of_force"]["holding_valve"] = json!(valve);
        let checks = checks_of(&request);
        checks.iter().filter(|check| check.id == CheckId::RamLost).map(|check| check.status).max().unwrap()
    };
    assert_eq!(lost("at_each_ram"), Status::Caution);
    assert_eq!(lost("elsewhere"), Status::Fail);
}

/// A deep block spreads as far as it goes: what leans then stands off the middle of the ground all the same.
#[test]
fn verify_a_lean_reaches_the_ground() {
    let pressed = |lean: &str| {
        let mut request = written_out();
        set(&mut request, "~everywhere/foundation/depth", json!("5 m"));
        set(&mut request, "~everywhere/lean", json!(lean));
        let checks = checks_of(&request);
        let on_ground = checks.iter().filter(|check| check.id == CheckId::GroundPressure);
        let used = on_ground.filter_map(|check| check.utilisation).fold(0.0, f64::max);
        (worst(&checks, CheckId::GroundPressure), used)
    };
    assert!(pressed("0.1 deg").1 < pressed("1 deg").1 && pressed("1 deg").1 < pressed("3 deg").1);
    assert_eq!(pressed("45 deg").0, Status::Fail);
}
