//! What the circuit is made of, and what is found about it.

use super::bill::BillRow;
use crate::catalogue::{Hose, Pump};
use crate::check::{Check, Line};
use crate::ram::Ram;
use crate::remark::Caution;
use ramwright_units::{
    Area, Flow, Force, HoseLength, KinematicViscosity, Length, OilPressure, OilVolume, Power, Range, Temperature, Time,
};
use serde::{Deserialize, Serialize};
use utoipa::ToSchema;

/// A range of pressures, under a name without parameters, which the schema of a field needs.
pub type PressureRange = Range<OilPressure>;

/// What the rams of one jacking point carry.
#[derive(Clone, Debug, PartialEq)]
pub struct PointLoad {
    /// The point's id.
    pub point: String,
    /// How many rams stand side by side there; at least one.
    pub rams: u32,
    /// What they carry together.
    pub share: Range<Force>,
}

/// The oil as it is when the load is raised.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Oil {
    /// Kinematic viscosity at 40 degrees Celsius.
    pub viscosity_40: KinematicViscosity,
    /// Kinematic viscosity at 100 degrees Celsius.
    pub viscosity_100: KinematicViscosity,
    /// Its temperature.
    pub temperature: Temperature,
    /// Density, in kg/m3.
    pub density_kg_per_m3: f64,
}

/// A circuit: rams of one model at all points, pumps of one model, one run of equal hoses to each ram.
#[derive(Clone, Debug, PartialEq)]
pub struct CircuitInput {
    /// The model of ram at every point.
    pub ram: Ram,
    /// The area on which the oil works: the full bore when pushing, the annulus when pulling.
    pub working_area: Area,
    /// The points, sorted by the caller; sums follow this order.
    pub points: Vec<PointLoad>,
    /// What each ram extends in the greatest raise, the approach included.
    pub extension: Length,
    /// The part of it before contact; not more than `extension`.
    pub approach: Length,
    /// The model of pump.
    pub pump: Pump,
    /// The model of hose, if stated.
    pub hose: Option<Hose>,
    /// How many hoses are joined end to end in the run to a ram.
    pub hose_count_in_series: u32,
    /// The oil.
    pub oil: Oil,
    /// How many pumps feed the rams together; at least one.
    pub pumps: u32,
}

impl CircuitInput {
    /// Number of rams at all points; a plain number, so that no sum overflows.
    pub(super) fn rams(&self) -> f64 {
        self.points.iter().map(|point| f64::from(point.rams)).sum()
    }

    /// Area of one ram on which the oil works.
    pub(super) fn area(&self) -> Area {
        self.working_area
    }
}

/// A part of the circuit that has a rated pressure.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize, ToSchema)]
#[serde(rename_all = "snake_case")]
pub enum Part {
    /// The rams.
    Ram,
    /// The pumps.
    Pump,
    /// The hoses.
    Hose,
}

impl Part {
    /// Its name as the subject of a check.
    pub(super) fn name(self) -> &'static str {
        match self {
            Self::Ram => "ram",
            Self::Pump => "pump",
            Self::Hose => "hose",
        }
    }
}

/// Oil pressure in the rams of one point, hose losses not included.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, ToSchema)]
pub struct PointPressure {
    /// The point's id.
    pub point: String,
    /// How many rams stand there.
    pub rams: u32,
    /// Pressure in each of them.
    pub pressure: PressureRange,
    /// Pressure at the rams at which the crew stops and looks for the reason.
    pub stop_pressure: OilPressure,
    /// The part whose rated pressure holds the stop pressure down, if one does.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub stop_pressure_limited_by: Option<Part>,
    /// The calculation, line by line.
    pub lines: Vec<Line>,
}

/// Which stage of a pump delivers.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize, ToSchema)]
#[serde(rename_all = "snake_case")]
pub enum Stage {
    /// The fast stage of a pump with two stages, below its change-over pressure.
    Fast,
    /// The slow stage, and the only one of a pump with a single stage.
    Slow,
}

/// A stage with its flow.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize, ToSchema)]
pub struct StageFlow {
    /// Which stage delivers.
    pub stage: Stage,
    /// Flow of all pumps together.
    pub flow: Flow,
}

/// The run of hoses to one ram, under load.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize, ToSchema)]
pub struct HoseRun {
    /// Length of the whole run.
    pub length: HoseLength,
    /// Flow through it.
    pub flow: Flow,
    /// Viscosity of the oil at its temperature.
    pub viscosity: KinematicViscosity,
    /// Reynolds number of the flow.
    pub reynolds: f64,
    /// Pressure loss by friction along the run.
    pub loss: OilPressure,
}

/// How long the greatest raise takes, without pauses.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, ToSchema)]
pub struct RaiseTimes {
    /// What delivers before contact.
    pub approach_flow: StageFlow,
    /// What delivers under load.
    pub load_flow: StageFlow,
    /// Time before contact.
    pub approach: Time,
    /// Time under load.
    pub under_load: Time,
    /// Both together.
    pub total: Time,
    /// The calculation, line by line.
    pub lines: Vec<Line>,
}

/// What is found about a circuit.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, ToSchema)]
pub struct CircuitAssessment {
    /// Pressures, in the order of the points.
    pub points: Vec<PointPressure>,
    /// The points in the order in which they lift on one open manifold: lowest expected pressure first.
    pub lift_order: Vec<String>,
    /// The run of hoses under load; absent where its loss is not known.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub hose_run: Option<HoseRun>,
    /// Greatest pressure at the pump with the hose losses; absent where these are not known.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub pump_pressure: Option<OilPressure>,
    /// Mechanical power that one pump delivers to the oil at that pressure, without the pump's own losses.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub mechanical_power: Option<Power>,
    /// Oil that all rams take in the greatest raise.
    pub oil_per_raise: OilVolume,
    /// Oil that may be drawn from all pumps.
    pub usable_oil: OilVolume,
    /// How long the raise takes.
    pub times: RaiseTimes,
    /// What is needed beside rams and pumps.
    pub bill: Vec<BillRow>,
    /// The checks: pump pressure for pump, hose and ram, then oil volume.
    pub checks: Vec<Check>,
    /// What a reader must know.
    pub cautions: Vec<Caution>,
}
