//! Two answers held against each other, field by field.

use crate::json::Node;
use crate::read::Pointer;
use serde::{Deserialize, Deserializer, Serialize};
use serde_json::{Map, Value};
use std::collections::{BTreeMap, BTreeSet};
use utoipa::ToSchema;

/// Of the differences so many are listed.
pub const MOST_DIFFERENCES: usize = 200;
/// The longest value that is shown whole, in characters of its JSON.
const LONGEST_SHOWN: usize = 300;

/// One place in which the saved answer and the one computed now differ.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, ToSchema)]
#[schema(as = ReplayDifference)]
pub struct Difference {
    /// Where: a JSON Pointer as a URI fragment, such as `#/result/points/2/share/greatest`.
    pub pointer: String,
    /// What was saved; absent if there is nothing at this place of the saved answer.
    #[serde(default, deserialize_with = "present", skip_serializing_if = "Option::is_none")]
    #[schema(value_type = Value, required = false)]
    pub saved: Option<Value>,
    /// What is computed now; absent if there is nothing at this place of it.
    #[serde(default, deserialize_with = "present", skip_serializing_if = "Option::is_none")]
    #[schema(value_type = Value, required = false)]
    pub now: Option<Value>,
    /// Whether one of the two is not shown whole: of a long text the beginning, of a large object or array its size in words.
    pub shortened: bool,
}

/// A `null` that is there is not the same as nothing.
fn present<'de, D: Deserializer<'de>>(deserializer: D) -> Result<Option<Value>, D::Error> {
    Value::deserialize(deserializer).map(Some)
}

/// The differences that were found.
#[derive(Debug, Default)]
pub(super) struct Found {
    listed: Vec<Difference>,
    count: usize,
    /// The fields of the answer in which there are any.
    fields: BTreeSet<String>,
}

impl Found {
    pub(super) fn is_empty(&self) -> bool {
        self.count == 0
    }

    /// Whether there is any in this field of the answer.
    pub(super) fn touches(&self, field: &str) -> bool {
        self.fields.contains(field)
    }

    pub(super) fn left_off(&self) -> usize {
        self.count - self.listed.len()
    }

    pub(super) fn into_listed(self) -> Vec<Difference> {
        self.listed
    }

    fn add(&mut self, at: &Pointer, saved: Option<&Node>, now: Option<&Node>) {
        self.count += 1;
        let field = at.name().split('/').next().unwrap_or_default();
        if !self.fields.contains(field) {
            self.fields.insert(field.to_owned());
        }
        if self.listed.len() < MOST_DIFFERENCES {
            let (saved, now) = (saved.map(shown), now.map(shown));
            let shortened = [&saved, &now].into_iter().flatten().any(|(_, shortened)| *shortened);
            let value = |side: Option<(Value, bool)>| side.map(|(value, _)| value);
            let pointer = at.fragment();
            self.listed.push(Difference { pointer, saved: value(saved), now: value(now), shortened });
        }
    }
}

/// Every difference, in the order of the saved answer.
pub(super) fn differences(saved: &Node, now: &Node) -> Found {
    let mut found = Found::default();
    compare(saved, now, &Pointer::default(), &mut found);
    found
}

fn compare(saved: &Node, now: &Node, at: &Pointer, found: &mut Found) {
    match (saved, now) {
        (Node::Object(saved), Node::Object(now)) => compare_fields(saved, now, at, found),
        (Node::List(saved), Node::List(now)) => {
            for (index, (saved, now)) in saved.iter().zip(now).enumerate() {
                compare(saved, now, &at.item(index), found);
            }
            let common = saved.len().min(now.len());
            for (index, extra) in saved.iter().enumerate().skip(common) {
                found.add(&at.item(index), Some(extra), None);
            }
            for (index, extra) in now.iter().enumerate().skip(common) {
                found.add(&at.item(index), None, Some(extra));
            }
        }
        _ if is_same(saved, now) => {}
        _ => found.add(at, Some(saved), Some(now)),
    }
}

fn compare_fields(saved: &[(String, Node)], now: &[(String, Node)], at: &Pointer, found: &mut Found) {
    let by_name: BTreeMap<&str, &Node> = now.iter().map(|(name, value)| (name.as_str(), value)).collect();
    for (name, value) in saved {
        match by_name.get(name.as_str()) {
            Some(other) => compare(value, other, &at.field(name), found),
            None => found.add(&at.field(name), Some(value), None),
        }
    }
    let saved: BTreeSet<&str> = saved.iter().map(|(name, _)| name.as_str()).collect();
    for (name, value) in now.iter().filter(|(name, _)| !saved.contains(name.as_str())) {
        found.add(&at.field(name), None, Some(value));
    }
}

/// Whether two values that are not both objects or both lists are the same; numbers to the bit, but for the sign of zero.
fn is_same(saved: &Node, now: &Node) -> bool {
    match (saved, now) {
        (Node::Null, Node::Null) => true,
        (Node::Bool(saved), Node::Bool(now)) => saved == now,
        (Node::Number(saved), Node::Number(now)) => (saved + 0.0).to_bits() == (now + 0.0).to_bits(),
        (Node::Text(saved), Node::Text(now)) => saved == now,
        _ => false,
    }
}

/// A value as it is shown, and whether it was shortened.
fn shown(node: &Node) -> (Value, bool) {
    let long = |text: &str| LONGEST_SHOWN < text.chars().count();
    match node {
        Node::Text(text) if long(text) => {
            (Value::String(format!("{}…", text.chars().take(LONGEST_SHOWN).collect::<String>())), true)
        }
        Node::List(_) | Node::Object(_) => {
            let whole = value(node);
            if long(&whole.to_string()) { (Value::String(node.shown()), true) } else { (whole, false) }
        }
        other => (value(other), false),
    }
}

fn value(node: &Node) -> Value {
    match node {
        Node::Null => Value::Null,
        Node::Bool(value) => Value::Bool(*value),
        Node::Number(value) => number(*value),
        Node::Text(text) => Value::String(text.clone()),
        Node::List(items) => items.iter().map(value).collect(),
        Node::Object(fields) => {
            let fields = fields.iter().map(|(name, inside)| (name.clone(), value(inside)));
            Value::Object(fields.collect::<Map<_, _>>())
        }
    }
}

/// A whole number is shown as one: whether `4` or `4.0` was written is no difference.
fn number(value: f64) -> Value {
    const EXACT: f64 = 9_007_199_254_740_992.0;
    #[expect(clippy::cast_possible_truncation, reason = "whole and within the range in which f64 counts exactly")]
    let whole = (value.fract().abs() <= 0.0 && value.abs() < EXACT).then_some(value as i64);
    whole.map_or_else(|| value.into(), Value::from)
}
