//! The packing-lift sequence as it is answered.

use super::kernel::{self, Cure, End, Outcome, Plan, Reason};
use super::problem::{Posed, SequenceInput, pose};
use super::shortlist::shortlist;
use super::steps::{Step, steps};
use crate::Text;
use crate::catalogue::Packing;
use crate::effort::Effort;
use crate::settings::PackingLifts;
use ramwright_units::{Length, PieceMass};
use serde::{Deserialize, Serialize};
use thiserror::Error;
use utoipa::ToSchema;

/// The work was stopped from outside.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Error)]
#[error("the calculation was stopped")]
pub struct Stopped;

/// How good the sequence is.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize, ToSchema)]
#[serde(rename_all = "snake_case")]
pub enum SequenceOutcome {
    /// Proven best.
    Optimal,
    /// The best that was found before the effort was used up.
    WithinEffort,
    /// There is none; see `reason`.
    Infeasible,
    /// None was found before the effort was used up; there may be one.
    NotFound,
}

/// What holds the load at the end.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize, ToSchema)]
#[serde(rename_all = "snake_case")]
pub enum Ending {
    /// The holding stacks.
    OnPacking,
    /// The lock collars of the rams.
    OnLockCollars,
}

/// Pieces of one kind.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, ToSchema)]
pub struct PieceCount {
    /// The piece's id.
    pub piece: String,
    /// How many.
    pub count: u32,
}

/// A kind of piece that was not used.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, ToSchema)]
pub struct PieceLeftOut {
    /// The piece's id.
    pub piece: String,
    /// Why.
    pub why: Text,
}

/// Why there is no sequence, and what would cure it.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, ToSchema)]
pub struct InfeasibleReason {
    /// A fixed name to branch on. More may appear.
    pub code: Text,
    /// The reason in words.
    pub text: Text,
    /// The least changes after which there is a sequence, each on its own.
    pub least_changes: Vec<Text>,
}

/// A packing-lift sequence.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, ToSchema)]
pub struct PackingSequence {
    /// How good it is.
    pub outcome: SequenceOutcome,
    /// What is proven, in words.
    pub why: Text,
    /// Number of packing lifts; absent if there is no sequence.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub cycles: Option<u32>,
    /// No sequence has fewer.
    pub lower_bound: u32,
    /// What holds the load at the end.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub ending: Option<Ending>,
    /// How many stacks of each kind there are: one for each ram.
    pub stacks: u32,
    /// Pieces placed and removed, over all stacks.
    pub pieces_handled: u64,
    /// Mass placed and removed, over all stacks.
    pub mass_handled: PieceMass,
    /// Highest stack.
    pub greatest_stack: Length,
    /// Highest base stack.
    pub greatest_base_stack: Length,
    /// Greatest extension of a ram.
    pub greatest_extension: Length,
    /// Pieces needed, all stacks together.
    pub pieces: Vec<PieceCount>,
    /// Kinds that could not be used.
    pub left_out: Vec<PieceLeftOut>,
    /// The steps for the crew.
    pub steps: Vec<Step>,
    /// Why there is none.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub reason: Option<InfeasibleReason>,
}

