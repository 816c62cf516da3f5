//! The load case: what is moved, where it bears, how far it must go.

use super::centre::Centre;
use super::girder::GirderModel;
use super::phases::PhasePlan;
use super::weighing::Weighed;
use crate::check::Line;
use crate::force::ForceEstimate;
use crate::ram::{BaseFixity, Head, Mounting, Pad};
use ramwright_units::{Angle, Area, Force, GroundPressure, Length, Range, Stiffness};
use serde::{Deserialize, Serialize};
use utoipa::ToSchema;

/// What the rams are to do.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize, ToSchema)]
#[serde(rename_all = "snake_case")]
pub enum Task {
    /// Lift a load; it must be held mechanically.
    Raise,
    /// Push in a machine frame.
    Press,
    /// Pull in a machine frame.
    Pull,
}

/// The horizontal force that acts at the centre of gravity, in any direction, beside wind and slope.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Horizontal {
    /// A share of the weight that wind and slope count towards: the least that is taken.
    AtLeast(f64),
    /// A share of the weight, added to wind and slope.
    ShareOfWeight(f64),
    /// A force, whatever the weight is, added to wind and slope.
    Stated(Force),
}

/// Wind on the load.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Wind {
    /// Pressure on the area, shape included.
    pub pressure: GroundPressure,
    /// The area that the wind meets.
    pub area: Area,
    /// Height of its middle above the plane of the supports.
    pub height: Length,
    /// Where it pushes to, as an angle from x towards y; any direction if unknown.
    pub toward: Option<Angle>,
}

/// The plane of the supports is not level.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Slope {
    /// Angle from the level.
    pub angle: Angle,
    /// Downhill, as an angle from x towards y; any direction if unknown.
    pub toward: Option<Angle>,
}

/// What acts on the load beside its weight.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Actions {
    /// Horizontal force at the centre of gravity.
    pub horizontal: Horizontal,
    /// Wind.
    pub wind: Option<Wind>,
    /// Slope.
    pub slope: Option<Slope>,
    /// Greatest vertical load over the weight when the load is moved (dimensionless, from 1 to below 2); the least falls by
    /// as much.
    pub dynamic_factor: f64,
}

impl Actions {
    /// A horizontal force and nothing else.
    pub const fn only(horizontal: Horizontal) -> Self {
        Self { horizontal, wind: None, slope: None, dynamic_factor: 1.0 }
    }
}

/// By which rule more than three supports share.
#[derive(Clone, Debug, PartialEq)]
pub enum Rule {
    /// Elastic where a level tolerance and the stiffness of every support are known, else the worst equilibrium.
    Automatic,
    /// A rigid load on springs; equal ones where no stiffness is known.
    Elastic,
    /// The worst of all equilibria.
    WorstEquilibrium,
    /// A bending load on springs in one line.
    Girder(GirderModel),
}

/// A load with positions.
#[derive(Clone, Debug, PartialEq)]
pub struct Placed {
    /// Where its centre of gravity is.
    pub centre: Centre,
    /// Position in plan of each point, in the order of the points.
    pub positions: Vec<(Length, Length)>,
    /// How it is shared.
    pub rule: Rule,
    /// Width of the band in which every support's level error lies, if it is held.
    pub level_band: Option<Length>,
    /// What carries in each phase; if none is stated, every ram carries by itself while the load is raised.
    pub phases: Vec<PhasePlan>,
    /// Distance from tipping below which a caution is wanted.
    pub least_tipping_margin: Option<Length>,
}

/// A reaction from somebody's own analysis.
pub type StatedShare = Range<Force>;

/// How the weight comes to the points.
#[derive(Clone, Debug, PartialEq)]
pub enum Sharing {
    /// By the positions of the points and of the centre of gravity.
    Placed(Placed),
    /// Equally: only where no positions were given.
    Equal,
    /// As stated for each point, in the order of the points.
    Stated(Vec<StatedShare>),
}

