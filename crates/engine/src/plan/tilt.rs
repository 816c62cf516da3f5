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
            enter_shares(groups, &input.set, &shares);
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

/// Whether a rigid load can be raised at one end while all points of the other keep carrying: the points of each end lie on a
/// line, and both lines are parallel. True where no positions are known, of which the answer then says so.
pub(super) fn follows(case: &LoadCase, by_end: &EndByEnd) -> bool {
    let Sharing::Placed(placed) = &case.sharing else { return true };
    let of = |end: &[String]| -> Vec<(f64, f64)> {
        let pairs = case.points.iter().zip(&placed.positions).filter(|(point, _)| end.contains(&point.id));
        pairs.map(|(_, (x, y))| (x.m(), y.m())).collect()
    };
    let [one, other] = [of(&by_end.ends[0]), of(&by_end.ends[1])];
    // The direction of the longer line is that of both.
    let far = |points: &[(f64, f64)]| {
        let pairs = points.iter().flat_map(|a| points.iter().map(move |b| (b.0 - a.0, b.1 - a.1)));
        pairs.max_by(|a, b| (a.0 * a.0 + a.1 * a.1).total_cmp(&(b.0 * b.0 + b.1 * b.1)))
    };
    let (Some(a), Some(b)) = (far(&one), far(&other)) else { return false };
    let (dx, dy) = if a.0 * a.0 + a.1 * a.1 < b.0 * b.0 + b.1 * b.1 { b } else { a };
    let long = (dx * dx + dy * dy).sqrt();
    if long <= 0.0 {
        return true;
    }
    let off = |p: &(f64, f64)| (p.0 * dy - p.1 * dx) / long;
    let range = |points: &[(f64, f64)]| {
        let offs = points.iter().map(off);
        offs.fold((f64::INFINITY, f64::NEG_INFINITY), |all, off| (all.0.min(off), all.1.max(off)))
    };
    let (near, away) = (range(&one), range(&other));
    let apart = (away.0 - near.1).max(near.0 - away.1);
    let wide = (near.1 - near.0).max(away.1 - away.0);
    0.0 < apart && wide <= OFF_LINE * apart
}

/// The least distance between the ends along the line through their middles, and the direction of that line away from the
/// raised end; nothing where no positions are known.
fn axis(case: &LoadCase, by_end: &EndByEnd, raised: usize) -> Option<(Length, Angle)> {
    let Sharing::Placed(placed) = &case.sharing else { return None };
    let of = |end: &[String]| -> Vec<(f64, f64)> {
        let pairs = case.points.iter().zip(&placed.positions).filter(|(point, _)| end.contains(&point.id));
        pairs.map(|(_, (x, y))| (x.m(), y.m())).collect()
    };
    let (mine, other) = (of(by_end.ends.get(raised)?), of(by_end.ends.get(1 - raised.min(1))?));
    let middle = |at: &[(f64, f64)]| {
        #[expect(clippy::cast_precision_loss, reason = "a number of points is far below 2^53")]
        let count = at.len().max(1) as f64;
        (at.iter().map(|p| p.0).sum::<f64>() / count, at.iter().map(|p| p.1).sum::<f64>() / count)
    };
    let (a, b) = (middle(&mine), middle(&other));
    let (dx, dy) = (b.0 - a.0, b.1 - a.1);
    let long = (dx * dx + dy * dy).sqrt();
    let along = |p: &(f64, f64)| ((p.0 - a.0) * dx + (p.1 - a.1) * dy) / long;
    let nearest = other.iter().map(along).fold(f64::INFINITY, f64::min)
        - mine.iter().map(along).fold(f64::NEG_INFINITY, f64::max);
    (0.0 < nearest && nearest.is_finite()).then(|| (Length::from_m(nearest), Angle::from_rad(libm::atan2(dy, dx))))
}

/// Whether it is known how the load leans: where its points are, and how high its centre of gravity.
fn is_known(input: &VerifyInput, by_end: &EndByEnd) -> bool {
    let high = match &input.case.sharing {
        Sharing::Placed(placed) => placed.centre.z.is_some(),
        _ => false,
    };
    high && axis(&input.case, by_end, 0).is_some()
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
