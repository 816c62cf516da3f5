//! Builds a table column by column, so that a head and its cells cannot part.

use crate::cell;
use ramwright_units::{Profile, Quantity, Range, Typed};
use serde::Serialize;

/// A table with one line for each of `rows`; each column is its head and then its cells.
pub(crate) struct Table<'a, R> {
    rows: &'a [R],
    units: Profile,
    columns: Vec<Vec<String>>,
}

impl<'a, R> Table<'a, R> {
    pub(crate) fn new(rows: &'a [R], units: Profile) -> Self {
        Self { rows, units, columns: Vec::new() }
    }

    fn column(mut self, head: impl Into<String>, cell: impl Fn(&'a R) -> Option<String>) -> Self {
        let cells = self.rows.iter().map(|row| cell(row).unwrap_or_default());
        self.columns.push(std::iter::once(head.into()).chain(cells).collect());
        self
    }

    /// A column of texts, guarded against being read as formulas.
    pub(crate) fn text<S: AsRef<str>>(self, head: &str, of: impl Fn(&'a R) -> Option<S>) -> Self {
        self.column(head, |row| of(row).map(|text| cell::text(text.as_ref())))
    }

    /// A column of words of a closed list, of counts, or of `true` and `false`.
    pub(crate) fn word<T: Serialize>(self, head: &str, of: impl Fn(&'a R) -> Option<T>) -> Self {
        self.column(head, |row| of(row).map(|word| cell::word(&word)))
    }

    /// A column of plain numbers.
    pub(crate) fn number(self, head: &str, of: impl Fn(&'a R) -> Option<f64>) -> Self {
        self.column(head, |row| of(row).map(cell::number))
    }

    /// A column of quantities of one kind, its unit in the head.
    pub(crate) fn quantity<Q: Typed>(self, head: &str, of: impl Fn(&'a R) -> Option<Q>) -> Self {
        let units = self.units;
        let head = format!("{head}_{}", Q::KIND.symbol(units));
        self.column(head, |row| of(row).map(|quantity| cell::number(quantity.into().value_in(units))))
    }

    /// Three columns of quantities of one kind: least, expected and greatest.
    pub(crate) fn range<Q: Typed>(self, head: &str, of: impl Fn(&'a R) -> Option<Range<Q>>) -> Self {
        self.quantity(&format!("{head}least"), |row| of(row).map(|range| range.least))
            .quantity(&format!("{head}expected"), |row| of(row).map(|range| range.expected))
            .quantity(&format!("{head}greatest"), |row| of(row).map(|range| range.greatest))
    }

    /// Two columns: quantities of any kind, and their units.
    pub(crate) fn any_quantity(self, head: &str, of: impl Fn(&'a R) -> Option<Quantity>) -> Self {
        let units = self.units;
        self.column(head, |row| of(row).map(|quantity| cell::number(quantity.value_in(units))))
            .column(format!("{head}_unit"), |row| of(row).map(|quantity| quantity.kind.symbol(units).to_owned()))
    }

    /// The table as CSV.
    pub(crate) fn csv(self) -> String {
        let mut writer = csv::WriterBuilder::new().terminator(csv::Terminator::CRLF).from_writer(Vec::new());
        for line in 0..=self.rows.len() {
            // In memory only lines of unequal length fail, and every column has a cell for every row.
            let _ = writer.write_record(self.columns.iter().filter_map(|column| column.get(line)));
        }
        let bytes = writer.into_inner().unwrap_or_default();
        String::from_utf8(bytes).unwrap_or_default()
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use ramwright_units::Length;

    #[test]
    fn verify_lines_end_with_crlf_and_cells_are_quoted_where_they_must_be() {
        let rows = ["a,b", "say \"x\"", "two\r\nlines", ""];
        let csv = Table::new(&rows, Profile::Metric).text("name", Some).number("n", |_| Some(1.5)).csv();
        assert_eq!(csv, "name,n\r\n\"a,b\",1.5\r\n\"say \"\"x\"\"\",1.5\r\n\"two\r\nlines\",1.5\r\n,1.5\r\n");
    }

    #[test]
    fn verify_units_stand_in_the_head_or_beside() {
        let rows = [Some(Length::from_mm(25.4)), None];
        let table = |units| {
            Table::new(&rows, units)
                .quantity("gap", |row| *row)
                .any_quantity("demand", |row| row.map(Quantity::from))
                .csv()
        };
        assert_eq!(table(Profile::Metric), "gap_mm,demand,demand_unit\r\n25.4,25.4,mm\r\n,,\r\n");
        assert_eq!(table(Profile::Us), "gap_in,demand,demand_unit\r\n1,1,in\r\n,,\r\n");
    }

    #[test]
    fn verify_a_number_below_zero_is_no_formula() {
        let csv = Table::new(&[-3.5], Profile::Metric).number("n", |row| Some(*row)).csv();
        assert_eq!(csv, "n\r\n-3.5\r\n");
    }
}
