//! Packing lifts, step by step.

use super::figures::{counted, quantity, word};
use super::page::Page;
use super::table::Table;
use ramwright_engine::packing_lift::{PackingSequence, PieceCount, Step};
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
    for (index, step) in sequence.steps.iter().enumerate() {
        let before = index.checked_sub(1).and_then(|before| sequence.steps.get(before));
        if before.is_none_or(|before| before.cycle != step.cycle) {
            page.blank();
            page.whole(&format!("  PACKING LIFT {}", step.cycle));
            steps_of(page, sequence, step.cycle, units);
        }
    }
    page.under("Soffit: expected height of the load's underside after the step. Extension and drop: the greatest.");
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

fn steps_of(page: &mut Page, sequence: &PackingSequence, cycle: u32, units: Profile) {
    let steps: Vec<&Step> = sequence.steps.iter().filter(|step| step.cycle == cycle).collect();
    Table::new(&steps)
        .right("no", |step| step.number.to_string())
        .left("step", |step| word(&step.kind))
        .quantities("soffit", units, "", |step| Some(step.soffit.expected))
        .quantities("extension", units, "", |step| Some(step.extension.greatest))
        .quantities("drop", units, "-", |step| step.drop)
        .wrapped("what to do", text)
        .write(page);
}

/// What to do, what to look at, and what holds the load afterwards.
fn text(step: &&Step) -> String {
    let release = if step.hold_point { " HOLD POINT: somebody must release the next step." } else { "" };
    format!("{} Held by {}. Check: {}.{release}", step.text, step.held_by, step.check)
}
