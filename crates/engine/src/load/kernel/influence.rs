//! Shares while every support stays in contact: linear in the centre of gravity and in the levels.
//!
//! This is the pile-group formula. A negative share says that the assumption of contact is wrong; the shares are then
//! those of [`super::elastic::solve`], never these with the negative ones set to zero.

use super::elastic::{ElasticError, Scales, Spring, checked_scales};
use super::geometry::Vec2;
use super::principal::{Node, Principal};
use super::statics::AffineShare;

/// Linear relation between shares, centre of gravity and levels in full contact:
/// `R = W (share + gradient . (g - g0)) + S e`.
#[derive(Debug, Clone, PartialEq)]
pub(crate) struct FullContact {
    /// Share of each support at the nominal centre without level errors, and its gradient. Not clipped.
    pub shares: Vec<AffineShare>,
    /// S: element j of row i is the change of reaction i with the level of support j, in N/m (the unit of the
    /// stiffness). Symmetric; each row sums to zero, since raising or tilting all supports changes nothing.
    pub level_stiffness_n_per_m: Vec<Vec<f64>>,
}

/// Supports in full contact, scaled.
struct Contact {
    scales: Scales,
    nodes: Vec<Node>,
    group: Principal,
    load: Vec2,
}

impl Contact {
    fn of(springs: &[Spring], centre: Vec2) -> Result<Self, ElasticError> {
        let scales = checked_scales(springs, centre)?;
        let nodes: Vec<Node> = springs.iter().map(|s| scales.node(s)).collect();
        let group = Principal::of(&nodes).ok_or(ElasticError::NotConverged)?;
        let load = scales.scaled(centre);
        Ok(Self { scales, nodes, group, load })
    }

    fn share(&self, node: &Node) -> AffineShare {
        AffineShare {
            share: node.stiffness * self.group.flexibility(node.at, self.load),
            gradient_per_m: self.group.flexibility_gradient(node.at) * (node.stiffness / self.scales.size_m),
        }
    }

    fn element(&self, (i, a): (usize, &Node), (j, b): (usize, &Node)) -> f64 {
        let own = if i == j { 1.0 } else { 0.0 };
        self.scales.stiffness_n_per_m * a.stiffness * (own - b.stiffness * self.group.flexibility(a.at, b.at))
    }
}

/// The linear relation of [`FullContact`] for supports as given (their levels are not used) and a nominal centre of
/// gravity in m.
///
/// # Source
/// Equilibrium of a rigid body on linear springs, the pile-group formula of foundation engineering textbooks on the
/// principal axes of the stiffness.
///
/// # Validity
/// While every support is in contact. The centre may lie anywhere.
///
/// # Errors
/// See [`ElasticError`]; never [`ElasticError::Tips`].
pub(crate) fn full_contact_influence(springs: &[Spring], centre: Vec2) -> Result<FullContact, ElasticError> {
    let contact = Contact::of(springs, centre)?;
    let rows = || contact.nodes.iter().enumerate();
    Ok(FullContact {
        shares: contact.nodes.iter().map(|node| contact.share(node)).collect(),
        level_stiffness_n_per_m: rows().map(|a| rows().map(|b| contact.element(a, b)).collect()).collect(),
    })
}

/// The share of one support and its own level stiffness in N/m: one row and one element of [`full_contact_influence`],
/// at a cost that grows with the number of supports only. `None` if there is no such support.
///
/// # Source
/// As [`full_contact_influence`].
///
/// # Validity
/// As [`full_contact_influence`].
///
/// # Errors
/// As [`full_contact_influence`].
pub(crate) fn own_influence(
    springs: &[Spring],
    centre: Vec2,
    index: usize,
) -> Result<Option<(AffineShare, f64)>, ElasticError> {
    let contact = Contact::of(springs, centre)?;
    let own = contact.nodes.get(index);
    Ok(own.map(|node| (contact.share(node), contact.element((index, node), (index, node)))))
}

#[cfg(test)]
mod tests {
    use super::super::elastic::solve;
    use super::*;
    use proptest::prelude::*;

    fn equal(points: &[(f64, f64)]) -> Vec<Spring> {
        let spring = |&(x, y)| Spring { at: Vec2::new(x, y), stiffness_n_per_m: 5e7, level_m: 0.0 };
        points.iter().map(spring).collect()
    }

    #[track_caller]
    fn check(springs: &[Spring], weight: f64, centre: (f64, f64), expected: &[f64], tolerance: f64) {
        let found = full_contact_influence(springs, Vec2::new(centre.0, centre.1)).unwrap();
        for (f, e) in found.shares.iter().zip(expected) {
            assert!((f.share * weight - e).abs() <= tolerance, "{found:?} against {expected:?}");
        }
    }

