//! A solved phase as it is answered.

use super::case::{LoadCase, Placed, Rule};
use super::kernel::Bearing;
use super::phase::{Carried, End, Solved, bounds_of};
use super::result::{Combination, GoverningEnds, Method, PhaseShares, Sensitivity, SupportShare};
use super::shares::any_equilibrium;
use super::spread;
use super::tipping::tipping;
use crate::Text;
use ramwright_units::{Force, Length, Range, Stiffness};

/// Above this many supports no lists of one number for each pair of supports are answered.
const MOST_PAIRED: usize = 24;
/// By how much the centre is moved to see what it costs, in m.
const CENTRE_STEP_M: f64 = 0.010;
/// By how much the weight grows to see what it costs (dimensionless).
const WEIGHT_STEP: f64 = 0.01;

/// The phase as it is answered.
pub(super) fn answered(case: &LoadCase, placed: &Placed, phase: &Solved<'_>) -> PhaseShares {
    let sensitivities = sensitivities(placed, phase);
    let raised = raised_alone(placed, phase);
    let supports = phase.ground.supports.iter().zip(&phase.carried).enumerate().map(|(index, (support, carried))| {
        let id = |member: &super::phases::Member| case.points.get(member.point).map(|point| point.id.clone());
        SupportShare {
            support: support.name.clone(),
            kind: support.kind,
            points: support.members.iter().filter_map(id).collect(),
            share: range(carried),
            exactness: carried.exactness,
            any_equilibrium: any_equilibrium(phase, carried).map(|(least, greatest)| {
                Range::new(Force::from_n(least), Force::from_n(carried.expected_n), Force::from_n(greatest))
            }),
            governing: Some(GoverningEnds {
                least: combination(phase, &carried.least),
                greatest: combination(phase, &carried.greatest),
            }),
            sensitivity: sensitivities.get(index).copied().flatten(),
            // The change of every share by this one is a column; what a spring does to another it does back.
            raised_alone: raised.iter().filter_map(|row| row.get(index).copied()).collect(),
        }
    });
    PhaseShares {
        phase: phase.plan.phase,
        name: phase.plan.name.clone(),
        method: phase.method,
        why: phase.why.clone(),
        supports: supports.collect(),
        tipping: tipping(&phase.ground.stance, &phase.ground.names()),
        bending: match &placed.rule {
            Rule::Girder(girder) => super::girder::bending(girder, &phase.ground),
            _ => None,
        },
    }
}

fn range(carried: &Carried) -> Range<Force> {
    Range::new(
        Force::from_n(carried.least.reaction_n),
        Force::from_n(carried.expected_n),
        Force::from_n(carried.greatest.reaction_n),
    )
}

fn combination(phase: &Solved<'_>, end: &End) -> Combination {
    let at = end.resultant.map(|place| place + phase.ground.origin);
    let levels = if phase.ground.supports.len() <= MOST_PAIRED { end.levels_m.as_slice() } else { &[] };
    Combination {
        words: words(phase, end),
        vertical_load: Force::from_n(end.weight_n),
        x: at.map(|place| Length::from_m(place.x)),
        y: at.map(|place| Length::from_m(place.y)),
        levels: levels.iter().map(|&level| Length::from_m(level)).collect(),
    }
}

fn words(phase: &Solved<'_>, end: &End) -> Text {
    let domain = &phase.ground.domain;
    let near = |a: f64, b: f64| (a - b).abs() <= 1e-9 * domain.greatest_n;
    let weight = if near(domain.least_n, domain.greatest_n) {
        "the vertical load".to_owned()
    } else if near(end.weight_n, domain.greatest_n) {
        "greatest vertical load".to_owned()
    } else if near(end.weight_n, domain.least_n) {
        "least vertical load".to_owned()
    } else {
        format!("vertical load of {:.1} kN, between its least and greatest", end.weight_n / 1e3)
    };
    let place = end.resultant.map_or_else(String::new, |place| {
        let off = place - domain.expected_at;
        off.unit().filter(|_| 5e-4 <= off.length()).map_or_else(
            || ", resultant at the expected centre".to_owned(),
            |u| {
                format!(
                    ", resultant {:.0} mm from the expected centre towards ({:+.2}, {:+.2})",
                    off.length() * 1e3,
                    hundredths(u.x),
                    hundredths(u.y)
                )
            },
        )
    });
    Text::from(format!("{weight}{place}{}", levels_in_words(phase, &end.levels_m)))
}

