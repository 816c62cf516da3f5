//! The whole job in one: choose the rams, verify them, plan the packing lifts, assess the circuit.

mod cycle;
mod price;
mod sequence;
mod tilt;

pub use sequence::{EndByEnd, HowItGoes, sequence_lift};

use crate::EngineError;
use crate::catalogue::{Hose, Pump};
use crate::check::{Check, CheckId};
use crate::circuit::{CircuitAssessment, CircuitConditions, CircuitInput, Lift, Oil, PointLoad, assess_circuit};
use crate::effort::Effort;
use crate::force::FrameCycle;
use crate::load::{LoadCase, LoadShares, Sharing, Task};
use crate::packing_lift::PackingSequence;
use crate::price::Estimate;
use crate::ram::Ram;
use crate::settings::Settings;
use crate::size::{SizeInput, Sizing, size_ram_set};
use crate::verify::{Judged, RamSet, Verdict, Verification, VerifyInput, verify_ram_set};
use ramwright_units::{Length, OilPressure};
use serde::{Deserialize, Serialize};
use std::collections::BTreeMap;
use utoipa::ToSchema;

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

/// What a lift plan is made from.
#[derive(Clone, Debug, PartialEq)]
pub struct PlanInput {
    /// Load case, settings and the yard.
    pub search: SizeInput,
    /// A set that is to be used; without it the recommended one is.
    pub proposed: Option<RamSet>,
    /// Pumps, hoses and oil, if stated.
    pub circuit: Option<CircuitChoice>,
}

/// The rams that a plan uses at a point.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, ToSchema)]
pub struct RamsAtPoint {
    /// The point.
    pub point: String,
    /// The model.
    pub ram: String,
    /// How many side by side.
    pub count: u32,
}

/// The whole job.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, ToSchema)]
pub struct LiftPlan {
    /// One word over verification and circuit; `fail` if nothing in the yard fits.
    pub verdict: Verdict,
    /// The rams used; empty if nothing fits.
    pub ram_set: Vec<RamsAtPoint>,
    /// The search, if no set was proposed.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub sizing: Option<Sizing>,
    /// All checks of the set used.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub verification: Option<Verification>,
    /// Pressures, oil and times of the set used, if a pump was stated.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub circuit: Option<CircuitAssessment>,
    /// In a machine frame: speeds and times of one cycle, if a pump was stated and the areas of the rams are known.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub cycle: Option<FrameCycle>,
    /// What it costs by the rates of the yard and of the request, and what is not in that; absent if nothing fits.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub estimate: Option<Estimate>,
    /// Checks that stand in no part above, since the part was not made (a circuit that was not stated) or does not make them.
    pub open_checks: Vec<Check>,
}

/// Sizes (or takes the set proposed), verifies, plans the packing lifts and assesses the circuit.
///
/// # Source
/// See each part.
///
/// # Validity
/// As for each part.
///
/// # Errors
/// [`EngineError`]: no equilibrium at the expected values, or stopped by the caller.
pub fn plan_lift(input: &PlanInput, effort: Effort<'_>) -> Result<LiftPlan, EngineError> {
    let sizing = match input.proposed {
        Some(_) => None,
        None => Some(size_ram_set(&input.search, effort)?),
    };
    let chosen = input.proposed.clone().or_else(|| recommended(&input.search, sizing.as_ref()?));
    let Some(set) = chosen else {
        return Ok(LiftPlan {
            verdict: Verdict::nothing_fits(),
            ram_set: Vec::new(),
            sizing,
            verification: None,
            circuit: None,
            cycle: None,
            estimate: None,
            open_checks: Vec::new(),
        });
    };
    let verify = VerifyInput {
        case: input.search.case.clone(),
        set,
        line: input.search.line.clone(),
        settings: input.search.settings.clone(),
        packing: input.search.packing.clone(),
    };
    let verification = verify_ram_set(&verify, effort)?;
    let assessed = match &input.circuit {
        None => Err("circuit/pump"),
        Some(choice) => circuit_input(&verify, &verification.load_shares, verification.sequence.as_ref(), choice)
            .map(|job| (assess_circuit(&job), job)),
    };
    let (circuit, cycle, open_checks) = match assessed {
        Ok((assessment, job)) => {
            let open = manifold_checks(&verify.case, &assessment, &job);
            let cycle = cycle::cycle(&verify.case, &job, &assessment);
            (Some(assessment), cycle, open)
        }
        Err(missing) => (None, None, vec![crate::verify::circuit_not_checked(missing)]),
    };
    let of_circuit = circuit.iter().flat_map(|assessment| &assessment.checks);
    let checks = verification.checks.iter().chain(of_circuit).chain(&open_checks);
    Ok(LiftPlan {
        verdict: Verdict::over(checks.map(Judged::from)),
        ram_set: at_points(&verify),
        sizing,
        estimate: Some(price::price(input, &verify.set, &verification, circuit.as_ref())),
        verification: Some(verification),
        circuit,
        cycle,
        open_checks,
    })
}

/// What a point or its foundation must bear if it sticks while one open manifold gives every ram the greatest stop
/// pressure. A limit below that is not checked until each point has a valve and a stop pressure of its own.
fn manifold_checks(case: &LoadCase, assessment: &CircuitAssessment, job: &CircuitInput) -> Vec<Check> {
    let stop = assessment.points.iter().map(|point| point.stop_pressure).fold(OilPressure::ZERO, OilPressure::max);
    let mut checks = Vec::new();
    for (point, load) in case.points.iter().zip(&job.points) {
        let stuck = stop * job.working_area * f64::from(load.rams);
        for (id, limit) in
            [(CheckId::JackingPointLimit, point.limit), (CheckId::FoundationLimit, point.foundation_limit)]
        {
            if limit.is_some_and(|limit| limit < stuck) {
                checks.push(crate::verify::manifold_not_checked(id, &point.id, stuck));
            }
        }
    }
    checks
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
    let ram = verify.set.single_model().ok_or("one model of ram at every point")?;
    let working_area = match verify.case.task {
        Task::Raise | Task::Press => ram.effective_area,
        Task::Pull => ram.annulus_area.ok_or("the annulus area of the ram")?,
    };
    let points = verify.set.at_points.iter().zip(&shares.points);
    let points = points
        .map(|(placed, share)| PointLoad { point: share.point.clone(), rams: placed.count, share: share.share })
        .collect();
    let (extension, approach) = extension_and_approach(&verify.case, ram, &verify.settings, sequence)?;
    Ok(CircuitInput {
        task: verify.case.task,
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
        level_tolerance: level_tolerance(verify),
        conditions: choice.conditions,
    })
}

/// Within which height difference the points must be held: that of the settings, or the band that the shares rest on.
fn level_tolerance(verify: &VerifyInput) -> Length {
    let band = match &verify.case.sharing {
        Sharing::Placed(placed) => placed.level_band,
        _ => None,
    };
    band.map_or(verify.settings.level_tolerance, |band| band.min(verify.settings.level_tolerance))
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

fn recommended(search: &SizeInput, sizing: &Sizing) -> Option<RamSet> {
    let best = sizing.options.first()?;
    let ram = search.rams.iter().find(|ram| ram.id == best.ram)?;
    Some(RamSet::everywhere(ram, best.rams_per_point, search.case.points.len()))
}

fn at_points(verify: &VerifyInput) -> Vec<RamsAtPoint> {
    let pairs = verify.case.points.iter().zip(&verify.set.at_points);
    pairs
        .map(|(point, placed)| RamsAtPoint { point: point.id.clone(), ram: placed.ram.id.clone(), count: placed.count })
        .collect()
}
