//! The quick forms of calculations: one flat address for a cell of a spreadsheet, and a table with one enquiry a row.

mod shape;
mod table;

use std::sync::atomic::AtomicBool;

use axum::extract::State;
use axum::http::{HeaderMap, Method, Uri};
use axum::response::Response;
use ramwright_api::operation::{SequencePackingLifts, ShareLoad, SizeRamSet, VerifyRamSet};
use ramwright_api::quick::{self, Enquired};
use ramwright_api::{Answer, Prepared};
use ramwright_engine::load::LoadShares;
use ramwright_engine::packing_lift::PackingSequence;
use ramwright_engine::size::Sizing;
use ramwright_engine::verify::Verification;
use ramwright_report::{CellValue, LoadShareValue, PackingValue, SizingValue, Tables, Told, VerificationValue};

use super::calculation::{Kept, entity_tag, kept, written};
use super::problems::{QuickProblems, TableProblems};
use crate::audit;
use crate::format::{Format, Wanted};
use crate::parameters;
use crate::problem::Failure;
use crate::sent_table::{SentTable, TableForm};
use crate::state::{AppState, Loaded};
use shape::{QuickParameters, Shape, TableParameters, Worded};

type LoadShareParameters = QuickParameters<ShareLoad, LoadShareValue>;
type RamSetParameters = QuickParameters<SizeRamSet, SizingValue>;
type VerificationParameters = QuickParameters<VerifyRamSet, VerificationValue>;
type PackingLiftsParameters = QuickParameters<SequencePackingLifts, PackingValue>;

impl Worded for SizingValue {
    const EXAMPLE: &'static str = "ram";
    const WORDS: &'static str = "Which value of the recommended ram set to answer as text, without a line end; `answer`, one sentence, by default. Numbers have a decimal point unless `decimal` says otherwise: `utilisation` three decimals, rounded up; `mass` of all rams in kg (`metric`) or lb (`us`); `hire` of all rams for `hire_days` in the currency of the catalogue. Where no set is recommended it is `none`, `verdict` is `fail`, and `answer` says why; what is not known of the set is `unknown`.";
}

impl Worded for LoadShareValue {
    const EXAMPLE: &'static str = "greatest";
    const WORDS: &'static str = "Which value of the point that carries most, or of `point`, to answer as text, without a line end; `answer`, one sentence, by default. Forces are in kN (`metric`) or kip (`us`), which `unit` names; `tipping_margin` is in mm or in, and `unknown` where no positions are given. `verdict` is over the load alone, not over any ram.";
}

impl Worded for VerificationValue {
    const EXAMPLE: &'static str = "verdict";
    const WORDS: &'static str = "Which value of the verification to answer as text, without a line end; `answer`, one sentence, by default. `utilisation` is the greatest of any check of force, three decimals, rounded up; `failed` and `not_checked` count checks; `missing` is what the deciding check lacks, `would_pass` the least change by which it alone would pass. What has no place among the parameters, such as the stacks and the ground, stays `not_checked`.";
}

impl Worded for PackingValue {
    const EXAMPLE: &'static str = "lifts";
    const WORDS: &'static str = "Which value of the sequence to answer as text, without a line end; `answer`, one sentence, by default. Where there is no sequence it is `none`, and `reason` and `answer` say why. `mass_handled` is in kg or lb, `greatest_stack` in mm or in, `time` in s. Whether the stacks bear what they carry is checked by a lift plan only.";
}

/// Shares a load by plain parameters, for a cell of a spreadsheet.
///
/// The parameters make the request of `POST /v1/load-shares`, and the answer is that of it: its table, its JSON, or one value.
#[utoipa::path(
    get, path = "/v1/quick/load-share", tag = "Calculations", params(LoadShareParameters),
    responses(
        (status = 200, description = "The shares, or one value.", content((Answer<LoadShares> = "application/json"), (String = "text/csv"), (String = "text/plain"))),
        (status = 304, description = "The client has this answer already: its entity tag was in `If-None-Match`."),
        QuickProblems,
    ),
)]
pub(crate) async fn quick_load_share(
    State(state): State<AppState>,
    method: Method,
    headers: HeaderMap,
    uri: Uri,
    wanted: Wanted,
) -> Result<Response, Failure> {
    one::<ShareLoad, LoadShareValue>(&state, &method, &headers, &uri, &wanted).await
}

