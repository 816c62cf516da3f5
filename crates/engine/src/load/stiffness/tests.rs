//! All numbers are invented.

use super::*;
use crate::check::{Lines, NoLines};
use crate::defaults::BULK_MODULUS;
use proptest::prelude::*;
use ramwright_units::Force;

fn kn_per_mm(value: f64) -> Stiffness {
    Stiffness::from_n_per_m(value * 1e6)
}

fn oil(area_m2: f64, height_m: f64, dead_l: f64, modulus_gpa: f64) -> OilColumn {
    OilColumn {
        area: Area::from_m2(area_m2),
        height: Length::from_m(height_m),
        dead_volume: OilVolume::from_l(dead_l),
        bulk_modulus: OilPressure::from_pa(modulus_gpa * 1e9),
    }
}

#[track_caller]
fn close(got: Stiffness, hand_kn_per_mm: f64) {
    let got = got.n_per_m() / 1e6;
    assert!((got / hand_kn_per_mm - 1.0).abs() < 1e-12, "{got} is not {hand_kn_per_mm}");
}

/// 1.6 GPa x 0.02 m2 / 0.3 m = 106.667 kN/mm. With 2 L more, 0.1 m of height: 1.6 x 0.02 / 0.4 = 80 kN/mm.
#[test]
fn verify_oil_by_hand() {
    close(oil_stiffness(&mut NoLines, &oil(0.02, 0.3, 0.0, 1.6)).unwrap(), 320.0 / 3.0);
    close(oil_stiffness(&mut NoLines, &oil(0.02, 0.3, 2.0, 1.6)).unwrap(), 80.0);
    close(oil_stiffness(&mut NoLines, &oil(0.02, 0.0, 2.0, 1.6)).unwrap(), 320.0);
    let default = OilColumn { bulk_modulus: BULK_MODULUS, ..oil(0.02, 0.4, 0.0, 1.0) };
    close(oil_stiffness(&mut NoLines, &default).unwrap(), 100.0);
}

/// Linear compression of 10 L by 70 MPa, V p / K: 0.5 L at 1.4 GPa, 0.4375 L at 1.6 GPa, 0.388 89 L at 1.8 GPa
/// (computed apart from this code). The stiffness must let the ram sink by as much oil.
#[test]
fn verify_the_oil_gives_way_by_its_compression() {
    let area = Area::from_m2(0.02);
    let force = OilPressure::from_pa(70e6) * area;
    for (modulus_gpa, litres) in [(1.4, 0.5), (1.6, 0.437_5), (1.8, 0.388_89)] {
        let k = oil_stiffness(&mut NoLines, &oil(0.02, 0.5, 0.0, modulus_gpa)).unwrap();
        let given: OilVolume = area * (force / k);
        assert!((given.l() - litres).abs() < 5e-6, "{}", given.l());
    }
}

/// 25 mL per metre, 4 m: 100 mL at 700 bar. Force 70 MPa x 0.01 m2 = 700 kN, sinking 1e-4 m3 / 0.01 m2 = 10 mm.
#[test]
fn verify_hose_by_hand() {
    let piece = (OilVolume::from_l(0.025), HoseLength::from_m(1.0), HoseLength::from_m(4.0));
    let swelling = hose_swelling(&mut NoLines, piece.0, piece.1, piece.2).unwrap();
    assert!((swelling.l() - 0.1).abs() < 1e-15);
    let hose = HoseSwelling { area: Area::from_m2(0.01), swelling, at_pressure: OilPressure::from_bar(700.0) };
    close(hose_stiffness(&mut NoLines, &hose).unwrap(), 70.0);
}

/// 500 MPa x 0.09 m2 / 0.6 m = 75 kN/mm.
#[test]
fn verify_block_by_hand() {
    let (modulus, area, height) = (Stress::from_mpa(500.0), Area::from_m2(0.09), Length::from_m(0.6));
    close(block_stiffness(&mut NoLines, modulus, area, height).unwrap(), 75.0);
}

