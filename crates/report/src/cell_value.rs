//! One value of an answer as plain text for a cell.

use crate::cell::word;
use ramwright_engine::check::UTILISATION_TOLERANCE;
use ramwright_engine::remark::Caution;
use ramwright_engine::verify::Verdict;
use ramwright_units::Profile;

/// Stands where an answer has nothing of the kind.
pub(crate) const NONE: &str = "none";
/// Stands where a value is not known, since an input of it is not.
pub(crate) const UNKNOWN: &str = "unknown";

/// The cautions that a sentence repeats, since they say that the shares of several points rest on a guess.
const GUESSES: [(&str, &str); 2] =
    [("equal_shares", "equal shares are a guess"), ("guessed_centre", "centre of gravity is a guess")];

/// An answer, as far as a cell may show it.
#[derive(Debug)]
pub struct Told<'a, R> {
    /// The result.
    pub result: &'a R,
    /// One word over it.
    pub verdict: &'a Verdict,
    /// The units of the answer.
    pub units: Profile,
    /// The address that computes it again, if it fits into one.
    pub permalink: Option<&'a str>,
    /// What a reader must know.
    pub cautions: &'a [Caution],
    /// The number of the point that is asked for, from 1; the one that carries most if none is.
    pub point: Option<usize>,
}

/// The values of one kind of answer.
pub trait CellValue: Copy + PartialEq + Send + Sync + 'static {
    /// The result that it is read from.
    type Result;
    /// Every value; the first is the whole in one sentence.
    const ALL: &'static [Self];

    /// The name by which it is asked for.
    fn name(self) -> &'static str;

    /// The value as text without a line end: `none` if the answer has nothing of the kind, `unknown` if an input lacks.
    fn text(self, told: &Told<'_, Self::Result>) -> String;
}

impl<R> Told<'_, R> {
    pub(crate) fn permalink(&self) -> String {
        self.permalink.unwrap_or(NONE).to_owned()
    }

    pub(crate) fn verdict(&self) -> String {
        word(&self.verdict.status)
    }

    pub(crate) fn governing_check(&self) -> String {
        self.verdict.governing.as_ref().map_or_else(|| NONE.to_owned(), |governing| word(&governing.check))
    }

    /// Verdict and what decides it, as people say it.
    pub(crate) fn judged(&self) -> String {
        let governing = self.verdict.governing.as_ref().map(|governing| {
            let utilisation = governing.utilisation.map(rounded_up);
            let utilisation = utilisation.map(|value| format!(", utilisation {value}")).unwrap_or_default();
            let place = if governing.subject == "set" || governing.subject == "load" {
                String::new()
            } else {
                format!(" at {}", governing.subject)
            };
            format!(" ({}{place}{utilisation})", spoken(&word(&governing.check)))
        });
        format!("{}{}", spoken(&self.verdict()), governing.unwrap_or_default())
    }

    /// What is guessed of how several points share.
    pub(crate) fn guesses(&self) -> Vec<String> {
        guesses(self.cautions)
    }
}

/// What the cautions say to be guessed.
pub(crate) fn guesses(cautions: &[Caution]) -> Vec<String> {
    let said = |code: &str| cautions.iter().any(|caution| caution.code.as_str() == code);
    GUESSES.iter().filter(|(code, _)| said(code)).map(|(_, words)| (*words).to_owned()).collect()
}

/// A word of a closed list as people say it.
pub(crate) fn spoken(word: &str) -> String {
    word.replace('_', " ")
}

/// A utilisation in three decimals, rounded up, so that more than the limit never looks like the limit.
pub(crate) fn rounded_up(value: f64) -> String {
    // What counts as at the limit is shown as at the limit, and 0.069 stays so in spite of its binary form.
    let thousandths = ((value - UTILISATION_TOLERANCE) * 1000.0).ceil().max(0.0);
    // Adding zero turns -0.0 into 0.0.
    format!("{:.3}", thousandths / 1000.0 + 0.0)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn verify_a_utilisation_is_rounded_up() {
        for (value, text) in [
            (0.0, "0.000"),
            (0.8701, "0.871"),
            (0.871, "0.871"),
            (0.069, "0.069"),
            (0.999_1, "1.000"),
            (1.000_1, "1.001"),
        ] {
            assert_eq!(rounded_up(value), text);
        }
    }
}
