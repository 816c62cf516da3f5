//! The words for the symbols in the lines of a calculation, and what the named functions in them compute.
//!
//! One letter stands for different things in different formulas, even within one check: `A` is an area in one line and an
//! intercept in the next. So the words are kept by formula, and by check only where two checks use the same formula for
//! different things. A formula that is not here has no words, and a test finds it.

mod circuit;
mod force;
mod functions;
mod load;
mod ram;
mod site;
mod support;
#[cfg(test)]
mod tests;

use ramwright_engine::check::{CheckId, Line};

pub(crate) use functions::function_definition;

/// Formulas in which every symbol means the same, with the words for their symbols.
struct Section {
    /// The checks that it is for; empty for lines of any check, or of none.
    checks: &'static [CheckId],
    /// Their expressions as the lines print them; with `symbol = ` before them where that decides.
    formulas: &'static [&'static str],
    /// The symbols, with those that the formulas give, and what they mean.
    words: &'static [(&'static str, &'static str)],
}

impl Section {
    /// A section for lines of any check, or of none.
    const fn of(formulas: &'static [&'static str], words: &'static [(&'static str, &'static str)]) -> Self {
        Self { checks: &[], formulas, words }
    }

    /// A section for the lines of these checks only.
    const fn at(
        checks: &'static [CheckId],
        formulas: &'static [&'static str],
        words: &'static [(&'static str, &'static str)],
    ) -> Self {
        Self { checks, formulas, words }
    }

    fn words_for(&self, symbol: &str) -> Option<&'static str> {
        self.words.iter().find(|(known, _)| *known == symbol).map(|(_, words)| *words)
    }
}

/// The plain words for a symbol, as a term or as what the line gives, in a line of a check, or of none.
pub(crate) fn meaning(check: Option<CheckId>, line: &Line, symbol: &str) -> Option<&'static str> {
    meaning_in(check, line.symbol.as_str(), line.expression.as_str(), symbol)
}

fn meaning_in(check: Option<CheckId>, gives: &str, expression: &str, symbol: &str) -> Option<&'static str> {
    let stands_in = |section: &&Section| section.formulas.iter().any(|formula| is_formula(formula, gives, expression));
    let own = |section: &&Section| check.is_some_and(|check| section.checks.contains(&check));
    let common = |section: &&Section| section.checks.is_empty();
    let of_check = sections().filter(own).filter(stands_in);
    of_check
        .chain(sections().filter(common).filter(stands_in))
        .find_map(|section| section.words_for(symbol))
        .or_else(|| load::in_sum(expression, symbol))
}

fn sections() -> impl Iterator<Item = &'static Section> {
    [circuit::SECTIONS, force::SECTIONS, load::SECTIONS, ram::SECTIONS, site::SECTIONS, support::SECTIONS]
        .into_iter()
        .flatten()
        .copied()
        .flatten()
}

/// Whether a formula of a section is that of a line. Compilers are free to print an expression with other blanks.
fn is_formula(formula: &str, gives: &str, expression: &str) -> bool {
    let (only, formula) = match formula.split_once(" = ") {
        Some((symbol, formula)) => (Some(symbol), formula),
        None => (None, formula),
    };
    only.is_none_or(|symbol| symbol == gives) && without_blanks(formula).eq(without_blanks(expression))
}

fn without_blanks(text: &str) -> impl Iterator<Item = char> {
    text.chars().filter(|letter| !letter.is_whitespace())
}
