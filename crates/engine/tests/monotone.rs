//! What must never get better by asking more, and what `size` finds must stand up to `verify`.
//!
//! No source is needed: a heavier load, one check after another, is at least as bad.

#![allow(
    clippy::unwrap_used,
    clippy::panic,
    clippy::indexing_slicing,
    reason = "tests stop at what they do not expect"
)]

mod support;

use proptest::prelude::*;
use ramwright_engine::check::{Check, CheckId, Scenario, Status};
use ramwright_engine::load::{Actions, Horizontal, LoadCase, Task, envelope_alone};
use ramwright_engine::settings::Settings;
use ramwright_engine::size::{CheckSummary, RamOption, SizeInput, Sizing, size_ram_set};
use ramwright_engine::verify::{RamSet, Verification, VerifyInput};
use ramwright_units::{Angle, Force, Length};
use support::cases::{any_ram, load_cases, proposals};
use support::{can_be_relieved, close, effort, kn, mm, settings, verify, yard};

/// No check may be better in the second answer than in the first.
#[track_caller]
fn never_better(before: &[Check], after: &[Check], counts: impl Fn(&Check) -> bool) {
    assert_eq!(before.len(), after.len());
    for (before, after) in before.iter().zip(after).filter(|(before, _)| counts(before)) {
        assert_eq!((before.id, before.phase, before.scenario), (after.id, after.phase, after.scenario));
        // Where the whole load acts otherwise, only the worst point is told of, and that may be another one.
        let whole = matches!(before.scenario, Scenario::LoadHeavier | Scenario::LevelError | Scenario::HorizontalForce);
        assert!(whole || before.subject == after.subject);
        assert!(before.status <= after.status, "{before:#?}\nbecame\n{after:#?}");
    }
}

/// The points whose greatest share is less under the heavier load, as planned or in the scenario of a load heavier still.
fn relieved(light: &VerifyInput, heavy: &VerifyInput) -> Vec<String> {
    let mut found = Vec::new();
    for factor in [1.0, light.settings.heavier_factor] {
        let of = |input: &VerifyInput| envelope_alone(&input.case.heavier(factor)).unwrap().points;
        let pairs = of(light).into_iter().zip(of(heavy));
        let less = pairs.filter(|(before, after)| after.share.greatest.n() < before.share.greatest.n() * (1.0 - 1e-9));
        found.extend(less.map(|(before, _)| before.point));
    }
    found
}

fn with_force(input: &VerifyInput, force: Force) -> VerifyInput {
    VerifyInput {
        case: LoadCase {
            actions: Actions { horizontal: Horizontal::Stated(force), ..input.case.actions },
            ..input.case.clone()
        },
        ..input.clone()
    }
}

fn with_count(input: &VerifyInput, count: u32) -> VerifyInput {
    let mut more = input.clone();
    more.set.at_points.iter_mut().for_each(|placed| placed.count = count);
    more
}

fn higher(input: &VerifyInput, by: Length) -> VerifyInput {
    let mut more = input.clone();
    for point in &mut more.case.points {
        point.clearance = point.clearance.map(|clearance| clearance + by);
    }
    more
}

/// What `verify` adds to the checks that a search makes.
const BEYOND_THE_SEARCH: [CheckId; 21] = [
    CheckId::Stress,
    CheckId::SaddleAngle,
    CheckId::SaddleOffCentre,
    CheckId::CollarRelease,
    CheckId::WarmOil,
    CheckId::ReturnLine,
    CheckId::Handling,
    CheckId::SoffitBearing,
    CheckId::HeadPlate,
    CheckId::BasePlate,
    CheckId::StackBearing,
    CheckId::StackHeight,
    CheckId::StackOverhang,
    CheckId::StackPlumb,
    CheckId::Settlement,
    CheckId::FoundationBearing,
    CheckId::Punching,
    CheckId::GroundPressure,
    CheckId::Sideways,
    CheckId::Restraint,
    CheckId::PointLost,
];

