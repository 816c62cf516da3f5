//! A table with one enquiry a row: its head names the parameters.
//!
//! A column is `load` (212 t), `load_t` (212), or `load` (212) beside `load_unit` (t). Columns `note` and `note_...` are carried
//! along. Columns of an earlier answer are dropped, so that a table may be sent again as it came back. Any other head refuses
//! the whole table: a parameter that is misspelt must not be lost.

use super::{Enquiry, Parameter, parameters_of, with_points};
use crate::json::Node;
use crate::problem::{Fault, FaultCode, Problem};
use crate::read::nearest;
use ramwright_units::by_symbol;

/// The greatest number of rows of one table.
pub const MOST_ROWS: usize = 1000;
/// The greatest number of columns of one table.
pub const MOST_COLUMNS: usize = 200;
/// The heads of columns that nobody reads begin with this.
const NOTE: &str = "note";
/// A column with the unit of another has its head and then this.
const UNIT: &str = "_unit";

/// What a column holds.
#[derive(Clone, Debug, Eq, PartialEq)]
enum Column {
    /// A parameter as it would stand in an address.
    Whole(&'static str),
    /// The value of a quantity in a unit that the head names.
    Value(&'static str, &'static str),
    /// The unit of a quantity.
    Unit(&'static str),
    /// Nothing that is read.
    Note,
    /// Part of an earlier answer.
    Answer,
}

/// A table of enquiries.
#[derive(Clone, Debug)]
pub struct Rows {
    enquiry: Enquiry,
    decimal_comma: bool,
    heads: Vec<String>,
    columns: Vec<Column>,
    lines: Vec<Vec<String>>,
}

impl Rows {
    /// Reads a table; `answer` are the heads of the columns that are added to it.
    ///
    /// # Errors
    /// A head that means nothing or the same as another, a table that is none, or too many rows.
    pub fn read(enquiry: Enquiry, text: &str, decimal_comma: bool, answer: &[&str]) -> Result<Self, Problem> {
        let text = text.strip_prefix('\u{feff}').unwrap_or(text);
        let separator = if decimal_comma { b';' } else { b',' };
        well_formed(text, char::from(separator)).map_err(|detail| malformed(&detail))?;
        let mut reader = csv::ReaderBuilder::new()
            .delimiter(separator)
            .has_headers(false)
            .flexible(true)
            .from_reader(text.as_bytes());
        let mut lines = Vec::new();
        for record in reader.records().take(MOST_ROWS + 2) {
            let record = record.map_err(|error| malformed(&error.to_string()))?;
            lines.push(record.iter().map(str::to_owned).collect::<Vec<String>>());
        }
        if lines.is_empty() {
            return Err(malformed("there is no line with the heads of the columns"));
        }
        let heads = lines.remove(0);
        if MOST_ROWS < lines.len() {
            let detail = format!("A table may have at most {MOST_ROWS} rows under its head.");
            let fault = Fault::at("#", FaultCode::TooManyItems, detail).with_limit(MOST_ROWS.to_string());
            return Err(Problem::invalid_request(vec![fault.with_hint("send it in parts")]));
        }
        if MOST_COLUMNS < heads.len() {
            let detail = format!("{} columns, at most {MOST_COLUMNS} can be taken", heads.len());
            let fault = Fault::at("#", FaultCode::TooManyItems, detail).with_limit(MOST_COLUMNS.to_string());
            return Err(Problem::invalid_request(vec![fault]));
        }
        let columns = columns(enquiry, &heads, answer)?;
        Ok(Self { enquiry, decimal_comma, heads, columns, lines })
    }

    /// How many rows there are.
    pub fn len(&self) -> usize {
        self.lines.len()
    }

    /// Whether there are none.
    pub fn is_empty(&self) -> bool {
        self.lines.is_empty()
    }

    /// The heads that go back, as they came.
    pub fn heads(&self) -> impl Iterator<Item = String> {
        self.kept(&self.heads)
    }

    /// The cells of a row that go back, as they came; a row that is too short is filled up.
    pub fn cells(&self, row: usize) -> impl Iterator<Item = String> {
        self.kept(self.lines.get(row).map_or(&[], Vec::as_slice))
    }

    fn kept<'a>(&'a self, cells: &'a [String]) -> impl Iterator<Item = String> {
        let kept = self.columns.iter().enumerate().filter(|(_, column)| **column != Column::Answer);
        kept.map(|(at, _)| cells.get(at).cloned().unwrap_or_default())
    }

    /// The parameters of a row, with a point in each number; none if the row is blank.
    ///
    /// # Errors
    /// Fewer or more cells than heads, a unit without its value, or a number in the other convention.
    pub fn given(&self, row: usize) -> Result<Option<Vec<(String, String)>>, Problem> {
        let cells = self.lines.get(row).map_or(&[][..], Vec::as_slice);
        let asked =
            self.columns.iter().zip(cells).filter(|(column, _)| !matches!(column, Column::Note | Column::Answer));
        let beyond = cells.get(self.columns.len()..).unwrap_or_default();
        if asked.clone().map(|(_, cell)| cell).chain(beyond).all(|cell| cell.trim().is_empty()) {
            return Ok(None);
        }
        if cells.len() != self.columns.len() {
            let detail = format!("the row has {} cells, and the table {} columns", cells.len(), self.columns.len());
            return Err(malformed(&detail));
        }
        let unit_of =
            |name: &str| asked.clone().find(|(column, _)| matches!(column, Column::Unit(own) if *own == name));
        let mut given: Vec<(String, String)> = Vec::new();
        let mut faults = Vec::new();
        for (column, cell) in asked.clone() {
            let cell = unguarded(cell.trim());
            if cell.is_empty() {
                continue;
            }
            match column {
                Column::Whole(name) => {
                    let unit = unit_of(name).map(|(_, unit)| unit.trim()).filter(|unit| !unit.is_empty());
                    let text = unit.map_or_else(|| cell.to_owned(), |unit| format!("{cell} {unit}"));
                    given.push(((*name).to_owned(), text));
                }
                Column::Value(name, unit) => given.push(((*name).to_owned(), format!("{cell} {unit}"))),
                Column::Unit(name) if !has_value(&asked, name) => {
                    let detail = "the row gives a unit and no value for it";
                    faults.push(Fault::in_parameter(*name, FaultCode::Inconsistent, detail).with_given(cell));
                }
                Column::Unit(_) | Column::Note | Column::Answer => {}
            }
        }
        if !faults.is_empty() {
            return Err(Problem::invalid_request(faults));
        }
        let given = if self.decimal_comma { with_points(self.enquiry, given)? } else { given };
        Ok(Some(given))
    }
}

/// A text without the apostrophe that an answer put before it, so that a table sent again asks the same.
fn unguarded(cell: &str) -> &str {
    cell.strip_prefix('\'').filter(|rest| rest.starts_with(['=', '+', '-', '@'])).unwrap_or(cell)
}

fn has_value<'a>(cells: &(impl Iterator<Item = (&'a Column, &'a String)> + Clone), name: &str) -> bool {
    cells.clone().any(|(column, cell)| matches!(column, Column::Whole(own) if *own == name) && !cell.trim().is_empty())
}

