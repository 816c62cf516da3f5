//! The list of checks: nothing in it is left blank, and the tests that it names are there.

#![allow(clippy::unwrap_used, clippy::indexing_slicing, reason = "tests stop at what they do not expect")]

mod support;

use ramwright_engine::check::{CheckId, Scenario, Status, basis};
use ramwright_engine::load::Task;
use ramwright_engine::ram::{Action, Ram};
use std::collections::BTreeSet;
use std::path::Path;
use support::{check, kn, mm, placed, proposal, status, verify, yard};
use utoipa::PartialSchema;

#[test]
fn verify_every_check_is_listed_once_with_all_it_rests_on() {
    let listed = basis();
    let ids: BTreeSet<CheckId> = listed.iter().map(|entry| entry.id).collect();
    assert_eq!(ids.len(), listed.len(), "a check is listed twice");
    let schema = serde_json::to_value(CheckId::schema()).unwrap();
    assert_eq!(schema["enum"].as_array().unwrap().len(), listed.len(), "a check is not listed");
    let titles: BTreeSet<&str> = listed.iter().map(|entry| entry.title.as_str()).collect();
    assert_eq!(titles.len(), listed.len(), "two checks have one title");
    for entry in &listed {
        let texts =
            [&entry.title, &entry.formula, &entry.source.text, &entry.validity, &entry.tested_with, &entry.test];
        assert!(texts.iter().all(|text| !text.as_str().trim().is_empty()), "{:?} lacks a text", entry.id);
    }
}

/// All Rust files under a folder, as one text.
fn sources(folder: &Path) -> String {
    let mut text = String::new();
    for entry in std::fs::read_dir(folder).unwrap() {
        let path = entry.unwrap().path();
        if path.is_dir() {
            text.push_str(&sources(&path));
        } else if path.extension().is_some_and(|extension| extension == "rs") {
            text.push_str(&std::fs::read_to_string(&path).unwrap());
        }
    }
    text
}

#[test]
fn verify_the_tests_that_the_list_names_are_there() {
    let root = Path::new(env!("CARGO_MANIFEST_DIR"));
    let text = [sources(&root.join("src")), sources(&root.join("tests"))].concat();
    for entry in basis() {
        assert!(text.contains(&format!("fn {}(", entry.test)), "{:?}: no test {}", entry.id, entry.test);
    }
}

/// Every check of a verification is in the list, and has the source that stands there.
#[test]
fn verify_answers_carry_the_sources_of_the_list() {
    let answer =
        verify(&proposal(placed(kn(600.0), &[(0.0, 0.0), (6.0, 0.0), (3.0, 5.0)], (3.0, 1.7)), &yard::rams()[3], 1));
    let listed = basis();
    for check in answer.unwrap().checks {
        let entry = listed.iter().find(|entry| entry.id == check.id).unwrap();
        assert_eq!(check.basis, entry.source);
    }
}

#[test]
fn verify_one_ram_too_few() {
    let case = placed(kn(600.0), &[(0.0, 0.0), (6.0, 0.0), (3.0, 5.0)], (3.0, 1.7));
    let found = |stock: u32| {
        let answer =
            verify(&proposal(case.clone(), &Ram { stock: Some(stock), ..yard::rams()[3].clone() }, 1)).unwrap();
        check(&answer.checks, CheckId::Stock, "1", Scenario::AsPlanned).status
    };
    assert_eq!(found(3), Status::Pass);
    assert_eq!(found(2), Status::Fail);
}

#[test]
fn verify_only_double_acting_rams_pull() {
    let mut case = placed(kn(40.0), &[(0.0, 0.0)], (0.0, 0.0));
    case.task = Task::Pull;
    case.points[0].clearance = Some(mm(260.0));
    let found = |action: Action| {
        let answer = verify(&proposal(case.clone(), &Ram { action, ..yard::rams()[3].clone() }, 1)).unwrap();
        status(&answer.checks, CheckId::Action, "1")
    };
    assert_eq!(found(Action::DoubleActing), Status::Pass);
    assert_eq!(found(Action::SingleActingSpringReturn), Status::Fail);
}
