//! An expression as mathematics, its symbols written as whoever asks wants them.

use super::expression::{Expression, Sign};
use super::math::Math;

/// How tightly something binds: what binds less than its place asks for goes into parentheses.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
enum Binding {
    Sum,
    Product,
    Whole,
}

/// The sign of multiplication: a dot between symbols, a cross between numbers.
#[derive(Clone, Copy)]
pub(super) struct Notation<'a> {
    pub(super) times: &'static str,
    pub(super) symbol: &'a dyn Fn(&str) -> Math,
    pub(super) number: &'a dyn Fn(&str) -> Math,
}

impl Notation<'_> {
    /// The expression in this notation.
    pub(super) fn write(self, expression: &Expression) -> Math {
        self.binding(expression).0
    }

    fn binding(self, expression: &Expression) -> (Math, Binding) {
        match expression {
            Expression::Number(text) => ((self.number)(text), Binding::Whole),
            Expression::Symbol(name) => ((self.symbol)(name), Binding::Whole),
            Expression::Negative(inner) => {
                (Math::row(vec![Math::sign("\u{2212}"), self.at_least(inner, Binding::Product)]), Binding::Sum)
            }
            Expression::Joined(Sign::Over, left, right) => {
                (fraction(self.write(left), self.write(right)), Binding::Whole)
            }
            Expression::Joined(sign, left, right) => self.joined(*sign, left, right),
            Expression::Call(name, arguments) => (self.called(name, arguments), Binding::Whole),
        }
    }

    fn joined(self, sign: Sign, left: &Expression, right: &Expression) -> (Math, Binding) {
        let (mark, of_left, of_right, own) = match sign {
            Sign::Plus => ("+", Binding::Sum, Binding::Product, Binding::Sum),
            Sign::Minus => ("\u{2212}", Binding::Sum, Binding::Product, Binding::Sum),
            Sign::Times | Sign::Over => (self.times, Binding::Product, Binding::Product, Binding::Product),
        };
        (Math::row(vec![self.at_least(left, of_left), Math::sign(mark), self.at_least(right, of_right)]), own)
    }

    fn at_least(self, expression: &Expression, wanted: Binding) -> Math {
        let (math, binding) = self.binding(expression);
        if binding < wanted { math.in_parentheses() } else { math }
    }

    fn called(self, name: &str, arguments: &[Expression]) -> Math {
        match (name, arguments) {
            ("sqrt" | "side_of", [of]) => Math::Root { of: Box::new(self.write(of)) },
            ("pow4", [of]) => Math::Power { of: Box::new(self.raised(of)), power: "4".to_owned() },
            ("stress_on" | "pressure_on", [force, area]) => fraction(self.write(force), self.write(area)),
            ("bending_in", [moment, distance, inertia]) => {
                let over = self.joined(Sign::Times, moment, distance).0;
                fraction(over, self.write(inertia))
            }
            _ => Math::row(vec![
                Math::Function { name: name.to_owned() },
                Math::row(listed(arguments.iter().map(|argument| self.write(argument)))).in_parentheses(),
            ]),
        }
    }

    /// The base of a power: a number with its unit, or anything longer, stands in parentheses.
    fn raised(self, expression: &Expression) -> Math {
        let math = self.write(expression);
        match math {
            Math::Symbol { .. } => math,
            Math::Number { ref power, .. } if power.is_none() => math,
            other => other.in_parentheses(),
        }
    }
}

fn fraction(over: Math, under: Math) -> Math {
    Math::Fraction { over: Box::new(over), under: Box::new(under) }
}

fn listed(arguments: impl Iterator<Item = Math>) -> Vec<Math> {
    let mut items = Vec::new();
    for argument in arguments {
        if !items.is_empty() {
            items.push(Math::sign(";"));
        }
        items.push(argument);
    }
    items
}
