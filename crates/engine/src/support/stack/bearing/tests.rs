use super::*;
use crate::catalogue::{PackingForm, PackingUse};
use crate::check::{Lines, Status};
use crate::packing_lift::PieceCount;
use crate::support::{En338Class, Nds, NdsSpecies};
use ramwright_units::{Length, PieceMass};

const ASD: DesignBasis = DesignBasis::NdsAsd(Nds { wet: false, concrete_load_factor: 1.6 });

/// An invented block.
pub(crate) fn block(id: &str, thickness: f64, length: f64, width: f64, material: PackingMaterial) -> Packing {
    let mm = Length::from_mm;
    Packing {
        id: id.into(),
        description: String::new(),
        material,
        form: PackingForm::Block,
        thickness: mm(thickness),
        length: mm(length),
        width: mm(width),
        mass: PieceMass::from_kg(20.0),
        settlement_least: Length::ZERO,
        settlement_greatest: mm(0.2),
        load_limit: None,
        nds_species: Some(NdsSpecies::DouglasFirLarch),
        en338_class: Some(En338Class::C24),
        yield_strength: Some(Stress::from_mpa(265.0)),
        members: None,
        member_width: None,
        use_: PackingUse::Either,
        stock: 40,
        day_rate: None,
        week_rate: None,
    }
}

pub(crate) fn stack<'a>(counts: &[(&str, u32)], pieces: &'a [Packing]) -> Stack<'a> {
    let counts: Vec<PieceCount> =
        counts.iter().map(|(piece, count)| PieceCount { piece: (*piece).into(), count: *count }).collect();
    Stack::of(&counts, pieces).unwrap()
}

fn crib(id: &str, inches: f64, members: u32) -> Packing {
    let width = Length::from_mm(inches * 25.4);
    Packing {
        form: PackingForm::CribLayer,
        members: Some(members),
        member_width: Some(width),
        ..block(id, inches * 25.4, 1200.0, 1200.0, PackingMaterial::Softwood)
    }
}

fn load(kn: f64) -> StackLoad<'static> {
    StackLoad { force: Force::from_kn(kn), head: None, contacts_loaded: None, off: OffCentre::NONE }
}

/// Urban search-and-rescue cribs (second hand): at 500 psi the crossings of 4 x 4 in and 6 x 6 in members carry 24 500, 55 125,
/// 60 500 and 136 125 lb before rounding down; the same areas come out here, with 625 psi for Douglas fir-larch.
#[test]
fn validate_crib_contact_areas() {
    for (inches, members, lbf) in [(3.5, 2, 24_500.0), (3.5, 3, 55_125.0), (5.5, 2, 60_500.0), (5.5, 3, 136_125.0)] {
        let pieces = [crib("c", inches, members)];
        let most = lbf * 625.0 / 500.0 * 4.448_221_615_260_5e-3;
        let status = |kn: f64| stack_bearing(&mut NoLines, &stack(&[("c", 4)], &pieces), &load(kn), &ASD).status();
        assert_eq!(status(most * 0.9999), Status::Pass, "{inches} {members}");
        assert_eq!(status(most * 1.0001), Status::Fail, "{inches} {members}");
        let half = StackLoad { contacts_loaded: Some(members), ..load(most * 1.0001 / f64::from(members)) };
        assert_eq!(stack_bearing(&mut NoLines, &stack(&[("c", 4)], &pieces), &half, &ASD).status(), Status::Fail);
    }
}

#[test]
fn verify_a_narrow_plate_crushes_wide_timber() {
    let pieces = [
        block("plate", 5.0, 280.0, 280.0, PackingMaterial::Steel),
        block("baulk", 138.0, 880.0, 880.0, PackingMaterial::Hardwood),
    ];
    let stack = stack(&[("plate", 1), ("baulk", 1)], &pieces);
    // 280 x 280 mm at 625 psi: 337.84 kN.
    let found = |kn: f64| stack_bearing(&mut NoLines, &stack, &load(kn), &ASD);
    assert_eq!(found(337.8).status(), Status::Pass);
    assert_eq!(found(337.9).status(), Status::Fail);
    let written = stack_bearing(&mut Lines::default(), &stack, &load(400.0), &ASD);
    let Finding::Compared { note: Some(note), remedy: Some(remedy), .. } = written else { panic!() };
    assert!(note.as_str().contains("baulk under plate"), "{note}");
    assert!(remedy.as_str().contains("cm2"), "{remedy}");
}

