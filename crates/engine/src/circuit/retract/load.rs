//! A load that pushes the oil out while it is on the rams.

use super::spring::{driven_flow, region};
use super::{RetractOutcome, Retraction, ReturnBy, drives, said};
use crate::check::{Lines, Source};
use crate::circuit::input::CircuitInput;
use crate::circuit::losses::{Unknown, run_of};
use crate::line;
use ramwright_units::{Length, OilPressure, Time};

const EQUILIBRIUM: Source = Source::definition(
    "equilibrium of the plunger: the least share pushes the oil out against the pressure in the tank",
);
const CONSTANT: Source = Source::definition("time = area x extension / flow, the pressure being the same all the way");

/// How load-return rams come down: under the least share of any ram, with the valve fully open.
///
/// # Source
/// Equilibrium, and area x extension / flow.
///
/// # Validity
/// The load stays on the rams and is not throttled; lowering under metered flow takes longer.
pub(super) fn by_load(input: &CircuitInput, from: Length) -> Retraction {
    let mut lines = Lines::default();
    let pushed = input.points.iter().map(|load| {
        line!(&mut lines, p_r: OilPressure = R / (n * A) - p_b; R = load.share.least, n = f64::from(load.rams), A = input.ram.effective_area, p_b = input.conditions.back_pressure; EQUILIBRIUM)
    });
    let Some(pressure) = pushed.reduce(|least, next| if next < least { next } else { least }) else {
        return Retraction::missing(input, from, ReturnBy::Load, "circuit/points", "no point is stated.");
    };
    if !drives(pressure) {
        let text = "The rams never fully retract: a ram can be without load, and then nothing pushes its oil out.";
        let blank = Retraction::without_time(input, from, ReturnBy::Load, RetractOutcome::NeverFully, text.into());
        return Retraction { stands_still_at: Some(from), lines: lines.0, ..blank };
    }
    match timed(&mut lines, input, from, pressure) {
        Ok(found) => Retraction { lines: lines.0, ..found },
        Err(unknown) => Retraction::unknown(input, from, ReturnBy::Load, &unknown, lines),
    }
}

fn timed(book: &mut Lines, input: &CircuitInput, from: Length, pressure: OilPressure) -> Result<Retraction, Unknown> {
    let run = run_of(book, input)?;
    let flow = driven_flow(book, &run, pressure)?;
    let time = line!(book, t: Time = A * x / q; A = input.ram.effective_area, x = from, q = flow; CONSTANT);
    let text = format!(
        "Under the least share the load presses the rams down {:.0} mm in {} with the valve fully open; once it stands on packing they do not retract: push them back by hand.",
        from.mm(),
        said(time)
    );
    Ok(Retraction {
        time: Some(time),
        greatest_flow: Some(flow),
        least_flow: Some(flow),
        region: Some(region(&run, flow)?),
        ..Retraction::without_time(input, from, ReturnBy::Load, RetractOutcome::UnderLoadOnly, text.into())
    })
}
