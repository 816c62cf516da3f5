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
use ramwright_units::{Force, Length};
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

fn search(case: &LoadCase, settings: &Settings) -> SizeInput {
    SizeInput {
        case: case.clone(),
        line: support::line::line(case.points.len()),
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
        site: None,
    }
}

fn as_planned(answer: &Verification) -> impl Iterator<Item = &Check> {
    answer.checks.iter().filter(|check| check.scenario == Scenario::AsPlanned)
}

/// Whether a check looks at the case alone: no rams cure it, so that it refuses none.
fn is_of_case(check: &Check) -> bool {
    check.subject == "load" || matches!(check.id, CheckId::Restraint | CheckId::Settings | CheckId::Phases)
}

/// A summary is the worst of all checks of its name, in every scenario: of the worst status the greatest utilisation.
#[track_caller]
fn summaries_are_the_worst(summaries: &[CheckSummary], answer: &Verification) {
    for summary in summaries {
        let of_id: Vec<&Check> = answer.checks.iter().filter(|check| check.id == summary.id).collect();
        let status = of_id.iter().map(|check| check.status).max().unwrap();
        let of_status = of_id.iter().filter(|check| check.status == status);
        let worst = of_status.filter_map(|check| check.utilisation).reduce(f64::max);
        // What has no utilisation is no worse than one of nothing.
        let same = close(summary.utilisation.unwrap_or(0.0), worst.unwrap_or(0.0), 1e-9, 0.0);
        assert!(summary.status == status && same, "{summary:?} and not {status:?} {worst:?}");
        let told = |check: &Check| (&check.subject, check.scenario) == (&summary.subject, summary.scenario);
        assert!(of_id.iter().any(|check| told(check) && check.status == status), "{summary:?}");
    }
    for check in &answer.checks {
        assert!(summaries.iter().any(|summary| summary.id == check.id), "{:?} was left out by the search", check.id);
    }
}

#[track_caller]
fn option_stands(input: &SizeInput, option: &RamOption) {
    let answer = verify(&of_candidate(input, &option.models[0].ram, option.rams_per_point().unwrap())).unwrap();
    assert_eq!(option.verdict, answer.verdict);
    assert_eq!(option.recommended, option.rank == 1 && option.verdict.status != Status::Fail, "{option:#?}");
    for check in &answer.checks {
        assert!(check.status != Status::Fail || is_of_case(check), "{option:#?}\n{check:#?}");
    }
    summaries_are_the_worst(&option.checks, &answer);
    // A full yard, a snug fit or a stroke used to its limit does not say how hard a ram is worked.
    let of_rams = answer.checks.iter().filter(|check| check.subject != "load" && check.id.measures_load());
    let greatest = of_rams.filter_map(|check| check.utilisation).fold(0.0, f64::max);
    assert!(close(option.utilisation, greatest, 1e-9, 0.0), "{} and not {greatest}", option.utilisation);
    assert_eq!(option.packing_lifts, answer.sequence.and_then(|sequence| sequence.cycles));
}

/// A model of which no set was found is refused once, by a check that it fails.
#[track_caller]
fn refused_fail(input: &SizeInput, sizing: &Sizing) {
    let found = |id: &str| sizing.options.iter().any(|option| option.models[0].ram == id);
    for ram in &input.rams {
        let named: Vec<_> = sizing
            .refusals
            .iter()
            .flat_map(|refusal| {
                std::iter::once(&refusal.nearest).chain(&refusal.others).map(|miss| (refusal.check, miss))
            })
            .filter(|(_, miss)| miss.ram == ram.id)
            .collect();
        assert_eq!(named.len(), usize::from(!found(&ram.id)), "{}", ram.id);
        for (check, miss) in named {
            let answer = verify(&of_candidate(input, &ram.id, miss.rams_per_point)).unwrap();
            let fails = answer.checks.iter().any(|c| c.id == check && c.status == Status::Fail && !is_of_case(c));
            assert!(fails, "{} x {} was refused for nothing: {check:?}", miss.rams_per_point, ram.id);
        }
        for count in 1..=input.settings.rams_per_point {
            if !sizing.options.iter().any(|o| o.models[0].ram == ram.id && o.rams_per_point() == Some(count)) {
                let answer = verify(&of_candidate(input, &ram.id, count)).unwrap();
                let refused = answer.checks.iter().any(|c| c.status == Status::Fail && !is_of_case(c));
                assert!(refused, "{} x {count} was left out for nothing", ram.id);
            }
        }
    }
    assert_eq!(sizing.refusals.iter().map(|refusal| refusal.models).sum::<u32>(), sizing.models_refused);
    assert!(sizing.complete && sizing.passed_over == 0);
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
            let ram = std::sync::Arc::make_mut(&mut placed.ram);
            (ram.side_load_limit_ratio, ram.stock, ram.plunger_diameter) = (None, None, None);
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
        prop_assert_eq!(usize::try_from(sizing.found).unwrap(), sizing.options.len());
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
    assert!(2 <= sizing.options.len() && 2 <= sizing.models_refused, "{sizing:#?}");
    sizing.options.iter().for_each(|option| option_stands(&input, option));
    refused_fail(&input, &sizing);
}
