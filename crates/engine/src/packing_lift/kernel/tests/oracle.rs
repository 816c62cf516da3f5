//! A second planner, plain and slow: every base stack and every holding stack in every cycle.

use std::collections::BTreeMap;

use super::super::{Goal, KindSet, PieceType, Problem, Restack, lies_in_order};

pub(super) type Counts = Vec<u32>;
/// Pieces handled, mass handled, greatest stack.
pub(super) type Cost = (u64, u64, i64);

/// What is known after some cycles: base stack, holding stack.
type State = (Counts, Counts);

/// One cycle of the first plan: base stack, and the holding stack (`None`: ended on collars).
pub(super) type Move = (Counts, Option<Counts>);

/// Cycles, and the cost.
pub(super) fn best(problem: &Problem, cycles_max: usize) -> Option<(usize, Cost)> {
    let rules = Rules::new(problem);
    let mut now: BTreeMap<State, (Cost, i64)> = BTreeMap::new();
    for first in rules.first_stacks() {
        let cost = rules.change((0, 0, 0), &rules.empty, &first, true);
        now.insert((rules.empty.clone(), first), (cost, 0));
    }
    for cycle in 1..=cycles_max {
        let mut next: BTreeMap<State, (Cost, i64)> = BTreeMap::new();
        let mut end: Option<Cost> = None;
        for ((base, holding), &(cost, rise)) in &now {
            for set in rules.stacks.iter().filter(|set| rules.can_set(set, holding, rise)) {
                let spent = rules.change(cost, base, set, true);
                if rules.can_end_on_collars(set, holding) {
                    end = Some(end.map_or(spent, |end| end.min(spent)));
                }
                for top in rules.stacks.iter().filter(|top| rules.can_pack(set, holding, top, rise)) {
                    let spent = rules.change(spent, holding, top, true);
                    if rules.ends(top) {
                        let spent = rules.taken_out(spent, set);
                        end = Some(end.map_or(spent, |end| end.min(spent)));
                    }
                    let known = next.entry((set.clone(), top.clone())).or_insert((spent, rules.rise(top)));
                    known.0 = known.0.min(spent);
                }
            }
        }
        if let Some(cost) = end {
            return Some((cycle, cost));
        }
        if next.is_empty() {
            return None;
        }
        now = next;
    }
    None
}

/// The first plan of this cost in the total order, by trying all in that order.
pub(super) fn first(problem: &Problem, cycles: usize, cost: Cost) -> Option<Vec<Move>> {
    let rules = Rules::new(problem);
    let mut moves = Vec::new();
    // The first stack only adds the pieces that the plan needs in it: all that are too thick to follow up.
    walk(&rules, cycles, cost, (0, 0, 0), None, &rules.empty.clone(), 0, &mut moves).then_some(moves)
}

#[expect(clippy::too_many_arguments, reason = "plain recursion of a test")]
fn walk(
    rules: &Rules<'_>,
    left: usize,
    limit: Cost,
    spent: Cost,
    holding: Option<&Counts>,
    base: &Counts,
    rise: i64,
    moves: &mut Vec<Move>,
) -> bool {
    if limit < spent || limit.2 < spent.2 {
        return false;
    }
    let old = holding.unwrap_or(&rules.empty);
    for set in rules.stacks.iter().filter(|set| rules.can_set(set, old, rise)) {
        let after_set = rules.change(spent, base, set, true);
        for top in &rules.stacks {
            let first = match holding {
                None if rules.add_only() => rules.thick(top),
                _ => old.clone(),
            };
            let room = holding.is_some() || rules.first_stacks().contains(&first);
            if !room || !rules.can_set(set, &first, rise) || !rules.can_pack(set, &first, top, rise) {
                continue;
            }
            let after = rules.change(after_set, old, top, true);
            moves.push((set.clone(), Some(top.clone())));
            let found = if left == 1 {
                rules.ends(top) && rules.taken_out(after, set) == limit
            } else {
                walk(rules, left - 1, limit, after, Some(top), set, rules.rise(top), moves)
            };
            if found {
                return true;
            }
            moves.pop();
        }
        if left == 1 && rules.can_end_on_collars(set, old) && after_set == limit {
            moves.push((set.clone(), None));
            return true;
        }
    }
    false
}

pub(super) struct Rules<'a> {
    problem: &'a Problem,
    /// All stacks, in the order of their counts.
    pub(super) stacks: Vec<Counts>,
    pub(super) empty: Counts,
}

impl<'a> Rules<'a> {
    pub(super) fn new(problem: &'a Problem) -> Self {
        let mut stacks = vec![Vec::new()];
        for piece in &problem.pieces {
            stacks = stacks
                .into_iter()
                .flat_map(|stack: Counts| {
                    (0..=piece.stock_per_point).map(move |count| [stack.clone(), vec![count]].concat())
                })
                .collect();
        }
        Self { problem, stacks, empty: vec![0; problem.pieces.len()] }
    }

    pub(super) fn add_only(&self) -> bool {
        self.problem.restack == Restack::AddOnly
    }

    pub(super) fn height(&self, stack: &Counts) -> i64 {
        self.problem.pieces.iter().zip(stack).map(|(p, &n)| p.thickness * i64::from(n)).sum()
    }

    pub(super) fn sink_least(&self, stack: &Counts) -> i64 {
        self.problem.pieces.iter().zip(stack).map(|(p, &n)| p.settlement_least * i64::from(n)).sum()
    }

