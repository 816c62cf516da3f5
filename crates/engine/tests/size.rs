//! The search beside plain enumeration: every set of a yard verified one after the other, by nothing but `verify_ram_set`.
//!
//! No source is needed: both must find the same sets, and what no other set beats is told by comparing all with all.

#![allow(
    clippy::unwrap_used,
    clippy::panic,
    clippy::indexing_slicing,
    reason = "tests stop at what they do not expect"
)]

mod support;

use proptest::prelude::*;
use proptest::strategy::ValueTree;
use proptest::test_runner::TestRunner;
use ramwright_engine::check::{Check, CheckId, Status};
use ramwright_engine::load::{LoadCase, Task};
use ramwright_engine::price::{HireItem, ItemKind, hire_total};
use ramwright_engine::ram::Ram;
use ramwright_engine::size::{Assignment, Budget, Objective, RamOption, SearchTerms, SizeInput, Sizing, size_ram_set};
use ramwright_engine::verify::{PlacedRams, RamSet, Verification, VerifyInput};
use ramwright_units::{Angle, OilPressure, PieceMass};
use std::collections::{BTreeMap, BTreeSet};
use std::sync::Arc;
use support::cases::load_cases;
use support::{effort, kn, mm, placed, settings, verify, yard};

/// A set as rams by id and their numbers at each point.
type Stands = Vec<(String, u32)>;

/// What a verification says of a set, and the figures by which it is compared, worked out here.
struct Seen {
    status: Status,
    figures: BTreeMap<Objective, f64>,
}

