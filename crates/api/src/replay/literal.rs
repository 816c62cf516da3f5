//! A JSON value as it is written, with its order and with whole numbers told from others, so that its digest can be made again.

use serde::de::{Deserialize, Deserializer, Error, MapAccess, SeqAccess, Visitor};
use serde_json::Number;
use std::collections::BTreeMap;
use std::fmt;

/// A JSON value in the order in which it is written.
#[derive(Clone, Debug, PartialEq)]
pub(super) enum Literal {
    Null,
    Bool(bool),
    Number(Number),
    Text(String),
    List(Vec<Literal>),
    Object(Vec<(String, Literal)>),
}

impl Literal {
    /// The compact text, as the service writes it.
    ///
    /// # Errors
    /// None that is known: all that was read can be written.
    pub(super) fn compact(&self) -> Result<Vec<u8>, serde_json::Error> {
        let mut text = Vec::new();
        self.write(None, &mut text)?;
        Ok(text)
    }

    /// The compact text with the order of fields and the kind of numbers of another value of the same shape, for a text that
    /// a program has read and written again in an order and with a spelling of its own.
    ///
    /// # Errors
    /// As [`Self::compact`].
    pub(super) fn compact_like(&self, model: &Self) -> Result<Vec<u8>, serde_json::Error> {
        let mut text = Vec::new();
        self.write(Some(model), &mut text)?;
        Ok(text)
    }

    fn write(&self, model: Option<&Self>, text: &mut Vec<u8>) -> Result<(), serde_json::Error> {
        match self {
            Self::Null => text.extend_from_slice(b"null"),
            Self::Bool(value) => serde_json::to_writer(text, value)?,
            Self::Number(value) => serde_json::to_writer(text, &like(value, model))?,
            Self::Text(value) => serde_json::to_writer(text, value)?,
            Self::List(items) => {
                let models: &[Self] = if let Some(Self::List(models)) = model { models } else { &[] };
                for (index, item) in items.iter().enumerate() {
                    text.push(if index == 0 { b'[' } else { b',' });
                    item.write(models.get(index), text)?;
                }
                text.extend_from_slice(if items.is_empty() { b"[]" } else { b"]" });
            }
            Self::Object(fields) => {
                let models: &[(String, Self)] = if let Some(Self::Object(models)) = model { models } else { &[] };
                for (index, (name, value, model)) in ordered(fields, models).into_iter().enumerate() {
                    text.push(if index == 0 { b'{' } else { b',' });
                    serde_json::to_writer(&mut *text, name)?;
                    text.push(b':');
                    value.write(model, text)?;
                }
                text.extend_from_slice(if fields.is_empty() { b"{}" } else { b"}" });
            }
        }
        Ok(())
    }
}

/// A field with its name, its value, and what stands in its place in the model.
type Field<'a> = (&'a str, &'a Literal, Option<&'a Literal>);

/// The fields in the order of the model; those that it does not have stay in their own order behind them.
fn ordered<'a>(fields: &'a [(String, Literal)], models: &'a [(String, Literal)]) -> Vec<Field<'a>> {
    let places: BTreeMap<&str, usize> = models.iter().enumerate().map(|(at, (name, _))| (name.as_str(), at)).collect();
    let place = |name: &str| places.get(name).copied();
    let mut fields: Vec<Field<'_>> = fields
        .iter()
        .map(|(name, value)| {
            let model = place(name).and_then(|at| models.get(at)).map(|(_, model)| model);
            (name.as_str(), value, model)
        })
        .collect();
    fields.sort_by_key(|(name, _, _)| place(name).unwrap_or(usize::MAX));
    fields
}

/// The number, whole or not as in the model.
fn like(number: &Number, model: Option<&Literal>) -> Number {
    let Some(Literal::Number(model)) = model else { return number.clone() };
    let other = match (model.is_f64(), number.is_f64()) {
        (true, false) => number.as_f64().and_then(Number::from_f64),
        (false, true) => number.as_f64().map(|value| format!("{value}")).and_then(|text| text.parse().ok()),
        _ => None,
    };
    other.unwrap_or_else(|| number.clone())
}

struct LiteralVisitor;

impl<'de> Visitor<'de> for LiteralVisitor {
    type Value = Literal;

    fn expecting(&self, formatter: &mut fmt::Formatter<'_>) -> fmt::Result {
        formatter.write_str("a JSON value")
    }

    fn visit_unit<E: Error>(self) -> Result<Literal, E> {
        Ok(Literal::Null)
    }

    fn visit_bool<E: Error>(self, value: bool) -> Result<Literal, E> {
        Ok(Literal::Bool(value))
    }

    fn visit_f64<E: Error>(self, value: f64) -> Result<Literal, E> {
        Number::from_f64(value).map(Literal::Number).ok_or_else(|| E::custom("a number that is not finite"))
    }

    fn visit_u64<E: Error>(self, value: u64) -> Result<Literal, E> {
        Ok(Literal::Number(value.into()))
    }

    fn visit_i64<E: Error>(self, value: i64) -> Result<Literal, E> {
        Ok(Literal::Number(value.into()))
    }

    fn visit_str<E: Error>(self, text: &str) -> Result<Literal, E> {
        Ok(Literal::Text(text.to_owned()))
    }

    fn visit_seq<A: SeqAccess<'de>>(self, mut items: A) -> Result<Literal, A::Error> {
        let mut list = Vec::new();
        while let Some(item) = items.next_element()? {
            list.push(item);
        }
        Ok(Literal::List(list))
    }

    fn visit_map<A: MapAccess<'de>>(self, mut fields: A) -> Result<Literal, A::Error> {
        let mut object = Vec::new();
        while let Some(field) = fields.next_entry()? {
            object.push(field);
        }
        Ok(Literal::Object(object))
    }
}

impl<'de> Deserialize<'de> for Literal {
    fn deserialize<D: Deserializer<'de>>(deserializer: D) -> Result<Self, D::Error> {
        deserializer.deserialize_any(LiteralVisitor)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn read(text: &str) -> Literal {
        serde_json::from_str(text).unwrap()
    }

    #[test]
    fn verify_a_text_is_written_back_as_the_service_writes_it() {
        let compact = r#"{"b":[1,2.0,1e-7,null,true,"ä\n"],"a":{},"c":[]}"#;
        let spaced = "{ \"b\" : [1, 2.0, 1.0E-07, null, true, \"\\u00e4\\u000a\"], \"a\": {}, \"c\": [ ] }";
        assert_eq!(read(spaced).compact().unwrap(), compact.as_bytes());
    }

    #[test]
    fn verify_order_and_kind_of_number_come_from_the_model() {
        let model = read(r#"{"b":[{"n":1,"x":2.0}],"a":5}"#);
        // Sorted by a program that writes a whole number without its point.
        let rewritten = read(r#"{"a":7.0,"b":[{"n":3,"x":4}],"new":1}"#);
        assert_eq!(rewritten.compact_like(&model).unwrap(), br#"{"b":[{"n":3,"x":4.0}],"a":7,"new":1}"#);
    }
}
