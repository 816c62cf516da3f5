//! Amounts of money in whole hundredths of their currency, so that sums are exact in any order.

/// The greatest amount, of a row or of a total, that is told to the cent.
pub const GREATEST_AMOUNT: f64 = 1e12;

/// How near below half a cent an amount may lie and still count as half: it takes up the rounding of binary numbers.
///
/// 1.005 is 1.00499... in binary and must become 1.01.
const SLACK: f64 = 1e-6;

/// A whole number of cents, held in a float: whole numbers below 2^53 are added exactly.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Cents(f64);

impl Cents {
    /// Nothing.
    pub(super) const ZERO: Self = Self(0.0);

    /// An amount rounded half up to 0.01; nothing where it is negative, not a number or above [`GREATEST_AMOUNT`].
    pub(super) fn of(amount: f64) -> Option<Self> {
        if !(0.0..=GREATEST_AMOUNT).contains(&amount) {
            return None;
        }
        let cents = amount * 100.0;
        // A product of a few factors is off by a few units in its last place.
        let slack = SLACK + 4.0 * f64::EPSILON * cents;
        Some(Self((cents + 0.5 + slack).floor()))
    }

    /// The sum, if it can be told to the cent.
    pub(super) fn plus(self, other: Self) -> Option<Self> {
        let sum = self.0 + other.0;
        (sum <= GREATEST_AMOUNT * 100.0).then_some(Self(sum))
    }

    /// The amount: the number nearest to it that a float can be.
    pub(super) fn amount(self) -> f64 {
        self.0 / 100.0
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn rounded(amount: f64) -> Option<f64> {
        Cents::of(amount).map(Cents::amount)
    }

    #[test]
    fn verify_rounding_is_half_up_as_people_write_numbers() {
        // Each of the first four lies just below its half in binary.
        let rows = [(1.005, 1.01), (2.675, 2.68), (1.115, 1.12), (0.285, 0.29), (0.125, 0.13), (0.005, 0.01)];
        let below = [(1.0049, 1.0), (1.004_999, 1.0), (2.674_99, 2.67), (0.004_999, 0.0), (-0.0, 0.0)];
        for (amount, expected) in rows.into_iter().chain(below) {
            assert_eq!(rounded(amount), Some(expected), "{amount}");
        }
    }

    #[test]
    fn verify_what_is_no_amount_is_refused() {
        for amount in [-0.01, f64::NAN, f64::INFINITY, f64::NEG_INFINITY, 1.000_001e12] {
            assert_eq!(rounded(amount), None, "{amount}");
        }
        let most = Cents::of(GREATEST_AMOUNT).unwrap();
        assert_eq!(most.plus(Cents::ZERO), Some(most));
        assert_eq!(most.plus(Cents(1.0)), None);
    }

    #[test]
    fn verify_sums_are_exact() {
        // Ten times 0.10 by plain addition of floats is 0.9999999999999999.
        let mut sum = Cents::ZERO;
        for _ in 0..10 {
            sum = sum.plus(Cents::of(0.1).unwrap()).unwrap();
        }
        assert_eq!(sum, Cents(100.0));
    }
}
