//! The rams of a request, with their ids resolved.

use super::case_wire::LoadCaseSent;
use super::context::{Context, Yard, entry};
use super::wire::{RamSetSent, RamsAtPointSent};
use crate::problem::FaultCode;
use crate::read::Pointer;
use crate::sent::{Name, Number, RamsAtPoint};
use ramwright_engine::load::point_order;
use ramwright_engine::ram::Ram;
use ramwright_engine::verify::{PlacedRams, RamSet};

/// The rams in the order of the points. `case` may be missing where it could not be read; ids are resolved all the same.
pub(crate) fn parse_set(
    sent: &RamSetSent,
    case: Option<&LoadCaseSent>,
    yard: &Yard,
    context: &mut Context<'_>,
) -> Option<RamSet> {
    let at = Pointer::default().field("ram_set");
    match (&sent.everywhere, &sent.at_points) {
        (Some(everywhere), None) => {
            let rams = &yard.catalogue.rams;
            let ram = entry(rams, &everywhere.ram.0, "ram", &at.field("everywhere").field("ram"), &mut context.faults)?;
            Some(RamSet::everywhere(ram, count(everywhere.count.as_ref()), case?.points.0.len()))
        }
        (None, Some(at_points)) => by_point(&at_points.0, case, yard, &at.field("at_points"), context),
        (Some(_), Some(_)) => {
            context.inconsistent(&at, "`everywhere` and `at_points` are both given", "give one of them");
            None
        }
        (None, None) => {
            context.inconsistent(&at, "neither `everywhere` nor `at_points` is given", "give one of them");
            None
        }
    }
}

fn count(sent: Option<&RamsAtPoint>) -> u32 {
    sent.map_or(1, Number::count)
}

fn by_point(
    sent: &[RamsAtPointSent],
    case: Option<&LoadCaseSent>,
    yard: &Yard,
    at: &Pointer,
    context: &mut Context<'_>,
) -> Option<RamSet> {
    let mut placed: Vec<(&str, PlacedRams)> = Vec::new();
    for (index, rams) in sent.iter().enumerate() {
        let here = at.item(index);
        if sent.iter().take(index).any(|earlier| earlier.point == rams.point) {
            let detail = format!("the point `{}` is given twice", rams.point.0);
            context.faults.push(here.field("point").fault(FaultCode::DuplicateId, detail));
        }
        let ids: Option<Vec<&str>> = case.map(|case| case.points.0.iter().map(|point| point.id.0.as_str()).collect());
        if let Some(ids) = ids.filter(|ids| !ids.contains(&rams.point.0.as_str())) {
            let near = crate::read::nearest(&rams.point.0, ids.into_iter());
            let fault = here
                .field("point")
                .fault(FaultCode::UnknownId, format!("the load case has no point `{}`", rams.point.0));
            context.faults.push(fault.with_given(rams.point.0.as_str()).with_nearest(near));
        }
        let ram = entry(&yard.catalogue.rams, &rams.ram.0, "ram", &here.field("ram"), &mut context.faults);
        if let Some(ram) = ram {
            placed.push((&rams.point.0, PlacedRams { ram: ram.clone().into(), count: count(rams.count.as_ref()) }));
        }
    }
    let case = case?;
    for point in &case.points.0 {
        if !sent.iter().any(|rams| rams.point == point.id) {
            context.inconsistent(
                at,
                format!("no rams are given for the point `{}`", point.id.0),
                "name every point once",
            );
        }
    }
    placed.sort_by(|a, b| point_order(a.0, b.0));
    (placed.len() == case.points.0.len())
        .then(|| RamSet { at_points: placed.into_iter().map(|(_, rams)| rams).collect() })
}

/// Faults for chosen packing pieces that the yard does not have.
pub(crate) fn known_pieces(ids: &[Name], yard: &Yard, context: &mut Context<'_>) {
    let at = Pointer::default().field("settings").field("packing");
    for (index, id) in ids.iter().enumerate() {
        entry(&yard.catalogue.packing, &id.0, "packing piece", &at.item(index), &mut context.faults);
    }
}

/// The one model of a set, or a fault where an operation needs one.
pub(crate) fn single_model(set: &RamSet, context: &mut Context<'_>) -> Option<Ram> {
    let model = set.single_model().cloned();
    if model.is_none() {
        let at = Pointer::default().field("ram_set").field("at_points");
        context.inconsistent(&at, "this operation takes one model of ram at every point", "use one ram id throughout");
    }
    model
}
