//! The table of unit symbols with exact conversion factors.
//!
//! Factors follow from exact definitions (NIST SP 811, appendix B): pound 0.453 592 37 kg, inch 25.4 mm,
//! standard gravity 9.806 65 m/s2, US gallon 231 cubic inches, imperial gallon 4.546 09 L.

use serde::Serialize;
use utoipa::ToSchema;

/// What a unit measures; only units of one dimension convert into each other.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Serialize, ToSchema)]
#[serde(rename_all = "snake_case")]
#[allow(missing_docs, reason = "the names say all there is to say")]
pub enum Dimension {
    Number,
    Force,
    Mass,
    Length,
    Area,
    SecondMoment,
    Pressure,
    Volume,
    Flow,
    Speed,
    Stiffness,
    Moment,
    RotationalStiffness,
    Power,
    Time,
    Temperature,
    Angle,
    KinematicViscosity,
    VolumePerLength,
}

impl Dimension {
    /// The dimension's name in words, for messages.
    pub fn name(self) -> &'static str {
        match self {
            Self::Number => "plain number",
            Self::Force => "force",
            Self::Mass => "mass",
            Self::Length => "length",
            Self::Area => "area",
            Self::SecondMoment => "second moment of area",
            Self::Pressure => "pressure",
            Self::Volume => "volume",
            Self::Flow => "flow",
            Self::Speed => "speed",
            Self::Stiffness => "stiffness",
            Self::Moment => "moment",
            Self::RotationalStiffness => "rotational stiffness",
            Self::Power => "power",
            Self::Time => "time",
            Self::Temperature => "temperature",
            Self::Angle => "angle",
            Self::KinematicViscosity => "kinematic viscosity",
            Self::VolumePerLength => "volume per length",
        }
    }
}

/// A unit: SI value = value x `factor` + `offset`.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, ToSchema)]
pub struct Unit {
    /// The symbol used in answers and accepted in requests.
    pub symbol: &'static str,
    /// The unit's code in the Unified Code for Units of Measure.
    pub ucum: &'static str,
    /// What it measures.
    pub dimension: Dimension,
    /// SI value of one unit.
    pub factor: f64,
    /// SI value of zero; differs from 0 only for temperatures.
    pub offset: f64,
    /// Other spellings accepted in requests.
    pub also: &'static [&'static str],
}

const fn unit(
    symbol: &'static str,
    ucum: &'static str,
    dimension: Dimension,
    factor: f64,
    also: &'static [&'static str],
) -> Unit {
    Unit { symbol, ucum, dimension, factor, offset: 0.0, also }
}

/// A pound-force in newtons.
pub const LBF_N: f64 = 4.448_221_615_260_5;
/// A pound-force per square inch in pascals.
pub const PSI_PA: f64 = 44_482_216_152_605.0 / 6_451_600_000.0;
const PSF_PA: f64 = 44_482_216_152_605.0 / 929_030_400_000.0;
const PI: f64 = std::f64::consts::PI;

