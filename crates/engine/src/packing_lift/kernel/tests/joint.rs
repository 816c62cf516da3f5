//! Plans of several groups against an oracle that tries everything, and against the rules.

use super::super::joint::{Group, JointOutcome, JointPlan, JointProblem, Manner, check_joint, plan_jointly};
use super::super::{Effort, Goal, Problem, Restack, Use};
use super::oracle::{Cost, Counts, Rules};
use super::{FREE, PieceType, piece, plates};
use crate::packing_lift::kernel::Cures;
use proptest::prelude::*;
use std::collections::BTreeMap;
use std::sync::atomic::AtomicBool;

#[track_caller]
fn run(problem: &JointProblem, states: u64) -> JointOutcome {
    let stop = AtomicBool::new(false);
    let outcome = plan_jointly(problem, &Effort { states, stop: &stop, cures: Cures::Sought }).unwrap();
    let met = match &outcome {
        JointOutcome::Optimal(plan) => Some(plan),
        JointOutcome::BestWithinEffort { plan, .. } => plan.as_ref(),
        _ => None,
    };
    if let Some(plan) = met {
        assert_eq!(check_joint(problem, plan), Ok(()), "{problem:#?} {plan:#?}");
    }
    outcome
}

fn best(problem: &JointProblem) -> Option<JointPlan> {
    match run(problem, 20_000_000) {
        JointOutcome::Optimal(plan) => Some(plan),
        JointOutcome::Infeasible { .. } | JointOutcome::NotWithin { .. } => None,
        other => panic!("{problem:#?} {other:?}"),
    }
}

/// What the oracle knows between cycles: base stack and holding stack of each group, and who has the rams.
type State = (Vec<Counts>, Vec<Counts>, Option<usize>);

struct Oracle<'a> {
    problem: &'a JointProblem,
    rules: Vec<Rules<'a>>,
}

impl<'a> Oracle<'a> {
    fn new(problem: &'a JointProblem) -> Self {
        Self { problem, rules: problem.groups.iter().map(|group| Rules::new(&group.problem)).collect() }
    }

    fn in_pool(&self, bases: &[Counts], holdings: &[Counts]) -> bool {
        self.problem.stock.iter().enumerate().all(|(kind, &stock)| {
            let used = bases.iter().zip(holdings).zip(&self.problem.groups);
            used.map(|((base, holding), group)| group.points * (base[kind] + holding[kind])).sum::<u32>() <= stock
        })
    }

    fn change(&self, group: usize, cost: Cost, from: &Counts, to: &Counts) -> Cost {
        let one = self.rules[group].change((0, 0, 0), from, to, true);
        let points = u64::from(self.problem.groups[group].points);
        (cost.0 + points * one.0, cost.1 + points * one.1, cost.2.max(one.2))
    }

    fn rise(&self, group: usize, holding: &Counts) -> (i64, i64) {
        let rules = &self.rules[group];
        if *holding == rules.empty {
            return (0, 0);
        }
        (rules.rise(holding), rules.rise(holding) + rules.sink_greatest(holding) - rules.sink_least(holding))
    }

    /// Rises to which a group may be raised so that the stack goes in and the drop stays within the gap.
    fn raises(&self, group: usize, base: &Counts, old: &Counts, new: &Counts) -> Vec<i64> {
        let (rules, p) = (&self.rules[group], &self.problem.groups[group].problem);
        let loss = if let Restack::Free { standing_loss } = p.restack { standing_loss } else { 0 };
        let least = rules.height(old).max(rules.height(new)) + p.packing_gap + loss - p.packing_clearance;
        let drop = (rules.height(new) - p.packing_clearance).max(0) + p.follow_up_gap;
        (least..=rules.raise_max(base)).filter(|raise| !rules.add_only() || *raise <= drop).collect()
    }

    /// The first stack of a group that a stack after the first cycle leaves: just its thick pieces.
    fn before(&self, group: usize, old: &Counts, new: &Counts) -> Option<Counts> {
        let rules = &self.rules[group];
        if *old != rules.empty || !rules.add_only() {
            return Some(old.clone());
        }
        let first = rules.thick(new);
        rules.first_stacks().contains(&first).then_some(first)
    }

    fn packs(&self, group: usize, base: &Counts, old: &Counts, new: &Counts) -> bool {
        let rules = &self.rules[group];
        let Some(before) = self.before(group, old, new) else { return false };
        let rise = self.rise(group, old).0;
        *new != rules.empty && rules.can_set(base, &before, rise) && rules.can_pack(base, &before, new, rise)
    }

