//! The circuit against the cases of `tests/reference/circuit`, which general-purpose libraries have computed.
//!
//! Everything goes through `assess_circuit`; no case is left out silently.

#![allow(clippy::unwrap_used, clippy::indexing_slicing, reason = "tests stop at what they do not expect")]

mod support;

use ramwright_engine::catalogue::{Hose, Pump};
use ramwright_engine::circuit::{
    CircuitAssessment, CircuitConditions, CircuitInput, Oil, PointLoad, RetractOutcome, assess_circuit,
};
use ramwright_engine::load::Task;
use ramwright_engine::ram::{Action, Ram};
use ramwright_units::{
    Area, Flow, Force, HoseLength, KinematicViscosity, Length, OilPressure, OilVolume, PieceMass, Range, Temperature,
};
use serde::Deserialize;
use support::yard;

#[derive(Deserialize)]
struct File {
    header: Header,
    viscosity: Vec<ColdOil>,
    loss: Vec<Flowing>,
    retract: Vec<Retract>,
    compression: Vec<Compression>,
}

#[derive(Deserialize)]
struct Header {
    tolerances: Tolerances,
}

#[derive(Deserialize)]
struct Tolerances {
    viscosity: f64,
    loss: f64,
    retract: f64,
    compression: f64,
}

#[derive(Deserialize)]
struct ColdOil {
    name: String,
    v40_mm2_s: f64,
    v100_mm2_s: f64,
    temperature_c: f64,
    viscosity_mm2_s: f64,
}

#[derive(Deserialize)]
struct Run {
    bore_m: f64,
    length_m: f64,
    fittings_k: f64,
    density_kg_m3: f64,
    viscosity_m2_s: f64,
}

#[derive(Deserialize)]
struct Flowing {
    name: String,
    run: Run,
    flow_m3_s: f64,
    reynolds: f64,
    loss_pa: f64,
}

#[derive(Deserialize)]
struct SpringRam {
    area_m2: f64,
    stroke_m: f64,
    from_m: f64,
    preload_n: f64,
    full_n: f64,
    plunger_kg: f64,
    back_pressure_pa: f64,
}

#[derive(Deserialize)]
struct Retract {
    name: String,
    run: Run,
    ram: SpringRam,
    time_s: f64,
}

#[derive(Deserialize)]
struct Compression {
    name: String,
    volume_m3: f64,
    pressure_pa: f64,
    modulus_pa: f64,
    extra_m3: f64,
}

fn file() -> File {
    serde_json::from_str(include_str!("../../../tests/reference/circuit/cases.json")).unwrap()
}

/// One ram at one point, fed by one pump of one stage. At 40 degrees Celsius the viscosity is the one stated there.
fn circuit(run: &Run) -> CircuitInput {
    let share = Force::from_kn(100.0);
    CircuitInput {
        task: Task::Raise,
        ram: yard::rams()[0].clone(),
        working_area: yard::rams()[0].effective_area,
        points: vec![PointLoad { point: "1".into(), rams: 1, share: Range::new(share, share, share) }],
        extension: Length::from_mm(100.0),
        approach: Length::ZERO,
        lifts: Vec::new(),
        pump: Pump { changeover_pressure: None, ..yard::pump() },
        hose: Some(Hose { bore: Length::from_m(run.bore_m), length: HoseLength::from_m(run.length_m), ..yard::hose() }),
        hose_count_in_series: 1,
        oil: Oil {
            viscosity_40: KinematicViscosity::from_m2_per_s(run.viscosity_m2_s),
            viscosity_100: KinematicViscosity::from_m2_per_s(run.viscosity_m2_s * 0.4).max(least_viscosity()),
            temperature: Temperature::from_k(313.15),
            density_kg_per_m3: run.density_kg_m3,
            ..yard::oil()
        },
        pumps: 1,
        level_tolerance: Length::from_mm(10.0),
        conditions: CircuitConditions { fittings_k: Some(run.fittings_k), ..yard::conditions() },
    }
}

/// The least that ASTM D341 takes.
fn least_viscosity() -> KinematicViscosity {
    KinematicViscosity::from_mm2_per_s(2.0)
}

