//! How much a search may do, counted in states and never in seconds.

use std::sync::atomic::{AtomicBool, Ordering};

/// The limit of a search and the flag that ends it.
#[derive(Clone, Copy, Debug)]
pub struct Effort<'a> {
    /// How many states a search may visit.
    pub states: u64,
    /// Set by the caller to end the work; what was stopped gives no answer.
    pub stop: &'a AtomicBool,
}

impl Effort<'_> {
    /// Whether the caller wants the work to end.
    pub fn stopped(self) -> bool {
        self.stop.load(Ordering::Relaxed)
    }
}
