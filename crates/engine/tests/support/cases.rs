//! Varied proposals for property tests: tasks, plans, rams, what is known and what is not.

use super::parts::{Bearings, actions, bearings, centre, phases};
use super::{exactly, kn, m, mm, points, settings, yard};
use proptest::prelude::*;
use ramwright_engine::load::{Centre, JackingPoint, LoadCase, Placed, Record, Rule, Sharing, Task};
use ramwright_engine::ram::{BaseFixity, Head, Mounting, Ram};
use ramwright_engine::settings::{Settings, StrokeLimit};
use ramwright_engine::verify::{PlacedRams, RamSet, VerifyInput};
use ramwright_units::{Angle, Force, Length, Range, RotationalStiffness};

/// Plans of one to six points in m.
const PLANS: [&[(f64, f64)]; 6] = [
    &[(0.0, 0.0)],
    &[(-1.5, 0.4), (2.5, 0.4)],
    &[(0.0, 0.0), (6.0, 0.0), (3.0, 5.0)],
    &[(-3.0, -2.0), (3.0, -2.0), (3.0, 2.0), (-3.0, 2.0)],
    &[(-3.0, -2.0), (3.1, -2.0), (3.4, 2.2), (0.1, 3.0), (-2.7, 1.9)],
    &[(-3.0, -2.0), (0.0, -2.0), (3.0, -2.0), (-3.0, 2.0), (0.0, 2.0), (3.0, 2.0)],
];

fn task() -> impl Strategy<Value = Task> {
    prop_oneof![3 => Just(Task::Raise), 1 => Just(Task::Press), 1 => Just(Task::Pull)]
}

fn rule() -> impl Strategy<Value = Rule> {
    prop_oneof![2 => Just(Rule::Automatic), 1 => Just(Rule::WorstEquilibrium), 2 => Just(Rule::Elastic)]
}

/// The weight with its tolerance, for about this many kN at each point.
fn weight(count: usize) -> impl Strategy<Value = Range<Force>> {
    let count = f64::from(u32::try_from(count).unwrap_or(1));
    (20.0f64..700.0, 0.0f64..0.1).prop_map(move |(each, tolerance)| {
        let expected = kn(each * count);
        Range::new(expected * (1.0 - tolerance), expected, expected * (1.0 + tolerance))
    })
}

fn placed(index: usize, bearings: &Bearings) -> impl Strategy<Value = Sharing> + use<> {
    let places = PLANS[index];
    let positions: Vec<(Length, Length)> = places.iter().map(|(x, y)| (m(*x), m(*y))).collect();
    let linked = bearings.linked.clone();
    let band = prop::option::of((0.0f64..6.0).prop_map(mm));
    let margin = prop::option::weighted(0.2, (50.0f64..800.0).prop_map(mm));
    (centre(places, bearings), rule(), band, phases(places.len(), linked), margin).prop_map(
        move |(centre, rule, level_band, phases, least_tipping_margin)| {
            let positions = positions.clone();
            Sharing::Placed(Placed { centre, positions, rule, level_band, phases, least_tipping_margin })
        },
    )
}

fn sharing(index: usize, bearings: &Bearings) -> impl Strategy<Value = Sharing> + use<> {
    let each = prop::collection::vec(20.0f64..700.0, PLANS[index].len());
    let stated = each.prop_map(|each| {
        Sharing::Stated(each.into_iter().map(|each| Range::new(kn(0.9 * each), kn(each), kn(1.1 * each))).collect())
    });
    prop_oneof![8 => placed(index, bearings), 1 => Just(Sharing::Equal), 1 => stated]
}

fn base() -> impl Strategy<Value = BaseFixity> {
    prop_oneof![
        2 => Just(BaseFixity::Fixed),
        1 => Just(BaseFixity::Unknown),
        2 => (1e4f64..1e8).prop_map(|c| BaseFixity::Spring(RotationalStiffness::from_nm_per_rad(c)))
    ]
}

/// A limit that may not be known.
fn limit() -> impl Strategy<Value = Option<Force>> {
    prop::option::weighted(0.7, (50.0f64..2500.0).prop_map(kn))
}

/// What stands at the points, the same at each.
#[derive(Clone, Debug)]
struct Stand {
    base: BaseFixity,
    head: Head,
    limit: Option<Force>,
    foundation_limit: Option<Force>,
    pad: bool,
    clearance: Option<Length>,
}

fn stand() -> impl Strategy<Value = Stand> {
    let head = prop_oneof![2 => Just(Head::Free), 1 => Just(Head::Restrained)];
    let clearance = prop::option::weighted(0.9, (250.0f64..520.0).prop_map(|tall| mm(tall.round())));
    (base(), head, limit(), limit(), prop::bool::weighted(0.8), clearance).prop_map(
        |(base, head, limit, foundation_limit, pad, clearance)| Stand {
            base,
            head,
            limit,
            foundation_limit,
            pad,
            clearance,
        },
    )
}

