//! The planner against the oracle, every plan against the rules, and what may not get worse with more.

use std::sync::atomic::AtomicBool;

use proptest::prelude::*;

use super::super::{
    CollarEnd, Effort, End, Goal, KindSet, LENGTH_MAX, MASS_MAX, Outcome, PieceType, Plan, Problem, Proven, Restack,
    Use, check_plan, plan,
};
use super::{FREE, optimal, oracle, run};
use crate::packing_lift::kernel::Cures;

fn piece() -> impl Strategy<Value = PieceType> {
    let use_ = prop_oneof![1 => Just(Use::Base), 1 => Just(Use::Holding), 3 => Just(Use::Either)];
    (1..=12_i64, 0..=2_i64, 0..=1_i64, 0..=5_i64, use_, 0..=3_u32).prop_map(
        |(thickness, least, more, mass, use_, stock_per_point)| {
            let settlement_least = least.min(thickness - 1);
            let settlement_greatest = (settlement_least + more).min(thickness - 1);
            PieceType { thickness, settlement_least, settlement_greatest, mass, use_, stock_per_point, ..FREE }
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
            pieces: pieces.into_iter().map(|piece| PieceType { base_height_limit: limits.0, holding_height_limit: limits.1, ..piece }).collect(),
            base_needs: None,
            goal: Goal::Window,
            first_stack_allowed,
        }
    }
}

/// Limits of a problem that has the same for all its pieces.
fn limits_of(problem: &Problem) -> (i64, i64) {
    problem.pieces.first().map_or((1000, 1000), |piece| (piece.base_height_limit, piece.holding_height_limit))
}

/// The problem with higher limits.
fn raised(problem: &Problem, base: i64, holding: i64) -> Problem {
    let mut raised = problem.clone();
    for piece in &mut raised.pieces {
        piece.base_height_limit += base;
        piece.holding_height_limit += holding;
    }
    raised
}

/// A problem whose pieces differ in how high they may stand and with which others.
fn picky() -> impl Strategy<Value = Problem> {
    let limit = || prop_oneof![2 => Just(1000_i64), 1 => 5..=40_i64];
    let kinds = || prop_oneof![3 => Just(0_u16), 1 => 0..=15_u16].prop_map(KindSet);
    let rules = (limit(), limit(), kinds(), kinds(), kinds(), 1..=3_u32);
    let problem = prop_oneof![small(), tall(), footed()];
    let needs = prop::option::weighted(0.2, kinds());
    (problem, prop::collection::vec(rules, 4), needs).prop_map(|(mut problem, rules, needs)| {
        problem.base_needs = needs;
        let all = (1_u16 << problem.pieces.len()) - 1;
        for (index, (piece, rules)) in problem.pieces.iter_mut().zip(rules).enumerate() {
            let others = |set: KindSet| KindSet(set.0 & all & !KindSet::one(index).0);
            (piece.base_height_limit, piece.holding_height_limit) = (rules.0, rules.1);
            (piece.base_apart, piece.holding_apart) = (others(rules.2), others(rules.3));
            (piece.spread_by, piece.parts) = (others(rules.4), rules.5);
        }
        problem
    })
}

/// Pieces and gaps with which several cycles are likely.
fn tall() -> impl Strategy<Value = Problem> {
    let thin = |stock: u32| {
        let use_ = prop_oneof![1 => Just(Use::Base), 1 => Just(Use::Holding), 6 => Just(Use::Either)];
        (1..=7_i64, 0..=1_i64, 0..=1_i64, 0..=5_i64, use_, 1..=stock).prop_map(
            |(thickness, least, more, mass, use_, stock_per_point)| {
                let settlement_least = least.min(thickness - 1);
                let settlement_greatest = (settlement_least + more).min(thickness - 1);
                PieceType { thickness, settlement_least, settlement_greatest, mass, use_, stock_per_point, ..FREE }
            },
        )
    };
    let pieces = prop_oneof![prop::collection::vec(thin(7), 1..=2), prop::collection::vec(thin(3), 3)];
    let numbers = (0..=2_i64, 0..=4_i64, 5..=10_i64, 0..=1_i64, 4..=9_i64, 2..=16_i64, 0..=6_i64);
    (small(), pieces, numbers, prop::bool::weighted(0.2)).prop_map(|(mut problem, pieces, numbers, limited)| {
        let limits = if limited { limits_of(&problem) } else { (1000, 1000) };
        let (spare, packing_clearance, usable_stroke, packing_gap, follow_up_gap, travel, allowance) = numbers;
        problem.clearance = problem.closed_height + problem.plates + problem.ram_gap + spare;
        problem.ram_gap = problem.ram_gap.min(1);
        if let Restack::Free { standing_loss } = &mut problem.restack {
            *standing_loss = (*standing_loss).min(1);
        }
        let problem = Problem {
            packing_clearance,
            travel,
            allowance,
            usable_stroke,
            packing_gap,
            follow_up_gap,
            pieces,
            ..problem
        };
        super::limited(problem, limits.0, limits.1)
    })
}

