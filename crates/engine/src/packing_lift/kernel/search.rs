//! Cheapest among the plans with the fewest cycles: best first for the cost, then depth first for the one plan that
//! comes first in the total order.
#![expect(clippy::indexing_slicing, reason = "indices of the arena and of the graph's own lists")]

use std::cmp::Reverse;
use std::collections::{BTreeMap, BinaryHeap};

use super::bases_to_go::Base;
use super::meter::{Halt, Meter};
use super::model::Cost;
use super::stages::{Graph, Rest, Top};

/// One cycle of a plan: its base stack, and what the raise led to.
pub(super) type Move = (usize, Top);

/// Share of the effort left, as a divisor, that the beam may take.
const BEAM_SHARE: u64 = 4;
/// Nodes kept after each half of a cycle.
const BEAM: usize = 64;

/// Nodes held at most, some 200 bytes each with what is kept to find them again.
const NODES_MOST: usize = 600_000;

/// The ram not set yet.
const NO_BASE: Base = Base { stack: 0, out: 0, alone: Cost::ZERO, joint: Cost::ZERO };

/// How far the search came.
#[derive(Debug)]
pub(super) enum Cheapest {
    /// The plan that comes first in the total order, of least cost.
    Proven(Vec<Move>, Cost),
    /// A plan of least cost.
    LeastCost(Vec<Move>, Cost),
    /// Some plan with the fewest cycles.
    Any(Vec<Move>, Cost),
    /// No plan was met within the effort.
    Nothing,
}

/// A node reached at some cost. `set` means that the base stack is that of the next cycle.
#[derive(Debug, Clone, Copy)]
struct Node {
    cycle: usize,
    rest: Rest,
    base: Base,
    set: bool,
    spent: Cost,
    parent: usize,
    top: Option<Top>,
}

/// The load on its own bearing, the ram not set.
const START: Node =
    Node { cycle: 0, rest: None, base: NO_BASE, set: false, spent: Cost::ZERO, parent: usize::MAX, top: None };

type Key = (bool, usize, Rest, usize);

impl Node {
    fn key(&self) -> Key {
        (self.set, self.cycle, self.rest, self.base.stack)
    }

    fn depth(&self) -> usize {
        2 * self.cycle + usize::from(self.set)
    }

    fn done(&self, cycles: usize) -> bool {
        !self.set && self.cycle == cycles
    }
}

/// Finds the cheapest plan with the fewest cycles, given some plan.
pub(super) fn cheapest(
    graph: &Graph<'_>,
    any: Option<(Vec<Move>, Cost)>,
    meter: &mut Meter<'_>,
) -> Result<Cheapest, Halt> {
    let share = meter.left() / BEAM_SHARE;
    let beam = within_effort(meter.part(share, |meter| beam(graph, meter)))?.flatten();
    let met = [beam, any].into_iter().flatten().min_by_key(|(_, cost)| *cost);
    let limit = met.as_ref().map_or(Cost::NONE, |(_, cost)| *cost);
    let proven = within_effort(best_first(graph, limit, meter))?;
    let (moves, cost) = match (proven, met) {
        (None, Some((moves, cost))) => return Ok(Cheapest::Any(moves, cost)),
        (Some(Some(better)), _) => better,
        (Some(None), Some(met)) => met,
        (_, None) => return Ok(Cheapest::Nothing),
    };
    let mut first = DepthFirst::new(graph, cost);
    match within_effort(first.run(meter))? {
        Some(true) => Ok(Cheapest::Proven(first.moves, cost)),
        _ => Ok(Cheapest::LeastCost(moves, cost)),
    }
}

/// `None` if the effort was spent.
fn within_effort<T>(result: Result<T, Halt>) -> Result<Option<T>, Halt> {
    match result {
        Ok(value) => Ok(Some(value)),
        Err(Halt::Effort) => Ok(None),
        Err(Halt::Stopped) => Err(Halt::Stopped),
    }
}

