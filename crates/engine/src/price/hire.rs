//! What things cost to hire, each at the cheapest mix of whole weeks and days.

use super::cents::Cents;
use super::terms::{PriceTerms, usable};
use std::cmp::Ordering;

/// What is hired.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum ItemKind {
    /// A ram.
    Ram,
    /// A pump.
    Pump,
    /// A hose.
    Hose,
    /// A packing piece.
    Packing,
}

impl ItemKind {
    pub(super) const ALL: [Self; 4] = [Self::Ram, Self::Pump, Self::Hose, Self::Packing];

    pub(super) const fn word(self) -> &'static str {
        match self {
            Self::Ram => "ram",
            Self::Pump => "pump",
            Self::Hose => "hose",
            Self::Packing => "packing piece",
        }
    }
}

/// So many things of one kind, with the rates of one.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct HireItem<'a> {
    /// What it is.
    pub what: ItemKind,
    /// Its name in the catalogue.
    pub id: &'a str,
    /// How many.
    pub count: u32,
    /// Rate of one for a day.
    pub day_rate: Option<f64>,
    /// Rate of one for a hire week.
    pub week_rate: Option<f64>,
}

/// The cheapest way to hire one thing.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct HireMix {
    /// Weeks at the week rate.
    pub weeks: u32,
    /// Days at the day rate.
    pub days: u32,
    /// What one costs for the hire period.
    pub each: f64,
}

/// The hire of one item.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct HireOfItem<'a> {
    /// What is hired.
    pub item: HireItem<'a>,
    /// At which mix; absent where it has no rate.
    pub mix: Option<HireMix>,
}

/// The hire of all items to the cent: the sum of the amounts that [`estimate`](super::estimate()) lists for them.
///
/// Nothing where an item has no rate, or where the sum cannot be told to the cent. It allocates nothing.
///
/// # Source
/// Each item at the cheapest mix of whole weeks and days, at least the minimum hire (common practice, no source).
///
/// # Validity
/// Rates of zero or more; any other rate counts as not stated.
pub fn hire_total(terms: &PriceTerms, items: &[HireItem<'_>]) -> Option<f64> {
    let hired = items.iter().filter(|item| 0 < item.count);
    let total = hired.map(|item| amount(item, mix_of(terms, item)?)).try_fold(Cents::ZERO, |sum, next| sum.plus(next?));
    total.map(Cents::amount)
}

/// The hire of each item, rams first, then pumps, hoses and packing, each by id; what is there no time is left out.
///
/// # Source
/// As [`hire_total`].
///
/// # Validity
/// As [`hire_total`].
pub fn hire_of<'a>(terms: &PriceTerms, items: &[HireItem<'a>]) -> Vec<HireOfItem<'a>> {
    let mut hired: Vec<HireItem<'a>> = items.iter().filter(|item| 0 < item.count).copied().collect();
    hired.sort_by(order);
    hired.into_iter().map(|item| HireOfItem { item, mix: mix_of(terms, &item) }).collect()
}

/// An order of all items, so that the order in which they are listed changes nothing.
fn order(a: &HireItem<'_>, b: &HireItem<'_>) -> Ordering {
    let rate = |a: Option<f64>, b: Option<f64>| a.is_some().cmp(&b.is_some()).then_with(|| compared(a, b));
    (a.what, a.id, a.count)
        .cmp(&(b.what, b.id, b.count))
        .then_with(|| rate(a.day_rate, b.day_rate))
        .then_with(|| rate(a.week_rate, b.week_rate))
}

fn compared(a: Option<f64>, b: Option<f64>) -> Ordering {
    a.zip(b).map_or(Ordering::Equal, |(a, b)| a.total_cmp(&b))
}

/// The amount of an item; nothing if it cannot be told to the cent.
pub(super) fn amount(item: &HireItem<'_>, mix: HireMix) -> Option<Cents> {
    Cents::of(mix.each * f64::from(item.count))
}

/// The cheapest mix of whole weeks and days; of mixes that cost the same, the one with the fewest weeks.
///
/// The cost is linear in the number of weeks as long as these are not longer than the hire, so that the cheapest has none, as many as
/// fit, or one more than that.
fn mix_of(terms: &PriceTerms, item: &HireItem<'_>) -> Option<HireMix> {
    let (day_rate, week_rate) = (usable(item.day_rate), usable(item.week_rate));
    let days = terms.charged_days();
    let week = terms.week_days.get();
    let at_days = day_rate.map(|rate| HireMix { weeks: 0, days, each: rate * f64::from(days) });
    let mixed = day_rate.zip(week_rate).map(|(day_rate, week_rate)| {
        let (weeks, rest) = (days / week, days % week);
        HireMix { weeks, days: rest, each: week_rate * f64::from(weeks) + day_rate * f64::from(rest) }
    });
    let at_weeks = week_rate.map(|rate| {
        let weeks = days.div_ceil(week);
        HireMix { weeks, days: 0, each: rate * f64::from(weeks) }
    });
    let all = [at_days, mixed, at_weeks].into_iter().flatten();
    all.reduce(|best, next| if next.each < best.each { next } else { best })
}
