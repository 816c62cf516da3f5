//! The least energy of a unit weight on scaled one-sided springs, by the method told in [`super`].

use super::super::geometry::Vec2;
use super::super::principal::{Imbalance, Node, Plane, Principal, Step};

/// Residual at which the search stops if rounding allows, as a part of the weight.
const SEARCH_TOLERANCE: f64 = 1e-13;

/// Residual that may be due to rounding of large levels, and is removed at the end, as a part of the weight.
const GREATEST_ROUNDING: f64 = 1e-9;

/// Greatest force, in weights, to press the stiffest spring by its level: beyond it no digits of the reactions remain.
const GREATEST_LEVEL_FORCE: f64 = 1e7;

/// Bound on the steps at one fraction of the levels; a handful is usual.
const GREATEST_STEPS: usize = 500;

/// How the levels grow from one fraction to the next.
const GROWTH: f64 = 4.0;

/// A unit weight at `centre` on springs.
#[derive(Clone)]
pub(super) struct Model {
    nodes: Vec<Node>,
    centre: Vec2,
}

/// Reactions and position of the load at the least energy.
pub(super) struct Rest {
    pub(super) reactions: Vec<f64>,
    pub(super) plane: Plane,
    pub(super) residual: f64,
}

/// Reactions and position of the load at the least energy; `None` if rounding or the bound on the steps prevents it.
///
/// The levels are put on bit by bit, each time from where the load came to rest before: with the whole of them at once
/// a load that touches only one support turns this way and that about it.
pub(super) fn rest(mut nodes: Vec<Node>, centre: Vec2) -> Option<Rest> {
    let whole = Principal::of(&nodes)?;
    let fitted = fit_levels(&whole, &mut nodes);
    let model = Model { nodes, centre };
    let unloaded = vec![0.0; model.nodes.len()];
    let mut plane = whole.step(&model.imbalance(&unloaded), &model.nodes).plane;
    let mut fraction = model.first_fraction()?;
    while fraction < 1.0 {
        let eased = model.with_levels(fraction);
        plane = eased.descend(&whole, plane).map_or(plane, |(_, reached)| reached);
        plane = Plane { sink: plane.sink * GROWTH, slope: plane.slope * GROWTH };
        fraction *= GROWTH;
    }
    let (reactions, plane) = model.descend(&whole, plane)?;
    let reactions = model.balanced(reactions)?;
    let residual = model.imbalance(&reactions).residual(centre);
    Some(Rest { reactions, plane: plane.moved(&fitted, -1.0), residual })
}

/// Takes the plane that fits the levels best out of them, so that only what the load feels is left, and returns it.
fn fit_levels(whole: &Principal, nodes: &mut [Node]) -> Plane {
    let forces: Vec<f64> = nodes.iter().map(|n| n.stiffness * n.level).collect();
    let plane = whole.step(&Imbalance::total(nodes, &forces), nodes).plane;
    for node in nodes {
        node.level -= plane.at(node.at);
    }
    plane
}

impl Model {
    fn with_levels(&self, fraction: f64) -> Self {
        let nodes = self.nodes.iter().map(|n| Node { level: n.level * fraction, ..*n }).collect();
        Self { nodes, ..*self }
    }

    /// The power of [`GROWTH`] that brings the levels down to what the weight can press.
    fn first_fraction(&self) -> Option<f64> {
        let force = self.nodes.iter().map(|n| n.stiffness * n.level.abs()).fold(0.0, f64::max);
        let is_sound = self.nodes.iter().all(|n| n.level.is_finite()) && force <= GREATEST_LEVEL_FORCE;
        let mut fraction = 1.0;
        while is_sound && 1.0 < force * fraction {
            fraction /= GROWTH;
        }
        is_sound.then_some(fraction)
    }

    fn imbalance(&self, reactions: &[f64]) -> Imbalance {
        Imbalance::of(self.centre, &self.nodes, reactions)
    }

    /// Compression of every spring, negative where there is a gap.
    fn compressions(&self, plane: &Plane) -> Vec<f64> {
        self.nodes.iter().map(|n| plane.at(n.at) + n.level).collect()
    }

    fn reactions(&self, compressions: &[f64]) -> Vec<f64> {
        self.nodes.iter().zip(compressions).map(|(n, s)| n.stiffness * s.max(0.0)).collect()
    }

    /// The springs for which `values` are above zero.
    fn pressed(&self, values: &[f64]) -> Vec<Node> {
        self.nodes.iter().zip(values).filter(|(_, v)| 0.0 < **v).map(|(n, _)| *n).collect()
    }

