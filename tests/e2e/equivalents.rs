//! The same question put in another way gets the same answer.

use ramwright_tests::compare::differences;
use ramwright_tests::edit::{each_quantity, in_other_system, shift_origin};
use ramwright_tests::{Service, examples};
use serde_json::{Value, json};

/// What two quantities may differ by in any case, in SI: 1e-6 N of a load of some meganewtons, a nanometre, a micropascal.
const ABSOLUTE_SI: f64 = 1e-6;

#[track_caller]
fn assert_same(path: &str, a: &Value, b: &Value) {
    let found = differences(a, b, ABSOLUTE_SI);
    assert!(found.is_empty(), "{path}: {} differences\n{}", found.len(), found.join("\n"));
}

/// What an answer says, without what repeats the question.
fn said(answer: &Value) -> Value {
    json!({
        "verdict": answer["verdict"], "result": answer["result"],
        "assumptions": answer["assumptions"], "cautions": answer["cautions"],
    })
}

pub(crate) async fn verify_units_of_the_answer_change_nothing_else(service: &'static Service) {
    for (path, mut body) in examples::quick() {
        body["units"] = json!("metric");
        let metric = service.post(path, &body).await.answer();
        body["units"] = json!("us");
        let us = service.post(path, &body).await.answer();
        assert_eq!((&metric["units"], &us["units"]), (&json!("metric"), &json!("us")), "{path}");
        assert_eq!(metric["result_digest"], us["result_digest"], "{path}");
        assert_same(path, &said(&metric), &said(&us));
    }
}

pub(crate) async fn verify_units_of_the_request_change_nothing(service: &'static Service) {
    for (path, body) in examples::quick() {
        let mut converted = body.clone();
        for section in ["load_case", "settings", "circuit"] {
            if let Some(part) = converted.get_mut(section) {
                each_quantity(part, &in_other_system);
            }
        }
        assert_ne!(body, converted, "{path}");
        let (as_sent, other) =
            (service.post(path, &body).await.answer(), service.post(path, &converted).await.answer());
        assert_same(path, &said(&as_sent), &said(&other));
    }
}

pub(crate) async fn verify_the_order_of_points_changes_nothing(service: &'static Service) {
    for (path, body) in examples::quick() {
        let mut permuted = body.clone();
        let points = permuted["load_case"]["points"].as_array_mut().unwrap();
        points.reverse();
        let last = points.len() - 1;
        points.swap(0, last / 2);
        let (as_sent, other) = (service.post(path, &body).await.answer(), service.post(path, &permuted).await.answer());
        // To the bit: points are put in their order before anything is summed.
        assert_eq!(as_sent["result"], other["result"], "{path}");
        assert_eq!(as_sent["result_digest"], other["result_digest"], "{path}");
        assert_eq!(as_sent["verdict"], other["verdict"], "{path}");
    }
}

pub(crate) async fn verify_the_origin_of_the_plan_changes_nothing(service: &'static Service) {
    for (path, body) in examples::quick() {
        if body["load_case"]["centre_of_gravity"].is_null() {
            continue;
        }
        let mut shifted = body.clone();
        shift_origin(&mut shifted, -37.5, 12.25);
        let (as_sent, other) = (service.post(path, &body).await.answer(), service.post(path, &shifted).await.answer());
        let without_coordinates = |answer: &Value| {
            let mut said = said(answer);
            drop_members(&mut said, &["lines", "lift_order", "x", "y"]);
            said
        };
        assert_lift_order(&other["result"]);
        assert_lift_order(&other["result"]["circuit"]);
        assert_same(path, &without_coordinates(&as_sent), &without_coordinates(&other));
    }
}

/// Leaves out members by name: the lines of checks and the combinations that
/// govern show coordinates, which are those of the request; and of points that
/// carry the same, rounding decides which is called first.
fn drop_members(value: &mut Value, names: &[&str]) {
    match value {
        Value::Object(members) => {
            members.retain(|name, _| !names.contains(&name.as_str()));
            members.values_mut().for_each(|member| drop_members(member, names));
        }
        Value::Array(items) => items.iter_mut().for_each(|item| drop_members(item, names)),
        _ => {}
    }
}

/// That points are named with the lowest expected pressure first, but for rounding.
#[track_caller]
fn assert_lift_order(circuit: &Value) {
    let pressure = |id: &Value| {
        let point = circuit["points"].as_array().unwrap().iter().find(|point| point["point"] == *id).unwrap();
        point["pressure"]["expected"].as_f64().unwrap()
    };
    let order: Vec<f64> = circuit["lift_order"].as_array().into_iter().flatten().map(pressure).collect();
    assert!(order.windows(2).all(|pair| pair[0] <= pair[1] * (1.0 + 1e-9)), "{order:?}");
}
