//! Invented loads on any number of points: each with a weight, centre, levels, stiffness and horizontal force within
//! tolerances.

use ramwright_engine::load::{
    Actions, Centre, Horizontal, JackingPoint, LoadCase, Placed, Record, Rule, Sharing, Task,
};
use ramwright_engine::ram::{BaseFixity, Head};
use ramwright_units::{Angle, Force, Length, Range, Stiffness};

/// Mean sink under the weight, with the stiffness of each point: about 1 mm.
const STIFFNESS_N_PER_M: f64 = 250e6;
/// Weight for each point.
const EACH_KN: f64 = 250.0;

/// A narrow level band: every support keeps its load.
pub(crate) fn in_contact(count: u32) -> LoadCase {
    case(count, Rule::Elastic, Some(0.4))
}

/// A band of three times the mean sink: supports lift off.
pub(crate) fn lifting_off(count: u32) -> LoadCase {
    case(count, Rule::Elastic, Some(3.0))
}

/// No tolerance at all, and levels known to be uneven by up to twice the mean sink: one set of reactions.
pub(crate) fn one_combination(count: u32) -> LoadCase {
    let mut case = case(count, Rule::Elastic, None);
    case.weight = Range::new(case.weight.expected, case.weight.expected, case.weight.expected);
    case.actions = Actions::only(Horizontal::ShareOfWeight(0.0));
    if let Sharing::Placed(placed) = &mut case.sharing {
        let at = |range: Range<Length>| Range::new(range.expected, range.expected, range.expected);
        (placed.centre.x, placed.centre.y) = (at(placed.centre.x), at(placed.centre.y));
    }
    for (index, point) in (0u32..).zip(&mut case.points) {
        point.level = Length::from_mm(2.0 * (f64::from(index * 7 % 5) / 4.0 - 0.5));
    }
    case
}

/// The worst of all equilibria.
pub(crate) fn any_equilibrium(count: u32) -> LoadCase {
    case(count, Rule::WorstEquilibrium, None)
}

fn case(count: u32, rule: Rule, band_mm: Option<f64>) -> LoadCase {
    let weight = EACH_KN * f64::from(count);
    let about = |middle: f64, by: f64| {
        Range::new(Length::from_m(middle - by), Length::from_m(middle), Length::from_m(middle + by))
    };
    let positions: Vec<(Length, Length)> = (0..count).map(|index| place(index, count)).collect();
    LoadCase {
        task: Task::Raise,
        weight: Range::new(Force::from_kn(0.95 * weight), Force::from_kn(weight), Force::from_kn(1.05 * weight)),
        sharing: Sharing::Placed(Placed {
            centre: Centre { x: about(0.05, 0.02), y: about(-0.03, 0.02), z: Some(Length::from_m(1.0)) },
            positions,
            rule,
            level_band: band_mm.map(Length::from_mm),
            phases: Vec::new(),
            least_tipping_margin: None,
        }),
        actions: Actions::only(Horizontal::AtLeast(0.025)),
        points: (0..count).map(point).collect(),
        travel: Length::from_mm(100.0),
        record: Record::default(),
    }
}

/// Points around an oval: the hardest plan for the bound of all equilibria, since each is a corner of the hull.
fn place(index: u32, count: u32) -> (Length, Length) {
    let (sine, cosine) = libm::sincos((f64::from(index) + 0.5) * std::f64::consts::TAU / f64::from(count));
    (Length::from_m(3.0 * cosine), Length::from_m(2.0 * sine))
}

fn point(index: u32) -> JackingPoint {
    // A spread of a fifth, so that no two neighbours are alike.
    let softer = 1.0 - 0.2 * f64::from(index % 3) / 2.0;
    JackingPoint {
        id: (index + 1).to_string(),
        clearance: None,
        packing_clearance: None,
        limit: None,
        foundation_limit: None,
        pad: None,
        base: BaseFixity::Unknown,
        head: Head::Free,
        stiffness: Some(Stiffness::from_n_per_m(STIFFNESS_N_PER_M * softer)),
        mounting: None,
        from_plumb: Angle::ZERO,
        held_stiffness: None,
        level: Length::ZERO,
        ram_area: None,
        packing_at: None,
        packing_limit: None,
        packing_foundation_limit: None,
    }
}
