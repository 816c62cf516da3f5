//! What the template reads: the document, its columns measured, its long words ready to break, its drawings as files.

use crate::PdfError;
use crate::columns::{Head, MARGINS_EM, Measures, measures};
use crate::words::Weight::{self, Bold, Regular};
use crate::words::{breakable, printable};
use ramwright_report::document::Document;
use serde_json::{Map, Value, json};

/// The narrower page without its margins, in the letters of a table.
const TABLE_ROOM_EM: f64 = 61.0;
/// The same within the frame of a step, in the letters of its readings.
const READINGS_ROOM_EM: f64 = 56.0;
/// A name, and the value beside it.
const FACT_ROOM_EM: [f64; 2] = [13.0, 36.0];
/// The room for a long word in texts of a size of their own.
const ROOMS_EM: [(&str, f64); 3] = [("running_foot", 65.0), ("running_head", 55.0), ("word", 18.0)];
/// The same in all others; the narrowest stands beside the drawing of a step.
const TEXT_ROOM_EM: f64 = 23.0;
/// From so many rows of readings on, a step may be longer than a page.
const MANY_READINGS: usize = 8;

/// What the template reads.
pub(crate) struct Data {
    /// The document.
    pub(crate) json: Vec<u8>,
    /// Its drawings, the first as `/figure-0.svg`.
    pub(crate) figures: Vec<String>,
}

impl Data {
    pub(crate) fn of(document: &Document) -> Result<Self, PdfError> {
        let mut value = serde_json::to_value(document)?;
        let mut figures = Vec::new();
        prepare(&mut value, TEXT_ROOM_EM, &mut figures);
        Ok(Self { json: serde_json::to_vec(&value)?, figures })
    }
}

/// The name of the file of a drawing.
pub(crate) fn figure_path(number: usize) -> String {
    format!("/figure-{number}.svg")
}

fn prepare(value: &mut Value, room_em: f64, figures: &mut Vec<String>) {
    match value {
        Value::String(_) => fit(Some(value), room_em, Bold),
        Value::Array(items) => items.iter_mut().for_each(|item| prepare(item, room_em, figures)),
        Value::Object(table) if table.contains_key("columns") => prepare_table(table, TABLE_ROOM_EM),
        Value::Object(facts) if facts.get("block").is_some_and(|block| block == "facts") => prepare_facts(facts),
        Value::Object(fields) => prepare_fields(fields, figures),
        Value::Null | Value::Bool(_) | Value::Number(_) => {}
    }
}

fn prepare_fields(fields: &mut Map<String, Value>, figures: &mut Vec<String>) {
    if let Some(Value::String(svg)) = fields.remove("svg") {
        fields.insert("path".to_owned(), figure_path(figures.len()).into());
        figures.push(svg);
    }
    if let Some(Value::Object(readings)) = fields.get_mut("readings") {
        let rows = readings.get("rows").and_then(Value::as_array).map_or(0, Vec::len);
        prepare_table(readings, READINGS_ROOM_EM);
        fields.insert("long".to_owned(), (MANY_READINGS <= rows).into());
    }
    for (name, field) in fields.iter_mut().filter(|(name, _)| *name != "readings") {
        let own = ROOMS_EM.iter().find(|(other, _)| other == name);
        prepare(field, own.map_or(TEXT_ROOM_EM, |(_, room_em)| *room_em), figures);
    }
}

fn prepare_facts(facts: &mut Map<String, Value>) {
    let rows = facts.get_mut("rows").and_then(Value::as_array_mut);
    for row in rows.into_iter().flatten().filter_map(Value::as_array_mut) {
        for (text, room_em) in row.iter_mut().zip(FACT_ROOM_EM) {
            fit(Some(text), room_em, Regular);
        }
    }
}

fn prepare_table(table: &mut Map<String, Value>, room_em: f64) {
    let list = |name: &str| table.get(name).and_then(Value::as_array).map(Vec::as_slice).unwrap_or_default();
    let heads: Vec<_> = list("columns").iter().map(head).collect();
    let rows: Vec<_> = list("rows").iter().map(cells).collect();
    let measures = measures(&heads, &rows, room_em);
    let one_line: Vec<_> = rows.iter().map(|row| measures.is_one_line(row)).collect();
    let Measures { scale, widths_em } = measures;
    if let Some(Value::Array(columns)) = table.get_mut("columns") {
        for (column, width) in columns.iter_mut().zip(&widths_em) {
            fit(column.get_mut("head"), *width - MARGINS_EM, Bold);
        }
    }
    if let Some(Value::Array(rows)) = table.get_mut("rows") {
        for row in rows.iter_mut().filter_map(Value::as_array_mut) {
            // Every row has a cell for each column, as the grid wants it.
            row.resize(widths_em.len(), Value::String(String::new()));
            for (cell, width) in row.iter_mut().zip(&widths_em) {
                fit(Some(cell), *width - MARGINS_EM, Regular);
            }
        }
    }
    fit(table.get_mut("caption"), TEXT_ROOM_EM, Bold);
    table.insert("widths".to_owned(), json!(widths_em));
    table.insert("scale".to_owned(), json!(scale));
    table.insert("one_line".to_owned(), json!(one_line));
}

fn head(column: &Value) -> Head<'_> {
    Head {
        text: column.get("head").and_then(Value::as_str).unwrap_or_default(),
        numbers: column.get("numbers").and_then(Value::as_bool).unwrap_or_default(),
    }
}

fn cells(row: &Value) -> Vec<&str> {
    row.as_array().into_iter().flatten().map(|cell| cell.as_str().unwrap_or_default()).collect()
}

/// Makes a text fit into its room.
fn fit(text: Option<&mut Value>, room_em: f64, weight: Weight) {
    if let Some(Value::String(text)) = text {
        *text = breakable(&printable(text), room_em, weight);
    }
}
