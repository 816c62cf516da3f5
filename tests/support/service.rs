//! A running service, and what it replies. Whatever must hold for every reply is asserted here, for every reply.

use std::time::{Duration, Instant};

use ramwright_api::problem::{MEDIA_TYPE, Problem, ProblemCode};
use ramwright_server::{Config, Running, spawn};
use reqwest::header::HeaderMap;
use reqwest::{Body, Method, Version};
use serde_json::Value;

use crate::description::Description;
use crate::{honest, record};

/// Longer than any answer in the suite may take on a busy machine.
const PATIENCE: Duration = Duration::from_mins(1);

/// A service on a free port of this machine.
#[derive(Debug)]
pub struct Service {
    running: Running,
    http: reqwest::Client,
    /// What the service says about itself.
    pub description: Description,
}

/// One reply, wholly read.
#[derive(Clone, Debug)]
pub struct Reply {
    /// The HTTP status.
    pub status: u16,
    /// The headers.
    pub headers: HeaderMap,
    /// The body.
    pub body: Vec<u8>,
    /// From sending to the last byte.
    pub took: Duration,
}

impl Service {
    /// Starts a service with the default settings of tests.
    pub async fn start() -> Self {
        Self::start_with(Config::on_loopback()).await
    }

    /// Starts a service with these settings.
    pub async fn start_with(config: Config) -> Self {
        let running = spawn(config).await.expect("the service starts");
        let http = reqwest::Client::builder()
            .timeout(PATIENCE)
            .redirect(reqwest::redirect::Policy::none())
            .no_proxy()
            .build()
            .expect("there is a client");
        let document = http.get(format!("{}/openapi.json", running.base_url())).send().await.expect("it answers");
        let document = document.bytes().await.expect("the description comes");
        let description = Description::new(serde_json::from_slice(&document).expect("the description is JSON"));
        Self { running, http, description }
    }

    /// The service's address, as `host:port`.
    pub fn address(&self) -> std::net::SocketAddr {
        self.running.address
    }

    /// The address as a URL without a slash at its end.
    pub fn base_url(&self) -> String {
        self.running.base_url()
    }

    /// Drains the service and waits for its end.
    pub async fn shutdown(self) {
        self.running.shutdown().await;
    }

    /// Gets an address.
    pub async fn get(&self, path: &str) -> Reply {
        self.send("GET", path, &[], Vec::new()).await
    }

    /// Gets an address with headers.
    pub async fn get_with(&self, path: &str, headers: &[(&str, &str)]) -> Reply {
        self.send("GET", path, headers, Vec::new()).await
    }

    /// Posts a JSON value.
    pub async fn post(&self, path: &str, body: &Value) -> Reply {
        self.post_bytes(path, body.to_string()).await
    }

    /// Posts bytes that are said to be JSON.
    pub async fn post_bytes(&self, path: &str, body: impl Into<Vec<u8>>) -> Reply {
        self.send("POST", path, &[("content-type", "application/json")], body.into()).await
    }

    /// Sends anything.
    pub async fn send(&self, method: &str, path: &str, headers: &[(&str, &str)], body: impl Into<Body>) -> Reply {
        let verb = Method::from_bytes(method.as_bytes()).expect("a method");
        let mut request = self.http.request(verb, format!("{}{path}", self.base_url())).version(Version::HTTP_11);
        for (name, value) in headers {
            request = request.header(*name, *value);
        }
        let begun = Instant::now();
        let response = request.body(body).send().await.unwrap_or_else(|error| panic!("{method} {path}: {error:?}"));
        let (status, headers) = (response.status().as_u16(), response.headers().clone());
        let body = response.bytes().await.expect("the body comes").to_vec();
        let reply = Reply { status, headers, body, took: begun.elapsed() };
        self.judge(method, path, &reply);
        reply
    }

