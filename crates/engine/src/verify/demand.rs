//! What presses on the stacks at all points together: the planner gives every point the same stacks.

use super::line::{BASE, HOLDING, foot_holds, off_centre_under, on_the_head};
use super::station::{Context, Reserve, Station};
use crate::load::LoadShares;
use crate::packing_lift::{Pressed, StackDemand};
use crate::support::Face;
use crate::support::stack::{OffCentre, Stack};
use ramwright_units::{Force, Length};

/// The worst of every point. What is not known at a point rules nothing out there.
pub(crate) fn stack_demand<'a>(context: Context<'a>, shares: &LoadShares) -> StackDemand<'a> {
    let stations: Vec<Station<'_>> = context.stations(shares, Reserve::Ordinary).collect();
    let mut heads: Vec<Face> = Vec::new();
    for (face, _) in stations.iter().filter_map(|station| on_the_head(station, BASE).ok().flatten()) {
        if !heads.contains(&face) {
            heads.push(face);
        }
    }
    // Under a ram as far extended as it may be: the plan that says how far is still to be made.
    let under_a_ram = |station: &Station<'_>| Some(context.settings.stroke_limit.usable(station.ram.stroke));
    let base = |station: &Station<'_>| {
        let least = station.shares.least / f64::from(station.count);
        pressed(station, under_a_ram(station), (least, station.share_of_one() * station.stop_factor()))
    };
    let holding = |station: &Station<'_>| {
        let (on, count) = (station.on_stacks(), f64::from(station.count));
        pressed(station, None, (on.least / count, on.greatest / count))
    };
    let (base_feet, weak_feet) = feet(context, &stations, &base, &holding);
    StackDemand {
        base_feet,
        weak_feet,
        basis: context.line.basis.as_ref(),
        on_base: stations.iter().map(base).fold(Pressed::default(), worse),
        on_holding: stations.iter().map(holding).fold(Pressed::default(), worse),
        heads,
        contacts_loaded: stations.iter().filter_map(|station| station.links.contacts_loaded).min(),
    }
}

/// Pieces of which one must stand under each ram, none if the foundation carries the ram itself; and pieces that it does not
/// carry under the load.
fn feet(
    context: Context<'_>,
    stations: &[Station<'_>],
    base: &dyn Fn(&Station<'_>) -> Pressed,
    holding: &dyn Fn(&Station<'_>) -> Pressed,
) -> (Option<Vec<String>>, Vec<String>) {
    if stations.iter().all(|station| station.links.foundation.is_none()) {
        return (None, Vec::new());
    }
    // As far off the middle as at the foot of a stack as high as the travel.
    let holds = |which, of: &dyn Fn(&Station<'_>) -> Pressed, stack: &Stack<'_>| {
        stations.iter().all(|station| {
            let Pressed { force, off, .. } = of(station);
            let off = OffCentre { at_head: off.at(context.case.travel), per_height: 0.0 };
            foot_holds(station, which, (force, off), stack)
        })
    };
    let pieces = || context.packing.iter();
    let bare = holds(BASE, base, &Stack::in_order(&[]));
    let base_feet = (!bare).then(|| {
        let wide = pieces().filter(|piece| holds(BASE, base, &Stack::in_order(&[piece])));
        wide.map(|piece| piece.id.clone()).collect()
    });
    let weak = pieces().filter(|piece| !holds(HOLDING, holding, &Stack::in_order(&[piece])));
    (base_feet, weak.map(|piece| piece.id.clone()).collect())
}

fn pressed(station: &Station<'_>, extension: Option<Length>, (least, greatest): (Force, Force)) -> Pressed {
    // Plumb is checked where both are stated; a stack that nothing may press is for that check alone: no stack would do.
    let stated = station.links.lean.is_some() && station.links.off_centre.is_some();
    let steady = stated && (Force::ZERO < least || station.line.holds_tight());
    Pressed {
        force: greatest,
        off: off_centre_under(station, extension, greatest),
        plumb: if steady { off_centre_under(station, extension, least) } else { OffCentre::NONE },
    }
}

fn worse(one: Pressed, other: Pressed) -> Pressed {
    let farther = |a: OffCentre, b: OffCentre| OffCentre {
        at_head: a.at_head.max(b.at_head),
        per_height: a.per_height.max(b.per_height),
    };
    Pressed {
        force: one.force.max(other.force),
        off: farther(one.off, other.off),
        plumb: farther(one.plumb, other.plumb),
    }
}
