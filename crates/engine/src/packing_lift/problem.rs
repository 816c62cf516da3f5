//! From typed heights to the planner's whole tenths of a millimetre, each rounded to its safe side.

use super::input::{Direction, Manner, PointsAlike, SequenceInput};
use super::kernel::{CollarEnd, Goal, LENGTH_MAX, PARTS_MAX, PieceType, Problem, Restack, Use};
use super::stack_rules::{KindRules, Order, base_feet, rules};
use crate::Text;
use crate::catalogue::{Packing, PackingMaterial, PackingUse};
use crate::check::NoLines;
use crate::defaults::{COLLAR_SETTLEMENT, COLLAR_SPARE_STROKE, STOP_PRESSURE_FACTOR};
use crate::ram::Pad;
use crate::settings::PackingLifts;
use crate::support::stack::{Stack, shortening};
use ramwright_units::{Length, Typed};

/// A piece that the planner may not use, and why.
pub(super) type LeftOut<'a> = (&'a Packing, Text);

/// The planner's problem with the pieces that its kinds stand for.
pub(super) struct Posed<'a> {
    pub(super) problem: Problem,
    pub(super) kinds: Vec<&'a Packing>,
    pub(super) left_out: Vec<LeftOut<'a>>,
    /// By how much a holding stack may stand lower than it counts, in tenths of a millimetre.
    pub(super) rounding: i64,
    /// What the lock collars take, if there are any.
    pub(super) collar: Option<CollarEnd>,
    /// Rams of the group.
    pub(super) rams: u32,
}

impl Posed<'_> {
    /// Stroke that is kept to free a lock collar; none without collars.
    pub(super) fn spare_stroke(&self) -> i64 {
        self.collar.map_or(0, |end| end.spare_stroke)
    }
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

/// Whole tenths of a millimetre, rounded down.
pub(super) fn whole_tenths(length: Length) -> i64 {
    down(length)
}

fn down(length: Length) -> i64 {
    tenths(length, f64::floor).0
}

/// The pieces that stacks can be made of, with their rules; and those that are left out.
pub(super) struct Yard<'a> {
    ruled: Vec<(&'a Packing, KindRules)>,
    left_out: Vec<LeftOut<'a>>,
}

/// Sorts the pieces, the same for every group of points.
pub(super) fn yard<'a>(input: &SequenceInput<'a>) -> Yard<'a> {
    let (kinds, left_out) = usable_pieces(input);
    let (ruled, left_out) = strong_enough(input, kinds, left_out);
    Yard { ruled, left_out }
}

/// Poses the problem of one group. A load that is let down is posed as one that goes up, seen from its end.
pub(super) fn pose<'a>(input: &SequenceInput<'a>, yard: &Yard<'a>, group: &PointsAlike) -> Posed<'a> {
    let settings = input.settings;
    let usable = settings.stroke_limit.usable(input.ram.stroke);
    let down_by = match input.direction {
        Direction::Raise => Length::ZERO,
        Direction::Lower { .. } => input.travel,
    };
    let (clearance, clearance_cut) = tenths(group.clearance - down_by, f64::floor);
    let (packing_clearance, packing_cut) = tenths(group.packing_clearance - down_by, f64::ceil);
    let (closed_height, height_cut) = tenths(input.ram.closed_height, f64::ceil);
    let (plates, plates_cut) = tenths(settings.plates, f64::ceil);
    // Each rounding that helps one rule is taken back where it would help another.
    let stroke_taken = i64::from(clearance_cut) + i64::from(height_cut) + i64::from(plates_cut);
    let travel = up(input.travel);
    let final_greatest = down(input.travel + settings.over_jack_allowance);
    let collar = CollarEnd { spare_stroke: up(COLLAR_SPARE_STROKE), collar_settlement: up(COLLAR_SETTLEMENT) };
    let collar = input.ram.lock_collar.then_some(collar);
    let pieces: Vec<PieceType> =
        yard.ruled.iter().map(|(piece, rules)| kind(piece, rules, (input, group.rams))).collect();
    let kinds: Vec<&Packing> = yard.ruled.iter().map(|(piece, _)| *piece).collect();
    let rounding = rounding_of_a_stack(&kinds, &pieces);
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
        // A stack of pieces that were rounded up stands lower than it counts, and so the load falls farther.
        follow_up_gap: (down(settings.follow_up_gap) - rounding).max(0),
        restack: match collar {
            Some(collar) => Restack::Free { standing_loss: collar.spare_stroke + collar.collar_settlement },
            None if input.second_support.is_some() => Restack::Free { standing_loss: 0 },
            None => Restack::AddOnly,
        },
        ends_on_collars: collar.filter(|_| ends_on_collars(input)),
        base_needs: base_feet(&kinds, &input.stacks),
        goal: Goal::Window,
        pieces,
        // What a load stands on before it goes down stands there already.
        first_stack_allowed: settings.packing_lifts == PackingLifts::Allowed || *input.direction != Direction::Raise,
    };
    Posed { problem, kinds, left_out: yard.left_out.clone(), rounding, collar, rams: group.rams }
}

