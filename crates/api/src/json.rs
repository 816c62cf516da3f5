//! A JSON tree that keeps the order of fields and what is written twice.
//!
//! `serde_json::Value` would silently keep the last of two equal keys.

use serde::de::{Deserialize, Deserializer, Error, MapAccess, SeqAccess, Visitor};
use std::fmt;

/// A JSON value as it was sent.
#[derive(Clone, Debug, PartialEq)]
pub enum Node {
    /// `null`
    Null,
    /// `true` or `false`
    Bool(bool),
    /// Any number.
    Number(f64),
    /// A string.
    Text(String),
    /// An array.
    List(Vec<Node>),
    /// An object, in the order sent, with double fields kept.
    Object(Vec<(String, Node)>),
}

impl Node {
    /// Reads a text.
    ///
    /// # Errors
    /// The parser's own error: no well-formed JSON, too deep, or more behind the value.
    pub fn parse(text: &[u8]) -> Result<Self, serde_json::Error> {
        serde_json::from_slice(text)
    }

    /// The JSON type's name.
    pub fn type_name(&self) -> &'static str {
        match self {
            Self::Null => "null",
            Self::Bool(_) => "boolean",
            Self::Number(_) => "number",
            Self::Text(_) => "string",
            Self::List(_) => "array",
            Self::Object(_) => "object",
        }
    }

    /// The value as a short text for messages.
    pub fn shown(&self) -> String {
        const LONGEST: usize = 60;
        match self {
            Self::Null => "null".into(),
            Self::Bool(value) => value.to_string(),
            Self::Number(value) => value.to_string(),
            Self::Text(text) if text.chars().count() <= LONGEST => text.clone(),
            Self::Text(text) => format!("{}…", text.chars().take(LONGEST).collect::<String>()),
            Self::List(items) => format!("an array of {}", items.len()),
            Self::Object(fields) => format!("an object of {} fields", fields.len()),
        }
    }
}

struct NodeVisitor;

impl<'de> Visitor<'de> for NodeVisitor {
    type Value = Node;

    fn expecting(&self, formatter: &mut fmt::Formatter<'_>) -> fmt::Result {
        formatter.write_str("a JSON value")
    }

    fn visit_unit<E: Error>(self) -> Result<Node, E> {
        Ok(Node::Null)
    }

    fn visit_bool<E: Error>(self, value: bool) -> Result<Node, E> {
        Ok(Node::Bool(value))
    }

    fn visit_f64<E: Error>(self, value: f64) -> Result<Node, E> {
        Ok(Node::Number(value))
    }

    #[expect(clippy::cast_precision_loss, reason = "JSON numbers are read as f64, as in every other client")]
    fn visit_u64<E: Error>(self, value: u64) -> Result<Node, E> {
        Ok(Node::Number(value as f64))
    }

    #[expect(clippy::cast_precision_loss, reason = "JSON numbers are read as f64, as in every other client")]
    fn visit_i64<E: Error>(self, value: i64) -> Result<Node, E> {
        Ok(Node::Number(value as f64))
    }

    fn visit_str<E: Error>(self, text: &str) -> Result<Node, E> {
        Ok(Node::Text(text.to_owned()))
    }

    fn visit_string<E: Error>(self, text: String) -> Result<Node, E> {
        Ok(Node::Text(text))
    }

    fn visit_seq<A: SeqAccess<'de>>(self, mut items: A) -> Result<Node, A::Error> {
        let mut list = Vec::new();
        while let Some(item) = items.next_element()? {
            list.push(item);
        }
        Ok(Node::List(list))
    }

    fn visit_map<A: MapAccess<'de>>(self, mut fields: A) -> Result<Node, A::Error> {
        let mut object = Vec::new();
        while let Some(field) = fields.next_entry()? {
            object.push(field);
        }
        Ok(Node::Object(object))
    }
}

impl<'de> Deserialize<'de> for Node {
    fn deserialize<D: Deserializer<'de>>(deserializer: D) -> Result<Self, D::Error> {
        deserializer.deserialize_any(NodeVisitor)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn verify_order_and_doubles_are_kept() {
        let node = Node::parse(br#"{"b": 1, "a": [true, null], "b": "x"}"#).unwrap();
        let Node::Object(fields) = node else { panic!("an object was sent") };
        assert_eq!(fields.iter().map(|field| field.0.as_str()).collect::<Vec<_>>(), ["b", "a", "b"]);
    }

    #[test]
    fn verify_depth_and_trailing_text_are_refused() {
        assert!(Node::parse("[".repeat(200).as_bytes()).is_err());
        assert!(Node::parse(b"{} {}").is_err());
        assert!(Node::parse(b"").is_err());
        assert!(Node::parse(&[0xff]).is_err());
    }
}
