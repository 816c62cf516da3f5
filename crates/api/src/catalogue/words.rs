//! Texts of a catalogue as they are sent.

use crate::json::Node;
use crate::problem::FaultCode;
use crate::read::{Faults, Pointer, Read, wrong_type};
use serde_json::Value;
use std::borrow::Cow;
use utoipa::openapi::schema::{ObjectBuilder, Type};
use utoipa::openapi::{RefOr, Schema};
use utoipa::{PartialSchema, ToSchema};

/// The greatest length of a line of words in characters.
pub const WORDS_LENGTH: usize = 200;

/// The greatest length of a file sent as text, in bytes.
pub const FILE_TEXT_LENGTH: usize = 400_000;

/// One line of words: 1 to 200 characters, none of them a control character.
#[derive(Clone, Debug, PartialEq)]
pub struct Words(pub String);

/// The code of a currency: three capital letters (ISO 4217).
#[derive(Clone, Debug, PartialEq)]
pub struct Currency(pub String);

/// A file of a catalogue as text, of at most 400 000 bytes.
#[derive(Clone, Debug, PartialEq)]
pub struct CsvText(pub String);

/// What stands where no currency is known: the code of ISO 4217 for "no currency".
pub const NO_CURRENCY: &str = "XXX";

fn text<'a>(node: &'a Node, at: &Pointer, faults: &mut Faults) -> Option<&'a str> {
    if let Node::Text(text) = node {
        return Some(text);
    }
    faults.push(wrong_type(node, "a string", at));
    None
}

fn short_enough(length: usize, limit: usize, unit: &str, at: &Pointer, faults: &mut Faults) -> Option<()> {
    if length <= limit {
        return Some(());
    }
    let detail = format!("{length} {unit}, at most {limit} can be taken");
    faults.push(at.fault(FaultCode::TooLong, detail).with_limit(limit.to_string()));
    None
}

impl Read for Words {
    fn read(node: &Node, at: &Pointer, faults: &mut Faults) -> Option<Self> {
        let words = text(node, at, faults)?;
        short_enough(words.chars().count(), WORDS_LENGTH, "characters", at, faults)?;
        if words.is_empty() || words.chars().any(char::is_control) {
            let detail = "a line of words has at least one character, and no control characters";
            faults.push(at.fault(FaultCode::UnknownValue, detail).with_given(node.shown()));
            return None;
        }
        Some(Self(words.to_owned()))
    }

    fn canonical(&self) -> Option<Value> {
        Some(Value::String(self.0.clone()))
    }
}

impl Read for Currency {
    fn read(node: &Node, at: &Pointer, faults: &mut Faults) -> Option<Self> {
        let code = text(node, at, faults)?;
        if code.len() == 3 && code.bytes().all(|byte| byte.is_ascii_uppercase()) {
            return Some(Self(code.to_owned()));
        }
        let fault = at.fault(FaultCode::UnknownValue, format!("`{}` is not the code of a currency", node.shown()));
        faults.push(fault.with_given(node.shown()).with_hint("three capital letters (ISO 4217), such as EUR"));
        None
    }

    fn canonical(&self) -> Option<Value> {
        Some(Value::String(self.0.clone()))
    }
}

impl Read for CsvText {
    fn read(node: &Node, at: &Pointer, faults: &mut Faults) -> Option<Self> {
        let file = text(node, at, faults)?;
        short_enough(file.len(), FILE_TEXT_LENGTH, "bytes", at, faults)?;
        Some(Self(file.to_owned()))
    }

    fn canonical(&self) -> Option<Value> {
        Some(Value::String(self.0.clone()))
    }
}

/// The schema of a string.
fn string(words: &str, least: usize, greatest: usize, pattern: Option<&str>) -> RefOr<Schema> {
    ObjectBuilder::new()
        .schema_type(Type::String)
        .description(Some(words))
        .min_length(Some(least))
        .max_length(Some(greatest))
        .pattern(pattern)
        .build()
        .into()
}

impl PartialSchema for Words {
    fn schema() -> RefOr<Schema> {
        string("One line of words.", 1, WORDS_LENGTH, Some(r"^[^\x00-\x1f\x7f-\x9f]+$"))
    }
}

impl PartialSchema for Currency {
    fn schema() -> RefOr<Schema> {
        string("The code of a currency (ISO 4217).", 3, 3, Some("^[A-Z]{3}$"))
    }
}

impl PartialSchema for CsvText {
    fn schema() -> RefOr<Schema> {
        string("A file of a catalogue as text. Its length counts in bytes of UTF-8.", 0, FILE_TEXT_LENGTH, None)
    }
}

impl ToSchema for Words {
    fn name() -> Cow<'static, str> {
        "Words".into()
    }
}

impl ToSchema for Currency {
    fn name() -> Cow<'static, str> {
        "Currency".into()
    }
}

impl ToSchema for CsvText {
    fn name() -> Cow<'static, str> {
        "CsvText".into()
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn codes<T: Read>(text: &str) -> Vec<FaultCode> {
        let mut faults = Faults::default();
        let read = T::read(&Node::Text(text.to_owned()), &Pointer::default(), &mut faults);
        assert_eq!(read.is_none(), !faults.is_empty());
        faults.into_vec().iter().map(|fault| fault.code).collect()
    }

    #[test]
    fn verify_lengths_and_characters() {
        assert_eq!(codes::<Words>(&"ä".repeat(WORDS_LENGTH)), []);
        assert_eq!(codes::<Words>(&"a".repeat(WORDS_LENGTH + 1)), [FaultCode::TooLong]);
        assert_eq!(codes::<Words>("two\nlines"), [FaultCode::UnknownValue]);
        assert_eq!(codes::<Words>(""), [FaultCode::UnknownValue]);
        assert_eq!(codes::<CsvText>(&"a\n".repeat(FILE_TEXT_LENGTH / 2)), []);
        assert_eq!(codes::<CsvText>(&"a".repeat(FILE_TEXT_LENGTH + 1)), [FaultCode::TooLong]);
    }

    #[test]
    fn verify_currencies_are_three_capitals() {
        assert_eq!(codes::<Currency>("EUR"), []);
        for wrong in ["eur", "EURO", "", "€", "E R"] {
            assert_eq!(codes::<Currency>(wrong), [FaultCode::UnknownValue], "{wrong}");
        }
    }
}
