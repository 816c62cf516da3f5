//! That every operation was called by the tests, with a success and with a problem.

use std::collections::BTreeSet;

use ramwright_tests::{Service, record};

pub(crate) fn verify_every_operation_has_answered_a_success_and_a_problem(service: &Service) {
    let counted = record::counted();
    let described: BTreeSet<&str> = service.description.operations.iter().map(|one| one.id.as_str()).collect();
    assert!(!described.is_empty());
    let mut missing = Vec::new();
    for id in described {
        let count = counted.get(id).copied().unwrap_or_default();
        println!("  {id}: {} successes, {} problems", count.successes, count.problems);
        if count.successes == 0 || count.problems == 0 {
            missing.push(id);
        }
    }
    assert!(missing.is_empty(), "these operations need a test with a success and one with a problem: {missing:?}");
}
