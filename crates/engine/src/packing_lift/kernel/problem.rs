//! The packing-lift problem of one group of equal points, in whole numbers, and its admission.
//!
//! Lengths are in tenths of a millimetre, masses in tenths of a kilogram, all per point. Whoever
//! fills a [`Problem`] rounds to the side that each field names; a field that two rules pull in
//! opposite directions says what has to be taken off elsewhere.

use std::sync::atomic::AtomicBool;

/// Greatest length accepted in any field, in tenths of a millimetre (30 m).
pub(crate) const LENGTH_MAX: i64 = 300_000;
/// Greatest mass of one piece accepted, in tenths of a kilogram (100 t).
pub(crate) const MASS_MAX: i64 = 1_000_000;
/// Greatest number of kinds of piece accepted.
pub(crate) const KINDS_MAX: usize = 16;
/// Greatest number of parts of one piece.
pub(crate) const PARTS_MAX: u32 = 64;
/// Greatest number of usable pieces per point (parts counted), over all kinds, after those that no stack could hold are left out.
pub(crate) const PIECES_MAX: u32 = 2_000;
/// Greatest number of cycles a plan may have.
pub(crate) const CYCLES_MAX: usize = 200;

/// Which stack a kind of piece may be used in.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub(crate) enum Use {
    /// Only under the ram.
    Base,
    /// Only under the load.
    Holding,
    /// In either stack.
    Either,
}

impl Use {
    /// Whether the piece may go into a base stack.
    pub(crate) fn in_base(self) -> bool {
        matches!(self, Self::Base | Self::Either)
    }

    /// Whether the piece may go into a holding stack.
    pub(crate) fn in_holding(self) -> bool {
        matches!(self, Self::Holding | Self::Either)
    }
}

/// One kind of packing piece.
#[derive(Debug, Clone, PartialEq, Eq, PartialOrd, Ord)]
pub(crate) struct PieceType {
    /// Unloaded thickness, in tenths of a millimetre. Round up: entry, room and follow-up use it as it is.
    pub thickness: i64,
    /// Least loss of thickness under the load, each time it is loaded, in tenths of a millimetre. Used by the
    /// over-jack allowance alone. Give the rounded thickness less the greatest loaded thickness rounded up.
    pub settlement_least: i64,
    /// Greatest loss of thickness under the load, in tenths of a millimetre. Used by reach, final height, entry and
    /// the rule against stepping down. Give the rounded thickness less the least loaded thickness rounded down.
    pub settlement_greatest: i64,
    /// Mass of one piece, in tenths of a kilogram. It only ranks plans; no rule depends on it.
    pub mass: i64,
    /// Parts that are carried by themselves (the members of a complete crib layer), at least one. It only ranks plans.
    pub parts: u32,
    /// Stacks in which it may be used.
    pub use_: Use,
    /// Pieces available at each point (stock divided by the number of points, rounded down).
    pub stock_per_point: u32,
    /// Greatest unloaded height of a base stack with such a piece in it, in tenths of a millimetre. Round down.
    pub base_height_limit: i64,
    /// Greatest unloaded height of a holding stack with such a piece in it, in tenths of a millimetre. Round down.
    pub holding_height_limit: i64,
    /// Kinds, one bit each, with which it may not stand in one base stack.
    pub base_apart: KindSet,
    /// Kinds with which it may not stand in one holding stack.
    pub holding_apart: KindSet,
    /// Kinds of which one must stand in the same base stack, to spread what bears on its head; empty if it needs none.
    pub spread_by: KindSet,
}

/// A set of kinds of piece: bit `k` for the kind with index `k`.
#[derive(Debug, Clone, Copy, Default, PartialEq, Eq, PartialOrd, Ord)]
pub(crate) struct KindSet(pub u16);

const _: () = assert!(KINDS_MAX <= 16, "a set of kinds has one bit for each");

impl KindSet {
    /// The set of one kind.
    pub(crate) fn one(kind: usize) -> Self {
        Self(u32::try_from(kind).ok().and_then(|kind| 1_u16.checked_shl(kind)).unwrap_or(0))
    }

    /// Both together.
    pub(crate) fn with(self, other: Self) -> Self {
        Self(self.0 | other.0)
    }

    /// Whether both have a kind in common.
    pub(crate) fn meets(self, other: Self) -> bool {
        self.0 & other.0 != 0
    }

    /// Whether nothing is in it.
    pub(crate) fn is_empty(self) -> bool {
        self.0 == 0
    }
}

/// What may be done to the holding stack while the load stands on the ram.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub(crate) enum Restack {
    /// Pieces are only added, one at a time, each as soon as the gap takes it.
    AddOnly,
    /// The stack may be rebuilt at will: the load stands on engaged lock collars or on a second support.
    Free {
        /// How far the load comes down from the top of the raise on to what holds it meanwhile, in tenths of a
        /// millimetre (spare stroke that engages a collar, and its settlement); zero if it does not. Round up.
        standing_loss: i64,
    },
}

