//! One lift on paper, from its title to its cautions.

use super::figures::{counted, figures, loud, utilisation, word};
use super::page::Page;
use super::{checks, circuit, rams, sequence, shares};
use ramwright_api::Answer;
use ramwright_engine::plan::LiftPlan;
use ramwright_engine::remark::{Assumption, Caution};
use ramwright_engine::verify::Verdict;
use ramwright_units::Profile;
use serde_json::Value;

/// The whole sheet of one answer.
pub(super) fn sheet(answer: &Answer<LiftPlan>, label: &str) -> String {
    let plan = &answer.result;
    let units = answer.units;
    let mut page = Page::default();
    title(&mut page, answer, label);
    verdict(&mut page, &answer.verdict);
    asked(&mut page, &answer.request);
    rams::used(&mut page, plan);
    checks::bad_news(&mut page, plan, units);
    if let Some(of_points) = shares::of(plan) {
        shares::write(&mut page, of_points, units);
    }
    if let Some(sizing) = &plan.sizing {
        rams::options(&mut page, sizing, units);
        rams::refused(&mut page, sizing);
    }
    checks::all(&mut page, plan, units);
    checks::margins(&mut page, plan);
    if let Some(packing) = plan.verification.as_ref().and_then(|verification| verification.sequence.as_ref()) {
        sequence::write(&mut page, packing, units);
    }
    if let Some(assessment) = &plan.circuit {
        circuit::write(&mut page, assessment, plan.circuit_used.as_ref(), units);
    }
    assumed(&mut page, &answer.assumptions, units);
    cautions(&mut page, &answer.cautions);
    again(&mut page, answer);
    page.into_text()
}

fn title(page: &mut Page, answer: &Answer<LiftPlan>, label: &str) {
    let title = answer.request.get("title").and_then(Value::as_str).unwrap_or("without a title");
    page.rule();
    page.hanging(&format!("{label}  "), title);
    page.whole(&"=".repeat(super::page::WIDTH));
}

fn verdict(page: &mut Page, verdict: &Verdict) {
    let counts = verdict.counts;
    page.blank();
    page.hanging(
        "VERDICT     ",
        &format!(
            "{}   (checks: {} pass, {} caution, {} not checked, {} fail)",
            loud(&verdict.status),
            counts.pass,
            counts.caution,
            counts.not_checked,
            counts.fail
        ),
    );
    let decided = match &verdict.governing {
        Some(governing) => {
            let used =
                governing.utilisation.map_or_else(String::new, |value| format!(", utilisation {}", utilisation(value)));
            format!(
                "{}, {}, {}: {}{used}",
                word(&governing.check),
                checks::place(&governing.subject),
                word(&governing.scenario),
                loud(&governing.status)
            )
        }
        None => "nothing in the catalogue fits".to_owned(),
    };
    page.hanging("DECIDED BY  ", &decided);
}

/// What was asked for, in the sender's own units.
fn asked(page: &mut Page, request: &Value) {
    let field = |name: &str| request.pointer(&format!("/load_case/{name}"));
    let task = field("task").and_then(Value::as_str).unwrap_or("raise");
    let points = field("points").and_then(Value::as_array).map_or(0, Vec::len);
    let weight = field("weight").and_then(sent).map_or_else(String::new, |weight| format!("{weight}, "));
    let travel = field("travel").and_then(sent).unwrap_or_else(|| "unknown".to_owned());
    let on = counted(points, "point", "points");
    page.hanging("ASKED       ", &format!("{task}: {weight}{on}, travel {travel}"));
}

/// A quantity of a request as it was understood.
fn sent(value: &Value) -> Option<String> {
    Some(format!("{} {}", figures(value.get("value")?.as_f64()?), value.get("unit")?.as_str()?))
}

fn assumed(page: &mut Page, assumptions: &[Assumption], units: Profile) {
    page.heading("ASSUMED, because the request does not say");
    // Many points make one assumption many times; it is said once.
    let mut seen: Vec<(&str, Option<String>)> = Vec::new();
    for assumption in assumptions {
        let value = assumption.value.map(|value| super::figures::quantity(value, units));
        let entry = (assumption.text.as_str(), value.clone());
        if seen.contains(&entry) {
            continue;
        }
        seen.push(entry);
        let value = value.map_or_else(String::new, |value| format!(": {value}"));
        page.hanging("  - ", &format!("{}{value}  [{}]", assumption.text, word(&assumption.source.standing)));
    }
}

fn cautions(page: &mut Page, cautions: &[Caution]) {
    page.heading("CAUTIONS");
    for caution in cautions {
        page.hanging("  ! ", caution.text.as_str());
    }
}

fn again(page: &mut Page, answer: &Answer<LiftPlan>) {
    page.heading("THE SAME AGAIN");
    page.hanging("  request  ", &answer.request_digest);
    page.hanging("  result   ", &answer.result_digest);
    match &answer.permalink {
        // One unbroken line, so that it can be copied.
        Some(permalink) => {
            page.under("Address that computes it again, on any service of this version:");
            page.whole(permalink);
        }
        None => page.under(&format!("no address: {}", answer.permalink_note.as_deref().unwrap_or("no reason given"))),
    }
}
