//! What a pump delivers against what stands in its way.

use super::input::CircuitInput;
use super::losses::Unknown;
use super::model::Stage;
use crate::catalogue::{FlowPoint, Pump};
use crate::check::{Lines, Source};
use crate::line;
use ramwright_units::{Flow, OilPressure};

/// Halvings after which pressure or flow is known to the last digit.
const HALVINGS: u32 = 100;

const CURVE: Source = Source::stated("flow against pressure as the catalogue states it, straight between its points");

/// A stage and the flow of one pump in it.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Delivery {
    /// Which stage delivers.
    pub(super) stage: Stage,
    /// Flow of one pump.
    pub(super) flow: Flow,
}

/// What one pump delivers where a flow needs a pressure that rises with it.
///
/// With a curve, its meeting with the pressure needed; else the fast stage where that leaves the pump below its
/// change-over pressure, and the slow one above.
///
/// # Source
/// Definition; flows as the catalogue states them.
///
/// # Validity
/// A curve that never rises. Beyond its last point, which is at the rated pressure or above it, the last flow is taken:
/// such a pressure fails its check.
///
/// # Errors
/// [`Unknown`] where the pressure needed is not known.
pub(super) fn delivery(
    pump: &Pump,
    needed: impl Fn(Flow) -> Result<OilPressure, Unknown>,
) -> Result<Delivery, Unknown> {
    if !pump.flow_curve.is_empty() {
        let pressure = meeting(pump, &needed)?;
        return Ok(Delivery { stage: stage_at(pump, pressure), flow: on_curve(&pump.flow_curve, pressure) });
    }
    if let Some(changeover) = pump.changeover_pressure
        && needed(pump.flow_fast)? < changeover
    {
        return Ok(Delivery { stage: Stage::Fast, flow: pump.flow_fast });
    }
    Ok(Delivery { stage: Stage::Slow, flow: pump.flow_slow })
}

/// What one pump delivers at least, where nothing is known of what stands in its way.
pub(super) fn least_delivery(pump: &Pump) -> Delivery {
    let flow = pump.flow_curve.last().map_or(pump.flow_slow, |last| last.flow);
    Delivery { stage: Stage::Slow, flow }
}

/// The stage at a pressure; a pump without a change-over has the slow one only.
fn stage_at(pump: &Pump, pressure: OilPressure) -> Stage {
    match pump.changeover_pressure {
        Some(changeover) if pressure < changeover => Stage::Fast,
        _ => Stage::Slow,
    }
}

/// The pressure at which the flow of the curve needs just that pressure.
fn meeting(pump: &Pump, needed: &impl Fn(Flow) -> Result<OilPressure, Unknown>) -> Result<OilPressure, Unknown> {
    let mut low = OilPressure::ZERO;
    let mut high = pump.flow_curve.last().map_or(OilPressure::ZERO, |last| last.pressure);
    for _ in 0..HALVINGS {
        let middle = OilPressure::from_pa(f64::midpoint(low.pa(), high.pa()));
        if middle < needed(on_curve(&pump.flow_curve, middle))? {
            low = middle;
        } else {
            high = middle;
        }
    }
    Ok(high)
}

/// Flow at a pressure: straight between the points, that of the end points beyond them.
fn on_curve(curve: &[FlowPoint], pressure: OilPressure) -> Flow {
    let (Some(first), Some(last)) = (curve.first(), curve.last()) else { return Flow::ZERO };
    let around = curve.windows(2).find_map(|pair| match pair {
        [before, after] if before.pressure <= pressure && pressure < after.pressure => Some((before, after)),
        _ => None,
    });
    match around {
        Some((before, after)) => {
            let part = (pressure - before.pressure) / (after.pressure - before.pressure);
            before.flow + (after.flow - before.flow) * part
        }
        None if pressure < first.pressure => first.flow,
        None => last.flow,
    }
}

/// The line that gives the flow of one pump at a pressure by its curve.
pub(super) fn curve_line(book: &mut Lines, pump: &Pump, pressure: OilPressure) {
    for pair in pump.flow_curve.windows(2) {
        if let [before, after] = pair
            && before.pressure <= pressure
            && pressure < after.pressure
        {
            let _: Flow = line!(book, Q_p: Flow = Q_1 + (Q_2 - Q_1) * ((p - p_1) / (p_2 - p_1)); Q_1 = before.flow, Q_2 = after.flow, p = pressure, p_1 = before.pressure, p_2 = after.pressure; CURVE);
        }
    }
}

/// The greatest flow of one pump, not above a first one, that needs no more than a pressure.
///
/// # Errors
/// [`Unknown`] where the pressure needed is not known.
pub(super) fn within_pressure(
    first: Flow,
    greatest: OilPressure,
    needed: impl Fn(Flow) -> Result<OilPressure, Unknown>,
) -> Result<Flow, Unknown> {
    if needed(first)? <= greatest {
        return Ok(first);
    }
    let (mut low, mut high) = (Flow::ZERO, first);
    for _ in 0..HALVINGS {
        let middle = (low + high) / 2.0;
        if needed(middle)? <= greatest {
            low = middle;
        } else {
            high = middle;
        }
    }
    Ok(low)
}

/// Flow of all pumps together in the run to one ram.
pub(super) fn to_one_ram(input: &CircuitInput, pump_flow: Flow) -> Flow {
    pump_flow * f64::from(input.pumps) / input.rams()
}

#[cfg(test)]
mod tests {
    use super::*;

    fn point(bar: f64, l_per_min: f64) -> FlowPoint {
        FlowPoint { pressure: OilPressure::from_bar(bar), flow: Flow::from_l_per_min(l_per_min) }
    }

    #[test]
    fn verify_a_curve_is_straight_between_and_level_beyond() {
        let curve = [point(0.0, 8.0), point(100.0, 6.0), point(700.0, 1.2)];
        let at = |bar: f64| on_curve(&curve, OilPressure::from_bar(bar)).l_per_min();
        for (bar, l_per_min) in [(0.0, 8.0), (50.0, 7.0), (100.0, 6.0), (400.0, 3.6), (700.0, 1.2), (900.0, 1.2)] {
            assert!((at(bar) - l_per_min).abs() < 1e-12, "{bar}: {}", at(bar));
        }
        assert_eq!(on_curve(&[], OilPressure::ZERO), Flow::ZERO);
    }
}
