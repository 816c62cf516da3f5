//! What each jacking point really carries.

mod actions;
mod advice;
mod answer;
mod case;
mod centre;
mod checks;
mod equilibrium;
mod girder;
pub(crate) mod kernel;
mod losses;
mod order;
mod parts;
mod phase;
mod phases;
mod result;
mod shares;
mod spread;
mod stiffness;
mod tipping;
mod weighing;

pub use case::{
    Actions, Horizontal, JackingPoint, LoadCase, Placed, Record, Rule, Sharing, Slope, StatedShare, Task, Wind,
};
pub use centre::Centre;
pub use equilibrium::NoEquilibrium;
pub use girder::{GirderLoad, GirderModel, GirderSection};
pub use order::point_order;
pub use parts::{Part, PartsError, Whole, weigh_parts};
pub use phases::{Carrier, OwnBearing, PhasePlan, SupportKind};
pub use result::{
    Advice, Bending, Combination, Exactness, GoverningEnds, LoadShares, Method, PhaseShares, PointLost, PointShare,
    Sensitivity, SupportShare, Tipping,
};
pub use shares::{envelope_alone, share_load, without_point};
pub use stiffness::{
    HoseSwelling, OilColumn, StiffnessError, block_stiffness, hose_stiffness, hose_swelling, in_series,
    linked_stiffness, oil_stiffness,
};
pub use weighing::{Misfit, Reading, Weighed, WeighedPoint, WeighedUse, WeighingError, weigh};
