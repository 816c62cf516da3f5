//! What a girder must be to have an answer, and whether an answer balances its loads.

use super::super::geometry::GREATEST_LENGTH_M;
use super::{Girder, GirderEnd, GirderError, MOST_SUPPORTS, PLACE_TOLERANCE};

/// The loads together.
#[derive(Debug, Clone, Copy)]
pub(super) struct Resultant {
    pub(super) weight_n: f64,
    /// Where it acts, from the first support.
    pub(super) from_first_m: f64,
    /// Place of the first support.
    pub(super) first_m: f64,
    /// Distance between the end supports.
    pub(super) span_m: f64,
}

/// Whether a number is above zero, finite and not so small or large that digits are lost.
fn is_positive(value: f64) -> bool {
    (1e-100..1e100).contains(&value)
}

fn is_place(value: f64) -> bool {
    value.abs() <= GREATEST_LENGTH_M
}

/// Checks everything but tipping.
pub(super) fn girder(girder: &Girder) -> Result<Resultant, GirderError> {
    if !is_place(girder.from_m) || !is_place(girder.to_m) || girder.to_m <= girder.from_m {
        return Err(GirderError::Ends);
    }
    sections(girder)?;
    let (first_m, last_m) = supports(girder)?;
    let span_m = last_m - first_m;
    loads(girder)?;
    let weight_n: f64 = girder.loads.iter().map(super::BeamLoad::force_n).sum();
    if !is_positive(weight_n) {
        return Err(GirderError::NoWeight);
    }
    let moment: f64 = girder.loads.iter().map(|load| load.force_n() * (load.centre_m() - first_m)).sum();
    Ok(Resultant { weight_n, from_first_m: moment / weight_n, first_m, span_m })
}

fn sections(girder: &Girder) -> Result<(), GirderError> {
    let mut from_m = None;
    for (index, section) in girder.sections.iter().enumerate() {
        // The first begins where the girder does: neither before nor after.
        let in_order = match from_m {
            None => section.from_m <= girder.from_m && girder.from_m <= section.from_m,
            Some(before) => before < section.from_m && section.from_m < girder.to_m,
        };
        if !in_order || !is_positive(section.bending_stiffness_nm2) {
            return Err(GirderError::Section { index });
        }
        from_m = Some(section.from_m);
    }
    if from_m.is_none() { Err(GirderError::NoSection) } else { Ok(()) }
}

/// Places of the end supports.
fn supports(girder: &Girder) -> Result<(f64, f64), GirderError> {
    if girder.supports.len() < 2 {
        return Err(GirderError::TooFewSupports);
    }
    if MOST_SUPPORTS < girder.supports.len() {
        return Err(GirderError::TooManySupports);
    }
    for (index, support) in girder.supports.iter().enumerate() {
        if !(girder.from_m..=girder.to_m).contains(&support.at_m) {
            return Err(GirderError::SupportOffGirder { index });
        }
        if !is_positive(support.stiffness_n_per_m) {
            return Err(GirderError::Stiffness { index });
        }
        if !is_place(support.level_m) {
            return Err(GirderError::Level { index });
        }
    }
    let mut order: Vec<(f64, usize)> = girder.supports.iter().enumerate().map(|(i, s)| (s.at_m, i)).collect();
    order.sort_by(|a, b| a.0.total_cmp(&b.0));
    let first_m = order.first().map_or(0.0, |s| s.0);
    let last_m = order.last().map_or(0.0, |s| s.0);
    for pair in order.windows(2) {
        if let [(left, first), (right, second)] = *pair
            && right - left <= PLACE_TOLERANCE * (last_m - first_m)
        {
            return Err(GirderError::Coincident { first, second });
        }
    }
    Ok((first_m, last_m))
}

fn loads(girder: &Girder) -> Result<(), GirderError> {
    let on_girder = girder.from_m..=girder.to_m;
    for (index, load) in girder.loads.iter().enumerate() {
        let (from_m, to_m, has_length) = match *load {
            super::BeamLoad::Point { at_m, .. } => (at_m, at_m, true),
            super::BeamLoad::Uniform { from_m, to_m, .. } => (from_m, to_m, from_m < to_m),
        };
        if !on_girder.contains(&from_m) || !on_girder.contains(&to_m) {
            return Err(GirderError::LoadOffGirder { index });
        }
        if !has_length || load.force_n().is_nan() || 1e100 < load.force_n().abs() {
            return Err(GirderError::Load { index });
        }
    }
    Ok(())
}

/// Refuses a resultant that is not between the end supports.
pub(super) fn tipping(girder: &Girder, resultant: &Resultant) -> Result<(), GirderError> {
    // Sums of large forces that cancel know the place of their resultant less well.
    let gross: f64 = girder.loads.iter().map(|load| load.force_n().abs()).sum();
    let tolerance_m = PLACE_TOLERANCE * resultant.span_m * (gross / resultant.weight_n).min(1e9);
    let Resultant { from_first_m, span_m, .. } = *resultant;
    if from_first_m <= tolerance_m {
        Err(GirderError::Tips { end: GirderEnd::First, beyond_m: -from_first_m })
    } else if span_m - tolerance_m <= from_first_m {
        Err(GirderError::Tips { end: GirderEnd::Last, beyond_m: from_first_m - span_m })
    } else if from_first_m.is_finite() {
        Ok(())
    } else {
        Err(GirderError::NoWeight)
    }
}

/// Greatest of unbalanced force over weight and unbalanced moment over weight times distance of the end supports.
pub(super) fn residual(girder: &Girder, resultant: &Resultant, reactions_n: &[f64]) -> f64 {
    let force: f64 = reactions_n.iter().sum::<f64>() - resultant.weight_n;
    let arm = |at_m: f64| at_m - resultant.first_m - resultant.from_first_m;
    let moment: f64 = girder.supports.iter().zip(reactions_n).map(|(s, r)| r * arm(s.at_m)).sum();
    let (force, moment) = (force.abs() / resultant.weight_n, moment.abs() / (resultant.weight_n * resultant.span_m));
    if force.is_nan() {
        force
    } else if moment.is_nan() {
        moment
    } else {
        force.max(moment)
    }
}
