//! A weight, which people state as a mass or as a force.

use crate::quantity::{Force, LoadMass, Typed};
use serde::{Deserialize, Serialize};
use utoipa::ToSchema;

/// Standard gravity in m/s2, exact by definition (3rd General Conference on Weights and Measures, 1901).
pub const STANDARD_GRAVITY_M_PER_S2: f64 = 9.806_65;

/// A weight: the same thing as a mass and as the force it presses with under standard gravity.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize, ToSchema)]
pub struct Weight {
    /// The mass.
    pub mass: LoadMass,
    /// The force.
    pub force: Force,
}

impl Weight {
    /// From a force.
    pub fn from_force(force: Force) -> Self {
        Self { mass: LoadMass::from_si(force.si() / STANDARD_GRAVITY_M_PER_S2), force }
    }

    /// From a mass.
    pub fn from_mass(mass: LoadMass) -> Self {
        Self { mass, force: Force::from_si(mass.si() * STANDARD_GRAVITY_M_PER_S2) }
    }
}
