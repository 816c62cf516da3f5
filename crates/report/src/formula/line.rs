//! A line with as many digits as its reader needs to redo it.

use super::evaluate::evaluate;
use super::expression::Expression;
use super::math::Math;
use super::notation::Notation;
use super::symbol::symbol;
use super::working::Working;
use crate::style::{FIGURES, Style, Written, power_of_ten, printed_unit, read_back};
use crate::words;
use ramwright_engine::check::Line;
use ramwright_units::Quantity;
use serde::Serialize;

/// As many as a number of double precision can need.
const ALL_FIGURES: i32 = 17;
/// Figures of the terms of a line that cannot be evaluated here.
const MANY_FIGURES: i32 = 10;

/// A line of a calculation, ready to be printed.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct WorkedLine {
    /// Its symbol, equals sign and formula.
    pub formula: Math,
    /// The formula with numbers put in.
    pub substitution: Math,
    /// What that gives: in the units in which the line is worked and, where they differ, in those of the answer.
    pub result: Math,
    /// Whether the symbol is the root that makes the formula zero.
    pub root: bool,
    /// Where the formula comes from.
    pub source: String,
    /// How sure that is.
    pub standing: &'static str,
}

/// A line as it is printed; its text as it is, if it is no expression.
pub(crate) fn worked(line: &Line, style: Style) -> WorkedLine {
    let source = line.source.text.to_string();
    let standing = words::standing(line.source.standing);
    let root = line.residual.is_some();
    let Some(expression) = Expression::read(line.expression.as_str()) else {
        let formula =
            equation(symbol(line.symbol.as_str()), Math::Symbol { base: line.expression.to_string(), below: None });
        let result = Math::row(vec![Math::sign("="), answer(line.value, style)]);
        return WorkedLine { formula, substitution: Math::row(Vec::new()), result, root, source, standing };
    };
    let page = Page::of(line, &expression, style);
    let plain = Notation { times: "\u{b7}", symbol: &symbol, number: &|text| literal(text, style) };
    let put_in = Notation { times: "\u{d7}", symbol: &|name| page.term(name), number: &|text| literal(text, style) };
    let numbers = put_in.write(&expression);
    let formula = plain.write(&expression);
    let (formula, substitution) = match line.residual {
        None => (equation(symbol(line.symbol.as_str()), formula), Math::row(vec![Math::sign("="), numbers])),
        Some(residual) => {
            let left_over = number(&style.rounded(residual, 2));
            let zero = number(&style.rounded(0.0, 1));
            (equation(formula, zero), equation(numbers, left_over))
        }
    };
    WorkedLine { formula, substitution, result: page.result_row(), root, source, standing }
}

/// The numbers of a line: units and digits.
struct Page<'a> {
    line: &'a Line,
    style: Style,
    working: Working,
    figures: i32,
}

impl<'a> Page<'a> {
    fn of(line: &'a Line, expression: &Expression, style: Style) -> Self {
        let working = Working::of(line, expression, style.units);
        let page = Self { line, style, working, figures: MANY_FIGURES };
        if line.residual.is_some() || evaluate(expression, &working.values(line)).is_none() {
            return page;
        }
        Self { figures: page.fewest_figures(expression), ..page }
    }

    /// The fewest figures of the terms that give every digit of the results that are printed.
    fn fewest_figures(&self, expression: &Expression) -> i32 {
        let unit_si = self.working.unit(self.line.value).map_or(1.0, |(_, factor)| factor);
        let [result, answered] = [self.result(), self.answer()].map(|one| (one.value(), 0.5 * one.last_digit()));
        let agrees = |(printed, slack): (f64, f64), found: f64| (found - printed).abs() <= slack;
        let terms = self.working.values(self.line);
        let terms: Vec<_> = terms.into_iter().map(|(name, value)| (name, value, power_of_ten(value))).collect();
        let is_enough = |figures: &i32| {
            let read = terms.iter().map(|(name, value, power)| (*name, read_back(*value, *power, *figures)));
            let found = evaluate(expression, &read.collect()).unwrap_or(f64::NAN);
            let quantity = Quantity { value_si: found * unit_si, ..self.line.value };
            agrees(result, found) && agrees(answered, quantity.value_in(self.style.units))
        };
        (FIGURES..ALL_FIGURES).find(is_enough).unwrap_or(ALL_FIGURES)
    }

    /// A term with its number and unit; a constant by its name.
    fn term(&self, name: &str) -> Math {
        let Some(term) = self.line.terms.iter().find(|term| term.symbol.as_str() == name) else { return symbol(name) };
        let written = self.style.shortened(self.working.value(term.value), self.figures);
        let unit = self.working.unit(term.value).map_or("", |(unit, _)| unit);
        let math = quantity(&written, unit);
        if term.value.value_si < 0.0 { math.in_parentheses() } else { math }
    }

    fn result(&self) -> Written {
        self.style.rounded(self.working.value(self.line.value), FIGURES)
    }

    fn answer(&self) -> Written {
        self.style.rounded(self.line.value.value_in(self.style.units), FIGURES)
    }

    /// The result, or for an equation its root.
    fn result_row(&self) -> Math {
        let unit = self.working.unit(self.line.value).map_or("", |(unit, _)| unit);
        let answered = answer(self.line.value, self.style);
        let (worked, before) = if self.line.residual.is_some() {
            let root = self.style.shortened(self.working.value(self.line.value), MANY_FIGURES);
            (quantity(&root, unit), vec![symbol(self.line.symbol.as_str())])
        } else {
            (quantity(&self.result(), unit), Vec::new())
        };
        let mut items = before;
        items.extend([Math::sign("="), worked.clone()]);
        if worked != answered {
            items.extend([Math::sign("="), answered]);
        }
        Math::row(items)
    }
}

fn equation(left: Math, right: Math) -> Math {
    Math::row(vec![left, Math::sign("="), right])
}

/// A quantity in the units of the answer.
fn answer(value: Quantity, style: Style) -> Math {
    quantity(&style.rounded(value.value_in(style.units), FIGURES), printed_unit(value.kind.symbol(style.units)))
}

fn quantity(written: &Written, unit: &str) -> Math {
    let power = written.power.map(minus);
    Math::Quantity { text: written.mantissa.clone(), power, unit: unit.to_owned() }
}

fn number(written: &Written) -> Math {
    Math::Number { text: written.mantissa.clone(), power: written.power.map(minus) }
}

fn minus(power: i32) -> String {
    power.to_string().replace('-', "\u{2212}")
}

/// A number of the formula itself, without the `.0` that only the language asks for.
fn literal(text: &str, style: Style) -> Math {
    let text = text.strip_suffix(".0").unwrap_or(text);
    let text = if style.decimal_comma { text.replace('.', ",") } else { text.to_owned() };
    Math::Number { text, power: None }
}
