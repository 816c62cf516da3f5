//! Work counted in states, and the stop flag.

use std::sync::atomic::{AtomicBool, Ordering};

use super::problem::{Cures, Effort};

/// Why a search ended early.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Halt {
    /// The effort is spent.
    Effort,
    /// The flag was set.
    Stopped,
}

/// Looks at the stop flag each time this many states have passed.
const LOOK_EVERY: u64 = 4_096;

/// Counts states down.
#[derive(Debug)]
pub(super) struct Meter<'a> {
    left: u64,
    until_look: u64,
    stop: &'a AtomicBool,
    cures: Cures,
}

impl<'a> Meter<'a> {
    /// A meter for a whole run.
    pub(super) fn new(effort: &Effort<'a>) -> Self {
        Self { left: effort.states, until_look: 0, stop: effort.stop, cures: effort.cures }
    }

    /// States left.
    pub(super) fn left(&self) -> u64 {
        self.left
    }

    /// Whether changes that would cure an impossible job are sought.
    pub(super) fn seeks_cures(&self) -> bool {
        self.cures == Cures::Sought
    }

    /// Counts states; whatever they stand for must not be used once this fails.
    pub(super) fn spend(&mut self, states: usize) -> Result<(), Halt> {
        let states = u64::try_from(states).unwrap_or(u64::MAX);
        if self.left < states {
            self.left = 0;
            return Err(Halt::Effort);
        }
        self.left -= states;
        if states < self.until_look {
            self.until_look -= states;
            return Ok(());
        }
        self.until_look = LOOK_EVERY;
        if self.stop.load(Ordering::Relaxed) { Err(Halt::Stopped) } else { Ok(()) }
    }

    /// Runs a part of the work with at most this many states.
    pub(super) fn part<T>(
        &mut self,
        states: u64,
        work: impl FnOnce(&mut Meter<'a>) -> Result<T, Halt>,
    ) -> Result<T, Halt> {
        let given = self.left.min(states);
        let mut meter = Meter { left: given, ..*self };
        let result = work(&mut meter);
        self.left -= given - meter.left;
        self.until_look = meter.until_look;
        result
    }
}
