//! Packing lifts for one group of equal points: the exact planner.
//!
//! In every cycle the ram is set on its base stack, raises the load, the holding stack is built up, and the load is
//! lowered on to it. Both stacks draw on the same pieces. The planner finds, in this order, the fewest cycles, the
//! fewest pieces handled, the least mass handled and the lowest greatest stack. Among plans equal in all four it takes
//! the first in the total order: cycle by cycle, the base stack and then the holding stack with the fewer pieces of the
//! first kind, then of the second kind and so on; an end on packing comes before an end on collars.
//!
//! Settlement lies between a least and a greatest value. The greatest is used for the reach (the base sinks under the
//! ram), the final height that must be reached, the soffit under which the ram enters, and the rule against stepping
//! down; the least is used for the over-jack allowance. The rule against stepping down compares the least rises: the
//! ram got in under the old one with its gap, so it comes free under any rest at least as high.
//!
//! While pieces are only added, those too thick to follow up can stand only in the first stack, which therefore holds
//! just these. The raise is just as much as the last piece needs. The collars may end the job from any rest that is not
//! above the allowance; a stack that stands above the wanted rise while unloaded may then share the load with them.

mod bases_to_go;
mod bounds;
#[cfg(test)]
mod check;
mod cycles;
mod infeasible;
mod joint;
mod lattice;
mod members;
mod meter;
mod model;
mod plan;
mod problem;
mod rebuild;
mod rests_to_go;
mod search;
mod stacks;
mod stages;
mod walk;

pub(crate) use joint::{Group, JointOutcome, JointPlan, JointProblem, Manner, plan_jointly};

#[cfg(test)]
pub(crate) use check::{Fault, check_plan, check_rules, lies_in_order};
pub(crate) use infeasible::{Cure, Reason, Stack};
pub(crate) use plan::{Cycle, End, FollowUp, Outcome, Plan, Proven, Range};
pub use problem::Cures;
#[cfg(test)]
pub(crate) use problem::MASS_MAX;
pub(crate) use problem::{CollarEnd, Effort, Goal, KindSet, PieceType, Problem, ProblemError, Restack, Use};
pub(crate) use problem::{LENGTH_MAX, PARTS_MAX};

use bounds::Climb;
use cycles::{Fewest, Layers, few, fewest};
use infeasible::{STATES_FOR_CURES, no_end, run_out};
use meter::{Halt, Meter};
use model::Model;
use search::{Cheapest, cheapest};
use stacks::Stacks;
use stages::Graph;
use walk::any_plan;

/// Stacks of one place listed at most.
const STACKS_MAX: usize = 1 << 18;
/// Share of the effort, as a divisor, that the stacks of one place may take.
const STACKS_SHARE: u64 = 16;
/// The same where the stock has been cut down to get any plan at all.
const LESS_STACKS_MAX: usize = 60_000;

/// Plans the packing lifts of equal points.
///
/// # Source
/// The problem is common practice, no source; the methods are breadth-first search, best-first search with a lower bound
/// (P. E. Hart, N. J. Nilsson, B. Raphael, "A Formal Basis for the Heuristic Determination of Minimum Cost Paths",
/// IEEE Transactions on Systems Science and Cybernetics 4(2), 1968) and separable distance transforms (P. F. Felzenszwalb,
/// D. P. Huttenlocher, "Distance Transforms of Sampled Functions", Theory of Computing 8, 2012).
///
/// # Validity
/// What [`Problem::admit`] accepts. The same problem with the same effort always gives the same answer.
///
/// # Errors
/// [`ProblemError`] if the numbers are outside what the planner was built for.
pub(crate) fn plan(problem: &Problem, effort: &Effort<'_>) -> Result<Outcome, ProblemError> {
    let model = Model::new(problem)?;
    let mut meter = Meter::new(effort);
    Ok(match solve(problem, &model, &mut meter) {
        Ok(outcome) => outcome,
        Err(Halt::Effort) => nothing(1),
        Err(Halt::Stopped) => Outcome::Stopped,
    })
}

fn nothing(lower_bound: usize) -> Outcome {
    let lower_bound = u32::try_from(lower_bound).unwrap_or(u32::MAX);
    Outcome::BestWithinEffort { plan: None, lower_bound, proven: Proven::Nothing }
}

fn solve(problem: &Problem, model: &Model, meter: &mut Meter<'_>) -> Result<Outcome, Halt> {
    let climb = match infeasible::before_search(problem, model, meter)? {
        Ok(climb) => climb,
        Err(reason) => return Ok(Outcome::Infeasible(reason)),
    };
    let share = meter.left() / 4 * 3;
    let outcome = meter.part(share, |meter| search_all(problem, model, climb, meter))?;
    match outcome {
        Outcome::BestWithinEffort { plan: None, lower_bound, .. } => with_less_stock(problem, lower_bound, meter),
        answered => Ok(answered),
    }
}

