//! Tables of the demonstration catalogue as plain CSV lines, and the faults found in them.

use std::collections::BTreeMap;
use std::f64::consts::PI;

pub(crate) const ALLOWED_PART_OF_YIELD: f64 = 0.55;

/// One line of a table, by column name.
pub(crate) struct Row(BTreeMap<String, String>);

impl Row {
    pub(crate) fn text(&self, column: &str) -> &str {
        self.0.get(column).map_or("", String::as_str)
    }

    pub(crate) fn is_empty(&self, column: &str) -> bool {
        self.text(column).is_empty()
    }

    /// The number in a column, or not-a-number, which fails every comparison made below.
    pub(crate) fn number(&self, column: &str) -> f64 {
        let value = self.text(column).parse().unwrap_or(f64::NAN);
        if value.is_finite() { value } else { f64::NAN }
    }

    pub(crate) fn capacity_kn(&self) -> f64 {
        self.number("effective_area_cm2") * self.number("rated_pressure_bar") / 100.0
    }

    pub(crate) fn bore_mm(&self) -> f64 {
        (4.0 * self.number("effective_area_cm2") * 100.0 / PI).sqrt()
    }

    pub(crate) fn pressure_mpa(&self) -> f64 {
        self.number("rated_pressure_bar") / 10.0
    }

    pub(crate) fn allowed_stress_mpa(&self) -> f64 {
        let yield_mpa = match self.text("material") {
            "steel" => 520.0,
            "aluminium" => 430.0,
            _ => f64::NAN,
        };
        ALLOWED_PART_OF_YIELD * yield_mpa
    }

    pub(crate) fn density_kg_m3(&self) -> f64 {
        match self.text("material") {
            "steel" => 7850.0,
            "aluminium" => 2750.0,
            "hardwood" => 750.0,
            _ => f64::NAN,
        }
    }

    /// Least length of collar, in mm, whose thread carries the capacity in shear.
    pub(crate) fn collar_mm(&self) -> f64 {
        if self.text("lock_collar") != "yes" {
            return 0.0;
        }
        let shear_mpa = self.allowed_stress_mpa() / 3.0_f64.sqrt();
        self.capacity_kn() * 1e3 / (PI * self.number("plunger_diameter_mm") * 0.5 * shear_mpa)
    }
}

/// All faults of a table, so that one run shows every wrong row.
#[derive(Default)]
pub(crate) struct Faults(Vec<String>);

impl Faults {
    pub(crate) fn require(&mut self, holds: bool, row: &Row, message: &str) {
        if !holds {
            self.0.push(format!("{}: {message}", row.text("id")));
        }
    }

    pub(crate) fn within(&mut self, row: &Row, what: &str, value: f64, least: f64, greatest: f64) {
        let message = format!("{what} is {value:.4}, wanted {least:.4} to {greatest:.4}");
        self.require(least <= value && value <= greatest, row, &message);
    }

    pub(crate) fn report(&self) {
        assert!(self.0.is_empty(), "{} faults:\n{}", self.0.len(), self.0.join("\n"));
    }
}

pub(crate) fn rows(table: &str, head: &str) -> Vec<Row> {
    let mut lines = csv::ReaderBuilder::new()
        .has_headers(false)
        .from_reader(table.as_bytes())
        .into_records()
        .map(|line| line.map(|line| line.iter().map(str::to_owned).collect::<Vec<_>>()));
    let names = lines.next().and_then(Result::ok).unwrap_or_default();
    assert_eq!(names.join(","), head, "the columns differ");
    let mut found = Vec::new();
    for line in lines {
        assert!(line.is_ok(), "a line does not fit the head: {line:?}");
        found.extend(line.map(|cells| Row(names.iter().cloned().zip(cells).collect())));
    }
    assert!(!found.is_empty(), "the table has no rows");
    found
}

pub(crate) fn disc_mm2(diameter_mm: f64) -> f64 {
    PI / 4.0 * diameter_mm * diameter_mm
}
