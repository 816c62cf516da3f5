//! A joint plan held against every rule at every moment, from the problem alone.

use super::problem::{JointProblem, Manner};
use super::write::JointPlan;
use crate::packing_lift::kernel::plan::Cycle;
use crate::packing_lift::kernel::{Fault, check_rules};

/// A rule that a joint plan breaks.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum JointFault {
    /// A group's plan breaks one of its own.
    Group(usize, Fault),
    /// The plans and the turns do not go together.
    Malformed,
    /// More pieces are in use than there are, in a cycle.
    Pool(usize),
    /// The groups are too far from level, in a cycle.
    Level(usize),
    /// The totals do not follow from the stacks.
    Totals,
}

type Counts = Vec<u32>;

/// Verifies a joint plan.
pub(crate) fn check_joint(problem: &JointProblem, plan: &JointPlan) -> Result<(), JointFault> {
    for (index, (group, own)) in problem.groups.iter().zip(&plan.plans).enumerate() {
        check_rules(&group.problem, own).map_err(|fault| JointFault::Group(index, fault))?;
    }
    let replay = Replay { problem, plan };
    match problem.manner {
        Manner::Together { level_tolerance } => replay.together(level_tolerance),
        Manner::EndByEnd { greatest_difference } => replay.in_turn(greatest_difference),
    }
}

struct Replay<'a> {
    problem: &'a JointProblem,
    plan: &'a JointPlan,
}

impl Replay<'_> {
    fn in_pool(&self, stacks: &[(usize, &Counts)]) -> bool {
        self.problem.stock.iter().enumerate().all(|(kind, &stock)| {
            let used = stacks.iter().map(|(group, counts)| {
                let points = self.problem.groups.get(*group).map_or(0, |group| group.points);
                u64::from(points) * u64::from(counts.get(kind).copied().unwrap_or(0))
            });
            used.sum::<u64>() <= u64::from(stock)
        })
    }

    fn weight(&self, group: usize, from: &Counts, to: &Counts) -> (u64, u64) {
        let Some(group) = self.problem.groups.get(group) else { return (0, 0) };
        let changes = group.problem.pieces.iter().zip(from.iter().zip(to)).map(|(piece, (&a, &b))| {
            let moved = u64::from(group.points) * u64::from(a.abs_diff(b));
            (moved * u64::from(piece.parts), moved * u64::try_from(piece.mass).unwrap_or(0))
        });
        changes.fold((0, 0), |sum, one| (sum.0 + one.0, sum.1 + one.1))
    }

    fn together(&self, tolerance: i64) -> Result<(), JointFault> {
        let cycles = self.plan.turns.len();
        let whole = self.plan.plans.iter().all(|own| own.cycles.len() == cycles);
        let turns = self.plan.turns.iter().all(Option::is_none);
        if !whole || !turns {
            return Err(JointFault::Malformed);
        }
        let mut handled = (0, 0);
        for index in 0..cycles {
            let now: Vec<&Cycle> = self.plan.plans.iter().filter_map(|own| own.cycles.get(index)).collect();
            let at = |of: fn(&Cycle) -> &Counts| now.iter().copied().map(of).enumerate().collect::<Vec<_>>();
            let bases = at(|cycle| &cycle.base);
            let set = [bases.clone(), at(|cycle| &cycle.holding_before)].concat();
            let top = [bases, at(|cycle| &cycle.holding_after)].concat();
            if !self.in_pool(&set) || !self.in_pool(&top) {
                return Err(JointFault::Pool(index));
            }
            let within =
                |low: Option<i64>, high: Option<i64>| low.zip(high).is_some_and(|(low, high)| high - low <= tolerance);
            let raises = || now.iter().map(|cycle| cycle.raise);
            let rests = within(
                now.iter().map(|cycle| cycle.rest.least).min(),
                now.iter().map(|cycle| cycle.rest.greatest).max(),
            );
            let on_collars = index + 1 == cycles
                && self.plan.plans.iter().all(|own| own.end == crate::packing_lift::kernel::End::OnCollars);
            if !within(raises().min(), raises().max()) || !(rests || on_collars) {
                return Err(JointFault::Level(index));
            }
            for (group, cycle) in now.iter().enumerate() {
                let empty = vec![0; cycle.base.len()];
                let before = index.checked_sub(1).and_then(|last| self.plan.plans.get(group)?.cycles.get(last));
                let old = before.map_or(&empty, |before| &before.base);
                let mut add = |(pieces, mass): (u64, u64)| handled = (handled.0 + pieces, handled.1 + mass);
                if index == 0 {
                    add(self.weight(group, &empty, &cycle.holding_before));
                }
                add(self.weight(group, old, &cycle.base));
                add(self.weight(group, &cycle.holding_before, &cycle.holding_after));
            }
        }
        self.totals(handled)
    }

    fn in_turn(&self, difference: i64) -> Result<(), JointFault> {
        let groups = self.problem.groups.len();
        let empty = vec![0; self.problem.stock.len()];
        let mut holding: Vec<Counts> = vec![empty.clone(); groups];
        let mut rest = vec![(0_i64, 0_i64); groups];
        let mut base = empty.clone();
        let mut at: Option<usize> = None;
        let mut next = vec![0_usize; groups];
        let mut handled = (0, 0);
        let mut moves = 0;
        for (index, turn) in self.plan.turns.iter().enumerate() {
            let group = turn.ok_or(JointFault::Malformed)?;
            let own = self.plan.plans.get(group).ok_or(JointFault::Malformed)?;
            let step = next.get_mut(group).ok_or(JointFault::Malformed)?;
            let cycle = own.cycles.get(*step).ok_or(JointFault::Malformed)?;
            *step += 1;
            let mut add = |(pieces, mass): (u64, u64)| handled = (handled.0 + pieces, handled.1 + mass);
            if at != Some(group) {
                if let Some(from) = at {
                    add(self.weight(from, &base, &empty));
                    moves += 1;
                }
                base.clone_from(&empty);
                at = Some(group);
            }
            add(self.weight(group, &base, &cycle.base));
            add(self.weight(group, &holding[group], &cycle.holding_after));
            base.clone_from(&cycle.base);
            let others: Vec<usize> = (0..groups).filter(|other| *other != group).collect();
            let standing: Vec<(usize, &Counts)> = others.iter().map(|&other| (other, &holding[other])).collect();
            for own in [&cycle.holding_before, &cycle.holding_after] {
                let all = [standing.clone(), vec![(group, &cycle.base), (group, own)]].concat();
                if !self.in_pool(&all) {
                    return Err(JointFault::Pool(index));
                }
            }
            for &other in &others {
                let far = cycle.raise - rest[other].0 > difference
                    || cycle.rest.greatest - rest[other].0 > difference
                    || rest[other].1 - cycle.rest.least > difference;
                if far {
                    return Err(JointFault::Level(index));
                }
            }
            holding[group].clone_from(&cycle.holding_after);
            rest[group] = (cycle.rest.least, cycle.rest.greatest);
        }
        let all_used = next.iter().zip(&self.plan.plans).all(|(used, own)| *used == own.cycles.len());
        if !all_used || moves != self.plan.moves {
            return Err(JointFault::Malformed);
        }
        self.totals(handled)
    }

    fn totals(&self, handled: (u64, u64)) -> Result<(), JointFault> {
        let greatest = self.plan.plans.iter().map(|own| own.greatest_stack).max().unwrap_or(0);
        let stated = (self.plan.pieces_handled, self.plan.mass_handled, self.plan.greatest_stack);
        if stated == (handled.0, handled.1, greatest) { Ok(()) } else { Err(JointFault::Totals) }
    }
}
