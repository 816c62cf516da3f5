//! The problem in the form the searches use: one number for each rule, and stacks packed into single integers.

use super::problem::{CYCLES_MAX, Goal, KindSet, PIECES_MAX, PieceType, Problem, ProblemError, Restack, Use};

/// Bits by which the pieces handled stand above the mass handled in a weight: no plan within the bounds of the
/// problem handles 2^42 tenths of a kilogram.
const MASS_BITS: u32 = 42;

const _: () = assert!(
    (CYCLES_MAX as u128) * 4 * (PIECES_MAX as u128) * (super::problem::MASS_MAX as u128) < 1 << MASS_BITS,
    "the mass handled must stay below one piece handled"
);

/// One kind of piece as the rules use it.
#[derive(Debug, Clone)]
pub(super) struct Kind {
    /// Unloaded thickness.
    pub(super) height: i64,
    /// Least loaded thickness.
    pub(super) net: i64,
    /// Greatest loaded thickness.
    pub(super) top: i64,
    /// Cost of handling it once: pieces, then mass, in one number.
    pub(super) weight: u64,
    /// Pieces of it that a base stack may hold.
    pub(super) base_cap: u32,
    /// Pieces of it that a holding stack may hold.
    pub(super) holding_cap: u32,
    /// Pieces of it there are, less those that no pair of stacks could hold.
    pub(super) stock: u32,
    /// Whether it may be added at the top of a raise.
    pub(super) thin: bool,
    /// Stacks in which it may be used.
    pub(super) use_: Use,
    /// Greatest unloaded height of a base stack with it.
    pub(super) base_limit: i64,
    /// Greatest unloaded height of a holding stack with it.
    pub(super) holding_limit: i64,
    /// Kinds that may not stand in one base stack with it.
    pub(super) base_apart: KindSet,
    /// Kinds that may not stand in one holding stack with it.
    pub(super) holding_apart: KindSet,
    /// Kinds of which its base stack needs one.
    pub(super) spread_by: KindSet,
}

/// Stacks as counts side by side in one integer, the first kind in the highest place, so that the order of the
/// integers is the order of the counts.
#[derive(Debug, Clone, Copy)]
pub(super) struct Lanes {
    width: u32,
    kinds: u32,
    high: u128,
}

impl Lanes {
    fn new(kinds: usize) -> Self {
        let kinds = u32::try_from(kinds).unwrap_or(u32::MAX).max(1);
        let width = (128 / kinds).clamp(2, 16);
        let high = (0..kinds).fold(0, |bits, lane| bits | 1_u128 << (lane * width + width - 1));
        Self { width, kinds, high }
    }

    /// Places for nothing.
    pub(super) fn none() -> Self {
        Self::new(0)
    }

    /// Greatest count that a place can hold.
    pub(super) fn count_max(self) -> u32 {
        (1 << (self.width - 1)) - 1
    }

    /// The stack of one piece of a kind.
    pub(super) fn one(self, kind: usize) -> u128 {
        1 << self.shift(kind)
    }

    fn shift(self, kind: usize) -> u32 {
        let kind = u32::try_from(kind).unwrap_or(u32::MAX);
        self.width * (self.kinds - 1).saturating_sub(kind)
    }

    /// Whether every count of `small` is at most that of `large`.
    pub(super) fn fits(self, small: u128, large: u128) -> bool {
        (large | self.high).wrapping_sub(small) & self.high == self.high
    }

    /// The greater of both counts, kind by kind.
    pub(super) fn larger(self, one: u128, other: u128) -> u128 {
        (0..self.kinds).fold(0, |stack, lane| {
            let mask = ((1_u128 << self.width) - 1) << (lane * self.width);
            stack | (one & mask).max(other & mask)
        })
    }

    /// How many pieces of a kind a stack holds.
    pub(super) fn count(self, stack: u128, kind: usize) -> u32 {
        let mask = (1_u128 << self.width) - 1;
        u32::try_from(stack >> self.shift(kind) & mask).unwrap_or(u32::MAX)
    }
}