/// Refuses what a reader of CSV would take in another sense than it was written in: a text behind a closing quote, a quote that
/// is never closed, and an empty line among others, which is no row and would move those below it up.
fn well_formed(text: &str, separator: char) -> Result<(), String> {
    enum Cell {
        Begins,
        Plain,
        Quoted,
        Closed,
    }
    let (mut cell, mut line, mut row_is_empty, mut empty_line) = (Cell::Begins, 1_usize, true, None);
    for one in text.chars() {
        let ends = one == separator || matches!(one, '\r' | '\n');
        let in_quotes = matches!(cell, Cell::Quoted);
        cell = match cell {
            Cell::Quoted if one == '"' => Cell::Closed,
            Cell::Quoted => Cell::Quoted,
            Cell::Begins | Cell::Closed if one == '"' => Cell::Quoted,
            Cell::Closed if !ends => return Err(format!("in line {line} a text stands behind a closing quote")),
            _ if ends => Cell::Begins,
            _ => Cell::Plain,
        };
        if one == '\n' && !in_quotes {
            empty_line = empty_line.or(row_is_empty.then_some(line));
            row_is_empty = true;
        } else if one != '\r' {
            row_is_empty = false;
            if let Some(line) = empty_line {
                return Err(format!("line {line} is empty; a row of empty cells has its separators"));
            }
        }
        line += usize::from(one == '\n');
    }
    if matches!(cell, Cell::Quoted) { Err("a quote is opened and never closed".to_owned()) } else { Ok(()) }
}

