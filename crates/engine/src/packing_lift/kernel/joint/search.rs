//! Best first over the states of all groups.

use super::frame::{Frame, State};
use super::successors::{Node, successors};
use crate::packing_lift::kernel::meter::{Halt, Meter};
use crate::packing_lift::kernel::model::Cost;
use std::cmp::Reverse;
use std::collections::{BTreeMap, BinaryHeap};

/// The states after each cycle, and what was spent.
pub(super) type Moves = Vec<State>;

/// How far the search came.
#[derive(Debug)]
pub(super) enum Found {
    /// A plan of least cost.
    Best(Moves, Cost),
    /// Some plan.
    Some(Moves, Cost),
    /// There is none with this number of cycles.
    Never,
    /// None was met within the effort.
    NotYet,
}

/// Share of the effort, as a divisor, that the narrow search may take.
const BEAM_SHARE: u64 = 4;
/// Nodes kept after each choice of the narrow search.
const BEAM: usize = 96;
/// Nodes held at most: some 200 bytes each.
const NODES_MOST: usize = 400_000;

/// Finds the cheapest plan with the frame's number of cycles.
///
/// # Errors
/// [`Halt::Stopped`].
pub(super) fn cheapest(frame: &Frame, meter: &mut Meter<'_>) -> Result<Found, Halt> {
    let share = meter.left() / BEAM_SHARE;
    let met = match meter.part(share, |meter| narrow(frame, meter)) {
        Ok(met) => met,
        Err(Halt::Effort) => None,
        Err(Halt::Stopped) => return Err(Halt::Stopped),
    };
    let limit = met.as_ref().map_or(Cost::NONE, |(_, cost)| *cost);
    match best_first(frame, limit, meter) {
        Ok(Some((moves, cost))) => Ok(Found::Best(moves, cost)),
        Ok(None) => Ok(met.map_or(Found::Never, |(moves, cost)| Found::Best(moves, cost))),
        Err(Halt::Effort) => Ok(met.map_or(Found::NotYet, |(moves, cost)| Found::Some(moves, cost))),
        Err(Halt::Stopped) => Err(Halt::Stopped),
    }
}

type Key = (usize, State, i64, (i64, i64), i64);

fn looks(frame: &Frame, node: &Node) -> Cost {
    node.spent.and(frame.to_go(&node.state))
}

/// A plan met by keeping only the nodes that look best after each choice.
fn narrow(frame: &Frame, meter: &mut Meter<'_>) -> Result<Option<(Moves, Cost)>, Halt> {
    let mut arena = vec![Node::start(frame.groups())];
    let mut front = vec![0_usize];
    let end = frame.cycles * frame.choices();
    let mut best: Option<(usize, Cost)> = None;
    for _ in 0..end {
        let mut kept: BTreeMap<(Cost, Key), Node> = BTreeMap::new();
        for index in front {
            let Some(node) = arena.get(index).cloned() else { continue };
            successors(frame, &node, index, meter, &mut |next| {
                let cost = looks(frame, &next);
                if cost.handled == u64::MAX {
                    return;
                }
                let full = BEAM <= kept.len();
                if full && kept.last_key_value().is_some_and(|((worst, _), _)| *worst <= cost) {
                    return;
                }
                kept.insert((cost, next.key()), next);
                if BEAM < kept.len() {
                    kept.pop_last();
                }
            })?;
        }
        front = Vec::new();
        for node in kept.into_values() {
            if node.depth == end {
                if best.is_none_or(|(_, cost)| node.spent < cost) {
                    best = Some((arena.len(), node.spent));
                }
            } else {
                front.push(arena.len());
            }
            arena.push(node);
        }
    }
    Ok(best.map(|(index, cost)| (path(frame, &arena, index), cost)))
}

/// Best first with partial expansion: of a node's successors only those are kept that look no worse than the node.
/// `None` if there is none below the limit.
fn best_first(frame: &Frame, limit: Cost, meter: &mut Meter<'_>) -> Result<Option<(Moves, Cost)>, Halt> {
    let end = frame.cycles * frame.choices();
    let start = Node::start(frame.groups());
    let mut queue = BinaryHeap::new();
    queue.push(Reverse((looks(frame, &start), Reverse(0), 0_usize)));
    let mut arena = vec![start];
    let mut best: BTreeMap<Key, Cost> = BTreeMap::new();
    while let Some(Reverse((bound, _, index))) = queue.pop() {
        let Some(node) = arena.get(index).cloned() else { continue };
        if node.depth == end {
            return Ok(Some((path(frame, &arena, index), node.spent)));
        }
        if best.get(&node.key()).is_some_and(|&known| known < node.spent) {
            continue;
        }
        let mut later = Cost::NONE;
        successors(frame, &node, index, meter, &mut |next| {
            let cost = looks(frame, &next).max(bound);
            if limit <= cost || cost.handled == u64::MAX {
                return;
            }
            if bound < cost {
                later = later.min(cost);
                return;
            }
            let known = best.entry(next.key()).or_insert(Cost::NONE);
            if next.spent < *known {
                *known = next.spent;
                queue.push(Reverse((cost, Reverse(next.depth), arena.len())));
                arena.push(next);
            }
        })?;
        if NODES_MOST < arena.len() {
            return Err(Halt::Effort);
        }
        if later != Cost::NONE {
            queue.push(Reverse((later, Reverse(node.depth), index)));
        }
    }
    Ok(None)
}

/// The states after each cycle on the way to a node.
fn path(frame: &Frame, arena: &[Node], end: usize) -> Moves {
    let mut states = Vec::new();
    let mut index = end;
    while let Some(node) = arena.get(index) {
        if 0 < node.depth && node.depth.is_multiple_of(frame.choices()) {
            states.push(node.state.clone());
        }
        index = node.parent;
    }
    states.reverse();
    states
}
