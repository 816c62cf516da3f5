//! The description in OpenAPI 3.0.3 and JSON only, for client generators that read no more.
//!
//! 3.0 has its own dialect of JSON Schema: no lists of types, no `null` type, no `const`, no `$ref` with neighbours,
//! and bounds that are exclusive by a flag. Where a request may be sent as text or as an object, only the object
//! stays, since generators make nothing good of an untagged choice.

use serde_json::{Map, Value, json};

/// Converts a 3.1 document.
pub(super) fn to_3_0(mut document: Value) -> Value {
    if let Some(members) = document.as_object_mut() {
        members.insert("openapi".to_owned(), json!("3.0.3"));
        members.remove("jsonSchemaDialect");
    }
    if let Some(license) = document.pointer_mut("/info/license").and_then(Value::as_object_mut) {
        license.remove("identifier");
    }
    if let Some(paths) = document.get_mut("paths").and_then(Value::as_object_mut) {
        paths.retain(|_, item| keep_json_operations(item));
    }
    for place in ["/paths", "/components"] {
        if let Some(part) = document.pointer_mut(place) {
            convert(part);
        }
    }
    document
}

/// Drops from an item what answers no JSON; false if nothing is left.
fn keep_json_operations(item: &mut Value) -> bool {
    let Some(operations) = item.as_object_mut() else { return false };
    operations.retain(|_, operation| {
        json_only(operation);
        operation.pointer("/responses/200/content/application~1json").is_some()
    });
    !operations.is_empty()
}

/// The parameters that choose another form of the answer than JSON.
const FORM_PARAMETERS: [&str; 9] =
    ["format", "value", "errors", "view", "theme", "paper", "decimal", "dialect", "point"];

/// Leaves one media type for each body, and no choice of format.
fn json_only(operation: &mut Value) {
    if let Some(parameters) = operation.get_mut("parameters").and_then(Value::as_array_mut) {
        parameters.retain(|parameter| {
            let name = parameter.get("name").and_then(Value::as_str);
            name.is_none_or(|name| !FORM_PARAMETERS.contains(&name))
        });
    }
    if let Some(content) = operation.pointer_mut("/requestBody/content") {
        one_media_type(content);
    }
    let responses = operation.get_mut("responses").and_then(Value::as_object_mut);
    for response in responses.into_iter().flat_map(Map::values_mut) {
        if let Some(content) = response.get_mut("content") {
            one_media_type(content);
        }
    }
}

fn one_media_type(content: &mut Value) {
    if let Some(types) = content.as_object_mut() {
        types.retain(|name, _| name == "application/json" || name == "application/problem+json");
    }
}

/// Converts every schema in a value.
fn convert(value: &mut Value) {
    match value {
        Value::Object(members) => {
            for (name, member) in members.iter_mut() {
                match name.as_str() {
                    // Plain data, however much it may look like a schema.
                    "example" | "examples" | "default" | "enum" => {}
                    // Names of fields, not keywords.
                    "properties" => member.as_object_mut().into_iter().flat_map(Map::values_mut).for_each(convert),
                    _ => convert(member),
                }
            }
            convert_schema(members);
        }
        Value::Array(items) => items.iter_mut().for_each(convert),
        _ => {}
    }
}

fn convert_schema(schema: &mut Map<String, Value>) {
    convert_types(schema);
    convert_choice(schema);
    convert_bounds(schema);
    if let Some(constant) = schema.remove("const") {
        schema.insert("enum".to_owned(), json!([constant]));
    }
    if let Some(Value::Array(examples)) = schema.get("examples") {
        let first = examples.first().cloned();
        schema.remove("examples");
        if let Some(first) = first {
            schema.insert("example".to_owned(), first);
        }
    }
    for absent in ["propertyNames", "contentEncoding", "contentMediaType", "$comment", "prefixItems"] {
        schema.remove(absent);
    }
    wrap_reference(schema);
}

/// `["string", "null"]` becomes a nullable string.
fn convert_types(schema: &mut Map<String, Value>) {
    let Some(Value::Array(types)) = schema.get("type") else { return };
    let others: Vec<Value> = types.iter().filter(|one| *one != "null").cloned().collect();
    let nullable = others.len() < types.len();
    match others.as_slice() {
        [only] => {
            schema.insert("type".to_owned(), only.clone());
        }
        several => {
            let choice: Vec<Value> = several.iter().map(|one| json!({"type": one})).collect();
            schema.remove("type");
            schema.insert("anyOf".to_owned(), Value::Array(choice));
        }
    }
    if nullable {
        schema.insert("nullable".to_owned(), Value::Bool(true));
    }
}

