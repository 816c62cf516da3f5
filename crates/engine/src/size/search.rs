//! The search itself.

use super::candidate::{Job, Outcome, examine};
use super::option::{CheckSummary, RamOption};
use super::pareto::{criteria, mark};
use super::refusal::{Refusal, Refusals};
use crate::EngineError;
use crate::catalogue::{Money, Packing};
use crate::check::Status;
use crate::effort::Effort;
use crate::load::{LoadCase, LoadShares, share_load};
use crate::price::{HireItem, ItemKind, PriceTerms, hire_total};
use crate::ram::Ram;
use crate::settings::Settings;
use crate::support::LineOfForce;
use crate::verify::{Judged, Raise, Verdict};
use serde::{Deserialize, Serialize};
use std::cmp::Ordering;
use utoipa::ToSchema;

/// What a search is made from.
#[derive(Clone, Debug, PartialEq)]
pub struct SizeInput {
    /// The load case.
    pub case: LoadCase,
    /// What stands over and under the rams, for the set that is chosen.
    pub line: LineOfForce,
    /// Limits and gaps.
    pub settings: Settings,
    /// By which terms the job is priced.
    pub price: PriceTerms,
    /// The rams of the yard, in the order of their ids.
    pub rams: Vec<Ram>,
    /// The packing pieces on site, in the order of their ids.
    pub packing: Vec<Packing>,
    /// Currency of the yard's rates.
    pub currency: String,
}

/// The outcome of a search.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, ToSchema)]
pub struct Sizing {
    /// What each point carries.
    pub load_shares: LoadShares,
    /// How many candidates (model and number at a point) were held against the checks.
    pub candidates: u32,
    /// The ram sets that no check refuses, best first.
    pub options: Vec<RamOption>,
    /// What was refused, by the first check that refused it.
    pub refusals: Vec<Refusal>,
}

/// Every model and every number of rams side by side, the same at every point, against every check.
///
/// Options are ranked by verdict, then fewest rams, least mass, least cost, lowest utilisation, fewest packing lifts, then by id.
///
/// # Source
/// See the basis of each check.
///
/// # Validity
/// One model and one number at every point.
///
/// # Errors
/// [`EngineError`]: no equilibrium at the expected values, or stopped by the caller.
pub fn size_ram_set(input: &SizeInput, effort: Effort<'_>) -> Result<Sizing, EngineError> {
    let shares = share_load(&input.case)?;
    let job = Job {
        case: &input.case,
        shares: &shares,
        settings: &input.settings,
        packing: &input.packing,
        line: &input.line,
    };
    let mut options = Vec::new();
    let mut refusals = Refusals::default();
    let mut candidates = 0;
    for ram in &input.rams {
        for count in 1..=input.settings.rams_per_point {
            candidates += 1;
            match examine(job, ram, count, effort)? {
                Outcome::Kept { checks, raise } => options.push(option(input, ram, count, checks, &raise)),
                Outcome::Refused { check, reason } => refusals.add(ram, count, &check, reason),
            }
        }
    }
    mark(&mut options);
    options.sort_by(rank);
    for (index, option) in options.iter_mut().enumerate() {
        option.rank = u32::try_from(index).unwrap_or(u32::MAX).saturating_add(1);
        // No rams cure a load that tips by itself, so nothing is recommended for it.
        option.recommended = index == 0 && option.verdict.status != Status::Fail;
    }
    Ok(Sizing { load_shares: shares, candidates, options, refusals: refusals.into_sorted() })
}

fn rank(a: &RamOption, b: &RamOption) -> Ordering {
    let numbers = criteria(a)
        .into_iter()
        .zip(criteria(b))
        .map(|(a, b)| a.total_cmp(&b))
        .find(|order| *order != Ordering::Equal)
        .unwrap_or(Ordering::Equal);
    a.verdict.status.cmp(&b.verdict.status).then(numbers).then_with(|| a.ram.cmp(&b.ram))
}

fn option(input: &SizeInput, ram: &Ram, count: u32, checks: Vec<CheckSummary>, raise: &Raise) -> RamOption {
    let points = u32::try_from(input.case.points.len()).unwrap_or(u32::MAX);
    let rams = count.saturating_mul(points);
    let number = f64::from(rams);
    let verdict = Verdict::over(checks.iter().map(|check| Judged {
        id: check.id,
        subject: &check.subject,
        scenario: check.scenario,
        status: check.status,
        utilisation: check.utilisation,
    }));
    let on_rams = checks.iter().filter(|check| check.subject != "load" && check.id.measures_load());
    let utilisation = on_rams.filter_map(|check| check.utilisation).fold(0.0, f64::max);
    RamOption {
        rank: 0,
        recommended: false,
        pareto: false,
        ram: ram.id.clone(),
        family: ram.family.clone(),
        action: ram.action,
        lock_collar: ram.lock_collar,
        rams_per_point: count,
        rams,
        capacity: ram.rated_pressure * ram.effective_area,
        stroke: ram.stroke,
        closed_height: ram.closed_height,
        packing_lifts: raise.sequence().and_then(|sequence| sequence.cycles),
        mass: ram.mass.map(|mass| mass * number),
        day_rate: ram.day_rate.map(|rate| Money { amount: rate * number, currency: input.currency.clone() }),
        hire: hire(input, ram, rams),
        utilisation,
        verdict,
        checks,
    }
}

/// Hire of so many of a ram for the hire period.
fn hire(input: &SizeInput, ram: &Ram, count: u32) -> Option<Money> {
    let Ram { id, day_rate, week_rate, .. } = ram;
    let item = HireItem { what: ItemKind::Ram, id, count, day_rate: *day_rate, week_rate: *week_rate };
    hire_total(&input.price, &[item]).map(|amount| Money { amount, currency: input.currency.clone() })
}