/// The sequence with the fewest packing lifts; of those, fewest pieces handled, least mass handled, lowest stacks.
///
/// # Source
/// The problem is common practice, no source; see the planner for the methods.
///
/// # Validity
/// Points of one clearance, one model of ram, one base stack and one holding stack for each ram.
///
/// # Errors
/// [`Stopped`] if the caller stopped the work.
pub fn sequence_packing_lifts(input: &SequenceInput<'_>, effort: Effort<'_>) -> Result<PackingSequence, Stopped> {
    let posed = pose(input);
    let kernel_effort = kernel::Effort { states: effort.states, stop: effort.stop };
    let outcome = match plan_all_or_fewer(&posed.problem, &kernel_effort) {
        Ok(outcome) => outcome,
        Err(error) => {
            let reason = InfeasibleReason {
                code: Text::fixed("outside_the_planner"),
                text: Text::from(format!("the planner was not built for these numbers: {error:?}")),
                least_changes: Vec::new(),
            };
            return Ok(none(input, &posed, SequenceOutcome::NotFound, "the planner was not asked", 1, Some(reason)));
        }
    };
    Ok(match outcome {
        Outcome::Stopped => return Err(Stopped),
        Outcome::Infeasible(reason) => {
            let reason = in_words(&reason, &posed);
            none(input, &posed, SequenceOutcome::Infeasible, "no sequence obeys all rules", 1, Some(reason))
        }
        Outcome::Optimal(plan) => {
            let why = "proven: fewest packing lifts, then fewest pieces handled, least mass handled, lowest stacks";
            found(input, &posed, &plan, SequenceOutcome::Optimal, why)
        }
        Outcome::BestWithinEffort { plan: Some(plan), proven, .. } => {
            let why = match proven {
                kernel::Proven::Nothing => "a valid sequence; nothing is proven but the lower bound",
                kernel::Proven::Cycles => {
                    "the number of packing lifts is proven the fewest; pieces handled are not proven the fewest"
                }
                kernel::Proven::Cost => "proven in everything but the choice among equals",
            };
            found(input, &posed, &plan, SequenceOutcome::WithinEffort, why)
        }
        Outcome::BestWithinEffort { plan: None, lower_bound, .. } => {
            let why = "the effort was used up before a sequence was found; ask for more states";
            none(input, &posed, SequenceOutcome::NotFound, why, lower_bound, None)
        }
    })
}

/// Numbers of different stacks of one place with which a search is tried, one after the other, where all are too many.
const STACKS_MOST: [u64; 3] = [6_000, 1_500, 400];

/// Plans with all pieces and, where those are too many for a proof, also with shorter lists of them; the better plan counts.
///
/// A sequence with fewer pieces is one with all of them too; that there is none with fewer is not.
fn plan_all_or_fewer(problem: &kernel::Problem, effort: &kernel::Effort<'_>) -> Result<Outcome, kernel::ProblemError> {
    if shortlist(problem, STACKS_MOST[0]).is_none() {
        return kernel::plan(problem, effort);
    }
    let half = kernel::Effort { states: effort.states / 2, ..*effort };
    let all = kernel::plan(problem, &half)?;
    let Outcome::BestWithinEffort { plan: met, lower_bound, proven } = all else { return Ok(all) };
    if kernel::Proven::Cycles < proven {
        return Ok(Outcome::BestWithinEffort { plan: met, lower_bound, proven });
    }
    let mut best = met;
    for most in STACKS_MOST {
        let mut less = problem.clone();
        for (piece, count) in less.pieces.iter_mut().zip(shortlist(problem, most).unwrap_or_default()) {
            piece.stock_per_point = count;
        }
        match kernel::plan(&less, &half)? {
            Outcome::Optimal(plan) | Outcome::BestWithinEffort { plan: Some(plan), .. } => {
                if best.as_ref().is_none_or(|best| plan.rank() < best.rank()) {
                    best = Some(plan);
                }
                break;
            }
            Outcome::Stopped => return Ok(Outcome::Stopped),
            Outcome::Infeasible(_) | Outcome::BestWithinEffort { plan: None, .. } => {}
        }
    }
    let fewest = best.as_ref().is_some_and(|plan| u32::try_from(plan.cycles.len()).is_ok_and(|n| n <= lower_bound));
    let proven = if fewest { kernel::Proven::Cycles } else { kernel::Proven::Nothing };
    let plan = best.map(|plan| Plan { lower_bound, ..plan });
    Ok(Outcome::BestWithinEffort { plan, lower_bound, proven })
}

fn left_out(posed: &Posed<'_>) -> Vec<PieceLeftOut> {
    posed.left_out.iter().map(|(piece, why)| PieceLeftOut { piece: piece.id.clone(), why: why.clone() }).collect()
}

