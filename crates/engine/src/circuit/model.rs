//! What is found about a circuit.

use super::advice::CircuitAdvice;
use super::bill::BillRow;
use super::retract::Retraction;
use crate::check::{Check, Line};
use crate::remark::Caution;
use crate::text::Text;
use ramwright_units::{
    Flow, HoseLength, KinematicViscosity, Length, OilPressure, OilVolume, Power, Range, Temperature, Time,
};
use serde::{Deserialize, Serialize};
use utoipa::ToSchema;

/// A range of pressures, under a name without parameters, which the schema of a field needs.
pub type PressureRange = Range<OilPressure>;

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

/// The kind of flow in a hose, by its Reynolds number.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize, ToSchema)]
#[serde(rename_all = "snake_case")]
pub enum FlowRegion {
    /// Below 2000: the loss grows as the flow does.
    Laminar,
    /// From 2000 to 4000, where no formula is reliable.
    Transition,
    /// Above 4000.
    Turbulent,
}

impl FlowRegion {
    /// The region of a Reynolds number; the limits are those of any textbook of fluid mechanics.
    pub(super) fn of(reynolds: f64) -> Self {
        if reynolds < 2000.0 {
            Self::Laminar
        } else if reynolds <= 4000.0 {
            Self::Transition
        } else {
            Self::Turbulent
        }
    }
}

/// The law by which friction in a hose is computed.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize, ToSchema)]
#[serde(rename_all = "snake_case")]
pub enum FrictionLaw {
    /// Churchill 1977 for every kind of flow, a smooth bore.
    #[serde(rename = "churchill_1977")]
    Churchill1977,
}

