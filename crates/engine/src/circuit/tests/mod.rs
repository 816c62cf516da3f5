//! The circuit as a whole, from its public function.

mod conditions;
mod properties;
mod retract;

use super::kernel::hose::{HoseFlow, hose_pressure_loss};
use super::*;
use crate::catalogue::{Drive, Hose, Pump};
use crate::check::{Check, CheckId, Status};
use crate::load::Task;
use crate::ram::{Action, Material, Ram};
use ramwright_units::{
    Area, Flow, Force, HoseLength, In, KinematicViscosity, Length, OilPressure, OilVolume, Power, Profile, Range,
    Temperature,
};

const AREA_CM2: f64 = 132.732_29;

fn ram() -> Ram {
    Ram {
        id: "r".into(),
        family: String::new(),
        action: Action::SingleActingLoadReturn,
        material: Material::Steel,
        lock_collar: false,
        nominal_class: String::new(),
        effective_area: Area::from_cm2(AREA_CM2),
        annulus_area: None,
        rated_pressure: OilPressure::from_bar(700.0),
        stroke: Length::from_mm(150.0),
        closed_height: Length::from_mm(330.0),
        body_diameter: None,
        base_diameter: None,
        plunger_diameter: None,
        plunger_bore: None,
        plunger_yield: None,
        saddle_diameter: None,
        saddle_tilt_limit: None,
        side_load_limit_ratio: None,
        return_force: None,
        return_preload: None,
        plunger_mass: None,
        mass: None,
        stock: None,
        day_rate: None,
        week_rate: None,
    }
}

fn pump() -> Pump {
    Pump {
        id: "p".into(),
        drive: Drive::Electric,
        rated_pressure: OilPressure::from_bar(700.0),
        flow_fast: Flow::from_l_per_min(10.0),
        changeover_pressure: Some(OilPressure::from_bar(80.0)),
        flow_slow: Flow::from_l_per_min(2.0),
        flow_curve: Vec::new(),
        stroke_volume_fast: None,
        stroke_volume_slow: None,
        usable_oil: OilVolume::from_l(10.0),
        reservoir: None,
        power: Some(Power::from_kw(3.0)),
        outlets: None,
        mass: None,
        stock: None,
        day_rate: None,
        week_rate: None,
    }
}

fn hose() -> Hose {
    Hose {
        id: "h".into(),
        bore: Length::from_mm(6.35),
        length: HoseLength::from_m(5.0),
        rated_pressure: OilPressure::from_bar(720.0),
        swelling: None,
        mass: None,
        stock: None,
        day_rate: None,
        week_rate: None,
    }
}

fn celsius(value: f64) -> Temperature {
    Temperature::from_k(value + 273.15)
}

fn load(point: &str, rams: u32, expected_kn: f64) -> PointLoad {
    let share =
        Range::new(Force::from_kn(0.9 * expected_kn), Force::from_kn(expected_kn), Force::from_kn(1.1 * expected_kn));
    PointLoad { point: point.into(), rams, share }
}

/// One pump, rams of bore 130 mm, 46 mm2/s at 40 degrees Celsius, two hoses of 5 m in series.
fn circuit(points: Vec<PointLoad>) -> CircuitInput {
    CircuitInput {
        task: Task::Raise,
        lifts: Vec::new(),
        working_area: ram().effective_area,
        ram: ram(),
        points,
        extension: Length::from_mm(150.0),
        approach: Length::from_mm(30.0),
        pump: pump(),
        hose: Some(hose()),
        hose_count_in_series: 2,
        oil: Oil {
            viscosity_40: KinematicViscosity::from_mm2_per_s(46.0),
            viscosity_100: KinematicViscosity::from_mm2_per_s(6.8),
            temperature: celsius(40.0),
            coldest: None,
            density_kg_per_m3: 870.0,
            bulk_modulus: None,
        },
        pumps: 1,
        level_tolerance: Length::from_mm(10.0),
        conditions: CircuitConditions {
            fittings_k: Some(0.0),
            back_pressure: OilPressure::ZERO,
            flow_division: None,
            pump_efficiency: 0.75,
        },
    }
}

