//! The whole job in one: choose the rams, verify them, plan the packing lifts, assess the circuit.

mod cycle;
mod price;
mod sequence;
mod tilt;

pub use sequence::{EndByEnd, HowItGoes, sequence_lift};

use crate::EngineError;
use crate::check::{Check, CheckId};
use crate::circuit::{CircuitAssessment, CircuitInput, assess_circuit};
use crate::effort::Effort;
use crate::feed::{CircuitChoice, Fed, Feed, Supply, choose, circuit_input};
use crate::force::FrameCycle;
use crate::load::LoadCase;
use crate::price::Estimate;
use crate::size::{SizeInput, Sizing, size_fed};
use crate::verify::{
    Judged, PlacedRams, RamSet, RamsAtPoint, SiteReadings, Verdict, Verification, VerifyInput, verify_ram_set,
};
use ramwright_units::OilPressure;
use serde::{Deserialize, Serialize};
use std::sync::Arc;
use utoipa::ToSchema;

/// What a lift plan is made from.
#[derive(Clone, Debug, PartialEq)]
pub struct PlanInput {
    /// Load case, settings and the yard.
    pub search: SizeInput,
    /// A set that is to be used; without it the recommended one is.
    pub proposed: Option<RamSet>,
    /// Pumps, hoses and oil, if stated.
    pub circuit: Option<CircuitChoice>,
    /// What was read on site, if anything was; the search knows nothing of it.
    pub site: Option<SiteReadings>,
}

/// The pumps and hoses of a plan.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, ToSchema)]
pub struct CircuitUsed {
    /// The model of pump.
    pub pump: String,
    /// How many of them.
    pub pumps: u32,
    /// The model of hose, if one is stated.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub hose: Option<String>,
    /// How many are joined end to end in a run.
    pub hoses_in_series: u32,
}

impl CircuitUsed {
    fn of(choice: &CircuitChoice) -> Self {
        Self {
            pump: choice.pump.id.clone(),
            pumps: choice.pumps,
            hose: choice.hose.as_ref().map(|hose| hose.id.clone()),
            hoses_in_series: choice.hose_count_in_series,
        }
    }
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
    /// The pumps and hoses, stated or chosen out of the yard.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub circuit_used: Option<CircuitUsed>,
    /// Pressures, oil and times of the set used, if pumps were stated or could be chosen.
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
    let feed = match (&input.circuit, &input.search.supply) {
        (Some(choice), _) => Feed::Stated(choice),
        (None, Some(supply)) => Feed::Chosen(supply),
        (None, None) => Feed::NotAsked,
    };
    let sizing = match input.proposed {
        Some(_) => None,
        None => Some(size_fed(&input.search, feed, effort)?),
    };
    let chosen = input.proposed.clone().or_else(|| recommended(&input.search, sizing.as_ref()?));
    let Some(set) = chosen else {
        return Ok(LiftPlan {
            verdict: Verdict::nothing_fits(),
            ram_set: Vec::new(),
            sizing,
            verification: None,
            circuit_used: None,
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
        site: input.site.clone(),
    };
    let verification = verify_ram_set(&verify, effort)?;
    let found = match feed {
        Feed::NotAsked => Err("circuit/pump"),
        Feed::Chosen(supply) => chosen_circuit(input, supply, &verify, &verification),
        Feed::Stated(choice) => assessed(&verify, &verification, choice),
    };
    let (circuit, cycle, open_checks) = match found {
        Ok((assessment, job, choice)) => {
            let open = manifold_checks(&verify.case, &assessment, &job);
            let cycle = cycle::cycle(&verify.case, &job, &assessment);
            (Some((assessment, choice)), cycle, open)
        }
        Err(missing) => (None, None, vec![crate::verify::circuit_not_checked(missing)]),
    };
    let of_circuit = circuit.iter().flat_map(|(assessment, _)| &assessment.checks);
    let checks = verification.checks.iter().chain(of_circuit).chain(&open_checks);
    let verdict = Verdict::over(checks.map(Judged::from));
    Ok(LiftPlan {
        ram_set: verify.set.named(&verify.case),
        sizing,
        estimate: Some(price::price(input, &verify.set, &verification, circuit.as_ref())),
        verification: Some(verification.judged_on_site(&verdict)),
        verdict,
        circuit_used: circuit.as_ref().map(|(_, choice)| CircuitUsed::of(choice)),
        circuit: circuit.map(|(assessment, _)| assessment),
        cycle,
        open_checks,
    })
}

/// What was assessed of a circuit.
type Assessed = (CircuitAssessment, CircuitInput, CircuitChoice);

/// The circuit that was stated.
fn assessed(
    verify: &VerifyInput,
    verification: &Verification,
    choice: &CircuitChoice,
) -> Result<Assessed, &'static str> {
    let job = circuit_input(verify, &verification.load_shares, verification.sequence.as_ref(), choice)?;
    Ok((assess_circuit(&job), job, choice.clone()))
}

/// The circuit that is chosen out of the yard, as the search chooses it.
fn chosen_circuit(
    input: &PlanInput,
    supply: &Supply,
    verify: &VerifyInput,
    verification: &Verification,
) -> Result<Assessed, &'static str> {
    let found = verification.sequence.as_ref().filter(|sequence| sequence.cycles.is_some());
    match choose(verify.context(), &verification.load_shares, found, supply, &input.search.price) {
        Fed::By(chosen) => assessed(verify, verification, &chosen.choice),
        Fed::ByNone(_) => Err("circuit: no pumps and hoses of the yard feed these rams; state others"),
        Fed::Unknown(missing) => Err(missing),
    }
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

/// The recommended set and its circuit, if one was chosen.
fn recommended(search: &SizeInput, sizing: &Sizing) -> Option<RamSet> {
    let best = sizing.options.first()?;
    let placed = |at: &RamsAtPoint| {
        let ram = search.rams.iter().find(|ram| ram.id == at.ram)?;
        Some(PlacedRams { ram: Arc::clone(ram), count: at.count })
    };
    Some(RamSet { at_points: best.at_points.iter().map(placed).collect::<Option<_>>()? })
}
