//! Mistakes that planners of packing lifts make, each shown not to be made.

use super::super::{End, Fault, PieceType, Plan, Problem, Restack, Use, check_plan};
use super::{optimal, oracle, piece, plates};

#[track_caller]
fn cycles(problem: &Problem) -> Option<usize> {
    optimal(problem).map(|plan| plan.cycles.len())
}

#[test]
fn verify_stock_is_checked_while_the_ram_is_set_and_at_the_top() {
    let problem = Problem { restack: Restack::Free { standing_loss: 0 }, ..plates() };
    let plan = optimal(&problem).unwrap();
    let (base, before, after) = {
        let last = plan.cycles.last().unwrap();
        (last.base[0], last.holding_before[0], last.holding_after[0])
    };
    assert!(before < after);
    // Enough for every moment but the last top of a raise.
    let short = Problem { pieces: vec![piece(100, Use::Either, base + after - 1)], ..problem.clone() };
    assert_eq!(check_plan(&short, &plan), Err(Fault::StockAtTop(plan.cycles.len() - 1)));
    // A plan that sets the ram with pieces that the stack still holds.
    let shorter = Problem { pieces: vec![piece(100, Use::Either, base + before - 1)], ..problem };
    assert!(matches!(check_plan(&shorter, &plan), Err(Fault::StockWhileSet(_) | Fault::StockAtTop(_))));
}

/// A plan over a base stack that a rebuilt holding stack makes possible only if its pieces could stand in both at once:
/// the one thick piece must be under the ram when it is set while it still holds the load.
#[test]
fn verify_a_piece_cannot_hold_the_load_while_it_goes_under_the_ram() {
    // Rests on 100 (one cycle), then needs the 100 under the ram to reach 200, of which 2 x 100 hold the load.
    let problem = |stock: u32| Problem {
        packing_clearance: 0,
        clearance: 1930,
        travel: 200,
        usable_stroke: 170,
        restack: Restack::Free { standing_loss: 0 },
        pieces: vec![piece(100, Use::Either, stock), piece(200, Use::Holding, 1)],
        ..plates()
    };
    // With one piece of 100: first rest on it, then it would have to be under the ram at the same time.
    assert_eq!(cycles(&problem(1)), None);
    let plan = optimal(&problem(2)).unwrap();
    assert_eq!((plan.cycles.len(), plan.cycles[1].holding_after.clone()), (2, vec![0, 1]));
}

#[test]
fn verify_base_settlement_is_counted() {
    let settled = |settlement_greatest: i64| Problem {
        pieces: vec![piece(100, Use::Holding, 40), PieceType { settlement_greatest, ..piece(100, Use::Base, 20) }],
        ..plates()
    };
    // Each base plate carries 70 of its 100. Base, loaded, reach, rest: 0, 0, 400, 300; 3, 210, 610, 500; 5, 350, 750, 700;
    // 7, 490, 890, 800; 8, 560, 960, 900; 9, 630, 1030, 1000.
    assert_eq!(cycles(&settled(0)), Some(4));
    assert_eq!(cycles(&settled(30)), Some(6));
}

#[test]
fn verify_holding_settlement_is_counted_on_both_sides() {
    let one = |settlement_least: i64, settlement_greatest: i64, allowance: i64| Problem {
        packing_clearance: 0,
        travel: 100,
        allowance,
        pieces: vec![PieceType { settlement_least, settlement_greatest, ..piece(105, Use::Holding, 1) }],
        ..plates()
    };
    assert_eq!(cycles(&one(0, 5, 5)), Some(1));
    // Sinking by 6 it ends at 99; sinking by nothing it ends at 105.
    assert_eq!(cycles(&one(0, 6, 5)), None);
    assert_eq!(cycles(&one(0, 5, 4)), None);
    assert_eq!(cycles(&one(1, 5, 4)), Some(1));
}

