//! How long the sheets of the transformer take, once the lift is worked out.
//!
//! One line of JSON for each: the quickest of several runs, in milliseconds, and the size of what came out.

#![allow(
    clippy::expect_used,
    clippy::print_stdout,
    clippy::disallowed_methods,
    missing_docs,
    reason = "a bench stops at what it does not expect, reads the clock and prints what it measured"
)]

use ramwright_api::Prepared;
use ramwright_api::catalogue::Catalogues;
use ramwright_api::operation::PlanLift;
use ramwright_report::document::{Document, Paper};
use ramwright_report::{Envelope, Material, Style, Subject, calculation, html, site_sheet};
use serde_json::json;
use std::sync::atomic::AtomicBool;
use std::time::Instant;

const TRANSFORMER: &[u8] = include_bytes!("../../../openapi/examples/transformer.json");
/// The quickest of so many runs counts: other work on the machine only makes them slower.
const TRIES: u32 = 20;

fn main() {
    let catalogues = Catalogues::embedded().expect("the built-in catalogue is sound");
    let prepared = Prepared::<PlanLift>::from_json(TRANSFORMER, &catalogues).expect("the example is sound");
    let answer = prepared.compute(&AtomicBool::new(false)).expect("the example has an answer");
    let subject = Subject::of_plan(prepared.input(), &answer.result);
    let envelope = Envelope {
        operation: &answer.operation,
        engine_version: &answer.engine_version,
        defaults: &answer.defaults,
        catalogue: None,
        request: &answer.request,
        request_digest: &answer.request_digest,
        result_digest: &answer.result_digest,
        permalink: answer.permalink.as_deref(),
        assumptions: &answer.assumptions,
        cautions: &answer.cautions,
    };
    let style = Style { units: answer.units, decimal_comma: false };
    let material = Material { subject: &subject, envelope, style, paper: Paper::A4 };
    both("calculation", || calculation(&material));
    both("site_sheet", || site_sheet(&material));
}

/// The sheet in each format that is built in.
fn both(name: &str, sheet: impl Fn() -> Document) {
    tell(name, "html", || html(&sheet()).text.len());
    #[cfg(feature = "pdf")]
    tell(name, "pdf", || ramwright_pdf::pdf(&sheet()).expect("it can be set").len());
}

fn tell(sheet: &str, format: &str, make: impl Fn() -> usize) {
    let mut times = Vec::new();
    let mut bytes = 0;
    for _ in 0..TRIES {
        let start = Instant::now();
        bytes = make();
        times.push(start.elapsed().as_secs_f64() * 1e3);
    }
    let first = times.first().copied().unwrap_or_default();
    let quickest = times.iter().copied().fold(f64::INFINITY, f64::min);
    println!(
        "{}",
        json!({"sheet": sheet, "format": format, "first_ms": first, "quickest_ms": quickest, "bytes": bytes})
    );
}
