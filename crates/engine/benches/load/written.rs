//! The cases of the bench with the engine's answers, written for another program to solve.

use ramwright_engine::load::{Horizontal, LoadCase, LoadShares, Sharing};
use ramwright_units::Force;
use serde_json::{Value, json};

/// One file: its kind, and the cases with their answers, in SI units.
pub(crate) fn file(kind: &str, cases: &[(LoadCase, LoadShares)]) -> Value {
    let cases: Vec<Value> = cases.iter().map(|(case, shares)| written(case, shares)).collect();
    json!({"header": {"kind": kind, "made_by": "cargo bench -p ramwright-engine load"}, "cases": cases})
}

fn written(case: &LoadCase, shares: &LoadShares) -> Value {
    let Sharing::Placed(placed) = &case.sharing else { return Value::Null };
    let half_band = placed.level_band.map_or(0.0, |band| band.m() / 2.0);
    let points = case.points.iter().zip(&placed.positions).map(|(point, (x, y))| {
        let stiffness = point.stiffness.map(ramwright_units::Stiffness::n_per_m);
        json!({"x": x.m(), "y": y.m(), "stiffness": stiffness, "level": point.level.m(), "half_band": half_band})
    });
    let (x, y) = (placed.centre.x, placed.centre.y);
    let share = match case.actions.horizontal {
        Horizontal::AtLeast(share) | Horizontal::ShareOfWeight(share) => share,
        Horizontal::Stated(_) => 0.0,
    };
    let column = |of: fn(&ramwright_units::ForceRange) -> Force| -> Vec<f64> {
        shares.points.iter().map(|point| of(&point.share).n()).collect()
    };
    json!({
        "name": format!("{} points", case.points.len()),
        "points": points.collect::<Vec<_>>(),
        "weight": {"least": case.weight.least.n(), "expected": case.weight.expected.n(), "greatest": case.weight.greatest.n()},
        "centre": {
            "x": x.expected.m(), "y": y.expected.m(),
            "half_x": (x.greatest - x.least).m() / 2.0, "half_y": (y.greatest - y.least).m() / 2.0,
        },
        "disc_m": share * placed.centre.z.map_or(0.0, ramwright_units::Length::m),
        "least": column(|range| range.least),
        "expected": column(|range| range.expected),
        "greatest": column(|range| range.greatest),
    })
}
