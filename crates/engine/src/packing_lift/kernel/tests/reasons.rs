//! Every reason for no plan, with its numbers by hand.

use super::super::{CollarEnd, Cure, Outcome, Problem, Reason, Restack, Stack, Use};
use super::{STATES, limited, optimal, piece, plates, run};

#[track_caller]
fn reason(problem: &Problem) -> Reason {
    match run(problem, STATES) {
        Outcome::Infeasible(reason) => reason,
        other => panic!("{other:?}"),
    }
}

#[test]
fn verify_the_ram_does_not_enter() {
    let problem = Problem { closed_height: 1985, ..plates() };
    assert_eq!(reason(&problem), Reason::RamDoesNotEnter { short_by: 5 });
    let cured = Problem { closed_height: 1980, usable_stroke: 600, ..problem };
    assert!(optimal(&cured).is_some());
}

#[test]
fn verify_no_piece_is_thin_enough() {
    let problem = Problem { follow_up_gap: 129, ..plates() };
    assert_eq!(reason(&problem), Reason::NoPieceThinEnough { thinnest: Some(100), greatest_thickness: 99 });
    let none = Problem { pieces: vec![piece(100, Use::Base, 50)], ..plates() };
    assert_eq!(reason(&none), Reason::NoPieceThinEnough { thinnest: None, greatest_thickness: 220 });
    // Rebuilding at will knows no such limit, nor does an end on collars.
    assert!(optimal(&Problem { restack: Restack::Free { standing_loss: 0 }, ..problem.clone() }).is_some());
    let collars = Some(CollarEnd { spare_stroke: 0, collar_settlement: 0 });
    assert!(optimal(&Problem { travel: 400, ends_on_collars: collars, ..problem }).is_some());
}

/// Over the bare foundation the reach is a rise of 100; one plate above the clearance takes 100 and the gap of 30. Every
/// later cycle stands 80 below its soffit at most, as the first does.
#[test]
fn verify_the_stroke_is_too_short() {
    let problem = Problem { usable_stroke: 200, ..plates() };
    let Reason::NoProgress { furthest_rise, cures } = reason(&problem) else { panic!() };
    let expected = vec![Cure::MoreStroke(30), Cure::SmallerEntryGap(20), Cure::SmallerPackingGap(30)];
    assert_eq!((furthest_rise, cures), (0, expected));
    for (gaps, does) in [((0, 30), true), ((1, 30), false), ((20, 0), true), ((20, 1), false)] {
        let (ram_gap, packing_gap) = gaps;
        let changed = Problem { ram_gap, packing_gap, ..problem.clone() };
        assert_eq!(optimal(&changed).is_some(), does, "{gaps:?}");
    }
    assert!(optimal(&Problem { usable_stroke: 230, ..problem.clone() }).is_some());
    assert!(optimal(&Problem { usable_stroke: 229, ..problem }).is_none());
}

#[test]
fn verify_a_height_limit_ends_the_climb() {
    let holding = limited(plates(), 5000, 2990);
    let expected = |stack, furthest_rise, more| Reason::HeightLimit {
        stack,
        furthest_rise,
        cures: vec![Cure::HigherLimit(stack, more)],
    };
    assert_eq!(reason(&holding), expected(Stack::Holding, 900, 10));
    // The last base stack is 7 plates high.
    let base = limited(plates(), 650, 5000);
    assert_eq!(reason(&base), expected(Stack::Base, 900, 50));
    assert!(optimal(&limited(base, 700, 5000)).is_some());
}

#[test]
fn verify_the_stock_is_too_short_for_the_final_height() {
    let problem = Problem { pieces: vec![piece(100, Use::Either, 28)], ..plates() };
    let expected = Reason::StockTooShort {
        stack: Stack::Holding,
        short_by: 200,
        cures: vec![Cure::MorePieces { piece: 0, count: 2 }],
    };
    assert_eq!(reason(&problem), expected);
    let base = vec![piece(100, Use::Holding, 30), piece(100, Use::Base, 5)];
    // The last base must be 630 high.
    let expected = Reason::StockTooShort {
        stack: Stack::Base,
        short_by: 130,
        cures: vec![Cure::MorePieces { piece: 1, count: 2 }],
    };
    assert_eq!(reason(&Problem { pieces: base, ..plates() }), expected);
}

#[test]
fn verify_no_stack_ends_inside_the_allowance() {
    // Whole plates of 100, from a clearance of 2000, do not stop between 1010 and 1020; 1100 is 80 too high.
    let problem = Problem { travel: 1010, allowance: 10, ..plates() };
    let Reason::NoStackInAllowance { below, cures } = reason(&problem) else { panic!() };
    assert_eq!((below, cures), (Some(1000), vec![Cure::MoreAllowance(80)]));
    // Two plates of 5 would do it, and there is one.
    let shims = vec![piece(100, Use::Either, 50), piece(5, Use::Holding, 1)];
    let Reason::NoStackInAllowance { cures, .. } = reason(&Problem { pieces: shims, ..problem }) else { panic!() };
    assert!(cures.contains(&Cure::MorePieces { piece: 1, count: 1 }), "{cures:?}");
}

#[test]
fn verify_pieces_run_out_between_the_stacks() {
    // 30 plates are needed in the one stack and 7 in the other.
    let problem = Problem { pieces: vec![piece(100, Use::Either, 36)], ..plates() };
    let Reason::PiecesRunOut { shared, furthest_rise, cures } = reason(&problem) else { panic!() };
    assert_eq!((shared, furthest_rise), (Some(true), 900));
    assert!(cures.contains(&Cure::MorePieces { piece: 0, count: 1 }), "{cures:?}");
    // With a base of 6 the reach must be 1030: 30 more stroke.
    assert!(cures.contains(&Cure::MoreStroke(30)), "{cures:?}");
    assert!(optimal(&Problem { pieces: vec![piece(100, Use::Either, 37)], ..problem.clone() }).is_some());
    assert!(optimal(&Problem { usable_stroke: 530, ..problem.clone() }).is_some());
    assert!(optimal(&Problem { usable_stroke: 529, ..problem }).is_none());
}

#[test]
fn verify_pieces_run_out_though_none_is_shared() {
    // Over one plate of 100 the reach is 500, the rest 400: the piece of 600 needs a rest at 520 to go in.
    let base = [piece(100, Use::Base, 1), piece(600, Use::Base, 1)];
    let pieces = [vec![piece(100, Use::Holding, 40)], base.to_vec()].concat();
    let expected = Reason::PiecesRunOut {
        shared: Some(false),
        furthest_rise: 400,
        // Over three plates the reach is 700; with two, 600 and a rest at 500 is still too low. Or a reach of 630 over one.
        cures: vec![Cure::MorePieces { piece: 1, count: 2 }, Cure::MoreStroke(130)],
    };
    assert_eq!(reason(&Problem { pieces, ..plates() }), expected);
}
