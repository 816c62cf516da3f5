//! The choices that a request may make about limits, gaps and methods.

use ramwright_units::{Flow, Length, Time};

/// Limits, gaps and methods for one calculation. There is no `Default`: `api` fills it and lists what it assumed.
#[derive(Clone, Debug, PartialEq)]
pub struct Settings {
    /// Part of the capacity that may be used.
    pub capacity_limit: f64,
    /// Part of the stroke that may be used.
    pub stroke_limit: StrokeLimit,
    /// Total thickness of head plate and base plate.
    pub plates: Length,
    /// Gap needed to slide a ram in.
    pub entry_gap: Length,
    /// Gap needed to slide a packing piece in.
    pub packing_gap: Length,
    /// Greatest gap between the load and its next mechanical support.
    pub follow_up_gap: Length,
    /// By how much the final height may exceed the wanted one.
    pub over_jack_allowance: Length,
    /// By how much points that go up together may differ in height from what is planned.
    pub level_tolerance: Length,
    /// How long the work takes.
    pub handling: Handling,
    /// Clear distance between rams side by side.
    pub side_by_side_spacing: Length,
    /// Factor on the elastic critical load.
    pub stability_factor: f64,
    /// By which factor the load is heavier in the scenario `load_heavier`.
    pub heavier_factor: f64,
    /// Whether the lift may be done in packing lifts.
    pub packing_lifts: PackingLifts,
    /// Greatest number of rams side by side that `size` tries.
    pub rams_per_point: u32,
}

/// How long the work takes, for an estimate.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Handling {
    /// To place or take out one piece.
    pub per_piece: Time,
    /// To set a ram, or to move it over.
    pub per_ram: Time,
    /// For the prove lift: preload, hold, readings.
    pub prove_lift: Time,
    /// At each hold point, until the next step is released.
    pub per_hold_point: Time,
    /// Crews that work at the same time.
    pub crews: u32,
    /// Flow of all pumps together under load, if known.
    pub flow: Option<Flow>,
}

/// The part of the stroke that may be used.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum StrokeLimit {
    /// A share of the stroke.
    Share(f64),
    /// The whole stroke, in a confined clearance: a caution, never a plain pass.
    Waived,
}

impl StrokeLimit {
    /// The usable part of a stroke.
    pub fn usable(self, stroke: Length) -> Length {
        match self {
            Self::Share(share) => stroke * share,
            Self::Waived => stroke,
        }
    }
}

/// Whether a lift may be done in more than one stroke.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum PackingLifts {
    /// As many packing lifts as are needed.
    Allowed,
    /// One stroke must do.
    NotAllowed,
}
