//! What hangs on each ram, counted. Common practice, no source.

use super::input::CircuitInput;
use crate::ram::Action;
use serde::{Deserialize, Serialize};
use utoipa::ToSchema;

/// A thing that is needed beside the rams.
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
    /// A manifold with a valve for each ram, where the pumps have too few outlets.
    Manifold,
    /// A pump, with a relief valve and a gauge of its own.
    Pump,
}

/// One row of the bill.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize, ToSchema)]
pub struct BillRow {
    /// What.
    pub item: BillItem,
    /// How many for each ram; none of what serves all rams together.
    pub per_ram: u32,
    /// How many for all rams.
    pub total: u32,
}

/// The bill: one valve, gauge and needle valve for each ram; hoses in series with a joint at every end.
/// A double-acting ram has a second run of hoses, for the oil that comes back. A manifold for each run where the pumps are
/// not known to have an outlet for each ram.
pub(super) fn bill(input: &CircuitInput) -> Vec<BillRow> {
    let rams = input.points.iter().fold(0_u32, |sum, point| sum.saturating_add(point.rams));
    let runs = match input.ram.action {
        Action::DoubleActing => 2,
        Action::SingleActingLoadReturn | Action::SingleActingSpringReturn => 1_u32,
    };
    let joints = input.hose_count_in_series.saturating_add(1);
    let outlets = input.pump.outlets.map_or(input.pumps, |outlets| outlets.saturating_mul(input.pumps));
    let manifold = (outlets < rams).then_some(BillRow { item: BillItem::Manifold, per_ram: 0, total: runs });
    let at_rams = [
        (BillItem::LoadHoldingValve, 1),
        (BillItem::Gauge, 1),
        (BillItem::NeedleValve, 1),
        (BillItem::Hose, runs.saturating_mul(input.hose_count_in_series)),
        (BillItem::CouplerPair, runs.saturating_mul(joints)),
    ]
    .into_iter()
    .map(|(item, per_ram)| BillRow { item, per_ram, total: rams.saturating_mul(per_ram) });
    let pumps = BillRow { item: BillItem::Pump, per_ram: 0, total: input.pumps };
    at_rams.chain(manifold).chain([pumps]).collect()
}
