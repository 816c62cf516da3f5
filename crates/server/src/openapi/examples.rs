//! The example requests that the description shows.

use serde_json::{Map, Value, json};

/// An operation, and an example request of it by the name of its file.
macro_rules! examples {
    ($($operation:literal: $($name:literal),+;)+) => {
        /// Operation, name of the example, and its text.
        const EXAMPLES: &[(&str, &str, &str)] = &[
            $($(($operation, $name, include_str!(concat!("../../../../openapi/examples/", $name, ".json"))),)+)+
        ];
    };
}

examples! {
    "share_load": "load_shares", "four_points", "four_points_linked", "girder", "weighed_parts";
    "size_ram_set": "size";
    "verify_ram_set": "verify", "site_readings";
    "sequence_packing_lifts": "sequence", "two_levels", "end_by_end", "lower_to_skids";
    "assess_circuit": "circuit";
    "plan_lift": "transformer", "bedplate", "link_press", "hub_pull", "plate_bending";
    "replay_answer": "replay";
    "check_catalogue": "catalogue_check";
}

/// Names of all examples.
pub(crate) fn names() -> impl Iterator<Item = &'static str> {
    EXAMPLES.iter().map(|(_, name, _)| *name)
}

/// The text of the example of this name.
pub(crate) fn text(name: &str) -> Option<&'static str> {
    EXAMPLES.iter().find(|(_, own, _)| *own == name).map(|(_, _, text)| *text)
}

/// Puts each example beside its operation's request.
///
/// # Errors
/// If an example is not JSON.
pub(super) fn add(document: &mut Value) -> Result<(), serde_json::Error> {
    for (operation, name, text) in EXAMPLES {
        let value: Value = serde_json::from_str(text)?;
        if let Some(media_type) = request_of(document, operation).and_then(Value::as_object_mut) {
            let examples = media_type.entry("examples").or_insert_with(|| json!({}));
            if let Some(examples) = examples.as_object_mut() {
                examples.insert((*name).to_owned(), json!({"value": value}));
            }
        }
    }
    Ok(())
}

/// The JSON request of the operation of this id.
fn request_of<'a>(document: &'a mut Value, id: &str) -> Option<&'a mut Value> {
    let paths = document.get_mut("paths")?.as_object_mut()?;
    let mut operations = paths.values_mut().filter_map(Value::as_object_mut).flat_map(Map::values_mut);
    let operation = operations.find(|operation| operation.get("operationId").is_some_and(|own| own == id))?;
    operation.pointer_mut("/requestBody/content/application~1json")
}
