//! The description of a request and what the reader takes, held against each other.

use std::collections::BTreeSet;

use ramwright_tests::places::{Place, body_with, places};
use ramwright_tests::validate::faults;
use ramwright_tests::{Reply, Service, examples};
use serde_json::{Value, json};

/// Path of every operation that takes a body, with every object that its body can hold.
fn objects(service: &'static Service) -> Vec<(&'static str, Place<'static>)> {
    let description = &service.description;
    let found: Vec<_> = description
        .requests()
        .flat_map(|(operation, schema)| {
            places(description, schema).into_iter().map(move |place| (operation.path.as_str(), place))
        })
        .filter(|(_, place)| place.schema["properties"].is_object())
        .collect();
    assert!(100 < found.len(), "{} objects", found.len());
    found
}

/// The names of the fields that have a fault of this code directly in the object at `pointer`.
fn names_at(reply: &Reply, pointer: &str, code: &str) -> BTreeSet<String> {
    let within = format!("#{pointer}/");
    let faults = reply.faults(reply.status).into_iter().filter(|(_, own)| own == code);
    let names = faults.filter_map(|(place, _)| place.strip_prefix(&within).map(str::to_owned));
    names.filter(|name| !name.contains('/')).collect()
}

pub(crate) async fn verify_required_fields_are_those_of_the_reader(service: &'static Service) {
    for (path, place) in objects(service) {
        let reply = service.post(path, &body_with(&place.pointer, json!({}))).await;
        let required = place.schema["required"].as_array().into_iter().flatten();
        let required: BTreeSet<String> = required.map(|name| name.as_str().unwrap().to_owned()).collect();
        if reply.status == 200 {
            assert!(required.is_empty(), "{path} {}", place.pointer);
        } else {
            assert_eq!(names_at(&reply, &place.pointer, "missing_field"), required, "{path} {}", place.pointer);
        }
    }
}

pub(crate) async fn verify_fields_are_those_of_the_reader(service: &'static Service) {
    for (path, place) in objects(service) {
        let properties = place.schema["properties"].as_object().unwrap();
        let names: BTreeSet<String> = properties.keys().cloned().collect();
        if place.schema["additionalProperties"] == true {
            assert_open(service, path, &place).await;
        } else {
            assert_closed(service, path, &place, &names).await;
        }
        // Each field is read, since each wrong type is found.
        let wrong = properties.iter().map(|(name, schema)| (name.clone(), of_wrong_type(service, schema)));
        let reply = service.post(path, &body_with(&place.pointer, Value::Object(wrong.collect()))).await;
        assert_eq!(names_at(&reply, &place.pointer, "wrong_type"), names, "{path} {}", place.pointer);
    }
}

/// A saved answer may have fields of another version.
async fn assert_open(service: &Service, path: &str, place: &Place<'_>) {
    assert_eq!((path, place.pointer.as_str()), ("/v1/replays", ""), "only a saved answer is open");
    let reply = service.post(path, &body_with(&place.pointer, json!({"0": 1}))).await;
    assert!(names_at(&reply, &place.pointer, "unknown_field").is_empty());
}

async fn assert_closed(service: &Service, path: &str, place: &Place<'_>, names: &BTreeSet<String>) {
    assert_eq!(place.schema["additionalProperties"], false, "{path} {}", place.pointer);
    // A name like no field's: the hint then lists the fields that the reader takes.
    let reply = service.post(path, &body_with(&place.pointer, json!({"0": 1}))).await;
    let problem = reply.json();
    let unknown = format!("#{}/0", place.pointer);
    let fault = problem["errors"].as_array().unwrap().iter().find(|fault| fault["pointer"] == unknown.as_str());
    let hint = fault.unwrap_or_else(|| panic!("{path} {}: {problem}", place.pointer))["hint"].as_str().unwrap();
    let taken = hint.strip_prefix("the fields are ").unwrap().split(", ");
    assert_eq!(taken.map(str::to_owned).collect::<BTreeSet<_>>(), *names, "{path} {}", place.pointer);
}

/// A value of a type that the schema does not take.
fn of_wrong_type(service: &Service, schema: &Value) -> Value {
    let types = &service.description.resolve(schema)["type"];
    let boolean = types == "boolean" || types.as_array().is_some_and(|types| types.contains(&json!("boolean")));
    if boolean { json!("yes") } else { json!(true) }
}

pub(crate) async fn verify_examples_keep_to_the_schema(service: &'static Service) {
    let description = &service.description;
    let mut shown = 0;
    for (operation, schema) in description.requests() {
        let content = &description.document["paths"][&operation.path]["post"]["requestBody"]["content"];
        let examples = content["application/json"]["examples"].as_object().unwrap();
        for (name, example) in examples {
            let found = faults(description, schema, &example["value"]);
            assert!(found.is_empty(), "{name}: {found:?}");
            shown += 1;
        }
    }
    assert_eq!(shown, examples::CALCULATIONS.len() + 2, "every example is shown");
}

pub(crate) async fn verify_answers_keep_to_the_schema(service: &'static Service) {
    let description = &service.description;
    let mut asked = examples::quick();
    asked.push(("/v1/catalogues/check", examples::catalogue()));
    asked.push(("/v1/replays", examples::saved_answer()));
    let mut refused = examples::saved_answer();
    refused["request"]["load_case"]["points"] = json!([]);
    asked.push(("/v1/replays", refused));
    for (path, body) in asked {
        for units in ["metric", "us"] {
            let mut body = body.clone();
            if path != "/v1/catalogues/check" {
                body["units"] = json!(units);
            }
            assert_keeps(service, "POST", path, &service.post(path, &body).await.answer());
        }
        assert_keeps_problem(service, &service.post(path, &json!({"rams_csv": 1, "units": "x"})).await);
    }
    for path in [
        "/v1/units",
        "/v1/limits",
        "/v1/basis",
        "/v1/materials",
        "/v1/catalogues",
        "/v1/catalogues/demo_yard",
        "/health/live",
    ] {
        assert_keeps(service, "GET", path, &service.get(path).await.answer());
    }
    let mut tips = examples::of("/v1/load-shares");
    tips["load_case"]["centre_of_gravity"]["x"] = json!("60 m");
    assert_keeps_problem(service, &service.post("/v1/load-shares", &tips).await);
    assert!(description.operations.iter().all(|operation| operation.answers.contains_key(&200)));
}

#[track_caller]
fn assert_keeps(service: &Service, method: &str, path: &str, answer: &Value) {
    let description = &service.description;
    let operation = description.operation(method, path).unwrap();
    let item = &description.document["paths"][&operation.path][method.to_ascii_lowercase()];
    let schema = &item["responses"]["200"]["content"]["application/json"]["schema"];
    let found = faults(description, schema, answer);
    assert!(found.is_empty(), "{method} {path}: {found:#?}");
}

#[track_caller]
fn assert_keeps_problem(service: &Service, reply: &Reply) {
    assert!(400 <= reply.status);
    let found = faults(&service.description, service.description.schema("Problem"), &reply.json());
    assert!(found.is_empty(), "{found:#?}");
}
