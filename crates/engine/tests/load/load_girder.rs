//! Loads that bend: girders on supports in one line.

use crate::load_plan::{about, between_kn, check, exactly, kn, load, m, near, on_springs, plan, shares_n, supports};
use ramwright_engine::check::{CheckId, Phase, Status};
use ramwright_engine::load::{
    Exactness, GirderLoad, GirderModel, GirderSection, LoadCase, LoadShares, Method, NoEquilibrium, Rule, share_load,
};
use ramwright_units::{Length, SecondMoment, Stiffness, Stress};

/// Length of a span, in m.
const SPAN_M: f64 = 5.0;
/// Modulus of 200 GPa x 0.005 m4 = 1e9 N m2.
const EI_NM2: f64 = 1e9;
/// Supports as good as rigid: `k L^3 / (E I)` is 1e8.
const RIGID_N_PER_M: f64 = 8e14;

/// Equal spans under 60 kN/m.
fn spans(count: u32, stiffness_n_per_m: f64) -> LoadCase {
    let length_m = SPAN_M * f64::from(count);
    let places: Vec<(f64, f64)> = (0..=count).map(|index| (SPAN_M * f64::from(index), 0.0)).collect();
    let weight = kn(60.0 * length_m);
    let mut case = load(weight, &places, (length_m / 2.0, 0.0));
    on_springs(&mut case, &vec![stiffness_n_per_m; places.len()]);
    plan(&mut case).rule = Rule::Girder(GirderModel {
        from: m(0.0),
        to: m(length_m),
        sections: vec![GirderSection {
            from: m(0.0),
            modulus: Stress::from_mpa(200_000.0),
            second_moment: SecondMoment::from_m4(0.005),
        }],
        loads: vec![GirderLoad::Uniform { from: m(0.0), to: m(length_m), weight }],
    });
    case
}

/// Reactions over w L.
fn over_wl(shares: &LoadShares) -> Vec<f64> {
    shares_n(shares).iter().map(|share| share[1] / (60e3 * SPAN_M)).collect()
}

#[track_caller]
fn agree(found: &[f64], table: &[f64], within: f64) {
    assert_eq!(found.len(), table.len());
    assert!(found.iter().zip(table).all(|(a, b)| (a - b).abs() <= within), "{found:?}, table {table:?}");
}

/// T. G. Hicks, *Civil Engineering Formulas*, table 2.1: reactions over w L and the greatest hogging moment over w L^2
/// of two, three and four equal spans under an even load on rigid supports (four spans as exact fractions).
#[test]
fn validate_equal_spans_against_the_table() {
    for (count, table, hogging) in [
        (2, vec![3.0 / 8.0, 10.0 / 8.0, 3.0 / 8.0], 1.0 / 8.0),
        (3, vec![0.4, 1.1, 1.1, 0.4], 0.1),
        (4, vec![11.0 / 28.0, 32.0 / 28.0, 26.0 / 28.0, 32.0 / 28.0, 11.0 / 28.0], 3.0 / 28.0),
    ] {
        let shares = share_load(&spans(count, RIGID_N_PER_M)).unwrap();
        assert_eq!(shares.method, Method::Girder);
        agree(&over_wl(&shares), &table, 1e-6);
        let bending = shares.phases[0].bending.unwrap();
        agree(&[bending.hogging.nm() / (60e3 * SPAN_M * SPAN_M)], &[-hogging], 1e-6);
    }
}

/// Two spans on the greatest sagging moment: 9 / 128 w L^2 at 3 / 8 L, where the shear `3/8 w L - w x` is nought.
#[test]
fn validate_the_sagging_moment_of_two_spans() {
    let bending = share_load(&spans(2, RIGID_N_PER_M)).unwrap().phases[0].bending.unwrap();
    agree(&[bending.sagging.nm() / (60e3 * SPAN_M * SPAN_M)], &[9.0 / 128.0], 1e-6);
    let at_m = bending.sagging_at.m();
    agree(&[at_m.min(2.0 * SPAN_M - at_m)], &[3.0 / 8.0 * SPAN_M], 1e-4);
}

