//! Distance from the centre of gravity to the edges about which the load would tip.

use super::domain::LoadDomain;
use super::geometry::{Corner, Hull, HullShape, InputError, Vec2, convex_hull, plan_size_m, tolerance_m};

/// Margins closer than this part of the plan size are a tie, which the lower pair of supports wins.
const TIE_TOLERANCE: f64 = 1e-12;

/// A line about which the load would tip.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct TippingEdge {
    /// Index of the support at one end of the edge.
    pub from: usize,
    /// Index of the support at the other end; equal to `from` where the edge is the end of a row.
    pub to: usize,
    /// Unit vector in plan away from the supports (dimensionless): the direction in which the load tips.
    pub outward: Vec2,
    /// Distance from the expected centre of gravity to the edge, in m; negative if the centre lies outside.
    pub distance_m: f64,
    /// How far tolerances and pushes let the resultant get toward the edge from there, in m (exact, with the true disc).
    pub reach_m: f64,
}

impl TippingEdge {
    /// What is left of the distance, in m; negative if the load can tip about this edge.
    pub(crate) fn margin_m(&self) -> f64 {
        self.distance_m - self.reach_m
    }

    /// The pair of supports, lower index first.
    fn pair(&self) -> (usize, usize) {
        (self.from.min(self.to), self.from.max(self.to))
    }
}

/// How the supports hold the centre of gravity in plan.
#[derive(Debug, Clone, PartialEq)]
pub(crate) enum Stance {
    /// No supports at all.
    NoSupport,
    /// All supports at one place: nothing resists tipping.
    Point {
        /// Index of the first support.
        index: usize,
        /// From the support to the expected centre of gravity, in m.
        offset_m: Vec2,
    },
    /// All supports on one line: nothing resists tipping about it.
    Line {
        /// Index of the support at one end.
        from: usize,
        /// Index of the support at the other end.
        to: usize,
        /// Unit vector from the first end to the other (dimensionless).
        direction: Vec2,
        /// From the line to the expected centre of gravity, at right angles to the line, in m.
        offset_m: Vec2,
        /// Whether the offset is no more than rounding.
        on_line: bool,
        /// The end that would be passed first along the line.
        end: TippingEdge,
    },
    /// Supports that span an area.
    Polygon {
        /// All edges, counter-clockwise.
        edges: Vec<TippingEdge>,
        /// The edge with the least margin; of equal ones that of the lower pair of supports.
        governing: TippingEdge,
    },
}

/// Distance of the expected centre of gravity from each edge of the hull of the supports, and how far the resultant can
/// get toward it from there.
///
/// # Source
/// Elementary statics: supports that only push can balance a load iff its resultant passes through their hull.
///
/// # Validity
/// Coordinates up to [`super::geometry::GREATEST_LENGTH_M`]; supports within 1e-9 of the plan size from a line count
/// as being in line.
///
/// # Errors
/// [`InputError::Coordinate`]; [`InputError::Weight`]; [`InputError::Spread`] if a place of the resultant is too far
/// away.
pub(crate) fn tipping(points: &[Vec2], domain: &LoadDomain) -> Result<Stance, InputError> {
    domain.check()?;
    if !domain.is_usable() {
        return Err(InputError::Spread);
    }
    let hull = convex_hull(points)?;
    Ok(Resultant { expected_at: domain.expected_at, reach_m: &|d| domain.reach_m(d) }
        .stance(&hull, plan_size_m(points)))
}

/// How a hull that is known already, of a plan of size `size_m`, holds a resultant at exactly one place, in m.
pub(super) fn stance(hull: &Hull, size_m: f64, at: Vec2) -> Stance {
    Resultant { expected_at: at, reach_m: &|_| 0.0 }.stance(hull, size_m)
}

/// Where the resultant acts.
struct Resultant<'a> {
    /// Expected place, in m.
    expected_at: Vec2,
    /// How far it can get from there in a direction, in m.
    reach_m: &'a dyn Fn(Vec2) -> f64,
}

