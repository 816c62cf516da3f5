//! Weights between two limits, and pushes that do not depend on the weight.

use super::*;

/// Half widths and radius in m, radius of the pushes in N m and one push of known direction, all to be scaled.
type Part = (f64, f64);

#[derive(Debug, Clone)]
struct Made {
    domain: LoadDomain,
    radius_m: f64,
    push_radius_nm: f64,
    directed_nm: Vec<Vec2>,
}

impl Made {
    fn new(
        weights: Part,
        middle: Vec2,
        box_disc: (f64, f64, f64),
        push_radius_nm: f64,
        directed_nm: Vec<Vec2>,
    ) -> Self {
        let domain = LoadDomain {
            least_n: weights.0,
            expected_n: weights.0,
            greatest_n: weights.1,
            expected_at: middle,
            middle,
            spread: CentreSpread::new(box_disc.0, box_disc.1, box_disc.2).unwrap(),
            push: PushSpread::new(push_radius_nm, directed_nm.clone()).unwrap(),
        };
        Self { domain, radius_m: box_disc.2, push_radius_nm, directed_nm }
    }

    /// A place of the resultant at a weight: parts of the box from -1 to 1, a direction of the discs with a part from 0
    /// to 1, a part of each push from 0 to 1.
    fn member(&self, weight: f64, in_box: Part, disc: Part, pushes: &[f64]) -> Vec2 {
        let (x, y) = (self.domain.spread.reach(Vec2::new(1.0, 0.0)), self.domain.spread.reach(Vec2::new(0.0, 1.0)));
        let in_box = Vec2::new(in_box.0 * (x - self.radius_m), in_box.1 * (y - self.radius_m));
        let round =
            Vec2::new(libm::cos(disc.0), libm::sin(disc.0)) * (disc.1 * (self.radius_m + self.push_radius_nm / weight));
        let pushed = self.directed_nm.iter().zip(pushes).fold(Vec2::ZERO, |sum, (v, part)| sum + *v * (part / weight));
        self.domain.middle + in_box + round + pushed
    }

    /// By how much the polygons about the discs exceed them at most, in m.
    fn excess_m(&self, weight: f64) -> f64 {
        0.005 * (self.radius_m + self.push_radius_nm / weight)
    }

    /// The same with discs so much smaller that their polygons of 64 sides, about them, lie within the true discs.
    fn shrunk(&self, half: (f64, f64)) -> Self {
        let by = libm::cos(core::f64::consts::PI / 64.0);
        let (d, disc) = (&self.domain, (half.0, half.1, self.radius_m * by));
        let weights = (d.least_n, d.greatest_n);
        Self::new(weights, d.middle, disc, self.push_radius_nm * by, self.directed_nm.clone())
    }
}

fn fine_directions(domain: &LoadDomain) -> Vec<Vec2> {
    let angle = |k: i32| f64::from(k) * core::f64::consts::TAU / 64.0;
    let fine = (0..64).map(|k| Vec2::new(libm::cos(angle(k)), libm::sin(angle(k))));
    fine.chain(domain.directions()).collect()
}

fn found(points: &[Vec2], made: &Made) -> Vec<ReactionBound> {
    reaction_bounds(points, &made.domain).unwrap().unwrap()
}

const FIVE: [Vec2; 5] = [RECTANGLE[0], RECTANGLE[1], RECTANGLE[2], RECTANGLE[3], Vec2::new(0.5, 0.25)];
const SEVEN: [Vec2; 7] = [
    Vec2::new(4.0, 0.0),
    Vec2::new(2.0, 3.0),
    Vec2::new(-2.0, 3.5),
    Vec2::new(-4.0, 0.5),
    Vec2::new(-1.5, -3.0),
    Vec2::new(2.5, -2.5),
    Vec2::new(1.0, 0.5),
];

