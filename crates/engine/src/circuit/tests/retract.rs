//! How the rams come back.

use super::*;
use ramwright_units::{PieceMass, Time};

fn with_spring(preload_kn: f64, full_kn: f64) -> CircuitInput {
    let mut input = circuit(vec![load("a", 1, 600.0)]);
    input.ram.action = Action::SingleActingSpringReturn;
    input.ram.return_preload = Some(Force::from_kn(preload_kn));
    input.ram.return_force = Some(Force::from_kn(full_kn));
    input
}

fn double_acting() -> CircuitInput {
    let mut input = circuit(vec![load("a", 1, 600.0)]);
    input.ram.action = Action::DoubleActing;
    input.ram.annulus_area = Some(Area::from_cm2(0.4 * AREA_CM2));
    input
}

#[track_caller]
fn seconds(input: &CircuitInput) -> f64 {
    assess_circuit(input).retract.time.unwrap().s()
}

/// Source: Hagen and Poiseuille's law computed independently: 1.995 L through 10 m of 6.35 mm at 46 mm2/s take 100.036 s
/// at 2 bar and 40.0143 s at 5 bar. Area 133 cm2 and 150 mm, a spring of constant force.
#[test]
fn validate_retract_rows_with_a_constant_spring() {
    for (bar, wanted) in [(2.0, 100.036), (5.0, 40.014_3)] {
        let kn = bar * 133.0 / 100.0;
        let mut input = with_spring(kn, kn);
        input.ram.effective_area = Area::from_cm2(133.0);
        let found = assess_circuit(&input).retract;
        near(found.time.unwrap().s(), wanted, 5e-6);
        assert_eq!((found.by, found.outcome), (ReturnBy::Spring, RetractOutcome::Retracts));
        assert_eq!(found.region, Some(FlowRegion::Laminar));
        assert!(found.integration_error.unwrap() < 1e-9);
    }
}

/// A laminar flow and a straight spring have the closed form `t = A s R ln(p_s / p_0) / (p_s - p_0)`.
#[test]
fn verify_a_straight_spring_in_laminar_flow() {
    let constant = seconds(&with_spring(1.327_322_9, 1.327_322_9));
    let falling = assess_circuit(&with_spring(1.327_322_9, 5.309_291_6)).retract;
    near(falling.time.unwrap().s(), constant * libm::log(4.0) / 3.0, 1e-6);
    assert_eq!(falling.slowest_at, Some(Length::ZERO));
    near(falling.greatest_flow.unwrap().l_per_min() / falling.least_flow.unwrap().l_per_min(), 4.0, 1e-6);
}

#[test]
fn verify_what_is_not_known_has_no_time() {
    let mut input = with_spring(2.0, 4.0);
    input.ram.return_preload = None;
    let found = assess_circuit(&input).retract;
    assert_eq!((found.outcome, found.time), (RetractOutcome::Unknown, None));
    assert_eq!(found.missing[0].as_str(), "ram/return_preload");
    let mut input = with_spring(2.0, 4.0);
    input.hose = None;
    let found = assess_circuit(&input).retract;
    assert_eq!((found.outcome, found.missing[0].as_str()), (RetractOutcome::Unknown, "circuit/hose"));
    let mut input = double_acting();
    input.ram.annulus_area = None;
    assert_eq!(assess_circuit(&input).retract.missing[0].as_str(), "ram/annulus_area");
}

#[test]
fn verify_a_spring_too_weak_never_fully_retracts() {
    let found = assess_circuit(&with_spring(0.0, 4.0));
    assert_eq!((found.retract.outcome, found.retract.time), (RetractOutcome::NeverFully, None));
    assert!(found.retract.text.as_str().contains("never fully retract"));
    assert!(codes(&found).contains(&"never_fully_retracts"));
    // Half the force of the spring stands against the tank: it stops half way.
    let mut input = with_spring(0.0, 4.0);
    input.conditions.back_pressure = Force::from_kn(2.0) / input.ram.effective_area;
    let found = assess_circuit(&input).retract;
    near(found.stands_still_at.unwrap().mm(), 75.0, 1e-9);
    // The weight of an upright plunger helps, and only there.
    input.ram.plunger_mass = Some(PieceMass::from_kg(400.0));
    assert_eq!(assess_circuit(&input).retract.outcome, RetractOutcome::Retracts);
    input.task = Task::Press;
    assert_eq!(assess_circuit(&input).retract.outcome, RetractOutcome::NeverFully);
}

#[test]
fn verify_load_return_rams_come_down_under_the_load_only() {
    let found = assess_circuit(&circuit(vec![load("a", 1, 600.0), load("b", 2, 300.0)]));
    assert_eq!((found.retract.by, found.retract.outcome), (ReturnBy::Load, RetractOutcome::UnderLoadOnly));
    assert!(found.retract.text.as_str().contains("once it stands on packing they do not retract"));
    assert_eq!(found.at_temperatures[0].retract, None);
    let mut input = circuit(vec![load("a", 1, 600.0)]);
    input.points[0].share.least = Force::ZERO;
    assert_eq!(assess_circuit(&input).retract.outcome, RetractOutcome::NeverFully);
    input.task = Task::Press;
    assert_eq!(assess_circuit(&input).retract.outcome, RetractOutcome::NotByThemselves);
}

