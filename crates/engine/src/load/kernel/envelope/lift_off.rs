//! The search for an extreme where supports lift off: best first over the questions "can support j touch the load?".

use super::super::elastic::{ElasticState, Spring, solve};
use super::super::geometry::Vec2;
use super::contact::Linear;
use super::model::{Model, Support};
use super::simplex::{Outcome, Program, Range, Tableau, Work};
use super::{AGREEMENT, Combination, Effort, Exactness, Extreme, PointEnvelope};

/// A node is done when its bound is this close to the best combination, as a part of the greatest weight.
const CLOSE: f64 = 0.2 * AGREEMENT;

/// Excess of a reaction over what the plane allows that is worth a branch, as a part of the greatest weight.
const EXCESS: f64 = 1e-9;

/// How often the ranges of the plane are narrowed before the search.
const ROUNDS: usize = 3;

/// Growth of every bound against rounding of the data, as a part of the greatest weight.
const OUTWARD: f64 = 1e-12;

/// How far a resultant on the edge of the hull is moved towards the mean of the supports, as a part of the way.
const INWARD: f64 = 1e-8;

/// Least, expected and greatest of each support.
pub(super) fn envelope(model: &Model, linear: &[[Linear; 2]], expected: &[f64], effort: Effort) -> Vec<PointEnvelope> {
    let mut model = model.clone();
    let count = u64::try_from(model.supports.len()).unwrap_or(u64::MAX).max(1);
    let one_pivot = (3 * count + 40).saturating_mul(count + 3);
    let mut spare = Work { cells_left: effort.cells / 4 };
    // About as many pivots as an optimum takes from scratch.
    let is_worth_it = one_pivot.saturating_mul(2 * count) <= effort.cells / (4 * count) && model.is_bounded;
    if is_worth_it {
        model.tighten(ROUNDS, &mut spare);
    }
    let share = if is_worth_it { effort.cells / 2 / count } else { 0 };
    let extreme = |index: usize, sign: f64, guess: &Linear| {
        let search = Search { model: &model, index, sign, best: None, limit: effort.nodes };
        search.run(&guess.combination, Work { cells_left: share })
    };
    let points = linear.iter().zip(expected).enumerate();
    points
        .map(|(index, ([least, greatest], &expected_n))| PointEnvelope {
            least: extreme(index, -1.0, least),
            expected_n,
            greatest: extreme(index, 1.0, greatest),
        })
        .collect()
}

/// A set of answers to the questions, with its relaxation solved.
struct Node {
    ranges: Vec<Range>,
    tableau: Tableau,
    bound: f64,
    /// The support to ask about next; none if the relaxation is a true combination.
    question: Option<usize>,
}

/// The search for the greatest `sign R` of one support, in scaled units.
struct Search<'a> {
    model: &'a Model,
    index: usize,
    sign: f64,
    best: Option<(f64, Combination)>,
    limit: usize,
}