impl Resultant<'_> {
    fn stance(&self, hull: &Hull, size_m: f64) -> Stance {
        match (hull.shape(), hull.corners()) {
            (HullShape::Point, [corner, ..]) => {
                Stance::Point { index: corner.index, offset_m: self.expected_at - corner.at }
            }
            (HullShape::Segment, [from, to, ..]) => self.on_line(*from, *to, size_m),
            (HullShape::Polygon, _) => {
                let edges: Vec<TippingEdge> = hull.edges().filter_map(|(from, to)| self.side(from, to)).collect();
                match governing(&edges, size_m) {
                    Some(governing) => Stance::Polygon { edges, governing },
                    None => Stance::NoSupport,
                }
            }
            _ => Stance::NoSupport,
        }
    }

    fn side(&self, from: Corner, to: Corner) -> Option<TippingEdge> {
        let outward = (to.at - from.at).unit()?.turned_right();
        Some(self.edge(from, to, outward))
    }

    fn edge(&self, from: Corner, to: Corner, outward: Vec2) -> TippingEdge {
        let distance_m = outward.dot(from.at - self.expected_at);
        TippingEdge { from: from.index, to: to.index, outward, distance_m, reach_m: (self.reach_m)(outward) }
    }

    fn on_line(&self, from: Corner, to: Corner, size_m: f64) -> Stance {
        let Some(direction) = (to.at - from.at).unit() else {
            return Stance::Point { index: from.index, offset_m: self.expected_at - from.at };
        };
        let normal = direction.turned_left();
        let offset_m = normal * normal.dot(self.expected_at - from.at);
        let (first, last) = (self.edge(from, from, -direction), self.edge(to, to, direction));
        let end = governing(&[first, last], size_m).unwrap_or(first);
        let on_line = offset_m.length() <= tolerance_m(size_m);
        Stance::Line { from: from.index, to: to.index, direction, offset_m, on_line, end }
    }
}

/// The edge with the least margin; among those within rounding of it the lowest pair.
fn governing(edges: &[TippingEdge], size_m: f64) -> Option<TippingEdge> {
    let least = edges.iter().map(TippingEdge::margin_m).fold(f64::INFINITY, f64::min);
    edges.iter().filter(|e| e.margin_m() <= least + TIE_TOLERANCE * size_m).min_by_key(|e| e.pair()).copied()
}

#[cfg(test)]
mod tests {
    use super::super::domain::PushSpread;
    use super::super::region::CentreSpread;
    use super::*;
    use proptest::prelude::*;

    const RECTANGLE: [Vec2; 4] =
        [Vec2::new(-3.0, -2.0), Vec2::new(3.0, -2.0), Vec2::new(3.0, 2.0), Vec2::new(-3.0, 2.0)];

    fn about(at: Vec2, spread: CentreSpread) -> LoadDomain {
        let push = PushSpread::NONE;
        LoadDomain { least_n: 1.0, expected_n: 1.0, greatest_n: 1.0, expected_at: at, middle: at, spread, push }
    }

    fn governing_of(points: &[Vec2], g: Vec2, spread: CentreSpread) -> TippingEdge {
        match tipping(points, &about(g, spread)).unwrap() {
            Stance::Polygon { governing, .. } => governing,
            other => panic!("{other:?}"),
        }
    }

    #[test]
    fn verify_rectangle_by_hand() {
        // Distances 3 -+ 2 and 2 -+ 1; reach along x 0.3 + 0.1, along y 0.9 + 0.1.
        let spread = CentreSpread::new(0.3, 0.9, 0.1).unwrap();
        let Stance::Polygon { edges, governing } = tipping(&RECTANGLE, &about(Vec2::new(2.0, 1.0), spread)).unwrap()
        else {
            panic!()
        };
        let found: Vec<(usize, usize, f64, f64)> =
            edges.iter().map(|e| (e.from, e.to, e.distance_m, e.reach_m)).collect();
        let expected = [(0, 1, 3.0, 1.0), (1, 2, 1.0, 0.4), (2, 3, 1.0, 1.0), (3, 0, 5.0, 0.4)];
        for (f, e) in found.iter().zip(expected) {
            assert_eq!((f.0, f.1), (e.0, e.1));
            assert!((f.2 - e.2).abs() < 1e-14 && (f.3 - e.3).abs() < 1e-14);
        }
        assert_eq!((governing.from, governing.to), (2, 3));
        assert!(governing.margin_m().abs() < 1e-14);
        assert_eq!(governing.outward, Vec2::new(0.0, 1.0));
    }

    #[test]
    fn verify_ties_go_to_the_lowest_pair() {
        let e = governing_of(&RECTANGLE, Vec2::ZERO, CentreSpread::NONE);
        assert_eq!((e.from, e.to), (0, 1));
        let reversed: Vec<Vec2> = RECTANGLE.iter().rev().copied().collect();
        assert_eq!(governing_of(&reversed, Vec2::ZERO, CentreSpread::NONE).pair(), (0, 1));
    }

    #[test]
    fn verify_outside_is_negative() {
        let e = governing_of(&RECTANGLE, Vec2::new(3.5, 0.0), CentreSpread::NONE);
        assert_eq!((e.from, e.to), (1, 2));
        assert!((e.distance_m + 0.5).abs() < 1e-14);
    }

