//! The portal: the element that pages embed, and the requests that it begins with.

use axum::extract::Path;
use axum::http::{HeaderValue, header};
use axum::response::{IntoResponse, Response};
use ramwright_api::problem::{Problem, ProblemCode};
use ramwright_api::read::nearest;

use crate::openapi::examples;
use crate::problem::Failure;

/// Joins source files into one script; they share one scope, as parts of one module.
macro_rules! joined {
    ($($name:literal),+ $(,)?) => {
        concat!($(include_str!(concat!("../../assets/portal/", $name, ".js")), "\n"),+)
    };
}

const SCRIPT: &str = joined!(
    "about",
    "document",
    "words",
    "values",
    "service",
    "fields",
    "sections",
    "draft",
    "style",
    "style_results",
    "controls",
    "point_table",
    "form",
    "faults",
    "results",
    "tables",
    "drawings",
    "compare",
    "element",
);

/// The custom element `<ramwright-lift>`.
pub(crate) async fn script() -> Response {
    kept("text/javascript; charset=utf-8", SCRIPT)
}

/// An example request, as the description shows it.
pub(crate) async fn example(Path(file): Path<String>) -> Result<Response, Failure> {
    let name = file.strip_suffix(".json").unwrap_or_default();
    let text = examples::text(name).ok_or_else(|| {
        let near = nearest(name, examples::names()).map(|near| format!(" The nearest is {near}.json."));
        Problem::new(ProblemCode::NotFound, format!("There is no such example.{}", near.unwrap_or_default()))
    })?;
    Ok(kept("application/json", text))
}

fn kept(content_type: &'static str, text: &'static str) -> Response {
    let headers = [
        (header::CONTENT_TYPE, HeaderValue::from_static(content_type)),
        (header::CACHE_CONTROL, HeaderValue::from_static("public, max-age=3600")),
    ];
    (headers, text).into_response()
}
