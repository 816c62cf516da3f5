//! What each point carries, what governs there, and the sketches that say which way is positive.

use super::Material;
use super::parts::{figure, paragraph, part, section};
use super::working::symbols;
use crate::document::{Block, Table};
use crate::formula::worked;
use crate::style::Style;
use crate::words::{self, given, or_none};
use ramwright_engine::check::Line;
use ramwright_engine::load::{LoadShares, PhaseShares};

pub(super) fn blocks(material: &Material<'_>) -> Vec<Block> {
    let Some(shares) = material.subject.load_shares() else { return Vec::new() };
    let style = material.style;
    let mut blocks = vec![part("load-shares", "Load shares")];
    blocks.push(paragraph(
        "Axes x and y in plan, z upwards; a reaction is positive where the support pushes. Expected is the nominal weight and \
         centre with no error of levels and no horizontal force; least and greatest are over all tolerances at once.",
    ));
    blocks.push(Block::Facts { rows: totals(shares, style) });
    blocks.extend(figure(material, "plan"));
    blocks.extend(figure(material, "free_body"));
    blocks.push(Block::Table(points(shares, style)));
    blocks.extend(figure(material, "shares_chart"));
    for (index, phase) in shares.phases.iter().enumerate() {
        blocks.extend(of_phase(phase, index, style));
    }
    let lines: Vec<&Line> =
        shares.lines.iter().chain(shares.estimates.iter().flat_map(|estimate| &estimate.lines)).collect();
    if !lines.is_empty() {
        let lines: Vec<Line> = lines.into_iter().cloned().collect();
        blocks.push(section("share-lines", "Worked"));
        blocks.push(Block::Lines {
            lines: lines.iter().map(|line| worked(line, style)).collect(),
            symbols: symbols(&lines),
        });
    }
    blocks
}

fn totals(shares: &LoadShares, style: Style) -> Vec<(String, String)> {
    let mut rows = vec![
        ("Method".to_owned(), format!("{}: {}", words::plain(&shares.method), shares.why)),
        ("Weight, least to greatest".to_owned(), style.range(shares.weight)),
        ("Vertical load, least to greatest".to_owned(), style.range(shares.vertical_load)),
        ("Horizontal force, greatest".to_owned(), style.quantity(shares.horizontal_force)),
    ];
    if let Some(tipping) = &shares.tipping {
        let text = format!(
            "{} left of {} to the edge from {} to {}, after {} for tolerance and horizontal force",
            style.quantity(tipping.margin),
            style.quantity(tipping.distance),
            given(&tipping.from),
            given(&tipping.to),
            style.quantity(tipping.reach)
        );
        rows.push(("Margin against tipping".to_owned(), text));
    }
    rows
}

fn points(shares: &LoadShares, style: Style) -> Table {
    let rows = shares.points.iter().map(|point| {
        let held = style.maybe(point.held.map(|held| held.greatest));
        let any = or_none(point.any_equilibrium.map(|any| style.range(any)));
        vec![
            given(&point.point),
            style.quantity(point.share.least),
            style.quantity(point.share.expected),
            style.quantity(point.share.greatest),
            any,
            held,
        ]
    });
    Table::new("shares", "Reaction at each point")
        .texts(&["Point"])
        .numbers(&["Least", "Expected", "Greatest", "Any equilibrium", "Held on packing, greatest"])
        .rows(rows)
}

fn of_phase(phase: &PhaseShares, index: usize, style: Style) -> Vec<Block> {
    let name = phase.name.as_deref().map(|name| format!(" ({})", given(name))).unwrap_or_default();
    let rows = phase.supports.iter().map(|support| {
        let governing = support.governing.as_ref();
        let words = |end: Option<&ramwright_engine::load::Combination>| {
            or_none(end.map(|combination| combination.words.to_string()))
        };
        vec![
            given(&support.support),
            style.range(support.share),
            words(governing.map(|ends| &ends.greatest)),
            words(governing.map(|ends| &ends.least)),
            or_none(support.sensitivity.map(|sensitivity| {
                let (centre, weight) = (sensitivity.centre_10_mm, sensitivity.weight_1_percent);
                format!("{} for 10 mm, {} for 1 %", style.quantity(centre), style.quantity(weight))
            })),
        ]
    });
    let table =
        Table::new("governing", "What governs at each support, and what an error of the centre or of the weight adds")
            .texts(&["Support"])
            .numbers(&["Least to greatest"])
            .texts(&["Greatest at", "Least at", "Sensitivity"])
            .rows(rows);
    vec![
        section(&format!("phase-{index}"), &format!("Phase: {}{name}", words::phase(phase.phase))),
        Block::Table(table),
    ]
}
