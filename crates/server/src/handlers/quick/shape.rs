//! The parameters of a quick form that shape its answer and are no part of the request.

use std::marker::PhantomData;

use ramwright_api::problem::{Fault, FaultCode, Problem};
use ramwright_api::quick::{self, Enquired, Enquiry};
use ramwright_api::read::nearest;
use ramwright_report::{CellValue, Dialect};
use utoipa::IntoParams;
use utoipa::openapi::path::{Parameter, ParameterBuilder, ParameterIn};
use utoipa::openapi::schema::{ObjectBuilder, Type};

use crate::cell;
use crate::format::{Format, Wanted};
use crate::parameters::said;

/// The formats of the whole answer, the first for who does not care.
pub(super) const FORMATS: &[Format] = &[Format::Csv, Format::Json, Format::Text];

const DECIMALS: [(&str, bool); 2] = [("point", false), ("comma", true)];
const DIALECTS: [(&str, bool); 2] = [("full", false), ("plain", true)];

const FORMAT_WORDS: &str = "Format of the answer; it wins over the header `Accept`. `csv` is the table of the calculation and the default; `json` is the answer of its `POST`; `text` is one value, and the default with `value`.";
const ERRORS_WORDS: &str = "With `cell` a problem of status 4xx is answered with status 200 as one line of text, `#ERROR parameter: what is wrong. what to do.`, since spreadsheets hide the text of any other status.";
const DECIMAL_WORDS: &str = "With `comma` numbers have a decimal comma, those of the request and those of text and CSV, and semicolons stand between cells. A number with a point is then refused. JSON and sentences keep the point.";
const DIALECT_WORDS: &str = "With `plain` text and CSV have no quotes, no commas or line ends within a cell (they become spaces), and ASCII only, for functions that split text and know no quotes.";
const POINT_WORDS: &str =
    "The number of the point whose share is answered as text; the one that carries most by default.";

/// The parameters of the quick form of a calculation, as the description shows them.
pub(super) struct QuickParameters<O, V>(PhantomData<(O, V)>);

impl<O: Enquired, V: CellValue<Result = O::Result> + Worded> IntoParams for QuickParameters<O, V> {
    fn into_params(_: impl Fn() -> Option<ParameterIn>) -> Vec<Parameter> {
        let formats = FORMATS.iter().map(|format| format.name());
        let values = V::ALL.iter().map(|value| value.name());
        let mut shapes = vec![
            choice("format", formats, "csv", FORMAT_WORDS),
            choice("value", values, V::EXAMPLE, V::WORDS),
            choice("errors", [cell::CELL].into_iter(), cell::CELL, ERRORS_WORDS),
        ];
        shapes.extend(dialect_parameters());
        if O::ENQUIRY == Enquiry::LoadShare {
            let schema = ObjectBuilder::new().schema_type(Type::Integer).minimum(Some(1)).build();
            shapes.push(parameter("point", POINT_WORDS).schema(Some(schema)).example(Some(1.into())).build());
        }
        quick::parameters(O::ENQUIRY).into_iter().chain(shapes).collect()
    }
}

/// The parameters of a table that is sent.
pub(super) struct TableParameters;

impl IntoParams for TableParameters {
    fn into_params(_: impl Fn() -> Option<ParameterIn>) -> Vec<Parameter> {
        let errors = choice("errors", [cell::CELL].into_iter(), cell::CELL, ERRORS_WORDS);
        std::iter::once(errors).chain(dialect_parameters()).collect()
    }
}

/// What the description says of the values of an answer.
pub(super) trait Worded {
    const EXAMPLE: &'static str;
    const WORDS: &'static str;
}

fn dialect_parameters() -> [Parameter; 2] {
    [
        choice("decimal", DECIMALS.iter().map(|(word, _)| *word), "comma", DECIMAL_WORDS),
        choice("dialect", DIALECTS.iter().map(|(word, _)| *word), "plain", DIALECT_WORDS),
    ]
}

fn parameter(name: &str, says: &str) -> ParameterBuilder {
    ParameterBuilder::new().name(name).parameter_in(ParameterIn::Query).description(Some(says))
}

fn choice<'a>(name: &str, words: impl Iterator<Item = &'a str>, example: &str, says: &str) -> Parameter {
    let schema = ObjectBuilder::new().schema_type(Type::String).enum_values(Some(words)).build();
    parameter(name, says).schema(Some(schema)).example(Some(example.into())).build()
}

/// What an answer is to look like.
pub(super) struct Shape<V> {
    pub(super) format: Format,
    pub(super) value: V,
    pub(super) dialect: Dialect,
    /// The number of the point asked for, from 1.
    pub(super) point: Option<usize>,
}

