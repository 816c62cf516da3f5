//! Where the rams stand, what their foundations bear, and what must not be exceeded.

use crate::calculation::Material;
use crate::calculation::parts::{paragraph, part};
use crate::document::{Block, Table};
use crate::words::{self, given};
use ramwright_engine::check::{Check, CheckId, Scenario};
use ramwright_engine::load::Sharing;
use ramwright_engine::packing_lift::StepKind;
use ramwright_units::{Force, Quantity};

pub(super) fn blocks(material: &Material<'_>) -> Vec<Block> {
    let mut blocks = vec![Block::Table(positions(material)), part("foundations", "What the foundations bear")];
    blocks.push(Block::Table(foundations(material)));
    blocks.push(paragraph(proving(material)));
    blocks.push(part("limits", "Limits"));
    blocks.push(Block::Facts { rows: limits(material) });
    blocks
}

fn positions(material: &Material<'_>) -> Table {
    let (subject, style) = (material.subject, material.style);
    let placed = match &subject.case.sharing {
        Sharing::Placed(placed) => placed.positions.as_slice(),
        _ => &[],
    };
    let set = subject.set.as_ref();
    let rows = subject.case.points.iter().enumerate().map(|(index, point)| {
        let at = placed.get(index);
        let rams = set.and_then(|set| set.at_points.get(index));
        vec![
            given(&point.id),
            style.maybe(at.map(|(x, _)| *x)),
            style.maybe(at.map(|(_, y)| *y)),
            style.maybe(point.clearance),
            rams.map_or_else(|| "none".to_owned(), |rams| format!("{} x {}", rams.count, given(&rams.ram.id))),
        ]
    });
    Table::new("positions", "Jacking points; x and y as on the plan")
        .texts(&["Point"])
        .numbers(&["x", "y", "Clearance at the start"])
        .texts(&["Rams"])
        .rows(rows)
}

fn foundations(material: &Material<'_>) -> Table {
    let (subject, style) = (material.subject, material.style);
    let force = |force: Option<Force>| force.map_or_else(|| "not stated".to_owned(), |force| style.quantity(force));
    let rows = subject.case.points.iter().enumerate().map(|(index, point)| {
        let share = subject.load_shares().and_then(|shares| shares.share(index));
        // What a point bears if it sticks; whichever of the two limits was stated asks for it.
        let stop = [CheckId::FoundationLimit, CheckId::JackingPointLimit].map(|id| demand(material, id, &point.id));
        vec![
            given(&point.id),
            style.maybe(share.map(|share| share.share.greatest)),
            style.maybe(stop.into_iter().flatten().next()),
            style.maybe(share.and_then(|share| share.held).map(|held| held.greatest)),
            force(point.foundation_limit),
            style.maybe(demand(material, CheckId::GroundPressure, &point.id)),
            force(point.limit),
        ]
    });
    Table::new("foundations", "Greatest forces; at the stop pressure is what a point bears if it sticks")
        .texts(&["Point"])
        .numbers(&["Under the rams", "At the stop pressure", "Under the packing", "Foundation bears"])
        .numbers(&["Ground pressure", "Jacking point bears"])
        .rows(rows)
}

/// What a check asks of a point as planned, if it was made.
fn demand(material: &Material<'_>, id: CheckId, point: &str) -> Option<Quantity> {
    let is_it = |check: &&Check| check.id == id && check.subject == point && check.scenario == Scenario::AsPlanned;
    material.subject.checks().filter(is_it).find_map(|check| check.demand)
}

/// The proving test is the prove lift, if there is one.
fn proving(material: &Material<'_>) -> String {
    let steps = material.subject.sequence().map(|sequence| sequence.steps.as_slice()).unwrap_or_default();
    match steps.iter().find(|step| step.kind == StepKind::ProveLift) {
        Some(step) => format!(
            "Proving test (common practice, no source): step {}. Read the level of each base before it is loaded, under the \
             whole load, and at the end of the hold; go on only when no base sinks any more.",
            step.number
        ),
        None => "No proving test is planned, since there are no steps.".to_owned(),
    }
}

fn limits(material: &Material<'_>) -> Vec<(String, String)> {
    let (subject, style) = (material.subject, material.style);
    let mut rows = vec![("Follow-up gap, greatest".to_owned(), style.quantity(subject.settings.follow_up_gap))];
    if let Sharing::Placed(placed) = &subject.case.sharing {
        let band = placed.level_band.map_or_else(|| "not stated".to_owned(), |band| style.quantity(band));
        rows.push(("Level difference between points, as a band".to_owned(), band));
    }
    if let Some(sequence) = subject.sequence() {
        rows.push(("Extension of a ram, greatest planned".to_owned(), style.quantity(sequence.greatest_extension)));
    }
    if let Some((_, assessment)) = subject.circuit {
        let stops = assessment
            .points
            .iter()
            .map(|point| format!("{}: {}", given(&point.point), style.quantity(point.stop_pressure)));
        rows.push(("Stop pressure at each point".to_owned(), stops.collect::<Vec<_>>().join("; ")));
    }
    rows.push(("Task".to_owned(), words::plain(&subject.case.task)));
    rows
}
