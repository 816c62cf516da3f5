//! Varied proposals for property tests: tasks, plans, rams, what is known and what is not.

use super::{exactly, kn, m, mm, points, settings, yard};
use proptest::prelude::*;
use ramwright_engine::load::{Centre, Horizontal, JackingPoint, Level, LoadCase, Placed, Rule, Sharing, Task};
use ramwright_engine::ram::{BaseFixity, Head, Ram};
use ramwright_engine::settings::{Settings, StrokeLimit};
use ramwright_engine::verify::{PlacedRams, RamSet, VerifyInput};
use ramwright_units::{Force, Length, Range, RotationalStiffness, Stiffness};

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
    let level = (1.0f64..6.0, 5.0f64..200.0).prop_map(|(band_mm, kn_per_mm)| Level {
        band: mm(band_mm),
        stiffness: Stiffness::from_n_per_m(kn_per_mm * 1e6),
    });
    prop_oneof![
        Just(Rule::Automatic),
        Just(Rule::WorstEquilibrium),
        Just(Rule::Elastic(None)),
        level.prop_map(|level| Rule::Elastic(Some(level)))
    ]
}

/// A centre of gravity well inside the points, and by how much it may be wrong.
fn centre(places: &'static [(f64, f64)]) -> impl Strategy<Value = Centre> {
    let parts = prop::collection::vec(0.3f64..1.0, places.len());
    (parts, 0.0f64..0.12, prop::option::weighted(0.8, 0.5f64..2.5)).prop_map(|(parts, tolerance, z)| {
        let total: f64 = parts.iter().sum();
        let mean = |of: fn(&(f64, f64)) -> f64| places.iter().zip(&parts).map(|(p, part)| of(p) * part / total).sum();
        Centre { x: m(mean(|p| p.0)), y: m(mean(|p| p.1)), z: z.map(m), tolerance: m(tolerance) }
    })
}

/// The weight with its tolerance, for about this many kN at each point.
fn weight(count: usize) -> impl Strategy<Value = Range<Force>> {
    let count = f64::from(u32::try_from(count).unwrap_or(1));
    (20.0f64..700.0, 0.0f64..0.1).prop_map(move |(each, tolerance)| {
        let expected = kn(each * count);
        Range::new(expected * (1.0 - tolerance), expected, expected * (1.0 + tolerance))
    })
}

fn sharing(index: usize) -> impl Strategy<Value = Sharing> {
    let places = PLANS[index];
    let positions: Vec<(Length, Length)> = places.iter().map(|(x, y)| (m(*x), m(*y))).collect();
    let placed = (centre(places), rule())
        .prop_map(move |(centre, rule)| Sharing::Placed(Placed { centre, positions: positions.clone(), rule }));
    let each = prop::collection::vec(20.0f64..700.0, places.len());
    let stated = each.prop_map(|each| {
        Sharing::Stated(each.into_iter().map(|each| Range::new(kn(0.9 * each), kn(each), kn(1.1 * each))).collect())
    });
    prop_oneof![8 => placed, 1 => Just(Sharing::Equal), 1 => stated]
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

fn stood(stand: &Stand, count: usize) -> Vec<JackingPoint> {
    let on = |point: JackingPoint| JackingPoint {
        base: stand.base,
        head: stand.head,
        limit: stand.limit,
        foundation_limit: stand.foundation_limit,
        clearance: stand.clearance,
        pad: if stand.pad { point.pad } else { None },
        ..point
    };
    points(count).into_iter().map(on).collect()
}

fn horizontal() -> impl Strategy<Value = Horizontal> {
    prop_oneof![
        3 => Just(Horizontal::ShareOfWeight(0.025)),
        1 => Just(Horizontal::ShareOfWeight(0.0)),
        1 => (0.0f64..20.0).prop_map(|force| Horizontal::Stated(kn(force)))
    ]
}

/// Load cases of every task with one to six points.
pub(crate) fn load_cases() -> impl Strategy<Value = LoadCase> {
    (0usize..PLANS.len()).prop_flat_map(|index| {
        let count = PLANS[index].len();
        (task(), weight(count), sharing(index), horizontal(), stand(), 5.0f64..90.0).prop_map(
            move |(task, weight, sharing, horizontal, stand, travel)| {
                // One point bears a load right over it only, so nothing may move it sideways.
                let sharing = if count == 1 { over_the_only_point(sharing) } else { sharing };
                let points = stood(&stand, count);
                LoadCase { task, weight, sharing, horizontal, points, travel: mm(travel.round()) }
            },
        )
    })
}

fn over_the_only_point(sharing: Sharing) -> Sharing {
    match sharing {
        Sharing::Placed(placed) => {
            let (x, y) = placed.positions[0];
            Sharing::Placed(Placed { centre: Centre { x, y, ..placed.centre }, ..placed })
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
            *last = PlacedRams { ram: other, count: 1 };
        }
        VerifyInput { case, set, settings, packing: yard::pieces() }
    })
}

/// A weight as it is, for a change of a case.
pub(crate) fn weighing(case: &LoadCase, force: Force) -> LoadCase {
    LoadCase { weight: exactly(force), ..case.clone() }
}
