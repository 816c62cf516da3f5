//! What would bring the greatest share down: linking rams so that three supports are left, or holding the levels.

use super::case::{LoadCase, Placed, Rule};
use super::phase::{Solved, solve};
use super::phases::PhasePlan;
use super::result::{Advice, Method};
use crate::Text;
use ramwright_units::{Force, Length};

/// Above this many supports nothing is tried: the ways of linking grow with their third power.
const MOST_SUPPORTS: usize = 16;
/// A gain below this part of the greatest share is none.
const LEAST_GAIN: f64 = 0.02;
/// Shares that differ by less than this part are the same.
const SAME: f64 = 1e-9;
/// Level bands that a crew with a valve for each point can be asked to hold.
const BANDS_MM: [f64; 3] = [2.0, 5.0, 10.0];

/// What would gain in this phase; nothing where its shares do not depend on levels.
pub(super) fn advice(case: &LoadCase, placed: &Placed, phase: &Solved<'_>) -> Vec<Advice> {
    if !matches!(phase.method, Method::WorstEquilibrium | Method::Elastic) || placed.rule == Rule::WorstEquilibrium {
        return Vec::new();
    }
    let Some(now) = heaviest(phase) else { return Vec::new() };
    [linking(case, placed, phase, now), levels(case, placed, phase, now)].into_iter().flatten().collect()
}

/// The greatest share of any point in a phase.
fn heaviest(phase: &Solved<'_>) -> Option<Force> {
    let of_points = phase.greatest_shares().filter(|(support, _)| !support.members.is_empty());
    of_points.map(|(_, share)| share).reduce(Force::max)
}

fn gains(now: Force, then: Force) -> bool {
    then < now * (1.0 - LEAST_GAIN)
}

/// The best way to link the rams of neighbouring points so that three supports are left.
fn linking(case: &LoadCase, placed: &Placed, phase: &Solved<'_>, now: Force) -> Option<Advice> {
    let points = around(phase)?;
    let mut best: Option<(Force, PhasePlan)> = None;
    for groups in partitions(&points) {
        let mut linked: Vec<Vec<usize>> = groups.into_iter().filter(|group| 1 < group.len()).collect();
        linked.sort();
        let plan = PhasePlan { linked, ..phase.plan.clone() };
        let Ok(then) = solve(case, placed, &plan) else { continue };
        let margin = super::tipping::tipping(&then.ground.stance, &[]).map(|tipping| tipping.margin);
        if margin.is_none_or(|margin| margin < Length::ZERO) {
            continue;
        }
        let Some(greatest) = heaviest(&then) else { continue };
        // Among ways that are equally good the one with the lowest points, whatever rounding says.
        let better = |(so_far, named): &(Force, PhasePlan)| {
            greatest < *so_far * (1.0 - SAME) || (greatest < *so_far * (1.0 + SAME) && plan.linked < named.linked)
        };
        if best.as_ref().is_none_or(better) {
            best = Some((greatest, plan));
        }
    }
    let (then, plan) = best.filter(|(then, _)| gains(now, *then))?;
    let name = |index: &usize| case.points.get(*index).map(|point| point.id.clone()).unwrap_or_default();
    let link: Vec<Vec<String>> = plan.linked.iter().map(|group| group.iter().map(name).collect()).collect();
    let words: Vec<String> = link.iter().map(|group| group.join(" and ")).collect();
    Some(Advice {
        words: Text::from(format!(
            "link the rams of {}, so that three supports are left: the greatest share falls from {:.0} to {:.0} kN, whatever the levels are",
            words.join("; and those of "),
            now.kn(),
            then.kn()
        )),
        link,
        level_tolerance: None,
        greatest_share: now,
        greatest_share_then: then,
    })
}

/// The single points that carry on rams, in their order around the centroid; `None` unless they are more than three and all there is.
fn around(phase: &Solved<'_>) -> Option<Vec<usize>> {
    let count = phase.ground.supports.len();
    let single = phase
        .ground
        .supports
        .iter()
        .all(|support| support.kind == super::phases::SupportKind::Ram && support.members.len() == 1);
    if !single || !(4..=MOST_SUPPORTS).contains(&count) {
        return None;
    }
    let mut order: Vec<(f64, usize)> = phase
        .ground
        .supports
        .iter()
        .zip(&phase.ground.at)
        .filter_map(|(support, at)| Some((libm::atan2(at.y, at.x), support.members.first()?.point)))
        .collect();
    order.sort_by(|a, b| a.0.total_cmp(&b.0).then(a.1.cmp(&b.1)));
    Some(order.into_iter().map(|(_, point)| point).collect())
}

/// Every way to cut a ring into three stretches.
fn partitions(ring: &[usize]) -> Vec<Vec<Vec<usize>>> {
    let count = ring.len();
    let stretch = |from: usize, to: usize| -> Vec<usize> {
        let mut group: Vec<usize> = ring.iter().cycle().skip(from).take(to - from).copied().collect();
        group.sort_unstable();
        group
    };
    let mut all = Vec::new();
    for first in 0..count {
        for second in first + 1..count {
            for third in second + 1..count {
                all.push(vec![stretch(first, second), stretch(second, third), stretch(third, first + count)]);
            }
        }
    }
    all
}

/// The widest level band that gains, where the stiffness of every support is known.
fn levels(case: &LoadCase, placed: &Placed, phase: &Solved<'_>, now: Force) -> Option<Advice> {
    let known = phase.ground.supports.iter().all(|support| support.stiffness.is_some());
    if phase.method != Method::WorstEquilibrium || !known || MOST_SUPPORTS < phase.ground.supports.len() {
        return None;
    }
    let mut best: Option<(Force, Length)> = None;
    for band in BANDS_MM.map(Length::from_mm) {
        let held = Placed { level_band: Some(band), rule: Rule::Elastic, ..placed.clone() };
        let Ok(then) = solve(case, &held, phase.plan) else { continue };
        if let Some(greatest) = heaviest(&then).filter(|greatest| gains(now, *greatest)) {
            best = Some((greatest, band));
        }
    }
    let (then, band) = best?;
    Some(Advice {
        words: Text::from(format!(
            "hold all points within a band of {:.0} mm from their planned levels: the greatest share falls from {:.0} to {:.0} kN with the stiffnesses stated",
            band.mm(),
            now.kn(),
            then.kn()
        )),
        link: Vec::new(),
        level_tolerance: Some(band),
        greatest_share: now,
        greatest_share_then: then,
    })
}
