//! Oil and time: what a raise takes from the pumps and how long they deliver it.

use super::losses::hose_loss;
use super::model::{CircuitInput, RaiseTimes, Stage, StageFlow};
use crate::check::{Check, CheckId, Finding, Lines, Phase, Place, Scenario, Source};
use crate::line;
use crate::remark::Caution;
use ramwright_units::{Flow, OilVolume, Time};

/// Above this share of the usable oil a pass is only a caution. Common practice, no source.
const OIL_OF_PRACTICE: f64 = 0.90;

const OIL: Source = Source::definition("oil = number of rams x effective area x extension");
const USABLE: Source = Source::stated("usable oil of one pump as the catalogue states it; the pumps feed one manifold");
const FLOWS: Source = Source::stated("flow of one pump as the catalogue states it; the pumps feed one manifold");
const DURATION: Source = Source::definition("time = oil / flow, without pauses");

const NOT_INCLUDED: &str = "Not included: oil to fill empty hoses and rams, compression of the oil (about 5 % at 700 bar, from memory) and swelling of the hoses.";
const LITTLE_LEFT: &str = "More than 0.90 of the usable oil is needed, and this does not include oil to fill empty hoses and rams, compression of the oil (about 5 % at 700 bar, from memory) and swelling of the hoses.";

/// Oil that all rams take in the greatest raise, and what may be drawn.
#[derive(Debug)]
pub(super) struct Supply {
    /// Oil taken.
    pub(super) needed: OilVolume,
    /// Oil that may be drawn.
    pub(super) usable: OilVolume,
    /// The one against the other.
    pub(super) check: Check,
}

/// Oil of the greatest raise against the usable oil of all pumps.
///
/// # Source
/// Definition; usable oil as the catalogue states it.
///
/// # Validity
/// All pumps feed one manifold. Hoses and rams are full; compression and swelling are not included, so that a pass
/// above 0.90 is a caution (common practice, no source).
pub(super) fn oil(input: &CircuitInput) -> Supply {
    let mut lines = Lines::default();
    let book = &mut lines;
    let needed = line!(book, V: OilVolume = n * A * s; n = input.rams(), A = input.area(), s = input.extension; OIL);
    let usable =
        line!(book, V_use: OilVolume = n_p * V_p; n_p = f64::from(input.pumps), V_p = input.pump.usable_oil; USABLE);
    let finding = if input.points.is_empty() {
        Finding::missing(["circuit/points"])
    } else {
        let compared = Finding::compare(needed, usable)
            .with_remedy(|| format!("{:.1} L of usable oil", (needed.l() * 10.0).ceil() / 10.0));
        let little_left = compared.utilisation().is_some_and(|utilisation| OIL_OF_PRACTICE < utilisation);
        if little_left { compared.with_caution(LITTLE_LEFT) } else { compared }
    };
    let place = Place { id: CheckId::OilVolume, subject: "set", scenario: Scenario::AsPlanned, phase: Phase::Raising };
    let mut check = Check::new(&place, finding, lines);
    check.note.get_or_insert(NOT_INCLUDED.into());
    Supply { needed, usable, check }
}

/// How long the greatest raise takes: the approach, then under load at the stage given.
///
/// # Source
/// Definition.
///
/// # Validity
/// Full flow as stated, no pauses. The approach is at the fast flow as long as its hose loss leaves the pump below the
/// change-over pressure; where the loss is not known it is taken to do so.
pub(super) fn times(input: &CircuitInput, load_stage: Stage) -> RaiseTimes {
    let mut lines = Lines::default();
    let book = &mut lines;
    let (rams, area, pumps) = (input.rams(), input.area(), f64::from(input.pumps));
    let approach_stage = approach_stage(input);
    let approach_flow = line!(book, Q_a: Flow = n_p * Q_p; n_p = pumps, Q_p = pump_flow(input, approach_stage); FLOWS);
    let load_flow = line!(book, Q_l: Flow = n_p * Q_p; n_p = pumps, Q_p = pump_flow(input, load_stage); FLOWS);
    let approach =
        line!(book, t_a: Time = n * A * a / Q_a; n = rams, A = area, a = input.approach, Q_a = approach_flow; DURATION);
    let under_load = line!(book, t_l: Time = n * A * (s - a) / Q_l; n = rams, A = area, s = input.extension, a = input.approach, Q_l = load_flow; DURATION);
    let total = line!(book, t: Time = t_a + t_l; t_a = approach, t_l = under_load; DURATION);
    RaiseTimes {
        approach_flow: StageFlow { stage: approach_stage, flow: approach_flow },
        load_flow: StageFlow { stage: load_stage, flow: load_flow },
        approach,
        under_load,
        total,
        lines: lines.0,
    }
}

fn pump_flow(input: &CircuitInput, stage: Stage) -> Flow {
    match stage {
        Stage::Fast => input.pump.flow_fast,
        Stage::Slow => input.pump.flow_slow,
    }
}

fn approach_stage(input: &CircuitInput) -> Stage {
    let Some(changeover) = input.pump.changeover_pressure else {
        return Stage::Slow;
    };
    match hose_loss(input, input.pump.flow_fast) {
        Ok(loss) if changeover <= loss.run.loss => Stage::Slow,
        _ => Stage::Fast,
    }
}

/// A caution where the pumps have too few outlets for one hose run to each ram.
pub(super) fn outlets(input: &CircuitInput) -> Option<Caution> {
    let outlets = f64::from(input.pumps) * f64::from(input.pump.outlets?);
    (outlets < input.rams()).then(|| {
        Caution::new(
            "outlets",
            "The pumps have fewer outlets than there are rams: a manifold is needed, with a valve for each ram.",
        )
    })
}
