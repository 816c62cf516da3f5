//! What hangs on each ram, counted. Common practice, no source.

use super::model::CircuitInput;
use crate::ram::Action;
use serde::{Deserialize, Serialize};
use utoipa::ToSchema;

/// A thing that is needed beside rams and pumps.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize, ToSchema)]
#[serde(rename_all = "snake_case")]
pub enum BillItem {
    /// A valve at the ram that keeps its oil in if a hose fails.
    LoadHoldingValve,
    /// A pressure gauge at the ram.
    Gauge,
    /// A needle valve, to lower slowly and to shut the gauge off.
    NeedleValve,
    /// A hose.
    Hose,
    /// A pair of couplers, one joint.
    CouplerPair,
}

/// One row of the bill.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize, ToSchema)]
pub struct BillRow {
    /// What.
    pub item: BillItem,
    /// How many for each ram.
    pub per_ram: u32,
    /// How many for all rams.
    pub total: u32,
}

/// The bill: one valve, gauge and needle valve for each ram; hoses in series with a joint at every end.
/// A double-acting ram has a second run of hoses, for the oil that comes back.
pub(super) fn bill(input: &CircuitInput) -> Vec<BillRow> {
    let rams = input.points.iter().fold(0_u32, |sum, point| sum.saturating_add(point.rams));
    let runs = match input.ram.action {
        Action::DoubleActing => 2,
        Action::SingleActingLoadReturn | Action::SingleActingSpringReturn => 1_u32,
    };
    let joints = input.hose_count_in_series.saturating_add(1);
    [
        (BillItem::LoadHoldingValve, 1),
        (BillItem::Gauge, 1),
        (BillItem::NeedleValve, 1),
        (BillItem::Hose, runs.saturating_mul(input.hose_count_in_series)),
        (BillItem::CouplerPair, runs.saturating_mul(joints)),
    ]
    .into_iter()
    .map(|(item, per_ram)| BillRow { item, per_ram, total: rams.saturating_mul(per_ram) })
    .collect()
}
