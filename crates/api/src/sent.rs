//! Values as they are sent, with the bounds that the service takes.
//!
//! Each bound stands once; reader, message and schema all use it.

use crate::json::Node;
use crate::problem::{Fault, FaultCode};
use crate::read::{Faults, Pointer, Read, nearest, wrong_type};
use ramwright_units::{
    Dimension, Measured, ParseError, STANDARD_GRAVITY_M_PER_S2, Typed, UNITS, Unit, Weight, in_unit, parse_quantity,
};
use serde_json::{Value, json};
use std::borrow::Cow;
use std::marker::PhantomData;
use utoipa::openapi::extensions::ExtensionsBuilder;
use utoipa::openapi::schema::{KnownFormat, ObjectBuilder, OneOfBuilder, SchemaFormat, Type};
use utoipa::openapi::{RefOr, Schema};
use utoipa::{PartialSchema, ToSchema};

/// What may be sent for one quantity: its dimensions, and its bounds in the unit in which people think of them.
pub trait Bound: Clone + std::fmt::Debug + PartialEq {
    /// The engine's type.
    type Quantity;
    /// The name of its schema.
    const NAME: &'static str;
    /// The least value, with its unit's symbol.
    const LEAST: (f64, &'static str);
    /// The greatest value, in the same unit.
    const GREATEST: f64;
    /// What a sender is told about it.
    const WORDS: &'static str;
    /// The dimensions in which it may be sent.
    const DIMENSIONS: &'static [Dimension];
    /// The engine's quantity.
    fn quantity(measured: Measured) -> Self::Quantity;
    /// The value on the scale of the bounds, in SI.
    fn comparable_si(measured: Measured) -> f64 {
        measured.si()
    }
    /// A bound in a sender's unit.
    fn bound_in(bound_si: f64, unit: &Unit) -> f64 {
        (bound_si - unit.offset) / unit.factor
    }
}

/// A quantity as it was sent, in the sender's unit.
#[derive(Clone, Debug, PartialEq)]
pub struct Sent<B> {
    measured: Measured,
    bound: PhantomData<B>,
}

impl<B: Bound> Sent<B> {
    /// The engine's quantity.
    pub fn get(&self) -> B::Quantity {
        B::quantity(self.measured)
    }

    /// The value and unit as sent.
    pub fn measured(&self) -> Measured {
        self.measured
    }
}

impl<B: Bound> Read for Sent<B> {
    fn read(node: &Node, at: &Pointer, faults: &mut Faults) -> Option<Self> {
        let measured = match measured::<B>(node, at, faults)? {
            Ok(measured) => measured,
            Err(mut fault) => {
                fault.given.get_or_insert_with(|| node.shown());
                faults.push(fault);
                return None;
            }
        };
        match out_of_bounds::<B>(measured, at) {
            Some(fault) => {
                faults.push(fault);
                None
            }
            None => Some(Self { measured, bound: PhantomData }),
        }
    }

    fn canonical(&self) -> Option<Value> {
        Some(json!({ "value": self.measured.value + 0.0, "unit": self.measured.unit.symbol }))
    }
}

/// Number and unit of a node, or the fault; nothing if faults were collected on the way.
fn measured<B: Bound>(node: &Node, at: &Pointer, faults: &mut Faults) -> Option<Result<Measured, Fault>> {
    let parsed = match node {
        Node::Text(text) => parse_quantity(text),
        Node::Number(value) => return Some(Err(bare_number::<B>(*value, at))),
        Node::Object(_) => {
            let fields = crate::read::Fields::open(node, at, &["value", "unit"], faults)?;
            let value = fields.take::<PlainNumber>("value", faults);
            let unit = fields.take::<PlainText>("unit", faults);
            in_unit(value?.0, &unit?.0)
        }
        other => return Some(Err(wrong_type(other, "a quantity such as \"3.5 m\"", at))),
    };
    Some(match parsed {
        Ok(measured) if B::DIMENSIONS.contains(&measured.unit.dimension) => Ok(measured),
        Ok(measured) => Err(wrong_dimension::<B>(measured, at)),
        Err(error) => Err(unreadable::<B>(&error, at)),
    })
}

fn symbols<B: Bound>() -> Vec<&'static str> {
    UNITS.iter().filter(|unit| B::DIMENSIONS.contains(&unit.dimension)).map(|unit| unit.symbol).collect()
}

fn bare_number<B: Bound>(value: f64, at: &Pointer) -> Fault {
    let example = symbols::<B>().first().copied().unwrap_or_default();
    let mut fault = at.fault(FaultCode::BareNumber, format!("{value} has no unit"));
    fault.hint = Some(format!("send a text such as \"{value} {example}\"; units here: {}", symbols::<B>().join(", ")));
    fault
}

