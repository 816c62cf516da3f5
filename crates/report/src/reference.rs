//! The lists of checks and materials as tables.

use crate::table::Table;
use crate::{Tables, cell};
use ramwright_engine::check::{BasisEntry, basis};
use ramwright_engine::support::MaterialValue;
use ramwright_units::Profile;

/// Every check of the engine's list as a table in Markdown, for documentation.
pub fn basis_in_markdown() -> String {
    let mut text = String::from("| check | asks | formula | source | validity | tested with | test |\n");
    text.push_str("| --- | --- | --- | --- | --- | --- | --- |\n");
    for entry in basis() {
        let standing = cell::word(&entry.source.standing).replace('_', " ");
        let source = format!("{} ({standing})", entry.source.text);
        let id = format!("`{}`", cell::word(&entry.id));
        let test = format!("`{}`", entry.test);
        let cells = [
            &*id,
            entry.title.as_str(),
            entry.formula.as_str(),
            &source,
            entry.validity.as_str(),
            entry.tested_with.as_str(),
            &test,
        ];
        // A bar would end the cell.
        let line: Vec<String> = cells.iter().map(|cell| cell.replace('|', "/")).collect();
        text.extend(["| ", &line.join(" | "), " |\n"]);
    }
    text
}

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
