//! The client: one call is one HTTP request.

use crate::body::Body;
use crate::error::{Cause, ClientError};
use ramwright_api::problem::{MEDIA_TYPE, Problem};
use ramwright_api::{Answer, Operation, Validation};
use reqwest::header::{ACCEPT, CONTENT_TYPE};
use reqwest::{RequestBuilder, StatusCode, Url};
use serde::de::DeserializeOwned;
use std::time::Duration;

const CONNECT_TIMEOUT: Duration = Duration::from_secs(5);
/// Longer than a service takes before it gives a calculation up, unless it is set up otherwise.
const TIMEOUT: Duration = Duration::from_mins(2);
/// How much of an unreadable answer an error shows, in characters.
const EXCERPT: usize = 200;

/// A client of one service. Cheap to clone; clones share their connections.
#[derive(Clone, Debug)]
pub struct Client {
    http: reqwest::Client,
    service: Url,
}

impl Client {
    /// A client of the service at an address such as `http://127.0.0.1:8080`, with or without a path before `/v1`.
    ///
    /// It repeats nothing, follows no redirect, uses no proxy, and gives up after 5 s without a connection or 2 minutes
    /// without a whole answer.
    ///
    /// # Errors
    /// [`ClientError::Address`] if no service can be at the address, [`ClientError::Transport`] if the system gives no client.
    pub fn new(address: &str) -> Result<Self, ClientError> {
        let http = reqwest::Client::builder()
            .connect_timeout(CONNECT_TIMEOUT)
            .timeout(TIMEOUT)
            .redirect(reqwest::redirect::Policy::none())
            .retry(reqwest::retry::never())
            .no_proxy()
            .build()?;
        Self::with_http(http, address)
    }

    /// A client that sends by an HTTP client of one's own, with its headers, time limits and proxies.
    ///
    /// # Errors
    /// [`ClientError::Address`] if no service can be at the address.
    pub fn with_http(http: reqwest::Client, address: &str) -> Result<Self, ClientError> {
        let refused = || ClientError::Address { address: address.to_owned() };
        let mut service = Url::parse(address).map_err(|_| refused())?;
        if !matches!(service.scheme(), "http" | "https") || !service.has_host() {
            return Err(refused());
        }
        service.set_query(None);
        service.set_fragment(None);
        Ok(Self { http, service })
    }

    /// Calculates.
    ///
    /// # Errors
    /// [`ClientError`] by its cause.
    pub async fn call<O: Operation>(&self, request: impl Into<Body>) -> Result<Answer<O::Result>, ClientError> {
        self.post(O::PATH, &request.into()).await
    }

    /// Has a request read without computing it: what is understood, and what would be assumed.
    ///
    /// # Errors
    /// [`ClientError`] by its cause.
    pub async fn validate<O: Operation>(&self, request: impl Into<Body>) -> Result<Validation, ClientError> {
        let mut url = self.url(O::PATH);
        url.set_query(Some("validate_only=true"));
        json(self.http.post(url).json(&request.into().0)).await
    }

    /// Calculates and gives the result as a table in CSV.
    ///
    /// # Errors
    /// [`ClientError`] by its cause.
    pub async fn csv<O: Operation>(&self, request: impl Into<Body>) -> Result<String, ClientError> {
        let asked = self.http.post(self.url(O::PATH)).header(ACCEPT, "text/csv").json(&request.into().0);
        let (status, content_type, bytes) = sent(asked).await?;
        // A page of something else at the address is no table.
        if !content_type.starts_with("text/csv") {
            return Err(unreadable(status, &bytes, None));
        }
        String::from_utf8(bytes).map_err(|error| {
            let source = error.utf8_error().into();
            unreadable(status, error.as_bytes(), Some(source))
        })
    }

    /// Calculates again from the `permalink` of an answer.
    ///
    /// # Errors
    /// [`ClientError`] by its cause; [`ClientError::Permalink`] if it is one of another operation.
    pub async fn again<O: Operation>(&self, permalink: &str) -> Result<Answer<O::Result>, ClientError> {
        let packed = permalink.strip_prefix(O::PATH).and_then(|rest| rest.strip_prefix('/'));
        match packed {
            Some(packed) => self.get_one(O::PATH, packed).await,
            None => Err(ClientError::Permalink { permalink: permalink.to_owned(), operation: O::NAME }),
        }
    }

    pub(crate) async fn post<T: DeserializeOwned>(&self, path: &str, body: &Body) -> Result<T, ClientError> {
        json(self.http.post(self.url(path)).json(&body.0)).await
    }

    pub(crate) async fn get<T: DeserializeOwned>(&self, path: &str) -> Result<T, ClientError> {
        json(self.http.get(self.url(path))).await
    }

    /// Gets an answer by plain parameters; their values may hold any character.
    pub(crate) async fn get_by<T: DeserializeOwned>(
        &self,
        path: &str,
        parameters: &[(&str, &str)],
    ) -> Result<T, ClientError> {
        let mut url = self.url(path);
        url.query_pairs_mut().extend_pairs(parameters);
        json(self.http.get(url)).await
    }

    /// Gets one of a list, by its name, which may hold any character.
    pub(crate) async fn get_one<T: DeserializeOwned>(&self, path: &str, name: &str) -> Result<T, ClientError> {
        let mut url = self.url(path);
        if let Ok(mut segments) = url.path_segments_mut() {
            segments.push(name);
        }
        json(self.http.get(url)).await
    }

    fn url(&self, path: &str) -> Url {
        let mut url = self.service.clone();
        url.set_path(&format!("{}{path}", self.service.path().trim_end_matches('/')));
        url
    }
}

async fn json<T: DeserializeOwned>(request: RequestBuilder) -> Result<T, ClientError> {
    let (status, _, bytes) = sent(request.header(ACCEPT, "application/json")).await?;
    serde_json::from_slice(&bytes).map_err(|error| unreadable(status, &bytes, Some(error.into())))
}

/// Sends once; gives status, content type and body of a success, or the problem that was answered.
async fn sent(request: RequestBuilder) -> Result<(StatusCode, String, Vec<u8>), ClientError> {
    let response = request.send().await?;
    let status = response.status();
    let content_type = response.headers().get(CONTENT_TYPE).and_then(|value| value.to_str().ok());
    let content_type = content_type.unwrap_or_default().to_ascii_lowercase();
    let bytes = response.bytes().await?.to_vec();
    if status == StatusCode::OK {
        return Ok((status, content_type, bytes));
    }
    if !content_type.starts_with(MEDIA_TYPE) {
        return Err(unreadable(status, &bytes, None));
    }
    match serde_json::from_slice::<Problem>(&bytes) {
        Ok(problem) => Err(Box::new(problem).into()),
        Err(error) => Err(unreadable(status, &bytes, Some(error.into()))),
    }
}

fn unreadable(status: StatusCode, bytes: &[u8], source: Option<Cause>) -> ClientError {
    let excerpt = String::from_utf8_lossy(bytes).chars().take(EXCERPT).collect();
    ClientError::Unreadable { status: status.as_u16(), excerpt, source }
}