/// Holds the reactions, and the weight of the greatest, against given ones.
#[track_caller]
fn check_reactions(points: &[Vec2], made: &Made, least: &[f64], greatest: &[f64], weight: impl Fn(usize) -> f64) {
    let bounds = found(points, made);
    assert_eq!((bounds.len(), least.len(), greatest.len()), (points.len(), points.len(), points.len()));
    for (i, b) in bounds.iter().enumerate() {
        assert!((b.least.reaction_n - least[i]).abs() < 1e-6, "{i}: {b:?}");
        assert!((b.greatest.reaction_n - greatest[i]).abs() < 1e-6, "{i}: {b:?}");
        assert!((b.greatest.weight_n - weight(i)).abs() < 1e-3, "{i}: {b:?}");
        assert_eq!(b.least.weight_n.to_bits(), made.domain.least_n.to_bits());
    }
}

/// Own linear programmes in all reactions, the weight, the place in the box and the part of each push, solved by scipy
/// 1.17.1, `linprog(method="highs")`; printed to nine decimals.
#[test]
fn verify_against_a_general_solver() {
    let made = Made::new((800.0, 1000.0), Vec2::new(0.4, -0.3), (0.2, 0.1, 0.0), 0.0, vec![Vec2::new(300.0, 0.0)]);
    let greatest = [466.666_666_667, 600.0, 450.0, 450.0];
    check_reactions(&RECTANGLE, &made, &[0.0, 66.666_666_667, 0.0, 0.0], &greatest, |_| 1000.0);

    let pushes = vec![Vec2::new(200.0, 150.0), Vec2::new(-100.0, 250.0)];
    let made = Made::new((600.0, 900.0), Vec2::new(0.5, 0.25), (0.3, 0.2, 0.0), 0.0, pushes);
    let greatest = [423.947_368_421, 438.75, 600.263_157_895, 436.666_666_667, 900.0];
    check_reactions(&FIVE, &made, &[0.0; 5], &greatest, |_| 900.0);

    let triangle = [Vec2::new(0.0, 0.0), Vec2::new(6.0, 0.0), Vec2::new(3.0, 5.0)];
    let made = Made::new((500.0, 700.0), Vec2::new(2.8, 1.5), (0.25, 0.5, 0.0), 0.0, vec![Vec2::new(-120.0, 90.0)]);
    check_reactions(&triangle, &made, &[145.833_333_333, 83.5, 100.0], &[343.5, 285.833_333_333, 298.0], |_| 700.0);

    let pushes = vec![Vec2::new(900.0, -400.0), Vec2::new(250.0, 700.0)];
    let made = Made::new((1500.0, 2000.0), Vec2::new(-0.6, 0.8), (0.5, 0.4, 0.0), 0.0, pushes);
    let greatest = [
        1_089.956_331_878,
        1_305.504_587_156,
        1_366.666_666_667,
        1_260.869_565_217,
        972.815_533_981,
        1_070.588_235_294,
        1_782.857_142_857,
    ];
    check_reactions(&SEVEN, &made, &[0.0; 7], &greatest, |_| 2000.0);

    let row = [Vec2::new(0.0, 0.0), Vec2::new(1.0, 2.0), Vec2::new(2.0, 4.0), Vec2::new(4.0, 8.0)];
    let pushes = vec![Vec2::new(50.0, 400.0), Vec2::new(-300.0, 20.0)];
    let made = Made::new((700.0, 900.0), Vec2::new(1.5, 3.0), (0.2, 0.1, 0.0), 0.0, pushes);
    check_reactions(&row, &made, &[0.0; 4], &[573.75, 765.0, 790.0, 395.0], |_| 900.0);

    let two = [Vec2::new(0.0, 0.0), Vec2::new(8.0, 0.0)];
    let pushes = vec![Vec2::new(500.0, 0.0), Vec2::new(0.0, 700.0)];
    let made = Made::new((700.0, 900.0), Vec2::new(3.2, 0.0), (0.5, 0.3, 0.0), 0.0, pushes);
    check_reactions(&two, &made, &[313.75, 236.25], &[596.25, 478.75], |_| 900.0);
}

