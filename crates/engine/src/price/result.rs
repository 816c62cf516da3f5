//! An estimate as it is answered.

use super::hire::ItemKind;
use crate::catalogue::Money;
use crate::text::Text;
use serde::{Deserialize, Serialize};
use utoipa::ToSchema;

/// What a row of an estimate is for, in the order of the rows.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize, ToSchema)]
#[serde(rename_all = "snake_case")]
pub enum PriceItem {
    /// Hire of rams.
    RamHire,
    /// Hire of pumps.
    PumpHire,
    /// Hire of hoses.
    HoseHire,
    /// Hire of packing pieces.
    PackingHire,
    /// Bringing everything to the site.
    Mobilisation,
    /// Taking everything back.
    ReturnTransport,
    /// Hours of the crew.
    Crew,
    /// Crane, lift truck and the like.
    HandlingPlant,
    /// Spares for rams and pumps.
    Spares,
    /// Timber that is written off.
    TimberConsumed,
    /// Days on which everything stands by.
    Standby,
}

impl From<ItemKind> for PriceItem {
    fn from(what: ItemKind) -> Self {
        match what {
            ItemKind::Ram => Self::RamHire,
            ItemKind::Pump => Self::PumpHire,
            ItemKind::Hose => Self::HoseHire,
            ItemKind::Packing => Self::PackingHire,
        }
    }
}

/// What the quantity of a row counts.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize, ToSchema)]
#[serde(rename_all = "snake_case")]
pub enum PriceUnit {
    /// Things, each for the whole hire.
    Piece,
    /// A sum as a whole.
    LumpSum,
    /// Hours of one person.
    PersonHour,
    /// Days.
    Day,
    /// A share of the amount that is the unit rate.
    Share,
    /// Cubic metres of timber.
    CubicMetre,
}

/// A row of an estimate: quantity x unit rate = amount.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, ToSchema)]
pub struct PriceRow {
    /// What it is for.
    pub item: PriceItem,
    /// The id of what is hired, in the catalogue.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub id: Option<String>,
    /// The row in words: at which rates, for how long.
    pub text: Text,
    /// How much of it.
    pub quantity: f64,
    /// What the quantity counts.
    pub unit: PriceUnit,
    /// What one unit costs, not rounded.
    pub unit_rate: Money,
    /// Quantity x unit rate, rounded half up to 0.01.
    pub amount: Money,
}

/// Something that the estimate leaves out.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, ToSchema)]
pub struct NotPriced {
    /// What it is.
    pub item: PriceItem,
    /// The id of what is hired, in the catalogue.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub id: Option<String>,
    /// Why it has no price.
    pub text: Text,
    /// The field of the request that would price it, as a JSON Pointer without the leading `#/`; absent where that takes more than one field
    /// or another catalogue, as the text says.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub field: Option<Text>,
}

/// What a job costs by the rates that are stated. It is no offer: whatever is listed as not priced comes on top.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, ToSchema)]
pub struct Estimate {
    /// Days for which everything is hired and the handling plant is on site.
    pub hire_days: u32,
    /// Days that are charged for what is hired: at least the minimum hire.
    pub days: u32,
    /// Days in a hire week.
    pub week_days: u32,
    /// What is priced, in the order of the items and then of the ids.
    pub rows: Vec<PriceRow>,
    /// The sum of the rows; absent where there is none, or where it is too great to be told to the cent.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub total: Option<Money>,
    /// How it is rounded.
    pub rounding: Text,
    /// What is not in the total, in the same order.
    pub not_priced: Vec<NotPriced>,
}
