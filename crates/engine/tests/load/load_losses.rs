//! Each point lost in turn, and what would bring the greatest share down.

use crate::load_plan::{about, kn, load, near, on_springs, plan};
use ramwright_engine::check::Phase;
use ramwright_engine::load::{LoadCase, LoadShares, Method, PhasePlan, PointLost, Rule, share_load};
use ramwright_units::Length;

/// Points 1 (0, 0), 2 (6, 0), 3 (6, 4), 4 (0, 4), in m.
const RING: [(f64, f64); 4] = [(0.0, 0.0), (6.0, 0.0), (6.0, 4.0), (0.0, 4.0)];

#[track_caller]
fn lost<'a>(shares: &'a LoadShares, point: &str) -> &'a PointLost {
    shares.losses.iter().find(|lost| lost.point == point).unwrap()
}

fn linked(mut case: LoadCase, groups: &[&[usize]]) -> LoadCase {
    let count = case.points.len();
    plan(&mut case).phases = vec![PhasePlan {
        linked: groups.iter().map(|group| group.to_vec()).collect(),
        ..PhasePlan::independent(Phase::Raising, count)
    }];
    case
}

/// 1200 kN at (2, 1.5). The diagonal from 1 to 3 passes x = 2 at y = 1.333 and the one from 2 to 4 at y = 2.667, so the
/// centre lies in the triangles 1-3-4 and 1-2-4, and outside 2-3-4 and 1-2-3.
///
/// Without 2: R3 = 1200 x 2 / 6 = 400, 4 (R3 + R4) = 1800, so R4 = 50 and R1 = 750. Without 3: R2 = 400, R4 = 450, R1 =
/// 350. From the diagonal 1-3 the centre is 1 / sqrt(52) m away: the margin without 2, and how far it is outside
/// without 4.
#[test]
fn validate_each_point_lost_by_statics() {
    let shares = share_load(&load(kn(1200.0), &RING, (2.0, 1.5))).unwrap();
    assert_eq!(shares.losses.iter().map(|lost| lost.stands).collect::<Vec<_>>(), [false, true, true, false]);
    let (second, third) = (lost(&shares, "2"), lost(&shares, "3"));
    assert_eq!((second.heaviest.as_deref(), third.heaviest.as_deref()), (Some("1"), Some("4")));
    near(second.heaviest_share.unwrap().kn(), 750.0);
    near(third.heaviest_share.unwrap().kn(), 450.0);
    near(second.tipping.as_ref().unwrap().margin.m(), 1.0 / libm::sqrt(52.0));
    let fourth = lost(&shares, "4");
    assert_eq!((fourth.heaviest.as_ref(), fourth.tipping.as_ref()), (None, None));
    assert!(fourth.what.to_string().contains("outside (by 138.7 mm) the line"), "{}", fourth.what);
}

/// The same with the centre within 0.2 m: 1 / sqrt(52) = 0.139 m from the diagonal no longer holds it.
#[test]
fn validate_a_loss_that_only_the_tolerance_tips() {
    let mut case = load(kn(1200.0), &RING, (2.0, 1.5));
    plan(&mut case).centre.x = about(2.0, 0.2);
    plan(&mut case).centre.y = about(1.5, 0.2);
    let shares = share_load(&case).unwrap();
    let second = lost(&shares, "2");
    assert!(!second.stands);
    assert!(
        second.what.to_string().contains("within the tolerances it tips over the line from 1 to 3"),
        "{}",
        second.what
    );
    // The box reaches 0.2 (4 + 6) / sqrt(52) towards the diagonal.
    near(second.tipping.as_ref().unwrap().margin.m(), (1.0 - 2.0) / libm::sqrt(52.0));
}

