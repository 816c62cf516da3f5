//! All checks of a proposed ram set, with the verdict.

use super::checks::{holding_check, station_checks};
use super::linked::linked_areas;
use super::raise::{Raise, plan_raise};
use super::scenarios::{Context, load_heavier, one_ram_lost};
use super::set::RamSet;
use super::settings_check::settings_finding;
use super::verdict::Verdict;
use crate::EngineError;
use crate::catalogue::Packing;
use crate::check::{Check, CheckId, Finding, Lines, Phase, Place, Scenario};
use crate::effort::Effort;
use crate::load::{LoadCase, LoadShares, Task, share_load};
use crate::packing_lift::PackingSequence;
use crate::settings::Settings;
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
    /// The packing-lift sequence behind the checks of stroke and holding.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub sequence: Option<PackingSequence>,
}

/// Every check of a proposed set: as planned, with a heavier load, with one ram lost.
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
    let context = Context { case: &input.case, set: &input.set, settings: &input.settings, packing: &input.packing };
    let heaviest = input.set.heaviest_on_one_ram(&shares);
    let raise = plan_raise(&input.case, &input.set, heaviest, &input.settings, &input.packing, effort)?;
    let mut checks = shares.checks.clone();
    checks.push(of_set(CheckId::Settings, Phase::SettingUp, settings_finding(&input.settings)));
    checks
        .extend(linked_areas(&input.case, &input.set).map(|finding| of_set(CheckId::Phases, Phase::Raising, finding)));
    checks.extend(as_planned(context, &shares, &raise));
    checks.extend(load_heavier(context)?);
    checks.extend(one_ram_lost(context, &shares, &raise));
    let sequence = match raise {
        Raise::Sequence(sequence) => Some(*sequence),
        Raise::InFrame | Raise::Unknown(_) => None,
    };
    Ok(Verification { verdict: Verdict::of(&checks), load_shares: shares, checks, sequence })
}

fn as_planned(context: Context<'_>, shares: &LoadShares, raise: &Raise) -> Vec<Check> {
    let mut checks = Vec::new();
    for station in context.stations(shares) {
        for rule in station_checks::<Lines>() {
            let mut lines = Lines::default();
            let finding = (rule.check)(&station, raise, &mut lines);
            let place =
                Place { id: rule.id, subject: &station.point.id, scenario: Scenario::AsPlanned, phase: rule.phase };
            checks.push(Check::new(&place, finding, lines));
        }
    }
    if context.case.task == Task::Raise {
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
