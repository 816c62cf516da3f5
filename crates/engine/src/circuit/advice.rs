//! What would be quicker or better, in numbers from the same functions as the answer.

use super::input::{CircuitInput, Oil};
use super::model::UnequalPressures;
use super::retract::{ASSUMED_ANNULUS, RetractOutcome, Retraction, retraction, said, worst};
use crate::load::Task;
use crate::ram::{Action, Ram};
use crate::text::Text;
use ramwright_units::{Length, Quantity, Temperature, Time};
use serde::{Deserialize, Serialize};
use utoipa::ToSchema;

/// Retracts that are quicker need no advice. Common practice, no source.
const SLOW_RETRACT: Time = Time::from_s(30.0);
/// What saves less than this part of the time is not worth saying. Common practice, no source.
const WORTH_SAYING: f64 = 0.8;
/// Nominal bores of hoses in mm (ISO 4397, from memory).
const NOMINAL_BORES_MM: [f64; 10] = [5.0, 6.3, 8.0, 10.0, 12.5, 16.0, 19.0, 25.0, 31.5, 38.0];
/// The next bore is at least so much wider.
const NEXT_BORE: f64 = 1.2;
/// Oil that is warm.
const WARM: Temperature = Temperature::from_k(313.15);
const ZERO_CELSIUS_K: f64 = 273.15;

/// Something that would be quicker or better.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, ToSchema)]
pub struct CircuitAdvice {
    /// A fixed name to branch on. More may appear.
    pub code: Text,
    /// The advice in words, with its numbers.
    pub text: Text,
    /// What it is now, where that is known.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false, value_type = Option<Quantity>)]
    pub now: Option<Quantity>,
    /// What it would be.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false, value_type = Option<Quantity>)]
    pub then: Option<Quantity>,
}

impl CircuitAdvice {
    fn new(code: &'static str, text: String, now: Option<Time>, then: Option<Time>) -> Self {
        Self { code: code.into(), text: text.into(), now: now.map(Into::into), then: then.map(Into::into) }
    }
}

/// All advice on a circuit, the most telling first.
///
/// # Source
/// The same functions as the answer, with one thing changed; from which time on it is given is common practice, no source.
///
/// # Validity
/// As the functions. A double-acting ram is taken with an annulus of 0.4 of the same effective area, and a second run of
/// the same hoses.
pub(super) fn advice(
    input: &CircuitInput,
    conditions: &[CircuitInput],
    retract: &Retraction,
    unequal: Option<&UnequalPressures>,
) -> Vec<CircuitAdvice> {
    let mut advice = Vec::new();
    advice.extend(on_packing(input));
    advice.extend(double_acting(input, conditions, retract));
    advice.extend(wider_hose(input, conditions, retract));
    advice.extend(warm_oil(conditions, retract));
    advice.extend(unequal.map(flow_control));
    advice
}

/// The worst retract of the circuit with one thing changed.
fn with(conditions: &[CircuitInput], from: Length, change: impl Fn(&mut CircuitInput)) -> Option<Time> {
    let changed = conditions.iter().map(|input| {
        let mut input = input.clone();
        change(&mut input);
        retraction(&input, from)
    });
    worst(changed).and_then(|found| found.time)
}

/// The time now, if the rams retract and take long for it.
fn slow(retract: &Retraction) -> Option<Time> {
    retract.time.filter(|time| retract.outcome == RetractOutcome::Retracts && SLOW_RETRACT <= *time)
}

fn on_packing(input: &CircuitInput) -> Option<CircuitAdvice> {
    let stuck = input.task == Task::Raise && input.ram.action == Action::SingleActingLoadReturn;
    (stuck && !input.lifts.is_empty()).then(|| {
        let text = format!(
            "Load-return rams do not retract once the load stands on packing: after each packing lift, {} in all, they are pushed back by hand. Spring-return or double-acting rams save that.",
            input.lifts.len()
        );
        CircuitAdvice::new("load_return_on_packing", text, None, None)
    })
}

