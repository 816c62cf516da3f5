//! What a circuit is made of.

use crate::catalogue::{Hose, Pump};
use crate::load::Task;
use crate::ram::Ram;
use ramwright_units::{Area, Force, KinematicViscosity, Length, OilPressure, Range, Temperature};

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
    /// The coldest that it may be, if it is not always at that temperature; the worse of both counts.
    pub coldest: Option<Temperature>,
    /// Density, in kg/m3.
    pub density_kg_per_m3: f64,
    /// Bulk modulus, if stated; where it is not, the least is taken for volumes and the greatest for shut-in oil.
    pub bulk_modulus: Option<OilPressure>,
}

/// How the flow is divided over the points.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum FlowDivision {
    /// One open manifold: oil goes where the least pressure is.
    Manifold,
    /// A pump or divider that gives every point the same flow.
    SplitFlow {
        /// How far the flow of a point may be off the mean, as a part of it.
        error: f64,
        /// The rise after which all points are levelled again; without it they are not, within a raise.
        levelled_every: Option<Length>,
    },
    /// A valve for each point, worked by people or by a control that reads each stroke.
    ValvePerPoint {
        /// Within which height difference they hold the points.
        held_within: Option<Length>,
    },
}

/// One raise of a sequence.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Lift {
    /// What each ram extends, the approach included.
    pub extension: Length,
    /// The part of it before contact; not more than `extension`.
    pub approach: Length,
}

/// What else is known of a circuit beside its parts.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct CircuitConditions {
    /// Sum of the loss coefficients of couplers, valves and bends in the run to one ram, if stated.
    pub fittings_k: Option<f64>,
    /// Pressure against which oil flows back: that of the tank, and of the height of the pump over the ram.
    pub back_pressure: OilPressure,
    /// How the flow is divided over the points, if stated.
    pub flow_division: Option<FlowDivision>,
    /// Power given to the oil over power taken from the motor.
    pub pump_efficiency: f64,
}

/// A circuit: rams of one model at all points, pumps of one model, one run of equal hoses to each ram.
#[derive(Clone, Debug, PartialEq)]
pub struct CircuitInput {
    /// What is to be done.
    pub task: Task,
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
    /// The raises of the sequence in their order, if there is one.
    pub lifts: Vec<Lift>,
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
    /// Greatest height difference between any two points.
    pub level_tolerance: Length,
    /// What else is known.
    pub conditions: CircuitConditions,
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

    /// Area of one ram that the oil fills on its way to the work: the full bore, also of a ram that goes out before it pulls.
    pub(super) fn approach_area(&self) -> Area {
        self.ram.effective_area
    }

    /// How far each ram goes back after its work: in from its extension, or out again by what it has pulled.
    pub(super) fn way_back(&self) -> Length {
        match self.task {
            Task::Raise | Task::Press => self.extension,
            Task::Pull => self.extension - self.approach,
        }
    }

    /// The circuit with its oil at each temperature that counts: as stated, and the coldest.
    pub(super) fn at_each_temperature(&self) -> Vec<Self> {
        let at = |temperature| Self { oil: Oil { temperature, ..self.oil }, ..self.clone() };
        std::iter::once(self.oil.temperature).chain(self.oil.coldest).map(at).collect()
    }

    /// The least rated pressure of pump, hose and ram.
    pub(super) fn least_rating(&self) -> OilPressure {
        let hose = self.hose.as_ref().map_or(self.ram.rated_pressure, |hose| hose.rated_pressure);
        self.ram.rated_pressure.min(self.pump.rated_pressure).min(hose)
    }
}
