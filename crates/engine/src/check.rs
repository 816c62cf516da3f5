//! How a check is written down: status, demand against limit, and the lines that led there.
//!
//! One expression both computes and describes itself: [`line!`](crate::line) evaluates the tokens that it prints.

use crate::text::Text;
use ramwright_units::Quantity;
use serde::{Deserialize, Serialize};
use utoipa::ToSchema;

/// How far above 1.0 a utilisation may stand and still count as at the limit.
///
/// It only absorbs the rounding of unit conversions, so that a status never depends on the units of a request.
pub const UTILISATION_TOLERANCE: f64 = 1e-9;

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

/// A named value in an expression.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, ToSchema)]
pub struct Term {
    /// Its symbol in the expression.
    pub symbol: Text,
    /// Its value.
    #[schema(inline = false)]
    pub value: Quantity,
}

/// One line of a calculation.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, ToSchema)]
pub struct Line {
    /// What the line gives.
    pub symbol: Text,
    /// The expression that gave it; where `residual` is present, `symbol` is its root.
    pub expression: Text,
    /// The values that the expression used.
    pub terms: Vec<Term>,
    /// The value of `symbol`.
    pub value: Quantity,
    /// Value of the expression at the root, which an exact root would make zero.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub residual: Option<f64>,
    /// Where the formula comes from.
    pub source: Source,
}

/// Whatever lines are written into; `size` throws them away unmade.
pub trait Ledger {
    /// Takes a line, which is made only if it is kept.
    fn keep(&mut self, line: impl FnOnce() -> Line);
}

/// Keeps every line.
#[derive(Debug, Default)]
pub struct Lines(pub Vec<Line>);

impl Ledger for Lines {
    fn keep(&mut self, line: impl FnOnce() -> Line) {
        self.0.push(line());
    }
}

/// Keeps nothing.
#[derive(Clone, Copy, Debug, Default)]
pub struct NoLines;

impl Ledger for NoLines {
    fn keep(&mut self, _line: impl FnOnce() -> Line) {}
}

/// Functions that expressions of lines may use, under the names in which they are printed.
pub mod functions {
    use ramwright_units::Typed;

    /// Square root.
    pub fn sqrt(x: f64) -> f64 {
        x.sqrt()
    }

    /// Sine of radians.
    pub fn sin(x: f64) -> f64 {
        libm::sin(x)
    }

    /// Cosine of radians.
    pub fn cos(x: f64) -> f64 {
        libm::cos(x)
    }

    /// Fourth power of a length is a second moment's dimension, so plain numbers only.
    pub fn pow4(x: f64) -> f64 {
        x * x * x * x
    }

    /// The greater of two quantities of one type.
    pub fn max<T: Typed>(a: T, b: T) -> T {
        if a.si() < b.si() { b } else { a }
    }

    /// The lesser of two quantities of one type.
    pub fn min<T: Typed>(a: T, b: T) -> T {
        if b.si() < a.si() { b } else { a }
    }
}

