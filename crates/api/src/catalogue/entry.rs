//! What the entries of all four lists have in common, however they are sent.
//!
//! A row of a CSV file and an object of a request are read by one and the same wire type, so that
//! bounds, rules between fields and messages cannot differ between the two.

use super::flow_curve::FlowCurve;
use super::words::Words;
use crate::problem::{Fault, FaultCode};
use crate::read::{Faults, Pointer, Read};
use crate::sent::{Bound, Name, Number, NumberBound, Sent};
use ramwright_engine::catalogue::{Drive, PackingForm, PackingMaterial, PackingUse};
use ramwright_engine::ram::{Action, Material};
use ramwright_engine::support::{En338Class, NdsSpecies};
use ramwright_units::{Dimension, Measured, Unit};
use std::collections::BTreeMap;

/// What a cell of a column holds.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum CellKind {
    /// Text as it stands.
    Text,
    /// `yes` or `no`.
    YesNo,
    /// A plain number.
    Number,
    /// A number whose unit is in the column head.
    Quantity(&'static [Dimension]),
}

/// A column of a CSV file.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Column {
    /// Its name without a unit, which is also the field's name in a request.
    pub(crate) name: &'static str,
    /// What its cells hold.
    pub(crate) kind: CellKind,
    /// Whether no cell may be empty.
    pub(crate) required: bool,
}

/// How a wire type stands in a cell.
pub(crate) trait Cell {
    /// What the cell holds.
    const KIND: CellKind;
    /// Whether it may not be empty.
    const REQUIRED: bool = true;
}

impl<B: Bound> Cell for Sent<B> {
    const KIND: CellKind = CellKind::Quantity(B::DIMENSIONS);
}

impl<B: NumberBound> Cell for Number<B> {
    const KIND: CellKind = CellKind::Number;
}

impl<T: Cell> Cell for Option<T> {
    const KIND: CellKind = T::KIND;
    const REQUIRED: bool = false;
}

impl Cell for bool {
    const KIND: CellKind = CellKind::YesNo;
}

macro_rules! text_cells {
    ($($type:ty),+) => {
        $(impl Cell for $type {
            const KIND: CellKind = CellKind::Text;
        })+
    };
}

text_cells!(
    FlowCurve,
    Name,
    Words,
    Action,
    Material,
    Drive,
    PackingForm,
    PackingMaterial,
    PackingUse,
    NdsSpecies,
    En338Class
);

/// An entry of a list as it is sent.
pub(crate) trait Entry: Read {
    /// The engine's type.
    type Item;
    /// The list's name, and its place in a request.
    const LIST: &'static str;
    /// The columns of its CSV file.
    const COLUMNS: &'static [Column];
    /// Its name in the catalogue.
    fn id(&self) -> &str;
    /// The engine's entry, unless its fields contradict each other.
    fn item(&self, at: &Pointer, faults: &mut Faults) -> Option<Self::Item>;
}

/// Declares the wire type of an entry, and with it the columns of its CSV file.
macro_rules! catalogue_entry {
    ($(#[$meta:meta])* $name:ident { $($(#[$field_meta:meta])* $field:ident $(as $wire:literal)? : $type:ty),+ $(,)? }) => {
        $crate::wire_struct! {
            $(#[$meta])*
            $name { $($(#[$field_meta])* $field $(as $wire)? : $type),+ }
        }

        impl $name {
            /// The columns, in the order of the fields.
            const COLUMNS: &'static [$crate::catalogue::entry::Column] = &[$(
                $crate::catalogue::entry::Column {
                    name: $crate::wire_name!($field $($wire)?),
                    kind: <$type as $crate::catalogue::entry::Cell>::KIND,
                    required: <$type as $crate::catalogue::entry::Cell>::REQUIRED,
                },
            )+];
        }
    };
}
pub(crate) use catalogue_entry;

/// The entries of a list while they are gathered, with the places where their ids stand.
pub(crate) struct Gathered<T> {
    items: BTreeMap<String, T>,
    places: BTreeMap<String, String>,
}

impl<T> Gathered<T> {
    /// Begins with entries that are there already; `place` says where, in words.
    pub(crate) fn beginning_with(items: BTreeMap<String, T>, place: &str) -> Self {
        let places = items.keys().map(|id| (id.clone(), place.to_owned())).collect();
        Self { items, places }
    }

    /// Takes an id for the entry at a place; a fault if it is taken.
    pub(crate) fn claim(&mut self, id: &str, place: String, at: &Pointer, faults: &mut Faults) {
        if let Some(reason) = changed_by_sheets(id) {
            let fault = at.field("id").fault(FaultCode::WrongType, format!("`{id}` {reason}"));
            faults.push(fault.with_given(id).with_hint("an id needs a letter, and begins with one or with a digit"));
        }
        match self.places.get(id) {
            Some(earlier) => {
                let detail = format!("the id `{id}` stands {earlier} already");
                let fault = at.field("id").fault(FaultCode::DuplicateId, detail);
                faults.push(fault.with_given(id).with_hint("every entry of a list needs an id of its own"));
            }
            None => {
                self.places.insert(id.to_owned(), place);
            }
        }
    }

    /// Keeps an entry.
    pub(crate) fn keep(&mut self, id: &str, item: T) {
        self.items.insert(id.to_owned(), item);
    }

    /// All entries by id.
    pub(crate) fn into_items(self) -> BTreeMap<String, T> {
        self.items
    }
}

/// Why an id would not come out of a spreadsheet as it went in, where another entry may be meant by what comes out.
fn changed_by_sheets(id: &str) -> Option<&'static str> {
    // A spreadsheet takes leading zeros off, and keeps fifteen digits.
    const DIGITS: usize = 15;
    let kept =
        id.bytes().all(|byte| byte.is_ascii_digit()) && id.len() <= DIGITS && (id == "0" || !id.starts_with('0'));
    if !kept && id.parse::<f64>().is_ok() {
        return Some("is a number, which a spreadsheet writes in its own way, and an id is a name");
    }
    id.starts_with('\'').then_some("begins with an apostrophe, which a spreadsheet takes off, and an id is a name")
}

/// A fault of a field that contradicts another.
pub(crate) fn contradiction(at: &Pointer, field: &str, given: Measured, limit: String, detail: &str) -> Fault {
    at.field(field)
        .fault(FaultCode::Inconsistent, format!("{} is not possible: {detail}", shown(given)))
        .with_given(shown(given))
        .with_limit(limit)
}

/// A quantity in the sender's unit.
pub(crate) fn shown(measured: Measured) -> String {
    format!("{} {}", measured.value, measured.unit.symbol)
}

/// A value in SI in a sender's unit, to four digits.
pub(crate) fn shown_in(value_si: f64, unit: &Unit) -> String {
    let value = (value_si - unit.offset) / unit.factor;
    let rounded = format!("{value:.3e}").parse().unwrap_or(value);
    format!("{rounded} {}", unit.symbol)
}
