//! Pressure at the pump under the greatest load, against the rating of every part.

use super::input::CircuitInput;
use super::losses::{Loss, Unknown, hose_loss, pressure_lost};
use super::model::{HoseRun, Part, PointPressure, Stage};
use super::pump::{Delivery, curve_line, delivery};
use crate::check::{Check, CheckId, Finding, Line, Lines, Phase, Place, Scenario, Source, Status};
use crate::line;
use crate::remark::Caution;
use ramwright_units::{OilPressure, Power};

const SUM: Source = Source::definition("pressure at the rams + hose loss");
const CHANGE_OVER: Source = Source::definition(
    "a pump with two stages: the slow stage pushes the load and its own loss; the fast stage does so up to the change-over pressure at most",
);
const POWER: Source =
    Source::definition("power = pressure x flow of one pump, given to the oil; the pump's own losses are not included");
const MOTOR: Source = Source::definition("power of the motor = power given to the oil / efficiency of the pump");

const NOT_IN_IT: &str = "The loss is that of the hoses and their couplers: other valves and bends are in it only as far as a coefficient is stated for them, and the weight of the oil is not.";
const IN_TRANSITION: &str = "The flow in the hoses is between laminar and turbulent, where no formula is reliable: the loss may be half as great again. A wider hose or less flow avoids it.";
const RELIEF: &str = "The pump can exceed the rating of this part: set its relief valve no higher than the least rating before the lift.";
const ALONE: &str = "The pressure at the rams alone exceeds the rating, before any hose loss.";

/// The greatest pressure at the pump and what led there.
#[derive(Clone, Debug, PartialEq)]
pub(super) struct Loaded {
    /// Which stage raises the load, and its flow.
    pub(super) delivery: Delivery,
    /// The run of hoses at that stage.
    pub(super) run: HoseRun,
    /// The pressure.
    pub(super) pressure: OilPressure,
    /// Power that one pump gives to the oil.
    pub(super) power: Power,
    /// Power that its motor needs for that.
    pub(super) motor: Power,
    transition: bool,
    lines: Vec<Line>,
}

/// Greatest pressure at the pump: the rams' greatest pressure with the hose loss.
///
/// Below the change-over pressure the fast stage raises the load if its loss leaves the pump below it too. If not, the
/// pump changes over: its pressure has then reached the change-over pressure. So written, the pressure never falls when
/// load or hose length grow.
///
/// # Source
/// Definition; the losses as in [`hose_loss`]. A pump with a curve delivers where the curve meets the pressure needed.
///
/// # Validity
/// Flow divides equally over all rams.
///
/// # Errors
/// [`Unknown`] where the hose loss is not known.
pub(super) fn loaded(input: &CircuitInput, governing: &PointPressure) -> Result<Loaded, Unknown> {
    let pump = &input.pump;
    let at_rams = governing.pressure.greatest;
    let mut lines = Lines(governing.lines.iter().filter(|line| line.symbol.as_str() == "p_great").cloned().collect());
    if !pump.flow_curve.is_empty() {
        return by_curve(input, lines, at_rams);
    }
    let slow = hose_loss(input, pump.flow_slow)?;
    lines.0.extend(slow.lines.iter().cloned());
    match pump.changeover_pressure {
        Some(changeover) if at_rams < changeover => {
            let fast = hose_loss(input, pump.flow_fast)?;
            Ok(below_changeover(input, lines, at_rams, changeover, &slow, &fast))
        }
        _ => {
            let pressure =
                line!(&mut lines, p_pump: OilPressure = p_great + dp; p_great = at_rams, dp = slow.run.loss; SUM);
            let delivery = Delivery { stage: Stage::Slow, flow: pump.flow_slow };
            Ok(finish(input, lines, delivery, pressure, slow.run, slow.in_transition()))
        }
    }
}

fn below_changeover(
    input: &CircuitInput,
    mut lines: Lines,
    at_rams: OilPressure,
    changeover: OilPressure,
    slow: &Loss,
    fast: &Loss,
) -> Loaded {
    let at_slow = line!(&mut lines, p_slow: OilPressure = p_great + dp; p_great = at_rams, dp = slow.run.loss; SUM);
    lines.0.extend(fast.lines.iter().cloned());
    let at_fast = line!(&mut lines, p_fast: OilPressure = p_great + dp; p_great = at_rams, dp = fast.run.loss; SUM);
    let pressure = line!(&mut lines, p_pump: OilPressure = max(p_slow, min(p_fast, p_co)); p_slow = at_slow, p_fast = at_fast, p_co = changeover; CHANGE_OVER);
    let transition = slow.in_transition() || fast.in_transition();
    let pump = &input.pump;
    if at_fast < changeover {
        let delivery = Delivery { stage: Stage::Fast, flow: pump.flow_fast };
        finish(input, lines, delivery, pressure, fast.run, transition)
    } else {
        let delivery = Delivery { stage: Stage::Slow, flow: pump.flow_slow };
        finish(input, lines, delivery, pressure, slow.run, transition)
    }
}

