//! The six calculations.

use super::Operation;
use crate::read::Pointer;
use crate::request::{
    AssessCircuitRequest, Context, PlanLiftRequest, Section, Sections, SequenceRequest, ShareLoadRequest, SizeRequest,
    VerifyRequest, Yard, known_pieces, parse_case, parse_circuit, parse_line, parse_price, parse_search,
    parse_sequence, parse_set, parse_settings, parse_site, parse_supply, plates_of, single_model,
};
use ramwright_engine::catalogue::Packing;
use ramwright_engine::check::{Source, Status};
use ramwright_engine::circuit::{CircuitAssessment, CircuitInput, assess_circuit};
use ramwright_engine::feed::circuit_input;
use ramwright_engine::load::{LoadCase, LoadShares, NoEquilibrium, Task, envelope_alone, share_load};
use ramwright_engine::packing_lift::{Direction, PackingSequence, PointsAlike, SequenceOutcome, StepKind};
use ramwright_engine::plan::{HowItGoes, LiftPlan, PlanInput, plan_lift, sequence_lift};
use ramwright_engine::ram::Ram;
use ramwright_engine::remark::Caution;
use ramwright_engine::size::{RamOption, SizeInput, Sizing, size_ram_set};
use ramwright_engine::verify::{Counts, RamSet, Verdict, Verification, VerifyInput, verify_ram_set};
use ramwright_engine::{Effort, EngineError, defaults};
use ramwright_units::Length;
use std::sync::Arc;

/// What every point carries.
pub struct ShareLoad;
/// Which ram sets of the yard do the job.
pub struct SizeRamSet;
/// Whether a proposed ram set does the job.
pub struct VerifyRamSet;
/// The packing lifts of a ram set.
pub struct SequencePackingLifts;
/// Pressures, oil and times of a ram set.
pub struct AssessCircuit;
/// The whole job in one.
pub struct PlanLift;

const NOT_COVERED: &str = "Not covered by this version: in concrete splitting, edges beyond the room stated, and voids; bending of mats and of what lies behind the load's underside; sharing between several stacks at one point; welds and bolts; fatigue and damage of any part. Have them checked before the lift.";

fn not_covered() -> Caution {
    Caution::new("not_covered", NOT_COVERED)
}

fn load_return(uses: impl IntoIterator<Item = bool>) -> Option<Caution> {
    uses.into_iter().any(|load_return| load_return).then(|| {
        Caution::new(
            "load_return_rams",
            "Load-return rams do not retract once the load stands on packing: push them back by hand, or choose spring-return or double-acting rams.",
        )
    })
}

fn case(sections: &Sections, context: &mut Context<'_>) -> Option<LoadCase> {
    parse_case(sections.load_case.sent()?, context)
}

/// The packing pieces on site: those that the settings choose, or all of the yard, in the order of their ids.
fn packing(sections: &Sections, yard: &Yard, context: &mut Context<'_>) -> Vec<Packing> {
    let stock = &yard.catalogue.packing;
    match sections.settings.sent().and_then(|sent| sent.packing.as_ref()) {
        None => stock.values().cloned().collect(),
        Some(chosen) => {
            known_pieces(&chosen.0, yard, context);
            stock.values().filter(|piece| chosen.0.iter().any(|id| id.0 == piece.id)).cloned().collect()
        }
    }
}

/// Notes what is assumed of the stacks of a load that is raised.
fn assume_stacks(case: Option<&LoadCase>, context: &mut Context<'_>) {
    if case.is_some_and(|case| case.task == Task::Raise) {
        let text = "each ram has a base stack and a holding stack of its own; pieces are counted for all of them";
        context.assume_choice(
            &Pointer::default().field("settings").field("packing"),
            text,
            Source::common_practice("common practice, no source"),
        );
    }
}

