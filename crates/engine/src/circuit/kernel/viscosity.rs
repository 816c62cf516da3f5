//! Kinematic viscosity of a mineral oil at a temperature, from its values at 40 and 100 degrees Celsius.

use core::fmt;
use core::ops::RangeInclusive;

/// Kinematic viscosities the method takes and gives, in m2/s: 2 to 20 000 000 mm2/s (bounds of the short form of
/// ASTM D341, from memory).
pub(crate) const VISCOSITY_RANGE_M2_PER_S: RangeInclusive<f64> = 2.0e-6..=20.0;

/// Temperatures the method takes, in K: -70 to 370 degrees Celsius (range of the D341 charts, from memory). An oil
/// near its pour point is thicker than the line says.
pub(crate) const TEMPERATURE_RANGE_K: RangeInclusive<f64> = 203.15..=643.15;

const FORTY_CELSIUS_K: f64 = 313.15;
const HUNDRED_CELSIUS_K: f64 = 373.15;
const MM2_PER_M2: f64 = 1.0e6;
/// Added to the viscosity in mm2/s in the short form of ASTM D341.
const OFFSET_MM2_PER_S: f64 = 0.7;
/// A value given at the edge of the range comes back from the logarithms this much off at most (relative).
const ROUNDING: f64 = 1.0e-12;

/// Viscosity at a temperature and the line it lies on.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct OilViscosity {
    /// Kinematic viscosity, in m2/s.
    pub(crate) kinematic_viscosity_m2_per_s: f64,
    /// `A` of the line, for viscosity in mm2/s and temperature in K (dimensionless).
    pub(crate) intercept_a: f64,
    /// `B` of the line, for viscosity in mm2/s and temperature in K (dimensionless); greater than zero.
    pub(crate) slope_b: f64,
}

/// Why there is no viscosity.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) enum ViscosityError {
    /// An input is infinite or not a number.
    NotFinite {
        /// The input.
        input: &'static str,
    },
    /// The viscosity at 100 degrees Celsius is not below that at 40 degrees Celsius.
    NotFalling {
        /// Kinematic viscosity at 40 degrees Celsius, in m2/s.
        at_40_c_m2_per_s: f64,
        /// Kinematic viscosity at 100 degrees Celsius, in m2/s.
        at_100_c_m2_per_s: f64,
    },
    /// An input or the viscosity found is outside [`VISCOSITY_RANGE_M2_PER_S`] or [`TEMPERATURE_RANGE_K`].
    OutsideValidity {
        /// The quantity.
        quantity: &'static str,
        /// Its value, in m2/s or K.
        value: f64,
    },
}

impl fmt::Display for ViscosityError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::NotFinite { input } => write!(f, "{input} is not a finite number"),
            Self::NotFalling { at_40_c_m2_per_s, at_100_c_m2_per_s } => write!(
                f,
                "viscosity must fall from 40 to 100 degrees Celsius, but goes from {at_40_c_m2_per_s:e} to \
                 {at_100_c_m2_per_s:e} m2/s"
            ),
            Self::OutsideValidity { quantity, value } => {
                write!(f, "{quantity} is {value:e}, outside the range of ASTM D341")
            }
        }
    }
}

impl core::error::Error for ViscosityError {}

