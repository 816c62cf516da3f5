//! Saved answers computed again.

use ramwright_api::problem::ProblemCode;
use ramwright_api::replay::{Outcome, ReasonCode};
use ramwright_client::Client;
use ramwright_tests::{Service, examples};
use serde_json::{Value, json};

const PATH: &str = "/v1/replays";

/// An answer as it was sent, byte for byte.
async fn saved(service: &Service, path: &str, body: &Value) -> Vec<u8> {
    let reply = service.post(path, body).await;
    reply.answer();
    reply.body
}

async fn example(service: &Service) -> Value {
    serde_json::from_slice(&saved(service, "/v1/load-shares", &examples::of("/v1/load-shares")).await).unwrap()
}

pub(crate) async fn verify_every_example_replayed_is_the_same(service: &'static Service) {
    let mut largest = 0;
    for (path, mut body) in examples::quick() {
        for units in ["metric", "us"] {
            body["units"] = json!(units);
            let saved = saved(service, path, &body).await;
            largest = largest.max(saved.len());
            let replay = service.post_bytes(PATH, saved).await;
            assert_eq!(replay.header("cache-control"), "no-store");
            let replay = replay.answer();
            assert_eq!(replay["outcome"], "same", "{path} in {units}: {replay}");
            assert_eq!(replay["result_same"], true, "{path} in {units}");
            assert_eq!((&replay["differences"], &replay["why"]), (&json!([]), &json!([])), "{path} in {units}");
            for check in ["saved_request_digest", "saved_result_digest"] {
                assert_eq!(replay[check]["status"], "holds", "{path} in {units}: {replay}");
            }
        }
    }
    let limit = service.get("/v1/limits").await.answer()["replay_bytes"].as_u64().unwrap();
    // Indented by a program an answer is some three times as long.
    assert!(3 * u64::try_from(largest).unwrap() < limit, "the largest answer has {largest} bytes");
}

pub(crate) async fn verify_the_example_of_a_replay_is_the_same(service: &'static Service) {
    let example = examples::saved_answer();
    let replay = service.post(PATH, &example).await.answer();
    assert_eq!(
        replay["outcome"], "same",
        "openapi/examples/replay.json is out of date; put what POST /v1/load-shares answers to its `request` there: {replay}"
    );
}

pub(crate) async fn verify_an_edited_answer_is_told_where(service: &'static Service) {
    let mut edited = example(service).await;
    edited["result"]["points"][2]["share"]["greatest"] = json!(1.0);
    let replay = service.post(PATH, &edited).await.answer();
    assert_eq!((&replay["outcome"], &replay["result_same"]), (&json!("differs"), &json!(false)));
    assert_eq!(replay["differences"][0]["pointer"], "#/result/points/2/share/greatest");
    assert_eq!(replay["differences"][0]["saved"], 1);
    assert_eq!(replay["differences"].as_array().unwrap().len(), 1);
    assert_eq!(replay["why"][0]["code"], "edited_result");
    // A request that is refused now is an answer, its places those in the saved answer.
    let mut refused = example(service).await;
    refused["request"]["load_case"]["wieght"] = json!("1 t");
    let replay = service.post(PATH, &refused).await.answer();
    assert_eq!(replay["outcome"], "refused");
    assert_eq!(replay["problem"]["errors"][0]["pointer"], "#/request/load_case/wieght");
}

pub(crate) async fn verify_what_is_no_answer_is_a_problem(service: &'static Service) {
    let asked = json!({"operation": "share_laod", "result": 1});
    let reply = service.post(PATH, &asked).await;
    let faults = reply.faults(400);
    let fault = |place: &str, code: &str| (place.to_owned(), code.to_owned());
    assert_eq!(
        faults,
        [fault("#/operation", "unknown_value"), fault("#/result", "wrong_type"), fault("#/request", "missing_field")]
    );
    assert_eq!(reply.json()["errors"][0]["nearest"], "share_load");
    let text = example(service).await.to_string();
    let cut = text.get(..text.len() / 2).unwrap();
    service.post_bytes(PATH, cut).await.problem(400, ProblemCode::MalformedJson);
    service.post_bytes(&format!("{PATH}?format=csv"), text).await.problem(400, ProblemCode::InvalidRequest);
}

pub(crate) async fn verify_a_saved_answer_may_be_larger_than_a_request(service: &'static Service) {
    let limits = service.get("/v1/limits").await.answer();
    let size = |name: &str| usize::try_from(limits[name].as_u64().unwrap()).unwrap();
    let text = example(service).await.to_string();
    let of_length = |length: usize| format!("{text}{}", " ".repeat(length - text.len()));
    assert!(size("body_bytes") < size("replay_bytes"));
    assert_eq!(service.post_bytes(PATH, of_length(size("replay_bytes"))).await.answer()["outcome"], "same");
    let larger = of_length(size("replay_bytes") + 1);
    service.post_bytes(PATH, larger).await.problem(413, ProblemCode::PayloadTooLarge);
    // The request inside may be no larger than one that is sent.
    let mut padded = example(service).await;
    padded["request"]["load_case"]["title"] = json!("x".repeat(size("body_bytes")));
    let replay = service.post(PATH, &padded).await.answer();
    assert_eq!((&replay["outcome"], &replay["problem"]["code"]), (&json!("refused"), &json!("payload_too_large")));
}

pub(crate) async fn verify_the_typed_client_replays(service: &'static Service) {
    let client = Client::new(&service.base_url()).unwrap();
    let mut saved = example(service).await;
    assert_eq!(client.replay(&saved).await.unwrap().outcome, Outcome::Same);
    saved["engine_version"] = json!("0.0.1");
    saved["mine"] = Value::Null;
    let replay = client.replay(&saved).await.unwrap();
    assert_eq!((replay.outcome, replay.result_same), (Outcome::Differs, Some(true)));
    assert_eq!(replay.why.iter().map(|reason| reason.code).collect::<Vec<_>>(), [ReasonCode::OtherEngineVersion]);
    // What was saved as `null` comes through as such, not as nothing.
    let mine = replay.differences.iter().find(|difference| difference.pointer == "#/mine").unwrap();
    assert_eq!((&mine.saved, &mine.now), (&Some(Value::Null), &None));
}