fn four_points(expected_kn: f64) -> CircuitInput {
    circuit(["a", "b", "c", "d"].map(|point| load(point, 1, expected_kn)).into())
}

#[track_caller]
fn near(found: f64, wanted: f64, relative: f64) {
    assert!((found / wanted - 1.0).abs() <= relative, "{found}, not {wanted}");
}

fn pressure_check<'a>(assessment: &'a CircuitAssessment, subject: &str) -> &'a Check {
    assessment.checks.iter().find(|c| c.id == CheckId::PumpPressure && c.subject == subject).unwrap()
}

fn statuses(assessment: &CircuitAssessment) -> Vec<Status> {
    ["pump", "hose", "ram"].map(|subject| pressure_check(assessment, subject).status).into()
}

fn codes(assessment: &CircuitAssessment) -> Vec<&str> {
    assessment.cautions.iter().map(|caution| caution.code.as_str()).collect()
}

/// Source: computed independently: bore 130 mm (13 273.229 mm2), stroke 150 mm, 4 rams: 7.963937 L, and 929.126 kN
/// each at 700 bar.
#[test]
fn validate_oil_volume_and_force() {
    let found = assess_circuit(&four_points(929.126));
    near(found.oil_per_raise.l(), 7.963_937, 1e-7);
    near(found.oil.rams.l(), 7.963_937, 1e-7);
    near(found.points[0].pressure.expected.bar(), 700.0, 1e-6);
    let oil = found.checks.iter().find(|check| check.id == CheckId::OilVolume).unwrap();
    near(oil.utilisation.unwrap(), found.oil.needed.l() / 10.0, 1e-12);
    assert_eq!(oil.status, Status::Pass);
}

/// Source: Hagen and Poiseuille's law computed independently: 2 L/min, 6.35 mm, 10 m, 46 mm2/s, 870 kg/m3 lose
/// 3.34288 bar at a Reynolds number of 145.297.
#[test]
fn validate_hose_row_reaches_the_pump_pressure() {
    let found = assess_circuit(&circuit(vec![load("a", 1, 600.0)]));
    let run = found.hose_run.unwrap();
    near(run.loss.bar(), 3.342_88, 5e-6);
    near(run.reynolds, 145.297, 5e-6);
    near(found.pump_pressure.unwrap().bar(), 660.0e3 / (AREA_CM2 * 1e-4) / 1e5 + 3.342_88, 1e-6);
    assert_eq!(statuses(&found), [Status::Pass; 3]);
}

/// The lines show the same loss as the kernel, in any kind of flow.
#[test]
fn verify_lines_agree_with_the_kernel() {
    for l_per_min in [0.1, 2.0, 30.0, 300.0] {
        let mut input = circuit(vec![load("a", 1, 600.0)]);
        input.pump.flow_slow = Flow::from_l_per_min(l_per_min);
        let run = assess_circuit(&input).hose_run.unwrap();
        let kernel = hose_pressure_loss(&HoseFlow {
            flow_m3_per_s: run.flow.m3_per_s(),
            inside_diameter_m: 6.35e-3,
            length_m: 10.0,
            roughness_m: 0.0,
            density_kg_per_m3: 870.0,
            kinematic_viscosity_m2_per_s: run.viscosity.m2_per_s(),
        })
        .unwrap();
        near(run.loss.pa(), kernel.pressure_loss_pa, 1e-12);
        near(run.reynolds, kernel.reynolds, 1e-12);
    }
}

#[test]
fn verify_flow_divides_over_rams_and_adds_over_pumps() {
    let mut input = four_points(600.0);
    input.pumps = 2;
    let found = assess_circuit(&input);
    near(found.hose_run.unwrap().flow.l_per_min(), 1.0, 1e-12);
    near(found.usable_oil.l(), 20.0, 1e-12);
    near(found.mechanical_power.unwrap().w(), found.pump_pressure.unwrap().pa() * 2e-3 / 60.0, 1e-12);
}

#[test]
fn verify_ratings_are_separate_checks() {
    let mut input = four_points(600.0);
    input.hose.as_mut().unwrap().rated_pressure = OilPressure::from_bar(450.0);
    let found = assess_circuit(&input);
    assert_eq!(statuses(&found), [Status::Pass, Status::Fail, Status::Pass]);
    assert!(found.points.iter().all(|point| point.stop_pressure_limited_by == Some(Part::Hose)));
}

