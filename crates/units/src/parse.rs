//! Reading `"212 t"` and its like.

use crate::unit::{Unit, by_symbol};
use thiserror::Error;

/// A value with the unit in which it was given.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Measured {
    /// The number as given.
    pub value: f64,
    /// The unit as given.
    pub unit: &'static Unit,
}

impl Measured {
    /// The value in SI.
    pub fn si(self) -> f64 {
        // Adding an offset of zero would turn -0.0 into 0.0, which is wanted.
        self.value * self.unit.factor + self.unit.offset
    }
}

/// Why a text is not a quantity.
#[derive(Clone, Debug, PartialEq, Error)]
#[non_exhaustive]
pub enum ParseError {
    /// No number at the start.
    #[error("`{0}` does not begin with a number")]
    NoNumber(String),
    /// A number that overflows.
    #[error("`{0}` is too great to be computed with")]
    NotFinite(String),
    /// A number and nothing behind it.
    #[error("`{0}` has no unit")]
    NoUnit(String),
    /// A decimal comma or a thousands separator.
    #[error("`{0}` has a comma; the decimal mark is a point and digits are not grouped")]
    Comma(String),
    /// A unit that is in no table.
    #[error("`{0}` is not a unit known here")]
    UnknownUnit(String),
    /// `ton`, of which there are three.
    #[error(
        "`{value} ton` may be {value} t (tonne, {tonne_kn:.1} kN), {value} ton_us (short ton of 2000 lb, {short_kn:.1} kN) or {value} ton_uk (long ton of 2240 lb, {long_kn:.1} kN)"
    )]
    Ton {
        /// The number in front of it.
        value: f64,
        /// The weight if tonnes were meant, in kN.
        tonne_kn: f64,
        /// The weight if short tons were meant, in kN.
        short_kn: f64,
        /// The weight if long tons were meant, in kN.
        long_kn: f64,
    },
}

/// Reads a number followed by a unit symbol, with or without a space between.
///
/// # Errors
/// [`ParseError`]: no number, no unit, a unit not known, `ton` (which of the three?), a comma.
///
/// # Examples
/// ```
/// let weight = ramwright_units::parse_quantity("212 t")?;
/// assert!((weight.si() - 212_000.0).abs() < 1e-9);
/// # Ok::<(), ramwright_units::ParseError>(())
/// ```
pub fn parse_quantity(text: &str) -> Result<Measured, ParseError> {
    let text = text.trim();
    let (number, unit) = text.split_at(number_length(text));
    let value: f64 = number.parse().map_err(|_| ParseError::NoNumber(text.to_owned()))?;
    if unit.starts_with(',') {
        return Err(ParseError::Comma(text.to_owned()));
    }
    in_unit(value, unit.trim()).map_err(|error| match error {
        ParseError::NoUnit(_) => ParseError::NoUnit(text.to_owned()),
        ParseError::NotFinite(_) => ParseError::NotFinite(text.to_owned()),
        other => other,
    })
}

/// A number in the unit written so.
///
/// # Errors
/// [`ParseError`]: a unit missing or not known, `ton`, a value that is or becomes infinite.
pub fn in_unit(value: f64, unit: &str) -> Result<Measured, ParseError> {
    if !value.is_finite() {
        return Err(ParseError::NotFinite(value.to_string()));
    }
    if unit.is_empty() {
        return Err(ParseError::NoUnit(value.to_string()));
    }
    if matches!(unit.to_ascii_lowercase().as_str(), "ton" | "tons" | "tonf" | "tons-force" | "ton-force") {
        return Err(ton(value));
    }
    let unit = by_symbol(unit).ok_or_else(|| ParseError::UnknownUnit(unit.to_owned()))?;
    let measured = Measured { value, unit };
    if measured.si().is_finite() { Ok(measured) } else { Err(ParseError::NotFinite(value.to_string())) }
}

