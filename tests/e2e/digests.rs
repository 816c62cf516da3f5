//! Digests, permalinks, and that an answer depends on its request alone.

use std::fmt::Write;

use ramwright_api::problem::ProblemCode;
use ramwright_tests::edit::{as_object, each_quantity, reversed};
use ramwright_tests::{Reply, Service, examples};
use serde_json::{Value, json};

pub(crate) async fn verify_spelling_and_order_do_not_change_the_digest(service: &'static Service) {
    let mut digests = Vec::new();
    for weight in [
        json!("212 t"),
        json!("212t"),
        json!(" 212.0 t "),
        json!({"value": 212, "unit": "t"}),
        json!({"unit": "t", "value": 2.12e2}),
    ] {
        let mut body = examples::of("/v1/load-shares");
        body["load_case"]["weight"] = weight;
        digests.push(service.post("/v1/load-shares", &body).await.answer()["request_digest"].clone());
        // A field that is null is one that was not sent.
        body["load_case"]["horizontal_share"] = Value::Null;
        let backwards = service.post_bytes("/v1/load-shares", reversed(&body)).await;
        digests.push(backwards.answer()["request_digest"].clone());
    }
    assert!(digests.iter().all(|digest| *digest == digests[0]), "{digests:?}");
    for (path, body) in examples::quick() {
        let mut objects = body.clone();
        // A title that reads like a quantity stays a text: none of the examples has one.
        each_quantity(&mut objects["load_case"], &as_object);
        each_quantity(&mut objects["settings"], &as_object);
        if objects["settings"].is_null() {
            objects.as_object_mut().unwrap().remove("settings");
        }
        let (text, object) = (service.post(path, &body).await, service.post(path, &objects).await);
        assert_eq!(text.answer()["request_digest"], object.answer()["request_digest"], "{path}");
        assert_eq!(text.body, object.body, "{path}");
    }
    let mut other = examples::of("/v1/load-shares");
    other["load_case"]["weight"] = json!("213 t");
    assert_ne!(service.post("/v1/load-shares", &other).await.answer()["request_digest"], digests[0]);
}

pub(crate) async fn verify_the_same_request_gives_the_same_bytes(service: &'static Service) {
    for (path, body) in examples::quick() {
        let (first, second) = tokio::join!(service.post(path, &body), service.post(path, &body));
        assert_eq!(first.answer(), second.answer(), "{path}");
        assert_eq!(first.body, second.body, "{path}");
    }
}

pub(crate) async fn verify_a_permalink_gives_the_same_answer(service: &'static Service) {
    for (path, body) in examples::quick() {
        let posted = service.post(path, &body).await;
        let permalink = permalink(&posted);
        let got = service.get(&permalink).await;
        assert_eq!(got.answer()["result_digest"], posted.answer()["result_digest"], "{path}");
        assert_eq!(got.body, posted.body, "{path}");
        let table = service.get(&format!("{permalink}?format=csv")).await;
        assert_eq!(table.media_type(), "text/csv", "{path}");
        assert_eq!(table.body, service.post(&format!("{path}?format=csv"), &body).await.body, "{path}");
    }
}

fn permalink(reply: &Reply) -> String {
    reply.answer()["permalink"].as_str().expect("a short request has a permalink").to_owned()
}

async fn example_link(service: &Service) -> String {
    permalink(&service.post("/v1/load-shares", &examples::of("/v1/load-shares")).await)
}

pub(crate) async fn verify_a_permalink_is_not_computed_again_for_who_has_the_answer(service: &'static Service) {
    let link = example_link(service).await;
    let got = service.get(&link).await;
    let tag = got.header("etag").to_owned();
    assert!(tag.starts_with("W/\""), "{tag}");
    assert_eq!(got.header("cache-control"), "private, no-cache");
    for known in [tag.clone(), format!("\"x\", {tag}"), tag.trim_start_matches("W/").to_owned()] {
        let again = service.get_with(&link, &[("if-none-match", &known)]).await;
        assert_eq!((again.status, again.body.len(), again.header("etag")), (304, 0, tag.as_str()), "{known}");
    }
    assert_eq!(service.get_with(&link, &[("if-none-match", "W/\"x\"")]).await.status, 200);
    // The same answer in another format is another.
    let table = service.get_with(&format!("{link}?format=csv"), &[("if-none-match", &tag)]).await;
    assert_eq!(table.status, 200);
    assert_ne!(table.header("etag"), tag);
}

pub(crate) async fn verify_head_of_a_permalink_is_as_get_without_a_body(service: &'static Service) {
    let link = example_link(service).await;
    let got = service.get(&link).await;
    let head = service.send("HEAD", &link, &[], Vec::new()).await;
    assert_eq!((head.status, head.body.len()), (200, 0));
    for name in ["content-type", "etag", "cache-control"] {
        assert_eq!(head.header(name), got.header(name), "{name}");
    }
    assert!(["", got.header("content-length")].contains(&head.header("content-length")));
    let bad = service.send("HEAD", "/v1/load-shares/AAAA", &[], Vec::new()).await;
    assert_eq!((bad.status, bad.header("problem-code")), (404, "invalid_permalink"));
}

pub(crate) async fn verify_a_permalink_that_cannot_be_read_is_a_problem(service: &'static Service) {
    let mut paths: Vec<&str> = examples::CALCULATIONS.iter().map(|(path, _)| *path).collect();
    paths.dedup();
    for path in paths {
        let link = permalink(&service.post(path, &examples::of(path)).await);
        // Cut short, changed on the way, never packed here.
        for broken in [&link[..link.len() - 9], &format!("{link}AAAA"), &format!("{path}/AAAA"), &format!("{path}/%20")]
        {
            let reply = service.get(broken).await;
            let told = (reply.status, reply.header("problem-code"));
            // Something behind the packed request changes nothing that is read.
            let whole = *broken == format!("{link}AAAA") && told.0 == 200;
            assert!(
                whole || [(404, "invalid_permalink"), (400, "malformed_json")].contains(&told),
                "{broken}: {told:?}"
            );
        }
        service.get(&format!("{path}/AAAA")).await.problem(404, ProblemCode::InvalidPermalink);
    }
    // A request that was packed is judged like one that was sent.
    let shares = example_link(service).await;
    let elsewhere = shares.replace("/v1/load-shares/", "/v1/circuits/assess/");
    let faults = service.get(&elsewhere).await.faults(400);
    assert!(faults.contains(&("#/circuit".to_owned(), "missing_field".to_owned())), "{faults:?}");
}

pub(crate) async fn verify_a_request_too_long_for_an_address_says_so(service: &'static Service) {
    let mut body = json!({"load_case": {"weight": "100 t", "travel": "10 mm", "points": []}});
    // Ids that do not pack well, by a multiplicative generator.
    let mut state: u64 = 1;
    let points = (0..200).map(|_| {
        let mut id = String::new();
        for _ in 0..4 {
            state = state.wrapping_mul(6_364_136_223_846_793_005).wrapping_add(1_442_695_040_888_963_407);
            let _ = write!(id, "{state:016x}");
        }
        json!({ "id": id })
    });
    body["load_case"]["points"] = points.collect();
    let answer = service.post("/v1/load-shares", &body).await.answer();
    assert_eq!(answer["permalink"], Value::Null);
    assert!(answer["permalink_note"].as_str().unwrap().contains("8192 bytes"));
}