fn none(
    input: &SequenceInput<'_>,
    posed: &Posed<'_>,
    outcome: SequenceOutcome,
    why: &'static str,
    lower_bound: u32,
    reason: Option<InfeasibleReason>,
) -> PackingSequence {
    PackingSequence {
        outcome,
        why: Text::fixed(why),
        cycles: None,
        lower_bound,
        ending: None,
        stacks: input.rams,
        pieces_handled: 0,
        mass_handled: PieceMass::ZERO,
        greatest_stack: Length::ZERO,
        greatest_base_stack: Length::ZERO,
        greatest_extension: Length::ZERO,
        pieces: Vec::new(),
        left_out: left_out(posed),
        steps: Vec::new(),
        reason,
    }
}

fn found(
    input: &SequenceInput<'_>,
    posed: &Posed<'_>,
    plan: &Plan,
    outcome: SequenceOutcome,
    why: &'static str,
) -> PackingSequence {
    let cycles = u32::try_from(plan.cycles.len()).unwrap_or(u32::MAX);
    if 1 < cycles && input.settings.packing_lifts == PackingLifts::NotAllowed {
        let reason = InfeasibleReason {
            code: Text::fixed("packing_lifts_not_allowed"),
            text: Text::from(format!(
                "one stroke is not enough: {cycles} packing lifts are needed, and the request allows none"
            )),
            least_changes: vec![Text::fixed("allow packing lifts, or use a ram of longer stroke")],
        };
        return none(input, posed, SequenceOutcome::Infeasible, "no sequence obeys all rules", cycles, Some(reason));
    }
    let stacks = u64::from(input.rams);
    PackingSequence {
        outcome,
        why: Text::fixed(why),
        cycles: Some(cycles),
        lower_bound: plan.lower_bound,
        ending: Some(match plan.end {
            End::OnPacking => Ending::OnPacking,
            End::OnCollars => Ending::OnLockCollars,
        }),
        stacks: input.rams,
        pieces_handled: plan.pieces_handled * stacks,
        mass_handled: mass_handled(plan, &posed.kinds) * f64::from(input.rams),
        greatest_stack: length(plan.greatest_stack),
        greatest_base_stack: length(plan.cycles.iter().map(|cycle| cycle.base_height).max().unwrap_or(0)),
        greatest_extension: length(
            plan.cycles.iter().map(|cycle| cycle.extension.greatest).max().unwrap_or(0) - posed.spare_stroke(),
        ),
        pieces: pieces_needed(plan, &posed.kinds, input.rams),
        left_out: left_out(posed),
        steps: steps(input, posed, plan),
        reason: None,
    }
}

/// A planner's height.
#[expect(clippy::cast_precision_loss, reason = "the planner's lengths are far below 2^53")]
pub(super) fn length(tenths: i64) -> Length {
    Length::from_mm(tenths as f64 / 10.0)
}

/// Mass placed and removed at one pair of stacks, with the pieces' own masses.
fn mass_handled(plan: &Plan, kinds: &[&Packing]) -> PieceMass {
    let mut base: Vec<u32> = vec![0; kinds.len()];
    let mut moved: Vec<u64> = vec![0; kinds.len()];
    let mut holding: Vec<u32> = vec![0; kinds.len()];
    let mut count = |before: &[u32], after: &[u32]| {
        for ((sum, old), new) in moved.iter_mut().zip(before).zip(after) {
            *sum += u64::from(old.abs_diff(*new));
        }
    };
    for cycle in &plan.cycles {
        count(&base, &cycle.base);
        count(&holding, &cycle.holding_before);
        count(&cycle.holding_before, &cycle.holding_after);
        base.clone_from(&cycle.base);
        holding.clone_from(&cycle.holding_after);
    }
    #[expect(clippy::cast_precision_loss, reason = "pieces handled are far below 2^53")]
    moved.iter().zip(kinds).map(|(count, piece)| piece.mass * (*count as f64)).sum()
}

