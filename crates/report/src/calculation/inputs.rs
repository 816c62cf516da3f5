//! Inputs as given and in working units, with the origin of each: given, default or catalogue.

use super::Material;
use super::parts::{paragraph, part};
use crate::document::{Block, Table};
use crate::style::{Style, joined, printed_unit};
use crate::words::{self, NONE, given};
use ramwright_engine::catalogue::Packing;
use ramwright_engine::ram::Ram;
use ramwright_units::{Dimension, Kind, LoadMass, Measured, Quantity, Weight, by_symbol, in_unit};
use serde_json::Value;

/// More rows than this are told, not listed: the request itself holds them.
const MOST_ROWS: usize = 400;

pub(super) fn blocks(material: &Material<'_>) -> Vec<Block> {
    let mut blocks = vec![part("inputs", "Inputs")];
    blocks.extend(as_given(material));
    blocks.extend(from_catalogue(material));
    blocks.push(part("assumptions", "Assumptions and defaults"));
    blocks.push(assumptions(material));
    blocks
}

/// One input of the request.
struct Given {
    field: String,
    value: String,
    working: String,
}

fn as_given(material: &Material<'_>) -> Vec<Block> {
    let mut found = Vec::new();
    flatten(material.envelope.request, "", material.style, &mut found);
    let left_off = found.len().saturating_sub(MOST_ROWS);
    let rows = found
        .into_iter()
        .take(MOST_ROWS)
        .map(|input| vec![input.field, input.value, input.working, "given".to_owned()]);
    let table = Table::new("inputs", "As given, and in working units")
        .texts(&["Field of the request", "As given", "Working value", "Origin"])
        .rows(rows);
    let mut blocks = vec![Block::Table(table)];
    if left_off > 0 {
        blocks.push(paragraph(format!("{left_off} more inputs are not listed here; the request holds them.")));
    }
    blocks
}

/// Every value of a tree with the field that holds it; points and rows that are alike in a field share a row.
fn flatten(value: &Value, field: &str, style: Style, found: &mut Vec<Given>) {
    match value {
        Value::Object(fields) => match quantity(fields, field) {
            Some((given, working)) => {
                let working = working.map_or_else(String::new, |quantity| style.quantity(quantity));
                found.push(Given { field: field.to_owned(), value: given.written(style), working });
            }
            None => {
                for (name, inner) in fields {
                    let at = if field.is_empty() { given(name) } else { format!("{field}/{}", given(name)) };
                    flatten(inner, &at, style, found);
                }
            }
        },
        Value::Array(items) if items.iter().all(|item| !item.is_object() && !item.is_array()) => {
            let words: Vec<_> = items.iter().map(|item| scalar(item, style)).collect();
            found.push(Given { field: field.to_owned(), value: words.join(", "), working: String::new() });
        }
        Value::Array(items) => {
            for (index, item) in items.iter().enumerate() {
                flatten(item, &format!("{field}/{index}"), style, found);
            }
        }
        _ => found.push(Given { field: field.to_owned(), value: scalar(value, style), working: String::new() }),
    }
}

fn scalar(value: &Value, style: Style) -> String {
    match value {
        Value::Number(number) => {
            number.as_f64().map_or_else(|| number.to_string(), |number| style.shortened(number, 12).text())
        }
        Value::String(text) => given(text),
        Value::Bool(true) => "yes".to_owned(),
        Value::Bool(false) => "no".to_owned(),
        _ => NONE.to_owned(),
    }
}

/// A quantity as it was sent.
struct Sent<'a> {
    value: f64,
    unit: &'a str,
}

impl Sent<'_> {
    fn written(&self, style: Style) -> String {
        let unit = by_symbol(self.unit).map_or(self.unit, |unit| printed_unit(unit.symbol));
        joined(&style.shortened(self.value, 12).text(), unit)
    }
}

/// A quantity of the request, as it was sent and as it is worked with.
fn quantity<'a>(fields: &'a serde_json::Map<String, Value>, field: &str) -> Option<(Sent<'a>, Option<Quantity>)> {
    let sent = Sent { value: fields.get("value")?.as_f64()?, unit: fields.get("unit")?.as_str()? };
    if fields.len() != 2 {
        return None;
    }
    let working = in_unit(sent.value, sent.unit).ok().and_then(|measured| {
        let Measured { unit, .. } = measured;
        if unit.dimension == Dimension::Mass && field.ends_with("weight") {
            return Some(Weight::from_mass(LoadMass::from_kg(measured.si())).force.into());
        }
        let of_dimension = || Kind::all().find(|kind| kind.dimension() == unit.dimension);
        let kind = Kind::answered_in(unit.symbol).or_else(of_dimension)?;
        Some(Quantity { kind, value_si: measured.si() })
    });
    Some((sent, working))
}

