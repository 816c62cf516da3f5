//! Random cases: against random combinations, a random search, other frames and the worst equilibrium.

use proptest::prelude::*;

use super::super::super::bound::reaction_bounds;
use super::*;

/// A case and a stream of numbers in 0..1 for combinations.
#[derive(Debug, Clone)]
struct Case {
    bearings: Vec<Bearing>,
    domain: LoadDomain,
    half: (f64, f64),
    radius_m: f64,
    radius_nm: f64,
    pushes: Vec<Vec2>,
}

fn cases(disc: f64) -> impl Strategy<Value = Case> {
    let support = (-4.0f64..4.0, -3.0f64..3.0, 2e7f64..9e7, -1.0f64..1.0, 0.0f64..1.0);
    let list = prop::collection::vec(support, 0..5);
    let spread = (0.0f64..0.6, 0.0f64..0.5, 0.0..=disc, 0.0..=disc);
    (list, spread, 0.0f64..12.0, (-3e4f64..3e4, -3e4f64..3e4), 0.9f64..1.0).prop_map(
        |(list, (x, y, r, p), band, push, least)| {
            let corners = [
                (-4.5, -3.0, 3e7, 0.3, 0.8),
                (4.0, -3.5, 5e7, -0.2, 0.5),
                (4.5, 3.0, 4e7, 0.1, 1.0),
                (-4.0, 3.5, 6e7, 0.0, 0.2),
            ];
            let all = corners.into_iter().chain(list);
            let bearings = all.map(|(x, y, k, e, h)| bearing((x, y), k, 1e-3 * band * e, 1e-3 * band * h)).collect();
            let (radius_m, radius_nm, pushes) = (0.3 * r, 1e5 * p, vec![Vec2::new(push.0, push.1)]);
            let domain = domain([least * 1e6, 1e6, 1.05e6], (0.2, -0.1), (x, y, radius_m), (radius_nm, pushes.clone()));
            Case { bearings, domain, half: (x, y), radius_m, radius_nm, pushes }
        },
    )
}

impl Case {
    /// Numbers needed for one combination.
    fn unknowns(&self) -> usize {
        8 + self.bearings.len()
    }

    /// A combination within the tolerances from numbers in 0..1.
    fn combination(&self, u: &[f64]) -> Combination {
        let d = &self.domain;
        let weight_n = d.least_n + u[0] * (d.greatest_n - d.least_n);
        let polar = |radius: f64, angle: f64| Vec2::new(libm::cos(6.3 * angle), libm::sin(6.3 * angle)) * radius;
        let boxed = Vec2::new((2.0 * u[1] - 1.0) * self.half.0, (2.0 * u[2] - 1.0) * self.half.1);
        let push = self.pushes.iter().fold(polar(self.radius_nm * u[5], u[6]), |sum, v| sum + *v * u[7]);
        let resultant = d.middle + boxed + polar(self.radius_m * u[3], u[4]) + push * (1.0 / weight_n);
        let level = |(b, u): (&Bearing, &f64)| b.level_m + (2.0 * u - 1.0) * b.half_band_m;
        Combination { weight_n, resultant, levels_m: self.bearings.iter().zip(&u[8..]).map(level).collect() }
    }
}

/// Numbers in 0..1, ends included more often than not: extremes are mostly there.
fn numbers(seed: u64) -> impl FnMut() -> f64 {
    let mut state = seed;
    move || {
        state = state.wrapping_mul(6_364_136_223_846_793_005).wrapping_add(1_442_695_040_888_963_407);
        let u = f64::from(u32::try_from(state >> 32).unwrap()) / f64::from(u32::MAX);
        (2.0 * u - 0.5).clamp(0.0, 1.0)
    }
}

