//! Weights of one: a reaction is a share. Weights and pushes are in [`pushes`].

use super::super::domain::PushSpread;
use super::super::elastic::equal_springs;
use super::super::geometry::convex_hull;
use super::super::region::CentreSpread;
use super::super::statics::static_shares;
use super::*;
use proptest::prelude::*;

mod pushes;

const RECTANGLE: [Vec2; 4] = [Vec2::new(-3.0, -2.0), Vec2::new(3.0, -2.0), Vec2::new(3.0, 2.0), Vec2::new(-3.0, 2.0)];

/// Range of the share of one support (dimensionless).
#[derive(Debug, Clone, Copy, PartialEq)]
struct ShareBound {
    least: f64,
    greatest: f64,
}

/// A weight of one with its centre of gravity about a place.
fn about(at: Vec2, spread: CentreSpread) -> LoadDomain {
    let push = PushSpread::NONE;
    LoadDomain { least_n: 1.0, expected_n: 1.0, greatest_n: 1.0, expected_at: at, middle: at, spread, push }
}

fn share_bounds(points: &[Vec2], domain: &LoadDomain) -> Result<Option<Vec<ShareBound>>, InputError> {
    let share = |b: ReactionBound| ShareBound { least: b.least.reaction_n, greatest: b.greatest.reaction_n };
    Ok(reaction_bounds(points, domain)?.map(|bounds| bounds.into_iter().map(share).collect()))
}

/// The same for a centre of gravity known exactly, in m.
fn worst_equilibrium_at(points: &[Vec2], centre: Vec2) -> Result<Option<Vec<ShareBound>>, InputError> {
    share_bounds(points, &about(centre, CentreSpread::NONE))
}

/// Corners of the polygon of places of the resultant at a weight that its reach in the given directions leaves.
fn corners(domain: &LoadDomain, directions: &[Vec2], weight: f64) -> Vec<Vec2> {
    let mut sides: Vec<(f64, Vec2)> = directions.iter().map(|d| (libm::atan2(d.y, d.x), *d)).collect();
    sides.sort_by(|a, b| a.0.total_cmp(&b.0));
    sides.dedup_by(|b, a| (b.1 - a.1).length() < 1e-9);
    let mut corners: Vec<Vec2> = Vec::new();
    for (k, &(_, d)) in sides.iter().enumerate() {
        let e = sides[(k + 1) % sides.len()].1;
        let (h, i) = (high(domain, d, weight), high(domain, e, weight));
        let at = Vec2::new(h * e.y - i * d.y, i * d.x - h * e.x) * (1.0 / d.cross(e));
        if corners.iter().all(|c| 1e-12 < (*c - at).length()) {
            corners.push(at);
        }
    }
    corners
}

fn high(domain: &LoadDomain, d: Vec2, weight: f64) -> f64 {
    domain.per_weight_m(d) + domain.push.reach(d) / weight
}

fn at(points: &[Vec2], x: f64, y: f64) -> Vec<ShareBound> {
    worst_equilibrium_at(points, Vec2::new(x, y)).unwrap().unwrap()
}

#[track_caller]
fn check(found: &[ShareBound], least: &[f64], greatest: &[f64]) {
    for ((f, l), g) in found.iter().zip(least).zip(greatest) {
        assert!((f.least - l).abs() < 1e-11 && (f.greatest - g).abs() < 1e-11, "{found:?}");
    }
}

/// Common practice, no source: on four stiff points two diagonal ones carry all.
#[test]
fn verify_rectangle_two_diagonals_carry_all() {
    check(&at(&RECTANGLE, 0.0, 0.0), &[0.0; 4], &[0.5; 4]);
}

/// Statics, exact: three supports leave no choice.
#[test]
fn validate_three_supports() {
    let points = [Vec2::new(0.0, 0.0), Vec2::new(6.0, 0.0), Vec2::new(3.0, 5.0)];
    let shares = [345.0 / 900.0, 285.0 / 900.0, 0.3];
    check(&at(&points, 2.8, 1.5), &shares, &shares);
}

