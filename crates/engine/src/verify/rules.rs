//! Which rules are held against a station, and where a scenario is worst.

use super::checks::{capacity_check, foundation_check, jacking_point_check, stability_check, station_checks};
use super::line::{line_of_ram, line_to_ground, strength_rules};
use super::raise::Raise;
use super::sink::Sink;
pub(super) use super::station::Rule;
use super::station::Station;
use crate::check::{CheckId, Finding, Ledger, NoLines, Phase, Place, Scenario, Status};
use crate::load::{NoEquilibrium, Task};

/// Every rule that belongs to a task, as planned. In a frame only the ram is looked at.
pub(crate) fn rules_of<L: Ledger>(task: Task) -> Vec<Rule<L>> {
    // With a lean the side load is another check than without, and here it is known whether there is one.
    let mut rules: Vec<Rule<L>> =
        station_checks().into_iter().filter(|rule| task != Task::Raise || rule.id != CheckId::SideLoad).collect();
    rules.extend(line_of_ram(task));
    if task == Task::Raise {
        rules.extend(line_to_ground());
    }
    rules
}

/// The rules that the forces decide: what each scenario and each margin looks at.
pub(super) fn load_rules<L: Ledger>() -> Vec<Rule<L>> {
    let mut rules = holding_the_rest();
    rules.extend(strength_rules());
    rules
}

/// What must hold at the points that are left after a loss.
pub(super) fn holding_the_rest<L: Ledger>() -> Vec<Rule<L>> {
    vec![
        Rule::new(CheckId::Capacity, Phase::Raising, capacity_check),
        Rule::new(CheckId::JackingPointLimit, Phase::Raising, jacking_point_check),
        Rule::new(CheckId::FoundationLimit, Phase::Raising, foundation_check),
        Rule::new(CheckId::Stability, Phase::Raising, stability_check),
    ]
}

/// The checks whose margin is a clearance.
pub(super) fn room_rules() -> Vec<CheckId> {
    vec![CheckId::ClosedHeight]
}

/// Each rule at the point where it is worst; the first of equals.
pub(super) fn worst_of<S: Sink>(stations: &[Station<'_>], task: Task, raise: &Raise, scenario: Scenario, sink: &mut S) {
    let belongs = |id: CheckId| task == Task::Raise || in_a_frame(id);
    let quick = load_rules::<NoLines>();
    let written = load_rules::<S::Book>();
    for (rule, rule_with_lines) in quick.iter().zip(&written).filter(|(rule, _)| belongs(rule.id)) {
        let findings = stations.iter().map(|station| (station, (rule.check)(station, raise, &mut NoLines)));
        let worst = findings.reduce(|worst, one| if one.1.is_worse_than(&worst.1) { one } else { worst });
        let Some((station, found)) = worst else { continue };
        let mut book = S::Book::default();
        let finding = if S::Book::KEEPS { (rule_with_lines.check)(station, raise, &mut book) } else { found };
        let place = Place { id: rule.id, subject: &station.point.id, scenario, phase: rule.phase_at(station) };
        sink.take(&place, finding, book);
        if sink.is_full() {
            return;
        }
    }
}

/// Whether a check of forces is one of those made in a machine frame, too.
fn in_a_frame(id: CheckId) -> bool {
    use CheckId::{Capacity, FoundationLimit, JackingPointLimit, Stability, Stress};
    matches!(id, Capacity | JackingPointLimit | FoundationLimit | Stability | Stress)
}

/// A scenario in which the load has no equilibrium.
pub(super) fn tips<S: Sink>(scenario: Scenario, reason: &NoEquilibrium, sink: &mut S) {
    let place = Place { id: CheckId::Tipping, subject: "load", scenario, phase: Phase::Raising };
    sink.take(&place, Finding::judged(Status::Fail, reason.to_string()), S::Book::default());
}
