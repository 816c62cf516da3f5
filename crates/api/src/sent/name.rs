//! Names and ids.

use crate::json::Node;
use crate::problem::FaultCode;
use crate::read::{Faults, Pointer, Read, wrong_type};
use serde_json::Value;
use std::borrow::Cow;
use utoipa::openapi::schema::{ObjectBuilder, Type};
use utoipa::openapi::{RefOr, Schema};
use utoipa::{PartialSchema, ToSchema};

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
