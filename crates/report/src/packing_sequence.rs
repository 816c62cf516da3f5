//! A packing-lift sequence as a table, one line a step.

use crate::Tables;
use crate::table::Table;
use ramwright_engine::packing_lift::{PackingSequence, PieceCount};
use ramwright_units::Profile;

/// No line if there is no sequence; the reason is in the JSON answer.
impl Tables for PackingSequence {
    fn csv(&self, units: Profile) -> String {
        Table::new(&self.steps, units)
            .word("number", |step| Some(step.number))
            .word("cycle", |step| Some(step.cycle))
            .word("kind", |step| Some(step.kind))
            .text("text", |step| Some(step.text.as_str()))
            .range("soffit_", |step| Some(step.soffit))
            .range("extension_", |step| Some(step.extension))
            .text("base_stack", |step| Some(stack(&step.base_stack)))
            .text("holding_stack", |step| Some(stack(&step.holding_stack)))
            .text("held_by", |step| Some(step.held_by.as_str()))
            .quantity("drop", |step| step.drop)
            .text("check", |step| Some(step.check.as_str()))
            .word("hold_point", |step| Some(step.hold_point))
            .csv()
    }
}

/// A stack as the crew reads it, as in `2 x oak-01 + 1 x slate-03`; empty if there is none.
fn stack(pieces: &[PieceCount]) -> String {
    let parts: Vec<String> = pieces.iter().map(|piece| format!("{} x {}", piece.count, piece.piece)).collect();
    parts.join(" + ")
}
