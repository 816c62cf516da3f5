//! What happens when the load is heavier than stated, when levels or horizontal forces go beyond what was planned, and when
//! a ram or a point is lost. Each of these is an accident: the whole capacity may be used, the stop pressure adds nothing.

mod lost;

pub(super) use lost::lost_in_turn;

use super::raise::Raise;
use super::rules::{no_equilibrium, worst_of};
use super::station::{Context, Reserve};
use crate::check::{Check, CheckId, Scenario};
use crate::defaults::{HORIZONTAL_ACCIDENT_FACTOR, LEVEL_ACCIDENT_FACTOR};
use crate::load::{LoadCase, Task, envelope_alone};

/// The three scenarios in which the whole load acts otherwise than planned.
pub(super) fn load_otherwise(context: Context<'_>, raise: &Raise) -> Vec<Check> {
    let heavier = Some(context.case.maybe_heavier(context.settings.heavier_factor));
    let uneven = context.case.with_levels_wider(LEVEL_ACCIDENT_FACTOR);
    let pushed = context.case.pushed_harder(HORIZONTAL_ACCIDENT_FACTOR);
    let scenarios =
        [(Scenario::LoadHeavier, heavier), (Scenario::LevelError, uneven), (Scenario::HorizontalForce, pushed)];
    scenarios
        .into_iter()
        .filter_map(|(scenario, case)| Some((scenario, case?)))
        .flat_map(|(scenario, case)| of_case(Context { case: &case, ..context }, raise, scenario))
        .collect()
}

/// Everything that the forces decide, at the point where it is worst, and what the load as a whole then does.
fn of_case(context: Context<'_>, raise: &Raise, scenario: Scenario) -> Vec<Check> {
    let shares = match envelope_alone(context.case) {
        Ok(shares) => shares,
        Err(reason) => return vec![no_equilibrium(scenario, &reason)],
    };
    let mut checks: Vec<Check> = Vec::new();
    if context.case.task == Task::Raise {
        let tips = shares.checks.iter().filter(|check| check.id == CheckId::Tipping);
        checks.extend(tips.map(|check| Check { scenario, ..check.clone() }));
    }
    let stations: Vec<_> = context.stations(&shares, Reserve::Accidental).collect();
    checks.extend(worst_of(&stations, context.case.task, raise, scenario));
    checks
}

impl LoadCase {
    /// The same load with levels in a band wider by a factor; nothing where no band is held, since any levels count then.
    fn with_levels_wider(&self, factor: f64) -> Option<Self> {
        use crate::load::Sharing;
        let Sharing::Placed(placed) = &self.sharing else { return None };
        let mut uneven = placed.clone();
        uneven.level_band = Some(placed.level_band? * factor);
        Some(Self { sharing: Sharing::Placed(uneven), ..self.clone() })
    }

    /// The same load with a horizontal force greater by a factor; nothing in a frame or where shares are stated or equal.
    fn pushed_harder(&self, factor: f64) -> Option<Self> {
        use crate::load::{Horizontal, Sharing};
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
