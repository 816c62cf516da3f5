//! Why there is no sequence, in words.

use super::input::{Manner, SequenceInput};
use super::kernel::{Cure, Reason, Stack};
use super::problem::Posed;
use super::result::InfeasibleReason;
use super::sequence::{in_words_of, length};
use crate::Text;

pub(super) fn in_words(reason: &Reason, posed: &Posed<'_>) -> InfeasibleReason {
    let mm = |tenths: i64| in_words_of(length(tenths));
    let (code, text, cures): (&'static str, String, &[Cure]) = match reason {
        Reason::RamDoesNotEnter { short_by } => (
            "ram_does_not_enter",
            format!("the closed ram does not go under the load: {} too high", mm(*short_by)),
            &[],
        ),
        Reason::NoPieceThinEnough { thinnest: Some(thinnest), greatest_thickness } => (
            "no_piece_thin_enough",
            format!(
                "the thinnest piece for the holding stack is {}, and at most {} can follow the load within the gaps",
                mm(*thinnest),
                mm(*greatest_thickness)
            ),
            &[],
        ),
        Reason::NoPieceThinEnough { thinnest: None, .. } => {
            ("no_piece_thin_enough", "there is no piece for the holding stack".into(), &[])
        }
        Reason::NoProgress { furthest_rise, cures } => (
            "no_progress",
            format!(
                "even with unlimited pieces the load stops at a rise of {}: the stroke is too short for gaps and settlement",
                mm(*furthest_rise)
            ),
            cures,
        ),
        Reason::HeightLimit { furthest_rise, cures, .. } => (
            "stack_too_high",
            format!("the stacks reach their greatest height at a rise of {}", mm(*furthest_rise)),
            cures,
        ),
        Reason::StockTooShort { short_by, cures, .. } => {
            ("stock_too_short", format!("all pieces together are {} too low for the last stack", mm(*short_by)), cures)
        }
        Reason::NoStackInAllowance { below, cures } => {
            let below = below.map_or_else(String::new, |rise| format!("; the next below rises {}", mm(rise)));
            ("no_stack_in_allowance", format!("no stack ends within the over-jack allowance{below}"), cures)
        }
        Reason::PiecesRunOut { furthest_rise, cures, .. } => {
            ("pieces_run_out", format!("the pieces run out on the way, at a rise of {}", mm(*furthest_rise)), cures)
        }
    };
    let mut least_changes: Vec<Text> = cures.iter().map(|cure| cure_in_words(*cure, posed)).collect();
    if let Reason::RamDoesNotEnter { short_by } = reason {
        least_changes.push(Text::from(format!(
            "{} less closed height, plates or entry gap, or as much more clearance",
            mm(*short_by)
        )));
    }
    InfeasibleReason { code: Text::fixed(code), text: Text::from(text), least_changes }
}

fn cure_in_words(cure: Cure, posed: &Posed<'_>) -> Text {
    let mm = |tenths: i64| in_words_of(length(tenths));
    Text::from(match cure {
        Cure::MorePieces { piece, count } => {
            let id = posed.kinds.get(piece).map_or("", |piece| piece.id.as_str());
            format!("{count} more of {id} for each stack pair")
        }
        Cure::MoreStroke(more) => format!("{} more usable stroke", mm(more)),
        Cure::MoreAllowance(more) => format!("{} more over-jack allowance", mm(more)),
        Cure::SmallerEntryGap(less) => format!("an entry gap {} smaller", mm(less)),
        Cure::SmallerPackingGap(less) => format!("a packing gap {} smaller", mm(less)),
        Cure::HigherLimit(Stack::Base, more) => format!("a base stack {} higher, on wider pieces", mm(more)),
        Cure::HigherLimit(Stack::Holding, more) => {
            format!("a holding stack {} higher, on wider pieces", mm(more))
        }
    })
}

/// A reason that the planner does not know.
pub(super) fn outside(code: &'static str, text: impl Into<Text>) -> InfeasibleReason {
    InfeasibleReason { code: Text::fixed(code), text: text.into(), least_changes: Vec::new() }
}

/// A piece of the stack on which the load stands cannot be reckoned with.
pub(super) fn stands_otherwise(piece: &str, why: &str) -> InfeasibleReason {
    outside("stack_not_usable", format!("the stack on which the load stands has {piece} in it, and {why}"))
}

/// The reason of one group of points.
pub(super) fn named(points: &[String], reason: Option<InfeasibleReason>) -> InfeasibleReason {
    let at = format!("at {}: ", points.join(", "));
    let reason = reason.unwrap_or_else(|| outside("no_sequence", "no sequence"));
    InfeasibleReason { text: Text::from(format!("{at}{}", reason.text)), ..reason }
}

/// Each group could go up by itself, and all together cannot.
pub(super) fn not_within(cycles: u32, input: &SequenceInput<'_>) -> InfeasibleReason {
    let (code, held, change) = match input.manner {
        Manner::Together => (
            "groups_conflict",
            format!("within {} of level", in_words_of(input.settings.level_tolerance)),
            "a greater level tolerance, or more pieces",
        ),
        Manner::EndByEnd { greatest_difference } => (
            "ends_conflict",
            format!("within {} of each other", in_words_of(greatest_difference)),
            "a greater difference between the ends, or more pieces",
        ),
    };
    let text = format!(
        "each group of points could go up by itself, but {held} and from one stock they cannot in up to {cycles} packing lifts"
    );
    InfeasibleReason { least_changes: vec![Text::fixed(change)], ..outside(code, text) }
}
