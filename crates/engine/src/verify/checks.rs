//! The checks made at one jacking point, in the order in which a search refuses by them.

use super::raise::{Raise, holding_finding, stroke_finding};
use crate::catalogue::{Packing, PackingMaterial};
use crate::check::{CheckId, Finding, Ledger, Phase, Status};
use crate::defaults::STOP_PRESSURE_FACTOR;
use crate::load::{JackingPoint, LoadCase, Task};
use crate::ram::{
    Action, BaseFixity, CapacityLimit, Extended, Head, Ram, capacity, closed_height, footprint, pull_capacity,
    side_load, stability, stated_limit,
};
use crate::settings::Settings;
use ramwright_units::Force;

/// A point with what stands there and what it carries.
#[derive(Clone, Copy)]
pub(crate) struct Station<'a> {
    pub(crate) case: &'a LoadCase,
    pub(crate) point: &'a JackingPoint,
    pub(crate) ram: &'a Ram,
    pub(crate) count: u32,
    /// Rams in the whole set, and of this model.
    pub(crate) rams: u32,
    pub(crate) rams_of_model: u32,
    /// Rams that take the horizontal force, in the phase in which fewest do.
    pub(crate) rams_carrying: u32,
    /// The greatest share of the point.
    pub(crate) share: Force,
    /// The greatest share of its holding stack, where that is known apart from the rams'.
    pub(crate) held: Option<Force>,
    pub(crate) settings: &'a Settings,
    pub(crate) packing: &'a [Packing],
}

/// A check that can be made at a station.
pub(crate) struct Rule<L> {
    pub(crate) id: CheckId,
    pub(crate) phase: Phase,
    /// Whether it needs to know how the travel is made.
    pub(crate) check: fn(&Station<'_>, &Raise, &mut L) -> Finding,
}

/// All checks of a station in the order of refusal: capacity, closed height, stroke, footprint, stock, stability,
/// support, action and holding.
pub(crate) fn station_checks<L: Ledger>() -> [Rule<L>; 10] {
    let rule = |id, phase, check| Rule { id, phase, check };
    [
        rule(CheckId::Capacity, Phase::Raising, capacity_check),
        rule(CheckId::ClosedHeight, Phase::SettingUp, closed_height_check),
        rule(CheckId::Stroke, Phase::Raising, stroke_check),
        rule(CheckId::Footprint, Phase::SettingUp, footprint_check),
        rule(CheckId::Stock, Phase::SettingUp, stock_check),
        rule(CheckId::Stability, Phase::Raising, stability_check),
        rule(CheckId::SideLoad, Phase::Raising, side_load_check),
        rule(CheckId::JackingPointLimit, Phase::Raising, jacking_point_check),
        rule(CheckId::FoundationLimit, Phase::Raising, foundation_check),
        rule(CheckId::Action, Phase::Raising, action_check),
    ]
}

fn field(station: &Station<'_>, name: &str) -> String {
    format!("load_case/points/{}/{name}", station.point.id)
}

fn capacity_check<L: Ledger>(station: &Station<'_>, _raise: &Raise, book: &mut L) -> Finding {
    let limit = CapacityLimit::Working(station.settings.capacity_limit);
    carrying(station, station.count, station.share, limit, book)
}

/// Capacity in the direction that the task asks for.
pub(super) fn carrying<L: Ledger>(
    station: &Station<'_>,
    count: u32,
    share: Force,
    limit: CapacityLimit,
    book: &mut L,
) -> Finding {
    match station.case.task {
        Task::Raise | Task::Press => capacity(book, station.ram, count, share, limit),
        Task::Pull => pull_capacity(book, station.ram, count, share, limit),
    }
}

fn closed_height_check<L: Ledger>(station: &Station<'_>, _raise: &Raise, book: &mut L) -> Finding {
    // In a frame the ram is built in, so nothing is slid under a load.
    let entry_gap = match station.case.task {
        Task::Raise => station.settings.entry_gap,
        Task::Press | Task::Pull => ramwright_units::Length::ZERO,
    };
    let missing = field(station, "clearance");
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
    let base = format!("rams/{}/base_diameter", station.ram.id);
    let pad = field(station, "pad");
    let spacing = station.settings.side_by_side_spacing;
    footprint(book, station.ram.base_diameter, station.count, spacing, station.point.pad, (&base, &pad))
}

fn stock_check<L: Ledger>(station: &Station<'_>, _raise: &Raise, _book: &mut L) -> Finding {
    match station.ram.stock {
        Some(stock) => Finding::compare(f64::from(station.rams_of_model), f64::from(stock)),
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
    let state = Extended {
        base_stack: raise.base_stack(),
        plates: station.settings.plates,
        extension: raise.extension(station.ram, station.settings),
        base: base_fixity(station, raise),
        head: station.point.head,
        factor: station.settings.stability_factor,
    };
    let share = station.share / f64::from(station.count);
    let finding = stability(book, station.ram, share, &state, &field(station, "base or base_stiffness"));
    if raise.base_pieces().next().is_some() && station.point.head == Head::Free {
        return finding
            .with_caution("the ram stands on a base stack: its pieces must be stiff, plumb and in full bearing");
    }
    finding
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

fn side_load_check<L: Ledger>(station: &Station<'_>, _raise: &Raise, book: &mut L) -> Finding {
    match station.case.task {
        Task::Raise if station.rams_of_model < station.rams => Finding::missing([
            "one model of ram at every point; how several models share the horizontal force is not computed",
        ]),
        Task::Raise => side_load(book, station.ram, station.rams_carrying, station.case.greatest_horizontal()),
        Task::Press | Task::Pull => {
            Finding::judged(Status::Pass, "the frame guides the ram; no horizontal force is asked for")
        }
    }
}

fn jacking_point_check<L: Ledger>(station: &Station<'_>, _raise: &Raise, book: &mut L) -> Finding {
    on_point(station, STOP_PRESSURE_FACTOR, book)
}

fn foundation_check<L: Ledger>(station: &Station<'_>, _raise: &Raise, book: &mut L) -> Finding {
    on_foundation(station, STOP_PRESSURE_FACTOR, book)
}

/// What the load bears at a point: on its rams, raised by a factor, and on its stack, at that place or where the stack stands.
pub(super) fn on_point<L: Ledger>(station: &Station<'_>, factor: f64, book: &mut L) -> Finding {
    let JackingPoint { limit, packing_limit, .. } = station.point;
    bearing_on(station, factor, [(*limit, "limit"), (*packing_limit, "packing_limit")], book)
}

/// The same for what stands under both.
pub(super) fn on_foundation<L: Ledger>(station: &Station<'_>, factor: f64, book: &mut L) -> Finding {
    let JackingPoint { foundation_limit, packing_foundation_limit, .. } = station.point;
    let limits = [(*foundation_limit, "foundation_limit"), (*packing_foundation_limit, "packing_foundation_limit")];
    bearing_on(station, factor, limits, book)
}

/// The worse of both, each against its limit: the stack bears where the rams do unless it is said where else.
fn bearing_on<L: Ledger>(
    station: &Station<'_>,
    factor: f64,
    [under_ram, elsewhere]: [(Option<Force>, &str); 2],
    book: &mut L,
) -> Finding {
    let raised = stated_limit(book, station.share, factor, under_ram.0, &field(station, under_ram.1));
    let Some(held) = station.held else { return raised };
    let (limit, name) = if station.point.packing_at.is_some() { elsewhere } else { under_ram };
    // A stack pushes no harder than the load does.
    let held = stated_limit(book, held, 1.0, limit, &field(station, name));
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