/// How the last cycle may end on lock collars.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub(crate) struct CollarEnd {
    /// Stroke spent on freeing or engaging a collar, in tenths of a millimetre. Round up.
    pub spare_stroke: i64,
    /// How far the load sinks when the collars take it, in tenths of a millimetre. Round up.
    pub collar_settlement: i64,
}

/// Where the job ends.
#[derive(Debug, Clone, PartialEq, Eq, PartialOrd, Ord)]
pub(crate) enum Goal {
    /// On any stack within the wanted rise and its allowance.
    Window,
    /// On just this stack, by kind, within the window; the base stacks are taken out at the end, and count as handled. A load
    /// that is let down from such a stack is such a job, seen from its end.
    Stack {
        /// Pieces of each kind.
        counts: Vec<u32>,
        /// The kinds in it as they lie, from the bottom up, each in one piece of the stack; those too thick to follow up must
        /// lie below all others. While pieces are only added they arrive in this order.
        from_below: Vec<usize>,
    },
}

/// The whole problem, per point.
#[derive(Debug, Clone, PartialEq, Eq, PartialOrd, Ord)]
pub(crate) struct Problem {
    /// Clearance at the jacking point `S_0`, in tenths of a millimetre. Round down (entry); if that changed it, take one tenth off
    /// the usable stroke (reach).
    pub clearance: i64,
    /// Clearance at the packing point `Q_0`, in tenths of a millimetre. Round up (final height, entry); if that changed it, add one
    /// tenth to the packing gap (room) and take one off the allowance.
    pub packing_clearance: i64,
    /// Wanted rise `T`, in tenths of a millimetre, above zero. Round up.
    pub travel: i64,
    /// Over-jack allowance, in tenths of a millimetre: the settled rise ends in `travel ..= travel + allowance`. Round the sum down.
    pub allowance: i64,
    /// Closed height of the ram `c`, in tenths of a millimetre. Round up (entry); if that changed it, take one tenth off the usable
    /// stroke (reach).
    pub closed_height: i64,
    /// Plates and saddle that add to the ram's height `p`, in tenths of a millimetre. Round as the closed height.
    pub plates: i64,
    /// Gap needed over the ram for it to enter `g_r`, in tenths of a millimetre. Round up.
    pub ram_gap: i64,
    /// Usable stroke `U`, in tenths of a millimetre. Round down.
    pub usable_stroke: i64,
    /// Gap needed to slide in the last packing piece, or to free a stack, `g_h`, in tenths of a millimetre. Round up.
    pub packing_gap: i64,
    /// Greatest gap between load and next support `G`, in tenths of a millimetre. Round down.
    pub follow_up_gap: i64,
    /// What may be done to the holding stack at the top of a raise.
    pub restack: Restack,
    /// Given if the last cycle may end with the load on the lock collars.
    pub ends_on_collars: Option<CollarEnd>,
    /// Kinds of which one must stand in every base stack, if one must.
    pub base_needs: Option<KindSet>,
    /// Where the job ends.
    pub goal: Goal,
    /// Kinds of piece; their order ranks plans that are equal in everything else.
    pub pieces: Vec<PieceType>,
    /// Whether a holding stack may be placed before the first raise.
    pub first_stack_allowed: bool,
}

/// How much work may be done, and a flag to give up.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Effort<'a> {
    /// Number of states (stacks, or pairs of stacks) that may be looked at.
    pub states: u64,
    /// Read only; once true, the planner stops with [`super::Outcome::Stopped`].
    pub stop: &'a AtomicBool,
    /// Whether the least changes that cure an impossible job are sought.
    pub cures: Cures,
}

/// Whether the least changes that cure an impossible job are sought: they take more work than to find that there is no plan.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Cures {
    /// They are.
    Sought,
    /// Only the reason is wanted.
    LeftOut,
}

/// A length of the problem, for messages.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Field {
    /// Clearance at the jacking point.
    Clearance,
    /// Clearance at the packing point.
    PackingClearance,
    /// Wanted rise.
    Travel,
    /// Over-jack allowance.
    Allowance,
    /// Closed height of the ram.
    ClosedHeight,
    /// Plates and saddle.
    Plates,
    /// Gap over the ram.
    RamGap,
    /// Usable stroke.
    UsableStroke,
    /// Gap for the last piece.
    PackingGap,
    /// Follow-up gap.
    FollowUpGap,
    /// Loss of height on to what holds the load while the stack is rebuilt.
    StandingLoss,
    /// Spare stroke of the collars.
    SpareStroke,
    /// Settlement of the collars.
    CollarSettlement,
}

