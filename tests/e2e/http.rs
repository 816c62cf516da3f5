//! What a service owes every client of HTTP.

use std::io::Read;

use flate2::read::GzDecoder;
use ramwright_api::problem::ProblemCode;
use ramwright_server::Config;
use ramwright_server::config::{Origin, Origins};
use ramwright_tests::{Reply, Service, examples, socket};
use reqwest::header::HeaderValue;

pub(crate) async fn verify_addresses_and_methods_that_do_not_exist(service: &'static Service) {
    for path in ["/v1", "/v1/ramsets/size", "/v1/load-shares/", "/v2/load-shares", "/assets/none.js", "/%2e%2e/etc"] {
        service.get(path).await.problem(404, ProblemCode::NotFound);
    }
    service.get("/problems/invalid_requests").await.problem(404, ProblemCode::UnknownProblem);
    for operation in &service.description.operations {
        // A template is an address like any other.
        let path = operation.path.replace(['{', '}'], "");
        for method in ["DELETE", "PUT", "PATCH", "TRACE", "FROBNICATE"] {
            let reply = service.send(method, &path, &[], Vec::new()).await;
            reply.problem(405, ProblemCode::MethodNotAllowed);
            let allowed: Vec<&str> = reply.header("allow").split(',').map(str::trim).collect();
            assert!(allowed.contains(&operation.method.as_str()), "{method} {path}: {allowed:?}");
        }
        let options = service.send("OPTIONS", &path, &[], Vec::new()).await;
        assert!(options.status == 204 && options.header("allow").contains(&operation.method), "{path}");
    }
    for (path, _) in examples::CALCULATIONS {
        assert_eq!(service.get(path).await.problem(405, ProblemCode::MethodNotAllowed).errors, []);
    }
}

pub(crate) async fn verify_bodies_too_large_are_refused(_: &'static Service) {
    let limit = 4096;
    let service = Service::start_with(Config { body_limit_bytes: limit, ..Config::on_loopback() }).await;
    assert_eq!(service.get("/v1/limits").await.answer()["body_bytes"], limit);
    let mut body = examples::of("/v1/load-shares").to_string();
    body.push_str(&" ".repeat(limit - body.len()));
    service.post_bytes("/v1/load-shares", body.clone()).await.answer();
    body.push(' ');
    service.post_bytes("/v1/load-shares", body.clone()).await.problem(413, ProblemCode::PayloadTooLarge);
    service.post_bytes("/v1/catalogues/check", body.clone()).await.problem(413, ProblemCode::PayloadTooLarge);
    // In chunks, so that no length is announced; the last is never sent.
    let head = "POST /v1/load-shares HTTP/1.1\r\nHost: x\r\nContent-Type: application/json\r\nConnection: close\r\n\
                Transfer-Encoding: chunked\r\n\r\n";
    let answer = socket::exchange(service.address(), format!("{head}{:x}\r\n{body}\r\n", body.len()).as_bytes()).await;
    assert_eq!(socket::status(&answer), Some(413), "{answer}");
    assert!(answer.contains("problem-code: payload_too_large"), "{answer}");
    // A body that is announced too large is refused before it is sent.
    let head = "POST /v1/load-shares HTTP/1.1\r\nHost: x\r\nContent-Type: application/json\r\nConnection: close\r\n\
                Content-Length: 1000000000000\r\n\r\n";
    let answer = socket::exchange(service.address(), head.as_bytes()).await;
    assert_eq!(socket::status(&answer), Some(413), "{answer}");
    service.shutdown().await;
}

pub(crate) async fn verify_bodies_of_other_types_are_refused(service: &'static Service) {
    let body = examples::of("/v1/load-shares").to_string();
    for (headers, taken) in [
        (&[("content-type", "application/json; charset=utf-8")][..], true),
        (&[("content-type", "application/vnd.example+json")][..], true),
        (&[("content-type", "text/plain")][..], false),
        (&[("content-type", "application/x-www-form-urlencoded")][..], false),
        (&[("content-type", "application/json; charset=utf-16")][..], false),
        (&[("content-type", "application/json"), ("content-encoding", "gzip")][..], false),
        (&[][..], false),
    ] {
        let reply = service.send("POST", "/v1/load-shares", headers, body.clone()).await;
        if taken {
            reply.answer();
        } else {
            reply.problem(415, ProblemCode::UnsupportedMediaType);
        }
    }
}