/// A plan met by keeping, after each half of a cycle, only the nodes that look best; `None` if they all lead nowhere.
fn beam(graph: &Graph<'_>, meter: &mut Meter<'_>) -> Result<Option<(Vec<Move>, Cost)>, Halt> {
    let mut arena = vec![START];
    let mut front = vec![0];
    for _ in 0..2 * graph.cycles() {
        let mut kept = Kept::default();
        for index in front {
            let node = arena[index];
            successors(graph, &node, index, meter, &mut |node, looks| kept.offer(node, looks))?;
        }
        front = (arena.len()..arena.len() + kept.ranked.len()).collect();
        arena.extend(kept.ranked.into_values());
    }
    Ok(front.first().map(|&end| (path(&arena, end), arena[end].spent)))
}

/// The nodes that look best, each once.
#[derive(Default)]
struct Kept {
    ranked: BTreeMap<(Cost, Key), Node>,
    looks: BTreeMap<Key, Cost>,
}

impl Kept {
    fn offer(&mut self, node: Node, looks: Cost) {
        let key = node.key();
        let full = BEAM <= self.ranked.len();
        if full && self.ranked.last_key_value().is_some_and(|(worst, _)| *worst <= (looks, key)) {
            return;
        }
        if let Some(&known) = self.looks.get(&key) {
            if known <= looks {
                return;
            }
            self.ranked.remove(&(known, key));
        } else if full && let Some(((_, worst), _)) = self.ranked.pop_last() {
            self.looks.remove(&worst);
        }
        self.ranked.insert((looks, key), node);
        self.looks.insert(key, looks);
    }
}

/// Best first with partial expansion: of a node's successors only those are kept that look no worse than the node.
/// `None` if there is none below the limit.
fn best_first(graph: &Graph<'_>, limit: Cost, meter: &mut Meter<'_>) -> Result<Option<(Vec<Move>, Cost)>, Halt> {
    let mut arena = vec![START];
    let mut best: BTreeMap<Key, Cost> = BTreeMap::new();
    let mut queue = BinaryHeap::new();
    queue.push(Reverse((graph.bound(Cost::ZERO, None, &NO_BASE), Reverse(0), 0_usize)));
    while let Some(Reverse((bound, _, index))) = queue.pop() {
        let node = arena[index];
        if node.done(graph.cycles()) {
            return Ok(Some((path(&arena, index), node.spent)));
        }
        if best.get(&node.key()).is_some_and(|&known| known < node.spent) {
            continue;
        }
        let mut later = Cost::NONE;
        let mut keep = |next: Node, looks: Cost| {
            let looks = looks.max(bound);
            if limit <= looks {
                return;
            }
            if bound < looks {
                later = later.min(looks);
                return;
            }
            let known = best.entry(next.key()).or_insert(Cost::NONE);
            if next.spent < *known {
                *known = next.spent;
                queue.push(Reverse((looks, Reverse(next.depth()), arena.len())));
                arena.push(next);
            }
        };
        successors(graph, &node, index, meter, &mut keep)?;
        if NODES_MOST < arena.len() {
            return Err(Halt::Effort);
        }
        if later != Cost::NONE {
            queue.push(Reverse((later, Reverse(node.depth()), index)));
        }
    }
    Ok(None)
}

fn successors(
    graph: &Graph<'_>,
    node: &Node,
    index: usize,
    meter: &mut Meter<'_>,
    keep: &mut dyn FnMut(Node, Cost),
) -> Result<(), Halt> {
    let (cycle, rest, base) = (node.cycle, node.rest, node.base.stack);
    if !node.set {
        return graph.bases(cycle, rest, base, meter, |base, weight| {
            let spent = node.spent.plus(weight).at_least(graph.base_height(base.stack));
            let looks = graph.bound(spent, rest, base);
            keep(Node { base: *base, set: true, spent, parent: index, ..*node }, looks);
        });
    }
    graph.tops(cycle, rest, base, meter, |top, weight| {
        let (rest, spent, looks) = after(graph, node.spent, node.rest, &node.base, top, weight);
        let next = Node { cycle: node.cycle + 1, rest, set: false, spent, parent: index, top: Some(top), ..*node };
        keep(next, looks);
    })
}

