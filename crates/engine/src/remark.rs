//! Assumptions and cautions that go with every result.

use crate::check::Source;
use crate::text::Text;
use ramwright_units::Quantity;
use serde::{Deserialize, Serialize};
use utoipa::ToSchema;

/// A value that the request did not give and the calculation used.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, ToSchema)]
pub struct Assumption {
    /// The field of the request that would replace it, as a JSON Pointer without the leading `#/`.
    pub field: String,
    /// What was assumed, in words.
    pub text: Text,
    /// The value, where it is one.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub value: Option<Quantity>,
    /// Where it comes from.
    pub source: Source,
}

/// Something a reader must know before relying on the result.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, ToSchema)]
pub struct Caution {
    /// A fixed name to branch on. More may appear.
    pub code: Text,
    /// The caution in words, with its remedy.
    pub text: Text,
}

impl Caution {
    /// A caution.
    pub fn new(code: &'static str, text: impl Into<Text>) -> Self {
        Self { code: code.into(), text: text.into() }
    }
}

/// The cautions that stand on every result.
pub fn standing_cautions() -> Vec<Caution> {
    vec![
        Caution::new(
            "deference",
            "This result does not replace local codes, the maker's data for the rams in use, a competent or licensed engineer, or the lift supervisor.",
        ),
        Caution::new(
            "oil_alone",
            "Never work under a load held by oil alone: put it on packing or locked collars first.",
        ),
    ]
}
