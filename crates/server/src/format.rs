//! Formats of an answer, and which of them a request wants.
//!
//! `format=` in the address wins over the header `Accept`, since spreadsheet functions cannot set headers.

use std::convert::Infallible;

use axum::extract::FromRequestParts;
use axum::http::header;
use axum::http::request::Parts;
use ramwright_api::problem::{Fault, FaultCode, Problem, ProblemCode};
use ramwright_api::read::nearest;
use utoipa::IntoParams;

use crate::parameters;

/// A format in which an answer can be written.
#[derive(Clone, Copy, Debug, Eq, PartialEq)]
pub(crate) enum Format {
    Json,
    Csv,
    Text,
    Html,
    Svg,
    Pdf,
    Lines,
}

impl Format {
    const ALL: &[Self] = &[Self::Json, Self::Csv, Self::Text, Self::Html, Self::Svg, Self::Pdf, Self::Lines];

    /// The value of `format=`.
    pub(crate) const fn name(self) -> &'static str {
        match self {
            Self::Json => "json",
            Self::Csv => "csv",
            Self::Text => "text",
            Self::Html => "html",
            Self::Svg => "svg",
            Self::Pdf => "pdf",
            Self::Lines => "ndjson",
        }
    }

    /// Type and subtype, as in `Accept`.
    const fn media_type(self) -> (&'static str, &'static str) {
        match self {
            Self::Json => ("application", "json"),
            Self::Csv => ("text", "csv"),
            Self::Text => ("text", "plain"),
            Self::Html => ("text", "html"),
            Self::Svg => ("image", "svg+xml"),
            Self::Pdf => ("application", "pdf"),
            Self::Lines => ("application", "x-ndjson"),
        }
    }

    /// The header `Content-Type` of an answer in this format.
    pub(crate) const fn content_type(self) -> &'static str {
        match self {
            Self::Json => "application/json",
            Self::Csv => "text/csv; charset=utf-8; header=present",
            Self::Text => "text/plain; charset=utf-8",
            Self::Html => "text/html; charset=utf-8",
            Self::Svg => "image/svg+xml",
            Self::Pdf => "application/pdf",
            Self::Lines => "application/x-ndjson",
        }
    }
}

/// The parameter `format=`, as the description shows it.
#[derive(IntoParams)]
#[into_params(parameter_in = Query)]
#[expect(dead_code, reason = "read by the description only; `Wanted` reads the parameter")]
pub(crate) struct FormatParameter {
    /// Format of the answer: `json` or `csv`. It wins over the header `Accept`.
    #[param(inline, required = false)]
    format: TableFormat,
}

/// The formats of an answer that has tables.
#[derive(utoipa::ToSchema)]
#[schema(rename_all = "snake_case")]
#[expect(dead_code, reason = "read by the description only")]
enum TableFormat {
    Json,
    Csv,
}

/// What a request says about the format of its answer.
#[derive(Debug)]
pub(crate) struct Wanted {
    named: Option<String>,
    accept: Vec<Accepted>,
}

/// One media range of the header `Accept`.
#[derive(Debug)]
struct Accepted {
    kind: String,
    subtype: String,
    /// From 0 (not at all) to 1.
    quality: f64,
}

impl<S: Sync> FromRequestParts<S> for Wanted {
    type Rejection = Infallible;

    async fn from_request_parts(parts: &mut Parts, _: &S) -> Result<Self, Infallible> {
        let named = parameters::pairs(&parts.uri).into_iter().find(|(name, _)| name == "format");
        let accept = parts
            .headers
            .get_all(header::ACCEPT)
            .iter()
            .filter_map(|value| value.to_str().ok())
            .flat_map(|value| value.split(','))
            .filter_map(media_range)
            .collect();
        Ok(Self { named: named.map(|(_, value)| value), accept })
    }
}

impl Wanted {
    /// The format to answer in, out of those offered; the first offered is the one for a client that does not care.
    ///
    /// # Errors
    /// `not_acceptable` if none of those offered is wanted, `invalid_request` if `format=` names no format.
    pub(crate) fn choose(&self, offered: &[Format]) -> Result<Format, Problem> {
        if let Some(name) = &self.named {
            let format = Format::ALL.iter().copied().find(|format| format.name() == name);
            let format = format.ok_or_else(|| unknown_format(name))?;
            return if offered.contains(&format) { Ok(format) } else { Err(not_acceptable(offered)) };
        }
        let mut best: Option<(f64, Format)> = None;
        for format in offered.iter().copied() {
            let quality = self.quality(format);
            if quality > 0.0 && best.is_none_or(|(greatest, _)| greatest < quality) {
                best = Some((quality, format));
            }
        }
        best.map(|(_, format)| format).ok_or_else(|| not_acceptable(offered))
    }

