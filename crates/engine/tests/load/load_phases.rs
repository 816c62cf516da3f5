//! What carries in each phase: linked rams, holding stacks, bearings of the load's own, and what the loss of a point
//! leaves.

use crate::load_plan::{by_hand, check, kn, load, m, near, plan, supports};
use ramwright_engine::check::{CheckId, Phase, Status};
use ramwright_engine::load::{
    Carrier, LoadCase, Method, NoEquilibrium, OwnBearing, PhasePlan, SupportKind, share_load,
};
use ramwright_units::{Area, Length, Stiffness};

/// Points 1 (0, 0), 2 (0, 4), 3 (6, 0), 4 (6, 4), in m.
const RECTANGLE: [(f64, f64); 4] = [(0.0, 0.0), (0.0, 4.0), (6.0, 0.0), (6.0, 4.0)];

fn raising(carriers: &[Carrier], linked: &[&[usize]]) -> PhasePlan {
    PhasePlan {
        carriers: carriers.to_vec(),
        linked: linked.iter().map(|group| group.to_vec()).collect(),
        ..PhasePlan::independent(Phase::Raising, carriers.len())
    }
}

fn rams(count: usize, linked: &[&[usize]]) -> PhasePlan {
    raising(&vec![Carrier::Ram; count], linked)
}

/// 1200 kN at (2, 2.5) on the rectangle in these phases.
fn rectangle(phases: Vec<PhasePlan>) -> LoadCase {
    let mut case = load(kn(1200.0), &RECTANGLE, (2.0, 2.5));
    plan(&mut case).phases = phases;
    case
}

fn with_areas(mut case: LoadCase, cm2: &[f64]) -> LoadCase {
    for (point, cm2) in case.points.iter_mut().zip(cm2) {
        point.ram_area = Some(Area::from_cm2(*cm2));
    }
    case
}

fn exact(kn: f64) -> [f64; 3] {
    [kn; 3]
}

/// 1 and 2 are linked and stand at (0, 2); 3 and 4 stand on stacks. Moments about the line of 1 and 2: (R3 + R4) 6 =
/// 1200 x 2, so R3 + R4 = 400 and the group carries 800, 400 each. Along y: 800 x 2 + 4 R4 = 1200 x 2.5, so R4 = 350,
/// R3 = 50.
#[test]
fn validate_two_linked_rams_and_two_stacks_by_hand() {
    let carriers = [Carrier::Ram, Carrier::Ram, Carrier::Packing, Carrier::Packing];
    for levels_mm in [[0.0; 4], [30.0, -30.0, 10.0, -20.0]] {
        let mut case = rectangle(vec![raising(&carriers, &[&[0, 1]])]);
        plan(&mut case).level_band = Some(Length::from_mm(50.0));
        for (point, level) in case.points.iter_mut().zip(levels_mm) {
            point.level = Length::from_mm(level);
            point.stiffness = Some(Stiffness::from_n_per_m(1e8));
            point.held_stiffness = Some(Stiffness::from_n_per_m(1e9));
        }
        let shares = share_load(&case).unwrap();
        assert_eq!(shares.method, Method::Statics);
        let all = supports(&shares);
        let kinds: Vec<_> = all.iter().map(|support| (support.support.as_str(), support.kind)).collect();
        assert_eq!(kinds, [("1+2", SupportKind::LinkedRams), ("3", SupportKind::Packing), ("4", SupportKind::Packing)]);
        for (support, hand) in all.iter().zip([800.0, 50.0, 350.0]) {
            by_hand(&support.share, exact(hand));
        }
        assert_eq!(all[0].points, ["1", "2"]);
        for (point, hand) in shares.points.iter().zip([400.0, 400.0, 0.0, 0.0]) {
            by_hand(&point.share, exact(hand));
        }
        // A stack is no ram: what it carries is told apart.
        assert_eq!(shares.points[0].held, None);
        by_hand(&shares.points[2].held.unwrap(), exact(50.0));
        by_hand(&shares.points[3].held.unwrap(), exact(350.0));
    }
}

/// Areas of 100 and 300 cm2 under one pressure: the group stands at y = (100 x 0 + 300 x 4) / 400 = 3 and carries 800
/// as before, 200 and 600. Along y: 800 x 3 + 4 R4 = 3000, so R4 = 150, R3 = 250.
#[test]
fn validate_linked_rams_of_unequal_area_by_hand() {
    let case = with_areas(rectangle(vec![rams(4, &[&[1, 0]])]), &[100.0, 300.0, 100.0, 100.0]);
    let shares = share_load(&case).unwrap();
    for (point, hand) in shares.points.iter().zip([200.0, 600.0, 250.0, 150.0]) {
        by_hand(&point.share, exact(hand));
    }
}

