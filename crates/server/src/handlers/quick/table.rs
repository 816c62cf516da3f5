//! A table with one enquiry a row, answered line by line as each row is computed.

use std::convert::Infallible;
use std::pin::Pin;
use std::sync::Arc;
use std::sync::atomic::AtomicBool;
use std::task::{Context, Poll};
use std::time::Instant;

use axum::body::{Body, Bytes, HttpBody};
use axum::http::{HeaderValue, Uri, header};
use axum::response::Response;
use hyper::body::Frame;
use ramwright_api::Answer;
use ramwright_api::catalogue::{Carried, Catalogues, Sheets};
use ramwright_api::problem::{Fault, FaultCode, Problem, ProblemCode};
use ramwright_api::quick::rows::Rows;
use ramwright_api::quick::{self, Enquired, Enquiry};
use ramwright_report::{CellValue, Dialect, LoadShareValue, PackingValue, SizingValue, VerificationValue};
use tokio::sync::mpsc::{Receiver, Sender, channel};

use super::{shape, told};
use crate::cell;
use crate::format::{Format, Wanted};
use crate::handlers::calculation::respond;
use crate::parameters;
use crate::problem::Failure;
use crate::sent_table::SentTable;
use crate::state::AppState;

/// Lines that may wait for the client; a client that reads slowly holds up its own table only.
const LINES_AHEAD: usize = 16;

/// What is in every answer before the values of its own kind.
const FIRST: [&str; 5] = ["status", "message", "verdict", "governing_check", "answer"];
/// What is in every answer after them.
const LAST: [&str; 3] = ["engine_version", "request_digest", "permalink"];

/// The columns of an answer that are of its own kind: head and value. No head is the name of a parameter.
pub(super) trait OwnColumns: CellValue {
    const OWN: &'static [(&'static str, Self)];
}

impl OwnColumns for SizingValue {
    const OWN: &'static [(&'static str, Self)] = &[
        ("rams", Self::Rams),
        ("ram_model", Self::Ram),
        ("lifts", Self::PackingLifts),
        ("utilisation", Self::Utilisation),
        ("cost", Self::Cost),
        ("circuit", Self::Circuit),
        ("reason", Self::Reason),
    ];
}

impl OwnColumns for LoadShareValue {
    const OWN: &'static [(&'static str, Self)] = &[
        ("worst_point", Self::Point),
        ("least", Self::Least),
        ("expected", Self::Expected),
        ("greatest", Self::Greatest),
        ("force_unit", Self::Unit),
        ("method", Self::Method),
    ];
}

impl OwnColumns for VerificationValue {
    const OWN: &'static [(&'static str, Self)] = &[
        ("governing_subject", Self::GoverningSubject),
        ("utilisation", Self::Utilisation),
        ("failed", Self::Failed),
        ("not_checked", Self::NotChecked),
        ("missing", Self::Missing),
        ("would_pass", Self::WouldPass),
        ("lifts", Self::PackingLifts),
    ];
}

impl OwnColumns for PackingValue {
    const OWN: &'static [(&'static str, Self)] = &[
        ("lifts", Self::Lifts),
        ("outcome", Self::Outcome),
        ("ending", Self::Ending),
        ("pieces", Self::Pieces),
        ("pieces_handled", Self::PiecesHandled),
        ("utilisation", Self::Utilisation),
        ("reason", Self::Reason),
    ];
}

fn heads<V: OwnColumns>() -> Vec<&'static str> {
    FIRST.into_iter().chain(V::OWN.iter().map(|(head, _)| *head)).chain(LAST).collect()
}

/// Begins to answer a table; its lines follow as they are computed.
pub(super) fn answer<O, V>(state: AppState, uri: &Uri, wanted: &Wanted, sent: &SentTable) -> Result<Response, Failure>
where
    O: Enquired,
    V: OwnColumns + CellValue<Result = O::Result>,
{
    wanted.choose(&[Format::Csv])?;
    let dialect = shape::dialect(&parameters::pairs(uri))?;
    let rows = Rows::read(O::ENQUIRY, &sent.table, dialect.decimal_comma, &heads::<V>())?;
    if O::ENQUIRY == Enquiry::LoadShare && sent.lists != Sheets::default() {
        let fault = Fault::at("#", FaultCode::UnknownField, "how a load is shared hangs on no list");
        return Err(Problem::invalid_request(vec![fault.with_hint("send the table alone")]).into());
    }
    let carried = Carried::read(&sent.lists)?.map(Arc::new);
    let busy = || Problem::new(ProblemCode::Overloaded, "As many tables as may be are being answered.");
    let place = state.table_place().ok_or_else(busy)?;
    let (sender, receiver) = channel(LINES_AHEAD);
    tokio::spawn(async move {
        write::<O, V>(state, rows, carried, dialect, sender).await;
        drop(place);
    });
    let mut response = respond(Format::Csv, Body::new(Lines(receiver)), None);
    response.headers_mut().insert(header::CACHE_CONTROL, HeaderValue::from_static("no-store"));
    Ok(response)
}

