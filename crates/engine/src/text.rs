//! Text in results.

use serde::{Deserialize, Serialize};
use std::borrow::Cow;
use std::fmt;
use utoipa::openapi::schema::{ObjectBuilder, Type};
use utoipa::openapi::{RefOr, Schema};
use utoipa::{PartialSchema, ToSchema};

/// A text that is a constant in the engine and an owned string when it was read from an answer.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize)]
#[serde(transparent)]
pub struct Text(Cow<'static, str>);

impl Text {
    /// A constant text.
    pub const fn fixed(text: &'static str) -> Self {
        Self(Cow::Borrowed(text))
    }

    /// The text.
    pub fn as_str(&self) -> &str {
        &self.0
    }
}

impl From<&'static str> for Text {
    fn from(text: &'static str) -> Self {
        Self::fixed(text)
    }
}

impl From<String> for Text {
    fn from(text: String) -> Self {
        Self(Cow::Owned(text))
    }
}

impl fmt::Display for Text {
    fn fmt(&self, formatter: &mut fmt::Formatter<'_>) -> fmt::Result {
        formatter.write_str(&self.0)
    }
}

impl PartialSchema for Text {
    fn schema() -> RefOr<Schema> {
        ObjectBuilder::new().schema_type(Type::String).description(Some("A text for people.")).build().into()
    }
}

impl ToSchema for Text {
    fn name() -> Cow<'static, str> {
        "Text".into()
    }
}
