//! The hydraulic circuit: pumps, hoses, valves and rams, one branch for each point.

use super::Drawing;
use super::circuit_symbols::{
    Return, cylinder, drive, gauge, hose, load_holding_valve, needle_valve, pump, relief_valve, reservoir,
};
use super::look::{Fill, Look, Stroke, count, shown};
use super::svg::{Anchor, At, SMALL, Sheet, Style, TEXT};
use crate::Subject;
use ramwright_engine::circuit::{BillItem, CircuitAssessment, PointPressure};
use ramwright_engine::load::Task;
use ramwright_engine::plan::CircuitUsed;
use ramwright_engine::ram::Action;

/// Branches in a row, and the size of one.
const IN_A_ROW: usize = 6;
const BRANCH: (f64, f64) = (22.0, 66.0);
/// The unit with the pumps.
const UNIT: f64 = 44.0;
/// More points than these are cut, whether alike or not.
const MOST: usize = 36;
/// With more points than these, equal branches are drawn once.
const ALL_UP_TO: usize = 6;

/// Whether a circuit is known.
pub(super) fn has(subject: &Subject<'_>) -> bool {
    subject.circuit.is_some_and(|(_, assessment)| !assessment.points.is_empty())
}

fn action_at<'s>(subject: &'s Subject<'_>, index: usize) -> Option<(&'s str, Action)> {
    let ram = &subject.set.as_ref()?.at_points.get(index)?.ram;
    Some((&ram.id, ram.action))
}

/// How many branches are drawn, and what to say of the others.
fn drawn(subject: &Subject<'_>, points: &[PointPressure]) -> (usize, Option<String>) {
    let of = |index: usize| (points.get(index).map(|point| point.rams), action_at(subject, index));
    let alike = (1..points.len()).all(|index| of(index) == of(0));
    if points.len() <= ALL_UP_TO {
        (points.len(), None)
    } else if alike {
        let more = points.len() - 5;
        (5, Some(format!("{more} more points alike, with the same ram, number of rams and parts; they are not drawn.")))
    } else if points.len() <= MOST {
        (points.len(), None)
    } else {
        (MOST, Some(format!("{MOST} of {} points are drawn; the others have rams of their own.", points.len())))
    }
}

/// The drawing.
pub(super) fn draw(subject: &Subject<'_>, look: &Look) -> Option<Drawing> {
    let (used, assessment) = subject.circuit?;
    let (branches, more) = drawn(subject, &assessment.points);
    let rows = branches.div_ceil(IN_A_ROW).max(1);
    let title = "Hydraulic circuit".to_owned();
    let description = format!(
        "Circuit diagram with {} pumps and a branch for each of {} points: hose, needle valve, load-holding valve, gauge and rams.",
        used.pumps,
        assessment.points.len()
    );
    let mut sheet = Sheet::new(look, "circuit", (184.0, BRANCH.1 * count(rows) + 40.0), title, description);
    let has = |item: BillItem| assessment.bill.iter().any(|row| row.item == item && 0 < row.total);
    pump_unit(&mut sheet, used, assessment);
    for row in 0..rows {
        let supply = BRANCH.1 * count(row) + 60.0;
        let here = (branches - row * IN_A_ROW).min(IN_A_ROW);
        let last = UNIT + 8.0 + BRANCH.0 * count(here.saturating_sub(1)) + 6.0;
        sheet.line((UNIT - 22.0, supply), (last, supply), Stroke::Medium);
    }
    if 1 < rows {
        sheet.line((UNIT - 22.0, 60.0), (UNIT - 22.0, BRANCH.1 * count(rows - 1) + 60.0), Stroke::Medium);
    }
    let parts = Parts {
        valve: has(BillItem::LoadHoldingValve),
        needle: has(BillItem::NeedleValve),
        gauge: has(BillItem::Gauge),
        hose: has(BillItem::Hose),
    };
    for (index, point) in assessment.points.iter().take(branches).enumerate() {
        let x = UNIT + 14.0 + BRANCH.0 * count(index % IN_A_ROW);
        let supply = BRANCH.1 * count(index / IN_A_ROW) + 60.0;
        branch(&mut sheet, (x, supply), subject, (index, point), parts);
    }
    let notes = notes(subject, look, used, assessment, more);
    let end = sheet.notes((6.0, BRANCH.1 * count(rows - 1) + 96.5), 172.0, &notes);
    sheet.set_height(end + 1.0);
    Some(sheet.finish())
}

fn pump_unit(sheet: &mut Sheet<'_>, used: &CircuitUsed, assessment: &CircuitAssessment) {
    let (x, y) = (10.0, 72.0);
    sheet.rect((3.0, 63.5), (46.0, 87.5), Stroke::Centre, Fill::Open);
    pump(sheet, (x, y));
    drive(sheet, (x, y), assessment.pump_strokes.is_some());
    sheet.line((x, y + 4.0), (x, y + 9.6), Stroke::Medium);
    reservoir(sheet, (x, y + 10.6));
    sheet.polyline(&[(x, y - 4.0), (x, 60.0), (UNIT - 22.0, 60.0)], Stroke::Medium);
    let relief = (x + 24.0, y + 1.0);
    sheet.polyline(&[(relief.0 + 0.9, 60.0), (relief.0 + 0.9, relief.1 - 2.6)], Stroke::Medium);
    relief_valve(sheet, relief);
    sheet.line((relief.0 + 0.9, relief.1 + 2.6), (relief.0 + 0.9, y + 9.6), Stroke::Medium);
    reservoir(sheet, (relief.0 + 0.9, y + 10.6));
    sheet.line((x, 60.0), (x, 57.0), Stroke::Medium);
    gauge(sheet, (x, 54.6));
    sheet.name(
        (3.0, 47.0),
        Style::new(TEXT, Anchor::Start).bold(),
        (&format!("{} x ", used.pumps), &used.pump, ""),
        9.0,
    );
    let setting = assessment.relief_window.map_or_else(
        || "relief: no setting found".to_owned(),
        |window| format!("relief {}", sheet.look.quantity(window.recommended)),
    );
    sheet.text((3.0, 91.0 - 0.4), Style::new(SMALL, Anchor::Start), &setting);
}

