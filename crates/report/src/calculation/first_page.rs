//! Page 1: the verdict, what governs, how each kind of check is used, and what was not checked.

use super::Material;
use super::parts::{paragraph, part, section};
use crate::document::{Block, Table};
use crate::words::{self, given};
use ramwright_engine::check::{Check, Scenario, Status};
use ramwright_engine::verify::Verdict;

pub(super) fn blocks(material: &Material<'_>) -> Vec<Block> {
    let verdict = material.subject.verdict;
    let mut blocks = vec![part("results", "Results")];
    blocks.push(Block::Banner {
        status: words::status_class(verdict.status),
        word: format!("Verdict: {}", words::status(verdict.status)),
        text: governing(material, verdict),
    });
    blocks.push(counts(verdict));
    blocks.extend(proposal(material));
    blocks.extend(utilisations(material));
    blocks.extend(not_checked(material));
    blocks
}

fn governing(material: &Material<'_>, verdict: &Verdict) -> String {
    let Some(governing) = &verdict.governing else {
        return "No check governs: no arrangement was found to check.".to_owned();
    };
    let used = governing.utilisation.map(|used| format!(", utilisation {}", material.style.utilisation(used)));
    format!(
        "Governing check: {} on {}, {}{}.",
        words::check(governing.check),
        given(&governing.subject),
        words::scenario(governing.scenario),
        used.unwrap_or_default()
    )
}

fn counts(verdict: &Verdict) -> Block {
    let counts = verdict.counts;
    Block::Facts {
        rows: vec![
            ("Checks that fail".to_owned(), counts.fail.to_string()),
            ("Checks not made, for want of an input".to_owned(), counts.not_checked.to_string()),
            ("Checks passed with a caution".to_owned(), counts.caution.to_string()),
            ("Checks passed".to_owned(), counts.pass.to_string()),
        ],
    }
}

/// The set in one line.
fn proposal(material: &Material<'_>) -> Option<Block> {
    let set = material.subject.set.as_ref()?;
    let at: Vec<_> = material
        .subject
        .case
        .points
        .iter()
        .zip(&set.at_points)
        .map(|(point, placed)| format!("point {}: {} x {}", given(&point.id), placed.count, given(&placed.ram.id)))
        .collect();
    let lifts = material.subject.sequence().and_then(|sequence| sequence.cycles);
    let lifts = lifts.map(|lifts| format!(" {lifts} packing lift(s).")).unwrap_or_default();
    Some(paragraph(format!("Rams: {}.{lifts}", at.join("; "))))
}

/// The worst of each kind of check, with a demand and a limit.
fn utilisations(material: &Material<'_>) -> Option<Block> {
    let style = material.style;
    let mut worst: Vec<&Check> = Vec::new();
    for check in material.subject.checks() {
        match worst.iter_mut().find(|known| known.id == check.id) {
            None => worst.push(check),
            Some(known) if rank(check) > rank(known) => *known = check,
            Some(_) => {}
        }
    }
    let rows = worst.into_iter().map(|check| {
        let quantity = |of: Option<_>| of.map_or_else(|| "\u{2013}".to_owned(), |quantity| style.quantity(quantity));
        vec![
            words::check(check.id),
            where_made(check),
            quantity(check.demand),
            quantity(check.limit),
            check.utilisation.map_or_else(|| "\u{2013}".to_owned(), |used| style.utilisation(used)),
            words::status(check.status).to_owned(),
            words::standing(check.basis.standing).to_owned(),
        ]
    });
    let table = Table::new("utilisation", "The worst of each kind of check")
        .texts(&["Check", "On"])
        .numbers(&["Demand", "Limit", "Utilisation"])
        .texts(&["Status", "Basis"])
        .rows(rows);
    (!table.rows.is_empty()).then_some(Block::Table(table))
}

fn rank(check: &Check) -> (Status, f64) {
    (check.status, check.utilisation.unwrap_or(0.0))
}

fn where_made(check: &Check) -> String {
    match check.scenario {
        Scenario::AsPlanned => given(&check.subject),
        other => format!("{}, {}", given(&check.subject), words::scenario(other)),
    }
}

/// What was not checked, as large as the verdict.
fn not_checked(material: &Material<'_>) -> Vec<Block> {
    let open = material.subject.checks().filter(|check| check.status == Status::NotChecked);
    let items: Vec<_> = open
        .map(|check| {
            let missing: Vec<_> = check.missing.iter().map(|missing| given(missing.as_str())).collect();
            format!("{} on {}: missing {}", words::check(check.id), where_made(check), missing.join("; "))
        })
        .collect();
    let heading = section("not-checked", "Not checked");
    if items.is_empty() {
        return vec![
            heading,
            paragraph(
                "Every check that this calculation knows was made. What it does not cover is listed under cautions.",
            ),
        ];
    }
    vec![heading, Block::List { large: true, items: gathered(items) }]
}

/// Items that say the same once, with how often.
fn gathered(items: Vec<String>) -> Vec<String> {
    let mut once: Vec<(String, u32)> = Vec::new();
    for item in items {
        match once.iter_mut().find(|(known, _)| *known == item) {
            Some((_, times)) => *times += 1,
            None => once.push((item, 1)),
        }
    }
    once.into_iter().map(|(item, times)| if times > 1 { format!("{item} ({times} times)") } else { item }).collect()
}
