//! How numbers are written for people: rounded for reading only, utilisations up, the unit always beside.

use crate::words::or_none;
use ramwright_engine::check::UTILISATION_TOLERANCE;
use ramwright_units::{Kind, Profile, Quantity, Typed};
use std::ops::Range;

/// Significant figures of a number that is only read.
pub(crate) const FIGURES: i32 = 4;
/// The narrow no-break space between groups of three digits.
const GROUP: char = '\u{202f}';
/// Numbers whose first digit has such a power of ten are written without one.
const PLAIN: Range<i32> = -4..9;
/// A utilisation above this says nothing more by its digits.
const FAR_OVER: f64 = 1000.0;

/// In which units and with which decimal mark a document is written.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Style {
    /// The units of quantities.
    pub units: Profile,
    /// Whether the decimal mark is a comma.
    pub decimal_comma: bool,
}

/// A number as it is written: a mantissa and, where it is very great or small, a power of ten.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(crate) struct Written {
    pub(crate) mantissa: String,
    pub(crate) power: Option<i32>,
}

impl Style {
    /// A number to read, with four significant figures; digits before the decimal mark are never rounded away.
    pub(crate) fn number(self, value: f64) -> String {
        self.rounded(value, FIGURES).text()
    }

    /// A quantity to read, with its unit.
    pub(crate) fn quantity(self, quantity: impl Into<Quantity>) -> String {
        let quantity = quantity.into();
        joined(&self.bare(quantity), self.unit(quantity))
    }

    /// A quantity to read, if there is one.
    pub(crate) fn maybe(self, quantity: Option<impl Into<Quantity>>) -> String {
        or_none(quantity.map(|quantity| self.quantity(quantity)))
    }

    /// A utilisation to read, if there is one.
    pub(crate) fn maybe_utilisation(self, value: Option<f64>) -> String {
        or_none(value.map(|value| self.utilisation(value)))
    }

    /// The number of a quantity alone, for a column that has the unit in its head.
    pub(crate) fn bare(self, quantity: impl Into<Quantity>) -> String {
        let quantity = quantity.into();
        let value = quantity.value_in(self.units);
        // A count has no decimals.
        let is_count = quantity.kind == Kind::Number && value.fract() == 0.0;
        if is_count { self.shortened(value, FIGURES).text() } else { self.number(value) }
    }

    /// The unit of a quantity as it is printed.
    pub(crate) fn unit(self, quantity: impl Into<Quantity>) -> &'static str {
        printed_unit(quantity.into().kind.symbol(self.units))
    }

    /// A range as `least to greatest`, with its unit.
    pub(crate) fn range<T: Typed>(self, range: ramwright_units::Range<T>) -> String {
        let (least, greatest) = (self.bare(range.least), self.bare(range.greatest));
        if least == greatest {
            return self.quantity(range.greatest);
        }
        joined(&format!("{least} to {greatest}"), self.unit(range.greatest))
    }

    /// A utilisation with two decimals, rounded up, so that 1.00 is never shown for more.
    pub(crate) fn utilisation(self, value: f64) -> String {
        if !value.is_finite() || value.abs() > FAR_OVER {
            return format!("over {}", self.fixed(FAR_OVER, 0));
        }
        self.fixed(((value - UTILISATION_TOLERANCE) * 100.0).ceil() / 100.0, 2)
    }

    /// A number with so many significant figures, and as few digits as show them.
    pub(crate) fn rounded(self, value: f64, figures: i32) -> Written {
        if !value.is_finite() {
            return Written { mantissa: "without limit".into(), power: None };
        }
        if value == 0.0 {
            return Written { mantissa: "0".into(), power: None };
        }
        let size = power_of_ten(value);
        if PLAIN.contains(&size) {
            return Written { mantissa: self.fixed(value, (figures - 1 - size).clamp(0, 17)), power: None };
        }
        let text = format!("{value:.*e}", usize::try_from(figures - 1).unwrap_or(0));
        let (mantissa, power) = text.split_once('e').unwrap_or((&text, "0"));
        Written { mantissa: self.marked(mantissa), power: power.parse().ok() }
    }

    /// The same without zeros at its end.
    pub(crate) fn shortened(self, value: f64, figures: i32) -> Written {
        let Written { mantissa, power } = self.rounded(value, figures);
        let mark = self.mark();
        if !mantissa.contains(mark) {
            return Written { mantissa, power };
        }
        let short = mantissa.trim_end_matches('0').trim_end_matches(mark);
        Written { mantissa: short.to_owned(), power }
    }

    /// A number with so many decimals.
    pub(crate) fn fixed(self, value: f64, decimals: i32) -> String {
        self.marked(&format!("{value:.*}", usize::try_from(decimals).unwrap_or(0)))
    }

    const fn mark(self) -> char {
        if self.decimal_comma { ',' } else { '.' }
    }

    /// A number as Rust writes it, with the decimal mark, a true minus and groups of three.
    fn marked(self, text: &str) -> String {
        let (negative, digits) = text.strip_prefix('-').map_or((false, text), |rest| (true, rest));
        let (whole, part) = digits.split_once('.').unwrap_or((digits, ""));
        let nothing = digits.chars().all(|digit| matches!(digit, '0' | '.'));
        let mut written = String::with_capacity(text.len() + 8);
        if negative && !nothing {
            written.push('\u{2212}');
        }
        for (index, digit) in whole.chars().enumerate() {
            if index > 0 && whole.len() > 4 && (whole.len() - index) % 3 == 0 {
                written.push(GROUP);
            }
            written.push(digit);
        }
        if !part.is_empty() {
            written.push(self.mark());
            written.push_str(part);
        }
        written
    }
}

