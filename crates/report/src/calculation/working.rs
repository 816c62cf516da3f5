//! Checks of one kind together: worked in full where it is worst, and every figure that differs for the others.

use crate::document::{CheckBlock, Compared, Meaning, Table};
use crate::formula::{plain_symbol, symbol_of, worked};
use crate::glossary;
use crate::style::Style;
use crate::words::{self, given};
use ramwright_engine::check::{Check, CheckId, Line, Phase, Scenario, Status};
use ramwright_units::Quantity;
use std::collections::BTreeSet;

/// Checks of one kind, case and phase whose lines have the same formulas.
pub(super) struct Group<'a> {
    checks: Vec<&'a Check>,
}

/// Checks in groups, in the order in which they come.
pub(super) fn grouped<'a>(checks: impl Iterator<Item = &'a Check>) -> Vec<Group<'a>> {
    let mut groups: Vec<Group<'a>> = Vec::new();
    for check in checks {
        match groups.iter_mut().find(|group| group.takes(check)) {
            Some(group) => group.checks.push(check),
            None => groups.push(Group { checks: vec![check] }),
        }
    }
    groups
}

impl<'a> Group<'a> {
    fn takes(&self, other: &Check) -> bool {
        self.checks.first().is_some_and(|first| kind(first) == kind(other) && is_alike(first, other))
    }

    /// The check that is worked in full: the worst, of equals the first.
    fn worst(&self) -> Option<&'a Check> {
        let rank = |check: &Check| (check.status, check.utilisation.unwrap_or(0.0));
        self.checks.iter().copied().reduce(|worst, check| if rank(check) > rank(worst) { check } else { worst })
    }

    /// The group as it is printed.
    pub(super) fn block(&self, style: Style, number: usize) -> Option<CheckBlock> {
        let worst = self.worst()?;
        let title = format!(
            "{} on {}, {}, {}",
            words::check(worst.id),
            given(&worst.subject),
            words::scenario(worst.scenario),
            words::phase(worst.phase)
        );
        let entry = worst.id.listed();
        let compared = worst.demand.zip(worst.limit).zip(worst.utilisation).map(|((demand, limit), used)| Compared {
            demand: style.quantity(demand),
            limit: style.quantity(limit),
            utilisation: style.utilisation(used),
        });
        Some(CheckBlock {
            anchor: format!("check-{number}"),
            id: crate::cell::word(&worst.id),
            subject: given(&worst.subject),
            title,
            asks: format!("{}: {}", entry.title, entry.formula),
            status: words::status_class(worst.status),
            status_word: words::status(worst.status),
            compared,
            basis: format!("Basis: {} ({}).", worst.basis.text, words::standing(worst.basis.standing)),
            lines: worst.lines.iter().map(|line| worked(line, style)).collect(),
            symbols: symbols(Some(worst.id), &worst.lines),
            notes: notes(worst, style),
            others: self.others(worst, style),
        })
    }

    /// What differs for the others, a row for each.
    fn others(&self, worst: &Check, style: Style) -> Option<Table> {
        let others: Vec<_> = self.checks.iter().copied().filter(|check| !std::ptr::eq(*check, worst)).collect();
        if others.is_empty() {
            return None;
        }
        let theirs: Vec<_> = others.iter().map(|check| figures(check)).collect();
        let mut seen = BTreeSet::new();
        let differing: Vec<_> = figures(worst)
            .into_iter()
            .enumerate()
            .filter(|(at, (_, value))| theirs.iter().any(|own| own.get(*at).is_none_or(|(_, other)| other != value)))
            // What one line gives, the next takes.
            .filter(|(_, (symbol, value))| seen.insert((*symbol, value.value_si.to_bits())))
            .collect();
        let heads: Vec<_> = differing.iter().map(|(_, (symbol, _))| plain_symbol(symbol)).collect();
        let heads: Vec<&str> = heads.iter().map(String::as_str).collect();
        let rows = others.iter().zip(&theirs).map(|(check, own)| row(check, own, &differing, style));
        let caption = "The same for the others; what is not listed is as above";
        let table =
            Table::new("others", caption).texts(&["On"]).numbers(&heads).numbers(&["Demand", "Limit", "Utilisation"]);
        Some(table.texts(&["Status"]).rows(rows))
    }
}

fn row(check: &Check, own: &[(&str, Quantity)], differing: &[(usize, (&str, Quantity))], style: Style) -> Vec<String> {
    let mut cells = vec![given(&check.subject)];
    cells.extend(differing.iter().map(|(at, _)| style.maybe(own.get(*at).map(|(_, value)| *value))));
    cells.push(style.maybe(check.demand));
    cells.push(style.maybe(check.limit));
    cells.push(style.maybe_utilisation(check.utilisation));
    cells.push(words::status(check.status).to_owned());
    cells
}

/// Every figure in the lines of a check: of each line its terms, then its value.
fn figures(check: &Check) -> Vec<(&str, Quantity)> {
    check
        .lines
        .iter()
        .flat_map(|line| {
            let terms = line.terms.iter().map(|term| (term.symbol.as_str(), term.value));
            terms.chain([(line.symbol.as_str(), line.value)])
        })
        .collect()
}

fn kind(check: &Check) -> (CheckId, Scenario, Phase, bool) {
    (check.id, check.scenario, check.phase, check.status == Status::NotChecked)
}

/// Whether both are worked by the same formulas and say the same besides.
fn is_alike(one: &Check, other: &Check) -> bool {
    one.lines.len() == other.lines.len()
        && one.lines.iter().zip(&other.lines).all(|(a, b)| a.symbol == b.symbol && a.expression == b.expression)
        && one.missing == other.missing
        && one.note == other.note
        && one.would_pass == other.would_pass
}

/// The symbols of lines, each once for every meaning that it has.
pub(super) fn symbols(check: Option<CheckId>, lines: &[Line]) -> Vec<Meaning> {
    let mut seen = BTreeSet::new();
    let named = lines.iter().flat_map(|line| {
        let terms = line.terms.iter().map(|term| term.symbol.as_str());
        terms.chain([line.symbol.as_str()]).map(move |name| (line, name))
    });
    named
        .filter_map(|(line, name)| Some((name, glossary::meaning(check, line, name)?)))
        .filter(|(name, words)| seen.insert(((*name).to_owned(), *words)))
        .map(|(name, words)| Meaning { symbol: symbol_of(name), words: words.to_owned() })
        .collect()
}

fn notes(check: &Check, style: Style) -> Vec<(String, String)> {
    let mut notes = Vec::new();
    if !check.missing.is_empty() {
        let missing: Vec<_> = check.missing.iter().map(|missing| given(missing.as_str())).collect();
        notes.push(("Not checked; missing:".to_owned(), missing.join("; ")));
    }
    if let Some(note) = &check.note {
        notes.push(("Note:".to_owned(), note.to_string()));
    }
    if let Some(hand) = &check.hand_check {
        let ratio = style.number(hand.ratio);
        notes.push((
            "By hand:".to_owned(),
            format!("{} = {}; {ratio} times the computed value.", hand.text, style.quantity(hand.value)),
        ));
    }
    if let Some(remedy) = &check.would_pass {
        notes.push(("Would pass:".to_owned(), remedy.to_string()));
    }
    notes
}
