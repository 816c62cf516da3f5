//! The page that writes a formula for the reader's own case, and the macros and workbooks with this service's address in them.

use std::fmt::Write;

use axum::body::Body;
use axum::extract::Path;
use axum::http::{HeaderMap, HeaderValue, Uri, header};
use axum::response::{IntoResponse, Response};
use ramwright_api::operation::{SequencePackingLifts, ShareLoad, SizeRamSet, VerifyRamSet};
use ramwright_api::problem::{Problem, ProblemCode};
use ramwright_api::quick::{Enquired, Enquiry, Parameter, parameters_of};
use ramwright_report::{CellValue, LoadShareValue, PackingValue, SizingValue, VerificationValue, escaped};

use super::pages::{document, marked_up, page};
use crate::formula::{self, Piece};
use crate::parameters;
use crate::problem::Failure;

/// The page's own style sheet, and forms that are sent to this service.
const FORM_POLICY: &str = "default-src 'none'; style-src 'self'; base-uri 'none'; form-action 'self'";

/// Stands in a macro where the service's address goes.
const ADDRESS: &str = "{{address}}";

/// An enquiry as the page offers it.
struct Offered {
    enquiry: Enquiry,
    path: &'static str,
    words: &'static str,
    values: fn() -> Vec<&'static str>,
}

const OFFERED: [Offered; 4] = [
    Offered {
        enquiry: Enquiry::RamSet,
        path: SizeRamSet::QUICK_PATH,
        words: "Which rams do it",
        values: names::<SizingValue>,
    },
    Offered {
        enquiry: Enquiry::Verification,
        path: VerifyRamSet::QUICK_PATH,
        words: "Whether rams that are named do it",
        values: names::<VerificationValue>,
    },
    Offered {
        enquiry: Enquiry::LoadShare,
        path: ShareLoad::QUICK_PATH,
        words: "What each point carries",
        values: names::<LoadShareValue>,
    },
    Offered {
        enquiry: Enquiry::PackingLifts,
        path: SequencePackingLifts::QUICK_PATH,
        words: "In how many packing lifts",
        values: names::<PackingValue>,
    },
];

/// What the fields hold at first.
const FIRST: [(&str, &str); 5] =
    [("load", "A2 t"), ("points", "4"), ("travel", "150 mm"), ("clearance", "B2 mm"), ("ram", "willow-01")];

fn names<V: CellValue>() -> Vec<&'static str> {
    V::ALL.iter().map(|value| value.name()).collect()
}

impl Offered {
    /// The last part of its path, by which the page knows it.
    fn name(&self) -> &'static str {
        self.path.rsplit('/').next().unwrap_or(self.path)
    }
}

/// A macro or a workbook.
struct File {
    name: &'static str,
    words: &'static str,
    content: Content,
}

enum Content {
    Text(&'static str),
    Workbook(&'static [u8], &'static str),
}

const FILES: &[File] = &[
    File {
        name: "ramwright.bas",
        words: "Excel, VBA: import it as a module",
        content: Content::Text(include_str!("../../../client/spreadsheet/ramwright.bas")),
    },
    File {
        name: "ramwright_calc.bas",
        words: "LibreOffice, Basic: paste it into a module",
        content: Content::Text(include_str!("../../../client/spreadsheet/ramwright_calc.bas")),
    },
    File {
        name: "ramwright_calc.py",
        words: "LibreOffice, Python: put it into the folder Scripts/python of the user profile",
        content: Content::Text(include_str!("../../../client/spreadsheet/ramwright_calc.py")),
    },
    File {
        name: "ramwright.ts",
        words: "Excel, Office Script: paste it into a new script; the service must allow its origin",
        content: Content::Text(include_str!("../../../client/spreadsheet/ramwright.ts")),
    },
    File {
        name: "ramwright.pq",
        words: "Excel, Power Query: paste it into the Advanced Editor",
        content: Content::Text(include_str!("../../../client/spreadsheet/ramwright.pq")),
    },
    File {
        name: "ramwright.xlsx",
        words: "A workbook for Excel with live cells; write this service's address into its sheet Settings",
        content: Content::Workbook(
            include_bytes!("../../../client/spreadsheet/ramwright.xlsx"),
            "application/vnd.openxmlformats-officedocument.spreadsheetml.sheet",
        ),
    },
    File {
        name: "ramwright.ods",
        words: "The same for LibreOffice",
        content: Content::Workbook(
            include_bytes!("../../../client/spreadsheet/ramwright.ods"),
            "application/vnd.oasis.opendocument.spreadsheet",
        ),
    },
];

/// A macro with this service's address in it, or a workbook.
pub(crate) async fn file(Path(name): Path<String>, headers: HeaderMap, uri: Uri) -> Result<Response, Failure> {
    let file = FILES.iter().find(|file| file.name == name);
    let file = file.ok_or_else(|| Problem::new(ProblemCode::NotFound, "The service has no such file."))?;
    let (content_type, body) = match file.content {
        Content::Text(text) => {
            let address = address(&parameters::pairs(&uri), &headers);
            ("text/plain; charset=utf-8", Body::from(text.replace(ADDRESS, &address)))
        }
        Content::Workbook(bytes, content_type) => (content_type, Body::from(bytes)),
    };
    let mut response = body.into_response();
    let out = response.headers_mut();
    out.insert(header::CONTENT_TYPE, HeaderValue::from_static(content_type));
    out.insert(header::CACHE_CONTROL, HeaderValue::from_static("no-store"));
    if let Ok(disposition) = HeaderValue::from_str(&format!("attachment; filename=\"{}\"", file.name)) {
        out.insert(header::CONTENT_DISPOSITION, disposition);
    }
    Ok(response)
}

/// The address of the service as the reader names it, or as this request came by it.
fn address(given: &[(String, String)], headers: &HeaderMap) -> String {
    let named = said(given, "address").trim().trim_end_matches('/');
    if formula::is_address(named) {
        return named.to_owned();
    }
    let host = headers.get(header::HOST).and_then(|host| host.to_str().ok()).unwrap_or_default();
    let own = format!("http://{host}");
    if formula::is_address(&own) { own } else { "http://127.0.0.1:8080".to_owned() }
}

/// What is said for a parameter; a field left empty says as little as none.
fn said<'a>(given: &'a [(String, String)], name: &str) -> &'a str {
    parameters::said(given, name).unwrap_or_default()
}

