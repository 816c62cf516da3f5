//! What is known of these forces from elsewhere, and what must hold of them.

use super::*;
use crate::check::{Lines, NoLines, Status};
use proptest::prelude::*;
use ramwright_units::{Area, Flow, Force, Length, Range, Stress};

fn mm(value: f64) -> Length {
    Length::from_mm(value)
}

fn mpa(value: f64) -> Stress {
    Stress::from_mpa(value)
}

fn exactly<T: Copy>(value: T) -> Range<T> {
    Range::new(value, value, value)
}

fn member(modulus: f64, poisson: f64) -> Member {
    Member { modulus: mpa(modulus), poisson }
}

/// A solid steel shaft of 50 mm in a hub of 100 mm, 60 mm long, 0.05 mm of interference on the diameter.
fn steel_fit() -> InterferenceFit {
    InterferenceFit {
        joint_diameter: mm(50.0),
        joint_length: mm(60.0),
        hub_outside: mm(100.0),
        shaft_bore: Length::ZERO,
        hub: member(207_000.0, 0.292),
        shaft: member(207_000.0, 0.292),
        hub_yield: None,
        radial_interference: exactly(mm(0.025)),
        friction: exactly(0.15),
        after_service: 1.0,
    }
}

fn pressure_mpa(fit: &InterferenceFit) -> f64 {
    contact_pressure(&mut NoLines, fit, fit.radial_interference.greatest).unwrap().mpa()
}

/// Steel in steel, 50 mm in 100 mm, 0.050 mm on the diameter: p 77.6250 MPa, hoop stress at the bore 129.3750 MPa,
/// 109.7398 kN at a friction of 0.15 over 60 mm. Computed, the pressure also by an independent solution of Lame's four boundary
/// equations; no printed example was found.
#[test]
fn validate_steel_in_steel_row() {
    let found = interference_fit(&mut NoLines, &steel_fit()).unwrap();
    assert!((found.stress.contact_pressure.mpa() - 77.625).abs() < 5e-5, "{found:?}");
    assert!((found.stress.hub_bore_hoop.mpa() - 129.375).abs() < 5e-5);
    assert!((found.force.greatest.kn() - 109.739_8).abs() < 5e-5);
    // For a solid shaft and one material the bound by hand is the formula itself.
    assert!((found.hand.ratio - 1.0).abs() < 1e-12);
}

/// Solid steel shaft of 40 mm in an aluminium hub of 70 mm, 0.040 mm on the diameter: p 27.891948 MPa. Computed both ways.
#[test]
fn validate_steel_in_aluminium_row() {
    let fit = InterferenceFit {
        joint_diameter: mm(40.0),
        hub_outside: mm(70.0),
        hub: member(71_000.0, 0.333),
        radial_interference: exactly(mm(0.020)),
        ..steel_fit()
    };
    assert!((pressure_mpa(&fit) - 27.891_948).abs() < 5e-7, "{}", pressure_mpa(&fit));
}

/// A textbook problem (aluminium gear of 55 mm root diameter on an aluminium shaft of 30 mm, E 69 GPa, interference 0.10 mm;
/// second hand, its answer not shown) has two answers: 80.7851 MPa if the interference is that on the diameter, 161.5702 MPa if
/// it is radial. Computed.
#[test]
fn validate_radial_and_diametral_differ_by_two() {
    let aluminium = member(69_000.0, 0.33);
    let fit = |radial: f64| InterferenceFit {
        joint_diameter: mm(30.0),
        hub_outside: mm(55.0),
        hub: aluminium,
        shaft: aluminium,
        radial_interference: exactly(mm(radial)),
        ..steel_fit()
    };
    assert!((pressure_mpa(&fit(0.05)) - 80.785_1).abs() < 5e-5);
    assert!((pressure_mpa(&fit(0.10)) - 161.570_2).abs() < 5e-5);
}

fn bent(strength: f64, width: f64, thickness: f64, opening: f64, die: DieKind) -> Result<Force, ForceError> {
    let bend = AirBending {
        die,
        die_opening: mm(opening),
        width: mm(width),
        thickness: mm(thickness),
        tensile_strength: exactly(mpa(strength)),
    };
    air_bending(&mut NoLines, &bend).map(|(force, _)| force.greatest)
}