impl Search<'_> {
    fn run(mut self, guess: &Combination, mut work: Work) -> Extreme {
        self.try_combination(guess.clone());
        let cap = self.cap();
        let bound = if work.cells_left == 0 || self.is_done(cap) { cap } else { self.descend(&mut work).min(cap) };
        let force_n = self.model.force_n;
        let reached = self.best.as_ref().map(|(value, _)| *value);
        let proven = reached.is_some_and(|value| bound <= value + AGREEMENT);
        let exactness = if proven { Exactness::Exact } else { Exactness::Bound };
        let safe = bound.max(reached.unwrap_or(f64::NEG_INFINITY));
        let reaction_n = (self.sign * safe * force_n).max(0.0);
        Extreme { reaction_n, exactness, combination: self.best.map(|(_, c)| c) }
    }

    /// What equilibrium alone allows.
    fn cap(&self) -> f64 {
        if self.sign < 0.0 { 0.0 } else { self.model.supports.get(self.index).map_or(1.0, |s| s.most) }
    }

    fn is_done(&self, bound: f64) -> bool {
        self.best.as_ref().is_some_and(|(value, _)| bound <= value + CLOSE)
    }

    /// The supports, with the one looked at as high (or low) as it can be.
    fn supports(&self) -> Vec<Support> {
        let mut supports = self.model.supports.clone();
        if let Some(s) = supports.get_mut(self.index) {
            let level = if self.sign < 0.0 { s.level.low } else { s.level.high };
            s.level = Range::new(level, level);
        }
        supports
    }

    /// What no combination exceeds.
    fn descend(&mut self, work: &mut Work) -> f64 {
        let supports = self.supports();
        let (rows, ranges) = self.model.relaxation(&supports);
        let mut objective = vec![0.0; rows.columns()];
        if let Some(cell) = objective.get_mut(self.index) {
            *cell = self.sign;
        }
        let program = rows.with_objective(objective);
        let mut open: Vec<Node> = Vec::new();
        let tableau = Tableau::new(&program);
        // Unproven bounds of nodes that cannot be divided further.
        let mut stuck = f64::NEG_INFINITY;
        open.extend(self.node(&program, &supports, ranges, tableau, f64::INFINITY, work));
        for _ in 0..self.limit {
            let Some(node) = take_best(&mut open) else { break };
            if self.is_done(node.bound) || work.cells_left == 0 {
                open.push(node);
                break;
            }
            let Some(question) = node.question else {
                stuck = stuck.max(node.bound);
                continue;
            };
            for touches in [true, false] {
                let ranges = answered(&node.ranges, &supports, question, touches);
                let child = self.node(&program, &supports, ranges, node.tableau.clone(), node.bound, work);
                open.extend(child.filter(|c| !self.is_done(c.bound)));
            }
        }
        // Nodes that were left out are below the best combination plus `CLOSE`.
        let left_out = self.best.as_ref().map_or(f64::NEG_INFINITY, |(value, _)| value + CLOSE);
        let bound = open.iter().map(|n| n.bound).fold(stuck.max(left_out), f64::max);
        if bound.is_finite() { bound } else { f64::INFINITY }
    }

    /// Solves the relaxation; `None` if it is proven that no combination is in it.
    fn node(
        &mut self,
        program: &Program,
        supports: &[Support],
        ranges: Vec<Range>,
        mut tableau: Tableau,
        above: f64,
        work: &mut Work,
    ) -> Option<Node> {
        let outcome = tableau.solve(&ranges, work);
        if let Outcome::Infeasible(ray) = &outcome
            && program.is_proven_infeasible(ray, &ranges)
        {
            return None;
        }
        let bound = (program.bound(&tableau.multipliers(), &ranges) + OUTWARD).min(above);
        let mut question = None;
        if outcome == Outcome::Optimal {
            let solution = tableau.solution(&ranges);
            question = most_violated(supports, &solution);
            if !self.is_done(bound) {
                self.try_combination(self.combination(supports, &solution));
            }
        }
        Some(Node { ranges, tableau, bound, question })
    }

    /// The combination behind a solution of the relaxation: each level where it makes the reaction, as far as it can.
    fn combination(&self, supports: &[Support], solution: &[f64]) -> Combination {
        let (reactions, _) = solution.split_at(supports.len().min(solution.len()));
        let weight = reactions.iter().sum::<f64>();
        let moment = supports.iter().zip(reactions).fold(Vec2::ZERO, |m, (s, r)| m + s.at * *r);
        let centre = moment * (self.model.size_m / weight) + self.model.origin;
        let level = |(s, (reaction, plane)): (&Support, (&f64, f64))| {
            let level = reaction / s.stiffness - plane;
            level.max(s.level.low).min(s.level.high) * self.model.level_unit_m
        };
        let planes = planes(supports, solution);
        let levels_m = supports.iter().zip(reactions.iter().zip(planes)).map(level).collect();
        let weight_n = weight.max(self.model.least_weight).min(1.0) * self.model.force_n;
        Combination { weight_n, resultant: centre, levels_m }
    }

    /// Keeps a combination if its true reaction is the best so far.
    fn try_combination(&mut self, combination: Combination) {
        let springs: Vec<Spring> = self
            .model
            .bearings
            .iter()
            .zip(&combination.levels_m)
            .map(|(b, &level_m)| Spring { level_m, ..b.spring() })
            .collect();
        let Some((state, resultant)) = self.at_rest(&springs, &combination) else { return };
        let Some(reaction_n) = state.reactions_n.get(self.index) else { return };
        let value = self.sign * reaction_n / self.model.force_n;
        if self.best.as_ref().is_none_or(|(best, _)| *best < value) {
            self.best = Some((value, Combination { resultant, ..combination }));
        }
    }

    /// The load at rest, and the resultant; one on the edge of the hull is first moved in by [`INWARD`].
    fn at_rest(&self, springs: &[Spring], c: &Combination) -> Option<(ElasticState, Vec2)> {
        let inward = c.resultant + (self.model.origin - c.resultant) * INWARD;
        [c.resultant, inward].iter().find_map(|at| solve(springs, c.weight_n, *at).ok().map(|state| (state, *at)))
    }
}

/// Takes out the node with the greatest bound, the oldest of equal ones.
fn take_best(open: &mut Vec<Node>) -> Option<Node> {
    let mut best: Option<(usize, f64)> = None;
    for (index, node) in open.iter().enumerate() {
        if best.is_none_or(|(_, bound)| bound < node.bound) {
            best = Some((index, node.bound));
        }
    }
    best.map(|(index, _)| open.remove(index))
}

/// How far the load comes down at each support.
fn planes(supports: &[Support], solution: &[f64]) -> Vec<f64> {
    let at_reference = solution.get(supports.len()..).unwrap_or_default();
    supports.iter().map(|s| s.weights.iter().zip(at_reference).map(|(w, p)| w * p).sum()).collect()
}

/// The support that carries most beyond what the plane allows.
fn most_violated(supports: &[Support], solution: &[f64]) -> Option<usize> {
    let mut worst: Option<(usize, f64)> = None;
    let planes = planes(supports, solution);
    for (index, ((s, reaction), plane)) in supports.iter().zip(solution).zip(planes).enumerate() {
        let excess = reaction - s.stiffness * (plane + s.level.high).max(0.0);
        if s.is_open() && EXCESS < excess && worst.is_none_or(|(_, most)| most < excess) {
            worst = Some((index, excess));
        }
    }
    worst.map(|(index, _)| index)
}

/// The ranges with one question answered.
fn answered(ranges: &[Range], supports: &[Support], question: usize, touches: bool) -> Vec<Range> {
    let mut ranges = ranges.to_vec();
    let Some(s) = supports.get(question) else { return ranges };
    let columns = supports.len() + 3;
    let [reaction, contact, plane] = [question, columns + question, columns + supports.len() + question];
    let verge = -s.level.high;
    if touches {
        narrow(&mut ranges, contact, Range::new(f64::NEG_INFINITY, s.stiffness * s.level.high + OUTWARD));
        narrow(&mut ranges, plane, Range::new(verge, f64::INFINITY));
    } else {
        narrow(&mut ranges, reaction, Range::new(0.0, 0.0));
        narrow(&mut ranges, plane, Range::new(f64::NEG_INFINITY, verge));
    }
    ranges
}

fn narrow(ranges: &mut [Range], index: usize, to: Range) {
    if let Some(range) = ranges.get_mut(index) {
        *range = Range::new(range.low.max(to.low), range.high.min(to.high));
    }
}
