//! From typed heights to the planner's whole tenths of a millimetre, each rounded to its safe side.

use super::kernel::{CollarEnd, PieceType, Problem, Restack, Use};
use crate::Text;
use crate::catalogue::{Packing, PackingUse};
use crate::defaults::{BASE_STACK_SLENDERNESS, COLLAR_SETTLEMENT, COLLAR_SPARE_STROKE, HOLDING_STACK_SLENDERNESS};
use crate::ram::Ram;
use crate::settings::{PackingLifts, Settings};
use ramwright_units::{Force, Length, Typed};

/// The heights of a lift at its points, all alike.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct LiftGeometry {
    /// Height between foundation and load where the ram goes.
    pub clearance: Length,
    /// The same where the holding stack goes.
    pub packing_clearance: Length,
    /// How far the load must rise.
    pub travel: Length,
}

/// What a packing-lift sequence is made from.
#[derive(Clone, Debug, PartialEq)]
pub struct SequenceInput<'a> {
    /// The heights.
    pub geometry: LiftGeometry,
    /// The ram, the same at every point.
    pub ram: &'a Ram,
    /// How many rams there are in all; each has a base stack and a holding stack of its own.
    pub rams: u32,
    /// The greatest share that one ram, and so one stack, carries.
    pub share: Force,
    /// Limits and gaps.
    pub settings: &'a Settings,
    /// The pieces on site, in the order of their ids.
    pub pieces: &'a [Packing],
}

/// A piece that the planner may not use, and why.
pub(super) type LeftOut<'a> = (&'a Packing, Text);

/// The planner's problem with the pieces that its kinds stand for.
pub(super) struct Posed<'a> {
    pub(super) problem: Problem,
    pub(super) kinds: Vec<&'a Packing>,
    pub(super) left_out: Vec<LeftOut<'a>>,
}

const TENTHS_PER_METRE: f64 = 1e4;
/// A value this near to a whole tenth is that tenth.
const SNAP: f64 = 1e-6;
/// Far beyond every length that the planner takes, so that it refuses it.
const TOO_MUCH: i64 = i64::MAX / 4;

/// Tenths of a millimetre and whether rounding changed the value.
fn tenths(length: Length, round: fn(f64) -> f64) -> (i64, bool) {
    let exact = length.si() * TENTHS_PER_METRE;
    let nearest = exact.round();
    let (value, changed) = if (exact - nearest).abs() <= SNAP { (nearest, false) } else { (round(exact), true) };
    (whole(value), changed)
}

#[expect(clippy::cast_possible_truncation, reason = "checked to lie well within i64 before")]
fn whole(value: f64) -> i64 {
    if value.abs() < 1e15 { value as i64 } else { TOO_MUCH }
}

fn up(length: Length) -> i64 {
    tenths(length, f64::ceil).0
}

fn down(length: Length) -> i64 {
    tenths(length, f64::floor).0
}

