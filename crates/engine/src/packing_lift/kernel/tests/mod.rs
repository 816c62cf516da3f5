//! Tests of the planner as a whole.

mod answers;
mod joint;
mod oracle;
mod properties;
mod reasons;
mod traps;

use std::sync::atomic::AtomicBool;

use super::{Cures, Effort, Goal, KindSet, Outcome, PieceType, Plan, Problem, Restack, Use, check_plan, plan};

const STATES: u64 = 20_000_000;

/// Runs the planner and holds whatever plan it gives against the rules.
#[track_caller]
fn run(problem: &Problem, states: u64) -> Outcome {
    let stop = AtomicBool::new(false);
    let outcome = plan(problem, &Effort { states, stop: &stop, cures: Cures::Sought }).unwrap();
    let met = match &outcome {
        Outcome::Optimal(plan) => Some(plan),
        Outcome::BestWithinEffort { plan, .. } => plan.as_ref(),
        Outcome::Infeasible(_) | Outcome::Stopped => None,
    };
    if let Some(plan) = met {
        assert_eq!(check_plan(problem, plan), Ok(()), "{problem:?} {plan:#?}");
    }
    outcome
}

/// The best plan, or `None` if there is none.
#[track_caller]
fn optimal(problem: &Problem) -> Option<Plan> {
    match run(problem, STATES) {
        Outcome::Optimal(plan) => Some(plan),
        Outcome::Infeasible(_) => None,
        other => panic!("{other:?}"),
    }
}

/// A piece that may stand with any other, as high as there is room.
const FREE: PieceType = PieceType {
    thickness: 1,
    settlement_least: 0,
    settlement_greatest: 0,
    mass: 0,
    parts: 1,
    use_: Use::Either,
    stock_per_point: 0,
    base_height_limit: 5000,
    holding_height_limit: 5000,
    base_apart: KindSet(0),
    holding_apart: KindSet(0),
    spread_by: KindSet(0),
};

/// The problem with its stacks of any pieces limited.
fn limited(mut problem: Problem, base: i64, holding: i64) -> Problem {
    for piece in &mut problem.pieces {
        (piece.base_height_limit, piece.holding_height_limit) = (base, holding);
    }
    problem
}

/// A kind of piece without settlement.
fn piece(thickness: i64, use_: Use, stock_per_point: u32) -> PieceType {
    PieceType { thickness, mass: thickness, use_, stock_per_point, ..FREE }
}

/// A ram of 190 mm with 50 mm of stroke under 200 mm, to raise by 100 mm with plates of 10 mm.
fn plates() -> Problem {
    Problem {
        clearance: 2000,
        packing_clearance: 2000,
        travel: 1000,
        allowance: 0,
        closed_height: 1900,
        plates: 0,
        ram_gap: 20,
        usable_stroke: 500,
        packing_gap: 30,
        follow_up_gap: 250,
        restack: Restack::AddOnly,
        ends_on_collars: None,
        base_needs: None,
        goal: Goal::Window,
        pieces: vec![piece(100, Use::Either, 50)],
        first_stack_allowed: true,
    }
}
