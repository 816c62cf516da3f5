//! Pages for people, and the lists and health checks.

use std::collections::BTreeSet;

use ramwright_api::problem::{FaultCode, ProblemCode};
use ramwright_tests::{Service, examples};
use serde_json::json;

/// The addresses that a page loads or links to.
fn addresses(html: &str) -> BTreeSet<&str> {
    let starts = ["href=\"", "src=\""]
        .into_iter()
        .flat_map(|start| html.match_indices(start).map(move |(at, _)| at + start.len()));
    starts.map(|at| html[at..].split('"').next().unwrap()).collect()
}

/// Where a relative address on a page leads.
fn resolved(page: &str, address: &str) -> String {
    let base = reqwest::Url::parse("http://service.test").unwrap().join(page).unwrap();
    let target = base.join(address).unwrap();
    assert_eq!(target.host_str(), Some("service.test"), "{page} leads elsewhere: {address}");
    target.path().to_owned()
}

pub(crate) async fn verify_pages_need_nothing_from_elsewhere(service: &'static Service) {
    let mut pages = vec!["/".to_owned(), "/docs".to_owned(), "/problems".to_owned()];
    pages.extend(ProblemCode::ALL.iter().map(|code| code.type_uri()));
    let mut loaded = BTreeSet::new();
    for page in &pages {
        let reply = service.get(page).await;
        assert_eq!((reply.status, reply.media_type().as_str()), (200, "text/html"), "{page}");
        let policy = reply.header("content-security-policy");
        assert!(policy.starts_with("default-src 'none'") && policy.contains("frame-ancestors 'none'"), "{page}");
        assert!(!policy.contains("unsafe") && !policy.contains("http"), "{page}: {policy}");
        let html = reply.text();
        assert!(!html.contains("http://") && !html.contains("https://") && !html.contains("\"//"), "{page}");
        assert!(!html.contains("<script>") && !html.contains(" style=") && !html.contains("onclick"), "{page}");
        loaded.extend(addresses(html).into_iter().map(|address| resolved(page, address)));
    }
    assert!(loaded.contains("/assets/swagger-ui-bundle.js") && loaded.contains("/openapi.json"), "{loaded:?}");
    for address in &loaded {
        assert_eq!(service.get(address).await.status, 200, "{address}");
    }
    let script = service.get("/assets/docs.js").await;
    assert_eq!(script.media_type(), "text/javascript");
    assert!(!script.text().contains("http"), "the description is asked from the service itself");
    for style in ["/assets/page.css", "/assets/swagger-ui.css"] {
        let sheet = service.get(style).await;
        assert_eq!(sheet.media_type(), "text/css");
        let text = sheet.text();
        assert!(!text.contains("url(http") && !text.contains("url(//") && !text.contains("@import"), "{style}");
    }
    let packed = service.get_with("/assets/swagger-ui-bundle.js", &[("accept-encoding", "gzip")]).await;
    assert_eq!(packed.header("content-encoding"), "gzip");
    assert!(packed.body.len() < service.get("/assets/swagger-ui-bundle.js").await.body.len());
}

pub(crate) async fn verify_the_portal_is_one_script(service: &'static Service) {
    let page = service.get("/").await;
    assert!(page.text().contains("<script type=\"module\" src=\"portal.js\"></script>"));
    assert!(page.text().contains("<ramwright-lift ") && page.text().contains("<noscript>"));
    let policy = page.header("content-security-policy");
    assert!(policy.contains("script-src 'self'") && policy.contains("trusted-types 'none'"), "{policy}");
    let script = service.get("/portal.js").await;
    assert_eq!(script.media_type(), "text/javascript");
    let text = script.text();
    assert!(text.contains("customElements.define(\"ramwright-lift\""));
    // The one address in it is the name of a drawing's elements, which nobody calls.
    assert_eq!(text.replace("\"http://www.w3.org/2000/svg\"", "").matches("://").count(), 0);
    for forbidden in ["innerHTML", "insertAdjacent", "document.write", "eval(", "new Function", "import(", ".cssText"] {
        assert!(!text.contains(forbidden), "{forbidden}");
    }
    let names = ["transformer", "bedplate", "link_press", "hub_pull", "plate_bending"];
    let committed = examples::CALCULATIONS.iter().filter(|(path, _)| *path == "/v1/lift-plans").map(|(_, text)| *text);
    for (name, committed) in names.into_iter().zip(committed) {
        let reply = service.get(&format!("/examples/{name}.json")).await;
        assert_eq!((reply.media_type().as_str(), reply.text()), ("application/json", committed), "{name}");
    }
    assert!(service.get("/examples/transfromer.json").await.text().contains("transformer.json"));
    assert_eq!(service.get("/examples/transformer").await.status, 404);
}