/// The run of hoses to one ram, under load.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize, ToSchema)]
pub struct HoseRun {
    /// Temperature of the oil.
    pub temperature: Temperature,
    /// Length of the whole run.
    pub length: HoseLength,
    /// Flow through it.
    pub flow: Flow,
    /// Viscosity of the oil at its temperature.
    pub viscosity: KinematicViscosity,
    /// Reynolds number of the flow.
    pub reynolds: f64,
    /// The kind of flow.
    pub region: FlowRegion,
    /// By which law the friction is computed.
    pub friction_law: FrictionLaw,
    /// Pressure lost by friction along the hoses.
    pub friction_loss: OilPressure,
    /// Pressure lost in couplers, valves and bends.
    pub fittings_loss: OilPressure,
    /// Pressure lost in the whole run.
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

/// Strokes of a hand pump in the greatest raise, of each pump if there are several.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, ToSchema)]
pub struct PumpStrokes {
    /// Before contact.
    pub approach: f64,
    /// Under load.
    pub under_load: f64,
    /// Both together, the last one whole.
    pub total: f64,
    /// The calculation, line by line.
    pub lines: Vec<Line>,
}

/// One packing lift: how far, and how long pumps and hoses take for it.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, ToSchema)]
pub struct CycleTimes {
    /// Which, from 1.
    pub cycle: u32,
    /// What each ram extends.
    pub extension: Length,
    /// Oil that all rams take in.
    pub oil: OilVolume,
    /// Time to raise, without pauses.
    pub raise: Time,
    /// Time to retract afterwards; absent where it is not known or the rams do not retract by themselves.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub retract: Option<Time>,
}

/// The packing lifts of a sequence, and their sums.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, ToSchema)]
pub struct SequenceTimes {
    /// One after the other.
    pub cycles: Vec<CycleTimes>,
    /// Oil that goes through the pumps in all of them; it comes back whenever the rams retract.
    pub oil: OilVolume,
    /// Time to raise, all of them.
    pub raise: Time,
    /// Time to retract, all of them; absent where one is not known.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub retract: Option<Time>,
}

/// Oil of the greatest raise, and where it goes.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, ToSchema)]
pub struct OilBudget {
    /// Taken in by the rams.
    pub rams: OilVolume,
    /// Because oil in rams and hoses gives way under pressure.
    pub compression: OilVolume,
    /// Because hoses swell; absent where the hose does not state it, and then not included.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub swelling: Option<OilVolume>,
    /// All together.
    pub needed: OilVolume,
    /// What flows back into the reservoir when the rams retract, less what a double-acting ram takes in meanwhile.
    pub returns: OilVolume,
    /// What is not included.
    pub not_included: Text,
}

/// The pressure that a valve at a point must take so that all points rise together.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, ToSchema)]
pub struct Throttle {
    /// The point.
    pub point: String,
    /// The pressure, at the expected shares.
    pub pressure: OilPressure,
}

/// Points whose pressures differ.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, ToSchema)]
pub struct UnequalPressures {
    /// The point that would rise first on one open manifold.
    pub first: String,
    /// The point that needs most pressure, and would rise last.
    pub heaviest: String,
    /// Between the two.
    pub difference: OilPressure,
    /// What a valve must take at each lighter point.
    pub throttles: Vec<Throttle>,
}

/// Where the relief valve of the pumps may be set.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize, ToSchema)]
pub struct ReliefWindow {
    /// Lowest setting: the greatest stop pressure with the losses, so that it does not open before the crew stops.
    pub from: OilPressure,
    /// Highest setting: the least rated pressure of pump, hose and ram.
    pub to: OilPressure,
    /// The setting to choose: the lowest in whole 5 bar, and never above the highest.
    pub recommended: OilPressure,
}

/// What warming does to oil that is shut in.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, ToSchema)]
pub struct ShutInOil {
    /// Pressure gained when it warms by 10 K.
    pub gain_per_10_k: OilPressure,
    /// The rise of temperature at which the greatest pressure of the rams becomes the least rated pressure, in K.
    pub rise_to_rating_k: f64,
    /// The calculation, line by line.
    pub lines: Vec<Line>,
}

/// The circuit at one temperature of its oil.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, ToSchema)]
pub struct AtTemperature {
    /// The temperature.
    pub temperature: Temperature,
    /// Greatest pressure at the pump; absent where the losses are not known.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub pump_pressure: Option<OilPressure>,
    /// Time to retract from the greatest extension; absent where it is not known, or they do not retract by themselves.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub retract: Option<Time>,
}

/// What is found about a circuit.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, ToSchema)]
pub struct CircuitAssessment {
    /// Pressures, in the order of the points.
    pub points: Vec<PointPressure>,
    /// The points in the order in which they lift on one open manifold: lowest expected pressure first.
    pub lift_order: Vec<String>,
    /// Where pressures differ: which point rises first, and what valves must take.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub unequal_pressures: Option<UnequalPressures>,
    /// The circuit at each temperature that counts; the worse counts below.
    pub at_temperatures: Vec<AtTemperature>,
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
    /// Power that the motor of one pump needs for that, with the efficiency of the pump.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub motor_power: Option<Power>,
    /// Where the relief valve of the pumps may be set; absent without a window, or where the losses are not known.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub relief_window: Option<ReliefWindow>,
    /// What warming does to oil that is shut in.
    pub shut_in_oil: ShutInOil,
    /// Oil that all rams take in the greatest raise.
    pub oil_per_raise: OilVolume,
    /// Where the oil of the greatest raise goes.
    pub oil: OilBudget,
    /// Oil that may be drawn from all pumps.
    pub usable_oil: OilVolume,
    /// How long the raise takes.
    pub times: RaiseTimes,
    /// How the rams retract from the greatest extension.
    pub retract: Retraction,
    /// The packing lifts of the sequence, if there is one.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub sequence_times: Option<SequenceTimes>,
    /// Strokes of a hand pump, where the oil of one stroke is stated.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub pump_strokes: Option<PumpStrokes>,
    /// What would be quicker or better, in numbers.
    pub advice: Vec<CircuitAdvice>,
    /// What is needed beside the rams.
    pub bill: Vec<BillRow>,
    /// The checks: pump pressure for pump, hose and ram, relief setting, oil volume, oil return, level control, pumps and hoses in the yard.
    pub checks: Vec<Check>,
    /// What a reader must know.
    pub cautions: Vec<Caution>,
}