#[test]
fn verify_what_is_missing_is_named() {
    let found = |piece: Packing| {
        let pieces = [piece];
        stack_bearing(&mut NoLines, &stack(&[("a", 2)], &pieces), &load(1.0), &ASD)
    };
    let steel = block("a", 50.0, 300.0, 300.0, PackingMaterial::Steel);
    assert_eq!(found(Packing { yield_strength: None, ..steel }), Finding::missing(["packing/a/yield_strength"]));
    let timber = Packing { nds_species: None, ..block("a", 50.0, 300.0, 300.0, PackingMaterial::Hardwood) };
    assert_eq!(found(timber), Finding::missing(["packing/a/nds_species"]));
    let layer = Packing { members: None, ..crib("a", 3.5, 2) };
    assert_eq!(found(layer), Finding::missing(["packing/a/members"]));
    let unknown = Stack::of(&[PieceCount { piece: "x".into(), count: 1 }], &[]);
    assert!(unknown.is_err());
    assert_eq!(
        stack_bearing(&mut NoLines, &Stack { layers: Vec::new() }, &load(1.0), &ASD).status(),
        Status::NotChecked
    );
}

#[test]
fn verify_open_cribs_need_something_that_reaches_across() {
    let pieces = [crib("c", 3.5, 2), block("plate", 20.0, 300.0, 300.0, PackingMaterial::Steel)];
    let stack = stack(&[("c", 2), ("plate", 1)], &pieces);
    assert_eq!(stack_bearing(&mut NoLines, &stack, &load(1.0), &ASD).status(), Status::NotChecked);
}

#[test]
fn verify_the_ram_s_base_bears_on_the_head() {
    let pieces = [block("baulk", 138.0, 880.0, 880.0, PackingMaterial::Hardwood)];
    let stack = stack(&[("baulk", 1)], &pieces);
    let base = Face::Round(Length::from_mm(200.0));
    let under = |kn: f64| {
        let load = StackLoad { head: Some((base, "the ram's base")), ..load(kn) };
        stack_bearing(&mut NoLines, &stack, &load, &ASD).status()
    };
    // A disc of 200 mm at 4.30922 MPa: 135.38 kN.
    assert_eq!(under(135.3), Status::Pass);
    assert_eq!(under(135.5), Status::Fail);
}

/// A plate spreads a force by its thickness to either side, not by its size; 200 mm round on 2 m x 2 m x 25 mm.
#[test]
fn verify_a_wide_thin_plate_spreads_no_farther_than_its_thickness() {
    let pieces = [block("wide", 25.0, 2_000.0, 2_000.0, PackingMaterial::Steel)];
    let base = Face::Round(Length::from_mm(200.0));
    let foot = stack(&[("wide", 1)], &pieces).foot_under(Some((base, "base")), OffCentre::NONE).unwrap().unwrap();
    let side = 200.0 * (std::f64::consts::PI / 4.0).sqrt() + 50.0;
    assert!((foot.0.mm() - side).abs() < 1e-9 && (foot.1.mm() - side).abs() < 1e-9);
    // 10 mm off the middle at the head and a lean of 0.02: 10.5 mm at the foot, twice that less on one side.
    let off = OffCentre { at_head: Length::from_mm(10.0), per_height: 0.02 };
    let foot = stack(&[("wide", 1)], &pieces).foot_under(Some((base, "base")), off).unwrap().unwrap();
    assert!((foot.1.mm() - (side - 21.0)).abs() < 1e-9);
}

#[test]
fn verify_off_the_middle_is_never_better_and_an_unknown_face_hides_no_failure() {
    let pieces = [crib("c", 3.5, 2), block("plate", 20.0, 300.0, 300.0, PackingMaterial::Steel)];
    let both = stack(&[("c", 2), ("plate", 1)], &pieces);
    assert_eq!(stack_bearing(&mut NoLines, &both, &load(1e5), &ASD).status(), Status::Fail);
    let solid = [block("baulk", 138.0, 400.0, 400.0, PackingMaterial::Hardwood)];
    let one = stack(&[("baulk", 2)], &solid);
    let found = |mm: f64| {
        let off = OffCentre { at_head: Length::from_mm(mm), per_height: 0.01 };
        stack_bearing(&mut NoLines, &one, &StackLoad { off, ..load(300.0) }, &ASD)
    };
    let used = |mm: f64| found(mm).utilisation().unwrap();
    assert!(used(0.0) < used(20.0) && used(20.0) < used(150.0));
    assert_eq!(found(300.0).status(), Status::Fail);
}
