//! The load while one of its ends stands higher than the other.
//!
//! A tilted body leans its weight to the lower end: its centre of gravity moves by its height times the slope. It turns about
//! the end that stands, so that the points of each end lie on one line and both lines are parallel. One end hangs on its rams,
//! the other stands on its stacks.

use super::sequence::EndByEnd;
use crate::EngineError;
use crate::check::Phase;
use crate::load::{Carrier, LoadCase, LoadShares, PhasePlan, PointShare, Sharing, envelope_alone};
use crate::packing_lift::{PackingSequence, PointsAlike, Step, StepKind, TiltedShare, TiltedState};
use crate::verify::{VerifyInput, enter_shares};
use ramwright_units::{Angle, Force, ForceRange, Length, Range};

/// Enters what the rams of each end carry at the greatest tilt allowed, either way; gives the greatest of one ram.
///
/// # Errors
/// No equilibrium at the expected values.
pub(super) fn enter_tilted(
    input: &VerifyInput,
    by_end: &EndByEnd,
    groups: &mut [PointsAlike],
) -> Result<Force, EngineError> {
    let mut heaviest = Force::ZERO;
    for raised in 0..2 {
        for difference in [by_end.greatest_difference, -1.0 * by_end.greatest_difference] {
            let shares = shares_at(input, by_end, raised, difference)?;
            // Only the end that is raised: nothing rests on the rams of the other, or it has none.
            enter_shares(groups.get_mut(raised..=raised).unwrap_or_default(), &input.set, &shares);
            heaviest = heaviest.max(input.set.heaviest_on_one_ram(&shares));
        }
    }
    Ok(heaviest)
}

/// The shares with one end on its rams, raised above the other by a difference.
fn shares_at(
    input: &VerifyInput,
    by_end: &EndByEnd,
    raised: usize,
    difference: Length,
) -> Result<LoadShares, EngineError> {
    Ok(envelope_alone(&tilted_case(input, by_end, raised, difference))?)
}

fn tilted_case(input: &VerifyInput, by_end: &EndByEnd, raised: usize, difference: Length) -> LoadCase {
    let mut case = input.case.clone();
    let axis = axis(&case, by_end, raised);
    let on_rams = by_end.ends.get(raised);
    let carriers = case
        .points
        .iter()
        .map(|point| if on_rams.is_some_and(|end| end.contains(&point.id)) { Carrier::Ram } else { Carrier::Packing });
    let carriers = carriers.collect();
    if let Sharing::Placed(placed) = &mut case.sharing {
        let plan = PhasePlan::independent(Phase::Raising, case.points.len());
        placed.phases = vec![PhasePlan { carriers, ..plan }];
    }
    if let (Some((span, toward_low)), Sharing::Placed(placed)) = (axis, &mut case.sharing) {
        let lean = placed.centre.z.unwrap_or(Length::ZERO) * (difference / span);
        let shift =
            |range: Range<Length>, by: Length| Range::new(range.least + by, range.expected + by, range.greatest + by);
        placed.centre.x = shift(placed.centre.x, lean * libm::cos(toward_low.rad()));
        placed.centre.y = shift(placed.centre.y, lean * libm::sin(toward_low.rad()));
    }
    case
}

/// Points of one end may lie off its line by this part of the distance between the ends.
const OFF_LINE: f64 = 0.01;

/// Points in plan, in m.
type Plan = Vec<(f64, f64)>;

/// Where both ends bear while one of them is raised, that one on its rams and the other on its stacks; nothing where no
/// positions are known.
fn in_plan(case: &LoadCase, by_end: &EndByEnd, raised: usize) -> Option<[Plan; 2]> {
    let Sharing::Placed(placed) = &case.sharing else { return None };
    let of = |index: usize, end: &[String]| -> Plan {
        let pairs = case.points.iter().zip(&placed.positions).filter(|(point, _)| end.contains(&point.id));
        let bearings = pairs.map(|(point, &at)| if index == raised { at } else { point.packing_at.unwrap_or(at) });
        bearings.map(|(x, y)| (x.m(), y.m())).collect()
    };
    Some([of(0, &by_end.ends[0]), of(1, &by_end.ends[1])])
}

