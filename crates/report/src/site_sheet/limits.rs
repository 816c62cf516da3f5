//! Where the rams stand, what their foundations bear, and what must not be exceeded.

use crate::calculation::Material;
use crate::calculation::parts::{paragraph, part};
use crate::document::{Block, Table};
use crate::words::{self, given};
use ramwright_engine::check::{CheckId, Scenario};
use ramwright_engine::load::Sharing;
use ramwright_engine::packing_lift::StepKind;
use ramwright_units::Force;

const NONE: &str = "\u{2013}";

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
            at.map_or_else(|| NONE.to_owned(), |(x, _)| style.quantity(*x)),
            at.map_or_else(|| NONE.to_owned(), |(_, y)| style.quantity(*y)),
            point.clearance.map_or_else(|| NONE.to_owned(), |clearance| style.quantity(clearance)),
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
        let ground = subject.checks().find(|check| {
            check.id == CheckId::GroundPressure && check.subject == point.id && check.scenario == Scenario::AsPlanned
        });
        let demand = ground.and_then(|check| check.demand);
        vec![
            given(&point.id),
            share.map_or_else(|| NONE.to_owned(), |share| style.quantity(share.share.greatest)),
            share.and_then(|share| share.held).map_or_else(|| NONE.to_owned(), |held| style.quantity(held.greatest)),
            force(point.foundation_limit),
            demand.map_or_else(|| NONE.to_owned(), |demand| style.quantity(demand)),
            force(point.limit),
        ]
    });
    Table::new("foundations", "Greatest forces")
        .texts(&["Point"])
        .numbers(&["Under the rams", "Under the packing", "Foundation bears", "Ground pressure", "Jacking point bears"])
        .rows(rows)
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