    /// Steps down to the least energy; reactions and plane there.
    fn descend(&self, whole: &Principal, from: Plane) -> Option<(Vec<f64>, Plane)> {
        let mut plane = from;
        for _ in 0..GREATEST_STEPS {
            let compressions = self.compressions(&plane);
            let reactions = self.reactions(&compressions);
            let imbalance = self.imbalance(&reactions);
            let pressed = self.pressed(&compressions);
            if imbalance.residual(self.centre) <= stopping_residual(&pressed, &plane) {
                return Some((reactions, plane));
            }
            let step = match Principal::of(&pressed) {
                Some(group) => group.step(&imbalance, &self.nodes),
                None => Step { exact: false, ..whole.step(&imbalance, &self.nodes) },
            };
            let next = plane.moved(&step.plane, 1.0);
            let at_next = self.compressions(&next);
            if step.exact && same_contact(&compressions, &at_next) {
                return Some((self.reactions(&at_next), next));
            }
            plane = plane.moved(&step.plane, self.line_search(&compressions, &step.plane)?);
        }
        None
    }

    /// How far along `step` the energy is least: its slope along the line grows with the distance and is linear
    /// between the places where springs come into or out of contact.
    fn line_search(&self, compressions: &[f64], step: &Plane) -> Option<f64> {
        let load = step.at(self.centre);
        let moving: Vec<(f64, f64, f64)> =
            self.nodes.iter().zip(compressions).map(|(n, s)| (n.stiffness, *s, step.at(n.at))).collect();
        let slope = |far: f64| moving.iter().fold(-load, |sum, (k, s, t)| sum + k * (s + t * far).max(0.0) * t);
        let mut changes: Vec<f64> =
            moving.iter().map(|(_, s, t)| -s / t).filter(|c| 0.0 < *c && c.is_finite()).collect();
        changes.sort_by(f64::total_cmp);
        let passed = changes.partition_point(|&far| slope(far) < 0.0);
        let from = passed.checked_sub(1).and_then(|i| changes.get(i)).copied().unwrap_or(0.0);
        let until = changes.get(passed).copied().unwrap_or(f64::INFINITY);
        let middle = if until.is_finite() { 0.5 * (from + until) } else { 2.0 * from + 1.0 };
        let curvature =
            moving.iter().filter(|(_, s, t)| 0.0 < s + t * middle).fold(0.0, |sum, (k, _, t)| sum + k * t * t);
        // `min` also replaces what a flat stretch makes of the quotient.
        let far = (from - slope(from) / curvature).min(until);
        far.is_finite().then_some(far)
    }

    /// Removes what rounding has left unbalanced. A support on the verge of lifting off may come out a rounding error
    /// below zero; it is taken out of contact and the rest balanced again.
    fn balanced(&self, mut reactions: Vec<f64>) -> Option<Vec<f64>> {
        for _ in 0..self.nodes.len() + 3 {
            let imbalance = self.imbalance(&reactions);
            if !is_rounding(imbalance.residual(self.centre)) {
                return None;
            }
            let step = Principal::of(&self.pressed(&reactions))?.step(&imbalance, &self.nodes);
            for (n, r) in self.nodes.iter().zip(&mut reactions).filter(|(_, r)| 0.0 < **r) {
                *r += n.stiffness * step.plane.at(n.at);
            }
            if reactions.iter().all(|r| 0.0 <= *r) && self.is_balanced(&reactions) {
                return Some(reactions);
            }
            for r in reactions.iter_mut().filter(|r| **r < 0.0) {
                if !is_rounding(-*r) {
                    return None;
                }
                *r = 0.0;
            }
        }
        self.is_balanced(&reactions).then_some(reactions)
    }

    fn is_balanced(&self, reactions: &[f64]) -> bool {
        self.imbalance(reactions).residual(self.centre) <= SEARCH_TOLERANCE
    }
}

/// Whether a force or moment is no more than rounding can leave; not so for a number that is none.
fn is_rounding(part_of_weight: f64) -> bool {
    part_of_weight <= GREATEST_ROUNDING
}

/// Residual below which more steps would only move rounding errors about.
fn stopping_residual(pressed: &[Node], plane: &Plane) -> f64 {
    let handled = pressed
        .iter()
        .fold(0.0, |sum, n| sum + n.stiffness * (n.level.abs() + plane.sink.abs() + plane.slope.length()));
    (SEARCH_TOLERANCE + 4.0 * f64::EPSILON * handled).min(GREATEST_ROUNDING)
}

fn same_contact(before: &[f64], after: &[f64]) -> bool {
    before.iter().zip(after).all(|(b, a)| (0.0 < *b) == (0.0 < *a))
}