/// The problem as the searches use it.
///
/// Rises are counted from the load's own bearing. `entry` of a rise is the greatest height of a base stack with
/// which the ram still enters; `demand` of a holding stack is the least loaded height of the base stack with which
/// the raise opens room enough for it.
#[derive(Debug, Clone)]
pub(super) struct Model {
    pub(super) kinds: Vec<Kind>,
    pub(super) lanes: Lanes,
    /// All pieces that count, as a stack.
    pub(super) stock: u128,
    /// Greatest base stack on the load's own bearing; negative if the ram does not enter at all.
    pub(super) entry_at_start: i64,
    /// Packing clearance.
    pub(super) packing_clearance: i64,
    /// Unloaded height of a holding stack to its demand.
    pub(super) height_to_demand: i64,
    /// Least loaded height of the base stack with which the raise ends on the collars.
    pub(super) collar_demand: Option<i64>,
    /// Least settled rise that ends the job.
    pub(super) rise_least: i64,
    /// Greatest settled rise that ends the job.
    pub(super) rise_greatest: i64,
    /// Greatest unloaded height of a base stack that the ram could ever enter over.
    pub(super) base_room: i64,
    /// Greatest unloaded height of a holding stack that a raise could ever clear.
    pub(super) holding_room: i64,
    /// The room for base stacks, or their limit if that is less.
    pub(super) base_height_max: i64,
    /// The room for holding stacks, or their limit if that is less.
    pub(super) holding_height_max: i64,
    /// Greatest unloaded height of the first stack.
    pub(super) first_height_max: i64,
    /// Whether pieces are only added.
    pub(super) add_only: bool,
    /// Kinds of which one must stand in every base stack, if one must.
    pub(super) base_needs: Option<KindSet>,
    /// The stack on which the job ends, if it is just one; the base stacks are then taken out at the end.
    pub(super) goal: Option<u128>,
    /// The kinds in it as they lie.
    pub(super) from_below: Vec<usize>,
}

impl Model {
    /// Admits the problem and derives the numbers.
    pub(super) fn new(problem: &Problem) -> Result<Self, ProblemError> {
        problem.admit()?;
        let ram = problem.closed_height + problem.plates;
        let entry_at_start = problem.clearance - ram - problem.ram_gap;
        let (add_only, loss) = match problem.restack {
            Restack::AddOnly => (true, 0),
            Restack::Free { standing_loss } => (false, standing_loss),
        };
        let under_ram = problem.clearance - ram - problem.usable_stroke;
        let rise_greatest = problem.travel + problem.allowance;
        let raise_max = rise_greatest - problem.ram_gap + problem.usable_stroke;
        let base_room = entry_at_start + rise_greatest;
        let holding_room = problem.packing_clearance + raise_max - loss - problem.packing_gap;
        let highest = |may: fn(Use) -> bool, limit: fn(&PieceType) -> i64| {
            problem.pieces.iter().filter(|piece| may(piece.use_)).map(limit).max().unwrap_or(0)
        };
        let mut model = Self {
            kinds: Vec::new(),
            lanes: Lanes::new(problem.pieces.len()),
            stock: 0,
            entry_at_start,
            packing_clearance: problem.packing_clearance,
            height_to_demand: problem.packing_gap - problem.packing_clearance + loss + under_ram,
            collar_demand: problem
                .ends_on_collars
                .map(|end| problem.travel + end.spare_stroke + end.collar_settlement + under_ram),
            rise_least: problem.travel,
            rise_greatest,
            base_room,
            holding_room,
            base_height_max: base_room.min(highest(Use::in_base, |piece| piece.base_height_limit)),
            holding_height_max: holding_room.min(highest(Use::in_holding, |piece| piece.holding_height_limit)),
            first_height_max: if add_only && problem.first_stack_allowed {
                problem.packing_clearance - problem.packing_gap
            } else {
                -1
            },
            add_only,
            base_needs: problem.base_needs,
            goal: None,
            from_below: Vec::new(),
        };
        model.take_pieces(problem)?;
        if let Goal::Stack { counts, from_below } = &problem.goal {
            model.goal = Some(model.stack_of(counts)?);
            model.from_below.clone_from(from_below);
        }
        Ok(model)
    }

    fn stack_of(&self, counts: &[u32]) -> Result<u128, ProblemError> {
        let mut stack = 0;
        for (piece, &count) in counts.iter().enumerate() {
            if self.lanes.count_max() < count {
                return Err(ProblemError::TooManyPieces { piece });
            }
            stack += self.lanes.one(piece) * u128::from(count);
        }
        Ok(stack)
    }

