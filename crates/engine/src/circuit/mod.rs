//! The oil: pressures, volumes, hoses and times.

mod advice;
mod assess;
mod bill;
mod input;
pub(crate) mod kernel;
mod level;
mod losses;
mod model;
mod pressure;
mod pump;
mod rating;
mod relief;
mod retract;
mod stock;
mod supply;
#[cfg(test)]
mod tests;
mod times;

pub use advice::CircuitAdvice;
pub use assess::assess_circuit;
pub use bill::{BillItem, BillRow};
pub use input::{CircuitConditions, CircuitInput, FlowDivision, Lift, Oil, PointLoad};
pub use model::{
    AtTemperature, CircuitAssessment, CycleTimes, FlowRegion, FrictionLaw, HoseRun, OilBudget, Part, PointPressure,
    PressureRange, PumpStrokes, RaiseTimes, ReliefWindow, SequenceTimes, ShutInOil, Stage, StageFlow, Throttle,
    UnequalPressures,
};
pub use retract::{RetractOutcome, Retraction, ReturnBy};
pub(crate) use stock::{hoses_needed, stock_checks};
