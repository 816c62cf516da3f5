//! The search itself.

use super::descent::{by_point, mixed};
use super::hunt::Hunt;
use super::listed::option;
use super::option::RamOption;
use super::reason::reason;
use super::refusal::Refusal;
use super::terms::{Assignment, Objective, SearchTerms};
use super::trial::Job;
use crate::EngineError;
use crate::Text;
use crate::catalogue::Packing;
use crate::check::Status;
use crate::effort::Effort;
use crate::feed::{Feed, Supply};
use crate::load::{LoadCase, LoadShares};
use crate::price::PriceTerms;
use crate::ram::Ram;
use crate::settings::Settings;
use crate::support::LineOfForce;
use crate::verify::Worked;
use serde::{Deserialize, Serialize};
use std::sync::Arc;
use utoipa::ToSchema;

/// What a search is made from.
#[derive(Clone, Debug, PartialEq)]
pub struct SizeInput {
    /// The load case.
    pub case: LoadCase,
    /// What stands over and under the rams.
    pub line: LineOfForce,
    /// Limits and gaps.
    pub settings: Settings,
    /// What is searched for.
    pub search: SearchTerms,
    /// What the circuit is chosen from; without it none is.
    pub supply: Option<Supply>,
    /// By which terms the job is priced.
    pub price: PriceTerms,
    /// The rams of the yard, in the order of their ids.
    pub rams: Vec<Arc<Ram>>,
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
    /// Which sets came into question.
    pub assignment: Assignment,
    /// By what they are compared, the most important first.
    pub objectives: Vec<Objective>,
    /// Models of the yard.
    pub models: u32,
    /// Models of which every set that was looked at was refused; one with a set that was passed over is not among them.
    pub models_refused: u32,
    /// Sets that were held against every check, and that none refuses.
    pub found: u32,
    /// Sets that were left before the last check, since they could be neither among the best nor unbeaten.
    pub passed_over: u64,
    /// Whether every set that came into question was looked at; else better ones may exist.
    pub complete: bool,
    /// The best sets found, and after them those that no other beats.
    pub options: Vec<RamOption>,
    /// Why the first of them is recommended; absent where none is.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub reason: Option<Text>,
    /// What was refused, each model once, by the first check that refused it.
    pub refusals: Vec<Refusal>,
}

/// The sets of the yard that no check of a verification refuses, ranked by verdict and then by the objectives named.
///
/// Every set that could be listed is held against the very checks of [`verify_ram_set`](crate::verify::verify_ram_set), so
/// that its verdict is that of its verification. What is listed is exact: the best so many, and every set that no other
/// with as good a verdict beats in the objectives.
///
/// # Source
/// See the basis of each check.
///
/// # Validity
/// Rams in the order of their ids; at least one objective.
///
/// # Errors
/// [`EngineError`]: no equilibrium at the expected values, or stopped by the caller.
pub fn size_ram_set(input: &SizeInput, effort: Effort<'_>) -> Result<Sizing, EngineError> {
    size_fed(input, input.supply.as_ref().map_or(Feed::NotAsked, Feed::Chosen), effort)
}

/// The same, fed in this way.
pub(crate) fn size_fed(input: &SizeInput, feed: Feed<'_>, effort: Effort<'_>) -> Result<Sizing, EngineError> {
    let worked = Worked::of(&input.case, &input.settings)?;
    let job = Job::new(input, feed, &worked, effort);
    let mut hunt = Hunt::new(&job);
    hunt.uniform()?;
    match input.search.assignment {
        Assignment::Uniform => {}
        Assignment::ByPoint => by_point(&mut hunt)?,
        Assignment::Mixed => mixed(&mut hunt)?,
    }
    let (found, passed_over, complete) = (hunt.front.len(), hunt.passed_over, hunt.complete);
    let refusals = hunt.misses.told(&job)?;
    let mut options: Vec<RamOption> =
        hunt.front.into_listed().into_iter().map(|(pareto, found)| option(&job, pareto, *found)).collect();
    for (index, option) in options.iter_mut().enumerate() {
        option.rank = u32::try_from(index).unwrap_or(u32::MAX).saturating_add(1);
        // No rams cure a load that tips by itself, so nothing is recommended for it.
        option.recommended = index == 0 && option.verdict.status != Status::Fail;
    }
    let best = options.split_first().filter(|(best, _)| best.recommended);
    let reason = best.map(|(best, others)| reason(best, others, (&input.search.objectives, input.case.task), complete));
    let models_refused = refusals.iter().map(|refusal| refusal.models).sum();
    Ok(Sizing {
        assignment: input.search.assignment,
        objectives: input.search.objectives.clone(),
        models: u32::try_from(input.rams.len()).unwrap_or(u32::MAX),
        models_refused,
        found: u32::try_from(found).unwrap_or(u32::MAX),
        passed_over,
        complete,
        options,
        reason,
        refusals,
        load_shares: worked.shares,
    })
}
