//! The chosen set and why, the refused and why; how it stands; its packing lifts and its circuit.

use super::Material;
use super::parts::{figure, paragraph, part, section};
use crate::document::{Block, Table};
use crate::words::{self, given, or_none};
use ramwright_engine::circuit::CircuitAssessment;
use ramwright_engine::packing_lift::PackingSequence;
use ramwright_engine::size::Sizing;

pub(super) fn blocks(material: &Material<'_>) -> Vec<Block> {
    let mut blocks = vec![part("ram-set", "Ram set")];
    blocks.push(set(material));
    if let Some(sizing) = material.subject.sizing {
        blocks.extend(search(material, sizing));
    }
    blocks.extend(figure(material, "elevation"));
    if let Some(sequence) = material.subject.sequence() {
        blocks.extend(packing(material, sequence));
    }
    if let Some((_, assessment)) = material.subject.circuit {
        blocks.extend(circuit(material, assessment));
    }
    blocks
}

fn set(material: &Material<'_>) -> Block {
    let Some(set) = &material.subject.set else {
        return paragraph("Nothing in the catalogue fits; the refusals below say why, and what would make it fit.");
    };
    let style = material.style;
    let points = material.subject.case.points.iter().zip(&set.at_points);
    let rows = points.map(|(point, placed)| {
        vec![
            given(&point.id),
            given(&placed.ram.id),
            placed.count.to_string(),
            words::plain(&placed.ram.action),
            style.quantity(placed.ram.stroke),
            style.quantity(placed.ram.closed_height),
        ]
    });
    let table = Table::new("set", "Rams at each point")
        .texts(&["Point", "Ram"])
        .numbers(&["Rams"])
        .texts(&["Action"])
        .numbers(&["Stroke", "Closed height"])
        .rows(rows);
    Block::Table(table)
}

fn search(material: &Material<'_>, sizing: &Sizing) -> Vec<Block> {
    let style = material.style;
    let mut blocks = vec![section("why", "Why this set, and why not others")];
    blocks.extend(sizing.reason.as_ref().map(|reason| paragraph(reason.to_string())));
    let complete = if sizing.complete { "complete" } else { "not complete: there may be better sets" };
    blocks.push(paragraph(format!(
        "The search over {} models was {complete}; {} sets passed it.",
        sizing.models, sizing.found
    )));
    let options = sizing.options.iter().map(|option| {
        vec![
            option.rank.to_string(),
            given(&option.set),
            option.rams.to_string(),
            or_none(option.packing_lifts.map(|lifts| lifts.to_string())),
            style.maybe(option.mass),
            style.utilisation(option.utilisation),
            words::status(option.verdict.status).to_owned(),
        ]
    });
    let table = Table::new("options", "Sets found, in their order").numbers(&["Rank"]).texts(&["Set"]);
    let table = table.numbers(&["Rams", "Packing lifts", "Mass", "Utilisation"]).texts(&["Verdict"]).rows(options);
    blocks.push(Block::Table(table));
    let refused = sizing.refusals.iter().map(|refusal| {
        vec![
            words::check(refusal.check),
            refusal.models.to_string(),
            format!("{} x {}", refusal.nearest.rams_per_point, given(&refusal.nearest.ram)),
            style.maybe_utilisation(refusal.nearest.utilisation),
            refusal.nearest.would_pass.to_string(),
        ]
    });
    let table = Table::new("refusals", "Models refused, by the first check that failed, with the nearest miss")
        .texts(&["Check"])
        .numbers(&["Models"])
        .texts(&["Nearest miss"])
        .numbers(&["Utilisation"])
        .texts(&["What would make it pass"])
        .rows(refused);
    blocks.push(Block::Table(table));
    blocks
}

fn packing(material: &Material<'_>, sequence: &PackingSequence) -> Vec<Block> {
    let style = material.style;
    let mut rows = vec![
        ("Packing lifts".to_owned(), or_none(sequence.cycles.map(|cycles| cycles.to_string()))),
        ("Proved".to_owned(), sequence.why.to_string()),
        ("Greatest extension of a ram".to_owned(), style.quantity(sequence.greatest_extension)),
        ("Highest holding stack".to_owned(), style.quantity(sequence.greatest_stack)),
        ("Highest base stack".to_owned(), style.quantity(sequence.greatest_base_stack)),
        ("Pieces handled".to_owned(), sequence.pieces_handled.to_string()),
        ("Mass handled".to_owned(), style.quantity(sequence.mass_handled)),
    ];
    if let Some(totals) = &sequence.totals {
        rows.push(("Estimated duration".to_owned(), style.quantity(totals.duration)));
        rows.push((
            "Steps, and hold points among them".to_owned(),
            format!("{}, {}", totals.steps, totals.hold_points),
        ));
    }
    let mut blocks = vec![section("packing", "Packing lifts"), Block::Facts { rows }];
    blocks.extend(figure(material, "steps"));
    blocks.extend(figure(material, "heights_chart"));
    blocks
}

fn circuit(material: &Material<'_>, assessment: &CircuitAssessment) -> Vec<Block> {
    let style = material.style;
    let mut blocks = vec![section("circuit", "Circuit and times")];
    if let Some((used, _)) = material.subject.circuit {
        let hose = used.hose.as_deref().map_or_else(
            || "not stated".to_owned(),
            |hose| format!("{} x {} end to end", used.hoses_in_series, given(hose)),
        );
        let rows = vec![
            ("Pumps".to_owned(), format!("{} x {}", used.pumps, given(&used.pump))),
            ("Hose to each ram".to_owned(), hose),
        ];
        blocks.push(Block::Facts { rows });
    }
    let rows = assessment.points.iter().map(|point| {
        let limited = or_none(point.stop_pressure_limited_by.map(|part| words::plain(&part)));
        vec![
            given(&point.point),
            point.rams.to_string(),
            style.range(point.pressure),
            style.quantity(point.stop_pressure),
            limited,
        ]
    });
    let table = Table::new("pressures", "Oil pressure at each point").texts(&["Point"]);
    let table = table.numbers(&["Rams", "Least to greatest", "Stop"]).texts(&["Stop limited by"]).rows(rows);
    blocks.push(Block::Table(table));
    blocks.push(Block::Facts { rows: times(material, assessment) });
    blocks.extend(figure(material, "circuit"));
    blocks.extend(figure(material, "pressure_chart"));
    let rows =
        assessment.bill.iter().map(|row| vec![words::plain(&row.item), row.per_ram.to_string(), row.total.to_string()]);
    let table = Table::new("bill", "Bill of items").texts(&["Item"]).numbers(&["A ram", "In all"]).rows(rows);
    blocks.push(Block::Table(table));
    blocks
}

fn times(material: &Material<'_>, assessment: &CircuitAssessment) -> Vec<(String, String)> {
    let style = material.style;
    let mut rows = vec![
        ("Oil needed".to_owned(), style.quantity(assessment.oil.needed)),
        ("Time of the greatest raise".to_owned(), style.quantity(assessment.times.total)),
    ];
    if let Some(sequence) = &assessment.sequence_times {
        rows.push(("All raises together".to_owned(), style.quantity(sequence.raise)));
        let retract = sequence.retract.map_or_else(|| "not known".to_owned(), |retract| style.quantity(retract));
        rows.push(("All retractions together".to_owned(), retract));
    }
    rows
}
