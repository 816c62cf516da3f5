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

mod bounds;
mod check;
mod cycles;
mod infeasible;
mod lattice;
mod meter;
mod model;
mod plan;
mod problem;
mod search;
mod stages;

pub use check::{Fault, check_plan};
pub use infeasible::{Cure, Reason, Stack};
pub use plan::{Cycle, End, FollowUp, Outcome, Plan, Proven, Range};
pub use problem::{
    CYCLES_MAX, CollarEnd, Effort, Field, KINDS_MAX, LENGTH_MAX, MASS_MAX, PIECES_MAX, PieceType, Problem,
    ProblemError, Restack, Use,
};

use bounds::Climb;
use cycles::{Fewest, Stacks, fewest};
use meter::{Halt, Meter};
use model::Model;
use search::{Cheapest, cheapest};
use stages::Graph;

/// Stacks of one place listed at most.
const STACKS_MAX: usize = 1 << 20;
/// Share of the effort, as a divisor, that the stacks of one place may take.
const STACKS_SHARE: u64 = 16;

/// Plans the packing lifts.
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
pub fn plan(problem: &Problem, effort: &Effort<'_>) -> Result<Outcome, ProblemError> {
    let model = Model::new(problem)?;
    let mut meter = Meter::new(effort);
    Ok(match solve(problem, &model, &mut meter) {
        Ok(outcome) => outcome,
        Err(Halt::Effort) => nothing(1),
        Err(Halt::Stopped) => Outcome::Stopped,
    })
}

/// What shows without a search: a lower bound on the cycles, or an outcome that is final.
///
/// # Source
/// As [`plan`].
///
/// # Validity
/// As [`plan`]. Where even the bound is not found within the effort it is 1.
///
/// # Errors
/// As [`plan`].
pub fn before_search(problem: &Problem, effort: &Effort<'_>) -> Result<Result<u32, Outcome>, ProblemError> {
    let model = Model::new(problem)?;
    let mut meter = Meter::new(effort);
    Ok(match infeasible::before_search(problem, &model, &mut meter) {
        Ok(Ok(Climb { cycles: Some(cycles), .. })) => Ok(u32::try_from(cycles).unwrap_or(u32::MAX)),
        Ok(Ok(Climb { cycles: None, furthest })) => match infeasible::run_out(problem, furthest, &mut meter) {
            Ok(reason) => Err(Outcome::Infeasible(reason)),
            Err(Halt::Effort) => Ok(1),
            Err(Halt::Stopped) => Err(Outcome::Stopped),
        },
        Ok(Err(reason)) => Err(Outcome::Infeasible(reason)),
        Err(Halt::Effort) => Ok(1),
        Err(Halt::Stopped) => Err(Outcome::Stopped),
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
    let most = usize::try_from(meter.left() / STACKS_SHARE).unwrap_or(usize::MAX).min(STACKS_MAX);
    let Some(stacks) = Stacks::new(model, most, meter)? else {
        return with_less_stock(problem, climb, most, meter);
    };
    if let Some(reason) = infeasible::no_end(problem, model, &stacks, meter)? {
        return Ok(Outcome::Infeasible(reason));
    }
    let Some(lower_bound) = climb.cycles else {
        return Ok(Outcome::Infeasible(infeasible::run_out(problem, climb.furthest, meter)?));
    };
    match fewest(model, &stacks, lower_bound, meter)? {
        Fewest::Never { furthest } => Ok(Outcome::Infeasible(infeasible::run_out(problem, furthest, meter)?)),
        Fewest::Unknown { at_least } => Ok(nothing(at_least.max(lower_bound))),
        Fewest::Found(layers) => {
            let cycles = layers.cycles;
            let graph = match Graph::new(model, &stacks, &layers, meter) {
                Ok(graph) => graph,
                Err(Halt::Effort) => return Ok(nothing(cycles)),
                Err(stopped) => return Err(stopped),
            };
            let write = |moves: &[_], cost| plan::write(problem, model, &stacks, moves, cost, cycles);
            let lower_bound = u32::try_from(cycles).unwrap_or(u32::MAX);
            Ok(match cheapest(&graph, meter)? {
                Cheapest::Proven(moves, cost) => Outcome::Optimal(write(&moves, cost)),
                Cheapest::LeastCost(moves, cost) => {
                    let plan = Some(write(&moves, cost));
                    Outcome::BestWithinEffort { plan, lower_bound, proven: Proven::Cost }
                }
                Cheapest::Any(moves, cost) => {
                    let plan = Some(write(&moves, cost));
                    Outcome::BestWithinEffort { plan, lower_bound, proven: Proven::Cycles }
                }
                Cheapest::Nothing => nothing(cycles),
            })
        }
    }
}

/// Too many stacks to list: plans with fewer pieces, which is a plan of the whole stock too, but proves nothing.
fn with_less_stock(problem: &Problem, climb: Climb, most: usize, meter: &mut Meter<'_>) -> Result<Outcome, Halt> {
    let lower_bound = climb.cycles.unwrap_or(1);
    let mut less = problem.clone();
    loop {
        let Some(largest) = less.pieces.iter_mut().max_by_key(|piece| piece.stock_per_point) else {
            return Ok(nothing(lower_bound));
        };
        if largest.stock_per_point <= 1 {
            return Ok(nothing(lower_bound));
        }
        largest.stock_per_point -= largest.stock_per_point.div_ceil(4);
        let Ok(model) = Model::new(&less) else { continue };
        if Stacks::new(&model, most, meter)?.is_some() {
            break;
        }
    }
    let Ok(model) = Model::new(&less) else { return Ok(nothing(lower_bound)) };
    let found = match solve(&less, &model, meter) {
        Ok(Outcome::Optimal(plan)) => Some(plan),
        Ok(Outcome::BestWithinEffort { plan, .. }) => plan,
        Ok(Outcome::Infeasible(_)) | Err(Halt::Effort) => None,
        Ok(Outcome::Stopped) | Err(Halt::Stopped) => return Err(Halt::Stopped),
    };
    let Some(mut plan) = found else { return Ok(nothing(lower_bound)) };
    plan.lower_bound = u32::try_from(lower_bound).unwrap_or(u32::MAX);
    let proven = if plan.cycles.len() == lower_bound { Proven::Cycles } else { Proven::Nothing };
    Ok(Outcome::BestWithinEffort { lower_bound: plan.lower_bound, plan: Some(plan), proven })
}

#[cfg(test)]
mod tests;