/// The hose loss alone takes the pump over its rating.
#[test]
fn verify_losses_count() {
    let mut input = circuit(vec![load("a", 1, 840.0)]);
    assert_eq!(statuses(&assess_circuit(&input))[0], Status::Pass);
    input.oil.temperature = celsius(20.0);
    assert_eq!(statuses(&assess_circuit(&input)), [Status::Fail, Status::Pass, Status::Fail]);
}

#[test]
fn verify_no_hose_is_not_checked_and_still_fails_on_the_rams_pressure() {
    let mut input = four_points(600.0);
    input.hose = None;
    let found = assess_circuit(&input);
    assert_eq!(statuses(&found), [Status::NotChecked; 3]);
    for subject in ["pump", "hose", "ram"] {
        assert_eq!(pressure_check(&found, subject).missing[0].as_str(), "circuit/hose");
    }
    assert_eq!((found.pump_pressure, found.hose_run, found.mechanical_power), (None, None, None));
    assert_eq!(codes(&found), ["hose_loss_unknown"]);
    input.pump.rated_pressure = OilPressure::from_bar(400.0);
    assert_eq!(statuses(&assess_circuit(&input)), [Status::Fail, Status::NotChecked, Status::NotChecked]);
}

#[test]
fn verify_outside_validity_is_not_checked() {
    type Change = fn(&mut CircuitInput);
    let changes: [(Change, &str); 6] = [
        (|c| c.oil.temperature = celsius(-80.0), "circuit/oil"),
        (|c| c.oil.temperature = Temperature::from_k(f64::NAN), "circuit/oil"),
        (|c| c.oil.viscosity_100 = c.oil.viscosity_40, "circuit/oil"),
        (|c| c.hose_count_in_series = 0, "circuit/hose"),
        (|c| c.pumps = 0, "circuit/hose"),
        (|c| c.points.clear(), "circuit/points"),
    ];
    for (change, missing) in changes {
        let mut input = four_points(600.0);
        change(&mut input);
        let found = assess_circuit(&input);
        assert_eq!(statuses(&found), [Status::NotChecked; 3], "{missing}");
        assert!(pressure_check(&found, "pump").missing.iter().any(|name| name.as_str() == missing));
        assert_eq!(found.pump_pressure, None);
    }
}

/// Between laminar and turbulent a pass is only a caution.
#[test]
fn verify_transition_is_a_caution() {
    let mut input = circuit(vec![load("a", 1, 600.0)]);
    input.pump.flow_slow = Flow::from_l_per_min(40.0);
    let found = assess_circuit(&input);
    assert!((2000.0..=4000.0).contains(&found.hose_run.unwrap().reynolds));
    assert!(statuses(&found).iter().all(|status| matches!(status, Status::Caution | Status::Fail)));
    assert!(codes(&found).contains(&"hose_flow_transition"));
    assert!(codes(&found).contains(&"motor_power"));
}

#[test]
fn verify_stages_and_times() {
    let seconds = |litres: f64, l_per_min: f64| 60.0 * litres / l_per_min;
    let four_rams_l = |mm: f64| 4.0 * AREA_CM2 * mm / 1e4;
    let beside_l = |found: &CircuitAssessment| found.oil.compression.l();
    let heavy = assess_circuit(&four_points(600.0));
    let beside = beside_l(&heavy);
    let heavy = heavy.times;
    assert_eq!((heavy.approach_flow.stage, heavy.load_flow.stage), (Stage::Fast, Stage::Slow));
    near(heavy.approach.s(), seconds(four_rams_l(30.0), 10.0), 1e-12);
    near(heavy.under_load.s(), seconds(four_rams_l(120.0) + beside, 2.0), 1e-12);
    near(heavy.total.s(), heavy.approach.s() + heavy.under_load.s(), 1e-12);
    // 60 kN x 1.1 on each is 49.7 bar; the fast flow's loss keeps the pump below 80 bar.
    let light = assess_circuit(&four_points(60.0));
    assert_eq!(light.times.load_flow.stage, Stage::Fast);
    near(light.times.under_load.s(), seconds(four_rams_l(120.0) + beside_l(&light), 10.0), 1e-12);
    let mut unknown = four_points(60.0);
    unknown.hose = None;
    assert_eq!(assess_circuit(&unknown).times.load_flow.stage, Stage::Slow);
    let mut single = four_points(60.0);
    single.pump.changeover_pressure = None;
    let single = assess_circuit(&single).times;
    assert_eq!((single.approach_flow.stage, single.load_flow.stage), (Stage::Slow, Stage::Slow));
    let mut cold = four_points(60.0);
    cold.oil.temperature = celsius(-10.0);
    cold.hose_count_in_series = 6;
    let cold = assess_circuit(&cold);
    assert_eq!((cold.times.approach_flow.stage, cold.times.load_flow.stage), (Stage::Slow, Stage::Slow));
    assert!(80.0 - 1e-9 <= cold.pump_pressure.unwrap().bar());
}

