//! Load cases of these tests, made from plain numbers in SI.

use ramwright_engine::check::{Check, CheckId, Phase};
use ramwright_engine::load::{LoadCase, LoadShares, PointShare, SupportShare};
use ramwright_units::{ForceRange, LengthRange, Range, Stiffness};

pub(crate) use crate::support::{exactly, kn, m, placed as load, plan_of as plan};

/// A weight from its least, expected and greatest, in kN.
pub(crate) fn between_kn(least: f64, expected: f64, greatest: f64) -> ForceRange {
    Range::new(kn(least), kn(expected), kn(greatest))
}

/// A place within half a width either way, in m.
pub(crate) fn about(middle_m: f64, half_m: f64) -> LengthRange {
    Range::new(m(middle_m - half_m), m(middle_m), m(middle_m + half_m))
}

/// Gives every point a stiffness, in N/m.
pub(crate) fn on_springs(case: &mut LoadCase, stiffness_n_per_m: &[f64]) {
    assert_eq!(case.points.len(), stiffness_n_per_m.len());
    for (point, k) in case.points.iter_mut().zip(stiffness_n_per_m) {
        point.stiffness = Some(Stiffness::from_n_per_m(*k));
    }
}

/// Least, expected and greatest of every point, in N.
pub(crate) fn shares_n(shares: &LoadShares) -> Vec<[f64; 3]> {
    shares.points.iter().map(|point| three_n(&point.share)).collect()
}

/// The three values of a range of forces, in N.
pub(crate) fn three_n(range: &ForceRange) -> [f64; 3] {
    [range.least.n(), range.expected.n(), range.greatest.n()]
}

/// Holds a range against a calculation by hand, in kN.
#[track_caller]
pub(crate) fn by_hand(found: &ForceRange, hand_kn: [f64; 3]) {
    let all = three_n(found).map(|n| n / 1e3);
    assert!(
        all.iter().zip(hand_kn).all(|(a, b)| (a - b).abs() <= 1e-9 * b.abs().max(100.0)),
        "{all:?}, by hand {hand_kn:?}"
    );
}

/// The same for every point.
#[track_caller]
pub(crate) fn all_by_hand(found: &[PointShare], hand_kn: &[[f64; 3]]) {
    assert_eq!(found.len(), hand_kn.len());
    for (point, hand) in found.iter().zip(hand_kn) {
        by_hand(&point.share, *hand);
    }
}

/// A number against one computed by hand.
#[track_caller]
pub(crate) fn near(found: f64, hand: f64) {
    assert!((found - hand).abs() <= 1e-9 * hand.abs().max(1.0), "{found}, by hand {hand}");
}

/// The one check with this name in this phase.
#[track_caller]
pub(crate) fn check(shares: &LoadShares, id: CheckId, phase: Phase) -> &Check {
    let mut found = shares.checks.iter().filter(|check| check.id == id && check.phase == phase);
    let first = found.next().unwrap_or_else(|| panic!("no check {id:?} in {phase:?}"));
    assert!(found.next().is_none(), "two checks {id:?} in {phase:?}");
    first
}

/// The supports of the first phase.
pub(crate) fn supports(shares: &LoadShares) -> &[SupportShare] {
    &shares.phases.first().expect("a phase").supports
}
