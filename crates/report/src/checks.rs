//! Checks as a table, one line a check.

use crate::Tables;
use crate::table::Table;
use ramwright_engine::Text;
use ramwright_engine::check::Check;
use ramwright_engine::circuit::CircuitAssessment;
use ramwright_engine::plan::LiftPlan;
use ramwright_engine::verify::Verification;
use ramwright_units::Profile;

fn table<'a>(checks: impl Iterator<Item = &'a Check>, units: Profile) -> String {
    let rows: Vec<&Check> = checks.collect();
    Table::new(&rows, units)
        .word("check", |check| Some(check.id))
        .text("subject", |check| Some(&check.subject))
        .word("scenario", |check| Some(check.scenario))
        .word("phase", |check| Some(check.phase))
        .word("status", |check| Some(check.status))
        .any_quantity("demand", |check| check.demand)
        .any_quantity("limit", |check| check.limit)
        .number("utilisation", |check| check.utilisation)
        .text("missing", |check| Some(listed(&check.missing)))
        .text("note", |check| check.note.as_ref().map(Text::as_str))
        .any_quantity("hand_check", |check| check.hand_check.as_ref().map(|hand| hand.value))
        .number("hand_check_ratio", |check| check.hand_check.as_ref().map(|hand| hand.ratio))
        .text("would_pass", |check| check.would_pass.as_ref().map(Text::as_str))
        .text("basis", |check| Some(check.basis.text.as_str()))
        .word("basis_standing", |check| Some(check.basis.standing))
        .csv()
}

fn listed(names: &[Text]) -> String {
    let names: Vec<&str> = names.iter().map(Text::as_str).collect();
    names.join("; ")
}

impl Tables for Verification {
    fn csv(&self, units: Profile) -> String {
        table(self.checks.iter(), units)
    }
}

impl Tables for CircuitAssessment {
    fn csv(&self, units: Profile) -> String {
        table(self.checks.iter(), units)
    }
}

/// The checks of the set used, those of its circuit, and those that were left open; no line if nothing in the yard fits.
impl Tables for LiftPlan {
    fn csv(&self, units: Profile) -> String {
        let of_set = self.verification.iter().flat_map(|verification| &verification.checks);
        let of_circuit = self.circuit.iter().flat_map(|circuit| &circuit.checks);
        table(of_set.chain(of_circuit).chain(&self.open_checks), units)
    }
}
