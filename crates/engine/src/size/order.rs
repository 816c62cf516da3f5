//! The order in which checks refuse.

use crate::check::CheckId;

/// The cheap ones first; what needs the packing-lift sequence after them; scenarios, and the circuit, last.
const ORDER: [CheckId; 21] = [
    CheckId::Capacity,
    CheckId::ClosedHeight,
    CheckId::Footprint,
    CheckId::Stock,
    CheckId::SideLoad,
    CheckId::JackingPointLimit,
    CheckId::FoundationLimit,
    CheckId::Action,
    CheckId::Handling,
    CheckId::Budget,
    CheckId::Stroke,
    CheckId::Stability,
    CheckId::Holding,
    CheckId::Stress,
    CheckId::StackBearing,
    CheckId::FoundationBearing,
    CheckId::GroundPressure,
    CheckId::RamLost,
    CheckId::PointLost,
    CheckId::PumpPressure,
    CheckId::OilVolume,
];

/// The place of a check in that order; those that are not in it stand before the scenarios.
pub(super) fn place_of(id: CheckId) -> usize {
    const OTHERS: usize = 17;
    match ORDER.iter().position(|known| *known == id) {
        Some(place) if place < OTHERS => place,
        Some(place) => place + 1,
        None => OTHERS,
    }
}
