//! Pages for people: where things are, the browsable description, and help with problems. They need no internet.

use std::fmt::Write;
use std::io::Read;

use axum::body::Body;
use axum::extract::Path;
use axum::http::{HeaderMap, HeaderValue, header};
use axum::response::{IntoResponse, Response};
use flate2::read::GzDecoder;
use ramwright_api::problem::{FaultCode, Problem, ProblemCode};
use ramwright_api::read::nearest;
use ramwright_report::escaped;

use crate::problem::Failure;

/// Nothing but the page's own style sheet.
const PLAIN_POLICY: &str = "default-src 'none'; style-src 'self'; base-uri 'none'; form-action 'none'";

/// Scripts and calls of this service only; the page puts its icons in as data.
const DOCS_POLICY: &str = "default-src 'none'; script-src 'self'; style-src 'self'; img-src 'self' data:; \
connect-src 'self'; base-uri 'none'; form-action 'none'";

/// The portal: one script, calls of this service, and no text that is turned into code or markup.
const INDEX_POLICY: &str = "default-src 'none'; script-src 'self'; style-src 'self'; connect-src 'self'; base-uri 'none'; \
form-action 'none'; require-trusted-types-for 'script'; trusted-types 'none'";

const INDEX: &str = include_str!("../../assets/index.html");
const DOCS: &str = include_str!("../../assets/docs.html");

/// The portal, and where things are.
pub(crate) async fn index() -> Response {
    page(INDEX_POLICY, INDEX.replace("{version}", env!("CARGO_PKG_VERSION")))
}

/// The browsable description.
pub(crate) async fn docs() -> Response {
    page(DOCS_POLICY, DOCS.to_owned())
}

/// Every kind of problem.
pub(crate) async fn problems() -> Response {
    let mut rows = String::new();
    for code in ProblemCode::ALL {
        let (name, status, title) = (code.as_str(), code.status(), code.title());
        // Writing to a string cannot fail.
        let _ = writeln!(
            rows,
            "<tr><td><a href=\"problems/{name}\"><code>{name}</code></a></td><td>{status}</td><td>{title}</td></tr>"
        );
    }
    let body = format!(
        "<p>Every answer that is not a result is a problem as RFC 9457 describes it. The header <code>Problem-Code</code> \
         repeats its code.</p>\n<table>\n<thead><tr><th scope=\"col\">Code</th><th scope=\"col\">Status</th>\
         <th scope=\"col\">Title</th></tr></thead>\n<tbody>\n{rows}</tbody>\n</table>\n<p><a href=\".\">Start page</a></p>"
    );
    page(PLAIN_POLICY, document("Problems", "assets/page.css", &body))
}

/// Help with one kind of problem: the address in a problem's `type`.
pub(crate) async fn problem(Path(name): Path<String>) -> Result<Response, Failure> {
    let Some(code) = ProblemCode::from_wire(&name) else {
        let nearest = nearest(&name, ProblemCode::ALL.iter().map(|code| code.as_str()));
        let hint = nearest.map(|nearest| format!(" The nearest is {nearest}.")).unwrap_or_default();
        let detail = format!("There is no problem code of this name.{hint}");
        return Err(Problem::new(ProblemCode::UnknownProblem, detail).into());
    };
    let help = code.help();
    let faults = if code == ProblemCode::InvalidRequest { fault_table() } else { String::new() };
    let body = format!(
        "<p><code>{}</code>, status {}</p>\n<p>{}</p>\n<h2>What to do</h2>\n<p>{}</p>\n<h2>Example</h2>\n<p>{}</p>\n{faults}\
         <p><a href=\"../problems\">All problems</a></p>",
        code.as_str(),
        if code == ProblemCode::InvalidRequest { "400 or 422".to_owned() } else { code.status().to_string() },
        marked_up(help.meaning),
        marked_up(help.remedy),
        marked_up(help.example),
    );
    Ok(page(PLAIN_POLICY, document(code.title(), "../assets/page.css", &body)))
}

fn fault_table() -> String {
    let mut rows = String::new();
    for code in FaultCode::ALL {
        let status = if code.is_structural() { 400 } else { 422 };
        let (name, meaning) = (code.as_str(), marked_up(code.meaning()));
        let _ = writeln!(rows, "<tr><td><code>{name}</code></td><td>{status}</td><td>{meaning}</td></tr>");
    }
    format!(
        "<h2>Kinds of fault</h2>\n<table>\n<thead><tr><th scope=\"col\">Code</th><th scope=\"col\">Status</th>\
         <th scope=\"col\">Meaning</th></tr></thead>\n<tbody>\n{rows}</tbody>\n</table>\n"
    )
}

/// Escapes text for HTML and sets what stands between backticks as code.
pub(super) fn marked_up(text: &str) -> String {
    let mut html = String::new();
    for (number, part) in escaped(text).split('`').enumerate() {
        let _ = if number % 2 == 1 { write!(html, "<code>{part}</code>") } else { write!(html, "{part}") };
    }
    html
}

pub(super) fn document(title: &str, style: &str, body: &str) -> String {
    format!(
        "<!doctype html>\n<html lang=\"en\">\n<head>\n<meta charset=\"utf-8\">\n\
         <meta name=\"viewport\" content=\"width=device-width\">\n<title>{title} - Ramwright</title>\n\
         <link rel=\"stylesheet\" href=\"{style}\">\n</head>\n<body>\n<main>\n<h1>{title}</h1>\n{body}\n</main>\n</body>\n</html>\n"
    )
}