/// `PyNite` with exact multiples of E I / L^3 for one support of two or three spans that settles; one that is raised
/// does the opposite. Two spans, the middle: 3, -6, 3; an end: -1.5, 3, -1.5. Three spans, the first inside: 3.6, -9.6,
/// 8.4, -2.4.
#[test]
fn validate_one_support_raised() {
    let unit_n_per_m = EI_NM2 / (SPAN_M * SPAN_M * SPAN_M);
    for (count, which, table) in
        [(2, 1, vec![-3.0, 6.0, -3.0]), (2, 0, vec![1.5, -3.0, 1.5]), (3, 1, vec![-3.6, 9.6, -8.4, 2.4])]
    {
        let case = spans(count, RIGID_N_PER_M);
        let shares = share_load(&case).unwrap();
        let alone: Vec<f64> =
            supports(&shares)[which].raised_alone.iter().map(|k| k.n_per_m() / unit_n_per_m).collect();
        agree(&alone, &table, 1e-5);
        // And so it comes when it is raised by a millimetre, 8 kN of E I / L^3.
        let mut raised = case.clone();
        raised.points[which].level = Length::from_mm(1.0);
        let then = share_load(&raised).unwrap();
        let change: Vec<f64> = shares_n(&then)
            .iter()
            .zip(shares_n(&shares))
            .map(|(then, now)| (then[1] - now[1]) / (unit_n_per_m * 1e-3))
            .collect();
        agree(&change, &table, 1e-4);
    }
}

/// A band of 2 mm lets each of three supports be 1 mm off either way. With E I / L^3 = 8 kN/mm that changes the middle
/// by (3 + 6 + 3) x 8 = 96 kN at most, and an end by (1.5 + 3 + 1.5) x 8 = 48 kN; all keep their load, so all is
/// linear.
#[test]
fn validate_a_level_band_in_contact() {
    let mut case = spans(2, RIGID_N_PER_M);
    plan(&mut case).level_band = Some(Length::from_mm(2.0));
    let shares = share_load(&case).unwrap();
    let hand_kn = [[112.5 - 48.0, 112.5, 112.5 + 48.0], [375.0 - 96.0, 375.0, 375.0 + 96.0]];
    for (index, hand) in [0, 1, 0].into_iter().enumerate() {
        let share = shares_n(&shares)[index].map(|n| n / 1e3);
        agree(&share, &hand_kn[hand], 1e-3);
        let any = shares.points[index].any_equilibrium.unwrap();
        assert!(any.least <= shares.points[index].share.least && shares.points[index].share.greatest <= any.greatest);
    }
    assert_eq!(check(&shares, CheckId::Contact, Phase::Raising).status, Status::Pass);
    assert!(shares.why.to_string().contains("every support keeps its load"), "{}", shares.why);
}

/// In a band of 10 mm an end could lose five times 48 kN of its 112.5, so the bounds of any equilibrium stand instead:
/// of 600 kN in the middle of three supports in line an end carries half at most, the middle all, and each may carry
/// nothing.
#[test]
fn validate_lift_off_falls_back_on_any_equilibrium() {
    let mut case = spans(2, RIGID_N_PER_M);
    plan(&mut case).level_band = Some(Length::from_mm(10.0));
    let shares = share_load(&case).unwrap();
    for (found, hand) in shares_n(&shares).iter().zip([[0.0, 112.5, 300.0], [0.0, 375.0, 600.0], [0.0, 112.5, 300.0]]) {
        agree(&found.map(|n| n / 1e3), &hand, 1e-3);
    }
    assert!(shares.why.to_string().contains("any equilibrium"), "{}", shares.why);
    assert!(supports(&shares).iter().all(|support| support.exactness == Exactness::SafeSide));
    assert_eq!(check(&shares, CheckId::Contact, Phase::Raising).status, Status::Caution);
}

