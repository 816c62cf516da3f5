//! What must hold for any load: equilibrium, order, safety of every combination, and no preference for a frame.

use crate::load_plan::{about, load, m, on_springs, plan, shares_n, three_n};
use proptest::prelude::*;
use ramwright_engine::load::{
    Actions, Combination, Exactness, Horizontal, LoadCase, LoadShares, Method, Rule, SupportShare, share_load,
};
use ramwright_units::{Force, Range};

/// How far an extreme that is called exact may be off, as a part of the weight: the engine's own agreement of bound and
/// combination is 1e-7, and ten times that keeps rounding out.
const EXACT: f64 = 1e-6;

/// A plan of any shape, on springs, with tolerances.
#[derive(Clone, Debug)]
struct Any {
    places_m: Vec<(f64, f64)>,
    stiffness_n_per_m: Vec<f64>,
    /// Known level errors.
    levels_m: Vec<f64>,
    band_m: f64,
    centre_m: (f64, f64),
    half_m: (f64, f64),
    /// Least, expected and greatest.
    weight_n: [f64; 3],
    horizontal_n: f64,
    rule: Rule,
}

impl Any {
    fn case(&self) -> LoadCase {
        let [least, expected, greatest] = self.weight_n.map(Force::from_n);
        let mut case = load(expected, &self.places_m, self.centre_m);
        case.weight = Range::new(least, expected, greatest);
        case.actions = Actions::only(Horizontal::Stated(Force::from_n(self.horizontal_n)));
        on_springs(&mut case, &self.stiffness_n_per_m);
        for (point, level) in case.points.iter_mut().zip(&self.levels_m) {
            point.level = m(*level);
        }
        let placed = plan(&mut case);
        placed.centre.x = about(self.centre_m.0, self.half_m.0);
        placed.centre.y = about(self.centre_m.1, self.half_m.1);
        placed.level_band = Some(m(self.band_m));
        placed.rule = self.rule.clone();
        case
    }

    fn shares(&self) -> LoadShares {
        share_load(&self.case()).unwrap()
    }

    /// The same plan under one load at one place with these levels, on springs.
    fn at(&self, weight_n: f64, centre_m: (f64, f64), levels_m: Vec<f64>) -> Vec<f64> {
        let exact = Self {
            levels_m,
            band_m: 0.0,
            centre_m,
            half_m: (0.0, 0.0),
            weight_n: [weight_n; 3],
            horizontal_n: 0.0,
            rule: Rule::Elastic,
            ..self.clone()
        };
        exact.shares().points.iter().map(|point| point.share.expected.n()).collect()
    }

    fn moved(&self, to: impl Fn((f64, f64)) -> (f64, f64)) -> Self {
        let places_m = self.places_m.iter().map(|place| to(*place)).collect();
        Self { places_m, centre_m: to(self.centre_m), ..self.clone() }
    }
}

/// 4 to 8 points around a ring that is squashed and dented, the centre a mean of them with parts that are not too
/// uneven, levels and band from nothing to some times what the springs give under their share.
fn any() -> impl Strategy<Value = Any> {
    (4_usize..=8).prop_flat_map(|count| {
        let each = prop::collection::vec((0.0..0.7, 0.6..1.0, 7.5..9.0, -1.0..1.0, 0.5..1.5), count);
        let all = (1.5..6.0, 0.0..0.1, (0.0..0.3, 0.0..0.3), 0.0..2.0, 0.0..1.0, 0.0..0.03);
        (each, all, prop::bool::weighted(0.8)).prop_map(|(each, (squash, spread, half, band, known, push), elastic)| {
            let count = f64::from(u32::try_from(each.len()).unwrap());
            let place = |(index, (turn, out, ..)): (usize, &(f64, f64, f64, f64, f64))| {
                let angle = (f64::from(u32::try_from(index).unwrap()) + turn) * core::f64::consts::TAU / count;
                (6.0 * out * libm::cos(angle), squash * out * libm::sin(angle))
            };
            let places_m: Vec<(f64, f64)> = each.iter().enumerate().map(place).collect();
            let whole: f64 = each.iter().map(|one| one.4).sum();
            let centre = |of: fn(&(f64, f64)) -> f64| {
                places_m.iter().zip(&each).map(|(place, one)| of(place) * one.4).sum::<f64>() / whole
            };
            let weight_n = 4e6;
            // What a spring of the middle stiffness gives under its share.
            let give_m = weight_n / count / 2e8;
            Any {
                centre_m: (centre(|place| place.0), centre(|place| place.1)),
                stiffness_n_per_m: each.iter().map(|one| libm::pow(10.0, one.2)).collect(),
                levels_m: each.iter().map(|one| one.3 * known * give_m).collect(),
                band_m: band * give_m,
                half_m: half,
                weight_n: [weight_n * (1.0 - spread), weight_n, weight_n * (1.0 + spread)],
                horizontal_n: push * weight_n,
                rule: if elastic { Rule::Elastic } else { Rule::WorstEquilibrium },
                places_m,
            }
        })
    })
}