fn wrong_dimension<B: Bound>(measured: Measured, at: &Pointer) -> Fault {
    let wanted: Vec<&str> = B::DIMENSIONS.iter().map(|dimension| dimension.name()).collect();
    let mut fault = at.fault(
        FaultCode::WrongDimension,
        format!(
            "`{}` measures {}, and {} is wanted",
            measured.unit.symbol,
            measured.unit.dimension.name(),
            wanted.join(" or ")
        ),
    );
    fault.hint = Some(format!("units here: {}", symbols::<B>().join(", ")));
    fault
}

fn unreadable<B: Bound>(error: &ParseError, at: &Pointer) -> Fault {
    let code = match error {
        ParseError::Ton { .. } => FaultCode::AmbiguousUnit,
        ParseError::UnknownUnit(_) => FaultCode::UnknownUnit,
        ParseError::NotFinite(_) => FaultCode::NotFinite,
        ParseError::NoUnit(_) => FaultCode::BareNumber,
        _ => FaultCode::NotAQuantity,
    };
    let mut fault = at.fault(code, error.to_string());
    match error {
        ParseError::Ton { .. } => fault.hint = Some("write t, ton_us or ton_uk".into()),
        ParseError::UnknownUnit(unit) => {
            fault.nearest = nearest(unit, symbols::<B>().into_iter());
            fault.hint = Some(format!("units here: {}", symbols::<B>().join(", ")));
        }
        _ => fault.hint = Some(format!("a number and a unit, such as \"{} {}\"", B::LEAST.0, B::LEAST.1)),
    }
    fault
}

fn si_of(value: f64, symbol: &str) -> f64 {
    in_unit(value, symbol).map_or(f64::NAN, Measured::si)
}

/// The fault if a value lies outside its bounds. Bounds are compared with a relative slack of 1e-12, so that a bound met in one unit is met in all.
fn out_of_bounds<B: Bound>(measured: Measured, at: &Pointer) -> Option<Fault> {
    const SLACK: f64 = 1e-12;
    let (least, greatest) = (si_of(B::LEAST.0, B::LEAST.1), si_of(B::GREATEST, B::LEAST.1));
    let value = B::comparable_si(measured);
    let room = SLACK * value.abs();
    let (limit, words) = if value < least - room {
        (least, "at least")
    } else if greatest + room < value {
        (greatest, "at most")
    } else {
        return None;
    };
    let unit = measured.unit.symbol;
    let limit = B::bound_in(limit, measured.unit);
    let mut fault =
        at.fault(FaultCode::OutOfRange, format!("{} {unit} is out of range: {words} {limit} {unit}", measured.value));
    fault.given = Some(format!("{} {unit}", measured.value));
    fault.limit = Some(format!("{limit} {unit}"));
    Some(fault)
}

/// A number inside a quantity's object form.
struct PlainNumber(f64);

impl Read for PlainNumber {
    fn read(node: &Node, at: &Pointer, faults: &mut Faults) -> Option<Self> {
        match node {
            Node::Number(value) => Some(Self(*value)),
            other => {
                faults.push(wrong_type(other, "a number", at));
                None
            }
        }
    }

    fn canonical(&self) -> Option<Value> {
        Some(json!(self.0))
    }
}

/// A text inside a quantity's object form.
struct PlainText(String);

impl Read for PlainText {
    fn read(node: &Node, at: &Pointer, faults: &mut Faults) -> Option<Self> {
        match node {
            Node::Text(text) => Some(Self(text.clone())),
            other => {
                faults.push(wrong_type(other, "a string", at));
                None
            }
        }
    }

    fn canonical(&self) -> Option<Value> {
        Some(json!(self.0))
    }
}

/// Every spelling of the units in which a quantity may be sent.
fn spellings<B: Bound>() -> Vec<&'static str> {
    UNITS
        .iter()
        .filter(|unit| B::DIMENSIONS.contains(&unit.dimension))
        .flat_map(|unit| std::iter::once(unit.symbol).chain(unit.also.iter().copied()))
        .collect()
}

fn escaped(text: &str) -> String {
    text.chars()
        .flat_map(|c| {
            if c.is_ascii_alphanumeric() || " _°²\"".contains(c) || !c.is_ascii() { vec![c] } else { vec!['\\', c] }
        })
        .collect()
}

