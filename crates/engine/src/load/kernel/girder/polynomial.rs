//! Least and greatest value of a polynomial on an interval. Coefficients stand in rising powers.

/// The value at t.
pub(super) fn value(coefficients: &[f64], t: f64) -> f64 {
    coefficients.iter().rev().fold(0.0, |sum, c| sum * t + c)
}

/// The polynomial in `t - by`, that is, with its origin moved to `by`.
pub(super) fn moved(coefficients: &[f64], by: f64) -> Vec<f64> {
    let mut list = coefficients.to_vec();
    let mut moved = Vec::with_capacity(list.len());
    while !list.is_empty() {
        // Division by (t - by): the remainder is the next coefficient.
        let mut carried = 0.0;
        for c in list.iter_mut().rev() {
            carried = carried * by + *c;
            *c = carried;
        }
        moved.push(carried);
        list.remove(0);
    }
    moved
}

/// The antiderivative that vanishes at the origin.
pub(super) fn antiderivative(coefficients: &[f64]) -> Vec<f64> {
    let mut power = 0.0;
    let mut list = vec![0.0];
    list.extend(coefficients.iter().map(|c| {
        power += 1.0;
        c / power
    }));
    list
}

/// Least and greatest value between two places, both included; the places of both with them.
pub(super) fn extremes(coefficients: &[f64], from: f64, to: f64) -> [(f64, f64); 2] {
    let start = (value(coefficients, from), from);
    let mut found = [start, start];
    let turns = roots(&derivative(coefficients), from, to);
    for t in turns.into_iter().chain([to]) {
        let v = value(coefficients, t);
        found = [if v < found[0].0 { (v, t) } else { found[0] }, if found[1].0 < v { (v, t) } else { found[1] }];
    }
    found
}

fn derivative(coefficients: &[f64]) -> Vec<f64> {
    let mut power = 0.0;
    let scaled = coefficients.iter().skip(1).map(|c| {
        power += 1.0;
        c * power
    });
    scaled.collect()
}

/// Where the polynomial changes sign between two places: between the turning points it does so at most once.
fn roots(coefficients: &[f64], from: f64, to: f64) -> Vec<f64> {
    if coefficients.len() < 2 {
        return Vec::new();
    }
    let mut found = Vec::new();
    let mut left = from;
    for right in roots(&derivative(coefficients), from, to).into_iter().chain([to]) {
        found.extend(crossing(coefficients, left, right));
        left = right;
    }
    found
}

/// The place where the sign changes, by halving the interval until it holds no further number.
fn crossing(coefficients: &[f64], mut left: f64, mut right: f64) -> Option<f64> {
    let sign = value(coefficients, left);
    if sign * value(coefficients, right) >= 0.0 {
        return None;
    }
    loop {
        let middle = left + 0.5 * (right - left);
        if middle <= left || right <= middle {
            return Some(left);
        }
        if value(coefficients, middle) * sign <= 0.0 {
            right = middle;
        } else {
            left = middle;
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    /// t (1 - t)² has 4/27 at 1/3 and 0 at 1.
    #[test]
    fn validate_cubic() {
        let [least, greatest] = extremes(&[0.0, 1.0, -2.0, 1.0], 0.1, 1.5);
        assert!((greatest.0 - 0.375).abs() < 1e-15 && (greatest.1 - 1.5).abs() < 1e-15, "{greatest:?}");
        assert!(least.0.abs() < 1e-15 && (least.1 - 1.0).abs() < 1e-7, "{least:?}");
        let [_, greatest] = extremes(&[0.0, 1.0, -2.0, 1.0], 0.0, 1.0);
        assert!((greatest.0 - 4.0 / 27.0).abs() < 1e-15 && (greatest.1 - 1.0 / 3.0).abs() < 1e-7);
    }

    proptest! {
        #[test]
        fn verify_no_value_lies_outside_and_moving_changes_nothing(
            c in prop::collection::vec(-3.0f64..3.0, 0..6), ends in (-2.0f64..2.0, 0.0f64..3.0), by in -1.0f64..1.0,
        ) {
            let (from, to) = (ends.0, ends.0 + ends.1);
            let [least, greatest] = extremes(&c, from, to);
            for i in 0..=200 {
                let t = from + (to - from) * f64::from(i) / 200.0;
                let v = value(&c, t);
                prop_assert!(least.0 - 1e-11 <= v && v <= greatest.0 + 1e-11);
                prop_assert!((value(&moved(&c, by), t - by) - v).abs() < 1e-9);
            }
            prop_assert!((value(&derivative(&antiderivative(&c)), from) - value(&c, from)).abs() < 1e-10);
        }
    }
}
