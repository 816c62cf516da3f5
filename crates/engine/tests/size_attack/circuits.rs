//! Sets with a circuit beside sets without one: what is not known must not look cheap.

use super::beside::{Stands, input, proposal, sized, stands};
use super::support::{cases::load_cases, effort, kn, mm, placed, verify, yard};
use super::yards::yards;
use proptest::prelude::*;
use proptest::sample::select;
use ramwright_engine::catalogue::{Hose, Pump};
use ramwright_engine::check::{CheckId, Status};
use ramwright_engine::circuit::{BillItem, assess_circuit};
use ramwright_engine::feed::{CircuitChoice, Supply, circuit_input};
use ramwright_engine::load::{LoadCase, Task};
use ramwright_engine::price::{HireItem, ItemKind, hire_total};
use ramwright_engine::ram::Ram;
use ramwright_engine::size::{Assignment, Budget, Objective, SizeInput, size_ram_set};
use ramwright_engine::verify::verify_ram_set;
use ramwright_units::{Flow, HoseLength, OilPressure, OilVolume};

fn supply(pumps: Vec<Pump>, hoses: Vec<Hose>) -> Supply {
    Supply { pumps, hoses, run: HoseLength::from_m(7.0), oil: yard::oil(), conditions: yard::conditions() }
}

/// A pump and a hose that feed anything, at a price.
fn dear() -> Supply {
    let pump = Pump { usable_oil: OilVolume::from_l(400.0), day_rate: Some(500.0), stock: Some(9), ..yard::pump() };
    let hose = Hose { day_rate: Some(50.0), stock: Some(200), ..yard::hose() };
    supply(vec![pump], vec![hose])
}

/// Three points in a frame, the third of which carries more than the cheap small ram can.
fn pressed() -> SizeInput {
    let case = placed(kn(420.0), &[(0.0, 0.0), (6.0, 0.0), (3.0, 5.0)], (3.0, 2.6));
    let case = LoadCase { task: Task::Press, travel: mm(20.0), ..case };
    let mut search = input(
        case,
        vec![
            Ram { day_rate: Some(5.0), week_rate: None, ..yard::small_ram() },
            Ram { day_rate: Some(50.0), week_rate: None, ..yard::ram("elm-71", 71.0, 150.0, 210.0) },
        ],
    );
    for point in &mut search.case.points {
        point.clearance = Some(mm(240.0));
    }
    search.settings.rams_per_point = 2;
    search.search.assignment = Assignment::Mixed;
    search.search.objectives = vec![Objective::Cost];
    search.supply = Some(dear());
    search
}

/// The circuit of unlike rams is not computed, so that what it costs is not known: that must not rank it before the others.
#[test]
fn verify_a_set_without_a_circuit_is_not_the_cheaper_one() {
    let search = pressed();
    let sizing = sized(&search).unwrap();
    let (fed, unfed): (Vec<_>, Vec<_>) = sizing.options.iter().partition(|option| option.circuit.is_some());
    assert!(!fed.is_empty() && !unfed.is_empty(), "{} fed, {} not", fed.len(), unfed.len());
    for option in &unfed {
        for other in fed.iter().filter(|other| other.verdict.status <= option.verdict.status) {
            assert!(
                other.rank < option.rank,
                "{} without pumps and hoses goes before {} with them",
                option.set,
                other.set,
            );
        }
    }
}

/// What pumps and hoses cost is part of the budget: where that is not known, the budget is not known to do.
#[test]
fn verify_a_set_without_a_circuit_is_not_known_to_be_in_the_budget() {
    let mut search = pressed();
    // Any pump alone is dearer than that.
    search.search.budget = Budget { hire: Some(450.0), ..Budget::default() };
    let sizing = sized(&search).unwrap();
    for option in &sizing.options {
        let budget = option.checks.iter().find(|check| check.id == CheckId::Budget).unwrap();
        assert_ne!(budget.status, Status::Pass, "{} for {:?}", option.set, option.cost);
    }
}

fn pumps() -> impl Strategy<Value = Vec<Pump>> {
    let pump = (
        select(vec![150.0, 500.0, 700.0]),
        select(vec![0.5, 3.0, 12.0, 40.0]),
        select(vec![0.4, 1.1, 3.0]),
        prop::option::weighted(0.8, select(vec![12.0, 12.0, 30.0])),
        prop::option::weighted(0.8, 0u32..5),
    );
    prop::collection::vec(pump, 1..4).prop_map(|pumps| {
        let numbered = pumps.into_iter().enumerate();
        let pumps = numbered.map(|(number, (bar, oil, flow, day_rate, stock))| Pump {
            id: format!("pump-{number}"),
            rated_pressure: OilPressure::from_bar(bar),
            usable_oil: OilVolume::from_l(oil),
            flow_slow: Flow::from_l_per_min(flow),
            day_rate,
            stock,
            ..yard::pump()
        });
        pumps.collect()
    })
}