/// The page.
pub(crate) async fn index(headers: HeaderMap, uri: Uri) -> Response {
    let given = parameters::pairs(&uri);
    let [first, ..] = &OFFERED;
    let asked = OFFERED.iter().find(|one| one.name() == said(&given, "enquiry")).unwrap_or(first);
    let is_new = parameters_of(asked.enquiry).all(|parameter| said(&given, parameter.name).is_empty());
    let filled = |name: &str| -> String {
        let first = FIRST.iter().find(|(own, _)| *own == name).map_or("", |(_, text)| text);
        if is_new { first.to_owned() } else { said(&given, name).to_owned() }
    };
    let address = address(&given, &headers);
    let values = (asked.values)();
    let value = values.iter().copied().find(|value| *value == said(&given, "value")).unwrap_or("answer");
    let comma = said(&given, "decimal") == "comma";
    let mut html = intro(asked);
    html.push_str(&formulas(asked, &address, value, comma, &filled));
    html.push_str(&form(asked, &address, value, comma, &filled));
    html.push_str(&files(&address));
    let mut response = page(FORM_POLICY, document("In a spreadsheet", "assets/page.css", &html));
    response.headers_mut().insert(header::CACHE_CONTROL, HeaderValue::from_static("no-store"));
    response
}

fn intro(asked: &Offered) -> String {
    let mut html = String::from(
        "<p class=\"caution\">Results do not replace local codes, the maker's data for the rams in use, or a competent engineer. \
         Never work under a load held by oil alone.</p>\n<p>A formula for your own case, with the address of this service. \
         What is asked:</p>\n<ul>\n",
    );
    for one in &OFFERED {
        let _ = if one.enquiry == asked.enquiry {
            writeln!(html, "<li><strong>{}</strong></li>", one.words)
        } else {
            writeln!(html, "<li><a href=\"spreadsheet?enquiry={}\">{}</a></li>", one.name(), one.words)
        };
    }
    html.push_str("</ul>\n");
    html
}

fn formulas(asked: &Offered, address: &str, value: &str, comma: bool, filled: &dyn Fn(&str) -> String) -> String {
    let mut pieces = vec![Piece::Fixed(format!("{address}{}?errors=cell&value={value}", asked.path))];
    if comma {
        pieces.push(Piece::Fixed("&decimal=comma".to_owned()));
    }
    for Parameter { name, .. } in parameters_of(asked.enquiry) {
        let text = filled(name);
        if !text.trim().is_empty() {
            pieces.push(Piece::Fixed(format!("&{name}=")));
            pieces.push(formula::piece(text.trim()));
        }
    }
    let call = formula::webservice(&pieces);
    let number = |separator: char| {
        if comma { format!("=VALUE({call})") } else { format!("=NUMBERVALUE({call}{separator}\".\")") }
    };
    let mut rows = vec![("Excel and LibreOffice", format!("={call}"))];
    if comma {
        rows.push(("A value that is a number, in a country with a decimal comma", number(';')));
    } else {
        rows.push(("A value that is a number, where commas part arguments", number(',')));
        rows.push(("The same where semicolons do", number(';')));
    }
    let mut html = String::from("<h2>The formula</h2>\n<table>\n<tbody>\n");
    for (words, formula) in rows {
        let _ = writeln!(html, "<tr><th scope=\"row\">{words}</th><td><code>{}</code></td></tr>", escaped(&formula));
    }
    html.push_str("</tbody>\n</table>\n<p>What is wrong is shown in the cell, after <code>#ERROR</code>. Excel takes addresses of up to 2048 characters.</p>\n");
    html
}

