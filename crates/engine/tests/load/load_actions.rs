//! Wind, slope, motion and horizontal force on three points, by hand; distance from tipping; weight and stiffness from
//! their parts.
//!
//! The points are 1 (0, 0), 2 (8, 0) and 3 (0, 6), in m, and the centre is at (2, 2): R2 = W x / 8, R3 = W y / 6, and 1
//! carries the rest, so W = 900 kN gives 375, 225 and 300. A moment M pushes R2 by M / 8 along x and R3 by M / 6 along
//! y; R1 falls by M 5 / 24 towards the far edge, whose normal is (3, 4) / 5: sqrt(1/64 + 1/36) = 5 / 24.

use crate::load_plan::{about, all_by_hand, between_kn, check, kn, load, m, near, plan};
use ramwright_engine::check::{CheckId, Phase, Status};
use ramwright_engine::load::{Actions, Horizontal, LoadCase, LoadShares, Slope, Wind, share_load};
use ramwright_units::{Angle, Area, ForceRange, GroundPressure};

const PLACES: [(f64, f64); 3] = [(0.0, 0.0), (8.0, 0.0), (0.0, 6.0)];

fn none() -> Actions {
    Actions::only(Horizontal::ShareOfWeight(0.0))
}

fn case(actions: Actions) -> LoadCase {
    let mut case = load(kn(900.0), &PLACES, (2.0, 2.0));
    case.actions = actions;
    case
}

fn shares(actions: Actions) -> LoadShares {
    share_load(&case(actions)).unwrap()
}

/// 0.5 kPa on 40 m2 is 20 kN; 3 m high they make 60 kN m.
fn wind(toward: Option<Angle>) -> Wind {
    Wind { pressure: GroundPressure::from_kpa(0.5), area: Area::from_m2(40.0), height: m(3.0), toward }
}

/// A slope of 1 in 20.
fn slope(toward: Option<Angle>) -> Slope {
    Slope { angle: Angle::from_rad(libm::atan(0.05)), toward }
}

/// 60 / 8 = 7.5, 60 / 6 = 10, 60 x 5 / 24 = 12.5 kN either way.
#[test]
fn validate_wind_from_anywhere() {
    let shares = shares(Actions { wind: Some(wind(None)), ..none() });
    all_by_hand(&shares.points, &[[362.5, 375.0, 387.5], [217.5, 225.0, 232.5], [290.0, 300.0, 310.0]]);
    near(shares.horizontal_force.kn(), 20.0);
}

/// Towards +x, from calm to 20 kN: 7.5 kN go from 1 to 2, none to 3. Towards -y, 10 kN go from 3 to 1.
#[test]
fn validate_wind_of_known_direction() {
    let along_x = shares(Actions { wind: Some(wind(Some(Angle::from_deg(0.0)))), ..none() });
    all_by_hand(&along_x.points, &[[367.5, 375.0, 375.0], [225.0, 225.0, 232.5], [300.0; 3]]);
    let against_y = shares(Actions { wind: Some(wind(Some(Angle::from_deg(-90.0)))), ..none() });
    all_by_hand(&against_y.points, &[[375.0, 375.0, 385.0], [225.0; 3], [290.0, 300.0, 300.0]]);
}

/// On a slope of tan a = 0.05 the force is W sin a, at right angles to the supports W cos a: 2 m high, the resultant is
/// off by 0.05 x 2 = 0.1 m. Any direction: the share of 2 changes by 0.1 / 8 = 0.0125, of 3 by 0.1 / 6, of 1 by 0.5 /
/// 24; least at the vertical load 900 cos a, greatest at 900, as if the slope took nothing.
#[test]
fn validate_a_slope_of_any_direction() {
    let cos = 1.0 / libm::sqrt(1.0 + 0.05 * 0.05);
    let shares = shares(Actions { slope: Some(slope(None)), ..none() });
    let ends = |share: f64, off: f64| [900.0 * cos * (share - off), 900.0 * share, 900.0 * (share + off)];
    all_by_hand(&shares.points, &[ends(10.0 / 24.0, 0.5 / 24.0), ends(0.25, 0.0125), ends(1.0 / 3.0, 0.1 / 6.0)]);
    near(shares.vertical_load.least.kn(), 900.0 * cos);
    near(shares.vertical_load.greatest.kn(), 900.0);
    near(shares.horizontal_force.kn(), 900.0 * 0.05 * cos);
}

