//! As the centre of gravity moves, supports lift off and touch again, and no share jumps.

use crate::load_plan::{load, on_springs, plan, shares_n};
use proptest::prelude::*;
use ramwright_engine::load::{Rule, envelope_alone};
use ramwright_units::{Force, Length};

const WEIGHT_N: f64 = 4e6;

/// Points on springs at known levels.
#[expect(clippy::struct_field_names, reason = "the common ending is the unit")]
#[derive(Clone, Debug)]
struct Springs {
    places_m: Vec<(f64, f64)>,
    stiffness_n_per_m: Vec<f64>,
    levels_m: Vec<f64>,
}

impl Springs {
    /// Reactions with the centre at a place, in N.
    fn at(&self, centre_m: (f64, f64)) -> Vec<f64> {
        let mut case = load(Force::from_n(WEIGHT_N), &self.places_m, centre_m);
        plan(&mut case).rule = Rule::Elastic;
        on_springs(&mut case, &self.stiffness_n_per_m);
        for (point, level) in case.points.iter_mut().zip(&self.levels_m) {
            point.level = Length::from_m(*level);
        }
        shares_n(&envelope_alone(&case).unwrap()).iter().map(|share| share[1]).collect()
    }

    /// The steepest change of any reaction with the place of the centre, over every set of supports that can carry it
    /// by itself, in N/m. For one set it is `W k_i S^-1 (p_i - c)`, with c the mean of its places and S their second
    /// moments, both weighted with stiffness.
    fn steepest_n_per_m(&self) -> f64 {
        let sets = (0..1_u32 << self.places_m.len()).filter(|set| 3 <= set.count_ones());
        sets.map(|set| self.steepest_of(set)).fold(0.0, f64::max)
    }

    fn steepest_of(&self, set: u32) -> f64 {
        let all = self.places_m.iter().zip(&self.stiffness_n_per_m).enumerate();
        let those: Vec<_> = all.filter(|(index, _)| set >> index & 1 == 1).map(|(_, both)| both).collect();
        let sum = |of: &dyn Fn(f64, f64) -> f64| -> f64 { those.iter().map(|((x, y), k)| **k * of(*x, *y)).sum() };
        let whole = sum(&|_, _| 1.0);
        let (cx, cy) = (sum(&|x, _| x) / whole, sum(&|_, y| y) / whole);
        let xx = sum(&|x, _| (x - cx) * (x - cx));
        let yy = sum(&|_, y| (y - cy) * (y - cy));
        let xy = sum(&|x, y| (x - cx) * (y - cy));
        let determinant = xx * yy - xy * xy;
        let slope = |((x, y), k): &(&(f64, f64), &f64)| {
            let (dx, dy) = (x - cx, y - cy);
            WEIGHT_N * **k * libm::hypot(yy * dx - xy * dy, xx * dy - xy * dx) / determinant
        };
        those.iter().map(slope).fold(0.0, f64::max)
    }
}

/// A grid of three by two points, each off its place by up to 0.4 m.
fn springs() -> impl Strategy<Value = Springs> {
    let point = (-0.4..0.4, -0.4..0.4, 7.5..9.0, -0.01..0.01);
    prop::collection::vec(point, 6).prop_map(|points| {
        let grid = [(-5.0, -2.0), (0.0, -2.5), (5.0, -2.0), (-5.0, 2.0), (0.0, 2.5), (5.0, 2.0)];
        let place = |(at, off): (&(f64, f64), &(f64, f64, f64, f64))| (at.0 + off.0, at.1 + off.1);
        Springs {
            places_m: grid.iter().zip(&points).map(place).collect(),
            stiffness_n_per_m: points.iter().map(|point| libm::pow(10.0, point.2)).collect(),
            levels_m: points.iter().map(|point| point.3).collect(),
        }
    })
}

fn carrying(reactions_n: &[f64]) -> Vec<bool> {
    reactions_n.iter().map(|reaction| 0.0 < *reaction).collect()
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(40))]

    /// Wherever the set of supports that carry changes, the place of the change is closed in to a ten-millionth of the
    /// path, and from one side of it to the other no share changes by more than the steepest relation gives.
    #[test]
    fn verify_no_share_jumps_where_supports_lift_off(springs in springs(), from in 0_usize..6, to in 0_usize..6) {
        // Nine tenths of the way to two of the points.
        let [start, end] = [from, to].map(|index| {
            let (x, y) = springs.places_m[index];
            (0.9 * x, 0.9 * y)
        });
        let place = |part: f64| (start.0 + part * (end.0 - start.0), start.1 + part * (end.1 - start.1));
        let length_m = libm::hypot(end.0 - start.0, end.1 - start.1);
        let steepest = springs.steepest_n_per_m();
        let steps = 30;
        let parts: Vec<f64> = (0..=steps).map(|step| f64::from(step) / f64::from(steps)).collect();
        let all: Vec<Vec<f64>> = parts.iter().map(|part| springs.at(place(*part))).collect();
        for (part, reactions) in parts.windows(2).zip(all.windows(2)) {
            let (mut low, mut high) = ((part[0], reactions[0].clone()), (part[1], reactions[1].clone()));
            if carrying(&low.1) != carrying(&high.1) {
                while 1e-7 < high.0 - low.0 {
                    let part = f64::midpoint(low.0, high.0);
                    let middle = (part, springs.at(place(part)));
                    if carrying(&middle.1) == carrying(&low.1) { low = middle } else { high = middle }
                }
            }
            let most_n = steepest * length_m * (high.0 - low.0) + 1e-9 * WEIGHT_N;
            for (low, high) in low.1.iter().zip(&high.1) {
                prop_assert!((high - low).abs() <= most_n, "{} N to {} N, at most {} N", low, high, most_n);
            }
        }
    }

    /// Three of the six points cannot always carry, so towards the edge some lift off: without it the test above would
    /// see no change of contact.
    #[test]
    fn verify_towards_a_corner_supports_lift_off(springs in springs(), corner in 0_usize..4) {
        let (x, y) = springs.places_m[[0, 2, 3, 5][corner]];
        prop_assert!(carrying(&springs.at((0.9 * x, 0.9 * y))).contains(&false));
    }
}
