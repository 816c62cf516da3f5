//! The rams: those used, what else fits, what was refused and how near it came.

use super::checks::place;
use super::figures::{counted, loud, utilisation, word};
use super::page::Page;
use super::table::Table;
use ramwright_engine::catalogue::Money;
use ramwright_engine::plan::LiftPlan;
use ramwright_engine::size::{ModelUsed, RamOption, Sizing};
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
        .left("rams", |option| option.set.clone())
        .quantities("capacity", units, "", |option| only(option).map(|model| model.capacity))
        .quantities("stroke", units, "", |option| only(option).map(|model| model.stroke))
        .quantities("closed", units, "", |option| only(option).map(|model| model.closed_height))
        .right("lifts", |option| option.packing_lifts.map_or_else(|| "-".to_owned(), |lifts| lifts.to_string()))
        .quantities("mass", units, "unknown", |option| option.mass)
        .right("hire", |option| option.cost.as_ref().map_or_else(|| "unknown".to_owned(), amount))
        .right("hours", |option| option.time.map_or_else(|| "-".to_owned(), |time| format!("{:.1}", time.s() / 3600.0)))
        .right("util.", |option| utilisation(option.utilisation))
        .left("verdict", |option| loud(&option.verdict.status))
        .write(page);
    for option in shown.iter().filter(|option| option.verdict.governing.is_some()) {
        page.hanging(&format!("  {}: ", option.set), &because(option));
    }
    if let Some(reason) = &sizing.reason {
        page.hanging("  WHY THIS ONE  ", reason.as_str());
    }
    page.under(&format!(
        "capacity, stroke and closed height of one ram; mass of all; hire of rams, pumps and hoses where a circuit was chosen, else of the rams; hours at the lift where the pumps are known. {}: {} refused; {} found, {} not shown; {} left before the last check, since better ones were found.",
        counted(usize::try_from(sizing.models).unwrap_or(usize::MAX), "model", "models"),
        sizing.models_refused,
        counted(usize::try_from(sizing.found).unwrap_or(usize::MAX), "set", "sets"),
        usize::try_from(sizing.found).unwrap_or(usize::MAX).saturating_sub(shown.len()),
        sizing.passed_over
    ));
}

/// The model of a set that has only one.
fn only(option: &RamOption) -> Option<&ModelUsed> {
    let [only] = option.models.as_slice() else { return None };
    Some(only)
}

fn amount(money: &Money) -> String {
    format!("{} {:.0}", money.currency, money.amount)
}

/// What decides an option, and what kind of ram it is.
fn because(option: &RamOption) -> String {
    let kind = |model: &ModelUsed| {
        let collar = if model.lock_collar { "with lock collar" } else { "no lock collar" };
        format!("{}, {collar}", word(&model.action))
    };
    let kinds: Vec<String> = option.models.iter().map(kind).collect();
    let fed = option.circuit.as_ref().map_or_else(String::new, |circuit| {
        format!("; fed by {} x {} over {} x {}", circuit.pumps, circuit.pump, circuit.hoses, circuit.hose)
    });
    let fed = match &option.circuit_missing {
        Some(missing) => format!("; NO CIRCUIT CHOSEN, which needs {missing}"),
        None => fed,
    };
    format!("{}{fed}; decided by {}", kinds.join(" and "), decided(&option.verdict))
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

/// What was refused, each model by the first check that refused it.
pub(super) fn refused(page: &mut Page, sizing: &Sizing) {
    page.heading("REFUSED, BY THE FIRST CHECK THAT FAILS");
    if sizing.refusals.is_empty() {
        page.under("none");
        return;
    }
    Table::new(&sizing.refusals)
        .left("check", |refusal| word(&refusal.check))
        .right("models", |refusal| refusal.models.to_string())
        .left("nearest miss", |refusal| format!("{} x {}", refusal.nearest.rams_per_point, refusal.nearest.ram))
        .left("at", |refusal| place(&refusal.nearest.subject))
        .right("util.", |refusal| refusal.nearest.utilisation.map_or_else(|| "-".to_owned(), utilisation))
        .wrapped("what would make it pass this check", |refusal| refusal.nearest.would_pass.to_string())
        .write(page);
}
