//! What may stand in a cell.

use serde::Serialize;
use std::fmt::{self, Write as _};

/// The first characters by which a spreadsheet, or what trims for it, takes a text for a formula (OWASP ASVS 5.0, 1.2.10).
const FORMULA_STARTS: [char; 7] = ['=', '+', '-', '@', '\t', '\r', '\0'];

/// A text, kept from being read as a formula.
pub(crate) fn text(text: &str) -> String {
    if text.starts_with(FORMULA_STARTS) { format!("'{text}") } else { text.to_owned() }
}

/// A number with the fewest digits that give it back to the bit.
///
/// A number that is not finite, which no answer holds, stays a word that no spreadsheet can add up.
pub(crate) fn number(value: f64) -> String {
    // Adding zero turns -0.0 into 0.0, as in JSON.
    let written = format!("{:?}", value + 0.0);
    written.strip_suffix(".0").map(str::to_owned).unwrap_or(written)
}

/// A word of a closed list as it stands in JSON, a count, `true` or `false`.
pub(crate) fn word(value: &impl Serialize) -> String {
    let mut written = String::new();
    // Fails only for values that are none of these.
    let _ = write!(written, "{}", Word(value));
    written
}

struct Word<'a, T>(&'a T);

impl<T: Serialize> fmt::Display for Word<'_, T> {
    fn fmt(&self, formatter: &mut fmt::Formatter<'_>) -> fmt::Result {
        self.0.serialize(formatter)
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use ramwright_engine::check::Status;

    #[test]
    fn verify_only_what_looks_like_a_formula_is_guarded() {
        for hostile in ["=1+1", "+1", "-1", "@SUM(A1)", "\t=1", "\r=1", "\0=1", "=", "-"] {
            assert_eq!(text(hostile), format!("'{hostile}"));
        }
        for harmless in ["", "P1", "a=b", "'=1", "1-2", " =1", "\u{e9}"] {
            assert_eq!(text(harmless), harmless);
        }
    }

    #[test]
    fn verify_numbers_are_short_and_come_back_to_the_bit() {
        for (value, expected) in [
            (520.3, "520.3"),
            (-2.0, "-2"),
            (-0.0, "0"),
            (0.1 + 0.2, "0.30000000000000004"),
            (1e-7, "1e-7"),
            (f64::MAX, "1.7976931348623157e308"),
            (1e16, "1e16"),
        ] {
            assert_eq!(number(value), expected);
            assert_eq!(number(value).parse::<f64>().unwrap().to_bits(), (value + 0.0).to_bits());
        }
        assert_eq!(number(f64::NAN), "NaN");
    }

    #[test]
    fn verify_words_are_those_of_json() {
        assert_eq!(word(&Status::NotChecked), "not_checked");
        assert_eq!((word(&true), word(&4_u32)), ("true".into(), "4".into()));
    }
}
