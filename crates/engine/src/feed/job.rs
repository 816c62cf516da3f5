//! The circuit of a ram set, as the pump, the hoses and the oil are stated or chosen.

use crate::catalogue::{Hose, Pump};
use crate::circuit::{CircuitConditions, CircuitInput, Lift, Oil, PointLoad};
use crate::load::{LoadCase, LoadShares, Sharing, Task};
use crate::packing_lift::PackingSequence;
use crate::ram::Ram;
use crate::settings::Settings;
use crate::verify::{Context, VerifyInput};
use ramwright_units::Length;
use std::collections::BTreeMap;

/// Pumps, hoses and oil.
#[derive(Clone, Debug, PartialEq)]
pub struct CircuitChoice {
    /// The model of pump.
    pub pump: Pump,
    /// How many pumps feed the rams together.
    pub pumps: u32,
    /// The model of hose, if stated.
    pub hose: Option<Hose>,
    /// How many hoses are joined end to end to each ram.
    pub hose_count_in_series: u32,
    /// The oil.
    pub oil: Oil,
    /// What else is known of the circuit.
    pub conditions: CircuitConditions,
}

/// The circuit of a set.
///
/// # Errors
/// What is missing: one model at every point, the area to pull with, or in a frame the clearance.
pub fn circuit_input(
    verify: &VerifyInput,
    shares: &LoadShares,
    sequence: Option<&PackingSequence>,
    choice: &CircuitChoice,
) -> Result<CircuitInput, &'static str> {
    circuit_of(verify.context(), shares, sequence, choice)
}

/// The same for a set that is looked at in a search.
pub(crate) fn circuit_of(
    context: Context<'_>,
    shares: &LoadShares,
    sequence: Option<&PackingSequence>,
    choice: &CircuitChoice,
) -> Result<CircuitInput, &'static str> {
    let Context { case, set, settings, .. } = context;
    let ram = set.single_model().ok_or("one model of ram at every point")?;
    let working_area = match case.task {
        Task::Raise | Task::Press => ram.effective_area,
        Task::Pull => ram.annulus_area.ok_or("the annulus area of the ram")?,
    };
    let points = set.at_points.iter().zip(&shares.points);
    let points = points
        .map(|(placed, share)| PointLoad { point: share.point.clone(), rams: placed.count, share: share.share })
        .collect();
    let (extension, approach) = extension_and_approach(case, ram, settings, sequence)?;
    Ok(CircuitInput {
        task: case.task,
        ram: ram.clone(),
        working_area,
        points,
        extension,
        approach,
        lifts: sequence.map_or_else(Vec::new, lifts),
        pump: choice.pump.clone(),
        hose: choice.hose.clone(),
        hose_count_in_series: choice.hose_count_in_series,
        oil: choice.oil,
        pumps: choice.pumps,
        level_tolerance: level_tolerance(case, settings),
        conditions: choice.conditions,
    })
}

/// Within which height difference the points must be held: that of the settings, or the band that the shares rest on.
fn level_tolerance(case: &LoadCase, settings: &Settings) -> Length {
    let band = match &case.sharing {
        Sharing::Placed(placed) => placed.level_band,
        _ => None,
    };
    band.map_or(settings.level_tolerance, |band| band.min(settings.level_tolerance))
}

/// The raises of a sequence: in each packing lift what the farthest ram extends, all of it as under load.
fn lifts(sequence: &PackingSequence) -> Vec<Lift> {
    let mut extensions: BTreeMap<u32, Length> = BTreeMap::new();
    for step in &sequence.steps {
        let farthest = step.at.iter().map(|at| at.extension.greatest).fold(Length::ZERO, Length::max);
        let known = extensions.entry(step.cycle).or_insert(Length::ZERO);
        *known = known.max(farthest);
    }
    let raised = extensions.into_values().filter(|extension| Length::ZERO < *extension);
    raised.map(|extension| Lift { extension, approach: Length::ZERO }).collect()
}

/// What a ram extends in its greatest raise, and the part of it before contact.
///
/// Under a load the whole of it is taken as under load, which gives the longest time; in a frame the approach is known.
fn extension_and_approach(
    case: &LoadCase,
    ram: &Ram,
    settings: &Settings,
    sequence: Option<&PackingSequence>,
) -> Result<(Length, Length), &'static str> {
    let usable = settings.stroke_limit.usable(ram.stroke);
    match case.task {
        Task::Raise => Ok(match sequence.filter(|sequence| sequence.cycles.is_some()) {
            Some(sequence) => (sequence.greatest_extension, Length::ZERO),
            None => (usable, Length::ZERO),
        }),
        Task::Press | Task::Pull => {
            let openings: Option<Vec<Length>> = case.points.iter().map(|point| point.clearance).collect();
            let openings = openings.ok_or("load_case/points/*/clearance")?;
            let opening = openings.into_iter().fold(Length::ZERO, Length::max);
            let approach = (opening - ram.closed_height - settings.plates).max(Length::ZERO);
            Ok((approach + case.travel, approach))
        }
    }
}
