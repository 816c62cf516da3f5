//! Calculations that are answered as documents and drawings too.

use std::sync::atomic::AtomicBool;

use axum::body::Body;
use axum::http::{HeaderMap, HeaderValue, Method, header};
use axum::response::Response;
use ramwright_api::operation::{PlanLift, VerifyRamSet};
use ramwright_api::problem::{Problem, ProblemCode};
use ramwright_api::{Operation, Prepared};
use ramwright_report::document::Document;
use ramwright_report::drawing::{Look, drawing, names};
use ramwright_report::{Envelope, Material, Style, Subject, Tables, calculation, html, site_sheet};

use super::calculation::{Kept, Output, entity_tag, kept, respond, written};
use crate::audit;
use crate::body::JsonBody;
use crate::problem::Failure;
use crate::state::{AppState, Loaded};
use crate::validate_only::{ValidateOnly, validation};
use crate::view::{Asked, Sheet, Shown, View};

/// A picture by itself asks for nothing.
const DRAWING_POLICY: &str = "default-src 'none'";

/// A calculation whose result documents and drawings are made of.
pub(crate) trait Sheets: Operation<Result: Tables> + 'static {
    /// What the documents are about.
    fn subject<'a>(input: &'a Self::Input, result: &'a Self::Result) -> Subject<'a>;
}

impl Sheets for PlanLift {
    fn subject<'a>(input: &'a Self::Input, result: &'a Self::Result) -> Subject<'a> {
        Subject::of_plan(input, result)
    }
}

impl Sheets for VerifyRamSet {
    fn subject<'a>(input: &'a Self::Input, result: &'a Self::Result) -> Subject<'a> {
        Subject::of_verification(input, result)
    }
}

/// Answers a calculation that was sent as a body.
pub(crate) async fn answer<O: Sheets>(
    state: &AppState,
    asked: &Asked,
    ValidateOnly(validate_only): ValidateOnly,
    body: JsonBody,
) -> Result<Response, Failure> {
    if validate_only {
        return validation::<O>(state, asked.without_view()?, body).await;
    }
    let JsonBody(body) = body;
    let shown = asked.choose()?;
    let catalogues = state.catalogues();
    let calculation = move |stop: &AtomicBool| shown_as(&Prepared::<O>::from_json(&body, &catalogues)?, shown, stop);
    let output = state.pool().calculate(calculation).await?;
    let mut response = respond(shown.view.format(), Body::from(output.bytes), output.policy.as_deref());
    response.headers_mut().insert(header::CACHE_CONTROL, HeaderValue::from_static("no-store"));
    Ok(response)
}

/// Answers a calculation that was asked for by its permalink.
pub(crate) async fn again<O: Sheets>(
    state: &AppState,
    method: &Method,
    headers: &HeaderMap,
    permalink: String,
    asked: &Asked,
) -> Result<Response, Failure> {
    let shown = asked.choose()?;
    let format = shown.view.format();
    let address = format!("{permalink}?{}", shown.name());
    let Loaded { catalogues, digest } = state.loaded();
    let known = Kept { method, headers, format, tag: entity_tag(O::PATH, &address, &digest, format) };
    let read = move || Prepared::<O>::from_permalink(&permalink, &catalogues);
    kept(state, &known, read, move |prepared, stop| shown_as(prepared, shown, stop)).await
}

fn shown_as<O: Sheets>(prepared: &Prepared<O>, shown: Shown, stop: &AtomicBool) -> Result<Output, Problem> {
    match shown.view {
        View::Data(format) => written(prepared, format, stop).map(Output::from),
        View::Drawing(name) => drawn(prepared, name, shown, stop),
        View::Html(sheet) => {
            let page = html(&document(prepared, sheet, shown, stop)?);
            Ok(Output { bytes: page.text.into_bytes(), policy: Some(page.policy) })
        }
        View::Pdf(sheet) => pdf(&document(prepared, sheet, shown, stop)?),
    }
}

fn document<O: Sheets>(
    prepared: &Prepared<O>,
    sheet: Sheet,
    shown: Shown,
    stop: &AtomicBool,
) -> Result<Document, Problem> {
    let answer = audit::computed(prepared, stop)?;
    let subject = O::subject(prepared.input(), &answer.result);
    let envelope = Envelope {
        operation: &answer.operation,
        engine_version: &answer.engine_version,
        defaults: &answer.defaults,
        catalogue: answer.catalogue.as_ref().map(|used| (used.name.as_str(), used.digest.as_str())),
        request: &answer.request,
        request_digest: &answer.request_digest,
        result_digest: &answer.result_digest,
        permalink: answer.permalink.as_deref(),
        assumptions: &answer.assumptions,
        cautions: &answer.cautions,
    };
    let style = Style { units: answer.units, decimal_comma: shown.decimal_comma };
    let material = Material { subject: &subject, envelope, style, paper: shown.paper };
    Ok(match sheet {
        Sheet::Calculation => calculation(&material),
        Sheet::SiteSheet => site_sheet(&material),
    })
}

fn drawn<O: Sheets>(prepared: &Prepared<O>, name: &str, shown: Shown, stop: &AtomicBool) -> Result<Output, Problem> {
    let answer = audit::computed(prepared, stop)?;
    let subject = O::subject(prepared.input(), &answer.result);
    let prefix = format!("{name}-");
    let look = Look { theme: shown.theme, units: answer.units, decimal_comma: shown.decimal_comma, prefix };
    let drawing = drawing(&subject, name, &look).ok_or_else(|| {
        let there = names(&subject).join(", ");
        Problem::new(ProblemCode::NotAcceptable, format!("This lift has no drawing {name}. It has: {there}."))
    })?;
    Ok(Output { bytes: drawing.svg.into_bytes(), policy: Some(DRAWING_POLICY.to_owned()) })
}

#[cfg(feature = "pdf")]
fn pdf(document: &Document) -> Result<Output, Problem> {
    let bytes =
        ramwright_pdf::pdf(document).map_err(|error| Problem::new(ProblemCode::InternalError, error.to_string()))?;
    Ok(Output::from(bytes))
}

#[cfg(not(feature = "pdf"))]
fn pdf(_: &Document) -> Result<Output, Problem> {
    Err(Problem::new(
        ProblemCode::NotAcceptable,
        "This service was built without PDF. Take format=html, which prints as the same pages, or a build with --features pdf.",
    ))
}
