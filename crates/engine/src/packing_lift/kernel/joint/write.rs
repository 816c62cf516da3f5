//! The joint plan as it is handed out: a plan for each group, and who is raised in which cycle.

use super::frame::{Frame, State};
use super::problem::{JointProblem, Manner};
use crate::packing_lift::kernel::model::Cost;
use crate::packing_lift::kernel::plan::{Move, Plan, write_moves};

/// A plan for all groups.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(crate) struct JointPlan {
    /// The plan of each group, per point; pieces and mass handled are those of the group's own changes.
    pub plans: Vec<Plan>,
    /// For each cycle the group that is raised; absent where all are.
    pub turns: Vec<Option<usize>>,
    /// Pieces placed and removed, at all points.
    pub pieces_handled: u64,
    /// Mass placed and removed, at all points, in tenths of a kilogram.
    pub mass_handled: u64,
    /// Greatest unloaded height of any stack, in tenths of a millimetre.
    pub greatest_stack: i64,
    /// Rams that are needed.
    pub rams: u32,
    /// How often the rams move over to another group.
    pub moves: u32,
    /// No plan has fewer cycles.
    pub lower_bound: u32,
}

impl JointPlan {
    /// The plan of points that are all alike.
    pub(crate) fn of_one(plan: Plan, points: u32) -> Self {
        let all = u64::from(points);
        Self {
            turns: vec![None; plan.cycles.len()],
            pieces_handled: plan.pieces_handled.saturating_mul(all),
            mass_handled: plan.mass_handled.saturating_mul(all),
            greatest_stack: plan.greatest_stack,
            rams: points,
            moves: 0,
            lower_bound: plan.lower_bound,
            plans: vec![plan],
        }
    }
}

/// Writes a plan out from the states after each cycle.
pub(super) fn write(
    problem: &JointProblem,
    frame: &Frame,
    states: &[State],
    cost: Cost,
    lower_bound: usize,
) -> JointPlan {
    let turns: Vec<Option<usize>> = states.iter().map(|state| state.at).collect();
    let lifts: Vec<i64> = lifts(frame, states);
    let plans = (0..frame.groups()).map(|group| of_group(problem, frame, group, states, &lifts, lower_bound)).collect();
    let moves = turns.windows(2).filter(|pair| matches!(pair, [a, b] if a != b)).count();
    let points = frame.sides.iter().map(|side| side.points);
    JointPlan {
        plans,
        turns,
        pieces_handled: cost.pieces(),
        mass_handled: cost.mass(),
        greatest_stack: cost.height,
        rams: match frame.manner {
            Manner::Together { .. } => points.sum(),
            Manner::EndByEnd { .. } => points.max().unwrap_or(0),
        },
        moves: u32::try_from(moves).unwrap_or(u32::MAX),
        lower_bound: u32::try_from(lower_bound).unwrap_or(u32::MAX),
    }
}

/// For each cycle the least rise that every group must reach, so that all stay level at the top.
fn lifts(frame: &Frame, states: &[State]) -> Vec<i64> {
    let Manner::Together { level_tolerance } = frame.manner else { return vec![i64::MIN / 4; states.len()] };
    let start = State::start(frame.groups());
    let before = std::iter::once(&start).chain(states);
    let of = |(before, after): (&State, &State)| {
        let needs = frame.sides.iter().enumerate().map(|(group, side)| {
            if after.on_collars() {
                i64::MIN / 4
            } else {
                side.raise_for(after.rest(group)).max(side.raise_for(before.rest(group)))
            }
        });
        needs.max().unwrap_or(0) - level_tolerance
    };
    before.zip(states).map(of).collect()
}

fn of_group(
    problem: &JointProblem,
    frame: &Frame,
    group: usize,
    states: &[State],
    lifts: &[i64],
    lower_bound: usize,
) -> Plan {
    let side = frame.sides.get(group);
    let mine = states.iter().zip(lifts).filter(|(state, _)| state.at.is_none_or(|at| at == group));
    let moves: Vec<Move> = mine
        .filter_map(|(state, lift)| {
            let stacks = &side?.stacks;
            let base = stacks.base.keys.get(state.base(group)).copied()?;
            let holding = state.rest(group).and_then(|stack| stacks.holding.keys.get(stack)).copied();
            Some(Move { base, holding, lift: *lift })
        })
        .collect();
    match (side, problem.groups.get(group)) {
        (Some(side), Some(group)) => write_moves(&group.problem, &side.model, &moves, lower_bound),
        _ => Plan::empty(),
    }
}
