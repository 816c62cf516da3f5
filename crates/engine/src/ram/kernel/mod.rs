//! Numeric kernels of the ram: plain `f64` in SI units, the unit in each name.
//!
//! Typed quantities stay in the modules above; here they have been unwrapped.

pub(crate) mod column_curve;
pub(crate) mod two_section_column;