/// More weight and a centre less well known only widen the shares, and never beyond any equilibrium.
#[test]
fn verify_tolerances_of_a_girder_widen_its_shares() {
    let narrow = share_load(&spans(3, 5e8)).unwrap();
    let mut case = spans(3, 5e8);
    case.weight = between_kn(855.0, 900.0, 945.0);
    plan(&mut case).centre.x = about(7.5, 0.1);
    plan(&mut case).level_band = Some(Length::from_mm(1.0));
    let wide = share_load(&case).unwrap();
    assert_eq!(wide.method, Method::Girder);
    for (narrow, wide) in narrow.points.iter().zip(&wide.points) {
        let any = wide.any_equilibrium.unwrap_or(wide.share);
        assert!(wide.share.least < narrow.share.least && narrow.share.greatest < wide.share.greatest);
        near(wide.share.expected.kn(), narrow.share.expected.kn());
        assert!(any.least <= wide.share.least && wide.share.greatest <= any.greatest);
    }
}

/// What no girder of this kind can stand on is refused, and the words say why.
#[test]
fn verify_mechanisms_are_refused() {
    let words = |change: &dyn Fn(&mut LoadCase)| {
        let mut case = spans(2, 5e8);
        change(&mut case);
        let error = share_load(&case).unwrap_err();
        assert!(matches!(error, NoEquilibrium::Girder(_)), "{error:?}");
        error.to_string()
    };
    // Its weight beyond its last support: it tips.
    let beyond = words(&|case| {
        let Rule::Girder(girder) = &mut plan(case).rule else { unreachable!() };
        girder.to = m(30.0);
        girder.loads = vec![GirderLoad::Point { at: m(10.5), weight: kn(600.0) }];
        plan(case).centre.x = exactly(m(10.5));
    });
    assert!(beyond.contains("tip") || beyond.contains("beyond"), "{beyond}");
    // Points that do not lie in one line, or not along x.
    let off = words(&|case| plan(case).positions[1].1 = m(0.2));
    assert!(off.contains("one line along x"), "{off}");
    let across = words(&|case| plan(case).positions.iter_mut().for_each(|at| *at = (at.1, at.0)));
    assert!(across.contains("one line along x"), "{across}");
    // Its weight beside the line of its supports: nothing holds it against rolling.
    let beside = words(&|case| plan(case).centre.y = exactly(m(0.1)));
    assert!(beside.contains("one line along x"), "{beside}");
    let unknown = words(&|case| case.points[1].stiffness = None);
    assert!(unknown.contains("stiffness"), "{unknown}");
    let soft = words(&|case| case.points[1].stiffness = Some(Stiffness::from_n_per_m(0.0)));
    assert!(!soft.is_empty());
}

/// A girder is looked at along its length only: across it nothing holds it, and the check of tipping says so.
#[test]
fn verify_a_girder_may_roll_over_sideways() {
    let shares = share_load(&spans(2, 5e8)).unwrap();
    let tipping = check(&shares, CheckId::Tipping, Phase::Raising);
    assert_eq!(tipping.status, Status::Caution);
    assert!(tipping.note.as_ref().unwrap().to_string().contains("rolling over sideways"));
    near(shares.tipping.as_ref().unwrap().margin.m(), 5.0);
}

/// Lost in turn: without the middle the ends carry half each; without an end the load, over the middle, has no room
/// left.
#[test]
fn verify_losses_of_a_girder() {
    let shares = share_load(&spans(2, 5e8)).unwrap();
    let stands: Vec<bool> = shares.losses.iter().map(|lost| lost.stands).collect();
    assert_eq!(stands, [false, true, false]);
    near(shares.losses[1].heaviest_share.unwrap().kn(), 300.0);
}
