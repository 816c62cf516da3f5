//! Pumps and hoses needed against those in the yard.

use super::bill::{BillItem, bill};
use super::input::CircuitInput;
use super::model::Part;
use crate::check::{Check, CheckId, Finding, Lines, Phase, Place, Scenario};

/// How many hoses the circuit takes, all runs together.
///
/// # Source
/// The bill.
///
/// # Validity
/// Any circuit.
pub(crate) fn hoses_needed(input: &CircuitInput) -> u32 {
    bill(input).iter().filter(|row| row.item == BillItem::Hose).map(|row| row.total).sum()
}

/// Pumps and hoses needed against those of the catalogue; of a circuit without a hose only the pumps.
///
/// # Source
/// Stock as the catalogue states it.
///
/// # Validity
/// Any circuit.
pub(crate) fn stock_checks(input: &CircuitInput) -> Vec<Check> {
    let pumps = (Part::Pump, input.pumps, input.pump.stock, format!("pumps/{}/stock", input.pump.id));
    let hoses = input
        .hose
        .as_ref()
        .map(|hose| (Part::Hose, hoses_needed(input), hose.stock, format!("hoses/{}/stock", hose.id)));
    std::iter::once(pumps)
        .chain(hoses)
        .map(|(part, needed, stock, missing)| {
            let finding = match stock {
                Some(stock) => Finding::compare(f64::from(needed), f64::from(stock))
                    .with_remedy(|| format!("{} more of them", needed.saturating_sub(stock))),
                None => Finding::missing([missing]),
            };
            let place = Place {
                id: CheckId::Stock,
                subject: part.name(),
                scenario: Scenario::AsPlanned,
                phase: Phase::SettingUp,
            };
            Check::new(&place, finding, Lines::default())
        })
        .collect()
}
