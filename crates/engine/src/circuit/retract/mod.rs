//! How the rams come back, and how long that takes through the hoses.

mod driven;
mod load;
mod spring;

use super::input::CircuitInput;
use super::losses::Unknown;
use super::model::FlowRegion;
use crate::check::{Line, Lines};
use crate::load::Task;
use crate::ram::Action;
use crate::remark::Caution;
use crate::text::Text;
use ramwright_units::{Flow, Length, OilPressure, Temperature, Time};
use serde::{Deserialize, Serialize};
use utoipa::ToSchema;

pub(super) use driven::ASSUMED_ANNULUS;

/// What drives the oil back.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize, ToSchema)]
#[serde(rename_all = "snake_case")]
pub enum ReturnBy {
    /// The load, while it is on the rams.
    Load,
    /// A spring in each ram, and the weight of its plunger.
    Spring,
    /// The pumps, on the other side of the piston.
    Pump,
}

/// Whether the rams come back.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize, ToSchema)]
#[serde(rename_all = "snake_case")]
pub enum RetractOutcome {
    /// They retract, in the time given.
    Retracts,
    /// They come down under the load in the time given, and not at all once it stands on packing.
    UnderLoadOnly,
    /// What drives them back is too weak: they stand still before they are closed.
    NeverFully,
    /// Nothing drives them back.
    NotByThemselves,
    /// Not known; `missing` says which input is.
    Unknown,
}

/// How the rams retract, all at once, each through its own run of hoses.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, ToSchema)]
pub struct Retraction {
    /// What drives the oil.
    pub by: ReturnBy,
    /// Whether they come back.
    pub outcome: RetractOutcome,
    /// The same in words.
    pub text: Text,
    /// From which extension; of a ram that pulls, by how much it goes out again.
    pub from: Length,
    /// Temperature of the oil.
    pub temperature: Temperature,
    /// How long it takes; absent where they do not come back, or it is not known.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub time: Option<Time>,
    /// The extension at which they are slowest.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub slowest_at: Option<Length>,
    /// The extension at which they stand still, where they do not come back fully.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub stands_still_at: Option<Length>,
    /// Flow out of one ram where it is greatest.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub greatest_flow: Option<Flow>,
    /// Flow out of one ram where it is least.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub least_flow: Option<Flow>,
    /// The kind of flow where it is greatest.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub region: Option<FlowRegion>,
    /// By which part the integral over the extension is uncertain; the time is longer by that.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub integration_error: Option<f64>,
    /// Inputs that would be needed, where it is not known.
    pub missing: Vec<Text>,
    /// The calculation, line by line.
    pub lines: Vec<Line>,
}

impl Retraction {
    /// One of which only the outcome is known.
    fn without_time(input: &CircuitInput, from: Length, by: ReturnBy, outcome: RetractOutcome, text: Text) -> Self {
        Self {
            by,
            outcome,
            text,
            from,
            temperature: input.oil.temperature,
            time: None,
            slowest_at: None,
            stands_still_at: None,
            greatest_flow: None,
            least_flow: None,
            region: None,
            integration_error: None,
            missing: Vec::new(),
            lines: Vec::new(),
        }
    }

    fn unknown(input: &CircuitInput, from: Length, by: ReturnBy, unknown: &Unknown, lines: Lines) -> Self {
        let text = format!("How long the rams take to retract is not known: {}", unknown.reason).into();
        let blank = Self::without_time(input, from, by, RetractOutcome::Unknown, text);
        Self { missing: vec![unknown.missing.clone()], lines: lines.0, ..blank }
    }

    fn missing(input: &CircuitInput, from: Length, by: ReturnBy, missing: &'static str, why: &'static str) -> Self {
        Self::unknown(input, from, by, &Unknown { missing: missing.into(), reason: why.into() }, Lines::default())
    }

    /// A caution where the rams do not come back.
    pub(super) fn caution(&self) -> Option<Caution> {
        (self.outcome == RetractOutcome::NeverFully).then(|| Caution::new("never_fully_retracts", self.text.clone()))
    }

    /// Whether this is worse than another: not known, then not coming back, then the longer.
    fn is_worse_than(&self, other: &Self) -> bool {
        let rank = |one: &Self| match one.outcome {
            RetractOutcome::Retracts | RetractOutcome::UnderLoadOnly => 0,
            RetractOutcome::NotByThemselves => 1,
            RetractOutcome::NeverFully => 2,
            RetractOutcome::Unknown => 3_u8,
        };
        (rank(other), other.time.map_or(0.0, Time::s)) < (rank(self), self.time.map_or(0.0, Time::s))
    }
}

/// How the rams retract from an extension, with the oil as it is in the input.
///
/// # Source
/// Equilibrium of the piston; the flow is the one whose loss in the run is the pressure, and the time the integral of
/// area / flow over the extension.
///
/// # Validity
/// Each ram through its own run of hoses to an open valve at the pump; what valves at the pump and a common manifold
/// lose is not in it unless stated in the coefficients of the fittings. Friction of seals is not known apart: the force of
/// the spring is taken as stated, with that friction taken off. Times are rather long than short.
pub(super) fn retraction(input: &CircuitInput, from: Length) -> Retraction {
    match input.ram.action {
        Action::SingleActingSpringReturn => spring::by_spring(input, from),
        Action::DoubleActing => driven::by_pump(input, from),
        Action::SingleActingLoadReturn if input.task == Task::Raise => load::by_load(input, from),
        Action::SingleActingLoadReturn => Retraction::without_time(
            input,
            from,
            ReturnBy::Load,
            RetractOutcome::NotByThemselves,
            "Nothing pushes load-return rams back in a frame: push them back by hand.".into(),
        ),
    }
}

/// The worst of the temperatures that count.
pub(super) fn worst(retractions: impl IntoIterator<Item = Retraction>) -> Option<Retraction> {
    retractions.into_iter().reduce(|worst, next| if next.is_worse_than(&worst) { next } else { worst })
}

/// Whether a pressure drives oil out; one that is no number does not.
fn drives(pressure: OilPressure) -> bool {
    OilPressure::ZERO < pressure
}

/// A time as people say it: seconds, minutes and seconds up to 100 minutes, then hours, always rounded up.
pub(super) fn said(time: Time) -> String {
    let seconds = time.s().ceil();
    if seconds < 60.0 {
        format!("{seconds:.0} s")
    } else if seconds < 6_000.0 {
        format!("{:.0} min {:.0} s", (seconds / 60.0).floor(), seconds % 60.0)
    } else {
        format!("{:.1} h", (seconds / 360.0).ceil() / 10.0)
    }
}
