//! One candidate: a model, so many at every point.

use super::option::CheckSummary;
use crate::catalogue::Packing;
use crate::check::{CheckId, NoLines, Scenario, Status};
use crate::effort::Effort;
use crate::load::{LoadCase, LoadShares, Task};
use crate::packing_lift::Stopped;
use crate::ram::Ram;
use crate::settings::Settings;
use crate::support::LineOfForce;
use crate::verify::{
    Context, Raise, RamSet, Reserve, Rule, Station, holding_check, linked_areas, plan_raise, settings_finding,
    station_checks,
};

/// What every candidate is held against.
#[derive(Clone, Copy)]
pub(super) struct Job<'a> {
    pub(super) case: &'a LoadCase,
    pub(super) shares: &'a LoadShares,
    pub(super) settings: &'a Settings,
    pub(super) packing: &'a [Packing],
    pub(super) line: &'a LineOfForce,
}

/// What became of a candidate.
pub(super) enum Outcome {
    /// It passes, or only lacks inputs.
    Kept { checks: Vec<CheckSummary>, raise: Raise },
    /// The first check that it fails.
    Refused { check: CheckSummary, reason: Option<String> },
}

/// Holds one candidate against all checks, in the order of refusal.
pub(super) fn examine(job: Job<'_>, ram: &Ram, count: u32, effort: Effort<'_>) -> Result<Outcome, Stopped> {
    let set = RamSet::everywhere(ram, count, job.case.points.len());
    let context = Context { case: job.case, set: &set, settings: job.settings, packing: job.packing, line: job.line };
    let stations: Vec<Station<'_>> = context.stations(job.shares, Reserve::Ordinary).collect();
    let mut checks = load_checks(job.shares);
    checks.push(CheckSummary::new(CheckId::Settings, "set", &settings_finding(job.settings, None)));
    if let Some(finding) = linked_areas(job.case, &set) {
        keep_worst(&mut checks, CheckSummary::new(CheckId::Phases, "set", &finding));
    }
    let [light, heavy] = split();
    let unknown = Raise::Unknown(Vec::new());
    for rule in &light {
        if let Some(refused) = apply(rule, &stations, &unknown, &mut checks) {
            return Ok(refused);
        }
    }
    let raise = plan_raise(context, job.shares, effort)?;
    for rule in &heavy {
        if let Some(refused) = apply(rule, &stations, &raise, &mut checks) {
            return Ok(refused);
        }
    }
    if job.case.task == Task::Raise {
        let finding = holding_check(&raise, count);
        let reason = raise.sequence().map(crate::verify::reason_text).filter(|text| !text.is_empty());
        let summary = CheckSummary::new(CheckId::Holding, "set", &finding);
        if summary.status == Status::Fail {
            return Ok(Outcome::Refused { check: summary, reason });
        }
        checks.push(summary);
    }
    Ok(Outcome::Kept { checks, raise })
}

/// The checks that can be made without the packing-lift sequence, which is the costly part, and those that need it;
/// each in the order of refusal.
fn split() -> [Vec<Rule<NoLines>>; 2] {
    let (heavy, light): (Vec<_>, Vec<_>) =
        station_checks().into_iter().partition(|rule| matches!(rule.id, CheckId::Stroke | CheckId::Stability));
    [light, heavy]
}

/// The checks on the load as a whole, which are the same for every candidate: each in the phase where it is worst.
fn load_checks(shares: &LoadShares) -> Vec<CheckSummary> {
    let mut worst: Vec<CheckSummary> = Vec::new();
    for check in &shares.checks {
        let summary = CheckSummary {
            id: check.id,
            subject: check.subject.clone(),
            scenario: Scenario::AsPlanned,
            status: check.status,
            utilisation: check.utilisation,
        };
        keep_worst(&mut worst, summary);
    }
    worst
}

/// Keeps one summary of each check: the worst.
fn keep_worst(checks: &mut Vec<CheckSummary>, summary: CheckSummary) {
    match checks.iter_mut().find(|so_far| so_far.id == summary.id) {
        None => checks.push(summary),
        Some(so_far) if so_far.is_outdone_by(&summary) => *so_far = summary,
        Some(_) => {}
    }
}

/// Applies one rule at every station; keeps the worst, or refuses.
fn apply(
    rule: &Rule<NoLines>,
    stations: &[Station<'_>],
    raise: &Raise,
    checks: &mut Vec<CheckSummary>,
) -> Option<Outcome> {
    let mut worst: Option<(CheckSummary, Option<String>)> = None;
    for station in stations {
        let finding = (rule.check)(station, raise, &mut NoLines);
        let summary = CheckSummary::new(rule.id, &station.point.id, &finding);
        let worse = worst.as_ref().is_none_or(|(so_far, _)| so_far.is_outdone_by(&summary));
        if worse {
            worst = Some((summary, finding.note()));
        }
    }
    let (summary, reason) = worst?;
    if summary.status == Status::Fail {
        return Some(Outcome::Refused { check: summary, reason });
    }
    checks.push(summary);
    None
}
