//! Linear equations whose matrix has three diagonals on either side of the main one, solved to the last digits.
//!
//! Elimination with row exchanges on rows scaled to greatest element 1; then the answer is corrected by the residual,
//! which is computed in twice the working precision, until it stands still. What is lost to a bad condition is won back
//! as long as some digits of the first answer are right.

#![expect(clippy::indexing_slicing, reason = "all places are within a band whose size is fixed at construction")]

/// Diagonals on either side of the main one.
const HALF: usize = 3;
/// Width of a row once rows have been exchanged.
const FILLED: usize = 3 * HALF + 1;
/// Corrections at most.
const PASSES: usize = 12;
/// A correction below this part of the greatest unknown of its kind ends the work (dimensionless).
const STANDS_STILL: f64 = 1e-15;
/// A last correction above this part is no answer (dimensionless).
const CONVERGED: f64 = 1e-12;

/// A square matrix: element c of row i stands in column `i + c - HALF`.
#[derive(Debug, Clone)]
pub(super) struct Band {
    rows: Vec<[f64; 2 * HALF + 1]>,
}

impl Band {
    pub(super) fn zeros(size: usize) -> Self {
        Self { rows: vec![[0.0; 2 * HALF + 1]; size] }
    }

    /// Adds to the element in this row and column, at most [`HALF`] from the diagonal.
    pub(super) fn add(&mut self, row: usize, column: usize, value: f64) {
        self.rows[row][column + HALF - row] += value;
    }

    /// Elimination, or `None` if the matrix is singular or not finite.
    pub(super) fn factor(self) -> Option<Factors> {
        let size = self.rows.len();
        let mut scales = Vec::with_capacity(size);
        let mut upper = Vec::with_capacity(size);
        for row in &self.rows {
            let greatest = row.iter().fold(0.0_f64, |m, v| m.max(v.abs()));
            scales.push(1.0 / greatest);
            let mut filled = [0.0; FILLED];
            filled.iter_mut().zip(row).for_each(|(to, from)| *to = from / greatest);
            upper.push(filled);
        }
        let mut factors =
            Factors { band: self, scales, upper, lower: vec![[0.0; HALF]; size], exchanged: vec![0; size] };
        (0..size).all(|column| factors.eliminate(column)).then_some(factors)
    }
}

/// A matrix and its triangular factors.
#[derive(Debug)]
pub(super) struct Factors {
    band: Band,
    scales: Vec<f64>,
    upper: Vec<[f64; FILLED]>,
    lower: Vec<[f64; HALF]>,
    exchanged: Vec<usize>,
}

impl Factors {
    /// Clears a column below the diagonal; false if there is no pivot.
    fn eliminate(&mut self, column: usize) -> bool {
        let size = self.upper.len();
        let last = (column + HALF).min(size - 1);
        let mut pivot = column;
        for row in column + 1..=last {
            if self.upper[pivot][column + HALF - pivot].abs() < self.upper[row][column + HALF - row].abs() {
                pivot = row;
            }
        }
        let divisor = self.upper[pivot][column + HALF - pivot];
        if !divisor.is_normal() {
            return false;
        }
        let end = (column + 2 * HALF).min(size - 1);
        self.exchanged[column] = pivot;
        if pivot != column {
            for c in column..=end {
                let other = self.upper[pivot][c + HALF - pivot];
                self.upper[pivot][c + HALF - pivot] = self.upper[column][c + HALF - column];
                self.upper[column][c + HALF - column] = other;
            }
        }
        for row in column + 1..=last {
            let factor = self.upper[row][column + HALF - row] / divisor;
            self.lower[column][row - column - 1] = factor;
            for c in column..=end {
                self.upper[row][c + HALF - row] -= factor * self.upper[column][c + HALF - column];
            }
        }
        true
    }

    /// The answer as the factors give it.
    fn rough(&self, right: &[f64]) -> Vec<f64> {
        let size = right.len();
        let mut x: Vec<f64> = right.iter().zip(&self.scales).map(|(b, s)| b * s).collect();
        for column in 0..size {
            x.swap(column, self.exchanged[column]);
            for row in column + 1..=(column + HALF).min(size - 1) {
                x[row] -= self.lower[column][row - column - 1] * x[column];
            }
        }
        for row in (0..size).rev() {
            let known: f64 =
                (row + 1..=(row + 2 * HALF).min(size - 1)).map(|c| self.upper[row][c + HALF - row] * x[c]).sum();
            x[row] = (x[row] - known) / self.upper[row][HALF];
        }
        x
    }

    /// `right - matrix x`, each element rounded once.
    fn residual(&self, right: &[f64], x: &[f64]) -> Vec<f64> {
        let row = |(i, row): (usize, &[f64; 2 * HALF + 1])| {
            let mut sum = Twofold { high: right[i], low: 0.0 };
            for (c, element) in row.iter().enumerate() {
                let column = (i + c).checked_sub(HALF).and_then(|column| x.get(column));
                if let Some(value) = column {
                    sum.add_product(-element, *value);
                }
            }
            sum.high + sum.low
        };
        self.band.rows.iter().enumerate().map(row).collect()
    }