/// Sizes ram sets by plain parameters, for a cell of a spreadsheet.
///
/// The parameters make the request of `POST /v1/ram-sets/size`, and the answer is that of the search: its table, its JSON with
/// the permalink, or one value of the recommended set as text. Quantities carry their unit, as in `load=212 t`.
#[utoipa::path(
    get, path = "/v1/quick/ram-set", tag = "Calculations", params(RamSetParameters),
    responses(
        (status = 200, description = "The ram sets, or one value of the recommended one.", content((Answer<Sizing> = "application/json"), (String = "text/csv"), (String = "text/plain"))),
        (status = 304, description = "The client has this answer already: its entity tag was in `If-None-Match`."),
        QuickProblems,
    ),
)]
pub(crate) async fn quick_ram_set(
    State(state): State<AppState>,
    method: Method,
    headers: HeaderMap,
    uri: Uri,
    wanted: Wanted,
) -> Result<Response, Failure> {
    one::<SizeRamSet, SizingValue>(&state, &method, &headers, &uri, &wanted).await
}

/// Verifies rams that are named, by plain parameters, for a cell of a spreadsheet.
///
/// The parameters make the request of `POST /v1/ram-sets/verify`; what has no place among them is `not_checked`.
#[utoipa::path(
    get, path = "/v1/quick/verification", tag = "Calculations", params(VerificationParameters),
    responses(
        (status = 200, description = "The checks, or one value.", content((Answer<Verification> = "application/json"), (String = "text/csv"), (String = "text/plain"))),
        (status = 304, description = "The client has this answer already: its entity tag was in `If-None-Match`."),
        QuickProblems,
    ),
)]
pub(crate) async fn quick_verification(
    State(state): State<AppState>,
    method: Method,
    headers: HeaderMap,
    uri: Uri,
    wanted: Wanted,
) -> Result<Response, Failure> {
    one::<VerifyRamSet, VerificationValue>(&state, &method, &headers, &uri, &wanted).await
}

/// Counts packing lifts by plain parameters, for a cell of a spreadsheet.
///
/// The parameters make the request of `POST /v1/packing-lifts/sequence`, and the answer is that of it.
#[utoipa::path(
    get, path = "/v1/quick/packing-lifts", tag = "Calculations", params(PackingLiftsParameters),
    responses(
        (status = 200, description = "The sequence, or one value.", content((Answer<PackingSequence> = "application/json"), (String = "text/csv"), (String = "text/plain"))),
        (status = 304, description = "The client has this answer already: its entity tag was in `If-None-Match`."),
        QuickProblems,
    ),
)]
pub(crate) async fn quick_packing_lifts(
    State(state): State<AppState>,
    method: Method,
    headers: HeaderMap,
    uri: Uri,
    wanted: Wanted,
) -> Result<Response, Failure> {
    one::<SequencePackingLifts, PackingValue>(&state, &method, &headers, &uri, &wanted).await
}

/// Answers one enquiry.
async fn one<O, V>(
    state: &AppState,
    method: &Method,
    headers: &HeaderMap,
    uri: &Uri,
    wanted: &Wanted,
) -> Result<Response, Failure>
where
    O: Enquired,
    O::Result: Tables,
    V: CellValue<Result = O::Result>,
{
    let given = parameters::pairs(uri);
    let shape = Shape::<V>::read(&given, wanted)?;
    let given = if shape.dialect.decimal_comma { quick::with_points(O::ENQUIRY, given)? } else { given };
    let format = shape.format;
    let Loaded { catalogues, digest } = state.loaded();
    let tag = entity_tag(O::QUICK_PATH, uri.query().unwrap_or_default(), &digest, format);
    let known = Kept { method, headers, format, tag };
    let read = move || quick::prepare::<O>(&given, None, &catalogues);
    let write = move |prepared: &Prepared<O>, stop: &AtomicBool| match format {
        Format::Text => {
            let answer = audit::computed(prepared, stop)?;
            Ok(shape.dialect.value(&shape.value.text(&told(&answer, shape.point))).into_bytes().into())
        }
        Format::Csv => {
            let answer = audit::computed(prepared, stop)?;
            Ok(shape.dialect.table(&answer.result.csv(answer.units)).into_bytes().into())
        }
        _ => written(prepared, format, stop).map(Into::into),
    };
    kept(state, &known, read, write).await
}

/// An answer, as far as a cell may show it.
fn told<R>(answer: &Answer<R>, point: Option<usize>) -> Told<'_, R> {
    Told {
        result: &answer.result,
        verdict: &answer.verdict,
        units: answer.units,
        permalink: answer.permalink.as_deref(),
        cautions: &answer.cautions,
        point,
    }
}