/// The most pieces of each kind in use at one moment, all stacks together.
fn pieces_needed(plan: &Plan, kinds: &[&Packing], stacks: u32) -> Vec<PieceCount> {
    let at = |counts: &[u32], kind: usize| counts.get(kind).copied().unwrap_or(0);
    let most = |kind: usize| {
        plan.cycles
            .iter()
            .map(|cycle| at(&cycle.base, kind) + at(&cycle.holding_before, kind).max(at(&cycle.holding_after, kind)))
            .max()
            .unwrap_or(0)
    };
    kinds
        .iter()
        .enumerate()
        .map(|(kind, piece)| PieceCount { piece: piece.id.clone(), count: most(kind) * stacks })
        .filter(|needed| 0 < needed.count)
        .collect()
}

fn in_words(reason: &Reason, posed: &Posed<'_>) -> InfeasibleReason {
    let mm = |tenths: i64| format!("{:.1} mm", length(tenths).mm());
    let (code, text, cures): (&'static str, String, &[Cure]) = match reason {
        Reason::RamDoesNotEnter { short_by } => (
            "ram_does_not_enter",
            format!("the closed ram does not go under the load: {} too high", mm(*short_by)),
            &[],
        ),
        Reason::NoPieceThinEnough { thinnest: Some(thinnest), greatest_thickness } => (
            "no_piece_thin_enough",
            format!(
                "the thinnest piece for the holding stack is {}, and at most {} can follow the load within the gaps",
                mm(*thinnest),
                mm(*greatest_thickness)
            ),
            &[],
        ),
        Reason::NoPieceThinEnough { thinnest: None, .. } => {
            ("no_piece_thin_enough", "there is no piece for the holding stack".into(), &[])
        }
        Reason::NoProgress { furthest_rise, cures } => (
            "no_progress",
            format!(
                "even with unlimited pieces the load stops at a rise of {}: the stroke is too short for gaps and settlement",
                mm(*furthest_rise)
            ),
            cures,
        ),
        Reason::HeightLimit { furthest_rise, cures, .. } => (
            "stack_too_high",
            format!("the stacks reach their greatest height at a rise of {}", mm(*furthest_rise)),
            cures,
        ),
        Reason::StockTooShort { short_by, cures, .. } => {
            ("stock_too_short", format!("all pieces together are {} too low for the last stack", mm(*short_by)), cures)
        }
        Reason::NoStackInAllowance { below, cures } => {
            let below = below.map_or_else(String::new, |rise| format!("; the next below rises {}", mm(rise)));
            ("no_stack_in_allowance", format!("no stack ends within the over-jack allowance{below}"), cures)
        }
        Reason::PiecesRunOut { furthest_rise, cures, .. } => {
            ("pieces_run_out", format!("the pieces run out on the way, at a rise of {}", mm(*furthest_rise)), cures)
        }
    };
    let mut least_changes: Vec<Text> = cures.iter().map(|cure| cure_in_words(*cure, posed)).collect();
    if let Reason::RamDoesNotEnter { short_by } = reason {
        least_changes.push(Text::from(format!(
            "{} less closed height, plates or entry gap, or as much more clearance",
            mm(*short_by)
        )));
    }
    InfeasibleReason { code: Text::fixed(code), text: Text::from(text), least_changes }
}

fn cure_in_words(cure: Cure, posed: &Posed<'_>) -> Text {
    let mm = |tenths: i64| format!("{:.1} mm", length(tenths).mm());
    Text::from(match cure {
        Cure::MorePieces { piece, count } => {
            let id = posed.kinds.get(piece).map_or("", |piece| piece.id.as_str());
            format!("{count} more of {id} for each stack pair")
        }
        Cure::MoreStroke(more) => format!("{} more usable stroke", mm(more)),
        Cure::MoreAllowance(more) => format!("{} more over-jack allowance", mm(more)),
        Cure::HigherLimit(kernel::Stack::Base, more) => format!("a base stack {} higher, on wider pieces", mm(more)),
        Cure::HigherLimit(kernel::Stack::Holding, more) => {
            format!("a holding stack {} higher, on wider pieces", mm(more))
        }
    })
}
