//! Every set of a yard, verified one after the other.

use super::support::{self, effort, settings, verify, yard};
use ramwright_engine::Effort;
use ramwright_engine::check::{Check, CheckId, Status};
use ramwright_engine::load::LoadCase;
use ramwright_engine::ram::Ram;
use ramwright_engine::size::{Assignment, Budget, RamOption, SearchTerms, SizeInput, Sizing, size_ram_set};
use ramwright_engine::verify::{PlacedRams, RamSet, Verification, VerifyInput, verify_ram_set};
use std::collections::{BTreeMap, BTreeSet};
use std::sync::Arc;

/// A set as rams by id and their numbers at each point.
pub(crate) type Stands = Vec<(String, u32)>;

pub(crate) fn input(case: LoadCase, rams: Vec<Ram>) -> SizeInput {
    SizeInput {
        line: support::line::line(case.points.len()),
        case,
        settings: settings(),
        search: support::every_set(),
        supply: None,
        price: ramwright_engine::defaults::PRICE_TERMS,
        rams: rams.into_iter().map(Arc::new).collect(),
        packing: yard::pieces(),
        currency: "EUR".into(),
    }
}

/// The same search with so many options.
pub(crate) fn listing(input: &SizeInput, options: usize) -> SizeInput {
    SizeInput { search: SearchTerms { options, ..input.search.clone() }, ..input.clone() }
}

pub(crate) fn sized(input: &SizeInput) -> Option<Sizing> {
    size_ram_set(input, effort()).ok()
}

pub(crate) fn stands(option: &RamOption) -> Stands {
    option.at_points.iter().map(|at| (at.ram.clone(), at.count)).collect()
}

pub(crate) fn proposal(input: &SizeInput, stands: &Stands) -> VerifyInput {
    let ram = |id: &str| Arc::clone(input.rams.iter().find(|ram| ram.id == id).unwrap());
    VerifyInput {
        case: input.case.clone(),
        set: RamSet {
            at_points: stands.iter().map(|(id, count)| PlacedRams { ram: ram(id), count: *count }).collect(),
        },
        line: input.line.clone(),
        settings: input.settings.clone(),
        packing: input.packing.clone(),
        site: None,
    }
}

/// Whether a check refuses a set: not if it looks at the case alone, which no rams cure.
pub(crate) fn refuses(check: &Check) -> bool {
    let of_case =
        check.subject == "load" || matches!(check.id, CheckId::Restraint | CheckId::Settings | CheckId::Phases);
    check.status == Status::Fail && !of_case
}

fn combinations(choices: &[(String, u32)], points: usize) -> Vec<Stands> {
    (0..points).fold(vec![Vec::new()], |sets, _| {
        sets.iter()
            .flat_map(|set| choices.iter().map(move |choice| [set.clone(), vec![choice.clone()]].concat()))
            .collect()
    })
}

/// Every set that comes into question.
pub(crate) fn all_sets(input: &SizeInput) -> Vec<Stands> {
    let points = input.case.points.len();
    let of = |ram: &Arc<Ram>| (1..=input.settings.rams_per_point).map(|n| (ram.id.clone(), n)).collect::<Vec<_>>();
    match input.search.assignment {
        Assignment::Uniform => input.rams.iter().flat_map(of).map(|choice| vec![choice; points]).collect(),
        Assignment::ByPoint => input.rams.iter().flat_map(|ram| combinations(&of(ram), points)).collect(),
        Assignment::Mixed => combinations(&input.rams.iter().flat_map(of).collect::<Vec<_>>(), points),
    }
}

/// The sets that no check refuses, each with its verification; nothing if the load has no equilibrium.
pub(crate) fn enumerated(input: &SizeInput) -> Option<BTreeMap<Stands, Verification>> {
    enumerated_with(input, effort())
}

pub(crate) fn enumerated_with(input: &SizeInput, effort: Effort<'_>) -> Option<BTreeMap<Stands, Verification>> {
    let mut found = BTreeMap::new();
    for stands in all_sets(input) {
        let answer = verify_ram_set(&proposal(input, &stands), effort).ok()?;
        if !answer.checks.iter().any(refuses) {
            found.insert(stands, answer);
        }
    }
    Some(found)
}

/// The verdict is that of the verification; what the request allows is counted beside it, and makes it no better.
#[track_caller]
fn verdict_stands(input: &SizeInput, option: &RamOption, answer: &Verification) {
    if input.search.budget == Budget::default() {
        assert_eq!(option.verdict, answer.verdict, "{}", option.set);
        return;
    }
    let budget = option.checks.iter().find(|check| check.id == CheckId::Budget).unwrap();
    assert_eq!(option.verdict.status, answer.verdict.status.max(budget.status), "{}", option.set);
    let (with, without) = (option.verdict.counts, answer.verdict.counts);
    let limits = &input.search.budget;
    let asked = [limits.rams.is_some(), limits.ram_mass.is_some(), limits.hire.is_some()];
    let asked: u32 = asked.into_iter().map(u32::from).sum();
    assert_eq!((with.fail, with.caution), (without.fail, without.caution), "{}", option.set);
    assert_eq!(with.pass + with.not_checked, without.pass + without.not_checked + asked, "{}", option.set);
}

/// All that a search lists must hold of itself: places, verdicts, one recommendation, and a verification that says the same.
#[track_caller]
pub(crate) fn holds_by_itself(input: &SizeInput, sizing: &Sizing) {
    for (place, option) in (1u32..).zip(&sizing.options) {
        assert_eq!(option.rank, place);
        assert_eq!(option.recommended, place == 1 && option.verdict.status != Status::Fail);
        let answer = verify(&proposal(input, &stands(option))).unwrap();
        verdict_stands(input, option, &answer);
        assert!(!answer.checks.iter().any(refuses), "{}", option.set);
        assert_eq!(option.rams, option.at_points.iter().fold(0u32, |sum, at| sum.saturating_add(at.count)));
    }
    assert_eq!(sizing.reason.is_some(), sizing.options.first().is_some_and(|best| best.recommended));
    let models: BTreeSet<&str> = sizing.options.iter().flat_map(|o| &o.models).map(|model| &*model.ram).collect();
    let refused: u32 = sizing.refusals.iter().map(|refusal| refusal.models).sum();
    assert_eq!(sizing.models_refused, refused);
    for ram in refused_models(sizing) {
        assert!(!models.contains(ram), "{ram} is both listed and refused");
    }
}

/// The models that are refused by name.
pub(crate) fn refused_models(sizing: &Sizing) -> BTreeSet<&str> {
    let named = sizing.refusals.iter().flat_map(|refusal| std::iter::once(&refusal.nearest).chain(&refusal.others));
    named.map(|miss| &*miss.ram).collect()
}
