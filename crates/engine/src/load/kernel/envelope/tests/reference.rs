//! Every case of `tests/reference/load_shares/envelope.json`, level bands that differ from point to point included.

use super::super::super::domain::{LoadDomain, PushSpread};
use super::super::super::geometry::Vec2;
use super::super::super::region::CentreSpread;
use super::super::*;
use serde_json::Value;

/// The true circle is held by 32 half planes: by how much farther they reach, as a part of its radius.
const CIRCLE: f64 = 0.0049;

fn number(of: &Value) -> f64 {
    of.as_f64().unwrap()
}

fn domain(case: &Value) -> LoadDomain {
    let (weight, centre) = (&case["weight"], &case["centre"]);
    let at = Vec2::new(number(&centre["x"]), number(&centre["y"]));
    let pushes = case["pushes_nm"].as_array().unwrap().iter();
    let pushes = pushes.map(|v| Vec2::new(number(&v[0]), number(&v[1]))).collect();
    LoadDomain {
        least_n: number(&weight["least"]),
        expected_n: number(&weight["expected"]),
        greatest_n: number(&weight["greatest"]),
        expected_at: at,
        middle: at,
        spread: CentreSpread::new(number(&centre["half_x"]), number(&centre["half_y"]), number(&case["disc_m"]))
            .unwrap(),
        push: PushSpread::new(number(&case["push_radius_nm"]), pushes).unwrap(),
    }
}

/// scipy 1.17.1, `milp` (`HiGHS`), own cases: both ends of every support, never on the unsafe side of the reference and no
/// farther out than the circle's polygon explains.
#[test]
fn validate_envelopes_against_scipy() {
    let file: Value =
        serde_json::from_str(include_str!("../../../../../../../tests/reference/load_shares/envelope.json")).unwrap();
    let cases = file["cases"].as_array().unwrap();
    assert_eq!((cases.len(), file["header"]["library"].as_str()), (25, Some("scipy")));
    for case in cases {
        let bearing = |p: &Value| Bearing {
            at: Vec2::new(number(&p["x"]), number(&p["y"])),
            stiffness_n_per_m: number(&p["stiffness"]),
            level_m: number(&p["level"]),
            half_band_m: number(&p["half_band"]),
        };
        let bearings: Vec<Bearing> = case["points"].as_array().unwrap().iter().map(bearing).collect();
        let domain = domain(case);
        let found = envelope(&bearings, &domain, Effort::USUAL).unwrap();
        let weight_n = domain.greatest_n;
        let circle_nm = number(&case["disc_m"]) * weight_n + number(&case["push_radius_nm"]);
        // A moment changes no reaction of these plans by more than itself over a metre.
        let (inward, outward) = (2e-7 * weight_n, 2e-7 * weight_n + CIRCLE * circle_nm);
        for (i, point) in found.iter().enumerate() {
            let (least, greatest) = (number(&case["least"][i]), number(&case["greatest"][i]));
            let words = format!("{} point {i}: {point:?}, reference {least} to {greatest}", case["name"]);
            assert!(
                point.greatest.exactness != Exactness::Bound && point.least.exactness != Exactness::Bound,
                "{words}"
            );
            let high = point.greatest.reaction_n - greatest;
            let low = least - point.least.reaction_n;
            assert!(-inward <= high && high <= outward && -inward <= low && low <= outward, "{words}");
            assert!((point.expected_n - number(&case["expected"][i])).abs() <= inward, "{words}");
        }
    }
}
