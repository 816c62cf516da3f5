//! The packing-lift sequence of a load.

use super::input::{Direction, Manner, PointsAlike, SequenceInput};
use super::kernel::{self, End, Group, JointOutcome, JointPlan, JointProblem, Outcome, Plan, Proven};
use super::let_down::let_down;
use super::problem::{Posed, pose, yard};
use super::reasons::{in_words, named, not_within, outside};
use super::result::{
    Ending, InfeasibleReason, PackingSequence, PieceCount, PieceLeftOut, PointGroup, SequenceOutcome, Stopped,
};
use super::shortlist::shortlist;
use super::steps::{steps_down, steps_up};
use crate::Text;
use crate::effort::Effort;
use crate::settings::PackingLifts;
use ramwright_units::{ForceRange, Length, PieceMass};

/// What the planner found for all groups.
pub(super) struct Answer {
    outcome: SequenceOutcome,
    why: &'static str,
    lower_bound: u32,
    plan: Option<JointPlan>,
    reason: Option<InfeasibleReason>,
}

impl Answer {
    fn none(outcome: SequenceOutcome, why: &'static str, lower_bound: u32, reason: Option<InfeasibleReason>) -> Self {
        Self { outcome, why, lower_bound, plan: None, reason }
    }

    pub(super) fn infeasible(reason: InfeasibleReason) -> Self {
        Self::none(SequenceOutcome::Infeasible, "no sequence obeys all rules", 1, Some(reason))
    }

    fn optimal(plan: JointPlan) -> Self {
        let why = "proven: fewest packing lifts, then fewest pieces handled, least mass handled, lowest stacks";
        Self { outcome: SequenceOutcome::Optimal, why, lower_bound: plan.lower_bound, plan: Some(plan), reason: None }
    }

    fn within_effort(plan: Option<JointPlan>, lower_bound: u32, proven: Proven) -> Self {
        let Some(plan) = plan else {
            let why = "the effort was used up before a sequence was found; ask for more states";
            return Self::none(SequenceOutcome::NotFound, why, lower_bound, None);
        };
        let why = match proven {
            Proven::Nothing => "a valid sequence; nothing is proven but the lower bound",
            Proven::Cycles => {
                "the number of packing lifts is proven the fewest; pieces handled are not proven the fewest"
            }
            Proven::Cost => "proven in everything but the choice among equals",
        };
        Self { outcome: SequenceOutcome::WithinEffort, why, lower_bound, plan: Some(plan), reason: None }
    }
}

/// The sequence with the fewest packing lifts; of those, fewest pieces handled, least mass handled, lowest stacks.
///
/// # Source
/// The problem is common practice, no source; see the planner for the methods.
///
/// # Validity
/// One model of ram, one base stack and one holding stack for each ram. A load is let down at points of one clearance only.
///
/// # Errors
/// [`Stopped`] if the caller stopped the work.
pub fn sequence_packing_lifts(input: &SequenceInput<'_>, effort: Effort<'_>) -> Result<PackingSequence, Stopped> {
    sequence_posed(input, &posed(input), effort)
}

/// What the planner is asked: the problem of each group.
pub(super) fn posed<'a>(input: &SequenceInput<'a>) -> Vec<Posed<'a>> {
    let yard = yard(input);
    input.groups.iter().map(|group| pose(input, &yard, group)).collect()
}

/// The sequence of problems that were posed.
pub(super) fn sequence_posed(
    input: &SequenceInput<'_>,
    posed_groups: &[Posed<'_>],
    effort: Effort<'_>,
) -> Result<PackingSequence, Stopped> {
    let equal = planned(input, posed_groups, effort)?;
    let Some(groups) = apart(input, &equal, effort) else { return Ok(equal) };
    let some = Effort { states: APART_STATES, ..effort };
    let input = SequenceInput { groups: &groups, ..input.clone() };
    let unequal = planned(&input, &posed(&input), some)?;
    let fewer = unequal.cycles.is_some_and(|cycles| equal.cycles.is_none_or(|equal| cycles < equal));
    Ok(if fewer { unequal } else { equal })
}

fn planned(input: &SequenceInput<'_>, posed: &[Posed<'_>], effort: Effort<'_>) -> Result<PackingSequence, Stopped> {
    let answer =
        answer_of(input, posed, &kernel::Effort { states: effort.states, stop: effort.stop, cures: input.cures })?;
    Ok(written(input, posed, &answer))
}