fn size_input(sections: &Sections, yard: Option<&Yard>, context: &mut Context<'_>) -> Option<SizeInput> {
    let case = case(sections, context);
    let line = parse_line(&sections.line_of_force, sections.load_case.sent(), context);
    let plates = line.as_ref().and_then(|line| plates_of(line, context));
    let settings = parse_settings(&sections.settings, plates, context);
    let currency = yard.map(|yard| yard.catalogue.currency.as_str());
    let price = parse_price(&sections.price, currency, context);
    let search = parse_search(&sections.search, currency, context);
    let yard = yard?;
    let packing = packing(sections, yard, context);
    assume_stacks(case.as_ref(), context);
    Some(SizeInput {
        case: case?,
        line: line?,
        settings: settings?,
        search: search?,
        supply: None,
        price: price?,
        rams: yard.catalogue.rams.values().cloned().map(Arc::new).collect(),
        packing,
        currency: yard.catalogue.currency.clone(),
    })
}

fn ram_set(sections: &Sections, yard: &Yard, context: &mut Context<'_>) -> Option<RamSet> {
    parse_set(sections.ram_set.sent()?, sections.load_case.sent(), yard, context)
}

fn verify_input(sections: &Sections, yard: Option<&Yard>, context: &mut Context<'_>) -> Option<VerifyInput> {
    let case = case(sections, context);
    let line = parse_line(&sections.line_of_force, sections.load_case.sent(), context);
    let plates = line.as_ref().and_then(|line| plates_of(line, context));
    let settings = parse_settings(&sections.settings, plates, context);
    let yard = yard?;
    let set = ram_set(sections, yard, context);
    let packing = packing(sections, yard, context);
    assume_stacks(case.as_ref(), context);
    Some(VerifyInput { case: case?, set: set?, line: line?, settings: settings?, packing, site: None })
}

impl Operation for ShareLoad {
    const NAME: &'static str = "share_load";
    const PATH: &'static str = "/v1/load-shares";
    type Request = ShareLoadRequest;
    type Input = LoadCase;
    type Result = LoadShares;

    fn yard(_sections: &Sections, _context: &mut Context<'_>) -> Option<Yard> {
        None
    }

    fn parse(sections: &Sections, _yard: Option<&Yard>, context: &mut Context<'_>) -> Option<LoadCase> {
        case(sections, context)
    }

    fn compute(input: &LoadCase, _effort: Effort<'_>) -> Result<LoadShares, EngineError> {
        Ok(share_load(input)?)
    }

    fn verdict(result: &LoadShares) -> Verdict {
        Verdict::of(&result.checks)
    }

    fn cautions(_result: &LoadShares) -> Vec<Caution> {
        vec![Caution::new(
            "shares_only",
            "These are the forces at the points only. Whether rams, packing, foundation and load bear them is not looked at here: verify the set.",
        )]
    }
}

impl Operation for SizeRamSet {
    const NAME: &'static str = "size_ram_set";
    const PATH: &'static str = "/v1/ram-sets/size";
    type Request = SizeRequest;
    type Input = SizeInput;
    type Result = Sizing;

    fn parse(sections: &Sections, yard: Option<&Yard>, context: &mut Context<'_>) -> Option<SizeInput> {
        let input = size_input(sections, yard, context);
        let supply = parse_supply(&sections.supply, yard?, context).ok()?;
        Some(SizeInput { supply, ..input? })
    }

    fn compute(input: &SizeInput, effort: Effort<'_>) -> Result<Sizing, EngineError> {
        size_ram_set(input, effort)
    }

    fn verdict(result: &Sizing) -> Verdict {
        match result.options.first() {
            Some(best) => with_circuit(best),
            // Sets that were not looked at may fit.
            None if !result.complete => {
                Verdict { status: Status::NotChecked, governing: None, counts: Counts::default() }
            }
            None => Verdict::nothing_fits(),
        }
    }

    fn cautions(_result: &Sizing) -> Vec<Caution> {
        let sizing = "Each option is held against every check of its verification; verify the set that you choose, which shows the lines of each check and its margins.";
        vec![not_covered(), Caution::new("verify_next", sizing)]
    }
}