/// The unit vector across the ends, from the first to the second: square to the longer line of points, or from point to point.
fn across([one, other]: &[Plan; 2]) -> Option<(f64, f64)> {
    let long = |d: &(f64, f64)| d.0 * d.0 + d.1 * d.1;
    let lines = [one, other]
        .into_iter()
        .flat_map(|points| points.iter().flat_map(|a| points.iter().map(move |b| (b.0 - a.0, b.1 - a.1))));
    let line = lines.max_by(|a, b| long(a).total_cmp(&long(b)))?;
    let from = one.first()?;
    let to = other.first()?;
    let straight = (to.0 - from.0, to.1 - from.1);
    let square = if 0.0 < long(&line) { (line.1, -line.0) } else { straight };
    let toward = if square.0 * straight.0 + square.1 * straight.1 < 0.0 { -1.0 } else { 1.0 };
    let length = long(&square).sqrt();
    (0.0 < length).then(|| (toward * square.0 / length, toward * square.1 / length))
}

/// Least and greatest of the points of an end along a direction.
fn extent(points: &Plan, direction: (f64, f64)) -> (f64, f64) {
    let along = points.iter().map(|p| p.0 * direction.0 + p.1 * direction.1);
    along.fold((f64::INFINITY, f64::NEG_INFINITY), |all, one| (all.0.min(one), all.1.max(one)))
}

/// Whether a rigid load can be raised at either end while all points of the other keep carrying: what bears at each end lies on
/// a line, and both lines are parallel. True where no positions are known, of which the answer then says so.
pub(super) fn follows(case: &LoadCase, by_end: &EndByEnd) -> bool {
    (0..2).filter_map(|raised| in_plan(case, by_end, raised)).all(|ends| parallel_lines(&ends))
}

fn parallel_lines(ends: &[Plan; 2]) -> bool {
    let Some(across) = across(ends) else { return false };
    let [one, other] = [extent(&ends[0], across), extent(&ends[1], across)];
    let apart = other.0 - one.1;
    let wide = (one.1 - one.0).max(other.1 - other.0);
    0.0 < apart && wide <= OFF_LINE * apart
}

/// The least distance between the ends across them, and the direction from the raised end to the other; nothing where no
/// positions are known.
fn axis(case: &LoadCase, by_end: &EndByEnd, raised: usize) -> Option<(Length, Angle)> {
    let ends = in_plan(case, by_end, raised)?;
    let across = across(&ends)?;
    let apart = extent(&ends[1], across).0 - extent(&ends[0], across).1;
    let toward = if raised == 0 { across } else { (-across.0, -across.1) };
    (0.0 < apart && apart.is_finite())
        .then(|| (Length::from_m(apart), Angle::from_rad(libm::atan2(toward.1, toward.0))))
}

/// Whether it is known how the load leans: where its points are, and how high its centre of gravity.
fn is_known(input: &VerifyInput, by_end: &EndByEnd) -> bool {
    let high = match &input.case.sharing {
        Sharing::Placed(placed) => placed.centre.z.is_some(),
        _ => false,
    };
    high && (0..2).all(|raised| axis(&input.case, by_end, raised).is_some())
}

/// The load at the top of every raise of a sequence; nothing if it is not known how it leans.
///
/// # Errors
/// No equilibrium at the expected values.
pub(super) fn tilted(
    input: &VerifyInput,
    by_end: &EndByEnd,
    sequence: &PackingSequence,
) -> Result<Vec<TiltedState>, EngineError> {
    let mut states = Vec::new();
    if !is_known(input, by_end) {
        return Ok(states);
    }
    for number in 1..=sequence.cycles.unwrap_or(0) {
        let mut steps = sequence.steps.iter().filter(|step| step.cycle == number);
        let Some(top) = steps.rfind(|step| matches!(step.kind, StepKind::Raise | StepKind::AddPiece)) else { continue };
        let Some((raised, difference)) = at_top(by_end, sequence, top) else { continue };
        states.push(state(input, by_end, (number, raised, difference))?);
    }
    Ok(states)
}

