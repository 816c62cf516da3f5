//! Closes the objects of requests: a field that the description does not name is refused by the service.

use std::collections::BTreeSet;

use serde_json::{Map, Value};

const COMPONENT: &str = "#/components/schemas/";

/// Sets `additionalProperties: false` on every object that a request can hold.
pub(super) fn close_requests(document: &mut Value) {
    let mut reached = BTreeSet::new();
    let mut found = Vec::new();
    for_each_request(document, |body| {
        close(body);
        references(body, &mut found);
    });
    while let Some(name) = found.pop() {
        if reached.contains(&name) {
            continue;
        }
        if let Some(schema) = document.pointer_mut("/components/schemas").and_then(|all| all.get_mut(&name)) {
            close(schema);
            references(schema, &mut found);
        }
        reached.insert(name);
    }
}

fn for_each_request(document: &mut Value, mut visit: impl FnMut(&mut Value)) {
    let paths = document.get_mut("paths").and_then(Value::as_object_mut);
    for item in paths.into_iter().flat_map(Map::values_mut) {
        for operation in item.as_object_mut().into_iter().flat_map(Map::values_mut) {
            if let Some(body) = operation.get_mut("requestBody") {
                visit(body);
            }
        }
    }
}

/// Closes the object schemas in a value. Parts of an `allOf` each describe the same object, and so stay open.
fn close(value: &mut Value) {
    match value {
        Value::Object(members) => {
            if members.contains_key("properties") && !members.contains_key("additionalProperties") {
                members.insert("additionalProperties".to_owned(), Value::Bool(false));
            }
            for (name, member) in members.iter_mut() {
                match name.as_str() {
                    "allOf" | "example" | "examples" => {}
                    // Its members are names of fields, so it is not itself a schema.
                    "properties" => member.as_object_mut().into_iter().flat_map(Map::values_mut).for_each(close),
                    _ => close(member),
                }
            }
        }
        Value::Array(items) => items.iter_mut().for_each(close),
        _ => {}
    }
}

/// The names of the component schemas that a value refers to.
fn references(value: &Value, found: &mut Vec<String>) {
    match value {
        Value::Object(members) => {
            for (name, member) in members {
                match member.as_str().and_then(|text| text.strip_prefix(COMPONENT)) {
                    Some(target) if name == "$ref" => found.push(target.to_owned()),
                    _ => references(member, found),
                }
            }
        }
        Value::Array(items) => items.iter().for_each(|item| references(item, found)),
        _ => {}
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use serde_json::json;

    #[test]
    fn verify_objects_reached_from_a_request_are_closed_and_others_are_not() {
        let mut document = json!({
            "paths": {"/a": {"post": {
                "requestBody": {"content": {"application/json": {"schema": {"$ref": "#/components/schemas/A"}}}},
                "responses": {"200": {"$ref": "#/components/schemas/R"}}
            }}},
            "components": {"schemas": {
                "A": {"type": "object", "properties": {"b": {"$ref": "#/components/schemas/B"}}},
                "B": {"oneOf": [{"type": "object", "properties": {"again": {"$ref": "#/components/schemas/A"}}}]},
                "R": {"type": "object", "properties": {}}
            }}
        });
        close_requests(&mut document);
        let schemas = &document["components"]["schemas"];
        assert_eq!(schemas["A"]["additionalProperties"], false);
        assert_eq!(schemas["B"]["oneOf"][0]["additionalProperties"], false);
        assert!(schemas["R"].get("additionalProperties").is_none());
    }

    #[test]
    fn verify_a_property_named_properties_is_no_schema_keyword() {
        let mut schema = json!({"type": "object", "properties": {"properties": {"type": "string"}}});
        close(&mut schema);
        let expected = json!({
            "type": "object", "properties": {"properties": {"type": "string"}}, "additionalProperties": false
        });
        assert_eq!(schema, expected);
    }
}
