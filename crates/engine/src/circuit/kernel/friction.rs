//! Darcy friction factor of a round pipe.
//!
//! Of the Darcy kind: `loss = f (L / d) rho v^2 / 2`, four times the Fanning factor.

use core::fmt;
use core::ops::RangeInclusive;

/// Reynolds numbers are greater than zero and less than this (dimensionless).
pub(crate) const GREATEST_REYNOLDS: f64 = 1.0e8;

/// Roughness over inside diameter (dimensionless): the range of the usual friction charts (from memory).
pub(crate) const RELATIVE_ROUGHNESS_RANGE: RangeInclusive<f64> = 0.0..=0.05;

/// Why there is no friction factor.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) enum FrictionError {
    /// The Reynolds number is not a number, not greater than zero, not less than [`GREATEST_REYNOLDS`], or so small
    /// that the factor is greater than any `f64`.
    ReynoldsOutsideValidity {
        /// The Reynolds number (dimensionless).
        reynolds: f64,
    },
    /// The relative roughness is not a number or is outside [`RELATIVE_ROUGHNESS_RANGE`].
    RoughnessOutsideValidity {
        /// Roughness over inside diameter (dimensionless).
        relative_roughness: f64,
    },
}

impl fmt::Display for FrictionError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::ReynoldsOutsideValidity { reynolds } => {
                write!(f, "Reynolds number {reynolds:e} is not between zero and {GREATEST_REYNOLDS:e}")
            }
            Self::RoughnessOutsideValidity { relative_roughness } => {
                let (least, greatest) = (RELATIVE_ROUGHNESS_RANGE.start(), RELATIVE_ROUGHNESS_RANGE.end());
                write!(f, "relative roughness {relative_roughness:e} is outside {least} to {greatest}")
            }
        }
    }
}

impl core::error::Error for FrictionError {}

