//! Strength of a straight column of one section that is neither quite straight nor free of residual stress.

/// Critical stress of a column, in Pa: `0.658^(f_y / f_e) f_y` where `f_y / f_e <= 2.25`, else `0.877 f_e`, with
/// `f_e = pi^2 E / slenderness^2`.
///
/// # Source
/// AISC 360, section E3, second hand (design examples that quote it).
///
/// # Validity
/// Slenderness `K L / r` above zero; yield strength and modulus above zero, both in Pa. Nominal: no factor of safety.
pub(crate) fn critical_stress_pa(slenderness: f64, yield_pa: f64, modulus_pa: f64) -> f64 {
    let elastic_pa = std::f64::consts::PI * std::f64::consts::PI * modulus_pa / (slenderness * slenderness);
    let ratio = yield_pa / elastic_pa;
    if ratio <= 2.25 { libm::pow(0.658, ratio) * yield_pa } else { 0.877 * elastic_pa }
}

#[cfg(test)]
mod tests {
    use super::*;

    const KSI_PA: f64 = 6_894_757.293_168_36;

    /// AISC Design Examples v14.0, example E.1D, quoted second hand: W14x90, yield 50 ksi, K L / r = 58.632, A = 26.5 in2:
    /// 0.90 of critical stress by area is 927 kip, the same over 1.67 is 617 kip.
    #[test]
    fn validate_design_example() {
        let stress_ksi = critical_stress_pa(58.632, 50.0 * KSI_PA, 29_000.0 * KSI_PA) / KSI_PA;
        assert!((stress_ksi - 38.887_3).abs() < 1e-3);
        assert!((0.90 * stress_ksi * 26.5 - 927.0).abs() <= 0.5);
        assert!((stress_ksi * 26.5 / 1.67 - 617.0).abs() <= 0.5);
    }

    /// AISC 360, E3 (plain arithmetic of the formula): critical stress for four steels.
    #[test]
    fn validate_critical_stress_rows() {
        let rows = [
            (20.0, [48.558_8, 35.249_8, 335.051_0, 244.754_8]),
            (60.0, [38.428_6, 29.784_8, 265.122_1, 206.567_0]),
            (100.0, [24.067_2, 21.265_3, 166.003_0, 147.136_5]),
            (113.0, [19.656_1, 18.380_7, 135.563_9, 127.049_4]),
            (114.0, [19.314_7, 18.162_4, 133.204_7, 125.529_7]),
            (150.0, [11.156_2, 11.156_2, 76.939_0, 76.939_0]),
            (200.0, [6.275_3, 6.275_3, 43.278_2, 43.278_2]),
        ];
        let steels =
            [(50.0, 29_000.0, KSI_PA), (36.0, 29_000.0, KSI_PA), (345.0, 200_000.0, 1e6), (250.0, 200_000.0, 1e6)];
        for (slenderness, row) in rows {
            for ((f_y, e, unit), expected) in steels.into_iter().zip(row) {
                let found = critical_stress_pa(slenderness, f_y * unit, e * unit) / unit;
                assert!((found - expected).abs() <= 1e-4 * expected, "{slenderness} {f_y}: {found}");
            }
        }
    }
}
