//! Which supports carry: the girder at rest has `R >= 0`, `gap >= 0` and `R gap = 0` at every support.
//!
//! These are the conditions of least complementary energy: over all moments M at the interior supports, of the girder
//! and the springs, `1/2 M' F M + 1/2 R' C R + ...` with `R = R0 + D M >= 0`. F, the flexibility of the girder, is
//! positive definite, so the energy is strictly convex and the reactions of the girder at rest are unique; and since
//! the resultant acts between the end supports, there are reactions that meet `R >= 0`.
//!
//! # Method
//! A dual active set method for strictly convex quadratic programmes, here in the words of the problem. Start with all
//! supports holding, even where they pull. Take the support p that pulls most. Raise it until it pulls no more: then
//! the girder is let go there, and the amount is its gap. If on the way the girder comes down on a support that it had
//! left, that support holds again from then on, and p is raised further.
//!
//! # Source
//! Goldfarb and Idnani, "A numerically stable dual method for solving strictly convex quadratic programs", Mathematical
//! Programming 27 (1983), from memory.
//!
//! # Why it ends
//! Between two rounds the state is the least energy with the reactions of the cleared supports held at zero, and all
//! gaps are zero or more; its energy depends on the set of cleared supports alone. A round ends: each time the girder
//! comes down on a support the set gets smaller. In a round the energy strictly increases: p pulls until the last step,
//! so the steps are not all zero, and a raise under a pull adds energy. So no set comes twice, and there are finitely
//! many. At least two supports always hold: with only two, raising p turns the girder without changing a reaction, so
//! no raise ends the pull, and the girder comes down on another support first (else p would pull whatever the levels:
//! the resultant would not be between the supports). Rounding is met by a bound on the steps and a check of the answer.
//! A reaction is set to zero only where the equations were solved without that support.

#![expect(clippy::indexing_slicing, reason = "all lists are as long as the list of supports")]

use super::beam::{Answer, Model};
use super::{Girder, GirderState, diagram};

/// A pull below this part of the loads is rounding (dimensionless).
const NEGLIGIBLE: f64 = 1e-13;

/// Greatest force left out where the girder seems to stand lower than a support it is clear of, as a part of the loads.
const CONTACT_TOLERANCE: f64 = 1e-9;

/// Disagreement between reaction and compression of a spring, as a part of the lengths in it (dimensionless); not
/// asked of a reaction that differs by less than [`FORCE_TOLERANCE`] of the loads, as next to none does on a soft spring.
const SPRING_TOLERANCE: f64 = 1e-9;

/// See [`SPRING_TOLERANCE`].
const FORCE_TOLERANCE: f64 = 1e-11;

/// The girder at rest, scaled.
#[derive(Debug, Clone)]
pub(super) struct Rest {
    pub(super) answer: Answer,
    /// Whether the girder stands clear of the support.
    pub(super) clear: Vec<bool>,
}

/// The girder at rest, or `None` if it was not found within rounding.
pub(super) fn rest(model: &Model) -> Option<Rest> {
    let count = model.footings.len();
    let mut clear = vec![false; count];
    let mut steps = 20 * count + 100;
    let mut found = held(model, &clear)?;
    while let Some(pulls) = most_pulling(&found, &clear, -NEGLIGIBLE) {
        let_go(model, &mut clear, pulls, &mut steps)?;
        found = held(model, &clear)?;
    }
    // What is left of pulling is rounding: there the girder neither pulls nor pushes.
    while let Some(pulls) = most_pulling(&found, &clear, 0.0) {
        clear[pulls] = true;
        if holding(&clear) < 2 {
            return None;
        }
        found = held(model, &clear)?;
    }
    for (reaction, clear) in found.reactions.iter_mut().zip(&clear) {
        // The force row of a support that is left out says that it carries nothing; what it leaves is its residual,
        // which the check of equilibrium sees.
        if *clear {
            *reaction = 0.0;
        }
    }
    let rest = Rest { answer: found, clear };
    is_at_rest(model, &rest).then_some(rest)
}

fn holding(clear: &[bool]) -> usize {
    clear.iter().filter(|c| !**c).count()
}

fn levels(model: &Model) -> Vec<f64> {
    model.footings.iter().map(|f| f.level).collect()
}

