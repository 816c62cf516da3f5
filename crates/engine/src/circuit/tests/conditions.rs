//! Oil, relief valve, division of the flow, pumps with curves and hand pumps.

use super::*;
use crate::catalogue::FlowPoint;
use ramwright_units::VolumePerLength;

fn the_check(found: &CircuitAssessment, id: CheckId) -> &Check {
    found.checks.iter().find(|check| check.id == id).unwrap()
}

/// Swelling in proportion to the pressure: four runs of 10 m at 2.4 mL/m and 720 bar.
#[test]
fn verify_what_swelling_and_compression_take() {
    let mut input = four_points(600.0);
    let bare = assess_circuit(&input);
    assert_eq!(bare.oil.swelling, None);
    assert!(bare.oil.not_included.as_str().contains("swelling"));
    input.hose.as_mut().unwrap().swelling = Some(VolumePerLength::from_ml_per_m(2.4));
    let found = assess_circuit(&input);
    let bar = found.pump_pressure.unwrap().bar();
    near(found.oil.swelling.unwrap().l(), 4.0 * 10.0 * 2.4e-3 * bar / 720.0, 1e-9);
    near(found.oil.needed.l(), bare.oil.needed.l() + found.oil.swelling.unwrap().l(), 1e-12);
    let in_hoses_l = 4.0 * 10.0 * std::f64::consts::PI / 4.0 * 0.635 * 0.635 / 10.0;
    let filled_l = found.oil.rams.l() + in_hoses_l;
    near(found.oil.compression.l(), filled_l * libm::expm1(bar / 14_000.0), 1e-9);
    input.oil.bulk_modulus = Some(OilPressure::from_bar(18_000.0));
    assert!(assess_circuit(&input).oil.compression < found.oil.compression);
}

#[test]
fn verify_what_comes_back_against_the_reservoir() {
    let status = |reservoir: Option<f64>, double: bool| {
        let mut input = four_points(600.0);
        input.pump.reservoir = reservoir.map(OilVolume::from_l);
        if double {
            input.ram.action = Action::DoubleActing;
            input.ram.annulus_area = Some(input.ram.effective_area * 0.4);
        }
        let found = assess_circuit(&input);
        (the_check(&found, CheckId::OilReturn).status, found.oil.returns.l())
    };
    assert_eq!(status(None, false).0, Status::NotChecked);
    // 10 L may be drawn and some 8.3 L come back.
    assert_eq!(status(Some(19.0), false).0, Status::Pass);
    assert_eq!(status(Some(12.0), false).0, Status::Caution);
    assert_eq!(status(Some(8.0), false).0, Status::Fail);
    let (pass, returns) = status(Some(15.5), true);
    assert_eq!(pass, Status::Pass);
    near(status(None, false).1 - returns, 0.4 * 4.0 * AREA_CM2 * 150.0 / 1e4, 1e-9);
}

#[test]
fn verify_the_window_of_the_relief_valve() {
    let found = assess_circuit(&circuit(vec![load("a", 1, 600.0)]));
    let window = found.relief_window.unwrap();
    let greatest = found.points[0].pressure.greatest.bar();
    near(window.from.bar(), 1.1 * greatest + found.hose_run.unwrap().loss.bar(), 1e-12);
    near(window.to.bar(), 700.0, 1e-12);
    near(window.recommended.bar(), (window.from.bar() / 5.0).ceil() * 5.0, 1e-12);
    assert_eq!(the_check(&found, CheckId::ReliefSetting).status, Status::Pass);
    let narrow = assess_circuit(&circuit(vec![load("a", 1, 800.0)]));
    assert_eq!(the_check(&narrow, CheckId::ReliefSetting).status, Status::Caution);
    assert_eq!(narrow.relief_window, None);
    let none = assess_circuit(&circuit(vec![load("a", 1, 900.0)]));
    assert_eq!(the_check(&none, CheckId::ReliefSetting).status, Status::Fail);
    let mut unknown = circuit(vec![load("a", 1, 600.0)]);
    unknown.hose = None;
    assert_eq!(the_check(&assess_circuit(&unknown), CheckId::ReliefSetting).status, Status::NotChecked);
}

/// 2.0 GPa x (7e-4 - 36e-6) per K: 13.28 bar for each K, as in the check of warm oil.
#[test]
fn verify_what_warming_does_to_shut_in_oil() {
    let found = assess_circuit(&circuit(vec![load("a", 1, 600.0)]));
    near(found.shut_in_oil.gain_per_10_k.bar(), 132.8, 1e-9);
    let left = 700.0 - found.points[0].pressure.greatest.bar();
    near(found.shut_in_oil.rise_to_rating_k, left / 13.28, 1e-9);
}

