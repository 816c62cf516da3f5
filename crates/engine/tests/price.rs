//! Prices, by plain arithmetic worked by hand and by what must hold of any price.

#![allow(
    clippy::unwrap_used,
    clippy::panic,
    clippy::indexing_slicing,
    reason = "tests stop at what they do not expect"
)]

use ramwright_engine::defaults::PRICE_TERMS;
use ramwright_engine::price::{
    Estimate, HireItem, ItemKind, PriceItem, PriceJob, PriceRow, PriceTerms, PriceUnit, Rates, estimate, hire_of,
    hire_total,
};
use ramwright_units::Time;

fn terms(hire_days: u32) -> PriceTerms {
    PriceTerms { hire_days, ..PRICE_TERMS }
}

fn item(
    what: ItemKind,
    id: &str,
    count: u32,
    day: impl Into<Option<f64>>,
    week: impl Into<Option<f64>>,
) -> HireItem<'_> {
    HireItem { what, id, count, day_rate: day.into(), week_rate: week.into() }
}

fn ram(count: u32, day: impl Into<Option<f64>>, week: impl Into<Option<f64>>) -> HireItem<'static> {
    item(ItemKind::Ram, "r", count, day, week)
}

/// Weeks, days and price of one ram.
fn mix(terms: &PriceTerms, day: impl Into<Option<f64>>, week: impl Into<Option<f64>>) -> Option<(u32, u32, f64)> {
    hire_of(terms, &[ram(1, day, week)])[0].mix.map(|mix| (mix.weeks, mix.days, mix.each))
}

