//! The circuit that a search chooses, beside every pump, number and hose of the yard assessed one after the other.

#![allow(
    clippy::unwrap_used,
    clippy::panic,
    clippy::indexing_slicing,
    reason = "tests stop at what they do not expect"
)]

mod support;

use ramwright_engine::catalogue::{Hose, Pump};
use ramwright_engine::check::{CheckId, Status};
use ramwright_engine::circuit::{BillItem, assess_circuit};
use ramwright_engine::feed::{CircuitChoice, Supply, circuit_input};
use ramwright_engine::price::{HireItem, ItemKind, hire_total};
use ramwright_engine::size::{SearchTerms, SizeInput, Sizing, size_ram_set};
use ramwright_engine::verify::{RamSet, VerifyInput};
use ramwright_units::{Flow, HoseLength, OilPressure, OilVolume};
use std::sync::Arc;
use support::{effort, kn, placed, settings, verify, yard};

fn pumps() -> Vec<Pump> {
    let pump = |id: &str, bar: f64, oil: f64, flow: f64, day_rate: f64| Pump {
        id: id.into(),
        rated_pressure: OilPressure::from_bar(bar),
        usable_oil: OilVolume::from_l(oil),
        flow_slow: Flow::from_l_per_min(flow),
        day_rate: Some(day_rate),
        ..yard::pump()
    };
    vec![
        pump("p-dear", 700.0, 40.0, 2.0, 60.0),
        pump("p-dry", 700.0, 0.3, 0.8, 5.0),
        pump("p-plain", 700.0, 12.0, 1.1, 22.0),
        pump("p-weak", 150.0, 30.0, 1.1, 12.0),
    ]
}

fn hoses() -> Vec<Hose> {
    let hose = |id: &str, length: f64, bar: f64, day_rate: f64, stock: u32| Hose {
        id: id.into(),
        length: HoseLength::from_m(length),
        rated_pressure: OilPressure::from_bar(bar),
        day_rate: Some(day_rate),
        stock: Some(stock),
        ..yard::hose()
    };
    vec![hose("h-few", 15.0, 720.0, 0.5, 2), hose("h-long", 15.0, 720.0, 3.0, 20), hose("h-short", 4.0, 720.0, 1.2, 40)]
}

fn input() -> SizeInput {
    let case = placed(kn(620.0), &[(0.0, 0.0), (6.0, 0.0), (3.0, 5.0)], (2.9, 1.6));
    SizeInput {
        line: support::line::line(case.points.len()),
        case,
        settings: settings(),
        search: support::every_set(),
        supply: Some(Supply {
            pumps: pumps(),
            hoses: hoses(),
            run: HoseLength::from_m(11.0),
            oil: yard::oil(),
            conditions: yard::conditions(),
        }),
        price: ramwright_engine::defaults::PRICE_TERMS,
        rams: yard::rams().into_iter().map(Arc::new).collect(),
        packing: yard::pieces(),
        currency: "EUR".into(),
    }
}

/// Hire of the cheapest circuit that no check refuses, by trying all of them.
fn cheapest(input: &SizeInput, ram: &str, count: u32) -> Option<f64> {
    let ram = input.rams.iter().find(|known| known.id == ram).unwrap();
    let proposal = VerifyInput {
        case: input.case.clone(),
        set: RamSet::everywhere(ram, count, input.case.points.len()),
        line: input.line.clone(),
        settings: input.settings.clone(),
        packing: input.packing.clone(),
        site: None,
    };
    let answer = verify(&proposal).unwrap();
    let supply = input.supply.as_ref().unwrap();
    let mut least: Option<f64> = None;
    for pump in &supply.pumps {
        for hose in &supply.hoses {
            for pumps in 1..=4 {
                let in_series = (1..=12).find(|n| supply.run.m() <= hose.length.m() * f64::from(*n)).unwrap();
                let choice = CircuitChoice {
                    pump: pump.clone(),
                    pumps,
                    hose: Some(hose.clone()),
                    hose_count_in_series: in_series,
                    oil: supply.oil,
                    conditions: supply.conditions,
                };
                let job = circuit_input(&proposal, &answer.load_shares, answer.sequence.as_ref(), &choice).unwrap();
                let found = assess_circuit(&job);
                let hoses = found.bill.iter().filter(|row| row.item == BillItem::Hose).map(|row| row.total).sum();
                let short =
                    pump.stock.is_some_and(|stock| stock < pumps) || hose.stock.is_some_and(|stock| stock < hoses);
                let stock_fails = found.checks.iter().any(|c| c.id == CheckId::Stock && c.status == Status::Fail);
                assert_eq!(short, stock_fails);
                if found.checks.iter().all(|check| check.status != Status::Fail) {
                    let item = |what, id, count, day_rate, week_rate| HireItem { what, id, count, day_rate, week_rate };
                    let items = [
                        item(ItemKind::Pump, &*pump.id, pumps, pump.day_rate, pump.week_rate),
                        item(ItemKind::Hose, &*hose.id, hoses, hose.day_rate, hose.week_rate),
                    ];
                    let hire = hire_total(&input.price, &items).unwrap();
                    least = Some(least.map_or(hire, |so_far| so_far.min(hire)));
                }
            }
        }
    }
    least
}