impl<V: CellValue> Shape<V> {
    /// Reads the shape of an answer out of the parameters.
    ///
    /// # Errors
    /// A word that no parameter takes, words that do not go together, or a format that the answer does not have.
    pub(super) fn read(given: &[(String, String)], wanted: &Wanted) -> Result<Self, Problem> {
        let mut faults = Vec::new();
        check_errors(given, &mut faults);
        let values: Vec<(&str, V)> = V::ALL.iter().map(|value| (value.name(), *value)).collect();
        let value = word(given, "value", &values, &mut faults);
        let dialect = read_dialect(given, &mut faults);
        let point = point(given, &mut faults);
        if value.is_some() && matches!(said(given, "format"), Some("json" | "csv")) {
            let fault = Fault::in_parameter("format", FaultCode::Inconsistent, "one value is answered as text only");
            faults.push(fault.with_hint("leave format out, or leave value out"));
        }
        if !faults.is_empty() {
            return Err(Problem::invalid_request(faults));
        }
        let offered = if value.is_some() { &[Format::Text] } else { FORMATS };
        let format = wanted.choose(offered)?;
        if format == Format::Json && said(given, "dialect").is_some() {
            let fault = Fault::in_parameter("dialect", FaultCode::Inconsistent, "JSON has one dialect only");
            return Err(Problem::invalid_request(vec![fault.with_hint("leave it out, or ask for another format")]));
        }
        let whole = *V::ALL.first().ok_or_else(|| Problem::new(INTERNAL, "An answer without values."))?;
        Ok(Self { format, value: value.unwrap_or(whole), dialect, point })
    }
}

const INTERNAL: ramwright_api::problem::ProblemCode = ramwright_api::problem::ProblemCode::InternalError;

/// The dialect of a table, where nothing else shapes it.
///
/// # Errors
/// A word that no parameter takes.
pub(super) fn dialect(given: &[(String, String)]) -> Result<Dialect, Problem> {
    let mut faults = Vec::new();
    check_errors(given, &mut faults);
    let dialect = read_dialect(given, &mut faults);
    if faults.is_empty() { Ok(dialect) } else { Err(Problem::invalid_request(faults)) }
}

fn read_dialect(given: &[(String, String)], faults: &mut Vec<Fault>) -> Dialect {
    Dialect {
        decimal_comma: word(given, "decimal", &DECIMALS, faults).unwrap_or(false),
        plain: word(given, "dialect", &DIALECTS, faults).unwrap_or(false),
    }
}

fn check_errors(given: &[(String, String)], faults: &mut Vec<Fault>) {
    if let Some(errors) = said(given, "errors").filter(|errors| *errors != cell::CELL) {
        faults.push(unknown("errors", errors, [cell::CELL].into_iter()));
    }
}

fn word<T: Copy>(given: &[(String, String)], name: &str, words: &[(&str, T)], faults: &mut Vec<Fault>) -> Option<T> {
    let text = said(given, name)?;
    let found = words.iter().find(|(word, _)| *word == text);
    if found.is_none() {
        faults.push(unknown(name, text, words.iter().map(|(word, _)| *word)));
    }
    found.map(|(_, value)| *value)
}

/// The point asked for, which must be one of those that there are.
fn point(given: &[(String, String)], faults: &mut Vec<Fault>) -> Option<usize> {
    let text = said(given, "point")?;
    // What is wrong with `points` is said by its own reader.
    let points = said(given, "points").and_then(|points| points.trim().parse::<usize>().ok()).unwrap_or(usize::MAX);
    match text.trim().parse::<usize>() {
        Ok(point) if (1..=points).contains(&point) => Some(point),
        Ok(_) => {
            let detail = "there is no point of this number";
            faults.push(Fault::in_parameter("point", FaultCode::UnknownId, detail).with_given(text));
            None
        }
        Err(_) => {
            let detail = "the number of a point is wanted here";
            faults.push(Fault::in_parameter("point", FaultCode::WrongType, detail).with_given(text));
            None
        }
    }
}

fn unknown<'a>(name: &str, given: &str, words: impl Iterator<Item = &'a str> + Clone) -> Fault {
    let detail = format!("The parameter {name} takes no such word.");
    let hint = format!("one of {}", words.clone().collect::<Vec<_>>().join(", "));
    let fault = Fault::in_parameter(name, FaultCode::UnknownValue, detail).with_given(given).with_hint(hint);
    fault.with_nearest(nearest(given, words))
}
