//! Terms of price in whole requests.

#![expect(clippy::unwrap_used, reason = "tests stop at what they do not expect")]

use ramwright_api::operation::{PlanLift, SizeRamSet, VerifyRamSet};
use ramwright_api::problem::{FaultCode, Problem};
use ramwright_api::{Catalogues, Operation, Prepared};
use serde_json::{Value, json};

const SIZE: &str = include_str!("../../../openapi/examples/size.json");

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
