//! Reading a CSV file of a catalogue.
//!
//! Cells are separated by commas, texts may stand in double quotes, spaces around a cell and lines of empty cells do
//! not count. An empty cell is a missing value. Places are `/rams/<row>/<column>`: the first row of data is 1, the heads are 0.

use super::column::{Head, example, read_head};
use super::entry::{CellKind, Column, Entry, Gathered};
use crate::json::Node;
use crate::problem::{Fault, FaultCode};
use crate::read::{Faults, Pointer};
use csv::StringRecord;
use ramwright_units::Unit;
use std::collections::{BTreeMap, BTreeSet};

/// The greatest number of rows in one file, without its heads.
pub const MOST_ROWS: usize = 2_000;

/// The greatest number of columns in one file.
pub const MOST_COLUMNS: usize = 60;

/// After so many faults the rest of a file is not read, so that an answer stays of a useful size.
pub const MOST_FAULTS: usize = 200;

/// The columns of one file as its heads name them.
struct Layout {
    /// Column and unit of each cell of a row; none for a head that cannot be used.
    cells: Vec<Option<(&'static Column, Option<&'static Unit>)>>,
    /// Columns that no cell fills; their heads have a fault already.
    unfilled: BTreeSet<&'static str>,
}

/// Reads all entries of a file; `at` is the catalogue's place.
pub(crate) fn read_table<E: Entry>(text: &str, at: &Pointer, faults: &mut Faults) -> BTreeMap<String, E::Item> {
    read_rows::<E>(text, at, faults).0
}

/// Reads all entries of a file, and gives its rows as a request would send them too.
pub(crate) fn read_rows<E: Entry>(
    text: &str,
    at: &Pointer,
    faults: &mut Faults,
) -> (BTreeMap<String, E::Item>, Vec<Node>) {
    let at = at.field(E::LIST);
    let (mut found, mut rows) = (Vec::new(), Vec::new());
    let mut gathered = Gathered::beginning_with(BTreeMap::new(), "");
    let text = with_plain_ends(text);
    let mut records = records(&text);
    if let Some(heads) = readable(records.next(), &at.item(0), &mut found)
        && let Some(layout) = read_layout::<E>(&heads, &at.item(0), &mut found)
    {
        for (index, record) in records.enumerate() {
            let row_at = at.item(index + 1);
            if let Some(stop) = reason_to_stop(index, found.len(), &row_at) {
                found.push(stop);
                break;
            }
            if let Some(record) = readable(Some(record), &row_at, &mut found) {
                found.extend(read_row::<E>(&record, &layout, &row_at, &mut gathered, &mut rows));
            }
        }
    }
    for fault in found {
        faults.push(fault);
    }
    (gathered.into_items(), rows)
}

/// Lines that end as on any system, ended alike: the reader counts those that end in two characters one too low.
fn with_plain_ends(text: &str) -> String {
    text.replace("\r\n", "\n")
}

fn records(text: &str) -> csv::StringRecordsIntoIter<&[u8]> {
    let text = text.strip_prefix('\u{feff}').unwrap_or(text);
    csv::ReaderBuilder::new()
        .has_headers(false)
        .flexible(true)
        .trim(csv::Trim::All)
        .from_reader(text.as_bytes())
        .into_records()
}

fn readable(
    record: Option<Result<StringRecord, csv::Error>>,
    at: &Pointer,
    faults: &mut Vec<Fault>,
) -> Option<StringRecord> {
    match record? {
        Ok(record) => Some(record),
        Err(error) => {
            faults.push(at.fault(FaultCode::MalformedTable, error.to_string()));
            None
        }
    }
}

fn reason_to_stop(rows: usize, faults: usize, at: &Pointer) -> Option<Fault> {
    let (limit, detail) = if MOST_ROWS <= rows {
        (MOST_ROWS, format!("at most {MOST_ROWS} rows can be taken; this row and those below it were not read"))
    } else if MOST_FAULTS <= faults {
        (MOST_FAULTS, format!("there are {faults} faults above; this row and those below it were not read"))
    } else {
        return None;
    };
    Some(at.fault(FaultCode::TooManyItems, detail).with_limit(limit.to_string()))
}

fn read_layout<E: Entry>(heads: &StringRecord, at: &Pointer, faults: &mut Vec<Fault>) -> Option<Layout> {
    if MOST_COLUMNS < heads.len() {
        let detail = format!("{} columns, at most {MOST_COLUMNS} can be taken", heads.len());
        faults.push(at.fault(FaultCode::TooManyItems, detail).with_limit(MOST_COLUMNS.to_string()));
        return None;
    }
    let mut cells = Vec::new();
    let (mut seen, mut filled) = (BTreeSet::new(), BTreeSet::new());
    for head in heads {
        let head_at = at.field(&Node::Text(head.to_owned()).shown());
        let read = read_head(head, E::COLUMNS, &head_at, faults);
        let (Head::Usable(column, _) | Head::Faulty(column)) = read else {
            cells.push(None);
            continue;
        };
        let first = seen.insert(column.name);
        if !first {
            let detail = format!("the column `{}` stands twice", column.name);
            faults.push(head_at.fault(FaultCode::DuplicateField, detail));
        }
        cells.push(match read {
            Head::Usable(column, unit) if first => {
                filled.insert(column.name);
                Some((column, unit))
            }
            _ => None,
        });
    }
    for column in E::COLUMNS.iter().filter(|column| column.required && !seen.contains(column.name)) {
        let detail = format!("the table has no column `{}`, which it must have", column.name);
        let fault = at.field(column.name).fault(FaultCode::MissingField, detail);
        faults.push(fault.with_hint(format!("write its head as `{}`", example(column))));
    }
    let unfilled = E::COLUMNS.iter().map(|column| column.name).filter(|name| !filled.contains(name)).collect();
    Some(Layout { cells, unfilled })
}

