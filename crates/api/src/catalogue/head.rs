//! Reading `catalogue.toml`: what a catalogue is called and where its data come from.

use super::words::{Currency, Words};
use crate::json::Node;
use crate::problem::FaultCode;
use crate::read::{Faults, Pointer, Read};
use crate::sent::Name;
use crate::wire_struct;

wire_struct! {
    /// The fields of `catalogue.toml`.
    CatalogueHead {
        /// Name by which requests choose it: letters, digits, `-` and `_`.
        name: Name,
        /// A line for people.
        title: Words,
        /// Where the data come from.
        origin: Words,
        /// Currency of its rates.
        currency: Currency,
        /// Which edition of the lists this is, for whoever keeps the files; it is not part of an answer.
        edition: Option<Words>,
    }
}

/// Reads the file; `at` is its place.
pub(crate) fn read_catalogue_head(text: &str, at: &Pointer, faults: &mut Faults) -> Option<CatalogueHead> {
    let table: toml::Table = match text.parse() {
        Ok(table) => table,
        Err(error) => {
            let error: toml::de::Error = error;
            let line = error.span().map_or(1, |span| text.bytes().take(span.start).filter(|b| *b == b'\n').count() + 1);
            let detail = format!("catalogue.toml cannot be read at line {line}: {}", error.message());
            faults.push(at.fault(FaultCode::MalformedTable, detail));
            return None;
        }
    };
    let head = CatalogueHead::read(&node(toml::Value::Table(table)), at, faults)?;
    is_plain(&head.name, &at.field("name"), faults).then_some(head)
}

/// Whether a name can stand in an address as it is.
fn is_plain(name: &Name, at: &Pointer, faults: &mut Faults) -> bool {
    let plain = name.0.chars().all(|c| c.is_ascii_alphanumeric() || matches!(c, '-' | '_'));
    if !plain {
        let detail = format!("`{}` cannot stand in an address", name.0);
        let fault = at.fault(FaultCode::UnknownValue, detail).with_given(name.0.clone());
        faults.push(fault.with_hint("letters without accents, digits, `-` and `_`"));
    }
    plain
}

fn node(value: toml::Value) -> Node {
    match value {
        toml::Value::String(text) => Node::Text(text),
        #[expect(clippy::cast_precision_loss, reason = "no field takes a number: it is only named in a message")]
        toml::Value::Integer(value) => Node::Number(value as f64),
        toml::Value::Float(value) => Node::Number(value),
        toml::Value::Boolean(value) => Node::Bool(value),
        toml::Value::Datetime(value) => Node::Text(value.to_string()),
        toml::Value::Array(items) => Node::List(items.into_iter().map(node).collect()),
        toml::Value::Table(fields) => {
            Node::Object(fields.into_iter().map(|(name, value)| (name, node(value))).collect())
        }
    }
}
