//! The centre of weights that are known within tolerances, at places that are known within tolerances.

use crate::check::{Ledger, Line, Source, Standing, Term};
use ramwright_units::{Force, ForceRange, Length, LengthRange, Range, Typed};
use serde::{Deserialize, Serialize};
use utoipa::ToSchema;

/// Where a centre of gravity may be.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize, ToSchema)]
pub struct Centre {
    /// Position in plan.
    pub x: LengthRange,
    /// Position in plan.
    pub y: LengthRange,
    /// Height above the plane of the supports: the one farthest from that plane within all tolerances, if known.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub z: Option<Length>,
}

/// A weight and its place along one axis.
#[derive(Clone, Copy, Debug)]
pub(super) struct Item {
    /// The weight; nowhere below zero.
    pub(super) weight: ForceRange,
    /// Its place.
    pub(super) at: LengthRange,
}

/// How the lines name what they add up.
#[derive(Clone, Copy, Debug)]
pub(super) struct Symbols {
    /// The axis.
    pub(super) axis: &'static str,
    /// One weight.
    pub(super) weight: &'static str,
}

/// Which value of a range is wanted.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum End {
    Least,
    Expected,
    Greatest,
}

impl End {
    const ALL: [Self; 3] = [Self::Least, Self::Expected, Self::Greatest];

    fn of<T: Copy>(self, range: &Range<T>) -> T {
        match self {
            Self::Least => range.least,
            Self::Expected => range.expected,
            Self::Greatest => range.greatest,
        }
    }

    fn suffix(self) -> &'static str {
        match self {
            Self::Least => "_min",
            Self::Expected => "",
            Self::Greatest => "_max",
        }
    }

    fn words(self) -> &'static str {
        match self {
            Self::Least => {
                "least centre, exact: every place at its least value; what then lies below the centre has its greatest weight, all else its least, and any other weights move it back (weighted average of ranges: Dong and Shah 1987, Karnik and Mendel 2001, from memory)"
            }
            Self::Expected => "definition of the centre of gravity, no tolerance used",
            Self::Greatest => {
                "greatest centre, exact: every place at its greatest value; what then lies above the centre has its greatest weight, all else its least, and any other weights move it back (weighted average of ranges: Dong and Shah 1987, Karnik and Mendel 2001, from memory)"
            }
        }
    }
}

/// Least, expected and greatest centre along one axis: the exact extremes of `sum w x / sum w` over all weights and
/// all places within their ranges.
///
/// The weights are not below zero, so each place belongs at its end. Give every weight its least value, then go
/// through the places from the far end and raise a weight to its greatest as long as its place lies beyond the
/// centre m so far. At the end everything beyond m has its greatest weight and all else its least, so that for any
/// other weights v: sum v (x - m) <= sum w (x - m) = 0, and no centre lies beyond m.
///
/// The least weights must not be below zero and their total must be above it.
pub(super) fn mean_range(book: &mut impl Ledger, symbols: Symbols, items: &[Item]) -> LengthRange {
    let [least, expected, greatest] = End::ALL.map(|end| mean_line(book, symbols, end, &chosen(items, end)));
    // Without tolerances the three differ by rounding alone.
    Range::new(least.min(expected), expected, greatest.max(expected))
}

/// Least, expected and greatest total.
pub(super) fn total_range(book: &mut impl Ledger, symbols: Symbols, weights: &[ForceRange]) -> ForceRange {
    let [least, expected, greatest] = End::ALL.map(|end| {
        let values: Vec<Force> = weights.iter().map(|weight| end.of(weight)).collect();
        let total: Force = values.iter().copied().sum();
        book.keep(|| Line {
            symbol: format!("W{}", end.suffix()).into(),
            expression: joined((1..=values.len()).map(|number| format!("{}_{number}", symbols.weight))).into(),
            terms: values.iter().enumerate().map(|(index, value)| term(symbols.weight, index, *value)).collect(),
            value: total.into(),
            residual: None,
            source: Source::definition("weights add up, all at the same end of their tolerances"),
        });
        total
    });
    Range::new(least, expected, greatest)
}

/// Of a range of heights, the one farthest from the plane of the supports, on either side of it.
pub(super) fn farthest(height: &LengthRange) -> Length {
    if -height.least <= height.greatest { height.greatest } else { height.least }
}

