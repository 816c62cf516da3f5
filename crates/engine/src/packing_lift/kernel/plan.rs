//! The plan as it is handed out: every cycle with its stacks, rises and follow-up steps.

use super::infeasible::Reason;
use super::model::{Cost, Model};
use super::problem::{Goal, Problem, Restack};
use super::search;
use super::stacks::Stacks;
use super::stages::Top;

/// How a plan ends.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum End {
    /// The load rests on the holding stack.
    OnPacking,
    /// The load stands on the lock collars.
    OnCollars,
}

/// Least and greatest value of a length, in tenths of a millimetre.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) struct Range {
    /// Least value.
    pub least: i64,
    /// Greatest value.
    pub greatest: i64,
}

/// A pause during a raise, at which one piece goes in.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) struct FollowUp {
    /// Rise at which to pause, in tenths of a millimetre over the load's own bearing.
    pub rise: i64,
    /// Index of the kind of piece to add.
    pub piece: usize,
    /// Extension of the ram there, in tenths of a millimetre, by the settlement of the base stack.
    pub extension: Range,
    /// Drop to the next support just before the piece goes in, in tenths of a millimetre.
    pub drop_before: i64,
    /// Drop once the piece is in, in tenths of a millimetre.
    pub drop_after: i64,
}

/// One cycle: set the ram, raise, pack, lower.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(crate) struct Cycle {
    /// Pieces under the ram, by kind.
    pub base: Vec<u32>,
    /// Unloaded height of the base stack, in tenths of a millimetre.
    pub base_height: i64,
    /// Pieces under the load when the raise begins, by kind; in the first cycle the first stack.
    pub holding_before: Vec<u32>,
    /// Pieces under the load after the raise, by kind.
    pub holding_after: Vec<u32>,
    /// Unloaded height of the holding stack after the raise, in tenths of a millimetre.
    pub holding_height: i64,
    /// Room over the ram when it is set, beyond the gap it needs, in tenths of a millimetre, at the greatest settlement.
    pub entry_spare: i64,
    /// Rise at the top, just as much as needed, in tenths of a millimetre over the load's own bearing.
    pub raise: i64,
    /// Extension of the ram at the top, in tenths of a millimetre, by the settlement of the base stack.
    pub extension: Range,
    /// Rise at rest after the cycle, in tenths of a millimetre, by the settlement of what carries the load.
    pub rest: Range,
    /// Pauses at which pieces go in, in order. Empty if the stack is rebuilt at the top or the collars take the load.
    pub follow_up: Vec<FollowUp>,
    /// Greatest drop to the next support during the raise, in tenths of a millimetre, unloaded stack heights taken;
    /// `None` if lock collars or a second support follow the load instead of the holding stack.
    pub greatest_drop: Option<i64>,
}

/// A sequence of cycles, per point.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(crate) struct Plan {
    /// The cycles, in order.
    pub cycles: Vec<Cycle>,
    /// Holding stack placed before the first raise, by kind: only the pieces too thick to follow up.
    pub first_stack: Vec<u32>,
    /// How the plan ends.
    pub end: End,
    /// Pieces placed and removed, over both stacks and all cycles.
    pub pieces_handled: u64,
    /// Mass placed and removed, in tenths of a kilogram.
    pub mass_handled: u64,
    /// Greatest unloaded height of any stack, in tenths of a millimetre.
    pub greatest_stack: i64,
    /// No plan has fewer cycles than this.
    pub lower_bound: u32,
}

impl Plan {
    /// A plan of nothing.
    pub(super) fn empty() -> Self {
        Self {
            cycles: Vec::new(),
            first_stack: Vec::new(),
            end: End::OnPacking,
            pieces_handled: 0,
            mass_handled: 0,
            greatest_stack: 0,
            lower_bound: 0,
        }
    }

    /// What the planner makes least, in its order.
    pub(crate) fn rank(&self) -> (usize, u64, u64, i64) {
        (self.cycles.len(), self.pieces_handled, self.mass_handled, self.greatest_stack)
    }
}

/// How much of a plan is proven best.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub(crate) enum Proven {
    /// Nothing but the lower bound.
    Nothing,
    /// The number of cycles is the fewest.
    Cycles,
    /// Cycles, pieces handled, mass handled and greatest stack are the least, in this order; only the choice among
    /// plans equal in all four is not that of the total order.
    Cost,
}

