//! One word over all checks.

use crate::check::{Check, CheckId, Scenario, Status};
use serde::{Deserialize, Serialize};
use utoipa::ToSchema;

/// The check that decides.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, ToSchema)]
pub struct Governing {
    /// Which check.
    pub check: CheckId,
    /// On what.
    pub subject: String,
    /// In which case.
    pub scenario: Scenario,
    /// Its status.
    pub status: Status,
    /// Its utilisation, where it has one.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub utilisation: Option<f64>,
}

/// How many checks have which status.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Serialize, Deserialize, ToSchema)]
pub struct Counts {
    /// Passed.
    pub pass: u32,
    /// Passed with a caution.
    pub caution: u32,
    /// Not checked, because an input is missing.
    pub not_checked: u32,
    /// Failed.
    pub fail: u32,
}

/// The verdict over a list of checks.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, ToSchema)]
pub struct Verdict {
    /// `fail` if any check fails; else `not_checked` if something essential was not checked; else `caution` or `pass`.
    pub status: Status,
    /// The check that decides: the worst status, and of those the greatest utilisation.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub governing: Option<Governing>,
    /// How many checks have which status.
    pub counts: Counts,
}

/// What a verdict needs to know of a check.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Judged<'a> {
    pub(crate) id: CheckId,
    pub(crate) subject: &'a str,
    pub(crate) scenario: Scenario,
    pub(crate) status: Status,
    pub(crate) utilisation: Option<f64>,
}

impl<'a> From<&'a Check> for Judged<'a> {
    fn from(check: &'a Check) -> Self {
        Self {
            id: check.id,
            subject: &check.subject,
            scenario: check.scenario,
            status: check.status,
            utilisation: check.utilisation,
        }
    }
}

impl Judged<'_> {
    /// How near it is to its limit, among checks of one status.
    fn rank(&self) -> f64 {
        let counts = self.id.measures_load() || self.status == Status::Fail;
        self.utilisation.filter(|_| counts).unwrap_or(0.0)
    }

    /// What the check does to the verdict: something not essential that was not checked is a caution.
    fn weight(&self) -> Status {
        match self.status {
            Status::NotChecked if !self.id.essential() => Status::Caution,
            status => status,
        }
    }
}

impl Verdict {
    /// The verdict over a list of checks; nothing checked is not a pass.
    pub(crate) fn over<'a>(checks: impl Iterator<Item = Judged<'a>>) -> Self {
        let mut counts = Counts::default();
        let mut worst: Option<(Status, f64, Judged<'a>)> = None;
        for check in checks {
            match check.status {
                Status::Pass => counts.pass += 1,
                Status::Caution => counts.caution += 1,
                Status::NotChecked => counts.not_checked += 1,
                Status::Fail => counts.fail += 1,
            }
            let (status, utilisation) = (check.weight(), check.rank());
            let worse = worst.as_ref().is_none_or(|(so_far, most, _)| {
                status > *so_far || (status == *so_far && clearly_more(utilisation, *most))
            });
            if worse {
                worst = Some((status, utilisation, check));
            }
        }
        Self {
            status: worst.map_or(Status::NotChecked, |(status, ..)| status),
            governing: worst.map(|(_, _, check)| Governing {
                check: check.id,
                subject: check.subject.to_owned(),
                scenario: check.scenario,
                status: check.status,
                utilisation: check.utilisation,
            }),
            counts,
        }
    }

    /// The verdict where nothing in the yard fits.
    pub fn nothing_fits() -> Self {
        Self { status: Status::Fail, governing: None, counts: Counts::default() }
    }

    /// The verdict over whole checks.
    pub fn of(checks: &[Check]) -> Self {
        Self::over(checks.iter().map(Judged::from))
    }
}

/// More by more than rounding, so that among equals the first stays, whatever the units were.
fn clearly_more(utilisation: f64, most: f64) -> bool {
    most + 1e-9 * most.abs().max(1.0) < utilisation
}
