use super::*;
use proptest::prelude::*;

fn springs(list: &[(f64, f64, f64, f64)]) -> Vec<Spring> {
    let spring = |&(x, y, k, e)| Spring { at: Vec2::new(x, y), stiffness_n_per_m: k, level_m: e };
    list.iter().map(spring).collect()
}

#[track_caller]
fn check(list: &[(f64, f64, f64, f64)], weight: f64, centre: (f64, f64), expected: &[f64], tolerance: f64) {
    let state = solve(&springs(list), weight, Vec2::new(centre.0, centre.1)).unwrap();
    for (f, e) in state.reactions_n.iter().zip(expected) {
        assert!((f - e).abs() <= tolerance, "{state:?} against {expected:?}");
    }
    assert!(state.residual <= EQUILIBRIUM_TOLERANCE);
}

/// Public engineering forum question 400254, second hand, solved again without the support that lifts (statics of the
/// other three, exact fractions).
#[test]
fn validate_uplift_is_solved_again() {
    let list = [(3.0, 2.0, 1.0, 0.0), (3.0, -2.0, 1.0, 0.0), (-3.0, -2.0, 1.0, 0.0), (-3.0, 2.0, 1.0, 0.0)];
    check(&list, 100.0, (2.0, 1.0), &[175.0 / 3.0, 25.0, 0.0, 50.0 / 3.0], 1e-10);
    check(&list, 100.0, (2.0, 1.0), &[58.3333, 25.0, 0.0, 16.6667], 5e-5);
    let state = solve(&springs(&list), 100.0, Vec2::new(2.0, 1.0)).unwrap();
    assert_eq!(state.in_contact, [true, true, false, true]);
}

/// Pile-group formula in exact fractions (own computation).
#[test]
fn validate_grids() {
    let six: Vec<_> = (0..6).map(|i| (f64::from(i % 3 - 1) * 3.0, f64::from(i / 3) * 4.0 - 2.0, 7e6, 0.0)).collect();
    check(&six, 1200.0, (0.4, 0.3), &[130.0, 170.0, 210.0, 190.0, 230.0, 270.0], 1e-9);
    let nine: Vec<_> = (0..9).map(|i| (f64::from(i % 3 - 1) * 1.2, f64::from(i / 3 - 1) * 1.2, 7e6, 0.0)).collect();
    let expected = [250.0, 406.25, 562.5, 343.75, 500.0, 656.25, 437.5, 593.75, 750.0];
    check(&nine, 4500.0, (0.25, 0.15), &expected, 1e-9);
}

/// One stiffer support of a rectangle with a central load: the diagonals share 3/7 and 4/7 (own computation).
#[test]
fn validate_one_stiffer_support() {
    let list = [(0.0, 0.0, 1e7, 0.0), (4.0, 0.0, 1e7, 0.0), (4.0, 3.0, 1e7, 0.0), (0.0, 3.0, 2e7, 0.0)];
    let expected = [1500.0 / 7.0, 2000.0 / 7.0, 1500.0 / 7.0, 2000.0 / 7.0];
    check(&list, 1000.0, (2.0, 1.5), &expected, 1e-9);
    check(&list, 1000.0, (2.0, 1.5), &[214.2857, 285.7143, 214.2857, 285.7143], 5e-5);
}

/// Warping: 50 kN/mm, one support 2 mm high or low, +-25 kN in turn (exact).
#[test]
fn validate_warping() {
    for sign in [1.0, -1.0] {
        let k = 5e7;
        let list = [(0.0, 0.0, k, 0.002 * sign), (4.0, 0.0, k, 0.0), (4.0, 3.0, k, 0.0), (0.0, 3.0, k, 0.0)];
        let (up, down) = (250e3 + 25e3 * sign, 250e3 - 25e3 * sign);
        check(&list, 1e6, (2.0, 1.5), &[up, down, up, down], 1e-6);
    }
}

/// Statics, exact, whatever the stiffness and the levels.
#[test]
fn validate_three_supports() {
    let list = [(0.0, 0.0, 1e6, 0.01), (6.0, 0.0, 9e8, -0.02), (3.0, 5.0, 4e7, 0.0)];
    check(&list, 900.0, (2.8, 1.5), &[345.0, 285.0, 270.0], 1e-9);
}

