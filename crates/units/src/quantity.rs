//! The dimension-safe types, each a thin wrapper of a `uom` quantity.
//!
//! `uom` checks every operator below: one that mixed dimensions up would not compile.
//! Its types stay private; the wrappers also keep apart what shares a dimension but not a meaning (oil pressure and stress).

use crate::kind::Kind;
use crate::profile;
use serde::de::Error as _;
use serde::ser::{Error as _, SerializeStruct};
use serde::{Deserialize, Deserializer, Serialize, Serializer};
use std::borrow::Cow;
use std::marker::PhantomData;
use std::ops::{Add, Div, Mul, Neg, Sub};
use uom::si::{ISQ, SI};
use uom::typenum::{N1, N2, P2, P4, Z0};
use utoipa::openapi::schema::{KnownFormat, ObjectBuilder, SchemaFormat, Type};
use utoipa::openapi::{RefOr, Schema};
use utoipa::{PartialSchema, ToSchema};

/// A quantity whose kind is fixed by its Rust type.
pub trait Typed: Copy + Into<Quantity> {
    /// Its kind, and so its unit in each profile.
    const KIND: Kind;
    /// The name of its schema.
    const NAME: &'static str;
    /// The value in SI.
    fn si(self) -> f64;
    /// From a value in SI.
    fn from_si(value_si: f64) -> Self;
}

/// A quantity whose kind is known only when the program runs, as in the lines of a calculation.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Quantity {
    /// What it is for.
    pub kind: Kind,
    /// The value in SI.
    pub value_si: f64,
}

impl Quantity {
    /// The value in the unit in which a profile answers it.
    pub fn value_in(self, profile: crate::Profile) -> f64 {
        self.kind.unit(profile).map_or(self.value_si, |unit| (self.value_si - unit.offset) / unit.factor)
    }
}

impl From<f64> for Quantity {
    fn from(value_si: f64) -> Self {
        Self { kind: Kind::Number, value_si }
    }
}

impl Serialize for Quantity {
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        let profile = profile::current().ok_or_else(|| S::Error::custom("a quantity is written only inside `In`"))?;
        let value = self.value_in(profile);
        if !value.is_finite() {
            return Err(S::Error::custom("a quantity that is not finite"));
        }
        let mut fields = serializer.serialize_struct("Quantity", 2)?;
        // Adding zero turns -0.0 into 0.0: the sign of zero has no meaning and must not differ between answers.
        fields.serialize_field("value", &(value + 0.0))?;
        fields.serialize_field("unit", self.kind.symbol(profile))?;
        fields.end()
    }
}

/// The shape of every quantity on the wire.
#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct Wire {
    value: f64,
    unit: String,
}

impl<'de> Deserialize<'de> for Quantity {
    fn deserialize<D: Deserializer<'de>>(deserializer: D) -> Result<Self, D::Error> {
        let wire = Wire::deserialize(deserializer)?;
        let measured = crate::in_unit(wire.value, &wire.unit).map_err(D::Error::custom)?;
        let kind = Kind::answered_in(&wire.unit).ok_or_else(|| D::Error::custom("a unit of no answer"))?;
        Ok(Self { kind, value_si: measured.si() })
    }
}

/// The schema of `{"value", "unit"}` with the symbols that may stand there.
pub(crate) fn value_and_unit(symbols: &[&'static str], description: &str) -> RefOr<Schema> {
    let number = ObjectBuilder::new()
        .schema_type(Type::Number)
        .format(Some(SchemaFormat::KnownFormat(KnownFormat::Double)))
        .build();
    let unit = ObjectBuilder::new().schema_type(Type::String).enum_values(Some(symbols.iter().copied())).build();
    ObjectBuilder::new()
        .schema_type(Type::Object)
        .description(Some(description))
        .property("value", number)
        .property("unit", unit)
        .required("value")
        .required("unit")
        .build()
        .into()
}

/// The two symbols of a kind, once each.
pub(crate) fn symbols_of(kind: Kind) -> Vec<&'static str> {
    let mut symbols = vec![kind.symbol(crate::Profile::Metric), kind.symbol(crate::Profile::Us)];
    symbols.dedup();
    symbols
}

impl PartialSchema for Quantity {
    fn schema() -> RefOr<Schema> {
        let mut symbols: Vec<_> = Kind::all().flat_map(symbols_of).collect();
        symbols.sort_unstable();
        symbols.dedup();
        value_and_unit(&symbols, "A quantity of any kind; the unit `1` marks a plain number.")
    }
}

