//! A packing-lift sequence as a table: a line for each step and each group of points that is packed alike.

use crate::Tables;
use crate::table::Table;
use ramwright_engine::packing_lift::{PackingSequence, PieceCount, Step, StepAt, StepPressure};
use ramwright_units::{OilPressure, Profile, Quantity, Range, Typed};

/// No line if there is no sequence; the reason is in the JSON answer.
impl Tables for PackingSequence {
    fn csv(&self, units: Profile) -> String {
        let rows: Vec<(&Step, &StepAt)> =
            self.steps.iter().flat_map(|step| step.at.iter().map(move |at| (step, at))).collect();
        Table::new(&rows, units)
            .word("number", |(step, _)| Some(step.number))
            .word("cycle", |(step, _)| Some(step.cycle))
            .word("kind", |(step, _)| Some(step.kind))
            .text("who", |(step, _)| Some(step.who.as_str()))
            .text("done_at", |(step, _)| Some(step.points.join(" ")))
            .text("text", |(step, _)| Some(step.text.as_str()))
            .text("points", |(_, at)| Some(at.points.join(" ")))
            .range("soffit_", |(_, at)| Some(at.soffit))
            .range("extension_", |(_, at)| Some(at.extension))
            .text(&format!("pressures_{}", OilPressure::KIND.symbol(units)), |(_, at)| Some(pressures(at, units)))
            .text("base_stack", |(_, at)| Some(stack(&at.base_stack)))
            .text("holding_stack", |(_, at)| Some(stack(&at.holding_stack)))
            .text("held_by", |(_, at)| Some(at.held_by.as_str()))
            .quantity("drop", |(step, _)| step.drop)
            .text("check", |(step, _)| Some(step.check.as_str()))
            .word("hold_point", |(step, _)| Some(step.hold_point))
            .word("pieces_moved", |(step, _)| Some(step.pieces_moved))
            .text("pieces_in_use", |(step, _)| Some(stack(&step.pieces_in_use)))
            .quantity("duration", |(step, _)| Some(step.duration))
            .csv()
    }
}

/// Expected pressure of each point, least to greatest, and where to stop, as in `1: 202 (16 to 223, stop 245)`.
fn pressures(at: &StepAt, units: Profile) -> String {
    let value = |pressure: OilPressure| format!("{:.0}", Quantity::from(pressure).value_in(units));
    let of_point = |one: &StepPressure| {
        let Range { least, expected, greatest } = one.expected;
        format!(
            "{}: {} ({} to {}, stop {})",
            one.point,
            value(expected),
            value(least),
            value(greatest),
            value(one.stop)
        )
    };
    at.pressures.iter().map(of_point).collect::<Vec<_>>().join("; ")
}

/// A stack as the crew reads it, as in `2 x oak-01 + 1 x slate-03`; empty if there is none.
fn stack(pieces: &[PieceCount]) -> String {
    let parts: Vec<String> = pieces.iter().map(|piece| format!("{} x {}", piece.count, piece.piece)).collect();
    parts.join(" + ")
}