/// As [`verify_against_a_general_solver`], with the centre of gravity outside the hull wherever it may be: what holds the
/// load is the push, so a heavier one tips and a lighter one weighs less, and the greatest reaction is at a weight
/// between the limits.
#[test]
fn verify_greatest_between_the_weights_against_a_general_solver() {
    let made = Made::new((100.0, 500.0), Vec2::new(3.25, 0.1), (0.05, 0.05, 0.0), 0.0, vec![Vec2::new(-60.0, 15.0)]);
    let (least, greatest) = ([0.0, 35.833_333_333, 48.333_333_333, 0.0], [6.666_666_667, 142.5, 165.0, 6.666_666_667]);
    check_reactions(&RECTANGLE, &made, &least, &greatest, |i| [100.0, 300.0, 300.0, 100.0][i]);

    let pushes = vec![Vec2::new(-180.0, 60.0), Vec2::new(0.0, -90.0)];
    let made = Made::new((200.0, 1000.0), Vec2::new(4.5, 0.4), (0.1, 0.1, 0.0), 0.0, pushes);
    let greatest = [310.0, 50.0, 16.666_666_667, 10.434_782_609, 10.666_666_667, 25.263_157_895, 30.0];
    let mut least = [0.0; 7];
    least[0] = 143.684_210_526;
    check_reactions(&SEVEN, &made, &least, &greatest, |i| if i == 0 { 333.333_333 } else { 200.0 });
}

/// As [`verify_against_a_general_solver`], with each disc as a polygon of 7200 sides: the answer is not below, and by no
/// more than the polygon of 32 sides adds above.
#[test]
fn verify_discs_against_a_general_solver() {
    let made =
        Made::new((1500.0, 2000.0), Vec2::new(-0.6, 0.8), (0.5, 0.4, 0.3), 400.0, vec![Vec2::new(900.0, -400.0)]);
    let greatest = [
        1_212.497_560_751,
        1_367.015_153_676,
        1_418.328_733_634,
        1_399.369_463_653,
        1_129.364_243_025,
        1_210.639_453_923,
        1940.0,
    ];
    for (b, greatest) in found(&SEVEN, &made).iter().zip(greatest) {
        assert!((-1e-3..2.0).contains(&(b.greatest.reaction_n - greatest)), "{b:?} against {greatest}");
        assert_eq!(b.least.reaction_n.to_bits(), 0.0f64.to_bits());
    }
}

#[test]
fn verify_supports_at_one_place() {
    let p = Vec2::new(2.0, 3.0);
    let held = Made::new((3.0, 5.0), p, (0.1, 0.0, 0.0), 0.0, Vec::new());
    for (count, least) in [(1, 3.0), (2, 0.0)] {
        for b in found(&vec![p; count], &held) {
            assert!((b.least.reaction_n - least).abs() < 1e-12 && (b.greatest.reaction_n - 5.0).abs() < 1e-12);
        }
    }
    // A push of 1 N m from 0.25 m away holds up to 4 N; none holds from the other side.
    let off = |push: f64| Made::new((3.0, 5.0), Vec2::new(2.25, 3.0), (0.0, 0.0, 0.0), 0.0, vec![Vec2::new(push, 0.0)]);
    let bound = found(&[p], &off(-1.0))[0];
    assert!((bound.greatest.reaction_n - 4.0).abs() < 1e-6 && (bound.least.reaction_n - 3.0).abs() < 1e-12);
    assert_eq!(reaction_bounds(&[p], &off(1.0).domain), Ok(None));
    assert_eq!(reaction_bounds(&[p], &off(-0.7).domain), Ok(None));
}