/// Six points in pairs at the corners of a triangle: groups at (0, 0.5), (6, 0.5) and (3, 4). 1200 kN at (3, 1.2): the
/// third carries 1200 x 0.7 / 3.5 = 240, the others 480 each by symmetry, halves of them at each ram, whatever the
/// levels are.
#[test]
fn validate_three_groups_by_hand() {
    let places = [(0.0, 0.0), (0.0, 1.0), (6.0, 0.0), (6.0, 1.0), (2.5, 4.0), (3.5, 4.0)];
    let mut case = load(kn(1200.0), &places, (3.0, 1.2));
    plan(&mut case).phases = vec![rams(6, &[&[0, 1], &[2, 3], &[4, 5]])];
    for (point, level) in case.points.iter_mut().zip([20.0, -20.0, 5.0, 0.0, -40.0, 3.0]) {
        point.level = Length::from_mm(level);
    }
    let shares = share_load(&case).unwrap();
    assert_eq!(shares.method, Method::Statics);
    for (point, hand) in shares.points.iter().zip([240.0, 240.0, 240.0, 240.0, 120.0, 120.0]) {
        by_hand(&point.share, exact(hand));
    }
}

/// All rams on one manifold act at the centroid (3, 2), and the load at (2, 2.5) goes over towards (-1, 0.5) / 1.118.
#[test]
fn verify_one_manifold_is_refused() {
    let error = share_load(&rectangle(vec![rams(4, &[&[0, 1, 2, 3]])])).unwrap_err();
    let NoEquilibrium::InPhase { cause, .. } = &error else { panic!("{error:?}") };
    let NoEquilibrium::OneSupport { x_mm, y_mm, .. } = &**cause else { panic!("{cause:?}") };
    near(*x_mm, 3000.0);
    near(*y_mm, 2000.0);
    let (x, y) = error.direction().unwrap();
    let length = libm::hypot(1.0, 0.5);
    near(x, -1.0 / length);
    near(y, 0.5 / length);
    let words = error.to_string();
    let parts = ["in the phase raising", "linked", "one support", "turning over", "towards (-0.894, +0.447)"];
    assert!(parts.iter().all(|part| words.contains(part)), "{words}");

    // Right over the centroid it goes over to any side.
    let mut case = load(kn(1200.0), &RECTANGLE, (3.0, 2.0));
    plan(&mut case).phases = vec![rams(4, &[&[0, 1, 2, 3]])];
    let error = share_load(&case).unwrap_err();
    assert_eq!(error.direction(), None);
    assert!(error.to_string().contains("whichever side"), "{error}");
}

/// Two groups at (0, 2) and (6, 2): nothing holds the load against rolling over the line y = 2. The centre at y = 2.5
/// rolls towards +y; on the line it rolls either way, across it.
#[test]
fn verify_two_groups_are_refused() {
    for (centre_m, toward) in [((2.0, 2.5), 1.0), ((2.0, 1.8), -1.0), ((2.0, 2.0), 0.0)] {
        let mut case = load(kn(1200.0), &RECTANGLE, centre_m);
        plan(&mut case).phases = vec![rams(4, &[&[0, 1], &[2, 3]])];
        let error = share_load(&case).unwrap_err();
        let NoEquilibrium::InPhase { cause, .. } = &error else { panic!("{error:?}") };
        let NoEquilibrium::LinkedInLine { from, to, .. } = &**cause else { panic!("{cause:?}") };
        assert_eq!((from.as_str(), to.as_str()), ("1+2", "3+4"));
        let (x, y) = error.direction().unwrap();
        near(x, 0.0);
        near(if toward == 0.0 { y.abs() } else { y * toward }, 1.0);
        assert!(error.to_string().contains("rolling over that line"), "{error}");
    }
}

