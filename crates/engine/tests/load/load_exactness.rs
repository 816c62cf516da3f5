//! What an elastic share says of itself: exact while all keep their load, exact where some lift off, or a bound.

use crate::load_plan::{between_kn, check, exactly, kn, load, m, on_springs, plan, shares_n, supports, three_n};
use ramwright_engine::check::{CheckId, Phase, Status};
use ramwright_engine::load::{Combination, Exactness, LoadCase, Rule, share_load};
use ramwright_units::Length;

/// A grid of points on springs that are soft and stiff by turns.
fn grid(columns: u32, rows: u32, band_mm: f64) -> LoadCase {
    let along = |count: u32| (0..count).map(f64::from);
    let places: Vec<(f64, f64)> = along(rows).flat_map(|y| along(columns).map(move |x| (3.0 * x, 2.5 * y))).collect();
    let count = f64::from(columns * rows);
    let middle = (1.45 * f64::from(columns - 1), 1.3 * f64::from(rows - 1));
    let mut case = load(kn(500.0 * count), &places, middle);
    case.weight = between_kn(475.0 * count, 500.0 * count, 525.0 * count);
    let springs: Vec<f64> = (0..places.len()).map(|index| [6e7, 1.1e8, 9e7, 2e8, 7e7][index % 5]).collect();
    on_springs(&mut case, &springs);
    let placed = plan(&mut case);
    placed.level_band = Some(Length::from_mm(band_mm));
    placed.rule = Rule::Elastic;
    case
}

#[test]
fn verify_all_in_contact_is_exact() {
    let shares = share_load(&grid(2, 2, 2.0)).unwrap();
    assert!(shares_n(&shares).iter().all(|share| 0.0 < share[0]));
    assert!(supports(&shares).iter().all(|support| support.exactness == Exactness::Exact));
    assert!(shares.why.to_string().contains("every support keeps its load"), "{}", shares.why);
    assert_eq!(check(&shares, CheckId::Contact, Phase::Raising).status, Status::Pass);
    assert_eq!(check(&shares, CheckId::LevelErrors, Phase::Raising).status, Status::Pass);
}

#[test]
fn verify_few_that_lift_off_are_exact() {
    let shares = share_load(&grid(3, 2, 30.0)).unwrap();
    assert!(shares_n(&shares).iter().any(|share| share[0] <= 0.0));
    assert!(supports(&shares).iter().all(|support| support.exactness == Exactness::Exact));
    assert!(shares.why.to_string().contains("searched for and proven"), "{}", shares.why);
    assert_eq!(check(&shares, CheckId::Contact, Phase::Raising).status, Status::Caution);
}

/// What a support carries in a combination, in N; `None` if its place or levels are not known.
fn met_n(case: &LoadCase, combination: &Combination, index: usize) -> Option<f64> {
    let mut exact = case.clone();
    exact.weight = exactly(combination.vertical_load);
    let placed = plan(&mut exact);
    (placed.centre.x, placed.centre.y) = (exactly(combination.x?), exactly(combination.y?));
    placed.level_band = None;
    for (point, level) in exact.points.iter_mut().zip(&combination.levels) {
        point.level = *level;
    }
    (combination.levels.len() == exact.points.len())
        .then(|| share_load(&exact).unwrap().points[index].share.expected.n())
}

/// Twenty-four points in a wide band are more than the search proves. Its bounds lie between any equilibrium and what some
/// loads really give: the levels high at the point itself and its mates on a chequer board, low at the others.
#[test]
fn verify_many_that_lift_off_are_bounds_on_the_safe_side() {
    let case = grid(6, 4, 30.0);
    let shares = share_load(&case).unwrap();
    assert!(supports(&shares).iter().any(|support| support.exactness == Exactness::SafeSide));
    assert!(shares.why.to_string().contains("its bound on the safe side stands"), "{}", shares.why);
    let bounds = supports(&shares).iter().enumerate().filter(|(_, support)| support.exactness == Exactness::SafeSide);
    for (index, support) in bounds {
        // The worst combination that was met gives less: were it as much, the share would be exact.
        let governing = support.governing.as_ref().unwrap();
        let [least, _, greatest] = three_n(&support.share);
        let above = met_n(&case, &governing.greatest, index).map_or(0.0, |met| greatest - met);
        let below = met_n(&case, &governing.least, index).map_or(0.0, |met| met - least);
        let rounding_n = 1e-7 * case.weight.greatest.n();
        assert!(
            -1.0 <= above && -1.0 <= below && rounding_n < above.max(below),
            "{}: {below}, {above}",
            support.support
        );
    }
    for high in [0, 1] {
        let mut exact = case.clone();
        plan(&mut exact).level_band = None;
        for (index, point) in exact.points.iter_mut().enumerate() {
            point.level = m(if (index % 6 + index / 6) % 2 == high { 0.015 } else { -0.015 });
        }
        let found = share_load(&exact).unwrap();
        for (all, one) in shares.points.iter().zip(&found.points) {
            let ([low, _, high], [least, _, greatest]) = (three_n(&all.share), three_n(&one.share));
            let [bound_low, _, bound_high] = three_n(&all.any_equilibrium.unwrap());
            let order = [bound_low, low, least, greatest, high, bound_high];
            assert!(order.windows(2).all(|pair| pair[0] <= pair[1] + 1.0), "{order:?}");
        }
    }
}