#[test]
fn verify_what_the_division_of_the_flow_lets_through() {
    let found = |division: Option<FlowDivision>, points: usize| {
        let mut input = four_points(600.0);
        input.points.truncate(points);
        input.extension = Length::from_mm(130.0);
        input.conditions.flow_division = division;
        the_check(&assess_circuit(&input), CheckId::LevelControl).clone()
    };
    assert_eq!(found(None, 4).status, Status::NotChecked);
    assert_eq!(found(None, 1).status, Status::Pass);
    assert_eq!(found(Some(FlowDivision::Manifold), 4).status, Status::Fail);
    let split = |error: f64, every: Option<f64>| {
        Some(FlowDivision::SplitFlow { error, levelled_every: every.map(Length::from_mm) })
    };
    // 2 x 0.04 x 100 mm = 8 mm; the approach of 30 mm does not count.
    let eight = found(split(0.04, None), 4);
    assert_eq!(eight.status, Status::Pass);
    near(eight.demand.unwrap().value_si, 8e-3, 1e-9);
    let sixteen = found(split(0.08, None), 4);
    assert_eq!(sixteen.status, Status::Fail);
    assert_eq!(sixteen.would_pass.unwrap().as_str(), "level all points after every 62 mm of rise");
    assert_eq!(found(split(0.08, Some(60.0)), 4).status, Status::Pass);
    let held = |mm: Option<f64>| Some(FlowDivision::ValvePerPoint { held_within: mm.map(Length::from_mm) });
    assert_eq!(found(held(None), 4).status, Status::NotChecked);
    assert_eq!(found(held(Some(6.0)), 4).status, Status::Pass);
    assert_eq!(found(held(Some(11.0)), 4).status, Status::Fail);
}

#[test]
fn verify_what_valves_must_take() {
    let mut input = circuit(vec![load("a", 1, 300.0), load("b", 1, 500.0), load("c", 1, 200.0)]);
    let unequal = assess_circuit(&input).unequal_pressures.unwrap();
    assert_eq!((unequal.first.as_str(), unequal.heaviest.as_str()), ("c", "b"));
    let bar = |kn: f64| kn * 1e3 / (AREA_CM2 * 1e-4) / 1e5;
    near(unequal.difference.bar(), bar(300.0), 1e-9);
    let taken: Vec<&str> = unequal.throttles.iter().map(|throttle| throttle.point.as_str()).collect();
    assert_eq!(taken, ["a", "c"]);
    near(unequal.throttles[0].pressure.bar(), bar(200.0), 1e-9);
    input.points.truncate(1);
    assert_eq!(assess_circuit(&input).unequal_pressures, None);
}

fn curve() -> Vec<FlowPoint> {
    [(0.0, 10.0), (100.0, 8.0), (700.0, 2.0)]
        .map(|(bar, l)| FlowPoint { pressure: OilPressure::from_bar(bar), flow: Flow::from_l_per_min(l) })
        .into()
}

/// The pump delivers what its curve has at the pressure that this delivery needs.
#[test]
fn verify_a_pump_with_a_curve_works_where_it_meets_the_load() {
    let mut input = circuit(vec![load("a", 1, 400.0)]);
    input.pump.flow_curve = curve();
    let found = assess_circuit(&input);
    let pressure = found.pump_pressure.unwrap().bar();
    let by_curve = 8.0 - 6.0 * (pressure - 100.0) / 600.0;
    near(found.times.load_flow.flow.l_per_min(), by_curve, 1e-9);
    near(found.hose_run.unwrap().flow.l_per_min(), by_curve, 1e-9);
    assert!(found.times.load_flow.flow < found.times.approach_flow.flow);
    // Without a hose nothing is known of the pressure: the least flow.
    input.hose = None;
    let found = assess_circuit(&input);
    near(found.times.load_flow.flow.l_per_min(), 2.0, 1e-12);
    near(found.times.approach_flow.flow.l_per_min(), 2.0, 1e-12);
}

#[test]
fn verify_strokes_of_a_hand_pump() {
    let mut input = circuit(vec![load("a", 1, 600.0)]);
    assert_eq!(assess_circuit(&input).pump_strokes, None);
    input.pump.stroke_volume_slow = Some(OilVolume::from_l(0.002));
    input.pump.stroke_volume_fast = Some(OilVolume::from_l(0.01));
    let found = assess_circuit(&input);
    let beside_ml = found.oil.compression.l() * 1e3;
    let found = found.pump_strokes.unwrap();
    near(found.approach, AREA_CM2 * 3.0 / 10.0, 1e-9);
    near(found.under_load * 2.0, AREA_CM2 * 12.0 + beside_ml, 1e-9);
    near(found.total, (found.approach + found.under_load).ceil(), 1e-12);
    // Two pumps send more oil through the hoses, whose loss changes what compression takes.
    input.pumps = 2;
    let found = assess_circuit(&input);
    let beside_ml = found.oil.compression.l() * 1e3;
    near(found.pump_strokes.unwrap().under_load, (AREA_CM2 * 12.0 + beside_ml) / 4.0, 1e-9);
}

#[test]
fn verify_motor_power_and_fittings() {
    let mut input = circuit(vec![load("a", 1, 600.0)]);
    let found = assess_circuit(&input);
    near(found.motor_power.unwrap().w() * 0.75, found.mechanical_power.unwrap().w(), 1e-12);
    let run = found.hose_run.unwrap();
    assert_eq!((run.region, run.friction_law), (FlowRegion::Laminar, FrictionLaw::Churchill1977));
    assert_eq!(run.fittings_loss, OilPressure::ZERO);
    // Three pairs of couplers of K = 5 each: 15 rho v^2 / 2 at 1.05255 m/s.
    input.conditions.fittings_k = None;
    let run = assess_circuit(&input).hose_run.unwrap();
    near(run.fittings_loss.pa(), 15.0 * 870.0 * 1.052_55 * 1.052_55 / 2.0, 1e-4);
    near(run.loss.pa(), run.friction_loss.pa() + run.fittings_loss.pa(), 1e-12);
}
