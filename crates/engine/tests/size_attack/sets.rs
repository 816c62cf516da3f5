//! What is found, listed and refused, whatever the yard.

use super::beside::{
    Stands, all_sets, enumerated, enumerated_with, holds_by_itself, input, listing, refused_models, sized, stands,
};
use super::support::{cases::load_cases, exactly, kn, mm, placed, settings, yard};
use super::yards::{new_name, renamed, yards};
use proptest::prelude::*;
use ramwright_engine::Effort;
use ramwright_engine::load::{LoadCase, Sharing, Task};
use ramwright_engine::ram::Ram;
use ramwright_engine::size::{Assignment, Objective, RamOption, SizeInput, Sizing, size_ram_set};
use ramwright_units::Range;
use std::collections::BTreeSet;
use std::sync::Arc;
use std::sync::atomic::AtomicBool;

static NEVER: AtomicBool = AtomicBool::new(false);
static NOW: AtomicBool = AtomicBool::new(true);

fn objectives() -> impl Strategy<Value = Vec<Objective>> {
    prop::sample::subsequence(Objective::ALL.to_vec(), 1..=6).prop_shuffle()
}

/// A search in a yard made of a few values; with fewer points and models where there are more sets to enumerate.
fn searches() -> impl Strategy<Value = SizeInput> {
    let assignment = prop::sample::select(vec![Assignment::Uniform, Assignment::ByPoint, Assignment::Mixed]);
    let settings = (1u32..4, 0.6f64..1.0);
    (load_cases(), yards(5), objectives(), assignment, settings, any::<bool>()).prop_map(
        |(mut case, rams, objectives, assignment, (per_point, capacity_limit), packing)| {
            // Under their full weight most cases refuse everything, and there is little to compare.
            let Range { least, expected, greatest } = case.weight;
            case.weight = Range::new(least * 0.35, expected * 0.35, greatest * 0.35);
            let mut search = input(case, rams);
            search.settings.capacity_limit = capacity_limit;
            search.settings.rams_per_point = per_point;
            search.search.objectives = objectives;
            search.search.assignment = narrow(&mut search, assignment);
            if !packing {
                search.packing.clear();
            }
            search
        },
    )
}

/// Leaves so much to choose from as can be enumerated.
fn narrow(search: &mut SizeInput, assignment: Assignment) -> Assignment {
    let points = search.case.points.len();
    match assignment {
        Assignment::ByPoint => {
            search.settings.rams_per_point = search.settings.rams_per_point.min(if points <= 4 { 3 } else { 2 });
            search.rams.truncate(3);
            Assignment::ByPoint
        }
        Assignment::Mixed if points <= 4 => {
            search.settings.rams_per_point = search.settings.rams_per_point.min(2);
            search.rams.truncate(if points <= 3 { 3 } else { 2 });
            Assignment::Mixed
        }
        Assignment::Uniform | Assignment::Mixed => Assignment::Uniform,
    }
}

/// An option without its place in the list.
fn placeless(option: &RamOption) -> RamOption {
    RamOption { rank: 0, ..option.clone() }
}