#[test]
fn verify_unusable_domains_are_refused() {
    let good = Made::new((3.0, 5.0), Vec2::ZERO, (0.1, 0.0, 0.0), 1e15, Vec::new()).domain;
    let refused = |domain: LoadDomain| reaction_bounds(&RECTANGLE, &domain).unwrap_err();
    assert_eq!(refused(LoadDomain { least_n: f64::NAN, ..good.clone() }), InputError::Weight);
    assert_eq!(refused(LoadDomain { greatest_n: 2.0, ..good.clone() }), InputError::Weight);
    assert_eq!(refused(LoadDomain { least_n: 1e-300, ..good }), InputError::Spread);
}

/// Loads about the supports of [`cloud`], with and without pushes; the centre may be outside of them. The half widths
/// are returned beside it.
fn loads(discs: bool) -> impl Strategy<Value = (Made, (f64, f64))> {
    let place = (-4.0f64..4.0, -4.0f64..4.0);
    let some = if discs { 1.0 } else { 0.0 };
    let directed = prop::collection::vec((-3.0f64..3.0, -3.0f64..3.0), 0..3);
    (place, tolerances(), prop_oneof![Just(0.0), 0.001f64..3.0], directed, (0.2f64..2.0, 1.0f64..5.0)).prop_map(
        move |(at, tolerance, radius, directed, (least, ratio))| {
            let directed = directed.iter().map(|&(x, y)| Vec2::new(x, y)).collect();
            let (weights, disc) = ((least, least * ratio), (tolerance.0, tolerance.1, tolerance.2 * some));
            let made = Made::new(weights, Vec2::new(at.0, at.1), disc, radius * some, directed);
            (made, (tolerance.0, tolerance.1))
        },
    )
}