    pub(super) fn sink_greatest(&self, stack: &Counts) -> i64 {
        self.problem.pieces.iter().zip(stack).map(|(p, &n)| p.settlement_greatest * i64::from(n)).sum()
    }

    pub(super) fn rise(&self, holding: &Counts) -> i64 {
        self.height(holding) - self.sink_greatest(holding) - self.problem.packing_clearance
    }

    fn holding_use(&self, stack: &Counts) -> bool {
        self.problem.pieces.iter().zip(stack).all(|(p, &n)| n == 0 || p.use_.in_holding())
    }

    fn has(stack: &Counts, kinds: KindSet) -> bool {
        stack.iter().enumerate().any(|(kind, &n)| 0 < n && kinds.0 >> kind & 1 == 1)
    }

    fn stands(&self, stack: &Counts, rules: impl Fn(&PieceType) -> (i64, KindSet)) -> bool {
        self.problem.pieces.iter().zip(stack).filter(|(_, n)| 0 < **n).all(|(piece, _)| {
            let (limit, apart) = rules(piece);
            self.height(stack) <= limit && !Self::has(stack, apart)
        })
    }

    fn in_stock(&self, a: &Counts, b: &Counts) -> bool {
        self.problem.pieces.iter().zip(a.iter().zip(b)).all(|(p, (&a, &b))| a + b <= p.stock_per_point)
    }

    pub(super) fn thick(&self, stack: &Counts) -> Counts {
        let p = self.problem;
        let thick = |h: i64| p.follow_up_gap < h + p.packing_gap;
        p.pieces.iter().zip(stack).map(|(piece, &n)| if thick(piece.thickness) { n } else { 0 }).collect()
    }

    pub(super) fn first_stacks(&self) -> Vec<Counts> {
        let p = self.problem;
        let fits = |stack: &&Counts| {
            **stack == self.empty
                || p.first_stack_allowed
                    && self.holding_use(stack)
                    && self.height(stack) + p.packing_gap <= p.packing_clearance
        };
        self.stacks.iter().filter(fits).cloned().collect()
    }

    pub(super) fn can_set(&self, base: &Counts, holding: &Counts, rise: i64) -> bool {
        let p = self.problem;
        p.pieces.iter().zip(base).all(|(p, &n)| n == 0 || p.use_.in_base())
            && self.in_stock(base, holding)
            && p.closed_height + p.plates + self.height(base) + p.ram_gap <= p.clearance + rise
            && self.stands(base, |piece| (piece.base_height_limit, piece.base_apart))
            && p.base_needs.is_none_or(|needs| Self::has(base, needs))
            && p.pieces
                .iter()
                .zip(base)
                .all(|(piece, &n)| n == 0 || piece.spread_by.is_empty() || Self::has(base, piece.spread_by))
    }

    pub(super) fn raise_max(&self, base: &Counts) -> i64 {
        let p = self.problem;
        p.closed_height + p.plates + self.height(base) - self.sink_greatest(base) + p.usable_stroke - p.clearance
    }

    fn can_end_on_collars(&self, base: &Counts, holding: &Counts) -> bool {
        let p = self.problem;
        let Some(end) = p.ends_on_collars else { return false };
        let standing = self.height(holding) - self.sink_least(holding) - p.packing_clearance;
        p.travel <= self.raise_max(base) - end.spare_stroke - end.collar_settlement
            && standing <= p.travel + p.allowance
    }

    pub(super) fn can_pack(&self, base: &Counts, old: &Counts, new: &Counts, rise: i64) -> bool {
        let p = self.problem;
        let loss = match p.restack {
            Restack::AddOnly => 0,
            Restack::Free { standing_loss } => standing_loss,
        };
        let room = p.packing_clearance + self.raise_max(base) - loss;
        let added_in_time =
            old.iter().zip(new).zip(&p.pieces).all(|((&old, &new), piece)| {
                old == new || old < new && piece.thickness + p.packing_gap <= p.follow_up_gap
            });
        self.holding_use(new)
            && self.in_stock(base, new)
            && self.height(new) + p.packing_gap <= room
            && self.height(old) + p.packing_gap <= room
            && self.stands(new, |piece| (piece.holding_height_limit, piece.holding_apart))
            && (!self.add_only() || added_in_time && lies_in_order(p, new))
            && rise <= self.rise(new)
    }

    pub(super) fn ends(&self, holding: &Counts) -> bool {
        let p = self.problem;
        let greatest = self.height(holding) - self.sink_least(holding) - p.packing_clearance;
        let goal = match &p.goal {
            Goal::Window => true,
            Goal::Stack { counts, .. } => counts == holding,
        };
        goal && p.travel <= self.rise(holding) && greatest <= p.travel + p.allowance
    }

    /// A base stack that is taken out at the end counts once more.
    fn taken_out(&self, cost: Cost, base: &Counts) -> Cost {
        match self.problem.goal {
            Goal::Window => cost,
            Goal::Stack { .. } => self.change(cost, base, &self.empty, false),
        }
    }

    pub(super) fn change(&self, cost: Cost, from: &Counts, to: &Counts, seen: bool) -> Cost {
        let mut cost = cost;
        for ((piece, &a), &b) in self.problem.pieces.iter().zip(from).zip(to) {
            let pieces = u64::from(a.abs_diff(b));
            cost.0 += pieces * u64::from(piece.parts);
            cost.1 += pieces * u64::try_from(piece.mass).unwrap();
        }
        if seen {
            cost.2 = cost.2.max(self.height(to));
        }
        cost
    }
}
