//! The description of the service: from the types, plus one pass over the document.

mod close;
mod downgrade;
pub(crate) mod examples;

use serde_json::{Value, json};
use utoipa::OpenApi;

use ramwright_api::problem::ProblemDocument;

/// What the description starts from; the router adds the operations.
#[derive(OpenApi)]
#[openapi(
    components(schemas(ProblemDocument)),
    tags(
        (name = "Tables", description = "A table in CSV with one enquiry a row, answered by the same table with more columns."),
        (name = "Calculations", description = "Each takes a request as a body, or a permalink of an earlier one."),
        (name = "Batches", description = "Many calculations in one request, a line each."),
        (name = "Replays", description = "Answers that were saved, computed again."),
        (name = "Catalogues", description = "Rams, pumps, hoses and packing pieces that requests can name."),
        (name = "Reference", description = "Units and limits."),
        (name = "Service", description = "Health and description."),
    )
)]
struct Base;

const DESCRIPTION: &str = "Sizes, verifies and sequences hydraulic lifts with rams.\n\n\
Quantities in requests carry their unit: `\"212 t\"` or `{\"value\": 212, \"unit\": \"t\"}`; a bare number is refused. \
Answers are in the profile that the request names, `metric` or `us`. Every calculation is a pure function of its \
request: it may be repeated without harm. New fields, codes and checks may appear in answers; a client must tolerate \
ones it does not know. Fields in requests that the service does not know are refused.\n\n\
Results do not replace local codes, the maker's data for the rams in use, or a competent engineer. \
Never work under a load held by oil alone.";

/// The description before any operation is added.
pub(crate) fn base() -> utoipa::openapi::OpenApi {
    Base::openapi()
}

/// The complete description, OpenAPI 3.1.
///
/// # Errors
/// If it cannot be written as JSON.
pub(crate) fn v3_1(description: &utoipa::openapi::OpenApi) -> Result<Vec<u8>, serde_json::Error> {
    written(&complete(description)?)
}

/// The description in JSON formats only, OpenAPI 3.0.3.
///
/// # Errors
/// If it cannot be written as JSON.
pub(crate) fn v3_0(description: &utoipa::openapi::OpenApi) -> Result<Vec<u8>, serde_json::Error> {
    written(&downgrade::to_3_0(complete(description)?))
}

/// The one pass over what the types give.
fn complete(description: &utoipa::openapi::OpenApi) -> Result<Value, serde_json::Error> {
    let mut document = serde_json::to_value(description)?;
    if let Some(members) = document.as_object_mut() {
        members.insert(
            "info".to_owned(),
            json!({
                "title": "Ramwright",
                "description": DESCRIPTION,
                "license": {"name": "Apache-2.0", "identifier": "Apache-2.0"},
                "version": env!("CARGO_PKG_VERSION"),
            }),
        );
        members.insert("servers".to_owned(), json!([{"url": "/"}]));
    }
    close::close_requests(&mut document);
    examples::add(&mut document)?;
    Ok(document)
}

/// The complete description, OpenAPI 3.1, as the service sends it.
///
/// # Errors
/// If it cannot be written as JSON.
pub fn description_3_1() -> Result<Vec<u8>, serde_json::Error> {
    v3_1(&crate::router::description())
}

/// The description in JSON formats only, OpenAPI 3.0.3, as the service sends it.
///
/// # Errors
/// If it cannot be written as JSON.
pub fn description_3_0() -> Result<Vec<u8>, serde_json::Error> {
    v3_0(&crate::router::description())
}

/// Indented, with a line end, so that the committed file can be read and compared line by line.
fn written(document: &Value) -> Result<Vec<u8>, serde_json::Error> {
    let mut bytes = serde_json::to_vec_pretty(document)?;
    bytes.push(b'\n');
    Ok(bytes)
}

#[cfg(test)]
mod tests {
    use super::*;
    use std::collections::BTreeSet;

    fn documents() -> [Value; 2] {
        [description_3_1().unwrap(), description_3_0().unwrap()].map(|bytes| serde_json::from_slice(&bytes).unwrap())
    }

    fn operations(document: &Value) -> impl Iterator<Item = (&str, &str, &Value)> {
        document["paths"].as_object().unwrap().iter().flat_map(|(path, item)| {
            item.as_object().unwrap().iter().map(move |(method, operation)| (path.as_str(), method.as_str(), operation))
        })
    }

    fn for_each_reference(value: &Value, visit: &mut impl FnMut(&str)) {
        match value {
            Value::Object(members) => {
                if let Some(target) = members.get("$ref").and_then(Value::as_str) {
                    visit(target);
                }
                members.values().for_each(|member| for_each_reference(member, visit));
            }
            Value::Array(items) => items.iter().for_each(|item| for_each_reference(item, visit)),
            _ => {}
        }
    }

    #[test]
    fn verify_every_reference_has_its_schema() {
        for document in documents() {
            for_each_reference(&document, &mut |target| {
                assert!(document.pointer(target.trim_start_matches('#')).is_some(), "{target}");
            });
        }
    }

    #[test]
    fn verify_operation_ids_are_unique_and_every_error_is_a_problem() {
        for document in documents() {
            let mut ids = BTreeSet::new();
            for (path, method, operation) in operations(&document) {
                assert!(ids.insert(operation["operationId"].as_str().unwrap()), "{method} {path}");
                let responses = operation["responses"].as_object().unwrap();
                assert!(responses.contains_key("400"), "{method} {path}");
                for (status, response) in responses.iter().filter(|(status, _)| status.as_str() >= "400") {
                    let types: Vec<&String> = response["content"].as_object().unwrap().keys().collect();
                    assert_eq!(types, ["application/problem+json"], "{method} {path} {status}");
                }
            }
        }
    }

    #[test]
    fn verify_every_calculation_has_its_permalink_in_the_same_formats() {
        let [document, _] = documents();
        let calculations = operations(&document)
            .filter(|(_, method, operation)| *method == "post" && operation["tags"][0] == "Calculations");
        for (path, _, operation) in calculations {
            let again = &document["paths"][format!("{path}/{{permalink}}")]["get"];
            let formats = |operation: &Value| -> BTreeSet<String> {
                operation["responses"]["200"]["content"].as_object().unwrap().keys().cloned().collect()
            };
            assert_eq!(formats(again), formats(operation), "{path}");
            let example = operation.pointer("/requestBody/content/application~1json/examples");
            assert!(example.is_some(), "{path} has no example");
        }
    }

    #[test]
    fn verify_3_0_keeps_to_its_dialect() {
        fn keeps(value: &Value) {
            match value {
                Value::Object(members) => {
                    assert!(!members.get("type").is_some_and(Value::is_array), "{value}");
                    assert!(!members.get("type").is_some_and(|one| one == "null"), "{value}");
                    assert!(!members.get("const").is_some_and(Value::is_string), "{value}");
                    assert!(!(members.contains_key("$ref") && members.len() > 1), "{value}");
                    assert!(!members.get("exclusiveMinimum").is_some_and(Value::is_number), "{value}");
                    members
                        .iter()
                        .filter(|(name, _)| !name.starts_with("example"))
                        .for_each(|(_, member)| keeps(member));
                }
                Value::Array(items) => items.iter().for_each(keeps),
                _ => {}
            }
        }
        let [_, document] = documents();
        keeps(&document);
    }
}
