//! The design statement: how the structure is idealised, by which methods and standards, with which software.

use super::Material;
use super::parts::{paragraph, part, section};
use crate::document::{Block, Table};
use crate::words::{self, given};
use ramwright_engine::check::{CheckId, basis};
use std::collections::BTreeSet;

pub(super) fn blocks(material: &Material<'_>) -> Vec<Block> {
    let mut blocks = vec![part("statement", "Design statement")];
    blocks.push(paragraph(
        "The load is a rigid body, or a girder where the request says so, on supports that only push. What carries in each \
         phase, and by which method its shares were found, is listed below. Each check compares one demand with one limit; its \
         formula, numbers and source stand with it. The figures were computed in SI units with all digits and are rounded for \
         reading only, utilisations upwards.",
    ));
    blocks.extend(methods(material));
    blocks.extend(software(material));
    blocks.push(standards(material));
    blocks
}

fn methods(material: &Material<'_>) -> Option<Block> {
    let shares = material.subject.load_shares()?;
    let rows = shares.phases.iter().map(|phase| {
        let name = phase.name.as_deref().map(|name| format!(" ({})", given(name))).unwrap_or_default();
        let supports: Vec<_> = phase
            .supports
            .iter()
            .map(|support| format!("{} ({})", given(&support.support), words::plain(&support.kind)))
            .collect();
        vec![
            format!("{}{name}", words::phase(phase.phase)),
            words::plain(&phase.method),
            supports.join(", "),
            phase.why.to_string(),
        ]
    });
    let table = Table::new("methods", "What carries, and by which method it shares")
        .texts(&["Phase", "Method", "Supports", "Why"]);
    Some(Block::Table(table.rows(rows)))
}

fn software(material: &Material<'_>) -> Vec<Block> {
    let envelope = material.envelope;
    let catalogue = match envelope.catalogue {
        Some((name, digest)) => format!("{}, {digest}", given(name)),
        None => "none".to_owned(),
    };
    let rows = [
        ("Software", format!("Ramwright, engine {}", envelope.engine_version)),
        ("Calculation", envelope.operation.replace('_', " ")),
        ("Profile of default values", envelope.defaults.to_owned()),
        ("Catalogue", catalogue),
        ("SHA-256 of the request", envelope.request_digest.to_owned()),
        ("SHA-256 of the result, metric", envelope.result_digest.to_owned()),
    ];
    let rows = rows.into_iter().map(|(name, value)| (name.to_owned(), value)).collect();
    vec![section("software", "Software and data"), Block::Facts { rows }]
}

/// What each check made here rests on.
fn standards(material: &Material<'_>) -> Block {
    let made: BTreeSet<CheckId> = material.subject.checks().map(|check| check.id).collect();
    let listed = basis();
    let rows = listed.iter().filter(|entry| made.contains(&entry.id)).map(|entry| {
        vec![
            words::check(entry.id),
            entry.title.to_string(),
            entry.source.text.to_string(),
            words::standing(entry.source.standing).to_owned(),
            entry.validity.to_string(),
        ]
    });
    let table = Table::new("standards", "Checks, what each rests on, and where it holds")
        .texts(&["Check", "Asks", "Source", "Standing", "Validity"]);
    Block::Table(table.rows(rows))
}