/// Writes head and rows until all are done or nobody reads them any more.
async fn write<O, V>(state: AppState, rows: Rows, carried: Option<Arc<Carried>>, dialect: Dialect, lines: Sender<Bytes>)
where
    O: Enquired,
    V: OwnColumns + CellValue<Result = O::Result>,
{
    let added = heads::<V>();
    let head = dialect.line(rows.heads().chain(added.iter().map(|head| (*head).to_owned())));
    if lines.send(head.into()).await.is_err() {
        return;
    }
    // A table is answered from one reading of the catalogues, whatever is loaded meanwhile.
    let catalogues = state.catalogues();
    for row in 0..rows.len() {
        let found = tokio::select! {
            found = computed::<O, V>(&state, &catalogues, carried.as_ref(), rows.given(row)) => found,
            () = lines.closed() => return,
        };
        let mut cells = match found {
            Ok(Some(values)) => ["done".to_owned(), String::new()].into_iter().chain(values).collect(),
            Ok(None) => vec!["blank".to_owned()],
            Err(problem) => {
                state.metrics().problem(problem.code);
                vec!["problem".to_owned(), cell::text(&problem)]
            }
        };
        cells.resize(added.len(), String::new());
        let line = dialect.line(rows.cells(row).chain(cells.into_iter().map(|cell| dialect.value(&cell))));
        if lines.send(line.into()).await.is_err() {
            return;
        }
    }
}

/// The cells of a row after `status` and `message`, computed when its turn has come; nothing if the row is blank.
async fn computed<O, V>(
    state: &AppState,
    catalogues: &Arc<Catalogues>,
    carried: Option<&Arc<Carried>>,
    given: Result<Option<Vec<(String, String)>>, Problem>,
) -> Result<Option<Vec<String>>, Problem>
where
    O: Enquired,
    V: OwnColumns + CellValue<Result = O::Result>,
{
    let Some(given) = given? else { return Ok(None) };
    let (catalogues, carried, metrics) = (Arc::clone(catalogues), carried.cloned(), Arc::clone(state.metrics()));
    let calculation = move |stop: &AtomicBool| {
        let prepared = quick::prepare::<O>(&given, carried.as_deref(), &catalogues)?;
        let begun = Instant::now();
        let answer = prepared.compute(stop)?;
        metrics.calculated(O::NAME, answer.verdict.status, begun.elapsed().as_secs_f64());
        Ok(values::<V>(&answer))
    };
    state.pool().calculate_in_turn(calculation).await.map(Some)
}

fn values<V: OwnColumns>(answer: &Answer<V::Result>) -> Vec<String> {
    let told = told(answer, None);
    let named = |name: &str| {
        let value = V::ALL.iter().find(|value| value.name() == name);
        value.map(|value| value.text(&told)).unwrap_or_default()
    };
    let first = ["verdict", "governing_check", "answer"].into_iter().map(named);
    let own = V::OWN.iter().map(|(_, value)| value.text(&told));
    let last = [answer.engine_version.clone(), answer.request_digest.clone(), named("permalink")];
    first.chain(own).chain(last).collect()
}

/// The lines of a table as a body.
struct Lines(Receiver<Bytes>);

impl HttpBody for Lines {
    type Data = Bytes;
    type Error = Infallible;

    fn poll_frame(
        mut self: Pin<&mut Self>,
        context: &mut Context<'_>,
    ) -> Poll<Option<Result<Frame<Bytes>, Infallible>>> {
        self.0.poll_recv(context).map(|line| line.map(|line| Ok(Frame::data(line))))
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use ramwright_api::quick::PARAMETERS;

    #[test]
    fn verify_no_added_column_is_called_like_a_parameter_or_another() {
        for heads in
            [heads::<SizingValue>(), heads::<LoadShareValue>(), heads::<VerificationValue>(), heads::<PackingValue>()]
        {
            for (at, head) in heads.iter().enumerate() {
                assert!(PARAMETERS.iter().all(|parameter| parameter.name != *head), "{head}");
                assert!(!heads[..at].contains(head), "{head}");
            }
        }
    }
}
