//! How things stand at one point after each step: which pieces lie where, and how far the rams are out.

use crate::Subject;
use ramwright_engine::catalogue::Packing;
use ramwright_engine::packing_lift::{PieceCount, Step, StepAt, StepKind};

/// How things stand at one point, heights in mm over the foundation of the holding stack.
#[derive(Clone, Debug)]
pub(super) struct State<'a> {
    /// The pieces under each ram, from below.
    pub(super) base: Vec<&'a Packing>,
    /// The pieces of the holding stack, from below.
    pub(super) holding: Vec<&'a Packing>,
    /// How far the ram is out.
    pub(super) extension_mm: f64,
    /// Underside of the load where the rams are, over their own foundation; absent where it is not known.
    pub(super) soffit_mm: Option<f64>,
    /// The same over the foundation of the holding stack.
    pub(super) over_packing_mm: Option<f64>,
}

impl State<'_> {
    pub(super) fn base_mm(&self) -> f64 {
        height_mm(&self.base)
    }

    pub(super) fn holding_mm(&self) -> f64 {
        height_mm(&self.holding)
    }
}

fn height_mm(pieces: &[&Packing]) -> f64 {
    pieces.iter().map(|piece| piece.thickness.mm()).sum()
}

/// How a point stands after every step that speaks of it. Empty if a piece is not among those on site.
pub(super) fn states<'a>(subject: &Subject<'a>, point: &str) -> Vec<(&'a Step, State<'a>)> {
    let Some(sequence) = subject.sequence() else { return Vec::new() };
    let level = level_between_foundations(subject, point);
    let mut holding: Vec<&'a Packing> = Vec::new();
    let mut all = Vec::new();
    for step in &sequence.steps {
        let Some(at) = at_point(step, point) else { continue };
        let (Some(base), Some(now)) = (widest_below(subject, &at.base_stack), widest_below(subject, &at.holding_stack))
        else {
            return Vec::new();
        };
        holding = in_order(step.kind, &holding, now);
        let over_packing = at.soffit.expected.mm();
        let state = State {
            base,
            holding: holding.clone(),
            extension_mm: at.extension.expected.mm(),
            soffit_mm: Some(over_packing + level),
            over_packing_mm: Some(over_packing),
        };
        all.push((step, state));
    }
    all
}

/// What a step says of a point.
pub(super) fn at_point<'a>(step: &'a Step, point: &str) -> Option<&'a StepAt> {
    step.at.iter().find(|at| at.points.iter().any(|id| id == point))
}

/// By how much the clearance of the rams exceeds that of the holding stack.
pub(super) fn level_between_foundations(subject: &Subject<'_>, point: &str) -> f64 {
    let found = subject.case.points.iter().find(|other| other.id == point);
    let both = found.and_then(|point| Some((point.clearance?, point.packing_clearance?)));
    both.map_or(0.0, |(clearance, packing)| (clearance - packing).mm())
}

/// The pieces from below: the widest at the bottom, of one size the thickest.
fn widest_below<'a>(subject: &Subject<'a>, counts: &[PieceCount]) -> Option<Vec<&'a Packing>> {
    let mut pieces = Vec::new();
    for of_kind in counts {
        let piece = subject.packing.iter().find(|piece| piece.id == of_kind.piece)?;
        // A stack of more pieces than these is no stack that can be drawn.
        let number = usize::try_from(of_kind.count.min(500)).ok()?;
        pieces.extend(std::iter::repeat_n(piece, number));
    }
    let size = |piece: &Packing| piece.length.mm() * piece.width.mm();
    pieces.sort_by(|a, b| {
        size(b).total_cmp(&size(a)).then(b.thickness.mm().total_cmp(&a.thickness.mm())).then(a.id.cmp(&b.id))
    });
    Some(pieces)
}

/// The holding stack as it lies after a step: a piece that is added lies on top, one that is taken comes from the top.
fn in_order<'a>(kind: StepKind, before: &[&'a Packing], now: Vec<&'a Packing>) -> Vec<&'a Packing> {
    if !matches!(kind, StepKind::AddPiece | StepKind::RemovePiece) && before.len() != now.len() {
        return now;
    }
    let mut order: Vec<&'a Packing> = before.to_vec();
    let mut added: Vec<&'a Packing> = Vec::new();
    let mut rest: Vec<&'a Packing> = before.to_vec();
    for piece in now {
        match rest.iter().rposition(|other| other.id == piece.id) {
            Some(place) => {
                rest.remove(place);
            }
            None => added.push(piece),
        }
    }
    for gone in rest {
        if let Some(place) = order.iter().rposition(|other| other.id == gone.id) {
            order.remove(place);
        }
    }
    order.extend(added);
    order
}