/// Darcy friction factor (dimensionless) for every kind of flow,
/// `f = 8 ((8 / Re)^12 + 1 / (A + B)^1.5)^(1/12)` with `A = (2.457 ln(1 / ((7 / Re)^0.9 + 0.27 e)))^16`,
/// `B = (37530 / Re)^16` and `e` the relative roughness.
///
/// Evaluated as `(64 / Re) (1 + (Re / 8)^12 / (A + B)^1.5)^(1/12)`, the same value without overflow at small `Re`.
///
/// # Source
/// Churchill, S. W., Friction-factor equation spans all fluid-flow regimes, Chemical Engineering, 7 November 1977,
/// pp. 91-92 (bibliographic data from memory; values checked against the library `fluids` 1.3.1).
///
/// # Validity
/// `0 < Re < 1e8`, relative roughness 0 to 0.05, full round pipe, steady developed flow. It tends to `64 / Re` for laminar
/// flow and is never below it: 0.14 % above at `Re` 2000 and 11 % above at 2300. From 2000 to 4000 the flow itself is
/// uncertain and so is any formula.
///
/// # Errors
/// [`FrictionError`] if an input is outside its range.
pub(crate) fn friction_factor_churchill_1977(reynolds: f64, relative_roughness: f64) -> Result<f64, FrictionError> {
    let laminar = 64.0 / reynolds;
    if !(0.0 < reynolds && reynolds < GREATEST_REYNOLDS && laminar.is_finite()) {
        return Err(FrictionError::ReynoldsOutsideValidity { reynolds });
    }
    if !RELATIVE_ROUGHNESS_RANGE.contains(&relative_roughness) {
        return Err(FrictionError::RoughnessOutsideValidity { relative_roughness });
    }
    let turbulent = 2.457 * -libm::log(libm::pow(7.0 / reynolds, 0.9) + 0.27 * relative_roughness);
    let a = libm::pow(turbulent, 16.0);
    let b = libm::pow(37_530.0 / reynolds, 16.0);
    let above_laminar = libm::pow(reynolds / 8.0, 12.0) / libm::pow(a + b, 1.5);
    Ok(laminar * libm::pow(1.0 + above_laminar, 1.0 / 12.0))
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    fn churchill(reynolds: f64, relative_roughness: f64) -> f64 {
        friction_factor_churchill_1977(reynolds, relative_roughness).unwrap()
    }

    /// Source: `Churchill_1977` of the library `fluids` 1.3.1, printed to eight decimals.
    #[test]
    fn validate_churchill_column() {
        for (reynolds, relative_roughness, printed) in [
            (100.0, 0.0, 0.640_000_00),
            (500.0, 0.0, 0.128_000_00),
            (1000.0, 0.0, 0.064_000_00),
            (2000.0, 0.0, 0.032_043_32),
            (2300.0, 0.0, 0.030_840_10),
            (3000.0, 0.0, 0.042_974_66),
            (4000.0, 0.0, 0.040_589_73),
            (4000.0, 0.001, 0.041_728_03),
            (1e4, 0.0, 0.031_002_13),
            (1e4, 1e-4, 0.031_178_16),
            (1e4, 0.001, 0.032_690_20),
            (1e4, 0.01, 0.044_043_62),
            (1e5, 0.0, 0.017_874_82),
            (1e5, 1e-5, 0.017_936_05),
            (1e5, 1e-4, 0.018_462_62),
            (1e5, 0.001, 0.022_343_24),
            (1e6, 1e-4, 0.013_508_20),
            (1e7, 1e-4, 0.012_209_74),
        ] {
            let found = churchill(reynolds, relative_roughness);
            assert!((found - printed).abs() <= 0.5e-8 + 1e-12, "Re {reynolds}, e {relative_roughness}: {found}");
        }
    }

    /// Source: Colebrook's equation solved by the library `fluids` 1.3.1 and by scipy; 3 % is the spread between formulas.
    #[test]
    fn validate_near_colebrook_when_turbulent() {
        for (reynolds, relative_roughness, colebrook) in [
            (4000.0, 0.0, 0.039_907_01),
            (1e4, 0.001, 0.032_381_81),
            (1e4, 0.01, 0.043_126_58),
            (1e5, 0.0, 0.017_989_77),
            (1e6, 1e-4, 0.013_441_44),
            (1e7, 1e-4, 0.012_166_08),
        ] {
            let ratio: f64 = churchill(reynolds, relative_roughness) / colebrook;
            assert!((ratio - 1.0).abs() <= 0.03, "Re {reynolds}, e {relative_roughness}: ratio {ratio}");
        }
    }

    #[test]
    fn verify_errors() {
        for bad in [0.0, -1.0, 1e8, f64::NAN, f64::INFINITY, f64::MIN_POSITIVE] {
            let result = friction_factor_churchill_1977(bad, 0.0);
            assert!(matches!(result, Err(FrictionError::ReynoldsOutsideValidity { .. })));
        }
        for bad in [-1e-9, 0.051, f64::NAN, f64::INFINITY] {
            let result = friction_factor_churchill_1977(1e4, bad);
            assert!(matches!(result, Err(FrictionError::RoughnessOutsideValidity { .. })));
        }
    }

    proptest! {
        #[test]
        fn verify_never_below_laminar(decade in -300.0..8.0, relative_roughness in 0.0..0.05) {
            let reynolds = libm::exp10(decade);
            let found = churchill(reynolds, relative_roughness);
            prop_assert!(found.is_finite() && 64.0 / reynolds <= found);
            if reynolds < 1000.0 {
                prop_assert!(found <= 64.0 / reynolds * (1.0 + 1e-6));
            }
        }

        #[test]
        fn verify_rougher_is_never_less(decade in 3.7..7.9, smoother in 0.0..0.04, more in 0.0..0.01) {
            let reynolds = libm::exp10(decade);
            prop_assert!(churchill(reynolds, smoother) <= churchill(reynolds, smoother + more) * (1.0 + 1e-14));
        }
    }
}