fn ton(value: f64) -> ParseError {
    ParseError::Ton {
        value,
        tonne_kn: value * 9.806_65,
        short_kn: value * 8.896_443_230_521,
        long_kn: value * 9.964_016_418_183_52,
    }
}

/// Length in bytes of the JSON number at the start of a text (a leading `+` allowed); 0 if there is none.
fn number_length(text: &str) -> usize {
    let bytes = text.as_bytes();
    let digits = |from: usize| bytes.iter().skip(from).take_while(|byte| byte.is_ascii_digit()).count();
    let at = |index: usize| bytes.get(index).copied().unwrap_or(b' ');
    let sign = usize::from(matches!(at(0), b'+' | b'-'));
    let whole = digits(sign);
    if whole == 0 {
        return 0;
    }
    let mut end = sign + whole;
    if at(end) == b'.' && digits(end + 1) > 0 {
        end += 1 + digits(end + 1);
    }
    if matches!(at(end), b'e' | b'E') {
        let exponent_sign = usize::from(matches!(at(end + 1), b'+' | b'-'));
        let exponent = digits(end + 1 + exponent_sign);
        if exponent > 0 {
            end += 1 + exponent_sign + exponent;
        }
    }
    end
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    #[track_caller]
    fn si(text: &str, expected: f64) {
        let got = parse_quantity(text).unwrap().si();
        assert!((got - expected).abs() <= expected.abs() * 1e-15, "{text}: {got}");
    }

    #[test]
    fn verify_common_spellings() {
        si("212 t", 212_000.0);
        si("212t", 212_000.0);
        si("  2080 kN ", 2.08e6);
        si("8 in", 0.203_2);
        si("8in", 0.203_2);
        si("1.5e3 bar", 1.5e8);
        si("700 bar", 7e7);
        si("-3 deg", -3.0 * std::f64::consts::PI / 180.0);
        si("20 degC", 293.15);
        si("68 degF", 293.15);
    }

    #[test]
    fn verify_refusals() {
        assert!(matches!(parse_quantity("212"), Err(ParseError::NoUnit(_))));
        assert!(matches!(parse_quantity("t 212"), Err(ParseError::NoNumber(_))));
        assert!(matches!(parse_quantity(".5 t"), Err(ParseError::NoNumber(_))));
        assert!(matches!(parse_quantity("1,5 t"), Err(ParseError::Comma(_))));
        assert!(matches!(parse_quantity("1 furlong"), Err(ParseError::UnknownUnit(_))));
        assert!(matches!(parse_quantity("1e400 t"), Err(ParseError::NotFinite(_))));
        assert!(matches!(parse_quantity("NaN t"), Err(ParseError::NoNumber(_))));
        assert!(matches!(parse_quantity("inf t"), Err(ParseError::NoNumber(_))));
        assert!(matches!(parse_quantity(""), Err(ParseError::NoNumber(_))));
    }

    #[test]
    fn verify_ton_is_refused_with_three_readings() {
        let message = parse_quantity("80 ton").unwrap_err().to_string();
        for reading in ["80 t (tonne, 784.5 kN)", "80 ton_us", "711.7 kN", "80 ton_uk", "797.1 kN"] {
            assert!(message.contains(reading), "{message}");
        }
    }

    proptest! {
        #[test]
        fn verify_any_text_answers(text in ".{0,24}") {
            let _ = parse_quantity(&text);
        }

        #[test]
        fn verify_print_then_parse_gives_the_same_bits(value in proptest::num::f64::NORMAL, index in 0..crate::UNITS.len()) {
            let unit = &crate::UNITS[index];
            if let Ok(measured) = parse_quantity(&format!("{value:e} {}", unit.symbol)) {
                prop_assert_eq!(measured.value.to_bits(), value.to_bits());
                prop_assert_eq!(measured.unit, unit);
            } else {
                prop_assert!(!(value * unit.factor).is_finite());
            }
        }
    }
}
