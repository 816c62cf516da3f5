//! Random changes to good requests: whatever is sent, the service answers, soon, and as it describes.

use std::time::Duration;

use proptest::prelude::*;
use proptest::sample::{Index, select};
use proptest::test_runner::{Config, RngAlgorithm, TestCaseError, TestError, TestRng, TestRunner};
use ramwright_tests::validate;
use ramwright_tests::{Reply, Service, examples};
use serde_json::{Value, json};

const CASES: u32 = 1_000;
/// No answer takes long because of what is in a request, whatever else the machine does.
const LIMIT: Duration = Duration::from_secs(20);
/// So few that every search ends soon, also in a build that is not optimised.
const STATES: u32 = 5_000;

/// One change at one place.
#[derive(Clone, Debug)]
enum Change {
    Replace(Value),
    Remove,
    Double,
    /// Makes way for the value that stands at another place.
    Copy(Index),
}

fn odd_values() -> Vec<Value> {
    let long = "x".repeat(5_000);
    vec![
        Value::Null,
        json!(true),
        json!(0),
        json!(-1),
        json!(-0.0),
        json!(1e308),
        json!(5e-324),
        json!(0.5),
        json!(2),
        json!(""),
        json!(" "),
        json!("x"),
        json!(long),
        json!("\u{0}"),
        json!("\u{feff}"),
        json!("="),
        json!("1"),
        json!("0 mm"),
        json!("-5 mm"),
        json!("1e-300 m"),
        json!("1e308 t"),
        json!("1e400 t"),
        json!("NaN kN"),
        json!("80 ton"),
        json!("0 t"),
        json!("1 kg"),
        json!("99999 t"),
        json!("0.1 mm"),
        json!("20 m"),
        json!("1000 m"),
        json!("-1000 m"),
        json!("1 kN"),
        json!("1e6 kN"),
        json!("700 bar"),
        json!("5 degC"),
        json!("1 mm2/s"),
        json!([]),
        json!([[]]),
        json!([null]),
        json!({}),
        json!({"value": 1e308, "unit": "t"}),
        json!({"value": 1}),
        json!({"unit": "mm", "value": null}),
        json!({"": {}}),
        json!("pull"),
        json!("press"),
        json!("raise"),
        json!("elastic"),
        json!("worst_equilibrium"),
        json!("soft"),
        json!("whole_stroke"),
        json!("willow-01"),
    ]
}

fn change() -> impl Strategy<Value = Change> {
    prop_oneof![
        6 => select(odd_values()).prop_map(Change::Replace),
        2 => Just(Change::Remove),
        1 => Just(Change::Double),
        2 => any::<Index>().prop_map(Change::Copy),
    ]
}

/// Pointer of every value inside a body.
fn pointers(value: &Value, at: &str, found: &mut Vec<String>) {
    let mut inside = |name: String, member: &Value| {
        let place = format!("{at}/{name}");
        // What keeps a search short stays.
        if place != "/settings/search_states" {
            pointers(member, &place, found);
            if place != "/settings" {
                found.push(place);
            }
        }
    };
    match value {
        Value::Object(members) => members.iter().for_each(|(name, member)| inside(name.clone(), member)),
        Value::Array(items) => items.iter().enumerate().for_each(|(index, item)| inside(index.to_string(), item)),
        _ => {}
    }
}

fn apply(body: &mut Value, place: Index, change: Change) {
    let mut all = Vec::new();
    pointers(body, "", &mut all);
    let pointer = place.get(&all).clone();
    let (parent, name) = pointer.rsplit_once('/').unwrap();
    match change {
        Change::Replace(value) => *body.pointer_mut(&pointer).unwrap() = value,
        Change::Copy(from) => {
            let value = body.pointer(from.get(&all).as_str()).unwrap().clone();
            *body.pointer_mut(&pointer).unwrap() = value;
        }
        Change::Remove => match body.pointer_mut(parent).unwrap() {
            Value::Object(members) => drop(members.remove(name)),
            Value::Array(items) => drop(items.remove(name.parse().unwrap())),
            _ => unreachable!("a place is inside an object or a list"),
        },
        Change::Double => match body.pointer_mut(parent).unwrap() {
            Value::Object(members) => drop(members.insert("doubled".to_owned(), members[name].clone())),
            Value::Array(items) => items.push(items[name.parse::<usize>().unwrap()].clone()),
            _ => unreachable!("a place is inside an object or a list"),
        },
    }
}

fn judge(service: &Service, path: &str, body: &Value, reply: &Reply) -> Result<(), TestCaseError> {
    prop_assert!(reply.status < 500, "{}", reply.text());
    prop_assert!(reply.took < LIMIT, "{path} took {:?}", reply.took);
    let (_, schema) = service.description.requests().find(|(operation, _)| operation.path == path).unwrap();
    let broken = validate::faults(&service.description, schema, body);
    if reply.status == 200 {
        prop_assert!(broken.is_empty(), "answered although the description forbids it: {broken:?}");
    } else if reply.header("problem-code") == "invalid_request" {
        let faults = reply.faults(reply.status);
        prop_assert!(!faults.is_empty());
        // What the reader refuses for its form, the description forbids; patterns of texts are not judged here.
        let forms = ["unknown_field", "wrong_type", "bare_number"];
        let is_text = |pointer: &str| body.pointer(pointer.trim_start_matches('#')).is_some_and(Value::is_string);
        let told = faults.iter().any(|(pointer, code)| forms.contains(&code.as_str()) && !is_text(pointer));
        prop_assert!(!told || !broken.is_empty(), "refused although the description allows it: {faults:?}");
        for (pointer, code) in faults {
            let parent = pointer.trim_start_matches('#').rsplit_once('/').map_or("", |(parent, _)| parent);
            let placed = body.pointer(parent).is_some() || code == "inconsistent" || code == "missing_field";
            prop_assert!(placed, "the fault {code} is nowhere in the request: {pointer}");
        }
    } else {
        prop_assert_eq!(reply.header("problem-code"), "no_equilibrium");
    }
    Ok(())
}

pub(crate) async fn verify_no_request_breaks_the_service(service: &'static Service) {
    let mut bodies = examples::quick();
    for (path, body) in &mut bodies {
        if *path != "/v1/load-shares" {
            body["settings"]["search_states"] = json!(STATES);
        }
    }
    let changes = proptest::collection::vec((any::<Index>(), change()), 1..4);
    let strategy = (select(bodies), changes).prop_map(|((path, mut body), changes)| {
        for (place, change) in changes {
            apply(&mut body, place, change);
        }
        (path, body)
    });
    // The same cases every time, so that a failure is one of the change under test.
    let config = Config { cases: CASES, failure_persistence: None, max_shrink_iters: 200, ..Config::default() };
    let mut runner = TestRunner::new_with_rng(config, TestRng::deterministic_rng(RngAlgorithm::ChaCha));
    let outcome = runner.run(&strategy, |(path, body)| {
        let asked = async { service.post(path, &body).await };
        let reply = tokio::task::block_in_place(|| tokio::runtime::Handle::current().block_on(asked));
        judge(service, path, &body, &reply)
    });
    match outcome {
        Ok(()) => {}
        Err(TestError::Fail(reason, (path, body))) => panic!("{reason}\n{path}\n{body}"),
        Err(other) => panic!("{other}"),
    }
}
