//! What the crew read on site, held against the sequence: whether the plan still stands.
//!
//! A reading belongs to the state after a step, with the load at rest. What is outside of what the sequence expects says that
//! the load, its centre of gravity or its supports are not as they were taken, and that nobody may go on before it is known why.
//! Readings enter no search: they are of rams that stand there.

mod outcome;
mod reading;
mod together;

pub(crate) use outcome::judged;
pub use outcome::{SiteOutcome, Stands, StepRead};

use super::raise::Raise;
use super::station::Context;
use crate::check::{Check, CheckId, Finding, Lines, Phase, Place, Scenario};
use crate::packing_lift::{SequenceOutcome, Step, StepAt};
use crate::ram::Ram;
use ramwright_units::{Length, OilPressure};

/// What was read at one point after one step; at least one value.
#[derive(Clone, Debug, PartialEq)]
pub struct SiteReading {
    /// Number of the step in the sequence.
    pub step: u32,
    /// The point's id.
    pub point: String,
    /// Oil pressure of its rams.
    pub pressure: Option<OilPressure>,
    /// Extension of its rams.
    pub extension: Option<Length>,
    /// Height of the load's underside over the foundation.
    pub level: Option<Length>,
}

/// The gauges on site.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct SiteGauge {
    /// Greatest error as a part of full scale.
    pub class: f64,
    /// The greatest that a gauge can read; the rated pressure of the ram where it is not stated.
    pub full_scale: Option<OilPressure>,
}

/// All that was read, each point of a step once.
#[derive(Clone, Debug, PartialEq)]
pub struct SiteReadings {
    /// The readings, in any order.
    pub readings: Vec<SiteReading>,
    /// With what pressures were read.
    pub gauge: SiteGauge,
}

/// A reading with the step and the rams that it belongs to.
#[derive(Clone, Copy)]
struct Placed<'a> {
    reading: &'a SiteReading,
    step: &'a Step,
    at: &'a StepAt,
    ram: &'a Ram,
    rams: u32,
}

/// What can be read at a point.
#[derive(Clone, Copy)]
enum Quantity {
    Pressure,
    Extension,
    Level,
}

impl Quantity {
    const fn words(self) -> &'static str {
        match self {
            Self::Pressure => "pressure",
            Self::Extension => "extension",
            Self::Level => "level",
        }
    }
}

/// The checks of the readings, and what was read of each step.
pub(crate) struct SiteChecks {
    pub(crate) checks: Vec<Check>,
    pub(crate) steps: Vec<StepRead>,
}

/// Every check of the readings, ordered by steps and points, whatever the order of the readings is.
pub(crate) fn site_checks(context: Context<'_>, raise: &Raise, site: &SiteReadings) -> SiteChecks {
    let steps = steps_of(raise);
    let mut made = SiteChecks { checks: Vec::new(), steps: Vec::new() };
    let mut placed: Vec<Placed<'_>> = Vec::new();
    for reading in in_order(context, site) {
        match steps.as_ref().map_err(Clone::clone).and_then(|steps| place(context, steps, reading)) {
            Ok(read) => {
                made.checks.extend(reading::checks(&read, context.settings, &site.gauge));
                placed.push(read);
            }
            Err(missing) => made.checks.extend(open(reading, &missing)),
        }
    }
    for of_step in placed.chunk_by(|one, next| one.step.number == next.step.number) {
        together::enter(context, of_step, &site.gauge, &mut made);
    }
    made
}

/// The steps of the sequence, or what is missing for one.
fn steps_of(raise: &Raise) -> Result<&[Step], Vec<String>> {
    if let Some(found) = raise.found() {
        return Ok(&found.steps);
    }
    let missing = match raise {
        Raise::Unknown(missing) => missing.iter().map(|name| (*name).to_owned()).collect(),
        Raise::InFrame => vec!["load_case/task: a load that is raised; nothing has steps in a frame".to_owned()],
        Raise::Sequence(planned) if planned.sequence.outcome == SequenceOutcome::NotFound => {
            vec!["settings/search_states: more of them, since no sequence was found".to_owned()]
        }
        Raise::Sequence(_) => vec!["a sequence; see the check of holding".to_owned()],
    };
    Err(missing)
}

/// By steps, then in the order of the points.
fn in_order<'a>(context: Context<'_>, site: &'a SiteReadings) -> Vec<&'a SiteReading> {
    let mut readings: Vec<&SiteReading> = site.readings.iter().collect();
    let place = |id: &str| context.case.points.iter().position(|point| point.id == id);
    readings.sort_by_cached_key(|reading| (reading.step, place(&reading.point).unwrap_or(usize::MAX)));
    readings
}

fn place<'a>(context: Context<'a>, steps: &'a [Step], reading: &'a SiteReading) -> Result<Placed<'a>, Vec<String>> {
    let step = steps.iter().find(|step| step.number == reading.step).ok_or_else(|| {
        vec![format!("site_readings/*/step: {} is no step of the sequence, which has {}", reading.step, steps.len())]
    })?;
    let at = step.at.iter().find(|at| at.points.contains(&reading.point));
    let rams = context.case.points.iter().zip(&context.set.at_points).find(|(point, _)| point.id == reading.point);
    let known = at.zip(rams).map(|(at, (_, rams))| Placed { reading, step, at, ram: &rams.ram, rams: rams.count });
    known.ok_or_else(|| vec![format!("site_readings/*/point: no point `{}` in step {}", reading.point, reading.step)])
}

/// Checks that stay open for every value of a reading that belongs to no known state.
fn open(reading: &SiteReading, missing: &[String]) -> Vec<Check> {
    let given = [
        (Quantity::Pressure, reading.pressure.is_some()),
        (Quantity::Extension, reading.extension.is_some()),
        (Quantity::Level, reading.level.is_some()),
    ];
    let kinds = given.into_iter().filter(|(_, given)| *given).map(|(kind, _)| kind);
    let named = |kind: Quantity| {
        missing.iter().map(move |name| format!("step {}, {}: {name}", reading.step, kind.words())).collect::<Vec<_>>()
    };
    let check =
        |kind| Check::new(&at_point(&reading.point, Phase::Raising), Finding::missing(named(kind)), Lines::default());
    kinds.map(check).collect()
}

fn at_point(point: &str, phase: Phase) -> Place<'_> {
    Place { id: CheckId::SiteReading, subject: point, scenario: Scenario::AsPlanned, phase }
}

/// Whether the load is on its rams after a step, or on what holds it mechanically.
fn phase_of(at: &StepAt) -> Phase {
    if at.pressures.is_empty() { Phase::Holding } else { Phase::Raising }
}

/// The full scale of the gauge at some rams.
fn full_scale(gauge: &SiteGauge, ram: &Ram) -> OilPressure {
    gauge.full_scale.unwrap_or(ram.rated_pressure)
}