/// To two digits, with no sign on nothing.
fn hundredths(value: f64) -> f64 {
    (value * 100.0).round() / 100.0 + 0.0
}

/// The supports that stand high and low, by more than a hundredth of a millimetre.
fn levels_in_words(phase: &Solved<'_>, levels_m: &[f64]) -> String {
    if MOST_PAIRED < phase.ground.supports.len() {
        return String::new();
    }
    let those = |stands: fn(f64) -> bool| -> Vec<&str> {
        let all = phase.ground.supports.iter().zip(levels_m);
        all.filter(|(_, level)| stands(**level)).map(|(support, _)| support.name.as_str()).collect()
    };
    let part = |names: Vec<&str>, word: &str| {
        if names.is_empty() { String::new() } else { format!(", {} {word}", names.join(" and ")) }
    };
    part(those(|level| 1e-5 < level), "high") + &part(those(|level| level < -1e-5), "low")
}

fn sensitivities(placed: &Placed, phase: &Solved<'_>) -> Vec<Option<Sensitivity>> {
    match phase.method {
        Method::Elastic => elastic_sensitivities(placed, phase),
        Method::Statics | Method::WorstEquilibrium => bound_sensitivities(phase).unwrap_or_default(),
        Method::Girder | Method::Stated | Method::Equal => Vec::new(),
    }
}

/// The springs with which the phase was solved, if their stiffness is known.
fn known_springs(placed: &Placed, phase: &Solved<'_>) -> Option<Vec<Bearing>> {
    phase.ground.springs(placed.half_band_m())
}

fn elastic_sensitivities(placed: &Placed, phase: &Solved<'_>) -> Vec<Option<Sensitivity>> {
    let known = known_springs(placed, phase);
    let springs = known.clone().unwrap_or_else(|| phase.ground.equal());
    let of = |(index, carried): (usize, &Carried)| {
        let found = spread::sensitivity(&springs, index, &carried.greatest)?;
        // Equal springs of no known stiffness say nothing of levels.
        Some(Sensitivity { level_1_mm: found.level_1_mm.filter(|_| known.is_some()), ..found })
    };
    phase.carried.iter().enumerate().map(of).collect()
}

/// What the greatest of any equilibrium gains if centre or weight are farther off.
fn bound_sensitivities(phase: &Solved<'_>) -> Option<Vec<Option<Sensitivity>>> {
    let farther = phase.ground.domain.with_disc_wider(CENTRE_STEP_M)?;
    let heavier = phase.ground.domain.with_greatest_heavier(WEIGHT_STEP);
    let (farther, heavier) = (bounds_of(&phase.ground.at, &farther).ok()?, bounds_of(&phase.ground.at, &heavier).ok()?);
    let all = phase.carried.iter().zip(farther.into_iter().zip(heavier));
    Some(
        all.map(|(carried, ((_, far), (_, heavy)))| {
            let grows = |end: End| Force::from_n((end.reaction_n - carried.greatest.reaction_n).max(0.0));
            Some(Sensitivity { centre_10_mm: grows(far), weight_1_percent: grows(heavy), level_1_mm: None })
        })
        .collect(),
    )
}

/// Rows of the change of every share with the level of each support; empty where it is not known.
fn raised_alone(placed: &Placed, phase: &Solved<'_>) -> Vec<Vec<Stiffness>> {
    if MOST_PAIRED < phase.ground.supports.len() {
        return Vec::new();
    }
    let rows = match (&placed.rule, phase.method) {
        (Rule::Girder(girder), Method::Girder) => super::girder::raised_alone(girder, &phase.ground),
        (_, Method::Elastic) => {
            known_springs(placed, phase).and_then(|springs| spread::raised_alone(&springs, &phase.ground.domain))
        }
        _ => None,
    };
    rows.unwrap_or_default()
}