/// Random search uphill for `sign R_i`.
fn climbed(case: &Case, index: usize, sign: f64, seed: u64) -> f64 {
    let mut number = numbers(seed);
    let mut overall = f64::NEG_INFINITY;
    for _ in 0..6 {
        let mut at: Vec<f64> = (0..case.unknowns()).map(|_| number()).collect();
        let mut best = f64::NEG_INFINITY;
        for step in 0..400_usize {
            let mut next = at.clone();
            let which = step % next.len();
            next[which] = if step < 200 { number() } else { (next[which] + 0.2 * (number() - 0.5)).clamp(0.0, 1.0) };
            let Ok(r) = reactions(&case.bearings, &case.combination(&next)) else { continue };
            if best < sign * r[index] {
                (best, at) = (sign * r[index], next);
            }
        }
        overall = overall.max(best);
    }
    overall
}

fn mapped(bearings: &[Bearing], domain: &LoadDomain, place: &dyn Fn(Vec2) -> Vec2) -> (Vec<Bearing>, LoadDomain) {
    let bearings = bearings.iter().map(|b| Bearing { at: place(b.at), ..*b }).collect();
    let domain = LoadDomain { middle: place(domain.middle), expected_at: place(domain.expected_at), ..domain.clone() };
    (bearings, domain)
}