/// Area x extension over the flow of the pump, as long as the returning oil leaves it below its change-over pressure.
#[test]
fn verify_pumps_push_double_acting_rams_back() {
    let mut input = double_acting();
    let annulus_l = 0.4 * AREA_CM2 * 150.0 / 1e4;
    // 10 L/min in are 25 L/min out: 41.8 bar on the bore at 46 mm2/s, 2.5 times that on the annulus.
    near(seconds(&input), 60.0 * annulus_l / 2.0, 1e-9);
    input.pump.changeover_pressure = Some(OilPressure::from_bar(200.0));
    near(seconds(&input), 60.0 * annulus_l / 10.0, 1e-9);
    // Long thin hoses hold the flow back to what the least rating drives through them.
    input.pump.changeover_pressure = None;
    input.hose_count_in_series = 40;
    input.oil.temperature = celsius(-10.0);
    let found = assess_circuit(&input).retract;
    assert!(found.text.as_str().contains("held back"), "{}", found.text);
    assert!(60.0 * annulus_l / 2.0 < found.time.unwrap().s());
}

#[test]
fn verify_the_colder_oil_counts() {
    let mut input = with_spring(2.0, 4.0);
    input.oil.temperature = celsius(20.0);
    let warm = assess_circuit(&input);
    input.oil.coldest = Some(celsius(-5.0));
    let both = assess_circuit(&input);
    input.oil.temperature = celsius(-5.0);
    input.oil.coldest = None;
    let cold = assess_circuit(&input);
    assert_eq!(both.retract.time, cold.retract.time);
    assert_eq!(both.pump_pressure, cold.pump_pressure);
    assert_eq!(both.hose_run, cold.hose_run);
    assert!(warm.retract.time < both.retract.time && warm.pump_pressure < both.pump_pressure);
    assert_eq!(both.at_temperatures.len(), 2);
    assert_eq!(both.at_temperatures[0].retract, warm.retract.time);
}

#[test]
fn verify_advice_has_numbers() {
    let mut input = with_spring(1.5, 3.0);
    input.oil.temperature = celsius(5.0);
    input.hose_count_in_series = 8;
    let found = assess_circuit(&input);
    let codes: Vec<&str> = found.advice.iter().map(|advice| advice.code.as_str()).collect();
    assert_eq!(codes, ["double_acting", "wider_hose", "warm_oil"]);
    for advice in &found.advice {
        let (now, then) = (advice.now.unwrap().value_si, advice.then.unwrap().value_si);
        near(now, found.retract.time.unwrap().s(), 1e-12);
        assert!(then < 0.8 * now, "{}", advice.text);
    }
    assert!(
        found.advice[0].text.as_str().starts_with("40 m of hose and a spring return: "),
        "{}",
        found.advice[0].text
    );
    // Warm oil: the same circuit at 40 degrees.
    input.oil.temperature = celsius(40.0);
    near(found.advice[2].then.unwrap().value_si, seconds(&input), 1e-12);
    // The double-acting ram: the same circuit with one.
    input.oil.temperature = celsius(5.0);
    input.ram.action = Action::DoubleActing;
    input.ram.annulus_area = Some(input.ram.effective_area * 0.4);
    near(found.advice[0].then.unwrap().value_si, seconds(&input), 1e-12);
}

#[test]
fn verify_load_return_in_packing_lifts_is_flagged() {
    let mut input = circuit(vec![load("a", 1, 600.0)]);
    let lift = |mm: f64| Lift { extension: Length::from_mm(mm), approach: Length::ZERO };
    input.lifts = vec![lift(120.0), lift(90.0)];
    let found = assess_circuit(&input);
    assert_eq!(found.advice[0].code.as_str(), "load_return_on_packing");
    assert!(found.advice[0].text.as_str().contains("2 in all"));
    let beside_l = found.oil.compression.l();
    let times = found.sequence_times.unwrap();
    assert_eq!((times.cycles.len(), times.retract), (2, None));
    near(times.oil.l(), AREA_CM2 * 210.0 / 1e4, 1e-12);
    near(times.raise.s(), 60.0 * (AREA_CM2 * 210.0 / 1e4 + 2.0 * beside_l) / 2.0, 1e-12);
}

#[test]
fn verify_the_times_of_a_sequence_add_up() {
    let mut input = with_spring(2.0, 4.0);
    let lift = |mm: f64| Lift { extension: Length::from_mm(mm), approach: Length::ZERO };
    input.lifts = vec![lift(150.0), lift(60.0)];
    let found = assess_circuit(&input);
    let times = found.sequence_times.unwrap();
    assert_eq!(times.cycles[0].retract, found.retract.time);
    assert!(times.cycles[1].retract < times.cycles[0].retract);
    let sum: Time = times.cycles.iter().filter_map(|cycle| cycle.retract).sum();
    assert_eq!(times.retract, Some(sum));
}