fn plain_run() -> Run {
    Run { bore_m: 6e-3, length_m: 10.0, fittings_k: 0.0, density_kg_m3: 870.0, viscosity_m2_s: 32e-6 }
}

#[track_caller]
fn near(found: f64, wanted: f64, tolerance: f64, name: &str) {
    assert!((found / wanted - 1.0).abs() <= tolerance, "{name}: {found}, not {wanted}");
}

fn with_flow(run: &Run, flow: f64) -> CircuitAssessment {
    let mut input = circuit(run);
    input.pump.flow_slow = Flow::from_m3_per_s(flow);
    input.pump.flow_fast = input.pump.flow_slow;
    assess_circuit(&input)
}

/// Source: the line of ASTM D341 solved with scipy.
#[test]
fn validate_viscosities_of_another_library() {
    let file = file();
    assert_eq!(file.viscosity.len(), 6);
    for case in &file.viscosity {
        let mut input = circuit(&plain_run());
        input.oil.viscosity_40 = KinematicViscosity::from_mm2_per_s(case.v40_mm2_s);
        input.oil.viscosity_100 = KinematicViscosity::from_mm2_per_s(case.v100_mm2_s);
        input.oil.temperature = Temperature::from_k(case.temperature_c + 273.15);
        let found = assess_circuit(&input).hose_run.unwrap().viscosity.mm2_per_s();
        near(found, case.viscosity_mm2_s, file.header.tolerances.viscosity, &case.name);
    }
}

/// Source: `Churchill_1977`, `K_from_f` and `dP_from_K` of the library fluids 1.3.1.
#[test]
fn validate_hose_losses_of_another_library() {
    let file = file();
    assert_eq!(file.loss.len(), 12);
    for case in &file.loss {
        let run = with_flow(&case.run, case.flow_m3_s).hose_run.unwrap();
        near(run.reynolds, case.reynolds, file.header.tolerances.loss, &case.name);
        near(run.loss.pa(), case.loss_pa, file.header.tolerances.loss, &case.name);
    }
}

/// Source: scipy `quad` and `solve_ivp` over the flow that the library fluids gives at each extension. Never shorter than
/// that by more than what the libraries differ by.
#[test]
fn validate_retract_times_of_another_library() {
    let file = file();
    assert_eq!(file.retract.len(), 9);
    for case in &file.retract {
        let mut input = circuit(&case.run);
        input.ram = Ram {
            action: Action::SingleActingSpringReturn,
            effective_area: Area::from_m2(case.ram.area_m2),
            stroke: Length::from_m(case.ram.stroke_m),
            return_preload: Some(Force::from_n(case.ram.preload_n)),
            return_force: Some(Force::from_n(case.ram.full_n)),
            plunger_mass: Some(PieceMass::from_kg(case.ram.plunger_kg)),
            ..input.ram
        };
        input.working_area = input.ram.effective_area;
        input.extension = Length::from_m(case.ram.from_m);
        input.conditions.back_pressure = OilPressure::from_pa(case.ram.back_pressure_pa);
        let found = assess_circuit(&input).retract;
        assert_eq!(found.outcome, RetractOutcome::Retracts, "{}: {}", case.name, found.text);
        let time = found.time.unwrap().s();
        near(time, case.time_s, file.header.tolerances.retract, &case.name);
        assert!(case.time_s * (1.0 - 1e-6) <= time, "{}: {time} is shorter than {}", case.name, case.time_s);
    }
}

/// Source: the definition of the bulk modulus integrated by scipy `solve_ivp`.
#[test]
fn validate_compression_of_another_library() {
    let file = file();
    assert_eq!(file.compression.len(), 3);
    for case in &file.compression {
        let mut input = circuit(&plain_run());
        input.hose = None;
        input.ram.effective_area = Area::from_cm2(100.0);
        input.working_area = input.ram.effective_area;
        input.extension = OilVolume::from_m3(case.volume_m3) / input.working_area;
        let share = OilPressure::from_pa(case.pressure_pa) * input.working_area;
        input.points[0].share = Range::new(share, share, share);
        input.oil.bulk_modulus = Some(OilPressure::from_pa(case.modulus_pa));
        let found = assess_circuit(&input).oil.compression.m3();
        near(found, case.extra_m3, file.header.tolerances.compression, &case.name);
    }
}
