//! The checks of one set as a search needs them: their outcomes without lines, until one of them refuses the set.

use super::option::CheckSummary;
use crate::check::{Check, CheckId, Finding, NoLines, Place, Scenario, Status};
use crate::text::Text;
use crate::verify::{Judged, Sink, Verdict};

/// A check that refuses a set.
#[derive(Clone, Debug)]
pub(super) struct Refused {
    pub(super) summary: CheckSummary,
    /// The least change that would pass, or what the check says; nothing if there is neither.
    pub(super) change: Option<Text>,
}

/// Outcomes so far.
#[derive(Debug, Default)]
pub(super) struct Tally {
    pub(super) checks: Vec<CheckSummary>,
    pub(super) refused: Option<Refused>,
}

impl Tally {
    /// One word over all checks so far.
    pub(super) fn verdict(&self) -> Verdict {
        Verdict::over(self.checks.iter().map(Judged::from))
    }

    /// Each check where it is worst, in the order in which they were made.
    pub(super) fn worst(&self) -> Vec<CheckSummary> {
        let mut worst: Vec<CheckSummary> = Vec::new();
        for check in &self.checks {
            match worst.iter_mut().find(|so_far| so_far.id == check.id) {
                None => worst.push(check.clone()),
                Some(so_far) if so_far.is_outdone_by(check) => *so_far = check.clone(),
                Some(_) => {}
            }
        }
        worst
    }

    /// The greatest utilisation of any check of force on rams and what stands in line with them.
    pub(super) fn utilisation(&self) -> f64 {
        let forces = self.checks.iter().filter(|check| check.subject != "load" && check.id.measures_load());
        forces.filter_map(|check| check.utilisation).fold(0.0, f64::max)
    }
}

impl Sink for Tally {
    type Book = NoLines;

    fn of_load(&mut self, check: &Check, scenario: Scenario) {
        self.checks.push(CheckSummary { scenario, ..CheckSummary::from(check) });
    }

    fn take(&mut self, place: &Place<'_>, finding: Finding, _book: NoLines) {
        let summary = CheckSummary {
            id: place.id,
            subject: place.subject.to_owned(),
            scenario: place.scenario,
            status: finding.status(),
            utilisation: finding.utilisation(),
        };
        if self.refused.is_none() && summary.status == Status::Fail && !is_of_case(place) {
            self.refused = Some(Refused { summary: summary.clone(), change: finding.change() });
        }
        self.checks.push(summary);
    }

    fn is_full(&self) -> bool {
        self.refused.is_some()
    }
}

/// Whether a check looks at the case alone, so that it refuses no set: no rams cure a load that tips by itself.
fn is_of_case(place: &Place<'_>) -> bool {
    place.subject == "load" || matches!(place.id, CheckId::Restraint | CheckId::Settings | CheckId::Phases)
}

impl Refused {
    /// By a check that was made with its lines.
    pub(super) fn by(check: Check) -> Self {
        Self { summary: CheckSummary::from(&check), change: check.would_pass.or(check.note) }
    }
}
