//! Elastic shares over all tolerances together, and what small errors cost there.

use super::kernel::{
    Bearing, Effort, Exactness as Found, Extreme, LoadDomain, Spring, envelope, full_contact_influence, own_influence,
    solve,
};
use super::phase::{Carried, End};
use super::result::{Exactness, Sensitivity};
use ramwright_units::{Force, Stiffness};

/// What every support carries on its springs, and whether all keep their load; `None` if the kernel has no answer.
pub(super) fn elastic(springs: &[Bearing], domain: &LoadDomain, bounds: &[(End, End)]) -> Option<(Vec<Carried>, bool)> {
    let found = envelope(springs, domain, Effort::USUAL).ok()?;
    let in_contact =
        found.iter().all(|one| one.least.exactness == Found::Contact && one.greatest.exactness == Found::Contact);
    let carried = found.into_iter().zip(bounds).map(|(one, (low, high))| {
        let any_n = Some((low.reaction_n, high.reaction_n));
        let least = end(&one.least, low, f64::max);
        let greatest = end(&one.greatest, high, f64::min);
        let exactness = match (one.least.exactness, one.greatest.exactness) {
            (Found::Bound, _) | (_, Found::Bound) => Exactness::SafeSide,
            _ => Exactness::Exact,
        };
        Carried { least, expected_n: one.expected_n, greatest, exactness, any_n }
    });
    Some((carried.collect(), in_contact))
}

/// An extreme as an end, within what equilibrium allows. Where the two are one, what was found says more: it names the levels.
/// `bound` stands for what is no number and lends what a search cut short did not find.
fn end(extreme: &Extreme, bound: &End, inner: fn(f64, f64) -> f64) -> End {
    let found = extreme.combination.as_ref();
    let reaction_n = inner(extreme.reaction_n.max(0.0), bound.reaction_n);
    let within = (reaction_n - extreme.reaction_n).abs() <= 0.0;
    if !extreme.reaction_n.is_finite() || (extreme.exactness == Found::Bound && !within) {
        return bound.clone();
    }
    End {
        reaction_n,
        weight_n: found.map_or(bound.weight_n, |found| found.weight_n),
        resultant: found.map(|found| found.resultant),
        levels_m: found.map(|found| found.levels_m.clone()).unwrap_or_default(),
    }
}

/// Expected shares on springs at their known levels, in N.
pub(super) fn expected(springs: &[Bearing], domain: &LoadDomain) -> Option<Vec<f64>> {
    solve(&known(springs), domain.expected_n, domain.expected_at).ok().map(|state| state.reactions_n)
}

fn known(springs: &[Bearing]) -> Vec<Spring> {
    springs.iter().map(Bearing::spring).collect()
}

/// Change of every share with the level of each support, in full contact: row i, column j.
pub(super) fn raised_alone(springs: &[Bearing], domain: &LoadDomain) -> Option<Vec<Vec<Stiffness>>> {
    let full = full_contact_influence(&known(springs), domain.expected_at).ok()?;
    let row = |row: &Vec<f64>| row.iter().map(|&k| Stiffness::from_n_per_m(k)).collect();
    Some(full.level_stiffness_n_per_m.iter().map(row).collect())
}

/// By how much force a support may differ from touching and still be taken as on the verge of it, as a part of the load.
const VERGE: f64 = 1e-7;

/// What small errors cost support `index` near the combination at which it carries most: the linear relation of those
/// supports that are in contact there. Often a support is on the verge of contact just there; the cost is then the greater of
/// those with and without it, so that rounding does not choose.
pub(super) fn sensitivity(springs: &[Bearing], index: usize, at: &End) -> Option<Sensitivity> {
    let place = at.resultant?;
    let all: Vec<Spring> = springs
        .iter()
        .enumerate()
        .map(|(i, b)| Spring { level_m: at.levels_m.get(i).copied().unwrap_or(b.level_m), ..b.spring() })
        .collect();
    let state = solve(&all, at.weight_n, place).ok()?;
    // What carries nothing is told by how far it is from touching.
    let gap_n = |s: &Spring| s.stiffness_n_per_m * (state.plane.sink_m + state.plane.slope.dot(s.at) + s.level_m);
    let carried = all.iter().zip(&state.reactions_n);
    let pressed_n: Vec<f64> = carried.map(|(s, &r)| if 0.0 < r { r } else { gap_n(s).min(0.0) }).collect();
    let among = |least_n: f64| costs(&all, &pressed_n, least_n, index, at);
    let verge_n = VERGE * at.weight_n;
    match (among(verge_n), among(-verge_n)) {
        (Some(a), Some(b)) => Some(Sensitivity {
            centre_10_mm: a.centre_10_mm.max(b.centre_10_mm),
            weight_1_percent: a.weight_1_percent.max(b.weight_1_percent),
            level_1_mm: a.level_1_mm.zip(b.level_1_mm).map(|(a, b)| a.max(b)),
        }),
        (a, b) => a.or(b),
    }
}

/// The costs while just those supports are in contact that carry more than this.
fn costs(all: &[Spring], pressed_n: &[f64], least_n: f64, index: usize, at: &End) -> Option<Sensitivity> {
    let touching: Vec<usize> = pressed_n.iter().enumerate().filter(|(_, n)| least_n < **n).map(|(i, _)| i).collect();
    let own = touching.iter().position(|i| *i == index)?;
    let active: Vec<Spring> = touching.iter().filter_map(|i| all.get(*i).copied()).collect();
    let (share, level_n_per_m) = own_influence(&active, at.resultant?, own).ok()??;
    Some(Sensitivity {
        centre_10_mm: Force::from_n(at.weight_n * share.gradient_per_m.length() * 0.010),
        weight_1_percent: Force::from_n(at.weight_n * share.share * 0.01),
        level_1_mm: Some(Force::from_n(level_n_per_m * 1e-3)),
    })
}