/// Kinematic viscosity `v` (in mm2/s) at the temperature `T` (in K) on the line
/// `log10 log10(v + 0.7) = A - B log10 T` through the values at 40 and 100 degrees Celsius.
///
/// # Source
/// ASTM D341, short form for viscosities of 2 mm2/s and above (form read in a worked sheet, not in the standard).
///
/// # Validity
/// Newtonian mineral oil at atmospheric pressure: viscosity grows with pressure and an oil with polymer thickener thins
/// when sheared, neither of which is in the line. Temperature within [`TEMPERATURE_RANGE_K`]; both given values and the
/// one found within [`VISCOSITY_RANGE_M2_PER_S`].
///
/// # Errors
/// [`ViscosityError`] if an input is not finite, if the viscosity does not fall from 40 to 100 degrees Celsius, or if a
/// quantity is outside its range.
pub(crate) fn kinematic_viscosity_astm_d341(
    at_40_c_m2_per_s: f64,
    at_100_c_m2_per_s: f64,
    temperature_k: f64,
) -> Result<OilViscosity, ViscosityError> {
    within(at_40_c_m2_per_s, &VISCOSITY_RANGE_M2_PER_S, "viscosity at 40 degrees Celsius")?;
    within(at_100_c_m2_per_s, &VISCOSITY_RANGE_M2_PER_S, "viscosity at 100 degrees Celsius")?;
    within(temperature_k, &TEMPERATURE_RANGE_K, "temperature")?;
    let ordinate_40 = ordinate(at_40_c_m2_per_s);
    let ordinate_100 = ordinate(at_100_c_m2_per_s);
    // The ordinates are compared, not the viscosities: neighbouring floats can share one, and the line would be level.
    if ordinate_40 <= ordinate_100 {
        return Err(ViscosityError::NotFalling { at_40_c_m2_per_s, at_100_c_m2_per_s });
    }
    let abscissa_40 = libm::log10(FORTY_CELSIUS_K);
    let slope_b = (ordinate_40 - ordinate_100) / (libm::log10(HUNDRED_CELSIUS_K) - abscissa_40);
    let intercept_a = ordinate_40 + slope_b * abscissa_40;
    let log_log = intercept_a - slope_b * libm::log10(temperature_k);
    let found_m2_per_s = (libm::exp10(libm::exp10(log_log)) - OFFSET_MM2_PER_S) / MM2_PER_M2;
    let least = VISCOSITY_RANGE_M2_PER_S.start() * (1.0 - ROUNDING);
    let greatest = VISCOSITY_RANGE_M2_PER_S.end() * (1.0 + ROUNDING);
    if !(least..=greatest).contains(&found_m2_per_s) {
        return Err(ViscosityError::OutsideValidity { quantity: "viscosity found", value: found_m2_per_s });
    }
    Ok(OilViscosity { kinematic_viscosity_m2_per_s: found_m2_per_s, intercept_a, slope_b })
}

fn ordinate(viscosity_m2_per_s: f64) -> f64 {
    libm::log10(libm::log10(viscosity_m2_per_s * MM2_PER_M2 + OFFSET_MM2_PER_S))
}

