//! Tables in plain text: a head over each column, cells to the left or to the right, the last column wrapped if it must be,
//! and a paragraph below each row where there is one.

use super::figures::column_of_figures;
use super::page::{INDENT, Page, WIDTH, wrapped};
use ramwright_units::{Profile, Quantity};

/// Blanks between two columns.
const GAP: usize = 2;
/// A wrapped column is never made narrower.
const NARROWEST: usize = 20;
/// Blanks before a paragraph below a row.
const BELOW: usize = 8;

/// On which side the cells of a column are flush.
#[derive(Clone, Copy)]
enum Side {
    Left,
    Right,
}

struct Column {
    /// What it holds, and its unit or nothing.
    head: [String; 2],
    side: Side,
    cells: Vec<String>,
    wraps: bool,
}

/// A table with one line for each of `rows`, built column by column.
pub(super) struct Table<'a, R> {
    rows: &'a [R],
    columns: Vec<Column>,
    below: Vec<String>,
}

impl<'a, R> Table<'a, R> {
    pub(super) fn new(rows: &'a [R]) -> Self {
        Self { rows, columns: Vec::new(), below: Vec::new() }
    }

    fn column(mut self, head: [&str; 2], side: Side, cells: Vec<String>) -> Self {
        self.columns.push(Column { head: head.map(str::to_owned), side, cells, wraps: false });
        self
    }