pub(super) fn page(policy: &'static str, html: String) -> Response {
    let headers = [
        (header::CONTENT_TYPE, HeaderValue::from_static("text/html; charset=utf-8")),
        (header::CONTENT_SECURITY_POLICY, HeaderValue::from_static(policy)),
    ];
    (headers, html).into_response()
}

/// A file that pages need.
struct Asset {
    name: &'static str,
    content_type: &'static str,
    bytes: &'static [u8],
    gzipped: bool,
}

const ASSETS: &[Asset] = &[
    Asset {
        name: "page.css",
        content_type: "text/css; charset=utf-8",
        bytes: include_bytes!("../../assets/page.css"),
        gzipped: false,
    },
    Asset {
        name: "docs.js",
        content_type: "text/javascript; charset=utf-8",
        bytes: include_bytes!("../../assets/docs.js"),
        gzipped: false,
    },
    Asset {
        name: "swagger-ui-bundle.js",
        content_type: "text/javascript; charset=utf-8",
        bytes: include_bytes!("../../assets/swagger/swagger-ui-bundle.js.gz"),
        gzipped: true,
    },
    Asset {
        name: "swagger-ui.css",
        content_type: "text/css; charset=utf-8",
        bytes: include_bytes!("../../assets/swagger/swagger-ui.css.gz"),
        gzipped: true,
    },
    Asset {
        name: "swagger-ui-license.txt",
        content_type: "text/plain; charset=utf-8",
        bytes: include_bytes!("../../assets/swagger/LICENSE"),
        gzipped: false,
    },
    Asset {
        name: "swagger-ui-bundle.js.LICENSE.txt",
        content_type: "text/plain; charset=utf-8",
        bytes: include_bytes!("../../assets/swagger/swagger-ui-bundle.js.LICENSE.txt"),
        gzipped: false,
    },
];

/// A file that pages need; the large ones are kept gzipped and sent so to whom takes it.
pub(crate) async fn asset(Path(name): Path<String>, headers: HeaderMap) -> Result<Response, Failure> {
    let asset = ASSETS.iter().find(|asset| asset.name == name);
    let asset = asset.ok_or_else(|| Problem::new(ProblemCode::NotFound, "The service has no such file."))?;
    let mut response = if asset.gzipped && !takes_gzip(&headers) {
        Body::from(unzipped(asset.bytes)?).into_response()
    } else {
        Body::from(asset.bytes).into_response()
    };
    let out = response.headers_mut();
    out.insert(header::CONTENT_TYPE, HeaderValue::from_static(asset.content_type));
    out.insert(header::CACHE_CONTROL, HeaderValue::from_static("public, max-age=3600"));
    if asset.gzipped {
        out.insert(header::VARY, HeaderValue::from_static("accept-encoding"));
        if takes_gzip(&headers) {
            out.insert(header::CONTENT_ENCODING, HeaderValue::from_static("gzip"));
        }
    }
    Ok(response)
}

fn takes_gzip(headers: &HeaderMap) -> bool {
    let values = headers.get_all(header::ACCEPT_ENCODING).iter().filter_map(|value| value.to_str().ok());
    values.flat_map(|value| value.split(',')).any(|coding| {
        let mut parts = coding.split(';').map(str::trim);
        let named = parts.next().is_some_and(|name| name.eq_ignore_ascii_case("gzip") || name == "*");
        let refused = parts.any(|parameter| {
            parameter.strip_prefix("q=").is_some_and(|quality| quality.trim_matches(['0', '.']).is_empty())
        });
        named && !refused
    })
}

fn unzipped(bytes: &[u8]) -> Result<Vec<u8>, Problem> {
    let mut plain = Vec::new();
    GzDecoder::new(bytes)
        .read_to_end(&mut plain)
        .map_err(|_| Problem::new(ProblemCode::InternalError, "A file built into the service cannot be unpacked."))?;
    Ok(plain)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn verify_help_text_is_escaped_and_code_is_set() {
        assert_eq!(marked_up("a <b> `c & d` e"), "a &lt;b&gt; <code>c &amp; d</code> e");
    }

    #[test]
    fn verify_gzip_is_sent_only_to_whom_takes_it() {
        let takes = |value: &'static str| {
            takes_gzip(&HeaderMap::from_iter([(header::ACCEPT_ENCODING, HeaderValue::from_static(value))]))
        };
        for yes in ["gzip", "br, GZIP", "*", "gzip;q=0.5"] {
            assert!(takes(yes), "{yes}");
        }
        for no in ["br", "gzip;q=0", "gzip; q=0.0", "identity"] {
            assert!(!takes(no), "{no}");
        }
        assert!(!takes_gzip(&HeaderMap::new()));
    }

    #[test]
    fn verify_every_gzipped_file_unpacks() {
        for asset in ASSETS.iter().filter(|asset| asset.gzipped) {
            assert!(unzipped(asset.bytes).unwrap().len() > asset.bytes.len(), "{}", asset.name);
        }
    }

    #[tokio::test]
    async fn verify_every_problem_has_a_page_that_names_it() {
        for code in ProblemCode::ALL {
            let response = problem(Path(code.as_str().to_owned())).await.unwrap();
            let bytes = axum::body::to_bytes(response.into_body(), usize::MAX).await.unwrap();
            let html = String::from_utf8(bytes.to_vec()).unwrap();
            assert!(html.contains(code.title()) && html.contains(code.as_str()));
        }
        let failure = problem(Path("overlaoded".to_owned())).await.unwrap_err();
        assert_eq!(failure.0.code, ProblemCode::UnknownProblem);
        assert!(failure.0.detail.contains("overloaded"));
    }
}
