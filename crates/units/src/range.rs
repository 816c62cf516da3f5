//! Least, expected and greatest value in one unit.

use crate::quantity::{Quantity, Typed, symbols_of};
use serde::de::Error as _;
use serde::ser::{Error as _, SerializeStruct};
use serde::{Deserialize, Deserializer, Serialize, Serializer};
use std::borrow::Cow;
use utoipa::openapi::schema::{KnownFormat, ObjectBuilder, SchemaFormat, Type};
use utoipa::openapi::{RefOr, Schema};
use utoipa::{PartialSchema, ToSchema};

/// Least, expected and greatest value, written with one unit.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Range<T> {
    /// The least value within all tolerances.
    pub least: T,
    /// The value with no tolerance used.
    pub expected: T,
    /// The greatest value within all tolerances.
    pub greatest: T,
}

/// A range of forces. The schemas need a name without type arguments.
pub type ForceRange = Range<crate::Force>;
/// A range of lengths.
pub type LengthRange = Range<crate::Length>;
/// A range of oil pressures.
pub type OilPressureRange = Range<crate::OilPressure>;

impl<T> Range<T> {
    /// A range of three values.
    pub const fn new(least: T, expected: T, greatest: T) -> Self {
        Self { least, expected, greatest }
    }
}

impl<T: Copy + std::ops::Add<Output = T>> Range<T> {
    /// The same range elsewhere.
    #[must_use]
    pub fn shifted(self, by: T) -> Self {
        Self::new(self.least + by, self.expected + by, self.greatest + by)
    }
}

impl<T: Typed> Serialize for Range<T> {
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        let profile =
            crate::profile::current().ok_or_else(|| S::Error::custom("a range is written only inside `In`"))?;
        let mut fields = serializer.serialize_struct("Range", 4)?;
        for (name, part) in [("least", self.least), ("expected", self.expected), ("greatest", self.greatest)] {
            let quantity: Quantity = part.into();
            let value = quantity.value_in(profile);
            if !value.is_finite() {
                return Err(S::Error::custom("a range that is not finite"));
            }
            fields.serialize_field(name, &(value + 0.0))?;
        }
        fields.serialize_field("unit", T::KIND.symbol(profile))?;
        fields.end()
    }
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct Wire {
    least: f64,
    expected: f64,
    greatest: f64,
    unit: String,
}

impl<'de, T: Typed> Deserialize<'de> for Range<T> {
    fn deserialize<D: Deserializer<'de>>(deserializer: D) -> Result<Self, D::Error> {
        let wire = Wire::deserialize(deserializer)?;
        let part = |value: f64| -> Result<T, D::Error> {
            let measured = crate::in_unit(value, &wire.unit).map_err(D::Error::custom)?;
            if measured.unit.dimension == T::KIND.dimension() {
                Ok(T::from_si(measured.si()))
            } else {
                Err(D::Error::custom(format!("not a unit of {}", T::NAME)))
            }
        };
        Ok(Self { least: part(wire.least)?, expected: part(wire.expected)?, greatest: part(wire.greatest)? })
    }
}

impl<T: Typed> PartialSchema for Range<T> {
    fn schema() -> RefOr<Schema> {
        let number = || {
            ObjectBuilder::new()
                .schema_type(Type::Number)
                .format(Some(SchemaFormat::KnownFormat(KnownFormat::Double)))
                .build()
        };
        let unit = ObjectBuilder::new().schema_type(Type::String).enum_values(Some(symbols_of(T::KIND))).build();
        let mut object = ObjectBuilder::new()
            .schema_type(Type::Object)
            .description(Some("Least, expected and greatest value within all tolerances, in one unit."));
        for name in ["least", "expected", "greatest"] {
            object = object.property(name, number()).required(name);
        }
        object.property("unit", unit).required("unit").build().into()
    }
}

impl<T: Typed> ToSchema for Range<T> {
    fn name() -> Cow<'static, str> {
        format!("{}Range", T::NAME).into()
    }
}
