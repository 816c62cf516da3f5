//! What must hold of any price.

#![allow(clippy::unwrap_used, reason = "tests stop at what they do not expect")]

use proptest::prelude::*;
use ramwright_engine::defaults::PRICE_TERMS;
use ramwright_engine::price::{
    Estimate, HireItem, ItemKind, PriceItem, PriceJob, PriceTerms, Rates, estimate, hire_of, hire_total,
};
use ramwright_units::Time;

/// A rate in whole cents, or as any number.
fn rate() -> impl Strategy<Value = f64> {
    prop_oneof![(0_u32..2_000_000).prop_map(|cents| f64::from(cents) / 100.0), 0.0..20_000.0]
}

fn kind() -> impl Strategy<Value = ItemKind> {
    prop_oneof![Just(ItemKind::Ram), Just(ItemKind::Pump), Just(ItemKind::Hose), Just(ItemKind::Packing)]
}

/// An item with at least one rate.
fn priced() -> impl Strategy<Value = HireItem<'static>> {
    let rates = prop_oneof![
        rate().prop_map(|day| (Some(day), None)),
        rate().prop_map(|week| (None, Some(week))),
        (rate(), rate()).prop_map(|(day, week)| (Some(day), Some(week))),
    ];
    let id = prop_oneof![Just("a"), Just("b"), Just("c")];
    (kind(), id, 0_u32..200, rates).prop_map(|(what, id, count, (day_rate, week_rate))| HireItem {
        what,
        id,
        count,
        day_rate,
        week_rate,
    })
}

/// An item that may have no rate.
fn any_item() -> impl Strategy<Value = HireItem<'static>> {
    let none = |item: HireItem<'static>| HireItem { day_rate: None, week_rate: None, ..item };
    prop_oneof![4 => priced(), 1 => priced().prop_map(none)]
}

fn terms() -> impl Strategy<Value = PriceTerms> {
    let money = || proptest::option::of(rate());
    let rates = (money(), money(), money(), money(), money(), money()).prop_map(|(a, b, c, d, e, f)| Rates {
        mobilisation: a,
        return_transport: b,
        person_hour: c,
        handling_plant_day: d,
        timber_m3: e,
        standby_day: f,
    });
    let days = (1_u32..400, 1_u32..15, 1_u32..8, 0_u32..30);
    (days, 1_u32..30, 0.0..100_000.0, (0.0..1.0, 0.0..1.0), rates).prop_map(
        |((hire_days, minimum_hire_days, week, standby_days), crew_persons, set_up, (spares, timber), rates)| {
            PriceTerms {
                hire_days,
                minimum_hire_days,
                week_days: week.try_into().unwrap(),
                crew_persons,
                set_up_time: Time::from_s(set_up),
                spares_share: spares,
                timber_consumed_share: timber,
                standby_days,
                rates,
            }
        },
    )
}

