//! Numeric kernels of the oil circuit: plain `f64` in SI units, the unit in each name.
//!
//! Typed quantities stay in the modules above; here they have been unwrapped.

pub(crate) mod compression;
pub(crate) mod friction;
pub(crate) mod hose;
pub(crate) mod run;
pub(crate) mod viscosity;
