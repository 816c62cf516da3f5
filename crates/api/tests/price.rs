//! Terms of price in whole requests.

#![expect(
    clippy::unwrap_used,
    clippy::float_cmp,
    reason = "tests stop at what they do not expect; whole cents are compared exactly"
)]

use ramwright_api::operation::{PlanLift, SizeRamSet, VerifyRamSet};
use ramwright_api::problem::{FaultCode, Problem};
use ramwright_api::{Catalogues, Operation, Prepared};
use ramwright_engine::price::{Estimate, PriceItem};
use serde_json::{Value, json};
use std::sync::atomic::AtomicBool;

const SIZE: &str = include_str!("../../../openapi/examples/size.json");
const TRANSFORMER: &str = include_str!("../../../openapi/examples/transformer.json");

fn prepared<O: Operation>(price: &Value) -> Result<Prepared<O>, Problem> {
    let mut request: Value = serde_json::from_str(SIZE).unwrap();
    request.as_object_mut().unwrap().insert("price".into(), price.clone());
    Prepared::<O>::from_json(request.to_string().as_bytes(), &Catalogues::embedded().unwrap())
}

/// Places and codes of all faults.
fn faults<O: Operation>(price: &Value) -> Vec<(String, FaultCode)> {
    let problem = prepared::<O>(price).err();
    let errors = problem.into_iter().flat_map(|problem| problem.errors);
    errors.map(|fault| (fault.pointer.unwrap(), fault.code)).collect()
}

#[test]
fn verify_requests_for_rams_take_terms_of_price() {
    let money = json!({ "amount": 950, "currency": "EUR" });
    let sound = json!({ "hire_days": 10, "mobilisation": money, "crew": { "persons": 4 } });
    assert_eq!(faults::<SizeRamSet>(&sound), []);
    assert_eq!(faults::<PlanLift>(&sound), []);
    assert_eq!(faults::<VerifyRamSet>(&sound)[0], ("#/price".to_owned(), FaultCode::UnknownField));
}

#[test]
fn verify_faults_of_price_are_told_once_in_the_order_of_the_document() {
    let wrong = json!({
        "hire_days": 0, "return_transport": { "amount": 1, "currency": "USD" }, "standby": { "days": -1 }
    });
    // A part that cannot be read is not held against the currency of the catalogue.
    let expected = [("#/price/hire_days", FaultCode::OutOfRange), ("#/price/standby/days", FaultCode::OutOfRange)];
    let expected = expected.map(|(at, code)| (at.to_owned(), code));
    assert_eq!(faults::<SizeRamSet>(&wrong), expected);
    assert_eq!(faults::<PlanLift>(&wrong), expected);
    let dollars = json!({ "return_transport": { "amount": 1, "currency": "USD" } });
    let expected = [("#/price/return_transport/currency".to_owned(), FaultCode::Inconsistent)];
    assert_eq!(faults::<SizeRamSet>(&dollars), expected);
}

fn estimated(request: &str, price: &Value) -> Estimate {
    let mut request: Value = serde_json::from_str(request).unwrap();
    request.as_object_mut().unwrap().insert("price".into(), price.clone());
    let prepared = Prepared::<PlanLift>::from_json(request.to_string().as_bytes(), &Catalogues::embedded().unwrap());
    prepared.unwrap().compute(&AtomicBool::new(false)).unwrap().result.estimate.unwrap()
}

fn cents(amount: f64) -> f64 {
    (amount * 100.0).round()
}

/// Three hazel-02 at 12.50 a day and 43 a week: 10 days are a week and 3 days, 80.50 each (125 by days, 86 by weeks), 241.50
/// together.
#[test]
fn verify_a_plan_answers_what_the_terms_of_price_ask() {
    let mobilisation = json!({ "amount": 480.5, "currency": "EUR" });
    let found = estimated(SIZE, &json!({ "hire_days": 10, "mobilisation": mobilisation }));
    let amount = |item: PriceItem| {
        let rows = found.rows.iter().filter(|row| row.item == item);
        rows.map(|row| row.amount.amount).sum::<f64>()
    };
    assert_eq!(cents(amount(PriceItem::RamHire)), 24_150.0);
    assert_eq!(cents(amount(PriceItem::Mobilisation)), 48_050.0);
    // The pump was chosen out of the yard.
    assert!(0.0 < amount(PriceItem::PumpHire) && 0.0 < amount(PriceItem::HoseHire));
    let spares = 0.1 * (amount(PriceItem::RamHire) + amount(PriceItem::PumpHire));
    assert!((amount(PriceItem::Spares) - spares).abs() < 0.006);
    // No rate is stated for these.
    for item in [PriceItem::Crew, PriceItem::ReturnTransport] {
        assert!(found.not_priced.iter().any(|open| open.item == item), "{item:?}");
        assert!(amount(item) <= 0.0, "{item:?}");
    }
    let sum: f64 = found.rows.iter().map(|row| row.amount.amount).sum();
    assert_eq!(cents(found.total.unwrap().amount), cents(sum));
}

#[test]
fn verify_an_option_has_the_hire_of_its_rams() {
    let found = prepared::<SizeRamSet>(&json!({ "hire_days": 10 })).unwrap().compute(&AtomicBool::new(false)).unwrap();
    let best = &found.result.options[0];
    assert_eq!((best.models[0].ram.as_str(), best.rams), ("hazel-02", 3));
    assert_eq!(cents(best.hire.as_ref().unwrap().amount), 24_150.0);
}

/// Four hazel-07 at 27 a day, 4 hoses, a pump, and the pieces that the sequence needs; steel only, so that no timber is written off.
#[test]
fn verify_a_plan_with_a_circuit_and_packing_prices_all_of_them() {
    let hour = json!({ "amount": 50, "currency": "EUR" });
    let found = estimated(TRANSFORMER, &json!({ "hire_days": 1, "crew": { "per_person_hour": hour } }));
    let of = |item: PriceItem| found.rows.iter().filter(|row| row.item == item).collect::<Vec<_>>();
    let one = |item: PriceItem| (of(item)[0].id.clone().unwrap(), of(item)[0].quantity);
    assert_eq!(one(PriceItem::RamHire), ("hazel-07".into(), 4.0));
    assert_eq!(one(PriceItem::PumpHire), ("heron-02".into(), 1.0));
    assert_eq!(one(PriceItem::HoseHire), ("reed-04".into(), 4.0));
    let pieces: Vec<&str> = of(PriceItem::PackingHire).iter().filter_map(|row| row.id.as_deref()).collect();
    assert_eq!(pieces, ["slate-02", "slate-03", "slate-06", "slate-08"]);
    // 3 persons for the work, more than the 5.2 h of handling, and 4 h of setting up.
    let hours = of(PriceItem::Crew)[0].quantity / 3.0;
    assert!((9.2..12.0).contains(&hours), "{hours}");
}
