//! The ram: what it is, and the checks made on one ram or on rams side by side.

mod capacity;
mod fit;
mod footprint;
mod kernel;
mod limits;
mod model;
mod side_load;
mod stability;
mod stroke;

pub use capacity::{CapacityLimit, capacity, pressure, pull_capacity};
pub use fit::closed_height;
pub use footprint::{Pad, footprint, room_of_one};
pub use limits::stated_limit;
pub use model::{Action, Material, Ram};
pub use side_load::side_load;
pub use stability::{BaseFixity, Extended, Head, stability};
pub use stroke::{extension_in_frame, stroke};
