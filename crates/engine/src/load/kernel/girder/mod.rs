//! A girder on supports that only push: a continuous elastic beam (Euler-Bernoulli) on one-sided springs.
//!
//! Places are measured along the girder; loads count downward, reactions upward, deflections downward, levels upward;
//! a bending moment is positive where the girder sags. The girder is straight when unloaded. Supports, loads and their
//! results keep the order of the caller.
//!
//! * `beam`: the equations with deflections and moments at the nodes as unknowns (both, so that neither a support of
//!   1e13 N/m nor a girder much stiffer than its supports costs digits); `band` solves them.
//! * `contact`: which supports carry, with the proof that the search ends.
//! * `diagram`: greatest sagging and hogging moment.
//! * `influence`: influence lines in full contact; `envelope`: bounds of the reactions over tolerances.
//!
//! Shear deformation is left out: a deep, short girder is softer than this, which spreads level errors a little and
//! moves load from interior supports to their neighbours.

mod band;
mod beam;
mod check;
mod contact;
mod diagram;
mod envelope;
mod influence;
mod polynomial;

use core::fmt;

pub(crate) use self::envelope::{GirderEnvelope, GirderTolerances, envelope};
pub(crate) use self::influence::{GirderInfluence, influence};

/// Most supports accepted.
pub(crate) const MOST_SUPPORTS: usize = 200;

/// Residual of equilibrium above which there is no answer (dimensionless).
pub(crate) const EQUILIBRIUM_TOLERANCE: f64 = 1e-9;

/// Distance between supports, or from the resultant to an end support, that counts as none, as a part of the distance
/// between the end supports (dimensionless).
pub(crate) const PLACE_TOLERANCE: f64 = 1e-9;

/// A length of girder with one cross-section, up to the next section or the end.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct Section {
    /// Where it begins, in m.
    pub from_m: f64,
    /// Bending stiffness E I, in N m².
    pub bending_stiffness_nm2: f64,
}

/// A load, downward positive.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) enum BeamLoad {
    /// A single force.
    Point {
        /// Where it stands, in m.
        at_m: f64,
        /// Force, in N.
        force_n: f64,
    },
    /// A constant line load.
    Uniform {
        /// Where it begins, in m.
        from_m: f64,
        /// Where it ends, in m; beyond `from_m`.
        to_m: f64,
        /// Force per length, in N/m.
        force_per_m: f64,
    },
}

impl BeamLoad {
    /// The whole force, in N.
    pub(super) fn force_n(&self) -> f64 {
        match *self {
            Self::Point { force_n, .. } => force_n,
            Self::Uniform { from_m, to_m, force_per_m } => (to_m - from_m) * force_per_m,
        }
    }

    /// Where its resultant acts, in m.
    pub(super) fn centre_m(&self) -> f64 {
        match *self {
            Self::Point { at_m, .. } => at_m,
            Self::Uniform { from_m, to_m, .. } => from_m + 0.5 * (to_m - from_m),
        }
    }
}

/// A support that only pushes.
#[derive(Debug, Clone, Copy, PartialEq)]
#[expect(clippy::struct_field_names, reason = "the common ending is the unit")]
pub(crate) struct BeamSupport {
    /// Where it stands, in m.
    pub at_m: f64,
    /// Stiffness, in N/m.
    pub stiffness_n_per_m: f64,
    /// Level error, in m: positive if it stands higher than the others.
    pub level_m: f64,
}

/// A girder with its supports and loads.
#[derive(Debug, Clone, PartialEq)]
pub(crate) struct Girder {
    /// Where it begins, in m.
    pub from_m: f64,
    /// Where it ends, in m.
    pub to_m: f64,
    /// Its sections in order, the first at its beginning.
    pub sections: Vec<Section>,
    /// Its supports, in any order.
    pub supports: Vec<BeamSupport>,
    /// Its loads, own weight among them.
    pub loads: Vec<BeamLoad>,
}

/// A bending moment and where it acts.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct PlacedMoment {
    /// Bending moment, in N m, positive where the girder sags.
    pub moment_nm: f64,
    /// Where, in m.
    pub at_m: f64,
}

/// The girder at rest.
#[derive(Debug, Clone, PartialEq)]
pub(crate) struct GirderState {
    /// Reaction of each support, in N; zero or more.
    pub reactions_n: Vec<f64>,
    /// Whether the girder rests on the support. One that it just touches without force may be either.
    pub in_contact: Vec<bool>,
    /// Deflection of the girder above each support, in m, downward positive, from the datum of the levels.
    pub deflections_m: Vec<f64>,
    /// How far the girder stands clear of each support, in m; zero where in contact.
    pub gaps_m: Vec<f64>,
    /// Greatest sagging moment anywhere, zero at the end of the girder if there is none.
    pub sagging: PlacedMoment,
    /// Greatest hogging moment anywhere (negative), zero at the end of the girder if there is none.
    pub hogging: PlacedMoment,
    /// Greatest of unbalanced force over weight and unbalanced moment over weight times distance between the end
    /// supports (dimensionless).
    pub residual: f64,
}

