//! The force that a job in a machine frame needs, estimated from the work to be done.
//!
//! An estimate stands where a stated reaction would: least, expected and greatest force, with the lines that led there.
//! Every formula is for the force along the ram; what the frame itself bears is not looked at.

mod air_bending;
mod cycle;
mod error;
mod estimate;
mod fit;
mod range;
mod straightening;

#[cfg(test)]
mod tests;

pub use air_bending::{AirBending, DieKind, GREATEST_OPENING, LEAST_EDGE_OPENING, LEAST_V_OPENING, air_bending};
pub use cycle::{FrameCycle, Stroke, StrokeTime, cycle_times};
pub use error::ForceError;
pub use estimate::{EstimateMethod, ForceEstimate, Work, estimate, hub_bore};
pub use fit::{
    FitStress, GREATEST_FIT_STRAIN, InterferenceFit, Member, contact_pressure, hub_bore_hoop, interference_fit,
};
pub use straightening::{BentSection, LEAST_SPAN_TO_DEPTH, Straightening, straightening};

pub(crate) use range::ends;