fn form(asked: &Offered, address: &str, value: &str, comma: bool, filled: &dyn Fn(&str) -> String) -> String {
    let mut html = format!(
        "<h2>Your case</h2>\n<p>Write a quantity with its unit (<code>212 t</code>), a cell that holds one (<code>A2</code>), \
         or a cell with a number and its unit (<code>A2 t</code>). What is left empty is not asked.</p>\n\
         <form action=\"spreadsheet\" method=\"get\">\n<input type=\"hidden\" name=\"enquiry\" value=\"{}\">\n<table>\n<tbody>\n\
         <tr><th scope=\"row\"><label for=\"address\">address</label></th><td><input id=\"address\" name=\"address\" size=\"40\" value=\"{}\"></td><td>Where this service is reached</td></tr>\n",
        asked.name(),
        escaped(address)
    );
    let options = (asked.values)().into_iter().map(|name| {
        let selected = if name == value { " selected" } else { "" };
        format!("<option{selected}>{name}</option>")
    });
    let _ = writeln!(
        html,
        "<tr><th scope=\"row\"><label for=\"value\">value</label></th><td><select id=\"value\" name=\"value\">{}</select></td><td>What the cell shows</td></tr>",
        options.collect::<String>()
    );
    let checked = if comma { " checked" } else { "" };
    let _ = writeln!(
        html,
        "<tr><th scope=\"row\"><label for=\"decimal\">decimal</label></th><td><input type=\"checkbox\" id=\"decimal\" name=\"decimal\" value=\"comma\"{checked}></td><td>Numbers have a decimal comma</td></tr>"
    );
    for parameter in parameters_of(asked.enquiry) {
        let name = parameter.name;
        let star = if parameter.required { " *" } else { "" };
        let _ = writeln!(
            html,
            "<tr><th scope=\"row\"><label for=\"{name}\">{name}{star}</label></th><td><input id=\"{name}\" name=\"{name}\" size=\"24\" placeholder=\"{}\" value=\"{}\"></td><td>{}</td></tr>",
            escaped(parameter.example()),
            escaped(&filled(name)),
            marked_up(parameter.words())
        );
    }
    html.push_str("</tbody>\n</table>\n<p><button type=\"submit\">Write the formula</button></p>\n</form>\n");
    html
}

fn files(address: &str) -> String {
    let mut html = String::from(
        "<h2>Whole tables</h2>\n<p>Each of these sends a table with one enquiry a row to this service and writes the answers beside it; \
         a row at fault is marked, and the rest is done.</p>\n<table>\n<tbody>\n",
    );
    for file in FILES {
        let query = match file.content {
            Content::Text(_) => format!("?address={}", formula::encoded(address)),
            Content::Workbook(..) => String::new(),
        };
        let _ = writeln!(
            html,
            "<tr><td><a href=\"spreadsheet/{0}{query}\">{0}</a></td><td>{1}</td></tr>",
            file.name, file.words
        );
    }
    html.push_str("</tbody>\n</table>\n<p><a href=\".\">Start page</a></p>");
    html
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn verify_every_macro_has_a_place_for_the_address_and_the_caution() {
        let mut texts = 0;
        for file in FILES {
            if let Content::Text(text) = file.content {
                assert!(text.contains(&format!("\"{ADDRESS}\"")), "{}", file.name);
                assert!(text.contains("Never work under a load held by oil alone."), "{}", file.name);
                texts += 1;
            }
        }
        assert_eq!(texts, 5);
    }

    #[test]
    fn verify_the_address_is_the_readers_or_the_host_of_the_request() {
        let host = |host: &'static str| HeaderMap::from_iter([(header::HOST, HeaderValue::from_static(host))]);
        let named = |text: &str| vec![("address".to_owned(), text.to_owned())];
        assert_eq!(address(&[], &host("lift.example:8443")), "http://lift.example:8443");
        assert_eq!(address(&named("https://a.example/lift/"), &host("b")), "https://a.example/lift");
        for hostile in ["\"><script>", "a b", "x\"&CALL(", "javascript:1"] {
            assert_eq!(address(&named(hostile), &host("b:1")), "http://b:1", "{hostile}");
        }
        assert_eq!(address(&[], &host("x\"y")), "http://127.0.0.1:8080");
        assert_eq!(address(&[], &HeaderMap::new()), "http://127.0.0.1:8080");
    }
}
