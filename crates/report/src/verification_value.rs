//! One value of a verification as plain text for a cell.

use crate::cell::{number, word};
use crate::cell_value::{CellValue, NONE, Told, UNKNOWN, rounded_up};
use ramwright_engine::check::Check;
use ramwright_engine::verify::{Verdict, Verification};
use ramwright_units::Quantity;

/// Which value.
#[derive(Clone, Copy, Debug, Eq, PartialEq)]
pub enum VerificationValue {
    /// The whole in one sentence.
    Answer,
    /// One word over all checks.
    Verdict,
    /// The check that decides.
    GoverningCheck,
    /// On what it was made.
    GoverningSubject,
    /// Greatest utilisation of any check that says how hard something is worked, in three decimals, rounded up.
    Utilisation,
    /// What the point that carries most carries at most.
    GreatestShare,
    /// Number of packing lifts.
    PackingLifts,
    /// How many checks fail.
    Failed,
    /// How many checks were not made for want of an input.
    NotChecked,
    /// What the deciding check lacks, if it was not made.
    Missing,
    /// The least change by which the deciding check alone would pass, if it fails.
    WouldPass,
    /// The address that computes it again.
    Permalink,
}

impl CellValue for VerificationValue {
    type Result = Verification;
    const ALL: &'static [Self] = &[
        Self::Answer,
        Self::Verdict,
        Self::GoverningCheck,
        Self::GoverningSubject,
        Self::Utilisation,
        Self::GreatestShare,
        Self::PackingLifts,
        Self::Failed,
        Self::NotChecked,
        Self::Missing,
        Self::WouldPass,
        Self::Permalink,
    ];

    fn name(self) -> &'static str {
        match self {
            Self::Answer => "answer",
            Self::Verdict => "verdict",
            Self::GoverningCheck => "governing_check",
            Self::GoverningSubject => "governing_subject",
            Self::Utilisation => "utilisation",
            Self::GreatestShare => "greatest_share",
            Self::PackingLifts => "packing_lifts",
            Self::Failed => "failed",
            Self::NotChecked => "not_checked",
            Self::Missing => "missing",
            Self::WouldPass => "would_pass",
            Self::Permalink => "permalink",
        }
    }

    fn text(self, told: &Told<'_, Verification>) -> String {
        let Verification { checks, load_shares, sequence, .. } = told.result;
        let counts = told.verdict.counts;
        match self {
            Self::Answer => answer(told),
            Self::Verdict => told.verdict(),
            Self::GoverningCheck => told.governing_check(),
            Self::GoverningSubject => {
                let governing = told.verdict.governing.as_ref();
                governing.map_or(NONE, |governing| governing.subject.as_str()).to_owned()
            }
            Self::Utilisation => greatest(checks).map_or_else(|| UNKNOWN.to_owned(), rounded_up),
            Self::GreatestShare => load_shares.heaviest().map_or_else(
                || NONE.to_owned(),
                |point| number(Quantity::from(point.share.greatest).value_in(told.units)),
            ),
            Self::PackingLifts => {
                let lifts = sequence.as_ref().and_then(|sequence| sequence.cycles);
                lifts.map_or_else(|| UNKNOWN.to_owned(), |lifts| lifts.to_string())
            }
            Self::Failed => counts.fail.to_string(),
            Self::NotChecked => counts.not_checked.to_string(),
            Self::Missing => {
                let missing = deciding(told.verdict, checks).map(|check| {
                    let names: Vec<&str> = check.missing.iter().map(ramwright_engine::Text::as_str).collect();
                    names.join("; ")
                });
                missing.filter(|missing| !missing.is_empty()).unwrap_or_else(|| NONE.to_owned())
            }
            Self::WouldPass => {
                let change = deciding(told.verdict, checks).and_then(|check| check.would_pass.as_ref());
                change.map_or(NONE, |change| change.as_str()).to_owned()
            }
            Self::Permalink => told.permalink(),
        }
    }
}

fn greatest(checks: &[Check]) -> Option<f64> {
    let of_force = checks.iter().filter(|check| check.id.measures_load());
    of_force.filter_map(|check| check.utilisation).reduce(f64::max)
}

/// The check that decides.
fn deciding<'a>(verdict: &Verdict, checks: &'a [Check]) -> Option<&'a Check> {
    let governing = verdict.governing.as_ref()?;
    checks.iter().find(|check| {
        check.id == governing.check
            && check.subject == governing.subject
            && check.scenario == governing.scenario
            && check.status == governing.status
    })
}

fn answer(told: &Told<'_, Verification>) -> String {
    let counts = told.verdict.counts;
    let mut parts = vec![told.judged()];
    let some = [
        (counts.fail, word(&ramwright_engine::check::Status::Fail)),
        (counts.not_checked, "not checked".to_owned()),
        (counts.caution, word(&ramwright_engine::check::Status::Caution)),
    ];
    let all = counts.fail + counts.not_checked + counts.caution + counts.pass;
    let told_of: Vec<String> =
        some.iter().filter(|(count, _)| 0 < *count).map(|(count, what)| format!("{count} {what}")).collect();
    if told_of.is_empty() {
        parts.push(format!("all {all} checks pass"));
    } else {
        parts.push(format!("of {all} checks {}", told_of.join(" and ")));
    }
    if let Some(lifts) = told.result.sequence.as_ref().and_then(|sequence| sequence.cycles) {
        parts.push(if lifts == 1 { "1 packing lift".to_owned() } else { format!("{lifts} packing lifts") });
    }
    if 1 < told.result.load_shares.points.len() {
        parts.extend(told.guesses());
    }
    parts.join(", ")
}
