//! The envelope while every support stays in contact over the whole domain: reactions are then linear in each of the
//! unknowns, and the extreme is at known signs.

use super::super::domain::LoadDomain;
use super::super::elastic::{ElasticError, Spring};
use super::super::geometry::{Vec2, mean};
use super::super::influence::full_contact_influence;
use super::super::statics::AffineShare;
use super::{Bearing, Combination};

/// Part of the greatest element of a row below which an element is rounding.
const ROUNDING: f64 = 1e-12;

/// Reaction of one support were the springs two-sided, and where it is reached.
pub(super) struct Linear {
    pub(super) reaction_n: f64,
    pub(super) combination: Combination,
}

/// Least and greatest of each support.
pub(super) fn linear_envelope(bearings: &[Bearing], domain: &LoadDomain) -> Result<Vec<[Linear; 2]>, ElasticError> {
    let springs: Vec<Spring> = bearings.iter().map(Bearing::spring).collect();
    let points: Vec<Vec2> = bearings.iter().map(|b| b.at).collect();
    let origin = mean(&points);
    let full = full_contact_influence(&springs, origin)?;
    let rows = full.shares.iter().zip(&full.level_stiffness_n_per_m);
    let extremes =
        rows.map(|(share, row)| [-1.0, 1.0].map(|sign| extreme(bearings, domain, origin, *share, row, sign)));
    Ok(extremes.collect())
}

fn extreme(
    bearings: &[Bearing],
    domain: &LoadDomain,
    origin: Vec2,
    share: AffineShare,
    level_row: &[f64],
    sign: f64,
) -> Linear {
    let gradient = share.gradient_per_m;
    let upward = gradient * sign;
    // Greatest of `sign R` over the resultants at a weight.
    let at_weight = |weight_n: f64| {
        let per_weight = sign * (share.share - gradient.dot(origin)) + domain.per_weight_m(upward);
        weight_n * per_weight + domain.push.reach(upward)
    };
    let weight_n =
        if at_weight(domain.least_n) < at_weight(domain.greatest_n) { domain.greatest_n } else { domain.least_n };
    // An element that is nothing but rounding names no level; what it might do is counted all the same.
    let nothing = ROUNDING * level_row.iter().fold(0.0, |most: f64, element| most.max(element.abs()));
    let off = |element: f64, half_m: f64| {
        if element.abs() <= nothing { 0.0 } else { half_m * (sign * element).signum() }
    };
    let levels_m =
        bearings.iter().zip(level_row).map(|(b, element)| b.level_m + off(*element, b.half_band_m)).collect();
    let by_levels: f64 = bearings
        .iter()
        .zip(level_row)
        .map(|(b, element)| element * b.level_m + sign * element.abs() * b.half_band_m)
        .sum();
    let resultant = domain.member(upward, weight_n);
    Linear {
        reaction_n: sign * at_weight(weight_n) + by_levels,
        combination: Combination { weight_n, resultant, levels_m },
    }
}
