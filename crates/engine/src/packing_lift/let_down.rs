//! A load that goes down, from the stack on which it stands.

use super::input::SequenceInput;
use super::kernel::{self, Outcome, Plan, Proven};
use super::problem::Posed;
use super::reasons::{outside, stands_otherwise};
use super::result::{PieceCount, Stopped};
use super::sequence::{Answer, STACKS_MOST, answered, in_words_of, length};
use super::shortlist::shortlist;
use ramwright_units::Length;

/// The stack on which a load stands is as high as the clearance says, to a reading of a tape.
const STANDS_WITHIN: Length = Length::from_mm(1.0);

/// A load on a given stack.
pub(super) fn let_down(
    input: &SequenceInput<'_>,
    posed: &Posed<'_>,
    stands_on: &[PieceCount],
    effort: &kernel::Effort<'_>,
) -> Result<Answer, Stopped> {
    let mut counts = vec![0; posed.kinds.len()];
    let mut from_below = Vec::new();
    for part in stands_on {
        let Some(kind) = posed.kinds.iter().position(|piece| piece.id == part.piece) else {
            let why = posed.left_out.iter().find(|(piece, _)| piece.id == part.piece).map(|(_, why)| why.as_str());
            return Ok(Answer::infeasible(stands_otherwise(&part.piece, why.unwrap_or("it is not on site"))));
        };
        if posed.problem.pieces.get(kind).is_some_and(|piece| !piece.use_.in_holding()) {
            return Ok(Answer::infeasible(stands_otherwise(&part.piece, "it may stand under a ram only")));
        }
        if let Some(count) = counts.get_mut(kind) {
            *count += part.count;
        }
        from_below.push(kind);
    }
    if let Some(above) = too_thick_above(posed, &from_below) {
        let why = "it is too thick to be drawn out within the follow-up gap, and lies above thinner pieces";
        return Ok(Answer::infeasible(stands_otherwise(&above, why)));
    }
    let problem = posed.problem.let_down_from(counts, from_below);
    let least = length(problem.travel);
    let greatest = length(problem.travel.saturating_add(problem.allowance));
    if input.travel + STANDS_WITHIN < least || greatest + STANDS_WITHIN < input.travel {
        return Ok(Answer::infeasible(outside(
            "stack_of_another_height",
            format!(
                "the stack stated holds the load {} to {} above its final bearing, and the travel is {}",
                in_words_of(least),
                in_words_of(greatest),
                in_words_of(input.travel)
            ),
        )));
    }
    answered(plan_down(&problem, effort), posed)
}

/// The first piece that cannot be drawn out from under the load and lies above one that can.
fn too_thick_above(posed: &Posed<'_>, from_below: &[usize]) -> Option<String> {
    let problem = &posed.problem;
    let thick = |kind: &usize| {
        let piece = problem.pieces.get(*kind)?;
        let follows = piece.thickness.saturating_add(problem.packing_gap) <= problem.follow_up_gap;
        Some(problem.restack == kernel::Restack::AddOnly && !follows)
    };
    let thin_below = from_below.iter().position(|kind| thick(kind) == Some(false))?;
    let above = from_below.iter().skip(thin_below).find(|kind| thick(kind) == Some(true))?;
    posed.kinds.get(*above).map(|piece| piece.id.clone())
}

/// Plans with all pieces for the base stacks, or with shorter lists of them where all would be too many.
fn plan_down(problem: &kernel::Problem, effort: &kernel::Effort<'_>) -> Result<Outcome, kernel::ProblemError> {
    let half = kernel::Effort { states: effort.states / 2, ..*effort };
    let all = kernel::plan(problem, &half)?;
    let Outcome::BestWithinEffort { plan: None, lower_bound, .. } = all else { return Ok(all) };
    for most in STACKS_MOST {
        let kernel::Goal::Stack { counts: stack, .. } = &problem.goal else { break };
        let mut less = problem.clone();
        let short = shortlist(problem, most).unwrap_or_default();
        for ((piece, short), standing) in less.pieces.iter_mut().zip(short).zip(stack) {
            piece.stock_per_point = piece.stock_per_point.min(short.saturating_add(*standing));
        }
        if let Outcome::Optimal(plan) | Outcome::BestWithinEffort { plan: Some(plan), .. } = kernel::plan(&less, &half)?
        {
            let fewest = u32::try_from(plan.cycles.len()).is_ok_and(|cycles| cycles <= lower_bound);
            let proven = if fewest { Proven::Cycles } else { Proven::Nothing };
            let plan = Some(Plan { lower_bound, ..plan });
            return Ok(Outcome::BestWithinEffort { plan, lower_bound, proven });
        }
    }
    Ok(all)
}