fn job<'a>(items: &'a [HireItem<'a>]) -> PriceJob<'a> {
    PriceJob { items, working_hours: None, timber_volume_m3: 0.0, timber_known: false, currency: "EUR" }
}

fn rows(estimate: &Estimate, item: PriceItem) -> Vec<&PriceRow> {
    estimate.rows.iter().filter(|row| row.item == item).collect()
}

#[track_caller]
fn row(estimate: &Estimate, item: PriceItem) -> &PriceRow {
    let rows = rows(estimate, item);
    assert_eq!(rows.len(), 1, "{item:?} in {estimate:?}");
    rows[0]
}

fn same(a: f64, b: f64) -> bool {
    (a - b).abs() <= 1e-12 * b.abs()
}

#[test]
fn verify_the_cheapest_mix_of_weeks_and_days() {
    // 100 a day, 350 a week of 7 days.
    let at = |days| mix(&terms(days), 100.0, 350.0);
    // 3 x 100 = 300 is less than a week.
    assert_eq!(at(3), Some((0, 3, 300.0)));
    // 4 x 100 = 400 is more than a week at 350.
    assert_eq!(at(4), Some((1, 0, 350.0)));
    assert_eq!(at(7), Some((1, 0, 350.0)));
    // A week and 2 days: 350 + 200 = 550, where 9 days are 900 and 2 weeks are 700.
    assert_eq!(at(9), Some((1, 2, 550.0)));
    // A week and 4 days: 350 + 400 = 750, so that 2 weeks at 700 are cheaper.
    assert_eq!(at(11), Some((2, 0, 700.0)));
    assert_eq!(at(14), Some((2, 0, 700.0)));
    assert_eq!(at(15), Some((2, 1, 800.0)));
    // A week of 5 days: 6 days are 350 + 100.
    let short = PriceTerms { week_days: 5.try_into().unwrap(), ..terms(6) };
    assert_eq!(mix(&short, 100.0, 350.0), Some((1, 1, 450.0)));
}

#[test]
fn verify_a_dear_week_is_never_taken() {
    // A week at 800 is more than 7 days at 100.
    assert_eq!(mix(&terms(16), 100.0, 800.0), Some((0, 16, 1600.0)));
    // At the same price the days are named.
    assert_eq!(mix(&terms(7), 100.0, 700.0), Some((0, 7, 700.0)));
}

#[test]
fn verify_one_rate_is_enough_and_none_is_not() {
    assert_eq!(mix(&terms(9), 100.0, None), Some((0, 9, 900.0)));
    // 9 days are 2 whole weeks.
    assert_eq!(mix(&terms(9), None, 350.0), Some((2, 0, 700.0)));
    assert_eq!(mix(&terms(9), None, None), None);
    // What is no rate is none.
    for bad in [-1.0, f64::NAN, f64::INFINITY] {
        assert_eq!(mix(&terms(9), bad, bad), None);
        assert_eq!(mix(&terms(9), bad, 350.0), Some((2, 0, 700.0)));
        assert_eq!(hire_total(&terms(9), &[ram(1, bad, None)]), None);
    }
    // A rate of zero is stated.
    assert_eq!(mix(&terms(9), 0.0, 350.0), Some((0, 9, 0.0)));
}

#[test]
fn verify_the_minimum_hire() {
    // 2 days wanted, 5 charged: a week at 350 beats 5 x 100; without the minimum it is 2 x 100.
    let with = PriceTerms { minimum_hire_days: 5, ..terms(2) };
    assert_eq!(mix(&with, 100.0, 350.0), Some((1, 0, 350.0)));
    assert_eq!(mix(&terms(2), 100.0, 350.0), Some((0, 2, 200.0)));
    // A hire that is longer is charged as it is.
    assert_eq!(mix(&PriceTerms { minimum_hire_days: 5, ..terms(6) }, 100.0, None), Some((0, 6, 600.0)));
    let items = [ram(2, 100.0, None)];
    let answer = estimate(&with, &job(&items));
    assert_eq!((answer.hire_days, answer.days), (2, 5));
    assert!(row(&answer, PriceItem::RamHire).text.as_str().contains("5 days charged, the minimum hire"));
}

#[test]
fn verify_totals_of_hire() {
    // 9 days of 4 rams at 100 / 350 (550 each), 1 pump at 60 a day (540) and 8 hoses at 12.345 a day
    // (111.105 each, 888.84 together): 2200 + 540 + 888.84.
    let items =
        [ram(4, 100.0, 350.0), item(ItemKind::Pump, "p", 1, 60.0, None), item(ItemKind::Hose, "h", 8, 12.345, None)];
    assert_eq!(hire_total(&terms(9), &items), Some(3628.84));
    assert_eq!(hire_total(&terms(9), &[]), Some(0.0));
    let one_unpriced = [ram(4, 100.0, 350.0), item(ItemKind::Pump, "p", 1, None, None)];
    assert_eq!(hire_total(&terms(9), &one_unpriced), None);
    // What is there no time needs no rate.
    let none_of_it = [ram(4, 100.0, 350.0), item(ItemKind::Pump, "p", 0, None, None)];
    assert_eq!(hire_total(&terms(9), &none_of_it), Some(2200.0));
}

#[test]
fn verify_a_row_is_rounded_half_up() {
    // 1 x 3 days at 0.335 is 1.005, 1 x 3 days at 0.33 is 0.99, 3 x 3 days at 0.0005 is 0.0045.
    let items = [
        item(ItemKind::Ram, "a", 1, 0.335, None),
        item(ItemKind::Ram, "b", 1, 0.33, None),
        item(ItemKind::Ram, "c", 3, 0.0005, None),
    ];
    let answer = estimate(&terms(3), &job(&items));
    let amounts: Vec<f64> = rows(&answer, PriceItem::RamHire).iter().map(|row| row.amount.amount).collect();
    assert_eq!(amounts, [1.01, 0.99, 0.0]);
    assert_eq!(hire_total(&terms(3), &items), Some(2.0));
    // Spares are a share of the amounts as they are printed: 0.1 x 2.00.
    assert!(same(row(&answer, PriceItem::Spares).amount.amount, 0.2));
}

/// 9 days, 4 rams at 100 / 350, 2 pumps at 60 a day, 8 hoses at 5 a day, 40 pieces at 1 a day; everything has its rate.
fn whole_job() -> (PriceTerms, [HireItem<'static>; 4]) {
    let terms = PriceTerms {
        crew_persons: 4,
        set_up_time: Time::from_s(3.0 * 3600.0),
        spares_share: 0.10,
        timber_consumed_share: 0.25,
        standby_days: 2,
        rates: Rates {
            mobilisation: Some(900.0),
            return_transport: Some(850.5),
            person_hour: Some(45.0),
            handling_plant_day: Some(320.0),
            timber_m3: Some(480.0),
            standby_day: Some(1100.0),
        },
        ..terms(9)
    };
    let items = [
        item(ItemKind::Packing, "k", 40, 1.0, None),
        item(ItemKind::Hose, "h", 8, 5.0, None),
        ram(4, 100.0, 350.0),
        item(ItemKind::Pump, "p", 2, 60.0, None),
    ];
    (terms, items)
}

#[test]
fn verify_an_estimate_row_by_row() {
    let (terms, items) = whole_job();
    let job = PriceJob { working_hours: Some(5.5), timber_volume_m3: 1.6, timber_known: true, ..job(&items) };
    let answer = estimate(&terms, &job);
    let got: Vec<_> = answer
        .rows
        .iter()
        .map(|row| (row.item, row.quantity, row.unit, row.unit_rate.amount, row.amount.amount))
        .collect();
    let expected = [
        (PriceItem::RamHire, 4.0, PriceUnit::Piece, 550.0, 2200.0),
        (PriceItem::PumpHire, 2.0, PriceUnit::Piece, 540.0, 1080.0),
        (PriceItem::HoseHire, 8.0, PriceUnit::Piece, 45.0, 360.0),
        (PriceItem::PackingHire, 40.0, PriceUnit::Piece, 9.0, 360.0),
        (PriceItem::Mobilisation, 1.0, PriceUnit::LumpSum, 900.0, 900.0),
        (PriceItem::ReturnTransport, 1.0, PriceUnit::LumpSum, 850.5, 850.5),
        // 4 persons for 5.5 h + 3 h.
        (PriceItem::Crew, 34.0, PriceUnit::PersonHour, 45.0, 1530.0),
        (PriceItem::HandlingPlant, 9.0, PriceUnit::Day, 320.0, 2880.0),
        // A tenth of 2200 + 1080.
        (PriceItem::Spares, 0.1, PriceUnit::Share, 3280.0, 328.0),
        // A quarter of 1.6 m3.
        (PriceItem::TimberConsumed, 0.4, PriceUnit::CubicMetre, 480.0, 192.0),
        (PriceItem::Standby, 2.0, PriceUnit::Day, 1100.0, 2200.0),
    ];
    assert_eq!(got, expected);
    // 2200 + 1080 + 360 + 360 = 4000; + 900 + 850.50 = 5750.50; + 1530 = 7280.50; + 2880 = 10 160.50;
    // + 328 = 10 488.50; + 192 = 10 680.50; + 2200 = 12 880.50.
    let total = answer.total.unwrap();
    assert_eq!((total.amount, total.currency.as_str()), (12_880.5, "EUR"));
    assert_eq!((answer.not_priced.len(), answer.hire_days, answer.days, answer.week_days), (0, 9, 9, 7));
    assert!(answer.rounding.as_str().contains("half up"));
    let text = answer.rows[0].text.as_str();
    assert_eq!(text, "4 x ram r, each for 1 week at 350 and 2 days at 100 (9 days charged; 7 days in a week)");
}

#[test]
fn verify_what_has_no_rate_is_listed_with_the_field_that_would_price_it() {
    let items = [ram(4, 100.0, 350.0)];
    let job = PriceJob { working_hours: Some(5.5), timber_volume_m3: 1.6, timber_known: true, ..job(&items) };
    let answer = estimate(&terms(9), &job);
    // Hire and the spares that hang on it: 2200 + 220.
    assert_eq!(answer.total.as_ref().map(|total| total.amount), Some(2420.0));
    let open: Vec<_> = answer
        .not_priced
        .iter()
        .map(|open| (open.item, open.field.as_ref().map(ramwright_engine::Text::as_str)))
        .collect();
    let expected = [
        (PriceItem::PumpHire, None),
        (PriceItem::HoseHire, None),
        (PriceItem::PackingHire, None),
        (PriceItem::Mobilisation, Some("price/mobilisation")),
        (PriceItem::ReturnTransport, Some("price/return_transport")),
        (PriceItem::Crew, Some("price/crew/per_person_hour")),
        (PriceItem::HandlingPlant, Some("price/handling_plant_per_day")),
        (PriceItem::TimberConsumed, Some("price/timber/per_m3")),
        (PriceItem::Standby, Some("price/standby/per_day")),
    ];
    assert_eq!(open, expected);
}

#[test]
fn verify_nothing_priced_has_no_total() {
    let answer = estimate(&terms(9), &job(&[]));
    assert_eq!((answer.rows.len(), answer.total), (0, None));
    // Spares of no ram and no pump are not nothing.
    assert!(answer.not_priced.iter().any(|open| open.item == PriceItem::Spares));
}

#[test]
fn verify_spares_need_the_price_of_every_ram_and_pump() {
    let items = [ram(4, 100.0, 350.0), item(ItemKind::Pump, "p", 1, None, None)];
    let answer = estimate(&terms(9), &job(&items));
    assert!(rows(&answer, PriceItem::Spares).is_empty());
    let open: Vec<PriceItem> = answer.not_priced.iter().map(|open| open.item).collect();
    assert!(open.contains(&PriceItem::Spares));
    let pump = answer.not_priced.iter().find(|open| open.item == PriceItem::PumpHire).unwrap();
    assert_eq!(pump.id.as_deref(), Some("p"));
    // A hose without a rate changes no spares.
    let items = [ram(4, 100.0, 350.0), item(ItemKind::Hose, "h", 1, None, None)];
    assert!(same(row(&estimate(&terms(9), &job(&items)), PriceItem::Spares).amount.amount, 220.0));
}

#[test]
fn verify_what_is_not_known_is_not_priced_whatever_its_rate() {
    let (terms, items) = whole_job();
    // A volume that is not known is not zero, whatever number stands there.
    let unknown = PriceJob { timber_volume_m3: 1.6, ..job(&items) };
    for hours in [None, Some(-1.0), Some(f64::NAN)] {
        let answer = estimate(&terms, &PriceJob { working_hours: hours, ..unknown });
        let open: Vec<_> = answer.not_priced.iter().map(|open| (open.item, open.field.clone())).collect();
        assert_eq!(open, [(PriceItem::Crew, None), (PriceItem::TimberConsumed, None)]);
    }
    // With no rate either, both reasons stand there.
    let answer = estimate(&PriceTerms { rates: PRICE_TERMS.rates, ..terms }, &unknown);
    for item in [PriceItem::Crew, PriceItem::TimberConsumed] {
        assert_eq!(answer.not_priced.iter().filter(|open| open.item == item).count(), 2);
    }
}

#[test]
fn verify_what_no_cent_can_tell_is_left_out() {
    // 1e6 a day x 9 days x 4e9 rams.
    let items = [ram(u32::MAX, 1e6, None)];
    assert_eq!(hire_total(&terms(9), &items), None);
    let answer = estimate(&terms(9), &job(&items));
    assert_eq!(answer.total, None);
    assert!(answer.not_priced[0].text.as_str().contains("told to the cent"));
    // Two amounts that can be told and a sum that cannot.
    let items = [item(ItemKind::Hose, "a", 1, 6e11, None), item(ItemKind::Hose, "b", 1, 6e11, None)];
    assert_eq!(hire_total(&terms(1), &items), None);
    let answer = estimate(&terms(1), &job(&items));
    assert_eq!((answer.rows.len(), answer.total), (2, None));
}

#[test]
fn verify_an_estimate_is_read_back_as_it_is_written() {
    let (terms, items) = whole_job();
    let answer = estimate(&terms, &job(&items));
    let text = serde_json::to_string(&answer).unwrap();
    assert_eq!(serde_json::from_str::<Estimate>(&text).unwrap(), answer);
}
