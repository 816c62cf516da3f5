//! Column heads: a name, and for a quantity its unit.
//!
//! The rule. A head that is the name of a column without a unit is that column. Otherwise the head is split at the
//! first underscore whose right-hand side is a unit symbol (or another accepted spelling of it), in which `/` is
//! written `_per_` or plainly `_`: `stroke_mm`, `mass_ton_us`, `flow_fast_L_min`, `flow_fast_m3_per_s`. Case counts.

use super::entry::{CellKind, Column};
use crate::json::Node;
use crate::problem::{Fault, FaultCode};
use crate::read::{Pointer, nearest};
use ramwright_units::{ParseError, UNITS, Unit, by_symbol, in_unit};

/// What a head says.
#[derive(Clone, Copy, Debug)]
pub(crate) enum Head {
    /// A column that can be read, with its unit if its cells are quantities.
    Usable(&'static Column, Option<&'static Unit>),
    /// A known column whose head has a fault.
    Faulty(&'static Column),
    /// No known column.
    Unknown,
}

/// The unit that a head's right-hand side spells.
fn spelled(text: &str) -> Option<&'static Unit> {
    by_symbol(text).or_else(|| by_symbol(&text.replace("_per_", "/"))).or_else(|| by_symbol(&text.replace('_', "/")))
}

/// Name and unit of a head, split at the first underscore behind which a unit stands.
fn split(head: &str) -> Option<(&str, &'static Unit)> {
    head.match_indices('_').find_map(|(index, _)| {
        let (name, rest) = head.split_at(index);
        spelled(rest.trim_start_matches('_')).map(|unit| (name, unit))
    })
}

fn named(columns: &'static [Column], name: &str) -> Option<&'static Column> {
    columns.iter().find(|column| column.name == name)
}

/// Symbols of the units that a column takes.
fn symbols(column: &Column) -> Vec<&'static str> {
    let CellKind::Quantity(dimensions) = column.kind else { return Vec::new() };
    UNITS.iter().filter(|unit| dimensions.contains(&unit.dimension)).map(|unit| unit.symbol).collect()
}

/// How the head of a column may be written, for messages.
pub(crate) fn example(column: &Column) -> String {
    match symbols(column).first() {
        Some(symbol) => format!("{}_{}", column.name, symbol.replace('/', "_per_")),
        None => column.name.to_owned(),
    }
}

/// A longer head is none, and is not looked through for units.
const LONGEST_HEAD: usize = 80;

/// Reads a head; `at` is its own place.
pub(crate) fn read_head(head: &str, columns: &'static [Column], at: &Pointer, faults: &mut Vec<Fault>) -> Head {
    let given = Node::Text(head.to_owned()).shown();
    if LONGEST_HEAD < head.len() {
        faults.push(unknown(&given, &given, columns, at).with_given(given.clone()));
        return Head::Unknown;
    }
    let (read, fault) = match (named(columns, head), split(head)) {
        (Some(column), _) => without_unit(column, at),
        (None, Some((name, unit))) => match named(columns, name) {
            Some(column) => with_unit(column, unit, at),
            None => (Head::Unknown, Some(unknown(&given, name, columns, at))),
        },
        (None, None) => match longest_beginning(head, columns) {
            Some((column, rest)) => (Head::Faulty(column), Some(unreadable(column, rest, at))),
            None => (Head::Unknown, Some(unknown(&given, head, columns, at))),
        },
    };
    faults.extend(fault.map(|fault| fault.with_given(given)));
    read
}

fn without_unit(column: &'static Column, at: &Pointer) -> (Head, Option<Fault>) {
    if !matches!(column.kind, CellKind::Quantity(_)) {
        return (Head::Usable(column, None), None);
    }
    let fault = at.fault(FaultCode::BareNumber, format!("the head of column `{}` has no unit", column.name));
    let hint = format!("write `{}`; units here: {}", example(column), symbols(column).join(", "));
    (Head::Faulty(column), Some(fault.with_hint(hint)))
}

fn with_unit(column: &'static Column, unit: &'static Unit, at: &Pointer) -> (Head, Option<Fault>) {
    let detail = match column.kind {
        CellKind::Quantity(dimensions) if dimensions.contains(&unit.dimension) => {
            return (Head::Usable(column, Some(unit)), None);
        }
        CellKind::Quantity(dimensions) => {
            let wanted: Vec<&str> = dimensions.iter().map(|dimension| dimension.name()).collect();
            let measured = unit.dimension.name();
            format!("`{}` measures {measured}, and column `{}` is {}", unit.symbol, column.name, wanted.join(" or "))
        }
        _ => format!("column `{}` has no unit", column.name),
    };
    let hint = format!("write `{}`", example(column));
    (Head::Faulty(column), Some(at.fault(FaultCode::WrongDimension, detail).with_hint(hint)))
}

