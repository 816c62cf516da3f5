//! Ram sets that were found as a table, one line an option, the recommended first.

use crate::Tables;
use crate::table::Table;
use ramwright_engine::size::Sizing;
use ramwright_units::Profile;

/// No line if nothing in the yard fits; what was refused, and why, is in the JSON answer.
impl Tables for Sizing {
    fn csv(&self, units: Profile) -> String {
        Table::new(&self.options, units)
            .word("rank", |option| Some(option.rank))
            .word("recommended", |option| Some(option.recommended))
            .word("pareto", |option| Some(option.pareto))
            .word("verdict", |option| Some(option.verdict.status))
            .text("ram", |option| Some(&option.ram))
            .text("family", |option| Some(&option.family))
            .word("action", |option| Some(option.action))
            .word("lock_collar", |option| Some(option.lock_collar))
            .word("rams_per_point", |option| Some(option.rams_per_point))
            .word("rams", |option| Some(option.rams))
            .quantity("capacity", |option| Some(option.capacity))
            .quantity("stroke", |option| Some(option.stroke))
            .quantity("closed_height", |option| Some(option.closed_height))
            .word("packing_lifts", |option| option.packing_lifts)
            .quantity("mass", |option| option.mass)
            .number("day_rate", |option| option.day_rate.as_ref().map(|rate| rate.amount))
            .text("currency", |option| option.day_rate.as_ref().map(|rate| &rate.currency))
            .number("utilisation", |option| Some(option.utilisation))
            .word("governing_check", |option| option.verdict.governing.as_ref().map(|governing| governing.check))
            .text("governing_subject", |option| option.verdict.governing.as_ref().map(|governing| &governing.subject))
            .csv()
    }
}
