//! What stands under and over the ram: timber, steel plates, concrete, ground, and the stacks built of them.

mod basis;
mod concrete;
mod ground;
mod line_of_force;
mod materials;
mod plate;
mod soffit;
pub mod stack;
mod timber;

pub use basis::{Allowable, DesignBasis, DesignBasisUsed, Duration, Eurocode, Nds, ServiceClass};
pub use concrete::{ConcreteBearing, concrete_bearing, punching};
pub use ground::{Ground, Spread, ground_pressure, spread_side};
pub use line_of_force::{ConcreteFoundation, Foundation, Handling, HoldingValve, LineOfForce, PointLine, SteelPlate};
pub use materials::{
    En338Class, GroundClass, MaterialValue, NdsSpecies, Surface, Valued, friction, materials, presumptive,
};
pub use plate::{Core, plate_bending, thickness_by_strength};
pub use soffit::{Face, Soffit, soffit_bearing, steel_bearing, steel_strength};
pub(crate) use timber::unconfirmed;
pub use timber::{
    Contact, Resistance, Support, Timber, bearing_coefficient, bearing_factor, effective_length, modification_factor,
    resistance, timber_bearing,
};