/// Points that are taken apart at most.
const APART_MOST: usize = 6;
/// States from which on it is tried, and which it may visit: a search of ram sets asks for many sequences.
const APART_STATES: u64 = 8_000_000;

/// Equal points one by one, where stacks of other pieces at each of them could do with fewer packing lifts: the stock does not
/// divide among the points, and the sequence of equal stacks is not known to have the fewest.
fn apart(input: &SequenceInput<'_>, equal: &PackingSequence, effort: Effort<'_>) -> Option<Vec<PointsAlike>> {
    let [all] = input.groups else { return None };
    let rams = u32::try_from(all.points.len()).ok().filter(|points| *points == all.rams)?;
    let could = (2..=APART_MOST).contains(&all.points.len())
        && *input.direction == Direction::Raise
        && APART_STATES <= effort.states
        && input.pieces.iter().any(|piece| piece.stock.checked_rem(rams) != Some(0))
        && equal.cycles.is_none_or(|cycles| equal.lower_bound < cycles);
    could.then(|| {
        let pairs = all.points.iter().zip(&all.on_one_ram);
        let single = |(point, on): (&String, &ForceRange)| PointsAlike {
            points: vec![point.clone()],
            rams: 1,
            on_one_ram: vec![*on],
            ..all.clone()
        };
        pairs.map(single).collect()
    })
}

fn answer_of(input: &SequenceInput<'_>, posed: &[Posed<'_>], effort: &kernel::Effort<'_>) -> Result<Answer, Stopped> {
    Ok(match (posed, input.direction, input.manner) {
        ([one], Direction::Lower { stands_on }, _) => let_down(input, one, stands_on, effort)?,
        (_, Direction::Lower { .. }, _) => Answer::infeasible(outside(
            "points_differ",
            "a load is let down at points of one clearance only; plan it end by end by hand",
        )),
        ([one], Direction::Raise, Manner::Together) => alike(one, effort)?,
        (_, Direction::Raise, _) => jointly(input, posed, effort)?,
    })
}

/// Points that are all alike.
fn alike(posed: &Posed<'_>, effort: &kernel::Effort<'_>) -> Result<Answer, Stopped> {
    answered(plan_all_or_fewer(&posed.problem, effort), posed)
}

pub(super) fn answered(outcome: Result<Outcome, kernel::ProblemError>, posed: &Posed<'_>) -> Result<Answer, Stopped> {
    let one = |plan: Plan| JointPlan::of_one(plan, posed.rams);
    Ok(match outcome {
        Err(error) => not_built(error),
        Ok(Outcome::Stopped) => return Err(Stopped),
        Ok(Outcome::Infeasible(reason)) => Answer::infeasible(in_words(&reason, posed)),
        Ok(Outcome::Optimal(plan)) => Answer::optimal(one(plan)),
        Ok(Outcome::BestWithinEffort { plan, lower_bound, proven }) => {
            Answer::within_effort(plan.map(one), lower_bound, proven)
        }
    })
}

fn not_built(error: kernel::ProblemError) -> Answer {
    let text = format!("the planner was not built for these numbers: {error:?}");
    Answer::none(SequenceOutcome::NotFound, "the planner was not asked", 1, Some(outside("outside_the_planner", text)))
}

/// Numbers of different stacks of one place with which groups are searched together, one after the other.
const STACKS_TOGETHER: [u64; 4] = [4_000, 1_200, 400, 120];

/// States that each of these searches may visit at most: a few tenths of a second.
const TOGETHER_STATES: u64 = 10_000_000;

/// Groups of points that differ: with all pieces where these are few, and otherwise with ever shorter lists of them.
fn jointly(input: &SequenceInput<'_>, posed: &[Posed<'_>], effort: &kernel::Effort<'_>) -> Result<Answer, Stopped> {
    let part = kernel::Effort { states: (effort.states / 4).min(TOGETHER_STATES), ..*effort };
    if let Manner::EndByEnd { greatest_difference } = input.manner
        && greatest_difference <= input.settings.packing_gap
    {
        let text = "the ends may differ by no more than the gap that a piece needs, so that nothing can be packed";
        return Ok(Answer::infeasible(outside("ends_conflict", text)));
    }
    let mut best: Option<Answer> = None;
    for most in STACKS_TOGETHER {
        let (problem, whole) = joint_problem(input, posed, most);
        let answer = joint_answer(input, posed, kernel::plan_jointly(&problem, &part))?;
        // That a group cannot go up by itself is said of all pieces.
        let settled = answer.plan.is_some() || answer.outcome == SequenceOutcome::Infeasible;
        if settled || whole {
            return Ok(answer);
        }
        best.get_or_insert(answer);
    }
    Ok(best.unwrap_or_else(|| Answer::within_effort(None, 1, Proven::Nothing)))
}