fn malformed(detail: &str) -> Problem {
    Problem::invalid_request(vec![Fault::at("#", FaultCode::MalformedTable, detail)])
}

/// What each column holds.
fn columns(enquiry: Enquiry, heads: &[String], answer: &[&str]) -> Result<Vec<Column>, Problem> {
    let mut faults = Vec::new();
    let mut columns: Vec<Column> = Vec::new();
    for head in heads {
        match column(enquiry, head.trim(), answer) {
            Some(column) => {
                if target(&column).is_some_and(|own| columns.iter().filter_map(target).any(|other| own == other)) {
                    let detail = "two columns give the same parameter";
                    faults.push(Fault::in_parameter(head.trim(), FaultCode::DuplicateField, detail));
                }
                columns.push(column);
            }
            None => faults.push(unknown(enquiry, head.trim())),
        }
    }
    if faults.is_empty() { Ok(columns) } else { Err(Problem::invalid_request(faults)) }
}

/// What may stand in a row only once.
fn target(column: &Column) -> Option<(&'static str, bool)> {
    match column {
        Column::Whole(name) | Column::Value(name, _) => Some((name, false)),
        Column::Unit(name) => Some((name, true)),
        Column::Note | Column::Answer => None,
    }
}

fn column(enquiry: Enquiry, head: &str, answer: &[&str]) -> Option<Column> {
    let of = |name: &str| parameters_of(enquiry).find(|parameter| parameter.name == name);
    let quantity = |name: &str| of(name).filter(|parameter| parameter.is_quantity());
    if let Some(parameter) = of(head) {
        return Some(Column::Whole(parameter.name));
    }
    if answer.contains(&head) {
        return Some(Column::Answer);
    }
    if head == NOTE || head.starts_with("note_") {
        return Some(Column::Note);
    }
    if let Some(parameter) = head.strip_suffix(UNIT).and_then(quantity) {
        return Some(Column::Unit(parameter.name));
    }
    // A name may have underscores and so may a unit, as in `load_ton_us`.
    let splits = head.match_indices('_').filter_map(|(at, _)| Some((head.get(..at)?, head.get(at + 1..)?)));
    let found = splits.filter_map(|(name, unit)| Some((quantity(name)?, by_symbol(unit)?))).next_back();
    found.map(|(parameter, unit)| Column::Value(parameter.name, unit.symbol))
}

fn unknown(enquiry: Enquiry, head: &str) -> Fault {
    let head = &Node::Text(head.to_owned()).shown();
    let names: Vec<&str> = parameters_of(enquiry).map(|parameter: &Parameter| parameter.name).collect();
    let near = nearest(head, names.iter().copied());
    let fault = Fault::in_parameter(head, FaultCode::UnknownField, format!("There is no column {head:?} here."));
    let hint = if head.contains(';') {
        "a table with semicolons is sent with decimal=comma"
    } else {
        "name it after a parameter, such as load, load_t or load_unit, or begin it with note_ if nobody is to read it"
    };
    fault.with_hint(hint).with_nearest(near)
}

#[cfg(test)]
mod tests {
    use super::*;

    fn given(text: &str, comma: bool) -> Vec<Result<Option<String>, FaultCode>> {
        let rows = Rows::read(Enquiry::RamSet, text, comma, &["status"]).unwrap();
        let joined = |pairs: Vec<(String, String)>| {
            pairs.into_iter().map(|(name, text)| format!("{name}={text}")).collect::<Vec<_>>().join("&")
        };
        let row = |row| rows.given(row).map(|given| given.map(joined)).map_err(|problem| problem.errors[0].code);
        (0..rows.len()).map(row).collect()
    }

    fn refused(text: &str) -> Vec<(Option<String>, FaultCode)> {
        let problem = Rows::read(Enquiry::RamSet, text, false, &["status"]).unwrap_err();
        problem.errors.into_iter().map(|fault| (fault.parameter, fault.code)).collect()
    }

