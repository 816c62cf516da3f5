//! The whole circuit in one call.

use super::bill::bill;
use super::model::{CircuitAssessment, CircuitInput, Stage};
use super::{pressure, rating, supply};

/// Pressures, hose losses, oil, times and checks of a circuit.
///
/// # Source
/// Pressure = force / area, oil = area x extension, time = oil / flow by definition; hose losses by Darcy and Weisbach
/// with Churchill's friction factor (1977) and ASTM D341 for the viscosity. The stop pressure, the 5 % of unequal
/// pressures and the bill are common practice, no source.
///
/// # Validity
/// Numbers of rams, pumps and hoses at least one; area, flows, ratings, lengths and density greater than zero; shares
/// not negative; approach not more than the extension: the caller has refused anything else. All points have the same
/// ram, the pumps feed one manifold, flow divides equally over all rams. Retracting is not covered.
/// Without a hose, or outside the validity of a formula, the loss is unknown: the pressure checks are then
/// `not_checked` or `fail`, never `pass`, and the time under load is that of the slow flow.
pub fn assess_circuit(input: &CircuitInput) -> CircuitAssessment {
    let points: Vec<_> = input.points.iter().map(|load| pressure::point_pressure(input, load)).collect();
    let governing = pressure::governing(&points);
    let outcome = governing.map(|governing| rating::loaded(input, governing));
    let loaded = outcome.as_ref().and_then(|outcome| outcome.as_ref().ok());
    let oil = supply::oil(input);
    let mut checks = rating::checks(input, governing, outcome.as_ref());
    checks.push(oil.check);
    let mut cautions = pressure::cautions(&points);
    cautions.extend(outcome.iter().flat_map(|outcome| rating::cautions(input, outcome)));
    cautions.extend(supply::outlets(input));
    CircuitAssessment {
        lift_order: pressure::lift_order(&points),
        hose_run: loaded.map(|loaded| loaded.run),
        pump_pressure: loaded.map(|loaded| loaded.pressure),
        mechanical_power: loaded.map(|loaded| loaded.power),
        oil_per_raise: oil.needed,
        usable_oil: oil.usable,
        times: supply::times(input, loaded.map_or(Stage::Slow, |loaded| loaded.stage)),
        bill: bill(input),
        checks,
        cautions,
        points,
    }
}