/// Statics, exact: span 8 m, 500 at 3.2 m from A gives 300 and 200.
#[test]
fn validate_two_supports() {
    let points = [Vec2::new(0.0, 0.0), Vec2::new(8.0, 0.0)];
    check(&at(&points, 3.2, 0.0), &[0.6, 0.4], &[0.6, 0.4]);
    // Only the part of the tolerance along the line counts; here +-0.8 m.
    let region = about(Vec2::new(3.2, 0.0), CentreSpread::new(0.8, 0.5, 0.0).unwrap());
    check(&share_bounds(&points, &region).unwrap().unwrap(), &[0.5, 0.3], &[0.7, 0.5]);
}

#[test]
fn verify_rectangle_off_centre_by_hand() {
    // Centre at (2, 1): the right side carries 5/6, the top 3/4. A corner carries at most the lesser of its two sides,
    // and at least what their sum exceeds the whole by.
    let (right, top) = (5.0 / 6.0, 0.75);
    let least = [0.0, right + (1.0 - top) - 1.0, right + top - 1.0, 0.0];
    let greatest = [1.0 - right, 1.0 - top, top, 1.0 - right];
    check(&at(&RECTANGLE, 2.0, 1.0), &least, &greatest);
}

#[test]
fn verify_few_or_coincident_supports() {
    let p = Vec2::new(2.0, 3.0);
    check(&at(&[p], 2.0, 3.0), &[1.0], &[1.0]);
    check(&at(&[p, p], 2.0, 3.0), &[0.0, 0.0], &[1.0, 1.0]);
    assert_eq!(worst_equilibrium_at(&[p], Vec2::new(2.0, 3.1)), Ok(None));
    assert_eq!(worst_equilibrium_at(&[], p), Ok(None));
    // Three in line: the middle one can carry all or nothing.
    let row = [Vec2::new(0.0, 0.0), Vec2::new(1.0, 1.0), Vec2::new(2.0, 2.0)];
    check(&at(&row, 1.0, 1.0), &[0.0, 0.0, 0.0], &[0.5, 1.0, 0.5]);
    check(&at(&row, 0.5, 0.5), &[0.5, 0.0, 0.0], &[0.75, 0.5, 0.25]);
    assert_eq!(worst_equilibrium_at(&row, Vec2::new(0.5, 0.6)), Ok(None));
    assert_eq!(worst_equilibrium_at(&row, Vec2::new(2.5, 2.5)), Ok(None));
}

#[test]
fn verify_outside_there_is_no_equilibrium() {
    assert_eq!(worst_equilibrium_at(&RECTANGLE, Vec2::new(3.1, 0.0)), Ok(None));
    // On the edge there is: the two supports of the edge carry all.
    check(&at(&RECTANGLE, 3.0, 0.0), &[0.0, 0.5, 0.5, 0.0], &[0.0, 0.5, 0.5, 0.0]);
    // A region that only partly lies within answers for that part.
    let region = about(Vec2::new(3.5, 0.0), CentreSpread::new(0.5, 0.0, 0.0).unwrap());
    let bounds = share_bounds(&RECTANGLE, &region).unwrap().unwrap();
    check(&bounds, &[0.0, 0.5, 0.5, 0.0], &[0.0, 0.5, 0.5, 0.0]);
}

#[test]
fn verify_greatest_can_lie_inside_the_tolerance() {
    // A support under the nominal centre: there it can carry all, at no corner of the box it can.
    let mut points = RECTANGLE.to_vec();
    points.push(Vec2::ZERO);
    let spread = CentreSpread::new(0.3, 0.2, 0.0).unwrap();
    let region = about(Vec2::ZERO, spread);
    assert!(1.0 - 1e-12 < share_bounds(&points, &region).unwrap().unwrap()[4].greatest);
    for v in corners(&region, &region.directions(), 1.0) {
        assert!(at(&points, v.x, v.y)[4].greatest < 0.91);
    }
}

