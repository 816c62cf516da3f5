//! Time: how long the pumps deliver the oil of a raise, and a hand pump's strokes for it.

use super::input::{CircuitInput, Lift};
use super::losses::{Unknown, pressure_lost};
use super::model::{CycleTimes, PumpStrokes, RaiseTimes, SequenceTimes, Stage, StageFlow};
use super::pump::{Delivery, delivery, least_delivery};
use super::retract::{RetractOutcome, Retraction, retraction, worst};
use crate::check::{Lines, Source};
use crate::line;
use ramwright_units::{Flow, Length, OilVolume, Time};

const FLOWS: Source = Source::stated("flow of one pump as the catalogue states it; the pumps feed one manifold");
const DURATION: Source = Source::definition("time = oil / flow, without pauses");
const UNDER_LOAD: Source = Source::definition(
    "time = oil / flow, without pauses; V_b is what compression of the oil and swelling of the hoses take beside, as far as it is known",
);
const STROKES: Source = Source::stated(
    "strokes = oil of one pump / oil of one stroke as the catalogue states it, with what compression and swelling take beside; the last one whole",
);

/// What one pump delivers before contact and under load.
#[derive(Clone, Copy, Debug)]
pub(super) struct Deliveries {
    approach: Delivery,
    under_load: Delivery,
}

/// What delivers in a raise; under load as given, or the least where that is not known.
///
/// # Source
/// Flows as the catalogue states them.
///
/// # Validity
/// The slowest of the temperatures that count. Before contact only the hoses stand against the oil; where their loss is
/// not known, the least flow is taken.
pub(super) fn deliveries(
    input: &CircuitInput,
    conditions: &[CircuitInput],
    under_load: Option<Delivery>,
) -> Deliveries {
    let pump = &input.pump;
    let before_contact =
        |input: &CircuitInput| -> Result<Delivery, Unknown> { delivery(pump, |flow| pressure_lost(input, flow)) };
    let approach = conditions
        .iter()
        .map(|input| before_contact(input).unwrap_or_else(|_| least_delivery(pump)))
        .reduce(|slowest, next| if next.flow < slowest.flow { next } else { slowest })
        .unwrap_or_else(|| least_delivery(pump));
    Deliveries { approach, under_load: under_load.unwrap_or_else(|| least_delivery(pump)) }
}

/// How long a raise takes: the approach, then under load with what compression and swelling take beside.
///
/// # Source
/// Definition.
///
/// # Validity
/// Full flow as stated, no pauses.
pub(super) fn raise(input: &CircuitInput, lift: Lift, deliveries: &Deliveries, beside: OilVolume) -> RaiseTimes {
    let mut lines = Lines::default();
    let book = &mut lines;
    let Deliveries { approach, under_load } = deliveries;
    let (rams, area, pumps) = (input.rams(), input.area(), f64::from(input.pumps));
    let approach_flow = line!(book, Q_a: Flow = n_p * Q_p; n_p = pumps, Q_p = approach.flow; FLOWS);
    let load_flow = line!(book, Q_l: Flow = n_p * Q_p; n_p = pumps, Q_p = under_load.flow; FLOWS);
    let before: Time = line!(book, t_a: Time = n * A * a / Q_a; n = rams, A = input.approach_area(), a = lift.approach, Q_a = approach_flow; DURATION);
    let loaded: Time = line!(book, t_l: Time = (n * A * (s - a) + V_b) / Q_l; n = rams, A = area, s = lift.extension, a = lift.approach, V_b = beside, Q_l = load_flow; UNDER_LOAD);
    let total = line!(book, t: Time = t_a + t_l; t_a = before, t_l = loaded; DURATION);
    RaiseTimes {
        approach_flow: StageFlow { stage: approach.stage, flow: approach_flow },
        load_flow: StageFlow { stage: under_load.stage, flow: load_flow },
        approach: before,
        under_load: loaded,
        total,
        lines: lines.0,
    }
}

/// Strokes of one hand pump in the greatest raise, where the oil of a stroke is stated.
///
/// # Source
/// Definition; the oil of a stroke as the catalogue states it.
///
/// # Validity
/// Equal pumps that share the work equally. Without the oil of a fast stroke, slow ones count for the whole raise.
pub(super) fn strokes(input: &CircuitInput, deliveries: &Deliveries, beside: OilVolume) -> Option<PumpStrokes> {
    let slow = input.pump.stroke_volume_slow?;
    let fast = input.pump.stroke_volume_fast.unwrap_or(slow);
    let of = |stage| match stage {
        Stage::Fast => fast,
        Stage::Slow => slow,
    };
    let mut lines = Lines::default();
    let book = &mut lines;
    let (rams, area, pumps) = (input.rams(), input.area(), f64::from(input.pumps));
    let approach = line!(book, N_a: f64 = n * A * a / (n_p * V_1); n = rams, A = input.approach_area(), a = input.approach, n_p = pumps, V_1 = of(deliveries.approach.stage); STROKES);
    let under_load = line!(book, N_l: f64 = (n * A * (s - a) + V_b) / (n_p * V_1); n = rams, A = area, s = input.extension, a = input.approach, V_b = beside, n_p = pumps, V_1 = of(deliveries.under_load.stage); STROKES);
    let total = (approach + under_load).ceil();
    Some(PumpStrokes { approach, under_load, total, lines: lines.0 })
}

/// The times of every packing lift; none without a sequence.
///
/// # Source
/// As [`raise`] and [`retraction`].
///
/// # Validity
/// All rams together in every lift, by the greatest extension of any of them: the safe side where ends go up in turn. What
/// compression and swelling take in the greatest raise counts in each.
pub(super) fn sequence(
    input: &CircuitInput,
    conditions: &[CircuitInput],
    deliveries: &Deliveries,
    beside: OilVolume,
) -> Option<SequenceTimes> {
    if input.lifts.is_empty() {
        return None;
    }
    let cycles: Vec<CycleTimes> = input
        .lifts
        .iter()
        .zip(1_u32..)
        .map(|(lift, cycle)| CycleTimes {
            cycle,
            extension: lift.extension,
            oil: input.area() * lift.extension * input.rams(),
            raise: raise(input, *lift, deliveries, beside).total,
            retract: retract_time(conditions, lift.extension),
        })
        .collect();
    Some(SequenceTimes {
        oil: cycles.iter().map(|cycle| cycle.oil).sum::<OilVolume>(),
        raise: cycles.iter().map(|cycle| cycle.raise).sum::<Time>(),
        retract: cycles.iter().map(|cycle| cycle.retract).sum::<Option<Time>>(),
        cycles,
    })
}

/// Time to retract from an extension after the load has been put on packing.
fn retract_time(conditions: &[CircuitInput], from: Length) -> Option<Time> {
    worst(conditions.iter().map(|input| retraction(input, from))).and_then(|found| by_itself(&found))
}

/// The time, if the rams retract without the load.
pub(super) fn by_itself(found: &Retraction) -> Option<Time> {
    if found.outcome == RetractOutcome::Retracts { found.time } else { None }
}
