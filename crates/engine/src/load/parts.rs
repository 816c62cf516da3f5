//! Weight and centre of gravity from a list of parts.

use super::centre::{Centre, Item, Symbols, farthest, in_order, mean_range, total_range};
use crate::check::{Line, Lines};
use ramwright_units::{ForceRange, Length, LengthRange, Range};
use serde::{Deserialize, Serialize};
use thiserror::Error;
use utoipa::ToSchema;

/// A part of the load.
#[derive(Clone, Debug, PartialEq)]
pub struct Part {
    /// Its number or name.
    pub id: String,
    /// Its weight within its tolerance; nowhere below zero.
    pub weight: ForceRange,
    /// Where its centre of gravity is in plan.
    pub x: Length,
    /// Where its centre of gravity is in plan.
    pub y: Length,
    /// How high its centre of gravity is above the plane of the supports, if known.
    pub z: Option<Length>,
    /// By how much x and y may each be wrong, either way.
    pub tolerance: Length,
    /// By how much z may be wrong, either way.
    pub z_tolerance: Length,
}

/// What the parts come to.
///
/// Weight and place are answered apart and are to be taken as independent: a load that has the greatest weight and
/// the farthest centre at once is then covered too, which no weights of the parts may give. That is more than can
/// happen, and so on the safe side.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, ToSchema)]
pub struct Whole {
    /// The weight, with all parts at the same end of their tolerances.
    pub weight: ForceRange,
    /// Where the centre of gravity may be.
    pub centre: Centre,
    /// The calculation, line by line.
    pub lines: Vec<Line>,
}

/// Why the parts come to no weight and centre.
#[derive(Clone, Debug, PartialEq, Error)]
#[non_exhaustive]
pub enum PartsError {
    /// An empty list.
    #[error("the list of parts is empty")]
    NoParts,
    /// A weight below zero, or a range out of order.
    #[error("the weight of part {id} must not be below zero, and its range must be in order")]
    Weight {
        /// The part.
        id: String,
    },
    /// A tolerance below zero, or a place that is no number.
    #[error("place and tolerances of part {id} must be finite, and no tolerance below zero")]
    Place {
        /// The part.
        id: String,
    },
    /// Nothing weighs anything.
    #[error("the least weight of all parts together is not above zero")]
    NoWeight,
    /// Numbers so great or so small that their sums are not.
    #[error("the sums over the parts cannot be computed with")]
    NotComputable,
}

/// Weight and centre of gravity of all parts together, with all tolerances at once in the worst way.
///
/// The weight is the sum of the least, of the expected and of the greatest weights. The centre along each axis has
/// its exact extremes, over every weight and every place within their tolerances; the expected one is the nominal.
/// Its height is the one farthest from the plane of the supports, and not known if that of any part is not.
///
/// # Source
/// Definition of the centre of gravity; extremes of a weighted average of ranges (Dong and Shah 1987, Karnik and
/// Mendel 2001, both from memory), with the proof beside the code.
///
/// # Validity
/// Weights not below zero. The list is complete: what is not on it is in no tolerance either. Weight and centre
/// are then taken as independent, as are x and y, which covers more than can happen and so is on the safe side.
///
/// # Errors
/// [`PartsError`]: no parts, a weight or tolerance below zero or not a number, a total not above zero.
pub fn weigh_parts(parts: &[Part]) -> Result<Whole, PartsError> {
    check(parts)?;
    let mut lines = Lines::default();
    let weights: Vec<ForceRange> = parts.iter().map(|part| part.weight).collect();
    let weight = total_range(&mut lines, Symbols { axis: "", weight: "w" }, &weights);
    if weight.least.n() <= 0.0 {
        return Err(PartsError::NoWeight);
    }
    let mut along = |axis, place: &dyn Fn(&Part) -> LengthRange| {
        let items: Vec<Item> = parts.iter().map(|part| Item { weight: part.weight, at: place(part) }).collect();
        mean_range(&mut lines, Symbols { axis, weight: "w" }, &items)
    };
    let x = along("x", &|part| either_way(part.x, part.tolerance));
    let y = along("y", &|part| either_way(part.y, part.tolerance));
    let all_heights = parts.iter().all(|part| part.z.is_some());
    let z = all_heights.then(|| along("z", &|part| either_way(part.z.unwrap_or(Length::ZERO), part.z_tolerance)));
    let computable = in_order(&weight) && in_order(&x) && in_order(&y) && z.as_ref().is_none_or(in_order);
    if !computable {
        return Err(PartsError::NotComputable);
    }
    let centre = Centre { x, y, z: z.as_ref().map(farthest) };
    Ok(Whole { weight, centre, lines: lines.0 })
}

