//! Which kinds of piece a search is made with, where all of them would be too many to search exactly.

use super::kernel::{Problem, Restack, Use};

/// Pieces of the thickest kind in one pair of stacks.
const THICKEST_MOST: u32 = 6;

/// How many pieces of each kind the search uses; a kind that is not used counts 0.
///
/// Nothing is given where all pieces make no more than `stacks_most` different stacks. What is found with fewer pieces can be built from all of them;
/// only that nothing better exists is then proven no further than the lower bound.
///
/// The kinds are taken like coins: the thickest first, then each that is clearly thinner than the last, with as many
/// pieces as fill the step between the two. Where pieces follow the load up, the thickest kind that can follow is
/// taken with all its pieces.
pub(super) fn shortlist(problem: &Problem, stacks_most: u64) -> Option<Vec<u32>> {
    let all: Vec<u32> = (0..problem.pieces.len()).map(|kind| useful(problem, kind)).collect();
    if stacks(&all) <= stacks_most {
        return None;
    }
    let mut chosen = vec![0; all.len()];
    if let Some(kind) = following_kind(problem, &all) {
        take(&mut chosen, kind, all.get(kind).copied().unwrap_or(0), stacks_most);
    }
    let mut order: Vec<usize> = (0..all.len()).collect();
    order.sort_by_key(|&kind| (std::cmp::Reverse(thickness(problem, kind)), kind));
    let mut last: Option<i64> = None;
    for kind in order {
        let (stock, mine) = (all.get(kind).copied().unwrap_or(0), thickness(problem, kind));
        if chosen.get(kind).is_some_and(|count| 0 < *count) {
            last = Some(mine);
        } else if 0 < stock && last.is_none_or(|above| mine * 5 <= above * 3) {
            // Twice over: once in each of the two stacks.
            let step = last.map_or(THICKEST_MOST, |above| u32::try_from(above / mine).unwrap_or(1).saturating_mul(2));
            if take(&mut chosen, kind, step.clamp(1, stock), stacks_most) {
                last = Some(mine);
            }
        }
    }
    Some(chosen)
}

/// Takes up to so many pieces of a kind, as far as the stacks can still be listed; whether any were taken.
fn take(chosen: &mut [u32], kind: usize, wanted: u32, stacks_most: u64) -> bool {
    for count in (1..=wanted).rev() {
        set(chosen, kind, count);
        if stacks(chosen) <= stacks_most {
            return true;
        }
    }
    set(chosen, kind, 0);
    false
}

fn set(counts: &mut [u32], kind: usize, count: u32) {
    if let Some(slot) = counts.get_mut(kind) {
        *slot = count;
    }
}

fn thickness(problem: &Problem, kind: usize) -> i64 {
    problem.pieces.get(kind).map_or(0, |piece| piece.thickness)
}

/// Pieces of a kind that any stack could hold.
fn useful(problem: &Problem, kind: usize) -> u32 {
    let Some(piece) = problem.pieces.get(kind) else { return 0 };
    let limit = match piece.use_ {
        Use::Base => piece.base_height_limit,
        Use::Holding => piece.holding_height_limit,
        Use::Either => piece.base_height_limit.max(piece.holding_height_limit),
    };
    let most = limit.checked_div(piece.thickness).unwrap_or(0);
    piece.stock_per_point.min(u32::try_from(most).unwrap_or(0))
}

fn stacks(counts: &[u32]) -> u64 {
    counts.iter().fold(1, |product, count| product.saturating_mul(u64::from(*count) + 1))
}

/// Whether a piece so thick can follow the load up within the gap.
fn can_follow(problem: &Problem, thickness: i64) -> bool {
    problem.restack == Restack::AddOnly && thickness + problem.packing_gap <= problem.follow_up_gap
}

/// Where pieces follow the load up: the thickest that can, which makes most of the holding stack.
fn following_kind(problem: &Problem, all: &[u32]) -> Option<usize> {
    let kinds = (0..all.len()).filter(|&kind| {
        can_follow(problem, thickness(problem, kind))
            && all.get(kind).is_some_and(|stock| 0 < *stock)
            && problem.pieces.get(kind).is_some_and(|piece| piece.use_.in_holding())
    });
    kinds.max_by_key(|&kind| (thickness(problem, kind), std::cmp::Reverse(kind)))
}
