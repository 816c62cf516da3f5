//! A plan held against every rule at every moment, from the problem alone and without the planner's own numbers.

use super::plan::{Cycle, End, Plan};
use super::problem::{Goal, KindSet, PieceType, Problem, Restack};

/// A rule that a plan breaks. Cycles are counted from zero.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Fault {
    /// The plan has no cycle, or a list of counts has not one element for each kind.
    Malformed,
    /// A cycle does not begin with the stack that the one before left.
    StackChanged(usize),
    /// More pieces than there are, while the ram is set.
    StockWhileSet(usize),
    /// More pieces than there are, at the top of the raise.
    StockAtTop(usize),
    /// A piece stands in a stack it may not be used in.
    WrongUse(usize),
    /// The ram with its base stack does not go under the load.
    Entry(usize),
    /// The base stack is above the limit of a kind in it, or its kinds do not stand together.
    BaseLimit(usize),
    /// The holding stack is above the limit of a kind in it, or its kinds do not stand together.
    HoldingLimit(usize),
    /// The first stack is not allowed, or has no room.
    FirstStack,
    /// The raise is out of reach.
    Reach(usize),
    /// The raise leaves no room for the old or the new holding stack.
    Room(usize),
    /// The holding stack is no lower part of the one that ends the job.
    OutOfOrder(usize),
    /// A piece was taken out though pieces are only added.
    Removed(usize),
    /// A piece too thick to follow up was added.
    TooThick(usize),
    /// The follow-up steps do not lead from the old stack to the new one, or not within the gap.
    FollowUp(usize),
    /// The load rests lower than before.
    StepDown(usize),
    /// The load does not end between the wanted rise and the allowance.
    End,
    /// A number that the plan states is not the one that follows from its stacks.
    Stated(usize),
    /// The totals are not those of the cycles.
    Totals,
}

/// Sums a property over a stack.
fn sum(problem: &Problem, counts: &[u32], of: impl Fn(&PieceType) -> i64) -> i64 {
    problem.pieces.iter().zip(counts).map(|(piece, &count)| of(piece) * i64::from(count)).sum()
}

fn height(problem: &Problem, counts: &[u32]) -> i64 {
    sum(problem, counts, |piece| piece.thickness)
}

fn lowest(problem: &Problem, counts: &[u32]) -> i64 {
    sum(problem, counts, |piece| piece.thickness - piece.settlement_greatest)
}

fn in_stock(problem: &Problem, one: &[u32], other: &[u32]) -> bool {
    let both = one.iter().zip(other).map(|(&a, &b)| u64::from(a) + u64::from(b));
    both.zip(&problem.pieces).all(|(used, piece)| used <= u64::from(piece.stock_per_point))
}

fn ensure(holds: bool, fault: Fault) -> Result<(), Fault> {
    if holds { Ok(()) } else { Err(fault) }
}

/// Whether a holding stack is a lower part of the one that ends the job, with nothing drawn out of its middle.
pub(crate) fn lies_in_order(problem: &Problem, stack: &[u32]) -> bool {
    let Goal::Stack { counts, from_below } = &problem.goal else { return true };
    let at = |stack: &[u32], kind: usize| stack.get(kind).copied().unwrap_or(0);
    let first_short = from_below.iter().position(|&kind| at(stack, kind) < at(counts, kind));
    let above = first_short.map_or(from_below.len(), |place| place + 1);
    from_below.iter().skip(above).all(|&kind| at(stack, kind) == 0)
}

/// Verifies a plan.
///
/// # Source
/// The rules of the problem; common practice, no source.
///
/// # Validity
/// Any plan for a problem that [`Problem::admit`] accepts.
///
/// # Errors
/// The first [`Fault`], cycle by cycle.
pub(crate) fn check_plan(problem: &Problem, plan: &Plan) -> Result<(), Fault> {
    check_rules(problem, plan)?;
    totals(problem, plan)
}