fn input(case: LoadCase, rams: Vec<Ram>) -> SizeInput {
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

fn proposal(input: &SizeInput, stands: &Stands) -> VerifyInput {
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

/// Whether a check looks at the case alone, so that it refuses no set.
fn is_of_case(check: &Check) -> bool {
    check.subject == "load" || matches!(check.id, CheckId::Restraint | CheckId::Settings | CheckId::Phases)
}

fn figures(input: &SizeInput, stands: &Stands, answer: &Verification) -> BTreeMap<Objective, f64> {
    let ram = |id: &str| input.rams.iter().find(|ram| ram.id == id).unwrap();
    let mut counts: BTreeMap<&str, u32> = BTreeMap::new();
    for (id, count) in stands {
        *counts.entry(id).or_insert(0) += count;
    }
    let all = |figure: &dyn Fn(&Ram) -> Option<f64>| -> f64 {
        let each = counts.iter().map(|(id, count)| Some(figure(ram(id))? * f64::from(*count)));
        each.sum::<Option<f64>>().unwrap_or(f64::MAX)
    };
    let items: Vec<HireItem<'_>> = counts
        .iter()
        .map(|(id, count)| HireItem {
            what: ItemKind::Ram,
            id,
            count: *count,
            day_rate: ram(id).day_rate,
            week_rate: ram(id).week_rate,
        })
        .collect();
    let forces = answer.checks.iter().filter(|check| check.subject != "load" && check.id.measures_load());
    let lifts = match input.case.task {
        Task::Raise => answer.sequence.as_ref().and_then(|found| found.cycles).map_or(f64::MAX, f64::from),
        Task::Press | Task::Pull => 0.0,
    };
    BTreeMap::from([
        (Objective::Rams, stands.iter().map(|(_, count)| f64::from(*count)).sum()),
        (Objective::PackingLifts, lifts),
        (Objective::Cost, hire_total(&input.price, &items).unwrap_or(f64::MAX)),
        (Objective::Mass, all(&|ram| ram.mass.map(PieceMass::kg))),
        (Objective::Utilisation, forces.filter_map(|check| check.utilisation).fold(0.0, f64::max)),
        (Objective::Time, f64::MAX),
    ])
}

/// Every combination of so many choices at so many points.
fn combinations(choices: &[(String, u32)], points: usize) -> Vec<Stands> {
    (0..points).fold(vec![Vec::new()], |sets, _| {
        sets.iter()
            .flat_map(|set| choices.iter().map(move |choice| [set.clone(), vec![choice.clone()]].concat()))
            .collect()
    })
}

/// Every set that comes into question.
fn all_sets(input: &SizeInput) -> Vec<Stands> {
    let points = input.case.points.len();
    let counts = 1..=input.settings.rams_per_point;
    let of = |ram: &Arc<Ram>| counts.clone().map(|count| (ram.id.clone(), count)).collect::<Vec<_>>();
    match input.search.assignment {
        Assignment::Uniform => input.rams.iter().flat_map(of).map(|choice| vec![choice; points]).collect(),
        Assignment::ByPoint => input.rams.iter().flat_map(|ram| combinations(&of(ram), points)).collect(),
        Assignment::Mixed => combinations(&input.rams.iter().flat_map(of).collect::<Vec<_>>(), points),
    }
}

/// The sets that no check refuses, by plain enumeration; nothing if the load has no equilibrium.
fn enumerated(input: &SizeInput) -> Option<BTreeMap<Stands, Seen>> {
    let mut found = BTreeMap::new();
    for stands in all_sets(input) {
        let answer = verify(&proposal(input, &stands)).ok()?;
        let refused = answer.checks.iter().any(|check| check.status == Status::Fail && !is_of_case(check));
        if !refused {
            let figures = figures(input, &stands, &answer);
            found.insert(stands, Seen { status: answer.verdict.status, figures });
        }
    }
    Some(found)
}

fn stands(option: &RamOption) -> Stands {
    option.at_points.iter().map(|at| (at.ram.clone(), at.count)).collect()
}

/// Nearer than this counts as equal, as the search rounds to nine digits.
fn less(a: f64, b: f64) -> bool {
    a < b - 2e-9 * a.abs().max(b.abs())
}

fn beats(a: &Seen, b: &Seen, objectives: &[Objective]) -> bool {
    let better = |objective: &Objective| less(a.figures[objective], b.figures[objective]);
    let worse = |objective: &Objective| less(b.figures[objective], a.figures[objective]);
    a.status <= b.status && !objectives.iter().any(worse) && (a.status < b.status || objectives.iter().any(better))
}

fn pareto(found: &BTreeMap<Stands, Seen>, objectives: &[Objective]) -> BTreeSet<Stands> {
    let unbeaten = |seen: &Seen| !found.values().any(|other| beats(other, seen, objectives));
    found.iter().filter(|(_, seen)| unbeaten(seen)).map(|(stands, _)| stands.clone()).collect()
}

/// The search finds just what enumeration finds, marks just what no other beats, and lists the same with fewer options.
#[track_caller]
fn same_as_enumerated(input: &SizeInput) -> usize {
    let Some(expected) = enumerated(input) else {
        assert!(size_ram_set(input, effort()).is_err());
        return 0;
    };
    let whole = size_ram_set(input, effort()).unwrap();
    let found: BTreeSet<Stands> = whole.options.iter().map(stands).collect();
    assert_eq!(found, expected.keys().cloned().collect(), "{:?}", input.search);
    assert!(whole.complete);
    let marked: BTreeSet<Stands> = whole.options.iter().filter(|option| option.pareto).map(stands).collect();
    assert_eq!(marked, pareto(&expected, &input.search.objectives), "{:?}", input.search);
    for option in &whole.options {
        let seen = &expected[&stands(option)];
        assert_eq!(option.verdict.status, seen.status);
    }
    for pair in whole.options.windows(2) {
        assert!(!ranks_before(&expected[&stands(&pair[1])], &expected[&stands(&pair[0])], &input.search.objectives));
    }
    for options in [0, 1, 3] {
        listed_alike(input, &whole, options);
    }
    whole.options.len()
}

/// Verdict first, then the named objectives one after the other.
fn ranks_before(a: &Seen, b: &Seen, objectives: &[Objective]) -> bool {
    if a.status != b.status {
        return a.status < b.status;
    }
    let differs = objectives.iter().find(|o| less(a.figures[o], b.figures[o]) || less(b.figures[o], a.figures[o]));
    differs.is_some_and(|objective| less(a.figures[objective], b.figures[objective]))
}

/// A search that lists few leaves sets out on the way, and lists what it would have listed of all.
#[track_caller]
fn listed_alike(input: &SizeInput, whole: &Sizing, options: usize) {
    let few = SizeInput { search: SearchTerms { options, ..input.search.clone() }, ..input.clone() };
    let few = size_ram_set(&few, effort()).unwrap();
    let expected: Vec<(Stands, bool)> = whole
        .options
        .iter()
        .enumerate()
        .filter(|(index, option)| *index < options || option.pareto)
        .map(|(_, option)| (stands(option), option.pareto))
        .collect();
    let listed: Vec<(Stands, bool)> = few.options.iter().map(|option| (stands(option), option.pareto)).collect();
    assert_eq!(listed, expected, "{options} options, {:?}", few.passed_over);
}

/// Named objectives in many orders.
fn objectives() -> impl Strategy<Value = Vec<Objective>> {
    proptest::sample::subsequence(Objective::ALL.to_vec(), 1..=6).prop_shuffle()
}

/// Twenty cases of every task, one stroke and packing lifts, what is known and what is not, in a yard of eight models.
#[test]
fn verify_twenty_cases_beside_plain_enumeration() {
    let mut runner = TestRunner::deterministic();
    let (mut cases, mut sets) = (0, 0);
    while cases < 20 {
        let case = load_cases().new_tree(&mut runner).unwrap().current();
        let objectives = objectives().new_tree(&mut runner).unwrap().current();
        let mut input = input(case, wider_yard());
        input.search.objectives = objectives;
        let found = same_as_enumerated(&input);
        // Cases in which nothing is found compare little; some of them are wanted, too.
        cases += u32::from(0 < found || cases % 5 == 0);
        sets += found;
    }
    assert!(50 <= sets, "{sets} sets found in all");
}

/// Eight models, two of which are equal but for their names.
fn wider_yard() -> Vec<Ram> {
    let mut rams = yard::rams();
    rams.extend([
        yard::ram("oak-20", 20.0, 90.0, 150.0),
        yard::ram("oak-35", 35.0, 150.0, 210.0),
        Ram { stock: None, mass: None, ..yard::ram("oak-50", 50.0, 60.0, 170.0) },
        Ram { day_rate: None, week_rate: None, ..yard::ram("oak-95", 95.0, 160.0, 280.0) },
    ]);
    rams.sort_by(|a, b| a.id.cmp(&b.id));
    rams
}

/// Three points that carry unlike shares.
fn uneven() -> LoadCase {
    placed(kn(620.0), &[(0.0, 0.0), (6.0, 0.0), (3.0, 5.0)], (1.9, 1.2))
}

#[test]
fn verify_numbers_by_point_beside_plain_enumeration() {
    let mut input = input(uneven(), yard::rams());
    input.search.assignment = Assignment::ByPoint;
    assert!(5 < same_as_enumerated(&input));
    // Fewer rams where less is carried: what the same number everywhere cannot do.
    let best = &size_ram_set(&input, effort()).unwrap().options[0];
    input.search.assignment = Assignment::Uniform;
    let uniform = &size_ram_set(&input, effort()).unwrap().options[0];
    assert!(best.rams <= uniform.rams);
}

#[test]
fn verify_mixed_models_beside_plain_enumeration() {
    for travel in [20.0, 140.0] {
        let mut input = input(uneven(), wider_yard()[..4].to_vec());
        input.case.travel = mm(travel);
        input.settings.rams_per_point = 2;
        input.search.assignment = Assignment::Mixed;
        input.search.objectives = vec![Objective::Cost, Objective::Mass];
        assert!(0 < same_as_enumerated(&input));
    }
    // In a frame nothing is packed, so that several models can do as well as one.
    let mut pressed = input(LoadCase { task: Task::Press, ..uneven() }, wider_yard()[..4].to_vec());
    pressed.settings.rams_per_point = 2;
    pressed.search.assignment = Assignment::Mixed;
    same_as_enumerated(&pressed);
}

fn found_sets(input: &SizeInput) -> Option<BTreeSet<String>> {
    Some(size_ram_set(input, effort()).ok()?.options.iter().map(|option| option.set.clone()).collect())
}

fn with_rams(input: &SizeInput, change: impl Fn(&mut Ram)) -> SizeInput {
    let mut other = input.clone();
    other.rams.iter_mut().for_each(|ram| change(Arc::make_mut(ram)));
    other
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(25))]

    #[test]
    fn verify_more_stock_never_shrinks_what_is_found(case in load_cases(), stock in 0u32..12, more in 0u32..12) {
        let few = with_rams(&input(case, yard::rams()), |ram| ram.stock = Some(stock));
        let many = with_rams(&few, |ram| ram.stock = Some(stock + more));
        if let (Some(few), Some(many)) = (found_sets(&few), found_sets(&many)) {
            prop_assert!(few.is_subset(&many), "{few:?} {many:?}");
        }
    }

    /// With an open return line: where it can be blocked, more pressure is more pressure in the annulus.
    #[test]
    fn verify_more_pressure_never_shrinks_what_is_found(case in load_cases(), factor in 1.0f64..1.3) {
        let less = input(case, yard::rams());
        let more = with_rams(&less, |ram| {
            ram.rated_pressure = OilPressure::from_bar(ram.rated_pressure.bar() * factor);
        });
        if let (Some(less), Some(more)) = (found_sets(&less), found_sets(&more)) {
            prop_assert!(less.is_subset(&more), "{less:?} {more:?}");
        }
    }

    /// A ram goes in as well under a higher load. Whether it reaches is another question: see the next test.
    #[test]
    fn verify_more_clearance_never_refuses_by_closed_height(case in load_cases(), by in 0.0f64..200.0) {
        let low = input(case, yard::rams());
        let mut high = low.clone();
        for point in &mut high.case.points {
            point.clearance = point.clearance.map(|clearance| clearance + mm(by));
        }
        let refused = |input: &SizeInput| -> Option<BTreeSet<String>> {
            let sizing = size_ram_set(input, effort()).ok()?;
            let by_height = sizing.refusals.into_iter().filter(|refusal| refusal.check == CheckId::ClosedHeight);
            Some(by_height.flat_map(|r| std::iter::once(r.nearest).chain(r.others)).map(|miss| miss.ram).collect())
        };
        if let (Some(low), Some(high)) = (refused(&low), refused(&high)) {
            prop_assert!(high.is_subset(&low), "{low:?} {high:?}");
        }
    }
}

