//! All numbers are invented.

use super::*;
use proptest::prelude::*;
use ramwright_units::{In, Profile};

fn plan() -> Vec<(Length, Length)> {
    [(0.0, 0.0), (6.0, 0.0), (6.0, 4.0), (0.0, 4.0)].map(|(x, y)| (Length::from_m(x), Length::from_m(y))).to_vec()
}

fn cell(load_kn: f64) -> Reading {
    Reading::Cell { load: Force::from_kn(load_kn), class: 0.01, full_scale: Force::from_kn(500.0) }
}

fn gauge(raising_bar: f64, lowering_bar: Option<f64>, seal_friction: Option<f64>) -> Reading {
    Reading::Pressures {
        raising: OilPressure::from_bar(raising_bar),
        lowering: lowering_bar.map(OilPressure::from_bar),
        area: Area::from_cm2(100.0),
        full_scale: OilPressure::from_bar(700.0),
        class: 0.01,
        seal_friction,
    }
}

fn weight(kn: [f64; 3]) -> ForceRange {
    let [least, expected, greatest] = kn.map(Force::from_kn);
    Range::new(least, expected, greatest)
}

fn metres(m: [f64; 3]) -> LengthRange {
    let [least, expected, greatest] = m.map(Length::from_m);
    Range::new(least, expected, greatest)
}

fn drawing() -> (ForceRange, Centre) {
    let centre = Centre { x: metres([3.0, 3.1, 3.2]), y: metres([1.9, 2.0, 2.1]), z: Some(Length::from_m(2.5)) };
    (weight([950.0, 1000.0, 1050.0]), centre)
}

fn weighed(readings: &[Reading]) -> Result<Weighed, WeighingError> {
    let (weight, centre) = drawing();
    weigh(&plan(), readings, weight, &centre)
}

#[track_caller]
fn close<T: Typed>(got: &Range<T>, hand_si: [f64; 3]) {
    for (got, hand) in [got.least, got.expected, got.greatest].into_iter().zip(hand_si) {
        assert!((got.si() - hand).abs() <= 1e-12 * hand.abs().max(1.0), "{} is not {hand}", got.si());
    }
}

/// 200, 300, 320, 180 kN, each within 0.01 x 500 = 5 kN: total 1000, from 980 to 1020.
/// x: 620 x 6 / 1000 = 3.72; greatest (305 + 325) x 6 / (630 + 195 + 175) = 3780 / 1000; least (295 + 315) x 6 /
/// (610 + 205 + 185) = 3660 / 1000. y: 500 x 4 / 1000 = 2; greatest 510 x 4 / (510 + 490) = 2.04; least 1.96.
/// From the drawing: weight 0, centre 0.62 m; x from 3.66 does not meet x up to 3.2, so they do not agree.
#[test]
fn verify_four_cells_by_hand() {
    let got = weighed(&[cell(200.0), cell(300.0), cell(320.0), cell(180.0)]).unwrap();
    close(&got.readings[1].reaction, [295e3, 300e3, 305e3]);
    close(&got.weighed_weight, [980e3, 1000e3, 1020e3]);
    close(&got.weighed_centre.x, [3.66, 3.72, 3.78]);
    close(&got.weighed_centre.y, [1.96, 2.0, 2.04]);
    assert_eq!(got.used, WeighedUse::InPlaceOfDrawing);
    assert_eq!((got.weight, got.centre), (got.weighed_weight, got.weighed_centre));
    assert_eq!(got.centre.z, Some(Length::from_m(2.5)));
    assert!(got.misfit.weight.abs() < 1e-12);
    assert!((got.misfit.centre.m() - 0.62).abs() < 1e-12);
    assert!(!got.misfit.agrees);
    assert!(serde_json::to_string(&In(Profile::Metric, &got)).is_ok());
}

/// The same cells against a drawing whose box reaches to 3.66 m.
#[test]
fn verify_readings_within_the_tolerances_agree() {
    let (weight, mut centre) = drawing();
    centre.x = metres([3.0, 3.4, 3.67]);
    let readings = [cell(200.0), cell(300.0), cell(320.0), cell(180.0)];
    assert!(weigh(&plan(), &readings, weight, &centre).unwrap().misfit.agrees);
    // 960 to 1040 kN by hand less 100 kN at two points each: 780 to 820 kN is under the 950 kN of the drawing.
    let light = [cell(150.0), cell(250.0), cell(270.0), cell(130.0)];
    let got = weigh(&plan(), &light, weight, &centre).unwrap();
    assert!(!got.misfit.agrees);
    assert!((got.misfit.weight + 0.2).abs() < 1e-12);
    close(&got.weight, [780e3, 800e3, 820e3]);
}

