//! What would make a refused model pass, held to its word.

use super::beside::{input, sized};
use super::support::{cases::load_cases, kn, mm, placed, yard};
use super::yards::yards;
use proptest::prelude::*;
use ramwright_engine::check::{CheckId, Scenario};
use ramwright_engine::load::LoadCase;
use ramwright_engine::size::{NearestMiss, SizeInput, Sizing};
use ramwright_units::OilPressure;
use std::collections::BTreeMap;

/// The models that a check refused first.
fn refused_by(sizing: &Sizing, check: CheckId) -> BTreeMap<String, NearestMiss> {
    let of = sizing.refusals.iter().filter(|refusal| refusal.check == check);
    let named = of.flat_map(|refusal| std::iter::once(&refusal.nearest).chain(&refusal.others));
    named.map(|miss| (miss.ram.clone(), miss.clone())).collect()
}

/// The number after a word, if it is there.
fn number_after(text: &str, word: &str) -> Option<f64> {
    let (_, rest) = text.split_once(word)?;
    rest.split([' ', ',', ';']).next()?.parse().ok()
}

fn limit_in(miss: &NearestMiss) -> Option<f64> {
    number_after(miss.would_pass.as_str(), "passes at a capacity limit of ")
}

fn needed_in(miss: &NearestMiss) -> Option<f64> {
    number_after(miss.would_pass.as_str(), "needs ")
}

/// Three points that carry alike, each some 200 kN.
fn three(weight_kn: f64) -> LoadCase {
    placed(kn(weight_kn), &[(0.0, 0.0), (6.0, 0.0), (3.0, 5.0)], (3.0, 5.0 / 3.0))
}

/// One small ram at each point, used to a part of its 238 kN.
fn used_to(part: f64, capacity_limit: f64) -> SizeInput {
    let mut search = input(three(3.0 * 238.0 * part), vec![yard::small_ram()]);
    search.settings.capacity_limit = capacity_limit;
    search.settings.rams_per_point = 1;
    // Warm oil refuses a ram that is used so far; here only its capacity counts.
    (search.line.thermal_relief, search.line.oil_temperature_rise_k) = (None, None);
    search
}

/// A limit that is said to do admits the model: the load that is heavier than stated must be carried at it, too.
#[test]
fn verify_a_capacity_limit_that_is_said_to_do_does() {
    for percent in 60..=100 {
        let search = used_to(f64::from(percent) / 100.0, 0.5);
        let refused = refused_by(&sized(&search).unwrap(), CheckId::Capacity);
        for miss in refused.values() {
            let Some(limit) = limit_in(miss) else { continue };
            let mut lenient = search.clone();
            lenient.settings.capacity_limit = limit;
            let still = refused_by(&sized(&lenient).unwrap(), CheckId::Capacity);
            assert!(still.is_empty(), "{percent} % used: \"{}\", and then {still:?}", miss.would_pass);
        }
    }
}

/// A model that only the heavier load refuses lacks something, and not less than nothing.
#[test]
fn verify_what_the_heavier_load_lacks_is_more_than_nothing() {
    let search = used_to(0.95, 0.97);
    let refused = refused_by(&sized(&search).unwrap(), CheckId::Capacity);
    let miss = refused.values().next().unwrap_or_else(|| panic!("{:?}", sized(&search).unwrap().refusals));
    assert_eq!(miss.scenario, Scenario::LoadHeavier);
    let needed = needed_in(miss).unwrap_or_else(|| panic!("{miss:?}"));
    // 1.1 x 0.95 of 238 kN are 10.7 kN more than these, and so is what each ram must be spared.
    let lacking = 238.0 * (1.1 * 0.95 - 1.0);
    assert!(needed - 0.1 <= lacking && lacking <= needed + 1e-6, "{lacking} {miss:?}");
}

/// Points of unlike clearance: with so much more at every point no point refuses the model any more.
#[test]
fn verify_so_much_more_clearance_does_at_every_point() {
    let mut search = input(three(500.0), yard::rams());
    let heights = [212.0, 170.0, 205.0];
    for (point, height) in search.case.points.iter_mut().zip(heights) {
        point.clearance = Some(mm(height));
    }
    let refused = refused_by(&sized(&search).unwrap(), CheckId::ClosedHeight);
    assert!(2 <= refused.len());
    for (ram, miss) in &refused {
        let needed = needed_in(miss).unwrap();
        assert_eq!(miss.subject, "2");
        for (more, admits) in [(needed, true), (needed - 0.2, false)] {
            let mut higher = search.clone();
            for point in &mut higher.case.points {
                point.clearance = point.clearance.map(|clearance| clearance + mm(more));
            }
            let still = refused_by(&sized(&higher).unwrap(), CheckId::ClosedHeight);
            assert_eq!(!still.contains_key(ram), admits, "{ram}: {}", miss.would_pass);
        }
    }
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(120))]

    /// Whatever was refused: what it lacks is more than nothing, and a limit that is said to do admits it.
    #[test]
    fn verify_every_change_is_a_change_for_the_better(
        case in load_cases(), rams in yards(5), capacity_limit in 0.4f64..1.0, per_point in 1u32..4,
    ) {
        let mut search = input(case, rams);
        search.settings.capacity_limit = capacity_limit;
        search.settings.rams_per_point = per_point;
        let Some(sizing) = sized(&search) else { return Ok(()) };
        for miss in sizing.refusals.iter().flat_map(|r| std::iter::once(&r.nearest).chain(&r.others)) {
            prop_assert!(!miss.would_pass.as_str().is_empty(), "{:?}", miss);
            prop_assert!(!miss.would_pass.as_str().contains('-') || !miss.would_pass.as_str().contains("needs -"), "{:?}", miss);
            prop_assert!((1..=per_point).contains(&miss.rams_per_point));
        }
        for (ram, miss) in refused_by(&sizing, CheckId::Capacity) {
            let Some(limit) = limit_in(&miss) else { continue };
            prop_assert!(capacity_limit < limit && limit <= 1.0);
            let mut lenient = search.clone();
            lenient.settings.capacity_limit = limit;
            let still = refused_by(&sized(&lenient).unwrap(), CheckId::Capacity);
            prop_assert!(!still.contains_key(&ram), "{}: \"{}\", and then {:?}", ram, miss.would_pass, still[&ram]);
        }
    }
}

/// A model that no number of rams makes strong enough is told of at the greatest number, which comes nearest.
#[test]
fn verify_the_number_that_comes_nearest_is_told() {
    let mut weak = yard::small_ram();
    weak.rated_pressure = OilPressure::from_bar(100.0);
    let sizing = sized(&input(three(900.0), vec![weak])).unwrap();
    let refused = refused_by(&sizing, CheckId::Capacity);
    assert_eq!(refused.values().next().unwrap().rams_per_point, 3);
}
