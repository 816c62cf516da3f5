//! Every symbol that an answer shows can be read out in plain words.

use ramwright_engine::check::{CheckId, Line};
use ramwright_report::{definition_of, meaning_of};
use ramwright_tests::{Service, examples};
use serde_json::Value;
use std::collections::BTreeSet;

/// What every calculator has.
const PLAIN: [&str; 6] = ["cos", "max", "min", "sin", "sqrt", "tan"];

/// The lines found in answers, and what in them has no words.
#[derive(Default)]
struct Read {
    lines: usize,
    checks: BTreeSet<CheckId>,
    beside_checks: usize,
    without: BTreeSet<String>,
}

impl Read {
    fn all_of(&mut self, answer: &Value) {
        match answer {
            Value::Object(fields) => {
                if let Some(Value::Array(lines)) = fields.get("lines") {
                    self.lines_of(check_of(answer), lines);
                }
                fields.values().for_each(|value| self.all_of(value));
            }
            Value::Array(items) => items.iter().for_each(|value| self.all_of(value)),
            _ => {}
        }
    }

    fn lines_of(&mut self, check: Option<CheckId>, lines: &[Value]) {
        // A drawing or a table may have lines of another kind.
        let calculated = lines.iter().filter(|line| line["expression"].is_string());
        for line in calculated {
            let line: Line = serde_json::from_value(line.clone()).unwrap();
            self.lines += 1;
            match check {
                Some(check) => self.checks.extend([check]),
                None => self.beside_checks += 1,
            }
            let symbols = line.terms.iter().map(|term| &term.symbol).chain([&line.symbol]);
            let wordless = symbols.filter(|symbol| meaning_of(check, &line, symbol.as_str()).is_none());
            let place = |symbol: &str| format!("{check:?} {symbol} in {}", line.expression.as_str());
            self.without.extend(wordless.map(|symbol| place(symbol.as_str())));
            let undefined = called(line.expression.as_str()).into_iter().filter(|name| definition_of(name).is_none());
            self.without.extend(undefined.filter(|name| !PLAIN.contains(name)).map(place));
        }
    }
}

/// The check that an object of an answer is, if it is one.
fn check_of(object: &Value) -> Option<CheckId> {
    object.get("status")?;
    serde_json::from_value(object.get("id")?.clone()).ok()
}

/// The names before an opening bracket.
fn called(expression: &str) -> Vec<&str> {
    let opened = expression.match_indices('(').map(|(at, _)| &expression[..at]);
    let name = |before: &'_ str| -> usize {
        before.trim_end_matches(|letter: char| letter.is_ascii_alphanumeric() || letter == '_').len()
    };
    opened.map(|before| &before[name(before)..]).filter(|name| !name.is_empty()).collect()
}

pub(crate) async fn verify_every_symbol_of_the_examples_has_words(service: &'static Service) {
    let mut read = Read::default();
    for (path, body) in examples::quick() {
        read.all_of(&service.post(path, &body).await.answer());
    }
    assert!(read.without.is_empty(), "no words for {:#?}", read.without);
    // So that nothing is right because nothing was read.
    assert!(500 < read.lines && 20 < read.checks.len() && 50 < read.beside_checks, "{} lines", read.lines);
}
