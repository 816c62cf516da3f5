mod properties;
mod reference;

use super::super::domain::PushSpread;
use super::super::geometry::InputError;
use super::super::region::CentreSpread;
use super::*;

fn bearing(at: (f64, f64), stiffness_n_per_m: f64, level_m: f64, half_band_m: f64) -> Bearing {
    Bearing { at: Vec2::new(at.0, at.1), stiffness_n_per_m, level_m, half_band_m }
}

fn domain(weights: [f64; 3], middle: (f64, f64), spread: (f64, f64, f64), push: (f64, Vec<Vec2>)) -> LoadDomain {
    let middle = Vec2::new(middle.0, middle.1);
    LoadDomain {
        least_n: weights[0],
        expected_n: weights[1],
        greatest_n: weights[2],
        expected_at: middle,
        middle,
        spread: CentreSpread::new(spread.0, spread.1, spread.2).unwrap(),
        push: PushSpread::new(push.0, push.1).unwrap(),
    }
}

fn fixed(weight_n: f64, at: (f64, f64)) -> LoadDomain {
    domain([weight_n; 3], at, (0.0, 0.0, 0.0), (0.0, vec![]))
}

fn rectangle(half_band_m: [f64; 4]) -> Vec<Bearing> {
    let corners = [(-3.0, -2.0), (3.0, -2.0), (3.0, 2.0), (-3.0, 2.0)];
    corners.iter().zip(half_band_m).map(|(&at, h)| bearing(at, 5e7, 0.0, h)).collect()
}

fn reactions(bearings: &[Bearing], c: &Combination) -> Result<Vec<f64>, ElasticError> {
    let spring = |(b, &level_m): (&Bearing, &f64)| Spring { level_m, ..b.spring() };
    let springs: Vec<Spring> = bearings.iter().zip(&c.levels_m).map(spring).collect();
    solve(&springs, c.weight_n, c.resultant).map(|s| s.reactions_n)
}

fn ends(found: &[PointEnvelope]) -> Vec<[f64; 2]> {
    found.iter().map(|p| [p.least.reaction_n, p.greatest.reaction_n]).collect()
}

/// Every extreme that is not a bound occurs at the combination it names.
#[track_caller]
fn check_combinations(bearings: &[Bearing], found: &[PointEnvelope], tolerance_n: f64) {
    for (i, p) in found.iter().enumerate() {
        for e in [&p.least, &p.greatest].into_iter().filter(|e| e.exactness != Exactness::Bound) {
            let at = reactions(bearings, e.combination.as_ref().unwrap()).unwrap()[i];
            assert!((at - e.reaction_n).abs() <= tolerance_n, "{at} {e:?}");
        }
    }
}

/// By hand: with one level uncertain by h, R = W/4 -+ k h/4 at every corner until k h/4 = W/4; from there on two
/// diagonals can carry W/2 each (worst equilibrium).
#[test]
fn validate_rectangle_by_hand() {
    let (w, k) = (1e6, 5e7);
    for part in [0.0, 0.25, 0.75, 0.999, 1.0, 1.001, 1.5, 4.0] {
        let b = rectangle([part * w / k, 0.0, 0.0, 0.0]);
        let found = envelope(&b, &fixed(w, (0.0, 0.0)), Effort::USUAL).unwrap();
        for p in &found {
            let change = 0.25 * w * f64::min(part, 1.0);
            assert!((p.greatest.reaction_n - 0.25 * w - change).abs() < 1e-6 * w, "{part} {p:?}");
            assert!((p.least.reaction_n - 0.25 * w + change).abs() < 1e-6 * w, "{part} {p:?}");
            assert!((p.expected_n - 0.25 * w).abs() < 1e-9 * w);
            let expected = if part <= 1.0 { Exactness::Contact } else { Exactness::Exact };
            assert_eq!((p.least.exactness, p.greatest.exactness), (expected, expected), "{part}");
        }
        check_combinations(&b, &found, 1e-6 * w);
    }
}

