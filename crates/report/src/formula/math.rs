//! Mathematics as it is printed, apart from how HTML or PDF write it down.

use serde::Serialize;

/// A piece of mathematics.
#[derive(Clone, Debug, PartialEq, Serialize)]
#[serde(tag = "is", rename_all = "snake_case")]
pub enum Math {
    /// Pieces side by side.
    Row {
        /// The pieces.
        items: Vec<Math>,
    },
    /// A number, with a power of ten where it is very great or small.
    Number {
        /// Its digits.
        text: String,
        /// The power of ten.
        #[serde(skip_serializing_if = "Option::is_none")]
        power: Option<String>,
    },
    /// A number that stands for a quantity, with its unit; a plain number has none.
    Quantity {
        /// Its digits.
        text: String,
        /// The power of ten.
        #[serde(skip_serializing_if = "Option::is_none")]
        power: Option<String>,
        /// The unit.
        unit: String,
    },
    /// A symbol, with what stands below it.
    Symbol {
        /// The letter.
        base: String,
        /// What stands below it.
        #[serde(skip_serializing_if = "Option::is_none")]
        below: Option<String>,
    },
    /// The name of a function.
    Function {
        /// The name.
        name: String,
    },
    /// A sign between pieces.
    Sign {
        /// The sign.
        sign: &'static str,
    },
    /// One thing over another.
    Fraction {
        /// Above the line.
        over: Box<Math>,
        /// Below it.
        under: Box<Math>,
    },
    /// A square root.
    Root {
        /// Of what.
        of: Box<Math>,
    },
    /// A power.
    Power {
        /// Of what.
        of: Box<Math>,
        /// The exponent.
        power: String,
    },
    /// Something in parentheses.
    Parentheses {
        /// What.
        of: Box<Math>,
    },
}

impl Math {
    pub(crate) const fn sign(sign: &'static str) -> Self {
        Self::Sign { sign }
    }

    pub(crate) fn row(items: Vec<Self>) -> Self {
        Self::Row { items }
    }

    pub(crate) fn in_parentheses(self) -> Self {
        Self::Parentheses { of: Box::new(self) }
    }
}