/// Verifies everything but the totals.
pub(crate) fn check_rules(problem: &Problem, plan: &Plan) -> Result<(), Fault> {
    let kinds = problem.pieces.len();
    let counts = plan.cycles.iter().flat_map(|cycle| [&cycle.base, &cycle.holding_before, &cycle.holding_after]);
    ensure(counts.chain([&plan.first_stack]).all(|counts| counts.len() == kinds), Fault::Malformed)?;
    ensure(!plan.cycles.is_empty(), Fault::Malformed)?;
    first_stack(problem, plan)?;
    if let Goal::Stack { counts, .. } = &problem.goal {
        let reached = plan.cycles.last().is_some_and(|cycle| cycle.holding_after == *counts);
        ensure(reached, Fault::End)?;
    }
    let mut rest = 0;
    let mut holding = &plan.first_stack;
    for (index, cycle) in plan.cycles.iter().enumerate() {
        let last = index + 1 == plan.cycles.len();
        ensure(*holding == cycle.holding_before, Fault::StackChanged(index))?;
        set_ram(problem, cycle, index, rest)?;
        if last && plan.end == End::OnCollars {
            collars(problem, cycle, index)?;
        } else {
            top(problem, cycle, index)?;
            let next = lowest(problem, &cycle.holding_after) - problem.packing_clearance;
            ensure(rest <= next, Fault::StepDown(index))?;
            rest = next;
            ensure(rest == cycle.rest.least, Fault::Stated(index))?;
            if last {
                let greatest = sum(problem, &cycle.holding_after, |piece| piece.thickness - piece.settlement_least)
                    - problem.packing_clearance;
                ensure(greatest == cycle.rest.greatest, Fault::Stated(index))?;
                ensure(problem.travel <= rest && greatest <= problem.travel + problem.allowance, Fault::End)?;
            }
        }
        holding = &cycle.holding_after;
    }
    Ok(())
}

fn first_stack(problem: &Problem, plan: &Plan) -> Result<(), Fault> {
    let stack = &plan.first_stack;
    if stack.iter().all(|&count| count == 0) {
        return Ok(());
    }
    let room = height(problem, stack) + problem.packing_gap <= problem.packing_clearance;
    ensure(problem.first_stack_allowed && room, Fault::FirstStack)
}

/// The kinds of a stack, with their indices.
fn kinds<'a>(problem: &'a Problem, counts: &'a [u32]) -> impl Iterator<Item = (usize, &'a PieceType)> {
    problem.pieces.iter().enumerate().zip(counts).filter(|(_, count)| 0 < **count).map(|(kind, _)| kind)
}

fn has(counts: &[u32], set: KindSet) -> bool {
    counts.iter().enumerate().any(|(kind, &count)| 0 < count && set.meets(KindSet::one(kind)))
}

fn base_stack(problem: &Problem, counts: &[u32]) -> Result<(), ()> {
    let height = height(problem, counts);
    let stands = kinds(problem, counts).all(|(_, piece)| {
        height <= piece.base_height_limit
            && !has(counts, piece.base_apart)
            && (piece.spread_by.is_empty() || has(counts, piece.spread_by))
    });
    let foot = problem.base_needs.is_none_or(|needs| has(counts, needs));
    if stands && foot { Ok(()) } else { Err(()) }
}

fn holding_stack(problem: &Problem, counts: &[u32]) -> Result<(), ()> {
    let height = height(problem, counts);
    let stands = kinds(problem, counts)
        .all(|(_, piece)| height <= piece.holding_height_limit && !has(counts, piece.holding_apart));
    if stands { Ok(()) } else { Err(()) }
}

/// The load at rest, the ram being set on its base stack.
fn set_ram(problem: &Problem, cycle: &Cycle, index: usize, rest: i64) -> Result<(), Fault> {
    ensure(in_stock(problem, &cycle.base, &cycle.holding_before), Fault::StockWhileSet(index))?;
    let base_use = cycle.base.iter().zip(&problem.pieces).all(|(&count, piece)| count == 0 || piece.use_.in_base());
    let holding_use = [&cycle.holding_before, &cycle.holding_after]
        .into_iter()
        .all(|stack| stack.iter().zip(&problem.pieces).all(|(&count, piece)| count == 0 || piece.use_.in_holding()));
    ensure(base_use && holding_use, Fault::WrongUse(index))?;
    let base = height(problem, &cycle.base);
    let ram = problem.closed_height + problem.plates;
    let spare = problem.clearance + rest - (ram + base + problem.ram_gap);
    ensure(0 <= spare, Fault::Entry(index))?;
    base_stack(problem, &cycle.base).map_err(|()| Fault::BaseLimit(index))?;
    ensure(spare == cycle.entry_spare && base == cycle.base_height, Fault::Stated(index))?;
    let extension = problem.clearance + cycle.raise - ram - lowest(problem, &cycle.base);
    ensure(rest <= cycle.raise && extension <= problem.usable_stroke, Fault::Reach(index))?;
    ensure(extension == cycle.extension.greatest, Fault::Stated(index))
}