    fn best(&self, cycles_max: usize) -> Option<(usize, Cost)> {
        let groups = self.rules.len();
        let empty: Vec<Counts> = self.rules.iter().map(|rules| rules.empty.clone()).collect();
        let mut now: BTreeMap<State, Cost> = BTreeMap::from([((empty.clone(), empty, None), (0, 0, 0))]);
        for cycle in 1..=cycles_max {
            let mut next: BTreeMap<State, Cost> = BTreeMap::new();
            for (state, cost) in &now {
                match self.problem.manner {
                    Manner::Together { level_tolerance } => self.together(state, *cost, level_tolerance, &mut next),
                    Manner::EndByEnd { greatest_difference } => {
                        for group in 0..groups {
                            self.turn(state, *cost, group, greatest_difference, &mut next);
                        }
                    }
                }
            }
            let done = |(_, holdings, _): &State| (0..groups).all(|group| self.rules[group].ends(&holdings[group]));
            if let Some(cost) = next.iter().filter(|(state, _)| done(state)).map(|(_, cost)| *cost).min() {
                return Some((cycle, cost));
            }
            now = next;
        }
        None
    }

    fn together(&self, state: &State, cost: Cost, tolerance: i64, next: &mut BTreeMap<State, Cost>) {
        let (bases, holdings, _) = state;
        let [first, second] = [0, 1].map(|group| {
            let rules = &self.rules[group];
            let set = |base: &&Counts| {
                let rise = self.rise(group, &holdings[group]).0;
                rules.can_set(base, &holdings[group], rise)
            };
            rules.stacks.iter().filter(set).collect::<Vec<_>>()
        });
        for (base_0, base_1) in first.iter().flat_map(|a| second.iter().map(move |b| ((*a).clone(), (*b).clone()))) {
            let new_bases = vec![base_0, base_1];
            if !self.in_pool(&new_bases, holdings) {
                continue;
            }
            let set = (0..2).fold(cost, |cost, group| self.change(group, cost, &bases[group], &new_bases[group]));
            let [tops_0, tops_1] = [0, 1].map(|group| {
                let rules = &self.rules[group];
                let fits = |top: &&Counts| self.packs(group, &new_bases[group], &holdings[group], top);
                rules.stacks.iter().filter(fits).collect::<Vec<_>>()
            });
            for (top_0, top_1) in tops_0.iter().flat_map(|a| tops_1.iter().map(move |b| (*a, *b))) {
                let tops = vec![top_0.clone(), top_1.clone()];
                let before: Vec<Counts> =
                    (0..2).map(|group| self.before(group, &holdings[group], &tops[group]).unwrap()).collect();
                let rests = [0, 1].map(|group| self.rise(group, &tops[group]));
                let level = rests[0].1.max(rests[1].1) - rests[0].0.min(rests[1].0) <= tolerance;
                let raises = [0, 1].map(|group| self.raises(group, &new_bases[group], &before[group], &tops[group]));
                let raised = raises[0].iter().any(|a| raises[1].iter().any(|b| (a - b).abs() <= tolerance));
                if level && raised && self.in_pool(&new_bases, &before) && self.in_pool(&new_bases, &tops) {
                    let spent =
                        (0..2).fold(set, |cost, group| self.change(group, cost, &holdings[group], &tops[group]));
                    let known = next.entry((new_bases.clone(), tops, None)).or_insert(spent);
                    *known = (*known).min(spent);
                }
            }
        }
    }

    fn turn(&self, state: &State, cost: Cost, group: usize, difference: i64, next: &mut BTreeMap<State, Cost>) {
        let (bases, holdings, at) = state;
        let rules = &self.rules[group];
        let mut bases = bases.clone();
        let mut cost = cost;
        if let Some(from) = at.filter(|from| *from != group) {
            let empty = self.rules[from].empty.clone();
            cost = self.change(from, cost, &bases[from], &empty);
            bases[from] = empty;
        }
        for base in &rules.stacks {
            let set = self.change(group, cost, &bases[group], base);
            let mut now = bases.clone();
            now[group].clone_from(base);
            for top in rules.stacks.iter().filter(|top| self.packs(group, base, &holdings[group], top)) {
                let mut tops = holdings.clone();
                tops[group].clone_from(top);
                let before = self.before(group, &holdings[group], top).unwrap();
                let mut set_up = holdings.clone();
                set_up[group].clone_from(&before);
                let new = self.rise(group, top);
                let raises = self.raises(group, base, &before, top);
                let level = (0..self.rules.len()).filter(|other| *other != group).all(|other| {
                    let old = self.rise(other, &holdings[other]);
                    new.1 - old.0 <= difference
                        && old.1 - new.0 <= difference
                        && raises.iter().any(|raise| raise - old.0 <= difference)
                });
                if level && self.in_pool(&now, &set_up) && self.in_pool(&now, &tops) {
                    let spent = self.change(group, set, &holdings[group], top);
                    let known = next.entry((now.clone(), tops, Some(group))).or_insert(spent);
                    *known = (*known).min(spent);
                }
            }
        }
    }
}