/// Groover, Fundamentals of Modern Manufacturing, example 20.2 as remembered (450 MPa, 44.5 mm, 3.2 mm, D 25 mm): 10 909 N;
/// 400 MPa, 1 000 mm, 5 mm, D 50 mm: 266 000 N (computed; one text prints a tenth of it for the same data).
#[test]
fn validate_air_bending_rows() {
    let v = |strength, width, thickness, opening| bent(strength, width, thickness, opening, DieKind::VDie).unwrap().n();
    assert!((v(450.0, 44.5, 3.2, 25.0) - 10_908.98).abs() < 0.005);
    assert!((v(400.0, 1000.0, 5.0, 50.0) - 266_000.0).abs() < 1e-6);
    assert!((v(450.0, 3000.0, 4.0, 32.0) - 897_750.0).abs() < 1e-6);
    // Edge bending takes 0.33 / 1.33 of it (factor from memory).
    let edge = bent(450.0, 3000.0, 4.0, 32.0, DieKind::EdgeDie).unwrap().n();
    assert!((edge - 897_750.0 * 0.33 / 1.33).abs() < 1e-6);
}

/// The metric shop rule 650 S^2 L / V (second hand): 4 mm, 3 m, V 32 mm give 975 kN, 8.6 % above the formula.
#[test]
fn validate_shop_rule_row() {
    let bend = AirBending {
        die: DieKind::VDie,
        die_opening: mm(32.0),
        width: mm(3000.0),
        thickness: mm(4.0),
        tensile_strength: exactly(mpa(450.0)),
    };
    let (_, hand) = air_bending(&mut NoLines, &bend).unwrap();
    let hand = hand.unwrap();
    assert!((hand.value.value_si - 975_000.0).abs() < 1e-6);
    assert!((hand.ratio - 1.086).abs() < 0.000_5);
}

fn straight(section: BentSection, strength: Stress) -> Result<Force, ForceError> {
    let bar = Straightening { span: mm(1000.0), section, strength: exactly(strength) };
    straightening(&mut NoLines, &bar).map(|(force, _)| force.greatest)
}

/// Plastic section moduli of textbooks: d^3 / 6, (D^3 - d^3) / 6, b h^2 / 4; in the middle of 1 m, 300 MPa on a bar of 60 mm:
/// Z 36 cm3, plastic moment 10.8 kN.m, F 43.2 kN. Exact by arithmetic.
#[test]
fn validate_plastic_hinge_rows() {
    let force = |section| straight(section, mpa(300.0)).unwrap().kn();
    assert!((force(BentSection::Round { diameter: mm(60.0) }) - 43.2).abs() < 1e-9);
    assert!((force(BentSection::Stated { plastic_modulus_m3: 36e-6, depth: mm(60.0) }) - 43.2).abs() < 1e-9);
    assert!((force(BentSection::Rectangle { width: mm(40.0), height: mm(60.0) }) - 43.2).abs() < 1e-9);
    let tube = force(BentSection::Tube { outside: mm(60.0), bore: mm(30.0) });
    assert!((tube - 43.2 * (1.0 - 0.125)).abs() < 1e-9);
}

/// Shape factors of textbooks: 16 / (3 pi) = 1.698 for a round bar, 1.5 for a rectangle.
#[test]
fn validate_shape_factors() {
    let ratio = |section| {
        let bar = Straightening { span: mm(1000.0), section, strength: exactly(mpa(300.0)) };
        straightening(&mut NoLines, &bar).unwrap().1.unwrap().ratio
    };
    assert!((1.0 / ratio(BentSection::Round { diameter: mm(60.0) }) - 1.698).abs() < 0.000_5);
    assert!((1.0 / ratio(BentSection::Rectangle { width: mm(40.0), height: mm(60.0) }) - 1.5).abs() < 1e-12);
    // A thin tube: 4 / pi.
    let thin = 1.0 / ratio(BentSection::Tube { outside: mm(60.0), bore: mm(59.999) });
    assert!((thin - 4.0 / std::f64::consts::PI).abs() < 1e-4, "{thin}");
}