impl Written {
    /// The number as plain text.
    pub(crate) fn text(&self) -> String {
        match self.power {
            None => self.mantissa.clone(),
            Some(power) => format!("{}\u{d7}10{}", self.mantissa, raised(power)),
        }
    }

    /// The number that a reader takes from it.
    pub(crate) fn value(&self) -> f64 {
        let plain: String = self.mantissa.chars().filter(|mark| *mark != GROUP).collect();
        let plain = plain.replace('\u{2212}', "-").replace(',', ".");
        format!("{plain}e{}", self.power.unwrap_or(0)).parse().unwrap_or(f64::NAN)
    }

    /// The worth of its last digit.
    pub(crate) fn last_digit(&self) -> f64 {
        let decimals = self.mantissa.rsplit_once(['.', ',']).map_or(0, |(_, part)| part.len());
        let decimals = i32::try_from(decimals).unwrap_or(0);
        format!("1e{}", self.power.unwrap_or(0) - decimals).parse().unwrap_or(f64::NAN)
    }
}

/// The number that a reader takes from one that is written with so many figures, `power` being that of its first digit.
pub(crate) fn read_back(value: f64, power: i32, figures: i32) -> f64 {
    let figures = if PLAIN.contains(&power) { figures.max(power + 1) } else { figures };
    let decimals = usize::try_from(figures - 1).unwrap_or(0);
    format!("{value:.decimals$e}").parse().unwrap_or(f64::NAN)
}

/// The power of ten of a number's first digit.
pub(crate) fn power_of_ten(value: f64) -> i32 {
    format!("{value:e}").rsplit_once('e').and_then(|(_, power)| power.parse().ok()).unwrap_or(0)
}

/// A number and its unit; a plain number has none.
pub(crate) fn joined(number: &str, unit: &str) -> String {
    match unit {
        "" => number.to_owned(),
        "\u{b0}" => format!("{number}{unit}"),
        _ => format!("{number}\u{a0}{unit}"),
    }
}

fn raised(power: i32) -> String {
    let digit = |digit| match digit {
        '-' => '\u{207b}',
        '1' => '\u{b9}',
        '2' => '\u{b2}',
        '3' => '\u{b3}',
        '0' => '\u{2070}',
        digit => char::from_u32(0x2070 + (u32::from(digit) - u32::from('0'))).unwrap_or(digit),
    };
    power.to_string().chars().map(digit).collect()
}

/// A unit's symbol of the wire, as it is printed.
pub(crate) fn printed_unit(symbol: &'static str) -> &'static str {
    match symbol {
        "1" => "",
        "cm2" => "cm\u{b2}",
        "in2" => "in\u{b2}",
        "cm4" => "cm\u{2074}",
        "in4" => "in\u{2074}",
        "gal_us" => "gal(US)",
        "gpm_us" => "gal(US)/min",
        "kN.m" => "kN\u{b7}m",
        "lbf.ft" => "lbf\u{b7}ft",
        "kN.m/rad" => "kN\u{b7}m/rad",
        "lbf.ft/rad" => "lbf\u{b7}ft/rad",
        "degC" => "\u{b0}C",
        "degF" => "\u{b0}F",
        "deg" => "\u{b0}",
        "mm2/s" => "mm\u{b2}/s",
        "in3/ft" => "in\u{b3}/ft",
        other => other,
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use ramwright_units::{Force, Length};

    const POINT: Style = Style { units: Profile::Metric, decimal_comma: false };
    const COMMA: Style = Style { units: Profile::Us, decimal_comma: true };

    #[test]
    fn verify_numbers_to_read() {
        for (value, text) in [
            (238.0, "238.0"),
            (0.012_345, "0.01235"),
            (237_951.4, "237\u{202f}951"),
            (1234.56, "1235"),
            (-3.5, "\u{2212}3.500"),
            (-0.0, "0"),
            (1.5e-7, "1.500\u{d7}10\u{207b}\u{2077}"),
            (f64::INFINITY, "without limit"),
        ] {
            assert_eq!(POINT.number(value), text);
        }
        assert_eq!(POINT.quantity(Force::from_kn(238.0)), "238.0\u{a0}kN");
        assert_eq!(COMMA.quantity(Length::from_mm(25.4)), "1,000\u{a0}in");
    }

    #[test]
    fn verify_a_utilisation_is_rounded_up() {
        for (value, text) in [
            (0.7185, "0.72"),
            (0.71, "0.71"),
            (1.0, "1.00"),
            (1.0 + 1e-10, "1.00"),
            (1.000_01, "1.01"),
            (0.0, "0.00"),
            (1e308, "over 1000"),
        ] {
            assert_eq!(POINT.utilisation(value), text, "{value}");
        }
    }

    #[test]
    fn verify_a_written_number_reads_back() {
        for value in [238.0, 0.012_345, 237_951.4, -3.5, 1.5e-7, 6.02e23, 999_999.6] {
            for style in [POINT, COMMA] {
                for figures in 1..12 {
                    let written = style.shortened(value, figures);
                    let slack = style.rounded(value, figures).last_digit() * 0.500_001;
                    assert!((written.value() - value).abs() <= slack, "{value} as {written:?}");
                    let read = read_back(value, power_of_ten(value), figures);
                    assert!((written.value() - read).abs() <= 1e-15 * read.abs(), "{value} as {written:?} and {read}");
                }
            }
        }
    }
}