/// The highest base that enters, then the highest holding stack within reach, as the search that this planner is not.
fn highest_first(problem: &Problem) -> Option<usize> {
    let stacks = |caps: Vec<u32>| {
        caps.iter().fold(vec![Vec::new()], |stacks: Vec<Vec<u32>>, &cap| {
            let longer = |stack: Vec<u32>| (0..=cap).map(move |count| [stack.clone(), vec![count]].concat());
            stacks.into_iter().flat_map(longer).collect()
        })
    };
    let height = |stack: &Vec<u32>| -> i64 {
        stack.iter().zip(&problem.pieces).map(|(&count, piece)| i64::from(count) * piece.thickness).sum()
    };
    let stock: Vec<u32> = problem.pieces.iter().map(|piece| piece.stock_per_point).collect();
    let mut holding = vec![0; stock.len()];
    let mut rise = 0;
    for cycle in 1..50 {
        let left: Vec<u32> = stock.iter().zip(&holding).map(|(all, used)| all - used).collect();
        let entry = problem.clearance + rise - problem.closed_height - problem.ram_gap;
        let base = stacks(left).into_iter().filter(|base| height(base) <= entry).max_by_key(&height)?;
        let reach = problem.closed_height + height(&base) + problem.usable_stroke - problem.clearance;
        let left: Vec<u32> = stock.iter().zip(&base).map(|(all, used)| all - used).collect();
        let room = problem.packing_clearance + reach.min(problem.travel + problem.packing_gap) - problem.packing_gap;
        let fits = |stack: &Vec<u32>| height(stack) <= room && stack.iter().zip(&holding).all(|(new, old)| old <= new);
        holding = stacks(left).into_iter().filter(fits).max_by_key(&height)?;
        let next = height(&holding) - problem.packing_clearance;
        if next == problem.travel {
            return Some(cycle);
        }
        if next <= rise {
            return None;
        }
        rise = next;
    }
    None
}

#[test]
fn verify_highest_first_sticks_where_a_plan_exists() {
    let mut solved = 0;
    let mut stuck = 0;
    for seed in 0..200_u32 {
        let digit = |place: u32, base: u32| seed / place % base;
        let problem = Problem {
            clearance: 1930,
            packing_clearance: 0,
            travel: 300 + 20 * i64::from(digit(1, 5)),
            usable_stroke: 140 + 20 * i64::from(digit(5, 4)),
            follow_up_gap: 300,
            pieces: vec![
                piece(100, Use::Either, 2 + digit(20, 3)),
                piece(60, Use::Either, 2 + digit(60, 4)),
                piece(20, Use::Either, 3),
            ],
            ..plates()
        };
        let Some(best) = cycles(&problem) else { continue };
        solved += 1;
        match highest_first(&problem) {
            Some(found) => assert!(best <= found, "{problem:?}"),
            None => stuck += 1,
        }
    }
    assert!(0 < stuck && stuck < solved, "{stuck} of {solved}");
}

/// The end must be met exactly; the way that climbs fastest cannot.
#[test]
fn verify_the_window_forces_the_path_from_early_on() {
    let problem = |allowance: i64| Problem {
        packing_clearance: 0,
        clearance: 1930,
        travel: 210,
        allowance,
        usable_stroke: 250,
        pieces: vec![piece(120, Use::Holding, 2), piece(70, Use::Holding, 3), piece(60, Use::Base, 4)],
        ..plates()
    };
    let exact = optimal(&problem(0)).unwrap();
    assert_eq!(exact.cycles.last().unwrap().holding_after, vec![0, 3, 0]);
    assert!(exact.cycles.iter().all(|cycle| cycle.holding_after[0] == 0));
    let wide = optimal(&problem(40)).unwrap();
    assert!(wide.cycles.len() <= exact.cycles.len());
    assert_eq!(wide.cycles.last().unwrap().holding_after, vec![2, 0, 0]);
}

#[test]
fn verify_a_load_never_steps_down() {
    let plan = optimal(&Problem { restack: Restack::Free { standing_loss: 0 }, ..plates() }).unwrap();
    let mut lower = plan.clone();
    let (first, second) = (lower.cycles[0].holding_after.clone(), lower.cycles[1].clone());
    // Swap in a second rest below the first one.
    lower.cycles[1].holding_after = vec![first[0] - 1];
    lower.cycles[1].holding_height = i64::from(first[0] - 1) * 100;
    assert_eq!(check_plan(&plates_free(), &lower), Err(Fault::StepDown(1)), "{second:?}");
}

