//! How a load goes up or down in packing lifts, as it is sent.

use super::case_wire::PointIds;
use super::words::WayWord;
use crate::read::List;
use crate::sent::{Gap, Name, StackCount};
use crate::wire_struct;

/// The greatest number of kinds of piece in a stack that is sent.
pub const MOST_KINDS_IN_A_STACK: usize = 16;
/// Pieces of a stack.
pub type StackPieces = List<StackPieceSent, 1, MOST_KINDS_IN_A_STACK>;
/// The two ends of a load.
pub type Ends = List<PointIds, 2, 2>;

wire_struct! {
    /// Pieces of one kind in a stack.
    StackPieceSent {
        /// The piece's id.
        piece: Name,
        /// How many.
        count: StackCount,
    }
}

wire_struct! {
    /// Two ends that go up in turn, one standing on its stacks while the other is raised.
    EndByEndSent {
        /// The ids of the points at each end; every point belongs to one.
        ends: Ends,
        /// By how much the ends may differ in height, at rest and during a raise.
        greatest_difference: Gap,
    }
}

wire_struct! {
    /// Which way the load goes, and how.
    SequenceSent {
        /// Up or down; up by default. Down: the clearances are those before it goes down, and the travel is how far.
        direction: Option<WayWord>,
        /// The stack on which a load that goes down stands at every ram, from the bottom up. Single pieces are drawn out from its
        /// top.
        stands_on: Option<StackPieces>,
        /// The ends, if they go up in turn with the rams moving over.
        end_by_end: Option<EndByEndSent>,
        /// What else follows the load within the follow-up gap and carries it while holding stacks are rebuilt.
        second_support: Option<Name>,
    }
}
