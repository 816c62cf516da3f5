//! The names of checks, scenarios and phases.

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
    /// Stress at the bore of a hub that is pressed on or pulled off.
    HubBore,
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
    /// Rams, pumps or hoses needed against those in the yard.
    Stock,
    /// Number, mass and hire of the rams against what a search was allowed.
    Budget,
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
    /// What happens if a point gives way.
    PointLost,
    /// Stress in the plunger with all that bends it.
    Stress,
    /// Pressure of the ram's head on the load's underside.
    SoffitBearing,
    /// Bending of the plate between ram and load.
    HeadPlate,
    /// Angle between the load's underside and the ram.
    SaddleAngle,
    /// How far the load bears off the ram's axis.
    SaddleOffCentre,
    /// A lock collar can be backed off at the greatest extension.
    CollarRelease,
    /// Oil that warms up while it is shut in.
    WarmOil,
    /// Pressure on the return side of a double-acting ram.
    ReturnLine,
    /// Mass of a ram that people carry.
    Handling,
    /// Bending of the plate under the ram.
    BasePlate,
    /// The weakest face in a stack.
    StackBearing,
    /// Height of a stack against its width.
    StackHeight,
    /// Pieces that stand out beyond those under them.
    StackOverhang,
    /// A stack that leans.
    StackPlumb,
    /// Loss of height of a stack against what the sequence took.
    Settlement,
    /// Bearing on concrete or steelwork under rams and stacks.
    FoundationBearing,
    /// A slab that could be punched through.
    Punching,
    /// Pressure on the ground.
    GroundPressure,
    /// Friction against sliding.
    Sideways,
    /// What holds the load sideways.
    Restraint,
    /// Pressure at the pump against every part's rating.
    PumpPressure,
    /// Where the relief valve of the pumps may be set.
    ReliefSetting,
    /// Oil needed against usable oil.
    OilVolume,
    /// Oil that comes back against the reservoir.
    OilReturn,
    /// Level difference that the division of the flow lets through, against the level tolerance.
    LevelControl,
    /// What was read on site against what the sequence expects.
    SiteReading,
    /// How far apart the levels that were read on site are.
    SiteLevels,
    /// The weight by the pressures that were read on site.
    SiteWeight,
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
    /// One point gives way.
    OnePointLost,
    /// The levels of the supports lie in twice the band that is held.
    LevelError,
    /// Wind and horizontal force are half as much again.
    HorizontalForce,
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
