//! Formats of answers, and the parameters of addresses.

use ramwright_api::problem::ProblemCode;
use ramwright_tests::{Service, examples};
use serde_json::json;

pub(crate) async fn verify_tables_have_their_units_in_the_head(service: &'static Service) {
    let heads = [
        ("/v1/load-shares", ["greatest_kN", "greatest_lbf"]),
        ("/v1/ram-sets/size", ["stroke_mm", "stroke_in"]),
        ("/v1/ram-sets/verify", ["demand_unit", "demand_unit"]),
        ("/v1/packing-lifts/sequence", ["soffit_expected_mm", "soffit_expected_in"]),
        ("/v1/circuits/assess", ["limit_unit", "limit_unit"]),
        ("/v1/lift-plans", ["limit_unit", "limit_unit"]),
    ];
    for (path, columns) in heads {
        for (units, column) in ["metric", "us"].into_iter().zip(columns) {
            let mut body = examples::of(path);
            body["units"] = json!(units);
            let reply = service.post(&format!("{path}?format=csv"), &body).await;
            assert_eq!(reply.header("content-type"), "text/csv; charset=utf-8; header=present", "{path}");
            let text = reply.text();
            assert!(text.ends_with("\r\n") && !text.starts_with('\u{feff}'), "{path}");
            let head: Vec<&str> = text.lines().next().unwrap().split(',').collect();
            assert!(head.contains(&column), "{path}: {column} in {head:?}");
            assert!(1 < text.lines().count(), "{path}");
            let widths: Vec<usize> = text.lines().map(width).collect();
            assert!(widths.iter().all(|width| *width == head.len()), "{path}: {widths:?}");
        }
    }
}

/// How many cells a line of CSV has; a comma between quotes separates none.
fn width(line: &str) -> usize {
    let outside = line.split('"').step_by(2);
    1 + outside.map(|part| part.matches(',').count()).sum::<usize>()
}

pub(crate) async fn verify_the_parameter_wins_over_the_header(service: &'static Service) {
    let (path, body) = ("/v1/load-shares", examples::of("/v1/load-shares").to_string());
    for (query, accept, media_type) in [
        ("", "*/*", "application/json"),
        ("", "text/csv", "text/csv"),
        ("", "application/json;q=0.2, text/csv;q=0.9", "text/csv"),
        ("", "text/html, text/*;q=0.5", "text/csv"),
        ("?format=json", "text/csv", "application/json"),
        ("?format=csv", "application/json", "text/csv"),
        ("?format=csv", "image/png", "text/csv"),
    ] {
        let headers = [("content-type", "application/json"), ("accept", accept)];
        let reply = service.send("POST", &format!("{path}{query}"), &headers, body.clone()).await;
        assert_eq!((reply.status, reply.media_type().as_str()), (200, media_type), "{query} {accept}");
        assert!(reply.lists("vary", "accept"), "{query} {accept}");
    }
}

pub(crate) async fn verify_formats_that_do_not_exist_are_refused(service: &'static Service) {
    let body = examples::of("/v1/load-shares").to_string();
    let headers = [("content-type", "application/json"), ("accept", "image/png")];
    let reply = service.send("POST", "/v1/load-shares", &headers, body.clone()).await;
    let problem = reply.problem(406, ProblemCode::NotAcceptable);
    assert!(problem.detail.contains("json, csv"), "{}", problem.detail);
    let reply = service.post_bytes("/v1/load-shares?format=svg", body.clone()).await;
    reply.problem(406, ProblemCode::NotAcceptable);
    let faults = service.post_bytes("/v1/load-shares?format=cvs", body).await.faults(400);
    assert_eq!(faults, [("format".to_owned(), "unknown_value".to_owned())]);
    for path in
        ["/v1/units", "/v1/limits", "/v1/catalogues", "/v1/catalogues/demo_yard", "/openapi.json", "/openapi-3.0.json"]
    {
        service.get_with(path, &[("accept", "text/csv")]).await.problem(406, ProblemCode::NotAcceptable);
    }
}

pub(crate) async fn verify_lists_have_tables(service: &'static Service) {
    for (path, head) in [("/v1/basis", "check,title,formula,"), ("/v1/materials", "material,property,symbol,")] {
        let reply = service.get(&format!("{path}?format=csv")).await;
        assert!(reply.text().starts_with(head), "{path}");
        service.get_with(path, &[("accept", "image/png")]).await.problem(406, ProblemCode::NotAcceptable);
    }
}

pub(crate) async fn verify_unknown_and_double_parameters_are_refused(service: &'static Service) {
    for path in [
        "/v1/units",
        "/v1/limits",
        "/v1/basis",
        "/v1/materials",
        "/v1/catalogues",
        "/health/live",
        "/health/ready",
        "/openapi.json",
    ] {
        let faults = service.get(&format!("{path}?verbose=1")).await.faults(400);
        assert_eq!(faults, [("verbose".to_owned(), "unknown_field".to_owned())], "{path}");
    }
    let body = examples::of("/v1/load-shares").to_string();
    let reply = service.post_bytes("/v1/load-shares?fromat=csv", body.clone()).await;
    assert_eq!(reply.faults(400), [("fromat".to_owned(), "unknown_field".to_owned())]);
    assert_eq!(reply.json()["errors"][0]["nearest"], "format");
    let reply = service.post_bytes("/v1/load-shares?format=csv&format=json", body).await;
    assert_eq!(reply.faults(400), [("format".to_owned(), "duplicate_field".to_owned())]);
}