/// Computes an expression and keeps it as a line, from one and the same tokens.
///
/// `line!(book, F: Force = p * A; p = pressure, A = area; SOURCE)` evaluates `p * A` with the terms named,
/// hands book, text, terms and value over, and gives the value.
#[macro_export]
macro_rules! line {
    ($book:expr, $symbol:ident : $type:ty = $expression:expr; $($term:ident = $value:expr),+; $source:expr) => {{
        #[allow(unused_imports, reason = "an expression uses the functions that it needs")]
        use $crate::check::functions::*;
        $(#[allow(non_snake_case, reason = "symbols are the field's own")] let $term = $value;)+
        let value: $type = $expression;
        $crate::check::Ledger::keep($book, || $crate::check::Line {
            symbol: stringify!($symbol).into(),
            expression: stringify!($expression).into(),
            terms: vec![$($crate::check::Term { symbol: stringify!($term).into(), value: $term.into() }),+],
            value: value.into(),
            residual: None,
            source: $source,
        });
        value
    }};
}

/// Keeps the root of an equation as a line: the expression, the solution and what it leaves over.
#[macro_export]
macro_rules! root_line {
    ($book:expr, $symbol:ident = $solution:expr; $expression:expr; $($term:ident = $value:expr),+; $source:expr) => {{
        #[allow(unused_imports, reason = "an expression uses the functions that it needs")]
        use $crate::check::functions::*;
        $(#[allow(non_snake_case, reason = "symbols are the field's own")] let $term = $value;)+
        let residual: f64 = $expression;
        $crate::check::Ledger::keep($book, || $crate::check::Line {
            symbol: stringify!($symbol).into(),
            expression: stringify!($expression).into(),
            terms: vec![$($crate::check::Term { symbol: stringify!($term).into(), value: $term.into() }),+],
            value: $solution.into(),
            residual: Some(residual),
            source: $source,
        });
        residual
    }};
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

impl Finding {
    /// Demand against limit; a limit of zero or less passes only a demand of zero or less.
    pub fn compare(demand: impl Into<Quantity>, limit: impl Into<Quantity>) -> Self {
        let (demand, limit) = (demand.into(), limit.into());
        let ratio = if demand.value_si <= 0.0 { 0.0 } else { demand.value_si / limit.value_si };
        // JSON knows neither infinity nor NaN: whatever is no proper ratio is far over the limit.
        let utilisation = if ratio >= 0.0 && ratio.is_finite() { ratio } else { f64::MAX };
        Self::Compared { demand, limit, utilisation, caution: None }
    }

    /// The same, a pass being only a caution.
    #[must_use]
    pub fn with_caution(self, why: impl Into<Text>) -> Self {
        match self {
            Self::Compared { demand, limit, utilisation, .. } => {
                Self::Compared { demand, limit, utilisation, caution: Some(why.into()) }
            }
            other => other,
        }
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

    /// Demand / limit, where there is one.
    pub fn utilisation(&self) -> Option<f64> {
        match self {
            Self::Compared { utilisation, .. } => Some(*utilisation),
            Self::Judged { .. } | Self::NotChecked { .. } => None,
        }
    }
}

/// The name of a check. More may appear.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize, ToSchema)]
#[serde(rename_all = "snake_case")]
pub enum CheckId {
    /// The centre of gravity stays inside the supports.
    Tipping,
    /// The horizontal force was taken into account.
    HorizontalForce,
    /// Level differences between the points were taken into account.
    LevelErrors,
    /// Share against effective area x rated pressure.
    Capacity,
    /// Closed height, plates and entry gap in the clearance.
    ClosedHeight,
    /// Extension needed against usable stroke.
    Stroke,
    /// Rams side by side on the pad.
    Footprint,
    /// Rams needed against rams in the yard.
    Stock,
    /// Elastic stability of the extended ram.
    Stability,
    /// Horizontal force on the ram against its side load limit.
    SideLoad,
    /// Share and stop pressure against the jacking point's own limit.
    JackingPointLimit,
    /// Share against what the foundation may carry.
    FoundationLimit,
    /// The ram can do what is asked: push or pull.
    Action,
    /// What holds the load mechanically.
    Holding,
    /// What happens if a ram loses its oil.
    RamLost,
    /// Pressure at the pump against every part's rating.
    PumpPressure,
    /// Oil needed against usable oil.
    OilVolume,
}

/// The case in which a check is made.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize, ToSchema)]
#[serde(rename_all = "snake_case")]
pub enum Scenario {
    /// Everything as stated, with its tolerances.
    AsPlanned,
    /// The load is heavier than stated.
    LoadHeavier,
    /// One ram loses its oil.
    OneRamLost,
}

/// The phase of the lift in which a check is made.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize, ToSchema)]
#[serde(rename_all = "snake_case")]
pub enum Phase {
    /// The rams are being set up.
    SettingUp,
    /// The rams move the load.
    Raising,
    /// The load stands on collars or packing.
    Holding,
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
        let (demand, limit, missing, note) = match finding {
            Finding::Compared { demand, limit, caution, .. } => (Some(demand), Some(limit), Vec::new(), caution),
            Finding::Judged { note, .. } => (None, None, Vec::new(), Some(note)),
            Finding::NotChecked { missing } => (None, None, missing, None),
        };
        Self {
            id: place.id,
            subject: place.subject.to_owned(),
            scenario: place.scenario,
            phase: place.phase,
            status,
            demand,
            limit,
            utilisation,
            basis: place.id.basis(),
            lines: lines.0,
            missing,
            note,
        }
    }
}

impl CheckId {
    /// The rule in words and its source.
    pub fn basis(self) -> Source {
        match self {
            Self::Tipping => Source::definition(
                "statics: the centre of gravity, with its tolerance and the horizontal force's moment, stays inside the polygon of supports",
            ),
            Self::HorizontalForce => Source::from_memory(
                "a horizontal force of at least 2.5 % of the weight at the centre of gravity (falsework practice)",
            ),
            Self::LevelErrors => Source::definition(
                "more than three independent supports share by their levels; without a level tolerance only the worst equilibrium is safe",
            ),
            Self::Capacity => Source::common_practice(
                "greatest share <= capacity limit x effective area x rated pressure (limit 0.80 is common practice, no source)",
            ),
            Self::ClosedHeight => Source::definition("closed height + plates + entry gap <= clearance"),
            Self::Stroke => Source::common_practice(
                "extension needed <= stroke limit x stroke (limit 0.80 is common practice, no source)",
            ),
            Self::Footprint => Source::definition("ram bases with their spacing fit the pad"),
            Self::Stock => Source::stated("rams needed <= rams in the catalogue"),
            Self::Stability => Source::published(
                "elastic critical load of a two-section column (Timoshenko and Gere, Theory of Elastic Stability, bars with changes in cross-section); factor on it from memory",
            ),
            Self::SideLoad => Source::stated(
                "horizontal force shared equally by the rams <= the ram's own side load limit; tilt of saddle or base is not included",
            ),
            Self::JackingPointLimit => {
                Source::stated("greatest share, and stop pressure x area, <= the limit stated for the jacking point")
            }
            Self::FoundationLimit => {
                Source::stated("greatest share <= the limit stated for the foundation under the point")
            }
            Self::Action => Source::definition("a ram pushes on its full bore and pulls on its annulus"),
            Self::Holding => Source::published(
                "29 CFR 1926.305(d)(1)(i): a raised load is cribbed, blocked or otherwise secured at once; oil alone holds nothing",
            ),
            Self::RamLost => Source::common_practice(
                "the rest carry the load within their capacity, or a mechanical support catches it within the follow-up gap",
            ),
            Self::PumpPressure => {
                Source::definition("pressure at the rams + losses <= rated pressure of pump, hose and ram")
            }
            Self::OilVolume => Source::definition("sum of effective area x extension <= usable oil"),
        }
    }

    /// Whether a verdict cannot be better than `not_checked` without this check; without the others it is at best `caution`.
    pub fn essential(self) -> bool {
        !matches!(self, Self::Stock | Self::RamLost)
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use ramwright_units::{Area, Force, OilPressure};

    #[test]
    fn verify_a_line_prints_what_it_computes() {
        let mut book = Lines::default();
        let capacity = line!(&mut book, Q: Force = p * A; p = OilPressure::from_bar(680.0), A = Area::from_cm2(35.0); Source::definition("pressure x area"));
        assert!((capacity.kn() - 238.0).abs() < 1e-12);
        let line = &book.0[0];
        assert_eq!((line.symbol.as_str(), line.expression.as_str()), ("Q", "p * A"));
        assert_eq!(line.terms.len(), 2);
        assert_eq!(
            line!(&mut NoLines, Q: Force = p * A; p = OilPressure::from_bar(680.0), A = Area::from_cm2(35.0); Source::definition("")),
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