/// The verdict on a set, or on its circuit if that is worse; a set that is not known to be fed is not checked to the end.
fn with_circuit(option: &RamOption) -> Verdict {
    let of_set = || option.verdict.clone();
    match (&option.circuit, &option.circuit_missing) {
        (Some(circuit), _) if option.verdict.status < circuit.verdict.status => circuit.verdict.clone(),
        (None, Some(_)) if option.verdict.status < Status::NotChecked => {
            Verdict { status: Status::NotChecked, ..of_set() }
        }
        _ => of_set(),
    }
}

impl Operation for VerifyRamSet {
    const NAME: &'static str = "verify_ram_set";
    const PATH: &'static str = "/v1/ram-sets/verify";
    type Request = VerifyRequest;
    type Input = VerifyInput;
    type Result = Verification;

    fn parse(sections: &Sections, yard: Option<&Yard>, context: &mut Context<'_>) -> Option<VerifyInput> {
        let input = verify_input(sections, yard, context);
        let site = parse_site(sections, input.as_ref().map(|input| &input.case), context);
        Some(with_set_cautions(VerifyInput { site: site.ok()?, ..input? }, context))
    }

    fn compute(input: &VerifyInput, effort: Effort<'_>) -> Result<Verification, EngineError> {
        verify_ram_set(input, effort)
    }

    fn verdict(result: &Verification) -> Verdict {
        result.verdict.clone()
    }

    fn cautions(_result: &Verification) -> Vec<Caution> {
        vec![not_covered()]
    }
}

fn with_set_cautions(input: VerifyInput, context: &mut Context<'_>) -> VerifyInput {
    use ramwright_engine::ram::Action;
    let raises = input.case.task == Task::Raise;
    let uses = input.set.at_points.iter().map(|placed| raises && placed.ram.action == Action::SingleActingLoadReturn);
    context.cautions.extend(load_return(uses));
    input
}

/// A sequence's input, with what its points have in common.
pub struct SequenceTask {
    input: VerifyInput,
    ram: Ram,
    how: HowItGoes,
    groups: Vec<PointsAlike>,
}

impl Operation for SequencePackingLifts {
    const NAME: &'static str = "sequence_packing_lifts";
    const STATES: u64 = defaults::SEQUENCE_STATES;
    const PATH: &'static str = "/v1/packing-lifts/sequence";
    type Request = SequenceRequest;
    type Input = SequenceTask;
    type Result = PackingSequence;

    fn parse(sections: &Sections, yard: Option<&Yard>, context: &mut Context<'_>) -> Option<SequenceTask> {
        let how = yard.map(|yard| parse_sequence(&sections.sequence, sections.load_case.sent(), yard, context));
        let input = verify_input(sections, yard, context)?;
        let ram = single_model(&input.set, context);
        let at = Pointer::default().field("load_case");
        if input.case.task != Task::Raise {
            context.inconsistent(
                &at.field("task"),
                "a packing-lift sequence moves a load up or down",
                "use the task \"raise\"",
            );
        }
        let how = how??;
        let groups = how.groups(&input);
        if let Err(missing) = groups {
            let hint = "give every point its clearance, and the points of one end the same";
            context.inconsistent(&at.field("points"), format!("a sequence needs {missing}"), hint);
        }
        let groups = groups.ok()?;
        let lowest = groups.iter().map(|group| group.clearance.min(group.packing_clearance)).reduce(Length::min);
        if matches!(how.direction, Direction::Lower { .. }) && lowest.is_some_and(|lowest| lowest <= input.case.travel)
        {
            let hint = "the travel is how far the load goes down, and the clearances are those before it does";
            context.inconsistent(&at.field("travel"), "a load cannot go down farther than it stands high", hint);
        }
        if matches!(how.direction, Direction::Lower { .. }) && 1 < groups.len() {
            let hint = "give every point the same clearance";
            context.inconsistent(&at.field("points"), "a load that goes down needs one clearance at every point", hint);
        }
        if how.second_support.is_some() && ram.as_ref().is_some_and(|ram| ram.lock_collar) {
            let text =
                "the load stands on the lock collars while its stacks are rebuilt; what is named here is not used";
            let field = Pointer::default().field("sequence").field("second_support");
            context.assume_choice(&field, text, Source::common_practice("common practice, no source"));
        }
        Some(SequenceTask { input: with_set_cautions(input, context), ram: ram?, how, groups })
    }

