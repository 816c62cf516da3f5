//! Every check with what it rests on: the one list that verification, `GET /v1/basis` and the documentation read.

mod circuit;
mod load;
mod ram;
mod set;
mod site;
mod support;

use super::{CheckId, Source};
use crate::text::Text;
use serde::{Deserialize, Serialize};
use utoipa::ToSchema;

/// What a verdict makes of a check that could not be made.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize, ToSchema)]
#[serde(rename_all = "snake_case")]
pub enum VerdictWeight {
    /// The verdict cannot be better than `not_checked` without it.
    Essential,
    /// The verdict is at best `caution` without it.
    Supplementary,
}

/// What the utilisation of a check says.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize, ToSchema)]
#[serde(rename_all = "snake_case")]
pub enum Measures {
    /// How hard something is worked: it counts when the governing check is chosen.
    Load,
    /// How much room, stroke or stock is used: a full yard or a snug fit is not hard worked.
    Room,
}

/// One check as it is listed.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, ToSchema)]
pub struct BasisEntry {
    /// Which check.
    pub id: CheckId,
    /// What it asks, in words.
    pub title: Text,
    /// The formula or rule.
    pub formula: Text,
    /// Where it comes from.
    pub source: Source,
    /// Where it holds.
    pub validity: Text,
    /// The published value it is tested with and where that is from; for a plain definition, by which arithmetic it is tested.
    pub tested_with: Text,
    /// The test that holds it to that value.
    pub test: Text,
    /// What a verdict makes of it where it could not be made.
    pub weight: VerdictWeight,
    /// What its utilisation says.
    pub measures: Measures,
}

/// The fields of an entry beside its id.
pub(super) struct Entry {
    title: &'static str,
    formula: &'static str,
    source: Source,
    validity: &'static str,
    tested_with: &'static str,
    test: &'static str,
    weight: VerdictWeight,
    measures: Measures,
}

impl Entry {
    /// An essential check of how hard something is worked.
    const fn new(title: &'static str, formula: &'static str, source: Source, validity: &'static str) -> Self {
        Self {
            title,
            formula,
            source,
            validity,
            tested_with: "",
            test: "",
            weight: VerdictWeight::Essential,
            measures: Measures::Load,
        }
    }

    /// The published value and the test that holds it.
    fn tested(self, tested_with: &'static str, test: &'static str) -> Self {
        Self { tested_with, test, ..self }
    }

    /// A check without which a verdict is at best a caution.
    fn supplementary(self) -> Self {
        Self { weight: VerdictWeight::Supplementary, ..self }
    }

    /// A check whose utilisation is one of room.
    fn of_room(self) -> Self {
        Self { measures: Measures::Room, ..self }
    }
}

impl CheckId {
    /// Every check, in the order of the list.
    pub const ALL: &'static [Self] = &[
        Self::Tipping,
        Self::HorizontalForce,
        Self::LevelErrors,
        Self::Tolerances,
        Self::Contact,
        Self::Phases,
        Self::Weighing,
        Self::HubBore,
        Self::Settings,
        Self::Capacity,
        Self::ClosedHeight,
        Self::Stroke,
        Self::Footprint,
        Self::Stock,
        Self::Budget,
        Self::Stability,
        Self::Stress,
        Self::SideLoad,
        Self::Action,
        Self::SaddleAngle,
        Self::SaddleOffCentre,
        Self::CollarRelease,
        Self::WarmOil,
        Self::ReturnLine,
        Self::Handling,
        Self::SoffitBearing,
        Self::HeadPlate,
        Self::JackingPointLimit,
        Self::BasePlate,
        Self::StackBearing,
        Self::StackHeight,
        Self::StackOverhang,
        Self::StackPlumb,
        Self::Settlement,
        Self::FoundationBearing,
        Self::Punching,
        Self::GroundPressure,
        Self::FoundationLimit,
        Self::Sideways,
        Self::Restraint,
        Self::Holding,
        Self::RamLost,
        Self::PointLost,
        Self::PumpPressure,
        Self::ReliefSetting,
        Self::OilVolume,
        Self::OilReturn,
        Self::LevelControl,
        Self::SiteReading,
        Self::SiteLevels,
        Self::SiteWeight,
    ];

    fn entry(self) -> Entry {
        load::entry(self)
            .or_else(|| set::entry(self))
            .or_else(|| site::entry(self))
            .or_else(|| circuit::entry(self))
            .or_else(|| ram::entry(self))
            .unwrap_or_else(|| support::entry(self))
    }

    /// The check as it is listed.
    pub fn listed(self) -> BasisEntry {
        let entry = self.entry();
        BasisEntry {
            id: self,
            title: entry.title.into(),
            formula: entry.formula.into(),
            source: entry.source,
            validity: entry.validity.into(),
            tested_with: entry.tested_with.into(),
            test: entry.test.into(),
            weight: entry.weight,
            measures: entry.measures,
        }
    }

    /// The rule and its source.
    pub fn basis(self) -> Source {
        self.entry().source
    }

    /// Whether its utilisation says how hard something is worked.
    pub fn measures_load(self) -> bool {
        self.entry().measures == Measures::Load
    }

    /// Whether it is a check of what was read on site.
    pub(crate) fn on_site(self) -> bool {
        matches!(self, Self::SiteReading | Self::SiteLevels | Self::SiteWeight)
    }

    /// Whether a verdict cannot be better than `not_checked` without this check; without the others it is at best `caution`.
    pub fn essential(self) -> bool {
        self.entry().weight == VerdictWeight::Essential
    }
}

/// Every check with formula, source, validity and the value it is tested with.
///
/// # Source
/// Each entry names its own.
///
/// # Validity
/// A list; nothing is computed.
pub fn basis() -> Vec<BasisEntry> {
    CheckId::ALL.iter().map(|id| id.listed()).collect()
}
