//! One value of a packing-lift sequence as plain text for a cell.

use crate::cell::{number, word};
use crate::cell_value::{CellValue, NONE, Told, UNKNOWN, rounded_up, spoken};
use ramwright_engine::packing_lift::PackingSequence;
use ramwright_units::Quantity;

/// Which value.
#[derive(Clone, Copy, Debug, Eq, PartialEq)]
pub enum PackingValue {
    /// The whole in one sentence.
    Answer,
    /// Number of packing lifts.
    Lifts,
    /// How good the sequence is.
    Outcome,
    /// Whether nothing better exists.
    Optimal,
    /// What holds the load at the end.
    Ending,
    /// Pieces needed, all stacks together.
    Pieces,
    /// Pieces placed and removed.
    PiecesHandled,
    /// Their mass.
    MassHandled,
    /// Highest stack.
    GreatestStack,
    /// Greatest share of one ram over what it may carry, in three decimals, rounded up.
    Utilisation,
    /// Estimated duration.
    Time,
    /// One word over the sequence.
    Verdict,
    /// The check that decides.
    GoverningCheck,
    /// Why there is none.
    Reason,
    /// The address that computes it again.
    Permalink,
}

impl CellValue for PackingValue {
    type Result = PackingSequence;
    const ALL: &'static [Self] = &[
        Self::Answer,
        Self::Lifts,
        Self::Outcome,
        Self::Optimal,
        Self::Ending,
        Self::Pieces,
        Self::PiecesHandled,
        Self::MassHandled,
        Self::GreatestStack,
        Self::Utilisation,
        Self::Time,
        Self::Verdict,
        Self::GoverningCheck,
        Self::Reason,
        Self::Permalink,
    ];

    fn name(self) -> &'static str {
        match self {
            Self::Answer => "answer",
            Self::Lifts => "lifts",
            Self::Outcome => "outcome",
            Self::Optimal => "optimal",
            Self::Ending => "ending",
            Self::Pieces => "pieces",
            Self::PiecesHandled => "pieces_handled",
            Self::MassHandled => "mass_handled",
            Self::GreatestStack => "greatest_stack",
            Self::Utilisation => "utilisation",
            Self::Time => "time",
            Self::Verdict => "verdict",
            Self::GoverningCheck => "governing_check",
            Self::Reason => "reason",
            Self::Permalink => "permalink",
        }
    }

    fn text(self, told: &Told<'_, PackingSequence>) -> String {
        let PackingSequence { cycles, totals, ending, .. } = told.result;
        let known = |value: Option<String>| value.unwrap_or_else(|| NONE.to_owned());
        let found = |value: String| if cycles.is_some() { value } else { NONE.to_owned() };
        match self {
            Self::Answer => answer(told),
            Self::Lifts => known(cycles.map(|lifts| lifts.to_string())),
            Self::Outcome => word(&told.result.outcome),
            Self::Optimal => word(&told.result.optimal),
            Self::Ending => known(ending.map(|ending| word(&ending))),
            Self::Pieces => found(pieces(told.result)),
            Self::PiecesHandled => found(told.result.pieces_handled.to_string()),
            Self::MassHandled => found(number(Quantity::from(told.result.mass_handled).value_in(told.units))),
            Self::GreatestStack => found(number(Quantity::from(told.result.greatest_stack).value_in(told.units))),
            Self::Utilisation => rounded_up(told.result.ram_utilisation),
            Self::Time => {
                known(totals.as_ref().map(|totals| number(Quantity::from(totals.duration).value_in(told.units))))
            }
            Self::Verdict => told.verdict(),
            Self::GoverningCheck => told.governing_check(),
            Self::Reason => known(told.result.reason.as_ref().map(|reason| reason.text.to_string())),
            Self::Permalink => told.permalink(),
        }
    }
}

fn pieces(sequence: &PackingSequence) -> String {
    let parts: Vec<String> = sequence.pieces.iter().map(|one| format!("{} x {}", one.count, one.piece)).collect();
    if parts.is_empty() { NONE.to_owned() } else { parts.join(" + ") }
}

fn answer(told: &Told<'_, PackingSequence>) -> String {
    let sequence = told.result;
    let mut parts = Vec::new();
    match (sequence.cycles, &sequence.reason) {
        (Some(1), _) => parts.push("1 packing lift".to_owned()),
        (Some(lifts), _) => parts.push(format!("{lifts} packing lifts")),
        (None, Some(reason)) => {
            let change = reason.least_changes.first().map(|change| format!("; it would do with: {change}"));
            return format!("{NONE}: {}{}", reason.text, change.unwrap_or_default());
        }
        (None, None) => return format!("{NONE}: {}", spoken(&word(&sequence.outcome))),
    }
    let ending = sequence.ending.map_or_else(|| UNKNOWN.to_owned(), |ending| spoken(&word(&ending)));
    parts.push(format!("ending {ending}"));
    parts.push(format!("{} pieces handled", sequence.pieces_handled));
    parts.push(format!("ram utilisation {}", rounded_up(sequence.ram_utilisation)));
    if !sequence.optimal {
        parts.push("not proven the fewest handled".to_owned());
    }
    parts.extend(told.guesses());
    parts.push(told.judged());
    parts.join(", ")
}