/// A jacking point.
#[derive(Clone, Debug, PartialEq)]
pub struct JackingPoint {
    /// Its number or name.
    pub id: String,
    /// Height between foundation and load at the start, where the ram goes.
    pub clearance: Option<Length>,
    /// The same where the holding stack goes.
    pub packing_clearance: Option<Length>,
    /// What the point on the load may take.
    pub limit: Option<Force>,
    /// What the foundation under it may take.
    pub foundation_limit: Option<Force>,
    /// The pad that the rams stand on.
    pub pad: Option<Pad>,
    /// How a ram's base is held against turning when it stands on the foundation itself.
    pub base: BaseFixity,
    /// How the ram's head is held sideways.
    pub head: Head,
    /// How the ram is held in a machine frame, if that is stated.
    pub mounting: Option<Mounting>,
    /// Angle between the ram's axis and the plumb, in a machine frame.
    pub from_plumb: Angle,
    /// Stiffness of the support while the rams carry: oil, hose, ram, base stack and ground in series.
    pub stiffness: Option<Stiffness>,
    /// Stiffness of the support while the load is held on packing or on a locked collar.
    pub held_stiffness: Option<Stiffness>,
    /// Known level error of the support, positive if it stands high.
    pub level: Length,
    /// Effective area of the rams at the point together, which decides how linked rams share.
    pub ram_area: Option<Area>,
    /// Where the holding stack bears on the load, if not where the rams do.
    pub packing_at: Option<(Length, Length)>,
    /// What the load may take there.
    pub packing_limit: Option<Force>,
    /// What the foundation under the holding stack may take there.
    pub packing_foundation_limit: Option<Force>,
}

/// What is to be moved.
#[derive(Clone, Debug, PartialEq)]
pub struct LoadCase {
    /// What the rams are to do.
    pub task: Task,
    /// Weight (or, in a frame, force) within its tolerance.
    pub weight: Range<Force>,
    /// How it comes to the points.
    pub sharing: Sharing,
    /// What acts on the load beside its weight.
    pub actions: Actions,
    /// The points in the order of [`super::point_order`].
    pub points: Vec<JackingPoint>,
    /// How far the load must move.
    pub travel: Length,
    /// How weight, centre of gravity and stiffness were come by.
    pub record: Record,
}

/// How weight, centre of gravity and stiffness were come by: what a reader must follow before the shares.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Record {
    /// The lines of it.
    pub lines: Vec<Line>,
    /// The weighing, if there was one.
    pub weighed: Option<Weighed>,
    /// Forces in a machine frame that were estimated.
    pub estimates: Vec<ForceEstimate>,
    /// Whether the place of the centre of gravity is a guess.
    pub guessed_centre: bool,
}

impl LoadCase {
    /// The same load, heavier by a factor.
    #[must_use]
    pub fn heavier(&self, factor: f64) -> Self {
        let scale =
            |range: &Range<Force>| Range::new(range.least * factor, range.expected * factor, range.greatest * factor);
        let sharing = match &self.sharing {
            Sharing::Stated(shares) => Sharing::Stated(shares.iter().map(scale).collect()),
            Sharing::Placed(placed) => Sharing::Placed(placed.heavier(factor)),
            Sharing::Equal => Sharing::Equal,
        };
        Self { weight: scale(&self.weight), sharing, ..self.clone() }
    }

    /// The same load, which may be heavier by a factor and need not be: levels and forces that do not grow with the weight
    /// can bring most to a point while the load is light.
    #[must_use]
    pub fn maybe_heavier(&self, factor: f64) -> Self {
        let heavier = self.heavier(factor);
        Self { weight: Range::new(self.weight.least, heavier.weight.expected, heavier.weight.greatest), ..heavier }
    }

    /// Whether a point's rams share their oil with those of another point in some phase.
    pub fn is_linked(&self, index: usize) -> bool {
        let Sharing::Placed(placed) = &self.sharing else { return false };
        placed.phases.iter().flat_map(|plan| &plan.linked).any(|group| group.contains(&index))
    }

    /// How many rams carry in the phase in which fewest do, of so many at each point; all of them where no phases are stated.
    pub fn fewest_carrying(&self, rams_at: impl Fn(usize) -> u32) -> u32 {
        let count = |carries: &dyn Fn(usize) -> bool| {
            (0..self.points.len())
                .filter(|index| carries(*index))
                .fold(0, |sum: u32, index| sum.saturating_add(rams_at(index)))
        };
        let phases = match &self.sharing {
            Sharing::Placed(placed) => placed.phases.as_slice(),
            Sharing::Equal | Sharing::Stated(_) => &[],
        };
        let on_rams = phases.iter().map(|plan| count(&|index| plan.on_rams(index)));
        // In a phase on stacks alone no ram takes anything.
        on_rams.filter(|rams| 0 < *rams).min().unwrap_or_else(|| count(&|_| true))
    }
}

impl Placed {
    /// Half the band in which levels lie, in m; nothing where none is held.
    pub(super) fn half_band_m(&self) -> f64 {
        self.level_band.map_or(0.0, |band| band.m() / 2.0)
    }

    fn heavier(&self, factor: f64) -> Self {
        let rule = match &self.rule {
            Rule::Girder(girder) => Rule::Girder(girder.heavier(factor)),
            other => other.clone(),
        };
        Self { rule, ..self.clone() }
    }
}
