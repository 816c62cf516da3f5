//! What holds of every circuit.

use super::*;
use proptest::prelude::*;
use ramwright_units::PieceMass;

fn any_circuit() -> impl Strategy<Value = CircuitInput> {
    (proptest::collection::vec((1_u32..4, 5.0..900.0), 1..5), 0.2..4.0, 1.0..6.0, -10.0..60.0, any::<bool>()).prop_map(
        |(points, slow, times_fast, temperature, two_stage)| {
            let points = points.iter().enumerate().map(|(i, (n, kn))| load(&i.to_string(), *n, *kn)).collect();
            let mut input = circuit(points);
            input.pump.flow_slow = Flow::from_l_per_min(slow);
            input.pump.flow_fast = Flow::from_l_per_min(slow * times_fast);
            input.pump.changeover_pressure = two_stage.then_some(OilPressure::from_bar(150.0));
            input.oil.temperature = celsius(temperature);
            input
        },
    )
}

fn pump_pa(input: &CircuitInput) -> f64 {
    assess_circuit(input).pump_pressure.unwrap().pa()
}

/// A spring-return circuit with everything stated.
fn any_spring() -> impl Strategy<Value = CircuitInput> {
    (any_circuit(), 0.5..5.0, 1.0..3.0, 0.0..20.0, 0.0..0.3).prop_map(|(mut input, preload, times, kg, back)| {
        input.ram.action = Action::SingleActingSpringReturn;
        input.ram.return_preload = Some(Force::from_kn(preload));
        input.ram.return_force = Some(Force::from_kn(preload * times));
        input.ram.plunger_mass = Some(PieceMass::from_kg(kg));
        input.conditions.back_pressure = OilPressure::from_bar(back);
        input
    })
}

fn retract_s(input: &CircuitInput) -> f64 {
    let found = assess_circuit(input).retract;
    match found.outcome {
        RetractOutcome::NeverFully => f64::INFINITY,
        _ => found.time.unwrap().s(),
    }
}

/// Times are exact but for what the integral is uncertain by.
const ROUNDING: f64 = 1e-3;