/// A search takes every ram to stand upright and to bear the horizontal force, so it is held against a verification of such.
fn search(case: &LoadCase, settings: &Settings) -> SizeInput {
    let mut line = support::line::line(case.points.len());
    line.at_points.iter_mut().for_each(|point| point.lean = Some(Angle::ZERO));
    line.restraint = None;
    SizeInput {
        case: case.clone(),
        line,
        settings: settings.clone(),
        rams: yard::rams().into_iter().map(std::sync::Arc::new).collect(),
        packing: yard::pieces(),
        currency: "EUR".into(),
        price: ramwright_engine::defaults::PRICE_TERMS,
        search: support::every_set(),
        supply: None,
    }
}

fn of_candidate(input: &SizeInput, ram: &str, count: u32) -> VerifyInput {
    let ram = input.rams.iter().find(|known| known.id == ram).unwrap();
    VerifyInput {
        case: input.case.clone(),
        set: RamSet::everywhere(ram, count, input.case.points.len()),
        line: input.line.clone(),
        settings: input.settings.clone(),
        packing: input.packing.clone(),
    }
}

fn as_planned(answer: &Verification) -> impl Iterator<Item = &Check> {
    let searched = |check: &&Check| !BEYOND_THE_SEARCH.contains(&check.id);
    answer.checks.iter().filter(|check| check.scenario == Scenario::AsPlanned).filter(searched)
}

/// A summary is the worst of the checks of its name: of the worst status the greatest utilisation. Of the load as a whole
/// there is one for each phase: each is that of a check, and the worst is among them.
#[track_caller]
fn summaries_are_the_worst(summaries: &[CheckSummary], answer: &Verification) {
    for summary in summaries {
        let of_id: Vec<&Check> = as_planned(answer).filter(|check| check.id == summary.id).collect();
        let status = of_id.iter().map(|check| check.status).max().unwrap();
        let of_status = of_id.iter().filter(|check| check.status == status);
        let worst = of_status.filter_map(|check| check.utilisation).reduce(f64::max);
        let is = |summary: &CheckSummary, status: Status, utilisation: Option<f64>| {
            let same = match (summary.utilisation, utilisation) {
                (Some(a), Some(b)) => close(a, b, 1e-9, 0.0),
                (a, b) => a.is_none() && b.is_none(),
            };
            summary.status == status && same
        };
        if of_id.iter().all(|check| check.phase == of_id[0].phase) {
            assert!(is(summary, status, worst), "{summary:?} and not {status:?} {worst:?}");
        } else {
            let mut of_phases = summaries.iter().filter(|other| other.id == summary.id);
            assert!(of_phases.any(|other| is(other, status, worst)), "{summary:?} and nowhere {status:?} {worst:?}");
            assert!(of_id.iter().any(|check| is(summary, check.status, check.utilisation)), "{summary:?}");
        }
    }
}

#[track_caller]
fn option_stands(input: &SizeInput, option: &RamOption) {
    let answer = verify(&of_candidate(input, &option.ram, option.rams_per_point)).unwrap();
    let load_fails = as_planned(&answer).any(|check| check.subject == "load" && check.status == Status::Fail);
    assert_eq!(option.verdict.status == Status::Fail, load_fails, "{option:#?}");
    assert_eq!(option.recommended, option.rank == 1 && !load_fails, "{option:#?}");
    for check in as_planned(&answer) {
        // A load that tips within its tolerances does so on any rams: said by the verdict, not by a refusal.
        assert!(check.status != Status::Fail || check.subject == "load", "{option:#?}\n{check:#?}");
        assert!(
            option.checks.iter().any(|summary| summary.id == check.id),
            "{:?} was left out by the search",
            check.id
        );
    }
    summaries_are_the_worst(&option.checks, &answer);
    // A full yard, a snug fit or a stroke used to its limit does not say how hard a ram is worked.
    let geometry = [CheckId::Stock, CheckId::ClosedHeight, CheckId::Footprint, CheckId::Stroke];
    let of_rams = as_planned(&answer).filter(|check| check.subject != "load" && !geometry.contains(&check.id));
    let greatest = of_rams.filter_map(|check| check.utilisation).fold(0.0, f64::max);
    assert!(close(option.utilisation, greatest, 1e-9, 0.0), "{} and not {greatest}", option.utilisation);
    assert_eq!(option.packing_lifts, answer.sequence.and_then(|sequence| sequence.cycles));
}