/// Shares the load of every row of a table.
///
/// As `POST /v1/quick/ram-set`, with the parameters of `GET /v1/quick/load-share`.
#[utoipa::path(
    post, path = "/v1/quick/load-share", tag = "Tables", params(TableParameters),
    request_body(content = String, content_type = "text/csv", description = "The table.", example = "note,load_t,points,travel_mm,length_m,width_m\r\nA,64,4,150,3.6,1.9\r\n"),
    responses((status = 200, description = "The table with its answers; text if `errors` asks for it and the table is refused.", content((String = "text/csv"), (String = "text/plain"))), TableProblems),
)]
pub(crate) async fn load_share_table(
    State(state): State<AppState>,
    uri: Uri,
    wanted: Wanted,
    sent: SentTable,
) -> Result<Response, Failure> {
    table::answer::<ShareLoad, LoadShareValue>(state, &uri, &wanted, &sent)
}

/// Sizes ram sets for every row of a table.
///
/// The head names the parameters of `GET /v1/quick/ram-set`: `load` (212 t), `load_t` (212), or `load` (212) beside `load_unit`
/// (t). Columns `note` and `note_...` are carried along. The answer is the same table in the same order, line by line as it is
/// computed, with more columns: `status` (`done`, `problem`, or `blank` for a row without parameters), `message`, and what was
/// found. A row at fault is marked and the rest is done. A table that is sent again with its answers has them replaced.
///
/// In a form (`multipart/form-data`) the part `table` is the table, and `rams`, `pumps`, `hoses` and `packing` are lists in the
/// form of the files of a catalogue, with commas and decimal points. Every row is answered from them, beside the catalogue that
/// the row names or, where it names none, from them alone.
#[utoipa::path(
    post, path = "/v1/quick/ram-set", tag = "Tables", params(TableParameters),
    request_body(description = "The table, alone or in a form with lists of a catalogue beside it.", content((String = "text/csv", example = "note,load_t,points,travel_mm,clearance_mm\r\nA,96,4,60,290\r\nB,40,4,60,290\r\n"), (TableForm = "multipart/form-data"))),
    responses((status = 200, description = "The table with its answers; text if `errors` asks for it and the table is refused.", content((String = "text/csv"), (String = "text/plain"))), TableProblems),
)]
pub(crate) async fn ram_set_table(
    State(state): State<AppState>,
    uri: Uri,
    wanted: Wanted,
    sent: SentTable,
) -> Result<Response, Failure> {
    table::answer::<SizeRamSet, SizingValue>(state, &uri, &wanted, &sent)
}

/// Verifies the rams of every row of a table.
///
/// As `POST /v1/quick/ram-set`, with the parameters of `GET /v1/quick/verification`.
#[utoipa::path(
    post, path = "/v1/quick/verification", tag = "Tables", params(TableParameters),
    request_body(description = "The table, alone or in a form with lists of a catalogue beside it.", content((String = "text/csv", example = "note,load_t,points,travel_mm,clearance_mm,ram,count\r\nA,96,4,60,290,willow-01,1\r\n"), (TableForm = "multipart/form-data"))),
    responses((status = 200, description = "The table with its answers; text if `errors` asks for it and the table is refused.", content((String = "text/csv"), (String = "text/plain"))), TableProblems),
)]
pub(crate) async fn verification_table(
    State(state): State<AppState>,
    uri: Uri,
    wanted: Wanted,
    sent: SentTable,
) -> Result<Response, Failure> {
    table::answer::<VerifyRamSet, VerificationValue>(state, &uri, &wanted, &sent)
}

/// Counts the packing lifts of every row of a table.
///
/// As `POST /v1/quick/ram-set`, with the parameters of `GET /v1/quick/packing-lifts`.
#[utoipa::path(
    post, path = "/v1/quick/packing-lifts", tag = "Tables", params(TableParameters),
    request_body(description = "The table, alone or in a form with lists of a catalogue beside it.", content((String = "text/csv", example = "note,load_t,points,travel_mm,clearance_mm,ram\r\nA,84,3,180,290,willow-01\r\n"), (TableForm = "multipart/form-data"))),
    responses((status = 200, description = "The table with its answers; text if `errors` asks for it and the table is refused.", content((String = "text/csv"), (String = "text/plain"))), TableProblems),
)]
pub(crate) async fn packing_lifts_table(
    State(state): State<AppState>,
    uri: Uri,
    wanted: Wanted,
    sent: SentTable,
) -> Result<Response, Failure> {
    table::answer::<SequencePackingLifts, PackingValue>(state, &uri, &wanted, &sent)
}