/// 210 bar up and 190 bar down on 100 cm2: R = 0.01 m2 x 20 MPa = 200 kN, F = 0.01 x 1 MPa = 10 kN, and the error
/// 0.01 x 70 MPa x 0.01 m2 = 7 kN. 210 bar up alone with up to a tenth lost: at most 217 bar, 217 kN; at least
/// 203 bar, 203 x 0.9 = 182.7 kN; the middle 210 x 0.95 = 199.5 kN.
#[test]
fn verify_pressures_by_hand() {
    let got = weighed(&[
        gauge(210.0, Some(190.0), None),
        gauge(210.0, None, Some(0.1)),
        gauge(210.0, Some(210.0), Some(0.1)),
        cell(200.0),
    ])
    .unwrap();
    close(&got.readings[0].reaction, [193e3, 200e3, 207e3]);
    assert!((got.readings[0].seal_friction.unwrap().kn() - 10.0).abs() < 1e-9);
    close(&got.readings[1].reaction, [182.7e3, 199.5e3, 217e3]);
    assert_eq!(got.readings[1].seal_friction, None);
    close(&got.readings[2].reaction, [203e3, 210e3, 217e3]);
    assert!(got.readings[2].seal_friction.unwrap().n().abs() < 1e-9);
    // 193 + 182.7 + 203 + 195 = 773.7; 200 + 199.5 + 210 + 200 = 809.5; 207 + 217 + 217 + 205 = 846.
    close(&got.weighed_weight, [773.7e3, 809.5e3, 846e3]);
    // The drawing says 950, 1000, 1050 kN, so only the least one is the weighed one.
    assert_eq!(got.used, WeighedUse::NeverBelowDrawing);
    close(&got.weight, [773.7e3, 1000e3, 1050e3]);
    assert_eq!(got.centre.x.expected, got.weighed_centre.x.expected);
    assert!(!got.misfit.agrees);
    assert!(serde_json::to_string(&In(Profile::Us, &got)).is_ok());
}

/// A point that reads less than its error carries nothing at least: it cannot pull.
#[test]
fn verify_no_point_pulls() {
    let got = weighed(&[cell(3.0), cell(300.0), cell(320.0), gauge(2.0, Some(1.0), None)]).unwrap();
    close(&got.readings[0].reaction, [0.0, 3e3, 8e3]);
    close(&got.readings[3].reaction, [0.0, 1.5e3, 8.5e3]);
}

#[test]
fn verify_refusals_name_the_reading() {
    let with = |reading| weighed(&[cell(200.0), reading, cell(320.0), cell(180.0)]).unwrap_err();
    assert_eq!(with(gauge(190.0, Some(210.0), None)), WeighingError::LoweringAboveRaising { point: 1 });
    assert_eq!(with(gauge(190.0, None, None)), WeighingError::NoFriction { point: 1 });
    assert!(with(gauge(190.0, None, None)).to_string().starts_with("reading 2 (in the order of the points)"));
    let bad = |error: WeighingError| matches!(error, WeighingError::Reading { point: 1, .. });
    assert!(bad(with(gauge(190.0, None, Some(1.0)))));
    assert!(bad(with(gauge(190.0, None, Some(f64::NAN)))));
    assert!(bad(with(gauge(701.0, Some(600.0), None))));
    assert!(bad(with(gauge(600.0, Some(-1.0), None))));
    assert!(bad(with(cell(-1.0))));
    assert!(bad(with(cell(501.0))));
    assert!(bad(with(Reading::Cell { load: Force::from_kn(1.0), class: -0.01, full_scale: Force::from_kn(2.0) })));
    let no_area = Reading::Pressures {
        raising: OilPressure::from_bar(1.0),
        lowering: None,
        area: Area::ZERO,
        full_scale: OilPressure::from_bar(2.0),
        class: 0.0,
        seal_friction: Some(0.0),
    };
    assert!(bad(with(no_area)));
}

#[test]
fn verify_what_was_not_weighed_is_refused() {
    let (weight, centre) = drawing();
    let cells = |count: usize| vec![cell(200.0); count];
    let line: Vec<_> = (0..4_u8).map(|i| (Length::from_m(f64::from(i)), Length::from_m(2.0 * f64::from(i)))).collect();
    let not_weighed = |positions: &[(Length, Length)], count| {
        matches!(weigh(positions, &cells(count), weight, &centre), Err(WeighingError::CentreNotWeighed { .. }))
    };
    assert!(not_weighed(&[], 0));
    assert!(not_weighed(&plan()[..2], 2));
    assert!(not_weighed(&line, 4));
    assert!(not_weighed(&[plan()[0]; 4], 4));
    assert!(!not_weighed(&plan()[..3], 3));
    assert!(matches!(weigh(&plan(), &cells(3), weight, &centre), Err(WeighingError::Count { .. })));
    assert_eq!(weighed(&vec![cell(4.0); 4]).unwrap_err(), WeighingError::NoWeight);
    let tiny = Range::new(Force::from_n(5e-324), Force::from_n(5e-324), weight.greatest);
    assert_eq!(weigh(&plan(), &cells(4), tiny, &centre).unwrap_err(), WeighingError::NotComputable);
    let upside_down = Range::new(weight.greatest, weight.expected, weight.least);
    assert_eq!(weigh(&plan(), &cells(4), upside_down, &centre).unwrap_err(), WeighingError::Drawing);
}

