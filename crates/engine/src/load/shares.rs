//! The shares of the points, within all tolerances and over all phases.
//!
//! The load is a set of resultants ([`super::kernel::LoadDomain`]); each phase has its own supports, and the method that
//! suits them gives least and greatest on every one. A point's share is the least and greatest over the phases.

use super::advice::advice;
use super::answer::answered;
use super::case::{LoadCase, Placed, Sharing, Task};
use super::checks::{of_phases, of_stated, without_positions};
use super::equilibrium::NoEquilibrium;
use super::losses::losses;
use super::phase::{Solved, solve};
use super::phases::{Carrier, PhasePlan, SupportKind};
use super::result::{LoadShares, Method, PointShare, Tipping};
use super::tipping::tipping;
use crate::Text;
use crate::check::Phase;
use ramwright_units::{Force, Range};

/// Least, expected and greatest share of every point in every phase, the distance from tipping, what the loss of a point
/// does, and what would bring the greatest share down.
///
/// # Source
/// Statics; elastic shares by the pile-group formula with contact; bound of all equilibria by convexity; girders by the
/// direct stiffness method.
///
/// # Validity
/// A rigid load, or a girder, on supports that only push. More than three supports of which the level tolerance or a
/// stiffness is not known are given the worst equilibrium.
///
/// # Errors
/// [`NoEquilibrium`] if the load cannot stand at its expected weight and centre of gravity in one of the phases.
pub fn share_load(case: &LoadCase) -> Result<LoadShares, NoEquilibrium> {
    let Sharing::Placed(placed) = &case.sharing else { return Ok(without_places(case)) };
    let plans = plans(case, placed);
    let solved = solve_all(case, placed, &plans)?;
    let mut shares = assemble(case, placed, &solved);
    shares.phases = solved.iter().map(|phase| answered(case, placed, phase)).collect();
    if let Some(first) = solved.first().filter(|_| case.task == Task::Raise) {
        shares.losses = losses(case, placed, first);
        shares.advice = advice(case, placed, first);
    }
    Ok(shares)
}

/// The envelope of every point alone, as a scenario needs it: not what governs, no losses, no advice.
///
/// # Source
/// As [`share_load`].
///
/// # Validity
/// As [`share_load`].
///
/// # Errors
/// As [`share_load`].
pub fn envelope_alone(case: &LoadCase) -> Result<LoadShares, NoEquilibrium> {
    let Sharing::Placed(placed) = &case.sharing else { return Ok(without_places(case)) };
    let plans = plans(case, placed);
    Ok(assemble(case, placed, &solve_all(case, placed, &plans)?))
}

/// The case after the loss of the oil of one of its points, and of all whose oil is linked with it, in the phases in which
/// that point hangs on its oil.
///
/// Nothing can be said where shares are stated or equal, since then no positions are known, nor where the point never does.
pub fn without_point(case: &LoadCase, index: usize) -> Option<LoadCase> {
    let Sharing::Placed(placed) = &case.sharing else { return None };
    if placed.positions.len() <= index || case.points.len() <= index {
        return None;
    }
    let mut rest = placed.clone();
    // What is left after a loss stands by chance, not on level supports.
    rest.rule = super::case::Rule::WorstEquilibrium;
    // On packing or on a locked collar nothing hangs on the oil.
    let on_oil = |plan: &PhasePlan| plan.carriers.get(index) == Some(&Carrier::Ram);
    rest.phases = plans(case, placed).iter().filter(|plan| on_oil(plan)).map(|plan| plan.without(index)).collect();
    if rest.phases.is_empty() {
        return None;
    }
    Some(LoadCase { sharing: Sharing::Placed(rest), ..case.clone() })
}

fn without_places(case: &LoadCase) -> LoadShares {
    let stated = match &case.sharing {
        Sharing::Stated(shares) => shares.clone(),
        Sharing::Placed(_) | Sharing::Equal => {
            let count = f64::from(u32::try_from(case.points.len()).unwrap_or(u32::MAX));
            let vertical = case.vertical();
            let each = Range::new(vertical.least / count, vertical.expected / count, vertical.greatest / count);
            vec![each; case.points.len()]
        }
    };
    let (method, why, checks) = match &case.sharing {
        Sharing::Stated(_) if !case.record.estimates.is_empty() => (
            Method::Stated,
            "the force at every point is stated, or estimated from the work to be done there",
            of_stated(case),
        ),
        Sharing::Stated(_) => (Method::Stated, "the request states the reaction of every point", of_stated(case)),
        _ => (
            Method::Equal,
            "no positions were given, so the total was divided by the number of points",
            without_positions(),
        ),
    };
    let points = case.points.iter().zip(stated).map(|(point, share)| PointShare {
        point: point.id.clone(),
        share,
        any_equilibrium: None,
        governing_phase: None,
        held: None,
    });
    LoadShares {
        method,
        why: Text::fixed(why),
        weight: case.weight,
        vertical_load: case.vertical(),
        horizontal_force: case.greatest_horizontal(),
        points: points.collect(),
        tipping: None,
        phases: Vec::new(),
        losses: Vec::new(),
        advice: Vec::new(),
        lines: case.record.lines.clone(),
        weighed: case.record.weighed.clone(),
        estimates: case.record.estimates.clone(),
        checks,
    }
}

