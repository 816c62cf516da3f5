//! Which options no other beats in everything.

use super::option::RamOption;

/// What is ranked, each the less the better; what is not known counts as worst.
///
/// Rounded to nine digits, so that the units of a request cannot turn equals into unequals.
pub(super) fn criteria(option: &RamOption) -> [f64; 5] {
    let unknown = f64::MAX;
    [
        f64::from(option.rams),
        option.mass.map_or(unknown, |mass| rounded(mass.kg())),
        option.day_rate.as_ref().map_or(unknown, |rate| rounded(rate.amount)),
        rounded(option.utilisation),
        option.packing_lifts.map_or(0.0, f64::from),
    ]
}

fn rounded(value: f64) -> f64 {
    const DIGITS: f64 = 1e9;
    if value <= 0.0 || !value.is_finite() {
        return value;
    }
    let magnitude = libm::exp2(libm::ilogb(value).into());
    (value / magnitude * DIGITS).round() / DIGITS * magnitude
}

/// Marks the options that no other beats: at least as good in everything, better in something.
pub(super) fn mark(options: &mut [RamOption]) {
    let all: Vec<[f64; 5]> = options.iter().map(criteria).collect();
    for (option, mine) in options.iter_mut().zip(&all) {
        option.pareto = !all.iter().any(|other| beats(other, mine));
    }
}

fn beats(a: &[f64; 5], b: &[f64; 5]) -> bool {
    a.iter().zip(b).all(|(a, b)| a <= b) && a.iter().zip(b).any(|(a, b)| a < b)
}
