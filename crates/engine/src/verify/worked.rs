//! A load case with what every scenario makes of it: worked out once, whichever rams stand under it.

use super::line::restrained;
use super::settings_check::settings_finding;
use super::verdict::{Judged, Verdict};
use crate::check::{CheckId, Scenario, Status};
use crate::defaults::{HORIZONTAL_ACCIDENT_FACTOR, LEVEL_ACCIDENT_FACTOR};
use crate::load::{
    Horizontal, LoadCase, LoadShares, NoEquilibrium, Sharing, Task, envelope_alone, share_load, without_point,
};
use crate::settings::Settings;
use crate::support::LineOfForce;

/// The load acting otherwise than planned.
pub(super) struct Otherwise {
    pub(super) scenario: Scenario,
    pub(super) case: LoadCase,
    pub(super) shares: Result<LoadShares, NoEquilibrium>,
}

/// The load on the points that are left when one is gone.
pub(super) struct Rest {
    pub(super) case: LoadCase,
    pub(super) shares: LoadShares,
}

/// What each point carries as planned, in every scenario, and with each point gone.
pub(crate) struct Worked {
    pub(crate) shares: LoadShares,
    pub(super) otherwise: Vec<Otherwise>,
    /// For each point, the rest if it is known to stand; empty where nothing is raised.
    pub(super) rests: Vec<Option<Rest>>,
}

impl Worked {
    /// Works out every scenario.
    ///
    /// # Errors
    /// [`NoEquilibrium`] at the expected values.
    pub(crate) fn of(case: &LoadCase, settings: &Settings) -> Result<Self, NoEquilibrium> {
        let rests = match case.task {
            Task::Raise => (0..case.points.len()).map(|index| rest(case, index)).collect(),
            Task::Press | Task::Pull => Vec::new(),
        };
        Ok(Self { shares: share_load(case)?, otherwise: otherwise(case, settings), rests })
    }
}

/// What the case alone makes of the verdict on any set: no set can have a better one.
pub(crate) fn status_of_case(case: &LoadCase, line: &LineOfForce, settings: &Settings, worked: &Worked) -> Status {
    let judged = |id: CheckId, status: Status| Judged {
        id,
        subject: "load",
        scenario: Scenario::AsPlanned,
        status,
        utilisation: None,
    };
    let mut known: Vec<Judged<'_>> = worked.shares.checks.iter().map(Judged::from).collect();
    known.push(judged(CheckId::Settings, settings_finding(settings, line.basis.as_ref()).status()));
    for otherwise in &worked.otherwise {
        match &otherwise.shares {
            Err(_) => known.push(judged(CheckId::Tipping, Status::Fail)),
            Ok(shares) => {
                let tipping = shares.checks.iter().filter(|check| check.id == CheckId::Tipping);
                known.extend(tipping.filter(|_| case.task == Task::Raise).map(Judged::from));
            }
        }
    }
    if case.task == Task::Raise {
        known.push(judged(CheckId::Restraint, restrained(case, line, settings).status()));
        // A load that comes down if a point gives way does so on any rams.
        let hangs = worked.rests.iter().any(Option::is_none);
        known.extend(hangs.then(|| judged(CheckId::PointLost, Status::Caution)));
    }
    Verdict::over(known.into_iter()).status
}

fn otherwise(case: &LoadCase, settings: &Settings) -> Vec<Otherwise> {
    let scenarios = [
        (Scenario::LoadHeavier, Some(case.maybe_heavier(settings.heavier_factor))),
        (Scenario::LevelError, case.with_levels_wider(LEVEL_ACCIDENT_FACTOR)),
        (Scenario::HorizontalForce, case.pushed_harder(HORIZONTAL_ACCIDENT_FACTOR)),
    ];
    let known = scenarios.into_iter().filter_map(|(scenario, case)| Some((scenario, case?)));
    known.map(|(scenario, case)| Otherwise { scenario, shares: envelope_alone(&case), case }).collect()
}

/// The load with one point gone, if the others are known to hold it.
fn rest(case: &LoadCase, index: usize) -> Option<Rest> {
    let case = without_point(case, index)?;
    let shares = envelope_alone(&case).ok()?;
    let mut tipping = shares.checks.iter().filter(|check| check.id == CheckId::Tipping);
    let stands = tipping.all(|check| matches!(check.status, Status::Pass | Status::Caution));
    stands.then_some(Rest { case, shares })
}

impl LoadCase {
    /// The same load with levels in a band wider by a factor; nothing where no band is held, since any levels count then.
    fn with_levels_wider(&self, factor: f64) -> Option<Self> {
        let Sharing::Placed(placed) = &self.sharing else { return None };
        let mut uneven = placed.clone();
        uneven.level_band = Some(placed.level_band? * factor);
        Some(Self { sharing: Sharing::Placed(uneven), ..self.clone() })
    }

    /// The same load with a horizontal force greater by a factor; nothing in a frame or where shares are stated or equal.
    fn pushed_harder(&self, factor: f64) -> Option<Self> {
        if self.task != Task::Raise || !matches!(self.sharing, Sharing::Placed(_)) {
            return None;
        }
        let mut pushed = self.clone();
        pushed.actions.horizontal = match self.actions.horizontal {
            Horizontal::AtLeast(share) => Horizontal::AtLeast(share * factor),
            Horizontal::ShareOfWeight(share) => Horizontal::ShareOfWeight(share * factor),
            Horizontal::Stated(force) => Horizontal::Stated(force * factor),
        };
        if let Some(wind) = &mut pushed.actions.wind {
            wind.pressure = wind.pressure * factor;
        }
        Some(pushed)
    }
}
