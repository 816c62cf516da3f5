//! Oil that warms up while it is shut in.

use crate::check::{Finding, Ledger, Source, Status};
use crate::defaults::STOP_PRESSURE_FACTOR;
use crate::line;
use ramwright_units::{Length, OilPressure};

/// Volumetric expansion of mineral oil, per K. From memory.
pub const OIL_EXPANSION_PER_K: f64 = 7e-4;
/// Linear expansion of steel, per K. From memory.
pub const STEEL_EXPANSION_PER_K: f64 = 12e-6;

const EXPANSION: Source =
    Source::from_memory("thermal expansion of oil in an unrestrained steel vessel; 7e-4 and 12e-6 per K from memory");

/// What warm oil can do to a ram whose oil is shut in.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct WarmOil {
    /// By how much the oil warms up, in K.
    pub rise_k: f64,
    /// Pressure in the ram before.
    pub pressure: OilPressure,
    /// Least rated pressure of what holds the oil.
    pub rated: OilPressure,
    /// Bulk modulus of the oil.
    pub bulk_modulus: OilPressure,
    /// Setting of a relief valve between ram and load-holding valve.
    pub relief: Option<OilPressure>,
}

/// The pressure of oil that cannot expand, or the setting of the relief valve that lets it, against the rated pressure.
///
/// `dp = K (beta_oil - 3 alpha_steel) dT`. Under a load that is free to rise it does so instead, see [`rise`]; which of both
/// happens is not known when a collar is tight or the load is held elsewhere, so the pressure is what is checked.
///
/// # Source
/// Thermal expansion; the constants are from memory.
///
/// # Validity
/// A temperature rise of zero or more; the vessel does not give way.
pub fn warm_oil(book: &mut impl Ledger, oil: &WarmOil) -> Finding {
    let gain = shut_in_gain(book, oil.bulk_modulus, oil.rise_k, EXPANSION);
    let shut_in =
        line!(book, p_w: OilPressure = p + dp; p = oil.pressure, dp = gain; Source::definition("pressures add up"));
    let finding = match oil.relief {
        // A valve that opens earlier keeps the pressure down; one that opens later protects nothing.
        // A valve that opens at what the load needs, with the reserve of the stop pressure, lets the load down.
        Some(relief) if relief < oil.pressure * STOP_PRESSURE_FACTOR => {
            return Finding::judged(
                Status::Fail,
                format!(
                    "a relief valve set to {:.0} bar opens under the load: it needs {:.0} bar or more",
                    relief.bar(),
                    (oil.pressure * STOP_PRESSURE_FACTOR).bar().ceil()
                ),
            );
        }
        Some(relief) => {
            let kept = line!(book, p_k: OilPressure = min(p_w, p_v); p_w = shut_in, p_v = relief; Source::definition("a relief valve opens at its setting"));
            Finding::compare(kept, oil.rated)
        }
        None => Finding::compare(shut_in, oil.rated),
    };
    finding.with_remedy(|| format!("a relief valve at the ram set to no more than {:.0} bar", oil.rated.bar().floor()))
}

/// The pressure that shut-in oil gains when it warms up: `K (beta_oil - 3 alpha_steel) dT`.
pub(crate) fn shut_in_gain(book: &mut impl Ledger, modulus: OilPressure, rise_k: f64, source: Source) -> OilPressure {
    line!(book, dp: OilPressure = K * ((beta - 3.0 * alpha) * dT); K = modulus, beta = OIL_EXPANSION_PER_K, alpha = STEEL_EXPANSION_PER_K, dT = rise_k; source)
}

/// By how much a free load rises when a column of oil under it warms up: `l (beta_oil - 2 alpha_steel) dT`.
///
/// # Source
/// Thermal expansion; the constants are from memory.
///
/// # Validity
/// The cylinder widens freely.
pub fn rise(book: &mut impl Ledger, column: Length, rise_k: f64) -> Length {
    line!(book, dh: Length = l * ((beta - 2.0 * alpha) * dT); l = column, beta = OIL_EXPANSION_PER_K, alpha = STEEL_EXPANSION_PER_K, dT = rise_k; EXPANSION)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::check::NoLines;

    fn oil(rise_k: f64, relief: Option<f64>) -> WarmOil {
        let bar = OilPressure::from_bar;
        WarmOil {
            rise_k,
            pressure: bar(480.0),
            rated: bar(680.0),
            bulk_modulus: bar(20_000.0),
            relief: relief.map(bar),
        }
    }

    /// 300 mm of oil warmed by 20 K rise by about 4 mm (by arithmetic from 7e-4 and 12e-6 per K, both from memory).
    #[test]
    fn validate_warm_oil_rise() {
        let found = rise(&mut NoLines, Length::from_mm(300.0), 20.0);
        assert!((found.mm() - 4.056).abs() < 5e-4);
    }

    #[test]
    fn verify_a_rise_that_the_rating_just_bears() {
        // 20 000 bar x (7e-4 - 36e-6) = 13.28 bar for each K.
        let most = (680.0 - 480.0) / 13.28;
        assert_eq!(warm_oil(&mut NoLines, &oil(most * 0.999, None)).status(), Status::Pass);
        assert_eq!(warm_oil(&mut NoLines, &oil(most * 1.001, None)).status(), Status::Fail);
        assert_eq!(warm_oil(&mut NoLines, &oil(90.0, Some(680.0))).status(), Status::Pass);
        assert_eq!(warm_oil(&mut NoLines, &oil(90.0, Some(681.0))).status(), Status::Fail);
        // 480 bar x 1.10: a valve set lower opens under the load.
        assert_eq!(warm_oil(&mut NoLines, &oil(90.0, Some(528.1))).status(), Status::Pass);
        assert_eq!(warm_oil(&mut NoLines, &oil(90.0, Some(527.0))).status(), Status::Fail);
        assert_eq!(warm_oil(&mut NoLines, &oil(1.0, Some(50.0))).status(), Status::Fail);
        assert_eq!(warm_oil(&mut NoLines, &oil(f64::NAN, None)).status(), Status::Fail);
    }
}