#[test]
fn verify_a_load_that_rocks_on_a_diagonal() {
    // Two opposite corners high by far more than the springs give: they carry all, the tilt is free.
    let (k, e) = (5e7, 0.05);
    let list = [(0.0, 0.0, k, e), (4.0, 0.0, k, 0.0), (4.0, 3.0, k, e), (0.0, 3.0, k, 0.0)];
    check(&list, 1e6, (2.0, 1.5), &[500e3, 0.0, 500e3, 0.0], 1e-6);
    // Off the diagonal it comes to rest on the third corner, which then carries its share of statics.
    let (x, y) = (2.0 + 1e-5, 1.5 - 1e-5);
    let state = solve(&springs(&list), 1e6, Vec2::new(x, y)).unwrap();
    assert_eq!(state.in_contact, [true, true, true, false]);
    let share = (x * 3.0 - y * 4.0) / 12.0;
    assert!((state.reactions_n[1] - 1e6 * share).abs() < 1e-6);
}

#[test]
fn verify_a_tall_support_under_the_centre_takes_all() {
    let k = 5e7;
    let mut list = vec![(0.0, 0.0, k, 0.5)];
    list.extend([(1.0, 1.0, k, 0.0), (-1.0, 1.0, k, 0.0), (-1.0, -1.0, k, 0.0), (1.0, -1.0, k, 0.0)]);
    check(&list, 1e6, (0.0, 0.0), &[1e6, 0.0, 0.0, 0.0, 0.0], 1e-6);
}

/// A support far below the others takes part once the load has swung down to it.
#[test]
fn verify_a_load_that_swings_down_to_a_low_support() {
    let place = |i: u8| Vec2::new(f64::from(i % 2) - 0.5, f64::from(i / 2) - 1.0);
    let mut list: Vec<Spring> = (0..6).map(|i| Spring { at: place(i), stiffness_n_per_m: 1e8, level_m: 0.0 }).collect();
    list[0].level_m = -0.7;
    let centre = Vec2::new(-0.35, -0.2);
    let state = solve(&list, 1e6, centre).unwrap();
    assert_eq!(state.in_contact, [true, true, true, false, false, false]);
    let statics = super::super::statics::static_shares(&[place(0), place(1), place(2)], centre).unwrap();
    for (r, s) in state.reactions_n.iter().zip(&statics) {
        assert!((r - 1e6 * s.share).abs() < 1e-5);
    }
}

#[test]
fn verify_refusals() {
    let square = [(1.0, 1.0), (-1.0, 1.0), (-1.0, -1.0), (1.0, -1.0)].map(|(x, y)| Vec2::new(x, y));
    let Err(ElasticError::Tips(edge)) = equal_springs(&square, Vec2::new(1.5, 0.0)) else { panic!() };
    assert_eq!((edge.from.min(edge.to), edge.from.max(edge.to)), (0, 3));
    assert!((edge.distance_m + 0.5).abs() < 1e-15 && edge.outward == Vec2::new(1.0, 0.0));
    // On the edge itself there is nothing left: refused too.
    assert!(matches!(equal_springs(&square, Vec2::new(1.0, 0.0)), Err(ElasticError::Tips(_))));
    let row = [0.0, 1.0, 2.0].map(|t| Vec2::new(t, 2.0 * t));
    assert!(matches!(equal_springs(&row, row[1]), Err(ElasticError::Collinear { from: 0, to: 2, .. })));
    assert!(matches!(equal_springs(&[row[1]; 4], row[1]), Err(ElasticError::Coincident { .. })));
    assert_eq!(equal_springs(&[], Vec2::ZERO), Err(ElasticError::NoSupport));
    let bad = |k, e| {
        solve(&springs(&[(0.0, 0.0, 1.0, 0.0), (1.0, 0.0, k, e), (0.0, 1.0, 1.0, 0.0)]), 1.0, Vec2::new(0.2, 0.2))
    };
    assert_eq!(bad(0.0, 0.0), Err(ElasticError::Stiffness { index: 1 }));
    assert_eq!(bad(f64::NAN, 0.0), Err(ElasticError::Stiffness { index: 1 }));
    assert_eq!(bad(1.0, f64::NAN), Err(ElasticError::Level { index: 1 }));
    assert!(matches!(bad(1e12, 0.0), Err(ElasticError::StiffnessRatio { .. })));
    let fine = springs(&[(0.0, 0.0, 1.0, 0.0), (1.0, 0.0, 1.0, 0.0), (0.0, 1.0, 1.0, 0.0)]);
    for weight in [0.0, -1.0, f64::NAN, f64::INFINITY] {
        assert_eq!(solve(&fine, weight, Vec2::new(0.2, 0.2)), Err(ElasticError::Weight));
    }
}