fn within(value: f64, range: &RangeInclusive<f64>, quantity: &'static str) -> Result<(), ViscosityError> {
    if !value.is_finite() {
        return Err(ViscosityError::NotFinite { input: quantity });
    }
    if range.contains(&value) { Ok(()) } else { Err(ViscosityError::OutsideValidity { quantity, value }) }
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    const CELSIUS_ZERO_K: f64 = 273.15;

    fn at(v40_mm2: f64, v100_mm2: f64, celsius: f64) -> Result<OilViscosity, ViscosityError> {
        kinematic_viscosity_astm_d341(v40_mm2 * 1e-6, v100_mm2 * 1e-6, celsius + CELSIUS_ZERO_K)
    }

    fn mm2_at(v40_mm2: f64, v100_mm2: f64, celsius: f64) -> f64 {
        at(v40_mm2, v100_mm2, celsius).unwrap().kinematic_viscosity_m2_per_s * 1e6
    }

    /// Source: a worked sheet of ASTM D341 on the open web for 32 and 5.4 mm2/s gives 8.5 at 80 degrees Celsius; `A` and
    /// `B` recomputed independently with 273.15 (the sheet's 273 gives 9.5259 and 3.7449).
    #[test]
    fn validate_worked_pair() {
        let found = at(32.0, 5.4, 80.0).unwrap();
        assert!((found.kinematic_viscosity_m2_per_s * 1e6 - 8.5).abs() <= 0.05);
        assert!((found.intercept_a - 9.53082).abs() <= 0.5e-5);
        assert!((found.slope_b - 3.74658).abs() <= 0.5e-5);
    }

    /// Source: the same formula computed independently (numpy 2.4.6) through typical pairs (from memory); the formula's
    /// own arithmetic, not measured oils. Tolerance: half of the last printed digit.
    #[test]
    fn validate_grades_by_temperature() {
        let celsius = [-10.0, 0.0, 10.0, 20.0, 30.0, 40.0, 50.0, 60.0, 80.0, 100.0];
        #[rustfmt::skip]
        let rows: [[(f64, i32); 10]; 4] = [
            [(209.19, 2), (102.597, 3), (56.312, 3), (33.833, 3), (21.868, 3), (15.0, 3), (10.802, 3), (8.0975, 4), (5.0026, 4), (3.4, 4)],
            [(413.72, 2), (186.896, 3), (95.751, 3), (54.293, 3), (33.422, 3), (22.0, 3), (15.299, 3), (11.1319, 4), (6.5577, 4), (4.3, 4)],
            [(805.15, 2), (336.000, 3), (161.008, 3), (86.278, 3), (50.630, 3), (32.0, 3), (21.496, 3), (15.1859, 4), (8.5332, 4), (5.4, 4)],
            [(2822.82, 2), (1033.184, 3), (442.045, 3), (214.761, 3), (115.781, 3), (68.0, 3), (42.867, 3), (28.6587, 4), (14.7233, 4), (8.7, 4)],
        ];
        for row in rows {
            let (v40, v100) = (row[5].0, row[9].0);
            for ((printed, decimals), celsius) in row.into_iter().zip(celsius) {
                let half_digit = 0.5 * libm::exp10(f64::from(-decimals)) + 1e-9;
                let found = mm2_at(v40, v100, celsius);
                assert!((found - printed).abs() <= half_digit, "{v40}/{v100} at {celsius}: {found}, not {printed}");
            }
        }
    }

    #[test]
    fn verify_errors() {
        assert!(matches!(at(f64::NAN, 5.4, 20.0), Err(ViscosityError::NotFinite { .. })));
        assert!(matches!(at(32.0, 5.4, f64::INFINITY), Err(ViscosityError::NotFinite { .. })));
        assert!(matches!(at(5.4, 32.0, 20.0), Err(ViscosityError::NotFalling { .. })));
        assert!(matches!(at(32.0, 32.0, 20.0), Err(ViscosityError::NotFalling { .. })));
        assert!(matches!(at(32.0, 1.9, 20.0), Err(ViscosityError::OutsideValidity { .. })));
        assert!(matches!(at(-32.0, 5.4, 20.0), Err(ViscosityError::OutsideValidity { .. })));
        assert!(matches!(at(32.0, 5.4, -71.0), Err(ViscosityError::OutsideValidity { .. })));
        // 5.4 mm2/s at 100 degrees Celsius is below 2 mm2/s at 300: refused, not extrapolated.
        assert!(matches!(at(32.0, 5.4, 300.0), Err(ViscosityError::OutsideValidity { .. })));
    }

    proptest! {
        #[test]
        fn verify_passes_through_both_points(v100 in 2.0..100.0, factor in 1.01..50.0) {
            let v40 = v100 * factor;
            prop_assert!((mm2_at(v40, v100, 40.0) / v40 - 1.0).abs() <= 1e-10);
            prop_assert!((mm2_at(v40, v100, 100.0) / v100 - 1.0).abs() <= 1e-10);
        }

        #[test]
        fn verify_falls_with_temperature(v100 in 2.5..40.0, factor in 2.0..20.0, celsius in -20.0..100.0, step in 0.1..20.0) {
            if let (Ok(colder), Ok(warmer)) = (at(v100 * factor, v100, celsius - step), at(v100 * factor, v100, celsius)) {
                prop_assert!(warmer.kinematic_viscosity_m2_per_s < colder.kinematic_viscosity_m2_per_s);
            }
        }

        #[test]
        fn verify_any_float_gives_error_or_value_in_range(v40 in any::<f64>(), v100 in any::<f64>(), kelvin in any::<f64>()) {
            for (v40, v100, kelvin) in [(v40, v100, kelvin), (v40, 5e-6, 290.0), (32e-6, v100, 290.0), (32e-6, 5e-6, kelvin)] {
                if let Ok(found) = kinematic_viscosity_astm_d341(v40, v100, kelvin) {
                    prop_assert!(1.9e-6 < found.kinematic_viscosity_m2_per_s && found.kinematic_viscosity_m2_per_s < 21.0);
                }
            }
        }
    }
}