    fn take_pieces(&mut self, problem: &Problem) -> Result<(), ProblemError> {
        let mut total = 0_u32;
        let mut most = (0, 0);
        for (index, piece) in problem.pieces.iter().enumerate() {
            let net = piece.thickness - piece.settlement_greatest;
            let in_use = |allowed: bool, height: i64, each: i64| {
                let most = if allowed && 0 <= height { height / each } else { 0 };
                u32::try_from(most).unwrap_or(u32::MAX).min(piece.stock_per_point)
            };
            let thin = !self.add_only || piece.thickness + problem.packing_gap <= problem.follow_up_gap;
            let room = self.holding_height_max.min(piece.holding_height_limit);
            let room = if thin { room } else { room.min(self.first_height_max) };
            let base_room = self.base_height_max.min(piece.base_height_limit);
            let base_cap = in_use(piece.use_.in_base(), base_room, piece.thickness);
            let holding_cap = in_use(piece.use_.in_holding(), room, piece.thickness).min(in_use(
                true,
                self.packing_clearance + self.rise_greatest,
                if self.add_only { piece.thickness - piece.settlement_least } else { net },
            ));
            // With pieces only added, no stack holds more of a kind than the one that ends the job.
            let holding_cap = match &problem.goal {
                Goal::Stack { counts, .. } if self.add_only => holding_cap.min(counts.get(index).copied().unwrap_or(0)),
                Goal::Stack { .. } | Goal::Window => holding_cap,
            };
            let stock = piece.stock_per_point.min(base_cap.saturating_add(holding_cap));
            if self.lanes.count_max() < stock {
                return Err(ProblemError::TooManyPieces { piece: index });
            }
            total = total.saturating_add(stock.saturating_mul(piece.parts));
            most = most.max((stock, index));
            self.stock += self.lanes.one(index) * u128::from(stock);
            self.kinds.push(Kind {
                height: piece.thickness,
                net,
                top: piece.thickness - piece.settlement_least,
                weight: (u64::from(piece.parts) << MASS_BITS) + u64::try_from(piece.mass).unwrap_or(0),
                base_cap,
                holding_cap,
                stock,
                thin,
                use_: piece.use_,
                base_limit: piece.base_height_limit,
                holding_limit: piece.holding_height_limit,
                base_apart: piece.base_apart,
                holding_apart: piece.holding_apart,
                spread_by: piece.spread_by,
            });
        }
        if PIECES_MAX < total {
            return Err(ProblemError::TooManyPieces { piece: most.1 });
        }
        Ok(())
    }

    /// Greatest unloaded height of a base stack with which the ram enters under the load at rest.
    pub(super) fn entry(&self, rise: i64) -> i64 {
        self.entry_at_start + rise
    }

    /// Least loaded height of the base stack that opens room for a holding stack of this unloaded height.
    pub(super) fn demand(&self, height: i64) -> i64 {
        height + self.height_to_demand
    }

    /// Rise at rest on a holding stack of this loaded height.
    pub(super) fn rise(&self, loaded: i64) -> i64 {
        loaded - self.packing_clearance
    }

    /// A stack as counts, in the order of the kinds.
    pub(super) fn counts(&self, stack: u128) -> Vec<u32> {
        (0..self.kinds.len()).map(|kind| self.lanes.count(stack, kind)).collect()
    }

    /// Whether a holding stack is a lower part of the one that ends the job.
    pub(super) fn lies_in_order(&self, stack: u128) -> bool {
        let mut whole = true;
        self.from_below.iter().all(|&kind| {
            let (count, all) = (self.lanes.count(stack, kind), self.lanes.count(self.goal.unwrap_or(0), kind));
            let fits = whole || count == 0;
            whole &= count == all;
            fits
        })
    }

    /// Loaded height of all that is left for a base stack beside a holding stack.
    pub(super) fn base_left(&self, holding: u128) -> i64 {
        let left = self.kinds.iter().enumerate().map(|(index, kind)| {
            let count = (kind.stock - self.lanes.count(holding, index)).min(kind.base_cap);
            i64::from(count) * kind.net
        });
        left.sum()
    }

    /// The pieces of a stack that may only stand in the first stack.
    pub(super) fn thick_part(&self, stack: u128) -> u128 {
        let thick = self.kinds.iter().enumerate().filter(|(_, kind)| !kind.thin);
        thick.map(|(index, _)| self.lanes.one(index) * u128::from(self.lanes.count(stack, index))).sum()
    }
}

/// What a plan costs after the number of cycles: pieces handled, then mass handled, then the greatest stack.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub(super) struct Cost {
    /// Pieces and mass handled, as a sum of weights.
    pub(super) handled: u64,
    /// Greatest unloaded height of a stack.
    pub(super) height: i64,
}

impl Cost {
    /// Nothing handled, no stack.
    pub(super) const ZERO: Self = Self { handled: 0, height: 0 };
    /// No plan.
    pub(super) const NONE: Self = Self { handled: u64::MAX, height: i64::MAX };

    /// Cost of one part after another.
    pub(super) fn and(self, other: Self) -> Self {
        Self { handled: self.handled.saturating_add(other.handled), height: self.height.max(other.height) }
    }

    /// The same with more handled.
    pub(super) fn plus(self, weight: u64) -> Self {
        Self { handled: self.handled.saturating_add(weight), ..self }
    }

    /// The cost at so many points.
    pub(super) fn times(self, points: u32) -> Self {
        Self { handled: self.handled.saturating_mul(u64::from(points)), ..self }
    }

    /// The same with less handled.
    pub(super) fn less(self, weight: u64) -> Self {
        if self.handled == u64::MAX { self } else { Self { handled: self.handled.saturating_sub(weight), ..self } }
    }

    /// The same with a stack of this height seen.
    pub(super) fn at_least(self, height: i64) -> Self {
        Self { height: self.height.max(height), ..self }
    }

    /// Pieces handled.
    pub(super) fn pieces(self) -> u64 {
        self.handled >> MASS_BITS
    }

    /// Mass handled, in tenths of a kilogram.
    pub(super) fn mass(self) -> u64 {
        self.handled & ((1 << MASS_BITS) - 1)
    }
}
