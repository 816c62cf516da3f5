//! Numbers and words as people read them.

use ramwright_engine::check::UTILISATION_TOLERANCE;
use ramwright_units::{Profile, Quantity};
use serde::Serialize;
use serde_json::Value;

/// Figures that a number is rounded to.
const FIGURES: i32 = 4;
/// More decimals than this say nothing about a lift.
const MOST_DECIMALS: i32 = 6;
/// From here on a utilisation only says that it is far too much.
const FAR_OVER: f64 = 1000.0;

/// A number in four figures, without zeros at its end.
pub(super) fn figures(value: f64) -> String {
    if !value.is_finite() {
        return "not a number".to_owned();
    }
    if value.abs() < 1e-4 && 0.0 < value.abs() {
        return format!("{value:.2e}");
    }
    let mut text = format!("{value:.*}", decimals(value.abs()));
    if text.contains('.') {
        text.truncate(text.trim_end_matches('0').trim_end_matches('.').len());
    }
    text
}

/// Decimals by which a number has four figures.
fn decimals(magnitude: f64) -> usize {
    let figures_before_the_point = (1..=FIGURES).rfind(|figures| 10_f64.powi(figures - 1) <= magnitude);
    let decimals = match figures_before_the_point {
        Some(before) => FIGURES - before,
        None if magnitude <= 0.0 => 0,
        None => (FIGURES..MOST_DECIMALS).find(|places| 10_f64.powi(FIGURES - 1 - places) <= magnitude).unwrap_or(6),
    };
    usize::try_from(decimals).unwrap_or(0)
}

/// Numbers of one column: four figures for the greatest, and as many decimals for all; no more than any of them needs.
pub(super) fn column_of_figures(values: &[Option<f64>], absent: &str) -> Vec<String> {
    let greatest = values.iter().flatten().copied().filter(|value| value.is_finite()).map(f64::abs).fold(0.0, f64::max);
    let written = |decimals: usize| -> Vec<String> {
        let cell = |value: &Option<f64>| match value {
            // Adding zero turns -0.0 into 0.0.
            Some(value) if value.is_finite() => format!("{:.*}", decimals, value + 0.0),
            Some(_) => "not a number".to_owned(),
            None => absent.to_owned(),
        };
        values.iter().map(cell).collect()
    };
    let mut places = decimals(greatest);
    let needless = |places: usize| {
        let cells = written(places);
        let numbers = values.iter().zip(&cells).filter(|(value, _)| value.is_some_and(f64::is_finite));
        numbers.map(|(_, cell)| cell).all(|cell| cell.ends_with('0'))
    };
    while 0 < places && needless(places) {
        places -= 1;
    }
    written(places)
}

/// A quantity in four figures with its unit.
pub(super) fn quantity(quantity: impl Into<Quantity>, units: Profile) -> String {
    let quantity = quantity.into();
    let value = figures(quantity.value_in(units));
    match quantity.kind.symbol(units) {
        "1" => value,
        symbol => format!("{value} {symbol}"),
    }
}

/// A utilisation in two decimals, rounded up, so that more than the limit never looks like the limit.
pub(super) fn utilisation(value: f64) -> String {
    if !value.is_finite() || FAR_OVER < value {
        return "over 1000".to_owned();
    }
    // What counts as at the limit is shown as at the limit; the same rounding of units must not lift 0.98 to 0.99.
    let at_most = if 1.0 < value && value <= 1.0 + UTILISATION_TOLERANCE { 1.0 } else { value };
    let hundredths = ((at_most - UTILISATION_TOLERANCE) * 100.0).ceil().max(0.0);
    // Adding zero turns -0.0 into 0.0.
    format!("{:.2}", hundredths / 100.0 + 0.0)
}

/// A word of a closed list with blanks, as in `one ram lost`.
pub(super) fn word(value: &impl Serialize) -> String {
    match serde_json::to_value(value) {
        Ok(Value::String(word)) => word.replace('_', " "),
        _ => "unknown".to_owned(),
    }
}

/// The same in capitals.
pub(super) fn loud(value: &impl Serialize) -> String {
    word(value).to_uppercase()
}

/// A count with its noun.
pub(super) fn counted(count: usize, one: &str, many: &str) -> String {
    if count == 1 { format!("1 {one}") } else { format!("{count} {many}") }
}

#[cfg(test)]
mod tests {
    use super::*;
    use ramwright_engine::check::{CheckId, Status};
    use ramwright_units::{Force, Length};

    #[test]
    fn verify_four_figures_without_needless_zeros() {
        for (value, expected) in [
            (0.0, "0"),
            (-0.0, "0"),
            (1106.618, "1107"),
            (123_456.7, "123457"),
            (542.538, "542.5"),
            (477.012, "477"),
            (26.992_2, "26.99"),
            (9.999_96, "10"),
            (0.050_04, "0.05004"),
            (0.1, "0.1"),
            (-104.34, "-104.3"),
            (0.000_012_34, "1.23e-5"),
            (f64::NAN, "not a number"),
            (f64::INFINITY, "not a number"),
        ] {
            assert_eq!(figures(value + 0.0), expected, "{value}");
        }
    }

    #[test]
    fn verify_a_column_has_one_number_of_decimals() {
        let column = |values: &[Option<f64>]| column_of_figures(values, "-");
        assert_eq!(column(&[Some(0.0), Some(26.99), Some(1106.6), None]), ["0", "27", "1107", "-"]);
        assert_eq!(column(&[Some(310.0), Some(283.0)]), ["310", "283"]);
        assert_eq!(column(&[Some(10.2), Some(5.0)]), ["10.2", "5.0"]);
        assert_eq!(column(&[Some(100.0), Some(20.0)]), ["100", "20"]);
        assert_eq!(column(&[None]), ["-"]);
        assert_eq!(column(&[Some(f64::NAN), Some(1.5)]), ["not a number", "1.5"]);
        assert!(column(&[]).is_empty());
    }

    #[test]
    fn verify_a_utilisation_over_the_limit_never_looks_like_the_limit() {
        for (value, expected) in [
            (0.0, "0.00"),
            (0.001, "0.01"),
            (0.98, "0.98"),
            (0.980_1, "0.99"),
            (0.999_9, "1.00"),
            (1.0, "1.00"),
            (1.0 + 1e-10, "1.00"),
            (1.0 + 1e-9, "1.00"),
            (1.0 + 2e-9, "1.01"),
            (1.004, "1.01"),
            (1.01, "1.01"),
            (1000.0, "1000.00"),
            (f64::MAX, "over 1000"),
            (f64::NAN, "over 1000"),
        ] {
            assert_eq!(utilisation(value), expected, "{value}");
        }
    }

    #[test]
    fn verify_quantities_and_words() {
        assert_eq!(quantity(Force::from_kn(1106.6), Profile::Metric), "1107 kN");
        assert_eq!(quantity(Length::from_mm(25.4), Profile::Us), "1 in");
        assert_eq!(quantity(6.0, Profile::Metric), "6");
        assert_eq!((word(&CheckId::RamLost), loud(&Status::NotChecked)), ("ram lost".into(), "NOT CHECKED".into()));
        assert_eq!((counted(1, "ram", "rams"), counted(2, "ram", "rams")), ("1 ram".into(), "2 rams".into()));
    }
}
