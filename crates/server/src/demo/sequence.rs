//! Packing lifts, step by step.

use super::figures::{counted, quantity, word};
use super::page::Page;
use super::table::Table;
use ramwright_engine::packing_lift::{PackingSequence, PieceCount};
use ramwright_units::Profile;

pub(super) fn write(page: &mut Page, sequence: &PackingSequence, units: Profile) {
    page.heading("PACKING LIFTS");
    match sequence.cycles {
        Some(cycles) => summary(page, sequence, cycles, units),
        None => page.hanging("!! NO SEQUENCE  ", sequence.why.as_str()),
    }
    if let Some(reason) = &sequence.reason {
        page.under(&format!("{}.", reason.text));
        for change in &reason.least_changes {
            page.hanging("  - it would do with ", change.as_str());
        }
    }
    if sequence.steps.is_empty() {
        return;
    }
    page.blank();
    Table::new(&sequence.steps)
        .right("no", |step| step.number.to_string())
        .right("lift", |step| step.cycle.to_string())
        .left("step", |step| word(&step.kind))
        .left("", |step| if step.hold_point { "HOLD".to_owned() } else { String::new() })
        .quantities("soffit", units, "", |step| Some(step.soffit.expected))
        .quantities("extension", units, "", |step| Some(step.extension.greatest))
        .quantities("drop", units, "-", |step| step.drop)
        .left("held by", |step| step.held_by.to_string())
        .below(|step| format!("{} Check: {}.", step.text, step.check))
        .write(page);
    page.under(
        "HOLD: somebody must release the next step. Soffit: expected height of the load's underside after the step. \
         Extension of the rams after it and drop if a ram loses its oil: the greatest.",
    );
}

fn summary(page: &mut Page, sequence: &PackingSequence, cycles: u32, units: Profile) {
    let count = counted(usize::try_from(cycles).unwrap_or(usize::MAX), "packing lift", "packing lifts");
    let ending = sequence.ending.map_or_else(|| "unknown".to_owned(), |ending| word(&ending));
    page.under(&format!(
        "{count} (no sequence has fewer than {}), ending {ending}. {}: {}.",
        sequence.lower_bound,
        word(&sequence.outcome),
        sequence.why
    ));
    page.under(&format!(
        "Pieces needed, all stacks together: {}. Handled: {} pieces, {}. Highest stack {}, highest under a ram {}.",
        pieces(&sequence.pieces),
        sequence.pieces_handled,
        quantity(sequence.mass_handled, units),
        quantity(sequence.greatest_stack, units),
        quantity(sequence.greatest_base_stack, units)
    ));
    for left_out in &sequence.left_out {
        page.under(&format!("Not used: {}, {}.", left_out.piece, left_out.why));
    }
}

fn pieces(pieces: &[PieceCount]) -> String {
    let parts: Vec<String> = pieces.iter().map(|part| format!("{} x {}", part.count, part.piece)).collect();
    if parts.is_empty() { "none".to_owned() } else { parts.join(", ") }
}
