//! Least and greatest reaction of each support of a rigid load on one-sided springs, over all tolerances together: the
//! weight, the centre of gravity, the pushes, and the level of every support.
//!
//! # Method
//! *In contact.* Were the springs two-sided, the reactions would be linear in each unknown and the extremes at known
//! signs ([`contact`]). If no support can then come below zero anywhere, none lifts off and these are the extremes.
//!
//! *With lift-off.* The level of support j is free within `e_j -+ h_j`, so under the plane `p` of the load its reaction can be
//! anything from `k_j max(0, p_j + e_j - h_j)` to `k_j max(0, p_j + e_j + h_j)`, whatever the others do. What is left
//! is a linear programme in the plane and the reactions, but for the upper end, which is not concave. [`model`] puts a
//! chord in its place, and [`lift_off`] branches: a support either can touch the load, and then the end is linear, or
//! it cannot, and carries nothing. Every relaxation is certified by its multipliers ([`simplex`]), every combination
//! found is solved again by [`super::elastic::solve`]; the extreme is called exact only if the two agree.
//!
//! *Its own level.* Let `V(e)` be the least energy over all planes q of `1/2 sum k_j max(0, q_j + e_j)² - W q(g)`. The bracket
//! is convex in q and e together, so V is convex in e; its slope along `e_i` is `R_i`. Hence `R_i` never falls as
//! `e_i` rises, and support i itself is as high as it can be for its greatest reaction, as low as it can be for its least.

#[cfg(test)]
mod tests;

mod contact;
mod lift_off;
mod model;
mod simplex;

use self::contact::Linear;
use self::model::Model;
use super::domain::LoadDomain;
use super::elastic::{ElasticError, Spring, solve};
use super::geometry::{GREATEST_LENGTH_M, Vec2};

/// Reactions this far below zero, as a part of the greatest weight, are rounding and not a loss of contact.
const ROUNDING: f64 = 1e-12;

/// Agreement of bound and combination that makes an extreme exact, as a part of the greatest weight.
pub(crate) const AGREEMENT: f64 = 1e-7;

/// A support and what is known of its level.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct Bearing {
    /// Where it stands, in m.
    pub at: Vec2,
    /// Stiffness, in N/m.
    pub stiffness_n_per_m: f64,
    /// Known level error, in m: positive if the support stands high.
    pub level_m: f64,
    /// The level may be off the known one by this much either way, in m, whatever the others are.
    pub half_band_m: f64,
}

impl Bearing {
    /// The spring at its known level.
    pub(crate) fn spring(&self) -> Spring {
        Spring { at: self.at, stiffness_n_per_m: self.stiffness_n_per_m, level_m: self.level_m }
    }
}

/// How much an extreme is worth.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Exactness {
    /// Every support stays in contact for every combination: linear and exact.
    Contact,
    /// Supports lift off; the extreme was found and proven within [`AGREEMENT`], but for a disc, which counts as a polygon
    /// of 32 sides about it.
    Exact,
    /// On the safe side: no combination goes beyond it, but none that reaches it is known.
    Bound,
}

/// Weight, place and levels at which an extreme occurs.
#[derive(Debug, Clone, PartialEq)]
pub(crate) struct Combination {
    /// Weight, in N.
    pub weight_n: f64,
    /// Place of the resultant, in m.
    pub resultant: Vec2,
    /// Level error of each support, the known one included, in m.
    pub levels_m: Vec<f64>,
}

/// One end of the range of a reaction.
#[derive(Debug, Clone, PartialEq)]
pub(crate) struct Extreme {
    /// The reaction, in N: on the safe side whatever the exactness.
    pub reaction_n: f64,
    /// What it is worth.
    pub exactness: Exactness,
    /// Where it occurs; for a bound the worst combination that was met, if any.
    pub combination: Option<Combination>,
}

/// Range of the reaction of one support.
#[derive(Debug, Clone, PartialEq)]
pub(crate) struct PointEnvelope {
    /// The least reaction.
    pub least: Extreme,
    /// The reaction at the expected weight and centre and the known levels, without pushes, in N.
    pub expected_n: f64,
    /// The greatest reaction.
    pub greatest: Extreme,
}

/// Limit of the work, never of time.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) struct Effort {
    /// Cells of simplex tableaux that pivots may go over, for all supports together; shared out evenly.
    pub cells: u64,
    /// Nodes of the search for one extreme.
    pub nodes: usize,
}

impl Effort {
    /// Enough to prove the extremes of about twenty supports; below about a second for any number.
    pub(crate) const USUAL: Self = Self { cells: 600_000_000, nodes: 2_000 };
}

/// Least, expected and greatest reaction of each support over all weights, centres, pushes and levels.
///
/// # Source
/// Own method: linear relation in full contact (the pile-group formula), else linear programming with branch and bound;
/// see the text of the module.
///
/// # Validity
/// As [`super::elastic::solve`]. Where the resultant can leave the hull of the supports, the answer holds for the
/// combinations that are in equilibrium; with more than two dozen supports it is then only a bound.
///
/// # Errors
/// [`ElasticError`]; [`ElasticError::Tips`] if the load tips as expected, or whatever the combination.
pub(crate) fn envelope(
    bearings: &[Bearing],
    domain: &LoadDomain,
    effort: Effort,
) -> Result<Vec<PointEnvelope>, ElasticError> {
    check(bearings, domain)?;
    let springs: Vec<Spring> = bearings.iter().map(Bearing::spring).collect();
    let expected = solve(&springs, domain.expected_n, domain.expected_at)?.reactions_n;
    if domain.is_one_load() && bearings.iter().all(|b| b.half_band_m <= 0.0) {
        return Ok(expected.into_iter().map(|reaction_n| one_load(bearings, domain, reaction_n)).collect());
    }
    let linear = contact::linear_envelope(bearings, domain)?;
    let lost = -ROUNDING * domain.greatest_n;
    if linear.iter().all(|[least, _]| lost <= least.reaction_n) {
        let point = |([least, greatest], expected_n): ([Linear; 2], f64)| PointEnvelope {
            least: in_contact(least),
            expected_n,
            greatest: in_contact(greatest),
        };
        return Ok(linear.into_iter().zip(expected).map(point).collect());
    }
    let model = Model::new(bearings, domain)?;
    Ok(lift_off::envelope(&model, &linear, &expected, effort))
}

/// Without tolerances there is one set of reactions.
fn one_load(bearings: &[Bearing], domain: &LoadDomain, reaction_n: f64) -> PointEnvelope {
    let extreme = || Extreme {
        reaction_n,
        exactness: if 0.0 < reaction_n { Exactness::Contact } else { Exactness::Exact },
        combination: Some(Combination {
            weight_n: domain.expected_n,
            resultant: domain.expected_at,
            levels_m: bearings.iter().map(|b| b.level_m).collect(),
        }),
    };
    PointEnvelope { least: extreme(), expected_n: reaction_n, greatest: extreme() }
}

fn in_contact(linear: Linear) -> Extreme {
    Extreme {
        reaction_n: linear.reaction_n.max(0.0),
        exactness: Exactness::Contact,
        combination: Some(linear.combination),
    }
}

fn check(bearings: &[Bearing], domain: &LoadDomain) -> Result<(), ElasticError> {
    domain.check()?;
    let usable = |b: &Bearing| b.level_m.is_finite() && (0.0..=GREATEST_LENGTH_M).contains(&b.half_band_m);
    match bearings.iter().position(|b| !usable(b)) {
        Some(index) => Err(ElasticError::Level { index }),
        None => Ok(()),
    }
}