    #[test]
    fn verify_three_ways_to_write_a_quantity() {
        let same = Ok(Some("load=212 t&points=4".to_owned()));
        for text in [
            "load,points\n212 t,4\n",
            "load_t,points\r\n212,4\r\n",
            "load,load_unit,points\n212,t,4",
            "\u{feff}load_unit,load,points\nt,212,4\n",
            "note,load_t,points,note_b,status\n=1,212,4,x,done\n",
        ] {
            assert_eq!(given(text, false), std::slice::from_ref(&same), "{text:?}");
        }
        assert_eq!(given("title\n'=a\n", false), [Ok(Some("title==a".to_owned()))]);
        assert_eq!(given("load_ton_us\n212\n", false), [Ok(Some("load=212 ton_us".to_owned()))]);
        assert_eq!(given("support_stiffness_kN/mm\n80\n", false), [Ok(Some("support_stiffness=80 kN/mm".to_owned()))]);
        assert_eq!(given("pad_length_mm\n80\n", false), [Ok(Some("pad_length=80 mm".to_owned()))]);
        assert_eq!(given("load_t;points\n212,5;4\n1.212,5;4\n", true)[0], Ok(Some("load=212.5 t&points=4".to_owned())));
        assert_eq!(given("load_t;points\n212.5;4\n", true), [Err(FaultCode::Inconsistent)]);
    }

    #[test]
    fn verify_blank_rows_and_rows_of_another_length_are_told_apart() {
        let rows = given("load_t,note\n,\n,only a note\n1,a,b\n1\n,,1\n,,\n", false);
        let malformed = || Err(FaultCode::MalformedTable);
        // What stands beyond the columns is not lost with a row that is blank up to there.
        assert_eq!(rows, [Ok(None), Ok(None), malformed(), malformed(), malformed(), Ok(None)]);
        assert_eq!(given("load,load_unit,points\n,t,4\n", false), [Err(FaultCode::Inconsistent)]);
    }

    #[test]
    fn verify_heads_that_mean_nothing_or_the_same_refuse_the_table() {
        let named = |name: &str, code| (Some(name.to_owned()), code);
        assert_eq!(refused("laod_t,points\n"), [named("laod_t", FaultCode::UnknownField)]);
        assert_eq!(refused("load_mm2x,points\n"), [named("load_mm2x", FaultCode::UnknownField)]);
        assert_eq!(refused("ram,points\n"), [named("ram", FaultCode::UnknownField)]);
        assert_eq!(refused("load,load_t\n"), [named("load_t", FaultCode::DuplicateField)]);
        assert_eq!(refused("load_unit,load_unit\n"), [named("load_unit", FaultCode::DuplicateField)]);
        assert_eq!(refused(""), [(None, FaultCode::MalformedTable)]);
        assert_eq!(refused("load\n\"1 t\n"), [(None, FaultCode::MalformedTable)]);
        assert_eq!(refused(&"load,".repeat(MOST_COLUMNS)), [(None, FaultCode::TooManyItems)]);
        let many = format!("load\n{}", "1 t\n".repeat(MOST_ROWS + 1));
        assert_eq!(refused(&many), [(None, FaultCode::TooManyItems)]);
    }

    #[test]
    fn verify_what_readers_of_csv_take_in_other_ways_is_refused() {
        let well = |text| well_formed(text, ',');
        for good in ["", "a,b\r\n\"x, \"\"y\"\"\n\n\",2\r\n\r\n\n", "a\n5\" pipe\n \n", "\"\",\"\"\n"] {
            assert_eq!(well(good), Ok(()), "{good:?}");
        }
        for (bad, place) in [
            ("note,load_t\n\"A,96\n\"B,40\n", "in line 3 "),
            ("a\n\"x\" y\n", "in line 2 "),
            ("a\n\n1\n", "line 2 is empty"),
            ("a\r\n1\r\n\r\n2\r\n", "line 3 is empty"),
            ("a\n\"1\n", "never closed"),
        ] {
            assert!(well(bad).is_err_and(|said| said.contains(place)), "{bad:?}: {:?}", well(bad));
        }
    }

    #[test]
    fn verify_an_earlier_answer_is_dropped_and_the_rest_goes_back() {
        let rows = Rows::read(Enquiry::RamSet, "note,load_t,status\na,1,done\nb,2\n", false, &["status"]).unwrap();
        assert_eq!(rows.heads().collect::<Vec<_>>(), ["note", "load_t"]);
        assert_eq!((0..rows.len()).flat_map(|row| rows.cells(row)).collect::<Vec<_>>(), ["a", "1", "b", "2"]);
    }
}
