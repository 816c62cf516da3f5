use super::*;
use crate::check::NoLines;
use crate::support::Allowable;

const LBF_N: f64 = 4.448_221_615_260_5;

fn inch(value: f64) -> Length {
    Length::from_mm(value * 25.4)
}

fn nds(wet: bool) -> DesignBasis {
    DesignBasis::NdsAsd(Nds { wet, concrete_load_factor: 1.6 })
}

fn eurocode(duration: Duration) -> DesignBasis {
    let service_class = ServiceClass::Two;
    DesignBasis::Eurocode(Eurocode { load_factor: 1.0, duration, service_class, alpha_cc: 0.85 })
}

fn fir() -> Timber {
    Timber { nds: Some(NdsSpecies::DouglasFirLarch), en338: None }
}

fn of_class(class: En338Class) -> Timber {
    Timber { nds: None, en338: Some(class) }
}

fn capacity(contact: &Contact, timber: Timber, basis: &DesignBasis) -> f64 {
    let found = resistance(&mut NoLines, contact, timber, basis, ("timber/", "own")).unwrap();
    found.strength.pa() * found.area.m2()
}

/// NDS 3.10.4 (second hand): `C_b` by exact arithmetic.
#[test]
fn validate_bearing_factor() {
    let rows = [
        (0.5, 1.75),
        (1.0, 1.375),
        (1.5, 1.25),
        (2.0, 1.1875),
        (3.0, 1.125),
        (3.5, 1.107_143),
        (4.0, 1.093_75),
        (5.5, 1.068_182),
        (6.0, 1.0),
    ];
    for (length, factor) in rows {
        assert!((bearing_factor(inch(length), Some(inch(3.0))) - factor).abs() < 5e-7, "{length}");
    }
    assert!((bearing_factor(inch(3.5), Some(inch(2.9))) - 1.0).abs() < 1e-12);
    assert!((bearing_factor(inch(3.5), None) - 1.0).abs() < 1e-12);
}

/// Douglas fir-larch, 3.5 x 3.5 in (plain arithmetic of the NDS): 7 656.25, 8 476.5625 and wet 5 679.297 lbf.
#[test]
fn validate_nds_contacts() {
    let bare = Contact::bare(inch(3.5), inch(3.5));
    let inside = Contact { to_end: Some(inch(5.0)), ..bare };
    for (contact, wet, lbf) in [(bare, false, 7_656.25), (inside, false, 8_476.562_5), (inside, true, 5_679.297)] {
        let found = capacity(&contact, fir(), &nds(wet)) / LBF_N;
        assert!((found - lbf).abs() < 1e-3, "{found} for {lbf}");
    }
}

/// EN 1995-1-1, 6.1.5 (plain arithmetic of the clause): resistance in kN of five cases.
#[test]
fn validate_eurocode_contacts() {
    let mm = Length::from_mm;
    let case = |b: f64, l: f64, a: f64, l1: f64, h: f64, support| Contact {
        length: mm(l),
        width: mm(b),
        to_end: Some(mm(a)),
        to_next: Some(mm(l1)),
        support: Some((mm(h), support)),
    };
    let rows = [
        (case(100.0, 100.0, 200.0, 600.0, 200.0, Support::Discrete), En338Class::C24, Duration::Short, 41.538_5),
        (case(100.0, 100.0, 0.0, 600.0, 200.0, Support::Discrete), En338Class::C24, Duration::Short, 33.750_0),
        (case(100.0, 100.0, 20.0, 600.0, 200.0, Support::Discrete), En338Class::C24, Duration::Short, 38.942_3),
        (case(60.0, 60.0, 500.0, 565.0, 60.0, Support::Continuous), En338Class::C24, Duration::Medium, 13.846_2),
        (
            case(150.0, 150.0, 150.0, 600.0, 150.0, Support::Discrete),
            En338Class::D30Edition2016,
            Duration::Short,
            115.580_8,
        ),
    ];
    for (contact, class, duration, kn) in rows {
        let found = capacity(&contact, of_class(class), &eurocode(duration)) / 1e3;
        assert!((found - kn).abs() < 5e-5, "{found} for {kn}");
    }
}

/// Design strengths of EN 1995-1-1 with `gamma_M` 1.3 in service class 2 (plain arithmetic).
#[test]
fn validate_design_strengths() {
    let durations = [Duration::Permanent, Duration::Long, Duration::Medium, Duration::Short, Duration::Instantaneous];
    let rows = [
        (En338Class::C16, [1.015_4, 1.184_6, 1.353_8, 1.523_1, 1.861_5]),
        (En338Class::C24, [1.153_8, 1.346_2, 1.538_5, 1.730_8, 2.115_4]),
        (En338Class::D30Edition2016, [2.446_2, 2.853_8, 3.261_5, 3.669_2, 4.484_6]),
        (En338Class::D40Edition2016, [2.538_5, 2.961_5, 3.384_6, 3.807_7, 4.653_8]),
    ];
    let bare = Contact::bare(Length::from_mm(100.0), Length::from_mm(100.0));
    for (class, row) in rows {
        for (duration, mpa) in durations.into_iter().zip(row) {
            let found = resistance(&mut NoLines, &bare, of_class(class), &eurocode(duration), ("", "")).unwrap();
            assert!((found.strength.mpa() - mpa).abs() < 6e-5, "{class:?} {duration:?}");
        }
    }
    assert!((modification_factor(Duration::Medium, ServiceClass::Three) - 0.65).abs() < 1e-12);
}

#[test]
fn verify_just_passes_and_just_fails() {
    let contact = Contact::bare(Length::from_mm(200.0), Length::from_mm(150.0));
    let timber = Timber { nds: Some(NdsSpecies::DouglasFirLarch), en338: Some(En338Class::D30Edition2016) };
    let own =
        DesignBasis::Custom(Allowable { timber_across_grain: Some(Stress::from_mpa(3.0)), ..Allowable::default() });
    for basis in [nds(true), eurocode(Duration::Medium), own] {
        let most = capacity(&contact, timber, &basis);
        let status =
            |n: f64| timber_bearing(&mut NoLines, Force::from_n(n), &contact, timber, &basis, ("", "")).status();
        assert_eq!(status(most * 0.9999), Status::Pass);
        assert_eq!(status(most * 1.0001), Status::Fail);
        assert_eq!(status(f64::NAN), Status::Fail);
    }
}

#[test]
fn verify_a_timber_of_other_rules_is_not_checked() {
    let contact = Contact::bare(Length::from_mm(200.0), Length::from_mm(150.0));
    let found =
        |timber, basis| timber_bearing(&mut NoLines, Force::from_kn(1.0), &contact, timber, &basis, ("t/", "own"));
    assert_eq!(found(fir(), eurocode(Duration::Short)), Finding::missing(["t/en338_class"]));
    assert_eq!(found(of_class(En338Class::C24), nds(false)), Finding::missing(["t/nds_species"]));
    assert_eq!(found(fir(), DesignBasis::Custom(Allowable::default())), Finding::missing(["own"]));
}

#[test]
fn verify_a_strength_from_memory_is_no_plain_pass() {
    let contact = Contact::bare(Length::from_mm(200.0), Length::from_mm(150.0));
    let oak = Timber { nds: Some(NdsSpecies::WhiteOak), en338: Some(En338Class::D30Edition2009) };
    for basis in [nds(true), eurocode(Duration::Medium)] {
        let found = timber_bearing(&mut NoLines, Force::from_kn(1.0), &contact, oak, &basis, ("", ""));
        assert_eq!(found.status(), Status::Caution);
    }
}
