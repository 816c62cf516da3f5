//! Reactions in full contact: their influence lines and what the levels of the supports do to them.
//!
//! By the reciprocal theorem (Maxwell, Betti; for influence lines Müller-Breslau) the reaction of a support under a
//! unit load at x is how far the girder rises at x when that support is raised by 1. The risen girder carries no loads
//! between its nodes, so the line is cubic in each element and straight beyond the end supports.

#![expect(clippy::indexing_slicing, reason = "pieces are counted when the line is made")]

use super::beam::{Answer, Model};
use super::{Girder, GirderError, check, polynomial};

/// Reactions as linear functions of loads and levels, while every support holds.
#[derive(Debug, Clone, PartialEq)]
pub(crate) struct GirderInfluence {
    /// Reaction of each support under the loads without level errors, in N. Not clipped.
    pub reactions_n: Vec<f64>,
    /// Element j of row i: change of reaction i when support j alone is raised, in N/m. Symmetric; each row sums to
    /// zero.
    pub raise_n_per_m: Vec<Vec<f64>>,
    /// Influence line of each reaction.
    pub lines: Vec<InfluenceLine>,
}

/// The reaction of one support as a function of the place of a unit load (dimensionless).
#[derive(Debug, Clone, PartialEq)]
pub(crate) struct InfluenceLine {
    first_m: f64,
    span_m: f64,
    /// Places of the nodes, scaled.
    knots: Vec<f64>,
    /// Before the first knot, between neighbours, after the last.
    pieces: Vec<Piece>,
}

/// A cubic about its origin, and the integral of the line from the first knot to that origin.
#[derive(Debug, Clone, PartialEq)]
struct Piece {
    origin: f64,
    coefficients: Vec<f64>,
    integral: f64,
}

/// Linear relation between reactions, loads and levels while every support holds.
///
/// # Source
/// Reciprocal theorem, as in the text of the module.
///
/// # Validity
/// While every support holds; as [`super::solve`] else. The resultant may lie anywhere.
///
/// # Errors
/// See [`GirderError`]; never [`GirderError::Tips`].
pub(crate) fn influence(girder: &Girder) -> Result<GirderInfluence, GirderError> {
    check::girder(girder)?;
    of(&Model::of(girder)).ok_or(GirderError::NotConverged)
}

fn of(model: &Model) -> Option<GirderInfluence> {
    let count = model.footings.len();
    let none = vec![false; count];
    let factors = model.factor(&none)?;
    let loaded = model.loaded(&factors, &none, &vec![0.0; count])?;
    let raised = (0..count).map(|j| model.raised(&factors, j)).collect::<Option<Vec<Answer>>>()?;
    let stiffness = model.units.stiffness_n_per_m();
    let row = |i: usize| raised.iter().map(|by| by.reactions[i] * stiffness).collect();
    Some(GirderInfluence {
        reactions_n: loaded.reactions.iter().map(|r| r * model.units.force_n).collect(),
        raise_n_per_m: (0..count).map(row).collect(),
        lines: raised.iter().map(|answer| line(model, answer)).collect(),
    })
}

/// The line of the risen girder.
fn line(model: &Model, answer: &Answer) -> InfluenceLine {
    let mut pieces = Vec::with_capacity(model.elements.len() + 2);
    let mut integral = 0.0;
    for (left, element) in model.elements.iter().enumerate() {
        let (l, six) = (element.length, 6.0 * element.bending);
        let rise = [-answer.deflections[left], -answer.deflections[left + 1]];
        let moment = [answer.moments[left], answer.moments[left + 1]];
        let slope = (rise[1] - rise[0]) / l - l * (2.0 * moment[0] + moment[1]) / six;
        let cubic = vec![rise[0], slope, 3.0 * moment[0] / six, (moment[1] - moment[0]) / (six * l)];
        if left == 0 {
            pieces.push(Piece { origin: 0.0, coefficients: vec![rise[0], slope, 0.0, 0.0], integral });
        }
        let piece = Piece { origin: model.places[left], coefficients: cubic, integral };
        integral += polynomial::value(&polynomial::antiderivative(&piece.coefficients), l);
        pieces.push(piece);
        if left + 1 == model.elements.len() {
            let slope = (rise[1] - rise[0]) / l + l * (moment[0] + 2.0 * moment[1]) / six;
            pieces.push(Piece { origin: 1.0, coefficients: vec![rise[1], slope, 0.0, 0.0], integral });
        }
    }
    InfluenceLine { first_m: model.units.first_m, span_m: model.units.span_m, knots: model.places.clone(), pieces }
}

impl InfluenceLine {
    fn place(&self, at_m: f64) -> f64 {
        (at_m - self.first_m) / self.span_m
    }

    /// The piece in force at a place.
    fn piece(&self, place: f64) -> &Piece {
        &self.pieces[self.knots.partition_point(|k| *k <= place)]
    }

    /// Reaction under a unit load at a place in m (dimensionless); straight on beyond the ends of the girder.
    #[cfg(test)]
    pub(crate) fn ordinate(&self, at_m: f64) -> f64 {
        let place = self.place(at_m);
        let piece = self.piece(place);
        polynomial::value(&piece.coefficients, place - piece.origin)
    }

    /// Least and greatest ordinate (dimensionless) with the load up to `shift_m` to either side of a place.
    pub(crate) fn point_extremes(&self, at_m: f64, shift_m: f64) -> (f64, f64) {
        let (from, to) = (self.place(at_m - shift_m), self.place(at_m + shift_m));
        let knots = self.knots.iter().copied().filter(|k| from < *k && *k < to);
        over(from, knots.collect(), to, |middle| {
            let piece = self.piece(middle);
            (piece.coefficients.clone(), piece.origin)
        })
    }

    /// Least and greatest integral of the line over a length of girder, in m, with both its ends moved together by up
    /// to `shift_m` to either side.
    pub(crate) fn uniform_extremes(&self, from_m: f64, to_m: f64, shift_m: f64) -> (f64, f64) {
        let (from, to, shift) = (self.place(from_m), self.place(to_m), shift_m / self.span_m);
        let within = |d: &f64| -shift < *d && *d < shift;
        let mut breaks: Vec<f64> = self.knots.iter().flat_map(|k| [k - from, k - to]).filter(within).collect();
        breaks.sort_by(f64::total_cmp);
        let (least, greatest) = over(-shift, breaks, shift, |middle| {
            let (head, tail) = (self.integral(to + middle), self.integral(from + middle));
            (head.iter().zip(&tail).map(|(h, t)| h - t).collect(), middle)
        });
        (least * self.span_m, greatest * self.span_m)
    }

    /// The integral of the line from the first knot, as a polynomial about a place, within the piece in force there.
    fn integral(&self, place: f64) -> Vec<f64> {
        let piece = self.piece(place);
        let mut integral = polynomial::antiderivative(&piece.coefficients);
        integral[0] = piece.integral;
        polynomial::moved(&integral, place - piece.origin)
    }
}

/// Extremes over neighbouring intervals, with the polynomial and its origin for the middle of each.
fn over(from: f64, breaks: Vec<f64>, to: f64, polynomial: impl Fn(f64) -> (Vec<f64>, f64)) -> (f64, f64) {
    let (mut least, mut greatest) = (f64::INFINITY, f64::NEG_INFINITY);
    let mut left = from;
    for right in breaks.into_iter().chain([to]) {
        let (coefficients, origin) = polynomial(0.5 * (left + right));
        let [low, high] = polynomial::extremes(&coefficients, left - origin, right - origin);
        (least, greatest) = (least.min(low.0), greatest.max(high.0));
        left = right;
    }
    (least, greatest)
}
