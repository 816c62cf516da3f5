//! Every check, worked; then the margins in the user's own terms.

use super::Material;
use super::parts::{figure, list, paragraph, part};
use super::working::grouped;
use crate::document::{Block, Table};
use crate::words::{self, given, or_none};
use ramwright_engine::check::Scenario;

pub(super) fn blocks(material: &Material<'_>) -> Vec<Block> {
    let mut blocks = Vec::new();
    let mut number = 0;
    for (id, title, planned) in [("checks", "Checks as planned", true), ("scenarios", "Scenarios", false)] {
        let checks = material.subject.checks().filter(|check| (check.scenario == Scenario::AsPlanned) == planned);
        let groups = grouped(checks);
        if groups.is_empty() {
            continue;
        }
        blocks.push(part(id, title));
        blocks.push(paragraph(introduction(planned)));
        if planned {
            blocks.extend(figure(material, "utilisation_chart"));
        }
        for group in groups {
            number += 1;
            blocks.extend(group.block(material.style, number).map(|block| Block::Check(Box::new(block))));
        }
    }
    blocks.extend(margins(material));
    blocks
}

const fn introduction(planned: bool) -> &'static str {
    if planned {
        "Each kind of check is worked in full where it is worst; a table gives what differs for the others. A line is worked in \
         coherent units, so that its numbers alone give its result; a second result is the same in the units of this document. Angles in a line are \
         in radians."
    } else {
        "What happens if the load, the levels, a ram or a point are not as planned. Ordinary reserves are not asked for here: \
         each demand is held against the whole capacity."
    }
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