    fn compute(task: &SequenceTask, effort: Effort<'_>) -> Result<PackingSequence, EngineError> {
        sequence_lift(&task.input, &task.ram, &task.how, &task.groups, effort)
    }

    fn verdict(result: &PackingSequence) -> Verdict {
        let status = match result.outcome {
            // What the rams carry has been worked out, and is too much.
            SequenceOutcome::Optimal | SequenceOutcome::WithinEffort if overloaded(result) => Status::Fail,
            SequenceOutcome::Optimal | SequenceOutcome::WithinEffort if tilt_unknown(result) => Status::NotChecked,
            // Heights, gaps, pieces and their load limits are checked; the rams and what they stand on are not.
            SequenceOutcome::Optimal | SequenceOutcome::WithinEffort => Status::Caution,
            SequenceOutcome::NotFound => Status::NotChecked,
            SequenceOutcome::Infeasible => Status::Fail,
        };
        Verdict { status, governing: None, counts: Counts::default() }
    }

    fn cautions(result: &PackingSequence) -> Vec<Caution> {
        let tilt = "What the tilted load puts on its rams and stacks was not worked out: the positions of the points, or the height of the centre of gravity, are not known.";
        let rams = "A ram carries more than its capacity limit allows: take stronger rams, or more of them, before anything is lifted.";
        let rams = overloaded(result).then(|| Caution::new("rams_overloaded", rams));
        let tilt = tilt_unknown(result).then(|| Caution::new("tilt_not_checked", tilt));
        let second = "Whether the second support carries the load while it stands on it, and at what height, was not checked: have it designed for what the points carry before the stacks are rebuilt.";
        let second = on_second_support(result).then(|| Caution::new("second_support_not_checked", second));
        let only = "The sequence obeys heights, gaps, counted pieces and their load limits; stability and everything else is for verification. Points that are packed alike are taken to settle alike: read their levels at every rest, and shim what does not.";
        [not_covered(), Caution::new("sequence_only", only)].into_iter().chain(rams).chain(tilt).chain(second).collect()
    }
}

/// Whether the load goes up end by end and it is not known how it leans meanwhile.
fn tilt_unknown(sequence: &PackingSequence) -> bool {
    sequence.cycles.is_some() && sequence.rams < sequence.stacks && sequence.tilted.is_empty()
}

/// Whether the load ever stands on what the request names, of which nothing is known.
fn on_second_support(sequence: &PackingSequence) -> bool {
    sequence.steps.iter().any(|step| step.kind == StepKind::SecondSupport)
}

/// Whether a ram would carry more than it may, be it while the load is tilted.
fn overloaded(sequence: &PackingSequence) -> bool {
    // Written so that a utilisation that is no number counts as too much.
    let tilted = sequence.tilted.iter().map(|state| state.ram_utilisation);
    !tilted.chain([sequence.ram_utilisation]).all(|used| used <= 1.0)
}

/// A circuit's input, or why the load has no equilibrium.
pub struct CircuitTask {
    input: Result<(CircuitInput, LoadShares), NoEquilibrium>,
}

impl Operation for AssessCircuit {
    const NAME: &'static str = "assess_circuit";
    const PATH: &'static str = "/v1/circuits/assess";
    type Request = AssessCircuitRequest;
    type Input = CircuitTask;
    type Result = CircuitAssessment;

