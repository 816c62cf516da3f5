//! A table of enquiries as it is sent: alone, or in a form with the lists of a catalogue beside it.

use std::convert::Infallible;

use axum::body::Bytes;
use axum::extract::{FromRequest, Request};
use axum::http::{HeaderMap, header};
use multer::Multipart;
use ramwright_api::catalogue::Sheets;
use ramwright_api::json::Node;
use ramwright_api::problem::{Fault, FaultCode, Problem, ProblemCode};
use ramwright_api::read::nearest;
use utoipa::ToSchema;

use crate::body::{collect, is_of};
use crate::problem::Failure;
use crate::state::AppState;

/// The part of a form that is the table.
const TABLE: &str = "table";
/// The parts that a form may have.
const PARTS: [&str; 6] = [TABLE, "rams", "pumps", "hoses", "packing", "currency"];
/// After so many parts the rest of a form is not read.
const MOST_PARTS: usize = 20;

/// A form with a table and lists of a catalogue, each in CSV.
#[derive(ToSchema)]
#[expect(dead_code, reason = "read by the description only")]
pub(crate) struct TableForm {
    /// The table of enquiries.
    #[schema(example = "note,load_t,duty,points,travel_mm,clearance_mm\r\nA,50,press,2,60,400\r\n")]
    table: String,
    /// Rams, as in the file `rams.csv` of a catalogue.
    #[schema(nullable = false)]
    rams: Option<String>,
    /// Pumps, as in `pumps.csv`.
    #[schema(nullable = false)]
    pumps: Option<String>,
    /// Hoses, as in `hoses.csv`.
    #[schema(nullable = false)]
    hoses: Option<String>,
    /// Packing pieces, as in `packing.csv`.
    #[schema(nullable = false)]
    packing: Option<String>,
    /// Currency of the rates in these lists, by its ISO 4217 code.
    #[schema(nullable = false)]
    currency: Option<String>,
}

/// A table and the lists that were sent with it; neither has been read as such.
#[derive(Debug, Default, Eq, PartialEq)]
pub(crate) struct SentTable {
    pub(crate) table: String,
    pub(crate) lists: Sheets,
}

impl FromRequest<AppState> for SentTable {
    type Rejection = Failure;

    async fn from_request(request: Request, state: &AppState) -> Result<Self, Failure> {
        let boundary = boundary(request.headers());
        if boundary.is_none() && !is_of(request.headers(), |essence| essence == "text/csv") {
            let detail = "The header Content-Type must be text/csv, or multipart/form-data with its boundary, in UTF-8 and not compressed.";
            return Err(Problem::new(ProblemCode::UnsupportedMediaType, detail).into());
        }
        let config = state.config();
        let body = collect(request.into_body(), config.body_limit_bytes, config.body_timeout_s).await?;
        if let Some(boundary) = boundary {
            return Ok(form(boundary, body).await?);
        }
        let table = text(TABLE, body).map_err(|fault| Problem::invalid_request(vec![*fault]))?;
        Ok(Self { table, lists: Sheets::default() })
    }
}

fn boundary(headers: &HeaderMap) -> Option<String> {
    if !is_of(headers, |essence| essence == "multipart/form-data") {
        return None;
    }
    multer::parse_boundary(headers.get(header::CONTENT_TYPE)?.to_str().ok()?).ok()
}

/// Reads the parts of a form; what is wrong with each is said.
async fn form(boundary: String, body: Vec<u8>) -> Result<SentTable, Problem> {
    if !is_whole(&boundary, &body) {
        let detail = "the form must begin and end with its boundary: what stands before or behind it would be lost";
        return Err(Problem::invalid_request(vec![Fault::at("#", FaultCode::MalformedTable, detail)]));
    }
    let body = futures_util::stream::once(async { Ok::<_, Infallible>(Bytes::from(body)) });
    let mut form = Multipart::new(body, boundary);
    let mut parts: Vec<(String, String)> = Vec::new();
    let mut faults = Vec::new();
    while let Some(part) = form.next_field().await.map_err(|error| malformed(&error))? {
        let name = part.name().unwrap_or_default().to_owned();
        let bytes = part.bytes().await.map_err(|error| malformed(&error))?;
        if MOST_PARTS <= parts.len() + faults.len() {
            let detail = format!("a form may have at most {MOST_PARTS} parts");
            faults.push(Fault::at("#", FaultCode::TooManyItems, detail).with_limit(MOST_PARTS.to_string()));
            break;
        }
        if let Some(fault) = unexpected(&name, &parts) {
            faults.push(fault);
            continue;
        }
        match text(&name, bytes.to_vec()) {
            Ok(text) => parts.push((name, text)),
            Err(fault) => faults.push(*fault),
        }
    }
    let mut take = |name: &str| {
        let at = parts.iter().position(|(own, _)| own == name)?;
        Some(parts.swap_remove(at).1)
    };
    let table = take(TABLE);
    let [rams, pumps, hoses, packing, currency] = ["rams", "pumps", "hoses", "packing", "currency"].map(&mut take);
    if table.is_none() && faults.is_empty() {
        let fault = Fault::at("#/table", FaultCode::MissingField, "the form has no part `table`");
        faults.push(fault.with_hint("send the table of enquiries as the part `table`"));
    }
    match table {
        Some(table) if faults.is_empty() => {
            Ok(SentTable { table, lists: Sheets { rams, pumps, hoses, packing, currency } })
        }
        _ => Err(Problem::invalid_request(faults)),
    }
}

