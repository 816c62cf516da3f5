//! Bounds that only catalogue entries need.

use crate::sent::{Bound, Sent};
use ramwright_units::{Dimension, Length, Measured, Typed};

/// Declares bounded lengths, in mm.
macro_rules! length_bounds {
    ($($(#[doc = $words:literal])+ $name:ident: $least:literal ..= $greatest:literal;)+) => {
        $(
            $(#[doc = $words])+
            pub type $name = Sent<bound::$name>;

            impl Bound for bound::$name {
                type Quantity = Length;
                const NAME: &'static str = stringify!($name);
                const LEAST: (f64, &'static str) = ($least, "mm");
                const GREATEST: f64 = $greatest;
                const WORDS: &'static str = concat!($($words),+).trim_ascii();
                const DIMENSIONS: &'static [Dimension] = &[Dimension::Length];
                fn quantity(measured: Measured) -> Length {
                    Length::from_si(measured.si())
                }
            }
        )+

        /// Markers that carry the bounds.
        pub mod bound {
            $($(#[doc = $words])+ #[derive(Clone, Debug, PartialEq)] pub struct $name;)+
        }

        /// Name, least, greatest and unit of the bounds declared here, for `GET /v1/limits`.
        pub const CATALOGUE_BOUNDS: &[(&str, f64, f64, &str)] = &[$((stringify!($name), $least, $greatest, "mm"),)+];
    };
}

length_bounds! {
    /// The inside diameter of a hose.
    HoseBore: 1.0 ..= 100.0;
    /// The height that a packing piece adds.
    PieceThickness: 0.1 ..= 5000.0;
}