/// Searches with the whole stock.
fn search_all(problem: &Problem, model: &Model, climb: Climb, meter: &mut Meter<'_>) -> Result<Outcome, Halt> {
    let at_least = climb.cycles.unwrap_or(1);
    let most = usize::try_from(meter.left() / STACKS_SHARE).unwrap_or(usize::MAX).min(STACKS_MAX);
    let stacks = match Stacks::new(model, most, meter) {
        Ok(Some(stacks)) => stacks,
        Ok(None) | Err(Halt::Effort) => return Ok(nothing(at_least)),
        Err(Halt::Stopped) => return Err(Halt::Stopped),
    };
    if let Some(reason) = meter.part(STATES_FOR_CURES, |meter| no_end(problem, model, &stacks, meter))? {
        return Ok(Outcome::Infeasible(reason));
    }
    let run_out = |furthest: i64, meter: &mut Meter<'_>| {
        Ok(Outcome::Infeasible(meter.part(STATES_FOR_CURES, |meter| run_out(problem, furthest, meter))?))
    };
    let Some(lower_bound) = climb.cycles else { return run_out(climb.furthest, meter) };
    let share = meter.left() / 2;
    let at_least = match meter.part(share, |meter| fewest(model, &stacks, lower_bound, meter))? {
        Fewest::Found(layers) => return rank(problem, model, &stacks, &layers, meter),
        Fewest::Never { furthest } => return run_out(furthest, meter),
        Fewest::Unknown { at_least } => at_least,
    };
    let layers = match few(model, &stacks, at_least, meter) {
        Ok(Some(layers)) => layers,
        Ok(None) | Err(Halt::Effort) => return Ok(nothing(at_least)),
        Err(Halt::Stopped) => return Err(Halt::Stopped),
    };
    let outcome = rank(problem, model, &stacks, &layers, meter)?;
    Ok(weaken(outcome, at_least))
}

/// The outcome of a search that left something out: a plan, and what is known of its number of cycles.
fn weaken(outcome: Outcome, at_least: usize) -> Outcome {
    let (Outcome::Optimal(plan) | Outcome::BestWithinEffort { plan: Some(plan), .. }) = outcome else {
        return nothing(at_least);
    };
    let proven = if plan.cycles.len() == at_least { Proven::Cycles } else { Proven::Nothing };
    let lower_bound = u32::try_from(at_least).unwrap_or(u32::MAX);
    Outcome::BestWithinEffort { plan: Some(Plan { lower_bound, ..plan }), lower_bound, proven }
}

/// Finds the best of the plans with the fewest cycles.
fn rank(
    problem: &Problem,
    model: &Model,
    stacks: &Stacks,
    layers: &Layers,
    meter: &mut Meter<'_>,
) -> Result<Outcome, Halt> {
    let write = |moves: &[_], cost| plan::write(problem, model, stacks, moves, cost, layers.cycles);
    let any = any_plan(model, stacks, layers, meter)?;
    let found = match Graph::new(model, stacks, layers, meter).and_then(|graph| cheapest(&graph, any.clone(), meter)) {
        Err(Halt::Effort) => any.map(|any| (any, Proven::Cycles)),
        Err(Halt::Stopped) => return Err(Halt::Stopped),
        Ok(Cheapest::Proven(moves, cost)) => return Ok(Outcome::Optimal(write(&moves, cost))),
        Ok(Cheapest::LeastCost(moves, cost)) => Some(((moves, cost), Proven::Cost)),
        Ok(Cheapest::Any(moves, cost)) => Some(((moves, cost), Proven::Cycles)),
        Ok(Cheapest::Nothing) => None,
    };
    let Some(((moves, cost), proven)) = found else { return Ok(nothing(layers.cycles)) };
    let lower_bound = u32::try_from(layers.cycles).unwrap_or(u32::MAX);
    Ok(Outcome::BestWithinEffort { plan: Some(write(&moves, cost)), lower_bound, proven })
}

/// Too much to search: the best plan with fewer pieces is a plan of the whole stock too, but proves nothing.
fn with_less_stock(problem: &Problem, lower_bound: u32, meter: &mut Meter<'_>) -> Result<Outcome, Halt> {
    let at_least = usize::try_from(lower_bound).unwrap_or(usize::MAX);
    let mut less = problem.clone();
    while let Some(most) = less.pieces.iter().map(|piece| piece.stock_per_point).max().filter(|&most| 1 < most) {
        for piece in less.pieces.iter_mut().filter(|piece| piece.stock_per_point == most).take(1) {
            piece.stock_per_point -= most.div_ceil(4);
        }
        let Ok(model) = Model::new(&less) else { continue };
        let listed = meter.part(meter.left() / 8, |meter| Stacks::new(&model, LESS_STACKS_MAX, meter));
        match listed {
            Ok(Some(_)) => {}
            Ok(None) | Err(Halt::Effort) => continue,
            Err(Halt::Stopped) => return Err(Halt::Stopped),
        }
        let found = match bounds::climb(&model, bounds::Supply::REAL, meter) {
            Ok(climb @ Climb { cycles: Some(_), .. }) => search_all(&less, &model, climb, meter),
            Ok(Climb { cycles: None, .. }) => break,
            Err(halt) => Err(halt),
        };
        return match found {
            Ok(outcome) => Ok(weaken(outcome, at_least)),
            Err(Halt::Effort) => Ok(nothing(at_least)),
            Err(Halt::Stopped) => Err(Halt::Stopped),
        };
    }
    Ok(nothing(at_least))
}

#[cfg(test)]
mod tests;
