//! The names of checks, scenarios and phases, and what each check rests on.

use super::Source;
use serde::{Deserialize, Serialize};
use utoipa::ToSchema;

/// The name of a check. More may appear.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize, ToSchema)]
#[serde(rename_all = "snake_case")]
pub enum CheckId {
    /// The centre of gravity stays inside the supports.
    Tipping,
    /// The horizontal force was taken into account.
    HorizontalForce,
    /// Level differences between the points were taken into account.
    LevelErrors,
    /// Weight and centre of gravity have a tolerance.
    Tolerances,
    /// Every support keeps its load within all tolerances.
    Contact,
    /// What carries is known for every phase in which it differs.
    Phases,
    /// Weighed reactions agree with the drawing.
    Weighing,
    /// Limits, gaps and factors are no weaker than the defaults.
    Settings,
    /// Share against effective area x rated pressure.
    Capacity,
    /// Closed height, plates and entry gap in the clearance.
    ClosedHeight,
    /// Extension needed against usable stroke.
    Stroke,
    /// Rams side by side on the pad.
    Footprint,
    /// Rams needed against rams in the yard.
    Stock,
    /// Elastic stability of the extended ram.
    Stability,
    /// Horizontal force on the ram against its side load limit.
    SideLoad,
    /// Share and stop pressure against the jacking point's own limit.
    JackingPointLimit,
    /// Share against what the foundation may carry.
    FoundationLimit,
    /// The ram can do what is asked: push or pull.
    Action,
    /// What holds the load mechanically.
    Holding,
    /// What happens if a ram loses its oil.
    RamLost,
    /// Pressure at the pump against every part's rating.
    PumpPressure,
    /// Oil needed against usable oil.
    OilVolume,
}

/// The case in which a check is made.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize, ToSchema)]
#[serde(rename_all = "snake_case")]
pub enum Scenario {
    /// Everything as stated, with its tolerances.
    AsPlanned,
    /// The load is heavier than stated.
    LoadHeavier,
    /// One ram loses its oil.
    OneRamLost,
}

/// The phase of the lift in which a check is made.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize, ToSchema)]
#[serde(rename_all = "snake_case")]
pub enum Phase {
    /// The rams are being set up.
    SettingUp,
    /// The rams move the load.
    Raising,
    /// The rams stand still, with valves in another state than while they move.
    Pause,
    /// The load stands on collars or packing.
    Holding,
    /// The rams let the load down.
    Lowering,
}

impl CheckId {
    /// The rule in words and its source.
    pub fn basis(self) -> Source {
        match self {
            Self::Tipping => Source::definition(
                "statics: the centre of gravity, with its tolerance and the horizontal force's moment, stays inside the polygon of supports",
            ),
            Self::HorizontalForce => Source::from_memory(
                "a horizontal force of at least 2.5 % of the weight at the centre of gravity (falsework practice)",
            ),
            Self::LevelErrors => Source::definition(
                "more than three independent supports share by their levels; without a level tolerance only the worst equilibrium is safe",
            ),
            Self::Tolerances => Source::common_practice("no weight and no centre of gravity is known exactly"),
            Self::Contact => Source::definition(
                "a support pushes or carries nothing: one that loses its load within the tolerances leaves it to the others, and a load-return ram there does not follow",
            ),
            Self::Phases => Source::definition(
                "valves, collars and stacks decide in each phase which supports are independent, and so how they share",
            ),
            Self::Weighing => Source::definition(
                "weighed weight and centre of gravity, within the error of the gauges, meet those of the drawing within their tolerance",
            ),
            Self::Settings => Source::common_practice(
                "a limit, gap or factor on the weak side of its default needs a reason of its own",
            ),
            Self::Capacity => Source::common_practice(
                "greatest share <= capacity limit x effective area x rated pressure (limit 0.80 is common practice, no source)",
            ),
            Self::ClosedHeight => Source::definition("closed height + plates + entry gap <= clearance"),
            Self::Stroke => Source::common_practice(
                "extension needed <= stroke limit x stroke (limit 0.80 is common practice, no source)",
            ),
            Self::Footprint => Source::definition("ram bases with their spacing fit the pad"),
            Self::Stock => Source::stated("rams needed <= rams in the catalogue"),
            Self::Stability => Source::published(
                "elastic critical load of a two-section column (Timoshenko and Gere, Theory of Elastic Stability, bars with changes in cross-section); factor on it from memory",
            ),
            Self::SideLoad => Source::stated(
                "horizontal force shared equally by the rams <= the ram's own side load limit; tilt of saddle or base is not included",
            ),
            Self::JackingPointLimit => {
                Source::stated("greatest share, and stop pressure x area, <= the limit stated for the jacking point")
            }
            Self::FoundationLimit => Source::stated(
                "greatest share, and stop pressure x area, <= the limit stated for the foundation under the point",
            ),
            Self::Action => Source::definition("a ram pushes on its full bore and pulls on its annulus"),
            Self::Holding => Source::published(
                "29 CFR 1926.305(d)(1)(i): a raised load is cribbed, blocked or otherwise secured at once; oil alone holds nothing",
            ),
            Self::RamLost => Source::common_practice(
                "the rest carry the load within their capacity, or a mechanical support catches it within the follow-up gap",
            ),
            Self::PumpPressure => {
                Source::definition("pressure at the rams + losses <= rated pressure of pump, hose and ram")
            }
            Self::OilVolume => Source::definition("sum of effective area x extension <= usable oil"),
        }
    }

    /// Whether its utilisation says how hard something is worked; a full yard, a snug fit or a stroke used to its limit does not.
    pub fn measures_load(self) -> bool {
        !matches!(self, Self::Stock | Self::ClosedHeight | Self::Footprint | Self::Stroke)
    }

    /// Whether a verdict cannot be better than `not_checked` without this check; without the others it is at best `caution`.
    pub fn essential(self) -> bool {
        !matches!(self, Self::Stock | Self::RamLost)
    }
}