    /// Counts the reply, and asserts what must hold for every one.
    fn judge(&self, method: &str, path: &str, reply: &Reply) {
        let place = format!("{method} {path}: {} {}", reply.status, String::from_utf8_lossy(&reply.body));
        assert!(!reply.header("x-request-id").is_empty(), "{place}: no request id");
        assert_eq!(reply.header("x-content-type-options"), "nosniff", "{place}");
        if reply.status >= 400 && method != "HEAD" {
            reply.assert_problem(&place);
        }
        let Some(operation) = self.description.operation(method, path) else { return };
        let media_type = reply.media_type();
        let described = operation.answers.get(&reply.status);
        let described = described.unwrap_or_else(|| panic!("{place}: this status is not described"));
        assert!(
            described.contains(&media_type) || (described.is_empty() && reply.body.is_empty()),
            "{place}: {media_type} is not described"
        );
        let plain = reply.header("content-encoding").is_empty();
        // What was only read has no verdict that could be honest or not.
        let is_computed = operation.is_calculation && !path.contains("validate_only=true");
        if reply.status == 200 && is_computed && media_type == "application/json" && plain {
            let found = honest::faults(&reply.json());
            assert!(found.is_empty(), "{method} {path}: {found:#?}");
        }
        record::count(&operation.id, reply.status);
    }
}

impl Reply {
    /// A header as text, its first value if there are several; empty if there is none.
    pub fn header(&self, name: &str) -> &str {
        self.headers.get(name).and_then(|value| value.to_str().ok()).unwrap_or_default()
    }

    /// Whether a header lists this word, in lower case, in any of its values.
    pub fn lists(&self, name: &str, word: &str) -> bool {
        let values = self.headers.get_all(name).iter().filter_map(|value| value.to_str().ok());
        values.flat_map(|value| value.split(',')).any(|one| one.trim().eq_ignore_ascii_case(word))
    }

    /// The content type without its parameters.
    pub fn media_type(&self) -> String {
        self.header("content-type").split(';').next().unwrap_or_default().trim().to_owned()
    }

    /// The body as text.
    pub fn text(&self) -> &str {
        std::str::from_utf8(&self.body).expect("the body is UTF-8")
    }

    /// The body as JSON, whatever the status.
    #[track_caller]
    pub fn json(&self) -> Value {
        serde_json::from_slice(&self.body).unwrap_or_else(|error| panic!("{error}: {}", self.text()))
    }

    /// The body of a success as JSON.
    #[track_caller]
    pub fn answer(&self) -> Value {
        assert_eq!((self.status, self.media_type().as_str()), (200, "application/json"), "{}", self.text());
        self.json()
    }

    /// The problem, which must have this status and code.
    #[track_caller]
    pub fn problem(&self, status: u16, code: ProblemCode) -> Problem {
        assert_eq!((self.status, self.header("problem-code")), (status, code.as_str()), "{}", self.text());
        serde_json::from_slice(&self.body).expect("a problem is a problem document")
    }

    /// The faults of an invalid request of this status: pointer (or parameter) and code of each.
    #[track_caller]
    pub fn faults(&self, status: u16) -> Vec<(String, String)> {
        let problem = self.problem(status, ProblemCode::InvalidRequest);
        let place = |pointer: Option<String>, parameter: Option<String>| pointer.or(parameter).unwrap_or_default();
        let faults = problem.errors.into_iter();
        faults.map(|fault| (place(fault.pointer, fault.parameter), fault.code.as_str().to_owned())).collect()
    }

    /// Asserts the form that every problem has.
    #[track_caller]
    fn assert_problem(&self, place: &str) {
        assert_eq!(self.media_type(), MEDIA_TYPE, "{place}");
        let problem: Problem = serde_json::from_slice(&self.body).unwrap_or_else(|error| panic!("{place}: {error}"));
        let document = self.json();
        assert_eq!(document["status"], self.status, "{place}");
        assert_eq!(document["code"], self.header("problem-code"), "{place}");
        assert_eq!(document["type"], format!("/problems/{}", problem.code.as_str()), "{place}");
        assert_eq!(document["title"], problem.code.title(), "{place}");
        assert_eq!(document["instance"], format!("urn:request:{}", self.header("x-request-id")), "{place}");
        assert!(!problem.detail.is_empty(), "{place}");
        assert_eq!(self.header("cache-control"), "no-store", "{place}");
        for fault in &problem.errors {
            assert!(fault.pointer.is_some() != fault.parameter.is_some(), "{place}: a fault has one place");
            assert!(fault.pointer.as_ref().is_none_or(|pointer| pointer.starts_with('#')), "{place}");
        }
        if problem.code == ProblemCode::InvalidRequest && !problem.errors.is_empty() {
            let structural = problem.errors.iter().any(|fault| fault.code.is_structural());
            assert_eq!(self.status, if structural { 400 } else { 422 }, "{place}");
        }
    }
}