/// Thick pieces that only a first stack can take, and thin ones that follow up; or stacks to be rebuilt that settle
/// unevenly.
fn footed() -> impl Strategy<Value = Problem> {
    let uneven = (5..=12_i64, 0..=6_i64, 0..=5_i64, 1..=2_u32).prop_map(|(thickness, settlement, mass, count)| {
        let settlement_greatest = settlement.min(thickness - 1);
        PieceType {
            thickness,
            settlement_least: settlement_greatest,
            settlement_greatest,
            mass,
            use_: Use::Either,
            stock_per_point: count,
            ..FREE
        }
    });
    let numbers = (4..=14_i64, 6..=12_i64, 3..=6_i64, 2..=14_i64, 0..=5_i64);
    (tall(), prop::collection::vec(uneven, 1..=2), numbers).prop_map(|(mut problem, uneven, numbers)| {
        problem.pieces.truncate(2);
        for piece in &mut problem.pieces {
            piece.stock_per_point = piece.stock_per_point.min(4);
        }
        problem.pieces.truncate(3 - uneven.len());
        problem.pieces.extend(uneven);
        let (packing_clearance, usable_stroke, follow_up_gap, travel, allowance) = numbers;
        let ends_on_collars = problem.ends_on_collars.filter(|_| travel % 3 == 0);
        Problem {
            packing_clearance,
            travel,
            allowance,
            usable_stroke,
            follow_up_gap,
            ends_on_collars,
            first_stack_allowed: true,
            ..problem
        }
    })
}

/// A load that is let down from a stack, seen from its end: the stack is one on which a lift has ended up.
fn let_down() -> impl Strategy<Value = Problem> {
    prop_oneof![1 => small(), 4 => tall(), 2 => footed(), 2 => picky()].prop_map(|problem| {
        let lift = Problem { ends_on_collars: None, ..problem };
        let Some(counts) = optimal(&lift).and_then(|plan| plan.cycles.last().map(|last| last.holding_after.clone()))
        else {
            return lift;
        };
        let sum = |of: fn(&PieceType) -> i64| -> i64 {
            lift.pieces.iter().zip(&counts).map(|(piece, count)| of(piece) * i64::from(*count)).sum()
        };
        let travel = sum(|piece| piece.thickness - piece.settlement_greatest) - lift.packing_clearance;
        let allowance = sum(|piece| piece.settlement_greatest - piece.settlement_least);
        // The thickest lie at the bottom.
        let mut from_below: Vec<usize> = (0..counts.len()).filter(|&kind| 0 < counts[kind]).collect();
        from_below.sort_by_key(|&kind| (-lift.pieces[kind].thickness, kind));
        Problem { goal: Goal::Stack { counts, from_below }, travel, allowance, ..lift }
    })
}

fn any_kind() -> impl Strategy<Value = Problem> {
    prop_oneof![1 => small(), 4 => tall(), 3 => footed(), 4 => picky(), 4 => let_down()]
}

/// The plan's moves, as the oracle writes them.
fn moves(plan: &Plan) -> Vec<oracle::Move> {
    let last = plan.cycles.len() - 1;
    let on_collars = plan.end == End::OnCollars;
    let top =
        |index, cycle: &super::super::Cycle| (!(on_collars && index == last)).then(|| cycle.holding_after.clone());
    plan.cycles.iter().enumerate().map(|(index, cycle)| (cycle.base.clone(), top(index, cycle))).collect()
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 1500, ..ProptestConfig::default() })]

    #[test]
    fn verify_cycles_and_cost_equal_the_oracle(problem in any_kind()) {
        let found = optimal(&problem);
        let cost = found.as_ref().map(|plan| {
            (plan.cycles.len(), (plan.pieces_handled, plan.mass_handled, plan.greatest_stack))
        });
        prop_assert_eq!(cost, oracle::best(&problem, 60));
    }

    #[test]
    fn verify_the_plan_is_the_first_of_its_equals(problem in any_kind()) {
        if let Some(plan) = optimal(&problem).filter(|plan| plan.cycles.len() <= 3) {
            let cost = (plan.pieces_handled, plan.mass_handled, plan.greatest_stack);
            prop_assert_eq!(Some(moves(&plan)), oracle::first(&problem, plan.cycles.len(), cost));
        }
    }
}