/// Poses the problem.
pub(super) fn pose<'a>(input: &SequenceInput<'a>) -> Posed<'a> {
    let (kinds, left_out) = usable_pieces(input);
    let settings = input.settings;
    let usable = settings.stroke_limit.usable(input.ram.stroke);
    let (clearance, clearance_cut) = tenths(input.geometry.clearance, f64::floor);
    let (packing_clearance, packing_cut) = tenths(input.geometry.packing_clearance, f64::ceil);
    let (closed_height, height_cut) = tenths(input.ram.closed_height, f64::ceil);
    let (plates, plates_cut) = tenths(settings.plates, f64::ceil);
    // Each rounding that helps one rule is taken back where it would help another.
    let stroke_taken = i64::from(clearance_cut) + i64::from(height_cut) + i64::from(plates_cut);
    let travel = up(input.geometry.travel);
    let final_greatest = down(input.geometry.travel + settings.over_jack_allowance);
    let collar = CollarEnd { spare_stroke: up(COLLAR_SPARE_STROKE), collar_settlement: up(COLLAR_SETTLEMENT) };
    let problem = Problem {
        clearance,
        packing_clearance,
        travel,
        allowance: (final_greatest - travel - i64::from(packing_cut)).max(0),
        closed_height,
        plates,
        ram_gap: up(settings.entry_gap),
        usable_stroke: (down(usable) - stroke_taken).max(0),
        packing_gap: up(settings.packing_gap) + i64::from(packing_cut),
        follow_up_gap: down(settings.follow_up_gap),
        restack: if input.ram.lock_collar {
            Restack::Free { standing_loss: collar.spare_stroke + collar.collar_settlement }
        } else {
            Restack::AddOnly
        },
        ends_on_collars: input.ram.lock_collar.then_some(collar),
        base_height_limit: stack_limit(&kinds, BASE_STACK_SLENDERNESS, |piece| piece.use_ != PackingUse::Holding),
        holding_height_limit: stack_limit(&kinds, HOLDING_STACK_SLENDERNESS, |piece| piece.use_ != PackingUse::Base),
        pieces: kinds.iter().map(|piece| kind(piece, input)).collect(),
        first_stack_allowed: settings.packing_lifts == PackingLifts::Allowed,
    };
    Posed { problem, kinds, left_out }
}

fn kind(piece: &Packing, input: &SequenceInput<'_>) -> PieceType {
    let thickness = up(piece.thickness);
    let loaded_least = down(piece.thickness - piece.settlement_greatest);
    let loaded_greatest = up(piece.thickness - piece.settlement_least);
    let too_narrow = input.ram.base_diameter.is_some_and(|base| least_width(piece) < base);
    PieceType {
        thickness,
        settlement_least: (thickness - loaded_greatest).max(0),
        settlement_greatest: thickness - loaded_least,
        mass: whole((piece.mass.kg() * 10.0).ceil()),
        use_: match piece.use_ {
            PackingUse::Base => Use::Base,
            PackingUse::Either if too_narrow => Use::Holding,
            PackingUse::Either => Use::Either,
            PackingUse::Holding => Use::Holding,
        },
        stock_per_point: piece.stock.checked_div(input.rams).unwrap_or(0),
    }
}

fn least_width(piece: &Packing) -> Length {
    piece.length.min(piece.width)
}

/// Greatest height of a stack: its slenderness times the least width of any piece that may stand in it.
fn stack_limit(kinds: &[&Packing], slenderness: f64, may_stand: impl Fn(&Packing) -> bool) -> i64 {
    kinds
        .iter()
        .filter(|piece| may_stand(piece))
        .map(|piece| least_width(piece))
        .reduce(Length::min)
        .map_or(0, |width| down(width * slenderness))
}

/// The pieces that may be used, and those that may not, with the reason.
fn usable_pieces<'a>(input: &SequenceInput<'a>) -> (Vec<&'a Packing>, Vec<LeftOut<'a>>) {
    let mut kinds = Vec::new();
    let mut left_out = Vec::new();
    for piece in input.pieces {
        match why_not(piece, input) {
            Some(why) => left_out.push((piece, why)),
            None => kinds.push(piece),
        }
    }
    (kinds, left_out)
}

fn why_not(piece: &Packing, input: &SequenceInput<'_>) -> Option<Text> {
    let Some(limit) = piece.load_limit else {
        return Some(Text::fixed("its load limit is not stated"));
    };
    if limit < input.share {
        return Some(Text::fixed("its load limit is below the greatest share of one stack"));
    }
    if piece.stock < input.rams {
        return Some(Text::fixed("there are fewer pieces than stacks"));
    }
    let narrow_base = input.ram.base_diameter.is_some_and(|base| least_width(piece) < base);
    if piece.use_ == PackingUse::Base && narrow_base {
        return Some(Text::fixed("it is narrower than the ram's base"));
    }
    None
}
