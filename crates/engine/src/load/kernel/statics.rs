//! Shares of one, two or three supports, where equilibrium alone gives them whatever the stiffness.
//!
//! Shares are signed: a negative one means that the load tips, which [`mod@super::tipping`] describes.

use core::fmt;

use super::domain::LoadDomain;
use super::geometry::{InputError, Vec2, check_points, plan_size_m, tolerance_m};
use super::tipping::{Stance, stance};

/// Share of one support as a linear function of the centre of gravity.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct AffineShare {
    /// Share of the weight at the nominal centre (dimensionless); negative where the support would have to pull.
    pub share: f64,
    /// Change of the share with the centre of gravity, in 1/m along x and y.
    pub gradient_per_m: Vec2,
}

impl AffineShare {
    /// Least and greatest reaction over the domain, in N, for a share that holds with the centre of gravity at `nominal`
    /// (in m): exact, with the true discs, as long as every support stays in contact. Not clipped at zero.
    ///
    /// # Source
    /// Extremes of a function that is linear in the centre, the pushes and (for any one centre) the weight: at one end of
    /// each.
    ///
    /// # Validity
    /// While the share is linear in the resultant: no support lifts off. For one or two supports the resultant moves
    /// along their line only; off it the load tips.
    pub(crate) fn reaction_range(&self, domain: &LoadDomain, nominal: Vec2) -> (f64, f64) {
        let gradient = self.gradient_per_m;
        let share = self.share + gradient.dot(domain.middle - nominal);
        let at_either_weight = |share: f64| (domain.least_n * share, domain.greatest_n * share);
        let reach = domain.spread.reach(gradient);
        let (low, high) = (at_either_weight(share - reach), at_either_weight(share + reach));
        (low.0.min(low.1) - domain.push.reach(-gradient), high.0.max(high.1) + domain.push.reach(gradient))
    }
}

/// Why equilibrium alone does not give the shares.
#[derive(Debug, Clone, Copy, PartialEq)]
#[non_exhaustive]
pub(crate) enum StaticsError {
    /// An argument is not usable.
    Input(InputError),
    /// No supports.
    NoSupport,
    /// One support (or all at one place), and the centre of gravity is not over it.
    OffPoint {
        /// Index of the support.
        index: usize,
        /// From the support to the centre of gravity, in m: the load tips this way.
        offset_m: Vec2,
    },
    /// Two supports, and the centre of gravity is off their line.
    OffLine {
        /// Index of one support.
        from: usize,
        /// Index of the other support.
        to: usize,
        /// From their line to the centre of gravity, at right angles, in m: the load tips this way.
        offset_m: Vec2,
    },
    /// Three supports in line: a tipping mechanism, and statically indeterminate along the line.
    Collinear {
        /// Index of the support at one end.
        from: usize,
        /// Index of the support at the other end.
        to: usize,
        /// From their line to the centre of gravity, at right angles, in m; zero within rounding if it is on it.
        offset_m: Vec2,
    },
    /// Two or three supports at one place: nothing says how they share.
    Coincident,
    /// More than three supports: statically indeterminate.
    TooMany {
        /// How many.
        count: usize,
    },
}

impl From<InputError> for StaticsError {
    fn from(error: InputError) -> Self {
        Self::Input(error)
    }
}

impl fmt::Display for StaticsError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::Input(_) => f.write_str("the supports or the centre of gravity are not usable"),
            Self::NoSupport => f.write_str("there is no support"),
            Self::OffPoint { .. } => f.write_str("the centre of gravity is not over the only support"),
            Self::OffLine { .. } => f.write_str("the centre of gravity is off the line of the two supports"),
            Self::Collinear { .. } => f.write_str("the three supports are in line"),
            Self::Coincident => f.write_str("the supports are at one place"),
            Self::TooMany { count } => write!(f, "{count} supports are statically indeterminate"),
        }
    }
}

impl core::error::Error for StaticsError {
    fn source(&self) -> Option<&(dyn core::error::Error + 'static)> {
        match self {
            Self::Input(error) => Some(error),
            _ => None,
        }
    }
}

/// Shares of one, two or three supports of a load with its centre of gravity at `centre` (in m), in the order of
/// the supports.
///
/// # Source
/// Elementary statics: `sum r = 1`, `sum r p = g`; for three supports the shares are the areas of the triangles
/// opposite to them (barycentric coordinates).
///
/// # Validity
/// One support under the centre, two in line with it, or three that are not in line.
///
/// # Errors
/// Every other case, see [`StaticsError`].
pub(crate) fn static_shares(points: &[Vec2], centre: Vec2) -> Result<Vec<AffineShare>, StaticsError> {
    check_points(points)?;
    check_points(&[centre])?;
    match points {
        [] => Err(StaticsError::NoSupport),
        [only] => one(*only, centre),
        [a, b] => two(*a, *b, centre),
        [a, b, c] => three(*a, *b, *c, centre),
        _ => Err(StaticsError::TooMany { count: points.len() }),
    }
}