/// Downhill along +x: up to 900 x 0.05 x 2 = 90 kN m, so 11.25 kN from 1 to 2.
#[test]
fn validate_a_slope_of_known_direction() {
    let cos = 1.0 / libm::sqrt(1.0 + 0.05 * 0.05);
    let shares = shares(Actions { slope: Some(slope(Some(Angle::from_deg(0.0)))), ..none() });
    all_by_hand(
        &shares.points,
        &[[375.0 * cos - 11.25, 375.0, 375.0], [225.0 * cos, 225.0, 236.25], [300.0 * cos, 300.0, 300.0]],
    );
}

/// 1.1: from 810 to 990 kN. Every share is 0.9 to 1.1 times; with 2.5 % at 2 m, 0.05 m off: 990 (0.25 + 0.05 / 8) at 2.
#[test]
fn validate_a_dynamic_factor() {
    let moved = shares(Actions { dynamic_factor: 1.1, ..none() });
    all_by_hand(&moved.points, &[[337.5, 375.0, 412.5], [202.5, 225.0, 247.5], [270.0, 300.0, 330.0]]);
    let pushed = shares(Actions { dynamic_factor: 1.1, ..Actions::only(Horizontal::ShareOfWeight(0.025)) });
    near(pushed.points[1].share.greatest.kn(), 990.0 * (0.25 + 0.05 / 8.0));
    near(pushed.points[1].share.least.kn(), 810.0 * (0.25 - 0.05 / 8.0));
    near(pushed.horizontal_force.kn(), 990.0 * 0.025);
}

/// Wind of 60 kN m from anywhere is more than 2.5 % of 900 at 2 m, 45 kN m: it alone counts. A third of it counts
/// towards the 45. Wind from one side leaves the others bare, so it comes on top.
#[test]
fn validate_the_least_horizontal_force() {
    let least = Horizontal::AtLeast(0.025);
    let by = |wind: Option<Wind>| shares(Actions { wind, ..Actions::only(least) }).points[1].share;
    let bare = by(None);
    near(bare.greatest.kn(), 225.0 + 45.0 / 8.0);
    near(bare.least.kn(), 225.0 - 45.0 / 8.0);
    near(by(Some(wind(None))).greatest.kn(), 225.0 + 60.0 / 8.0);
    let third = Wind { height: m(1.0), ..wind(None) };
    near(by(Some(third)).greatest.kn(), 225.0 + 45.0 / 8.0);
    let directed = by(Some(wind(Some(Angle::from_deg(0.0)))));
    near(directed.greatest.kn(), 225.0 + (45.0 + 60.0) / 8.0);
    near(directed.least.kn(), 225.0 - 45.0 / 8.0);
    // Where a share is stated and not a least, wind is added to it.
    let added = shares(Actions { wind: Some(wind(None)), ..Actions::only(Horizontal::ShareOfWeight(0.025)) });
    near(added.points[1].share.greatest.kn(), 225.0 + (45.0 + 60.0) / 8.0);
    near(added.horizontal_force.kn(), 22.5 + 20.0);
}

/// A stated force does not grow with the weight: 22.5 kN at 2 m is 45 kN m at 800 and at 1000 kN; 2.5 % is 40 and 50.
#[test]
fn validate_a_stated_force() {
    let by = |horizontal| {
        let mut case = case(Actions::only(horizontal));
        case.weight = between_kn(800.0, 900.0, 1000.0);
        share_load(&case).unwrap()
    };
    let stated = by(Horizontal::Stated(kn(22.5)));
    near(stated.points[1].share.greatest.kn(), 250.0 + 45.0 / 8.0);
    near(stated.points[1].share.least.kn(), 200.0 - 45.0 / 8.0);
    let share = by(Horizontal::ShareOfWeight(0.025));
    near(share.points[1].share.greatest.kn(), 250.0 + 50.0 / 8.0);
    near(share.points[1].share.least.kn(), 200.0 - 40.0 / 8.0);
}

