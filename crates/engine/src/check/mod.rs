//! How a check is written down: status, demand against limit, and the lines that led there.
//!
//! One expression both computes and describes itself: [`line!`](crate::line) evaluates the tokens that it prints.

mod finding;
mod id;
mod line;
mod registry;

pub(crate) use finding::is_worse;
pub use finding::{Finding, HandCheck, UTILISATION_TOLERANCE};
pub use id::{CheckId, Phase, Scenario};
pub use line::{Ledger, Line, Lines, NoLines, Term, functions};
pub use registry::{BasisEntry, Measures, VerdictWeight, basis};

use crate::text::Text;
use ramwright_units::Quantity;
use serde::{Deserialize, Serialize};
use utoipa::ToSchema;

/// The outcome of one check.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize, ToSchema)]
#[serde(rename_all = "snake_case")]
pub enum Status {
    /// Demand is within the limit.
    Pass,
    /// Within the limit, but a person must look at it.
    Caution,
    /// An input is missing; `missing` names it. Never to be read as a pass.
    NotChecked,
    /// Demand is over the limit.
    Fail,
}

/// Where a formula or value comes from, and how sure that is.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize, ToSchema)]
#[serde(rename_all = "snake_case")]
pub enum Standing {
    /// Exact by definition or plain arithmetic.
    Definition,
    /// A published standard, law or textbook.
    Published,
    /// Computed independently, by another method or program; nobody has published it.
    Computed,
    /// Common practice of the trade; no source.
    CommonPractice,
    /// Remembered and not confirmed against its source.
    FromMemory,
    /// Stated by whoever sent the request, or by the catalogue they named.
    Stated,
}

/// Formula and source of a check or of a line.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, ToSchema)]
pub struct Source {
    /// What is relied on.
    pub text: Text,
    /// How sure that is.
    pub standing: Standing,
}

impl Source {
    /// A source with its standing.
    pub const fn new(text: &'static str, standing: Standing) -> Self {
        Self { text: Text::fixed(text), standing }
    }

    /// Plain arithmetic or a definition.
    pub const fn definition(text: &'static str) -> Self {
        Self::new(text, Standing::Definition)
    }

    /// A standard, law or textbook.
    pub const fn published(text: &'static str) -> Self {
        Self::new(text, Standing::Published)
    }

    /// A rule of the trade.
    pub const fn common_practice(text: &'static str) -> Self {
        Self::new(text, Standing::CommonPractice)
    }

    /// Remembered, not confirmed.
    pub const fn from_memory(text: &'static str) -> Self {
        Self::new(text, Standing::FromMemory)
    }

    /// Stated in the request or the catalogue.
    pub const fn stated(text: &'static str) -> Self {
        Self::new(text, Standing::Stated)
    }
}

/// A check as it is answered.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, ToSchema)]
pub struct Check {
    /// Which check.
    pub id: CheckId,
    /// What it was made on: a point's id, or `set` for the whole.
    pub subject: String,
    /// In which case.
    pub scenario: Scenario,
    /// In which phase.
    pub phase: Phase,
    /// The outcome.
    pub status: Status,
    /// What is asked.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub demand: Option<Quantity>,
    /// What may be asked.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub limit: Option<Quantity>,
    /// Demand / limit; 1.0 = at the limit.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub utilisation: Option<f64>,
    /// The rule in words, and where it comes from.
    pub basis: Source,
    /// The calculation, line by line.
    pub lines: Vec<Line>,
    /// Inputs that would be needed, where the status is `not_checked`.
    pub missing: Vec<Text>,
    /// What else a reader should know.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub note: Option<Text>,
    /// The simple bound that a person would work out, beside the computed value.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub hand_check: Option<HandCheck>,
    /// The smallest change of this check alone that would pass, where it fails and there is one.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub would_pass: Option<Text>,
}

/// Where a finding belongs.
#[derive(Clone, Debug, PartialEq)]
pub struct Place<'a> {
    /// Which check.
    pub id: CheckId,
    /// A point's id, or `set`.
    pub subject: &'a str,
    /// In which case.
    pub scenario: Scenario,
    /// In which phase.
    pub phase: Phase,
}

impl Check {
    /// A finding put in its place with its lines.
    pub fn new(place: &Place<'_>, finding: Finding, lines: Lines) -> Self {
        let status = finding.status();
        let utilisation = finding.utilisation();
        let blank = Self {
            id: place.id,
            subject: place.subject.to_owned(),
            scenario: place.scenario,
            phase: place.phase,
            status,
            demand: None,
            limit: None,
            utilisation,
            basis: place.id.basis(),
            lines: lines.0,
            missing: Vec::new(),
            note: None,
            hand_check: None,
            would_pass: None,
        };
        match finding {
            Finding::Compared { demand, limit, caution, note, hand, remedy, .. } => Self {
                demand: Some(demand),
                limit: Some(limit),
                note: both(caution, note),
                hand_check: hand.map(|hand| *hand),
                would_pass: remedy.map(|remedy| *remedy),
                ..blank
            },
            Finding::Judged { note, .. } => Self { note: Some(note), ..blank },
            Finding::NotChecked { missing } => Self { missing, ..blank },
        }
    }
}

/// A caution and a note as one text.
fn both(caution: Option<Text>, note: Option<Text>) -> Option<Text> {
    match (caution, note) {
        (Some(caution), Some(note)) => Some(format!("{caution}; {note}").into()),
        (one, other) => one.or(other),
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use ramwright_units::{Area, Force, OilPressure};

    #[test]
    fn verify_a_line_prints_what_it_computes() {
        let mut book = Lines::default();
        let capacity = crate::line!(&mut book, Q: Force = p * A; p = OilPressure::from_bar(680.0), A = Area::from_cm2(35.0); Source::definition("pressure x area"));
        assert!((capacity.kn() - 238.0).abs() < 1e-12);
        let line = &book.0[0];
        assert_eq!((line.symbol.as_str(), line.expression.as_str()), ("Q", "p * A"));
        assert_eq!(line.terms.len(), 2);
        assert_eq!(
            crate::line!(&mut NoLines, Q: Force = p * A; p = OilPressure::from_bar(680.0), A = Area::from_cm2(35.0); Source::definition("")),
            capacity
        );
    }

    #[test]
    fn verify_status_at_the_limit() {
        let status = |demand: f64| Finding::compare(Force::from_kn(demand), Force::from_kn(190.4)).status();
        assert_eq!(status(190.4), Status::Pass);
        assert_eq!(status(190.400_1), Status::Fail);
        assert_eq!(status(f64::NAN), Status::Fail);
        assert_eq!(status(-1.0), Status::Pass);
        for limit in [0.0, -1.0, f64::NAN] {
            assert_eq!(Finding::compare(Force::from_kn(1.0), Force::from_kn(limit)).status(), Status::Fail);
        }
    }
}
