//! The checks: what failed and what was not checked first and aloud, then all of them.

use super::figures::{counted, loud, quantity, utilisation, word};
use super::page::Page;
use super::table::Table;
use ramwright_engine::Text;
use ramwright_engine::check::{Check, Phase, Status};
use ramwright_engine::plan::LiftPlan;
use ramwright_units::Profile;

/// Subjects that are no points.
const NOT_POINTS: [&str; 5] = ["set", "load", "ram", "pump", "hose"];

/// Checks of one kind, scenario and status, each at another point.
struct Group<'a> {
    checks: Vec<&'a Check>,
    worst: &'a Check,
}

/// Where a check was made, as in `point 2`.
pub(super) fn place(subject: &str) -> String {
    if NOT_POINTS.contains(&subject) { format!("the {subject}") } else { format!("point {subject}") }
}

/// All checks of a plan: of the set, then of its circuit.
fn of(plan: &LiftPlan) -> Vec<&Check> {
    let of_set = plan.verification.iter().flat_map(|verification| &verification.checks);
    of_set.chain(plan.circuit.iter().flat_map(|circuit| &circuit.checks)).collect()
}

/// Failures, then what was not checked, then cautions; said even where there are none.
pub(super) fn bad_news(page: &mut Page, plan: &LiftPlan, units: Profile) {
    let checks = of(plan);
    said(page, &checks, Status::Fail, units, ["FAILED", "!! FAIL  "]);
    said(page, &checks, Status::NotChecked, units, ["NOT CHECKED, and so not passed", "!! NOT CHECKED  "]);
    if plan.verification.is_some() && plan.circuit.is_none() {
        page.hanging(
            "!! NOT CHECKED  ",
            "pumps, hoses and oil: no circuit was stated, or the rams are of several models",
        );
    }
    said(page, &checks, Status::Caution, units, ["PASSED WITH A CAUTION", " ! CAUTION  "]);
}

fn said(page: &mut Page, checks: &[&Check], status: Status, units: Profile, [heading, mark]: [&str; 2]) {
    let chosen: Vec<&Check> = checks.iter().copied().filter(|check| check.status == status).collect();
    page.heading(&format!(
        "{heading}: {}",
        if chosen.is_empty() { "none".to_owned() } else { chosen.len().to_string() }
    ));
    for group in grouped(&chosen, |a, b| why(a) == why(b)) {
        let check = group.worst;
        let what = format!("{}, {}, {}", word(&check.id), places(&group.checks), word(&check.scenario));
        page.hanging(mark, &format!("{what}{}: {}", how_much(check, units), why(check)));
    }
}

/// Demand, limit and utilisation, where there are any.
fn how_much(check: &Check, units: Profile) -> String {
    match (check.demand, check.limit, check.utilisation) {
        (Some(demand), Some(limit), Some(used)) => {
            format!(" ({} of {}, utilisation {})", quantity(demand, units), quantity(limit, units), utilisation(used))
        }
        _ => String::new(),
    }
}

/// Why a check has its status: what is missing, or its note, or its rule.
fn why(check: &Check) -> String {
    if check.status == Status::NotChecked {
        let names: Vec<&str> = check.missing.iter().map(Text::as_str).collect();
        return format!("needs {}", names.join("; "));
    }
    check.note.as_ref().unwrap_or(&check.basis.text).to_string()
}

/// Checks of one kind, scenario and status that are also alike otherwise, in the order of the first of each.
fn grouped<'a>(checks: &[&'a Check], alike: impl Fn(&Check, &Check) -> bool) -> Vec<Group<'a>> {
    let mut groups: Vec<Group<'a>> = Vec::new();
    for check in checks.iter().copied() {
        let same = |group: &&mut Group<'a>| {
            let known = group.worst;
            (known.id, known.scenario, known.status) == (check.id, check.scenario, check.status) && alike(known, check)
        };
        match groups.iter_mut().find(same) {
            Some(group) => {
                if group.worst.utilisation.unwrap_or(0.0) < check.utilisation.unwrap_or(0.0) {
                    group.worst = check;
                }
                group.checks.push(check);
            }
            None => groups.push(Group { checks: vec![check], worst: check }),
        }
    }
    groups
}

/// Where the checks of a group were made, as in `points 1, 2, 3`.
fn places(checks: &[&Check]) -> String {
    match checks {
        [only] => place(&only.subject),
        several => {
            let subjects: Vec<&str> = several.iter().map(|check| check.subject.as_str()).collect();
            format!("points {}", subjects.join(", "))
        }
    }
}

/// All checks, those alike but for the point in one line with the worst of them.
pub(super) fn all(page: &mut Page, plan: &LiftPlan, units: Profile) {
    let checks = of(plan);
    if checks.is_empty() {
        return;
    }
    page.heading("ALL CHECKS OF THE RAMS USED");
    // The parts of a circuit have each a limit of their own, so that each is a line of its own.
    let groups =
        grouped(&checks, |a, b| !NOT_POINTS.contains(&a.subject.as_str()) && a.phase == b.phase && b.subject != "set");
    Table::new(&groups)
        .left("check", |group| word(&group.worst.id))
        .left("at", at)
        .left("scenario", |group| word(&group.worst.scenario))
        .left("status", |group| loud(&group.worst.status))
        .right("demand", |group| group.worst.demand.map_or_else(String::new, |demand| quantity(demand, units)))
        .right("limit", |group| group.worst.limit.map_or_else(String::new, |limit| quantity(limit, units)))
        .right("util.", |group| group.worst.utilisation.map_or_else(|| "-".to_owned(), utilisation))
        .write(page);
    page.under(&format!(
        "{} in {}; each line shows the worst of its points. util. = demand / limit, 1.00 = at the limit. Every check \
         with its formula, source and numbers is in the JSON answer.",
        counted(checks.len(), "check", "checks"),
        counted(groups.len(), "line", "lines")
    ));
}

/// The worst point of a group and how many it stands for.
fn at(group: &Group<'_>) -> String {
    let point = place(&group.worst.subject);
    let held = group.worst.phase == Phase::Holding && !NOT_POINTS.contains(&group.worst.subject.as_str());
    let place = if held { format!("stack {}", group.worst.subject) } else { point };
    match (group.checks.len(), group.worst.utilisation) {
        (1, _) => place,
        (count, Some(_)) => format!("{place}, worst of {count}"),
        (count, None) => format!("{count} points"),
    }
}

/// By how much weight and centre of gravity may change, check by check.
pub(super) fn margins(page: &mut Page, plan: &LiftPlan) {
    let margins: Vec<_> = plan.verification.iter().flat_map(|verification| &verification.margins).collect();
    if margins.is_empty() {
        return;
    }
    page.heading("HOW MUCH MAY CHANGE");
    for margin in margins {
        let held = if margin.phase == Phase::Holding { ", holding" } else { "" };
        page.hanging("  ", &format!("{}{held}: {}", word(&margin.check), margin.words));
    }
}
