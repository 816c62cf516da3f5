//! Equations of the girder with the deflection w and the bending moment M of every node as unknowns.
//!
//! Nodes are the supports and the changes of section between the end supports, in order; the girder beyond the end
//! supports is a cantilever whose force and moment are known. With a and b the lengths of the elements left and right
//! of node j, and for each element the shares of its loads and the end slopes they cause in a simple span:
//! * force: `k (w + e) = P + shares + (M_right - M) / b - (M - M_left) / a`, the reaction; k is zero where the girder
//!   stands clear of the support, and at a change of section;
//! * slope: `M_left a / 6EI + M (a / 3EI + b / 3EI) + M_right b / 6EI + slopes = (w - w_left) / a - (w_right - w) / b`,
//!   the equation of three moments.
//!
//! Reactions come from the moments, so that they balance the loads to rounding whatever the stiffness.
//!
//! Scaled: lengths by the distance between the end supports, E I by its greatest value, forces by the sum of the
//! absolute loads; so deflections and levels by force length³ / E I. Levels count from the line through the end supports.

#![expect(clippy::indexing_slicing, reason = "nodes, elements and supports are counted when the model is made")]

use super::band::{Band, Factors};
use super::{BeamLoad, Girder, PLACE_TOLERANCE};

/// A length of girder between two nodes.
#[derive(Debug, Clone, Copy)]
pub(super) struct Element {
    pub(super) length: f64,
    pub(super) bending: f64,
    /// Reactions of the loads in a simple span, left and right.
    shares: [f64; 2],
    /// End slopes of the loads in a simple span, both counted as sagging.
    slopes: [f64; 2],
}

/// A support in scaled units.
#[derive(Debug, Clone, Copy)]
pub(super) struct Footing {
    pub(super) node: usize,
    pub(super) stiffness: f64,
    pub(super) level: f64,
}

/// What the model is measured in.
#[derive(Debug, Clone, Copy)]
pub(super) struct Units {
    pub(super) first_m: f64,
    pub(super) span_m: f64,
    pub(super) bending_nm2: f64,
    pub(super) force_n: f64,
    datum_m: f64,
    tilt_m: f64,
}

impl Units {
    pub(super) fn place(&self, at_m: f64) -> f64 {
        (at_m - self.first_m) / self.span_m
    }

    /// Stiffness unit, in N/m.
    pub(super) fn stiffness_n_per_m(&self) -> f64 {
        self.bending_nm2 / (self.span_m * self.span_m * self.span_m)
    }

    pub(super) fn length_m(&self) -> f64 {
        self.force_n / self.stiffness_n_per_m()
    }

    /// Height of the line through the end supports at a scaled place.
    pub(super) fn datum_m(&self, place: f64) -> f64 {
        self.datum_m + self.tilt_m * place
    }
}

/// The scaled girder.
#[derive(Debug, Clone)]
pub(super) struct Model {
    pub(super) units: Units,
    pub(super) places: Vec<f64>,
    pub(super) elements: Vec<Element>,
    /// In the order of the caller.
    pub(super) footings: Vec<Footing>,
    /// Force and moment of the cantilevers.
    end_forces: [f64; 2],
    pub(super) end_moments: [f64; 2],
}

/// An answer of the equations.
#[derive(Debug, Clone)]
pub(super) struct Answer {
    /// Of every node.
    pub(super) deflections: Vec<f64>,
    /// Of every node.
    pub(super) moments: Vec<f64>,
    /// Of every support.
    pub(super) reactions: Vec<f64>,
}

impl Model {
    /// The model of a girder that has passed the checks.
    pub(super) fn of(girder: &Girder) -> Self {
        let units = units(girder);
        let mut places: Vec<f64> = girder.supports.iter().map(|s| units.place(s.at_m)).collect();
        places.sort_by(f64::total_cmp);
        for section in &girder.sections {
            let place = units.place(section.from_m);
            // A change of section next to a node is moved into it: it weighs nothing.
            if 0.0 < place && place < 1.0 && places.iter().all(|p| PLACE_TOLERANCE < (p - place).abs()) {
                places.push(place);
            }
        }
        places.sort_by(f64::total_cmp);
        let elements = places.windows(2).map(|p| element(girder, &units, p[0], p[1])).collect();
        let footings = girder.supports.iter().map(|s| {
            let place = units.place(s.at_m);
            Footing {
                node: places.partition_point(|p| *p < place),
                stiffness: s.stiffness_n_per_m / units.stiffness_n_per_m(),
                level: (s.level_m - units.datum_m(place)) / units.length_m(),
            }
        });
        let footings = footings.collect();
        let mut model = Self { units, places, elements, footings, end_forces: [0.0; 2], end_moments: [0.0; 2] };
        girder.loads.iter().for_each(|load| model.take(load));
        model
    }

    /// Adds a load; a line load as two forces on each element, which have its exact shares and slopes (the slopes are
    /// cubic in the place, and two Gauss points integrate a cubic).
    fn take(&mut self, load: &BeamLoad) {
        let units = self.units;
        match *load {
            BeamLoad::Point { at_m, force_n } => self.take_force(units.place(at_m), force_n / units.force_n),
            BeamLoad::Uniform { from_m, to_m, force_per_m } => {
                let (from, to) = (units.place(from_m), units.place(to_m));
                let within: Vec<f64> = self.places.iter().copied().filter(|p| from < *p && *p < to).collect();
                let mut left = from;
                for right in within.into_iter().chain([to]) {
                    let (middle, half) = (0.5 * (left + right), 0.5 * (right - left));
                    let force = half * units.span_m * force_per_m / units.force_n;
                    let offset = half / f64::sqrt(3.0);
                    self.take_force(middle - offset, force);
                    self.take_force(middle + offset, force);
                    left = right;
                }
            }
        }
    }

