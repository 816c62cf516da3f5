//! Every check, worked; then the margins in the user's own terms.

use super::Material;
use super::parts::{figure, list, paragraph, part};
use super::working::{Explained, Group, grouped, outcome};
use crate::document::{Block, Table};
use crate::style::Style;
use crate::words::{self, given, or_none};
use ramwright_engine::check::Scenario;

pub(super) fn blocks(material: &Material<'_>) -> Vec<Block> {
    let (planned, others): (Vec<_>, Vec<_>) =
        material.subject.checks().partition(|check| check.scenario == Scenario::AsPlanned);
    let (mut planned, scenarios) = (grouped(planned.into_iter()), grouped(others.into_iter()));
    let told = of_scenarios(&scenarios, material.style);
    let apart: Vec<_> = scenarios.into_iter().filter_map(|group| taken_in(group, &mut planned)).collect();
    let mut blocks = Vec::new();
    let mut number = 0;
    let mut explained = Explained::default();
    let mut worked = |group: &Group<'_>| {
        number += 1;
        group.block(material.style, number, &mut explained).map(|block| Block::Check(Box::new(block)))
    };
    if !planned.is_empty() {
        blocks.push(part("checks", "Checks as planned"));
        blocks.push(paragraph(AS_PLANNED));
        blocks.extend(figure(material, "utilisation_chart"));
        blocks.extend(planned.iter().filter_map(&mut worked));
    }
    if let Some(told) = told {
        blocks.push(part("scenarios", "Scenarios"));
        blocks.push(paragraph(SCENARIOS));
        blocks.push(Block::Table(told));
        blocks.extend(apart.iter().filter_map(&mut worked));
    }
    blocks.extend(margins(material));
    blocks
}

const AS_PLANNED: &str = "Each kind of check is worked in full where it is worst; a table gives what differs for the others, in scenarios \
too. A line is worked in coherent units, so that its numbers alone give its result; a second result is the same in the units of this \
document. Angles in a line are in radians.";

const SCENARIOS: &str = "What happens if the load, the levels, a ram or a point are not as planned. Ordinary reserves are not asked for \
here: each demand is held against the whole capacity. The table has the worst of each. What is worked by the same formulas as a check as \
planned, and is no worse, stands there with its figures; everything else is worked here.";

/// Puts the checks of a scenario with the same check as planned, or gives them back.
fn taken_in<'a>(group: Group<'a>, planned: &mut [Group<'a>]) -> Option<Group<'a>> {
    planned.iter_mut().try_fold(group, |group, own| own.take_in(group))
}

/// The worst of each kind of check in each scenario.
fn of_scenarios(groups: &[Group<'_>], style: Style) -> Option<Table> {
    let worst: Vec<_> = groups.iter().filter_map(Group::worst).collect();
    let rows = worst.iter().map(|check| {
        let what = [
            words::sentence(words::scenario(check.scenario)),
            format!("{}, {}", words::check(check.id), words::phase(check.phase)),
            given(&check.subject),
        ];
        what.into_iter().chain(outcome(check, style)).collect()
    });
    let table = Table::new("scenarios", "The worst of each kind of check in each scenario")
        .texts(&["Scenario", "Check", "On"])
        .numbers(&["Demand", "Limit", "Utilisation"])
        .texts(&["Status"])
        .rows(rows);
    (!worst.is_empty()).then_some(table)
}

fn margins(material: &Material<'_>) -> Vec<Block> {
    let Some(verification) = material.subject.verification.filter(|verification| !verification.margins.is_empty())
    else {
        return Vec::new();
    };
    let words = |margin: &ramwright_engine::verify::Margin| {
        format!("{} on {}: {}", words::check(margin.check), given(&margin.subject), margin.words)
    };
    let style = material.style;
    let rows = verification.margins.iter().map(|margin| {
        let centre = margin.centre.iter().map(|one| format!("{} {}", direction(one.toward), style.quantity(one.by)));
        let centre: Vec<_> = centre.collect();
        vec![
            words::check(margin.check),
            given(&margin.subject),
            style.maybe(margin.weight),
            or_none((!centre.is_empty()).then(|| centre.join(", "))),
            style.maybe(margin.clearance),
        ]
    });
    let table =
        Table::new("margins", "Greatest weight, move of the centre of gravity and least clearance that still pass")
            .texts(&["Check", "On"])
            .numbers(&["Weight"])
            .texts(&["Centre of gravity"])
            .numbers(&["Clearance"])
            .rows(rows);
    vec![part("margins", "Margins"), Block::Table(table), list(verification.margins.iter().map(words).collect())]
}

const fn direction(toward: ramwright_engine::verify::Toward) -> &'static str {
    use ramwright_engine::verify::Toward;
    match toward {
        Toward::PlusX => "+x",
        Toward::MinusX => "\u{2212}x",
        Toward::PlusY => "+y",
        Toward::MinusY => "\u{2212}y",
    }
}