fn scaled(share: f64, weight: f64) -> f64 {
    share * weight
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(400))]

    #[test]
    fn verify_against_the_vertices_of_the_programme(points in cloud(3..8), load in loads(false)) {
        prop_assume!(convex_hull(&points).unwrap().shape() == HullShape::Polygon && 1e-3 < thinnest(&points));
        let domain = &load.0.domain;
        let exactly = |weight: f64| by_vertices(&points, domain, &domain.directions(), weight);
        // At the weight at which load and hull only just touch, the oracle can miss them by rounding.
        let oracle = |weight: f64| exactly(weight).or_else(|| exactly(weight * (1.0 - 1e-10)));
        let Some(bounds) = reaction_bounds(&points, domain).unwrap() else {
            prop_assert_eq!(oracle(domain.least_n), None);
            return Ok(());
        };
        for (i, b) in bounds.iter().enumerate() {
            let (at_least, at_greatest) = (oracle(b.least.weight_n).unwrap()[i], oracle(b.greatest.weight_n).unwrap()[i]);
            prop_assert!((scaled(at_least.least, b.least.weight_n) - b.least.reaction_n).abs() < 1e-7, "{b:?}");
            prop_assert!((scaled(at_greatest.greatest, b.greatest.weight_n) - b.greatest.reaction_n).abs() < 1e-7, "{b:?}");
            prop_assert!(domain.least_n <= b.greatest.weight_n && b.greatest.weight_n <= domain.greatest_n);
        }
        for k in 0..5 {
            let weight = domain.least_n + (domain.greatest_n - domain.least_n) * f64::from(k) / 4.0;
            for (o, b) in oracle(weight).iter().flatten().zip(&bounds) {
                prop_assert!(b.least.reaction_n - 1e-7 <= weight * o.least, "{b:?}");
                prop_assert!(weight * o.greatest <= b.greatest.reaction_n + 1e-7, "{b:?}");
            }
        }
    }

    #[test]
    fn verify_no_sampled_equilibrium_is_outside(
        points in cloud(3..8), load in loads(true),
        draws in prop::collection::vec((0.0f64..1.0, (-1.0f64..1.0, -1.0f64..1.0), (0.0f64..6.3, 0.0f64..1.0), prop::array::uniform2(0.0f64..1.0)), 8),
    ) {
        let made = &load.0;
        let bounds = reaction_bounds(&points, &made.domain).unwrap();
        for (k, (w, in_box, disc, pushes)) in draws.into_iter().enumerate() {
            // Half of the draws on the rim of the domain.
            let rim = |v: f64| if k % 2 == 0 { v } else { v.signum() };
            let (least, greatest) = (made.domain.least_n, made.domain.greatest_n);
            let weight = if k % 4 == 1 { greatest } else { least + (greatest - least) * w };
            let disc = if k % 2 == 0 { disc } else { (disc.0, 1.0) };
            let g = made.member(weight, (rim(in_box.0), rim(in_box.1)), disc, &pushes.map(|p| if k % 2 == 0 { p } else { p.round() }));
            for (i, share) in shares_at(&points, g) {
                let b = bounds.as_ref().unwrap()[i];
                let reaction = share * weight;
                prop_assert!((b.least.reaction_n - 1e-9..=b.greatest.reaction_n + 1e-9).contains(&reaction), "{reaction} {b:?}");
            }
        }
    }

    #[test]
    fn verify_bounds_are_attained(points in cloud(1..9), load in loads(true)) {
        prop_assume!(1e-3 < thinnest(&points) && convex_hull(&points).unwrap().shape() != HullShape::Point);
        let made = &load.0;
        for (i, b) in reaction_bounds(&points, &made.domain).unwrap().into_iter().flatten().enumerate() {
            for (extreme, is_greatest) in [(b.least, false), (b.greatest, true)] {
                let Some(at) = extreme.resultant else {
                    prop_assert!(extreme.reaction_n <= 0.0);
                    continue;
                };
                // The domain holds the place, but for what the polygons add to the discs.
                for d in fine_directions(&made.domain) {
                    let beyond = d.dot(at) - high(&made.domain, d, extreme.weight_n);
                    prop_assert!(beyond < 1e-9 + made.excess_m(extreme.weight_n), "{beyond} {extreme:?}");
                }
                let there = worst_equilibrium_at(&points, at).unwrap().unwrap()[i];
                let share = if is_greatest { there.greatest } else { there.least };
                prop_assert!((share * extreme.weight_n - extreme.reaction_n).abs() < 1e-9, "{there:?} {extreme:?}");
            }
        }
    }

    #[test]
    fn verify_order_and_place_do_not_matter(
        points in cloud(3..10), load in loads(true), shift in (-50.0f64..50.0, -50.0f64..50.0),
    ) {
        prop_assume!(1e-3 < thinnest(&points));
        let (domain, shift) = (load.0.domain, Vec2::new(shift.0, shift.1));
        let moved = LoadDomain { middle: domain.middle + shift, expected_at: domain.expected_at + shift, ..domain.clone() };
        let other: Vec<Vec2> = points.iter().rev().map(|&p| p + shift).collect();
        match (reaction_bounds(&points, &domain).unwrap(), reaction_bounds(&other, &moved).unwrap()) {
            (Some(a), Some(b)) => for (a, b) in a.iter().zip(b.iter().rev()) {
                prop_assert!((a.least.reaction_n - b.least.reaction_n).abs() < 1e-9, "{a:?} {b:?}");
                prop_assert!((a.greatest.reaction_n - b.greatest.reaction_n).abs() < 1e-9, "{a:?} {b:?}");
            },
            (a, b) => prop_assert_eq!(a.is_none(), b.is_none()),
        }
    }

    #[test]
    fn verify_without_pushes_it_is_a_share_of_the_weight(points in cloud(1..9), g in (-3.0f64..3.0, -3.0f64..3.0), spread in spread()) {
        let one = about(Vec2::new(g.0, g.1), spread);
        let range = LoadDomain { least_n: 3.0, expected_n: 4.0, greatest_n: 7.0, ..one.clone() };
        let (shares, bounds) = (share_bounds(&points, &one).unwrap(), reaction_bounds(&points, &range).unwrap());
        prop_assert_eq!(shares.is_some(), bounds.is_some());
        for (share, bound) in shares.iter().flatten().zip(bounds.iter().flatten()) {
            prop_assert!((3.0 * share.least - bound.least.reaction_n).abs() < 1e-12);
            prop_assert!((7.0 * share.greatest - bound.greatest.reaction_n).abs() < 1e-12);
        }
    }

    #[test]
    fn verify_more_pushes_and_weights_never_narrow_the_range(
        points in cloud(1..9), load in loads(false), more in (0.0f64..2.0, -2.0f64..2.0, -2.0f64..2.0), wider in 1.0f64..2.0,
    ) {
        let (made, half) = load;
        let mut directed = made.directed_nm.clone();
        directed.push(Vec2::new(more.1, more.2));
        let weights = (made.domain.least_n / wider, made.domain.greatest_n * wider);
        let wide = Made::new(weights, made.domain.middle, (half.0, half.1, 0.0), more.0, directed);
        if let Some(narrow) = reaction_bounds(&points, &made.domain).unwrap() {
            for (n, w) in narrow.iter().zip(found(&points, &wide)) {
                prop_assert!(w.least.reaction_n <= n.least.reaction_n + 1e-9);
                prop_assert!(n.greatest.reaction_n <= w.greatest.reaction_n + 1e-9);
            }
        }
    }

    #[test]
    fn verify_no_panic_on_any_input(
        list in prop::collection::vec((-1e9f64..1e9, -1e-9f64..1e-9), 0..6), at in (any::<f64>(), any::<f64>()),
        weights in (any::<f64>(), any::<f64>()), push in (-1e15f64..1e15, -1e15f64..1e15),
    ) {
        let points: Vec<Vec2> = list.iter().map(|&(x, y)| Vec2::new(x, y)).collect();
        let made = Made::new((1e7, 1e9), Vec2::ZERO, (1.0, 2.0, 3.0), push.0.abs(), vec![Vec2::new(push.0, push.1)]);
        for b in reaction_bounds(&points, &made.domain).unwrap().into_iter().flatten() {
            prop_assert!(0.0 <= b.least.reaction_n && b.greatest.reaction_n <= 1e9);
        }
        let any = LoadDomain { least_n: weights.0, greatest_n: weights.1, middle: Vec2::new(at.0, at.1), ..made.domain };
        let _ = reaction_bounds(&points, &any);
    }
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(60))]

    #[test]
    fn verify_discs_between_inner_and_outer_polygons(points in cloud(3..7), load in loads(true)) {
        prop_assume!(convex_hull(&points).unwrap().shape() == HullShape::Polygon && 1e-3 < thinnest(&points));
        let (made, half) = load;
        let inner = made.shrunk(half).domain;
        let fine = fine_directions(&inner);
        let Some(bounds) = reaction_bounds(&points, &made.domain).unwrap() else {
            prop_assert_eq!(by_vertices(&points, &inner, &fine, inner.least_n), None);
            return Ok(());
        };
        for weight in [inner.least_n, inner.greatest_n] {
            for (o, b) in by_vertices(&points, &inner, &fine, weight).iter().flatten().zip(&bounds) {
                prop_assert!(b.least.reaction_n - 1e-7 <= weight * o.least, "{b:?}");
                prop_assert!(weight * o.greatest <= b.greatest.reaction_n + 1e-7, "{b:?}");
            }
        }
        let outer = |weight: f64| by_vertices(&points, &made.domain, &made.domain.directions(), weight).unwrap();
        for (i, b) in bounds.iter().enumerate() {
            prop_assert!(b.least.weight_n * outer(b.least.weight_n)[i].least <= b.least.reaction_n + 1e-7);
            prop_assert!(b.greatest.reaction_n <= b.greatest.weight_n * outer(b.greatest.weight_n)[i].greatest + 1e-7);
        }
    }
}
