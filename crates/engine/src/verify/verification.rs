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
use super::station::{Context, Reserve};
use super::verdict::Verdict;
use crate::EngineError;
use crate::catalogue::Packing;
use crate::check::{Check, CheckId, Finding, Lines, Phase, Place, Scenario};
use crate::effort::Effort;
use crate::load::{LoadCase, LoadShares, Task, share_load};
use crate::packing_lift::PackingSequence;
use crate::settings::Settings;
use crate::support::{DesignBasisUsed, LineOfForce};
use ramwright_units::Force;
use serde::{Deserialize, Serialize};
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
}

impl VerifyInput {
    /// What every check is made from.
    pub(crate) fn context(&self) -> Context<'_> {
        Context { case: &self.case, set: &self.set, settings: &self.settings, packing: &self.packing, line: &self.line }
    }
}

/// Every check of a proposed set: as planned, with the load acting otherwise, with a ram or a point lost.
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
    let shares = share_load(&input.case)?;
    let context = input.context();
    let raise = plan_raise(context, &shares, effort)?;
    let mut checks = shares.checks.clone();
    checks.push(of_set(
        CheckId::Settings,
        Phase::SettingUp,
        settings_finding(&input.settings, input.line.basis.as_ref()),
    ));
    checks
        .extend(linked_areas(&input.case, &input.set).map(|finding| of_set(CheckId::Phases, Phase::Raising, finding)));
    checks.extend(as_planned(context, &shares, &raise));
    checks.extend(load_otherwise(context, &raise));
    checks.extend(lost_in_turn(context, &shares, &raise));
    let margins = margins(context, &checks, &raise);
    let sequence = match raise {
        Raise::Sequence(sequence) => Some(*sequence),
        Raise::InFrame | Raise::Unknown(_) => None,
    };
    let design_basis = input.line.basis.as_ref().map(DesignBasisUsed::of);
    let verdict = Verdict::of(&checks);
    Ok(Verification { verdict, load_shares: shares, checks, margins, design_basis, sequence })
}

fn as_planned(context: Context<'_>, shares: &LoadShares, raise: &Raise) -> Vec<Check> {
    let mut checks = Vec::new();
    for station in context.stations(shares, Reserve::Ordinary) {
        for rule in rules_of(context.case.task) {
            let mut lines = Lines::default();
            let finding = (rule.check)(&station, raise, &mut lines);
            let place = Place {
                id: rule.id,
                subject: &station.point.id,
                scenario: Scenario::AsPlanned,
                phase: rule.phase_at(&station),
            };
            checks.push(Check::new(&place, finding, lines));
        }
    }
    if context.case.task == Task::Raise {
        checks.push(of_set(
            CheckId::Restraint,
            Phase::Raising,
            restrained(context.case, context.line, context.settings),
        ));
        checks.push(of_set(CheckId::Holding, Phase::Holding, holding_check(raise, context.set.most_at_a_point())));
    }
    checks
}

fn of_set(id: CheckId, phase: Phase, finding: Finding) -> Check {
    Check::new(&Place { id, subject: "set", scenario: Scenario::AsPlanned, phase }, finding, Lines::default())
}

/// The check that stands for a circuit of which too little is known.
pub(crate) fn circuit_not_checked(missing: &'static str) -> Check {
    of_set(CheckId::PumpPressure, Phase::Raising, Finding::missing([missing]))
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