fn hoses() -> impl Strategy<Value = Vec<Hose>> {
    let hose = (
        select(vec![0.5, 4.0, 7.0, 15.0]),
        select(vec![300.0, 720.0]),
        prop::option::weighted(0.8, select(vec![0.5, 1.2])),
        prop::option::weighted(0.8, select(vec![2u32, 6, 40])),
    );
    prop::collection::vec(hose, 1..4).prop_map(|hoses| {
        let of = |(number, (length, bar, day_rate, stock)): (usize, (f64, f64, Option<f64>, Option<u32>))| Hose {
            id: format!("hose-{number}"),
            length: HoseLength::from_m(length),
            rated_pressure: OilPressure::from_bar(bar),
            day_rate,
            stock,
            ..yard::hose()
        };
        hoses.into_iter().enumerate().map(of).collect()
    })
}

/// What all circuits of a yard come to for one set.
#[derive(Debug, PartialEq)]
enum Fed {
    /// Too little is known to assess any.
    NotKnown,
    /// Every one of them is refused.
    ByNone,
    /// The cheapest that is not refused; nothing if no rate of any of them is known.
    By(Option<f64>),
}

/// All of them, one after the other.
fn every_circuit(search: &SizeInput, set: &Stands) -> Fed {
    let proposal = proposal(search, set);
    let answer = verify_ram_set(&proposal, effort()).unwrap();
    let supply = search.supply.as_ref().unwrap();
    let (mut least, mut unpriced) = (None::<f64>, false);
    for (pump, hose) in supply.pumps.iter().flat_map(|pump| supply.hoses.iter().map(move |hose| (pump, hose))) {
        let reaches = (1..=12).find(|n| supply.run.m() <= hose.length.m() * f64::from(*n));
        let in_series = reaches.unwrap_or(1);
        for pumps in 1..=4 {
            let choice = CircuitChoice {
                pump: pump.clone(),
                pumps,
                hose: Some(hose.clone()),
                hose_count_in_series: in_series,
                oil: supply.oil,
                conditions: supply.conditions,
            };
            let planned = answer.sequence.as_ref().filter(|sequence| sequence.cycles.is_some());
            let Ok(job) = circuit_input(&proposal, &answer.load_shares, planned, &choice) else { return Fed::NotKnown };
            if reaches.is_none() {
                continue;
            }
            let found = assess_circuit(&job);
            if found.checks.iter().any(|check| check.status == Status::Fail) {
                continue;
            }
            let hoses = found.bill.iter().filter(|row| row.item == BillItem::Hose).map(|row| row.total).sum();
            let items = [
                HireItem {
                    what: ItemKind::Pump,
                    id: &pump.id,
                    count: pumps,
                    day_rate: pump.day_rate,
                    week_rate: pump.week_rate,
                },
                HireItem {
                    what: ItemKind::Hose,
                    id: &hose.id,
                    count: hoses,
                    day_rate: hose.day_rate,
                    week_rate: hose.week_rate,
                },
            ];
            match hire_total(&search.price, &items) {
                Some(hire) => least = Some(least.map_or(hire, |so_far| so_far.min(hire))),
                None => unpriced = true,
            }
        }
    }
    if least.is_none() && !unpriced { Fed::ByNone } else { Fed::By(least) }
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(60))]

    /// Any case, any yard: a set is fed by the cheapest circuit that does it, is refused where none does, and has none where
    /// too little is known.
    #[test]
    fn verify_any_set_is_fed_by_the_cheapest_circuit(
        case in load_cases(), rams in yards(4), pumps in pumps(), hoses in hoses(),
    ) {
        let bare = input(case, rams);
        let search = SizeInput { supply: Some(supply(pumps, hoses)), ..bare.clone() };
        let Some(all) = sized(&bare) else { return Ok(()) };
        let fed = sized(&search).unwrap();
        for option in &all.options {
            let set = stands(option);
            let with_circuit = fed.options.iter().find(|other| stands(other) == set);
            match every_circuit(&search, &set) {
                Fed::ByNone => prop_assert!(with_circuit.is_none(), "{}", option.set),
                Fed::NotKnown => prop_assert!(with_circuit.is_some_and(|option| option.circuit.is_none()), "{}", option.set),
                Fed::By(hire) => {
                    let circuit = with_circuit.and_then(|option| option.circuit.as_ref());
                    let circuit = circuit.unwrap_or_else(|| panic!("{} has no circuit", option.set));
                    prop_assert_eq!(circuit.hire.as_ref().map(|money| money.amount), hire, "{}", option.set);
                }
            }
        }
        prop_assert!(fed.options.iter().all(|option| all.options.iter().any(|other| stands(other) == stands(option))));
        // A circuit changes nothing in what is verified.
        for option in &fed.options {
            prop_assert_eq!(&option.verdict, &verify(&proposal(&search, &stands(option))).unwrap().verdict);
        }
        let mut few = search.clone();
        few.search.options = 1;
        let few = size_ram_set(&few, effort()).unwrap();
        let expected: Vec<_> = fed.options.iter().enumerate().filter(|(place, o)| *place < 1 || o.pareto).map(|(_, o)| (stands(o), o.circuit.clone())).collect();
        prop_assert_eq!(few.options.iter().map(|o| (stands(o), o.circuit.clone())).collect::<Vec<_>>(), expected);
    }
}