/// Reads one row and gives its faults, each with the row's id in its words; the row itself goes to `rows`.
fn read_row<E: Entry>(
    record: &StringRecord,
    layout: &Layout,
    at: &Pointer,
    gathered: &mut Gathered<E::Item>,
    rows: &mut Vec<Node>,
) -> Vec<Fault> {
    if record.iter().all(str::is_empty) {
        return Vec::new();
    }
    let line = record.position().map_or(0, csv::Position::line);
    let id = raw_id(record, layout);
    let place = match id {
        Some(id) => format!("`{}` in line {line}", Node::Text(id.to_owned()).shown()),
        None => format!("line {line}"),
    };
    let mut faults = Faults::default();
    if record.len() == layout.cells.len() {
        if let Some(id) = id {
            gathered.claim(id, format!("in line {line}"), at, &mut faults);
        }
        let row = node_of(record, layout);
        if let Some(entry) = E::read(&row, at, &mut faults)
            && let Some(item) = entry.item(at, &mut faults)
        {
            gathered.keep(entry.id(), item);
        }
        rows.push(row);
    } else {
        let detail = format!("{} cells, and the table has {} heads", record.len(), layout.cells.len());
        faults
            .push(at.fault(FaultCode::MalformedTable, detail).with_hint("a text with a comma stands in double quotes"));
    }
    let kept = faults.into_vec().into_iter().filter(|fault| !is_of_unfilled_column(fault, layout, at));
    kept.map(|fault| worded(fault, &place, at, E::COLUMNS)).collect()
}

fn raw_id<'a>(record: &'a StringRecord, layout: &Layout) -> Option<&'a str> {
    let filled = record.iter().zip(&layout.cells);
    let mut ids = filled.filter(|(_, cell)| cell.is_some_and(|(column, _)| column.name == "id"));
    ids.next().map(|(id, _)| id).filter(|id| !id.is_empty())
}

/// The row as the object that a request would send for it.
fn node_of(record: &StringRecord, layout: &Layout) -> Node {
    let filled = record.iter().zip(&layout.cells).filter(|(text, _)| !text.is_empty());
    Node::Object(
        filled
            .filter_map(|(text, cell)| {
                let (column, unit) = (*cell)?;
                Some((column.name.to_owned(), cell_node(text, column, unit)))
            })
            .collect(),
    )
}

/// A cell as a request would send it; what cannot be read stays text, which the field then refuses.
fn cell_node(text: &str, column: &Column, unit: Option<&Unit>) -> Node {
    let known = match (column.kind, unit) {
        (CellKind::Quantity(_), Some(unit)) => Some(Node::Text(format!("{text} {}", unit.symbol))),
        (CellKind::Number, _) => text.parse().ok().filter(|value: &f64| value.is_finite()).map(Node::Number),
        (CellKind::YesNo, _) => match text.to_ascii_lowercase().as_str() {
            "yes" | "true" => Some(Node::Bool(true)),
            "no" | "false" => Some(Node::Bool(false)),
            _ => None,
        },
        (CellKind::Text | CellKind::Quantity(_), _) => None,
    };
    known.unwrap_or_else(|| Node::Text(text.to_owned()))
}

/// Whether a field is missing only because its column has no usable head, which is a fault of its own.
fn is_of_unfilled_column(fault: &Fault, layout: &Layout, at: &Pointer) -> bool {
    fault.code == FaultCode::MissingField && layout.unfilled.iter().any(|name| is_at(fault, at, name))
}

fn is_at(fault: &Fault, at: &Pointer, name: &str) -> bool {
    fault.pointer == at.field(name).fault(fault.code, "").pointer
}

/// Puts a fault of a row in the words of a table.
fn worded(mut fault: Fault, place: &str, at: &Pointer, columns: &[Column]) -> Fault {
    let column = columns.iter().find(|column| is_at(&fault, at, column.name));
    match (fault.code, column.map(|column| column.kind)) {
        (FaultCode::MissingField, _) => "this cell must not be empty".clone_into(&mut fault.detail),
        (FaultCode::WrongType, Some(CellKind::YesNo)) => {
            let given = fault.given.as_deref().unwrap_or_default();
            fault.detail = format!("`{given}` is neither yes nor no");
            fault.code = FaultCode::UnknownValue;
        }
        (FaultCode::WrongType, Some(CellKind::Number)) => {
            let given = fault.given.as_deref().unwrap_or_default();
            fault.detail = format!("`{given}` is not a number of the kind wanted here");
            fault.hint.get_or_insert_with(|| "digits with a decimal point, not grouped; a count is whole".to_owned());
        }
        // The unit is the head's and has been read: what cannot be read is the number in front of it.
        (
            FaultCode::NotAQuantity | FaultCode::UnknownUnit | FaultCode::AmbiguousUnit | FaultCode::WrongDimension,
            Some(CellKind::Quantity(_)),
        ) => {
            let given = fault.given.as_deref().unwrap_or_default();
            fault.detail = format!("`{given}` is not a number and the unit of the head");
            fault.code = FaultCode::NotAQuantity;
            fault.nearest = None;
            fault.hint = Some("digits with a decimal point, not grouped, without a unit".to_owned());
        }
        _ => {}
    }
    fault.detail = format!("{place}: {}", fault.detail);
    fault
}