#[test]
fn verify_many_supports_with_rough_levels() {
    // A ring of 200 supports with levels that repeat in no pattern: only few are touched.
    let list: Vec<_> = (0..200)
        .map(|i| {
            let t = f64::from(i) * 0.0314;
            let rough = f64::from((i * 7919 + 13) % 101) / 101.0 - 0.5;
            (3.0 * libm::cos(t), 2.0 * libm::sin(t), 5e7, 0.02 * rough)
        })
        .collect();
    let state = solve(&springs(&list), 1e6, Vec2::new(0.7, -0.3)).unwrap();
    let touched = state.in_contact.iter().filter(|c| **c).count();
    assert!((3..100).contains(&touched), "{touched}");
}

/// The same problem by trying every set of contacts: the one whose plane presses exactly its own members.
fn by_enumeration(list: &[Spring], weight: f64, centre: Vec2) -> Option<Vec<f64>> {
    (1u32..1 << list.len()).find_map(|mask| {
        let inside = |i: usize| mask >> i & 1 == 1;
        let mut m = [[0.0; 4]; 3];
        for (_, s) in list.iter().enumerate().filter(|(i, _)| inside(*i)) {
            let v = [1.0, s.at.x, s.at.y];
            for r in 0..3 {
                for c in 0..3 {
                    m[r][c] += s.stiffness_n_per_m * v[r] * v[c];
                }
                m[r][3] -= s.stiffness_n_per_m * v[r] * s.level_m;
            }
        }
        for (row, v) in m.iter_mut().zip([1.0, centre.x, centre.y]) {
            row[3] += weight * v;
        }
        let q = gauss(m)?;
        let gap = |s: &Spring| q[0] + q[1] * s.at.x + q[2] * s.at.y + s.level_m;
        let slack = 1e-12;
        list.iter()
            .enumerate()
            .all(|(i, s)| if inside(i) { -slack < gap(s) } else { gap(s) < slack })
            .then(|| list.iter().map(|s| s.stiffness_n_per_m * gap(s).max(0.0)).collect())
    })
}

/// Solves three equations with the right-hand side as fourth column; nothing if they are singular.
fn gauss(mut m: [[f64; 4]; 3]) -> Option<[f64; 3]> {
    for c in 0..3 {
        let p = (c..3).max_by(|a, b| m[*a][c].abs().total_cmp(&m[*b][c].abs()))?;
        m.swap(c, p);
        let pivot = m[c];
        if pivot[c].abs() < 1.0 {
            return None;
        }
        for (_, row) in m.iter_mut().enumerate().filter(|(r, _)| *r != c) {
            let factor = row[c] / pivot[c];
            for (element, p) in row.iter_mut().zip(pivot) {
                *element -= factor * p;
            }
        }
    }
    Some([m[0][3] / m[0][0], m[1][3] / m[1][1], m[2][3] / m[2][2]])
}

/// Supports with stiffness from 1e6 to 1e9 N/m and levels up to +-20 mm.
fn supports(count: core::ops::Range<usize>) -> impl Strategy<Value = Vec<Spring>> {
    let spring = (-9.0f64..9.0, -9.0f64..9.0, 6.0f64..9.0, -0.02f64..0.02);
    prop::collection::vec(spring, count).prop_map(|list| {
        list.iter()
            .map(|&(x, y, k, level_m)| Spring { at: Vec2::new(x, y), stiffness_n_per_m: libm::pow(10.0, k), level_m })
            .collect()
    })
}

/// A place inside the hull: a mean of the supports with the given weights.
fn inside(list: &[Spring], weights: &[f64]) -> Vec2 {
    let total: f64 = weights.iter().take(list.len()).sum();
    list.iter().zip(weights).fold(Vec2::ZERO, |sum, (s, w)| sum + s.at * (w / total))
}

