//! The rams: those used, what else fits, what was refused and how near it came.

use super::checks::place;
use super::figures::{counted, loud, utilisation, word};
use super::page::Page;
use super::table::Table;
use ramwright_engine::plan::LiftPlan;
use ramwright_engine::size::{RamOption, Sizing};
use ramwright_engine::verify::Verdict;
use ramwright_units::Profile;

/// How many options are shown: the recommended one and its alternatives.
const SHOWN: usize = 3;

/// Which rams the plan uses, in one line.
pub(super) fn used(page: &mut Page, plan: &LiftPlan) {
    let mut parts: Vec<(String, Vec<&str>)> = Vec::new();
    for at in &plan.ram_set {
        let rams = format!("{} x {}", at.count, at.ram);
        match parts.iter_mut().find(|(known, _)| *known == rams) {
            Some((_, points)) => points.push(&at.point),
            None => parts.push((rams, vec![&at.point])),
        }
    }
    let parts: Vec<String> = parts.iter().map(|(rams, points)| at_points(rams, points)).collect();
    let text = if parts.is_empty() { "nothing: no ram in the catalogue fits".to_owned() } else { parts.join("; ") };
    page.hanging("RAMS        ", &text);
}

fn at_points(rams: &str, points: &[&str]) -> String {
    match points {
        [only] => format!("{rams} at point {only}"),
        several => format!("{rams} at each of the points {}", several.join(", ")),
    }
}

/// The recommended set and its alternatives.
pub(super) fn options(page: &mut Page, sizing: &Sizing, units: Profile) {
    let shown: Vec<&RamOption> = sizing.options.iter().take(SHOWN).collect();
    page.heading("RAM SETS THAT FIT, BEST FIRST");
    if shown.is_empty() {
        page.under("!! NONE. See below for what was refused and what would make it pass.");
        return;
    }
    Table::new(&shown)
        .left("", |option| if option.recommended { "use".to_owned() } else { format!("alt {}", option.rank) })
        .left("rams", |option| format!("{} x {}", option.rams, option.ram))
        .right("a point", |option| option.rams_per_point.to_string())
        .quantities("capacity", units, "", |option| Some(option.capacity))
        .quantities("stroke", units, "", |option| Some(option.stroke))
        .quantities("closed", units, "", |option| Some(option.closed_height))
        .right("lifts", |option| option.packing_lifts.map_or_else(|| "-".to_owned(), |lifts| lifts.to_string()))
        .quantities("mass", units, "unknown", |option| option.mass)
        .right("a day", |option| match &option.day_rate {
            Some(rate) => format!("{} {:.0}", rate.currency, rate.amount),
            None => "unknown".to_owned(),
        })
        .right("util.", |option| utilisation(option.utilisation))
        .left("verdict", |option| loud(&option.verdict.status))
        .write(page);
    for option in shown.iter().filter(|option| option.verdict.governing.is_some()) {
        page.hanging(&format!("  {}: ", option.ram), &because(option));
    }
    let more = sizing.options.len().saturating_sub(SHOWN);
    page.under(&format!(
        "capacity, stroke and closed height of one ram; mass and rate of all. {} held against the checks, {} fit, {} not shown.",
        counted(usize::try_from(sizing.candidates).unwrap_or(usize::MAX), "candidate", "candidates"),
        sizing.options.len(),
        more
    ));
}

/// What decides an option, and what kind of ram it is.
fn because(option: &RamOption) -> String {
    let collar = if option.lock_collar { "with lock collar" } else { "no lock collar" };
    format!("{}, {collar}; decided by {}", word(&option.action), decided(&option.verdict))
}

fn decided(verdict: &Verdict) -> String {
    match &verdict.governing {
        Some(governing) => {
            let used = governing.utilisation.map_or_else(String::new, |value| format!(" {}", utilisation(value)));
            format!("{} at {}: {}{used}", word(&governing.check), place(&governing.subject), loud(&governing.status))
        }
        None => "nothing".to_owned(),
    }
}

/// What was refused, by the first check that refused it.
pub(super) fn refused(page: &mut Page, sizing: &Sizing) {
    page.heading("REFUSED, BY THE FIRST CHECK THAT FAILS");
    if sizing.refusals.is_empty() {
        page.under("none");
        return;
    }
    Table::new(&sizing.refusals)
        .left("check", |refusal| word(&refusal.check))
        .right("how many", |refusal| refusal.candidates.to_string())
        .left("nearest miss", |refusal| format!("{} x {}", refusal.nearest.rams_per_point, refusal.nearest.ram))
        .left("at", |refusal| place(&refusal.nearest.subject))
        .right("util.", |refusal| refusal.nearest.utilisation.map_or_else(|| "-".to_owned(), utilisation))
        .wrapped("what would make it pass this check", |refusal| refusal.nearest.would_pass.to_string())
        .write(page);
}
