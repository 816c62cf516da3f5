//! Where points and supports are in plan.

use crate::Subject;
use ramwright_engine::load::{PhaseShares, Placed, Sharing, SupportKind, SupportShare};
use ramwright_units::Length;

/// A place in plan, in mm.
pub(super) type Place = (f64, f64);

/// The positions of a load case, if it has any.
pub(super) fn placed<'a>(subject: &Subject<'a>) -> Option<&'a Placed> {
    match &subject.case.sharing {
        Sharing::Placed(placed) => Some(placed),
        Sharing::Equal | Sharing::Stated(_) => None,
    }
}

pub(super) fn in_mm((x, y): (Length, Length)) -> Place {
    (x.mm(), y.mm())
}

/// The phase to show: the one nearest to tipping, else the first.
pub(super) fn phase_shown<'a>(subject: &Subject<'a>) -> Option<&'a PhaseShares> {
    let phases = &subject.load_shares()?.phases;
    let margin = |phase: &PhaseShares| phase.tipping.as_ref().map_or(f64::INFINITY, |tipping| tipping.margin.mm());
    phases.iter().reduce(|nearest, phase| if margin(phase) < margin(nearest) { phase } else { nearest })
}

/// Where a support stands; nothing if its points have no place.
pub(super) fn of_support(subject: &Subject<'_>, support: &SupportShare) -> Option<Place> {
    let placed = placed(subject)?;
    if support.kind == SupportKind::OwnBearing {
        let own = placed.phases.iter().flat_map(|plan| &plan.own_bearings).find(|own| own.id == support.support)?;
        return Some(in_mm((own.x, own.y)));
    }
    let mut sum = (0.0, 0.0, 0.0);
    for id in &support.points {
        let index = subject.case.points.iter().position(|point| point.id == *id)?;
        let point = subject.case.points.get(index)?;
        let elsewhere = point.packing_at.filter(|_| support.kind == SupportKind::Packing);
        let (x, y) = in_mm(elsewhere.or_else(|| placed.positions.get(index).copied())?);
        // Linked rams act at the centroid of their areas.
        let area = point.ram_area.map_or(1.0, ramwright_units::Area::cm2);
        sum = (sum.0 + x * area, sum.1 + y * area, sum.2 + area);
    }
    (0.0 < sum.2).then(|| (sum.0 / sum.2, sum.1 / sum.2))
}

/// The corners of the smallest polygon around some places, against the clock (Andrew's monotone chain).
pub(super) fn hull(places: &[Place]) -> Vec<Place> {
    let mut sorted = places.to_vec();
    sorted.sort_by(|a, b| a.0.total_cmp(&b.0).then(a.1.total_cmp(&b.1)));
    sorted.dedup();
    if sorted.len() < 3 {
        return sorted;
    }
    let mut corners = half_hull(sorted.iter().copied());
    let mut upper = half_hull(sorted.iter().rev().copied());
    corners.pop();
    upper.pop();
    corners.extend(upper);
    corners
}

fn half_hull(places: impl Iterator<Item = Place>) -> Vec<Place> {
    let mut chain: Vec<Place> = Vec::new();
    for next in places {
        while let [.., a, b] = chain.as_slice() {
            if 0.0 < (b.0 - a.0) * (next.1 - a.1) - (b.1 - a.1) * (next.0 - a.0) {
                break;
            }
            chain.pop();
        }
        chain.push(next);
    }
    chain
}

/// Least and greatest of x and y.
pub(super) fn extent(places: &[Place]) -> Option<(Place, Place)> {
    let first = *places.first()?;
    let grown =
        |((x1, y1), (x2, y2)): (Place, Place), (x, y): &Place| ((x1.min(*x), y1.min(*y)), (x2.max(*x), y2.max(*y)));
    Some(places.iter().fold((first, first), grown))
}
