//! Every place of a request that a schema describes, and bodies that have a value just there.

use serde_json::{Map, Value};

use crate::description::Description;

/// A place of a request and the schema of what may stand there.
#[derive(Clone, Debug)]
pub struct Place<'a> {
    /// A JSON Pointer; of a list the first item.
    pub pointer: String,
    /// The schema, references followed.
    pub schema: &'a Value,
}

/// Every place that a schema describes, from the outside in.
pub fn places<'a>(description: &'a Description, schema: &'a Value) -> Vec<Place<'a>> {
    let mut found = Vec::new();
    walk(description, schema, String::new(), &mut found);
    found
}

fn walk<'a>(description: &'a Description, schema: &'a Value, pointer: String, found: &mut Vec<Place<'a>>) {
    let schema = description.resolve(schema);
    if let Some(properties) = schema["properties"].as_object() {
        for (name, property) in properties {
            walk(description, property, format!("{pointer}/{name}"), found);
        }
    }
    if let Some(items) = schema.get("items") {
        walk(description, items, format!("{pointer}/0"), found);
    }
    for alternative in schema["oneOf"].as_array().into_iter().flatten().filter(|one| one["type"] != "null") {
        walk(description, alternative, pointer.clone(), found);
    }
    found.push(Place { pointer, schema });
}

/// The body that has this value at this place, and nothing else.
pub fn body_with(pointer: &str, value: Value) -> Value {
    pointer.rsplit('/').filter(|part| !part.is_empty()).fold(value, |inner, part| match part {
        "0" => Value::Array(vec![inner]),
        name => Value::Object(Map::from_iter([(name.to_owned(), inner)])),
    })
}

#[cfg(test)]
mod tests {
    use super::*;
    use serde_json::json;

    #[test]
    fn verify_a_body_has_its_value_where_it_was_wanted() {
        let body = body_with("/a/0/b", json!(7));
        assert_eq!(body, json!({"a": [{"b": 7}]}));
        assert_eq!(body.pointer("/a/0/b"), Some(&json!(7)));
        assert_eq!(body_with("", json!({})), json!({}));
    }
}