/// Stacks half a metre inside the rams: from (3, 2) the near edges are 2 m away while the rams carry, 1.5 m on the
/// stacks. On three points each way statics gives a third: centre at the mean of the places.
#[test]
fn validate_holding_on_stacks_that_stand_elsewhere() {
    let places = [(0.0, 0.0), (6.0, 0.0), (3.0, 6.0)];
    let mut case = load(kn(900.0), &places, (3.0, 2.0));
    for (point, (x, y)) in case.points.iter_mut().zip([(0.0, 0.5), (6.0, 0.5), (3.0, 5.0)]) {
        point.packing_at = Some((m(x), m(y)));
    }
    let shares = share_load(&case).unwrap();
    assert_eq!(shares.phases.iter().map(|phase| phase.phase).collect::<Vec<_>>(), [Phase::Raising, Phase::Holding]);
    near(shares.phases[0].tipping.as_ref().unwrap().margin.m(), 4.0 / libm::hypot(2.0, 1.0));
    near(shares.phases[1].tipping.as_ref().unwrap().margin.m(), 1.5);
    // The nearest to tipping of all phases.
    assert_eq!(shares.tipping, shares.phases[1].tipping);
    // On the stacks: R_3 = 900 x 1.5 / 4.5 = 300, and so all of them.
    for point in &shares.points {
        by_hand(&point.share, exact(300.0));
        by_hand(&point.held.unwrap(), exact(300.0));
    }
    assert_eq!(check(&shares, CheckId::Tipping, Phase::Holding).status, Status::Pass);
    // Farther in, the centre is outside: the phase is refused by name.
    for point in &mut case.points[..2] {
        point.packing_at = point.packing_at.map(|(x, _)| (x, m(2.2)));
    }
    let error = share_load(&case).unwrap_err();
    assert!(
        error.to_string().starts_with("in the phase holding: the centre of gravity lies on or outside (by 200.0 mm)"),
        "{error}"
    );
    near(error.direction().unwrap().1, -1.0);
}

/// A hinge at (0, 2) and rams 3 and 4 at x = 6: they carry 1200 x 2 / 6 = 400 together, the hinge 800. Along y: 800 x 2
/// + 4 R4 = 3000, so 350 at 4 and 50 at 3.
#[test]
fn validate_a_bearing_of_the_loads_own() {
    let mut phase = raising(&[Carrier::Nothing, Carrier::Nothing, Carrier::Ram, Carrier::Ram], &[]);
    phase.own_bearings = vec![OwnBearing { id: "hinge".into(), x: m(0.0), y: m(2.0), stiffness: None }];
    assert_eq!(phase.support_count(), 3);
    let shares = share_load(&rectangle(vec![phase])).unwrap();
    let hinge = supports(&shares).last().unwrap();
    assert_eq!((hinge.support.as_str(), hinge.kind, hinge.points.len()), ("hinge", SupportKind::OwnBearing, 0));
    by_hand(&hinge.share, exact(800.0));
    for (point, hand) in shares.points.iter().zip([0.0, 0.0, 50.0, 350.0]) {
        by_hand(&point.share, exact(hand));
    }
    // The hinge is no point that can be lost; without either ram two supports are left, and the load tips.
    assert_eq!(shares.losses.iter().map(|lost| lost.point.as_str()).collect::<Vec<_>>(), ["3", "4"]);
    assert!(shares.losses.iter().all(|lost| !lost.stands));
}

/// A point's share is the greatest over the phases in which its rams carry, and the phase is named by its place.
#[test]
fn verify_the_heaviest_phase_governs() {
    let all = rams(4, &[&[0, 1]]);
    let other = PhasePlan { phase: Phase::Lowering, ..rams(4, &[&[2, 3]]) };
    let shares = share_load(&rectangle(vec![all, other])).unwrap();
    // First phase as above: 400, 400, 50, 350. In the second 3 and 4 stand at (6, 2) and carry 400, and 1 and 2 carry
    // 800: along y 4 R_2 + 400 x 2 = 3000, R_2 = 550, R_1 = 250.
    let hand = [[250.0, 400.0, 400.0], [400.0, 400.0, 550.0], [50.0, 50.0, 200.0], [200.0, 350.0, 350.0]];
    for ((point, hand), phase) in shares.points.iter().zip(hand).zip([0, 1, 1, 0]) {
        by_hand(&point.share, hand);
        assert_eq!(point.governing_phase, Some(phase));
    }
    // Linked rams and nothing said of a pause, when their valves may be shut.
    assert_eq!(check(&shares, CheckId::Phases, Phase::Raising).status, Status::NotChecked);
}

#[test]
fn verify_a_phase_that_keeps_too_little_is_refused_by_name() {
    let carriers = [Carrier::Ram, Carrier::Nothing, Carrier::Nothing, Carrier::Ram];
    let changing = PhasePlan { name: Some("changing 2 and 3".into()), ..raising(&carriers, &[]) };
    let error = share_load(&rectangle(vec![rams(4, &[]), changing.clone()])).unwrap_err();
    let NoEquilibrium::InPhase { phase, cause } = &error else { panic!("{error:?}") };
    assert_eq!(phase, "raising (changing 2 and 3)");
    assert!(matches!(&**cause, NoEquilibrium::OffLine { .. }), "{cause:?}");
    assert!(error.to_string().starts_with("in the phase raising (changing 2 and 3): "), "{error}");
    let nothing = PhasePlan { carriers: vec![Carrier::Nothing; 4], ..changing };
    let error = share_load(&rectangle(vec![nothing])).unwrap_err();
    assert!(error.to_string().ends_with("nothing carries the load"), "{error}");
}
