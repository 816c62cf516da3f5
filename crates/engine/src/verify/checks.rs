//! The checks made at one jacking point, in the order in which a search refuses by them.

use super::raise::{Raise, holding_finding, stroke_finding};
use super::station::{Rule, Station};
use crate::catalogue::PackingMaterial;
use crate::check::{CheckId, Finding, Ledger, Phase, Source, Status};
use crate::load::{JackingPoint, Task};
use crate::ram::{
    Action, BaseFixity, CapacityLimit, Extended, Head, Sideways, capacity, closed_height, closed_height_of_a_pull,
    footprint, pull_capacity, side_load, stability, stated_limit,
};
use ramwright_units::Force;

/// All checks of a station in the order of refusal: capacity, closed height, stroke, footprint, stock, stability,
/// support, action and holding.
pub(crate) fn station_checks<L: Ledger>() -> [Rule<L>; 10] {
    let rule = Rule::new;
    [
        rule(CheckId::Capacity, Phase::Raising, capacity_check).planless(),
        rule(CheckId::ClosedHeight, Phase::SettingUp, closed_height_check).planless(),
        rule(CheckId::Stroke, Phase::Raising, stroke_check),
        rule(CheckId::Footprint, Phase::SettingUp, footprint_check).planless(),
        rule(CheckId::Stock, Phase::SettingUp, stock_check).planless(),
        rule(CheckId::Stability, Phase::Raising, stability_check),
        rule(CheckId::SideLoad, Phase::Raising, side_load_check).planless(),
        rule(CheckId::JackingPointLimit, Phase::Raising, jacking_point_check).planless(),
        rule(CheckId::FoundationLimit, Phase::Raising, foundation_check).planless(),
        rule(CheckId::Action, Phase::Raising, action_check).planless(),
    ]
}

pub(super) fn capacity_check<L: Ledger>(station: &Station<'_>, _raise: &Raise, book: &mut L) -> Finding {
    let finding = carrying(station, station.share(), station.capacity_limit(), book);
    if !L::KEEPS {
        return finding;
    }
    // What a beginner divides: the same for every point, and too little.
    let points = u32::try_from(station.case.points.len()).unwrap_or(u32::MAX);
    let equal = station.case.weight.expected / f64::from(points) / f64::from(station.count);
    finding.with_hand("weight / points / rams at a point, as if all shared alike", equal, station.share_of_one())
}

/// Capacity for a force, in the direction that the task asks for.
pub(super) fn carrying<L: Ledger>(station: &Station<'_>, force: Force, limit: CapacityLimit, book: &mut L) -> Finding {
    match station.case.task {
        Task::Raise | Task::Press => capacity(book, station.ram, station.count, force, limit),
        Task::Pull => pull_capacity(book, station.ram, station.count, force, limit),
    }
}

fn closed_height_check<L: Ledger>(station: &Station<'_>, _raise: &Raise, book: &mut L) -> Finding {
    let missing = station.field_unless(station.point.clearance.is_some(), "clearance");
    if station.case.task == Task::Pull {
        let (closed, plates, travel) = (station.ram.closed_height, station.settings.plates, station.case.travel);
        return closed_height_of_a_pull(book, closed, plates, travel, station.point.clearance, &missing);
    }
    // In a frame the ram is built in, so nothing is slid under a load.
    let entry_gap = match station.case.task {
        Task::Raise => station.settings.entry_gap,
        Task::Press | Task::Pull => ramwright_units::Length::ZERO,
    };
    closed_height(
        book,
        station.ram.closed_height,
        station.settings.plates,
        entry_gap,
        station.point.clearance,
        &missing,
    )
}

fn stroke_check<L: Ledger>(station: &Station<'_>, raise: &Raise, book: &mut L) -> Finding {
    stroke_finding(book, station.case, station.point.clearance, station.ram, station.settings, raise)
}

fn footprint_check<L: Ledger>(station: &Station<'_>, _raise: &Raise, book: &mut L) -> Finding {
    let base = station.of_ram_unless(station.ram.base_diameter.is_some(), "base_diameter");
    let pad = station.field_unless(station.point.pad.is_some(), "pad");
    let spacing = station.settings.side_by_side_spacing;
    footprint(book, station.ram.base_diameter, station.count, spacing, station.point.pad, (&base, &pad))
}

fn stock_check<L: Ledger>(station: &Station<'_>, _raise: &Raise, _book: &mut L) -> Finding {
    match station.ram.stock {
        Some(stock) => Finding::compare(f64::from(station.rams_of_model), f64::from(stock))
            .with_remedy(|| format!("{} more of them", station.rams_of_model.saturating_sub(stock))),
        None => Finding::missing([format!("rams/{}/stock", station.ram.id)]),
    }
}