    /// Public engineering forum question 400254, second hand: printed 54, 29, -4 and 21; the four digits are computed
    /// from the pile-group formula in exact fractions.
    #[test]
    fn validate_pile_group_with_uplift() {
        let springs = equal(&[(3.0, 2.0), (3.0, -2.0), (-3.0, -2.0), (-3.0, 2.0)]);
        check(&springs, 100.0, (2.0, 1.0), &[54.0, 29.0, -4.0, 21.0], 0.5);
        let exact = [1300.0 / 24.0, 700.0 / 24.0, -100.0 / 24.0, 500.0 / 24.0];
        check(&springs, 100.0, (2.0, 1.0), &exact, 1e-10);
        check(&springs, 100.0, (2.0, 1.0), &[54.1667, 29.1667, -4.1667, 20.8333], 5e-5);
    }

    /// Pile-group formula in exact fractions (own computation).
    #[test]
    fn validate_grids() {
        let six = equal(&[(-3.0, -2.0), (0.0, -2.0), (3.0, -2.0), (-3.0, 2.0), (0.0, 2.0), (3.0, 2.0)]);
        check(&six, 1200.0, (0.4, 0.3), &[130.0, 170.0, 210.0, 190.0, 230.0, 270.0], 1e-9);
        let list: Vec<(f64, f64)> = (0..9).map(|i| (f64::from(i % 3 - 1) * 1.2, f64::from(i / 3 - 1) * 1.2)).collect();
        let expected = [250.0, 406.25, 562.5, 343.75, 500.0, 656.25, 437.5, 593.75, 750.0];
        check(&equal(&list), 4500.0, (0.25, 0.15), &expected, 1e-9);
    }

    /// Warping of four equal springs: a level error of one changes all by k delta / 4 in turn; 50 kN/mm and 2 mm
    /// give 25 kN (exact).
    #[test]
    fn validate_warping() {
        let s = full_contact_influence(&equal(&[(0.0, 0.0), (4.0, 0.0), (4.0, 3.0), (0.0, 3.0)]), Vec2::ZERO).unwrap();
        for (row, sign) in s.level_stiffness_n_per_m.iter().zip([1.0, -1.0, 1.0, -1.0]) {
            assert!((row[0] * 0.002 - sign * 25_000.0).abs() < 1e-6);
        }
    }

    #[test]
    fn verify_collinear_is_refused() {
        let row = equal(&[(0.0, 0.0), (1.0, 1.0), (2.0, 2.0)]);
        assert!(matches!(full_contact_influence(&row, Vec2::ZERO), Err(ElasticError::Collinear { .. })));
    }

    proptest! {
        #[test]
        fn verify_agrees_with_the_one_sided_solution_in_full_contact(
            list in prop::collection::vec((-9.0f64..9.0, -9.0f64..9.0, 0.1f64..9.0, -1.0f64..1.0), 3..9),
            g in (-1.0f64..1.0, -1.0f64..1.0), scale in 0.001f64..10.0,
        ) {
            let springs: Vec<Spring> = list.iter().map(|&(x, y, k, e)| Spring {
                at: Vec2::new(x, y) * scale, stiffness_n_per_m: k * 1e7, level_m: e * 0.002,
            }).collect();
            let (weight, nominal, g) = (1e6, Vec2::ZERO, Vec2::new(g.0, g.1) * scale);
            let Ok(full) = full_contact_influence(&springs, nominal) else { return Ok(()) };
            let by_influence: Vec<f64> = full.shares.iter().zip(&full.level_stiffness_n_per_m).map(|(s, row)| {
                weight * (s.share + s.gradient_per_m.dot(g - nominal))
                    + row.iter().zip(&springs).map(|(element, spring)| element * spring.level_m).sum::<f64>()
            }).collect();
            // In equilibrium whether in contact or not.
            let sum: f64 = by_influence.iter().sum();
            let moment = by_influence.iter().zip(&springs).fold(Vec2::ZERO, |m, (r, s)| m + (s.at - g) * *r);
            // Thin plans give shares of thousands of weights that cancel: rounding goes with the greatest.
            let greatest = by_influence.iter().fold(weight, |m, r| m.max(r.abs()));
            prop_assert!((sum - weight).abs() < 1e-9 * greatest, "{sum} {by_influence:?}");
            prop_assert!(moment.length() < 1e-8 * greatest * scale);
            // Tension somewhere iff the one-sided solution has lost a contact.
            if let Ok(state) = solve(&springs, weight, g) {
                if by_influence.iter().all(|r| 1e-6 * weight < *r) {
                    for (r, b) in state.reactions_n.iter().zip(&by_influence) {
                        prop_assert!((r - b).abs() < 1e-6 * weight);
                    }
                } else if by_influence.iter().any(|r| *r < -1e-6 * weight) {
                    prop_assert!(state.in_contact.iter().any(|c| !c));
                }
            }
            for (i, row) in full.level_stiffness_n_per_m.iter().enumerate() {
                prop_assert!(row.iter().sum::<f64>().abs() < 1.0);
                prop_assert!(-1.0 < row[i]);
                for (j, element) in row.iter().enumerate() {
                    prop_assert!((element - full.level_stiffness_n_per_m[j][i]).abs() < 1.0);
                }
            }
        }
    }
}
