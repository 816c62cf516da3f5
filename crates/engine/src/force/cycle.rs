//! Speeds and times of one cycle in a machine frame: out to the work, the work itself, and back.

use super::error::ForceError;
use super::range::positive;
use crate::check::{Ledger, Line, Lines, Source, Standing};
use crate::line;
use ramwright_units::{Area, Flow, Length, OilVolume, Speed, Time};
use serde::{Deserialize, Serialize};
use utoipa::ToSchema;

/// One movement of every ram.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Stroke {
    /// Area of one ram that the oil works on.
    pub area: Area,
    /// Flow to all rams together.
    pub flow: Flow,
    /// How far each ram moves; zero where it does not.
    pub length: Length,
}

/// Speed, oil and time of one movement.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize, ToSchema)]
pub struct StrokeTime {
    /// How fast each ram moves.
    pub speed: Speed,
    /// Oil that all rams take.
    pub oil: OilVolume,
    /// How long it takes.
    pub time: Time,
}

/// Speeds and times of one cycle, without pauses and handling.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, ToSchema)]
pub struct FrameCycle {
    /// Out to the work.
    pub approach: StrokeTime,
    /// The work.
    pub work: StrokeTime,
    /// Back; absent where it is not oil of the pumps that drives it.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub back: Option<StrokeTime>,
    /// All of it; absent where the time back is not known.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub total: Option<Time>,
    /// The calculation, line by line.
    pub lines: Vec<Line>,
}

/// Speeds and times of a cycle: `v = Q / (n A)`, `t = s / v`, added up.
///
/// A double-acting ram is driven both ways; what a spring or nothing but the work drives back takes a time that is not known
/// here, and then the cycle has none.
///
/// # Source
/// Definition: flow over area is speed.
///
/// # Validity
/// The flow of each stage as stated, divided equally over all rams; no losses, no pauses, no handling. The oil that leaves the
/// other side of a piston is not looked at.
///
/// # Errors
/// [`ForceError`]: no ram, no area, no flow, or a length below zero.
pub fn cycle_times(rams: u32, approach: Stroke, work: Stroke, back: Option<Stroke>) -> Result<FrameCycle, ForceError> {
    let mut lines = Lines::default();
    let book = &mut lines;
    let approach = stroke_time(book, rams, &approach, "approach")?;
    let work = stroke_time(book, rams, &work, "work")?;
    let back = back.map(|back| stroke_time(book, rams, &back, "back")).transpose()?;
    let total = back.map(|back| {
        line!(book, t: Time = t_a + t_w + t_b; t_a = approach.time, t_w = work.time, t_b = back.time; Source::definition("out, work and back, without pauses"))
    });
    if total.is_some_and(|total| !total.s().is_finite()) {
        return Err(ForceError::NotComputable);
    }
    Ok(FrameCycle { approach, work, back, total, lines: lines.0 })
}

fn stroke_time(
    book: &mut impl Ledger,
    rams: u32,
    stroke: &Stroke,
    which: &'static str,
) -> Result<StrokeTime, ForceError> {
    if rams == 0 {
        return Err(ForceError::NotPositive { what: "the number of rams" });
    }
    positive(stroke.area, "an area of the ram")?;
    positive(stroke.flow, "a flow")?;
    let known = Length::ZERO <= stroke.length;
    if !known {
        return Err(ForceError::NotPositive { what: "a stroke" });
    }
    let source = |text: &str| super::range::at(which, text, Standing::Definition);
    let rams = f64::from(rams);
    let speed = line!(book, v: Speed = Q / (n * A); Q = stroke.flow, n = rams, A = stroke.area; source("speed = flow / area of all rams"));
    let oil = line!(book, V: OilVolume = n * A * s; n = rams, A = stroke.area, s = stroke.length; source("oil = area of all rams x stroke"));
    let time = line!(book, t: Time = s / v; s = stroke.length, v = speed; source("time = stroke / speed"));
    if speed.m_per_s().is_finite() && oil.m3().is_finite() && time.s().is_finite() {
        Ok(StrokeTime { speed, oil, time })
    } else {
        Err(ForceError::NotComputable)
    }
}