pub(crate) async fn verify_the_request_id_is_echoed(service: &'static Service) {
    let with = |id: &'static str| async move { service.get_with("/v1/nothing", &[("x-request-id", id)]).await };
    assert_eq!(with("sheet-7.cell_B12").await.header("x-request-id"), "sheet-7.cell_B12");
    for unfit in ["a b", "<script>", "", "0123456789012345678901234567890123456789012345678901234567890123456789"] {
        let reply = with(unfit).await;
        assert_ne!(reply.header("x-request-id"), unfit);
        assert_eq!(reply.header("x-request-id").len(), 32);
    }
    assert_ne!(service.get("/").await.header("x-request-id"), service.get("/").await.header("x-request-id"));
}

const PORTAL: &str = "https://portal.example";

async fn from_origin(service: &Service, origin: &str) -> Reply {
    service.get_with("/v1/units", &[("origin", origin)]).await
}

async fn preflight(service: &Service, origin: &str) -> Reply {
    let headers = [
        ("origin", origin),
        ("access-control-request-method", "POST"),
        ("access-control-request-headers", "content-type"),
    ];
    service.send("OPTIONS", "/v1/lift-plans", &headers, Vec::new()).await
}

pub(crate) async fn verify_no_origin_may_read_unless_configured(service: &'static Service) {
    for reply in [from_origin(service, PORTAL).await, preflight(service, PORTAL).await] {
        assert!(reply.headers.keys().all(|name| !name.as_str().starts_with("access-control-")), "{:?}", reply.headers);
    }
}

pub(crate) async fn verify_configured_origins_may_read_and_others_not(_: &'static Service) {
    let origins = Origins(vec![Origin::Exactly(HeaderValue::from_static(PORTAL))]);
    let service = Service::start_with(Config { cors_origins: origins, ..Config::on_loopback() }).await;
    let allowed = from_origin(&service, PORTAL).await;
    assert_eq!(allowed.header("access-control-allow-origin"), PORTAL);
    assert!(allowed.lists("access-control-expose-headers", "problem-code"));
    assert!(allowed.lists("vary", "origin"));
    let asked = preflight(&service, PORTAL).await;
    assert_eq!(asked.header("access-control-allow-origin"), PORTAL);
    assert!(asked.header("access-control-allow-methods").contains("POST"));
    assert!(asked.header("access-control-allow-headers").contains("content-type"));
    assert_eq!(asked.header("access-control-allow-credentials"), "");
    for other in ["http://portal.example", "https://portal.example.evil", "https://PORTAL.example", "null"] {
        assert_eq!(from_origin(&service, other).await.header("access-control-allow-origin"), "", "{other}");
        assert_eq!(preflight(&service, other).await.header("access-control-allow-origin"), "", "{other}");
    }
    // A problem can be read by the portal as well.
    let problem = service.get_with("/v1/nothing", &[("origin", PORTAL)]).await;
    assert_eq!(problem.header("access-control-allow-origin"), PORTAL);
    service.shutdown().await;
    let any = Service::start_with(Config { cors_origins: Origins(vec![Origin::Any]), ..Config::on_loopback() }).await;
    assert_eq!(from_origin(&any, PORTAL).await.header("access-control-allow-origin"), "*");
    any.shutdown().await;
}

pub(crate) async fn verify_answers_are_compressed_for_who_takes_it(service: &'static Service) {
    let body = examples::of("/v1/ram-sets/verify").to_string();
    let ask = |coding: &'static str| {
        let headers = [("content-type", "application/json"), ("accept-encoding", coding)];
        let body = body.clone();
        async move { service.send("POST", "/v1/ram-sets/verify", &headers, body).await }
    };
    let plain = ask("identity").await;
    assert_eq!(plain.header("content-encoding"), "");
    let packed = ask("gzip").await;
    assert_eq!(packed.header("content-encoding"), "gzip");
    assert!(packed.body.len() * 4 < plain.body.len());
    assert!(packed.lists("vary", "accept-encoding"));
    let mut unpacked = Vec::new();
    GzDecoder::new(packed.body.as_slice()).read_to_end(&mut unpacked).unwrap();
    assert_eq!(unpacked, plain.body);
    assert_eq!(ask("br").await.header("content-encoding"), "br");
    assert_eq!(ask("zstd").await.header("content-encoding"), "");
}
