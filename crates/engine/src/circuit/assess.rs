//! The whole circuit in one call.

use super::advice::advice;
use super::bill::bill;
use super::input::{CircuitInput, Lift};
use super::level::level_control;
use super::losses::Unknown;
use super::model::{AtTemperature, CircuitAssessment, PointPressure, RaiseTimes};
use super::rating::{self, Loaded};
use super::retract::{Retraction, retraction, worst};
use super::stock::stock_checks;
use super::{pressure, relief, supply, times};
use ramwright_units::{OilPressure, OilVolume};

/// Pressures, hose losses, oil, times, retracting and checks of a circuit.
///
/// # Source
/// Pressure = force / area, oil = area x extension, time = oil / flow by definition; hose losses by Darcy and Weisbach
/// with Churchill's friction factor (1977) and ASTM D341 for the viscosity. The stop pressure, the 5 % of unequal
/// pressures and the bill are common practice, no source.
///
/// # Validity
/// Numbers of rams, pumps and hoses at least one; area, flows, ratings, lengths and density greater than zero; shares
/// not negative; approach not more than the extension: the caller has refused anything else. All points have the same
/// ram, the pumps feed one manifold, flow divides equally over all rams.
/// Everything is worked out at each temperature that counts, and the worse goes into checks and times.
/// Without a hose, or outside the validity of a formula, the loss is unknown: the pressure checks are then
/// `not_checked` or `fail`, never `pass`, the time under load is that of the least flow, and the time to retract is not
/// known.
pub fn assess_circuit(input: &CircuitInput) -> CircuitAssessment {
    let conditions = input.at_each_temperature();
    let points: Vec<_> = input.points.iter().map(|load| pressure::point_pressure(input, load)).collect();
    let governing = pressure::governing(&points);
    let outcomes = pumped(&conditions, governing);
    let retracts: Vec<Retraction> = conditions.iter().map(|input| retraction(input, input.way_back())).collect();
    let at_temperatures = at_temperatures(&conditions, &outcomes, &retracts);
    let outcome = outcomes.into_iter().reduce(rating::worse);
    let loaded = outcome.as_ref().and_then(|outcome| outcome.as_ref().ok());
    let retract = worst(retracts).unwrap_or_else(|| retraction(input, input.way_back()));
    let greatest = loaded.map(|loaded| loaded.pressure).or(governing.map(|point| point.pressure.greatest));
    let oil = supply::oil(input, greatest.unwrap_or(OilPressure::ZERO));
    let beside = oil.budget.compression + oil.budget.swelling.unwrap_or(OilVolume::ZERO);
    let unequal = pressure::unequal_pressures(&points);
    let (relief_window, relief_check) = relief::relief(input, governing, outcome.as_ref());
    let deliveries = times::deliveries(input, &conditions, loaded.map(|loaded| loaded.delivery));
    let mut checks = rating::checks(input, governing, outcome.as_ref());
    checks.push(relief_check);
    checks.extend(oil.checks);
    checks.push(level_control(input, unequal.as_ref()));
    checks.extend(stock_checks(input));
    let mut cautions = pressure::cautions(&points);
    cautions.extend(outcome.iter().flat_map(|outcome| rating::cautions(input, outcome)));
    cautions.extend(supply::outlets(input));
    cautions.extend(retract.caution());
    CircuitAssessment {
        lift_order: pressure::lift_order(&points),
        at_temperatures,
        hose_run: loaded.map(|loaded| loaded.run),
        pump_pressure: loaded.map(|loaded| loaded.pressure),
        mechanical_power: loaded.map(|loaded| loaded.power),
        motor_power: loaded.map(|loaded| loaded.motor),
        relief_window,
        shut_in_oil: relief::shut_in(input, governing),
        oil_per_raise: oil.budget.rams,
        oil: oil.budget,
        usable_oil: oil.usable,
        times: greatest_raise(input, &deliveries, beside),
        sequence_times: times::sequence(input, &conditions, &deliveries, beside),
        pump_strokes: times::strokes(input, &deliveries, beside),
        advice: advice(input, &conditions, &retract, unequal.as_ref()),
        retract,
        unequal_pressures: unequal,
        bill: bill(input),
        checks,
        cautions,
        points,
    }
}

/// What the pumps do at each temperature; empty without points.
fn pumped(conditions: &[CircuitInput], governing: Option<&PointPressure>) -> Vec<Result<Loaded, Unknown>> {
    let loaded = |governing| conditions.iter().map(|input| rating::loaded(input, governing)).collect();
    governing.map_or_else(Vec::new, loaded)
}

fn greatest_raise(input: &CircuitInput, deliveries: &times::Deliveries, beside: OilVolume) -> RaiseTimes {
    times::raise(input, Lift { extension: input.extension, approach: input.approach }, deliveries, beside)
}

fn at_temperatures(
    conditions: &[CircuitInput],
    outcomes: &[Result<Loaded, Unknown>],
    retracts: &[Retraction],
) -> Vec<AtTemperature> {
    let pressures = outcomes.iter().map(|outcome| outcome.as_ref().ok().map(|loaded| loaded.pressure));
    conditions
        .iter()
        .zip(pressures.chain(std::iter::repeat(None)))
        .zip(retracts)
        .map(|((input, pump_pressure), retract)| AtTemperature {
            temperature: input.oil.temperature,
            pump_pressure,
            retract: times::by_itself(retract),
        })
        .collect()
}