/// Whether there is nothing but white space outside the boundaries: readers of forms may pass over it, and a list would be lost.
fn is_whole(boundary: &str, body: &[u8]) -> bool {
    let (body, close) = (body.trim_ascii(), format!("\n--{boundary}--"));
    let begins = body.starts_with(format!("--{boundary}\r\n").as_bytes());
    begins && body.windows(close.len()).position(|at| at == close.as_bytes()) == body.len().checked_sub(close.len())
}

/// What is wrong with the name of a part.
fn unexpected(name: &str, parts: &[(String, String)]) -> Option<Fault> {
    if !PARTS.contains(&name) {
        let detail = format!("`{}` is no part of this form", Node::Text(name.to_owned()).shown());
        let fault = Fault::at("#", FaultCode::UnknownField, detail).with_nearest(nearest(name, PARTS.into_iter()));
        return Some(fault.with_hint(format!("the parts are {}", PARTS.join(", "))));
    }
    let twice = parts.iter().any(|(own, _)| own == name);
    twice.then(|| Fault::at(format!("#/{name}"), FaultCode::DuplicateField, format!("the part `{name}` stands twice")))
}

fn text(name: &str, bytes: Vec<u8>) -> Result<String, Box<Fault>> {
    String::from_utf8(bytes).map_err(|_| {
        let place = if name == TABLE { "#".to_owned() } else { format!("#/{name}") };
        let fault = Fault::at(place, FaultCode::MalformedTable, "the table is not in UTF-8");
        Box::new(fault.with_hint("save it as CSV UTF-8"))
    })
}

fn malformed(error: &multer::Error) -> Problem {
    let detail = format!("the form cannot be read: {error}");
    Problem::invalid_request(vec![Fault::at("#", FaultCode::MalformedTable, detail)])
}

#[cfg(test)]
mod tests {
    use super::*;

    fn part(name: &str, text: &str) -> String {
        format!("--x\r\nContent-Disposition: form-data; name=\"{name}\"\r\n\r\n{text}\r\n")
    }

    async fn read(parts: &[(&str, &str)]) -> Result<SentTable, Vec<(String, FaultCode)>> {
        let body: String = parts.iter().map(|(name, text)| part(name, text)).collect();
        form("x".to_owned(), format!("{body}--x--\r\n").into_bytes()).await.map_err(|problem| {
            problem.errors.into_iter().map(|fault| (fault.pointer.unwrap_or_default(), fault.code)).collect()
        })
    }

    #[tokio::test]
    async fn verify_a_form_is_a_table_and_lists() {
        let sent = read(&[("rams", "id\r\na\r\n"), ("table", "load_t\r\n5"), ("currency", "EUR")]).await.unwrap();
        assert_eq!(sent.table, "load_t\r\n5");
        let lists = Sheets { rams: Some("id\r\na\r\n".into()), currency: Some("EUR".into()), ..Sheets::default() };
        assert_eq!(sent.lists, lists);
    }

    #[tokio::test]
    async fn verify_parts_that_do_not_belong_are_named() {
        assert_eq!(read(&[("rams", "id")]).await, Err(vec![("#/table".to_owned(), FaultCode::MissingField)]));
        let wrong = read(&[("table", "a"), ("ram", "b"), ("table", "c"), ("rams", "d"), ("rams", "e")]).await;
        assert_eq!(
            wrong,
            Err(vec![
                ("#".to_owned(), FaultCode::UnknownField),
                ("#/table".to_owned(), FaultCode::DuplicateField),
                ("#/rams".to_owned(), FaultCode::DuplicateField),
            ])
        );
        let many = [("other", "a"); MOST_PARTS + 5];
        assert_eq!(read(&many).await.unwrap_err().len(), MOST_PARTS + 1);
        let outside = [
            format!("{}--x--\r\n{}", part("table", "a"), part("rams", "b")),
            format!("id\r\n{}--x--", part("table", "a")),
        ];
        for text in outside {
            assert!(form("x".to_owned(), text.clone().into_bytes()).await.is_err(), "{text}");
        }
        let broken = form("x".to_owned(), b"no form at all".to_vec()).await.unwrap_err();
        assert_eq!(broken.errors[0].code, FaultCode::MalformedTable);
    }
}
