//! Stacks of packing: what stands under a ram (base stack) or under the load (holding stack).
//!
//! The planner counts pieces; their order is taken to be the widest at the bottom, concentric and plumb but for the lean stated.

mod bearing;
mod crib;
mod friction;
mod joints;
mod model;
mod settlement;
mod shape;

pub use bearing::{StackLoad, stack_bearing};
pub use crib::{contact_capacity, crib_capacity};
pub use friction::{Restraint, RestraintKind, Sliding, friction_check, restraint_check};
pub use joints::OffCentre;
pub use model::{Stack, UnknownPiece};
pub use settlement::{impact_factor, settlement_check, shortening};
pub use shape::{greatest_height, height_check, overhang_check, plumb_check, plumb_height};