/// Why a problem is not accepted.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum ProblemError {
    /// A length is negative (or, for the travel, not above zero) or above [`LENGTH_MAX`].
    LengthOutOfRange {
        /// The field.
        field: Field,
        /// Its value, in tenths of a millimetre.
        value: i64,
    },
    /// There are more than [`KINDS_MAX`] kinds of piece.
    TooManyKinds {
        /// Their number.
        kinds: usize,
    },
    /// The stack on which the job ends does not speak of every kind.
    GoalOfOtherKinds {
        /// Number of kinds that it speaks of.
        kinds: usize,
    },
    /// A thickness is not in `1 ..= LENGTH_MAX`.
    ThicknessOutOfRange {
        /// Index of the kind.
        piece: usize,
    },
    /// Not `0 <= least <= greatest < thickness`.
    SettlementOutOfRange {
        /// Index of the kind.
        piece: usize,
    },
    /// A mass is not in `0 ..= MASS_MAX`.
    MassOutOfRange {
        /// Index of the kind.
        piece: usize,
    },
    /// Parts are not in `1 ..= PARTS_MAX`.
    PartsOutOfRange {
        /// Index of the kind.
        piece: usize,
    },
    /// A height limit is not in `0 ..= LENGTH_MAX`.
    LimitOutOfRange {
        /// Index of the kind.
        piece: usize,
    },
    /// More pieces could be used at a point than the planner counts.
    TooManyPieces {
        /// Index of the kind with the most.
        piece: usize,
    },
}

impl Problem {
    /// The problem of a load that is let down from a stack to where this one begins, seen from its end.
    pub(crate) fn let_down_from(&self, stack: Vec<u32>, from_below: Vec<usize>) -> Self {
        let sum = |of: fn(&PieceType) -> i64| -> i64 {
            let heights =
                self.pieces.iter().zip(&stack).map(|(piece, count)| of(piece).saturating_mul(i64::from(*count)));
            heights.fold(0, i64::saturating_add)
        };
        let least = sum(|piece| piece.thickness - piece.settlement_greatest);
        let greatest = sum(|piece| piece.thickness - piece.settlement_least);
        Self {
            travel: least.saturating_sub(self.packing_clearance),
            allowance: greatest.saturating_sub(least),
            goal: Goal::Stack { counts: stack, from_below },
            ..self.clone()
        }
    }

    /// Refuses numbers that the planner was not built for.
    ///
    /// # Errors
    /// The first [`ProblemError`] found, in the order of the fields.
    pub(crate) fn admit(&self) -> Result<(), ProblemError> {
        for (field, value) in self.lengths() {
            let least = i64::from(field == Field::Travel);
            if value < least || LENGTH_MAX < value {
                return Err(ProblemError::LengthOutOfRange { field, value });
            }
        }
        if KINDS_MAX < self.pieces.len() {
            return Err(ProblemError::TooManyKinds { kinds: self.pieces.len() });
        }
        if let Goal::Stack { counts, .. } = &self.goal
            && counts.len() != self.pieces.len()
        {
            return Err(ProblemError::GoalOfOtherKinds { kinds: counts.len() });
        }
        for (piece, kind) in self.pieces.iter().enumerate() {
            if kind.thickness < 1 || LENGTH_MAX < kind.thickness {
                return Err(ProblemError::ThicknessOutOfRange { piece });
            }
            let in_order = 0 <= kind.settlement_least
                && kind.settlement_least <= kind.settlement_greatest
                && kind.settlement_greatest < kind.thickness;
            if !in_order {
                return Err(ProblemError::SettlementOutOfRange { piece });
            }
            if kind.mass < 0 || MASS_MAX < kind.mass {
                return Err(ProblemError::MassOutOfRange { piece });
            }
            if !(1..=PARTS_MAX).contains(&kind.parts) {
                return Err(ProblemError::PartsOutOfRange { piece });
            }
            let limits = [kind.base_height_limit, kind.holding_height_limit];
            if limits.iter().any(|limit| !(0..=LENGTH_MAX).contains(limit)) {
                return Err(ProblemError::LimitOutOfRange { piece });
            }
        }
        Ok(())
    }

    fn lengths(&self) -> impl Iterator<Item = (Field, i64)> {
        let loss = match self.restack {
            Restack::AddOnly => 0,
            Restack::Free { standing_loss } => standing_loss,
        };
        let (spare, sink) = self.ends_on_collars.map_or((0, 0), |end| (end.spare_stroke, end.collar_settlement));
        [
            (Field::Clearance, self.clearance),
            (Field::PackingClearance, self.packing_clearance),
            (Field::Travel, self.travel),
            (Field::Allowance, self.allowance),
            (Field::ClosedHeight, self.closed_height),
            (Field::Plates, self.plates),
            (Field::RamGap, self.ram_gap),
            (Field::UsableStroke, self.usable_stroke),
            (Field::PackingGap, self.packing_gap),
            (Field::FollowUpGap, self.follow_up_gap),
            (Field::StandingLoss, loss),
            (Field::SpareStroke, spare),
            (Field::CollarSettlement, sink),
        ]
        .into_iter()
    }
}
