//! The order in which a request lists its points is no part of the job: the answer has the same digest.

#![expect(clippy::unwrap_used, reason = "tests stop at what they do not expect")]

use ramwright_api::operation::PlanLift;
use ramwright_api::{Catalogues, Prepared};
use serde_json::Value;
use std::sync::atomic::AtomicBool;

const TRANSFORMER: &str = include_str!("../../../openapi/examples/transformer.json");

fn result_digest(request: &Value, catalogues: &Catalogues) -> String {
    let Ok(prepared) = Prepared::<PlanLift>::from_json(request.to_string().as_bytes(), catalogues) else {
        unreachable!("the example request is sound")
    };
    prepared.compute(&AtomicBool::new(false)).map(|answer| answer.result_digest).ok().unwrap()
}

#[test]
fn verify_the_order_of_the_points_changes_no_digest() {
    let catalogues = Catalogues::embedded().unwrap();
    let request: Value = serde_json::from_str(TRANSFORMER).unwrap();
    let listed = result_digest(&request, &catalogues);
    let mut otherwise = request.clone();
    let points = otherwise.pointer_mut("/load_case/points").and_then(Value::as_array_mut).unwrap();
    assert!(3 < points.len());
    points.reverse();
    points.swap(0, 1);
    assert_ne!(request, otherwise);
    assert_eq!(listed, result_digest(&otherwise, &catalogues));
}