#[track_caller]
fn refused_fail(input: &SizeInput, sizing: &Sizing) {
    let mut refused = 0;
    for ram in &input.rams {
        for count in 1..=input.settings.rams_per_point {
            if sizing.options.iter().any(|option| option.ram == ram.id && option.rams_per_point == count) {
                continue;
            }
            refused += 1;
            let answer = verify(&of_candidate(input, &ram.id, count)).unwrap();
            let fails = as_planned(&answer).filter(|check| check.status == Status::Fail && check.subject != "load");
            let named = |check: &Check| sizing.refusals.iter().any(|refusal| refusal.check == check.id);
            assert!(fails.into_iter().any(named), "{} x {count} was refused for nothing", ram.id);
        }
    }
    assert_eq!(sizing.refusals.iter().map(|refusal| refusal.candidates).sum::<u32>(), refused);
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(100))]

    /// Where more weight relieves a support of what level errors or wind put on it, its own checks may get better.
    #[test]
    fn verify_more_load_never_passes_what_less_failed(input in proposals(), factor in 1.0f64..1.6) {
        let heavy = VerifyInput { case: input.case.heavier(factor), ..input.clone() };
        let (light, heavy, relieved) = match (verify(&input), verify(&heavy)) {
            (Ok(light), Ok(after)) => (light, after, relieved(&input, &heavy)),
            _ => return Ok(()),
        };
        // A force whatever the weight is turns a heavier load over less easily; more of it is the next property.
        let actions = &input.case.actions;
        let stated = matches!(actions.horizontal, Horizontal::Stated(_)) || actions.wind.is_some();
        let closes_gaps = can_be_relieved(&input.case, &light.load_shares);
        prop_assert!(closes_gaps || relieved.is_empty(), "{relieved:?}");
        never_better(&light.checks, &heavy.checks, |check| {
            let turns_less = stated && matches!(check.id, CheckId::Tipping | CheckId::RamLost);
            let closes = closes_gaps && check.id == CheckId::Contact;
            !turns_less && !closes
                && !relieved.contains(&check.subject)
        });
    }

    /// A load that may be heavier, but need not be, can do all that the lighter one can: no check gets better, whatever the
    /// contact.
    #[test]
    fn verify_a_load_that_may_be_heavier_never_passes_what_less_failed(input in proposals(), factor in 1.0f64..1.6) {
        let mut heavy = input.clone();
        heavy.case.weight.greatest = input.case.weight.greatest * factor;
        let (Ok(light), Ok(heavy)) = (verify(&input), verify(&heavy)) else { return Ok(()) };
        never_better(&light.checks, &heavy.checks, |_| true);
    }

    /// In the scenario `load_heavier` no ram carries less than as planned, though more weight can relieve a point.
    #[test]
    fn verify_the_heavier_load_relieves_no_point(input in proposals()) {
        let Ok(answer) = verify(&input) else { return Ok(()) };
        let demand = |scenario| -> Vec<f64> {
            let all = answer.checks.iter().filter(|check| check.id == CheckId::Capacity && check.scenario == scenario);
            all.filter_map(|check| check.demand).map(|demand| demand.value_si).collect()
        };
        // The scenario tells of the ram that is worst off, which need not carry most where models are mixed.
        let (planned, heavier) = (demand(Scenario::AsPlanned), demand(Scenario::LoadHeavier));
        prop_assert_eq!(heavier.len(), usize::from(!planned.is_empty()));
        let rounding = 1e-7 * input.case.weight.greatest.n();
        let mixed = input.set.single_model().is_none();
        prop_assert!(mixed || planned.iter().all(|a| *a <= heavier[0] + rounding), "{planned:?} {heavier:?}");
    }

    #[test]
    fn verify_more_horizontal_force_never_passes_what_less_failed(
        input in proposals(), less in 0.0f64..40.0, more in 0.0f64..80.0,
    ) {
        let (small, great) = (with_force(&input, kn(less)), with_force(&input, kn(less + more)));
        let (Ok(small), Ok(great)) = (verify(&small), verify(&great)) else { return Ok(()) };
        // Less than 2.5 % of the weight is a caution of its own.
        never_better(&small.checks, &great.checks, |check| check.id != CheckId::HorizontalForce);
    }

    #[test]
    fn verify_more_rams_side_by_side_never_lower_capacity(input in proposals(), count in 1u32..5) {
        let (few, many) = (with_count(&input, count), with_count(&input, count + 1));
        let (Ok(few), Ok(many)) = (verify(&few), verify(&many)) else { return Ok(()) };
        let on_force = |check: &Check| matches!(check.id, CheckId::Capacity | CheckId::SideLoad | CheckId::JackingPointLimit);
        never_better(&many.checks, &few.checks, on_force);
    }

    #[test]
    fn verify_more_clearance_never_fails_closed_height(input in proposals(), by in 0.0f64..300.0) {
        let (Ok(low), Ok(high)) = (verify(&input), verify(&higher(&input, mm(by)))) else { return Ok(()) };
        never_better(&high.checks, &low.checks, |check| check.id == CheckId::ClosedHeight);
    }

    #[test]
    fn verify_a_lower_working_limit_never_passes_more(input in proposals(), part in 0.3f64..1.0) {
        let less = Settings { capacity_limit: input.settings.capacity_limit * part, ..input.settings.clone() };
        let strict = VerifyInput { settings: less, ..input.clone() };
        let (Ok(lenient), Ok(strict)) = (verify(&input), verify(&strict)) else { return Ok(()) };
        let failed = |answer: &Verification| -> Vec<bool> {
            answer.checks.iter().map(|check| check.status == Status::Fail).collect()
        };
        for (before, after) in failed(&lenient).into_iter().zip(failed(&strict)) {
            prop_assert!(after || !before);
        }
    }

    #[test]
    fn verify_a_missing_input_is_not_checked(input in proposals(), ram in any_ram(), count in 1u32..3) {
        let mut unknown = input.clone();
        unknown.set = RamSet::everywhere(&ram, count, input.case.points.len());
        for (point, placed) in unknown.case.points.iter_mut().zip(&mut unknown.set.at_points) {
            (point.limit, point.foundation_limit, point.pad, point.clearance) = (None, None, None, None);
            (placed.ram.side_load_limit_ratio, placed.ram.stock, placed.ram.plunger_diameter) = (None, None, None);
        }
        let Ok(answer) = verify(&unknown) else { return Ok(()) };
        prop_assert!(answer.verdict.status != Status::Pass && answer.verdict.status != Status::Caution);
        for check in as_planned(&answer).filter(|check| needs_what_is_missing(check.id, input.case.task)) {
            prop_assert_eq!(check.status, Status::NotChecked, "{:?}", check);
            prop_assert!(!check.missing.is_empty());
        }
    }
}

