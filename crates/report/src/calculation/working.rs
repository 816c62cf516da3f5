//! Checks of one kind together: worked in full where it is worst, and every figure that differs for the others.
//!
//! What a scenario asks of the same rule stands there as well, as long as it is no worse than as planned.

use crate::document::{CheckBlock, Compared, Meaning, Table};
use crate::formula::{plain_symbol, symbol_of, worked};
use crate::glossary;
use crate::style::Style;
use crate::words::{self, given};
use ramwright_engine::check::{Check, CheckId, Line, Phase, Scenario, Status};
use ramwright_units::Quantity;
use std::collections::BTreeSet;

/// What symbols mean is said once for each kind of check.
#[derive(Default)]
pub(super) struct Explained(BTreeSet<(CheckId, String, &'static str)>);

/// Checks of one kind, scenario and phase whose lines have the same formulas.
pub(super) struct Group<'a> {
    checks: Vec<&'a Check>,
    /// The same in other scenarios.
    elsewhere: Vec<&'a Check>,
}

/// Checks in groups, in the order in which they come.
pub(super) fn grouped<'a>(checks: impl Iterator<Item = &'a Check>) -> Vec<Group<'a>> {
    let mut groups: Vec<Group<'a>> = Vec::new();
    for check in checks {
        match groups.iter_mut().find(|group| group.takes(check)) {
            Some(group) => group.checks.push(check),
            None => groups.push(Group { checks: vec![check], elsewhere: Vec::new() }),
        }
    }
    groups
}

impl<'a> Group<'a> {
    fn takes(&self, other: &Check) -> bool {
        self.checks.first().is_some_and(|first| kind(first) == kind(other) && is_alike(first, other))
    }

    /// Takes in the checks of another scenario, if they are worked by the same formulas and none is worse than what is
    /// worked in full here; gives them back otherwise.
    pub(super) fn take_in(&mut self, other: Self) -> Option<Self> {
        let alike = |(own, theirs): (&Check, &Check)| {
            (own.id, own.phase) == (theirs.id, theirs.phase) && is_alike(own, theirs) && rank(theirs) <= rank(own)
        };
        if self.worst().zip(other.worst()).is_some_and(alike) {
            self.elsewhere.extend(other.checks);
            return None;
        }
        Some(other)
    }

    /// The check that is worked in full: the worst, of equals the first.
    pub(super) fn worst(&self) -> Option<&'a Check> {
        self.checks.iter().copied().reduce(|worst, check| if rank(check) > rank(worst) { check } else { worst })
    }

    /// The group as it is printed.
    pub(super) fn block(&self, style: Style, number: usize, explained: &mut Explained) -> Option<CheckBlock> {
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
        let (symbols, known) = explained.symbols(worst);
        let mut notes = notes(worst, style);
        if known {
            notes.push(("Symbols not listed:".to_owned(), "as at the same check above.".to_owned()));
        }
        Some(CheckBlock {
            anchor: format!("check-{number}"),
            id: crate::cell::word(&worst.id),
            subject: given(&worst.subject),
            title,
            asks: format!("{}: {}", entry.title, entry.formula),
            status: words::status_class(worst.status),
            status_word: words::status(worst.status),
            compared,
            basis: format!("Basis: {}.", words::source(&worst.basis)),
            lines: worst.lines.iter().map(|line| worked(line, style)).collect(),
            symbols,
            notes,
            others: self.others(worst, style),
        })
    }

    /// What differs for the others, a row for each.
    fn others(&self, worst: &Check, style: Style) -> Option<Table> {
        let others = self.checks.iter().chain(&self.elsewhere).copied();
        let others: Vec<_> = others.filter(|check| !std::ptr::eq(*check, worst)).collect();
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
    let mut cells = vec![where_made(check)];
    cells.extend(differing.iter().map(|(at, _)| style.maybe(own.get(*at).map(|(_, value)| *value))));
    cells.extend(outcome(check, style));
    cells
}

/// Demand, limit, utilisation and status, as rows of tables end.
pub(super) fn outcome(check: &Check, style: Style) -> [String; 4] {
    [
        style.maybe(check.demand),
        style.maybe(check.limit),
        style.maybe_utilisation(check.utilisation),
        words::status(check.status).to_owned(),
    ]
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

/// Of two checks the one that ranks higher is worse.
pub(super) fn rank(check: &Check) -> (Status, f64) {
    (check.status, check.utilisation.unwrap_or(0.0))
}

/// On what a check was made, and in which scenario if not as planned.
pub(super) fn where_made(check: &Check) -> String {
    match check.scenario {
        Scenario::AsPlanned => given(&check.subject),
        other => format!("{}, {}", given(&check.subject), words::scenario(other)),
    }
}

impl Explained {
    /// The symbols of a check that were not explained yet, and whether others were.
    fn symbols(&mut self, check: &Check) -> (Vec<Meaning>, bool) {
        let all = named(Some(check.id), &check.lines);
        let (fresh, known): (Vec<_>, Vec<_>) =
            all.into_iter().partition(|(name, words)| self.0.insert((check.id, (*name).to_owned(), *words)));
        (fresh.into_iter().map(meaning).collect(), !known.is_empty())
    }
}

/// The symbols of lines, each once for every meaning that it has.
pub(super) fn symbols(lines: &[Line]) -> Vec<Meaning> {
    named(None, lines).into_iter().map(meaning).collect()
}

fn meaning((name, words): (&str, &str)) -> Meaning {
    Meaning { symbol: symbol_of(name), words: words.to_owned() }
}

fn named(check: Option<CheckId>, lines: &[Line]) -> Vec<(&str, &'static str)> {
    let mut seen = BTreeSet::new();
    let named = lines.iter().flat_map(|line| {
        let terms = line.terms.iter().map(|term| term.symbol.as_str());
        terms.chain([line.symbol.as_str()]).map(move |name| (line, name))
    });
    named
        .filter_map(|(line, name)| Some((name, glossary::meaning(check, line, name)?)))
        .filter(|named| seen.insert(*named))
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