proptest! {
    #[test]
    fn verify_longer_hose_never_lowers_pump_pressure(input in any_circuit(), more in 1_u32..5) {
        let longer = CircuitInput { hose_count_in_series: input.hose_count_in_series + more, ..input.clone() };
        prop_assert!(pump_pa(&input) <= pump_pa(&longer));
    }

    /// As long as the flow is laminar: towards the transition less viscous oil can lose more.
    #[test]
    fn verify_colder_oil_never_lowers_pump_pressure(input in any_circuit(), colder in 0.1_f64..10.0) {
        let fast_reynolds = assess_circuit(&CircuitInput {
            pump: Pump { flow_slow: input.pump.flow_fast, ..input.pump.clone() },
            ..input.clone()
        }).hose_run.unwrap().reynolds;
        prop_assume!(fast_reynolds < 2000.0);
        let mut cold = input.clone();
        cold.oil.temperature = input.oil.temperature - Temperature::from_k(colder);
        prop_assert!(pump_pa(&input) <= pump_pa(&cold));
    }

    #[test]
    fn verify_more_load_never_lowers_a_pressure(input in any_circuit(), factor in 1.0_f64..3.0) {
        let mut heavier = input.clone();
        for point in &mut heavier.points {
            let share = point.share;
            point.share = Range::new(share.least * factor, share.expected * factor, share.greatest * factor);
        }
        prop_assert!(pump_pa(&input) <= pump_pa(&heavier));
        let (light, heavy) = (assess_circuit(&input), assess_circuit(&heavier));
        for (light, heavy) in light.points.iter().zip(&heavy.points) {
            prop_assert!(light.pressure.greatest <= heavy.pressure.greatest);
            prop_assert!(light.stop_pressure <= heavy.stop_pressure);
        }
        prop_assert!(light.times.total <= heavy.times.total);
    }

    /// The pump's pressure is never below that of any ram, and the stop pressure never above a rating.
    #[test]
    fn verify_bounds(input in any_circuit()) {
        let found = assess_circuit(&input);
        for point in &found.points {
            prop_assert!(point.pressure.greatest <= found.pump_pressure.unwrap());
            prop_assert!(point.stop_pressure <= OilPressure::from_bar(700.0));
        }
        prop_assert_eq!(&found, &assess_circuit(&input));
    }

    #[test]
    fn verify_more_hose_never_retracts_faster(input in any_spring(), more in 1_u32..6) {
        let longer = CircuitInput { hose_count_in_series: input.hose_count_in_series + more, ..input.clone() };
        prop_assert!(retract_s(&input) <= retract_s(&longer) * (1.0 + ROUNDING));
    }

    /// As long as the flow is laminar, as it is in all of these.
    #[test]
    fn verify_colder_oil_never_retracts_faster(input in any_spring(), colder in 0.1_f64..15.0) {
        let mut cold = input.clone();
        cold.oil.temperature = input.oil.temperature - Temperature::from_k(colder);
        prop_assume!(assess_circuit(&input).retract.region.is_none_or(|region| region == FlowRegion::Laminar));
        prop_assert!(retract_s(&input) <= retract_s(&cold) * (1.0 + ROUNDING));
        let both = CircuitInput { oil: Oil { coldest: Some(cold.oil.temperature), ..input.oil }, ..input.clone() };
        prop_assert!(retract_s(&input) <= retract_s(&both));
    }

    #[test]
    fn verify_a_stronger_spring_is_never_slower(input in any_spring(), factor in 1.0_f64..3.0) {
        let mut stronger = input.clone();
        stronger.ram.return_preload = input.ram.return_preload.map(|force| force * factor);
        stronger.ram.return_force = input.ram.return_force.map(|force| force * factor);
        prop_assert!(retract_s(&stronger) <= retract_s(&input) * (1.0 + ROUNDING));
    }

    #[test]
    fn verify_a_longer_raise_takes_more_oil_and_time(input in any_spring(), part in 0.1_f64..1.0) {
        let mut shorter = input.clone();
        shorter.extension = input.extension * part;
        shorter.approach = input.approach * part;
        let (short, long) = (assess_circuit(&shorter), assess_circuit(&input));
        prop_assert!(short.oil.needed <= long.oil.needed && short.oil.returns <= long.oil.returns);
        prop_assert!(short.times.total <= long.times.total);
        prop_assert!(retract_s(&shorter) <= retract_s(&input) * (1.0 + ROUNDING));
    }

    #[test]
    fn verify_any_float_gives_an_answer(v in any::<[f64; 8]>(), rams in any::<u32>(), pumps in any::<u32>()) {
        let mut input = four_points(v[0]);
        input.points[0].rams = rams;
        input.pumps = pumps;
        input.extension = Length::from_m(v[1]);
        input.oil.density_kg_per_m3 = v[2];
        input.oil.temperature = Temperature::from_k(v[3]);
        input.pump.changeover_pressure = Some(OilPressure::from_pa(v[4]));
        input.pump.flow_fast = Flow::from_m3_per_s(v[5]);
        input.ram.effective_area = Area::from_m2(v[6]);
        input.hose.as_mut().unwrap().bore = Length::from_m(v[7]);
        input.ram.action = [Action::SingleActingLoadReturn, Action::SingleActingSpringReturn, Action::DoubleActing]
            [pumps as usize % 3];
        input.ram.return_preload = Some(Force::from_n(v[2]));
        input.ram.return_force = Some(Force::from_n(v[6]));
        input.ram.annulus_area = Some(Area::from_m2(v[1]));
        input.conditions.back_pressure = OilPressure::from_pa(v[3]);
        prop_assert_eq!(assess_circuit(&input).checks.len(), 9);
    }
}
