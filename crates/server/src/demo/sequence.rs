//! Packing lifts, step by step.

use super::figures::{counted, quantity, word};
use super::page::Page;
use super::table::Table;
use ramwright_engine::packing_lift::{PackingSequence, PieceCount, Step, StepAt};
use ramwright_units::{OilPressure, Profile, Time};

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
    let rows: Vec<Row<'_>> = sequence.steps.iter().flat_map(rows).collect();
    Table::new(&rows)
        .right("no", |row| row.of_step(|step| step.number.to_string()))
        .right("lift", |row| row.of_step(|step| step.cycle.to_string()))
        .left("step", |row| row.of_step(|step| word(&step.kind)))
        .left("", |row| row.of_step(|step| if step.hold_point { "HOLD".to_owned() } else { String::new() }))
        .quantities("soffit", units, "", |row| Some(row.at.soffit.expected))
        .quantities("extension", units, "", |row| Some(row.at.extension.greatest))
        .quantities("pressure", units, "-", |row| greatest_pressure(row.at))
        .quantities("drop", units, "-", |row| row.step.drop.filter(|_| row.first))
        .left("held by", |row| row.at.held_by.as_str().split(';').next().unwrap_or_default().to_owned())
        .below(|row| row.of_step(|step| format!("{} Check: {}.", step.text, step.check)))
        .write(page);
    page.under(
        "HOLD: somebody must release the next step. Soffit: expected height of the load's underside after the step. \
         Extension of the rams after it, oil pressure (of any point; the JSON has each) and drop if a ram loses its oil: the greatest. While the load hangs on oil nobody goes under it.",
    );
}

fn greatest_pressure(at: &StepAt) -> Option<OilPressure> {
    at.pressures.iter().map(|one| one.expected.greatest).reduce(OilPressure::max)
}

/// A step at points that are packed alike; what belongs to the whole step stands in its first row.
struct Row<'a> {
    step: &'a Step,
    at: &'a StepAt,
    first: bool,
}

impl Row<'_> {
    fn of_step(&self, of: impl Fn(&Step) -> String) -> String {
        if self.first { of(self.step) } else { String::new() }
    }
}

fn rows(step: &Step) -> impl Iterator<Item = Row<'_>> {
    step.at.iter().enumerate().map(move |(index, at)| Row { step, at, first: index == 0 })
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
    if let Some(totals) = &sequence.totals {
        page.under(&format!(
            "Takes {} steps with {} hold points, {} of oil, and an estimated {} without the time of the pumps, from the handling times under assumptions.",
            totals.steps,
            totals.hold_points,
            quantity(totals.oil, units),
            hours(totals.duration)
        ));
    }
    for left_out in &sequence.left_out {
        page.under(&format!("Not used: {}, {}.", left_out.piece, left_out.why));
    }
}

fn hours(time: Time) -> String {
    format!("{:.1} h", time.s() / 3600.0)
}

fn pieces(pieces: &[PieceCount]) -> String {
    let parts: Vec<String> = pieces.iter().map(|part| format!("{} x {}", part.count, part.piece)).collect();
    if parts.is_empty() { "none".to_owned() } else { parts.join(", ") }
}
