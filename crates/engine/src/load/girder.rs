//! A load that bends: a girder on supports in one line.

use super::case::Placed;
use super::equilibrium::NoEquilibrium;
use super::kernel::Stance;
use super::kernel::girder::{
    BeamLoad, BeamSupport, Girder, GirderEnvelope, GirderTolerances, Section, envelope, influence, solve,
};
use super::phase::{Carried, End, Ground, bounds};
use super::result::{Bending, Exactness, Method};
use crate::Text;
use ramwright_units::{Force, Length, Moment, SecondMoment, Stiffness, Stress};

/// Across how much of its length the points of a girder may be off its line (dimensionless).
const OFF_LINE: f64 = 1e-6;

/// A stretch of one cross-section.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct GirderSection {
    /// Where it begins; it ends where the next one begins or the girder ends.
    pub from: Length,
    /// Modulus of elasticity.
    pub modulus: Stress,
    /// Second moment of area against vertical bending.
    pub second_moment: SecondMoment,
}

/// A part of the girder's weight.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum GirderLoad {
    /// At one place.
    Point {
        /// Where.
        at: Length,
        /// How much.
        weight: Force,
    },
    /// Evenly over a stretch.
    Uniform {
        /// Where it begins.
        from: Length,
        /// Where it ends.
        to: Length,
        /// How much in all.
        weight: Force,
    },
}

impl GirderLoad {
    /// How much.
    pub fn weight(&self) -> Force {
        match self {
            Self::Point { weight, .. } | Self::Uniform { weight, .. } => *weight,
        }
    }

    /// Where its middle is.
    pub fn middle(&self) -> Length {
        match self {
            Self::Point { at, .. } => *at,
            Self::Uniform { from, to, .. } => (*from + *to) / 2.0,
        }
    }

    fn heavier(&self, factor: f64) -> Self {
        match *self {
            Self::Point { at, weight } => Self::Point { at, weight: weight * factor },
            Self::Uniform { from, to, weight } => Self::Uniform { from, to, weight: weight * factor },
        }
    }
}

/// A girder along x, with its loads.
#[derive(Clone, Debug, PartialEq)]
pub struct GirderModel {
    /// Where it begins.
    pub from: Length,
    /// Where it ends.
    pub to: Length,
    /// Its sections, in order.
    pub sections: Vec<GirderSection>,
    /// Its weight, in parts.
    pub loads: Vec<GirderLoad>,
}

impl GirderModel {
    /// The same girder with its loads heavier by a factor.
    #[must_use]
    pub fn heavier(&self, factor: f64) -> Self {
        Self { loads: self.loads.iter().map(|load| load.heavier(factor)).collect(), ..self.clone() }
    }

    /// The kernel's model with these supports, places in m from `origin_m`.
    fn beam(&self, supports: Vec<BeamSupport>, origin_m: f64) -> Girder {
        let at = |x: Length| x.m() - origin_m;
        let load = |load: &GirderLoad| match *load {
            GirderLoad::Point { at: x, weight } => BeamLoad::Point { at_m: at(x), force_n: weight.n() },
            GirderLoad::Uniform { from, to, weight } => {
                BeamLoad::Uniform { from_m: at(from), to_m: at(to), force_per_m: weight.n() / (to - from).m() }
            }
        };
        let section = |section: &GirderSection| Section {
            from_m: at(section.from),
            bending_stiffness_nm2: section.modulus.pa() * section.second_moment.m4(),
        };
        Girder {
            from_m: at(self.from),
            to_m: at(self.to),
            sections: self.sections.iter().map(section).collect(),
            supports,
            loads: self.loads.iter().map(load).collect(),
        }
    }
}

