//! Which web origins may read answers in a browser: none unless the configuration names them.

use axum::http::{HeaderName, HeaderValue, Method, header};
use tower_http::cors::{AllowOrigin, CorsLayer};

use super::{request_id, trace_context};
use crate::config::Origin;
use crate::problem::PROBLEM_CODE_HEADER;

/// The layer for these origins, or nothing where there are none.
pub(crate) fn layer(origins: &[Origin]) -> Option<CorsLayer> {
    if origins.is_empty() {
        return None;
    }
    let exactly: Option<Vec<HeaderValue>> = origins
        .iter()
        .map(|origin| match origin {
            Origin::Any => None,
            Origin::Exactly(value) => Some(value.clone()),
        })
        .collect();
    let allowed = exactly.map_or_else(AllowOrigin::any, AllowOrigin::list);
    let layer = CorsLayer::new()
        .allow_origin(allowed)
        .allow_methods([Method::GET, Method::HEAD, Method::POST])
        .allow_headers([
            header::ACCEPT,
            header::AUTHORIZATION,
            header::CONTENT_TYPE,
            header::IF_NONE_MATCH,
            request_id::HEADER,
            trace_context::HEADER,
        ])
        .expose_headers([
            header::ETAG,
            HeaderName::from_static(PROBLEM_CODE_HEADER),
            header::RETRY_AFTER,
            request_id::HEADER,
            trace_context::HEADER,
        ]);
    Some(layer)
}