fn either_way(at: Length, tolerance: Length) -> LengthRange {
    Range::new(at - tolerance, at, at + tolerance)
}

fn check(parts: &[Part]) -> Result<(), PartsError> {
    if parts.is_empty() {
        return Err(PartsError::NoParts);
    }
    for part in parts {
        if !in_order(&part.weight) || part.weight.least.n() < 0.0 {
            return Err(PartsError::Weight { id: part.id.clone() });
        }
        let z = part.z.unwrap_or(Length::ZERO);
        let places = [either_way(part.x, part.tolerance), either_way(part.y, part.tolerance)];
        if !places.iter().all(in_order) || !in_order(&either_way(z, part.z_tolerance)) {
            return Err(PartsError::Place { id: part.id.clone() });
        }
    }
    Ok(())
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;
    use ramwright_units::{Force, In, Profile};

    fn part(id: &str, weight_kn: [f64; 3], at_m: [f64; 3], tolerance_m: f64) -> Part {
        let [least, expected, greatest] = weight_kn.map(Force::from_kn);
        let [x, y, z] = at_m.map(Length::from_m);
        let tolerance = Length::from_m(tolerance_m);
        let weight = Range::new(least, expected, greatest);
        Part { id: id.to_owned(), weight, x, y, z: Some(z), tolerance, z_tolerance: tolerance }
    }

    /// Invented: a vessel of 90, 100, 110 kN at (2, 1, 3) m and a skid of 45, 50, 60 kN at (8, -2, 0.5) m, each place
    /// within 0.1 m.
    fn two() -> Vec<Part> {
        vec![
            part("vessel", [90.0, 100.0, 110.0], [2.0, 1.0, 3.0], 0.1),
            part("skid", [45.0, 50.0, 60.0], [8.0, -2.0, 0.5], 0.1),
        ]
    }

    #[track_caller]
    fn close(range: &LengthRange, hand_m: [f64; 3]) {
        let got = [range.least.m(), range.expected.m(), range.greatest.m()];
        for (got, hand) in got.into_iter().zip(hand_m) {
            assert!((got - hand).abs() < 1e-12, "{got} is not {hand}");
        }
    }

    /// x greatest: (90 x 2.1 + 60 x 8.1) / 150 = 675 / 150 = 4.5; expected (200 + 400) / 150 = 4;
    /// least: (110 x 1.9 + 45 x 7.9) / 155 = (209 + 355.5) / 155 = 564.5 / 155.
    /// y greatest: (110 x 1.1 - 45 x 1.9) / 155 = (121 - 85.5) / 155 = 35.5 / 155; expected 0;
    /// least: (90 x 0.9 - 60 x 2.1) / 150 = (81 - 126) / 150 = -0.3.
    /// z greatest: (110 x 3.1 + 45 x 0.6) / 155 = (341 + 27) / 155 = 368 / 155.
    #[test]
    fn verify_two_parts_by_hand() {
        let whole = weigh_parts(&two()).unwrap();
        let weight = whole.weight;
        assert!((weight.least.kn() - 135.0).abs() < 1e-9);
        assert!((weight.expected.kn() - 150.0).abs() < 1e-9);
        assert!((weight.greatest.kn() - 170.0).abs() < 1e-9);
        close(&whole.centre.x, [564.5 / 155.0, 4.0, 4.5]);
        close(&whole.centre.y, [-0.3, 0.0, 35.5 / 155.0]);
        assert!((whole.centre.z.unwrap().m() - 368.0 / 155.0).abs() < 1e-12);
        let symbols: Vec<&str> = whole.lines.iter().map(|line| line.symbol.as_str()).collect();
        let wanted = ["W_min", "W", "W_max", "x_g_min", "x_g", "x_g_max", "y_g_min", "y_g", "y_g_max"];
        assert_eq!(symbols[..9], wanted);
        assert!(serde_json::to_string(&In(Profile::Metric, &whole)).is_ok());
    }

    #[test]
    fn verify_a_height_not_known_leaves_the_height_of_the_whole_unknown() {
        let mut parts = two();
        parts[1].z = None;
        let whole = weigh_parts(&parts).unwrap();
        assert_eq!(whole.centre.z, None);
        assert!(whole.lines.iter().all(|line| !line.symbol.as_str().starts_with('z')));
    }

    /// Below the plane of the supports the deepest height is the one with the longest arm: -(110 x 3.1 + 45 x 0.6) / 155.
    #[test]
    fn verify_a_load_that_hangs_is_taken_at_its_deepest() {
        let mut parts = two();
        for part in &mut parts {
            part.z = part.z.map(|z| -z);
        }
        assert!((weigh_parts(&parts).unwrap().centre.z.unwrap().m() + 368.0 / 155.0).abs() < 1e-12);
    }

    #[test]
    fn verify_refusals() {
        assert_eq!(weigh_parts(&[]), Err(PartsError::NoParts));
        let with = |change: &dyn Fn(&mut Part)| {
            let mut parts = two();
            change(&mut parts[1]);
            weigh_parts(&parts).unwrap_err()
        };
        let id = || "skid".to_owned();
        assert_eq!(with(&|part| part.weight.least = Force::from_kn(-1.0)), PartsError::Weight { id: id() });
        assert_eq!(with(&|part| part.weight.expected = Force::from_kn(70.0)), PartsError::Weight { id: id() });
        assert_eq!(with(&|part| part.weight.greatest = Force::from_n(f64::NAN)), PartsError::Weight { id: id() });
        assert_eq!(with(&|part| part.tolerance = Length::from_m(-0.1)), PartsError::Place { id: id() });
        assert_eq!(with(&|part| part.z_tolerance = Length::from_m(f64::NAN)), PartsError::Place { id: id() });
        assert_eq!(with(&|part| part.y = Length::from_m(f64::INFINITY)), PartsError::Place { id: id() });
        assert_eq!(with(&|part| part.x = Length::from_m(1e305)), PartsError::NotComputable);
        let nothing = part("air", [0.0, 1.0, 2.0], [0.0; 3], 0.0);
        assert_eq!(weigh_parts(&[nothing]), Err(PartsError::NoWeight));
    }

    proptest! {
        #[test]
        fn verify_any_number_gives_an_answer_or_an_error(v in prop::collection::vec(proptest::num::f64::ANY, 8), known: bool) {
            let weight = Range::new(Force::from_n(v[0]), Force::from_n(v[1]), Force::from_n(v[2]));
            let length = |index: usize| Length::from_m(v[index]);
            let odd = Part {
                id: "odd".to_owned(), weight, x: length(3), y: length(4), z: known.then(|| length(5)),
                tolerance: length(6), z_tolerance: length(7),
            };
            let mut parts = two();
            parts.push(odd);
            if let Ok(whole) = weigh_parts(&parts) {
                prop_assert!(serde_json::to_string(&In(Profile::Metric, &whole)).is_ok());
            }
        }
    }
}