/// The load on the ram, the holding stack being changed.
fn top(problem: &Problem, cycle: &Cycle, index: usize) -> Result<(), Fault> {
    ensure(in_stock(problem, &cycle.base, &cycle.holding_after), Fault::StockAtTop(index))?;
    let loss = match problem.restack {
        Restack::AddOnly => 0,
        Restack::Free { standing_loss } => standing_loss,
    };
    let room = problem.packing_clearance + cycle.raise - loss - problem.packing_gap;
    let new = height(problem, &cycle.holding_after);
    ensure(new <= room && height(problem, &cycle.holding_before) <= room, Fault::Room(index))?;
    holding_stack(problem, &cycle.holding_after).map_err(|()| Fault::HoldingLimit(index))?;
    ensure(new == cycle.holding_height, Fault::Stated(index))?;
    match problem.restack {
        Restack::AddOnly => {
            ensure(lies_in_order(problem, &cycle.holding_after), Fault::OutOfOrder(index))?;
            follow_up(problem, cycle, index)
        }
        Restack::Free { .. } => ensure(cycle.follow_up.is_empty(), Fault::FollowUp(index)),
    }
}

fn follow_up(problem: &Problem, cycle: &Cycle, index: usize) -> Result<(), Fault> {
    let mut stack = cycle.holding_before.clone();
    let mut rise = 0;
    let mut greatest = 0;
    // Support: the stack, or the load's own bearing while that is higher.
    let support = |stack: &[u32]| (height(problem, stack) - problem.packing_clearance).max(0);
    for step in &cycle.follow_up {
        ensure(rise <= step.rise, Fault::FollowUp(index))?;
        rise = step.rise;
        let piece = problem.pieces.get(step.piece).ok_or(Fault::FollowUp(index))?;
        ensure(piece.thickness + problem.packing_gap <= problem.follow_up_gap, Fault::TooThick(index))?;
        let drop = rise - support(&stack);
        ensure(drop <= problem.follow_up_gap && drop == step.drop_before, Fault::FollowUp(index))?;
        for count in stack.iter_mut().skip(step.piece).take(1) {
            *count += 1;
        }
        let room = problem.packing_clearance + rise - problem.packing_gap;
        ensure(height(problem, &stack) <= room, Fault::FollowUp(index))?;
        ensure(rise - support(&stack) == step.drop_after, Fault::FollowUp(index))?;
        greatest = greatest.max(drop);
    }
    let kept = cycle.holding_before.iter().zip(&cycle.holding_after).all(|(old, new)| old <= new);
    ensure(kept, Fault::Removed(index))?;
    ensure(stack == cycle.holding_after && rise <= cycle.raise, Fault::FollowUp(index))?;
    let last = cycle.raise - support(&stack);
    ensure(last <= problem.follow_up_gap, Fault::FollowUp(index))?;
    ensure(cycle.greatest_drop == Some(greatest.max(last)), Fault::Stated(index))
}

fn collars(problem: &Problem, cycle: &Cycle, index: usize) -> Result<(), Fault> {
    let end = problem.ends_on_collars.ok_or(Fault::End)?;
    ensure(cycle.holding_after == cycle.holding_before, Fault::StackChanged(index))?;
    let held = cycle.raise - end.spare_stroke - end.collar_settlement;
    let stack = sum(problem, &cycle.holding_before, |piece| piece.thickness - piece.settlement_least)
        - problem.packing_clearance;
    ensure(problem.travel <= held && stack <= problem.travel + problem.allowance, Fault::End)?;
    ensure(held == cycle.rest.least, Fault::Stated(index))
}

fn totals(problem: &Problem, plan: &Plan) -> Result<(), Fault> {
    let nothing = vec![0; problem.pieces.len()];
    let mut handled = (0, 0);
    let mut change = |from: &[u32], to: &[u32]| {
        for ((a, b), piece) in from.iter().zip(to).zip(&problem.pieces) {
            let pieces = u64::from(a.abs_diff(*b));
            handled.0 += pieces * u64::from(piece.parts);
            handled.1 += pieces * u64::try_from(piece.mass).unwrap_or(0);
        }
    };
    change(&nothing, &plan.first_stack);
    let mut base = &nothing;
    let mut greatest = height(problem, &plan.first_stack);
    for cycle in &plan.cycles {
        change(base, &cycle.base);
        change(&cycle.holding_before, &cycle.holding_after);
        base = &cycle.base;
        greatest = greatest.max(height(problem, base)).max(height(problem, &cycle.holding_after));
    }
    if let Goal::Stack { .. } = problem.goal {
        change(base, &nothing);
    }
    let stated = (plan.pieces_handled, plan.mass_handled);
    ensure(handled == stated && greatest == plan.greatest_stack, Fault::Totals)
}