/// Every unit that requests may use, by dimension.
pub const UNITS: &[Unit] = &[
    unit("1", "1", Dimension::Number, 1.0, &[]),
    unit("N", "N", Dimension::Force, 1.0, &[]),
    unit("kN", "kN", Dimension::Force, 1e3, &["KN"]),
    unit("MN", "MN", Dimension::Force, 1e6, &[]),
    unit("kgf", "kgf", Dimension::Force, 9.806_65, &[]),
    unit("tf", "1000.kgf", Dimension::Force, 9_806.65, &[]),
    unit("lbf", "[lbf_av]", Dimension::Force, LBF_N, &[]),
    unit("kip", "1000.[lbf_av]", Dimension::Force, 4_448.221_615_260_5, &["kips", "klbf"]),
    unit("tonf_us", "2000.[lbf_av]", Dimension::Force, 8_896.443_230_521, &[]),
    unit("tonf_uk", "2240.[lbf_av]", Dimension::Force, 9_964.016_418_183_52, &[]),
    unit("g", "g", Dimension::Mass, 1e-3, &[]),
    unit("kg", "kg", Dimension::Mass, 1.0, &[]),
    unit("t", "t", Dimension::Mass, 1e3, &["tonne", "tonnes", "te"]),
    unit("lb", "[lb_av]", Dimension::Mass, 0.453_592_37, &["lbs"]),
    unit("ton_us", "[ston_av]", Dimension::Mass, 907.184_74, &["short_ton", "short ton", "short tons"]),
    unit("ton_uk", "[lton_av]", Dimension::Mass, 1_016.046_908_8, &["long_ton", "long ton", "long tons"]),
    unit("mm", "mm", Dimension::Length, 1e-3, &[]),
    unit("cm", "cm", Dimension::Length, 1e-2, &[]),
    unit("m", "m", Dimension::Length, 1.0, &[]),
    unit("in", "[in_i]", Dimension::Length, 0.025_4, &["inch", "inches", "\""]),
    unit("ft", "[ft_i]", Dimension::Length, 0.304_8, &["foot", "feet"]),
    unit("mm2", "mm2", Dimension::Area, 1e-6, &["mm²"]),
    unit("cm2", "cm2", Dimension::Area, 1e-4, &["cm²"]),
    unit("m2", "m2", Dimension::Area, 1.0, &["m²"]),
    unit("in2", "[in_i]2", Dimension::Area, 6.451_6e-4, &["in²", "sq in"]),
    unit("ft2", "[ft_i]2", Dimension::Area, 0.092_903_04, &["ft²", "sq ft"]),
    unit("mm4", "mm4", Dimension::SecondMoment, 1e-12, &[]),
    unit("cm4", "cm4", Dimension::SecondMoment, 1e-8, &[]),
    unit("in4", "[in_i]4", Dimension::SecondMoment, 4.162_314_256e-7, &[]),
    unit("Pa", "Pa", Dimension::Pressure, 1.0, &[]),
    unit("kPa", "kPa", Dimension::Pressure, 1e3, &["kN/m2"]),
    unit("MPa", "MPa", Dimension::Pressure, 1e6, &["N/mm2"]),
    unit("GPa", "GPa", Dimension::Pressure, 1e9, &[]),
    unit("bar", "bar", Dimension::Pressure, 1e5, &[]),
    unit("psi", "[psi]", Dimension::Pressure, PSI_PA, &[]),
    unit("ksi", "1000.[psi]", Dimension::Pressure, 44_482_216_152_605.0 / 6_451_600.0, &[]),
    unit("psf", "[lbf_av]/[ft_i]2", Dimension::Pressure, PSF_PA, &[]),
    unit("kgf/cm2", "kgf/cm2", Dimension::Pressure, 98_066.5, &[]),
    unit("mL", "mL", Dimension::Volume, 1e-6, &["ml", "cm3"]),
    unit("L", "L", Dimension::Volume, 1e-3, &["l", "litre", "litres", "liter", "liters"]),
    unit("m3", "m3", Dimension::Volume, 1.0, &[]),
    unit("in3", "[in_i]3", Dimension::Volume, 1.638_706_4e-5, &[]),
    unit("gal_us", "[gal_us]", Dimension::Volume, 3.785_411_784e-3, &[]),
    unit("gal_uk", "[gal_br]", Dimension::Volume, 4.546_09e-3, &[]),
    unit("L/min", "L/min", Dimension::Flow, 1e-3 / 60.0, &["l/min", "lpm"]),
    unit("m3/s", "m3/s", Dimension::Flow, 1.0, &[]),
    unit("gpm_us", "[gal_us]/min", Dimension::Flow, 3.785_411_784e-3 / 60.0, &[]),
    unit("in3/min", "[in_i]3/min", Dimension::Flow, 1.638_706_4e-5 / 60.0, &[]),
    unit("mm/s", "mm/s", Dimension::Speed, 1e-3, &[]),
    unit("m/s", "m/s", Dimension::Speed, 1.0, &[]),
    unit("in/s", "[in_i]/s", Dimension::Speed, 0.025_4, &[]),
    unit("N/mm", "N/mm", Dimension::Stiffness, 1e3, &[]),
    unit("kN/mm", "kN/mm", Dimension::Stiffness, 1e6, &[]),
    unit("kN/m", "kN/m", Dimension::Stiffness, 1e3, &[]),
    unit("lbf/in", "[lbf_av]/[in_i]", Dimension::Stiffness, LBF_N / 0.025_4, &[]),
    unit("N.m", "N.m", Dimension::Moment, 1.0, &["Nm"]),
    unit("kN.m", "kN.m", Dimension::Moment, 1e3, &["kNm"]),
    unit("lbf.ft", "[lbf_av].[ft_i]", Dimension::Moment, 1.355_817_948_331_400_4, &["ft.lbf", "ft-lbf"]),
    unit("kN.m/rad", "kN.m/rad", Dimension::RotationalStiffness, 1e3, &["kNm/rad"]),
    unit("lbf.ft/rad", "[lbf_av].[ft_i]/rad", Dimension::RotationalStiffness, 1.355_817_948_331_400_4, &[]),
    unit("W", "W", Dimension::Power, 1.0, &[]),
    unit("kW", "kW", Dimension::Power, 1e3, &[]),
    unit("hp", "[HP]", Dimension::Power, 745.699_871_582_270_2, &[]),
    unit("s", "s", Dimension::Time, 1.0, &[]),
    unit("min", "min", Dimension::Time, 60.0, &[]),
    unit("h", "h", Dimension::Time, 3_600.0, &[]),
    Unit {
        symbol: "degC", ucum: "Cel", dimension: Dimension::Temperature, factor: 1.0, offset: 273.15, also: &["°C"]
    },
    Unit {
        symbol: "degF",
        ucum: "[degF]",
        dimension: Dimension::Temperature,
        factor: 5.0 / 9.0,
        offset: 273.15 - 160.0 / 9.0,
        also: &["°F"],
    },
    unit("deg", "deg", Dimension::Angle, PI / 180.0, &["°"]),
    unit("rad", "rad", Dimension::Angle, 1.0, &[]),
    unit("mm2/s", "mm2/s", Dimension::KinematicViscosity, 1e-6, &["cSt"]),
    unit("mL/m", "mL/m", Dimension::VolumePerLength, 1e-6, &["ml/m", "cm3/m"]),
    unit("in3/ft", "[in_i]3/[ft_i]", Dimension::VolumePerLength, 1.638_706_4e-5 / 0.304_8, &[]),
];

