//! Plans worked out by hand.

use std::sync::atomic::AtomicBool;

use super::super::{
    CollarEnd, Effort, End, FollowUp, Outcome, PieceType, Problem, ProblemError, Proven, Range, Restack, Use, plan,
};
use super::{FREE, STATES, limited, optimal, piece, plates, run};
use crate::packing_lift::kernel::Cures;

/// By hand. The ram enters over 80 (2000 - 1900 - 20) plus the rise; it reaches a rise of 400 plus the base.
/// Over the bare foundation the stack may be 2000 + 400 - 30, so 23 plates, rise 300: base up to 3 plates, reach 700,
/// 26 plates, rise 600: base up to 6, reach 1000, 29 plates, rise 900: the fourth cycle ends on 30 plates at 1000.
/// The end takes 30 plates in the holding stack, and a base of 7 (3000 + 30 - 2000 - 400 = 630), handled once each.
#[test]
fn verify_plates_by_hand() {
    let plan = optimal(&plates()).unwrap();
    assert_eq!(plan.cycles.len(), 4);
    assert_eq!((plan.pieces_handled, plan.mass_handled, plan.greatest_stack), (37, 3700, 3000));
    assert_eq!((plan.end, plan.first_stack.clone()), (End::OnPacking, vec![0]));
    let last = plan.cycles.last().unwrap();
    assert_eq!((last.base.clone(), last.holding_after.clone()), (vec![7], vec![30]));
    assert_eq!((last.raise, last.rest), (1030, Range { least: 1000, greatest: 1000 }));
    // 2000 + 1030 - 1900 - 700.
    assert_eq!(last.extension, Range { least: 430, greatest: 430 });
    assert_eq!(last.greatest_drop, Some(130));
}

/// The rise at each pause is the unloaded height with the new piece, plus the gap, less the clearance; before it the
/// gap is the piece and the packing gap.
#[test]
fn verify_follow_up_steps_by_hand() {
    let problem = Problem {
        travel: 200,
        allowance: 0,
        packing_clearance: 400,
        follow_up_gap: 230,
        pieces: vec![PieceType {
            settlement_least: 0,
            settlement_greatest: 0,
            thickness: 200,
            mass: 1,
            use_: Use::Holding,
            stock_per_point: 3,
            ..FREE
        }],
        ..plates()
    };
    let plan = optimal(&problem).unwrap();
    assert_eq!(plan.cycles.len(), 1);
    let at = |rise: i64, drop_before: i64, drop_after: i64| FollowUp {
        rise,
        piece: 0,
        extension: Range { least: 100 + rise, greatest: 100 + rise },
        drop_before,
        drop_after,
    };
    // 200 + 30 <= 400: goes in before the raise. 400 + 30 - 400 = 30, the load's own bearing being 30 below.
    // 600 + 30 - 400 = 230, 230 over the stack of 400, then 30 over that of 600.
    assert_eq!(plan.cycles[0].follow_up, vec![at(0, 0, 0), at(30, 30, 30), at(230, 230, 30)]);
    assert_eq!((plan.cycles[0].raise, plan.cycles[0].greatest_drop), (230, Some(230)));
    // One tenth less of follow-up gap, and no plate can be followed up.
    assert_eq!(optimal(&Problem { follow_up_gap: 229, ..problem }), None);
}

#[test]
fn verify_one_stroke_needs_no_packing_lift() {
    // Reach 400 over the bare foundation: 400 less 50 to free the collars and 10 they sink.
    let collars = Some(CollarEnd { spare_stroke: 50, collar_settlement: 10 });
    let within = Problem { travel: 340, ends_on_collars: collars, pieces: Vec::new(), ..plates() };
    let plan = optimal(&within).unwrap();
    assert_eq!((plan.cycles.len(), plan.end, plan.pieces_handled), (1, End::OnCollars, 0));
    assert_eq!((plan.cycles[0].raise, plan.cycles[0].rest.least), (400, 340));
    assert_eq!(optimal(&Problem { travel: 341, ..within }), None);
    // On packing: 2300 + 30 <= 2000 + 400.
    let packed = optimal(&Problem { travel: 300, ..plates() }).unwrap();
    assert_eq!((packed.cycles.len(), packed.end, packed.pieces_handled), (1, End::OnPacking, 23));
}

#[test]
fn verify_the_better_ending_counts() {
    // With collars the last 30 plates need not be made up: 3 cycles, ending at a rise of 1000 from a reach of 1060.
    let collars = Some(CollarEnd { spare_stroke: 0, collar_settlement: 0 });
    let plan = optimal(&Problem { ends_on_collars: collars, ..plates() }).unwrap();
    assert_eq!((plan.cycles.len(), plan.end), (3, End::OnCollars));
    // Where both take one cycle, the collars handle no piece.
    let short = optimal(&Problem { travel: 300, ends_on_collars: collars, ..plates() }).unwrap();
    assert_eq!((short.cycles.len(), short.end, short.pieces_handled), (1, End::OnCollars, 0));
    // Collars out of reach in one cycle, packing not: 400 - 150 < 300.
    let far = Some(CollarEnd { spare_stroke: 150, collar_settlement: 0 });
    let packed = optimal(&Problem { travel: 300, ends_on_collars: far, ..plates() }).unwrap();
    assert_eq!((packed.cycles.len(), packed.end), (1, End::OnPacking));
}

