//! What a plan costs: what it hires, the hours of its crew, the timber in its stacks.

use super::PlanInput;
use crate::catalogue::{Packing, PackingMaterial};
use crate::circuit::{BillItem, CircuitAssessment};
use crate::feed::{CircuitChoice, duration};
use crate::load::Task;
use crate::packing_lift::PackingSequence;
use crate::price::{Estimate, HireItem, ItemKind, PriceJob, estimate};
use crate::verify::{RamSet, Verification};

/// The estimate of a plan that uses this set.
///
/// # Source
/// See the estimate.
///
/// # Validity
/// Packing, hours and timber are those of the sequence; hoses those of the bill of the circuit.
pub(super) fn price(
    input: &PlanInput,
    set: &RamSet,
    verification: &Verification,
    circuit: Option<&(CircuitAssessment, CircuitChoice)>,
) -> Estimate {
    let found = verification.sequence.as_ref().filter(|sequence| sequence.cycles.is_some());
    let packing = &input.search.packing;
    let mut items = rams(set);
    let assessment = circuit.map(|(assessment, _)| assessment);
    let choice = circuit.map(|(_, choice)| choice).or(input.circuit.as_ref());
    items.extend(choice.into_iter().flat_map(|choice| of_circuit(choice, assessment)));
    items.extend(found.into_iter().flat_map(|sequence| pieces(sequence, packing)));
    let volume = found.map_or(0.0, |sequence| timber_volume_m3(sequence, packing));
    estimate(
        &input.search.price,
        &PriceJob {
            items: &items,
            working_hours: found
                .and_then(|sequence| duration(sequence, circuit.map(|(assessment, _)| assessment)))
                .map(|time| time.s() / 3600.0),
            timber_volume_m3: volume,
            timber_known: found.is_some() || input.search.case.task != Task::Raise,
            currency: &input.search.currency,
        },
    )
}

/// The rams, each model once.
fn rams(set: &RamSet) -> Vec<HireItem<'_>> {
    let mut items: Vec<HireItem<'_>> = Vec::new();
    for placed in &set.at_points {
        let ram = &placed.ram;
        match items.iter_mut().find(|item| item.id == ram.id) {
            Some(item) => item.count = item.count.saturating_add(placed.count),
            None => items.push(HireItem {
                what: ItemKind::Ram,
                id: &ram.id,
                count: placed.count,
                day_rate: ram.day_rate,
                week_rate: ram.week_rate,
            }),
        }
    }
    items
}

/// The pumps, and the hoses that the bill counts.
fn of_circuit<'a>(
    choice: &'a CircuitChoice,
    assessment: Option<&CircuitAssessment>,
) -> impl Iterator<Item = HireItem<'a>> + use<'a> {
    let pump = &choice.pump;
    let pumps = HireItem {
        what: ItemKind::Pump,
        id: &pump.id,
        count: choice.pumps,
        day_rate: pump.day_rate,
        week_rate: pump.week_rate,
    };
    let bill = assessment.into_iter().flat_map(|circuit| &circuit.bill);
    let count = bill.filter(|row| row.item == BillItem::Hose).map(|row| row.total).sum();
    let hoses = choice.hose.as_ref().map(|hose| HireItem {
        what: ItemKind::Hose,
        id: &hose.id,
        count,
        day_rate: hose.day_rate,
        week_rate: hose.week_rate,
    });
    std::iter::once(pumps).chain(hoses)
}

/// Pieces of the yard with how many of each the sequence needs.
fn counted<'a>(
    sequence: &'a PackingSequence,
    packing: &'a [Packing],
) -> impl Iterator<Item = (&'a Packing, u32)> + use<'a> {
    let of = |id: &str| packing.iter().find(|piece| piece.id == id);
    sequence.pieces.iter().filter_map(move |needed| Some((of(&needed.piece)?, needed.count)))
}

fn pieces<'a>(sequence: &'a PackingSequence, packing: &'a [Packing]) -> impl Iterator<Item = HireItem<'a>> + use<'a> {
    counted(sequence, packing).map(|(piece, count)| HireItem {
        what: ItemKind::Packing,
        id: &piece.id,
        count,
        day_rate: piece.day_rate,
        week_rate: piece.week_rate,
    })
}

/// Timber in the pieces needed, in m3; of a crib layer its members only.
fn timber_volume_m3(sequence: &PackingSequence, packing: &[Packing]) -> f64 {
    let timber = counted(sequence, packing).filter(|(piece, _)| piece.material != PackingMaterial::Steel);
    timber
        .map(|(piece, count)| {
            let wide = match (piece.members, piece.member_width) {
                (Some(members), Some(width)) => width.m() * f64::from(members),
                _ => piece.width.m(),
            };
            piece.length.m() * wide * piece.thickness.m() * f64::from(count)
        })
        .sum()
}
