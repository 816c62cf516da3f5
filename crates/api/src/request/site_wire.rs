//! What the crew read on site, as it is sent.

use crate::read::List;
use crate::sent::{GaugeClass, HeightRead, Name, Pressure, PressureOrZero, StepNumber};
use crate::wire_struct;

/// The greatest number of readings: one for each point and step.
pub const MOST_SITE_READINGS: usize = 4096;
/// All readings.
pub type SiteReadingList = List<SiteReadingSent, 1, MOST_SITE_READINGS>;

wire_struct! {
    /// What was read at one point after one step, with the load at rest; at least one value.
    SiteReadingSent {
        /// Number of the step in the sequence that the same request gives.
        step: StepNumber,
        /// The point's id.
        point: Name,
        /// Oil pressure of its rams.
        pressure: Option<PressureOrZero>,
        /// Extension of its rams.
        extension: Option<HeightRead>,
        /// Height of the load's underside over the foundation, where the holding stack stands.
        level: Option<HeightRead>,
    }
}

wire_struct! {
    /// The gauges on site; each value has a default, which the answer lists.
    SiteGaugeSent {
        /// Class of the gauges: their error as a fraction of full scale; 0.016 by default.
        class: Option<GaugeClass>,
        /// Full scale of the gauges; the rated pressure of the rams by default.
        full_scale_pressure: Option<Pressure>,
    }
}
