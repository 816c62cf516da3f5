//! Where the checks of a verification go: whole, or just far enough to judge a candidate.

use crate::check::{Check, Finding, Ledger, Lines, Place, Scenario};

/// Takes checks as they are made.
pub(crate) trait Sink {
    /// What the lines of a check are written into.
    type Book: Ledger + Default + Clone;

    /// Takes a check that was made with the shares of the load.
    fn of_load(&mut self, check: &Check, scenario: Scenario);

    /// Takes what a check found.
    fn take(&mut self, place: &Place<'_>, finding: Finding, book: Self::Book);

    /// Whether no more are wanted.
    fn is_full(&self) -> bool;
}

/// Every check with its lines.
impl Sink for Vec<Check> {
    type Book = Lines;

    fn of_load(&mut self, check: &Check, scenario: Scenario) {
        self.push(Check { scenario, ..check.clone() });
    }

    fn take(&mut self, place: &Place<'_>, finding: Finding, book: Lines) {
        self.push(Check::new(place, finding, book));
    }

    fn is_full(&self) -> bool {
        false
    }
}