/// The problem, and whether it is searched with all pieces.
fn joint_problem(input: &SequenceInput<'_>, posed: &[Posed<'_>], most: u64) -> (JointProblem, bool) {
    let mut whole = true;
    let groups = posed.iter().zip(input.groups).map(|(posed, alike)| {
        let short = shortlist(&posed.problem, most);
        whole &= short.is_none();
        let all = || posed.problem.pieces.iter().map(|piece| piece.stock_per_point).collect();
        Group { points: alike.rams, problem: posed.problem.clone(), searched: short.unwrap_or_else(all) }
    });
    let groups = groups.collect();
    let tenths = super::problem::whole_tenths;
    let manner = match input.manner {
        Manner::Together => kernel::Manner::Together { level_tolerance: tenths(input.settings.level_tolerance) },
        Manner::EndByEnd { greatest_difference } => {
            kernel::Manner::EndByEnd { greatest_difference: tenths(greatest_difference) }
        }
    };
    let stock = posed.first().map_or_else(Vec::new, |posed| posed.kinds.iter().map(|piece| piece.stock).collect());
    (JointProblem { groups, stock, manner }, whole)
}

fn joint_answer(
    input: &SequenceInput<'_>,
    posed: &[Posed<'_>],
    outcome: Result<JointOutcome, kernel::ProblemError>,
) -> Result<Answer, Stopped> {
    Ok(match outcome {
        Err(error) => not_built(error),
        Ok(JointOutcome::Stopped) => return Err(Stopped),
        Ok(JointOutcome::Infeasible { group, reason }) => {
            let reason = posed.get(group).map(|posed| in_words(&reason, posed));
            let points = input.groups.get(group).map_or(&[][..], |alike| &alike.points);
            Answer::infeasible(named(points, reason))
        }
        Ok(JointOutcome::NotWithin { cycles }) => {
            let why = "none with so many packing lifts or fewer; more were not tried";
            let lower_bound = cycles.saturating_add(1);
            Answer::none(SequenceOutcome::NotFound, why, lower_bound, Some(not_within(cycles, input)))
        }
        Ok(JointOutcome::Optimal(plan)) => Answer::optimal(plan),
        Ok(JointOutcome::BestWithinEffort { plan, lower_bound, proven }) => {
            Answer::within_effort(plan, lower_bound, proven)
        }
    })
}

/// Numbers of different stacks of one place with which a search is tried, one after the other, where all are too many.
pub(super) const STACKS_MOST: [u64; 3] = [6_000, 1_500, 400];

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

fn written(input: &SequenceInput<'_>, posed: &[Posed<'_>], answer: &Answer) -> PackingSequence {
    let mut sequence = empty(input, posed, answer);
    let Some(plan) = &answer.plan else { return sequence };
    let cycles = u32::try_from(plan.turns.len()).unwrap_or(u32::MAX);
    if 1 < cycles && input.settings.packing_lifts == PackingLifts::NotAllowed {
        let text = format!("one stroke is not enough: {cycles} packing lifts are needed, and the request allows none");
        let mut reason = outside("packing_lifts_not_allowed", text);
        reason.least_changes = vec![Text::fixed("allow packing lifts, or use a ram of longer stroke")];
        return empty(input, posed, &Answer { lower_bound: cycles, ..Answer::infeasible(reason) });
    }
    let (steps, account) = match (input.direction, plan.plans.as_slice()) {
        (Direction::Lower { .. }, [own]) => steps_down(input, posed, own),
        _ => steps_up(input, posed, plan),
    };
    sequence.cycles = Some(cycles);
    sequence.gap = Some(cycles.saturating_sub(answer.lower_bound));
    sequence.ending = Some(ending(input, plan));
    sequence.rams = plan.rams;
    sequence.ram_moves = plan.moves;
    sequence.pieces_handled = plan.pieces_handled;
    sequence.mass_handled = mass_handled(plan);
    sequence.greatest_stack = length(plan.greatest_stack);
    let own = || plan.plans.iter().flat_map(|plan| &plan.cycles);
    sequence.greatest_base_stack = length(own().map(|cycle| cycle.base_height).max().unwrap_or(0));
    let spare = posed.iter().map(Posed::spare_stroke).max().unwrap_or(0);
    sequence.greatest_extension = length(own().map(|cycle| cycle.extension.greatest).max().unwrap_or(0) - spare);
    sequence.pieces = most_in_use(&steps, posed);
    sequence.totals = Some(account.totals(input));
    sequence.steps = steps;
    sequence
}

