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
    springs.iter().map(|b| Spring { at: b.at, stiffness_n_per_m: b.stiffness_n_per_m, level_m: b.level_m }).collect()
}

/// Change of every share with the level of each support, in full contact: row i, column j.
pub(super) fn raised_alone(springs: &[Bearing], domain: &LoadDomain) -> Option<Vec<Vec<Stiffness>>> {
    let full = full_contact_influence(&known(springs), domain.expected_at).ok()?;
    let row = |row: &Vec<f64>| row.iter().map(|&k| Stiffness::from_n_per_m(k)).collect();
    Some(full.level_stiffness_n_per_m.iter().map(row).collect())
}

/// What small errors cost support `index` near the combination at which it carries most: the linear relation of those
/// supports that are in contact there.
pub(super) fn sensitivity(springs: &[Bearing], index: usize, at: &End) -> Option<Sensitivity> {
    let place = at.resultant?;
    let level = |(i, b): (usize, &Bearing)| at.levels_m.get(i).copied().unwrap_or(b.level_m);
    let all: Vec<Spring> = springs
        .iter()
        .enumerate()
        .map(|(i, b)| Spring { at: b.at, stiffness_n_per_m: b.stiffness_n_per_m, level_m: level((i, b)) })
        .collect();
    let state = solve(&all, at.weight_n, place).ok()?;
    let touching: Vec<usize> = (0..all.len()).filter(|i| state.in_contact.get(*i) == Some(&true)).collect();
    let own = touching.iter().position(|i| *i == index)?;
    let active: Vec<Spring> = touching.iter().filter_map(|i| all.get(*i).copied()).collect();
    let (share, level_n_per_m) = own_influence(&active, place, own).ok()??;
    Some(Sensitivity {
        centre_10_mm: Force::from_n(at.weight_n * share.gradient_per_m.length() * 0.010),
        weight_1_percent: Force::from_n(at.weight_n * share.share * 0.01),
        level_1_mm: Some(Force::from_n(level_n_per_m * 1e-3)),
    })
}