impl ToSchema for Quantity {
    fn name() -> Cow<'static, str> {
        "AnyQuantity".into()
    }
}

macro_rules! quantity {
    ($(#[$meta:meta])* $name:ident($inner:ty), $kind:ident, $($from:ident / $to:ident: $factor:expr, $unit:literal);+) => {
        $(#[$meta])*
        #[derive(Clone, Copy, Debug, PartialEq, PartialOrd)]
        pub struct $name($inner);

        impl $name {
            /// Zero.
            pub const ZERO: Self = Self::wrap(0.0);

            const fn wrap(value: f64) -> Self {
                Self(uom::si::Quantity { dimension: PhantomData, units: PhantomData, value })
            }

            $(
                #[doc = concat!("From a value in ", $unit, ".")]
                pub const fn $from(value: f64) -> Self {
                    Self::wrap(value * $factor)
                }

                #[doc = concat!("The value in ", $unit, ".")]
                pub fn $to(self) -> f64 {
                    self.0.value / $factor
                }
            )+

            /// The greater of two.
            #[must_use]
            pub fn max(self, other: Self) -> Self {
                Self::wrap(self.0.value.max(other.0.value))
            }

            /// The lesser of two.
            #[must_use]
            pub fn min(self, other: Self) -> Self {
                Self::wrap(self.0.value.min(other.0.value))
            }
        }

        impl Typed for $name {
            const KIND: Kind = Kind::$kind;
            const NAME: &'static str = stringify!($name);

            fn si(self) -> f64 {
                self.0.value
            }

            fn from_si(value_si: f64) -> Self {
                Self::wrap(value_si)
            }
        }

        impl From<$name> for Quantity {
            fn from(quantity: $name) -> Self {
                Self { kind: Kind::$kind, value_si: quantity.0.value }
            }
        }

        impl Add for $name {
            type Output = Self;
            fn add(self, other: Self) -> Self {
                Self(self.0 + other.0)
            }
        }

        impl Sub for $name {
            type Output = Self;
            fn sub(self, other: Self) -> Self {
                Self(self.0 - other.0)
            }
        }

        impl Neg for $name {
            type Output = Self;
            fn neg(self) -> Self {
                Self::wrap(-self.0.value)
            }
        }

        impl Mul<f64> for $name {
            type Output = Self;
            fn mul(self, factor: f64) -> Self {
                Self::wrap(self.0.value * factor)
            }
        }

        impl Mul<$name> for f64 {
            type Output = $name;
            fn mul(self, quantity: $name) -> $name {
                quantity * self
            }
        }

        impl Div<f64> for $name {
            type Output = Self;
            fn div(self, divisor: f64) -> Self {
                Self::wrap(self.0.value / divisor)
            }
        }

        impl Div for $name {
            type Output = f64;
            fn div(self, other: Self) -> f64 {
                self.0.value / other.0.value
            }
        }

        impl std::iter::Sum for $name {
            fn sum<I: Iterator<Item = Self>>(quantities: I) -> Self {
                quantities.fold(Self::ZERO, Add::add)
            }
        }

        impl Serialize for $name {
            fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
                Quantity::from(*self).serialize(serializer)
            }
        }

        impl<'de> Deserialize<'de> for $name {
            fn deserialize<D: Deserializer<'de>>(deserializer: D) -> Result<Self, D::Error> {
                let wire = Wire::deserialize(deserializer)?;
                let measured = crate::in_unit(wire.value, &wire.unit).map_err(D::Error::custom)?;
                if measured.unit.dimension == Kind::$kind.dimension() {
                    Ok(Self::wrap(measured.si()))
                } else {
                    Err(D::Error::custom(concat!("not a unit of ", stringify!($name))))
                }
            }
        }

        impl PartialSchema for $name {
            fn schema() -> RefOr<Schema> {
                value_and_unit(&symbols_of(Kind::$kind), concat!(stringify!($name), " in the unit of the profile asked for."))
            }
        }

        impl ToSchema for $name {
            fn name() -> Cow<'static, str> {
                stringify!($name).into()
            }
        }
    };
}

type Dim<L, M, T> = uom::si::Quantity<ISQ<L, M, T, Z0, Z0, Z0, Z0>, SI<f64>, f64>;