/// Where a raise leads: the rest, what has been spent, and the lower bound.
fn after(graph: &Graph<'_>, spent: Cost, rest: Rest, base: &Base, top: Top, weight: u64) -> (Rest, Cost, Cost) {
    match top {
        Top::Packing(stack) => {
            let spent = spent.plus(weight).at_least(graph.holding_height(stack));
            (Some(stack), spent, graph.bound(spent, Some(stack), base))
        }
        Top::Collars => (rest, spent, spent),
    }
}

fn path(arena: &[Node], end: usize) -> Vec<Move> {
    let mut moves = Vec::new();
    let mut index = end;
    while let Some(node) = arena.get(index) {
        if let Some(top) = node.top.filter(|_| !node.set) {
            moves.push((node.base.stack, top));
        }
        index = node.parent;
    }
    moves.reverse();
    moves
}

/// Depth first in the total order, within a cost.
struct DepthFirst<'g, 'a> {
    graph: &'g Graph<'a>,
    limit: Cost,
    moves: Vec<Move>,
    /// Least weight spent at which a node led nowhere.
    dead: BTreeMap<Key, u64>,
}

impl<'g, 'a> DepthFirst<'g, 'a> {
    fn new(graph: &'g Graph<'a>, limit: Cost) -> Self {
        Self { graph, limit, moves: Vec::new(), dead: BTreeMap::new() }
    }

    fn run(&mut self, meter: &mut Meter<'_>) -> Result<bool, Halt> {
        self.rest(0, None, 0, Cost::ZERO, meter)
    }

    fn within(&self, spent: Cost, looks: Cost) -> bool {
        looks <= self.limit && spent.height <= self.limit.height
    }

    fn is_dead(&self, key: Key, spent: Cost) -> bool {
        self.dead.get(&key).is_some_and(|&least| least <= spent.handled)
    }

    fn bury(&mut self, key: Key, spent: Cost) {
        if NODES_MOST <= self.dead.len() {
            return;
        }
        let least = self.dead.entry(key).or_insert(u64::MAX);
        *least = (*least).min(spent.handled);
    }

    fn rest(
        &mut self,
        cycle: usize,
        rest: Rest,
        base: usize,
        spent: Cost,
        meter: &mut Meter<'_>,
    ) -> Result<bool, Halt> {
        if cycle == self.graph.cycles() {
            return Ok(true);
        }
        let key = (false, cycle, rest, base);
        if self.is_dead(key, spent) {
            return Ok(false);
        }
        let graph = self.graph;
        let mut open = Vec::new();
        graph.bases(cycle, rest, base, meter, |next, weight| {
            let then = spent.plus(weight).at_least(graph.base_height(next.stack));
            if self.within(then, graph.bound(then, rest, next)) {
                open.push((*next, then));
            }
        })?;
        for (next, then) in open {
            if self.set(cycle, rest, &next, then, meter)? {
                return Ok(true);
            }
        }
        self.bury(key, spent);
        Ok(false)
    }

    fn set(&mut self, cycle: usize, rest: Rest, base: &Base, spent: Cost, meter: &mut Meter<'_>) -> Result<bool, Halt> {
        let key = (true, cycle, rest, base.stack);
        if self.is_dead(key, spent) {
            return Ok(false);
        }
        let mut open = Vec::new();
        self.graph.tops(cycle, rest, base.stack, meter, |top, weight| {
            let (next, then, looks) = after(self.graph, spent, rest, base, top, weight);
            if self.within(then, looks) {
                open.push((top, next, then));
            }
        })?;
        for (top, next, then) in open {
            self.moves.push((base.stack, top));
            if self.rest(cycle + 1, next, base.stack, then, meter)? {
                return Ok(true);
            }
            self.moves.pop();
        }
        self.bury(key, spent);
        Ok(false)
    }
}