#[test]
fn verify_non_finite_is_refused() {
    let bad = [Vec2::new(f64::NAN, 0.0)];
    assert_eq!(worst_equilibrium_at(&bad, Vec2::ZERO), Err(InputError::Coordinate));
    assert_eq!(worst_equilibrium_at(&RECTANGLE, Vec2::new(f64::INFINITY, 0.0)), Err(InputError::Coordinate));
}

/// Range by the vertices of the linear programme itself, at one weight: at a vertex of `{r >= 0, sum r = 1, sum r p in
/// region}` the resultant is at a corner of the region carried by up to three supports, or on a side of the region
/// carried by two, or at a support inside the region. The region is what the reach in the given directions leaves.
fn by_vertices(points: &[Vec2], domain: &LoadDomain, directions: &[Vec2], weight: f64) -> Option<Vec<ShareBound>> {
    let n = points.len();
    let mut found: Vec<Vec<(usize, f64)>> = Vec::new();
    let v = corners(domain, directions, weight);
    let inside = |p: Vec2| directions.iter().all(|d| d.dot(p) <= high(domain, *d, weight) + 1e-12);
    for i in 0..n {
        if inside(points[i]) {
            found.push(vec![(i, 1.0)]);
        }
        for j in i + 1..n {
            for k in 0..v.len() {
                let (a, b) = (v[k], v[(k + 1) % v.len()]);
                found.extend(segments_meet(points[i], points[j], a, b).map(|t| vec![(i, 1.0 - t), (j, t)]));
            }
            for k in j + 1..n {
                for &g in &v {
                    if let Ok(s) = static_shares(&[points[i], points[j], points[k]], g)
                        && s.iter().all(|s| -1e-12 <= s.share)
                    {
                        found.push(vec![(i, s[0].share), (j, s[1].share), (k, s[2].share)]);
                    }
                }
            }
        }
    }
    let share = |set: &Vec<(usize, f64)>, i: usize| set.iter().find(|s| s.0 == i).map_or(0.0, |s| s.1);
    (!found.is_empty()).then(|| {
        (0..n)
            .map(|i| ShareBound {
                least: found.iter().map(|s| share(s, i)).fold(f64::INFINITY, f64::min),
                greatest: found.iter().map(|s| share(s, i)).fold(f64::NEG_INFINITY, f64::max),
            })
            .collect()
    })
}

/// Where on p..q the segment a..b crosses, from 0 to 1; nothing for parallel ones, whose ends other cases name.
fn segments_meet(p: Vec2, q: Vec2, a: Vec2, b: Vec2) -> Option<f64> {
    let (pq, ab) = (q - p, b - a);
    let cross = pq.cross(ab);
    if cross.abs() < 1e-14 * pq.length() * ab.length() || ab.length() <= 0.0 {
        return None;
    }
    let (t, u) = ((a - p).cross(ab) / cross, (a - p).cross(pq) / cross);
    ((0.0..=1.0).contains(&t) && (0.0..=1.0).contains(&u)).then_some(t)
}

/// Every share that up to three supports give at one centre.
fn shares_at(points: &[Vec2], g: Vec2) -> Vec<(usize, f64)> {
    let n = points.len();
    let mut found = Vec::new();
    for i in 0..n {
        for j in i + 1..n {
            for k in j + 1..n {
                if let Ok(s) = static_shares(&[points[i], points[j], points[k]], g)
                    && s.iter().all(|s| 0.0 <= s.share)
                {
                    found.extend([(i, s[0].share), (j, s[1].share), (k, s[2].share)]);
                    found.extend((0..n).filter(|m| ![i, j, k].contains(m)).map(|m| (m, 0.0)));
                }
            }
        }
    }
    found
}

fn cloud(count: core::ops::Range<usize>) -> impl Strategy<Value = Vec<Vec2>> {
    let free = prop::collection::vec((-9.0f64..9.0, -9.0f64..9.0), count.clone());
    // On whole numbers: repeated supports and rows are common.
    let grid = prop::collection::vec((-2i32..3, -2i32..3), count)
        .prop_map(|l| l.iter().map(|&(x, y)| (f64::from(x), f64::from(y))).collect::<Vec<_>>());
    prop_oneof![free, grid].prop_map(|l| l.iter().map(|&(x, y)| Vec2::new(x, y)).collect())
}

