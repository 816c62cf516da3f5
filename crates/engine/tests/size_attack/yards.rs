//! Yards of a few models out of a few values, so that many of them are equal in one thing and not in another.

use super::support::{mm, yard};
use proptest::prelude::*;
use proptest::sample::select;
use ramwright_engine::ram::{Action, Ram};
use ramwright_units::{OilPressure, PieceMass};

fn action() -> impl Strategy<Value = Action> {
    select(vec![
        Action::DoubleActing,
        Action::DoubleActing,
        Action::SingleActingSpringReturn,
        Action::SingleActingLoadReturn,
    ])
}

/// One model; what is not known of it is drawn, too.
fn ram() -> impl Strategy<Value = Ram> {
    let sizes =
        (select(vec![35.0, 71.0, 140.0, 140.0]), select(vec![40.0, 100.0, 160.0]), select(vec![110.0, 210.0, 260.0]));
    let kinds = (action(), any::<bool>(), select(vec![600.0, 680.0, 700.0]), select(vec![1.3, 1.5]));
    let yard = (
        prop::option::weighted(0.9, select(vec![4u32, 9, 18, 18])),
        prop::option::weighted(0.9, select(vec![20.0, 20.0, 33.3, 60.0])),
        prop::option::weighted(0.8, select(vec![10.004, 10.005, 19.995, 40.0])),
        prop::option::weighted(0.6, select(vec![33.335, 50.0])),
    );
    (sizes, kinds, yard).prop_map(|((area, stroke, closed), (action, lock_collar, bar, base), yard)| {
        let (stock, mass, day_rate, week_rate) = yard;
        let ram = yard::ram("", area, stroke, closed);
        Ram {
            action,
            lock_collar,
            rated_pressure: OilPressure::from_bar(bar),
            base_diameter: ram.body_diameter.map(|body| body * (base / 1.3)),
            stock,
            mass: mass.map(PieceMass::from_kg),
            day_rate,
            week_rate,
            ..ram
        }
    })
}

/// From one to so many models, in the order of their ids.
pub(crate) fn yards(most: usize) -> impl Strategy<Value = Vec<Ram>> {
    prop::collection::vec(ram(), 1..=most).prop_map(|rams| {
        let named = |(number, ram): (usize, Ram)| Ram { id: format!("ash-{number:02}"), ..ram };
        rams.into_iter().enumerate().map(named).collect()
    })
}

/// The same models in the reverse order, by name, too.
pub(crate) fn renamed(rams: &[Ram]) -> Vec<Ram> {
    let count = rams.len();
    let named = |(number, ram): (usize, &Ram)| Ram { id: format!("fir-{number:02}"), ..ram.clone() };
    let reversed: Vec<Ram> = rams.iter().rev().enumerate().map(named).collect();
    assert_eq!(reversed.len(), count);
    reversed
}

/// The name that a model of [`yards`] has among the [`renamed`].
pub(crate) fn new_name(old: &str, count: usize) -> String {
    let number: usize = old.trim_start_matches("ash-").parse().unwrap();
    format!("fir-{:02}", count - 1 - number)
}

/// Twenty models that differ by nothing but their names.
pub(crate) fn twins() -> Vec<Ram> {
    (0..20).map(|number| Ram { id: format!("yew-{number:02}"), ..yard::small_ram() }).collect()
}

/// Models that no lift can use.
pub(crate) fn hopeless() -> Vec<Ram> {
    vec![
        Ram { id: "a-weak".into(), rated_pressure: OilPressure::from_bar(1.0), ..yard::small_ram() },
        Ram { id: "b-tall".into(), closed_height: mm(9_000.0), ..yard::small_ram() },
        Ram { id: "c-none".into(), stock: Some(0), ..yard::small_ram() },
    ]
}
