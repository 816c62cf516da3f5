//! Ram sets that were found as a table, one line an option, the recommended first.

use crate::Tables;
use crate::table::Table;
use ramwright_engine::size::{ModelUsed, RamOption, Sizing};
use ramwright_units::Profile;

/// No line if nothing in the yard fits; what was refused, and why, is in the JSON answer.
///
/// Columns of one model are empty where models differ from point to point.
impl Tables for Sizing {
    fn csv(&self, units: Profile) -> String {
        Table::new(&self.options, units)
            .word("rank", |option| Some(option.rank))
            .word("recommended", |option| Some(option.recommended))
            .word("pareto", |option| Some(option.pareto))
            .word("verdict", |option| Some(option.verdict.status))
            .text("set", |option| Some(&option.set))
            .text("ram", |option| only(option).map(|model| &model.ram))
            .text("family", |option| only(option).map(|model| &model.family))
            .word("action", |option| only(option).map(|model| model.action))
            .word("lock_collar", |option| only(option).map(|model| model.lock_collar))
            .word("rams_per_point", RamOption::rams_per_point)
            .word("rams", |option| Some(option.rams))
            .quantity("capacity", |option| only(option).map(|model| model.capacity))
            .quantity("stroke", |option| only(option).map(|model| model.stroke))
            .quantity("closed_height", |option| only(option).map(|model| model.closed_height))
            .word("packing_lifts", |option| option.packing_lifts)
            .quantity("mass", |option| option.mass)
            .number("day_rate", |option| option.day_rate.as_ref().map(|rate| rate.amount))
            .number("hire_of_rams", |option| option.hire.as_ref().map(|hire| hire.amount))
            .text("pump", |option| option.circuit.as_ref().map(|circuit| &circuit.pump))
            .word("pumps", |option| option.circuit.as_ref().map(|circuit| circuit.pumps))
            .text("hose", |option| option.circuit.as_ref().map(|circuit| &circuit.hose))
            .word("hoses", |option| option.circuit.as_ref().map(|circuit| circuit.hoses))
            .number("cost", |option| option.cost.as_ref().map(|cost| cost.amount))
            .text("currency", |option| option.cost.as_ref().or(option.day_rate.as_ref()).map(|money| &money.currency))
            .quantity("time", |option| option.time)
            .number("utilisation", |option| Some(option.utilisation))
            .word("governing_check", |option| option.verdict.governing.as_ref().map(|governing| governing.check))
            .text("governing_subject", |option| option.verdict.governing.as_ref().map(|governing| &governing.subject))
            .csv()
    }
}

/// The model of a set that has only one.
fn only(option: &RamOption) -> Option<&ModelUsed> {
    let [only] = option.models.as_slice() else { return None };
    Some(only)
}
