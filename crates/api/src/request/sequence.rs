//! Which way a load goes, and how: what was sent, as the engine takes it.

use super::case_wire::{LoadCaseSent, PointIds};
use super::context::{Context, Yard};
use super::sections::Section;
use super::sequence_wire::{EndByEndSent, SequenceSent, StackPieces};
use super::words::WayWord;
use crate::problem::FaultCode;
use crate::read::Pointer;
use crate::sent::Number;
use ramwright_engine::packing_lift::{Direction, PieceCount};
use ramwright_engine::plan::{EndByEnd, HowItGoes};
use std::collections::BTreeSet;

/// How the load goes; nothing if what was sent could not be read.
pub(crate) fn parse_sequence(
    section: &Section<SequenceSent>,
    case: Option<&LoadCaseSent>,
    yard: &Yard,
    context: &mut Context<'_>,
) -> Option<HowItGoes> {
    let sent = match section {
        Section::Faulty => return None,
        Section::Absent => {
            return Some(HowItGoes { direction: Direction::Raise, end_by_end: None, second_support: None });
        }
        Section::Sent(sent) => sent,
    };
    let at = Pointer::default().field("sequence");
    let direction = direction(sent, yard, &at, context)?;
    if sent.end_by_end.is_some() && matches!(direction, Direction::Lower { .. }) {
        let hint = "leave out end_by_end: all points go down together";
        context.inconsistent(&at.field("end_by_end"), "a load that goes down end by end is not planned", hint);
    }
    let end_by_end = match &sent.end_by_end {
        None => None,
        Some(by_end) => Some(ends(by_end, case, &at.field("end_by_end"), context)?),
    };
    Some(HowItGoes { direction, end_by_end, second_support: sent.second_support.as_ref().map(|name| name.0.clone()) })
}

fn direction(sent: &SequenceSent, yard: &Yard, at: &Pointer, context: &mut Context<'_>) -> Option<Direction> {
    match (sent.direction, &sent.stands_on) {
        (None | Some(WayWord::Up), None) => Some(Direction::Raise),
        (None | Some(WayWord::Up), Some(_)) => {
            let hint = "use the direction \"down\", or leave it out";
            context.inconsistent(&at.field("stands_on"), "a load that goes up stands on its own bearing", hint);
            None
        }
        (Some(WayWord::Down), None) => {
            let hint = "name the pieces of one holding stack";
            context.inconsistent(&at.field("direction"), "a load that goes down needs stands_on", hint);
            None
        }
        (Some(WayWord::Down), Some(pieces)) => Some(Direction::Lower { stands_on: stack(pieces, yard, at, context) }),
    }
}

fn stack(pieces: &StackPieces, yard: &Yard, at: &Pointer, context: &mut Context<'_>) -> Vec<PieceCount> {
    let at = at.field("stands_on");
    let mut seen = BTreeSet::new();
    for (index, part) in pieces.0.iter().enumerate() {
        let place = at.item(index).field("piece");
        if !yard.catalogue.packing.contains_key(&part.piece.0) {
            let known: Vec<&str> = yard.catalogue.packing.keys().map(String::as_str).collect();
            let mut fault = place.fault(FaultCode::UnknownId, format!("no packing piece \"{}\"", part.piece.0));
            fault.nearest = crate::read::nearest(&part.piece.0, known.iter().copied());
            context.faults.push(fault);
        } else if !seen.insert(part.piece.0.clone()) {
            context.faults.push(place.fault(FaultCode::DuplicateId, format!("\"{}\" is named twice", part.piece.0)));
        }
    }
    let count = |part: &super::sequence_wire::StackPieceSent| PieceCount {
        piece: part.piece.0.clone(),
        count: Number::count(&part.count),
    };
    pieces.0.iter().map(count).collect()
}

fn ends(sent: &EndByEndSent, case: Option<&LoadCaseSent>, at: &Pointer, context: &mut Context<'_>) -> Option<EndByEnd> {
    let known: Vec<&str> = case?.points.0.iter().map(|point| point.id.0.as_str()).collect();
    let place = at.field("ends");
    let mut seen = BTreeSet::new();
    for (end, ids) in sent.ends.0.iter().enumerate() {
        for (index, id) in ids.0.iter().enumerate() {
            let place = place.item(end).item(index);
            if !known.contains(&id.0.as_str()) {
                let mut fault = place.fault(FaultCode::UnknownId, format!("no point \"{}\"", id.0));
                fault.nearest = crate::read::nearest(&id.0, known.iter().copied());
                context.faults.push(fault);
            } else if !seen.insert(id.0.as_str()) {
                context.faults.push(place.fault(FaultCode::DuplicateId, format!("\"{}\" is named twice", id.0)));
            }
        }
    }
    for id in known.iter().filter(|id| !seen.contains(**id)) {
        context.inconsistent(&place, format!("point \"{id}\" belongs to neither end"), "name every point at one end");
    }
    let ids = |ids: &PointIds| ids.0.iter().map(|id| id.0.clone()).collect::<Vec<String>>();
    match sent.ends.0.as_slice() {
        [one, other] => Some(EndByEnd {
            ends: [ids(one), ids(other)],
            greatest_difference: crate::sent::Sent::get(&sent.greatest_difference),
        }),
        _ => None,
    }
}