fn by_curve(input: &CircuitInput, mut lines: Lines, at_rams: OilPressure) -> Result<Loaded, Unknown> {
    let delivery = delivery(&input.pump, |flow| Ok(at_rams + pressure_lost(input, flow)?))?;
    let loss = hose_loss(input, delivery.flow)?;
    lines.0.extend(loss.lines.iter().cloned());
    let pressure = line!(&mut lines, p_pump: OilPressure = p_great + dp; p_great = at_rams, dp = loss.run.loss; SUM);
    curve_line(&mut lines, &input.pump, pressure);
    Ok(finish(input, lines, delivery, pressure, loss.run, loss.in_transition()))
}

fn finish(
    input: &CircuitInput,
    mut lines: Lines,
    delivery: Delivery,
    pressure: OilPressure,
    run: HoseRun,
    transition: bool,
) -> Loaded {
    let power = line!(&mut lines, P: Power = p_pump * Q_p; p_pump = pressure, Q_p = delivery.flow; POWER);
    let motor = line!(&mut lines, P_m: Power = P / eta; P = power, eta = input.conditions.pump_efficiency; MOTOR);
    Loaded { delivery, run, pressure, power, motor, transition, lines: lines.0 }
}

/// The worse of two temperatures: what is not known, then the greater pressure.
pub(super) fn worse(one: Result<Loaded, Unknown>, other: Result<Loaded, Unknown>) -> Result<Loaded, Unknown> {
    let (one, other) = (one?, other?);
    // Written so that a pressure that is no number is not passed over.
    let (mut worse, delivery) = if other.pressure.pa().total_cmp(&one.pressure.pa()).is_gt() {
        (other, one.delivery)
    } else {
        (one, other.delivery)
    };
    // The slower of both raises for longer, and the motor is ready for either.
    if delivery.flow < worse.delivery.flow {
        worse.delivery = delivery;
    }
    Ok(worse)
}

/// The pressure at the pump against what pump, hose and ram are rated for, one check each.
///
/// # Source
/// Definition; ratings as the catalogue states them.
///
/// # Validity
/// Without the hose loss nothing passes: a part fails if the rams' pressure alone exceeds its rating, otherwise it is
/// not checked. The loss is held against the ram's rating too, since the pump's pressure reaches the ram when it stalls.
pub(super) fn checks(
    input: &CircuitInput,
    governing: Option<&PointPressure>,
    loaded: Option<&Result<Loaded, Unknown>>,
) -> Vec<Check> {
    let hose = input.hose.as_ref().map(|hose| hose.rated_pressure);
    [(Part::Pump, Some(input.pump.rated_pressure)), (Part::Hose, hose), (Part::Ram, Some(input.ram.rated_pressure))]
        .into_iter()
        .map(|(part, rated)| check(part, rated, input.pump.rated_pressure, governing, loaded))
        .collect()
}

fn check(
    part: Part,
    rated: Option<OilPressure>,
    pump_rated: OilPressure,
    governing: Option<&PointPressure>,
    loaded: Option<&Result<Loaded, Unknown>>,
) -> Check {
    let place =
        Place { id: CheckId::PumpPressure, subject: part.name(), scenario: Scenario::AsPlanned, phase: Phase::Raising };
    let (Some(governing), Some(loaded)) = (governing, loaded) else {
        return Check::new(&place, Finding::missing(["circuit/points"]), Lines::default());
    };
    match (loaded, rated) {
        (Ok(loaded), Some(rated)) => {
            let compared = Finding::compare(loaded.pressure, rated);
            let finding = if rated < pump_rated {
                compared.with_caution(RELIEF)
            } else if loaded.transition {
                compared.with_caution(IN_TRANSITION)
            } else {
                compared
            };
            let mut check = Check::new(&place, finding, Lines(loaded.lines.clone()));
            check.note.get_or_insert(NOT_IN_IT.into());
            check
        }
        (Ok(_), None) => Check::new(&place, Finding::missing(["circuit/hose"]), Lines::default()),
        (Err(unknown), rated) => without_losses(&place, governing, rated, unknown),
    }
}

fn without_losses(
    place: &Place<'_>,
    governing: &PointPressure,
    rated: Option<OilPressure>,
    unknown: &Unknown,
) -> Check {
    let lines = Lines(governing.lines.clone());
    if let Some(alone) = rated.map(|rated| Finding::compare(governing.pressure.greatest, rated))
        && alone.status() == Status::Fail
    {
        let mut check = Check::new(place, alone, lines);
        check.note = Some(ALONE.into());
        return check;
    }
    let mut check = Check::new(place, Finding::missing([unknown.missing.clone()]), lines);
    check.note = Some(unknown.reason.clone());
    check
}

/// Cautions about the pump under load.
pub(super) fn cautions(input: &CircuitInput, loaded: &Result<Loaded, Unknown>) -> Vec<Caution> {
    let mut cautions = Vec::new();
    match loaded {
        Err(unknown) => cautions.push(Caution::new("hose_loss_unknown", unknown.reason.as_str().to_owned())),
        Ok(loaded) => {
            if loaded.transition {
                cautions.push(Caution::new("hose_flow_transition", IN_TRANSITION));
            }
            if input.pump.power.is_some_and(|motor| motor < loaded.motor) {
                cautions.push(Caution::new(
                    "motor_power",
                    "At the greatest pressure the pump needs more power than its motor is stated to have: it slows down, stalls or trips. Use a stronger pump or share the load between pumps.",
                ));
            }
        }
    }
    cautions
}
