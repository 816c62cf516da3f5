//! Principal axes of a group of springs, in scaled coordinates: the 3 x 3 equations of a rigid body fall apart into
//! three divisions about the centroid of stiffness, which loses no digits however thin the group is.
//!
//! Scaled: lengths in plan by the plan size, stiffness by the greatest one, forces by the weight, and so levels by
//! weight over greatest stiffness. All numbers here are dimensionless.

use super::geometry::{ON_LINE_TOLERANCE, Vec2};

/// A support in scaled coordinates.
#[derive(Debug, Clone, Copy)]
pub(super) struct Node {
    pub(super) at: Vec2,
    pub(super) stiffness: f64,
    pub(super) level: f64,
}

/// Downward displacement of the rigid body: `sink + slope . at`.
#[derive(Debug, Clone, Copy)]
pub(super) struct Plane {
    pub(super) sink: f64,
    pub(super) slope: Vec2,
}

impl Plane {
    pub(super) fn at(&self, at: Vec2) -> f64 {
        self.sink + self.slope.dot(at)
    }

    /// The plane with `length` steps added.
    pub(super) fn moved(&self, step: &Self, length: f64) -> Self {
        Self { sink: self.sink + step.sink * length, slope: self.slope + step.slope * length }
    }
}

/// What the reactions leave unbalanced of a unit weight: a force and its moments about the origin.
#[derive(Debug, Clone, Copy)]
pub(super) struct Imbalance {
    force: f64,
    moment: Vec2,
}

impl Imbalance {
    /// A unit weight at `centre` less the reactions of the nodes.
    pub(super) fn of(centre: Vec2, nodes: &[Node], reactions: &[f64]) -> Self {
        let carried = Self::total(nodes, reactions);
        Self { force: 1.0 - carried.force, moment: centre - carried.moment }
    }

    /// The sum of forces at the nodes.
    pub(super) fn total(nodes: &[Node], forces: &[f64]) -> Self {
        nodes.iter().zip(forces).fold(Self { force: 0.0, moment: Vec2::ZERO }, |sum, (node, &force)| Self {
            force: sum.force + force,
            moment: sum.moment + node.at * force,
        })
    }

    /// Greatest of the unbalanced force and the unbalanced moment about `centre`.
    pub(super) fn residual(&self, centre: Vec2) -> f64 {
        let moment = (self.moment - centre * self.force).length();
        if moment.is_nan() { moment } else { self.force.abs().max(moment) }
    }
}

/// A direction of movement, and whether it is the exact solution for the group.
pub(super) struct Step {
    pub(super) plane: Plane,
    pub(super) exact: bool,
}

/// A group of springs about its own centroid and principal axes.
#[derive(Debug, Clone, Copy)]
pub(super) struct Principal {
    stiffness: f64,
    centre: Vec2,
    /// The axes and the second moments of stiffness *along* them: `sum k (axis . (at - centre))²`.
    axes: [(Vec2, f64); 2],
}

impl Principal {
    /// The axes of a group, or `None` if it has no stiffness.
    pub(super) fn of(group: &[Node]) -> Option<Self> {
        let (stiffness, first) =
            group.iter().fold((0.0, Vec2::ZERO), |(k, s), n| (k + n.stiffness, s + n.at * n.stiffness));
        if stiffness.is_nan() || stiffness <= 0.0 {
            return None;
        }
        let centre = Vec2::new(first.x / stiffness, first.y / stiffness);
        // The second turn removes what rounding of the first leaves of the product of inertia, which for a thin group is
        // not small against its lesser second moment.
        let first_axis = turned(group, centre, turned(group, centre, Vec2::new(1.0, 0.0)));
        let axes = [first_axis, first_axis.turned_left()].map(|axis| (axis, second_moment(group, centre, axis)));
        Some(Self { stiffness, centre, axes })
    }

    /// Displacement of the place `at` by a unit weight at `load`.
    pub(super) fn flexibility(&self, at: Vec2, load: Vec2) -> f64 {
        let turning =
            self.axes.iter().map(|(axis, moment)| axis.dot(at - self.centre) * axis.dot(load - self.centre) / moment);
        1.0 / self.stiffness + turning.sum::<f64>()
    }

    /// Change of [`Self::flexibility`] with the place of the load.
    pub(super) fn flexibility_gradient(&self, at: Vec2) -> Vec2 {
        self.axes.iter().fold(Vec2::ZERO, |sum, (axis, moment)| sum + *axis * (axis.dot(at - self.centre) / moment))
    }

    /// The movement that balances the group.
    ///
    /// About an axis on which all of the group lies it has no stiffness. If there is a moment to be balanced about such
    /// an axis, the step is not exact: it is either the turn about that axis alone (in proportion to the second moment
    /// of the `whole` set) or the movement that balances all the rest, whichever is the greater part.
    pub(super) fn step(&self, imbalance: &Imbalance, whole: &[Node]) -> Step {
        let moment = imbalance.moment - self.centre * imbalance.force;
        let (mut held, mut free) = (Vec2::ZERO, Vec2::ZERO);
        let (mut held_part, mut free_part) = (imbalance.force.abs(), 0.0);
        for (axis, second) in self.axes {
            let about = axis.dot(moment);
            if ON_LINE_TOLERANCE * ON_LINE_TOLERANCE * self.stiffness < second {
                held = held + axis * (about / second);
                held_part += about.abs();
            } else if NEGLIGIBLE_MOMENT < about.abs() {
                free = free + axis * (about / second_moment(whole, self.centre, axis));
                free_part += about.abs();
            }
        }
        let exact = free_part <= 0.0;
        let (sink, slope) =
            if exact || free_part < held_part { (imbalance.force / self.stiffness, held) } else { (0.0, free) };
        Step { plane: Plane { sink: sink - slope.dot(self.centre), slope }, exact }
    }
}

/// Unbalanced moment about the line of a group that is only rounding, in weight times plan size.
const NEGLIGIBLE_MOMENT: f64 = 1e-14;

/// The axis turned onto the nearest principal axis.
fn turned(group: &[Node], centre: Vec2, axis: Vec2) -> Vec2 {
    let other = axis.turned_left();
    let (difference, product) = group.iter().fold((0.0, 0.0), |(d, p), n| {
        let (r, q) = (axis.dot(n.at - centre), other.dot(n.at - centre));
        (d + n.stiffness * (r * r - q * q), p + n.stiffness * r * q)
    });
    let angle = 0.5 * libm::atan2(2.0 * product, difference);
    axis * libm::cos(angle) + other * libm::sin(angle)
}

fn second_moment(group: &[Node], centre: Vec2, axis: Vec2) -> f64 {
    group.iter().fold(0.0, |sum, n| {
        let arm = axis.dot(n.at - centre);
        sum + n.stiffness * arm * arm
    })
}
