//! What stands between the load and the ground at every point, as far as it is known.

use super::basis::DesignBasis;
use super::ground::Ground;
use super::materials::Surface;
use super::soffit::{Face, Soffit};
use super::stack::{Restraint, RestraintKind};
use crate::ram::ReturnLine;
use ramwright_units::{Angle, Force, Length, OilPressure, Stress};

/// A rectangular steel plate.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct SteelPlate {
    /// One side.
    pub length: Length,
    /// The other side.
    pub width: Length,
    /// Thickness.
    pub thickness: Length,
    /// Yield strength.
    pub yield_strength: Option<Stress>,
}

/// Concrete under rams and stacks.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct ConcreteFoundation {
    /// Cylinder strength.
    pub strength: Option<Stress>,
    /// Sides of the concrete that lies concentric about the loaded area, if known.
    pub room: Option<(Length, Length)>,
    /// Depth, if known.
    pub depth: Option<Length>,
    /// Whether it is a slab, which could be punched through.
    pub slab: bool,
    /// Punching resistance, if somebody states it.
    pub punching_resistance: Option<Force>,
}

/// What rams and stacks stand on.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Foundation {
    /// Concrete, with the ground under it.
    Concrete(ConcreteFoundation, Option<Ground>),
    /// Steelwork with its yield strength; what it carries as a whole is a limit of its own.
    Steelwork(Option<Stress>),
    /// The ground itself, under a mat or layer of this depth if there is one.
    Ground(Option<Ground>, Option<Length>),
}

/// What stands over and under the rams at one point; what is absent is not known.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct PointLine {
    /// The underside of the load.
    pub soffit: Option<Soffit>,
    /// Greatest angle between the load's underside and the ram's head.
    pub soffit_angle: Option<Angle>,
    /// How far the load bears off the ram's axis.
    pub off_centre: Option<Length>,
    /// How far ram and stacks lean from the plumb.
    pub lean: Option<Angle>,
    /// A plate between saddle and load.
    pub head_plate: Option<SteelPlate>,
    /// A plate under the ram.
    pub base_plate: Option<SteelPlate>,
    /// Crossings that carry in each pair of crib layers; all of them if absent.
    pub contacts_loaded: Option<u32>,
    /// The foundation.
    pub foundation: Option<Foundation>,
}

/// Where load-holding valves sit.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum HoldingValve {
    /// On every ram: a burst hose lets nothing down.
    AtEachRam,
    /// Elsewhere, or there are none.
    Elsewhere,
}

/// How rams are brought to their places.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Handling {
    /// By so many persons each.
    ByHand(u32),
    /// By lifting gear or a truck.
    LiftingGear,
}

/// Everything in the line of force; what is absent is not known, and so not checked.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct LineOfForce {
    /// By whose rules timber, plates and concrete are checked.
    pub basis: Option<DesignBasis>,
    /// What stands at each point, in the order of the points.
    pub at_points: Vec<PointLine>,
    /// What holds the load sideways.
    pub restraint: Option<Restraint>,
    /// Where load-holding valves sit.
    pub holding_valve: Option<HoldingValve>,
    /// By how much oil warms up while it is shut in, in K.
    pub oil_temperature_rise_k: Option<f64>,
    /// Setting of a relief valve between ram and load-holding valve.
    pub thermal_relief: Option<OilPressure>,
    /// The return side of double-acting rams.
    pub return_line: Option<ReturnLine>,
    /// How rams are carried.
    pub handling: Option<Handling>,
}

impl LineOfForce {
    /// Whether something holds the load sideways without any play: then rams and stacks take nothing of the horizontal force.
    pub fn holds_tight(&self) -> bool {
        let tight = |restraint: &Restraint| {
            restraint.kind != RestraintKind::None && restraint.play.is_some_and(|play| play <= Length::ZERO)
        };
        self.restraint.as_ref().is_some_and(tight)
    }

    /// What stands at the point with this index.
    pub fn at(&self, index: usize) -> &PointLine {
        const UNKNOWN: &PointLine = &PointLine {
            soffit: None,
            soffit_angle: None,
            off_centre: None,
            lean: None,
            head_plate: None,
            base_plate: None,
            contacts_loaded: None,
            foundation: None,
        };
        self.at_points.get(index).unwrap_or(UNKNOWN)
    }
}

impl Soffit {
    /// Whether its strength is stated in one number.
    pub(crate) fn states_strength(self) -> bool {
        matches!(self, Self::Steel(Some(_)) | Self::Concrete(Some(_)))
    }

    /// Its surface.
    pub fn surface(self) -> Surface {
        match self {
            Self::Steel(_) => Surface::Steel,
            Self::Concrete(_) => Surface::Concrete,
            Self::Timber(_) => Surface::Timber,
        }
    }
}

impl Foundation {
    /// Its surface.
    pub fn surface(self) -> Surface {
        match self {
            Self::Concrete(..) => Surface::Concrete,
            Self::Steelwork(_) => Surface::Steel,
            Self::Ground(..) => Surface::Ground,
        }
    }
}

impl SteelPlate {
    /// Its face.
    pub fn face(self) -> Face {
        Face::Rectangle(self.length, self.width)
    }
}