    fn take_force(&mut self, place: f64, force: f64) {
        let after = self.places.partition_point(|p| *p < place);
        if after == 0 {
            self.end_forces[0] += force;
            self.end_moments[0] += force * place;
        } else if after == self.places.len() {
            self.end_forces[1] += force;
            self.end_moments[1] -= force * (place - 1.0);
        } else {
            let (left, right) = (place - self.places[after - 1], self.places[after] - place);
            let element = &mut self.elements[after - 1];
            let l = element.length;
            element.shares[0] += force * right / l;
            element.shares[1] += force * left / l;
            let product = force * left * right / (6.0 * l * element.bending);
            element.slopes[0] += product * (l + right);
            element.slopes[1] += product * (l + left);
        }
    }

    /// The equations, without the supports that the girder stands clear of.
    pub(super) fn factor(&self, clear: &[bool]) -> Option<Factors> {
        let last = self.places.len() - 1;
        let mut band = Band::zeros(2 * self.places.len());
        for footing in self.footings.iter().zip(clear).filter(|(_, clear)| !**clear).map(|(f, _)| f) {
            band.add(2 * footing.node, 2 * footing.node, footing.stiffness);
        }
        for (left, element) in self.elements.iter().enumerate() {
            let inverse = 1.0 / element.length;
            let third = element.length / (3.0 * element.bending);
            for (own, other) in [(left, left + 1), (left + 1, left)] {
                band.add(2 * own, 2 * own + 1, inverse);
                band.add(2 * own, 2 * other + 1, -inverse);
                if own != 0 && own != last {
                    band.add(2 * own + 1, 2 * own + 1, third);
                    band.add(2 * own + 1, 2 * other + 1, 0.5 * third);
                    band.add(2 * own + 1, 2 * own, -inverse);
                    band.add(2 * own + 1, 2 * other, inverse);
                }
            }
        }
        band.add(1, 1, 1.0);
        band.add(2 * last + 1, 2 * last + 1, 1.0);
        band.factor()
    }

    /// Force on every node: its own and the shares of the elements.
    fn node_forces(&self) -> Vec<f64> {
        let mut forces = vec![0.0; self.places.len()];
        forces[0] += self.end_forces[0];
        for (left, element) in self.elements.iter().enumerate() {
            forces[left] += element.shares[0];
            forces[left + 1] += element.shares[1];
        }
        forces[self.places.len() - 1] += self.end_forces[1];
        forces
    }

    /// The girder under its loads, on supports of these levels.
    pub(super) fn loaded(&self, factors: &Factors, clear: &[bool], levels: &[f64]) -> Option<Answer> {
        let forces = self.node_forces();
        let mut right = vec![0.0; 2 * self.places.len()];
        for (node, force) in forces.iter().enumerate() {
            right[2 * node] = *force;
        }
        for (left, element) in self.elements.iter().enumerate() {
            right[2 * left + 1] -= element.slopes[0];
            right[2 * left + 3] -= element.slopes[1];
        }
        right[1] = self.end_moments[0];
        right[2 * self.places.len() - 1] = self.end_moments[1];
        for ((footing, clear), level) in self.footings.iter().zip(clear).zip(levels) {
            if !clear {
                right[2 * footing.node] -= footing.stiffness * level;
            }
        }
        self.answer(&factors.solve(&right, 1.0)?, forces)
    }

    /// What one support does to the girder when it is raised by 1, all else being linear.
    pub(super) fn raised(&self, factors: &Factors, support: usize) -> Option<Answer> {
        let footing = self.footings[support];
        let mut right = vec![0.0; 2 * self.places.len()];
        right[2 * footing.node] = -footing.stiffness;
        let x = factors.solve(&right, footing.stiffness.min(1.0))?;
        self.answer(&x, vec![0.0; self.places.len()])
    }

    fn answer(&self, x: &[f64], mut forces: Vec<f64>) -> Option<Answer> {
        let moments: Vec<f64> = x.iter().skip(1).step_by(2).copied().collect();
        for (left, element) in self.elements.iter().enumerate() {
            let shear = (moments[left + 1] - moments[left]) / element.length;
            forces[left] += shear;
            forces[left + 1] -= shear;
        }
        let reactions: Vec<f64> = self.footings.iter().map(|f| forces[f.node]).collect();
        let deflections = x.iter().step_by(2).copied().collect();
        reactions.iter().all(|r| r.is_finite()).then_some(Answer { deflections, moments, reactions })
    }
}

fn units(girder: &Girder) -> Units {
    let by_place = |a: &&super::BeamSupport, b: &&super::BeamSupport| a.at_m.total_cmp(&b.at_m);
    let ends = [girder.supports.iter().min_by(by_place), girder.supports.iter().max_by(by_place)];
    let [(first_m, datum_m), (last_m, end_m)] = ends.map(|s| s.map_or((0.0, 0.0), |s| (s.at_m, s.level_m)));
    Units {
        first_m,
        span_m: last_m - first_m,
        bending_nm2: girder.sections.iter().fold(0.0, |m, s| s.bending_stiffness_nm2.max(m)),
        force_n: girder.loads.iter().map(|load| load.force_n().abs()).sum(),
        datum_m,
        tilt_m: end_m - datum_m,
    }
}

fn element(girder: &Girder, units: &Units, left: f64, right: f64) -> Element {
    let middle = 0.5 * (left + right);
    let section = girder.sections.iter().take_while(|s| units.place(s.from_m) <= middle).last();
    let bending = section.map_or(1.0, |s| s.bending_stiffness_nm2 / units.bending_nm2);
    Element { length: right - left, bending, shares: [0.0; 2], slopes: [0.0; 2] }
}