/// The unit written so, by symbol or accepted spelling; case counts.
pub fn by_symbol(text: &str) -> Option<&'static Unit> {
    UNITS.iter().find(|unit| unit.symbol == text).or_else(|| UNITS.iter().find(|unit| unit.also.contains(&text)))
}

#[cfg(test)]
mod tests {
    use super::*;

    fn factor(symbol: &str) -> f64 {
        by_symbol(symbol).unwrap().factor
    }

    #[track_caller]
    fn check(symbol: &str, exact_numerator: f64, exact_denominator: f64) {
        // Both are whole numbers that an f64 holds exactly, so the quotient is the correctly rounded factor.
        assert!(exact_numerator < 9.007e15 && exact_denominator <= 1e16);
        let exact = exact_numerator / exact_denominator;
        assert!((factor(symbol) - exact).abs() <= exact * f64::EPSILON, "{symbol}: {} is not {exact}", factor(symbol));
    }

    /// NIST SP 811 (2008), appendix B, from the exact definitions of pound, inch and standard gravity.
    #[test]
    fn validate_factors_follow_from_exact_definitions() {
        check("lbf", 44_482_216_152_605.0, 1e13);
        check("kip", 44_482_216_152_605.0, 1e10);
        check("tonf_us", 8_896_443_230_521.0, 1e9);
        check("tonf_uk", 996_401_641_818_352.0, 1e11);
        check("tf", 980_665.0, 100.0);
        check("lb", 45_359_237.0, 1e8);
        check("ton_us", 90_718_474.0, 1e5);
        check("ton_uk", 10_160_469_088.0, 1e7);
        check("psi", 44_482_216_152_605.0, 6_451_600_000.0);
        check("ksi", 44_482_216_152_605.0, 6_451_600.0);
        check("psf", 44_482_216_152_605.0, 929_030_400_000.0);
        check("kgf/cm2", 980_665.0, 10.0);
        check("in", 254.0, 1e4);
        check("ft", 3_048.0, 1e4);
        check("in2", 64_516.0, 1e8);
        check("in/s", 254.0, 1e4);
        check("in3", 16_387_064.0, 1e12);
        check("in4", 4_162_314_256.0, 1e16);
        check("gal_us", 3_785_411_784.0, 1e12);
        check("gal_uk", 454_609.0, 1e8);
        check("in3/ft", 16_387_064.0, 304_800_000_000.0);
    }

    /// Printed digits of the same appendix, to half a unit of the last digit.
    #[test]
    fn validate_printed_values() {
        assert!((factor("psi") - 6_894.757).abs() < 0.000_5);
        assert!((factor("psf") - 47.880_26).abs() < 0.000_005);
        assert!((factor("lbf.ft") - 1.355_818).abs() < 0.000_000_5);
        assert!((factor("hp") - 745.699_9).abs() < 0.000_05);
        assert!((factor("lbf/in") - 175.126_8).abs() < 0.000_05);
        // 700 bar = 10 152.641 641 psi.
        assert!((700.0 * factor("bar") / factor("psi") - 10_152.641_641).abs() < 0.000_000_5);
        // 100 short tons-force at 10 000 psi need exactly 20 square inches.
        let area_in2 = 100.0 * factor("tonf_us") / (10_000.0 * factor("psi")) / factor("in2");
        assert!((area_in2 - 20.0).abs() < 1e-12);
    }

    #[test]
    fn verify_symbols_are_unique() {
        let mut seen = std::collections::BTreeSet::new();
        for unit in UNITS {
            for text in std::iter::once(&unit.symbol).chain(unit.also) {
                assert!(seen.insert(*text), "`{text}` stands twice");
            }
        }
    }
}
