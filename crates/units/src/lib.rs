//! Quantities with units: parsing, dimension-safe types, unit profiles and display.
//!
//! Every physical value in Ramwright is one of the newtypes of [`quantity`], held in SI.
//! A unit is met only here: on the way in by [`parse_quantity`], on the way out by [`In`].

mod kind;
mod parse;
mod profile;
pub mod quantity;
mod range;
mod unit;
mod weight;

pub use kind::Kind;
pub use parse::{Measured, ParseError, in_unit, parse_quantity};
pub use profile::{In, Profile};
pub use quantity::{
    Angle, Area, Flow, Force, GroundPressure, HoseLength, KinematicViscosity, Length, LoadMass, Moment, OilPressure,
    OilVolume, PieceMass, Power, Quantity, RotationalStiffness, SecondMoment, Speed, Stiffness, Stress, Temperature,
    Time, Typed, VolumePerLength,
};
pub use range::{ForceRange, LengthRange, OilPressureRange, Range};
pub use unit::{Dimension, LBF_N, PSI_PA, UNITS, Unit, by_symbol};
pub use weight::{STANDARD_GRAVITY_M_PER_S2, Weight};
