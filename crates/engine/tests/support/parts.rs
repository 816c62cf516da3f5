//! Parts of varied load cases: what the load bears on, where its centre may be, what acts on it.

use super::{kn, m, mm};
use proptest::prelude::*;
use ramwright_engine::check::Phase;
use ramwright_engine::load::{Actions, Centre, Horizontal, JackingPoint, PhasePlan, Slope, Wind};
use ramwright_units::{Angle, Area, GroundPressure, Length, Range, Stiffness};

/// What is under one point.
#[derive(Clone, Debug)]
pub(crate) struct Bearing {
    stiffness: Option<Stiffness>,
    held_stiffness: Option<Stiffness>,
    level: Length,
    ram_area: Option<Area>,
    /// Of the stack from the rams, in m.
    packing_off: Option<(f64, f64)>,
}

impl Bearing {
    /// The point, at this place in m, on this.
    pub(crate) fn under(&self, point: JackingPoint, place_m: (f64, f64)) -> JackingPoint {
        let (x, y) = place_m;
        JackingPoint {
            stiffness: self.stiffness,
            held_stiffness: self.held_stiffness,
            level: self.level,
            ram_area: self.ram_area,
            packing_at: self.packing_off.map(|(dx, dy)| (m(x + dx), m(y + dy))),
            ..point
        }
    }
}

/// What is under all points, and which of their rams are linked.
#[derive(Clone, Debug)]
pub(crate) struct Bearings {
    pub(crate) points: Vec<Bearing>,
    pub(crate) linked: Vec<Vec<usize>>,
}

impl Bearings {
    /// The part of its group's reaction that each point takes.
    fn part_of_group(&self, group: &[usize], index: usize) -> f64 {
        let area = |index: usize| self.points[index].ram_area.map_or(1.0, ramwright_units::Area::m2);
        area(index) / group.iter().map(|index| area(*index)).sum::<f64>()
    }
}

/// Ways to link the rams of five or six points that leave three supports or more, not in line.
fn groups(count: usize) -> &'static [&'static [&'static [usize]]] {
    match count {
        5 => &[&[&[0, 1]], &[&[2, 3]], &[&[4, 0], &[1, 2]], &[&[3, 4], &[0, 1]]],
        6 => &[
            &[&[0, 1]],
            &[&[0, 3]],
            &[&[0, 1], &[5, 4]],
            &[&[0, 3], &[1, 2]],
            &[&[0, 1, 2]],
            &[&[0, 3], &[1, 2], &[4, 5]],
        ],
        _ => &[],
    }
}

fn linked(count: usize) -> BoxedStrategy<Vec<Vec<usize>>> {
    match groups(count) {
        [] => Just(Vec::new()).boxed(),
        ways => {
            let owned = |way: &&[&[usize]]| way.iter().map(|group| group.to_vec()).collect();
            let some = prop::sample::select(ways.iter().map(owned).collect::<Vec<Vec<Vec<usize>>>>());
            prop_oneof![3 => Just(Vec::new()), 1 => some].boxed()
        }
    }
}

/// What is known of all points alike, for those things that are known of all or of none.
#[derive(Clone, Debug)]
#[expect(clippy::struct_excessive_bools, reason = "each says of one thing whether it is known")]
struct Known {
    /// Points of known stiffness: all, none, or all but one.
    stiff: Stiff,
    held: bool,
    level: bool,
    area: bool,
    packing: bool,
}

#[derive(Clone, Copy, Debug)]
enum Stiff {
    None,
    AllButOne(usize),
    All,
}

impl Stiff {
    fn is_known(self, index: usize) -> bool {
        match self {
            Self::None => false,
            Self::AllButOne(lacking) => index != lacking,
            Self::All => true,
        }
    }
}

fn known(count: usize) -> impl Strategy<Value = Known> {
    let stiff = prop_oneof![
        3 => Just(Stiff::None),
        1 => (0..count).prop_map(Stiff::AllButOne),
        8 => Just(Stiff::All)
    ];
    let packing = prop::bool::weighted(0.15);
    (stiff, any::<bool>(), any::<bool>(), any::<bool>(), packing)
        .prop_map(|(stiff, held, level, area, packing)| Known { stiff, held, level, area, packing })
}

/// What is under one point if everything is known: its stiffness from soft timber to stiff steel.
fn all_known() -> impl Strategy<Value = Bearing> {
    let stiffness = || (5.0f64..200.0).prop_map(|k| Some(Stiffness::from_n_per_m(k * 1e6)));
    let off = (-0.3f64..0.3, -0.3f64..0.3).prop_map(Some);
    let area = (20.0f64..150.0).prop_map(|area| Some(Area::from_cm2(area)));
    (stiffness(), stiffness(), -2.0f64..2.0, area, off).prop_map(
        |(stiffness, held_stiffness, level_mm, ram_area, packing_off)| Bearing {
            stiffness,
            held_stiffness,
            level: mm(level_mm),
            ram_area,
            packing_off,
        },
    )
}