    /// The quality of the most specific media range that covers the format (RFC 9110, 12.5.1).
    fn quality(&self, format: Format) -> f64 {
        if self.accept.is_empty() {
            return 1.0;
        }
        let (kind, subtype) = format.media_type();
        let covering = |range: &&Accepted| {
            (range.kind == kind || range.kind == "*") && (range.subtype == subtype || range.subtype == "*")
        };
        let specific = |range: &&Accepted| usize::from(range.kind != "*") + usize::from(range.subtype != "*");
        self.accept.iter().filter(covering).max_by_key(specific).map_or(0.0, |range| range.quality)
    }
}

/// Reads one media range; one that is malformed says nothing.
fn media_range(text: &str) -> Option<Accepted> {
    let mut parts = text.split(';').map(str::trim);
    let (kind, subtype) = parts.next()?.split_once('/')?;
    let quality = parts
        .find_map(|parameter| parameter.strip_prefix("q=").or_else(|| parameter.strip_prefix("Q=")))
        .map_or(Some(1.0), |quality| quality.parse().ok())?;
    (0.0..=1.0).contains(&quality).then(|| Accepted {
        kind: kind.to_ascii_lowercase(),
        subtype: subtype.to_ascii_lowercase(),
        quality,
    })
}

fn unknown_format(name: &str) -> Problem {
    let names = Format::ALL.iter().map(|format| format.name());
    let fault = Fault::in_parameter("format", FaultCode::UnknownValue, "The parameter format names no format.")
        .with_given(name)
        .with_nearest(nearest(name, names));
    Problem::invalid_request(vec![fault])
}

fn not_acceptable(offered: &[Format]) -> Problem {
    let list: Vec<&str> = offered.iter().map(|format| format.name()).collect();
    Problem::new(ProblemCode::NotAcceptable, format!("This answer exists as {} only.", list.join(", ")))
}

#[cfg(test)]
mod tests {
    use super::*;

    const TABLES: &[Format] = &[Format::Json, Format::Csv];

    async fn chosen(address: &str, accept: Option<&str>) -> Result<Format, ProblemCode> {
        let mut request = axum::http::Request::get(address);
        if let Some(accept) = accept {
            request = request.header(header::ACCEPT, accept);
        }
        let (mut parts, ()) = request.body(()).unwrap().into_parts();
        let wanted = Wanted::from_request_parts(&mut parts, &()).await.unwrap();
        wanted.choose(TABLES).map_err(|problem| problem.code)
    }

    #[tokio::test]
    async fn verify_accept_with_qualities() {
        for (accept, expected) in [
            (None, Ok(Format::Json)),
            (Some("*/*"), Ok(Format::Json)),
            (Some("text/csv"), Ok(Format::Csv)),
            (Some("TEXT/CSV"), Ok(Format::Csv)),
            (Some("text/*"), Ok(Format::Csv)),
            (Some("application/json;q=0.5, text/csv"), Ok(Format::Csv)),
            (Some("application/json;q=0.5, text/csv;q=0.4"), Ok(Format::Json)),
            (Some("*/*;q=0.1, text/csv;header=present;q=0.2"), Ok(Format::Csv)),
            (Some("*/*, application/json;q=0"), Ok(Format::Csv)),
            (Some("application/json, application/problem+json"), Ok(Format::Json)),
            (Some("image/png"), Err(ProblemCode::NotAcceptable)),
            (Some("application/json;q=0"), Err(ProblemCode::NotAcceptable)),
        ] {
            assert_eq!(chosen("/x", accept).await, expected, "{accept:?}");
        }
    }

    #[tokio::test]
    async fn verify_the_parameter_wins_over_accept() {
        assert_eq!(chosen("/x?format=csv", Some("application/json")).await, Ok(Format::Csv));
        assert_eq!(chosen("/x?format=json", Some("image/png")).await, Ok(Format::Json));
        assert_eq!(chosen("/x?format=pdf", Some("*/*")).await, Err(ProblemCode::NotAcceptable));
        assert_eq!(chosen("/x?format=cvs", Some("*/*")).await, Err(ProblemCode::InvalidRequest));
    }

    #[test]
    fn verify_a_slip_in_the_format_finds_its_name() {
        let problem = unknown_format("jsn");
        assert_eq!(problem.status, 400);
        assert_eq!(problem.errors[0].nearest.as_deref(), Some("json"));
    }
}