fn from_catalogue(material: &Material<'_>) -> Vec<Block> {
    let style = material.style;
    let mut blocks = Vec::new();
    let mut rams: Vec<&Ram> = Vec::new();
    for placed in material.subject.set.iter().flat_map(|set| &set.at_points) {
        if !rams.iter().any(|known| known.id == placed.ram.id) {
            rams.push(&placed.ram);
        }
    }
    let origin = material
        .envelope
        .catalogue
        .map_or_else(|| "given".to_owned(), |(name, _)| format!("catalogue {} or given", given(name)));
    for ram in rams {
        let caption = format!("Ram {}, {origin}", given(&ram.id));
        let table = Table::new("ram", caption).texts(&["Property", "Value"]).rows(ram_rows(ram, style));
        blocks.push(Block::Table(table));
    }
    blocks.extend(pieces(material, &origin).map(Block::Table));
    blocks
}

fn ram_rows(ram: &Ram, style: Style) -> Vec<Vec<String>> {
    let stated = |quantity: Option<Quantity>| {
        quantity.map_or_else(|| "not stated".to_owned(), |quantity| style.quantity(quantity))
    };
    let number = |value: Option<f64>| value.map_or_else(|| "not stated".to_owned(), |value| style.number(value));
    [
        ("action", words::plain(&ram.action)),
        ("lock collar", if ram.lock_collar { "yes" } else { "no" }.to_owned()),
        ("nominal class (a label only)", given(&ram.nominal_class)),
        ("effective area", style.quantity(ram.effective_area)),
        ("annulus area", stated(ram.annulus_area.map(Into::into))),
        ("rated pressure", style.quantity(ram.rated_pressure)),
        ("stroke", style.quantity(ram.stroke)),
        ("closed height", style.quantity(ram.closed_height)),
        ("body diameter", stated(ram.body_diameter.map(Into::into))),
        ("base diameter", stated(ram.base_diameter.map(Into::into))),
        ("plunger diameter", stated(ram.plunger_diameter.map(Into::into))),
        ("plunger bore", stated(ram.plunger_bore.map(Into::into))),
        ("yield strength of the plunger", stated(ram.plunger_yield.map(Into::into))),
        ("saddle diameter", stated(ram.saddle_diameter.map(Into::into))),
        ("tilt limit of the saddle", stated(ram.saddle_tilt_limit.map(Into::into))),
        ("side load limit over capacity", number(ram.side_load_limit_ratio)),
        ("return force, extended", stated(ram.return_force.map(Into::into))),
    ]
    .into_iter()
    .map(|(name, value)| vec![name.to_owned(), value])
    .collect()
}

/// The packing pieces that the sequence uses.
fn pieces(material: &Material<'_>, origin: &str) -> Option<Table> {
    let sequence = material.subject.sequence()?;
    let style = material.style;
    let used = |piece: &&Packing| sequence.pieces.iter().any(|count| count.piece == piece.id);
    let rows = material.subject.packing.iter().filter(used).map(|piece| {
        let count = sequence.pieces.iter().find(|count| count.piece == piece.id).map_or(0, |count| count.count);
        vec![
            given(&piece.id),
            words::plain(&piece.material),
            style.quantity(piece.thickness),
            style.quantity(piece.length),
            style.quantity(piece.width),
            count.to_string(),
        ]
    });
    let caption = format!("Packing pieces that the sequence uses, {origin}");
    Some(
        Table::new("pieces", caption)
            .texts(&["Piece", "Material"])
            .numbers(&["Thickness", "Length", "Width", "Used"])
            .rows(rows),
    )
}

fn assumptions(material: &Material<'_>) -> Block {
    let style = material.style;
    let rows = material.envelope.assumptions.iter().enumerate().map(|(index, assumption)| {
        vec![
            format!("A{}", index + 1),
            given(&assumption.field),
            assumption.text.to_string(),
            style.maybe(assumption.value),
            format!("default: {}", words::source(&assumption.source)),
        ]
    });
    let table = Table::new("assumptions", "Used because the request does not say")
        .texts(&["No.", "Field that would replace it", "Assumed", "Value", "Origin"])
        .rows(rows);
    Block::Table(table)
}