/// Source: scipy 1.17.1 milp (`HiGHS`), own cases: levels, reactions, plane, weight and centre as variables, contact as
/// binary variables. In kN, m, mm; printed to seven decimals.
#[test]
fn validate_against_mixed_integer_programmes() {
    let [k, mm] = [1e6, 1e-3];
    let b = rectangle([6.0 * mm; 4]);
    let d = domain([900e3, 1000e3, 1100e3], (0.2, -0.1), (0.3, 0.2, 0.0), (0.0, vec![]));
    let greatest = [568.333_333_3, 632.5, 577.5, 568.333_333_3];
    check_table(&b, &d, &[0.0; 4], &greatest);

    let b: Vec<Bearing> = [
        ((-4.0, -2.0), 40.0, 1.0, 5.0),
        ((0.0, -2.2), 60.0, -1.0, 4.0),
        ((4.0, -2.0), 50.0, 0.0, 5.0),
        ((4.0, 2.0), 45.0, 0.5, 3.0),
        ((0.5, 2.3), 55.0, 0.0, 5.0),
        ((-4.0, 2.0), 70.0, -2.0, 4.0),
    ]
    .map(|(at, s, e, h)| bearing(at, s * k, e * mm, h * mm))
    .to_vec();
    let d = domain([1800e3, 2000e3, 2100e3], (0.3, 0.1), (0.25, 0.15, 0.0), (0.0, vec![]));
    let greatest = [631.747_880_6, 719.840_894_4, 727.690_942_9, 695.508_463_8, 770.171_262_6, 731.138_742_1];
    check_table(&b, &d, &[0.0; 6], &greatest);

    let b: Vec<Bearing> = [
        ((0.0, 0.0), 80.0, 0.0, 3.0),
        ((5.0, 0.3), 60.0, 2.0, 3.0),
        ((6.0, 4.0), 90.0, 0.0, 2.0),
        ((2.5, 5.5), 50.0, -1.0, 4.0),
        ((-1.0, 3.5), 70.0, 0.0, 3.0),
    ]
    .map(|(at, s, e, h)| bearing(at, s * k, e * mm, h * mm))
    .to_vec();
    let pushes = vec![Vec2::new(150e3, 0.0), Vec2::new(-60e3, 120e3)];
    let d = domain([1400e3, 1450e3, 1500e3], (2.4, 2.5), (0.2, 0.3, 0.0), (0.0, pushes));
    let greatest = [646.150_464_9, 624.918_515_8, 659.802_712_0, 514.009_883_8, 704.398_091_6];
    check_table(&b, &d, &[0.0, 0.0, 2.028_890_2, 0.0, 0.0], &greatest);
}

#[track_caller]
fn check_table(bearings: &[Bearing], domain: &LoadDomain, least_kn: &[f64], greatest_kn: &[f64]) {
    let found = envelope(bearings, domain, Effort::USUAL).unwrap();
    for ((p, least), greatest) in found.iter().zip(least_kn).zip(greatest_kn) {
        assert!((p.least.reaction_n - 1e3 * least).abs() < 0.2, "{p:?} {least}");
        assert!((p.greatest.reaction_n - 1e3 * greatest).abs() < 0.2, "{p:?} {greatest}");
        assert_eq!((p.least.exactness, p.greatest.exactness), (Exactness::Exact, Exactness::Exact));
    }
    check_combinations(bearings, &found, 0.2);
}

/// A support in the middle that stands high carries all with the centre just above it: inside its box, not at a corner.
#[test]
fn verify_greatest_with_the_centre_inside_its_box() {
    let mut b = rectangle([0.0; 4]);
    b.push(bearing((0.1, 0.05), 5e7, 0.03, 0.001));
    let d = domain([1e6; 3], (0.0, 0.0), (0.5, 0.4, 0.0), (0.0, vec![]));
    let found = envelope(&b, &d, Effort::USUAL).unwrap();
    let middle = &found[4].greatest;
    assert!((middle.reaction_n - 1e6).abs() < 0.2, "{middle:?}");
    assert_eq!(middle.exactness, Exactness::Exact);
    assert!((middle.combination.as_ref().unwrap().resultant - Vec2::new(0.1, 0.05)).length() < 1e-6);
    for corner in [(0.5, 0.4), (-0.5, 0.4), (-0.5, -0.4), (0.5, -0.4)] {
        let levels_m = vec![0.0, 0.0, 0.0, 0.0, 0.031];
        let c = Combination { weight_n: 1e6, resultant: Vec2::new(corner.0, corner.1), levels_m };
        assert!(reactions(&b, &c).unwrap()[4] < 0.95e6);
    }
}

