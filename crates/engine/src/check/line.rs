//! The lines of a calculation, and the macros that compute and keep them.

use super::Source;
use crate::text::Text;
use ramwright_units::Quantity;
use serde::{Deserialize, Serialize};
use utoipa::ToSchema;

/// A named value in an expression.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, ToSchema)]
pub struct Term {
    /// Its symbol in the expression.
    pub symbol: Text,
    /// Its value.
    #[schema(inline = false)]
    pub value: Quantity,
}

/// One line of a calculation.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, ToSchema)]
pub struct Line {
    /// What the line gives.
    pub symbol: Text,
    /// The expression that gave it; where `residual` is present, `symbol` is its root.
    pub expression: Text,
    /// The values that the expression used.
    pub terms: Vec<Term>,
    /// The value of `symbol`.
    pub value: Quantity,
    /// Value of the expression at the root, which an exact root would make zero.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub residual: Option<f64>,
    /// Where the formula comes from.
    pub source: Source,
}

/// Whatever lines are written into; `size` throws them away unmade.
pub trait Ledger {
    /// Whether lines are kept.
    const KEEPS: bool;

    /// Takes a line, which is made only if it is kept.
    fn keep(&mut self, line: impl FnOnce() -> Line);
}

/// Keeps every line.
#[derive(Clone, Debug, Default)]
pub struct Lines(pub Vec<Line>);

impl Ledger for Lines {
    const KEEPS: bool = true;

    fn keep(&mut self, line: impl FnOnce() -> Line) {
        self.0.push(line());
    }
}

/// Keeps nothing.
#[derive(Clone, Copy, Debug, Default)]
pub struct NoLines;

impl Ledger for NoLines {
    const KEEPS: bool = false;

    fn keep(&mut self, _line: impl FnOnce() -> Line) {}
}

/// Functions that expressions of lines may use, under the names in which they are printed.
pub mod functions {
    use ramwright_units::{Area, Force, GroundPressure, Length, Moment, SecondMoment, Stress};

    /// Bending stress of a moment at a distance from the neutral axis.
    pub fn bending_in(moment: Moment, distance: Length, inertia: SecondMoment) -> Stress {
        inertia.stress_under(moment, distance)
    }

    /// Force over area, as a stress in a solid.
    pub fn stress_on(force: Force, area: Area) -> Stress {
        area.stress_under(force)
    }

    /// Force over area, as a pressure on the ground.
    pub fn pressure_on(force: Force, area: Area) -> GroundPressure {
        area.ground_pressure_under(force)
    }

    /// Tangent of radians.
    pub fn tan(x: f64) -> f64 {
        libm::tan(x)
    }

    /// Square root of an area, as a length.
    pub fn side_of(area: Area) -> Length {
        Length::from_m(area.m2().sqrt())
    }

    /// Square root.
    pub fn sqrt(x: f64) -> f64 {
        x.sqrt()
    }

    /// Sine of radians.
    pub fn sin(x: f64) -> f64 {
        libm::sin(x)
    }

    /// Cosine of radians.
    pub fn cos(x: f64) -> f64 {
        libm::cos(x)
    }

    /// Fourth power of a length is a second moment's dimension, so plain numbers only.
    pub fn pow4(x: f64) -> f64 {
        x * x * x * x
    }

    /// The greater of two quantities of one type.
    pub fn max<T: PartialOrd>(a: T, b: T) -> T {
        if a < b { b } else { a }
    }

    /// The lesser of two quantities of one type.
    pub fn min<T: PartialOrd>(a: T, b: T) -> T {
        if b < a { b } else { a }
    }
}

/// Computes an expression and keeps it as a line, from one and the same tokens.
///
/// `line!(book, F: Force = p * A; p = pressure, A = area; SOURCE)` evaluates `p * A` with the terms named,
/// hands book, text, terms and value over, and gives the value.
#[macro_export]
macro_rules! line {
    ($book:expr, $symbol:ident : $type:ty = $expression:expr; $($term:ident = $value:expr),+; $source:expr) => {{
        #[allow(unused_imports, reason = "an expression uses the functions that it needs")]
        use $crate::check::functions::*;
        $(#[allow(non_snake_case, clippy::redundant_locals, reason = "symbols are the field's own")] let $term = $value;)+
        let value: $type = $expression;
        $crate::check::Ledger::keep($book, || $crate::check::Line {
            symbol: stringify!($symbol).into(),
            expression: stringify!($expression).into(),
            terms: vec![$($crate::check::Term { symbol: stringify!($term).into(), value: $term.into() }),+],
            value: value.into(),
            residual: None,
            source: $source,
        });
        value
    }};
}

/// Keeps the root of an equation as a line: the expression, the solution and what it leaves over.
#[macro_export]
macro_rules! root_line {
    ($book:expr, $symbol:ident = $solution:expr; $expression:expr; $($term:ident = $value:expr),+; $source:expr) => {{
        #[allow(unused_imports, reason = "an expression uses the functions that it needs")]
        use $crate::check::functions::*;
        $(#[allow(non_snake_case, clippy::redundant_locals, reason = "symbols are the field's own")] let $term = $value;)+
        let residual: f64 = $expression;
        $crate::check::Ledger::keep($book, || $crate::check::Line {
            symbol: stringify!($symbol).into(),
            expression: stringify!($expression).into(),
            terms: vec![$($crate::check::Term { symbol: stringify!($term).into(), value: $term.into() }),+],
            value: $solution.into(),
            residual: Some(residual),
            source: $source,
        });
        residual
    }};
}
