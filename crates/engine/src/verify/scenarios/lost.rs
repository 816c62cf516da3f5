//! One ram loses its oil, or one point gives way.

use super::super::checks::carrying;
use super::super::line::{catching_stiffness, holding_limit};
use super::super::raise::Raise;
use super::super::rules::{Rule, holding_the_rest};
use super::super::sink::Sink;
use super::super::station::{Context, Reserve, Station};
use super::super::worked::{Rest, Worked};
use crate::check::{CheckId, Finding, Ledger, Phase, Place, Scenario, Source, Status};
use crate::line;
use crate::ram::CapacityLimit;
use crate::support::HoldingValve;
use crate::support::stack::impact_factor;
use ramwright_units::{Force, Length, Stiffness};

/// Each point in turn: one of its rams loses its oil; then, the point gives way altogether.
///
/// Where a ram is lost the rams beside it, or else the other points, carry on with their whole capacity and within the limits
/// of what they stand between; failing that, the load comes down on to its follow-up support. Most lifts on four points or
/// fewer do not survive a point that gives way, so a load that would come down then is a caution, not a failure: it says what
/// hangs on the point alone.
pub(in super::super) fn lost_in_turn<S: Sink>(context: Context<'_>, worked: &Worked, raise: &Raise, sink: &mut S) {
    let stations = context.stations(&worked.shares, Reserve::Accidental).zip(&worked.rests);
    let found: Vec<_> = stations
        .enumerate()
        .map(|(index, (station, rest))| {
            let others = rest.as_ref().and_then(|rest| others_carry::<S::Book>(context, rest, raise));
            (ram_lost(context, index, &station, others.as_ref()), others, station)
        })
        .collect();
    let mut points = Vec::new();
    for ((finding, book), others, station) in found {
        sink.take(&place(CheckId::RamLost, &station.point.id, Scenario::OneRamLost), finding, book);
        let alone = others.unwrap_or_else(|| (hangs_alone(&station), S::Book::default()));
        points.push((station.point.id.as_str(), alone));
    }
    for (subject, (finding, book)) in points {
        sink.take(&place(CheckId::PointLost, subject, Scenario::OnePointLost), finding, book);
    }
}

fn place(id: CheckId, subject: &str, scenario: Scenario) -> Place<'_> {
    Place { id, subject, scenario, phase: Phase::Raising }
}

fn ram_lost<L: Ledger + Default + Clone>(
    context: Context<'_>,
    index: usize,
    station: &Station<'_>,
    others: Option<&(Finding, L)>,
) -> (Finding, L) {
    let mut lines = L::default();
    // Where oil is shared between points, what one ram loses all of them lose.
    if 1 < station.count && !context.case.is_linked(index) {
        let beside = Station { count: station.count - 1, ..*station };
        let finding = carrying(&beside, beside.share(), CapacityLimit::Accidental, &mut lines)
            .with_caution("each ram is taken to have a load-holding valve of its own, and the rest to stay under the middle of the head plate");
        return (finding, lines);
    }
    if let Some(known) = others {
        return known.clone();
    }
    let finding = caught(context, station, &mut lines);
    (finding, lines)
}

fn hangs_alone(station: &Station<'_>) -> Finding {
    let alone = format!(
        "the other points do not hold the load if this one gives way: {:.0} kN hang on it, on its jacking point and on its foundation alone",
        station.share().kn()
    );
    Finding::judged(Status::Caution, alone)
}

/// The other points with this one gone: the worst of what they and their surroundings bear, if they are known to hold the load.
fn others_carry<L: Ledger + Default>(context: Context<'_>, rest: &Rest, raise: &Raise) -> Option<(Finding, L)> {
    let remaining = Context { case: &rest.case, ..context };
    let mut worst: Option<(Finding, L)> = None;
    // What was lost carries nothing, and need not.
    for station in remaining.stations(&rest.shares, Reserve::Accidental).filter(|station| Force::ZERO < station.share())
    {
        for Rule { check, .. } in holding_the_rest() {
            let mut its_lines = L::default();
            let finding = check(&station, raise, &mut its_lines);
            if worst.as_ref().is_none_or(|(so_far, _)| finding.is_worse_than(so_far)) {
                worst = Some((finding, its_lines));
            }
        }
    }
    // What is not known to hold may fail: then the load comes down, whatever is missing.
    worst.filter(|(finding, _)| !matches!(finding.status(), Status::Fail | Status::NotChecked))
}

/// The load comes down on to what follows it: slowly where every ram has a load-holding valve, else with a blow.
fn caught<L: Ledger>(context: Context<'_>, station: &Station<'_>, lines: &mut L) -> Finding {
    let drop = context.settings.follow_up_gap;
    let support = if station.ram.lock_collar { "lock collar" } else { "holding stack" };
    let Some(valve) = context.line.holding_valve else {
        return Finding::missing([format!(
            "line_of_force/holding_valve: the other points do not carry the load, and it comes down by up to {:.1} mm on to its {support}",
            drop.mm()
        )]);
    };
    let landing = match valve {
        HoldingValve::AtEachRam => Some((station.share(), "slowly, by what its seals leak")),
        HoldingValve::Elsewhere => catching_stiffness(station)
            .map(|stiffness| (blow(lines, station.share(), drop, stiffness), "with the blow of its fall")),
    };
    let Some((force, how)) = landing else {
        return Finding::missing([format!(
            "stiffness of the {support} that catches the load; see the check of settlement"
        )]);
    };
    let finding = if station.ram.lock_collar {
        carrying(station, force, CapacityLimit::Accidental, lines)
    } else {
        let Some(limit) = holding_limit(station) else {
            return Finding::missing([
                "packing/*/load_limit of every piece in the holding stack that catches the load",
            ]);
        };
        Finding::compare(force / f64::from(station.count), limit)
    };
    finding.with_caution(format!(
        "the other points do not carry the load: it comes down {how}, by up to {:.1} mm, on to its {support}",
        drop.mm()
    ))
}

/// What a load that falls on to a support presses with.
fn blow(lines: &mut impl Ledger, force: Force, drop: Length, stiffness: Stiffness) -> Force {
    let deflection = line!(lines, d: Length = F / k; F = force, k = stiffness; Source::definition("deflection under the load at rest"));
    let factor = line!(lines, phi: f64 = impact_factor(h, d); h = drop, d = deflection; Source::published("1 + sqrt(1 + 2 h / d): energy of a falling mass on a spring, any textbook of dynamics"));
    line!(lines, F_max: Force = phi * F; phi = factor, F = force; Source::definition("force with its impact factor"))
}