impl<B: Bound> PartialSchema for Sent<B> {
    fn schema() -> RefOr<Schema> {
        let alternatives: Vec<String> = spellings::<B>().into_iter().map(escaped).collect();
        let pattern = format!(r"^ *[+-]?[0-9]+(\.[0-9]+)?([eE][+-]?[0-9]+)? *({}) *$", alternatives.join("|"));
        let text = ObjectBuilder::new().schema_type(Type::String).pattern(Some(pattern)).build();
        let number = ObjectBuilder::new()
            .schema_type(Type::Number)
            .format(Some(SchemaFormat::KnownFormat(KnownFormat::Double)))
            .build();
        let unit = ObjectBuilder::new().schema_type(Type::String).enum_values(Some(spellings::<B>())).build();
        let object = ObjectBuilder::new()
            .schema_type(Type::Object)
            .property("value", number)
            .property("unit", unit)
            .required("value")
            .required("unit")
            .build();
        let range = json!({ "least": B::LEAST.0, "greatest": B::GREATEST, "unit": B::LEAST.1 });
        let either = OneOfBuilder::new()
            .description(Some(format!("{} From {} to {} {}.", B::WORDS, B::LEAST.0, B::GREATEST, B::LEAST.1)))
            .item(text)
            .item(object)
            .extensions(Some(ExtensionsBuilder::new().add("x-range", range).build()))
            .build();
        RefOr::T(Schema::OneOf(either))
    }
}

impl<B: Bound> ToSchema for Sent<B> {
    fn name() -> Cow<'static, str> {
        format!("{}Sent", B::NAME).into()
    }
}

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
    /// A gap or thickness that may be zero.
    Gap: Length, 0.0 ..= 1000.0 "mm";
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
    /// A strength.
    Strength: Stress, 10.0 ..= 3000.0 "MPa";
    /// A flow.
    PumpFlow: Flow, 0.001 ..= 1000.0 "L/min";
    /// A volume of oil.
    Oil: OilVolume, 0.01 ..= 100_000.0 "L";
    /// The length of a hose.
    LengthOfHose: HoseLength, 0.1 ..= 500.0 "m";
    /// The mass of a piece that is handled.
    MassOfPiece: PieceMass, 0.01 ..= 100_000.0 "kg";
    /// A motor's power.
    MotorPower: Power, 0.01 ..= 1000.0 "kW";
    /// A tilt.
    Tilt: Angle, 0.0 ..= 45.0 "deg";
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

/// The bounds of a plain number.
pub trait NumberBound: Clone + std::fmt::Debug + PartialEq {
    /// The name of its schema.
    const NAME: &'static str;
    /// The least value.
    const LEAST: f64;
    /// The greatest value.
    const GREATEST: f64;
    /// Whether only whole numbers are taken.
    const WHOLE: bool;
    /// What a sender is told about it.
    const WORDS: &'static str;
}

/// A plain number within bounds.
#[derive(Clone, Debug, PartialEq)]
pub struct Number<B> {
    value: f64,
    bound: PhantomData<B>,
}

impl<B: NumberBound> Number<B> {
    /// The number.
    pub fn get(&self) -> f64 {
        self.value
    }

    /// The number as a count; a fraction cannot get here where `B` takes whole numbers only.
    #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "bounds keep whole numbers within u32")]
    pub fn count(&self) -> u32 {
        self.value as u32
    }
}

impl<B: NumberBound> Read for Number<B> {
    fn read(node: &Node, at: &Pointer, faults: &mut Faults) -> Option<Self> {
        let wanted = if B::WHOLE { "a whole number" } else { "a plain number" };
        let value = match node {
            Node::Number(value) if !B::WHOLE || value.fract().abs() <= 0.0 => *value,
            other => {
                faults.push(wrong_type(other, wanted, at));
                return None;
            }
        };
        if B::LEAST <= value && value <= B::GREATEST {
            return Some(Self { value, bound: PhantomData });
        }
        let mut fault =
            at.fault(FaultCode::OutOfRange, format!("{value} is out of range: from {} to {}", B::LEAST, B::GREATEST));
        fault.given = Some(value.to_string());
        fault.limit = Some(if value < B::LEAST { B::LEAST } else { B::GREATEST }.to_string());
        fault.hint = Some(B::WORDS.to_owned());
        faults.push(fault);
        None
    }

    #[expect(clippy::cast_possible_truncation, reason = "bounds keep whole numbers within i64")]
    fn canonical(&self) -> Option<Value> {
        Some(if B::WHOLE { json!(self.value as i64) } else { json!(self.value + 0.0) })
    }
}

