//! One value of shared load as plain text for a cell: of the point asked for, or of that which carries most.

use crate::cell::{number, word};
use crate::cell_value::{CellValue, NONE, Told, UNKNOWN};
use ramwright_engine::load::{LoadShares, PointShare};
use ramwright_units::{Force, ForceRange, Quantity, Typed};

/// Which value.
#[derive(Clone, Copy, Debug, Eq, PartialEq)]
pub enum LoadShareValue {
    /// The whole in one sentence.
    Answer,
    /// The least that the point carries.
    Least,
    /// What it carries if all is as stated.
    Expected,
    /// The most that it carries.
    Greatest,
    /// The unit of the forces.
    Unit,
    /// The point's name.
    Point,
    /// By how much the load stands clear of tipping.
    TippingMargin,
    /// How the shares were found.
    Method,
    /// One word over the checks of the load.
    Verdict,
    /// The check that decides.
    GoverningCheck,
    /// The address that computes it again.
    Permalink,
}

impl CellValue for LoadShareValue {
    type Result = LoadShares;
    const ALL: &'static [Self] = &[
        Self::Answer,
        Self::Least,
        Self::Expected,
        Self::Greatest,
        Self::Unit,
        Self::Point,
        Self::TippingMargin,
        Self::Method,
        Self::Verdict,
        Self::GoverningCheck,
        Self::Permalink,
    ];

    fn name(self) -> &'static str {
        match self {
            Self::Answer => "answer",
            Self::Least => "least",
            Self::Expected => "expected",
            Self::Greatest => "greatest",
            Self::Unit => "unit",
            Self::Point => "point",
            Self::TippingMargin => "tipping_margin",
            Self::Method => "method",
            Self::Verdict => "verdict",
            Self::GoverningCheck => "governing_check",
            Self::Permalink => "permalink",
        }
    }

    fn text(self, told: &Told<'_, LoadShares>) -> String {
        let force = |of: fn(&ForceRange) -> Force| {
            asked(told)
                .map_or_else(|| NONE.to_owned(), |point| number(Quantity::from(of(&point.share)).value_in(told.units)))
        };
        match self {
            Self::Answer => answer(told),
            Self::Least => force(|share| share.least),
            Self::Expected => force(|share| share.expected),
            Self::Greatest => force(|share| share.greatest),
            Self::Unit => <Force as Typed>::KIND.symbol(told.units).to_owned(),
            Self::Point => asked(told).map_or(NONE, |point| point.point.as_str()).to_owned(),
            Self::TippingMargin => told.result.tipping.as_ref().map_or_else(
                || UNKNOWN.to_owned(),
                |tipping| number(Quantity::from(tipping.margin).value_in(told.units)),
            ),
            Self::Method => word(&told.result.method),
            Self::Verdict => told.verdict(),
            Self::GoverningCheck => told.governing_check(),
            Self::Permalink => told.permalink(),
        }
    }
}

/// The point asked for, or that which carries most.
fn asked<'a>(told: &Told<'a, LoadShares>) -> Option<&'a PointShare> {
    match told.point {
        Some(point) => told.result.share(point.checked_sub(1)?),
        None => told.result.heaviest(),
    }
}

fn answer(told: &Told<'_, LoadShares>) -> String {
    let Some(point) = asked(told) else { return NONE.to_owned() };
    let points = told.result.points.len();
    let unit = <Force as Typed>::KIND.symbol(told.units);
    let value = |force: Force| Quantity::from(force).value_in(told.units);
    let which = match told.point {
        None if 1 < points => format!("most at point {} of {points}", point.point),
        _ => format!("point {}", point.point),
    };
    // Outwards, so that the range shown never lies within the true one.
    let least = (value(point.share.least) * 10.0).floor() / 10.0 + 0.0;
    let greatest = (value(point.share.greatest) * 10.0).ceil() / 10.0 + 0.0;
    let expected = value(point.share.expected);
    let mut parts = vec![format!("{which}: {least:.1} to {greatest:.1} {unit}"), format!("expected {expected:.1}")];
    if 1 < points {
        parts.extend(told.guesses());
    }
    parts.push(told.judged());
    parts.join(", ")
}
