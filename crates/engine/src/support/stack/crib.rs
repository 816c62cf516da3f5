//! The rule of thumb for box cribs.

use ramwright_units::{Force, Length, Stress};

/// What one crossing of two members carries: stress by the square of the member's width.
///
/// # Source
/// Urban search-and-rescue guidance in the United States, 500 psi on the actual size, second hand.
///
/// # Validity
/// Members of one width, crossed at right angles, in full contact.
pub fn contact_capacity(stress: Stress, member_width: Length) -> Force {
    stress * (member_width * member_width)
}

/// What a crib carries: one crossing by the number of crossings that are loaded.
///
/// # Source
/// As for [`contact_capacity`].
///
/// # Validity
/// As for [`contact_capacity`]; all loaded crossings share equally.
pub fn crib_capacity(stress: Stress, member_width: Length, crossings: u32) -> Force {
    contact_capacity(stress, member_width) * f64::from(crossings)
}

#[cfg(test)]
mod tests {
    use super::*;

    const LBF_N: f64 = 4.448_221_615_260_5;

    /// Urban search-and-rescue guidance (second hand), 500 psi on dressed sizes, printed after rounding down: 24 000, 55 000,
    /// 60 000 and 136 000 lb; before rounding 24 500, 55 125, 60 500 and 136 125 lb. Each crossing 6 125 and 15 125 lb; fewer
    /// loaded crossings carry in proportion.
    #[test]
    fn validate_crib_capacities() {
        let stress = Stress::from_pa(500.0 * 6_894.757_293_168_36);
        let rows = [
            (3.5, 4, 24_500.0, 24_000.0),
            (3.5, 9, 55_125.0, 55_000.0),
            (5.5, 4, 60_500.0, 60_000.0),
            (5.5, 9, 136_125.0, 136_000.0),
        ];
        for (width, crossings, exact, printed) in rows {
            let pounds = crib_capacity(stress, Length::from_mm(width * 25.4), crossings).n() / LBF_N;
            assert!((pounds - exact).abs() < 1e-3 && printed <= pounds && pounds - printed < 1_000.0, "{pounds}");
        }
        for (width, one) in [(3.5, 6_125.0), (5.5, 15_125.0)] {
            let width = Length::from_mm(width * 25.4);
            assert!((contact_capacity(stress, width).n() / LBF_N - one).abs() < 1e-3);
            assert!((crib_capacity(stress, width, 2).n() / LBF_N - 2.0 * one).abs() < 1e-3);
        }
    }
}