/// Whether the centre is 0.1 m from the nearest edge. Thin plans are ill-conditioned in themselves: moving them, or
/// solving them in plain coordinates, loses digits.
fn is_well_inside(list: &[Spring], centre: Vec2) -> bool {
    let points: Vec<Vec2> = list.iter().map(|s| s.at).collect();
    let stance = stance(&convex_hull(&points).unwrap(), plan_size_m(&points), centre);
    matches!(stance, Stance::Polygon { governing, .. } if 0.1 < governing.distance_m)
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(1000))]

    #[test]
    fn verify_state_is_an_equilibrium_of_the_springs(
        list in supports(3..40), weights in prop::collection::vec(0.01f64..1.0, 40), weight in 1e4f64..1e7,
    ) {
        let centre = inside(&list, &weights);
        let state = match solve(&list, weight, centre) {
            Ok(state) => state,
            Err(ElasticError::Tips(edge)) => { prop_assert!(edge.distance_m < 1e-6); return Ok(()) }
            Err(ElasticError::Collinear { .. }) => return Ok(()),
            Err(other) => return Err(TestCaseError::fail(format!("{other:?}"))),
        };
        let sum: f64 = state.reactions_n.iter().sum();
        let moment = list.iter().zip(&state.reactions_n).fold(Vec2::ZERO, |m, (s, r)| m + (s.at - centre) * *r);
        prop_assert!((sum - weight).abs() <= 2e-12 * weight && moment.length() <= 3e-11 * weight);
        for ((s, r), touched) in list.iter().zip(&state.reactions_n).zip(&state.in_contact) {
            let pressed = state.plane.sink_m + state.plane.slope.dot(s.at) + s.level_m;
            prop_assert!(0.0 <= *r && *touched == (0.0 < *r));
            prop_assert!((r - s.stiffness_n_per_m * pressed.max(0.0)).abs() <= 1e-9 * (weight + s.stiffness_n_per_m * 0.02));
        }
    }

    #[test]
    fn verify_against_every_set_of_contacts(
        list in supports(3..8), weights in prop::collection::vec(0.01f64..1.0, 8), weight in 1e5f64..1e7,
    ) {
        let centre = inside(&list, &weights);
        prop_assume!(is_well_inside(&list, centre));
        if let Ok(state) = solve(&list, weight, centre) {
            let oracle = by_enumeration(&list, weight, centre).unwrap();
            for (r, o) in state.reactions_n.iter().zip(&oracle) {
                prop_assert!((r - o).abs() <= 1e-5 * weight, "{r} {o}");
            }
        }
    }

    #[test]
    fn verify_order_place_turn_and_scale_do_not_matter(
        list in supports(4..12), weights in prop::collection::vec(0.1f64..1.0, 12),
        shift in (-50.0f64..50.0, -50.0f64..50.0), angle in 0.0f64..6.3, scale in 0.001f64..10.0,
    ) {
        let centre = inside(&list, &weights);
        let moved = |p: Vec2| {
            let (c, s) = (libm::cos(angle), libm::sin(angle));
            (Vec2::new(c * p.x - s * p.y, s * p.x + c * p.y) + Vec2::new(shift.0, shift.1)) * scale
        };
        prop_assume!(is_well_inside(&list, centre));
        let other: Vec<Spring> = list.iter().rev().map(|s| Spring { at: moved(s.at), ..*s }).collect();
        let a = solve(&list, 1e6, centre).unwrap();
        let b = solve(&other, 1e6, moved(centre)).unwrap();
        for (r, o) in a.reactions_n.iter().zip(b.reactions_n.iter().rev()) {
            prop_assert!((r - o).abs() <= 1e-9 * 1e6, "{r} {o}");
        }
    }

    #[test]
    fn verify_symmetric_and_repeated_supports(
        n in 2i32..5, m in 2i32..5, repeat in 1usize..3, g in (-0.4f64..0.4, -0.4f64..0.4), high in 0usize..16, e in -1.0f64..1.0,
    ) {
        let mut list = Vec::new();
        for i in 0..n * m {
            let at = Vec2::new(f64::from(i % n) - f64::from(n - 1) / 2.0, f64::from(i / n) - f64::from(m - 1) / 2.0);
            list.extend(vec![Spring { at, stiffness_n_per_m: 1e8, level_m: 0.0 }; repeat]);
        }
        let count = list.len();
        list[high % count].level_m = e;
        for centre in [Vec2::new(g.0, g.1), Vec2::new(g.0, g.0), Vec2::ZERO] {
            let state = solve(&list, 1e6, centre).unwrap();
            prop_assert!(state.residual <= EQUILIBRIUM_TOLERANCE);
            prop_assert!(state.reactions_n.iter().all(|r| 0.0 <= *r));
        }
    }

    #[test]
    fn verify_no_panic_on_any_input(
        list in prop::collection::vec((any::<f64>(), any::<f64>(), any::<f64>(), any::<f64>()), 0..6),
        near in prop::collection::vec((-1.0f64..1.0, -1.0f64..1.0, any::<f64>(), any::<f64>()), 0..6),
        weight in any::<f64>(), x in any::<f64>(),
    ) {
        let _ = solve(&springs(&list), weight, Vec2::new(x, 0.0));
        let _ = solve(&springs(&near), weight.abs(), Vec2::ZERO);
        let positive: Vec<Spring> = springs(&near).iter()
            .map(|s| Spring { stiffness_n_per_m: s.stiffness_n_per_m.abs().clamp(1e-3, 1e3), ..*s }).collect();
        if let Ok(state) = solve(&positive, weight.abs(), Vec2::ZERO) {
            prop_assert!(state.reactions_n.iter().all(|r| r.is_finite() && 0.0 <= *r));
        }
    }
}
