//! Values as they are sent, with the bounds that the service takes.
//!
//! Each bound stands once; reader, message and schema all use it.

mod bounds;
mod name;
mod number;

pub use bounds::*;
pub use name::{NAME_LENGTH, Name};
pub use number::*;

use crate::json::Node;
use crate::problem::{Fault, FaultCode};
use crate::read::{Faults, Pointer, Read, nearest, wrong_type};
use ramwright_units::{Dimension, Measured, ParseError, UNITS, Unit, in_unit, parse_quantity};
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

impl<B: Bound> Sent<B> {
    /// How the quantity is written as text, as a regular expression without its ends.
    pub(crate) fn pattern() -> String {
        let alternatives: Vec<String> = spellings::<B>().into_iter().map(escaped).collect();
        format!(r" *[+-]?[0-9]+(\.[0-9]+)?([eE][+-]?[0-9]+)? *({}) *", alternatives.join("|"))
    }
}

impl<B: Bound> PartialSchema for Sent<B> {
    fn schema() -> RefOr<Schema> {
        let pattern = format!("^{}$", Self::pattern());
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
        format!("{}Quantity", B::NAME).into()
    }
}