fn stood(stand: &Stand, bearings: &Bearings, index: usize) -> Vec<JackingPoint> {
    let of = |point: JackingPoint| JackingPoint {
        base: stand.base,
        head: stand.head,
        limit: stand.limit,
        foundation_limit: stand.foundation_limit,
        clearance: stand.clearance,
        pad: if stand.pad { point.pad } else { None },
        ..point
    };
    let on_bearings = points(PLANS[index].len()).into_iter().zip(&bearings.points).zip(PLANS[index]);
    on_bearings.map(|((point, bearing), place)| bearing.under(of(point), *place)).collect()
}

/// How the rams of a frame are held and which way they lie, the same at each point: told by the travel in whole mm, so that
/// nothing is drawn for it and cases once found stay what they were.
fn in_a_frame(travel_mm: f64) -> (Option<Mounting>, Angle) {
    let which = |parts: f64, of: f64| (travel_mm / parts).floor() % of;
    let mounting = match which(1.0, 4.0) {
        n if n < 1.0 => None,
        n if n < 2.0 => Some(Mounting::Base),
        n if n < 3.0 => Some(Mounting::FrontFlange),
        _ => Some(Mounting::Pins),
    };
    (mounting, Angle::from_deg(which(4.0, 3.0) * 45.0))
}

/// Load cases of every task with one to six points.
pub(crate) fn load_cases() -> impl Strategy<Value = LoadCase> {
    // More often those whose sharing takes more than statics.
    let index = prop_oneof![1 => 0usize..3, 2 => 3usize..PLANS.len()];
    let plan = index.prop_flat_map(|index| (Just(index), bearings(PLANS[index].len())));
    plan.prop_flat_map(|(index, bearings)| {
        let count = PLANS[index].len();
        let sharing = sharing(index, &bearings);
        (task(), weight(count), sharing, actions(), stand(), 5.0f64..90.0).prop_map(
            move |(task, weight, sharing, actions, stand, travel)| {
                // One point bears a load right over it only, so nothing may move it sideways.
                let sharing = if count == 1 { over_the_only_point(sharing) } else { sharing };
                let mut points = stood(&stand, &bearings, index);
                let (mounting, from_plumb) = in_a_frame(travel.round());
                for point in points.iter_mut().filter(|_| task != Task::Raise) {
                    (point.mounting, point.from_plumb) = (mounting, from_plumb);
                }
                let record = Record::default();
                LoadCase { task, weight, sharing, actions, points, travel: mm(travel.round()), record }
            },
        )
    })
}

fn over_the_only_point(sharing: Sharing) -> Sharing {
    match sharing {
        Sharing::Placed(placed) => {
            let (x, y) = placed.positions[0];
            let over = |range: Range<Length>, at: Length| {
                Range::new(at + (range.least - range.expected), at, at + (range.greatest - range.expected))
            };
            let centre = Centre { x: over(placed.centre.x, x), y: over(placed.centre.y, y), z: placed.centre.z };
            Sharing::Placed(Placed { centre, ..placed })
        }
        other => other,
    }
}

/// Load cases whose shares follow from positions.
pub(crate) fn placed_cases() -> impl Strategy<Value = LoadCase> {
    load_cases().prop_filter("placed", |case| matches!(case.sharing, Sharing::Placed(_)))
}

/// Rams of the yard, now and then with something not known about them.
pub(crate) fn any_ram() -> impl Strategy<Value = Ram> {
    (prop::sample::select(yard::rams()), 0u8..12).prop_map(|(ram, lacks)| match lacks {
        0 => Ram { body_diameter: None, ..ram },
        1 => Ram { side_load_limit_ratio: None, ..ram },
        2 => Ram { base_diameter: None, ..ram },
        3 => Ram { annulus_area: None, ..ram },
        4 => Ram { stock: None, ..ram },
        _ => ram,
    })
}

fn any_settings() -> impl Strategy<Value = Settings> {
    let stroke_limit = prop_oneof![
        3 => Just(StrokeLimit::Share(0.8)),
        1 => Just(StrokeLimit::Share(0.95)),
        1 => Just(StrokeLimit::Waived)
    ];
    (0.6f64..1.0, stroke_limit, 2.0f64..5.0).prop_map(|(capacity_limit, stroke_limit, stability_factor)| Settings {
        capacity_limit,
        stroke_limit,
        stability_factor,
        ..settings()
    })
}

/// Proposals: one to three rams side by side, one model everywhere or, in one of five, a second model at the last point.
pub(crate) fn proposals() -> impl Strategy<Value = VerifyInput> {
    let rams = (any_ram(), any_ram(), prop::bool::weighted(0.2), 1u32..4);
    (load_cases(), rams, any_settings()).prop_map(|(case, (ram, other, mixed, count), settings)| {
        let mut set = RamSet::everywhere(&ram, count, case.points.len());
        if mixed && let Some(last) = set.at_points.last_mut() {
            *last = PlacedRams { ram: other.into(), count: 1 };
        }
        let line = super::line::line(case.points.len());
        VerifyInput { case, set, line, settings, packing: yard::pieces(), site: None }
    })
}

/// A weight as it is, for a change of a case.
pub(crate) fn weighing(case: &LoadCase, force: Force) -> LoadCase {
    LoadCase { weight: exactly(force), ..case.clone() }
}
