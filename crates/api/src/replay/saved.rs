//! What is needed of a saved answer, and what it must look like to be one.
//!
//! It may come from another version or have been edited, so that fields may be missing and others be there. But what the
//! service knows must have the JSON type that an answer gives it, and nothing may be there twice: then two readers of the
//! file could see two answers.

use super::Stamp;
use super::recompute::NAMES;
use crate::answer::CatalogueUsed;
use crate::json::Node;
use crate::problem::{Fault, FaultCode, Problem};
use crate::read::{Faults, Pointer, in_document_order, nearest, wrong_type};
use std::borrow::Cow;
use std::collections::BTreeSet;
use utoipa::openapi::schema::{AdditionalProperties, ArrayBuilder, ObjectBuilder, SchemaType, Type};
use utoipa::openapi::{RefOr, Schema};
use utoipa::{PartialSchema, ToSchema};

/// The longest text of a saved answer's own fields, in characters: that of a permalink and its path, with room.
pub const LONGEST_SAVED_TEXT: usize = 16 * 1024;
/// Of fields that are there twice so many are told.
const MOST_TWICE: usize = 20;

/// What may stand in a field.
#[derive(Clone, Copy, PartialEq, Eq)]
enum Form {
    Operation,
    Text,
    TextOrNull,
    Object,
    List,
}

/// A field of the envelope.
struct Known {
    name: &'static str,
    form: Form,
    words: &'static str,
}

/// The fields without which nothing can be computed again.
const REQUIRED: [&str; 2] = ["operation", "request"];

/// Every field of an answer. Reader and schema both follow from it.
const FIELDS: &[Known] = &[
    Known { name: "operation", form: Form::Operation, words: "The calculation." },
    Known { name: "engine_version", form: Form::Text, words: "Version of the engine." },
    Known { name: "defaults", form: Form::Text, words: "Name of the profile of default values." },
    Known { name: "catalogue", form: Form::Object, words: "Name and digest of the catalogue used." },
    Known { name: "units", form: Form::Text, words: "Units of the result." },
    Known { name: "request", form: Form::Object, words: "The request: it is computed again." },
    Known { name: "request_digest", form: Form::Text, words: "SHA-256 of the request in compact form." },
    Known { name: "result_digest", form: Form::Text, words: "SHA-256 of the result in metric units in compact form." },
    Known { name: "permalink", form: Form::TextOrNull, words: "Address that computes this again." },
    Known { name: "permalink_note", form: Form::Text, words: "Why there is no permalink." },
    Known { name: "assumptions", form: Form::List, words: "Values that were assumed." },
    Known { name: "cautions", form: Form::List, words: "What a reader must know." },
    Known { name: "verdict", form: Form::Object, words: "One word over the result." },
    Known { name: "result", form: Form::Object, words: "The engine's result." },
];

/// A saved answer of any calculation, as it is sent to be computed again: just the JSON that was answered. Only `operation`
/// and `request` must be there. What else is missing or unknown is a difference; so is what stands inside objects and lists.
pub struct SavedAnswer;

impl PartialSchema for SavedAnswer {
    fn schema() -> RefOr<Schema> {
        let words = "A saved answer of any calculation, just as it was answered. Only `operation` and `request` must be there: what else is missing, or is not known, is a difference. What stands inside objects and lists is not looked at before it is compared.";
        let open = ObjectBuilder::new()
            .description(Some(words))
            .additional_properties(Some(AdditionalProperties::FreeForm(true)));
        let described = FIELDS.iter().fold(open, |object, field| object.property(field.name, of_form(field)));
        REQUIRED.iter().fold(described, |object, name| object.required(*name)).build().into()
    }
}

impl ToSchema for SavedAnswer {
    fn name() -> Cow<'static, str> {
        "SavedAnswer".into()
    }
}

fn of_form(field: &Known) -> Schema {
    let text = || ObjectBuilder::new().schema_type(Type::String).description(Some(field.words));
    match field.form {
        Form::Operation => text().enum_values(Some(NAMES.iter().copied())).build().into(),
        Form::Text => text().max_length(Some(LONGEST_SAVED_TEXT)).build().into(),
        Form::TextOrNull => {
            let or_null = SchemaType::from_iter([Type::String, Type::Null]);
            text().schema_type(or_null).max_length(Some(LONGEST_SAVED_TEXT)).build().into()
        }
        Form::Object => ObjectBuilder::new().description(Some(field.words)).build().into(),
        Form::List => {
            let anything = ObjectBuilder::new().schema_type(SchemaType::AnyValue);
            ArrayBuilder::new().items(anything).description(Some(field.words)).build().into()
        }
    }
}

/// A saved answer that was read.
#[derive(Debug)]
pub(super) struct Saved<'a> {
    /// The name of its calculation.
    pub(super) operation: &'static str,
    /// Its request.
    pub(super) request: &'a Node,
    /// What it says of itself.
    pub(super) stamp: Stamp,
}