/// Five points, 1 and 4 linked: with either both are lost. Then 2, 3 and 5 hold (2, 2): 5 carries 1200 x (6 - 2) / 5 = 960, and
/// the near edge runs from 5 by (5, 2.2) to 3, |5 x 0.2 - 2.2 x 1| / sqrt(5^2 + 2.2^2) away; with 4 left it would be no edge.
#[test]
fn validate_rams_on_one_hose_are_lost_together() {
    let places = [(0.0, 0.0), (6.0, 0.0), (6.0, 4.0), (0.0, 4.0), (1.0, 1.8)];
    let shares = share_load(&linked(load(kn(1200.0), &places, (2.0, 2.0)), &[&[0, 3]])).unwrap();
    for (point, mate) in [("1", "4"), ("4", "1")] {
        let lost = lost(&shares, point);
        assert_eq!(lost.lost_with, [mate]);
        assert!(lost.stands);
        assert_eq!(lost.heaviest.as_deref(), Some("5"));
        near(lost.heaviest_share.unwrap().kn(), 960.0);
        near(lost.tipping.as_ref().unwrap().margin.m(), 1.2 / libm::sqrt(29.84));
    }
    // The group stands at (0, 2). With 5 and 3, or with 5 and 2, it has the centre outside; with 2 and 3 inside.
    for (point, stands) in [("2", false), ("3", false), ("5", true)] {
        assert_eq!(lost(&shares, point).stands, stands, "{point}");
        assert!(lost(&shares, point).lost_with.is_empty());
    }
}

/// 1000 kN in the middle of four equal points whose levels are not known: two that stand across can carry all, 500 each
/// (statics). With two neighbours linked three supports are left: at the middle of one side 500, so 250 at each of its
/// rams, and 250 at each of the others.
#[test]
fn validate_linking_two_of_four_by_hand() {
    let shares = share_load(&load(kn(1000.0), &RING, (3.0, 2.0))).unwrap();
    assert_eq!(shares.method, Method::WorstEquilibrium);
    assert_eq!(shares.advice.len(), 1);
    let advice = &shares.advice[0];
    near(advice.greatest_share.kn(), 500.0);
    near(advice.greatest_share_then.kn(), 250.0);
    assert!(advice.words.to_string().contains("falls from 500 to 250 kN"), "{}", advice.words);
    assert_eq!((advice.link.len(), advice.link[0].len(), advice.level_tolerance), (1, 2, None));
    // Linked as advised it comes true.
    let group: Vec<usize> = advice.link[0].iter().map(|id| id.parse::<usize>().unwrap() - 1).collect();
    let then = share_load(&linked(load(kn(1000.0), &RING, (3.0, 2.0)), &[&group])).unwrap();
    assert_eq!(then.method, Method::Statics);
    near(then.heaviest().unwrap().share.greatest.kn(), 250.0);
}

/// 50 kN/mm at each point. One that stands higher by d takes k d / 4 more (warping of a rigid body on four equal
/// springs), so with all in a band b, each up to b / 2 off, the greatest is 250 + 4 x 50 b / 8 kN: 300 for 2 mm, 375
/// for 5 mm, 500 for 10 mm, which is no gain. So 5 mm is the widest that gains.
#[test]
fn validate_holding_levels_by_hand() {
    let mut case = load(kn(1000.0), &RING, (3.0, 2.0));
    on_springs(&mut case, &[50e6; 4]);
    let shares = share_load(&case).unwrap();
    let levels: Vec<_> = shares.advice.iter().filter(|advice| advice.level_tolerance.is_some()).collect();
    assert_eq!(levels.len(), 1);
    near(levels[0].level_tolerance.unwrap().mm(), 5.0);
    near(levels[0].greatest_share.kn(), 500.0);
    near(levels[0].greatest_share_then.kn(), 375.0);
    assert!(levels[0].link.is_empty());
    // Held as advised it comes true.
    plan(&mut case).level_band = Some(Length::from_mm(5.0));
    let then = share_load(&case).unwrap();
    assert_eq!(then.method, Method::Elastic);
    near(then.heaviest().unwrap().share.greatest.kn(), 375.0);
}

/// Whoever asks for the worst equilibrium gets no advice, and three points need none.
#[test]
fn verify_no_advice_where_levels_do_not_matter_or_are_not_to() {
    let mut case = load(kn(1000.0), &RING, (3.0, 2.0));
    plan(&mut case).rule = Rule::WorstEquilibrium;
    assert!(share_load(&case).unwrap().advice.is_empty());
    assert!(share_load(&load(kn(1000.0), &RING[..3], (4.0, 1.0))).unwrap().advice.is_empty());
}