/// More clearance can shrink what is found: a ram that goes in no longer reaches the load, and no piece makes the difference.
#[test]
fn verify_more_clearance_can_leave_a_ram_too_short() {
    let mut near = input(uneven(), vec![yard::small_ram()]);
    near.packing.clear();
    near.case.task = Task::Press;
    let with_clearance = |height: f64| {
        let mut case = near.clone();
        case.case.points.iter_mut().for_each(|point| point.clearance = Some(mm(height)));
        found_sets(&case).unwrap()
    };
    assert!(!with_clearance(260.0).is_empty());
    assert!(with_clearance(500.0).is_empty());
}

/// Five hundred lifts: what is recommended stands in a verification as it is, word for word.
#[test]
fn verify_five_hundred_recommended_sets_pass_verification_unchanged() {
    let mut runner = TestRunner::deterministic();
    let mut recommended = 0;
    for number in 0..500 {
        let case = load_cases().new_tree(&mut runner).unwrap().current();
        let assignment = if number % 3 == 0 { Assignment::ByPoint } else { Assignment::Uniform };
        let mut input = input(case, yard::rams());
        input.search = SearchTerms { assignment, options: 3, ..input.search };
        let Ok(sizing) = size_ram_set(&input, effort()) else { continue };
        let Some(best) = sizing.options.first().filter(|option| option.recommended) else { continue };
        let answer = verify(&proposal(&input, &stands(best))).unwrap();
        assert_ne!(answer.verdict.status, Status::Fail);
        assert_eq!(best.verdict, answer.verdict);
        assert!(sizing.reason.is_some());
        recommended += 1;
    }
    assert!(100 <= recommended, "{recommended} of 500 had a set to recommend");
}