/// The girder on what carries in a phase.
///
/// # Errors
/// [`NoEquilibrium::Girder`] where model and points do not suit each other.
fn model(girder: &GirderModel, ground: &Ground) -> Result<Girder, NoEquilibrium> {
    let unsuited = |words: &str| NoEquilibrium::Girder(words.to_owned());
    match &ground.stance {
        Stance::Line { direction, offset_m, .. }
            if direction.y.abs() <= OFF_LINE && offset_m.length() <= OFF_LINE * (girder.to - girder.from).m() => {}
        _ => return Err(unsuited("its points lie in one line along x, with its loads over them")),
    }
    let supports: Option<Vec<BeamSupport>> = ground
        .supports
        .iter()
        .zip(&ground.at)
        .map(|(support, at)| {
            let stiffness_n_per_m = support.stiffness?.n_per_m();
            Some(BeamSupport { at_m: at.x, stiffness_n_per_m, level_m: support.level_m })
        })
        .collect();
    let supports = supports.ok_or_else(|| unsuited("the stiffness of each of its supports must be known"))?;
    Ok(girder.beam(supports, ground.origin.x))
}

/// What each support of a girder carries.
///
/// A tolerance of the centre, and horizontal forces along the girder, are taken as a shift of each of its loads.
pub(super) fn carried(
    girder: &GirderModel,
    placed: &Placed,
    ground: &Ground,
) -> Result<(Method, Text, Vec<Carried>), NoEquilibrium> {
    let beam = model(girder, ground)?;
    let refused = |error: super::kernel::girder::GirderError| NoEquilibrium::Girder(error.to_string());
    let domain = &ground.domain;
    let along = super::kernel::Vec2::new(1.0, 0.0);
    let tolerances = GirderTolerances {
        load_factor: (domain.least_n / domain.expected_n, domain.greatest_n / domain.expected_n),
        shift_m: domain.reach_m(along).max(domain.reach_m(-along)).max(0.0),
        half_band_m: vec![placed.half_band_m(); beam.supports.len()],
    };
    // The girder first: it says why it cannot stand.
    let found = envelope(&beam, &tolerances).map_err(refused)?;
    let any = bounds(ground)?;
    match found {
        GirderEnvelope::Contact(ranges) => {
            let carried = ranges.into_iter().zip(any).map(|(range, (low, high))| {
                let end = |reaction_n: f64, weight_n: f64| End {
                    reaction_n,
                    weight_n,
                    resultant: None,
                    levels_m: Vec::new(),
                };
                Carried {
                    least: end(range.least_n.max(low.reaction_n), domain.least_n),
                    expected_n: range.expected_n,
                    greatest: end(range.greatest_n.min(high.reaction_n), domain.greatest_n),
                    exactness: Exactness::SafeSide,
                    any_n: Some((low.reaction_n, high.reaction_n)),
                }
            });
            let why = "asked for; every support keeps its load within the tolerances, each load shifted and each support raised to its worst";
            Ok((Method::Girder, Text::fixed(why), carried.collect()))
        }
        GirderEnvelope::LiftOff => {
            let state = solve(&beam).map_err(refused)?;
            let carried = state.reactions_n.into_iter().zip(any).map(|(expected_n, (least, greatest))| Carried {
                least,
                expected_n,
                greatest,
                exactness: Exactness::SafeSide,
                any_n: None,
            });
            let why = "asked for; a support can lose its load within the tolerances, so least and greatest are those of any equilibrium, and only the expected shares are the girder's";
            Ok((Method::Girder, Text::fixed(why), carried.collect()))
        }
    }
}

/// Change of each support's share when one alone is raised, while all stay in contact.
pub(super) fn raised_alone(girder: &GirderModel, ground: &Ground) -> Option<Vec<Vec<Stiffness>>> {
    let found = influence(&model(girder, ground).ok()?).ok()?;
    let row = |row: &Vec<f64>| row.iter().map(|&k| Stiffness::from_n_per_m(k)).collect();
    Some(found.raise_n_per_m.iter().map(row).collect())
}

/// The bending moments under the expected loads.
pub(super) fn bending(girder: &GirderModel, ground: &Ground) -> Option<Bending> {
    let state = solve(&model(girder, ground).ok()?).ok()?;
    let place = |at_m: f64| Length::from_m(at_m + ground.origin.x);
    Some(Bending {
        sagging: Moment::from_nm(state.sagging.moment_nm),
        sagging_at: place(state.sagging.at_m),
        hogging: Moment::from_nm(state.hogging.moment_nm),
        hogging_at: place(state.hogging.at_m),
    })
}