fn plates_free() -> Problem {
    Problem { restack: Restack::Free { standing_loss: 0 }, ..plates() }
}

#[test]
fn verify_pieces_too_thick_to_follow_up_stand_in_the_first_stack() {
    let problem = Problem {
        follow_up_gap: 130,
        pieces: vec![piece(800, Use::Holding, 5), piece(100, Use::Either, 30)],
        ..plates()
    };
    let plan = optimal(&problem).unwrap();
    // 2 x 800 + 30 <= 2000 < 3 x 800 + 30.
    assert_eq!(plan.first_stack, vec![2, 0]);
    assert_eq!(plan.cycles.last().unwrap().holding_after, vec![2, 14]);
    assert_eq!(cycles(&problem), Some(4));
    // Without a first stack 30 plates of 100 make the end, and none is left for the base.
    assert_eq!(cycles(&Problem { first_stack_allowed: false, ..problem.clone() }), None);
    // Nor where there is no room for it.
    let low = Problem { packing_clearance: 829, travel: 1001, ..problem };
    assert!(optimal(&low).is_none_or(|plan| plan.first_stack == vec![0, 0]));
}

#[test]
fn verify_rebuilding_counts_what_is_lost_in_standing() {
    let lost = |standing_loss: i64| Problem { restack: Restack::Free { standing_loss }, travel: 300, ..plates() };
    // 2300 + 30 against 2000 + 400 less what is lost.
    assert_eq!(cycles(&lost(70)), Some(1));
    assert_eq!(cycles(&lost(71)), Some(2));
}

#[test]
fn verify_an_old_stack_must_come_free() {
    let plan = optimal(&plates_free()).unwrap();
    assert_eq!(plan.end, End::OnPacking);
    let mut stuck: Plan = plan;
    let taller = stuck.cycles[0].holding_after[0];
    stuck.cycles[1].raise = i64::from(taller) * 100 - 2000 + 29;
    let extension = 2000 + stuck.cycles[1].raise - 1900 - stuck.cycles[1].base_height;
    stuck.cycles[1].extension.greatest = extension;
    assert!(matches!(check_plan(&plates_free(), &stuck), Err(Fault::Room(1) | Fault::Reach(1))));
}

/// Cost of the planner's plan and of the oracle's.
#[track_caller]
fn agrees(problem: &Problem) {
    let cost =
        optimal(problem).map(|plan| (plan.cycles.len(), (plan.pieces_handled, plan.mass_handled, plan.greatest_stack)));
    assert!(cost.is_some());
    assert_eq!(cost, oracle::best(problem, 20));
}

/// Found by search: a plan just as cheap would put a piece of 7 in after the second raise, where the gap is 4.
#[test]
fn verify_no_thick_piece_goes_in_later() {
    agrees(&Problem {
        clearance: 21,
        packing_clearance: 9,
        travel: 13,
        allowance: 1,
        closed_height: 20,
        ram_gap: 1,
        usable_stroke: 9,
        packing_gap: 0,
        follow_up_gap: 4,
        pieces: vec![
            PieceType { mass: 0, ..piece(4, Use::Holding, 4) },
            PieceType { mass: 0, ..piece(2, Use::Either, 4) },
            PieceType { mass: 0, ..piece(7, Use::Either, 2) },
        ],
        ..plates()
    });
}

/// Found by search: a plan just as good on paper would not raise the load clear of the taller old stack, which settles
/// more than the new one.
#[test]
fn verify_a_taller_old_stack_comes_free() {
    let uneven = PieceType { settlement_least: 3, settlement_greatest: 3, mass: 0, ..piece(8, Use::Either, 2) };
    agrees(&Problem {
        clearance: 21,
        packing_clearance: 8,
        travel: 12,
        allowance: 1,
        closed_height: 20,
        ram_gap: 0,
        usable_stroke: 11,
        packing_gap: 1,
        follow_up_gap: 3,
        restack: Restack::Free { standing_loss: 1 },
        pieces: vec![
            PieceType { mass: 0, ..piece(7, Use::Either, 3) },
            PieceType { mass: 0, ..piece(1, Use::Base, 1) },
            uneven,
        ],
        ..plates()
    });
}
