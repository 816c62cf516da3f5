//! What a quantity is for, and in which unit each profile answers it.

use crate::profile::Profile;
use crate::unit::{Dimension, Unit, by_symbol};
use serde::{Deserialize, Serialize};
use utoipa::ToSchema;

/// The purpose of a quantity. Kinds of one dimension may be answered in different units.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize, ToSchema)]
#[serde(rename_all = "snake_case")]
#[allow(missing_docs, reason = "the names say all there is to say")]
pub enum Kind {
    Number,
    Force,
    LoadMass,
    PieceMass,
    Length,
    HoseLength,
    Area,
    SecondMoment,
    OilPressure,
    Stress,
    GroundPressure,
    OilVolume,
    Flow,
    Speed,
    Stiffness,
    Moment,
    RotationalStiffness,
    Power,
    Time,
    Temperature,
    Angle,
    KinematicViscosity,
    VolumePerLength,
}

/// One row: kind, dimension, metric symbol, US symbol.
const TABLE: &[(Kind, Dimension, &str, &str)] = &[
    (Kind::Number, Dimension::Number, "1", "1"),
    (Kind::Force, Dimension::Force, "kN", "lbf"),
    (Kind::LoadMass, Dimension::Mass, "t", "lb"),
    (Kind::PieceMass, Dimension::Mass, "kg", "lb"),
    (Kind::Length, Dimension::Length, "mm", "in"),
    (Kind::HoseLength, Dimension::Length, "m", "ft"),
    (Kind::Area, Dimension::Area, "cm2", "in2"),
    (Kind::SecondMoment, Dimension::SecondMoment, "cm4", "in4"),
    (Kind::OilPressure, Dimension::Pressure, "bar", "psi"),
    (Kind::Stress, Dimension::Pressure, "MPa", "psi"),
    (Kind::GroundPressure, Dimension::Pressure, "kPa", "psf"),
    (Kind::OilVolume, Dimension::Volume, "L", "gal_us"),
    (Kind::Flow, Dimension::Flow, "L/min", "gpm_us"),
    (Kind::Speed, Dimension::Speed, "mm/s", "in/s"),
    (Kind::Stiffness, Dimension::Stiffness, "kN/mm", "lbf/in"),
    (Kind::Moment, Dimension::Moment, "kN.m", "lbf.ft"),
    (Kind::RotationalStiffness, Dimension::RotationalStiffness, "kN.m/rad", "lbf.ft/rad"),
    (Kind::Power, Dimension::Power, "kW", "hp"),
    (Kind::Time, Dimension::Time, "s", "s"),
    (Kind::Temperature, Dimension::Temperature, "degC", "degF"),
    (Kind::Angle, Dimension::Angle, "deg", "deg"),
    (Kind::KinematicViscosity, Dimension::KinematicViscosity, "mm2/s", "mm2/s"),
    (Kind::VolumePerLength, Dimension::VolumePerLength, "mL/m", "in3/ft"),
];

impl Kind {
    /// Every kind, in the order of the table of units.
    pub fn all() -> impl Iterator<Item = Self> {
        TABLE.iter().map(|row| row.0)
    }

    fn row(self) -> &'static (Self, Dimension, &'static str, &'static str) {
        // A test holds that every kind has its row; the first row is a harmless fallback, never reached.
        const FIRST: &(Kind, Dimension, &str, &str) = &(Kind::Number, Dimension::Number, "1", "1");
        TABLE.iter().find(|row| row.0 == self).unwrap_or(FIRST)
    }

    /// What a quantity of this kind measures.
    pub fn dimension(self) -> Dimension {
        self.row().1
    }

    /// The symbol in which a profile answers this kind.
    pub fn symbol(self, profile: Profile) -> &'static str {
        match profile {
            Profile::Metric => self.row().2,
            Profile::Us => self.row().3,
        }
    }

    /// The unit in which a profile answers this kind.
    pub fn unit(self, profile: Profile) -> Option<&'static Unit> {
        by_symbol(self.symbol(profile))
    }

    /// The kind that a profile answers in this unit: the first in the table where several share it.
    pub fn answered_in(symbol: &str) -> Option<Self> {
        TABLE.iter().find(|row| row.2 == symbol).or_else(|| TABLE.iter().find(|row| row.3 == symbol)).map(|row| row.0)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn verify_every_kind_has_a_row_and_units_of_its_dimension() {
        for kind in Kind::all() {
            assert_eq!(kind.row().0, kind);
            for profile in [Profile::Metric, Profile::Us] {
                assert_eq!(kind.unit(profile).unwrap().dimension, kind.dimension(), "{kind:?}");
            }
        }
        assert_eq!(Kind::all().count(), 23);
    }
}