/// Rams that must move over, or come out at the end, cannot hold the load on their collars.
fn ends_on_collars(input: &SequenceInput<'_>) -> bool {
    *input.direction == Direction::Raise && input.manner == Manner::Together
}

/// By how much a holding stack may stand lower than the planner counts it, since thicknesses are rounded up.
fn rounding_of_a_stack(kinds: &[&Packing], pieces: &[PieceType]) -> i64 {
    let of_kind = |(packing, piece): (&&Packing, &PieceType)| {
        let most =
            piece.holding_height_limit.checked_div(piece.thickness).unwrap_or(0).min(i64::from(piece.stock_per_point));
        let each = up(packing.thickness) - down(packing.thickness);
        most * each
    };
    kinds.iter().zip(pieces).map(of_kind).sum()
}

/// Drops the kinds that no stack can hold; the rules of the others speak of what is left.
fn strong_enough<'a>(
    input: &SequenceInput<'a>,
    mut kinds: Vec<&'a Packing>,
    mut left_out: Vec<LeftOut<'a>>,
) -> (Vec<(&'a Packing, KindRules)>, Vec<LeftOut<'a>>) {
    let order = if input.rebuilds() { Order::WidestBelow } else { Order::Arrival };
    let stands = input.groups.iter().map(|group| group.packing_clearance).fold(Length::ZERO, Length::max);
    let highest = stands + input.travel + input.settings.over_jack_allowance;
    loop {
        let ruled = rules(&kinds, &input.stacks, order, highest);
        let usable = |piece: &Packing, rules: &KindRules| {
            (rules.base && piece.use_ != PackingUse::Holding) || (rules.holding && piece.use_ != PackingUse::Base)
        };
        let weak = kinds.iter().zip(&ruled).position(|(piece, rules)| !usable(piece, rules));
        match weak {
            None => return (kinds.into_iter().zip(ruled).collect(), left_out),
            Some(weak) => {
                let why = "it is too weak for the force on a stack, or for the ram's foot with nothing to spread it";
                left_out.push((kinds.remove(weak), Text::fixed(why)));
            }
        }
    }
}

/// The greatest settlement of a piece: as it is stated, or as it shortens under the force if that is more.
fn settlement(piece: &Packing, input: &SequenceInput<'_>) -> Length {
    // Steel shortens by hundredths, less than the planner counts in.
    if piece.material == PackingMaterial::Steel {
        return piece.settlement_greatest;
    }
    let force = input.stacks.on_holding.force.max(input.share);
    let shortens = shortening(&mut NoLines, &Stack::in_order(&[piece]), force);
    shortens.map_or(piece.settlement_greatest, |shortens| piece.settlement_greatest.max(shortens))
}

fn kind(piece: &Packing, rules: &KindRules, (input, rams): (&SequenceInput<'_>, u32)) -> PieceType {
    let thickness = up(piece.thickness);
    let loaded_least = down(piece.thickness - settlement(piece, input));
    let loaded_greatest = up(piece.thickness - piece.settlement_least);
    PieceType {
        thickness,
        settlement_least: (thickness - loaded_greatest).max(0),
        settlement_greatest: thickness - loaded_least,
        mass: whole((piece.mass.kg() * 10.0).ceil()),
        parts: piece.members.unwrap_or(1).clamp(1, PARTS_MAX),
        use_: match piece.use_ {
            PackingUse::Base => Use::Base,
            PackingUse::Either if !rules.base || not_under_a_ram(piece, input).is_some() => Use::Holding,
            PackingUse::Either if !rules.holding => Use::Base,
            PackingUse::Either => Use::Either,
            PackingUse::Holding => Use::Holding,
        },
        stock_per_point: piece.stock.checked_div(rams).unwrap_or(0),
        base_height_limit: down(rules.base_limit).clamp(0, LENGTH_MAX),
        holding_height_limit: down(rules.holding_limit).clamp(0, LENGTH_MAX),
        base_apart: rules.base_apart,
        holding_apart: rules.holding_apart,
        spread_by: rules.spread_by,
    }
}

fn least_width(piece: &Packing) -> Length {
    piece.length.min(piece.width)
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
    // Written so that a limit or a share that is no number carries nothing.
    let carries = input.share * STOP_PRESSURE_FACTOR.max(input.settings.heavier_factor) <= limit;
    if !carries {
        return Some(Text::fixed(
            "its load limit is below the greatest share of one stack, with the reserve for the stop pressure or a heavier load",
        ));
    }
    if piece.stock < input.fewest_rams() {
        return Some(Text::fixed("there are fewer pieces than stacks"));
    }
    if piece.use_ == PackingUse::Base { not_under_a_ram(piece, input) } else { None }
}

/// Why a piece cannot stand under a ram, if it cannot.
fn not_under_a_ram(piece: &Packing, input: &SequenceInput<'_>) -> Option<Text> {
    if input.ram.base_diameter.is_some_and(|base| least_width(piece) < base) {
        return Some(Text::fixed("it is narrower than the ram's base"));
    }
    let fits = |room: Pad| {
        (piece.length <= room.length && piece.width <= room.width)
            || (piece.width <= room.length && piece.length <= room.width)
    };
    if input.base_room.is_some_and(|room| !fits(room)) {
        return Some(Text::fixed("it does not fit the pad under the ram"));
    }
    None
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    fn mm(value: f64) -> Length {
        Length::from_mm(value)
    }

    /// Lengths are whole tenths of a millimetre; a value within 1e-6 of a whole tenth is that tenth, however it got there.
    #[test]
    fn verify_what_is_a_whole_tenth_stays_it() {
        for tenth in [0, 1, 3, 7, 127, 254, 4_207, 123_456] {
            let exact = mm(f64::from(tenth) / 10.0);
            for length in [exact, exact / 0.0254 * 0.0254, exact * 3.0 / 3.0, exact + mm(0.9e-7), exact - mm(0.9e-7)] {
                assert_eq!((up(length), down(length)), (tenth.into(), tenth.into()), "{length:?}");
            }
        }
    }

    #[test]
    fn verify_what_is_finer_goes_to_the_side_asked_for() {
        for (value, below) in [(3.175, 31), (12.701, 127), (0.000_01, 0), (420.04, 4_200), (420.099_9, 4_200)] {
            assert_eq!((down(mm(value)), up(mm(value))), (below, below + 1), "{value}");
        }
        assert_eq!((down(mm(-0.05)), up(mm(-0.05))), (-1, 0));
        assert_eq!((down(mm(-0.1)), up(mm(-0.1))), (-1, -1));
    }

    /// What the planner cannot take it must refuse, so it must not come out small.
    #[test]
    fn verify_what_is_no_length_is_refused() {
        for value in [f64::NAN, f64::INFINITY, 1e308, 1e18] {
            assert_eq!((up(mm(value)), down(mm(value))), (TOO_MUCH, TOO_MUCH), "{value}");
        }
    }

    proptest! {
        #[test]
        fn verify_rounding_is_to_the_safe_side_by_less_than_a_tenth(value in -500.0f64..5_000.0) {
            let (below, above) = (down(mm(value)), up(mm(value)));
            let snapped = SNAP / 10.0 * 1.01;
            #[expect(clippy::cast_precision_loss, reason = "small numbers")]
            let (below_mm, above_mm) = (below as f64 / 10.0, above as f64 / 10.0);
            prop_assert!(below_mm <= value + snapped && value < below_mm + 0.1 + snapped);
            prop_assert!(value - snapped <= above_mm && above_mm - 0.1 - snapped < value);
            prop_assert!(above - below <= 1);
        }
    }
}