/// The first so many and all that no other beats, word for word as the whole list has them.
#[track_caller]
fn is_head_of(few: &Sizing, whole: &Sizing, options: usize) {
    let kept = whole.options.iter().enumerate().filter(|(place, option)| *place < options || option.pareto);
    let expected: Vec<RamOption> = kept.map(|(_, option)| placeless(option)).collect();
    assert_eq!(few.options.iter().map(placeless).collect::<Vec<_>>(), expected);
    // A place can only be told among those that are listed; the first so many are the same in both.
    for (few, whole) in few.options.iter().zip(&whole.options).take(options) {
        assert_eq!((few.rank, few.recommended), (whole.rank, whole.recommended));
    }
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(25))]

    /// Every yard, beside plain enumeration: what is found, what is listed of it, and what is called refused.
    #[test]
    fn verify_any_yard_beside_plain_enumeration(search in searches()) {
        let Some(expected) = enumerated(&search) else {
            prop_assert!(sized(&search).is_none());
            return Ok(());
        };
        let whole = sized(&search).unwrap();
        let found: BTreeSet<Stands> = whole.options.iter().map(stands).collect();
        prop_assert_eq!(&found, &expected.keys().cloned().collect());
        prop_assert!(whole.complete);
        for option in &whole.options {
            prop_assert_eq!(&option.verdict, &expected[&stands(option)].verdict);
        }
        for options in [0, 1, 3] {
            let few = sized(&listing(&search, options)).unwrap();
            is_head_of(&few, &whole, options);
            holds_by_itself(&search, &few);
            // What stands was found or passed over, and nothing was twice.
            let (stand, all) = (expected.len(), all_sets(&search).len());
            let seen = usize::try_from(u64::from(few.found) + few.passed_over).unwrap();
            prop_assert!((stand..=all).contains(&seen), "{} of {} stand, {} seen", stand, all, seen);
        }
    }

    /// A model is refused if no set of it stands, and only then.
    #[test]
    fn verify_a_model_is_refused_only_if_every_set_of_it_is(search in searches()) {
        let Some(expected) = enumerated(&search) else { return Ok(()) };
        let stand: BTreeSet<&str> = expected.keys().flatten().map(|(ram, _)| &**ram).collect();
        for options in [usize::MAX, 3, 1, 0] {
            let sizing = sized(&listing(&search, options)).unwrap();
            for ram in refused_models(&sizing) {
                prop_assert!(!stand.contains(ram), "{} options: {} is refused, and a set of it stands", options, ram);
            }
        }
    }

    /// The same yard under other names: the same sets, but for the order of equals.
    #[test]
    fn verify_names_decide_nothing_but_ties(search in searches()) {
        let rams: Vec<Ram> = search.rams.iter().map(|ram| Ram::clone(ram)).collect();
        let other = SizeInput { rams: renamed(&rams).into_iter().map(Arc::new).collect(), ..search.clone() };
        let (Some(one), Some(other)) = (sized(&search), sized(&other)) else { return Ok(()) };
        let renamed = |option: &RamOption| -> Stands {
            option.at_points.iter().map(|at| (new_name(&at.ram, rams.len()), at.count)).collect()
        };
        let a: BTreeSet<(Stands, bool)> = one.options.iter().map(|o| (renamed(o), o.pareto)).collect();
        let b: BTreeSet<(Stands, bool)> = other.options.iter().map(|o| (stands(o), o.pareto)).collect();
        prop_assert_eq!(a, b);
        prop_assert_eq!(one.models_refused, other.models_refused);
    }

    /// With scant effort a sequence may not be found; the search then says just what a verification with as much says.
    #[test]
    fn verify_scant_effort_makes_no_other_verdict(search in searches(), states in prop::sample::select(vec![0u64, 1, 30, 300, 3_000])) {
        let scant = Effort { states, stop: &NEVER };
        let Some(expected) = enumerated_with(&search, scant) else { return Ok(()) };
        let whole = size_ram_set(&search, scant).unwrap();
        let found: BTreeSet<Stands> = whole.options.iter().map(stands).collect();
        prop_assert_eq!(found, expected.keys().cloned().collect());
        for option in &whole.options {
            prop_assert_eq!(&option.verdict, &expected[&stands(option)].verdict, "{}", option.set);
        }
        is_head_of(&size_ram_set(&listing(&search, 1), scant).unwrap(), &whole, 1);
    }
}

/// The properties above would hold of searches that find nothing, too.
#[test]
fn verify_the_searches_find_and_refuse() {
    use proptest::strategy::ValueTree;
    let mut runner = proptest::test_runner::TestRunner::deterministic();
    let (mut found, mut refused, mut passed_over, mut differ) = (0, 0, 0, 0);
    for _ in 0..60 {
        let search = searches().new_tree(&mut runner).unwrap().current();
        let Some(few) = sized(&listing(&search, 1)) else { continue };
        found += u32::from(!few.options.is_empty());
        refused += few.models_refused;
        passed_over += few.passed_over;
        let whole = sized(&search).unwrap();
        differ += u32::from(whole.options.iter().any(|option| option.rams_per_point().is_none()));
    }
    assert!(12 <= found && 20 <= refused, "{found} found, {refused} refused");
    assert!(20 <= passed_over && 3 <= differ, "{passed_over} passed over, {differ} by point");
}