pub(crate) async fn verify_every_problem_has_its_help(service: &'static Service) {
    let listed = service.description.schema("ProblemCode")["enum"].as_array().unwrap();
    assert_eq!(listed.len(), ProblemCode::ALL.len());
    for code in listed {
        let code = code.as_str().unwrap();
        let page = service.get(&format!("/problems/{code}")).await;
        let title = ProblemCode::from_wire(code).unwrap().title();
        assert!(page.status == 200 && page.text().contains(code) && page.text().contains(title), "{code}");
        assert!(service.get("/problems").await.text().contains(&format!("\"problems/{code}\"")), "{code}");
    }
    let faults = service.get("/problems/invalid_request").await;
    for code in service.description.schema("FaultCode")["enum"].as_array().unwrap() {
        assert!(faults.text().contains(&format!("<code>{}</code>", code.as_str().unwrap())), "{code}");
    }
    assert_eq!(service.description.schema("FaultCode")["enum"].as_array().unwrap().len(), FaultCode::ALL.len());
}

pub(crate) async fn verify_health_and_lists_are_answered(service: &'static Service) {
    assert_eq!(service.get("/health/live").await.answer()["status"], "alive");
    assert_eq!(service.get("/health/ready").await.answer()["status"], "ready");
    let units = service.get("/v1/units").await.answer();
    let units = units["units"].as_array().unwrap();
    assert!(units.iter().any(|unit| unit["symbol"] == "ton_us" && unit["ucum"] == "[ston_av]"));
    assert!(units.iter().all(|unit| unit["symbol"] != "ton"), "which of the three would it be?");
    let catalogues = service.get("/v1/catalogues").await.answer();
    for entry in catalogues["catalogues"].as_array().unwrap() {
        let name = entry["name"].as_str().unwrap();
        let catalogue = service.get(&format!("/v1/catalogues/{name}")).await.answer();
        assert_eq!(catalogue["digest"], entry["digest"], "{name}");
        assert!(catalogue.to_string().contains("nvented"), "{name} says where it is from");
    }
    let mut files = examples::catalogue();
    assert_eq!(service.post("/v1/catalogues/check", &files).await.answer()["acceptable"], true);
    files["rams_csv"] = json!("id,nonsense\n");
    let checked = service.post("/v1/catalogues/check", &files).await.answer();
    assert_eq!(checked["acceptable"], false);
    assert!(!checked["faults"].as_array().unwrap().is_empty());
    let faults = service.post("/v1/catalogues/check", &json!({"rams": ""})).await.faults(400);
    assert_eq!(faults, [("#/rams".to_owned(), "unknown_field".to_owned())]);
}

pub(crate) async fn verify_known_values_come_out_on_this_server(service: &'static Service) {
    let verification = service.get("/v1/basis/verification").await.answer();
    assert_eq!(verification["holds"], true, "{verification}");
    let values = verification["values"].as_array().unwrap();
    assert!(12 <= values.len());
    for value in values {
        let number = |name: &str| value[name].as_f64().unwrap();
        assert!((number("computed") - number("reference")).abs() <= number("tolerance"), "{value}");
        assert!(value["source"].is_string() && value["standing"].is_string(), "{value}");
    }
    service.get("/v1/basis/verification?format=csv").await.faults(400);
}