#[test]
fn verify_a_budget_refuses_what_is_over_it() {
    let base = input(uneven(), yard::rams());
    let all = size_ram_set(&base, effort()).unwrap();
    let with = |budget: Budget| {
        let search = SearchTerms { budget, ..base.search.clone() };
        size_ram_set(&SizeInput { search, ..base.clone() }, effort()).unwrap()
    };
    let few = with(Budget { rams: Some(3), ..Budget::default() });
    let light = with(Budget { ram_mass: Some(PieceMass::from_kg(60.0)), ..Budget::default() });
    let hires: Vec<f64> = all.options.iter().map(|option| option.hire.as_ref().unwrap().amount).collect();
    let middle = hires.iter().sum::<f64>() / f64::from(u32::try_from(hires.len()).unwrap());
    let cheap = with(Budget { hire: Some(middle), ..Budget::default() });
    let within = |kept: &dyn Fn(&RamOption) -> bool| -> BTreeSet<String> {
        all.options.iter().filter(|option| kept(option)).map(|option| option.set.clone()).collect()
    };
    let sets =
        |sizing: &Sizing| -> BTreeSet<String> { sizing.options.iter().map(|option| option.set.clone()).collect() };
    assert_eq!(sets(&few), within(&|option| option.rams <= 3));
    assert_eq!(sets(&light), within(&|option| option.mass.unwrap().kg() <= 60.0 * f64::from(option.rams)));
    assert_eq!(sets(&cheap), within(&|option| option.hire.as_ref().unwrap().amount <= middle));
    for sizing in [&few, &light, &cheap] {
        assert!(sizing.options.len() < all.options.len() && !sizing.options.is_empty());
    }
    // Three points take three rams at least: what else would do is refused by the budget.
    let none = with(Budget { rams: Some(2), ..Budget::default() });
    assert!(none.options.is_empty() && none.reason.is_none());
    let refused: u32 = none.refusals.iter().filter(|r| r.check == CheckId::Budget).map(|r| r.models).sum();
    let found: BTreeSet<&str> = all.options.iter().map(|option| option.models[0].ram.as_str()).collect();
    assert!(found.len() <= usize::try_from(refused).unwrap(), "{:?}", none.refusals);
}