/// 1/100 + 1/50 + 1/100 = 4/100, so 25 kN/mm.
#[test]
fn verify_series_by_hand_and_by_its_lines() {
    let mut book = Lines::default();
    let parts = [("oil", kn_per_mm(100.0)), ("packing", kn_per_mm(50.0)), ("ground", kn_per_mm(100.0))];
    close(in_series(&mut book, &parts).unwrap(), 25.0);
    assert_eq!(book.0.len(), 2);
    assert_eq!(book.0[1].source.text.as_str(), "1/k = 1/k_a + 1/k_b: oil and packing, then ground");
    close(in_series(&mut NoLines, &parts[..1]).unwrap(), 100.0);
}

/// Areas 0.02 and 0.01 m2 on 100 and 50 kN/mm: 9e-4 / (4e-4 / 100 + 1e-4 / 50) = 9e-4 / 6e-6 = 150 kN/mm.
/// 0.02 and 0.01 m2 on 50 and 100: 9e-4 / (8e-6 + 1e-6) = 100 kN/mm. Three alike: three times one.
#[test]
fn verify_linked_by_hand() {
    let ram = |area_m2, k| (Area::from_m2(area_m2), kn_per_mm(k));
    close(linked_stiffness(&mut NoLines, &[ram(0.02, 100.0), ram(0.01, 50.0)]).unwrap(), 150.0);
    close(linked_stiffness(&mut NoLines, &[ram(0.02, 50.0), ram(0.01, 100.0)]).unwrap(), 100.0);
    close(linked_stiffness(&mut NoLines, &[ram(0.02, 70.0); 3]).unwrap(), 210.0);
}

#[test]
fn verify_degenerate_values_are_refused() {
    let refused = |result: Result<Stiffness, StiffnessError>| {
        matches!(result, Err(StiffnessError::NotPositive { .. } | StiffnessError::Negative { .. }))
    };
    let book = &mut NoLines;
    for bad in [0.0, -1.0, f64::NAN, f64::INFINITY] {
        assert!(refused(oil_stiffness(book, &oil(bad, 0.3, 0.0, 1.6))));
        assert!(refused(oil_stiffness(book, &oil(0.02, bad, 0.0, 1.6))));
        assert!(refused(oil_stiffness(book, &oil(0.02, 0.3, 0.0, bad))));
        assert!(refused(block_stiffness(book, Stress::from_mpa(bad), Area::from_m2(1.0), Length::from_m(1.0))));
        assert!(refused(linked_stiffness(book, &[(Area::from_m2(bad), kn_per_mm(1.0))])));
        assert!(refused(linked_stiffness(book, &[(Area::from_m2(1.0), kn_per_mm(bad))])));
        let hose = HoseSwelling {
            area: Area::from_m2(1.0),
            swelling: OilVolume::from_l(bad),
            at_pressure: OilPressure::from_bar(1.0),
        };
        assert!(refused(hose_stiffness(book, &hose)));
    }
    assert!(refused(oil_stiffness(book, &oil(0.02, 0.3, -0.1, 1.6))));
    assert!(refused(in_series(book, &[("oil", kn_per_mm(1.0)), ("ground", Stiffness::ZERO)])));
    assert_eq!(in_series(book, &[]), Err(StiffnessError::NoParts));
    assert_eq!(linked_stiffness(book, &[]), Err(StiffnessError::NoParts));
    assert!(hose_swelling(book, OilVolume::from_l(1.0), HoseLength::ZERO, HoseLength::from_m(1.0)).is_err());
}

