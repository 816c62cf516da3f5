//! One fault of a request: where it is, what kind it is, and how to put it right.

use serde::{Deserialize, Serialize};
use utoipa::ToSchema;

/// Declares the closed list of fault codes: variant, wire name, whether it is structural, meaning.
macro_rules! fault_codes {
    ($($variant:ident, $wire:literal, $structural:literal, $meaning:literal;)+) => {
        /// The kind of a fault. New kinds may be added; a client must tolerate ones it does not know.
        #[derive(Clone, Copy, Debug, Eq, PartialEq, Ord, PartialOrd, Serialize, Deserialize, ToSchema)]
        #[serde(rename_all = "snake_case")]
        pub enum FaultCode {
            $(#[doc = $meaning] $variant,)+
        }

        impl FaultCode {
            /// Every kind of fault, in the order in which the help page lists them.
            pub const ALL: &[Self] = &[$(Self::$variant,)+];

            /// The name on the wire.
            pub const fn as_str(self) -> &'static str {
                match self { $(Self::$variant => $wire,)+ }
            }

            /// Whether the request could not be read at all, so that the whole answer is 400 and not 422.
            pub const fn is_structural(self) -> bool {
                match self { $(Self::$variant => $structural,)+ }
            }

            /// What the fault means, in one sentence.
            pub const fn meaning(self) -> &'static str {
                match self { $(Self::$variant => $meaning,)+ }
            }
        }
    };
}

fault_codes! {
    MalformedJson, "malformed_json", true, "The text is not well-formed JSON.";
    MissingField, "missing_field", true, "A field that must be there is not.";
    UnknownField, "unknown_field", true, "A field that the service does not know; `nearest` is the name most like it.";
    DuplicateField, "duplicate_field", true, "The same field is given twice in one object, or the same parameter twice.";
    WrongType, "wrong_type", true, "The value is of another JSON type than the field takes.";
    BareNumber, "bare_number", true, "A number without a unit stands where a quantity is wanted.";
    AmbiguousUnit, "ambiguous_unit", true, "The unit has more than one meaning, such as `ton`.";
    UnknownUnit, "unknown_unit", true, "The unit is not one the service knows; `nearest` is the symbol most like it.";
    WrongDimension, "wrong_dimension", true, "The unit measures something else than the field, such as a length for a pressure.";
    NotAQuantity, "not_a_quantity", true, "The text is not a number followed by a unit.";
    UnknownValue, "unknown_value", true, "The word is not one of those the field takes; `nearest` is the one most like it.";
    MalformedTable, "malformed_table", true, "A catalogue table cannot be read as CSV with the columns it must have.";
    NotFinite, "not_finite", false, "The number is too large to be held, or is not a number.";
    OutOfRange, "out_of_range", false, "The value is below the least or above the greatest that the field takes; see `limit`.";
    TooManyItems, "too_many_items", false, "The list is longer than the service takes; see `limit`.";
    TooFewItems, "too_few_items", false, "The list is shorter than the calculation needs; see `limit`.";
    TooLong, "too_long", false, "The text is longer than the field takes; see `limit`.";
    UnknownId, "unknown_id", false, "No entry of the catalogue or of the request has this id; `nearest` is the id most like it.";
    DuplicateId, "duplicate_id", false, "Two entries of one list have the same id or number.";
    Inconsistent, "inconsistent", false, "Two or more fields contradict each other.";
}

/// One fault of a request.
#[derive(Clone, Debug, Eq, PartialEq, Serialize, Deserialize, ToSchema)]
pub struct Fault {
    /// Where in the body the fault is: a JSON Pointer as a URI fragment, such as `#/load_case/points/2/x`.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub pointer: Option<String>,
    /// Which parameter of the address, or which header, has the fault.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub parameter: Option<String>,
    /// The kind of fault.
    pub code: FaultCode,
    /// What is wrong, in words.
    pub detail: String,
    /// How to put it right.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub hint: Option<String>,
    /// The value as it was sent.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub given: Option<String>,
    /// The limit that the value breaks, in the sender's unit.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub limit: Option<String>,
    /// The known name most like the one given.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub nearest: Option<String>,
}

impl Fault {
    /// A fault at a place of the body; `pointer` is a JSON Pointer with or without its leading `#`.
    pub fn at(pointer: impl AsRef<str>, code: FaultCode, detail: impl Into<String>) -> Self {
        let pointer = pointer.as_ref();
        let fragment = if pointer.starts_with('#') { pointer.to_owned() } else { format!("#{pointer}") };
        Self { pointer: Some(fragment), ..Self::nowhere(code, detail) }
    }

    /// A fault in a parameter of the address or in a header.
    pub fn in_parameter(name: impl Into<String>, code: FaultCode, detail: impl Into<String>) -> Self {
        Self { parameter: Some(name.into()), ..Self::nowhere(code, detail) }
    }

    /// A fault of the request as a whole.
    pub fn nowhere(code: FaultCode, detail: impl Into<String>) -> Self {
        Self {
            pointer: None,
            parameter: None,
            code,
            detail: detail.into(),
            hint: None,
            given: None,
            limit: None,
            nearest: None,
        }
    }

    /// Says how to put the fault right.
    #[must_use]
    pub fn with_hint(mut self, hint: impl Into<String>) -> Self {
        self.hint = Some(hint.into());
        self
    }

    /// Repeats the value as it was sent.
    #[must_use]
    pub fn with_given(mut self, given: impl Into<String>) -> Self {
        self.given = Some(given.into());
        self
    }

    /// Names the limit that the value breaks, in the sender's unit.
    #[must_use]
    pub fn with_limit(mut self, limit: impl Into<String>) -> Self {
        self.limit = Some(limit.into());
        self
    }

    /// Names the known word most like the one given, if there is one.
    #[must_use]
    pub fn with_nearest(mut self, nearest: Option<impl Into<String>>) -> Self {
        self.nearest = nearest.map(Into::into);
        self
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn verify_wire_names_are_what_serde_writes() {
        for code in FaultCode::ALL {
            assert_eq!(serde_json::to_value(code).unwrap(), code.as_str());
        }
    }

    #[test]
    fn verify_a_pointer_becomes_a_fragment_once() {
        assert_eq!(Fault::at("/a/b", FaultCode::WrongType, "x").pointer.unwrap(), "#/a/b");
        assert_eq!(Fault::at("#/a/b", FaultCode::WrongType, "x").pointer.unwrap(), "#/a/b");
        assert_eq!(Fault::at("", FaultCode::WrongType, "x").pointer.unwrap(), "#");
    }

    #[test]
    fn verify_absent_members_are_not_written() {
        let fault = Fault::at("/weight", FaultCode::BareNumber, "a unit is missing").with_given("212");
        let expected = serde_json::json!({
            "pointer": "#/weight", "code": "bare_number", "detail": "a unit is missing", "given": "212"
        });
        assert_eq!(serde_json::to_value(&fault).unwrap(), expected);
    }
}