/// The weights and places that give this end of the centre, in the order of the items.
fn chosen(items: &[Item], end: End) -> Vec<(Force, Length)> {
    let sign = match end {
        End::Expected => return items.iter().map(|item| (item.weight.expected, item.at.expected)).collect(),
        End::Least => -1.0,
        End::Greatest => 1.0,
    };
    let far_m = |item: &Item| sign * end.of(&item.at).m();
    let centre_m = far_centre_m(items, far_m);
    let weight = |item: &Item| if centre_m < far_m(item) { item.weight.greatest } else { item.weight.least };
    items.iter().map(|item| (weight(item), end.of(&item.at))).collect()
}

fn far_centre_m(items: &[Item], far_m: impl Fn(&Item) -> f64) -> f64 {
    let mut total_n: f64 = items.iter().map(|item| item.weight.least.n()).sum();
    let mut moment_nm: f64 = items.iter().map(|item| item.weight.least.n() * far_m(item)).sum();
    let mut order: Vec<&Item> = items.iter().collect();
    order.sort_by(|a, b| far_m(b).total_cmp(&far_m(a)));
    for item in order {
        if far_m(item) <= moment_nm / total_n {
            break;
        }
        let more_n = (item.weight.greatest - item.weight.least).n();
        total_n += more_n;
        moment_nm += more_n * far_m(item);
    }
    moment_nm / total_n
}

fn mean_line(book: &mut impl Ledger, symbols: Symbols, end: End, pairs: &[(Force, Length)]) -> Length {
    let total_n: f64 = pairs.iter().map(|(weight, _)| weight.n()).sum();
    let moment_nm: f64 = pairs.iter().map(|(weight, at)| weight.n() * at.m()).sum();
    let mean = Length::from_m(moment_nm / total_n);
    let Symbols { axis, weight } = symbols;
    book.keep(|| Line {
        symbol: format!("{axis}_g{}", end.suffix()).into(),
        expression: format!(
            "({}) / ({})",
            joined((1..=pairs.len()).map(|number| format!("{weight}_{number} * {axis}_{number}"))),
            joined((1..=pairs.len()).map(|number| format!("{weight}_{number}"))),
        )
        .into(),
        terms: pairs
            .iter()
            .enumerate()
            .flat_map(|(index, pair)| [term(weight, index, pair.0), term(axis, index, pair.1)])
            .collect(),
        value: mean.into(),
        residual: None,
        source: Source::new(end.words(), Standing::Definition),
    });
    mean
}

fn term(letter: &str, index: usize, value: impl Typed) -> Term {
    Term { symbol: format!("{letter}_{}", index + 1).into(), value: value.into() }
}

fn joined(parts: impl Iterator<Item = String>) -> String {
    parts.collect::<Vec<_>>().join(" + ")
}

/// Whether a range can be computed with and is in order.
pub(super) fn in_order<T: Typed>(range: &Range<T>) -> bool {
    let [least, expected, greatest] = End::ALL.map(|end| end.of(range).si());
    least.is_finite() && greatest.is_finite() && least <= expected && expected <= greatest
}

#[cfg(test)]
pub(super) mod tests {
    use super::*;
    use crate::check::{Lines, NoLines};
    use proptest::prelude::*;

    pub(crate) const SYMBOLS: Symbols = Symbols { axis: "x", weight: "w" };

    fn item(weight_kn: [f64; 3], at_m: [f64; 3]) -> Item {
        let [w1, w, w2] = weight_kn.map(Force::from_kn);
        let [x1, x, x2] = at_m.map(Length::from_m);
        Item { weight: Range::new(w1, w, w2), at: Range::new(x1, x, x2) }
    }

    /// A weight within its range and a place within its own, by two parts from 0 to 1.
    fn within(item: &Item, part: (f64, f64)) -> (f64, f64) {
        let weight = item.weight.least.n() + part.0 * (item.weight.greatest - item.weight.least).n();
        (weight, item.at.least.m() + part.1 * (item.at.greatest - item.at.least).m())
    }

    fn mean(pairs: &[(f64, f64)]) -> f64 {
        pairs.iter().map(|(w, x)| w * x).sum::<f64>() / pairs.iter().map(|(w, _)| w).sum::<f64>()
    }