/// A combination with the support that it governs, and whether at its greatest.
fn governing(shares: &LoadShares) -> impl Iterator<Item = (usize, &SupportShare, &Combination, f64)> {
    shares.phases[0].supports.iter().enumerate().flat_map(|(index, support)| {
        let governing = support.governing.as_ref().unwrap();
        let [least, _, greatest] = three_n(&support.share);
        [(index, support, &governing.least, least), (index, support, &governing.greatest, greatest)]
    })
}

fn close(a: &[[f64; 3]], b: &[[f64; 3]], within_n: f64) -> bool {
    a.len() == b.len() && a.iter().flatten().zip(b.iter().flatten()).all(|(a, b)| (a - b).abs() <= within_n)
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(128))]

    /// Solved again by itself, the combination that governs an exact end is in equilibrium and gives that end.
    ///
    /// Only where any equilibrium, which knows the true circle of pushes, says more than the polygon about it, the
    /// combination may go beyond the end: by 0.5 % at most of what the circle adds there, since the least reaction is
    /// convex and the greatest concave in its size.
    #[test]
    fn verify_every_governing_combination_is_in_equilibrium_and_gives_its_share(any in any()) {
        let shares = any.shares();
        let weight_n = any.weight_n[2];
        let no_circle = Any { horizontal_n: 0.0, rule: Rule::WorstEquilibrium, ..any.clone() }.shares();
        for (index, support, combination, share_n) in governing(&shares) {
            prop_assert_eq!(support.exactness, Exactness::Exact);
            // That a support can carry nothing in some equilibrium needs no place.
            let (Some(x), Some(y)) = (combination.x, combination.y) else {
                let worst = shares.method == Method::WorstEquilibrium;
                prop_assert!(worst && share_n <= 0.0, "point {}: {:?}", index, combination);
                continue;
            };
            let place = (x.m(), y.m());
            let vertical_n = combination.vertical_load.n();
            prop_assert!(any.weight_n[0] - 1e-6 <= vertical_n && vertical_n <= any.weight_n[2] + 1e-6);
            if shares.method == Method::WorstEquilibrium {
                let exact = Any {
                    weight_n: [vertical_n; 3], centre_m: place, half_m: (0.0, 0.0), horizontal_n: 0.0, ..any.clone()
                };
                // Nothing may be between the place and the edge, where no load stands by itself.
                let Ok(exact) = share_load(&exact.case()) else { continue };
                let [least, _, greatest] = three_n(&exact.points[index].share);
                prop_assert!((least - share_n).abs().min((greatest - share_n).abs()) <= EXACT * weight_n);
                continue;
            }
            prop_assert_eq!(combination.levels.len(), any.places_m.len(), "{} of point {}", combination.words, index);
            let levels_m: Vec<f64> = combination.levels.iter().map(|level| level.m()).collect();
            for (level, known) in levels_m.iter().zip(&any.levels_m) {
                prop_assert!((level - known).abs() <= any.band_m / 2.0 + 1e-12);
            }
            let reactions_n = any.at(vertical_n, place, levels_m);
            let sum = |of: &dyn Fn(&(f64, f64)) -> f64| -> f64 {
                reactions_n.iter().zip(&any.places_m).map(|(reaction, place)| reaction * of(place)).sum()
            };
            prop_assert!(reactions_n.iter().all(|reaction| 0.0 <= *reaction));
            prop_assert!((sum(&|_| 1.0) - vertical_n).abs() <= 1e-9 * weight_n);
            prop_assert!((sum(&|place| place.0) - vertical_n * place.0).abs() <= 1e-9 * weight_n * 6.0);
            prop_assert!((sum(&|place| place.1) - vertical_n * place.1).abs() <= 1e-9 * weight_n * 6.0);
            let [low, _, high] = three_n(&support.any_equilibrium.unwrap());
            let [bare_low, _, bare_high] = three_n(&no_circle.points[index].share);
            let governs = |bound: f64| (bound - share_n).abs() <= 0.0;
            let at = |bound: f64, bare: f64| if governs(bound) { 0.005 * (bound - bare).abs() } else { 0.0 };
            let circle_n = at(low, bare_low).max(at(high, bare_high));
            prop_assert!((reactions_n[index] - share_n).abs() <= EXACT * weight_n + circle_n,
                "point {}: {} N, {} N when solved again at {}", index, share_n, reactions_n[index], combination.words);
        }
    }

    /// Bound >= greatest >= expected >= least >= bound.
    #[test]
    fn verify_shares_lie_in_order_within_any_equilibrium(any in any()) {
        let shares = any.shares();
        let rounding_n = 1e-9 * any.weight_n[2];
        let worst = Any { rule: Rule::WorstEquilibrium, ..any.clone() }.shares();
        for (point, worst) in shares.points.iter().zip(&worst.points) {
            let [least, expected, greatest] = three_n(&point.share);
            let [bound_least, _, bound_greatest] = three_n(&point.any_equilibrium.unwrap());
            let all = [0.0, bound_least, least, expected, greatest, bound_greatest];
            prop_assert!(all.windows(2).all(|pair| pair[0] <= pair[1] + rounding_n), "{:?}", all);
            let [worst_least, _, worst_greatest] = three_n(&worst.share);
            prop_assert!((bound_least - worst_least).abs() <= rounding_n);
            prop_assert!((bound_greatest - worst_greatest).abs() <= rounding_n);
        }
    }

    /// No load within the tolerances, however it is drawn, brings a support beyond its ends.
    #[test]
    fn verify_no_combination_goes_beyond_the_ends(
        any in any(),
        drawn in prop::collection::vec((-1.0..=1.0, -1.0..=1.0, -1.0..=1.0, 0.0..core::f64::consts::TAU,
            prop::collection::vec(prop_oneof![Just(-1.0), Just(1.0), -1.0..=1.0], 8)), 24),
    ) {
        let any = Any { rule: Rule::Elastic, ..any };
        let shares = any.shares();
        for (weight, x, y, angle, levels) in drawn {
            let [least, expected, greatest] = any.weight_n;
            let side = if weight < 0.0 { expected - least } else { greatest - expected };
            let weight_n = expected + weight * side;
            // A force at 2 m of height.
            let arm_m = any.horizontal_n * 2.0 / weight_n;
            let place = (
                any.centre_m.0 + x * any.half_m.0 + arm_m * libm::cos(angle),
                any.centre_m.1 + y * any.half_m.1 + arm_m * libm::sin(angle),
            );
            let half_m = any.band_m / 2.0;
            let levels_m = any.levels_m.iter().zip(&levels).map(|(known, part)| known + part * half_m).collect();
            let exact = Any {
                weight_n: [weight_n; 3], centre_m: place, half_m: (0.0, 0.0), horizontal_n: 0.0, band_m: 0.0, levels_m,
                ..any.clone()
            };
            // Outside the points the load tips, and there are no shares.
            let Ok(found) = share_load(&exact.case()) else { continue };
            for (point, one) in shares.points.iter().zip(&found.points) {
                let [low, _, high] = three_n(&point.share);
                let reaction_n = one.share.expected.n();
                prop_assert!(low - EXACT * greatest <= reaction_n && reaction_n <= high + EXACT * greatest,
                    "{} N outside {} to {} N", reaction_n, low, high);
            }
        }
    }

    /// Moving the origin, even by kilometres, and turning the plan by a right angle with its box change nothing.
    #[test]
    fn verify_translation_and_a_quarter_turn(any in any(), x in -9e3..9e3, y in -9e3..9e3) {
        let here = shares_n(&any.shares());
        let there = any.moved(|at| (at.0 + x, at.1 + y));
        prop_assert!(close(&here, &shares_n(&there.shares()), EXACT * any.weight_n[2]));
        let turned = Any { half_m: (any.half_m.1, any.half_m.0), ..any.moved(|at| (-at.1, at.0)) };
        prop_assert!(close(&here, &shares_n(&turned.shares()), EXACT * any.weight_n[2]));
    }

    /// Without box and circle, which do not turn with the plan, any turn changes nothing.
    #[test]
    fn verify_any_turn(any in any(), angle in 0.0..core::f64::consts::TAU) {
        let any = Any { half_m: (0.0, 0.0), horizontal_n: 0.0, ..any };
        let (sin, cos) = (libm::sin(angle), libm::cos(angle));
        let turned = any.moved(|at| (at.0 * cos - at.1 * sin, at.0 * sin + at.1 * cos));
        prop_assert!(close(&shares_n(&any.shares()), &shares_n(&turned.shares()), EXACT * any.weight_n[2]));
    }

    #[test]
    fn verify_the_order_of_the_points(any in any(), turn in 0_usize..8) {
        let mut other = any.clone();
        let turn = turn % other.places_m.len();
        let mut wanted = shares_n(&any.shares());
        other.places_m.reverse();
        other.places_m.rotate_left(turn);
        other.stiffness_n_per_m.reverse();
        other.stiffness_n_per_m.rotate_left(turn);
        other.levels_m.reverse();
        other.levels_m.rotate_left(turn);
        wanted.reverse();
        wanted.rotate_left(turn);
        prop_assert!(close(&wanted, &shares_n(&other.shares()), EXACT * any.weight_n[2]));
    }

    /// While all carry, shares are linear in the place of the centre.
    #[test]
    fn verify_linearity_in_contact(any in any(), x in -1.0..1.0, y in -1.0..1.0) {
        let weight_n = any.weight_n[1];
        let at = |part: f64| {
            let place = (any.centre_m.0 + part * x, any.centre_m.1 + part * y);
            any.at(weight_n, place, any.levels_m.clone())
        };
        let (first, middle, last) = (at(-0.5), at(0.0), at(0.5));
        prop_assume!(first.iter().chain(&last).all(|reaction| 0.0 < *reaction));
        for ((first, middle), last) in first.iter().zip(&middle).zip(&last) {
            prop_assert!((f64::midpoint(*first, *last) - middle).abs() <= 1e-9 * weight_n);
        }
    }

    /// More tolerance of any kind never lowers a greatest share nor raises a least one.
    #[test]
    fn verify_more_tolerance_never_helps(any in any(), more in 0.0..1.0) {
        let [least, expected, greatest] = any.weight_n;
        let (x, y) = any.half_m;
        let wider = [
            Any { weight_n: [least * (1.0 - 0.1 * more), expected, greatest * (1.0 + 0.1 * more)], ..any.clone() },
            Any { half_m: (x + 0.2 * more, y), ..any.clone() },
            Any { half_m: (x, y + 0.2 * more), ..any.clone() },
            Any { band_m: any.band_m * (1.0 + more) + 1e-3 * more, ..any.clone() },
            Any { horizontal_n: any.horizontal_n + 0.03 * more * expected, ..any.clone() },
        ];
        let now = shares_n(&any.shares());
        for (kind, wider) in wider.iter().enumerate() {
            for (now, then) in now.iter().zip(shares_n(&wider.shares())) {
                let slack_n = 2e-7 * greatest;
                let wider = then[0] <= now[0] + slack_n && now[2] <= then[2] + slack_n;
                prop_assert!(wider, "kind {}: {:?}, then {:?}", kind, now, then);
            }
        }
    }
}
