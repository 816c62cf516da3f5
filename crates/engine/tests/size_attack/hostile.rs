//! Numbers at the edge of sense and beyond it: no panic, and no answer that its own verification does not bear out.

use super::beside::{holds_by_itself, input, listing, refused_models, sized, stands};
use super::support::{kn, m, mm, placed, yard};
use super::yards::{hopeless, twins};
use ramwright_engine::load::{LoadCase, Task};
use ramwright_engine::ram::Ram;
use ramwright_engine::size::{Assignment, Budget, Objective, SizeInput};
use ramwright_units::{Area, OilPressure, PieceMass};
use std::collections::BTreeSet;
use std::sync::Arc;

type Spoil = (&'static str, fn(&mut SizeInput, f64));

/// Everything that a search reads and a verification does not, and what both make most of.
const NUMBERS: &[Spoil] = &[
    ("stroke", |search, x| rams(search, |ram| ram.stroke = mm(x))),
    ("closed height", |search, x| rams(search, |ram| ram.closed_height = mm(x))),
    ("area", |search, x| rams(search, |ram| ram.effective_area = Area::from_cm2(x))),
    ("annulus", |search, x| rams(search, |ram| ram.annulus_area = Some(Area::from_cm2(x)))),
    ("pressure", |search, x| rams(search, |ram| ram.rated_pressure = OilPressure::from_bar(x))),
    ("mass", |search, x| rams(search, |ram| ram.mass = Some(PieceMass::from_kg(x)))),
    ("day rate", |search, x| rams(search, |ram| ram.day_rate = Some(x))),
    ("week rate", |search, x| rams(search, |ram| ram.week_rate = Some(x))),
    ("weight", |search, x| search.case.weight = super::support::exactly(kn(x))),
    ("travel", |search, x| search.case.travel = mm(x)),
    ("clearance", |search, x| search.case.points.iter_mut().for_each(|point| point.clearance = Some(mm(x)))),
    ("one clearance", |search, x| search.case.points[0].clearance = Some(mm(x))),
    ("capacity limit", |search, x| search.settings.capacity_limit = x),
    ("heavier factor", |search, x| search.settings.heavier_factor = x),
    ("entry gap", |search, x| search.settings.entry_gap = mm(x)),
    ("plates", |search, x| search.settings.plates = mm(x)),
    ("hire budget", |search, x| search.search.budget.hire = Some(x)),
    ("mass budget", |search, x| search.search.budget.ram_mass = Some(PieceMass::from_kg(x))),
];

const VALUES: [f64; 6] = [0.0, 1e-300, 0.999_999_999, -1.0, 1e9, f64::MAX];
const NO_NUMBERS: [f64; 3] = [f64::NAN, f64::INFINITY, f64::NEG_INFINITY];

fn rams(search: &mut SizeInput, change: impl Fn(&mut Ram)) {
    search.rams.iter_mut().for_each(|ram| change(Arc::make_mut(ram)));
}

/// A lift, a press and a pull, each by every way of placing rams.
fn sound() -> Vec<SizeInput> {
    let case = placed(kn(500.0), &[(0.0, 0.0), (6.0, 0.0), (3.0, 5.0)], (2.7, 1.9));
    let mut all = Vec::new();
    for task in [Task::Raise, Task::Press, Task::Pull] {
        for assignment in [Assignment::Uniform, Assignment::ByPoint, Assignment::Mixed] {
            let mut search = input(LoadCase { task, ..case.clone() }, yard::rams()[..3].to_vec());
            search.settings.rams_per_point = 2;
            search.search.assignment = assignment;
            all.push(search);
        }
    }
    all
}

/// What is listed stands, and a short list is the head of the whole one.
#[track_caller]
fn bears_out(search: &SizeInput) {
    let (whole, few) = (sized(&listing(search, usize::MAX)), sized(&listing(search, 1)));
    assert_eq!(whole.is_some(), few.is_some());
    let Some((whole, few)) = whole.zip(few) else { return };
    holds_by_itself(search, &whole);
    holds_by_itself(search, &few);
    let expected: Vec<_> = whole.options.iter().filter(|o| o.rank == 1 || o.pareto).map(stands).collect();
    assert_eq!(few.options.iter().map(stands).collect::<Vec<_>>(), expected);
}

#[test]
fn verify_numbers_at_the_edge_of_sense_are_borne_out() {
    for search in sound() {
        for (_name, spoil) in NUMBERS {
            for value in VALUES {
                let mut spoilt = search.clone();
                spoil(&mut spoilt, value);
                bears_out(&spoilt);
            }
        }
    }
}

#[test]
fn verify_what_is_no_number_does_no_harm() {
    for search in sound() {
        for (_name, spoil) in NUMBERS {
            for value in NO_NUMBERS {
                let mut spoilt = search.clone();
                spoil(&mut spoilt, value);
                for options in [0, 1, usize::MAX] {
                    let Some(sizing) = sized(&listing(&spoilt, options)) else { continue };
                    assert!(sizing.options.iter().filter(|option| option.recommended).count() <= 1);
                }
            }
        }
    }
}

#[test]
fn verify_odd_terms_are_borne_out() {
    let odd: &[fn(&mut SizeInput)] = &[
        |search| search.rams.clear(),
        |search| search.packing.clear(),
        |search| search.settings.rams_per_point = 0,
        |search| search.settings.rams_per_point = 1,
        |search| search.search.objectives = Objective::ALL.to_vec(),
        |search| search.search.objectives = vec![Objective::Time],
        |search| search.search.objectives = Vec::new(),
        |search| search.search.objectives = vec![Objective::Mass, Objective::Mass],
        |search| search.search.budget = Budget { rams: Some(0), ..Budget::default() },
        |search| search.search.budget = Budget { rams: Some(u32::MAX), ..Budget::default() },
        |search| search.price.hire_days = 0,
        |search| search.price.hire_days = u32::MAX,
        |search| rams(search, |ram| ram.stock = Some(0)),
        |search| rams(search, |ram| (ram.mass, ram.day_rate, ram.week_rate, ram.stock) = (None, None, None, None)),
        |search| search.case.points.iter_mut().for_each(|point| (point.clearance, point.pad) = (None, None)),
        |search| search.case.travel = m(40.0),
    ];
    for search in sound() {
        for spoil in odd {
            let mut spoilt = search.clone();
            spoil(&mut spoilt);
            bears_out(&spoilt);
        }
    }
}

/// Twenty models that differ by nothing but their names: none beats another, and names alone decide.
#[test]
fn verify_twins_are_listed_by_name_and_unbeaten() {
    let case = placed(kn(500.0), &[(0.0, 0.0), (6.0, 0.0), (3.0, 5.0)], (3.0, 1.7));
    for options in [0, 1, 7, usize::MAX] {
        let sizing = sized(&listing(&input(case.clone(), twins()), options)).unwrap();
        let best: Vec<&str> = sizing.options.iter().filter(|o| o.pareto).map(|o| &*o.models[0].ram).collect();
        let names: Vec<String> = (0..20).map(|number| format!("yew-{number:02}")).collect();
        let distinct: BTreeSet<&str> = best.iter().copied().collect();
        assert_eq!(distinct.len(), 20);
        // With one number at every point each model comes with its one best number.
        assert_eq!(best, names.iter().map(String::as_str).collect::<Vec<_>>());
        assert!(refused_models(&sizing).is_empty());
        assert_eq!(sizing.options[0].models[0].ram, "yew-00");
    }
}

/// More sets than can be looked at: the answer says so, and what it lists stands all the same.
#[test]
fn verify_too_many_sets_are_said_to_be_too_many() {
    let case =
        placed(kn(420.0), &[(-3.0, -2.0), (0.0, -2.0), (3.0, -2.0), (-3.0, 2.0), (0.0, 2.0), (3.0, 2.0)], (0.4, 0.2));
    let mut search = input(LoadCase { task: Task::Press, ..case }, twins());
    search.case.points.iter_mut().for_each(|point| point.clearance = Some(mm(240.0)));
    search.settings.rams_per_point = 2;
    search.search.assignment = Assignment::Mixed;
    let sizing = sized(&listing(&search, 3)).unwrap();
    assert!(!sizing.complete, "{} found", sizing.found);
    sizing.options.iter().take(20).for_each(|option| assert!(option.recommended == (option.rank == 1)));
}

/// A yard of which nothing will do: every model is refused once, by what refuses it.
#[test]
fn verify_a_yard_that_will_not_do_is_refused_model_by_model() {
    let case = placed(kn(500.0), &[(0.0, 0.0), (6.0, 0.0), (3.0, 5.0)], (3.0, 1.7));
    for assignment in [Assignment::Uniform, Assignment::ByPoint, Assignment::Mixed] {
        for options in [0, 1, usize::MAX] {
            let mut search = listing(&input(case.clone(), hopeless()), options);
            search.search.assignment = assignment;
            let sizing = sized(&search).unwrap();
            assert!(sizing.options.is_empty() && sizing.reason.is_none() && sizing.complete);
            assert_eq!((sizing.models, sizing.models_refused, sizing.found), (3, 3, 0));
            assert_eq!(refused_models(&sizing), BTreeSet::from(["a-weak", "b-tall", "c-none"]));
        }
    }
}