/// Takes `null` and text beside an object out of a choice, and the choice away where one alternative is left.
fn convert_choice(schema: &mut Map<String, Value>) {
    for keyword in ["oneOf", "anyOf"] {
        let Some(Value::Array(alternatives)) = schema.get_mut(keyword) else { continue };
        let all = alternatives.len();
        alternatives.retain(|one| !is_null(one));
        let nullable = alternatives.len() < all;
        if alternatives.iter().any(is_object) {
            alternatives.retain(|one| !is_free_text(one));
        }
        if let [only] = alternatives.as_slice() {
            let only = only.clone();
            schema.remove(keyword);
            absorb(schema, only);
        }
        if nullable {
            schema.insert("nullable".to_owned(), Value::Bool(true));
        }
    }
}

fn is_null(schema: &Value) -> bool {
    // An alternative that was already converted has lost its type and kept the flag.
    schema.get("type").is_some_and(|one| one == "null")
}

fn is_object(schema: &Value) -> bool {
    schema.get("$ref").is_some() || schema.get("type").is_some_and(|one| one == "object")
}

fn is_free_text(schema: &Value) -> bool {
    schema.get("type").is_some_and(|one| one == "string") && schema.get("enum").is_none()
}

/// Puts the only alternative in the place of the choice; what stood beside the choice stays.
fn absorb(schema: &mut Map<String, Value>, only: Value) {
    if let Value::Object(members) = only {
        for (name, member) in members {
            schema.entry(name).or_insert(member);
        }
    }
}

fn convert_bounds(schema: &mut Map<String, Value>) {
    for (exclusive, inclusive) in [("exclusiveMinimum", "minimum"), ("exclusiveMaximum", "maximum")] {
        if let Some(bound @ Value::Number(_)) = schema.get(exclusive).cloned() {
            schema.insert(inclusive.to_owned(), bound);
            schema.insert(exclusive.to_owned(), Value::Bool(true));
        }
    }
}

/// 3.0 ignores what stands beside `$ref`, so the reference goes into an `allOf`.
fn wrap_reference(schema: &mut Map<String, Value>) {
    if 1 < schema.len()
        && let Some(reference @ Value::String(_)) = schema.get("$ref").cloned()
    {
        schema.remove("$ref");
        schema.insert("allOf".to_owned(), json!([{"$ref": reference}]));
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[track_caller]
    fn check(before: Value, after: &Value) {
        let mut converted = before;
        convert(&mut converted);
        assert_eq!(&converted, after);
    }

    #[test]
    fn verify_nullable() {
        check(json!({"type": ["string", "null"]}), &json!({"type": "string", "nullable": true}));
        check(
            json!({"oneOf": [{"type": "null"}, {"$ref": "#/a"}], "description": "d"}),
            &json!({"allOf": [{"$ref": "#/a"}], "description": "d", "nullable": true}),
        );
    }

    #[test]
    fn verify_bounds_constants_and_examples() {
        check(json!({"exclusiveMinimum": 0}), &json!({"minimum": 0, "exclusiveMinimum": true}));
        check(json!({"const": "a"}), &json!({"enum": ["a"]}));
        check(json!({"type": "string", "examples": ["x", "y"]}), &json!({"type": "string", "example": "x"}));
    }

    #[test]
    fn verify_text_or_object_becomes_the_object() {
        check(
            json!({"oneOf": [{"type": "string"}, {"type": "object", "properties": {"unit": {"type": "string"}}}]}),
            &json!({"type": "object", "properties": {"unit": {"type": "string"}}}),
        );
    }

    #[test]
    fn verify_a_field_named_like_a_keyword_is_left_alone() {
        let schema = json!({"type": "object", "properties": {"const": {"type": "string"}, "type": {"type": "string"}}});
        check(schema.clone(), &schema);
    }

    #[test]
    fn verify_examples_of_a_media_type_are_left_alone() {
        let media_type = json!({"examples": {"one": {"value": {"const": 1}}}});
        check(media_type.clone(), &media_type);
    }

    #[test]
    fn verify_only_json_operations_stay() {
        let document = json!({
            "openapi": "3.1.0", "info": {"license": {"name": "x", "identifier": "x"}},
            "paths": {
                "/table": {"get": {
                    "parameters": [{"name": "format", "in": "query"}, {"name": "id", "in": "path"}],
                    "responses": {"200": {"content": {"application/json": {}, "text/csv": {}}}}
                }},
                "/page": {"get": {"responses": {"200": {"content": {"text/html": {}}}}}}
            },
            "components": {}
        });
        let converted = to_3_0(document);
        assert_eq!(converted["openapi"], "3.0.3");
        assert!(converted["paths"].get("/page").is_none());
        let operation = &converted["paths"]["/table"]["get"];
        assert_eq!(operation["parameters"], json!([{"name": "id", "in": "path"}]));
        assert_eq!(operation["responses"]["200"]["content"], json!({"application/json": {}}));
    }
}