impl<B: NumberBound> PartialSchema for Number<B> {
    fn schema() -> RefOr<Schema> {
        let base = if B::WHOLE { Type::Integer } else { Type::Number };
        ObjectBuilder::new()
            .schema_type(base)
            .description(Some(B::WORDS))
            .minimum(Some(B::LEAST))
            .maximum(Some(B::GREATEST))
            .build()
            .into()
    }
}

impl<B: NumberBound> ToSchema for Number<B> {
    fn name() -> Cow<'static, str> {
        format!("{}Number", B::NAME).into()
    }
}

macro_rules! number_bounds {
    ($($(#[doc = $words:literal])+ $name:ident: $least:literal ..= $greatest:literal, $whole:literal;)+) => {
        $(
            $(#[doc = $words])+
            pub type $name = Number<number::$name>;

            impl NumberBound for number::$name {
                const NAME: &'static str = stringify!($name);
                const LEAST: f64 = $least;
                const GREATEST: f64 = $greatest;
                const WHOLE: bool = $whole;
                const WORDS: &'static str = concat!($($words),+).trim_ascii();
            }
        )+

        /// Markers that carry the bounds.
        pub mod number {
            $($(#[doc = $words])+ #[derive(Clone, Debug, PartialEq)] pub struct $name;)+
        }

        /// Name, least and greatest of every bounded plain number, for `GET /v1/limits`.
        pub const NUMBER_BOUNDS: &[(&str, f64, f64)] = &[$((stringify!($name), $least, $greatest),)+];
    };
}

number_bounds! {
    /// A tolerance as a fraction: 0.05 is 5 %.
    ToleranceFraction: 0.0 ..= 0.5, false;
    /// A share of the weight as a fraction: 0.025 is 2.5 %.
    WeightFraction: 0.0 ..= 1.0, false;
    /// The part of capacity or stroke that may be used: 0.8 is 80 %.
    WorkingLimit: 0.05 ..= 1.0, false;
    /// A factor on the elastic critical load.
    SafetyFactor: 1.0 ..= 20.0, false;
    /// By which factor the load is heavier than stated.
    HeavierFactor: 1.0 ..= 2.0, false;
    /// A side load limit as a share of capacity.
    SideRatio: 0.0 ..= 0.5, false;
    /// A rate of money.
    Rate: 0.0 ..= 1_000_000.0, false;
    /// How many rams stand at one point.
    RamsAtPoint: 1.0 ..= 12.0, true;
    /// How many there are in stock.
    StockCount: 0.0 ..= 100_000.0, true;
    /// How many hoses a pump takes.
    OutletCount: 1.0 ..= 64.0, true;
    /// How many rams side by side a search tries.
    RamsTried: 1.0 ..= 8.0, true;
    /// How many pumps or hoses there are.
    UnitCount: 1.0 ..= 50.0, true;
    /// A density of oil in kg/m3.
    DensityOfOil: 500.0 ..= 1500.0, false;
    /// How many states a search may visit.
    SearchStates: 1_000.0 ..= 20_000_000.0, true;
}

/// A name or id: 1 to 64 characters, none of them a control character.
#[derive(Clone, Debug, PartialEq)]
pub struct Name(pub String);

/// The greatest length of a name in characters.
pub const NAME_LENGTH: usize = 64;

impl Read for Name {
    fn read(node: &Node, at: &Pointer, faults: &mut Faults) -> Option<Self> {
        let Node::Text(text) = node else {
            faults.push(wrong_type(node, "a string", at));
            return None;
        };
        let length = text.chars().count();
        let fault = if length == 0 || text.chars().any(char::is_control) {
            at.fault(FaultCode::UnknownValue, "a name has at least one character, and no control characters")
        } else if NAME_LENGTH < length {
            let mut fault =
                at.fault(FaultCode::TooLong, format!("{length} characters, at most {NAME_LENGTH} can be taken"));
            fault.limit = Some(NAME_LENGTH.to_string());
            fault
        } else {
            return Some(Self(text.clone()));
        };
        faults.push(fault);
        None
    }

    fn canonical(&self) -> Option<Value> {
        Some(Value::String(self.0.clone()))
    }
}

impl PartialSchema for Name {
    fn schema() -> RefOr<Schema> {
        ObjectBuilder::new()
            .schema_type(Type::String)
            .description(Some("A name or id, without control characters."))
            .min_length(Some(1))
            .max_length(Some(NAME_LENGTH))
            .pattern(Some(r"^[^\x00-\x1f\x7f-\x9f]+$"))
            .build()
            .into()
    }
}

impl ToSchema for Name {
    fn name() -> Cow<'static, str> {
        "Name".into()
    }
}