quantity!(/** A force. */ Force(uom::si::f64::Force), Force, from_n / n: 1.0, "N"; from_kn / kn: 1e3, "kN");
quantity!(/** The mass of a load. */ LoadMass(uom::si::f64::Mass), LoadMass, from_kg / kg: 1.0, "kg"; from_t / t: 1e3, "t");
quantity!(/** The mass of a thing that people or plant handle. */ PieceMass(uom::si::f64::Mass), PieceMass, from_kg / kg: 1.0, "kg");
quantity!(/** A length, height, stroke or position. */ Length(uom::si::f64::Length), Length, from_m / m: 1.0, "m"; from_mm / mm: 1e-3, "mm");
quantity!(/** The length of a hose. */ HoseLength(uom::si::f64::Length), HoseLength, from_m / m: 1.0, "m");
quantity!(/** An area. */ Area(uom::si::f64::Area), Area, from_m2 / m2: 1.0, "m2"; from_cm2 / cm2: 1e-4, "cm2");
quantity!(/** A second moment of area. */ SecondMoment(Dim<P4, Z0, Z0>), SecondMoment, from_m4 / m4: 1.0, "m4");
quantity!(/** A gauge pressure of oil. */ OilPressure(uom::si::f64::Pressure), OilPressure, from_pa / pa: 1.0, "Pa"; from_bar / bar: 1e5, "bar");
quantity!(/** A stress in a solid, or its modulus. */ Stress(uom::si::f64::Pressure), Stress, from_pa / pa: 1.0, "Pa"; from_mpa / mpa: 1e6, "MPa");
quantity!(/** A pressure on ground or foundation. */ GroundPressure(uom::si::f64::Pressure), GroundPressure, from_pa / pa: 1.0, "Pa"; from_kpa / kpa: 1e3, "kPa");
quantity!(/** A volume of oil. */ OilVolume(uom::si::f64::Volume), OilVolume, from_m3 / m3: 1.0, "m3"; from_l / l: 1e-3, "L");
quantity!(/** A flow of oil. */ Flow(uom::si::f64::VolumeRate), Flow, from_m3_per_s / m3_per_s: 1.0, "m3/s"; from_l_per_min / l_per_min: 1e-3 / 60.0, "L/min");
quantity!(/** A speed. */ Speed(uom::si::f64::Velocity), Speed, from_m_per_s / m_per_s: 1.0, "m/s"; from_mm_per_s / mm_per_s: 1e-3, "mm/s");
quantity!(/** A stiffness against a force. */ Stiffness(Dim<Z0, uom::typenum::P1, N2>), Stiffness, from_n_per_m / n_per_m: 1.0, "N/m");
quantity!(/** A moment. */ Moment(Dim<P2, uom::typenum::P1, N2>), Moment, from_nm / nm: 1.0, "N.m");
quantity!(/** A stiffness against a moment, per radian. */ RotationalStiffness(Dim<P2, uom::typenum::P1, N2>), RotationalStiffness, from_nm_per_rad / nm_per_rad: 1.0, "N.m/rad");
quantity!(/** A power. */ Power(uom::si::f64::Power), Power, from_w / w: 1.0, "W"; from_kw / kw: 1e3, "kW");
quantity!(/** A duration. */ Time(uom::si::f64::Time), Time, from_s / s: 1.0, "s");
quantity!(/** A temperature, held in kelvin. */ Temperature(uom::si::f64::TemperatureInterval), Temperature, from_k / k: 1.0, "K");
quantity!(/** An angle. */ Angle(Dim<Z0, Z0, Z0>), Angle, from_rad / rad: 1.0, "rad"; from_deg / deg: std::f64::consts::PI / 180.0, "degrees");
quantity!(/** A kinematic viscosity. */ KinematicViscosity(Dim<P2, Z0, N1>), KinematicViscosity, from_m2_per_s / m2_per_s: 1.0, "m2/s"; from_mm2_per_s / mm2_per_s: 1e-6, "mm2/s");
quantity!(/** A volume for each length, as that by which a hose swells. */ VolumePerLength(Dim<P2, Z0, Z0>), VolumePerLength, from_m2 / m2: 1.0, "m3/m"; from_ml_per_m / ml_per_m: 1e-6, "mL/m");

macro_rules! product {
    ($a:ident * $b:ident = $c:ident) => {
        impl Mul<$b> for $a {
            type Output = $c;
            fn mul(self, other: $b) -> $c {
                $c(self.0 * other.0)
            }
        }

        impl Div<$b> for $c {
            type Output = $a;
            fn div(self, other: $b) -> $a {
                $a(self.0 / other.0)
            }
        }
    };
}

impl Mul for Length {
    type Output = Area;
    fn mul(self, other: Self) -> Area {
        Area(self.0 * other.0)
    }
}