/// Tresca at the bore: hoop 129.375 MPa and pressure 77.625 MPa are 207 MPa apart (the row above).
#[test]
fn verify_the_hub_yields_at_its_bore() {
    let found = |hub_yield: Option<f64>| {
        let fit = InterferenceFit { hub_yield: hub_yield.map(mpa), ..steel_fit() };
        let stress = interference_fit(&mut NoLines, &fit).unwrap().stress;
        hub_bore(&mut NoLines, &stress, "hub_yield").status()
    };
    assert_eq!(found(Some(207.01)), Status::Pass);
    assert_eq!(found(Some(206.99)), Status::Fail);
    assert_eq!(found(None), Status::NotChecked);
}

#[test]
fn verify_a_range_gives_the_force_at_each_end() {
    let fit = InterferenceFit {
        radial_interference: Range::new(Length::ZERO, mm(0.01), mm(0.025)),
        friction: Range::new(0.1, 0.12, 0.15),
        ..steel_fit()
    };
    let one = |radial: f64, friction: f64| {
        let fit =
            InterferenceFit { radial_interference: exactly(mm(radial)), friction: exactly(friction), ..steel_fit() };
        interference_fit(&mut NoLines, &fit).unwrap().force.greatest
    };
    let force = interference_fit(&mut NoLines, &fit).unwrap().force;
    assert_eq!(force, Range::new(Force::ZERO, one(0.01, 0.12), one(0.025, 0.15)));
    let worn = interference_fit(&mut NoLines, &InterferenceFit { after_service: 2.0, ..fit }).unwrap().force;
    assert_eq!((worn.expected, worn.greatest), (force.expected, force.greatest * 2.0));
}

#[test]
fn verify_what_is_no_fit_is_refused() {
    let refused = |change: &dyn Fn(&mut InterferenceFit)| {
        let mut fit = steel_fit();
        change(&mut fit);
        interference_fit(&mut NoLines, &fit).unwrap_err()
    };
    assert_eq!(refused(&|fit| fit.hub_outside = mm(50.0)), ForceError::NoHub);
    assert_eq!(refused(&|fit| fit.shaft_bore = mm(50.0)), ForceError::NoShaft);
    assert_eq!(refused(&|fit| fit.shaft_bore = mm(-1.0)), ForceError::NoShaft);
    assert_eq!(refused(&|fit| fit.hub.poisson = 0.5), ForceError::PoissonRatio);
    assert!(matches!(refused(&|fit| fit.radial_interference = exactly(mm(1.0))), ForceError::TooTight { .. }));
    assert!(matches!(refused(&|fit| fit.friction = Range::new(0.2, 0.1, 0.3)), ForceError::NotInOrder { .. }));
    assert!(matches!(refused(&|fit| fit.after_service = 0.5), ForceError::NotPositive { .. }));
    assert!(matches!(refused(&|fit| fit.joint_length = Length::ZERO), ForceError::NotPositive { .. }));
    let tube = BentSection::Tube { outside: mm(60.0), bore: mm(60.0) };
    assert_eq!(straight(tube, mpa(300.0)), Err(ForceError::NoWall));
    let deep = BentSection::Round { diameter: mm(251.0) };
    assert!(matches!(straight(deep, mpa(300.0)), Err(ForceError::TooShort { .. })));
    assert!(matches!(bent(450.0, 100.0, 5.0, 29.9, DieKind::VDie), Err(ForceError::DieOpening { .. })));
    assert!(bent(450.0, 100.0, 5.0, 30.0, DieKind::VDie).is_ok());
}

