use super::*;
use proptest::prelude::*;

fn points(list: &[(f64, f64)]) -> Vec<Vec2> {
    list.iter().map(|&(x, y)| Vec2::new(x, y)).collect()
}

fn indices(list: &[(f64, f64)]) -> Vec<usize> {
    convex_hull(&points(list)).unwrap().corners().iter().map(|c| c.index).collect()
}

#[test]
fn verify_hull_of_known_sets() {
    assert!(indices(&[]).is_empty());
    assert_eq!(indices(&[(2.0, 3.0)]), [0]);
    assert_eq!(indices(&[(2.0, 3.0), (2.0, 3.0)]), [0]);
    // The 3 x 3 grid keeps its four corners, counter-clockwise from the lower left.
    let grid: Vec<(f64, f64)> = (0..9).map(|i| (f64::from(i % 3) * 0.1, f64::from(i / 3) * 0.7)).collect();
    assert_eq!(indices(&grid), [0, 2, 8, 6]);
    // Repeated corners are named by the lowest index.
    assert_eq!(indices(&[(1.0, 1.0), (0.0, 0.0), (1.0, 0.0), (0.0, 0.0), (1.0, 1.0), (1.0, 0.0)]), [1, 2, 0]);
}

#[test]
fn verify_collinear_sets_become_their_ends() {
    for turn in 0..40 {
        let angle = f64::from(turn) * 0.157;
        let direction = Vec2::new(libm::cos(angle), libm::sin(angle));
        let set: Vec<Vec2> = [0.3, 7.0, -2.1, 0.9].iter().map(|&t| Vec2::new(12.7, -3.3) + direction * t).collect();
        let hull = convex_hull(&set).unwrap();
        assert_eq!(hull.shape(), HullShape::Segment);
        assert_eq!(hull.corners().iter().map(|c| c.index).collect::<Vec<_>>(), [1, 2]);
    }
}

#[test]
fn verify_points_on_a_skew_edge_are_no_corners() {
    let (a, b, c) = (Vec2::new(0.1, 0.2), Vec2::new(7.3, 3.1), Vec2::new(1.7, 9.9));
    let mut set = vec![a, b, c];
    for k in 1..10 {
        let t = f64::from(k) / 10.0;
        set.extend([a + (b - a) * t, b + (c - b) * t, c + (a - c) * t]);
    }
    let hull = convex_hull(&set).unwrap();
    assert_eq!(hull.corners().iter().map(|c| c.index).collect::<Vec<_>>(), [0, 1, 2]);
}

#[test]
fn verify_scale_does_not_change_the_shape() {
    for scale in [1e-3, 1.0, 1e2, 1e5] {
        let nearly = [(0.0, 0.0), (1.0, 0.0), (0.5, 1e-8)].map(|(x, y)| Vec2::new(x * scale, y * scale));
        assert_eq!(convex_hull(&nearly).unwrap().shape(), HullShape::Polygon);
        let flat = [(0.0, 0.0), (1.0, 0.0), (0.5, 1e-11)].map(|(x, y)| Vec2::new(x * scale, y * scale));
        assert_eq!(convex_hull(&flat).unwrap().shape(), HullShape::Segment);
    }
}

proptest! {
    #[test]
    fn verify_hull_is_convex_and_holds_all_points(
        list in prop::collection::vec((-5i32..5, -5i32..5), 1..30), scale in 0.001f64..30.0,
    ) {
        let set: Vec<Vec2> =
            list.iter().map(|&(x, y)| Vec2::new(f64::from(x) * scale, f64::from(y) * scale)).collect();
        let hull = convex_hull(&set).unwrap();
        if hull.shape() == HullShape::Polygon {
            for (a, b) in hull.edges() {
                let inward = (b.at - a.at).unit().unwrap().turned_left();
                for p in &set {
                    prop_assert!(-1e-12 * scale <= inward.dot(*p - a.at));
                }
            }
        }
        // On integer coordinates the number of corners is known from exact arithmetic.
        prop_assert_eq!(hull.corners().len(), exact_corner_count(&list));
    }

    #[test]
    fn verify_no_panic_on_any_input(list in prop::collection::vec((any::<f64>(), any::<f64>()), 0..6)) {
        let set: Vec<Vec2> = list.iter().map(|&(x, y)| Vec2::new(x, y)).collect();
        let usable = set.iter().all(|p| p.is_usable());
        prop_assert_eq!(convex_hull(&set).is_ok(), usable);
    }
}

/// Corners by definition: a point is one iff no pair or triple of other places spans it.
fn exact_corner_count(list: &[(i32, i32)]) -> usize {
    let mut places = list.to_vec();
    places.sort_unstable();
    places.dedup();
    let cross = |o: (i32, i32), a: (i32, i32), b: (i32, i32)| (a.0 - o.0) * (b.1 - o.1) - (a.1 - o.1) * (b.0 - o.0);
    let dot = |o: (i32, i32), a: (i32, i32), b: (i32, i32)| (a.0 - o.0) * (b.0 - o.0) + (a.1 - o.1) * (b.1 - o.1);
    let spanned = |p: (i32, i32)| {
        let others: Vec<_> = places.iter().copied().filter(|&q| q != p).collect();
        others.iter().any(|&a| {
            others.iter().any(|&b| {
                (cross(p, a, b) == 0 && dot(p, a, b) < 0)
                    || others.iter().any(|&c| 0 < cross(p, a, b) && 0 < cross(p, b, c) && 0 < cross(p, c, a))
            })
        })
    };
    places.iter().filter(|&&p| !spanned(p)).count()
}