product!(OilPressure * Area = Force);
product!(Area * Length = OilVolume);
product!(Length * Area = OilVolume);
product!(Flow * Time = OilVolume);
product!(Speed * Area = Flow);
product!(Time * Speed = Length);
product!(OilPressure * Flow = Power);
product!(Stiffness * Length = Force);
product!(Length * Stiffness = Force);
product!(KinematicViscosity * Length = Flow);
product!(Force * Length = Moment);
product!(Length * Force = Moment);
product!(VolumePerLength * HoseLength = OilVolume);

/// A moment on a cross-section gives a stress.
impl SecondMoment {
    /// The bending stress at a distance from the neutral axis.
    pub fn stress_under(self, moment: Moment, distance: Length) -> Stress {
        Stress(moment.0 * distance.0 / self.0)
    }
}

/// A force on an area of solid gives a stress.
impl Area {
    /// The stress of a force spread evenly over this area.
    pub fn stress_under(self, force: Force) -> Stress {
        Stress(force.0 / self.0)
    }

    /// The pressure on the ground of a force spread evenly over this area.
    pub fn ground_pressure_under(self, force: Force) -> GroundPressure {
        GroundPressure(force.0 / self.0)
    }
}

impl Mul<Area> for Stress {
    type Output = Force;
    fn mul(self, area: Area) -> Force {
        Force(self.0 * area.0)
    }
}

impl Div<Flow> for OilVolume {
    type Output = Time;
    fn div(self, flow: Flow) -> Time {
        Time(self.0 / flow.0)
    }
}

/// A hose's bore times its length.
impl Mul<HoseLength> for Area {
    type Output = OilVolume;
    fn mul(self, length: HoseLength) -> OilVolume {
        OilVolume(self.0 * length.0)
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::{In, Profile, Range};

    fn json<T: Serialize>(profile: Profile, value: &T) -> String {
        serde_json::to_string(&In(profile, value)).unwrap()
    }

    #[test]
    fn verify_a_quantity_is_written_in_the_profile_and_only_inside_it() {
        let force = Force::from_kn(520.3);
        assert_eq!(json(Profile::Metric, &force), r#"{"value":520.3,"unit":"kN"}"#);
        assert!(json(Profile::Us, &force).contains(r#""unit":"lbf""#));
        assert!(serde_json::to_string(&force).is_err());
        assert!(serde_json::to_string(&In(Profile::Metric, &Force::from_n(f64::NAN))).is_err());
        assert_eq!(json(Profile::Metric, &Force::from_n(-0.0)), r#"{"value":0.0,"unit":"kN"}"#);
    }

    #[test]
    fn verify_what_is_written_is_read_again() {
        let range = Range::new(Force::from_kn(1.0), Force::from_kn(2.0), Force::from_kn(3.0));
        let text = json(Profile::Us, &range);
        let back: Range<Force> = serde_json::from_str(&text).unwrap();
        assert!((back.greatest.kn() - 3.0).abs() < 1e-12);
        let any: Quantity = serde_json::from_str(r#"{"value":700.0,"unit":"bar"}"#).unwrap();
        assert_eq!(any.kind, Kind::OilPressure);
        assert!(serde_json::from_str::<Force>(r#"{"value":1.0,"unit":"mm"}"#).is_err());
    }

    /// Pressure x area: 10 000 psi on 20 square inches is 100 short tons-force (exact by definition).
    #[test]
    fn validate_pressure_times_area() {
        let psi = crate::by_symbol("psi").unwrap().factor;
        let force = OilPressure::from_pa(10_000.0 * psi) * Area::from_m2(20.0 * 6.451_6e-4);
        assert!((force.kn() / 889.644_323_052_1 - 1.0).abs() < 1e-15);
    }

    #[test]
    fn verify_operators_agree_with_si() {
        assert!(((Area::from_cm2(133.0) * Length::from_mm(150.0)).l() - 1.995).abs() < 1e-12);
        assert!(((OilVolume::from_l(2.0) / Flow::from_l_per_min(1.0)).s() - 120.0).abs() < 1e-9);
        let speed = Flow::from_l_per_min(6.0) / Area::from_cm2(100.0);
        assert!((speed.mm_per_s() - 10.0).abs() < 1e-12);
        assert!(((Length::from_mm(25.0) / speed).s() - 2.5).abs() < 1e-12);
        assert!(((OilPressure::from_bar(600.0) * Flow::from_l_per_min(1.0)).kw() - 1.0).abs() < 1e-12);
    }
}
