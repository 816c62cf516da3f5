//! Shares from what was weighed, from a list of parts, and on stiffnesses put together.

use crate::load_plan::{all_by_hand, between_kn, by_hand, check, exactly, kn, load, m, near, plan};
use ramwright_engine::check::{CheckId, NoLines, Phase, Status};
use ramwright_engine::load::{
    Centre, LoadCase, LoadShares, OilColumn, Part, Reading, Record, Rule, WeighedUse, block_stiffness, in_series,
    linked_stiffness, oil_stiffness, share_load, weigh, weigh_parts,
};
use ramwright_units::{Area, ForceRange, Length, OilPressure, OilVolume, Range, Stiffness, Stress};

/// 1 (0, 0), 2 (8, 0) and 3 (0, 6), in m: R2 = W x / 8, R3 = W y / 6.
const PLACES: [(f64, f64); 3] = [(0.0, 0.0), (8.0, 0.0), (0.0, 6.0)];

fn places() -> Vec<(Length, Length)> {
    PLACES.iter().map(|(x, y)| (m(*x), m(*y))).collect()
}

/// The drawing: 900 kN within 45 kN, at (2, 2) within 0.1 m.
fn drawing() -> (ForceRange, Centre) {
    let about = |middle: f64| Range::new(m(middle - 0.1), m(middle), m(middle + 0.1));
    (between_kn(855.0, 900.0, 945.0), Centre { x: about(2.0), y: about(2.0), z: Some(m(2.0)) })
}

/// The load as a drawing and readings have it.
fn weighed(readings: &[Reading]) -> (LoadCase, LoadShares) {
    let (weight, centre) = drawing();
    let weighed = weigh(&places(), readings, weight, &centre).unwrap();
    let mut case = load(kn(900.0), &PLACES, (2.0, 2.0));
    case.weight = weighed.weight;
    plan(&mut case).centre = weighed.centre;
    case.record = Record { lines: weighed.lines.clone(), weighed: Some(weighed), ..Record::default() };
    let shares = share_load(&case).unwrap();
    (case, shares)
}

fn by_drawing() -> LoadShares {
    let (weight, centre) = drawing();
    let mut case = load(kn(900.0), &PLACES, (2.0, 2.0));
    case.weight = weight;
    plan(&mut case).centre = centre;
    share_load(&case).unwrap()
}

/// Gauges to 700 bar, class 1 (7 bar).
fn gauge(raising_bar: f64, lowering_bar: f64, area_cm2: f64) -> Reading {
    Reading::Pressures {
        raising: OilPressure::from_bar(raising_bar),
        lowering: Some(OilPressure::from_bar(lowering_bar)),
        area: Area::from_cm2(area_cm2),
        full_scale: OilPressure::from_bar(700.0),
        class: 0.01,
        seal_friction: None,
    }
}

fn never_below(area_cm2: f64) -> (LoadCase, LoadShares) {
    let (case, shares) =
        weighed(&[(37.0, 35.0), (22.0, 20.0), (30.0, 28.0)].map(|(up, down)| gauge(up, down, area_cm2)));
    assert_eq!(shares.weighed.as_ref().unwrap().used, WeighedUse::NeverBelowDrawing);
    let drawn = by_drawing();
    assert!(drawn.weight.expected <= shares.weight.expected);
    assert!(drawn.weight.greatest <= shares.weight.greatest && shares.weight.least <= drawn.weight.least);
    for (drawn, weighed) in drawn.points.iter().zip(&shares.points) {
        assert!(drawn.share.greatest <= weighed.share.greatest && weighed.share.least <= drawn.share.least);
    }
    (case, shares)
}

/// On 1000 cm2 a bar is 10 kN. Raising and lowering, in the middle 36, 21 and 29 bar: 360, 210 and 290 kN, each within
/// 70, and half their difference, 10 kN, is friction. 860 kN in all is less than the 900 of the drawing, which stay:
/// pressures never lower a weight. The centre is expected at (210 x 8, 290 x 6) / 860, and R2 = 900 x 210 / 860.
#[test]
fn validate_pressures_never_take_from_the_drawing() {
    let (case, shares) = never_below(1000.0);
    let found = shares.weighed.as_ref().unwrap();
    for (point, hand) in found.readings.iter().zip([360.0, 210.0, 290.0]) {
        by_hand(&point.reaction, [hand - 70.0, hand, hand + 70.0]);
        near(point.seal_friction.unwrap().kn(), 10.0);
    }
    by_hand(&case.weight, [650.0, 900.0, 1070.0]);
    for (point, hand) in shares.points.iter().zip([360.0, 210.0, 290.0]) {
        near(point.share.expected.kn(), 900.0 * hand / 860.0);
    }
    assert_eq!(check(&shares, CheckId::Weighing, Phase::Raising).status, Status::Pass);
    assert_eq!(shares.lines, found.lines);
}

/// The same readings on a tenth of the area are 86 kN, not even near the drawing: a reader must know.
#[test]
fn verify_readings_far_from_the_drawing_are_a_caution() {
    let (_, shares) = never_below(100.0);
    assert!(!shares.weighed.as_ref().unwrap().misfit.agrees);
    near(shares.weighed.as_ref().unwrap().misfit.weight, 86.0 / 900.0 - 1.0);
    assert_eq!(check(&shares, CheckId::Weighing, Phase::Raising).status, Status::Caution);
}

