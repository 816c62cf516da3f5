//! The planner against a constraint solver on generated instances, and every plan against the rules.
//!
//! Source: `tests/reference/packing_lifts`, OR-tools CP-SAT; instances invented, answers as the solver gave them.

#![allow(
    clippy::unwrap_used,
    clippy::expect_used,
    clippy::panic,
    clippy::indexing_slicing,
    reason = "tests stop at what they do not expect"
)]

#[path = "support/instances.rs"]
mod instances;

use instances::{Instance, Solved, instances, solved};
use ramwright_engine::packing_lift::{PackingSequence, SequenceOutcome};
use std::collections::BTreeMap;

/// States for each plan: the most that a request may ask for.
const STATES: u64 = 2_000_000_000;

fn pairs() -> Vec<(Instance, Solved)> {
    let mut solved: BTreeMap<String, Solved> = solved().into_iter().map(|one| (one.name.clone(), one)).collect();
    instances()
        .into_iter()
        .map(|instance| {
            let answer = solved.remove(&instance.name).expect("an answer for every instance");
            (instance, answer)
        })
        .collect()
}

/// Cycles, pieces and mass handled, greatest stack, as the solver counts them: per point, in tenths.
fn figures(instance: &Instance, plan: &PackingSequence) -> (u32, [u64; 3]) {
    let points = u64::from(instance.points);
    let mass = (plan.mass_handled.kg() * 10.0).round();
    let height = (plan.greatest_stack.mm() * 10.0).round();
    #[allow(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "whole tenths, far below 2^53")]
    let (mass, height) = (mass as u64, height as u64);
    (plan.cycles.expect("a plan"), [plan.pieces_handled / points, mass / points, height])
}

#[test]
fn validate_the_planner_against_a_constraint_solver() {
    let pairs = pairs();
    assert!(60 <= pairs.len());
    let (mut proven, mut never) = (0, 0);
    for (instance, solved) in &pairs {
        let plan = instance.plan(STATES);
        let name = &instance.name;
        match solved.status.as_str() {
            "infeasible" => {
                never += 1;
                let above = plan.cycles.is_some_and(|cycles| instance.cycles_at_most < cycles);
                assert!(plan.outcome == SequenceOutcome::Infeasible || above, "{name}: {plan:?}");
            }
            "optimal" => {
                proven += 1;
                assert_eq!(plan.outcome, SequenceOutcome::Optimal, "{name}: {}", plan.why);
                let theirs = [solved.pieces, solved.mass, solved.height].map(Option::unwrap);
                assert_eq!(figures(instance, &plan), (solved.cycles.unwrap(), theirs), "{name}");
            }
            "feasible" => {
                let (cycles, [pieces, mass, height]) = figures(instance, &plan);
                let theirs = (solved.cycles.unwrap(), [solved.pieces, solved.mass, solved.height].map(Option::unwrap));
                assert!((cycles, [pieces, mass, height]) <= theirs, "{name}: worse than {theirs:?}");
                let bound = solved.lower_bound_cycles.unwrap_or(1);
                assert!(bound <= cycles && (!solved.cycles_proven || cycles == theirs.0), "{name}");
                assert!(!solved.pieces_proven || pieces == theirs.1[0], "{name}");
                assert!(!solved.mass_proven || mass == theirs.1[1], "{name}");
            }
            "unknown" => {
                let bound = solved.lower_bound_cycles.unwrap_or(1);
                assert!(plan.cycles.is_none_or(|cycles| bound <= cycles), "{name}: below {bound}");
            }
            other => panic!("{name}: {other}"),
        }
    }
    assert!(60 <= proven && 15 <= never, "{proven} proven, {never} never");
}

/// With little effort: a plan that is no better than the best, bounds that hold, and never `optimal` for what is not.
#[test]
fn verify_little_effort_claims_no_more_than_it_has() {
    for (instance, solved) in pairs() {
        for states in [100, 3_000, 60_000] {
            let plan = instance.plan(states);
            let Some(best) = solved.cycles.filter(|_| solved.cycles_proven) else { continue };
            assert!(plan.lower_bound <= best, "{} with {states}: {} above {best}", instance.name, plan.lower_bound);
            assert!(plan.cycles.is_none_or(|cycles| best <= cycles), "{} with {states}", instance.name);
            if let (true, Some(pieces)) = (plan.optimal, solved.pieces.filter(|_| solved.pieces_proven)) {
                assert_eq!(figures(&instance, &plan).1[0], pieces, "{} with {states}", instance.name);
            }
        }
    }
}