/// Work that is stopped gives no answer, whichever way the search goes.
#[test]
fn verify_what_is_stopped_gives_no_answer() {
    let case = placed(kn(300.0), &[(0.0, 0.0), (6.0, 0.0), (3.0, 5.0)], (3.0, 1.7));
    for assignment in [Assignment::Uniform, Assignment::ByPoint, Assignment::Mixed] {
        let mut search = input(case.clone(), yard::rams());
        search.settings = settings();
        search.search.assignment = assignment;
        assert!(size_ram_set(&search, Effort { states: 1_000, stop: &NOW }).is_err());
    }
}

/// A set that is left out since others beat it is not a set that is refused, and neither is its model.
#[test]
fn verify_a_model_that_is_beaten_is_not_called_refused() {
    // In a frame, point 3 carries 384 kN and the others 108 kN each. Of the great rams it takes two there, of the small ones three, and
    // of neither there are so many for every point.
    let case = placed(kn(600.0), &[(0.0, 0.0), (6.0, 0.0), (3.0, 5.0)], (3.0, 3.2));
    let case = LoadCase { task: Task::Press, travel: mm(20.0), ..case };
    let great = Ram { stock: Some(4), ..yard::ram("a-great", 50.0, 150.0, 210.0) };
    let small = Ram { id: "z-small".into(), stock: Some(5), ..yard::small_ram() };
    let mut search = input(case, vec![great, small]);
    search.case.points.iter_mut().for_each(|point| point.clearance = Some(mm(240.0)));
    search.search.objectives = vec![Objective::Rams];
    for assignment in [Assignment::ByPoint, Assignment::Mixed] {
        search.search.assignment = assignment;
        let only_small = |stands: &Stands| stands.iter().all(|(ram, _)| ram == "z-small");
        assert!(enumerated(&search).unwrap().keys().any(only_small));
        for options in [usize::MAX, 1, 0] {
            let sizing = sized(&listing(&search, options)).unwrap();
            assert!(
                !refused_models(&sizing).contains("z-small"),
                "{assignment:?}, {options} options: {:?}, {} passed over",
                sizing.refusals,
                sizing.passed_over,
            );
        }
    }
}

/// Where the search ends before it has looked at every set, a model of which it looked at a few is not called refused.
#[test]
fn verify_a_model_that_was_not_looked_at_is_not_called_refused() {
    let places = [(-3.0, -2.0), (0.0, -2.0), (3.0, -2.0), (-3.0, 2.0), (0.0, 2.0), (3.0, 2.0)];
    let mut case = placed(kn(800.0), &places, (0.0, 0.0));
    (case.task, case.travel) = (Task::Press, mm(20.0));
    let shares = [100.0, 100.0, 100.0, 100.0, 100.0, 300.0];
    case.sharing = Sharing::Stated(shares.into_iter().map(|share| exactly(kn(share))).collect());
    case.points.iter_mut().for_each(|point| point.clearance = Some(mm(240.0)));
    // Of three models every number does everywhere, which makes more sets than are tried; of the last there are just so many
    // as it takes by point, and too few for two at every point.
    let ample = |id: &str| Ram { stock: Some(18), ..yard::ram(id, 140.0, 150.0, 210.0) };
    let last = Ram { id: "z-small".into(), stock: Some(7), ..yard::small_ram() };
    let mut search = input(case, vec![ample("a"), ample("b"), ample("c"), last.clone()]);
    search.search.assignment = Assignment::ByPoint;
    let sizing = sized(&search).unwrap();
    assert!(!sizing.complete);
    assert!(!refused_models(&sizing).contains("z-small"), "{:?}", sizing.refusals);
    // By itself it is found.
    search.rams = vec![Arc::new(last)];
    assert!(!sized(&search).unwrap().options.is_empty());
}
