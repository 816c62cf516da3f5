//! Whether the plan still stands, in plain words.

use super::together::in_words;
use crate::check::{Check, Status};
use crate::text::Text;
use crate::verify::verdict::Verdict;
use ramwright_units::Force;
use serde::{Deserialize, Serialize};
use utoipa::ToSchema;

/// Whether a plan still stands after what was read.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize, ToSchema)]
#[serde(rename_all = "snake_case")]
pub enum Stands {
    /// Nothing fails and nothing essential is open.
    Yes,
    /// A reading or another check fails.
    No,
    /// Something essential is not known.
    NotKnown,
}

/// What was read of one step.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, ToSchema)]
pub struct StepRead {
    /// Number of the step.
    pub step: u32,
    /// Points at which something was read.
    pub points: Vec<String>,
    /// Points at which nothing was read.
    pub not_read: Vec<String>,
    /// The weight by the pressures, where the load was on its rams and every point was read.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub weighed: Option<Force>,
}

/// What the readings on site make of the plan.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, ToSchema)]
pub struct SiteOutcome {
    /// Whether the plan still stands: `yes` if the verdict is `pass` or `caution`, `no` if it is `fail`.
    pub stands: Stands,
    /// The same in words, for the crew.
    pub words: Text,
    /// What was read, step by step; steps that the sequence does not have are left to the checks.
    pub steps: Vec<StepRead>,
}

/// The outcome under a verdict over all checks, and maybe others.
pub(crate) fn judged(verdict: &Verdict, checks: &[Check], steps: Vec<StepRead>, expected_weight: Force) -> SiteOutcome {
    let of_site: Vec<&Check> = checks.iter().filter(|check| check.id.on_site()).collect();
    let (stands, words) = match verdict.status {
        Status::Fail => (Stands::No, not_standing(verdict, &of_site)),
        Status::NotChecked => (Stands::NotKnown, not_known(&of_site)),
        Status::Pass | Status::Caution => (Stands::Yes, standing(&of_site, &steps, expected_weight)),
    };
    SiteOutcome { stands, words: words.into(), steps }
}

fn with_status<'a>(checks: &'a [&'a Check], status: Status) -> impl Iterator<Item = &'a Check> {
    checks.iter().copied().filter(move |check| check.status == status)
}

/// A check of a reading in words.
fn told(check: &Check) -> String {
    let note = check.note.as_ref().map_or("", Text::as_str);
    if check.subject == "set" { note.to_owned() } else { format!("point {}, {note}", check.subject) }
}

fn not_standing(verdict: &Verdict, of_site: &[&Check]) -> String {
    let mut failed = with_status(of_site, Status::Fail);
    match (failed.next(), failed.count()) {
        (Some(first), 0) => format!("Stop: the lift is not as planned. {}.", told(first)),
        (Some(first), more) => {
            format!("Stop: the lift is not as planned. {}. {more} more of what was read fails.", told(first))
        }
        (None, _) => match &verdict.governing {
            Some(governing) => format!(
                "No reading speaks against the plan, but the plan itself does not stand: the check \"{}\" fails at {}.",
                governing.check.listed().title,
                governing.subject
            ),
            None => "No reading speaks against the plan, but the plan itself does not stand.".to_owned(),
        },
    }
}

fn not_known(of_site: &[&Check]) -> String {
    match with_status(of_site, Status::NotChecked).find(|check| check.id.essential()) {
        Some(open) => {
            let missing: Vec<&str> = open.missing.iter().map(Text::as_str).collect();
            format!("It is not known whether the plan stands, for want of: {}.", missing.join("; "))
        }
        None => "No reading speaks against the plan, but the plan itself was not checked to its end: the checks say what is missing.".to_owned(),
    }
}

fn standing(of_site: &[&Check], steps: &[StepRead], expected_weight: Force) -> String {
    let read: Vec<String> = steps.iter().map(|step| step.step.to_string()).collect();
    let looked_at = with_status(of_site, Status::Caution).count() + with_status(of_site, Status::NotChecked).count();
    let cautions = match looked_at {
        0 => String::new(),
        1 => " One check of the readings needs a look.".to_owned(),
        many => format!(" {many} checks of the readings need a look."),
    };
    let of = if read.len() == 1 { "step" } else { "steps" };
    let weight = steps.iter().rev().find_map(|step| Some((step.step, step.weighed?))).map_or_else(
        || " Nothing was weighed, since no pressure was read while the rams carried the load.".to_owned(),
        |(step, weighed)| format!(" In step {step} the load weighs {}.", in_words(weighed, expected_weight)),
    );
    format!("The plan stands as far as it was read, in {of} {}.{weight}{cautions}", read.join(", "))
}