#[test]
fn verify_less_than_the_least_horizontal_force_is_a_caution() {
    let status =
        |horizontal| check(&shares(Actions::only(horizontal)), CheckId::HorizontalForce, Phase::Raising).status;
    assert_eq!(status(Horizontal::AtLeast(0.025)), Status::Pass);
    assert_eq!(status(Horizontal::ShareOfWeight(0.025)), Status::Pass);
    assert_eq!(status(Horizontal::Stated(kn(22.5))), Status::Pass);
    assert_eq!(status(Horizontal::ShareOfWeight(0.024)), Status::Caution);
    assert_eq!(status(Horizontal::AtLeast(0.0)), Status::Caution);
    assert_eq!(status(Horizontal::Stated(kn(22.4))), Status::Caution);
    // A height that is not known is not taken for none.
    let mut unknown = case(Actions::only(Horizontal::AtLeast(0.025)));
    plan(&mut unknown).centre.z = None;
    let unknown = share_load(&unknown).unwrap();
    for id in [CheckId::HorizontalForce, CheckId::Tipping] {
        assert_eq!(check(&unknown, id, Phase::Raising).status, Status::NotChecked);
    }
}

/// The centre at (1.5, 2), within 0.1 m along x, weight 800 to 1000 kN, 30 kN at 2 m: 60 / 800 = 0.075 m, and towards x
/// = 0 the reach is 0.175 of 1.5 m.
fn near_the_edge(least_margin_m: Option<f64>) -> LoadShares {
    let mut case = case(Actions::only(Horizontal::Stated(kn(30.0))));
    case.weight = between_kn(800.0, 900.0, 1000.0);
    plan(&mut case).centre.x = about(1.5, 0.1);
    plan(&mut case).centre.y = about(2.0, 0.0);
    plan(&mut case).least_tipping_margin = least_margin_m.map(m);
    share_load(&case).unwrap()
}

#[test]
fn validate_distance_from_tipping_by_hand() {
    let shares = near_the_edge(None);
    let tipping = shares.tipping.as_ref().unwrap();
    assert_eq!((tipping.from.as_str(), tipping.to.as_str()), ("1", "3"));
    near(tipping.distance.m(), 1.5);
    near(tipping.reach.m(), 0.175);
    near(tipping.margin.m(), 1.325);
    near(tipping.ratio, 1.325 / 1.5);
    let check = check(&shares, CheckId::Tipping, Phase::Raising);
    assert_eq!(check.status, Status::Pass);
    near(check.utilisation.unwrap(), 0.175 / 1.5);
}

#[test]
fn verify_a_wanted_margin() {
    let status = |margin_m| check(&near_the_edge(Some(margin_m)), CheckId::Tipping, Phase::Raising).status;
    assert_eq!(status(1.32), Status::Pass);
    assert_eq!(status(1.33), Status::Caution);
    let shares = near_the_edge(Some(1.33));
    let note = check(&shares, CheckId::Tipping, Phase::Raising).note.as_ref().unwrap();
    assert!(note.to_string().contains("less than the margin"), "{note}");
}

/// A force that reaches the edge: 1.5 m x 900 kN / 2 m = 675 kN.
#[test]
fn verify_tipping_fails_where_the_forces_reach_the_edge() {
    let status = |force_kn: f64| {
        let mut case = case(Actions::only(Horizontal::Stated(kn(force_kn))));
        plan(&mut case).centre.x = about(1.5, 0.0);
        check(&share_load(&case).unwrap(), CheckId::Tipping, Phase::Raising).status
    };
    assert_eq!(status(674.0), Status::Pass);
    assert_eq!(status(676.0), Status::Fail);
}

#[test]
fn verify_in_a_frame_nothing_pushes_sideways() {
    let mut pressed = case(Actions { wind: Some(wind(None)), ..Actions::only(Horizontal::AtLeast(0.025)) });
    pressed.task = ramwright_engine::load::Task::Press;
    let shares = share_load(&pressed).unwrap();
    all_by_hand(&shares.points, &[[375.0; 3], [225.0; 3], [300.0; 3]]);
    let none: ForceRange = shares.vertical_load;
    near(none.greatest.kn(), 900.0);
    near(shares.horizontal_force.kn(), 0.0);
}
