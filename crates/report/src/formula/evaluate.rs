//! The value that a reader gets from an expression with rounded numbers.
//!
//! It decides only how many digits are printed, so that what is printed gives what is printed.

use super::expression::{Expression, Sign};

/// The numbers of symbols.
pub(crate) type Values<'a> = Vec<(&'a str, f64)>;

/// The value of an expression; none if it has a function that a pocket calculator has not.
pub(crate) fn evaluate(expression: &Expression, values: &Values<'_>) -> Option<f64> {
    match expression {
        Expression::Number(text) => text.parse().ok(),
        Expression::Symbol(name) => values.iter().find(|(known, _)| known == name).map(|(_, value)| *value),
        Expression::Negative(inner) => Some(-evaluate(inner, values)?),
        Expression::Joined(sign, left, right) => {
            let (left, right) = (evaluate(left, values)?, evaluate(right, values)?);
            Some(match sign {
                Sign::Plus => left + right,
                Sign::Minus => left - right,
                Sign::Times => left * right,
                Sign::Over => left / right,
            })
        }
        Expression::Call(name, arguments) => {
            let arguments = arguments.iter().map(|argument| evaluate(argument, values)).collect::<Option<Vec<_>>>()?;
            called(name, &arguments)
        }
    }
}

fn called(name: &str, arguments: &[f64]) -> Option<f64> {
    Some(match (name, arguments) {
        ("max", [a, b]) => a.max(*b),
        ("min", [a, b]) => a.min(*b),
        ("sqrt" | "side_of", [x]) => x.sqrt(),
        ("tan", [x]) => libm::tan(*x),
        ("sin", [x]) => libm::sin(*x),
        ("cos", [x]) => libm::cos(*x),
        ("pow4", [x]) => x * x * x * x,
        ("stress_on" | "pressure_on", [force, area]) => force / area,
        ("bending_in", [moment, distance, inertia]) => moment * distance / inertia,
        _ => return None,
    })
}