fn sized(input: &SizeInput) -> Sizing {
    size_ram_set(input, effort()).unwrap()
}

#[test]
fn verify_the_cheapest_circuit_that_does_it_is_chosen() {
    let input = input();
    let sizing = sized(&input);
    assert!(2 <= sizing.options.len());
    for option in &sizing.options {
        let circuit = option.circuit.as_ref().unwrap();
        let expected = cheapest(&input, &option.models[0].ram, option.rams_per_point().unwrap()).unwrap();
        assert!((circuit.hire.as_ref().unwrap().amount - expected).abs() < 1e-6, "{}", option.set);
        let (cost, rams) = (option.cost.as_ref().unwrap().amount, option.hire.as_ref().unwrap().amount);
        assert!((cost - rams - expected).abs() < 1e-6);
        // Of this hose there are too few, and of this pump too little oil.
        assert!(circuit.hose != "h-few" && circuit.pump != "p-dry", "{circuit:?}");
        assert!(circuit.run.m() >= 11.0 && option.time.is_some());
    }
}

#[test]
fn verify_a_yard_that_cannot_feed_the_rams_refuses_them() {
    let mut dry = input();
    dry.supply.as_mut().unwrap().pumps.retain(|pump| pump.id == "p-dry");
    let found = sized(&dry);
    assert!(found.options.is_empty() || found.options.iter().all(|option| option.circuit.is_some()));
    assert!(found.refusals.iter().any(|refusal| refusal.check == CheckId::OilVolume), "{:?}", found.refusals);
    // Hoses that do not reach, however many are joined, feed nothing.
    let mut far = input();
    far.supply.as_mut().unwrap().run = HoseLength::from_m(400.0);
    let found = sized(&far);
    assert!(found.options.is_empty());
    let by_hose = found.refusals.iter().find(|refusal| refusal.nearest.subject == "hose").unwrap();
    assert!(by_hose.nearest.would_pass.as_str().contains("400.0 m"), "{by_hose:?}");
    // Of a yard without pumps nothing is known: said, and no cost is made of the rams alone.
    let mut none = input();
    none.supply.as_mut().unwrap().pumps.clear();
    let found = sized(&none);
    assert_eq!(found.options.len(), sized(&input()).options.len());
    assert!(found.options.iter().all(|option| option.circuit.is_none() && option.time.is_none()));
    assert!(found.options.iter().all(|option| option.circuit_missing.is_some() && option.cost.is_none()));
    assert!(found.reason.unwrap().as_str().contains("no circuit is chosen"));
}

/// The list is the same where the search leaves sets out on the way.
#[test]
fn verify_few_options_are_the_first_of_all() {
    let whole = sized(&input());
    for options in [1, 2] {
        let few = sized(&SizeInput { search: SearchTerms { options, ..input().search }, ..input() });
        let expected: Vec<_> = whole.options.iter().enumerate().filter(|(i, o)| *i < options || o.pareto).collect();
        let sets: Vec<_> = few.options.iter().map(|option| (&option.set, &option.cost, &option.circuit)).collect();
        assert_eq!(sets, expected.iter().map(|(_, o)| (&o.set, &o.cost, &o.circuit)).collect::<Vec<_>>());
    }
}
