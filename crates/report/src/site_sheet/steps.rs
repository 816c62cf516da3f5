//! The sequence, a step a row, with what is expected and room to record what is found.

use super::no_steps;
use crate::calculation::Material;
use crate::calculation::parts::{paragraph, part};
use crate::document::{Block, StepRow, Table};
use crate::drawing::step_elevation;
use crate::style::Style;
use crate::words::{self, NONE, given};
use ramwright_engine::packing_lift::{PackingSequence, PieceCount, Step, StepAt, StepPressure};

pub(super) fn blocks(material: &Material<'_>) -> Vec<Block> {
    let mut blocks = vec![part("sequence", "Sequence")];
    let Some(sequence) = material.subject.sequence() else {
        blocks.push(no_steps());
        return blocks;
    };
    blocks.push(paragraph(
        "One step after the other. Record what is read in the empty columns; outside the expected range stop, make safe, and \
         ask whoever planned the lift. The level is the height of the load's underside above the foundation at the point.",
    ));
    blocks.push(Block::Table(pieces(sequence)));
    blocks.extend(sequence.steps.iter().map(|step| Block::Step(Box::new(row(material, step)))));
    blocks
}

fn pieces(sequence: &PackingSequence) -> Table {
    let rows = sequence.pieces.iter().map(|piece| vec![given(&piece.piece), piece.count.to_string(), String::new()]);
    Table::new("pieces", "Packing needed on site, all stacks together")
        .texts(&["Piece"])
        .numbers(&["Needed"])
        .texts(&["On site"])
        .rows(rows)
}

fn row(material: &Material<'_>, step: &Step) -> StepRow {
    let look = material.look(&format!("step{}-", step.number));
    StepRow {
        number: step.number.to_string(),
        title: format!("{}{}", words::sentence(&words::plain(&step.kind)), of_points(&step.points)),
        text: step.text.to_string(),
        who: format!("Who: {}. Packing lift {}.", step.who, step.cycle),
        check: format!("Check: {}", step.check),
        hold_point: step.hold_point,
        figure: step_elevation(material.subject, step.number, &look).map(Into::into),
        readings: readings(step, material.style),
        stands: stands(step),
    }
}

fn of_points(points: &[String]) -> String {
    if points.is_empty() {
        return String::new();
    }
    format!(", points {}", listed(points))
}

fn readings(step: &Step, style: Style) -> Table {
    Table::new("readings", "Record on site")
        .texts(&["Points"])
        .numbers(&["Level", "Level read", "Extension", "Extension read", "Pressure", "Stop at", "Pressure read"])
        .rows(step.at.iter().flat_map(|at| rows_of(at, style)))
}

/// A row for each point with a pressure of its own, else one for all that stand alike.
fn rows_of(at: &StepAt, style: Style) -> Vec<Vec<String>> {
    let row = |points: String, pressure: String, stop: String| {
        let blank = String::new;
        vec![points, style.range(at.soffit), blank(), style.range(at.extension), blank(), pressure, stop, blank()]
    };
    if at.pressures.is_empty() {
        return vec![row(listed(&at.points), NONE.to_owned(), NONE.to_owned())];
    }
    let one = |pressure: &StepPressure| {
        row(given(&pressure.point), style.range(pressure.expected), style.quantity(pressure.stop))
    };
    at.pressures.iter().map(one).collect()
}

fn listed(points: &[String]) -> String {
    points.iter().map(|point| given(point)).collect::<Vec<_>>().join(", ")
}

fn stands(step: &Step) -> Vec<String> {
    let of = |at: &StepAt| {
        let (holding, base) = (stack(&at.holding_stack), stack(&at.base_stack));
        format!(
            "After it at {}: holding stack {holding}; base stack {base}; held by {}.",
            listed(&at.points),
            at.held_by
        )
    };
    step.at.iter().map(of).collect()
}

fn stack(pieces: &[PieceCount]) -> String {
    if pieces.is_empty() {
        return "none".to_owned();
    }
    let pieces: Vec<_> = pieces.iter().map(|piece| format!("{} x {}", piece.count, given(&piece.piece))).collect();
    pieces.join(" + ")
}