/// Mass decides between plans of equal pieces, the greatest stack between plans of equal mass.
#[test]
fn verify_the_order_of_the_objectives() {
    let one = |pieces: Vec<PieceType>| Problem { travel: 100, allowance: 20, packing_clearance: 0, pieces, ..plates() };
    let heavy = PieceType { mass: 90, ..piece(100, Use::Holding, 1) };
    let light = PieceType { mass: 80, ..piece(110, Use::Holding, 1) };
    let low = PieceType { mass: 80, ..piece(105, Use::Holding, 1) };
    let halves = PieceType { mass: 1, ..piece(50, Use::Holding, 2) };
    let plan = optimal(&one(vec![halves.clone(), heavy.clone(), light.clone()])).unwrap();
    assert_eq!((plan.pieces_handled, plan.mass_handled, plan.greatest_stack), (1, 80, 110));
    let plan = optimal(&one(vec![halves, heavy, light, low])).unwrap();
    assert_eq!((plan.pieces_handled, plan.mass_handled, plan.greatest_stack), (1, 80, 105));
}

/// A yard's mixed stock, 14 cycles, solved to the end within the effort of the tests.
#[test]
fn verify_a_long_job_is_solved_to_the_end() {
    let stock = [(200, 10), (150, 11), (60, 7), (400, 8), (300, 10)];
    let problem = Problem {
        clearance: 2150,
        packing_clearance: 1200,
        travel: 1900,
        allowance: 100,
        usable_stroke: 260,
        pieces: stock.map(|(thickness, count)| piece(thickness, Use::Either, count)).to_vec(),
        ..plates()
    };
    let Outcome::Optimal(plan) = run(&problem, 10 * STATES) else { panic!("not solved") };
    assert!(8 <= plan.cycles.len(), "{}", plan.cycles.len());
}

#[test]
fn verify_the_stop_flag_stops() {
    let stop = AtomicBool::new(true);
    assert_eq!(plan(&plates(), &Effort { states: STATES, stop: &stop, cures: Cures::Sought }), Ok(Outcome::Stopped));
}

#[test]
fn verify_no_effort_gives_no_plan_and_a_bound() {
    let nothing = Outcome::BestWithinEffort { plan: None, lower_bound: 1, proven: Proven::Nothing };
    assert_eq!(run(&plates(), 0), nothing);
}

#[test]
fn verify_numbers_out_of_bounds_are_refused() {
    let stop = AtomicBool::new(false);
    let answer = |problem: &Problem| plan(problem, &Effort { states: STATES, stop: &stop, cures: Cures::Sought });
    let sinking = PieceType { settlement_greatest: 100, ..piece(100, Use::Either, 1) };
    assert_eq!(
        answer(&Problem { pieces: vec![sinking], ..plates() }),
        Err(ProblemError::SettlementOutOfRange { piece: 0 })
    );
    assert!(matches!(answer(&Problem { travel: 0, ..plates() }), Err(ProblemError::LengthOutOfRange { value: 0, .. })));
    let kinds = vec![piece(100, Use::Either, 1); 17];
    assert_eq!(answer(&Problem { pieces: kinds, ..plates() }), Err(ProblemError::TooManyKinds { kinds: 17 }));
    let loss = Restack::Free { standing_loss: -1 };
    assert!(matches!(
        answer(&Problem { restack: loss, ..plates() }),
        Err(ProblemError::LengthOutOfRange { value: -1, .. })
    ));
}

/// Many pieces and little effort: too much to prove, but a plan all the same, and of the fewest cycles.
#[test]
fn verify_a_large_case_gets_a_plan_with_little_effort() {
    let stock = [(150, 10), (800, 8), (60, 8), (20, 5), (250, 4), (400, 12)];
    let large = Problem {
        clearance: 2250,
        packing_clearance: 1900,
        travel: 4700,
        allowance: 100,
        usable_stroke: 720,
        follow_up_gap: 600,
        pieces: stock.map(|(thickness, count)| piece(thickness, Use::Either, count)).to_vec(),
        ..plates()
    };
    let large = limited(large, 9000, 9000);
    let restack = Restack::Free { standing_loss: 0 };
    let rebuilt = Problem { restack, travel: 2700, pieces: large.pieces[..5].to_vec(), ..large.clone() };
    for problem in [large, rebuilt] {
        let outcome = run(&problem, 60_000_000);
        let Outcome::BestWithinEffort { plan: Some(plan), lower_bound, proven } = outcome else {
            panic!("{outcome:?}")
        };
        assert_eq!((plan.cycles.len(), proven), (usize::try_from(lower_bound).unwrap(), Proven::Cycles));
    }
}