pub(super) fn stability_check<L: Ledger>(station: &Station<'_>, raise: &Raise, book: &mut L) -> Finding {
    if station.case.task == Task::Pull {
        return Finding::judged(Status::Pass, "the plunger is in tension");
    }
    if station.case.task == Task::Raise && raise.found().is_none() {
        return Finding::missing([
            "a sequence, which gives the base stack and the extension; see the check of holding",
        ]);
    }
    let share = crate::line!(book, P: Force = R / n; R = station.share(), n = f64::from(station.count); Source::definition("share of one ram"));
    let finding = stability(book, station.ram, share, &extended(station, raise), &base_name(station));
    if raise.base_pieces().next().is_some() && station.point.head == Head::Free {
        return finding
            .with_caution("the ram stands on a base stack: its pieces must be stiff, plumb and in full bearing");
    }
    finding
}

/// The ram as it stands at its greatest extension.
pub(super) fn extended(station: &Station<'_>, raise: &Raise) -> Extended {
    Extended {
        base_stack: raise.base_stack(),
        plates: station.settings.plates,
        extension: raise.extension(station.ram, station.settings),
        base: base_fixity(station, raise),
        head: station.point.head,
        mounting: station.point.mounting,
        factor: station.settings.stability_factor,
    }
}

/// Under a ram, timber gives way: only a stiffness that was stated for the whole of what it stands on counts then.
fn base_fixity(station: &Station<'_>, raise: &Raise) -> BaseFixity {
    let on_timber = raise
        .base_pieces()
        .any(|id| station.packing.iter().any(|piece| piece.id == id && piece.material != PackingMaterial::Steel));
    match station.point.base {
        BaseFixity::Fixed if on_timber => BaseFixity::Unknown,
        stated => stated,
    }
}

/// How the base of a ram is held, by name; it may be missing even where something is stated, unless that is a spring.
pub(super) fn base_name(station: &Station<'_>) -> String {
    station.field_unless(matches!(station.point.base, BaseFixity::Spring(_)), "base or base_stiffness")
}

/// The sideways force on one ram that stands upright.
pub(super) fn upright(station: &Station<'_>) -> Sideways {
    Sideways {
        horizontal: station.case.greatest_horizontal(),
        rams: station.rams_carrying,
        axial: station.share_of_one(),
        lean: ramwright_units::Angle::ZERO,
    }
}

fn side_load_check<L: Ledger>(station: &Station<'_>, _raise: &Raise, book: &mut L) -> Finding {
    match station.case.task {
        Task::Raise if station.rams_of_model < station.rams => Finding::missing([
            "one model of ram at every point; how several models share the horizontal force is not computed",
        ]),
        // The lean of the ram is known only where the line of force is: see the check there.
        Task::Raise => side_load(book, station.ram, &upright(station)),
        Task::Press | Task::Pull => {
            Finding::judged(Status::Pass, "the frame guides the ram; no horizontal force is asked for")
        }
    }
}

/// What the load bears at a point: on its rams, as far as they push, and on its stack, at that place or where the stack stands.
pub(super) fn jacking_point_check<L: Ledger>(station: &Station<'_>, _raise: &Raise, book: &mut L) -> Finding {
    let JackingPoint { limit, packing_limit, .. } = station.point;
    bearing_on(station, [(*limit, "limit"), (*packing_limit, "packing_limit")], book)
}

/// The same for what stands under both.
pub(super) fn foundation_check<L: Ledger>(station: &Station<'_>, _raise: &Raise, book: &mut L) -> Finding {
    let JackingPoint { foundation_limit, packing_foundation_limit, .. } = station.point;
    let limits = [(*foundation_limit, "foundation_limit"), (*packing_foundation_limit, "packing_foundation_limit")];
    bearing_on(station, limits, book)
}

/// The worse of both, each against its limit: the stack bears where the rams do unless it is said where else.
fn bearing_on<L: Ledger>(
    station: &Station<'_>,
    [under_ram, elsewhere]: [(Option<Force>, &str); 2],
    book: &mut L,
) -> Finding {
    let raised = stated_limit(
        book,
        station.share(),
        station.stop_factor(),
        under_ram.0,
        &station.field_unless(under_ram.0.is_some(), under_ram.1),
    );
    let Some(held) = station.held else { return raised };
    let (limit, name) = if station.point.packing_at.is_some() { elsewhere } else { under_ram };
    // A stack pushes no harder than the load does.
    let held = stated_limit(book, held.greatest, 1.0, limit, &station.field_unless(limit.is_some(), name));
    if held.is_worse_than(&raised) { held } else { raised }
}

fn action_check<L: Ledger>(station: &Station<'_>, _raise: &Raise, _book: &mut L) -> Finding {
    match (station.case.task, station.ram.action) {
        (Task::Pull, Action::DoubleActing) => Finding::judged(Status::Pass, "a double-acting ram pulls on its annulus"),
        (Task::Pull, _) => Finding::judged(Status::Fail, "a single-acting ram cannot pull"),
        (Task::Press | Task::Raise, Action::SingleActingLoadReturn) => Finding::judged(
            Status::Caution,
            "nothing but the load pushes this ram back: once the load stands elsewhere it stays out until it is pushed in",
        ),
        (Task::Press | Task::Raise, _) => Finding::judged(Status::Pass, "the ram retracts by itself"),
    }
}

/// The holding check, which is made once for the whole set.
pub(crate) fn holding_check(raise: &Raise, stacks_at_a_point: u32) -> Finding {
    holding_finding(raise, stacks_at_a_point)
}