    #[test]
    fn verify_degenerate_supports() {
        assert_eq!(tipping(&[], &about(Vec2::ZERO, CentreSpread::NONE)).unwrap(), Stance::NoSupport);
        let p = Vec2::new(1.0, 2.0);
        let Stance::Point { index: 0, offset_m } =
            tipping(&[p, p], &about(Vec2::new(1.5, 2.0), CentreSpread::NONE)).unwrap()
        else {
            panic!()
        };
        assert!((offset_m - Vec2::new(0.5, 0.0)).length() < 1e-15);
        let row = [Vec2::new(0.0, 0.0), Vec2::new(4.0, 4.0), Vec2::new(1.0, 1.0)];
        let Stance::Line { from, to, offset_m, on_line, end, .. } =
            tipping(&row, &about(Vec2::new(3.0, 4.0), CentreSpread::NONE)).unwrap()
        else {
            panic!()
        };
        assert_eq!((from, to, on_line), (0, 1, false));
        assert!((offset_m - Vec2::new(-0.5, 0.5)).length() < 1e-14);
        assert_eq!((end.from, end.to), (1, 1));
        assert!((end.distance_m - libm::sqrt(0.5)).abs() < 1e-14);
    }

    #[test]
    fn verify_unusable_is_refused() {
        let good = about(Vec2::ZERO, CentreSpread::NONE);
        let refused = |domain: LoadDomain| tipping(&RECTANGLE, &domain).unwrap_err();
        assert_eq!(refused(about(Vec2::new(f64::NAN, 0.0), CentreSpread::NONE)), InputError::Coordinate);
        assert_eq!(refused(LoadDomain { least_n: 0.0, ..good.clone() }), InputError::Weight);
        assert_eq!(refused(LoadDomain { least_n: f64::NAN, ..good.clone() }), InputError::Weight);
        // A push that a load of almost no weight would take out of all bounds.
        let push = PushSpread::new(1e15, Vec::new()).unwrap();
        assert_eq!(refused(LoadDomain { least_n: 1e-300, push, ..good }), InputError::Spread);
    }

    #[test]
    fn verify_reach_counts_the_box_off_the_expected_centre_and_the_pushes_at_the_least_weight() {
        let domain = LoadDomain {
            least_n: 100.0,
            expected_n: 200.0,
            greatest_n: 400.0,
            expected_at: Vec2::new(0.5, 0.0),
            middle: Vec2::new(0.75, -0.25),
            spread: CentreSpread::new(0.25, 0.5, 0.125).unwrap(),
            push: PushSpread::new(10.0, vec![Vec2::new(40.0, 0.0)]).unwrap(),
        };
        let Stance::Polygon { edges, governing } = tipping(&RECTANGLE, &domain).unwrap() else { panic!() };
        // By hand, below, right, above, left: middle off the centre + box + disc + pushes / 100.
        let expected = [
            (2.0, 0.25 + 0.5 + 0.125 + 0.1),
            (2.5, 0.25 + 0.25 + 0.125 + 0.5),
            (2.0, -0.25 + 0.5 + 0.125 + 0.1),
            (3.5, -0.25 + 0.25 + 0.125 + 0.1),
        ];
        for (edge, (distance_m, reach_m)) in edges.iter().zip(expected) {
            assert!((edge.distance_m - distance_m).abs() < 1e-14 && (edge.reach_m - reach_m).abs() < 1e-14, "{edge:?}");
        }
        assert_eq!((governing.from, governing.to), (0, 1));
    }

    proptest! {
        #[test]
        fn verify_margin_does_not_depend_on_order_or_place(
            list in prop::collection::vec((-9i32..9, -9i32..9), 3..12),
            g in (-1.0f64..1.0, -1.0f64..1.0), shift in (-50.0f64..50.0, -50.0f64..50.0),
        ) {
            let points: Vec<Vec2> = list.iter().map(|&(x, y)| Vec2::new(f64::from(x), f64::from(y))).collect();
            let (g, shift) = (Vec2::new(g.0, g.1), Vec2::new(shift.0, shift.1));
            let spread = CentreSpread::new(0.1, 0.2, 0.3).unwrap();
            if let Stance::Polygon { governing, .. } = tipping(&points, &about(g, spread)).unwrap() {
                let moved: Vec<Vec2> = points.iter().rev().map(|&p| p + shift).collect();
                let other = governing_of(&moved, g + shift, spread);
                prop_assert!((governing.margin_m() - other.margin_m()).abs() < 1e-12);
            }
        }
    }
}