fn job<'a>(items: &'a [HireItem<'a>], hours: Option<f64>, timber: Option<f64>) -> PriceJob<'a> {
    PriceJob {
        items,
        working_hours: hours,
        timber_volume_m3: timber.unwrap_or(0.0),
        timber_known: timber.is_some(),
        currency: "EUR",
    }
}

fn total(estimate: &Estimate) -> f64 {
    estimate.total.as_ref().map_or(0.0, |total| total.amount)
}

/// The cheapest of all mixes of weeks and days, by trying each number of weeks.
fn cheapest(terms: &PriceTerms, item: &HireItem<'_>) -> f64 {
    let days = terms.hire_days.max(terms.minimum_hire_days);
    let weeks = days.div_ceil(terms.week_days.get());
    let at = |weeks: u32| {
        let rest = days.saturating_sub(weeks * terms.week_days.get());
        let charge = |count: u32, rate: Option<f64>| {
            if count == 0 { Some(0.0) } else { rate.map(|rate| rate * f64::from(count)) }
        };
        Some(charge(weeks, item.week_rate)? + charge(rest, item.day_rate)?)
    };
    (0..=weeks).filter_map(at).fold(f64::INFINITY, f64::min)
}

proptest! {
    #[test]
    fn verify_no_other_mix_is_cheaper(terms in terms(), item in priced().prop_filter("some", |item| 0 < item.count)) {
        let each = hire_of(&terms, &[item]).first().and_then(|hired| hired.mix).unwrap().each;
        let least = cheapest(&terms, &item);
        prop_assert!((each - least).abs() <= 1e-9 * least.max(1.0), "{each} {least}");
    }

    #[test]
    fn verify_a_longer_hire_never_costs_less(
        terms in terms(), items in proptest::collection::vec(priced(), 0..6), more in 1_u32..30,
    ) {
        let longer = PriceTerms { hire_days: terms.hire_days + more, ..terms };
        prop_assert!(hire_total(&terms, &items).unwrap() <= hire_total(&longer, &items).unwrap());
        let strict = PriceTerms { minimum_hire_days: terms.minimum_hire_days + more, ..terms };
        prop_assert!(hire_total(&terms, &items).unwrap() <= hire_total(&strict, &items).unwrap());
        let job = job(&items, Some(8.0), Some(1.0));
        prop_assert!(total(&estimate(&terms, &job)) <= total(&estimate(&longer, &job)));
    }

    #[test]
    fn verify_more_never_costs_less(
        terms in terms(), items in proptest::collection::vec(priced(), 1..6), more in 1_u32..50, extra in priced(),
    ) {
        let before = hire_total(&terms, &items).unwrap();
        let mut grown = items.clone();
        for item in grown.iter_mut().take(1) {
            item.count += more;
        }
        prop_assert!(before <= hire_total(&terms, &grown).unwrap());
        grown.push(extra);
        prop_assert!(before <= hire_total(&terms, &grown).unwrap());
        prop_assert!(total(&estimate(&terms, &job(&items, None, None))) <= total(&estimate(&terms, &job(&grown, None, None))));
    }

    /// Linear to half a cent of rounding for each item: exactly so where rates are whole cents.
    #[test]
    fn verify_hire_is_linear_in_counts(
        terms in terms(), items in proptest::collection::vec(priced(), 0..6), factor in 2_u32..10,
    ) {
        let many: Vec<_> = items.iter().map(|item| HireItem { count: item.count * factor, ..*item }).collect();
        let (one, all) = (hire_total(&terms, &items).unwrap(), hire_total(&terms, &many).unwrap());
        let cents = |rate: Option<f64>| rate.is_none_or(|rate| (rate * 100.0 - (rate * 100.0).round()).abs() < 1e-6);
        let whole = items.iter().all(|item| cents(item.day_rate) && cents(item.week_rate));
        let rounding = if whole { 0.001 } else { 0.005_001 * f64::from(factor + 1) * f64::from(u32::try_from(items.len()).unwrap()) };
        prop_assert!((all - one * f64::from(factor)).abs() <= rounding + 1e-12 * all, "{one} {all}");
    }

    #[test]
    fn verify_the_order_of_items_changes_nothing(
        terms in terms(),
        (items, shuffled) in proptest::collection::vec(any_item(), 0..8)
            .prop_flat_map(|items| (Just(items.clone()), Just(items).prop_shuffle())),
    ) {
        prop_assert_eq!(hire_total(&terms, &items), hire_total(&terms, &shuffled));
        let (a, b) = (job(&items, Some(6.0), Some(0.7)), job(&shuffled, Some(6.0), Some(0.7)));
        prop_assert_eq!(estimate(&terms, &a), estimate(&terms, &b));
    }

    #[test]
    fn verify_rows_add_up_and_are_complete(
        terms in terms(), items in proptest::collection::vec(any_item(), 0..8),
        hours in proptest::option::of(0.0..500.0), timber in proptest::option::of(0.0..50.0),
    ) {
        let estimate = estimate(&terms, &job(&items, hours, timber));
        // Cents, counted apart from the engine.
        let mut cents = 0_i64;
        for row in &estimate.rows {
            let told = format!("{:.2}", row.amount.amount);
            prop_assert_eq!(told.parse::<f64>().unwrap().to_bits(), row.amount.amount.to_bits(), "a whole number of cents");
            prop_assert!((row.quantity * row.unit_rate.amount - row.amount.amount).abs() <= 0.005_001);
            cents += told.replace('.', "").parse::<i64>().unwrap();
        }
        prop_assert_eq!(estimate.total.is_some(), !estimate.rows.is_empty());
        if let Some(total) = &estimate.total {
            prop_assert_eq!(format!("{:.2}", total.amount).replace('.', "").parse::<i64>().unwrap(), cents);
        }
        // Everything is a row or is listed as not priced, and each list is in order.
        let order: Vec<PriceItem> = estimate.rows.iter().map(|row| row.item).collect();
        let open: Vec<PriceItem> = estimate.not_priced.iter().map(|open| open.item).collect();
        prop_assert!(order.is_sorted() && open.is_sorted());
        let all = [
            PriceItem::RamHire, PriceItem::PumpHire, PriceItem::HoseHire, PriceItem::PackingHire,
            PriceItem::Mobilisation, PriceItem::ReturnTransport, PriceItem::Crew, PriceItem::HandlingPlant,
            PriceItem::Spares, PriceItem::TimberConsumed, PriceItem::Standby,
        ];
        for item in all {
            prop_assert!(order.contains(&item) || open.contains(&item), "{item:?}");
        }
        // The hire rows are the total of hire, where that is known.
        let hire = estimate.rows.iter().filter(|row| row.item <= PriceItem::PackingHire);
        let sum: f64 = hire.map(|row| row.amount.amount).sum();
        if let Some(total) = hire_total(&terms, &items) {
            prop_assert!((sum - total).abs() < 1e-3, "{sum} {total}");
        } else {
            prop_assert!(estimate.not_priced.iter().any(|open| open.id.is_some()));
        }
    }

    #[test]
    fn verify_no_number_breaks_an_estimate(
        day in any::<f64>(), week in any::<f64>(), count in any::<u32>(), days in any::<u32>(), share in any::<f64>(),
        money in any::<f64>(), hours in any::<f64>(),
    ) {
        let rates = Rates { mobilisation: Some(money), person_hour: Some(money), timber_m3: Some(money), ..PRICE_TERMS.rates };
        let terms = PriceTerms {
            hire_days: days, spares_share: share, timber_consumed_share: share, crew_persons: count,
            set_up_time: Time::from_s(hours), rates, ..PRICE_TERMS
        };
        let items = [HireItem { what: ItemKind::Ram, id: "r", count, day_rate: Some(day), week_rate: Some(week) }];
        let estimate = estimate(&terms, &job(&items, Some(hours), Some(hours)));
        let amounts = estimate.rows.iter().map(|row| row.amount.amount).chain(estimate.total.map(|total| total.amount));
        for amount in amounts {
            prop_assert!(amount.is_finite() && 0.0 <= amount, "{amount}");
        }
        prop_assert!(hire_total(&terms, &items).is_none_or(|total| total.is_finite() && 0.0 <= total));
    }
}