proptest! {
    /// Softer than its softest part, and no matter in which order.
    #[test]
    fn verify_series(values in prop::collection::vec(0.1..1e4_f64, 1..6)) {
        let parts: Vec<(&str, Stiffness)> = values.iter().map(|k| ("part", kn_per_mm(*k))).collect();
        let reversed: Vec<(&str, Stiffness)> = parts.iter().rev().copied().collect();
        let got = in_series(&mut NoLines, &parts).unwrap().n_per_m() / 1e6;
        let direct = 1.0 / values.iter().map(|k| 1.0 / k).sum::<f64>();
        prop_assert!((got / direct - 1.0).abs() < 1e-12);
        prop_assert!(got <= values.iter().copied().fold(f64::MAX, f64::min) * (1.0 + 1e-12));
        let back = in_series(&mut NoLines, &reversed).unwrap().n_per_m() / 1e6;
        prop_assert!((got / back - 1.0).abs() < 1e-12);
    }

    /// Linked columns of one height are one column of their total area, and linking never stiffens (Cauchy-Schwarz).
    #[test]
    fn verify_linked(rams in prop::collection::vec((0.001..0.1_f64, 1.0..1e3_f64), 1..6)) {
        let columns: Vec<(Area, Stiffness)> = rams
            .iter()
            .map(|(area, _)| (Area::from_m2(*area), oil_stiffness(&mut NoLines, &oil(*area, 0.3, 0.0, 1.6)).unwrap()))
            .collect();
        let total: f64 = rams.iter().map(|ram| ram.0).sum();
        let one = oil_stiffness(&mut NoLines, &oil(total, 0.3, 0.0, 1.6)).unwrap();
        let group = linked_stiffness(&mut NoLines, &columns).unwrap();
        prop_assert!((group / one - 1.0).abs() < 1e-12);
        let any: Vec<(Area, Stiffness)> =
            rams.iter().map(|(area, k)| (Area::from_m2(*area), kn_per_mm(*k))).collect();
        let sum: Stiffness = any.iter().map(|ram| ram.1).sum();
        prop_assert!(linked_stiffness(&mut NoLines, &any).unwrap() <= sum * (1.0 + 1e-12));
    }

    /// Heads at any heights on springs of their own at the pressure of the group: the centroid of their areas sinks by F / k
    /// as soon as their volumes add up.
    #[test]
    fn verify_linked_by_its_volumes(
        rams in prop::collection::vec((0.001..0.1_f64, 1.0..1e3_f64, -1.0..1.0_f64), 2..6),
        bar in 1.0..700.0_f64,
    ) {
        let pressure = OilPressure::from_bar(bar);
        // What each head does beyond its spring, made to take no oil in all.
        let areas: f64 = rams.iter().map(|ram| ram.0).sum();
        let shift = rams.iter().map(|ram| ram.0 * ram.2).sum::<f64>() / areas;
        let sinking = |ram: &(f64, f64, f64)| {
            let own: Length = pressure * Area::from_m2(ram.0) / kn_per_mm(ram.1);
            own.m() + ram.2 - shift
        };
        let centroid = rams.iter().map(|ram| ram.0 * sinking(ram)).sum::<f64>() / areas;
        let typed: Vec<(Area, Stiffness)> =
            rams.iter().map(|ram| (Area::from_m2(ram.0), kn_per_mm(ram.1))).collect();
        let force: Force = pressure * Area::from_m2(areas);
        let by_k: Length = force / linked_stiffness(&mut NoLines, &typed).unwrap();
        prop_assert!((by_k.m() - centroid).abs() < 1e-9 * by_k.m().max(1.0));
    }

    #[test]
    fn verify_any_number_gives_a_stiffness_or_an_error(v in prop::collection::vec(proptest::num::f64::ANY, 6)) {
        let column = OilColumn {
            area: Area::from_m2(v[0]), height: Length::from_m(v[1]), dead_volume: OilVolume::from_l(v[2]),
            bulk_modulus: OilPressure::from_pa(v[3]),
        };
        let hose = HoseSwelling {
            area: Area::from_m2(v[0]), swelling: OilVolume::from_l(v[1]), at_pressure: OilPressure::from_pa(v[2]),
        };
        let k = |index: usize| Stiffness::from_n_per_m(v[index]);
        let results = [
            oil_stiffness(&mut NoLines, &column),
            hose_stiffness(&mut NoLines, &hose),
            block_stiffness(&mut NoLines, Stress::from_pa(v[3]), Area::from_m2(v[4]), Length::from_m(v[5])),
            in_series(&mut NoLines, &[("a", k(0)), ("b", k(1))]),
            linked_stiffness(&mut NoLines, &[(Area::from_m2(v[0]), k(1)), (Area::from_m2(v[2]), k(3))]),
        ];
        for stiffness in results.into_iter().flatten() {
            prop_assert!(0.0 < stiffness.n_per_m() && stiffness.n_per_m().is_finite());
        }
    }
}