/// Cycles of the best plan; `usize::MAX` if there is none.
fn cycles(problem: &Problem) -> usize {
    optimal(problem).map_or(usize::MAX, |plan| plan.cycles.len())
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 400, ..ProptestConfig::default() })]

    // Each of these changes leaves every plan valid (only its statement of reserves changes), so that there cannot be
    // a longer shortest plan. Clearance, closed height and settlement are not among them: they help one rule and hurt another.
    #[test]
    fn verify_more_of_what_only_helps_never_needs_more_cycles(problem in tall(), kind in 0..3_usize, more in 1..4_i64) {
        let before = cycles(&problem);
        let mut pieces = problem.pieces.clone();
        let kind = kind % pieces.len();
        pieces[kind].stock_per_point += 1;
        let freer = match pieces[kind].use_ {
            Use::Base | Use::Either => Use::Either,
            Use::Holding => Use::Holding,
        };
        let more_pieces = Problem { pieces: pieces.clone(), ..problem.clone() };
        pieces[kind].use_ = freer;
        for eased in [
            more_pieces,
            Problem { pieces, ..problem.clone() },
            Problem { usable_stroke: problem.usable_stroke + more, ..problem.clone() },
            Problem { allowance: problem.allowance + more, ..problem.clone() },
            Problem { follow_up_gap: problem.follow_up_gap + more, ..problem.clone() },
            Problem { ram_gap: problem.ram_gap.saturating_sub(more).max(0), ..problem.clone() },
            Problem { packing_gap: problem.packing_gap.saturating_sub(more).max(0), ..problem.clone() },
            raised(&problem, more, 0),
            raised(&problem, 0, more),
            Problem { first_stack_allowed: true, ..problem.clone() },
        ] {
            prop_assert!(cycles(&eased) <= before, "{:?}", eased);
        }
    }

    // With pieces only added, the rebuilt stacks of the same heights are always among the free ones, if nothing is
    // lost in standing.
    #[test]
    fn verify_free_rebuilding_never_needs_more_cycles(problem in tall()) {
        let added = Problem { restack: Restack::AddOnly, ..problem.clone() };
        let free = Problem { restack: Restack::Free { standing_loss: 0 }, ..problem };
        prop_assert!(cycles(&free) <= cycles(&added));
    }

    // Raising the lower end of the window, its upper end kept, only takes plans away.
    #[test]
    fn verify_a_narrower_window_never_needs_fewer_cycles(problem in tall()) {
        if 0 < problem.allowance {
            let narrower = Problem { travel: problem.travel + 1, allowance: problem.allowance - 1, ends_on_collars: None, ..problem.clone() };
            let wide = Problem { ends_on_collars: None, ..problem };
            prop_assert!(cycles(&wide) <= cycles(&narrower));
        }
    }

    // The order of the kinds only decides among equals.
    #[test]
    fn verify_the_order_of_the_kinds_changes_nothing_but_ties(problem in tall()) {
        let cost = |problem: &Problem| optimal(problem).map(|plan| {
            (plan.cycles.len(), plan.pieces_handled, plan.mass_handled, plan.greatest_stack)
        });
        let mut turned = problem.clone();
        turned.pieces.reverse();
        prop_assert_eq!(cost(&problem), cost(&turned));
    }

    // With little effort: a valid plan or none, and bounds that hold.
    #[test]
    fn verify_bounds_hold_at_any_effort(problem in tall(), states in 0..3000_u64) {
        let fewest = cycles(&problem);
        match run(&problem, states) {
            Outcome::Optimal(plan) => prop_assert_eq!(plan.cycles.len(), fewest),
            Outcome::BestWithinEffort { plan, lower_bound, proven } => {
                prop_assert!(usize::try_from(lower_bound).unwrap() <= fewest);
                let found = plan.map(|plan| plan.cycles.len());
                prop_assert!(found.is_none_or(|found| fewest <= found));
                prop_assert!(proven == Proven::Nothing || found == Some(fewest));
            }
            Outcome::Infeasible(_) => prop_assert_eq!(fewest, usize::MAX),
            Outcome::Stopped => prop_assert!(false),
        }
    }

    // Any numbers at all: an answer or an error, no panic, and the same answer twice.
    #[test]
    fn verify_any_numbers_are_answered_or_refused(
        lengths in prop::array::uniform10(prop_oneof![Just(0_i64), Just(LENGTH_MAX), 0..=LENGTH_MAX, any::<i64>()]),
        kinds in prop::collection::vec((0..=LENGTH_MAX, 0..=3_i64, 0..=MASS_MAX, any::<u32>()), 0..5),
        free in any::<bool>(),
    ) {
        let [clearance, packing_clearance, travel, allowance, closed_height, plates, ram_gap, usable_stroke, packing_gap, follow_up_gap] = lengths;
        let pieces = kinds.into_iter().map(|(thickness, settlement, mass, stock_per_point)| PieceType {
            thickness,
            settlement_least: 0,
            settlement_greatest: settlement,
            mass,
            stock_per_point,
            base_height_limit: LENGTH_MAX,
            holding_height_limit: LENGTH_MAX,
            ..FREE
        }).collect();
        let problem = Problem {
            clearance, packing_clearance, travel, allowance, closed_height, plates, ram_gap, usable_stroke, packing_gap,
            follow_up_gap, pieces,
            restack: if free { Restack::Free { standing_loss: 0 } } else { Restack::AddOnly },
            ends_on_collars: None,
            base_needs: None,
            goal: Goal::Window,
            first_stack_allowed: true,
        };
        let stop = AtomicBool::new(false);
        let effort = Effort { states: 300_000, stop: &stop, cures: Cures::Sought };
        let answer = plan(&problem, &effort);
        prop_assert_eq!(&answer, &plan(&problem, &effort));
        if let Ok(Outcome::Optimal(plan)) = answer {
            prop_assert_eq!(check_plan(&problem, &plan), Ok(()));
        }
    }
}
