//! Documents to print, made from the committed examples of requests.

use ramwright_api::operation::PlanLift;
use ramwright_api::{Catalogues, Prepared};
use ramwright_report::document::Paper;
use ramwright_report::{Envelope, Material, Style, Subject};
use std::path::Path;
use std::sync::atomic::AtomicBool;

/// What the sheets of an example are made from, given to whoever makes them.
pub(crate) fn with_material<T>(example: &str, paper: Paper, make: impl FnOnce(&Material<'_>) -> T) -> T {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("../../openapi/examples");
    let body = std::fs::read(folder.join(format!("{example}.json"))).unwrap();
    let prepared = Prepared::<PlanLift>::from_json(&body, &Catalogues::embedded().unwrap()).unwrap();
    let answer = prepared.compute(&AtomicBool::new(false)).unwrap();
    let subject = Subject::of_plan(prepared.input(), &answer.result);
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
    let style = Style { units: answer.units, decimal_comma: false };
    make(&Material { subject: &subject, envelope, style, paper })
}
