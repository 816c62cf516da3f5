//! The problem of several groups, each of equal points.

use crate::packing_lift::kernel::problem::Problem;

/// Points that are alike.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(crate) struct Group {
    /// How many.
    pub points: u32,
    /// Their problem, with the whole stock to themselves.
    pub problem: Problem,
    /// Pieces of each kind per point with which plans are sought; fewer than there are where all would be too many to search.
    pub searched: Vec<u32>,
}

impl Group {
    /// The problem with the pieces with which plans are sought.
    pub(super) fn sought(&self) -> Problem {
        let mut sought = self.problem.clone();
        for (piece, count) in sought.pieces.iter_mut().zip(&self.searched) {
            piece.stock_per_point = piece.stock_per_point.min(*count);
        }
        sought
    }

    /// Whether that is all pieces.
    pub(super) fn is_whole(&self) -> bool {
        self.problem.pieces.iter().zip(&self.searched).all(|(piece, count)| piece.stock_per_point <= *count)
    }
}

/// How the groups go up.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Manner {
    /// All in every cycle.
    Together {
        /// By how much rises may differ, at rest and at the top, in tenths of a millimetre. Round down.
        level_tolerance: i64,
    },
    /// One in every cycle, while the others stand on their stacks; the rams and their base stacks move over.
    EndByEnd {
        /// By how much rises may differ, at rest and during a raise, in tenths of a millimetre. Round down.
        greatest_difference: i64,
    },
}

/// The whole problem. All groups have the same kinds of piece in the same order.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(crate) struct JointProblem {
    /// The groups.
    pub groups: Vec<Group>,
    /// Pieces of each kind on site, for all groups together.
    pub stock: Vec<u32>,
    /// How the groups go up.
    pub manner: Manner,
}