/// What is under this many points.
pub(crate) fn bearings(count: usize) -> impl Strategy<Value = Bearings> {
    let each = prop::collection::vec(all_known(), count);
    (known(count), each, linked(count)).prop_map(move |(known, each, linked)| {
        let of = |(index, bearing): (usize, Bearing)| Bearing {
            stiffness: bearing.stiffness.filter(|_| known.stiff.is_known(index)),
            held_stiffness: bearing.held_stiffness.filter(|_| known.held),
            level: if known.level { bearing.level } else { Length::ZERO },
            ram_area: bearing.ram_area.filter(|_| known.area),
            // Stacks stand under the corners: a load on one point must stay right over it.
            packing_off: bearing.packing_off.filter(|_| known.packing && 3 <= count),
        };
        Bearings { points: each.into_iter().enumerate().map(of).collect(), linked }
    })
}

/// No phase stated, or linked rams while the load is raised, with or without a word on what carries in a pause.
pub(crate) fn phases(count: usize, linked: Vec<Vec<usize>>) -> impl Strategy<Value = Vec<PhasePlan>> {
    any::<bool>().prop_map(move |pause| {
        if linked.is_empty() {
            return Vec::new();
        }
        let raising = PhasePlan { linked: linked.clone(), ..PhasePlan::independent(Phase::Raising, count) };
        if pause { vec![raising, PhasePlan::independent(Phase::Pause, count)] } else { vec![raising] }
    })
}

/// A centre of gravity well inside the supports, and by how much it may be wrong on either side.
pub(crate) fn centre(places: &'static [(f64, f64)], bearings: &Bearings) -> impl Strategy<Value = Centre> + use<> {
    let bearings = bearings.clone();
    let parts = prop::collection::vec(0.3f64..1.0, places.len());
    let off = || prop_oneof![1 => Just((0.0, 0.0)), 1 => (0.0f64..0.12).prop_map(|t| (t, t)), 3 => (0.0f64..0.12, 0.0f64..0.12)];
    (parts, off(), off(), prop::option::weighted(0.85, 0.5f64..2.5)).prop_map(move |(mut parts, off_x, off_y, z)| {
        // Linked rams hold the load as one support, so the load must be inside these supports.
        for group in &bearings.linked {
            let whole: f64 = group.iter().map(|index| parts[*index]).sum();
            for index in group {
                parts[*index] = whole * bearings.part_of_group(group, *index);
            }
        }
        let total: f64 = parts.iter().sum();
        let mean = |of: fn(&(f64, f64)) -> f64| -> f64 {
            places.iter().zip(&parts).map(|(p, part)| of(p) * part / total).sum()
        };
        let about = |at: f64, (below, above): (f64, f64)| Range::new(m(at - below), m(at), m(at + above));
        Centre { x: about(mean(|p| p.0), off_x), y: about(mean(|p| p.1), off_y), z: z.map(m) }
    })
}

fn horizontal() -> impl Strategy<Value = Horizontal> {
    prop_oneof![
        2 => Just(Horizontal::AtLeast(0.025)),
        2 => Just(Horizontal::ShareOfWeight(0.025)),
        1 => Just(Horizontal::ShareOfWeight(0.0)),
        1 => (0.0f64..20.0).prop_map(|force| Horizontal::Stated(kn(force)))
    ]
}

fn toward() -> impl Strategy<Value = Option<Angle>> {
    prop::option::of((-180.0f64..180.0).prop_map(Angle::from_deg))
}

fn wind() -> impl Strategy<Value = Wind> {
    (50.0f64..400.0, 2.0f64..25.0, 0.5f64..3.0, toward()).prop_map(|(pressure_pa, area_m2, height_m, toward)| Wind {
        pressure: GroundPressure::from_pa(pressure_pa),
        area: Area::from_m2(area_m2),
        height: m(height_m),
        toward,
    })
}

fn slope() -> impl Strategy<Value = Slope> {
    (0.1f64..1.5, toward()).prop_map(|(angle_deg, toward)| Slope { angle: Angle::from_deg(angle_deg), toward })
}

/// Forces beside the weight.
pub(crate) fn actions() -> impl Strategy<Value = Actions> {
    let dynamic_factor = prop_oneof![2 => Just(1.0), 1 => 1.0f64..1.2];
    let (wind, slope) = (prop::option::weighted(0.4, wind()), prop::option::weighted(0.4, slope()));
    (horizontal(), wind, slope, dynamic_factor).prop_map(|(horizontal, wind, slope, dynamic_factor)| Actions {
        horizontal,
        wind,
        slope,
        dynamic_factor,
    })
}