impl<'a> Saved<'a> {
    /// Reads a saved answer.
    ///
    /// # Errors
    /// Every fault outside the request.
    pub(super) fn read(node: &'a Node) -> Result<Self, Problem> {
        let mut faults = Faults::default();
        let at = Pointer::default();
        let Node::Object(fields) = node else {
            return Err(Problem::invalid_request(vec![wrong_type(node, "an answer that was saved, an object,", &at)]));
        };
        for known in FIELDS {
            match fields.iter().find(|(name, _)| name == known.name) {
                Some((_, value)) => faults_of_form(known.form, value, &at.field(known.name), &mut faults),
                None if REQUIRED.contains(&known.name) => faults.push(missing(known.name, fields, &at)),
                None => {}
            }
        }
        twice(node, &mut faults);
        let operation = field(fields, "operation").and_then(text);
        let operation = operation.and_then(|given| NAMES.iter().copied().find(|name| *name == given));
        match (operation, field(fields, "request")) {
            (Some(operation), Some(request)) if faults.is_empty() => {
                Ok(Self { operation, request, stamp: stamp(fields) })
            }
            _ => Err(Problem::invalid_request(in_document_order(node, faults.into_vec()))),
        }
    }
}

fn field<'a>(fields: &'a [(String, Node)], name: &str) -> Option<&'a Node> {
    fields.iter().find(|(own, _)| own == name).map(|(_, value)| value)
}

fn text(node: &Node) -> Option<&str> {
    match node {
        Node::Text(text) => Some(text),
        _ => None,
    }
}

fn stamp(fields: &[(String, Node)]) -> Stamp {
    let said = |name: &str| field(fields, name).and_then(text).map(str::to_owned);
    let used = match field(fields, "catalogue") {
        Some(Node::Object(inside)) => {
            let said = |name: &str| field(inside, name).and_then(text).map(str::to_owned);
            said("name").zip(said("digest")).map(|(name, digest)| CatalogueUsed { name, digest })
        }
        _ => None,
    };
    Stamp {
        engine_version: said("engine_version"),
        defaults: said("defaults"),
        catalogue: used,
        units: said("units"),
        request_digest: said("request_digest"),
        result_digest: said("result_digest"),
    }
}

/// A field that must be there, with the field that may have been meant.
fn missing(name: &str, fields: &[(String, Node)], at: &Pointer) -> Fault {
    let detail = "this field is required: without it nothing can be computed again";
    let fault = at.field(name).fault(FaultCode::MissingField, detail);
    let others = fields.iter().map(|(other, _)| other.as_str());
    match nearest(name, others.filter(|other| FIELDS.iter().all(|known| known.name != *other))) {
        Some(near) => fault.with_hint(format!("was `{near}` meant to be it?")),
        None => fault.with_hint("send the whole JSON answer of a calculation, as it was saved"),
    }
}

fn faults_of_form(form: Form, value: &Node, at: &Pointer, faults: &mut Faults) {
    match (form, value) {
        (Form::Operation, Node::Text(given)) => faults.extend(unknown_operation(given, at)),
        (Form::Text | Form::TextOrNull, Node::Text(given)) => faults.extend(too_long(given, at)),
        (Form::TextOrNull, Node::Null) | (Form::Object, Node::Object(_)) | (Form::List, Node::List(_)) => {}
        (Form::Operation | Form::Text, other) => faults.push(wrong_type(other, "a string", at)),
        (Form::TextOrNull, other) => faults.push(wrong_type(other, "a string or null", at)),
        (Form::Object, other) => faults.push(wrong_type(other, "an object", at)),
        (Form::List, other) => faults.push(wrong_type(other, "an array", at)),
    }
}

fn unknown_operation(given: &str, at: &Pointer) -> Option<Fault> {
    let shown = Node::Text(given.to_owned()).shown();
    let fault = at.fault(FaultCode::UnknownValue, format!("`{shown}` is no calculation of this service"));
    let near = nearest(&shown, NAMES.iter().copied());
    let fault = fault.with_given(shown).with_nearest(near).with_hint(format!("one of {}", NAMES.join(", ")));
    (!NAMES.contains(&given)).then_some(fault)
}

fn too_long(given: &str, at: &Pointer) -> Option<Fault> {
    let length = given.chars().count();
    let fault = at.fault(FaultCode::TooLong, format!("{length} characters are more than an answer has here"));
    (LONGEST_SAVED_TEXT < length).then(|| fault.with_limit(LONGEST_SAVED_TEXT.to_string()))
}

/// Adds a fault for fields that are there twice, wherever they are.
fn twice(node: &Node, faults: &mut Faults) {
    let mut found = Vec::new();
    find_twice(node, &mut Vec::new(), &mut found);
    faults.extend(found);
}

/// Part of the way to a place: the way is made a text only where there is a fault, since it can be as long as the body.
enum Part<'a> {
    Field(&'a str),
    Item(usize),
}

fn find_twice<'a>(node: &'a Node, way: &mut Vec<Part<'a>>, found: &mut Vec<Fault>) {
    match node {
        Node::Object(fields) => {
            let mut seen = BTreeSet::new();
            for (name, value) in fields {
                if MOST_TWICE <= found.len() {
                    return;
                }
                way.push(Part::Field(name));
                if !seen.insert(name.as_str()) {
                    found.push(given_twice(way, found.len() + 1 == MOST_TWICE));
                }
                find_twice(value, way, found);
                way.pop();
            }
        }
        Node::List(items) => {
            for (index, item) in items.iter().enumerate() {
                way.push(Part::Item(index));
                find_twice(item, way, found);
                way.pop();
            }
        }
        _ => {}
    }
}

fn given_twice(way: &[Part<'_>], is_last: bool) -> Fault {
    let at = way.iter().fold(Pointer::default(), |at, part| match part {
        Part::Field(name) => at.field(name),
        Part::Item(index) => at.item(*index),
    });
    let fault = at.fault(FaultCode::DuplicateField, "this field is given twice");
    let more = format!("fields that are given twice are told up to the {MOST_TWICE}th");
    if is_last { fault.with_hint(more) } else { fault }
}