fn reading() -> impl Strategy<Value = Reading> {
    prop_oneof![
        (10.0..490.0).prop_map(cell),
        (10.0..690.0, 0.5..1.0).prop_map(|(up, part)| gauge(up, Some(up * part), None)),
        (10.0..690.0, 0.0..0.3).prop_map(|(up, lost)| gauge(up, None, Some(lost))),
    ]
}

proptest! {
    #[test]
    fn verify_without_cells_everywhere_never_below_the_drawing(
        readings in prop::collection::vec(reading(), 4),
        other in gauge_reading(),
        w in 100.0..3000.0_f64, x in -1.0..7.0_f64, y in -1.0..5.0_f64,
    ) {
        let mut readings = readings;
        readings[3] = other;
        let drawing_weight = weight([0.9 * w, w, 1.2 * w]);
        let centre = Centre { x: metres([x - 0.1, x, x + 0.2]), y: metres([y - 0.3, y, y + 0.1]), z: None };
        let got = match weigh(&plan(), &readings, drawing_weight, &centre) {
            Err(WeighingError::NoWeight) => return Ok(()),
            got => got.unwrap(),
        };
        prop_assert!(drawing_weight.expected <= got.weight.expected && drawing_weight.greatest <= got.weight.greatest);
        prop_assert!(got.weight.least <= drawing_weight.least);
        for (box_of, used) in [(centre, got.centre), (got.weighed_centre, got.centre)] {
            for (inner, outer) in [(box_of.x, used.x), (box_of.y, used.y)] {
                prop_assert!(outer.least <= inner.least && inner.greatest <= outer.greatest);
            }
        }
        prop_assert!(got.weighed_weight.expected <= got.weight.expected);
        for range in [got.weighed_centre.x, got.weighed_centre.y, got.centre.x, got.centre.y] {
            prop_assert!(in_order(&range));
        }
    }

    /// Any true reactions, cells that err within their class: the answer holds the true weight and centre.
    #[test]
    fn verify_the_truth_lies_inside(truth in prop::collection::vec(20.0..400.0_f64, 4), errors in prop::collection::vec(-1.0..=1.0_f64, 4)) {
        let readings: Vec<Reading> = truth.iter().zip(&errors).map(|(kn, error)| cell(kn + 5.0 * error)).collect();
        let got = weighed(&readings).unwrap();
        let total: f64 = truth.iter().sum();
        let (x, y) = ((truth[1] + truth[2]) * 6.0 / total, (truth[2] + truth[3]) * 4.0 / total);
        for (range, value) in [(got.centre.x, x), (got.centre.y, y)] {
            prop_assert!(range.least.m() - 1e-9 <= value && value <= range.greatest.m() + 1e-9);
        }
        prop_assert!(got.weight.least.kn() - 1e-9 <= total && total <= got.weight.greatest.kn() + 1e-9);
    }

    #[test]
    fn verify_the_order_of_the_points_does_not_matter(readings in prop::collection::vec(reading(), 4), turn in 0_usize..4) {
        let (weight, centre) = drawing();
        let mut turned_plan = plan();
        let mut turned = readings.clone();
        turned_plan.rotate_left(turn);
        turned.rotate_left(turn);
        let (a, b) = (weighed(&readings), weigh(&turned_plan, &turned, weight, &centre));
        prop_assert_eq!(a.is_ok(), b.is_ok());
        if let (Ok(a), Ok(b)) = (a, b) {
            prop_assert!((a.weight.greatest - b.weight.greatest).n().abs() < 1e-6);
            prop_assert!((a.centre.x.greatest - b.centre.x.greatest).m().abs() < 1e-12);
            prop_assert!((a.centre.y.least - b.centre.y.least).m().abs() < 1e-12);
        }
    }

    #[test]
    fn verify_any_number_gives_an_answer_or_an_error(v in prop::collection::vec(proptest::num::f64::ANY, 9), cells: bool) {
        let odd = if cells {
            Reading::Cell { load: Force::from_n(v[0]), class: v[1], full_scale: Force::from_n(v[2]) }
        } else {
            Reading::Pressures {
                raising: OilPressure::from_pa(v[0]), lowering: (0.0 < v[3]).then(|| OilPressure::from_pa(v[4])),
                area: Area::from_m2(v[5]), full_scale: OilPressure::from_pa(v[2]), class: v[1], seal_friction: Some(v[6]),
            }
        };
        let mut positions = plan();
        positions[0] = (Length::from_m(v[7]), Length::from_m(v[8]));
        let (weight, centre) = drawing();
        if let Ok(got) = weigh(&positions, &[odd, cell(1.0), cell(300.0), cell(4.0)], weight, &centre) {
            prop_assert!(serde_json::to_string(&In(Profile::Metric, &got)).is_ok());
        }
    }
}

fn gauge_reading() -> impl Strategy<Value = Reading> {
    (10.0..690.0, 0.5..1.0).prop_map(|(up, part)| gauge(up, Some(up * part), None))
}