fn one(support: Vec2, centre: Vec2) -> Result<Vec<AffineShare>, StaticsError> {
    let offset_m = centre - support;
    if offset_m.length() <= tolerance_m(0.0) {
        Ok(vec![AffineShare { share: 1.0, gradient_per_m: Vec2::ZERO }])
    } else {
        Err(StaticsError::OffPoint { index: 0, offset_m })
    }
}

fn two(a: Vec2, b: Vec2, centre: Vec2) -> Result<Vec<AffineShare>, StaticsError> {
    let span = b - a;
    let (length, tolerance) = (span.length(), tolerance_m(plan_size_m(&[a, b])));
    let Some(direction) = span.unit().filter(|_| tolerance < length) else {
        let offset_m = centre - a;
        return Err(if offset_m.length() <= tolerance {
            StaticsError::Coincident
        } else {
            StaticsError::OffPoint { index: 0, offset_m }
        });
    };
    let normal = direction.turned_left();
    let offset_m = normal * normal.dot(centre - a);
    if tolerance < offset_m.length() {
        return Err(StaticsError::OffLine { from: 0, to: 1, offset_m });
    }
    let gradient = direction * (1.0 / length);
    Ok(vec![
        AffineShare { share: gradient.dot(b - centre), gradient_per_m: -gradient },
        AffineShare { share: gradient.dot(centre - a), gradient_per_m: gradient },
    ])
}

fn three(a: Vec2, b: Vec2, c: Vec2, centre: Vec2) -> Result<Vec<AffineShare>, StaticsError> {
    let points = [a, b, c];
    let hull = super::geometry::convex_hull(&points)?;
    match stance(&hull, plan_size_m(&points), centre) {
        Stance::NoSupport => return Err(StaticsError::NoSupport),
        Stance::Point { .. } => return Err(StaticsError::Coincident),
        Stance::Line { from, to, offset_m, .. } => return Err(StaticsError::Collinear { from, to, offset_m }),
        Stance::Polygon { .. } => {}
    }
    let area = (b - a).cross(c - a);
    let share = |second: Vec2, third: Vec2| AffineShare {
        share: (second - centre).cross(third - centre) / area,
        gradient_per_m: (third - second).turned_left() * (1.0 / area),
    };
    Ok(vec![share(b, c), share(c, a), share(a, b)])
}

#[cfg(test)]
mod tests {
    use super::super::domain::PushSpread;
    use super::super::region::CentreSpread;
    use super::*;
    use proptest::prelude::*;

    fn reactions(points: &[Vec2], weight: f64, centre: Vec2) -> Vec<f64> {
        static_shares(points, centre).unwrap().iter().map(|s| s.share * weight).collect()
    }

    #[track_caller]
    fn check(found: &[f64], expected: &[f64]) {
        assert_eq!(found.len(), expected.len());
        for (f, e) in found.iter().zip(expected) {
            assert!((f - e).abs() <= 1e-10, "{found:?} against {expected:?}");
        }
    }

    /// Statics, exact: moments about the supports.
    #[test]
    fn validate_three_supports() {
        let points = [Vec2::new(0.0, 0.0), Vec2::new(6.0, 0.0), Vec2::new(3.0, 5.0)];
        check(&reactions(&points, 900.0, Vec2::new(2.8, 1.5)), &[345.0, 285.0, 270.0]);
    }

    /// Statics, exact: span 8 m, centre 3.2 m from A.
    #[test]
    fn validate_two_supports() {
        let points = [Vec2::new(0.0, 0.0), Vec2::new(8.0, 0.0)];
        check(&reactions(&points, 500.0, Vec2::new(3.2, 0.0)), &[300.0, 200.0]);
    }

    /// Statics, exact; the three supports left of the case of `validate_pile_group_with_uplift` (`influence`).
    #[test]
    fn validate_three_left_after_uplift() {
        let points = [Vec2::new(3.0, 2.0), Vec2::new(3.0, -2.0), Vec2::new(-3.0, 2.0)];
        check(&reactions(&points, 100.0, Vec2::new(2.0, 1.0)), &[175.0 / 3.0, 25.0, 50.0 / 3.0]);
    }

    #[test]
    fn verify_one_support_and_signed_shares() {
        check(&reactions(&[Vec2::new(2.0, 3.0)], 7.0, Vec2::new(2.0, 3.0)), &[7.0]);
        let beyond = [Vec2::new(0.0, 0.0), Vec2::new(2.0, 0.0)];
        check(&reactions(&beyond, 1.0, Vec2::new(3.0, 0.0)), &[-0.5, 1.5]);
    }

