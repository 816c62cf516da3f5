//! The quick form of the search for ram sets: one flat address, for a cell of a spreadsheet.

use std::sync::atomic::AtomicBool;

use axum::extract::State;
use axum::http::{HeaderMap, Method, Uri};
use axum::response::Response;
use ramwright_api::operation::SizeRamSet;
use ramwright_api::problem::{Fault, FaultCode, Problem};
use ramwright_api::read::nearest;
use ramwright_api::{Answer, Prepared, quick};
use ramwright_engine::size::Sizing;
use ramwright_report::SizingValue;
use utoipa::IntoParams;
use utoipa::openapi::path::{Parameter, ParameterBuilder, ParameterIn};
use utoipa::openapi::schema::{ObjectBuilder, Type};

use super::calculation::{Kept, entity_tag, kept, written};
use super::problems::QuickProblems;
use crate::audit;
use crate::cell;
use crate::format::{Format, Wanted};
use crate::parameters;
use crate::problem::Failure;
use crate::state::{AppState, Loaded};

const PATH: &str = "/v1/quick/ram-set";

/// The formats of the whole answer, the first for who does not care.
const FORMATS: &[Format] = &[Format::Csv, Format::Json, Format::Text];

/// The parameters, as the description shows them: those that make the request, and those that shape the answer.
struct QuickParameters;

impl IntoParams for QuickParameters {
    fn into_params(_: impl Fn() -> Option<ParameterIn>) -> Vec<Parameter> {
        let format = FORMATS.iter().map(|format| format.name());
        let value = SizingValue::ALL.iter().map(|value| value.name());
        let shapes = [
            choice(
                "format",
                format,
                "csv",
                "Format of the answer; it wins over the header `Accept`. `csv` is the table of the search and the default; `json` is the answer of `POST /v1/ram-sets/size`; `text` is one value, and the default with `value`.",
            ),
            choice(
                "value",
                value,
                "ram",
                "Which value of the recommended ram set to answer as text, without a line end; `answer`, one sentence, by default. Numbers have a decimal point: `utilisation` three decimals, rounded up; `mass` of all rams in kg (`metric`) or lb (`us`); `hire` of all rams for `hire_days` in the currency of the catalogue. Where no set is recommended it is `none`, `verdict` is `fail`, and `answer` says why; what is not known of the set is `unknown`.",
            ),
            choice(
                "errors",
                [cell::CELL].into_iter(),
                "cell",
                "With `cell` a problem of status 4xx is answered with status 200 as one line of text, `#ERROR parameter: what is wrong. what to do.`, since spreadsheets hide the text of any other status.",
            ),
        ];
        quick::parameters().into_iter().chain(shapes).collect()
    }
}

fn choice<'a>(name: &str, words: impl Iterator<Item = &'a str>, example: &str, says: &str) -> Parameter {
    let schema = ObjectBuilder::new().schema_type(Type::String).enum_values(Some(words)).build();
    ParameterBuilder::new()
        .name(name)
        .parameter_in(ParameterIn::Query)
        .description(Some(says))
        .schema(Some(schema))
        .example(Some(example.into()))
        .build()
}

/// Sizes ram sets by plain parameters, for a cell of a spreadsheet.
///
/// The parameters make the request of `POST /v1/ram-sets/size`, and the answer is that of the search: its table, its JSON with
/// the permalink, or one value of the recommended set as text. Quantities carry their unit, as in `load=212 t`.
#[utoipa::path(
    get, path = "/v1/quick/ram-set", tag = "Calculations", params(QuickParameters),
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
    let given = parameters::pairs(&uri);
    let (format, value) = shape(&given, &wanted)?;
    let Loaded { catalogues, digest } = state.loaded();
    let tag = entity_tag(PATH, uri.query().unwrap_or_default(), &digest, format);
    let known = Kept { method: &method, headers: &headers, format, tag };
    let read = move || quick::prepare(&given, &catalogues);
    let write = move |prepared: &Prepared<SizeRamSet>, stop: &AtomicBool| match format {
        Format::Text => {
            let answer = audit::computed(prepared, stop)?;
            let text = value.text(&answer.result, answer.units, answer.permalink.as_deref(), &answer.cautions);
            Ok(text.into_bytes().into())
        }
        _ => written(prepared, format, stop).map(Into::into),
    };
    kept(&state, &known, read, write).await
}

/// The format of the answer, and which value it is if it is text.
fn shape(given: &[(String, String)], wanted: &Wanted) -> Result<(Format, SizingValue), Problem> {
    let text = |name: &str| given.iter().find(|(own, _)| own == name).map(|(_, text)| text.as_str());
    let mut faults = Vec::new();
    if let Some(errors) = text("errors").filter(|errors| *errors != cell::CELL) {
        faults.push(unknown("errors", errors, [cell::CELL].into_iter()));
    }
    let value = text("value").and_then(|name| {
        let known = SizingValue::ALL.iter().copied().find(|value| value.name() == name);
        if known.is_none() {
            faults.push(unknown("value", name, SizingValue::ALL.iter().map(|value| value.name())));
        }
        known
    });
    if value.is_some() && matches!(text("format"), Some("json" | "csv")) {
        let fault = Fault::in_parameter("format", FaultCode::Inconsistent, "one value is answered as text only");
        faults.push(fault.with_hint("leave format out, or leave value out"));
    }
    if !faults.is_empty() {
        return Err(Problem::invalid_request(faults));
    }
    let offered = if value.is_some() { &[Format::Text] } else { FORMATS };
    Ok((wanted.choose(offered)?, value.unwrap_or(SizingValue::Answer)))
}

fn unknown<'a>(name: &str, given: &str, words: impl Iterator<Item = &'a str> + Clone) -> Fault {
    let detail = format!("The parameter {name} takes no such word.");
    let hint = format!("one of {}", words.clone().collect::<Vec<_>>().join(", "));
    let fault = Fault::in_parameter(name, FaultCode::UnknownValue, detail).with_given(given).with_hint(hint);
    fault.with_nearest(nearest(given, words))
}