    /// A column of texts.
    pub(super) fn left(self, head: &str, of: impl Fn(&'a R) -> String) -> Self {
        let cells = self.rows.iter().map(of).collect();
        self.column([head, ""], Side::Left, cells)
    }

    /// A column of numbers, each written by itself.
    pub(super) fn right(self, head: &str, of: impl Fn(&'a R) -> String) -> Self {
        let cells = self.rows.iter().map(of).collect();
        self.column([head, ""], Side::Right, cells)
    }

    /// A column of quantities of one kind, the unit under its head.
    pub(super) fn quantities<Q: Into<Quantity>>(
        self,
        head: &str,
        units: Profile,
        absent: &str,
        of: impl Fn(&'a R) -> Option<Q>,
    ) -> Self {
        let quantities: Vec<Option<Quantity>> = self.rows.iter().map(|row| of(row).map(Into::into)).collect();
        let unit = quantities.iter().flatten().next().map_or("", |quantity| quantity.kind.symbol(units));
        let values: Vec<Option<f64>> = quantities.iter().map(|cell| cell.map(|cell| cell.value_in(units))).collect();
        self.column([head, unit], Side::Right, column_of_figures(&values, absent))
    }

    /// The last column: texts that take what is left of the line and go on below.
    pub(super) fn wrapped(mut self, head: &str, of: impl Fn(&'a R) -> String) -> Self {
        let cells = self.rows.iter().map(of).collect();
        self.columns.push(Column { head: [head.to_owned(), String::new()], side: Side::Left, cells, wraps: true });
        self
    }

    /// A paragraph below each row, as wide as the page.
    pub(super) fn below(mut self, of: impl Fn(&'a R) -> String) -> Self {
        self.below = self.rows.iter().map(of).collect();
        self
    }

    /// Writes the table under a heading.
    pub(super) fn write(self, page: &mut Page) {
        let widths = widths(&self.columns);
        let has_units = self.columns.iter().any(|column| !column.head[1].is_empty());
        for index in 0..=usize::from(has_units) {
            let heads = self.columns.iter().map(|column| column.head.get(index).cloned().unwrap_or_default());
            page.whole(&line(&self.columns, &widths, heads));
        }
        let dashes = widths.iter().map(|width| "-".repeat(*width));
        page.whole(&line(&self.columns, &widths, dashes));
        for row in 0..self.rows.len() {
            self.write_row(page, &widths, row);
            if let Some(text) = self.below.get(row) {
                page.hanging(&" ".repeat(BELOW), text);
            }
        }
    }

    fn write_row(&self, page: &mut Page, widths: &[usize], row: usize) {
        let cells: Vec<Vec<String>> = self
            .columns
            .iter()
            .zip(widths)
            .map(|(column, width)| {
                let cell = column.cells.get(row).map_or("", String::as_str);
                if column.wraps { wrapped(cell, *width) } else { vec![cell.to_owned()] }
            })
            .collect();
        let height = cells.iter().map(Vec::len).max().unwrap_or(0);
        for index in 0..height {
            let parts = cells.iter().map(|lines| lines.get(index).cloned().unwrap_or_default());
            page.whole(&line(&self.columns, widths, parts));
        }
    }
}

/// Each column is as wide as its widest cell or head; a wrapped one takes what is left.
fn widths(columns: &[Column]) -> Vec<usize> {
    let natural = |column: &Column| {
        let texts = column.head.iter().chain(if column.wraps { &[][..] } else { &column.cells[..] });
        texts.map(|text| text.chars().count()).max().unwrap_or(0)
    };
    let fixed: usize = columns.iter().filter(|column| !column.wraps).map(|column| natural(column) + GAP).sum();
    let rest = WIDTH.saturating_sub(INDENT + fixed).max(NARROWEST);
    columns.iter().map(|column| if column.wraps { rest } else { natural(column) }).collect()
}

fn line(columns: &[Column], widths: &[usize], cells: impl Iterator<Item = String>) -> String {
    let mut line = " ".repeat(INDENT);
    for (index, ((column, width), cell)) in columns.iter().zip(widths).zip(cells).enumerate() {
        if 0 < index {
            line.push_str(&" ".repeat(GAP));
        }
        let width = *width;
        let padded = match column.side {
            Side::Left => format!("{cell:<width$}"),
            Side::Right => format!("{cell:>width$}"),
        };
        line.push_str(&padded);
    }
    line
}

#[cfg(test)]
mod tests {
    use super::*;
    use ramwright_units::{Force, Length};

    fn text<R>(table: Table<'_, R>) -> String {
        let mut page = Page::default();
        table.write(&mut page);
        page.into_text()
    }

    #[test]
    fn verify_columns_line_up_with_their_units() {
        let rows = [("1", Some(1106.6)), ("point 2", Some(26.99)), ("3", None)];
        let table = Table::new(&rows).left("point", |row| row.0.to_owned()).quantities(
            "share",
            Profile::Metric,
            "unknown",
            |row| row.1.map(Force::from_kn),
        );
        let expected = "  point      share\n                kN\n  -------  -------\n  1           1107\n  point 2       27\n  3        unknown\n";
        assert_eq!(text(table), expected);
    }

    #[test]
    fn verify_units_follow_the_profile_and_without_units_there_is_one_line_of_heads() {
        let rows = [Length::from_mm(25.4)];
        let table = Table::new(&rows).quantities("gap", Profile::Us, "", |row| Some(*row));
        assert_eq!(text(table), "  gap\n   in\n  ---\n    1\n");
        assert_eq!(text(Table::new(&rows).right("n", |_| "12".to_owned())), "   n\n  --\n  12\n");
    }

    #[test]
    fn verify_the_last_column_takes_the_rest_of_the_line_and_goes_on_below() {
        let rows = ["word ".repeat(30)];
        let text = text(Table::new(&rows).left("n", |_| "1".to_owned()).wrapped("text", Clone::clone));
        let lines: Vec<&str> = text.lines().collect();
        assert_eq!(lines.len(), 4);
        assert_eq!(lines[1].len(), WIDTH);
        assert!(lines[2].starts_with("  1  word") && lines[3].starts_with("     word"), "{text}");
        assert!(lines.iter().all(|line| line.len() <= WIDTH));
    }

    #[test]
    fn verify_a_paragraph_below_a_row_is_indented_and_wrapped() {
        let rows = ["word ".repeat(20)];
        let text = text(Table::new(&rows).left("n", |_| "1".to_owned()).below(Clone::clone));
        let lines: Vec<&str> = text.lines().collect();
        assert_eq!((lines.len(), lines[2]), (5, "  1"));
        assert!(lines[3].starts_with("        word") && lines[4].starts_with("        word"), "{text}");
    }

    #[test]
    fn verify_an_empty_table_has_its_heads() {
        let rows: [u8; 0] = [];
        assert_eq!(text(Table::new(&rows).left("n", |_| String::new())), "  n\n  -\n");
    }
}
