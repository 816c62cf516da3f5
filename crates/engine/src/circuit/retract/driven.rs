//! Pumps that push double-acting rams back.

use super::{RetractOutcome, Retraction, ReturnBy, said};
use crate::check::{Ledger, Lines, NoLines, Source};
use crate::circuit::input::CircuitInput;
use crate::circuit::losses::{Unknown, loss_at};
use crate::circuit::model::{HoseRun, Stage};
use crate::circuit::pump::{delivery, to_one_ram, within_pressure};
use crate::line;
use crate::load::Task;
use ramwright_units::{Area, Flow, Length, OilPressure, Time};

/// Annulus over effective area of a double-acting ram that others are compared with. An assumption.
pub(in crate::circuit) const ASSUMED_ANNULUS: f64 = 0.4;

const DIVIDED: Source = Source::definition("the flow of all pumps divides equally over all rams, one run to each");
const DISPLACED: Source =
    Source::definition("the piston pushes out area for area: more than it takes in where the bore empties");
const PISTON: Source = Source::definition(
    "equilibrium of the piston: the returning oil and the pressure in the tank stand against the driven side; the plunger's weight is not counted",
);
const AT_PUMP: Source =
    Source::definition("pressure on the driven side + loss of the run to it, taken as equal to the other run");
const DURATION: Source = Source::definition("time = number of rams x driven area x extension / flow of all pumps");

/// The sides of the piston while it goes back.
struct Sides {
    driven: Area,
    emptied: Area,
}

/// How double-acting rams retract: as fast as the pumps feed them, and not faster than the least rating allows.
///
/// # Source
/// Equilibrium of the piston; flows as the catalogue states them.
///
/// # Validity
/// A second run of the same hoses to each ram. Where the returning oil would need more pressure than the least rating,
/// the relief valve passes the rest of the flow.
pub(super) fn by_pump(input: &CircuitInput, from: Length) -> Retraction {
    let Some(annulus) = input.ram.annulus_area else {
        let why = "the catalogue does not state the annulus area.";
        return Retraction::missing(input, from, ReturnBy::Pump, "ram/annulus_area", why);
    };
    let sides = match input.task {
        Task::Raise | Task::Press => Sides { driven: annulus, emptied: input.ram.effective_area },
        Task::Pull => Sides { driven: input.ram.effective_area, emptied: annulus },
    };
    let mut lines = Lines::default();
    match timed(&mut lines, input, &sides, from) {
        Ok(found) => Retraction { lines: lines.0, ..found },
        Err(unknown) => Retraction::unknown(input, from, ReturnBy::Pump, &unknown, lines),
    }
}

/// The pressure at the pump for a flow of one pump.
fn needed(
    book: &mut impl Ledger,
    input: &CircuitInput,
    sides: &Sides,
    pump_flow: Flow,
) -> Result<(OilPressure, HoseRun), Unknown> {
    let fed = line!(book, q_in: Flow = n_p * Q_p / n; n_p = f64::from(input.pumps), Q_p = pump_flow, n = input.rams(); DIVIDED);
    let out =
        line!(book, q_out: Flow = q_in * (A_o / A_d); q_in = fed, A_o = sides.emptied, A_d = sides.driven; DISPLACED);
    let returning = loss_at(book, input, out)?;
    let driven = line!(book, p_d: OilPressure = (dp + p_b) * (A_o / A_d); dp = returning.loss, p_b = input.conditions.back_pressure, A_o = sides.emptied, A_d = sides.driven; PISTON);
    let feeding = loss_at(book, input, fed)?;
    let at_pump = line!(book, p_pump: OilPressure = p_d + dp; p_d = driven, dp = feeding.loss; AT_PUMP);
    Ok((at_pump, if feeding.region < returning.region { returning } else { feeding }))
}

fn timed(book: &mut Lines, input: &CircuitInput, sides: &Sides, from: Length) -> Result<Retraction, Unknown> {
    let pressure = |flow: Flow| Ok(needed(&mut NoLines, input, sides, flow)?.0);
    let delivered = delivery(&input.pump, pressure)?;
    let flow = within_pressure(delivered.flow, input.least_rating(), pressure)?;
    let (_, worst) = needed(book, input, sides, flow)?;
    let all = line!(book, Q: Flow = n_p * Q_p; n_p = f64::from(input.pumps), Q_p = flow; DIVIDED);
    let time =
        line!(book, t: Time = n * A_d * x / Q; n = input.rams(), A_d = sides.driven, x = from, Q = all; DURATION);
    let stage = match delivered.stage {
        Stage::Fast => "fast",
        Stage::Slow => "slow",
    };
    let held =
        if flow < delivered.flow { ", held back by what the hoses lose at the least rated pressure" } else { "" };
    let goes = match input.task {
        Task::Raise | Task::Press => "retract the rams from",
        Task::Pull => "push the rams, which have pulled, out again by",
    };
    let text = format!("The pumps {goes} {:.0} mm in {}, in their {stage} stage{held}.", from.mm(), said(time));
    let out = to_one_ram(input, flow) * (sides.emptied / sides.driven);
    Ok(Retraction {
        time: Some(time),
        greatest_flow: Some(out),
        least_flow: Some(out),
        region: Some(worst.region),
        ..Retraction::without_time(input, from, ReturnBy::Pump, RetractOutcome::Retracts, text.into())
    })
}
