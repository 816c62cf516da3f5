//! The planner against the oracle, every plan against the rules, and what may not get worse with more.

use std::sync::atomic::AtomicBool;

use proptest::prelude::*;

use super::oracle;
use crate::packing_lift::kernel::{
    CollarEnd, Effort, End, Outcome, PieceType, Plan, Problem, Proven, Reason, Restack, Use, check_plan, plan,
};

const STATES: u64 = 20_000_000;

pub(super) fn run(problem: &Problem, states: u64) -> Outcome {
    let stop = AtomicBool::new(false);
    let outcome = plan(problem, &Effort { states, stop: &stop }).unwrap();
    let met = match &outcome {
        Outcome::Optimal(plan) => Some(plan),
        Outcome::BestWithinEffort { plan, .. } => plan.as_ref(),
        _ => None,
    };
    if let Some(plan) = met {
        assert_eq!(check_plan(problem, plan), Ok(()), "{problem:?} {plan:#?}");
    }
    outcome
}

fn optimal(problem: &Problem) -> Option<Plan> {
    match run(problem, STATES) {
        Outcome::Optimal(plan) => Some(plan),
        Outcome::Infeasible(_) => None,
        other => panic!("{other:?}"),
    }
}

fn piece() -> impl Strategy<Value = PieceType> {
    let use_ = prop_oneof![1 => Just(Use::Base), 1 => Just(Use::Holding), 3 => Just(Use::Either)];
    (1..=12_i64, 0..=2_i64, 0..=1_i64, 0..=5_i64, use_, 0..=3_u32).prop_map(
        |(thickness, least, more, mass, use_, stock_per_point)| {
            let settlement_least = least.min(thickness - 1);
            let settlement_greatest = (settlement_least + more).min(thickness - 1);
            PieceType { thickness, settlement_least, settlement_greatest, mass, use_, stock_per_point }
        },
    )
}

prop_compose! {
    fn small()(
        room in (0..=8_i64, 0..=20_i64, 0..=1_i64, 0..=2_i64, 4..=16_i64),
        gaps in (0..=2_i64, 3..=14_i64),
        wanted in (1..=30_i64, 0..=8_i64),
        limits in (prop_oneof![Just(1000_i64), 5..=40_i64], prop_oneof![Just(1000_i64), 5..=40_i64]),
        restack in prop_oneof![2 => Just(Restack::AddOnly), 1 => (0..=2_i64).prop_map(|standing_loss| Restack::Free { standing_loss })],
        collars in prop::option::weighted(0.3, (0..=2_i64, 0..=1_i64)),
        pieces in prop::collection::vec(piece(), 1..=4),
        first_stack_allowed in prop::bool::weighted(0.8),
    ) -> Problem {
        let (spare, packing_clearance, plates, ram_gap, usable_stroke) = room;
        let closed_height = 20;
        Problem {
            clearance: closed_height + plates + ram_gap + spare,
            packing_clearance,
            travel: wanted.0,
            allowance: wanted.1,
            closed_height,
            plates,
            ram_gap,
            usable_stroke,
            packing_gap: gaps.0,
            follow_up_gap: gaps.1,
            restack,
            ends_on_collars: collars.map(|(spare_stroke, collar_settlement)| CollarEnd { spare_stroke, collar_settlement }),
            base_height_limit: limits.0,
            holding_height_limit: limits.1,
            pieces,
            first_stack_allowed,
        }
    }
}

/// Pieces and gaps with which several cycles are likely.
fn tall() -> impl Strategy<Value = Problem> {
    let thin = |stock: u32| {
        let use_ = prop_oneof![1 => Just(Use::Base), 1 => Just(Use::Holding), 6 => Just(Use::Either)];
        (1..=7_i64, 0..=1_i64, 0..=1_i64, 0..=5_i64, use_, 1..=stock).prop_map(
            |(thickness, least, more, mass, use_, stock_per_point)| {
                let settlement_least = least.min(thickness - 1);
                let settlement_greatest = (settlement_least + more).min(thickness - 1);
                PieceType { thickness, settlement_least, settlement_greatest, mass, use_, stock_per_point }
            },
        )
    };
    let pieces = prop_oneof![prop::collection::vec(thin(7), 1..=2), prop::collection::vec(thin(3), 3)];
    let numbers = (0..=2_i64, 0..=4_i64, 5..=10_i64, 0..=1_i64, 4..=9_i64, 2..=16_i64, 0..=6_i64);
    (small(), pieces, numbers, prop::bool::weighted(0.2)).prop_map(|(mut problem, pieces, numbers, limited)| {
        if !limited {
            (problem.base_height_limit, problem.holding_height_limit) = (1000, 1000);
        }
        let (spare, packing_clearance, usable_stroke, packing_gap, follow_up_gap, travel, allowance) = numbers;
        problem.clearance = problem.closed_height + problem.plates + problem.ram_gap + spare;
        problem.ram_gap = problem.ram_gap.min(1);
        if let Restack::Free { standing_loss } = &mut problem.restack {
            *standing_loss = (*standing_loss).min(1);
        }
        Problem { packing_clearance, usable_stroke, packing_gap, follow_up_gap, travel, allowance, pieces, ..problem }
    })
}

/// The plan's moves, as the oracle writes them.
fn moves(plan: &Plan) -> Vec<oracle::Move> {
    let last = plan.cycles.len() - 1;
    let on_collars = plan.end == End::OnCollars;
    let top = |index, cycle: &crate::packing_lift::kernel::Cycle| {
        (!(on_collars && index == last)).then(|| cycle.holding_after.clone())
    };
    plan.cycles.iter().enumerate().map(|(index, cycle)| (cycle.base.clone(), top(index, cycle))).collect()
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 1500, ..ProptestConfig::default() })]

    #[test]
    fn verify_cycles_and_cost_equal_the_oracle(problem in prop_oneof![1 => small().boxed(), 4 => tall().boxed()]) {
        let found = optimal(&problem);
        let cost = found.as_ref().map(|plan| {
            (plan.cycles.len(), (plan.pieces_handled, plan.mass_handled, plan.greatest_stack))
        });
        prop_assert_eq!(cost, oracle::best(&problem, 60));
    }

    #[test]
    fn verify_the_plan_is_the_first_of_its_equals(problem in prop_oneof![1 => small().boxed(), 4 => tall().boxed()]) {
        if let Some(plan) = optimal(&problem).filter(|plan| plan.cycles.len() <= 3) {
            let cost = (plan.pieces_handled, plan.mass_handled, plan.greatest_stack);
            prop_assert_eq!(Some(moves(&plan)), oracle::first(&problem, plan.cycles.len(), cost));
        }
    }
}

#[test]
fn scratch_histogram() {
    use proptest::strategy::ValueTree;
    use proptest::test_runner::TestRunner;
    let mut runner = TestRunner::deterministic();
    let mut hist = std::collections::BTreeMap::new();
    for _ in 0..5000 {
        let problem = tall().new_tree(&mut runner).unwrap().current();
        let label = match run(&problem, STATES) {
            Outcome::Optimal(p) => format!(
                "{} {:?} {}",
                p.cycles.len(),
                p.end,
                if matches!(problem.restack, Restack::AddOnly) { "add" } else { "free" }
            ),
            Outcome::Infeasible(r) => format!("{r:?}").split(' ').next().unwrap().to_owned(),
            o => format!("{o:?}"),
        };
        *hist.entry(label).or_insert(0) += 1;
    }
    println!("{hist:#?}");
}