    #[test]
    fn verify_refusals_say_where_it_tips() {
        let (o, x) = (Vec2::ZERO, Vec2::new(4.0, 0.0));
        let g = Vec2::new(1.0, 0.25);
        assert_eq!(static_shares(&[], g), Err(StaticsError::NoSupport));
        assert_eq!(static_shares(&[o], g), Err(StaticsError::OffPoint { index: 0, offset_m: g }));
        let up = Vec2::new(0.0, 0.25);
        assert_eq!(static_shares(&[o, x], g), Err(StaticsError::OffLine { from: 0, to: 1, offset_m: up }));
        let middle = Vec2::new(2.0, 0.0);
        assert_eq!(static_shares(&[o, middle, x], g), Err(StaticsError::Collinear { from: 0, to: 2, offset_m: up }));
        assert_eq!(static_shares(&[x, x], x), Err(StaticsError::Coincident));
        assert_eq!(static_shares(&[x, x, x], x), Err(StaticsError::Coincident));
        assert_eq!(static_shares(&[o, x, g, g], g), Err(StaticsError::TooMany { count: 4 }));
        let nan = Vec2::new(0.0, f64::NAN);
        assert_eq!(static_shares(&[o], nan), Err(StaticsError::Input(InputError::Coordinate)));
    }

    proptest! {
        #[test]
        fn verify_equilibrium_gradient_and_range(
            list in prop::array::uniform3((-10.0f64..10.0, -10.0f64..10.0)),
            g in (-3.0f64..3.0, -3.0f64..3.0), angle in 0.0f64..6.3, scale in 0.001f64..10.0,
            off in (-1.0f64..1.0, -1.0f64..1.0), part in (0.0f64..1.0, 0.0f64..1.0), push in (-1.0f64..1.0, -1.0f64..1.0),
        ) {
            let points = list.map(|(x, y)| Vec2::new(x * scale, y * scale));
            let g = Vec2::new(g.0, g.1) * scale;
            let height = (points[1] - points[0]).cross(points[2] - points[0]).abs() / plan_size_m(&points);
            prop_assume!(0.01 * scale < height);
            let shares = static_shares(&points, g).unwrap();
            let sum: f64 = shares.iter().map(|s| s.share).sum();
            let moment = points.iter().zip(&shares).fold(Vec2::ZERO, |m, (&p, s)| m + (p - g) * s.share);
            prop_assert!((sum - 1.0).abs() < 1e-9 && moment.length() < 1e-9 * scale);
            let domain = LoadDomain {
                least_n: 3.0,
                expected_n: 4.0,
                greatest_n: 5.0,
                expected_at: g,
                middle: g + Vec2::new(off.0, off.1) * scale,
                spread: CentreSpread::new(0.3 * scale, 0.1 * scale, 0.2 * scale).unwrap(),
                push: PushSpread::new(0.4 * scale, vec![Vec2::new(push.0, push.1) * scale]).unwrap(),
            };
            // Where the resultant of a weight is farthest in a direction; the directed push counts or not.
            let farthest = |weight: f64, d: Vec2, pushed: f64| {
                let rim = d * (0.2 * scale) + Vec2::new(d.x.signum() * 0.3 * scale, d.y.signum() * 0.1 * scale);
                let push = d * (0.4 * scale) + Vec2::new(push.0, push.1) * (scale * pushed);
                domain.middle + rim + push * (1.0 / weight)
            };
            let d = Vec2::new(libm::cos(angle), libm::sin(angle));
            let weight = 3.0 + 2.0 * part.0;
            let member = static_shares(&points, farthest(weight, d, part.1)).unwrap();
            for (i, s) in shares.iter().enumerate() {
                let (least, greatest) = s.reaction_range(&domain, g);
                let rounding = 1e-9 * (1.0 + least.abs() + greatest.abs());
                prop_assert!((least - rounding..=greatest + rounding).contains(&(weight * member[i].share)));
                // Both ends are attained, in the direction of the gradient and against it, at one of the weights.
                let up = s.gradient_per_m.unit().unwrap();
                let at = |weight: f64, d: Vec2| {
                    let pushed = if 0.0 < d.dot(Vec2::new(push.0, push.1)) { 1.0 } else { 0.0 };
                    weight * static_shares(&points, farthest(weight, d, pushed)).unwrap()[i].share
                };
                prop_assert!((at(3.0, -up).min(at(5.0, -up)) - least).abs() < rounding);
                prop_assert!((at(3.0, up).max(at(5.0, up)) - greatest).abs() < rounding);
            }
        }
    }
}
