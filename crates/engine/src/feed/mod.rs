//! What feeds a ram set: its circuit as it is stated, or chosen out of the yard.

mod choose;
mod job;

pub use choose::Supply;
pub(crate) use choose::{Chosen, Fed, Feed, choose, stated};
pub use job::{CircuitChoice, circuit_input};

use crate::circuit::CircuitAssessment;
use crate::packing_lift::PackingSequence;
use ramwright_units::Time;

/// Time at the lift: handling, and the pumps. Nothing where the time of the pumps is not known: it would be too little.
pub(crate) fn duration(sequence: &PackingSequence, circuit: Option<&CircuitAssessment>) -> Option<Time> {
    let totals = sequence.totals.as_ref()?;
    let handling = totals.duration - totals.pump_time.unwrap_or(Time::ZERO);
    let of_circuit = circuit.and_then(|circuit| circuit.sequence_times.as_ref());
    // Rams that do not retract by themselves are pushed back while hands are at work anyway.
    let pumping = of_circuit.map(|times| times.raise + times.retract.unwrap_or(Time::ZERO)).or(totals.pump_time)?;
    Some(handling + pumping)
}
