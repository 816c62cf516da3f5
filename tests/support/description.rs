//! The operations that the service describes, found by the requests that reach them.

use std::collections::BTreeMap;

use serde_json::{Map, Value};

/// One operation of the description.
#[derive(Clone, Debug)]
pub struct Operation {
    /// Its id.
    pub id: String,
    /// The HTTP method in capitals.
    pub method: String,
    /// The path with its parameters in braces.
    pub path: String,
    /// Whether it answers with an engine's result.
    pub is_calculation: bool,
    /// Status of each described answer, with its media types.
    pub answers: BTreeMap<u16, Vec<String>>,
}

/// All operations of a description.
#[derive(Clone, Debug)]
pub struct Description {
    /// The document.
    pub document: Value,
    /// Its operations.
    pub operations: Vec<Operation>,
}

impl Description {
    /// Reads a document.
    pub fn new(document: Value) -> Self {
        let items = document["paths"].as_object().expect("a description has paths");
        let operations = items
            .iter()
            .flat_map(|(path, item)| item.as_object().into_iter().flatten().map(move |entry| (path, entry)))
            .map(|(path, (method, operation))| read(path, method, operation))
            .collect();
        Self { document, operations }
    }

    /// The operation that a request reaches, if the description has one.
    pub fn operation(&self, method: &str, path_and_query: &str) -> Option<&Operation> {
        let path = path_and_query.split('?').next().unwrap_or_default();
        let mut reached: Vec<&Operation> = self
            .operations
            .iter()
            .filter(|operation| operation.method == method && covers(&operation.path, path))
            .collect();
        // A path without parameters goes before one with them.
        reached.sort_by_key(|operation| operation.path.contains('{'));
        reached.first().copied()
    }

    /// The schema of this name.
    pub fn schema(&self, name: &str) -> &Value {
        &self.document["components"]["schemas"][name]
    }

    /// Follows a reference, and takes the one alternative of a choice that is not `null`.
    pub fn resolve<'a>(&'a self, schema: &'a Value) -> &'a Value {
        if let Some(target) = schema["$ref"].as_str() {
            let found = self.document.pointer(target.trim_start_matches('#'));
            return self.resolve(found.expect("a reference has its target"));
        }
        let alternatives = schema["oneOf"].as_array().into_iter().flatten();
        let mut values = alternatives.filter(|alternative| alternative["type"] != "null");
        match (values.next(), values.next()) {
            (Some(only), None) => self.resolve(only),
            _ => schema,
        }
    }

    /// Id of each operation that takes a JSON body, its path, and the schema of the body.
    pub fn requests(&self) -> impl Iterator<Item = (&Operation, &Value)> {
        self.operations.iter().filter_map(|operation| {
            let item = &self.document["paths"][&operation.path][operation.method.to_ascii_lowercase()];
            let schema = item.pointer("/requestBody/content/application~1json/schema")?;
            Some((operation, self.resolve(schema)))
        })
    }
}

fn read(path: &str, method: &str, operation: &Value) -> Operation {
    let answers = operation["responses"].as_object().expect("an operation has responses");
    let types = |answer: &Value| {
        let content = answer["content"].as_object().map(Map::keys);
        content.into_iter().flatten().cloned().collect()
    };
    Operation {
        id: operation["operationId"].as_str().expect("an operation has an id").to_owned(),
        method: method.to_ascii_uppercase(),
        path: path.to_owned(),
        is_calculation: operation["tags"][0] == "Calculations",
        answers: answers
            .iter()
            .map(|(status, answer)| (status.parse().expect("answers are listed by status"), types(answer)))
            .collect(),
    }
}

/// Whether a path is one of a template's.
fn covers(template: &str, path: &str) -> bool {
    let (mut wanted, mut given) = (template.split('/'), path.split('/'));
    loop {
        match (wanted.next(), given.next()) {
            (None, None) => return true,
            (Some(part), Some(text)) if part == text || (part.starts_with('{') && !text.is_empty()) => {}
            _ => return false,
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn verify_requests_find_their_operation() {
        let operation = |id: &str| serde_json::json!({"operationId": id, "responses": {"200": {"description": ""}}});
        let description = Description::new(serde_json::json!({"paths": {
            "/a/{name}": {"get": operation("one")},
            "/a/check": {"get": operation("check"), "post": operation("send")},
        }}));
        let found = |method, path| description.operation(method, path).map(|operation| operation.id.as_str());
        assert_eq!(found("GET", "/a/x?format=csv"), Some("one"));
        assert_eq!(found("GET", "/a/check"), Some("check"));
        assert_eq!(found("POST", "/a/check"), Some("send"));
        for (method, path) in [("POST", "/a/x"), ("GET", "/a"), ("GET", "/a/"), ("GET", "/a/x/y")] {
            assert_eq!(found(method, path), None, "{method} {path}");
        }
    }
}
