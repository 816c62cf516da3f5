//! The bounds of every quantity that is sent.

use super::{Bound, Sent};
use ramwright_units::{Dimension, Measured, STANDARD_GRAVITY_M_PER_S2, Typed, Unit, Weight};

/// Declares bounds of quantities.
macro_rules! bounds {
    ($($(#[doc = $words:literal])+ $name:ident: $quantity:ident, $least:literal ..= $greatest:literal $unit:literal;)+) => {
        $(
            $(#[doc = $words])+
            pub type $name = Sent<bound::$name>;

            impl Bound for bound::$name {
                type Quantity = ramwright_units::$quantity;
                const NAME: &'static str = stringify!($name);
                const LEAST: (f64, &'static str) = ($least, $unit);
                const GREATEST: f64 = $greatest;
                const WORDS: &'static str = concat!($($words),+).trim_ascii();
                const DIMENSIONS: &'static [Dimension] = &[dimension_of!($quantity)];
                fn quantity(measured: Measured) -> Self::Quantity {
                    <ramwright_units::$quantity as Typed>::from_si(measured.si())
                }
            }
        )+

        /// Markers that carry the bounds.
        pub mod bound {
            $($(#[doc = $words])+ #[derive(Clone, Debug, PartialEq)] pub struct $name;)+
            /// A weight, as a mass or as a force.
            #[derive(Clone, Debug, PartialEq)]
            pub struct WeightOfLoad;
        }

        /// Name, least, greatest and unit of every bounded quantity, for `GET /v1/limits`.
        pub const QUANTITY_BOUNDS: &[(&str, f64, f64, &str)] = &[
            ("WeightOfLoad", <bound::WeightOfLoad as Bound>::LEAST.0, <bound::WeightOfLoad as Bound>::GREATEST, <bound::WeightOfLoad as Bound>::LEAST.1),
            $((stringify!($name), $least, $greatest, $unit),)+
        ];
    };
}

macro_rules! dimension_of {
    (Force) => {
        Dimension::Force
    };
    (Length) => {
        Dimension::Length
    };
    (HoseLength) => {
        Dimension::Length
    };
    (Area) => {
        Dimension::Area
    };
    (OilPressure) => {
        Dimension::Pressure
    };
    (Stress) => {
        Dimension::Pressure
    };
    (OilVolume) => {
        Dimension::Volume
    };
    (Flow) => {
        Dimension::Flow
    };
    (Power) => {
        Dimension::Power
    };
    (PieceMass) => {
        Dimension::Mass
    };
    (Angle) => {
        Dimension::Angle
    };
    (Stiffness) => {
        Dimension::Stiffness
    };
    (RotationalStiffness) => {
        Dimension::RotationalStiffness
    };
    (Temperature) => {
        Dimension::Temperature
    };
    (KinematicViscosity) => {
        Dimension::KinematicViscosity
    };
    (GroundPressure) => {
        Dimension::Pressure
    };
    (VolumePerLength) => {
        Dimension::VolumePerLength
    };
    (SecondMoment) => {
        Dimension::SecondMoment
    };
    (Time) => {
        Dimension::Time
    };
}

bounds! {
    /// A force.
    AnyForce: Force, 0.001 ..= 1_000_000.0 "kN";
    /// A force that may be zero.
    ForceOrZero: Force, 0.0 ..= 1_000_000.0 "kN";
    /// A position in plan or height; it may be negative.
    Position: Length, -1000.0 ..= 1000.0 "m";
    /// A tolerance or level difference.
    Tolerance: Length, 0.0 ..= 10.0 "m";
    /// A clearance under the load.
    Clearance: Length, 1.0 ..= 20_000.0 "mm";
    /// A travel.
    Travel: Length, 0.1 ..= 20_000.0 "mm";
    /// A handling time.
    HandlingTime: Time, 0.0 ..= 86_400.0 "s";
    /// A time for setting up and taking down.
    SetUpTime: Time, 0.0 ..= 1000.0 "h";
    /// A gap or thickness that may be zero.
    Gap: Length, 0.0 ..= 1000.0 "mm";
    /// A height difference within which points are held; nothing is held without any.
    HeldDifference: Length, 0.1 ..= 1000.0 "mm";
    /// A height or an extension that was read on site.
    HeightRead: Length, 0.0 ..= 50_000.0 "mm";
    /// The side of a pad or piece.
    Side: Length, 1.0 ..= 20_000.0 "mm";
    /// A dimension of a ram.
    RamLength: Length, 1.0 ..= 20_000.0 "mm";
    /// A bore that may be zero.
    Bore: Length, 0.0 ..= 2000.0 "mm";
    /// The effective or annulus area of a ram.
    RamArea: Area, 0.1 ..= 100_000.0 "cm2";
    /// A pressure of oil.
    Pressure: OilPressure, 1.0 ..= 4000.0 "bar";
    /// A pressure of oil that may be zero.
    PressureOrZero: OilPressure, 0.0 ..= 4000.0 "bar";
    /// A strength.
    Strength: Stress, 10.0 ..= 3000.0 "MPa";
    /// A strength or allowable stress of timber or concrete.
    TimberStress: Stress, 0.1 ..= 200.0 "MPa";
    /// What ground may carry.
    GroundStress: GroundPressure, 1.0 ..= 100_000.0 "kPa";
    /// The bulk modulus of oil.
    BulkModulus: OilPressure, 1000.0 ..= 100_000.0 "bar";
    /// A modulus of elasticity.
    Modulus: Stress, 100.0 ..= 1_000_000.0 "MPa";
    /// A second moment of area.
    SecondMomentOfArea: SecondMoment, 1.0 ..= 1_000_000_000.0 "cm4";
    /// The height of a column of oil.
    OilHeight: Length, 1.0 ..= 20_000.0 "mm";
    /// The pressure of wind.
    WindPressure: GroundPressure, 0.001 ..= 20.0 "kPa";
    /// An area that wind meets.
    WindArea: Area, 0.001 ..= 10_000.0 "m2";
    /// A direction in plan, as an angle from x towards y.
    Direction: Angle, -360.0 ..= 360.0 "deg";
    /// A flow.
    PumpFlow: Flow, 0.001 ..= 1000.0 "L/min";
    /// A volume of oil.
    Oil: OilVolume, 0.01 ..= 100_000.0 "L";
    /// The oil of one stroke of a hand pump.
    StrokeVolume: OilVolume, 0.1 ..= 2000.0 "mL";
    /// By how much a hose swells, as oil for each length of it.
    SwellingOfHose: VolumePerLength, 0.0 ..= 1000.0 "mL/m";
    /// The length of a hose.
    LengthOfHose: HoseLength, 0.1 ..= 500.0 "m";
    /// The mass of a piece that is handled.
    MassOfPiece: PieceMass, 0.01 ..= 100_000.0 "kg";
    /// A motor's power.
    MotorPower: Power, 0.01 ..= 1000.0 "kW";
    /// A tilt.
    Tilt: Angle, 0.0 ..= 45.0 "deg";
    /// The angle of a ram's axis from the plumb.
    AxisAngle: Angle, 0.0 ..= 90.0 "deg";
    /// An interference, which is above zero.
    InterferenceSize: Length, 0.0001 ..= 20.0 "mm";
    /// A least interference, which may be zero.
    InterferenceOrZero: Length, 0.0 ..= 20.0 "mm";
    /// A plastic section modulus.
    PlasticModulus: OilVolume, 0.001 ..= 1_000_000.0 "cm3";
    /// A stiffness of a support.
    SupportStiffness: Stiffness, 0.001 ..= 1_000_000.0 "kN/mm";
    /// A stiffness of a base against turning.
    BaseStiffness: RotationalStiffness, 1.0 ..= 1_000_000_000.0 "kN.m/rad";
    /// A temperature of oil.
    OilTemperature: Temperature, -30.0 ..= 100.0 "degC";
    /// A kinematic viscosity.
    Viscosity: KinematicViscosity, 2.0 ..= 5000.0 "mm2/s";
}

/// A weight, as a mass or as a force.
pub type WeightOfLoad = Sent<bound::WeightOfLoad>;

impl Bound for bound::WeightOfLoad {
    type Quantity = Weight;
    const NAME: &'static str = "WeightOfLoad";
    const LEAST: (f64, &'static str) = (1.0, "kg");
    const GREATEST: f64 = 1e8;
    const WORDS: &'static str = "A weight, as a mass or as a force (standard gravity 9.80665 m/s2 between them).";
    const DIMENSIONS: &'static [Dimension] = &[Dimension::Mass, Dimension::Force];

    fn quantity(measured: Measured) -> Weight {
        match measured.unit.dimension {
            Dimension::Force => Weight::from_force(Typed::from_si(measured.si())),
            _ => Weight::from_mass(Typed::from_si(measured.si())),
        }
    }

    fn comparable_si(measured: Measured) -> f64 {
        Self::quantity(measured).mass.si()
    }

    fn bound_in(bound_si: f64, unit: &Unit) -> f64 {
        let gravity = if unit.dimension == Dimension::Force { STANDARD_GRAVITY_M_PER_S2 } else { 1.0 };
        bound_si * gravity / unit.factor
    }
}
