use super::*;
use crate::catalogue::PackingUse;
use crate::check::Status;
use crate::packing_lift::PieceCount;
use crate::support::{En338Class, Nds, NdsSpecies};
use ramwright_units::PieceMass;

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
    StackLoad { force: Force::from_kn(kn), head: None, contacts_loaded: None }
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
    let Finding::Compared { note: Some(note), remedy: Some(remedy), .. } = found(400.0) else { panic!() };
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