/// What the planner answers.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(crate) enum Outcome {
    /// The best plan, and the first in the total order among its equals.
    Optimal(Plan),
    /// The effort was spent.
    BestWithinEffort {
        /// A valid plan, if one was met.
        plan: Option<Plan>,
        /// No plan has fewer cycles than this.
        lower_bound: u32,
        /// What is proven of the plan.
        proven: Proven,
    },
    /// There is no plan.
    Infeasible(Reason),
    /// The stop flag was set.
    Stopped,
}

/// Writes a plan out from the searches' moves.
pub(super) fn write(
    problem: &Problem,
    model: &Model,
    stacks: &Stacks,
    moves: &[search::Move],
    cost: Cost,
    lower_bound: usize,
) -> Plan {
    let moves: Vec<Move> = (moves.iter())
        .map(|&(base, top)| {
            let base = stacks.base.keys.get(base).copied().unwrap_or(0);
            let holding = match top {
                Top::Packing(stack) => Some(stacks.holding.keys.get(stack).copied().unwrap_or(0)),
                Top::Collars => None,
            };
            Move { base, holding, lift: i64::MIN / 4 }
        })
        .collect();
    let plan = write_moves(problem, model, &moves, lower_bound);
    debug_assert_eq!(plan.rank(), (moves.len(), cost.pieces(), cost.mass(), cost.height));
    plan
}

/// One cycle of a plan as packed counts: the base stack, the holding stack after it (`None`: ended on the collars), and the
/// least rise to which the load is raised.
#[derive(Debug, Clone, Copy)]
pub(super) struct Move {
    pub(super) base: u128,
    pub(super) holding: Option<u128>,
    pub(super) lift: i64,
}

/// Writes a plan out from packed counts.
pub(super) fn write_moves(problem: &Problem, model: &Model, moves: &[Move], lower_bound: usize) -> Plan {
    let first = match moves.first() {
        Some(&Move { holding: Some(holding), .. }) if model.add_only => model.thick_part(holding),
        _ => 0,
    };
    let mut writer = Writer { problem, model, rest: Range { least: 0, greatest: 0 } };
    let mut holding = model.counts(first);
    let mut cycles = Vec::new();
    for step in moves {
        let base = model.counts(step.base);
        let after = step.holding.map(|key| model.counts(key));
        let cycle = writer.cycle(base, &holding, after, step.lift);
        holding.clone_from(&cycle.holding_after);
        cycles.push(cycle);
    }
    let ends_on_collars = moves.last().is_some_and(|last| last.holding.is_none());
    let (pieces_handled, mass_handled) = handled(problem, &model.counts(first), &cycles);
    let heights = cycles.iter().map(|cycle| cycle.base_height.max(cycle.holding_height));
    Plan {
        greatest_stack: heights.max().unwrap_or(0),
        cycles,
        first_stack: model.counts(first),
        end: if ends_on_collars { End::OnCollars } else { End::OnPacking },
        pieces_handled,
        mass_handled,
        lower_bound: u32::try_from(lower_bound).unwrap_or(u32::MAX),
    }
}

/// Pieces and mass placed and removed.
fn handled(problem: &Problem, first: &[u32], cycles: &[Cycle]) -> (u64, u64) {
    let mut sum = (0_u64, 0_u64);
    let mut change = |from: &[u32], to: &[u32]| {
        for ((piece, &a), &b) in problem.pieces.iter().zip(from).zip(to) {
            let moved = u64::from(a.abs_diff(b));
            sum.0 += moved * u64::from(piece.parts);
            sum.1 += moved * u64::try_from(piece.mass).unwrap_or(0);
        }
    };
    let nothing = vec![0; problem.pieces.len()];
    let mut base: &[u32] = &nothing;
    change(&nothing, first);
    for cycle in cycles {
        change(base, &cycle.base);
        change(&cycle.holding_before, &cycle.holding_after);
        base = &cycle.base;
    }
    if matches!(problem.goal, Goal::Stack { .. }) {
        change(base, &nothing);
    }
    sum
}

/// Sums a property over a stack.
fn over(counts: &[u32], problem: &Problem, of: impl Fn(&super::problem::PieceType) -> i64) -> i64 {
    counts.iter().zip(&problem.pieces).map(|(&count, piece)| i64::from(count) * of(piece)).sum()
}

