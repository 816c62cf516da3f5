//! The calculation that a saved answer names, computed again as if its request had been sent.

use super::Stamp;
use super::saved::Saved;
use crate::catalogue::Catalogues;
use crate::json::Node;
use crate::operation::{
    AssessCircuit, Operation, PlanLift, Prepared, SequencePackingLifts, ShareLoad, SizeRamSet, VerifyRamSet,
};
use crate::problem::{Problem, ProblemCode};
use std::sync::atomic::AtomicBool;

/// An answer of now, read back from what would be sent.
pub(super) struct Recomputed {
    /// What would be sent.
    pub(super) bytes: Vec<u8>,
    /// The same as a tree.
    pub(super) node: Node,
    /// What it says of itself.
    pub(super) stamp: Stamp,
}

macro_rules! operations {
    ($($operation:ty),+ $(,)?) => {
        /// The name of every calculation.
        pub(super) const NAMES: &[&str] = &[$(<$operation>::NAME),+];

        fn answer(saved: &Saved<'_>, catalogues: &Catalogues, stop: &AtomicBool) -> Result<Vec<u8>, Problem> {
            $(if saved.operation == <$operation>::NAME {
                return Prepared::<$operation>::from_node(saved.request, catalogues)?.compute(stop)?.to_json();
            })+
            Err(impossible("an operation of this name was read and is none"))
        }
    };
}

operations!(ShareLoad, SizeRamSet, VerifyRamSet, SequencePackingLifts, AssessCircuit, PlanLift);

/// Computes a saved answer again.
pub(super) fn recompute(saved: &Saved<'_>, catalogues: &Catalogues, stop: &AtomicBool) -> Result<Recomputed, Problem> {
    let bytes = answer(saved, catalogues, stop)?;
    let node = Node::parse(&bytes).map_err(|error| impossible(&error.to_string()))?;
    let stamp = serde_json::from_slice(&bytes).map_err(|error| impossible(&error.to_string()))?;
    Ok(Recomputed { bytes, node, stamp })
}

fn impossible(detail: &str) -> Problem {
    Problem::new(ProblemCode::InternalError, detail)
}