#[test]
fn verify_order_and_unequal_pressures() {
    let order = |loads: [f64; 3]| {
        let points = ["a", "b", "c"].iter().zip(loads).map(|(point, kn)| load(point, 1, kn)).collect();
        let found = assess_circuit(&circuit(points));
        let unequal = codes(&found).contains(&"unequal_pressures");
        (found.lift_order.join(""), unequal)
    };
    assert_eq!(order([300.0, 200.0, 250.0]), ("bca".into(), true));
    assert_eq!(order([200.0, 200.0, 200.0]), ("abc".into(), false));
    assert_eq!(order([200.0, 209.0, 200.0]), ("acb".into(), false));
    assert_eq!(order([200.0, 211.0, 200.0]), ("acb".into(), true));
    assert!(order([0.0, 211.0, 200.0]).1);
}

#[test]
fn verify_stop_pressure() {
    let found = assess_circuit(&circuit(vec![load("a", 1, 600.0), load("b", 1, 800.0)]));
    near(found.points[0].stop_pressure.bar(), 1.1 * found.points[0].pressure.greatest.bar(), 1e-12);
    assert_eq!(found.points[0].stop_pressure_limited_by, None);
    assert_eq!(found.points[1].stop_pressure, OilPressure::from_bar(700.0));
    assert_eq!(found.points[1].stop_pressure_limited_by, Some(Part::Ram));
    let caution = found.cautions.iter().find(|c| c.code.as_str() == "stop_pressure_limited").unwrap();
    assert!(caution.text.as_str().starts_with("At b the stop pressure"));
}

#[test]
fn verify_oil_short_and_nearly_short() {
    let status = |litres: f64| {
        let mut input = four_points(600.0);
        input.pump.usable_oil = OilVolume::from_l(litres);
        let found = assess_circuit(&input);
        found.checks.iter().find(|check| check.id == CheckId::OilVolume).unwrap().status
    };
    assert_eq!(status(7.9), Status::Fail);
    assert_eq!(status(8.5), Status::Caution);
    assert_eq!(status(9.5), Status::Pass);
}

#[test]
fn verify_bill_and_outlets() {
    let mut input = circuit(vec![load("a", 2, 600.0), load("b", 1, 300.0)]);
    input.pump.outlets = Some(2);
    let found = assess_circuit(&input);
    let totals: Vec<_> = found.bill.iter().map(|row| row.total).collect();
    assert_eq!(totals, [3, 3, 3, 6, 9, 1, 1]);
    assert!(codes(&found).contains(&"outlets"));
    input.ram.action = Action::DoubleActing;
    input.pumps = 2;
    let found = assess_circuit(&input);
    assert_eq!(found.bill.iter().map(|row| row.per_ram).collect::<Vec<_>>(), [1, 1, 1, 4, 6, 0]);
    assert!(!codes(&found).contains(&"outlets"));
}

#[test]
fn verify_an_answer_is_read_again() {
    let found = assess_circuit(&four_points(600.0));
    let text = serde_json::to_string(&In(Profile::Metric, &found)).unwrap();
    let back: CircuitAssessment = serde_json::from_str(&text).unwrap();
    near(back.pump_pressure.unwrap().pa(), found.pump_pressure.unwrap().pa(), 1e-12);
    assert_eq!(back.checks.len(), 9);
}