fn needs_what_is_missing(id: CheckId, task: Task) -> bool {
    match id {
        CheckId::ClosedHeight
        | CheckId::Stroke
        | CheckId::Footprint
        | CheckId::Stock
        | CheckId::JackingPointLimit
        | CheckId::FoundationLimit => true,
        CheckId::Stability => task != Task::Pull,
        CheckId::SideLoad | CheckId::Holding => task == Task::Raise,
        _ => false,
    }
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(30))]

    #[test]
    fn verify_what_size_finds_stands_and_what_it_refuses_fails(case in load_cases()) {
        let input = search(&case, &settings());
        let Ok(sizing) = size_ram_set(&input, effort()) else { return Ok(()) };
        let options = u32::try_from(sizing.options.len()).unwrap();
        prop_assert_eq!(sizing.candidates, options + sizing.refusals.iter().map(|refusal| refusal.candidates).sum::<u32>());
        sizing.options.iter().for_each(|option| option_stands(&input, option));
        refused_fail(&input, &sizing);
    }
}

/// The properties above would hold of searches that find nothing, too.
#[test]
fn verify_a_search_finds_and_refuses() {
    let case = support::placed(kn(600.0), &[(0.0, 0.0), (6.0, 0.0), (3.0, 5.0)], (3.0, 1.7));
    let input = search(&case, &settings());
    let sizing = size_ram_set(&input, effort()).unwrap();
    assert!(2 <= sizing.options.len() && 2 <= sizing.refusals.len(), "{sizing:#?}");
    sizing.options.iter().for_each(|option| option_stands(&input, option));
    refused_fail(&input, &sizing);
}
