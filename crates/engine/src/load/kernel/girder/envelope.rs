//! Bounds of the reactions over tolerances of loads and levels while every support holds.
//!
//! In full contact a reaction is linear in each load and in each level, so its extremes are sums of extremes: of the
//! influence line over the places where a load may stand, and of the levels at the ends of their bands. Every load may
//! shift on its own and in the direction that is worst for each support, which is more than loads that shift together
//! can do: the bounds are safe, not always reached. If all the least values are above zero the assumption of contact
//! holds all over the tolerances, since the one-sided reactions are unique.

use super::{BeamLoad, Girder, GirderError, GirderInfluence, check, influence};
use crate::load::kernel::geometry::GREATEST_LENGTH_M;

/// Widening of each bound for rounding, as a part of all that is added up in it (dimensionless).
const ROUNDING: f64 = 1e-12;

/// What loads and levels may differ by.
#[derive(Debug, Clone, PartialEq)]
pub(crate) struct GirderTolerances {
    /// Least and greatest factor on all loads, not above and not below 1 (dimensionless).
    pub load_factor: (f64, f64),
    /// How far each load may stand to either side of its place, in m.
    pub shift_m: f64,
    /// How far each support may stand above or below its level, in m.
    pub half_band_m: Vec<f64>,
}

/// Bounds of one reaction.
#[derive(Debug, Clone, Copy, PartialEq)]
#[expect(clippy::struct_field_names, reason = "the common ending is the unit")]
pub(crate) struct ReactionRange {
    /// Not more than the least reaction, in N.
    pub least_n: f64,
    /// Reaction under the loads and levels as given, in N.
    pub expected_n: f64,
    /// Not less than the greatest reaction, in N.
    pub greatest_n: f64,
}

/// Bounds of the reactions.
#[derive(Debug, Clone, PartialEq)]
pub(crate) enum GirderEnvelope {
    /// Every support carries all over the tolerances.
    Contact(Vec<ReactionRange>),
    /// Some support may lose contact within the tolerances; no bounds by this method.
    LiftOff,
}

/// Safe bounds of every reaction over the tolerances.
///
/// # Source
/// Superposition with influence lines, as in the text of the module.
///
/// # Validity
/// As [`super::solve`]; bounds only where no support can lose contact. A load that its shift takes beyond the end of the
/// girder is taken to stand on a straight extension of it.
///
/// # Errors
/// See [`GirderError`].
pub(crate) fn envelope(girder: &Girder, tolerances: &GirderTolerances) -> Result<GirderEnvelope, GirderError> {
    let resultant = check::girder(girder)?;
    check::tipping(girder, &resultant)?;
    check_tolerances(girder, tolerances)?;
    let full = influence::influence(girder)?;
    let ranges =
        (0..girder.supports.len()).map(|i| range(girder, tolerances, &full, i).ok_or(GirderError::NotConverged));
    let ranges = ranges.collect::<Result<Vec<ReactionRange>, GirderError>>()?;
    let sum: f64 = ranges.iter().map(|r| r.expected_n).sum();
    if super::EQUILIBRIUM_TOLERANCE * resultant.weight_n < (sum - resultant.weight_n).abs() {
        return Err(GirderError::NotConverged);
    }
    let holds = ranges.iter().all(|r| 0.0 < r.least_n);
    Ok(if holds { GirderEnvelope::Contact(ranges) } else { GirderEnvelope::LiftOff })
}

fn check_tolerances(girder: &Girder, tolerances: &GirderTolerances) -> Result<(), GirderError> {
    let (least, greatest) = tolerances.load_factor;
    let is_length = |v: f64| (0.0..=GREATEST_LENGTH_M).contains(&v);
    let right = 0.0 < least
        && least <= 1.0
        && (1.0..=1e9).contains(&greatest)
        && is_length(tolerances.shift_m)
        && tolerances.half_band_m.len() == girder.supports.len()
        && tolerances.half_band_m.iter().all(|v| is_length(*v));
    if right { Ok(()) } else { Err(GirderError::Tolerances) }
}

/// Bounds of one reaction, or `None` if they are not numbers.
fn range(
    girder: &Girder,
    tolerances: &GirderTolerances,
    full: &GirderInfluence,
    support: usize,
) -> Option<ReactionRange> {
    let line = full.lines.get(support)?;
    let (mut low, mut high, mut size) = (0.0, 0.0, 0.0);
    for load in &girder.loads {
        let (ordinates, force) = match *load {
            BeamLoad::Point { at_m, force_n } => (line.point_extremes(at_m, tolerances.shift_m), force_n),
            BeamLoad::Uniform { from_m, to_m, force_per_m } => {
                (line.uniform_extremes(from_m, to_m, tolerances.shift_m), force_per_m)
            }
        };
        let (a, b) = (ordinates.0 * force, ordinates.1 * force);
        low += a.min(b);
        high += a.max(b);
        size += a.abs().max(b.abs());
    }
    let (least, greatest) = tolerances.load_factor;
    let (low, high) =
        (low * if low < 0.0 { greatest } else { least }, high * if high < 0.0 { least } else { greatest });
    // Raising all supports alike changes nothing: count from the first, so that no digits go into a common level.
    let datum_m = girder.supports.first()?.level_m;
    let (mut given, mut band) = (0.0, 0.0);
    let row = full.raise_n_per_m.get(support)?;
    for ((raise, s), half_m) in row.iter().zip(&girder.supports).zip(&tolerances.half_band_m) {
        given += raise * (s.level_m - datum_m);
        band += raise.abs() * half_m;
        size += (raise * (s.level_m - datum_m)).abs();
    }
    let rounding = ROUNDING * (size * greatest + band);
    let range = ReactionRange {
        least_n: low + given - band - rounding,
        expected_n: full.reactions_n.get(support)? + given,
        greatest_n: high + given + band + rounding,
    };
    let in_order = range.least_n <= range.expected_n && range.expected_n <= range.greatest_n;
    (in_order && range.greatest_n.is_finite()).then_some(range)
}
