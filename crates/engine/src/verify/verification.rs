//! All checks of a proposed ram set, with the verdict.

use super::checks::holding_check;
use super::line::restrained;
use super::linked::linked_areas;
use super::margins::{Margin, margins};
use super::raise::{Raise, plan_raise};
use super::rules::rules_of;
use super::scenarios::{load_otherwise, lost_in_turn};
use super::set::RamSet;
use super::settings_check::settings_finding;
use super::sink::Sink;
use super::site::{SiteOutcome, SiteReadings, judged, site_checks};
use super::station::{Context, Reserve};
use super::verdict::Verdict;
use super::worked::Worked;
use crate::EngineError;
use crate::catalogue::Packing;
use crate::check::{Check, CheckId, Finding, Lines, Phase, Place, Scenario};
use crate::effort::Effort;
use crate::load::{LoadCase, LoadShares, Task};
use crate::packing_lift::{Cures, PackingSequence, PlanBook};
use crate::settings::Settings;
use crate::support::{DesignBasisUsed, LineOfForce};
use ramwright_units::Force;
use serde::{Deserialize, Serialize};
use std::rc::Rc;
use utoipa::ToSchema;

/// A proposed set, and what it is held against.
#[derive(Clone, Debug, PartialEq)]
pub struct VerifyInput {
    /// The load case.
    pub case: LoadCase,
    /// The rams at each point.
    pub set: RamSet,
    /// What stands over and under the rams.
    pub line: LineOfForce,
    /// Limits and gaps.
    pub settings: Settings,
    /// The packing pieces on site, in the order of their ids.
    pub packing: Vec<Packing>,
    /// What was read on site, if anything was.
    pub site: Option<SiteReadings>,
}

/// The outcome of a verification.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, ToSchema)]
pub struct Verification {
    /// One word over all checks.
    pub verdict: Verdict,
    /// What each point carries.
    pub load_shares: LoadShares,
    /// Every check.
    pub checks: Vec<Check>,
    /// By how much weight, centre of gravity and clearance may change before a check fails; for up to 24 points, or 8 whose levels lie in a band.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub margins: Vec<Margin>,
    /// By whose rules timber, plates and concrete were checked.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub design_basis: Option<DesignBasisUsed>,
    /// The packing-lift sequence behind the checks of stroke and holding.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub sequence: Option<PackingSequence>,
    /// What the readings on site make of the plan, if any are given; their checks are among `checks`.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub site: Option<SiteOutcome>,
}

impl VerifyInput {
    /// What every check is made from.
    pub(crate) fn context(&self) -> Context<'_> {
        let Self { case, set, line, settings, packing, site: _ } = self;
        Context { case, set, settings, packing, line, stacks: &[] }
    }
}

impl Verification {
    /// The same with what the readings on site make of it under a verdict over more than the verification.
    pub(crate) fn judged_on_site(mut self, verdict: &Verdict) -> Self {
        let (checks, weight) = (&self.checks, self.load_shares.weight.expected);
        self.site = self.site.map(|site| judged(verdict, checks, site.steps, weight));
        self
    }
}

/// Every check of a proposed set: as planned, with the load acting otherwise, with a ram or a point lost; and of what was read
/// on site.
///
/// # Source
/// See the basis of each check.
///
/// # Validity
/// One entry of the set for every point, in the order of the points.
///
/// # Errors
/// [`EngineError`]: no equilibrium at the expected values, or stopped by the caller.
pub fn verify_ram_set(input: &VerifyInput, effort: Effort<'_>) -> Result<Verification, EngineError> {
    let worked = Worked::of(&input.case, &input.settings)?;
    let context = input.context();
    let raise = plan_raise(context, &worked.shares, &mut PlanBook::new(Cures::Sought), effort)?;
    let stacks = context.stacks_of(&raise);
    let context = Context { stacks: &stacks, ..context };
    let mut checks: Vec<Check> = Vec::new();
    every_check(context, &worked, &raise, &mut checks);
    let margins = margins(context, &checks, &raise);
    // After the margins, which ask what the plan bears, and not what was read.
    let steps_read = input.site.as_ref().map(|site| {
        let read = site_checks(context, &raise, site);
        checks.extend(read.checks);
        read.steps
    });
    let sequence = match raise {
        Raise::Sequence(planned) => Some(Rc::unwrap_or_clone(planned).sequence),
        Raise::InFrame | Raise::Unknown(_) => None,
    };
    let design_basis = input.line.basis.as_ref().map(DesignBasisUsed::of);
    let verdict = Verdict::of(&checks);
    let site = steps_read.map(|steps| judged(&verdict, &checks, steps, input.case.weight.expected));
    Ok(Verification { verdict, load_shares: worked.shares, checks, margins, design_basis, sequence, site })
}

/// Makes every check of a set, in one order for all sets; stops early where the sink is full.
pub(crate) fn every_check<S: Sink>(context: Context<'_>, worked: &Worked, raise: &Raise, sink: &mut S) {
    for check in &worked.shares.checks {
        sink.of_load(check, check.scenario);
    }
    of_set(CheckId::Settings, Phase::SettingUp, settings_finding(context.settings, context.line.basis.as_ref()), sink);
    if let Some(finding) = linked_areas(context.case, context.set) {
        of_set(CheckId::Phases, Phase::Raising, finding, sink);
    }
    as_planned(context, &worked.shares, raise, sink);
    load_otherwise(context, worked, raise, sink);
    if !sink.is_full() {
        lost_in_turn(context, worked, raise, sink);
    }
}

fn as_planned<S: Sink>(context: Context<'_>, shares: &LoadShares, raise: &Raise, sink: &mut S) {
    let rules = rules_of::<S::Book>(context.case.task);
    for station in context.stations(shares, Reserve::Ordinary) {
        for rule in &rules {
            if sink.is_full() {
                return;
            }
            let mut book = S::Book::default();
            let finding = (rule.check)(&station, raise, &mut book);
            let place = Place {
                id: rule.id,
                subject: &station.point.id,
                scenario: Scenario::AsPlanned,
                phase: rule.phase_at(&station),
            };
            sink.take(&place, finding, book);
        }
    }
    if context.case.task == Task::Raise {
        of_set(CheckId::Restraint, Phase::Raising, restrained(context.case, context.line, context.settings), sink);
        let holding = holding_check(raise, context.set.most_at_a_point());
        of_set(CheckId::Holding, Phase::Holding, holding, sink);
    }
}

fn of_set<S: Sink>(id: CheckId, phase: Phase, finding: Finding, sink: &mut S) {
    let place = Place { id, subject: "set", scenario: Scenario::AsPlanned, phase };
    sink.take(&place, finding, S::Book::default());
}

/// The check that stands for a circuit of which too little is known.
pub(crate) fn circuit_not_checked(missing: &'static str) -> Check {
    let place =
        Place { id: CheckId::PumpPressure, subject: "set", scenario: Scenario::AsPlanned, phase: Phase::Raising };
    Check::new(&place, Finding::missing([missing]), Lines::default())
}

/// The check of a limit that one open manifold could exceed at a point that sticks.
pub(crate) fn manifold_not_checked(id: CheckId, point: &str, stuck: Force) -> Check {
    let missing = format!(
        "a valve and a stop pressure for each point: on one open manifold the greatest stop pressure puts {:.1} kN here if the point sticks",
        stuck.kn()
    );
    let place = Place { id, subject: point, scenario: Scenario::AsPlanned, phase: Phase::Raising };
    Check::new(&place, Finding::missing([missing]), Lines::default())
}
