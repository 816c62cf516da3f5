//! The ram: what it is, and the checks made on one ram or on rams side by side.

mod annulus;
mod capacity;
mod collar;
mod fit;
mod footprint;
mod handling;
pub(crate) mod kernel;
mod limits;
mod model;
mod mounting;
mod saddle;
mod section;
mod side_load;
mod stability;
mod stress;
mod stroke;
mod tension;
mod warm_oil;

pub use annulus::{ReturnLine, return_pressure};
pub use capacity::{CapacityLimit, capacity, pressure, pull_capacity};
pub use collar::collar_release;
pub use fit::{closed_height, closed_height_of_a_pull};
pub use footprint::{Pad, footprint, room_of_one};
pub use handling::handling;
pub use limits::stated_limit;
pub use model::{Action, Material, Ram};
pub use mounting::{Mounting, own_weight};
pub use saddle::{saddle_angle, saddle_off_centre};
pub(crate) use section::ring_section;
pub use side_load::{Sideways, side_load, sideways_force};
pub use stability::{BaseFixity, Extended, Head, stability};
pub use stress::{Bending, stress};
pub use stroke::{extension_before_a_pull, extension_in_frame, stroke};
pub use tension::tension;
pub(crate) use warm_oil::shut_in_gain;
pub use warm_oil::{OIL_EXPANSION_PER_K, STEEL_EXPANSION_PER_K, WarmOil, rise, warm_oil};