/// An end of the row of supports.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum GirderEnd {
    /// The one with the least place.
    First,
    /// The one with the greatest place.
    Last,
}

/// Why there is no answer.
#[derive(Debug, Clone, Copy, PartialEq)]
#[non_exhaustive]
pub(crate) enum GirderError {
    /// The ends of the girder are not finite, too far away or not in order.
    Ends,
    /// The section with this index does not begin beyond the one before it and on the girder (the first: at its
    /// beginning), or its stiffness is not positive and finite.
    Section {
        /// Index of the section.
        index: usize,
    },
    /// No section.
    NoSection,
    /// Fewer than two supports.
    TooFewSupports,
    /// More than [`MOST_SUPPORTS`].
    TooManySupports,
    /// The support with this index does not stand on the girder.
    SupportOffGirder {
        /// Index of the support.
        index: usize,
    },
    /// The stiffness of the support with this index is not positive and finite.
    Stiffness {
        /// Index of the support.
        index: usize,
    },
    /// The level of the support with this index is not finite or too large.
    Level {
        /// Index of the support.
        index: usize,
    },
    /// These two supports stand at one place.
    Coincident {
        /// Index of one.
        first: usize,
        /// Index of the other.
        second: usize,
    },
    /// The load with this index is not finite, or has no length.
    Load {
        /// Index of the load.
        index: usize,
    },
    /// The load with this index does not stand on the girder.
    LoadOffGirder {
        /// Index of the load.
        index: usize,
    },
    /// There is no load, or the loads together do not press down.
    NoWeight,
    /// The resultant of the loads is not between the end supports: the girder tips over one of them.
    Tips {
        /// The end over which it tips.
        end: GirderEnd,
        /// How far the resultant is beyond the support, in m.
        beyond_m: f64,
    },
    /// The tolerances are not finite, not in order, or not one for each support.
    Tolerances,
    /// No equilibrium was found within rounding.
    NotConverged,
}

impl fmt::Display for GirderError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::Ends => f.write_str("the ends of the girder are not usable"),
            Self::Section { index } => write!(f, "section {index} of the girder is not usable"),
            Self::NoSection => f.write_str("the girder has no section"),
            Self::TooFewSupports => f.write_str("the girder has fewer than two supports"),
            Self::TooManySupports => write!(f, "the girder has more than {MOST_SUPPORTS} supports"),
            Self::SupportOffGirder { index } => write!(f, "support {index} is not on the girder"),
            Self::Stiffness { index } => write!(f, "the stiffness of support {index} is not positive"),
            Self::Level { index } => write!(f, "the level error of support {index} is not usable"),
            Self::Coincident { first, second } => write!(f, "supports {first} and {second} are at one place"),
            Self::Load { index } => write!(f, "load {index} is not usable"),
            Self::LoadOffGirder { index } => write!(f, "load {index} is not on the girder"),
            Self::NoWeight => f.write_str("the loads together do not press down"),
            Self::Tips { beyond_m, .. } => {
                write!(f, "the resultant of the loads is {:.1} mm beyond an end support", beyond_m * 1e3)
            }
            Self::Tolerances => f.write_str("the tolerances are not usable"),
            Self::NotConverged => f.write_str("no equilibrium was found"),
        }
    }
}

impl core::error::Error for GirderError {}

/// The girder at rest on the supports it presses on.
///
/// # Source
/// Euler-Bernoulli bending: the equation of three moments with deflections of the supports (textbook statics), springs
/// under the nodes, one-sided contact; method and proof in the text of `contact`.
///
/// # Validity
/// Small deflections, slender girder. Two to [`MOST_SUPPORTS`] supports, stiffness of 1e3 to 1e13 N/m tried; the
/// resultant between the end supports by more than [`PLACE_TOLERANCE`] of their distance.
///
/// # Errors
/// See [`GirderError`].
pub(crate) fn solve(girder: &Girder) -> Result<GirderState, GirderError> {
    let resultant = check::girder(girder)?;
    check::tipping(girder, &resultant)?;
    let model = beam::Model::of(girder);
    let rest = contact::rest(&model).ok_or(GirderError::NotConverged)?;
    let mut state = contact::state(girder, &model, &rest);
    state.residual = check::residual(girder, &resultant, &state.reactions_n);
    if state.residual.is_nan() || EQUILIBRIUM_TOLERANCE < state.residual {
        return Err(GirderError::NotConverged);
    }
    Ok(state)
}

#[cfg(test)]
mod tests;
