//! What a check function finds.

use super::Status;
use crate::text::Text;
use ramwright_units::{Quantity, Typed};
use serde::{Deserialize, Serialize};
use utoipa::ToSchema;

/// How far above 1.0 a utilisation may stand and still count as at the limit.
///
/// It only absorbs the rounding of unit conversions, so that a status never depends on the units of a request.
pub const UTILISATION_TOLERANCE: f64 = 1e-9;

/// The simple bound that a person would work out on paper, beside what was computed.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, ToSchema)]
pub struct HandCheck {
    /// What was worked out, in words with its formula.
    pub text: Text,
    /// Its value.
    #[schema(inline = false)]
    pub value: Quantity,
    /// Its value over the computed one.
    pub ratio: f64,
}

/// What a check function finds, before it is given a name and a place.
#[derive(Clone, Debug, PartialEq)]
pub enum Finding {
    /// A demand was held against a limit.
    Compared {
        /// What is asked.
        demand: Quantity,
        /// What may be asked.
        limit: Quantity,
        /// Demand / limit.
        utilisation: f64,
        /// Why a pass is only a caution, if it is.
        caution: Option<Text>,
        /// What else a reader should know, whatever the outcome is.
        note: Option<Text>,
        /// What a person would work out beside it.
        hand: Option<Box<HandCheck>>,
        /// The smallest change that would pass, if the demand is over the limit and there is one.
        remedy: Option<Box<Text>>,
    },
    /// A yes-or-no rule.
    Judged {
        /// The answer.
        status: Status,
        /// Why.
        note: Text,
    },
    /// Something needed was not given.
    NotChecked {
        /// JSON-Pointer-like names of the inputs that are missing.
        missing: Vec<Text>,
    },
}

/// Whether one outcome of a check is worse than another by more than rounding: the status first, then the utilisation.
pub(crate) fn is_worse((status, utilisation): (Status, Option<f64>), (than, least): (Status, Option<f64>)) -> bool {
    let least = least.unwrap_or(0.0);
    than < status || (than == status && least + UTILISATION_TOLERANCE * least.max(1.0) < utilisation.unwrap_or(0.0))
}

impl Finding {
    /// Whether this is worse than another by more than rounding.
    pub(crate) fn is_worse_than(&self, other: &Self) -> bool {
        is_worse((self.status(), self.utilisation()), (other.status(), other.utilisation()))
    }

    /// Demand against limit; a limit of zero or less passes only a demand of zero or less.
    pub fn compare(demand: impl Into<Quantity>, limit: impl Into<Quantity>) -> Self {
        let (demand, limit) = (demand.into(), limit.into());
        let known = demand.value_si.is_finite() && limit.value_si.is_finite();
        let ratio = match demand.value_si {
            _ if !known => f64::NAN,
            demand if demand <= 0.0 => 0.0,
            demand => demand / limit.value_si,
        };
        // JSON knows neither infinity nor NaN: whatever is no proper ratio is far over the limit.
        let utilisation = if ratio >= 0.0 && ratio.is_finite() { ratio } else { f64::MAX };
        Self::Compared { demand, limit, utilisation, caution: None, note: None, hand: None, remedy: None }
    }

    /// The same, a pass being only a caution.
    #[must_use]
    pub fn with_caution(mut self, why: impl Into<Text>) -> Self {
        if let Self::Compared { caution, .. } = &mut self {
            *caution = Some(why.into());
        }
        self
    }

    /// The same with what else a reader should know.
    #[must_use]
    pub fn with_note(mut self, text: impl Into<Text>) -> Self {
        if let Self::Compared { note, .. } = &mut self {
            *note = Some(text.into());
        }
        self
    }

    /// The same with a simple bound of the demand or the limit beside it; one that is no number is left out.
    #[must_use]
    pub fn with_hand<T: Typed>(mut self, text: impl Into<Text>, value: T, computed: T) -> Self {
        let ratio = value.si() / computed.si();
        if let Self::Compared { hand, .. } = &mut self
            && ratio.is_finite()
        {
            *hand = Some(Box::new(HandCheck { text: text.into(), value: value.into(), ratio }));
        }
        self
    }

    /// The same with the smallest change that would pass, which is asked for only if the demand is over the limit.
    #[must_use]
    pub fn with_remedy<T: Into<Text>>(mut self, change: impl FnOnce() -> T) -> Self {
        let failed = self.status() == Status::Fail;
        if let Self::Compared { remedy, .. } = &mut self
            && failed
        {
            *remedy = Some(Box::new(change().into()));
        }
        self
    }

    /// A rule that holds or not.
    pub fn judged(status: Status, note: impl Into<Text>) -> Self {
        Self::Judged { status, note: note.into() }
    }

    /// An input is missing.
    pub fn missing(names: impl IntoIterator<Item = impl Into<Text>>) -> Self {
        Self::NotChecked { missing: names.into_iter().map(Into::into).collect() }
    }

    /// The status.
    pub fn status(&self) -> Status {
        match self {
            // Written so that a utilisation that is not a number fails.
            Self::Compared { utilisation, caution, .. } => {
                if *utilisation <= 1.0 + UTILISATION_TOLERANCE {
                    if caution.is_some() { Status::Caution } else { Status::Pass }
                } else {
                    Status::Fail
                }
            }
            Self::Judged { status, .. } => *status,
            Self::NotChecked { .. } => Status::NotChecked,
        }
    }

    /// What the finding says in words, if it does.
    pub fn note(&self) -> Option<String> {
        match self {
            Self::Judged { note, .. } => Some(note.to_string()),
            Self::Compared { .. } | Self::NotChecked { .. } => None,
        }
    }

    /// The least change that would pass, if it is known; else what the finding says.
    pub(crate) fn change(self) -> Option<Text> {
        match self {
            Self::Compared { remedy, .. } => remedy.map(|remedy| *remedy),
            Self::Judged { note, .. } => Some(note),
            Self::NotChecked { .. } => None,
        }
    }

    /// Demand / limit, where there is one.
    pub fn utilisation(&self) -> Option<f64> {
        match self {
            Self::Compared { utilisation, .. } => Some(*utilisation),
            Self::Judged { .. } | Self::NotChecked { .. } => None,
        }
    }
}