/// Cells to 1000 kN, class 0.002 (2 kN): 350, 210, 290 within 2 kN replace the drawing, so the weight is 844 to 856 kN.
#[test]
fn validate_cells_take_the_place_of_the_drawing() {
    let cell = |load_kn: f64| Reading::Cell { load: kn(load_kn), class: 0.002, full_scale: kn(1000.0) };
    let (_, shares) = weighed(&[350.0, 210.0, 290.0].map(cell));
    let found = shares.weighed.as_ref().unwrap();
    assert_eq!(found.used, WeighedUse::InPlaceOfDrawing);
    by_hand(&shares.weight, [844.0, 850.0, 856.0]);
    // Expected shares are the readings: statics gives back what was read.
    for (point, hand) in shares.points.iter().zip([350.0, 210.0, 290.0]) {
        near(point.share.expected.kn(), hand);
        // Weight and centre are taken as independent, so the ends lie beyond those of the readings.
        assert!(point.share.least.kn() <= hand - 2.0 && hand + 2.0 <= point.share.greatest.kn());
    }
    assert!(shares.points[0].share.greatest < by_drawing().points[0].share.greatest);
}

/// A vessel of 600 kN at (2, 1.5, 3) m and a skid of 300 kN at (2, 3, 0.5) m, exactly: 900 kN at x = 2, y = (600 x 1.5
/// + 300 x 3) / 900 = 2 and z = (600 x 3 + 300 x 0.5) / 900 = 2.1667 m, which give 375, 225 and 300 kN.
#[test]
fn validate_a_list_of_parts() {
    let part = |id: &str, weight_kn: f64, [x, y, z]: [f64; 3]| Part {
        id: id.into(),
        weight: exactly(kn(weight_kn)),
        x: m(x),
        y: m(y),
        z: Some(m(z)),
        tolerance: Length::ZERO,
        z_tolerance: Length::ZERO,
    };
    let whole = weigh_parts(&[part("vessel", 600.0, [2.0, 1.5, 3.0]), part("skid", 300.0, [2.0, 3.0, 0.5])]).unwrap();
    near(whole.centre.z.unwrap().m(), 1950.0 / 900.0);
    let mut case = load(whole.weight.expected, &PLACES, (9.0, 9.0));
    case.weight = whole.weight;
    plan(&mut case).centre = whole.centre;
    case.record.lines.clone_from(&whole.lines);
    let shares = share_load(&case).unwrap();
    all_by_hand(&shares.points, &[[375.0; 3], [225.0; 3], [300.0; 3]]);
    assert_eq!(shares.lines, whole.lines);
}

/// Oil of 2 GPa, 100 cm2, 0.1 m high: 2e9 x 0.01 / 0.1 = 2e8 N/m. A steel block of 200 GPa, 100 cm2, 1 m: 2e9 N/m. A
/// ground of 2e8 N/m. In series 1 / (5e-9 + 0.5e-9 + 5e-9) = 1e9 / 10.5 N/m.
fn one_support() -> Stiffness {
    let column = OilColumn {
        area: Area::from_cm2(100.0),
        height: Length::from_mm(100.0),
        dead_volume: OilVolume::ZERO,
        bulk_modulus: OilPressure::from_bar(20_000.0),
    };
    let oil = oil_stiffness(&mut NoLines, &column).unwrap();
    near(oil.n_per_m(), 2e8);
    let block = block_stiffness(&mut NoLines, Stress::from_mpa(200_000.0), Area::from_cm2(100.0), m(1.0)).unwrap();
    near(block.n_per_m(), 2e9);
    let parts = [("oil", oil), ("base", block), ("ground", Stiffness::from_n_per_m(2e8))];
    in_series(&mut NoLines, &parts).unwrap()
}

/// Four such supports and one of them 2 mm high: k d / 4 = 1e9 / 10.5 x 0.002 / 4 = 47.619 kN more there and across,
/// less at the others (warping of a rigid body on four equal springs).
#[test]
fn validate_springs_in_series() {
    let k = one_support();
    near(k.n_per_m(), 1e9 / 10.5);
    let mut case = load(kn(1000.0), &[(0.0, 0.0), (6.0, 0.0), (6.0, 4.0), (0.0, 4.0)], (3.0, 2.0));
    for point in &mut case.points {
        point.stiffness = Some(k);
    }
    case.points[0].level = Length::from_mm(2.0);
    plan(&mut case).rule = Rule::Elastic;
    let shares = share_load(&case).unwrap();
    let more = 1e6 / 10.5 * 0.002 / 4.0;
    for (point, sign) in shares.points.iter().zip([1.0, -1.0, 1.0, -1.0]) {
        near(point.share.expected.kn(), 250.0 + sign * more);
    }
    // Two of them linked act as one spring of twice the stiffness.
    let area = Area::from_cm2(100.0);
    near(linked_stiffness(&mut NoLines, &[(area, k), (area, k)]).unwrap().n_per_m(), 2e9 / 10.5);
}