    /// The answer, or `None` if it does not stand still.
    ///
    /// Unknowns of two kinds alternate. A kind is measured by its greatest value; the second kind by `floor` if that is
    /// greater, for answers in which it vanishes.
    pub(super) fn solve(&self, right: &[f64], floor: f64) -> Option<Vec<f64>> {
        let mut x = vec![0.0; right.len()];
        let mut change = f64::INFINITY;
        for _ in 0..PASSES {
            let step = self.rough(&self.residual(right, &x));
            x.iter_mut().zip(&step).for_each(|(value, s)| *value += s);
            let [step, size] = [kinds(&step), kinds(&x)];
            if !size.iter().all(|s| s.is_finite()) {
                return None;
            }
            change = ratio(step[0], size[0]).max(ratio(step[1], size[1].max(floor)));
            if change <= STANDS_STILL {
                break;
            }
        }
        (change <= CONVERGED).then_some(x)
    }
}

/// Greatest absolute value of either kind of unknown; infinite if one is not a number.
fn kinds(x: &[f64]) -> [f64; 2] {
    let greatest = |first: usize| {
        x.iter().skip(first).step_by(2).fold(0.0_f64, |m, v| if v.is_nan() { f64::INFINITY } else { m.max(v.abs()) })
    };
    [greatest(0), greatest(1)]
}

fn ratio(step: f64, size: f64) -> f64 {
    if step <= 0.0 { 0.0 } else { step / size }
}

/// An unevaluated sum of two numbers: twice the working precision.
///
/// Exact sum (Knuth) and exact product (Veltkamp, Dekker): Dekker, "A floating-point technique for extending the
/// available precision", Numerische Mathematik 18 (1971), from memory.
struct Twofold {
    high: f64,
    low: f64,
}

impl Twofold {
    fn add_product(&mut self, a: f64, b: f64) {
        let product = a * b;
        let ([a_high, a_low], [b_high, b_low]) = (halves(a), halves(b));
        let lost = ((a_high * b_high - product) + a_high * b_low + a_low * b_high) + a_low * b_low;
        let sum = self.high + product;
        let part = sum - self.high;
        let dropped = (self.high - (sum - part)) + (product - part);
        self.high = sum;
        self.low += dropped + lost;
    }
}

/// A number as the sum of two with half the digits each.
fn halves(value: f64) -> [f64; 2] {
    let big = value * 134_217_729.0; // 2^27 + 1
    let high = big - (big - value);
    [high, value - high]
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    proptest! {
        #[test]
        fn verify_answer_of_a_known_problem(
            elements in prop::collection::vec(prop::array::uniform7(-1.0f64..1.0), 1..40),
            values in prop::collection::vec(-8i32..8, 40),
        ) {
            let size = elements.len();
            // Small whole multiples of 1/1024 times small whole numbers: the right side is exact.
            let coarse = |v: f64| (v * 1024.0).round() / 1024.0;
            let x: Vec<f64> = values.iter().take(size).map(|v| f64::from(*v)).collect();
            let mut band = Band::zeros(size);
            let mut right = vec![0.0; size];
            for (i, row) in elements.iter().enumerate() {
                for (c, e) in row.iter().enumerate() {
                    if let Some(column) = (i + c).checked_sub(HALF).filter(|j| *j < size) {
                        band.add(i, column, coarse(*e));
                        right[i] += coarse(*e) * x[column];
                    }
                }
            }
            let Some(found) = band.factor().and_then(|f| f.solve(&right, 0.0)) else { return Ok(()) };
            for (f, e) in found.iter().zip(&x) {
                prop_assert!((f - e).abs() < 1e-12, "{found:?} {x:?}");
            }
        }
    }

    /// Second differences twice over, 400 unknowns: condition about 1e9 to 1e10, exact answer known.
    #[test]
    fn verify_digits_are_won_back() {
        let size = 400;
        let mut band = Band::zeros(size);
        for i in 0..size {
            for (d, v) in [(-2_isize, 1.0), (-1, -4.0), (0, 6.0), (1, -4.0), (2, 1.0)] {
                if let Some(j) = i.checked_add_signed(d).filter(|j| *j < size) {
                    band.add(i, j, v);
                }
            }
        }
        let x: Vec<f64> = (0..size).map(|i| f64::from(u32::try_from(i * i % 17).unwrap())).collect();
        let factors = band.factor().unwrap();
        let right: Vec<f64> = factors.residual(&vec![0.0; size], &x).iter().map(|v| -v).collect();
        let rough = factors.rough(&right);
        let error = |found: &[f64]| found.iter().zip(&x).fold(0.0_f64, |m, (f, e)| m.max((f - e).abs()));
        assert!(1e-10 < error(&rough), "the case is too easy");
        assert!(error(&factors.solve(&right, 0.0).unwrap()) < 1e-14);
    }

    #[test]
    fn verify_singular_is_refused() {
        assert!(Band::zeros(3).factor().is_none());
        let mut band = Band::zeros(2);
        for (i, j) in [(0, 0), (0, 1), (1, 0), (1, 1)] {
            band.add(i, j, 1.0);
        }
        assert!(band.factor().is_none());
    }
}