    fn parse(sections: &Sections, yard: Option<&Yard>, context: &mut Context<'_>) -> Option<CircuitTask> {
        let verify = verify_input(sections, yard, context);
        let choice = parse_circuit(sections.circuit.sent()?, yard?, context);
        let verify = verify?;
        single_model(&verify.set, context)?;
        let at = Pointer::default().field("settings");
        let text = "every ram extends by the whole usable stroke in the greatest raise";
        if verify.case.task == Task::Raise {
            context.assume_choice(&at, text, Source::definition("the safe side for oil and time"));
        }
        let choice = choice?;
        let input = match envelope_alone(&verify.case) {
            Err(reason) => Err(reason),
            Ok(shares) => match circuit_input(&verify, &shares, None, &choice) {
                Ok(input) => Ok((input, shares)),
                Err(missing) => {
                    let at = Pointer::default().field("load_case");
                    context.inconsistent(&at, format!("a circuit needs {missing}"), "state it");
                    return None;
                }
            },
        };
        Some(CircuitTask { input })
    }

    fn compute(task: &CircuitTask, _effort: Effort<'_>) -> Result<CircuitAssessment, EngineError> {
        match &task.input {
            Ok((input, shares)) => {
                let mut assessment = assess_circuit(input);
                // The pressures rest on the shares, so what is open about these is open here too.
                assessment.checks.splice(0..0, shares.checks.iter().cloned());
                Ok(assessment)
            }
            Err(reason) => Err(reason.clone().into()),
        }
    }

    fn verdict(result: &CircuitAssessment) -> Verdict {
        Verdict::of(&result.checks)
    }

    fn cautions(result: &CircuitAssessment) -> Vec<Caution> {
        result.cautions.clone()
    }
}

impl Operation for PlanLift {
    const NAME: &'static str = "plan_lift";
    const PATH: &'static str = "/v1/lift-plans";
    type Request = PlanLiftRequest;
    type Input = PlanInput;
    type Result = LiftPlan;

    fn parse(sections: &Sections, yard: Option<&Yard>, context: &mut Context<'_>) -> Option<PlanInput> {
        let search = size_input(sections, yard, context);
        let yard = yard?;
        let proposed = match &sections.ram_set {
            Section::Absent => Some(None),
            Section::Faulty => None,
            Section::Sent(_) => ram_set(sections, yard, context).map(Some),
        };
        let (circuit, supply) = match &sections.circuit {
            Section::Absent => (Some(None), parse_supply(&sections.supply, yard, context).ok()),
            Section::Faulty => (None, None),
            Section::Sent(sent) => {
                if sections.supply != Section::Absent {
                    let hint = "state the circuit, or from what it is chosen";
                    let at = Pointer::default().field("supply");
                    context.inconsistent(&at, "`circuit` and `supply` are both given", hint);
                }
                (parse_circuit(sent, yard, context).map(Some), Some(None))
            }
        };
        let site = parse_site(sections, search.as_ref().map(|search| &search.case), context);
        if sections.site_readings != Section::Absent && sections.ram_set == Section::Absent {
            let at = Pointer::default().field("site_readings");
            let hint = "name the rams that stand there in `ram_set`";
            context.inconsistent(&at, "what was read on site belongs to rams that a search does not know", hint);
        }
        let search = SizeInput { supply: supply?, ..search? };
        Some(PlanInput { search, proposed: proposed?, circuit: circuit?, site: site.ok()? })
    }

    fn compute(input: &PlanInput, effort: Effort<'_>) -> Result<LiftPlan, EngineError> {
        plan_lift(input, effort)
    }

    fn verdict(result: &LiftPlan) -> Verdict {
        result.verdict.clone()
    }

    fn cautions(result: &LiftPlan) -> Vec<Caution> {
        let mut cautions = vec![not_covered()];
        let checks = result.verification.iter().flat_map(|verification| &verification.checks);
        let retracting = checks.filter(|check| check.id == ramwright_engine::check::CheckId::Action);
        cautions.extend(load_return(retracting.map(|check| check.status == Status::Caution)));
        cautions.extend(result.circuit.iter().flat_map(|circuit| circuit.cautions.iter().cloned()));
        cautions
    }
}