/// A ram that could carry nothing is used beyond all measure.
fn ram_utilisation(input: &SequenceInput<'_>) -> f64 {
    let capacity = input.ram.rated_pressure * input.ram.effective_area * input.settings.capacity_limit;
    let used = input.share / capacity;
    if used.is_finite() { used } else { f64::MAX }
}

fn ending(input: &SequenceInput<'_>, plan: &JointPlan) -> Ending {
    match input.direction {
        Direction::Lower { .. } => Ending::OnFinalBearing,
        Direction::Raise if plan.plans.iter().all(|own| own.end == End::OnCollars) => Ending::OnLockCollars,
        Direction::Raise => Ending::OnPacking,
    }
}

fn empty(input: &SequenceInput<'_>, posed: &[Posed<'_>], answer: &Answer) -> PackingSequence {
    let left_out = posed.first().map_or(&[][..], |posed| &posed.left_out);
    PackingSequence {
        outcome: answer.outcome,
        optimal: answer.outcome == SequenceOutcome::Optimal,
        why: Text::fixed(answer.why),
        cycles: None,
        lower_bound: answer.lower_bound,
        gap: None,
        ending: None,
        groups: input
            .groups
            .iter()
            .map(|alike| PointGroup {
                points: alike.points.clone(),
                rams: alike.rams,
                clearance: alike.clearance,
                packing_clearance: alike.packing_clearance,
            })
            .collect(),
        stacks: input.stack_pairs(),
        rams: input.stack_pairs(),
        ram_moves: 0,
        ram_utilisation: ram_utilisation(input),
        pieces_handled: 0,
        mass_handled: PieceMass::ZERO,
        greatest_stack: Length::ZERO,
        greatest_base_stack: Length::ZERO,
        greatest_extension: Length::ZERO,
        pieces: Vec::new(),
        left_out: left_out
            .iter()
            .map(|(piece, why)| PieceLeftOut { piece: piece.id.clone(), why: why.clone() })
            .collect(),
        totals: None,
        tilted: Vec::new(),
        steps: Vec::new(),
        reason: answer.reason.clone(),
    }
}

/// A planner's height.
#[expect(clippy::cast_precision_loss, reason = "the planner's lengths are far below 2^53")]
pub(super) fn length(tenths: i64) -> Length {
    Length::from_mm(tenths as f64 / 10.0)
}

/// A length in both units, for texts: who reads inches beside them must not take millimetres for them.
pub(super) fn in_words_of(length: Length) -> String {
    format!("{:.1} mm ({:.3} in)", length.mm(), length.mm() / 25.4)
}

/// Mass placed and removed at all stacks, in the planner's tenths of a kilogram.
#[expect(clippy::cast_precision_loss, reason = "masses handled are far below 2^53")]
fn mass_handled(plan: &JointPlan) -> PieceMass {
    PieceMass::from_kg(plan.mass_handled as f64 / 10.0)
}

/// The most pieces of each kind in use at one moment, all stacks together.
fn most_in_use(steps: &[super::steps::Step], posed: &[Posed<'_>]) -> Vec<PieceCount> {
    let kinds = posed.first().map_or(&[][..], |posed| &posed.kinds);
    let most = |id: &str| {
        let in_use = steps.iter().flat_map(|step| &step.pieces_in_use).filter(|part| part.piece == id);
        in_use.map(|part| part.count).max().unwrap_or(0)
    };
    let needed = kinds.iter().map(|piece| PieceCount { piece: piece.id.clone(), count: most(&piece.id) });
    needed.filter(|needed| 0 < needed.count).collect()
}