#[test]
fn verify_refusals() {
    let (b, d) = (rectangle([0.0; 4]), fixed(1e6, (0.0, 0.0)));
    let bad = |change: &dyn Fn(&mut Bearing)| {
        let mut b = b.clone();
        change(&mut b[2]);
        envelope(&b, &d, Effort::USUAL).unwrap_err()
    };
    for number in [f64::NAN, f64::INFINITY, f64::NEG_INFINITY] {
        assert_eq!(bad(&|b| b.level_m = number), ElasticError::Level { index: 2 });
        assert_eq!(bad(&|b| b.half_band_m = number), ElasticError::Level { index: 2 });
        assert_eq!(bad(&|b| b.stiffness_n_per_m = number), ElasticError::Stiffness { index: 2 });
        assert_eq!(bad(&|b| b.at.x = number), ElasticError::Input(InputError::Coordinate));
        let d = LoadDomain { greatest_n: number, ..d.clone() };
        assert_eq!(envelope(&b, &d, Effort::USUAL), Err(ElasticError::Input(InputError::Weight)));
    }
    assert_eq!(bad(&|b| b.half_band_m = -1e-6), ElasticError::Level { index: 2 });
    assert_eq!(envelope(&[], &d, Effort::USUAL), Err(ElasticError::NoSupport));
    let row: Vec<Bearing> = (0..4).map(|i| bearing((f64::from(i), 0.0), 1e7, 0.0, 0.0)).collect();
    assert!(matches!(envelope(&row, &d, Effort::USUAL), Err(ElasticError::Collinear { .. })));
    assert!(matches!(envelope(&b, &fixed(1e6, (3.1, 0.0)), Effort::USUAL), Err(ElasticError::Tips(_))));
}

/// Without any work the answer is a bound, and still on the safe side.
#[test]
fn verify_no_effort_gives_bounds() {
    let b = rectangle([0.02; 4]);
    let d = domain([0.9e6, 1e6, 1e6], (0.3, 0.0), (0.3, 0.2, 0.1), (0.0, vec![]));
    let full = ends(&envelope(&b, &d, Effort::USUAL).unwrap());
    for effort in
        [Effort { cells: 0, nodes: 0 }, Effort { cells: 40_000, nodes: 1 }, Effort { cells: 90_000, nodes: 3 }]
    {
        let little = envelope(&b, &d, effort).unwrap();
        assert_eq!(ends(&little), ends(&envelope(&b, &d, effort).unwrap()));
        for (l, f) in ends(&little).iter().zip(&full) {
            assert!(l[0] <= f[0] + 0.1 && f[1] - 0.1 <= l[1], "{l:?} {f:?}");
        }
    }
}

/// A resultant that can get to the edge of the hull and beyond: an answer for the rest, never below what occurs.
#[test]
fn verify_partial_tipping_is_on_the_safe_side() {
    let b = rectangle([0.004; 4]);
    let d = domain([1e6; 3], (1.5, 0.5), (1.8, 0.5, 0.0), (0.0, vec![]));
    let all = envelope(&b, &d, Effort::USUAL).unwrap();
    assert!(all.iter().all(|p| p.least.exactness == Exactness::Exact && p.greatest.exactness == Exactness::Exact));
    check_combinations(&b, &all, 0.2);
    let found = ends(&all);
    for step in 0..=20 {
        for levels_m in [[4e-3, -4e-3, 4e-3, -4e-3], [-4e-3, 4e-3, -4e-3, 4e-3], [0.0; 4]] {
            let resultant = Vec2::new(-0.3 + 0.1649 * f64::from(step), 0.9);
            let Ok(r) = reactions(&b, &Combination { weight_n: 1e6, resultant, levels_m: levels_m.to_vec() }) else {
                continue;
            };
            for (r, e) in r.iter().zip(&found) {
                assert!((e[0] - 0.01..=e[1] + 0.01).contains(r), "{r} {e:?} {step} {levels_m:?} {found:?}");
            }
        }
    }
    // On the edge x = 3 support 2 carries W (y + 2) / 4, most at y = 1.
    assert!((found[2][1] - 0.75e6).abs() < 0.2, "{found:?}");
}
