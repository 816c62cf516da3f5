//! What happens when the load is heavier than stated, and when one ram loses its oil.

use super::checks::{Station, carrying, on_foundation, on_point, stability_check};
use super::raise::Raise;
use super::set::RamSet;
use crate::catalogue::Packing;
use crate::check::{Check, CheckId, Finding, Lines, Phase, Place, Scenario, Status};
use crate::load::{LoadCase, LoadShares, NoEquilibrium, Task, envelope_alone, without_point};
use crate::ram::CapacityLimit;
use crate::settings::Settings;
use ramwright_units::Force;

/// What the scenarios are made from.
#[derive(Clone, Copy)]
pub(super) struct Context<'a> {
    pub(super) case: &'a LoadCase,
    pub(super) set: &'a RamSet,
    pub(super) settings: &'a Settings,
    pub(super) packing: &'a [Packing],
}

impl<'a> Context<'a> {
    /// A station of each point.
    pub(super) fn stations(self, shares: &'a LoadShares) -> impl Iterator<Item = Station<'a>> {
        let rams = self.set.rams();
        let at_points = &self.set.at_points;
        let rams_carrying = self.case.fewest_carrying(|index| at_points.get(index).map_or(0, |placed| placed.count));
        self.case.points.iter().zip(&self.set.at_points).zip(&shares.points).map(move |((point, placed), share)| {
            Station {
                case: self.case,
                point,
                ram: &placed.ram,
                count: placed.count,
                rams,
                rams_carrying,
                rams_of_model: self.set.rams_of(&placed.ram.id),
                share: share.share.greatest,
                held: share.held.map(|held| held.greatest),
                settings: self.settings,
                packing: self.packing,
            }
        })
    }
}

/// The load is heavier by the factor of the settings: the whole capacity may be used then.
///
/// # Errors
/// [`NoEquilibrium`] as for the load as stated.
pub(super) fn load_heavier(context: Context<'_>) -> Result<Vec<Check>, NoEquilibrium> {
    let heavier = context.case.maybe_heavier(context.settings.heavier_factor);
    let shares = envelope_alone(&heavier)?;
    let mut checks = Vec::new();
    for station in context.stations(&shares) {
        let place = |id| Place {
            id,
            subject: station.point.id.as_str(),
            scenario: Scenario::LoadHeavier,
            phase: Phase::Raising,
        };
        let mut lines = Lines::default();
        let finding = carrying(&station, station.count, station.share, CapacityLimit::Accidental, &mut lines);
        checks.push(Check::new(&place(CheckId::Capacity), finding, lines));
        // The share itself, not the stop pressure: the stop would end this raise.
        let mut lines = Lines::default();
        let finding = on_point(&station, 1.0, &mut lines);
        checks.push(Check::new(&place(CheckId::JackingPointLimit), finding, lines));
        let mut lines = Lines::default();
        let finding = on_foundation(&station, 1.0, &mut lines);
        checks.push(Check::new(&place(CheckId::FoundationLimit), finding, lines));
    }
    Ok(checks)
}

/// One ram loses its oil, each point in turn: the rams beside it, or else the other points, carry on with their whole
/// capacity and within the limits of what they stand between; failing that, the load comes down on to its follow-up support.
pub(super) fn one_ram_lost(context: Context<'_>, shares: &LoadShares, raise: &Raise) -> Vec<Check> {
    if context.case.task != Task::Raise {
        return Vec::new();
    }
    context.stations(shares).enumerate().map(|(index, station)| lost_at(context, index, &station, raise)).collect()
}

fn lost_at(context: Context<'_>, index: usize, station: &Station<'_>, raise: &Raise) -> Check {
    let place = Place {
        id: CheckId::RamLost,
        subject: &station.point.id,
        scenario: Scenario::OneRamLost,
        phase: Phase::Raising,
    };
    let mut lines = Lines::default();
    // Where oil is shared between points, what one ram loses all of them lose.
    let finding = if 1 < station.count && !context.case.is_linked(index) {
        carrying(station, station.count - 1, station.share, CapacityLimit::Accidental, &mut lines)
            .with_caution("each ram is taken to have a load-holding valve of its own, and the rest to stay under the middle of the head plate")
    } else {
        others_carry(context, index, raise, &mut lines).unwrap_or_else(|| caught(context, station))
    };
    Check::new(&place, finding, lines)
}

/// The other points with this one gone: the worst of what they and their surroundings bear, if they hold the load at all.
fn others_carry(context: Context<'_>, index: usize, raise: &Raise, lines: &mut Lines) -> Option<Finding> {
    let rest = without_point(context.case, index)?;
    let shares = envelope_alone(&rest).ok()?;
    let stands = |check: &Check| matches!(check.status, Status::Pass | Status::Caution);
    if !shares.checks.iter().filter(|check| check.id == CheckId::Tipping).all(stands) {
        return None;
    }
    let remaining = Context { case: &rest, ..context };
    let mut worst: Option<(Finding, Lines)> = None;
    // What was lost carries nothing, and need not.
    for station in remaining.stations(&shares).filter(|station| Force::ZERO < station.share) {
        for (finding, lines) in bearing(&station, raise) {
            if worst.as_ref().is_none_or(|(so_far, _)| finding.is_worse_than(so_far)) {
                worst = Some((finding, lines));
            }
        }
    }
    let (finding, its_lines) = worst?;
    if finding.status() == Status::Fail {
        return None;
    }
    lines.0.extend(its_lines.0);
    Some(finding)
}

/// What one remaining point and what it stands between must bear, without ordinary reserves.
fn bearing(station: &Station<'_>, raise: &Raise) -> Vec<(Finding, Lines)> {
    let (mut point, mut foundation) = (Lines::default(), Lines::default());
    let (on_point, on_foundation) = (on_point(station, 1.0, &mut point), on_foundation(station, 1.0, &mut foundation));
    let mut capacity = Lines::default();
    let carried = carrying(station, station.count, station.share, CapacityLimit::Accidental, &mut capacity);
    let mut stability = Lines::default();
    let stable = stability_check(station, raise, &mut stability);
    vec![(carried, capacity), (on_point, point), (on_foundation, foundation), (stable, stability)]
}

/// The load falls on to what follows it. The blow is not computed here, so nobody may read this as a pass.
fn caught(context: Context<'_>, station: &Station<'_>) -> Finding {
    let support = if station.ram.lock_collar { "lock collar" } else { "holding stack" };
    Finding::missing([format!(
        "stiffness of what catches the load: the other points do not carry it, and it falls by up to {:.1} mm on to its {support}",
        context.settings.follow_up_gap.mm()
    )])
}