fn double_acting(input: &CircuitInput, conditions: &[CircuitInput], retract: &Retraction) -> Option<CircuitAdvice> {
    let present = match (input.ram.action, retract.outcome) {
        (Action::DoubleActing, _) | (_, RetractOutcome::Unknown) => return None,
        (_, RetractOutcome::Retracts) => format!("{} for each retract", said(slow(retract)?)),
        (Action::SingleActingSpringReturn, _) => "the rams never fully retract".to_owned(),
        (Action::SingleActingLoadReturn, _) => "the rams do not retract by themselves".to_owned(),
    };
    let annulus = input.ram.effective_area * ASSUMED_ANNULUS;
    let then = with(conditions, retract.from, |changed| {
        let ram = Ram { action: Action::DoubleActing, annulus_area: Some(annulus), ..changed.ram.clone() };
        changed.ram = ram;
    })?;
    let now = slow(retract);
    if now.is_some_and(|now| now * WORTH_SAYING < then) {
        return None;
    }
    let by = match input.ram.action {
        Action::SingleActingSpringReturn => "a spring return",
        Action::SingleActingLoadReturn | Action::DoubleActing => "a load return",
    };
    let text = format!(
        "{} and {by}: {present}; a double-acting ram of the same area, its annulus taken as {ASSUMED_ANNULUS} of that, with a second hose: {}{}.",
        run_in_words(input),
        said(then),
        at(retract.temperature)
    );
    Some(CircuitAdvice::new("double_acting", text, now, Some(then)))
}

fn wider_hose(input: &CircuitInput, conditions: &[CircuitInput], retract: &Retraction) -> Option<CircuitAdvice> {
    let now = slow(retract)?;
    let bore = input.hose.as_ref()?.bore;
    let next = NOMINAL_BORES_MM.into_iter().find(|next| bore.mm() * NEXT_BORE <= *next)?;
    let then = with(conditions, retract.from, |changed| {
        if let Some(hose) = &mut changed.hose {
            hose.bore = Length::from_mm(next);
        }
    })?;
    let text = format!(
        "A hose of {next} mm bore instead of {:.0} mm: {} for each retract instead of {}{}.",
        bore.mm(),
        said(then),
        said(now),
        at(retract.temperature)
    );
    (then <= now * WORTH_SAYING).then(|| CircuitAdvice::new("wider_hose", text, Some(now), Some(then)))
}

fn warm_oil(conditions: &[CircuitInput], retract: &Retraction) -> Option<CircuitAdvice> {
    let now = slow(retract)?;
    if WARM <= retract.temperature {
        return None;
    }
    let then = with(conditions, retract.from, |changed| {
        changed.oil = Oil { temperature: WARM, ..changed.oil };
    })?;
    let text = format!(
        "With the oil at 40 degC in pump and hoses each retract takes {} instead of {}{}: warm it, or take an oil of a lower grade.",
        said(then),
        said(now),
        at(retract.temperature)
    );
    (then <= now * WORTH_SAYING).then(|| CircuitAdvice::new("warm_oil", text, Some(now), Some(then)))
}

fn flow_control(unequal: &UnequalPressures) -> CircuitAdvice {
    let taken: Vec<String> = unequal
        .throttles
        .iter()
        .map(|throttle| format!("{:.0} bar at {}", throttle.pressure.bar(), throttle.point))
        .collect();
    let text = format!(
        "On one open manifold {} rises first and {} last. For all to rise together valves must take {}.",
        unequal.first,
        unequal.heaviest,
        taken.join(", ")
    );
    CircuitAdvice::new("flow_control", text, None, None)
}

fn run_in_words(input: &CircuitInput) -> String {
    input.hose.as_ref().map_or_else(
        || "Any hose".to_owned(),
        |hose| {
            let length = hose.length.m() * f64::from(input.hose_count_in_series);
            format!("{} m of hose", (length * 10.0).round() / 10.0)
        },
    )
}

fn at(temperature: Temperature) -> String {
    format!(" at {:.0} degC", temperature.k() - ZERO_CELSIUS_K)
}