/// What hangs on each ram, as the bill has it.
#[derive(Clone, Copy)]
#[expect(clippy::struct_excessive_bools, reason = "each part is there or not, whatever the others are")]
struct Parts {
    valve: bool,
    needle: bool,
    gauge: bool,
    hose: bool,
}

fn branch(
    sheet: &mut Sheet<'_>,
    (x, supply): At,
    subject: &Subject<'_>,
    (index, point): (usize, &PointPressure),
    parts: Parts,
) {
    let port = supply - 33.0;
    sheet.circle((x, supply), 0.6, Stroke::None, Fill::Solid);
    let hose_from = supply - 3.0;
    let hose_to = supply - 12.0;
    sheet.line((x, supply), (x, hose_from), Stroke::Medium);
    if parts.hose {
        hose(sheet, (x, hose_from), (x, hose_to));
    } else {
        sheet.line((x, hose_from), (x, hose_to), Stroke::Hidden);
    }
    let pulls = subject.case.task == Task::Pull;
    // The line that lifts ends at the full bore; one that pulls goes round it.
    let line_to = if pulls { port + 1.8 } else { port };
    sheet.line((x, hose_to), (x, line_to), Stroke::Medium);
    if parts.needle {
        needle_valve(sheet, (x, supply - 16.0));
    }
    if parts.valve {
        // The line is inside the symbol; the ball and the seat stand on it.
        load_holding_valve(sheet, (x, supply - 23.0));
    }
    if parts.gauge {
        sheet.line((x, supply - 29.5), (x + 4.0, supply - 29.5), Stroke::Medium);
        gauge(sheet, (x + 6.3, supply - 29.5));
    }
    let action = action_at(subject, index).map(|(_, action)| action);
    let back = match action {
        Some(Action::SingleActingSpringReturn) => Return::Spring,
        Some(Action::DoubleActing) => Return::Oil,
        Some(Action::SingleActingLoadReturn) | None => Return::Load,
    };
    let second = cylinder(sheet, (x, port), back);
    if pulls {
        sheet.polyline(&[(x, line_to), (x + 9.6, line_to), (x + 9.6, second.1), second], Stroke::Medium);
        let way_back = [(x, port), (x, port + 0.9), (x - 9.6, port + 0.9), (x - 9.6, supply + 5.0)];
        sheet.polyline(&way_back, Stroke::Medium);
        reservoir(sheet, (x - 9.6, supply + 6.0));
    } else if back == Return::Oil {
        sheet.polyline(&[second, (x + 9.6, second.1), (x + 9.6, supply + 3.0)], Stroke::Medium);
        sheet.line((x + 9.6, supply + 3.0), (x + 9.6, supply + 5.0), Stroke::Medium);
        reservoir(sheet, (x + 9.6, supply + 6.0));
    }
    sheet.name((x, port - 21.5), Style::new(TEXT, Anchor::Middle).bold(), ("", &point.point, ""), 6.5);
    sheet.text((x - 4.6, port - 3.6), Style::new(SMALL, Anchor::End), &format!("{} x", point.rams));
}

fn notes(
    subject: &Subject<'_>,
    look: &Look,
    used: &CircuitUsed,
    assessment: &CircuitAssessment,
    more: Option<String>,
) -> Vec<String> {
    let hoses = used.hose.as_ref().map_or_else(
        || "Hoses: not stated.".to_owned(),
        |hose| format!("Run to each ram: {} x {}.", used.hoses_in_series, shown(hose, 14.0)),
    );
    let manifold = assessment.bill.iter().any(|row| row.item == BillItem::Manifold);
    let manifold = if manifold { " The branches leave a manifold." } else { "" };
    let mut notes = vec![format!(
        "Symbols by ISO 1219-1. {hoses}{manifold} Where a point has several rams, each has a branch of its own: hose, valves and gauge; one is drawn. The directional valve of the pumps is not stated and not drawn; their drive is drawn as a motor unless strokes by hand are known."
    )];
    let retracts = action_at(subject, 0).is_some_and(|(_, action)| action == Action::DoubleActing);
    if retracts {
        let pulls = if subject.case.task == Task::Pull { "The pumps feed the rod side, which pulls. " } else { "" };
        notes.push(format!("{pulls}Double-acting: the second run of hoses goes back through the directional valve, drawn as a line to the reservoir."));
    }
    if let Some(window) = assessment.relief_window {
        notes.push(format!("Relief valve between {} and {}.", look.quantity(window.from), look.quantity(window.to)));
    }
    notes.extend(more);
    notes
}