/// Half widths of the box and radius of the disc.
fn tolerances() -> impl Strategy<Value = (f64, f64, f64)> {
    let part = || prop_oneof![Just(0.0), 0.001f64..3.0];
    (part(), part(), part())
}

fn spread() -> impl Strategy<Value = CentreSpread> {
    tolerances().prop_map(|(x, y, r)| CentreSpread::new(x, y, r).unwrap())
}

/// Height of the thinnest triangle that is no line, as a part of the size: below it the oracle loses digits.
fn thinnest(points: &[Vec2]) -> f64 {
    let size = plan_size_m(points);
    let mut least = f64::INFINITY;
    for a in points {
        for b in points {
            for c in points {
                let height = (*b - *a).cross(*c - *a).abs() / (size * size);
                if 1e-9 < height {
                    least = least.min(height);
                }
            }
        }
    }
    least
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(600))]

    #[test]
    fn verify_elastic_lies_within(points in cloud(3..20), g in (-2.0f64..2.0, -2.0f64..2.0), spread in spread()) {
        let g = Vec2::new(g.0, g.1);
        if let Ok(shares) = equal_springs(&points, g) {
            for region in [about(g, CentreSpread::NONE), about(g, spread)] {
                let bounds = share_bounds(&points, &region).unwrap().unwrap();
                for (s, b) in shares.iter().zip(&bounds) {
                    prop_assert!((0.0..=1.0).contains(&b.least) && b.least <= b.greatest && b.greatest <= 1.0);
                    prop_assert!((b.least - 1e-9..=b.greatest + 1e-9).contains(s), "{s} {b:?}");
                }
            }
        }
    }

    #[test]
    fn verify_order_place_scale_and_turn_do_not_matter(
        points in cloud(3..12), g in (-2.0f64..2.0, -2.0f64..2.0), spread in (0.0f64..1.0, 0.0f64..1.0, 0.0f64..1.0),
        shift in (-50.0f64..50.0, -50.0f64..50.0), scale in 0.001f64..10.0, angle in 0.0f64..6.3,
    ) {
        prop_assume!(1e-3 < thinnest(&points));
        let (g, shift) = (Vec2::new(g.0, g.1), Vec2::new(shift.0, shift.1));
        let region_of = |g: Vec2, by: f64| {
            about(g, CentreSpread::new(spread.0 * by, spread.1 * by, spread.2 * by).unwrap())
        };
        let close = |a: Option<Vec<ShareBound>>, b: Option<Vec<ShareBound>>| match (a, b) {
            (Some(a), Some(b)) => a.iter().zip(b.iter().rev()).all(|(a, b)| {
                (a.least - b.least).abs() < 1e-9 && (a.greatest - b.greatest).abs() < 1e-9
            }),
            (a, b) => a.is_none() == b.is_none(),
        };
        let moved = |p: Vec2| (p + shift) * scale;
        let other: Vec<Vec2> = points.iter().rev().map(|&p| moved(p)).collect();
        let a = share_bounds(&points, &region_of(g, 1.0)).unwrap();
        let b = share_bounds(&other, &region_of(moved(g), scale)).unwrap();
        prop_assert!(close(a.clone(), b.clone()), "{a:?} {b:?}");
        let turned = |p: Vec2| {
            let (c, s) = (libm::cos(angle), libm::sin(angle));
            Vec2::new(c * p.x - s * p.y, s * p.x + c * p.y)
        };
        let other: Vec<Vec2> = points.iter().rev().map(|&p| turned(p)).collect();
        let a = worst_equilibrium_at(&points, g).unwrap();
        let b = worst_equilibrium_at(&other, turned(g)).unwrap();
        prop_assert!(close(a.clone(), b.clone()), "{a:?} {b:?}");
    }

    #[test]
    fn verify_wider_tolerance_never_narrows_the_range(
        points in cloud(1..9), g in (-2.0f64..2.0, -2.0f64..2.0), spread in spread(), more in (0.0f64..1.0, 0.0f64..1.0),
    ) {
        let g = Vec2::new(g.0, g.1);
        let narrow = share_bounds(&points, &about(g, CentreSpread::new(more.0, 0.0, 0.0).unwrap()));
        let wide = CentreSpread::new(more.0 + more.1, more.1, more.1).unwrap();
        let wide = share_bounds(&points, &about(g, wide)).unwrap();
        if let Some(narrow) = narrow.unwrap() {
            for (n, w) in narrow.iter().zip(wide.unwrap()) {
                prop_assert!(w.least <= n.least + 1e-9 && n.greatest <= w.greatest + 1e-9);
            }
        }
        // Each support on its own bounds: one that stands where the centre may be can carry all.
        let region = about(points[0], spread);
        prop_assert!(1.0 - 1e-9 <= share_bounds(&points, &region).unwrap().unwrap()[0].greatest);
    }

    #[test]
    fn verify_no_panic_on_any_input(
        list in prop::collection::vec((any::<f64>(), any::<f64>()), 0..6), x in any::<f64>(), y in any::<f64>(),
        far in prop::collection::vec((-1e9f64..1e9, -1e-9f64..1e-9), 0..6),
    ) {
        let set: Vec<Vec2> = list.iter().map(|&(x, y)| Vec2::new(x, y)).collect();
        let _ = worst_equilibrium_at(&set, Vec2::new(x, y));
        let set: Vec<Vec2> = far.iter().map(|&(x, y)| Vec2::new(x, y)).collect();
        for bound in worst_equilibrium_at(&set, Vec2::ZERO).unwrap().into_iter().flatten() {
            prop_assert!((0.0..=1.0).contains(&bound.least) && (0.0..=1.0).contains(&bound.greatest));
        }
    }

    #[test]
    fn verify_supports_in_a_row(
        places in prop::collection::vec(-5i32..6, 2..7), angle in 0.01f64..3.1, g in -4.0f64..4.0,
        half in (0.0f64..2.0, 0.0f64..2.0),
    ) {
        let along = Vec2::new(libm::cos(angle), libm::sin(angle));
        let points: Vec<Vec2> = places.iter().map(|&t| along * f64::from(t)).collect();
        let spread = CentreSpread::new(half.0, half.1, 0.0).unwrap();
        let found = share_bounds(&points, &about(along * g, spread)).unwrap();
        // The row passes through the box from g - reach to g + reach.
        let reach = (half.0 / along.x.abs()).min(half.1 / along.y.abs());
        let held = |a: f64| g - reach <= a && a <= g + reach;
        // At a vertex of the linear programme the centre is at an end of that stretch, on two supports, or at one.
        let mut sets: Vec<Vec<(usize, f64)>> = Vec::new();
        for (i, &a) in places.iter().enumerate() {
            let a = f64::from(a);
            sets.extend(held(a).then(|| vec![(i, 1.0)]));
            for (j, &b) in places.iter().enumerate().filter(|(_, b)| a < f64::from(**b)) {
                let b = f64::from(b);
                for end in [g - reach, g + reach].into_iter().filter(|end| (a..=b).contains(end)) {
                    sets.push(vec![(i, (b - end) / (b - a)), (j, (end - a) / (b - a))]);
                }
            }
        }
        prop_assert_eq!(found.is_some(), !sets.is_empty());
        for (i, bound) in found.iter().flatten().enumerate() {
            let of_i = |set: &Vec<(usize, f64)>| set.iter().find(|s| s.0 == i).map_or(0.0, |s| s.1);
            let least = sets.iter().map(of_i).fold(1.0, f64::min);
            let greatest = sets.iter().map(of_i).fold(0.0, f64::max);
            prop_assert!((bound.least - least).abs() < 1e-9 && (bound.greatest - greatest).abs() < 1e-9);
        }
    }
}