/// The column of a quantity with whose name a head begins, and what stands behind it.
fn longest_beginning<'a>(head: &'a str, columns: &'static [Column]) -> Option<(&'static Column, &'a str)> {
    columns
        .iter()
        .filter(|column| matches!(column.kind, CellKind::Quantity(_)))
        .filter_map(|column| Some((column, head.strip_prefix(column.name)?.strip_prefix('_')?)))
        .max_by_key(|(column, _)| column.name.len())
}

fn unreadable(column: &Column, rest: &str, at: &Pointer) -> Fault {
    let hint = format!("units here: {}", symbols(column).join(", "));
    if let Err(ParseError::Ton { .. }) = in_unit(1.0, rest) {
        let detail = "`ton` may be t (tonne), ton_us (short ton of 2000 lb) or ton_uk (long ton of 2240 lb)";
        return at.fault(FaultCode::AmbiguousUnit, detail).with_hint(hint);
    }
    let shown = Node::Text(rest.to_owned()).shown();
    let fault = at.fault(FaultCode::UnknownUnit, format!("`{shown}` is not a unit known here"));
    fault.with_nearest(nearest(&shown, symbols(column).into_iter())).with_hint(hint)
}

fn unknown(given: &str, name: &str, columns: &[Column], at: &Pointer) -> Fault {
    let name = Node::Text(name.to_owned()).shown();
    let near = nearest(&name, columns.iter().map(|column| column.name));
    let hint = match &near {
        Some(near) => format!("did you mean `{near}`?"),
        None if given.contains([';', '\t']) => "cells are separated by commas".to_owned(),
        None => format!("the columns are {}", columns.iter().map(example).collect::<Vec<_>>().join(", ")),
    };
    let fault = at.fault(FaultCode::UnknownField, format!("`{given}` is not a column of this table"));
    fault.with_nearest(near).with_hint(hint)
}

#[cfg(test)]
mod tests {
    use super::super::entry::Entry;
    use super::super::{InlineHose, InlinePacking, InlinePump, InlineRam};
    use super::*;

    fn read<E: Entry>(head: &str) -> (Head, Vec<Fault>) {
        let mut faults = Vec::new();
        let read = read_head(head, E::COLUMNS, &Pointer::default().item(0).field(head), &mut faults);
        (read, faults)
    }

    /// Every column in every unit that it takes is found again, in all three ways to write `/`.
    #[track_caller]
    fn check_all_units<E: Entry>() {
        for column in E::COLUMNS {
            for symbol in symbols(column) {
                for spelling in [symbol.to_owned(), symbol.replace('/', "_per_"), symbol.replace('/', "_")] {
                    let head = format!("{}_{spelling}", column.name);
                    match read::<E>(&head) {
                        (Head::Usable(found, Some(unit)), faults) if faults.is_empty() => {
                            assert_eq!((found.name, unit.symbol), (column.name, symbol), "{head}");
                        }
                        other => panic!("{head}: {other:?}"),
                    }
                }
            }
        }
    }

    #[test]
    fn verify_every_column_is_found_in_every_unit() {
        check_all_units::<InlineRam>();
        check_all_units::<InlinePump>();
        check_all_units::<InlineHose>();
        check_all_units::<InlinePacking>();
    }

    #[track_caller]
    fn check_fault(head: &str, code: FaultCode, nearest: Option<&str>) {
        let (_, faults) = read::<InlineRam>(head);
        assert_eq!(faults.len(), 1, "{faults:?}");
        assert_eq!((faults[0].code, faults[0].nearest.as_deref()), (code, nearest), "{:?}", faults[0]);
        assert_eq!(faults[0].given.as_deref(), Some(head));
    }

    #[test]
    fn verify_faulty_heads_are_named() {
        check_fault("stroke", FaultCode::BareNumber, None);
        check_fault("stroke_kg", FaultCode::WrongDimension, None);
        check_fault("stock_kg", FaultCode::WrongDimension, None);
        check_fault("stroke_inc", FaultCode::UnknownUnit, Some("in"));
        check_fault("mass_ton", FaultCode::AmbiguousUnit, None);
        check_fault("strok_mm", FaultCode::UnknownField, Some("stroke"));
        check_fault("side_load_limit", FaultCode::UnknownField, Some("side_load_limit_ratio"));
        check_fault("zzz", FaultCode::UnknownField, None);
        check_fault("_", FaultCode::UnknownField, None);
    }
}