/// The phases stated, or else: every ram by itself while the load is raised, and the stacks where they stand elsewhere.
fn plans(case: &LoadCase, placed: &Placed) -> Vec<PhasePlan> {
    if !placed.phases.is_empty() {
        return placed.phases.clone();
    }
    let count = case.points.len();
    let mut plans = vec![PhasePlan::independent(Phase::Raising, count)];
    if case.points.iter().any(|point| point.packing_at.is_some()) {
        let carriers = vec![Carrier::Packing; count];
        plans.push(PhasePlan { carriers, ..PhasePlan::independent(Phase::Holding, count) });
    }
    plans
}

fn solve_all<'a>(case: &LoadCase, placed: &Placed, plans: &'a [PhasePlan]) -> Result<Vec<Solved<'a>>, NoEquilibrium> {
    let only_one = placed.phases.is_empty() && plans.len() == 1;
    plans
        .iter()
        .map(|plan| {
            solve(case, placed, plan).map_err(|cause| {
                if only_one { cause } else { NoEquilibrium::InPhase { phase: plan.title(), cause: Box::new(cause) } }
            })
        })
        .collect()
}

fn assemble(case: &LoadCase, placed: &Placed, solved: &[Solved<'_>]) -> LoadShares {
    let points = case.points.iter().enumerate().map(|(index, point)| of_point(index, &point.id, solved));
    let first = solved.first();
    LoadShares {
        method: first.map_or(Method::Stated, |phase| phase.method),
        why: first.map_or(Text::fixed("no phase"), |phase| phase.why.clone()),
        weight: case.weight,
        vertical_load: case.vertical(),
        horizontal_force: case.greatest_horizontal(),
        points: points.collect(),
        tipping: nearest_to_tipping(solved),
        checks: of_phases(case, placed, solved),
        phases: Vec::new(),
        losses: Vec::new(),
        advice: Vec::new(),
        lines: case.record.lines.clone(),
        weighed: case.record.weighed.clone(),
        estimates: case.record.estimates.clone(),
    }
}

fn nearest_to_tipping(solved: &[Solved<'_>]) -> Option<Tipping> {
    let all = solved.iter().filter_map(|phase| tipping(&phase.ground.stance, &phase.ground.names()));
    all.reduce(|worst, next| if next.margin < worst.margin { next } else { worst })
}

/// What a point takes of one support.
struct Taken {
    phase: u32,
    on_packing: bool,
    share: Range<Force>,
    any: Option<Range<Force>>,
}

fn of_point(index: usize, id: &str, solved: &[Solved<'_>]) -> PointShare {
    let taken: Vec<Taken> = (0..).zip(solved).filter_map(|(number, phase)| taken(index, number, phase)).collect();
    let on_rams: Vec<&Taken> = taken.iter().filter(|one| !one.on_packing).collect();
    let held: Vec<&Taken> = taken.iter().filter(|one| one.on_packing).collect();
    let heaviest = on_rams
        .iter()
        .copied()
        .reduce(|worst, next| if worst.share.greatest < next.share.greatest { next } else { worst });
    PointShare {
        point: id.to_owned(),
        // A point whose rams never carry has no share.
        share: over(&on_rams).unwrap_or(Range::new(Force::ZERO, Force::ZERO, Force::ZERO)),
        any_equilibrium: heaviest.and_then(|one| one.any),
        governing_phase: heaviest.map(|one| one.phase),
        held: over(&held),
    }
}

fn over(all: &[&Taken]) -> Option<Range<Force>> {
    let first = all.first()?.share;
    Some(all.iter().fold(first, |range, one| {
        Range::new(range.least.min(one.share.least), range.expected, range.greatest.max(one.share.greatest))
    }))
}

fn taken(index: usize, number: u32, phase: &Solved<'_>) -> Option<Taken> {
    phase.ground.supports.iter().zip(&phase.carried).find_map(|(support, carried)| {
        let part = support.members.iter().find(|member| member.point == index)?.part;
        let force = |reaction_n: f64| Force::from_n(reaction_n * part);
        let expected = force(carried.expected_n);
        Some(Taken {
            phase: number,
            on_packing: support.kind == SupportKind::Packing,
            share: Range::new(force(carried.least.reaction_n), expected, force(carried.greatest.reaction_n)),
            any: any_equilibrium(phase, carried)
                .map(|(least, greatest)| Range::new(force(least), expected, force(greatest))),
        })
    })
}

/// Least and greatest of any equilibrium: beside the shares, or the shares themselves.
pub(super) fn any_equilibrium(phase: &Solved<'_>, carried: &super::phase::Carried) -> Option<(f64, f64)> {
    carried.any_n.or_else(|| {
        (phase.method == Method::WorstEquilibrium).then_some((carried.least.reaction_n, carried.greatest.reaction_n))
    })
}
