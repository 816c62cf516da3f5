//! What the service has answered while the tests ran, counted by operation.

use std::collections::BTreeMap;
use std::sync::{Mutex, PoisonError};

/// How often an operation has answered.
#[derive(Clone, Copy, Debug, Default, Eq, PartialEq)]
pub struct Count {
    /// With a result: status 200.
    pub successes: u32,
    /// With a problem document: a status of 400 or above.
    pub problems: u32,
}

static RECORD: Mutex<BTreeMap<String, Count>> = Mutex::new(BTreeMap::new());

/// Counts one answer of an operation; a status of neither kind counts as nothing.
pub(crate) fn count(operation: &str, status: u16) {
    let mut record = RECORD.lock().unwrap_or_else(PoisonError::into_inner);
    let count = record.entry(operation.to_owned()).or_default();
    match status {
        200 => count.successes += 1,
        400.. => count.problems += 1,
        _ => {}
    }
}

/// What has been counted so far.
pub fn counted() -> BTreeMap<String, Count> {
    RECORD.lock().unwrap_or_else(PoisonError::into_inner).clone()
}