struct Writer<'a> {
    problem: &'a Problem,
    model: &'a Model,
    /// Rise at which the load rests.
    rest: Range,
}

impl Writer<'_> {
    fn cycle(&mut self, base: Vec<u32>, before: &[u32], after: Option<Vec<u32>>, lift: i64) -> Cycle {
        let problem = self.problem;
        let base_height = self.height(&base);
        let entry_spare = self.model.entry(self.rest.least) - base_height;
        let followed = self.model.add_only && after.is_some();
        let (raise, rest) = self.top(before, after.as_deref());
        let raise = raise.max(lift);
        let after = after.unwrap_or_else(|| before.to_vec());
        let settled = self.settlement(&base);
        let to_extension = problem.clearance - problem.closed_height - problem.plates - base_height;
        let extension = |rise: i64| Range {
            least: rise + to_extension + settled.least,
            greatest: rise + to_extension + settled.greatest,
        };
        let follow_up = if followed { self.follow_up(before, &after, &extension) } else { Vec::new() };
        let last_drop = raise - (self.height(&after) - problem.packing_clearance).max(0);
        let drops = follow_up.iter().map(|step| step.drop_before);
        let greatest_drop = followed.then(|| drops.fold(last_drop, i64::max));
        self.rest = rest;
        Cycle {
            base,
            base_height,
            holding_before: before.to_vec(),
            holding_height: self.height(&after),
            holding_after: after,
            entry_spare,
            raise,
            extension: extension(raise),
            rest,
            follow_up,
            greatest_drop,
        }
    }

    fn height(&self, counts: &[u32]) -> i64 {
        over(counts, self.problem, |piece| piece.thickness)
    }

    fn settlement(&self, counts: &[u32]) -> Range {
        Range {
            least: over(counts, self.problem, |piece| piece.settlement_least),
            greatest: over(counts, self.problem, |piece| piece.settlement_greatest),
        }
    }

    /// Rise at the top, and at rest, for a new holding stack or, without one, for the collars.
    fn top(&self, before: &[u32], after: Option<&[u32]>) -> (i64, Range) {
        let problem = self.problem;
        let Some(after) = after else {
            let (spare, sink) = problem.ends_on_collars.map_or((0, 0), |end| (end.spare_stroke, end.collar_settlement));
            let held = problem.travel + sink;
            let greatest = held.max(self.rest.greatest);
            return (held + spare, Range { least: problem.travel, greatest });
        };
        let loss = match problem.restack {
            Restack::AddOnly => 0,
            Restack::Free { standing_loss } => standing_loss,
        };
        let taller = self.height(after).max(self.height(before));
        let settled = self.settlement(after);
        let unloaded = self.height(after) - problem.packing_clearance;
        let rest = Range { least: unloaded - settled.greatest, greatest: unloaded - settled.least };
        (taller + problem.packing_gap - problem.packing_clearance + loss, rest)
    }

    /// Adds the pieces one by one, the thickest first, each at the least rise that takes it.
    fn follow_up(&self, before: &[u32], after: &[u32], extension: &dyn Fn(i64) -> Range) -> Vec<FollowUp> {
        let problem = self.problem;
        let mut pieces: Vec<(usize, i64, u32)> = (problem.pieces.iter().enumerate())
            .zip(before.iter().zip(after))
            .map(|((kind, piece), (&old, &new))| (kind, piece.thickness, new.saturating_sub(old)))
            .collect();
        // As they lie where that is stated, and otherwise the thickest first.
        let place = |kind: usize| match &problem.goal {
            Goal::Stack { from_below, .. } => from_below.iter().position(|&own| own == kind).unwrap_or(usize::MAX),
            Goal::Window => 0,
        };
        pieces.sort_by_key(|&(kind, thickness, _)| (place(kind), -thickness, kind));
        let mut height = over(before, problem, |piece| piece.thickness);
        let drop = |rise: i64, height: i64| rise - (height - problem.packing_clearance).max(0);
        let mut steps = Vec::new();
        for (piece, thickness, count) in pieces {
            for _ in 0..count {
                let rise = (height + thickness + problem.packing_gap - problem.packing_clearance).max(0);
                let drop_before = drop(rise, height);
                height += thickness;
                let drop_after = drop(rise, height);
                steps.push(FollowUp { rise, piece, extension: extension(rise), drop_before, drop_after });
            }
        }
        steps
    }
}