/// Which end is raised, and how much higher than the other it then stands.
fn at_top(by_end: &EndByEnd, sequence: &PackingSequence, top: &Step) -> Option<(usize, Length)> {
    let raised = by_end.ends.iter().position(|end| top.points.iter().all(|point| end.contains(point)))?;
    let rise = |end: usize| {
        let (at, group) = (top.at.get(end)?, sequence.groups.get(end)?);
        Some((at.soffit.least - group.packing_clearance, at.soffit.greatest - group.packing_clearance))
    };
    let (mine, other) = (rise(raised)?, rise(1 - raised)?);
    let (most, least) = (mine.1 - other.0, mine.0 - other.1);
    Some((raised, if least.m().abs() <= most.m().abs() { most } else { least }))
}

/// What a point carries, be it by its rams or by its stacks.
fn carried(share: &PointShare) -> ForceRange {
    match share.held {
        Some(held) if share.share.greatest <= Force::ZERO => held,
        _ => share.share,
    }
}

fn state(
    input: &VerifyInput,
    by_end: &EndByEnd,
    (cycle, raised, difference): (u32, usize, Length),
) -> Result<TiltedState, EngineError> {
    let shares = shares_at(input, by_end, raised, difference)?;
    let slope = axis(&input.case, by_end, raised)
        .map_or(Angle::ZERO, |(span, _)| Angle::from_rad(libm::atan((difference / span).abs())));
    let placed = || input.set.at_points.iter().zip(&shares.points);
    let of_one = placed().map(|(placed, share)| {
        let count = f64::from(placed.count);
        let range = carried(share);
        TiltedShare {
            point: share.point.clone(),
            share: Range::new(range.least / count, range.expected / count, range.greatest / count),
        }
    });
    let used = placed().map(|(placed, share)| {
        let capacity = placed.ram.rated_pressure * placed.ram.effective_area * input.settings.capacity_limit;
        carried(share).greatest / f64::from(placed.count) / capacity
    });
    let case = tilted_case(input, by_end, raised, difference);
    let carrying: u32 = input
        .set
        .at_points
        .iter()
        .zip(&case.points)
        .filter(|(_, point)| by_end.ends.get(raised).is_some_and(|end| end.contains(&point.id)))
        .map(|(placed, _)| placed.count)
        .sum();
    Ok(TiltedState {
        cycle,
        raised: by_end.ends.get(raised).cloned().unwrap_or_default(),
        difference,
        slope,
        shares: of_one.collect(),
        ram_utilisation: used.fold(0.0, f64::max),
        sideways_on_one_ram: (case.greatest_horizontal() + case.weight.greatest * libm::sin(slope.rad()))
            / f64::from(carrying.max(1)),
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    fn plan(points: [&[(f64, f64)]; 2]) -> [Plan; 2] {
        points.map(<[(f64, f64)]>::to_vec)
    }

    /// Lines 4 m apart whose middles are 10.8 m apart: the load turns about a line, and so over 4 m.
    #[test]
    fn verify_the_way_across_is_square_to_the_lines() {
        let ends = plan([&[(0.0, 0.0), (0.0, 2.0)], &[(4.0, 10.0), (4.0, 12.0)]]);
        let across = across(&ends).unwrap();
        assert!((across.0 - 1.0).abs() < 1e-12 && across.1.abs() < 1e-12, "{across:?}");
        assert!((extent(&ends[1], across).0 - extent(&ends[0], across).1 - 4.0).abs() < 1e-12);
    }

    #[test]
    fn verify_one_point_against_two_and_one_against_one() {
        let apart = |ends: &[Plan; 2]| {
            let across = across(ends).unwrap();
            extent(&ends[1], across).0 - extent(&ends[0], across).1
        };
        assert!((apart(&plan([&[(3.0, 5.0)], &[(0.0, 0.0), (0.0, 2.0)]])) - 3.0).abs() < 1e-12);
        assert!((apart(&plan([&[(0.0, 0.0)], &[(3.0, 4.0)]])) - 5.0).abs() < 1e-12);
    }
}