fn kind(
    thickness: std::ops::RangeInclusive<i64>,
    stock: std::ops::RangeInclusive<u32>,
) -> impl Strategy<Value = (PieceType, u32)> {
    let use_ = prop_oneof![1 => Just(Use::Base), 1 => Just(Use::Holding), 6 => Just(Use::Either)];
    (thickness, 0..=1_i64, 0..=5_i64, use_, stock, 1..=2_u32).prop_map(
        |(thickness, settlement, mass, use_, stock, parts)| {
            let settlement_greatest = settlement.min(thickness - 1);
            (PieceType { thickness, settlement_greatest, mass, parts, use_, ..FREE }, stock)
        },
    )
}

prop_compose! {
    fn pair(in_turn: bool)(
        common in kind(1..=3, 5..=12),
        other in prop::option::of(kind(2..=7, 1..=3)),
        spare in (0..=2_i64, 0..=2_i64),
        stand in (0..=2_i64, 0..=2_i64),
        numbers in (4..=8_i64, 0..=1_i64, 5..=9_i64, 2..=6_i64, 1..=4_i64),
        manner in 4..=12_i64,
        points in (1..=2_u32, 1..=2_u32),
        free in prop::bool::weighted(0.3),
    ) -> JointProblem {
        let (usable_stroke, packing_gap, follow_up_gap, travel, allowance) = numbers;
        let common = (PieceType { use_: Use::Either, ..common.0 }, common.1);
        let kinds: Vec<(PieceType, u32)> = std::iter::once(common).chain(other).collect();
        let stock: Vec<u32> = kinds.iter().map(|(_, stock)| *stock).collect();
        let group = |points: u32, spare: i64, stand: i64| {
            let pieces = kinds.iter().map(|(piece, stock)| PieceType { stock_per_point: stock / points, ..piece.clone() });
            let problem = Problem {
                clearance: 21 + spare,
                packing_clearance: stand,
                travel,
                allowance,
                closed_height: 20,
                plates: 0,
                ram_gap: 1,
                usable_stroke,
                packing_gap,
                follow_up_gap,
                restack: if free { Restack::Free { standing_loss: 0 } } else { Restack::AddOnly },
                ends_on_collars: None,
                base_needs: None,
                goal: Goal::Window,
                pieces: pieces.collect(),
                first_stack_allowed: true,
            };
            let searched = problem.pieces.iter().map(|piece| piece.stock_per_point).collect();
            Group { points, problem, searched }
        };
        JointProblem {
            groups: vec![group(points.0, spare.0, stand.0), group(points.1, spare.1, stand.1)],
            stock,
            manner: if in_turn {
                Manner::EndByEnd { greatest_difference: manner }
            } else {
                Manner::Together { level_tolerance: manner / 2 }
            },
        }
    }
}

fn cost(plan: &JointPlan) -> (usize, Cost) {
    (plan.turns.len(), (plan.pieces_handled, plan.mass_handled, plan.greatest_stack))
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 250, ..ProptestConfig::default() })]

    #[test]
    fn verify_groups_together_equal_the_oracle(problem in pair(false)) {
        prop_assert_eq!(best(&problem).as_ref().map(cost), Oracle::new(&problem).best(7));
    }

    #[test]
    fn verify_groups_in_turn_equal_the_oracle(problem in pair(true)) {
        let found = best(&problem).as_ref().map(cost).filter(|(cycles, _)| *cycles <= 6);
        prop_assert_eq!(found, Oracle::new(&problem).best(6));
    }
}

fn of(points: u32, problem: Problem) -> Group {
    let pieces = problem
        .pieces
        .iter()
        .map(|piece| PieceType { stock_per_point: piece.stock_per_point / points, ..piece.clone() });
    let problem = Problem { pieces: pieces.collect(), ..problem };
    let searched = problem.pieces.iter().map(|piece| piece.stock_per_point).collect();
    Group { points, problem, searched }
}

/// Two equal groups within any tolerance are one group of all their points.
#[test]
fn verify_equal_groups_are_one() {
    let problem = Problem { pieces: vec![piece(100, Use::Either, 200)], ..plates() };
    let joint = JointProblem {
        groups: vec![of(2, problem.clone()), of(2, problem)],
        stock: vec![200],
        manner: Manner::Together { level_tolerance: 0 },
    };
    let plan = best(&joint).unwrap();
    let one = super::optimal(&Problem { pieces: vec![piece(100, Use::Either, 50)], ..plates() }).unwrap();
    assert_eq!(cost(&plan), (one.cycles.len(), (4 * one.pieces_handled, 4 * one.mass_handled, one.greatest_stack)));
}