/// What the catalogue does not state of a figure that the budget limits is no pass.
#[test]
fn verify_a_budget_of_what_is_not_known_is_not_checked() {
    let unknown = |budget: Budget| {
        let mut input = input(uneven(), yard::rams());
        input.rams.iter_mut().for_each(|ram| {
            let ram = Arc::make_mut(ram);
            (ram.mass, ram.day_rate, ram.week_rate) = (None, None, None);
            ram.saddle_tilt_limit = Some(Angle::from_deg(4.0));
        });
        input.search.budget = budget;
        size_ram_set(&input, effort()).unwrap().options
    };
    assert!(unknown(Budget::default()).iter().any(|option| option.verdict.status < Status::NotChecked));
    for budget in [
        Budget { ram_mass: Some(PieceMass::from_kg(1e6)), ..Budget::default() },
        Budget { hire: Some(1e9), ..Budget::default() },
    ] {
        let options = unknown(budget);
        assert!(!options.is_empty() && options.iter().all(|option| option.verdict.status == Status::NotChecked));
    }
}

/// The number in the words of a nearest miss.
fn number_in(text: &str, before: &str) -> f64 {
    let words: Vec<&str> = text.split(&[' ', ',', ';'][..]).collect();
    let at = words.iter().position(|word| *word == before).unwrap();
    words[at + 1].parse().unwrap()
}

/// The nearest misses say by how much: so much more is admitted, a little less is not.
#[test]
fn verify_the_change_that_would_admit_a_model_admits_it() {
    let mut low = input(uneven(), yard::rams());
    low.case.points.iter_mut().for_each(|point| point.clearance = Some(mm(200.0)));
    let misses = |input: &SizeInput, check: CheckId| -> BTreeMap<String, String> {
        let sizing = size_ram_set(input, effort()).unwrap();
        let of = sizing.refusals.into_iter().filter(|refusal| refusal.check == check);
        of.flat_map(|r| std::iter::once(r.nearest).chain(r.others)).map(|m| (m.ram, m.would_pass.to_string())).collect()
    };
    let refused = misses(&low, CheckId::ClosedHeight);
    assert!(!refused.is_empty());
    for (ram, text) in refused {
        let needed = number_in(&text, "needs");
        for (more, admits) in [(needed, true), (needed - 0.2, false)] {
            let mut higher = low.clone();
            higher.case.points.iter_mut().for_each(|point| point.clearance = Some(mm(200.0 + more)));
            assert_eq!(!misses(&higher, CheckId::ClosedHeight).contains_key(&ram), admits, "{ram}: {text}");
        }
    }
    let mut strict = input(uneven(), yard::rams());
    strict.settings.capacity_limit = 0.5;
    strict.settings.rams_per_point = 1;
    let refused = misses(&strict, CheckId::Capacity);
    let limited: Vec<_> = refused.iter().filter(|(_, text)| text.starts_with("passes at")).collect();
    assert!(!limited.is_empty(), "{refused:?}");
    for (ram, text) in limited {
        let limit = number_in(text, "of");
        for (limit, admits) in [(limit, true), (limit - 0.002, false)] {
            let mut other = strict.clone();
            other.settings.capacity_limit = limit;
            assert_eq!(!misses(&other, CheckId::Capacity).contains_key(ram), admits, "{ram}: {text}");
        }
    }
}