#[track_caller]
fn assert_close(a: &[PointEnvelope], b: &[PointEnvelope], factor: f64, tolerance_n: f64) {
    for (a, b) in ends(a).iter().zip(&ends(b)) {
        assert!((a[0] * factor - b[0]).abs() <= tolerance_n, "{a:?} {b:?}");
        assert!((a[1] * factor - b[1]).abs() <= tolerance_n, "{a:?} {b:?}");
    }
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(64))]

    #[test]
    fn verify_no_combination_is_outside(case in cases(1.0), seed in 0u64..u64::MAX) {
        let found = envelope(&case.bearings, &case.domain, Effort::USUAL).unwrap();
        let mut number = numbers(seed);
        for _ in 0..2_000 {
            let u: Vec<f64> = (0..case.unknowns()).map(|_| number()).collect();
            let Ok(r) = reactions(&case.bearings, &case.combination(&u)) else { continue };
            for (r, e) in r.iter().zip(&ends(&found)) {
                prop_assert!((e[0] - 0.01..=e[1] + 0.01).contains(r), "{r} {e:?}");
            }
        }
        check_combinations(&case.bearings, &found, 0.11);
    }

    #[test]
    fn verify_contact_is_the_extreme_of_the_linear_relation(case in cases(1.0), seed in 0u64..u64::MAX) {
        let case = Case { bearings: case.bearings.iter().map(|b| Bearing { half_band_m: 0.05 * b.half_band_m, level_m: 0.0, ..*b }).collect(), ..case };
        let found = envelope(&case.bearings, &case.domain, Effort::USUAL).unwrap();
        prop_assume!(found[0].least.exactness == Exactness::Contact);
        check_combinations(&case.bearings, &found, 1e-3);
        let mut number = numbers(seed);
        for _ in 0..100 {
            let u: Vec<f64> = (0..case.unknowns()).map(|_| number()).collect();
            let r = reactions(&case.bearings, &case.combination(&u)).unwrap();
            for (r, e) in r.iter().zip(&ends(&found)) {
                prop_assert!((e[0] - 1e-6..=e[1] + 1e-6).contains(r), "{r} {e:?}");
            }
        }
    }

    #[test]
    fn verify_order_place_turn_and_scale_do_not_matter(
        case in cases(1.0), angle in 0.0f64..6.3, shift in (-50.0f64..50.0, -50.0f64..50.0),
    ) {
        // A disc only: a box would have to turn too.
        let d = domain([0.95e6, 1e6, 1.05e6], (0.2, -0.1), (0.0, 0.0, 0.0), (0.0, vec![]));
        let b = &case.bearings;
        let found = envelope(b, &d, Effort::USUAL).unwrap();
        let (c, s) = (libm::cos(angle), libm::sin(angle));
        let place = |p: Vec2| Vec2::new(c * p.x - s * p.y + shift.0, s * p.x + c * p.y + shift.1);
        let (moved, moved_domain) = mapped(b, &d, &place);
        assert_close(&found, &envelope(&moved, &moved_domain, Effort::USUAL).unwrap(), 1.0, 0.3);

        let found = envelope(b, &case.domain, Effort::USUAL).unwrap();
        let reversed: Vec<Bearing> = b.iter().rev().copied().collect();
        let mut other = envelope(&reversed, &case.domain, Effort::USUAL).unwrap();
        other.reverse();
        assert_close(&found, &other, 1.0, 0.3);

        // Forces and stiffness a thousandfold.
        let stiff: Vec<Bearing> = b.iter().map(|b| Bearing { stiffness_n_per_m: 1e3 * b.stiffness_n_per_m, ..*b }).collect();
        let heavy = LoadDomain {
            least_n: 1e3 * case.domain.least_n,
            expected_n: 1e3 * case.domain.expected_n,
            greatest_n: 1e3 * case.domain.greatest_n,
            push: PushSpread::new(1e3 * case.radius_nm, case.pushes.iter().map(|v| *v * 1e3).collect()).unwrap(),
            ..case.domain.clone()
        };
        assert_close(&found, &envelope(&stiff, &heavy, Effort::USUAL).unwrap(), 1e3, 300.0);

        // A plan in mm, taken as m.
        let (wide, wide_domain) = mapped(b, &case.domain, &|p| p * 1e3);
        let wide_domain = LoadDomain {
            spread: CentreSpread::new(1e3 * case.half.0, 1e3 * case.half.1, 1e3 * case.radius_m).unwrap(),
            push: heavy.push,
            ..wide_domain
        };
        assert_close(&found, &envelope(&wide, &wide_domain, Effort::USUAL).unwrap(), 1.0, 0.3);
    }

    #[test]
    fn verify_between_expected_and_worst_equilibrium(case in cases(1.0)) {
        let d = LoadDomain { push: PushSpread::NONE, ..case.domain.clone() };
        let found = envelope(&case.bearings, &d, Effort::USUAL).unwrap();
        let points: Vec<Vec2> = case.bearings.iter().map(|b| b.at).collect();
        let bounds = reaction_bounds(&points, &d).unwrap().unwrap();
        // The bound cuts the 32 sides about a disc back to the disc at its own directions; the plans are metres wide.
        let slack_n = 0.1 + 0.005 * case.radius_m * d.greatest_n;
        for (p, bound) in found.iter().zip(&bounds) {
            prop_assert!(bound.least.reaction_n <= p.least.reaction_n + slack_n);
            prop_assert!(p.least.reaction_n <= p.expected_n + 0.01 && p.expected_n <= p.greatest.reaction_n + 0.01);
            prop_assert!(p.greatest.reaction_n <= bound.greatest.reaction_n + slack_n);
        }
    }
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(12))]

    /// Against an envelope that is safe but too wide. A random search gets near, not there.
    #[test]
    fn verify_a_random_search_comes_near(case in cases(0.0), seed in 0u64..u64::MAX) {
        let found = envelope(&case.bearings, &case.domain, Effort::USUAL).unwrap();
        for (i, p) in found.iter().enumerate() {
            prop_assert!(p.greatest.exactness != Exactness::Bound && p.least.exactness != Exactness::Bound);
            let greatest = climbed(&case, i, 1.0, seed);
            let least = -climbed(&case, i, -1.0, seed);
            prop_assert!(0.95 * p.greatest.reaction_n <= greatest && greatest <= p.greatest.reaction_n + 0.01, "{p:?} {greatest}");
            prop_assert!(least <= p.least.reaction_n + 0.02e6 && p.least.reaction_n - 0.01 <= least, "{p:?} {least}");
        }
    }
}
