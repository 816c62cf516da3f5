//! Page 1: the verdict, what governs, how each kind of check is used, and what was not checked.

use super::Material;
use super::parts::{paragraph, part, section};
use super::working::{outcome, rank, where_made};
use crate::document::{Block, Table};
use crate::style::Style;
use crate::words::{self, given};
use ramwright_engine::check::{Check, Status};
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
    blocks.extend(site(material));
    blocks.extend(papers(material));
    blocks.extend(proposal(material));
    blocks.extend(not_checked(material));
    blocks.extend(utilisations(material));
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

/// Whether the plan still stands by what was read on site, if anything was.
fn site(material: &Material<'_>) -> Option<Block> {
    let outcome = material.subject.verification?.site.as_ref()?;
    let text = format!("Read on site. The plan stands: {}. {}", words::plain(&outcome.stands), outcome.words);
    Some(paragraph(text))
}

/// What the request says of the job.
fn papers(material: &Material<'_>) -> Option<Block> {
    let names = [("project", "Project"), ("site", "Site"), ("scope", "Scope")];
    let said = |(name, words): (&str, &str)| {
        material.envelope.said(&format!("/papers/{name}")).map(|text| (words.to_owned(), given(text)))
    };
    let rows: Vec<_> = names.into_iter().filter_map(said).collect();
    (!rows.is_empty()).then_some(Block::Facts { rows })
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

/// The worst of each kind of check: those that compare in a table, those that only ask yes or no in a line.
fn utilisations(material: &Material<'_>) -> Vec<Block> {
    let (compared, judged): (Vec<_>, Vec<_>) =
        worst(material).into_iter().partition(|check| check.utilisation.is_some());
    let told = judged.iter().filter(|check| check.status != Status::NotChecked);
    let told: Vec<_> =
        told.map(|check| format!("{} {}", words::check(check.id), words::status(check.status))).collect();
    let mut blocks = Vec::new();
    if !compared.is_empty() {
        blocks.push(Block::Table(table(&compared, material.style)));
    }
    if !told.is_empty() {
        blocks.push(paragraph(format!("Rules that compare nothing: {}.", told.join("; "))));
    }
    blocks
}

fn worst<'a>(material: &Material<'a>) -> Vec<&'a Check> {
    let mut worst: Vec<&Check> = Vec::new();
    for check in material.subject.checks() {
        match worst.iter_mut().find(|known| known.id == check.id) {
            None => worst.push(check),
            Some(known) if rank(check) > rank(known) => *known = check,
            Some(_) => {}
        }
    }
    worst
}

fn table(checks: &[&Check], style: Style) -> Table {
    let rows = checks.iter().map(|check| {
        let mut cells = vec![words::check(check.id), where_made(check)];
        cells.extend(outcome(check, style));
        cells.push(words::standing(check.basis.standing).to_owned());
        cells
    });
    Table::new("utilisation", "The worst of each kind of check")
        .texts(&["Check", "On"])
        .numbers(&["Demand", "Limit", "Utilisation"])
        .texts(&["Status", "Basis"])
        .rows(rows)
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
    if material.subject.set.is_none() {
        let none = paragraph("No rams were checked, since there is no arrangement to check.");
        return vec![heading, none, Block::List { large: true, items: gathered(items) }];
    }
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
