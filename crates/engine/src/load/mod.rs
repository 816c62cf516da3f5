//! What each jacking point really carries.

mod case;
mod equilibrium;
mod kernel;
mod order;
mod result;
mod shares;

pub use case::{Centre, Horizontal, JackingPoint, Level, LoadCase, Placed, Rule, Sharing, StatedShare, Task};
pub use equilibrium::NoEquilibrium;
pub use order::point_order;
pub use result::{LoadShares, Method, PointShare, Tipping};
pub use shares::{share_load, without_point};