fn held(model: &Model, clear: &[bool]) -> Option<Answer> {
    model.loaded(&model.factor(clear)?, clear, &levels(model))
}

/// The holding support with the least reaction, if it is below `limit`.
fn most_pulling(found: &Answer, clear: &[bool], limit: f64) -> Option<usize> {
    let pulling = found.reactions.iter().zip(clear).enumerate().filter(|(_, (r, clear))| !**clear && **r < limit);
    pulling.min_by(|a, b| a.1.0.total_cmp(b.1.0)).map(|(index, _)| index)
}

/// Raises a support until it no longer pulls, then lets the girder go there.
fn let_go(model: &Model, clear: &mut [bool], pulls: usize, steps: &mut usize) -> Option<()> {
    let mut levels = levels(model);
    loop {
        *steps = steps.checked_sub(1)?;
        let factors = model.factor(clear)?;
        let now = model.loaded(&factors, clear, &levels)?;
        let change = model.raised(&factors, pulls)?;
        let growth = if holding(clear) == 2 { 0.0 } else { change.reactions[pulls] };
        let free = if 0.0 < growth { (-now.reactions[pulls]).max(0.0) / growth } else { f64::INFINITY };
        match first_touched(model, clear, &now, &change) {
            Some((touched, raise)) if raise < free => {
                clear[touched] = false;
                levels[pulls] += raise;
            }
            _ if free.is_finite() => {
                clear[pulls] = true;
                return Some(());
            }
            _ => return None,
        }
    }
}

/// The cleared support on which the girder comes down first, and at which raise.
fn first_touched(model: &Model, clear: &[bool], now: &Answer, change: &Answer) -> Option<(usize, f64)> {
    let mut first: Option<(usize, f64)> = None;
    for (index, footing) in model.footings.iter().enumerate().filter(|(index, _)| clear[*index]) {
        let fall = change.deflections[footing.node];
        if 0.0 < fall {
            let gap = -(now.deflections[footing.node] + footing.level);
            let raise = gap.max(0.0) / fall;
            if first.is_none_or(|(_, least)| raise < least) {
                first = Some((index, raise));
            }
        }
    }
    first
}

/// Whether the conditions hold: springs that push obey their law, and the girder is not below a support it is clear of.
fn is_at_rest(model: &Model, rest: &Rest) -> bool {
    model.footings.iter().enumerate().all(|(index, footing)| {
        let (deflection, reaction) = (rest.answer.deflections[footing.node], rest.answer.reactions[index]);
        let pressed = deflection + footing.level;
        if rest.clear[index] {
            return pressed <= 0.0 || is_touched(model, rest, index);
        }
        let compression = reaction / footing.stiffness;
        let size = deflection.abs().max(footing.level.abs()).max(compression.abs());
        let differ = (compression - pressed).abs();
        0.0 <= reaction && (differ <= SPRING_TOLERANCE * size || differ * footing.stiffness <= FORCE_TOLERANCE)
    })
}

/// Whether a support that is left out would carry next to nothing.
fn is_touched(model: &Model, rest: &Rest, index: usize) -> bool {
    let mut clear = rest.clear.clone();
    clear[index] = false;
    held(model, &clear).is_some_and(|found| found.reactions[index].abs() <= CONTACT_TOLERANCE)
}

/// The girder at rest in the units of the caller; its residual is not yet known.
pub(super) fn state(girder: &Girder, model: &Model, rest: &Rest) -> GirderState {
    let units = &model.units;
    let footings = || model.footings.iter().zip(&rest.clear);
    let deflection_m =
        |node: usize| rest.answer.deflections[node] * units.length_m() - units.datum_m(model.places[node]);
    let gap_m = |footing: &super::beam::Footing| {
        (-(rest.answer.deflections[footing.node] + footing.level)).max(0.0) * units.length_m()
    };
    let [hogging, sagging] = diagram::extremes(girder, model, &rest.answer.moments);
    GirderState {
        reactions_n: rest.answer.reactions.iter().map(|r| r * units.force_n).collect(),
        in_contact: rest.clear.iter().map(|clear| !clear).collect(),
        deflections_m: model.footings.iter().map(|f| deflection_m(f.node)).collect(),
        gaps_m: footings().map(|(f, clear)| if *clear { gap_m(f) } else { 0.0 }).collect(),
        sagging,
        hogging,
        residual: f64::NAN,
    }
}
