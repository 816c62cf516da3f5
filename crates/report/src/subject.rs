//! What a document or a drawing is about: the input of the engine beside what it answered.

use ramwright_engine::catalogue::Packing;
use ramwright_engine::check::Check;
use ramwright_engine::circuit::CircuitAssessment;
use ramwright_engine::load::{LoadCase, LoadShares};
use ramwright_engine::packing_lift::PackingSequence;
use ramwright_engine::plan::{CircuitUsed, LiftPlan, PlanInput};
use ramwright_engine::price::Estimate;
use ramwright_engine::settings::Settings;
use ramwright_engine::size::Sizing;
use ramwright_engine::support::LineOfForce;
use ramwright_engine::verify::{PlacedRams, RamSet, RamsAtPoint, Verdict, Verification, VerifyInput};
use std::sync::Arc;

/// A lift as it was asked for and as it was answered.
#[derive(Clone, Debug)]
pub struct Subject<'a> {
    /// The load case.
    pub case: &'a LoadCase,
    /// What stands over and under the rams.
    pub line: &'a LineOfForce,
    /// Limits and gaps.
    pub settings: &'a Settings,
    /// The pieces on site, in the order of their ids.
    pub packing: &'a [Packing],
    /// The rams at each point, in the order of the points; none if nothing fits.
    pub set: Option<RamSet>,
    /// One word over everything.
    pub verdict: &'a Verdict,
    /// The checks of the set; none if nothing fits.
    pub verification: Option<&'a Verification>,
    /// The search behind the set, if there was one.
    pub sizing: Option<&'a Sizing>,
    /// Pumps and hoses, if any are known.
    pub circuit: Option<(&'a CircuitUsed, &'a CircuitAssessment)>,
    /// What it costs, if anything fits.
    pub estimate: Option<&'a Estimate>,
    /// Checks that stand in no part.
    pub open_checks: &'a [Check],
}

impl<'a> Subject<'a> {
    /// A lift plan.
    pub fn of_plan(input: &'a PlanInput, plan: &'a LiftPlan) -> Self {
        Self {
            case: &input.search.case,
            line: &input.search.line,
            settings: &input.search.settings,
            packing: &input.search.packing,
            set: input.proposed.clone().or_else(|| placed(input, &plan.ram_set)),
            verdict: &plan.verdict,
            verification: plan.verification.as_ref(),
            sizing: plan.sizing.as_ref(),
            circuit: plan.circuit_used.as_ref().zip(plan.circuit.as_ref()),
            estimate: plan.estimate.as_ref(),
            open_checks: &plan.open_checks,
        }
    }

    /// A verification.
    pub fn of_verification(input: &'a VerifyInput, verification: &'a Verification) -> Self {
        Self {
            case: &input.case,
            line: &input.line,
            settings: &input.settings,
            packing: &input.packing,
            set: Some(input.set.clone()),
            verdict: &verification.verdict,
            verification: Some(verification),
            sizing: None,
            circuit: None,
            estimate: None,
            open_checks: &[],
        }
    }

    /// What each point carries, wherever it was worked out.
    pub fn load_shares(&self) -> Option<&'a LoadShares> {
        let of_search = self.sizing.map(|sizing| &sizing.load_shares);
        self.verification.map(|verification| &verification.load_shares).or(of_search)
    }

    /// The packing lifts, if a sequence was found.
    pub fn sequence(&self) -> Option<&'a PackingSequence> {
        self.verification?.sequence.as_ref().filter(|sequence| sequence.cycles.is_some())
    }

    /// Every check, in the order of the answer; where no set was verified, those of the load alone.
    pub fn checks(&self) -> impl Iterator<Item = &'a Check> {
        let of_circuit = self.circuit.into_iter().flat_map(|(_, assessment)| &assessment.checks);
        let of_load = self.load_shares().map(|shares| &shares.checks);
        self.verification
            .map(|verification| &verification.checks)
            .or(of_load)
            .into_iter()
            .flatten()
            .chain(of_circuit)
            .chain(self.open_checks)
    }
}

/// The set that a plan names, out of the rams of its search.
fn placed(input: &PlanInput, named: &[RamsAtPoint]) -> Option<RamSet> {
    let of = |at: &RamsAtPoint| {
        let ram = input.search.rams.iter().find(|ram| ram.id == at.ram)?;
        Some(PlacedRams { ram: Arc::clone(ram), count: at.count })
    };
    let at_points: Vec<_> = named.iter().map(of).collect::<Option<_>>()?;
    (!at_points.is_empty()).then_some(RamSet { at_points })
}