    /// Three weights: 10 to 12 kN at 0, 20 to 20 kN at 3 m, 8 to 14 kN at 6 m, places exact.
    /// Greatest: 14 at 6 m (84), then 3 m lies below (84 + 60) / 44, so (0 + 60 + 84) / (10 + 20 + 14) = 144 / 44.
    /// Least: (0 + 60 + 48) / (12 + 20 + 8) = 108 / 40. Expected: (0 + 60 + 60) / (11 + 20 + 10) = 120 / 41.
    #[test]
    fn verify_three_weights_by_hand() {
        let items = [item([10.0, 11.0, 12.0], [0.0; 3]), item([20.0; 3], [3.0; 3]), item([8.0, 10.0, 14.0], [6.0; 3])];
        let mut lines = Lines::default();
        let range = mean_range(&mut lines, SYMBOLS, &items);
        for (got, hand) in [(range.least, 108.0 / 40.0), (range.expected, 120.0 / 41.0), (range.greatest, 144.0 / 44.0)]
        {
            assert!((got.m() - hand).abs() < 1e-14, "{got:?} is not {hand}");
        }
        let greatest = &lines.0[2];
        assert_eq!(greatest.symbol.as_str(), "x_g_max");
        assert_eq!(greatest.expression.as_str(), "(w_1 * x_1 + w_2 * x_2 + w_3 * x_3) / (w_1 + w_2 + w_3)");
        let shown: Vec<f64> = greatest.terms.iter().map(|term| term.value.value_si).collect();
        assert_eq!(shown, [10_000.0, 0.0, 20_000.0, 3.0, 14_000.0, 6.0]);
    }

    #[test]
    fn verify_the_height_farthest_from_the_plane() {
        let range = |least, greatest| Range::new(Length::from_m(least), Length::ZERO, Length::from_m(greatest));
        assert_eq!(farthest(&range(-1.0, 2.0)), Length::from_m(2.0));
        assert_eq!(farthest(&range(-2.0, 1.0)), Length::from_m(-2.0));
        assert_eq!(farthest(&range(-1.0, 1.0)), Length::from_m(1.0));
    }

    fn items() -> impl Strategy<Value = Vec<Item>> {
        let one = (0.0..50.0, 0.0..20.0, 0.0..20.0, -30.0..30.0, 0.0..2.0, 0.0..2.0);
        prop::collection::vec(one, 1..8).prop_map(|all| {
            let made = |(w, dw1, dw2, x, dx1, dx2): (f64, f64, f64, f64, f64, f64)| {
                item([w + 0.1, w + 0.1 + dw1, w + 0.1 + dw1 + dw2], [x - dx1, x, x + dx2])
            };
            all.into_iter().map(made).collect()
        })
    }

    proptest! {
        /// Nothing lies outside, and of all corners one attains each end: by counting out every corner.
        #[test]
        fn verify_the_ends_are_the_extremes_of_all_corners(
            items in items(),
            parts in prop::collection::vec((0.0..=1.0_f64, 0.0..=1.0_f64), 8),
        ) {
            let range = mean_range(&mut NoLines, SYMBOLS, &items);
            let inside = mean(&items.iter().zip(&parts).map(|(item, part)| within(item, *part)).collect::<Vec<_>>());
            prop_assert!(range.least.m() - 1e-9 <= inside && inside <= range.greatest.m() + 1e-9);
            let corner = |bits: u32, place: f64| {
                let part = |index: usize| (f64::from(bits >> index & 1), place);
                mean(&items.iter().enumerate().map(|(index, item)| within(item, part(index))).collect::<Vec<_>>())
            };
            let all = 0..1_u32 << items.len();
            let greatest = all.clone().map(|bits| corner(bits, 1.0)).fold(f64::MIN, f64::max);
            let least = all.map(|bits| corner(bits, 0.0)).fold(f64::MAX, f64::min);
            prop_assert!((range.greatest.m() - greatest).abs() < 1e-9, "{} {greatest}", range.greatest.m());
            prop_assert!((range.least.m() - least).abs() < 1e-9, "{} {least}", range.least.m());
        }

        #[test]
        fn verify_the_order_of_the_weights_does_not_matter(items in items(), turn in 0_usize..8) {
            let mut turned = items.clone();
            turned.reverse();
            turned.rotate_left(turn % items.len());
            let (a, b) = (mean_range(&mut NoLines, SYMBOLS, &items), mean_range(&mut NoLines, SYMBOLS, &turned));
            for (a, b) in [(a.least, b.least), (a.expected, b.expected), (a.greatest, b.greatest)] {
                prop_assert!((a - b).m().abs() < 1e-12);
            }
        }
    }
}