/// 6 L/min on two rams of 50 cm2 are 10 mm/s each: definition.
#[test]
fn verify_a_cycle_adds_up() {
    let stroke = |area: f64, flow: f64, length: f64| Stroke {
        area: Area::from_cm2(area),
        flow: Flow::from_l_per_min(flow),
        length: mm(length),
    };
    let back = stroke(25.0, 6.0, 150.0);
    let both = cycle_times(2, stroke(50.0, 6.0, 100.0), stroke(50.0, 1.2, 50.0), Some(back)).unwrap();
    assert!((both.approach.speed.mm_per_s() - 10.0).abs() < 1e-9);
    assert!((both.work.speed.mm_per_s() - 2.0).abs() < 1e-9);
    assert!((both.back.unwrap().speed.mm_per_s() - 20.0).abs() < 1e-9);
    assert!((both.total.unwrap().s() - (10.0 + 25.0 + 7.5)).abs() < 1e-9);
    assert!((both.approach.oil.l() - 1.0).abs() < 1e-9);
    let alone = cycle_times(2, stroke(50.0, 6.0, 0.0), stroke(50.0, 1.2, 50.0), None).unwrap();
    assert_eq!((alone.total, alone.back), (None, None));
    for (rams, bad) in [(0, back), (1, stroke(0.0, 6.0, 1.0)), (1, stroke(1.0, 0.0, 1.0)), (1, stroke(1.0, 1.0, -1.0))]
    {
        assert!(cycle_times(rams, bad, back, None).is_err(), "{bad:?}");
    }
}

fn any_number() -> impl Strategy<Value = f64> {
    prop_oneof![
        3 => 1e-3..1e3_f64,
        1 => proptest::sample::select(vec![0.0, -1.0, 1e-300, 1e300, f64::MAX, f64::NAN, f64::INFINITY, f64::MIN_POSITIVE]),
    ]
}

fn hostile() -> impl Strategy<Value = Work> {
    (proptest::collection::vec(any_number(), 14), 0_u8..7).prop_map(|(v, kind)| {
        let length = |index: usize| mm(v[index]);
        let range = |index: usize| Range::new(mpa(v[index]), mpa(v[index + 1]), mpa(v[index + 2]));
        let section = match kind {
            0 => BentSection::Round { diameter: length(3) },
            1 => BentSection::Tube { outside: length(3), bore: length(4) },
            2 => BentSection::Rectangle { width: length(3), height: length(4) },
            _ => BentSection::Stated { plastic_modulus_m3: v[3], depth: length(4) },
        };
        match kind {
            0..=3 => Work::Straightening(Straightening { span: length(5), section, strength: range(0) }),
            4 => Work::AirBending(AirBending {
                die: DieKind::VDie,
                die_opening: length(3),
                width: length(4),
                thickness: length(5),
                tensile_strength: range(0),
            }),
            _ => Work::InterferenceFit(InterferenceFit {
                joint_diameter: length(0),
                joint_length: length(1),
                hub_outside: length(2),
                shaft_bore: length(3),
                hub: member(v[4], v[5]),
                shaft: member(v[6], v[7]),
                hub_yield: Some(mpa(v[8])),
                radial_interference: Range::new(length(9), length(10), length(11)),
                friction: exactly(v[12]),
                after_service: v[13],
            }),
        }
    })
}

