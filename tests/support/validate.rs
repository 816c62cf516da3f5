//! The part of JSON Schema that the description uses. Whatever else a schema says is a fault of the test, not ignored.

use serde_json::Value;

use crate::description::Description;

/// Say nothing about which values are valid, or (patterns) are told by the service itself.
const NOT_JUDGED: [&str; 9] =
    ["description", "format", "pattern", "x-range", "example", "examples", "default", "title", "deprecated"];

/// Where a value breaks its schema; empty if it keeps to it.
pub fn faults(description: &Description, schema: &Value, value: &Value) -> Vec<String> {
    let mut found = Vec::new();
    judge(description, schema, value, "", &mut found);
    found
}

fn judge(description: &Description, schema: &Value, value: &Value, at: &str, found: &mut Vec<String>) {
    if schema.as_bool() == Some(true) {
        return;
    }
    let keywords = schema.as_object().unwrap_or_else(|| panic!("{at}: no schema: {schema}"));
    for (keyword, wanted) in keywords {
        let keeps = match keyword.as_str() {
            "$ref" => {
                judge(description, resolved(description, wanted), value, at, found);
                true
            }
            "type" => has_type(wanted, value),
            "enum" => wanted.as_array().expect("a list").contains(value),
            "const" => wanted == value,
            "oneOf" => kept(description, wanted, value, at) == 1,
            "anyOf" => kept(description, wanted, value, at) >= 1,
            "allOf" => {
                let parts = wanted.as_array().expect("a list");
                for part in parts {
                    judge(description, part, value, at, found);
                }
                true
            }
            "minimum" => value.as_f64().is_none_or(|number| wanted.as_f64().expect("a number") <= number),
            "maximum" => value.as_f64().is_none_or(|number| number <= wanted.as_f64().expect("a number")),
            "minItems" => value.as_array().is_none_or(|items| count(wanted) <= items.len()),
            "maxItems" => value.as_array().is_none_or(|items| items.len() <= count(wanted)),
            "minLength" => value.as_str().is_none_or(|text| count(wanted) <= text.chars().count()),
            "maxLength" => value.as_str().is_none_or(|text| text.chars().count() <= count(wanted)),
            "required" => {
                let names = wanted.as_array().expect("a list").iter().map(|name| name.as_str().expect("a name"));
                value.as_object().is_none_or(|object| names.into_iter().all(|name| object.contains_key(name)))
            }
            "properties" | "additionalProperties" | "propertyNames" => true,
            "items" => {
                for (index, item) in value.as_array().into_iter().flatten().enumerate() {
                    judge(description, wanted, item, &format!("{at}/{index}"), found);
                }
                true
            }
            other if NOT_JUDGED.contains(&other) => true,
            other => panic!("{at}: the keyword {other} is not judged here"),
        };
        if !keeps {
            let shown: String = value.to_string().chars().take(80).collect();
            found.push(format!("{at}: {keyword} is broken by {shown}"));
        }
    }
    if let Value::Object(object) = value {
        for (name, member) in object {
            let place = format!("{at}/{name}");
            match (schema["properties"].get(name), schema.get("additionalProperties")) {
                (Some(property), _) => judge(description, property, member, &place, found),
                (None, Some(Value::Bool(false))) => found.push(format!("{place}: there is no such field")),
                (None, Some(other)) => judge(description, other, member, &place, found),
                (None, None) => {}
            }
        }
    }
}

fn resolved<'a>(description: &'a Description, reference: &Value) -> &'a Value {
    let pointer = reference.as_str().expect("a reference is a text").trim_start_matches('#');
    description.document.pointer(pointer).expect("a reference has its target")
}

/// How many of the alternatives a value keeps to.
fn kept(description: &Description, alternatives: &Value, value: &Value, at: &str) -> usize {
    let keeps = |schema: &&Value| {
        let mut found = Vec::new();
        judge(description, schema, value, at, &mut found);
        found.is_empty()
    };
    alternatives.as_array().expect("a list").iter().filter(keeps).count()
}

fn has_type(wanted: &Value, value: &Value) -> bool {
    match wanted {
        Value::Array(types) => types.iter().any(|one| has_type(one, value)),
        one => match one.as_str().expect("a type is a text") {
            "null" => value.is_null(),
            "boolean" => value.is_boolean(),
            "number" => value.is_number(),
            "integer" => value.as_f64().is_some_and(|number| number.fract().abs() <= 0.0),
            "string" => value.is_string(),
            "array" => value.is_array(),
            "object" => value.is_object(),
            other => panic!("the type {other} is not judged here"),
        },
    }
}

fn count(value: &Value) -> usize {
    usize::try_from(value.as_u64().expect("a count")).expect("a count")
}

#[cfg(test)]
mod tests {
    use super::*;
    use serde_json::json;

    fn number_of_faults(schema: &Value, value: &Value) -> usize {
        let description = Description::new(json!({
            "paths": {}, "components": {"schemas": {"Name": {"type": "string", "maxLength": 3}}}
        }));
        faults(&description, schema, value).len()
    }

    #[test]
    fn verify_values_are_judged_by_each_keyword() {
        let object = json!({
            "type": "object", "required": ["a"], "additionalProperties": false,
            "properties": {
                "a": {"oneOf": [{"$ref": "#/components/schemas/Name"}, {"type": "null"}]},
                "b": {"type": "array", "minItems": 1, "maxItems": 2, "items": {"type": "integer", "minimum": 0, "maximum": 9}},
                "c": {"enum": ["x", "y"]},
            }
        });
        for good in [json!({"a": null}), json!({"a": "abc", "b": [1, 2.0], "c": "x"})] {
            assert_eq!(number_of_faults(&object, &good), 0, "{good}");
        }
        for bad in [
            json!([]),
            json!({}),
            json!({"a": "abcd"}),
            json!({"a": null, "d": 1}),
            json!({"a": 1}),
            json!({"a": null, "b": []}),
            json!({"a": null, "b": [1, 2, 3]}),
            json!({"a": null, "b": [1.5]}),
            json!({"a": null, "b": [10]}),
            json!({"a": null, "c": "z"}),
        ] {
            assert_eq!(number_of_faults(&object, &bad), 1, "{bad}");
        }
    }
}
