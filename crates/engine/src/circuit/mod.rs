//! The oil: pressures, volumes, hoses and times.

mod assess;
mod bill;
mod kernel;
mod losses;
mod model;
mod pressure;
mod rating;
mod supply;
#[cfg(test)]
mod tests;

pub use assess::assess_circuit;
pub use bill::{BillItem, BillRow};
pub use model::{
    CircuitAssessment, CircuitInput, HoseRun, Oil, Part, PointLoad, PointPressure, PressureRange, RaiseTimes, Stage,
    StageFlow,
};