proptest! {
    /// No number, however wild, gives a force that an answer cannot carry.
    #[test]
    fn verify_hostile_numbers_give_a_force_or_a_fault(work in hostile()) {
        if let Ok(found) = estimate("1", &work) {
            let Range { least, expected, greatest } = found.force;
            prop_assert!(0.0 <= least.n() && least <= expected && expected <= greatest && greatest.n().is_finite());
            for line in &found.lines {
                prop_assert!(line.value.value_si.is_finite(), "{line:?}");
                prop_assert!(line.terms.iter().all(|term| term.value.value_si.is_finite()), "{line:?}");
            }
            if let Some(stress) = found.fit {
                prop_assert!(stress.contact_pressure.pa().is_finite() && stress.hub_bore_hoop.pa().is_finite());
                prop_assert!(hub_bore(&mut NoLines, &stress, "x").utilisation().is_some());
            }
        }
    }

    /// Of a fit, more interference, friction, length or wall, and a stiffer hub, never take less force.
    #[test]
    fn verify_a_fit_that_holds_more_takes_more(
        which in 0_usize..5, more in 1.0..1.5_f64, hub in 60.0..200.0_f64, bore in 0.0..45.0_f64, hub_e in 5e4..3e5_f64,
    ) {
        let fit = InterferenceFit {
            hub_outside: mm(hub), shaft_bore: mm(bore), hub: member(hub_e, 0.3), friction: exactly(0.1), ..steel_fit()
        };
        let mut held = fit.clone();
        match which {
            0 => held.radial_interference = exactly(fit.radial_interference.greatest * more),
            1 => held.friction = exactly(0.1 * more),
            2 => held.joint_length = fit.joint_length * more,
            3 => held.hub_outside = fit.hub_outside * more,
            _ => held.hub.modulus = fit.hub.modulus * more,
        }
        let force = |fit: &InterferenceFit| interference_fit(&mut NoLines, fit).unwrap().force.greatest.n();
        prop_assert!(force(&fit) * (1.0 - 1e-12) <= force(&held));
        // Linear in interference, friction and length.
        if which < 3 {
            prop_assert!((force(&held) / force(&fit) - more).abs() < 1e-9);
        }
    }

    /// Of bending, more thickness, width and strength, and a narrower die or shorter span, take more force.
    #[test]
    fn verify_bending_more_takes_more(which in 0_usize..4, more in 1.0..1.2_f64) {
        let bend = AirBending {
            die: DieKind::VDie, die_opening: mm(100.0), width: mm(500.0), thickness: mm(10.0),
            tensile_strength: exactly(mpa(450.0)),
        };
        let mut harder = bend;
        match which {
            0 => harder.die_opening = bend.die_opening / more,
            1 => harder.width = bend.width * more,
            2 => harder.thickness = bend.thickness * more,
            _ => harder.tensile_strength = exactly(mpa(450.0 * more)),
        }
        let force = |bend: &AirBending| air_bending(&mut NoLines, bend).unwrap().0.greatest.n();
        prop_assert!(force(&bend) <= force(&harder) * (1.0 + 1e-12));
    }
}

/// Lines are kept for every end of the range; where service has made the joint tighter, one more gives the greatest force.
#[test]
fn verify_the_lines_end_in_the_greatest_force() {
    for (after_service, symbol) in [(1.0, "F"), (1.5, "F_greatest")] {
        let mut lines = Lines::default();
        let found = interference_fit(&mut lines, &InterferenceFit { after_service, ..steel_fit() }).unwrap();
        let last = lines.0.iter().rev().find(|line| line.symbol.as_str().starts_with('F')).unwrap();
        assert_eq!(last.symbol.as_str(), symbol);
        assert!((last.value.value_si - found.force.greatest.n()).abs() < 1e-9);
        assert_eq!(lines.0.iter().filter(|line| line.symbol.as_str() == "F").count(), 3);
    }
}

/// 32 invented fits solved as boundary problems of Lame's equations, without the closed formula: see `tests/reference/force`.
#[test]
fn validate_fits_against_boundary_problems() {
    let text = include_str!("../../../../tests/reference/force/interference_fits.json");
    let document: serde_json::Value = serde_json::from_str(text).unwrap();
    let tolerance = document["tolerance"].as_f64().unwrap();
    let cases = document["cases"].as_array().unwrap();
    assert!(30 <= cases.len());
    for case in cases {
        let number = |name: &str| case[name].as_f64().unwrap();
        let fit = InterferenceFit {
            joint_diameter: mm(number("joint_diameter_mm")),
            joint_length: mm(number("joint_length_mm")),
            hub_outside: mm(number("hub_outside_mm")),
            shaft_bore: mm(number("shaft_bore_mm")),
            hub: member(number("hub_modulus_mpa"), number("hub_poisson")),
            shaft: member(number("shaft_modulus_mpa"), number("shaft_poisson")),
            radial_interference: exactly(mm(number("radial_interference_mm"))),
            friction: exactly(number("friction")),
            ..steel_fit()
        };
        let found = interference_fit(&mut NoLines, &fit).unwrap();
        let near = |value: f64, name: &str| {
            assert!((value / number(name) - 1.0).abs() < tolerance, "{name}: {value} in {case}");
        };
        near(found.stress.contact_pressure.mpa(), "contact_pressure_mpa");
        near(found.stress.hub_bore_hoop.mpa(), "hub_bore_hoop_mpa");
        near(found.force.greatest.n(), "force_n");
    }
}
