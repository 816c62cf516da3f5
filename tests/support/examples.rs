//! The example requests that the description shows, as the starting point of tests.

use serde_json::Value;

/// Path and body of each calculation's examples.
pub const CALCULATIONS: &[(&str, &str)] = &[
    ("/v1/load-shares", include_str!("../../openapi/examples/load_shares.json")),
    ("/v1/load-shares", include_str!("../../openapi/examples/four_points.json")),
    ("/v1/load-shares", include_str!("../../openapi/examples/four_points_linked.json")),
    ("/v1/load-shares", include_str!("../../openapi/examples/girder.json")),
    ("/v1/load-shares", include_str!("../../openapi/examples/weighed_parts.json")),
    ("/v1/ram-sets/size", include_str!("../../openapi/examples/size.json")),
    ("/v1/ram-sets/verify", include_str!("../../openapi/examples/verify.json")),
    ("/v1/ram-sets/verify", include_str!("../../openapi/examples/site_readings.json")),
    ("/v1/packing-lifts/sequence", include_str!("../../openapi/examples/sequence.json")),
    ("/v1/packing-lifts/sequence", include_str!("../../openapi/examples/two_levels.json")),
    ("/v1/packing-lifts/sequence", include_str!("../../openapi/examples/end_by_end.json")),
    ("/v1/packing-lifts/sequence", include_str!("../../openapi/examples/lower_to_skids.json")),
    ("/v1/circuits/assess", include_str!("../../openapi/examples/circuit.json")),
    ("/v1/lift-plans", include_str!("../../openapi/examples/transformer.json")),
    ("/v1/lift-plans", include_str!("../../openapi/examples/bedplate.json")),
    ("/v1/lift-plans", include_str!("../../openapi/examples/link_press.json")),
    ("/v1/lift-plans", include_str!("../../openapi/examples/hub_pull.json")),
    ("/v1/lift-plans", include_str!("../../openapi/examples/plate_bending.json")),
];

/// Fewer than all, since each further kind makes a search longer, and a search over all rams is many of them.
const FEW_PIECES: [&str; 4] = ["slate-03", "slate-04", "slate-06", "slate-07"];

/// Path and body of each calculation's examples; that of the search with so few packing pieces that it is answered fast.
pub fn quick() -> Vec<(&'static str, Value)> {
    let read = |(path, text): &(&'static str, &str)| {
        let mut body: Value = serde_json::from_str(text).expect("an example is JSON");
        if *path == "/v1/ram-sets/size" {
            body["settings"]["packing"] = FEW_PIECES.into();
        }
        (*path, body)
    };
    CALCULATIONS.iter().map(read).collect()
}

/// One quick example of a calculation.
pub fn of(path: &str) -> Value {
    let all = quick().into_iter();
    all.into_iter().find(|(own, _)| *own == path).map(|(_, body)| body).expect("every calculation has an example")
}

/// The example of a saved answer.
pub fn saved_answer() -> Value {
    serde_json::from_str(include_str!("../../openapi/examples/replay.json")).expect("an example is JSON")
}

/// The example of a catalogue's check.
pub fn catalogue() -> Value {
    let text = include_str!("../../openapi/examples/catalogue_check.json");
    serde_json::from_str(text).expect("an example is JSON")
}
