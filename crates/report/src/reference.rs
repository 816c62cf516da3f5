//! The lists of checks and materials as tables.

use crate::Tables;
use crate::table::Table;
use ramwright_engine::check::BasisEntry;
use ramwright_engine::support::MaterialValue;
use ramwright_units::Profile;

impl Tables for Vec<BasisEntry> {
    fn csv(&self, units: Profile) -> String {
        Table::new(self, units)
            .word("check", |entry| Some(entry.id))
            .text("title", |entry| Some(entry.title.as_str()))
            .text("formula", |entry| Some(entry.formula.as_str()))
            .text("source", |entry| Some(entry.source.text.as_str()))
            .word("standing", |entry| Some(entry.source.standing))
            .text("validity", |entry| Some(entry.validity.as_str()))
            .text("tested_with", |entry| Some(entry.tested_with.as_str()))
            .text("test", |entry| Some(entry.test.as_str()))
            .word("weight", |entry| Some(entry.weight))
            .word("measures", |entry| Some(entry.measures))
            .csv()
    }
}

impl Tables for Vec<MaterialValue> {
    fn csv(&self, units: Profile) -> String {
        Table::new(self, units)
            .text("material", |value| Some(value.material.as_str()))
            .text("property", |value| Some(value.property.as_str()))
            .text("symbol", |value| Some(value.symbol.as_str()))
            .any_quantity("value", |value| Some(value.value))
            .text("source", |value| Some(value.source.text.as_str()))
            .word("standing", |value| Some(value.source.standing))
            .csv()
    }
}
