//! Packing lifts for groups of points that differ: in clearance, or in that they go up in turn.
//!
//! The groups draw on one stock and are held level with each other, and so cannot be planned one by one. The search is best
//! first over the groups' stacks together; within one moment of a cycle the groups choose one after the other, so that a choice
//! that cannot be completed is dropped early. What each group needs by itself, with the whole stock to itself, is the lower
//! bound. Among plans equal in cycles, pieces and mass handled and greatest stack any one is given, always the same.
//!
//! Sources: P. E. Hart, N. J. Nilsson, B. Raphael, "A Formal Basis for the Heuristic Determination of Minimum Cost Paths",
//! IEEE Transactions on Systems Science and Cybernetics 4(2), 1968; T. Standley, "Finding Optimal Solutions to Cooperative
//! Pathfinding Problems", AAAI 2010 (choices one after the other).

#[cfg(test)]
mod check;
mod frame;
mod problem;
mod search;
mod side;
mod successors;
mod write;

#[cfg(test)]
pub(crate) use check::check_joint;
pub(crate) use problem::{Group, JointProblem, Manner};
pub(crate) use write::JointPlan;

use super::meter::{Halt, Meter};
use super::plan::{Outcome, Proven};
use super::problem::{Effort, ProblemError};
use super::{Reason, plan};
use frame::Frame;
use search::{Found, cheapest};
use side::Side;

/// What the planner of groups answers.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(crate) enum JointOutcome {
    /// A plan with the fewest cycles; of those the fewest pieces, least mass and lowest stacks.
    Optimal(JointPlan),
    /// The effort was spent.
    BestWithinEffort {
        /// A valid plan, if one was met.
        plan: Option<JointPlan>,
        /// No plan has fewer cycles than this.
        lower_bound: u32,
        /// What is proven of the plan.
        proven: Proven,
    },
    /// A group has no plan even with the whole stock to itself.
    Infeasible {
        /// Index of the group.
        group: usize,
        /// Why.
        reason: Reason,
    },
    /// There is no plan of up to so many cycles; the groups stand in each other's way.
    NotWithin {
        /// Number of cycles.
        cycles: u32,
    },
    /// The stop flag was set.
    Stopped,
}

/// Numbers of cycles tried beyond the lower bound.
const CYCLES_BEYOND: usize = 6;
/// Share of the effort, as a divisor, that each group's plan by itself may take.
const ALONE_SHARE: u64 = 8;

/// Plans the packing lifts of all groups.
///
/// # Source
/// The problem is common practice, no source; the methods as in the head of the module.
///
/// # Validity
/// What [`super::Problem::admit`] accepts for every group. The same problem with the same effort always gives the same answer.
///
/// # Errors
/// [`ProblemError`] if the numbers are outside what the planner was built for.
pub(crate) fn plan_jointly(problem: &JointProblem, effort: &Effort<'_>) -> Result<JointOutcome, ProblemError> {
    let mut meter = Meter::new(effort);
    let mut alone = Vec::new();
    for (index, group) in problem.groups.iter().enumerate() {
        let part = Effort { states: effort.states / ALONE_SHARE, ..*effort };
        match plan(&group.problem, &part)? {
            Outcome::Infeasible(reason) => return Ok(JointOutcome::Infeasible { group: index, reason }),
            Outcome::Stopped => return Ok(JointOutcome::Stopped),
            Outcome::Optimal(plan) => alone.push(plan.cycles.len()),
            Outcome::BestWithinEffort { lower_bound, .. } => alone.push(usize::try_from(lower_bound).unwrap_or(1)),
        }
    }
    let at_least = match problem.manner {
        Manner::Together { .. } => alone.iter().copied().max().unwrap_or(1),
        Manner::EndByEnd { greatest_difference } => {
            alone.iter().sum::<usize>().max(turns_needed(problem, greatest_difference))
        }
    };
    let sides: Result<Vec<Option<Side>>, Halt> =
        problem.groups.iter().map(|group| Side::new(group, &mut meter)).collect();
    let outcome = match sides {
        Ok(sides) => match sides.into_iter().collect::<Option<Vec<Side>>>() {
            Some(sides) => search(problem, sides, at_least, &mut meter)?,
            None => Ok(nothing(at_least)),
        },
        Err(halt) => Err(halt),
    };
    Ok(match outcome {
        Ok(outcome) => outcome,
        Err(Halt::Effort) => nothing(at_least),
        Err(Halt::Stopped) => JointOutcome::Stopped,
    })
}

/// Turns that two ends need for the difference alone: at the top of each raise an end is above the other by no more than the
/// difference, and rests lower by the gap of the last piece at least. So the ends climb by so much in each turn, and the last
/// two turns bring both to the end.
fn turns_needed(problem: &JointProblem, difference: i64) -> usize {
    let [one, _] = problem.groups.as_slice() else { return 1 };
    let climb = difference - one.problem.packing_gap;
    let turns = one.problem.travel.checked_div(climb.max(1)).unwrap_or(0)
        + i64::from(0 < one.problem.travel.checked_rem(climb.max(1)).unwrap_or(0));
    usize::try_from(turns.min(i64::from(u16::MAX))).unwrap_or(1).saturating_add(1)
}

fn nothing(lower_bound: usize) -> JointOutcome {
    JointOutcome::BestWithinEffort { plan: None, lower_bound: number(lower_bound), proven: Proven::Nothing }
}

fn number(cycles: usize) -> u32 {
    u32::try_from(cycles).unwrap_or(u32::MAX)
}

/// Tries one number of cycles after the other.
fn search(
    problem: &JointProblem,
    sides: Vec<Side>,
    at_least: usize,
    meter: &mut Meter<'_>,
) -> Result<Result<JointOutcome, Halt>, ProblemError> {
    let mut frame = Frame::new(problem, sides)?;
    let whole = problem.groups.iter().all(Group::is_whole);
    let mut lower_bound = at_least;
    for cycles in at_least..=at_least + CYCLES_BEYOND {
        frame.cycles = cycles;
        let share = meter.left() / 2;
        match meter.part(share, |meter| cheapest(&frame, meter)) {
            Ok(Found::Best(moves, cost)) => {
                let plan = write::write(problem, &frame, &moves, cost, lower_bound);
                return Ok(Ok(match (lower_bound == cycles, whole) {
                    (true, true) => JointOutcome::Optimal(plan),
                    (true, false) => within(plan, lower_bound, Proven::Cycles),
                    (false, _) => within(plan, lower_bound, Proven::Nothing),
                }));
            }
            Ok(Found::Some(moves, cost)) => {
                let plan = write::write(problem, &frame, &moves, cost, lower_bound);
                let proven = if lower_bound == cycles { Proven::Cycles } else { Proven::Nothing };
                return Ok(Ok(within(plan, lower_bound, proven)));
            }
            // With this number proven out of the question, the next is the bound.
            Ok(Found::Never) if whole && lower_bound == cycles => lower_bound += 1,
            Ok(Found::Never | Found::NotYet) => {}
            Err(halt) => return Ok(Err(halt)),
        }
    }
    Ok(Ok(if lower_bound == at_least + CYCLES_BEYOND + 1 {
        JointOutcome::NotWithin { cycles: number(at_least + CYCLES_BEYOND) }
    } else {
        nothing(lower_bound)
    }))
}

fn within(plan: JointPlan, lower_bound: usize, proven: Proven) -> JointOutcome {
    JointOutcome::BestWithinEffort { plan: Some(plan), lower_bound: number(lower_bound), proven }
}
