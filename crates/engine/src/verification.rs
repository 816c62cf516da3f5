//! Known values, computed anew on the machine that runs this: by them a service shows that it calculates as it was tested.
//!
//! Each is one call of a formula that the checks use, with the reference and tolerance of the test that validates it.

use crate::check::{NoLines, Standing};
use crate::circuit::kernel::compression::compression_m3;
use crate::circuit::kernel::friction::friction_factor_churchill_1977;
use crate::circuit::kernel::viscosity::kinematic_viscosity_astm_d341;
use crate::force::{AirBending, DieKind, InterferenceFit, Member, air_bending, interference_fit};
use crate::load::kernel::girder::{self, BeamLoad, BeamSupport, Girder, Section};
use crate::load::kernel::{Vec2, equal_springs};
use crate::ram::kernel::column_curve::critical_stress_pa;
use crate::ram::kernel::two_section_column::{ColumnEnds, ColumnSection, critical_load};
use crate::ram::rise;
use crate::support::bearing_factor;
use crate::support::stack::crib_capacity;
use crate::text::Text;
use core::f64::consts::PI;
use ramwright_units::{Length, Range, Stress};
use serde::{Deserialize, Serialize};
use utoipa::ToSchema;

const KSI_PA: f64 = 6_894_757.293_168_36;
const LBF_N: f64 = 4.448_221_615_260_5;
const INCH_M: f64 = 0.025_4;

/// A known value beside what this machine makes of it.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, ToSchema)]
pub struct VerificationValue {
    /// Its name; it stays the same from version to version.
    pub id: Text,
    /// Where the reference comes from.
    pub source: Text,
    /// How sure the reference is.
    pub standing: Standing,
    /// What is computed, and from what.
    pub quantity: Text,
    /// The unit of the values; `1` for a plain number.
    pub unit: Text,
    /// The known value.
    pub reference: f64,
    /// The value computed now; absent if the formula refused its input, which it must not.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub computed: Option<f64>,
    /// By how much the computed value is greater.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub difference: Option<f64>,
    /// How much it may differ, either way: what the printed digits of the reference leave open.
    pub tolerance: f64,
    /// Whether it differs by no more.
    pub holds: bool,
}

/// What is known of a value.
struct Known {
    id: &'static str,
    source: &'static str,
    standing: Standing,
    quantity: &'static str,
    unit: &'static str,
    reference: f64,
    tolerance: f64,
    compute: fn() -> Option<f64>,
}

impl Known {
    fn computed(&self) -> VerificationValue {
        let computed = (self.compute)().filter(|value| value.is_finite());
        let difference = computed.map(|value| value - self.reference);
        VerificationValue {
            id: self.id.into(),
            source: self.source.into(),
            standing: self.standing,
            quantity: self.quantity.into(),
            unit: self.unit.into(),
            reference: self.reference,
            computed,
            difference,
            tolerance: self.tolerance,
            holds: difference.is_some_and(|difference| difference.abs() <= self.tolerance),
        }
    }
}

/// Every known value, computed now.
///
/// # Source
/// Named by each value.
///
/// # Validity
/// Of each value: its formula's.
pub fn verification_values() -> Vec<VerificationValue> {
    KNOWN.iter().map(Known::computed).collect()
}

const KNOWN: &[Known] = &[
    Known {
        id: "three_supports",
        source: "statics: moments about the supports",
        standing: Standing::Definition,
        quantity: "reaction of the first of three supports at (0, 0), (6, 0), (3, 5) m under 900 kN at (2.8, 1.5) m",
        unit: "kN",
        reference: 345.0,
        tolerance: 1e-9,
        compute: three_supports,
    },
    Known {
        id: "support_lifts_off",
        source: "a rigid load on four equal springs of which one lifts off: exact fractions of the other three",
        standing: Standing::Definition,
        quantity: "greatest reaction of four supports at (+-3, +-2) m under 100 at (2, 1) m",
        unit: "1",
        reference: 175.0 / 3.0,
        tolerance: 1e-9,
        compute: support_lifts_off,
    },
    Known {
        id: "two_equal_spans",
        source: "Hicks, Civil Engineering Formulas, table 2.1, p. 50: 10/8 w L",
        standing: Standing::Published,
        quantity: "middle reaction of two equal spans of 5 m under 2 kN/m",
        unit: "kN",
        reference: 12.5,
        tolerance: 1e-7,
        compute: two_equal_spans,
    },
    Known {
        id: "euler_column",
        source: "Euler: pi^2 E I / (4 L^2), fixed at the base and free at the head",
        standing: Standing::Published,
        quantity: "critical load of a column of one section in two halves, in parts of E I / L^2",
        unit: "1",
        reference: PI * PI / 4.0,
        tolerance: 1e-12,
        compute: euler_column,
    },
    Known {
        id: "stepped_column",
        source: "finite elements and finite differences (scipy 1.17.1), printed to five decimals",
        standing: Standing::Computed,
        quantity: "critical load of a pinned column, I2 / I1 = 0.2, a / L = 0.5, in parts of pi^2 E I1 / L^2",
        unit: "1",
        reference: 0.303_42,
        tolerance: 0.500_1e-5,
        compute: stepped_column,
    },
    Known {
        id: "column_curve",
        source: "AISC Design Examples 14.0, example E.1D, second hand: W14x90, 0.90 of the critical stress by 26.5 in2",
        standing: Standing::Published,
        quantity: "design strength at a slenderness of 58.632 and a yield strength of 50 ksi",
        unit: "kip",
        reference: 927.0,
        tolerance: 0.5,
        compute: || Some(column_curve()),
    },
    Known {
        id: "oil_viscosity",
        source: "ASTM D341, a worked sheet on the open web",
        standing: Standing::Published,
        quantity: "kinematic viscosity at 80 degrees Celsius of an oil of 32 and 5.4 mm2/s at 40 and 100",
        unit: "mm2/s",
        reference: 8.5,
        tolerance: 0.05,
        compute: oil_viscosity,
    },
    Known {
        id: "pipe_friction",
        source: "Churchill 1977, by the library fluids 1.3.1 to eight decimals",
        standing: Standing::Computed,
        quantity: "friction factor at a Reynolds number of 10 000 and a relative roughness of 0.001",
        unit: "1",
        reference: 0.032_690_20,
        tolerance: 0.500_1e-8,
        compute: || friction_factor_churchill_1977(1e4, 0.001).ok(),
    },
    Known {
        id: "oil_compression",
        source: "the definition of the bulk modulus, computed independently",
        standing: Standing::Computed,
        quantity: "loss of volume of 10 L of oil at 70 MPa and a bulk modulus of 1.4 GPa",
        unit: "L",
        reference: 0.487_71,
        tolerance: 1.1e-5,
        compute: || Some(compression_m3(10.0 - 0.487_71, 70e6, 1.4e9)),
    },
    Known {
        id: "warm_oil",
        source: "thermal expansion, 7e-4 and 12e-6 per K, both from memory",
        standing: Standing::FromMemory,
        quantity: "rise of a load on 300 mm of oil that warms by 20 K",
        unit: "mm",
        reference: 4.056,
        tolerance: 5e-4,
        compute: || Some(rise(&mut NoLines, Length::from_mm(300.0), 20.0).mm()),
    },
    Known {
        id: "crib",
        source: "urban search-and-rescue guidance, second hand: 24 500 lb before rounding",
        standing: Standing::Published,
        quantity: "capacity of four crossings of 3.5 in at 500 psi",
        unit: "lbf",
        reference: 24_500.0,
        tolerance: 0.005,
        compute: || Some(crib()),
    },
    Known {
        id: "timber_bearing_factor",
        source: "NDS 3.10.4, second hand",
        standing: Standing::Published,
        quantity: "bearing area factor of a contact of 3.5 in, 3 in from the end",
        unit: "1",
        reference: 1.107_143,
        tolerance: 5e-7,
        compute: || Some(bearing_factor(Length::from_m(3.5 * INCH_M), Some(Length::from_m(3.0 * INCH_M)))),
    },
    Known {
        id: "interference_fit",
        source: "Lame, by an independent solution of the four boundary equations",
        standing: Standing::Computed,
        quantity: "contact pressure, steel 50 mm in steel 100 mm, 0.050 mm on the diameter",
        unit: "MPa",
        reference: 77.625,
        tolerance: 5e-5,
        compute: shrunk_hub,
    },
    Known {
        id: "air_bending",
        source: "Groover, Fundamentals of Modern Manufacturing, example 20.2, as remembered",
        standing: Standing::FromMemory,
        quantity: "force to bend 44.5 mm of a sheet of 3.2 mm and 450 MPa over a die of 25 mm",
        unit: "N",
        reference: 10_909.0,
        tolerance: 0.5,
        compute: bent_sheet,
    },
];

fn three_supports() -> Option<f64> {
    let points = [Vec2::new(0.0, 0.0), Vec2::new(6.0, 0.0), Vec2::new(3.0, 5.0)];
    equal_springs(&points, Vec2::new(2.8, 1.5)).ok()?.first().map(|share| share * 900.0)
}

fn support_lifts_off() -> Option<f64> {
    let points = [(3.0, 2.0), (3.0, -2.0), (-3.0, -2.0), (-3.0, 2.0)].map(|(x, y)| Vec2::new(x, y));
    equal_springs(&points, Vec2::new(2.0, 1.0)).ok()?.first().map(|share| share * 100.0)
}

fn two_equal_spans() -> Option<f64> {
    let supports = [0.0, 5.0, 10.0].map(|at_m| BeamSupport { at_m, stiffness_n_per_m: 1e13, level_m: 0.0 });
    let beam = Girder {
        from_m: 0.0,
        to_m: 10.0,
        sections: vec![Section { from_m: 0.0, bending_stiffness_nm2: 1e6 }],
        supports: supports.to_vec(),
        loads: vec![BeamLoad::Uniform { from_m: 0.0, to_m: 10.0, force_per_m: 2e3 }],
    };
    girder::solve(&beam).ok()?.reactions_n.get(1).map(|reaction| reaction / 1e3)
}

fn section(rigidity_nm2: f64, length_m: f64) -> ColumnSection {
    ColumnSection { youngs_modulus_pa: rigidity_nm2, second_moment_m4: 1.0, length_m }
}

fn euler_column() -> Option<f64> {
    critical_load(&section(1.0, 0.5), &section(1.0, 0.5), ColumnEnds::FixedFree).ok().map(|found| found.load_n)
}

fn stepped_column() -> Option<f64> {
    let found = critical_load(&section(1.0, 0.5), &section(0.2, 0.5), ColumnEnds::PinnedPinned).ok()?;
    Some(found.load_n / (PI * PI))
}

fn column_curve() -> f64 {
    const AREA_IN2: f64 = 26.5;
    0.90 * critical_stress_pa(58.632, 50.0 * KSI_PA, 29_000.0 * KSI_PA) / KSI_PA * AREA_IN2
}

fn oil_viscosity() -> Option<f64> {
    let found = kinematic_viscosity_astm_d341(32e-6, 5.4e-6, 80.0 + 273.15).ok()?;
    Some(found.kinematic_viscosity_m2_per_s * 1e6)
}

fn crib() -> f64 {
    let capacity = crib_capacity(Stress::from_pa(0.5 * KSI_PA), Length::from_m(3.5 * INCH_M), 4);
    capacity.n() / LBF_N
}

fn exactly<T: Copy>(value: T) -> Range<T> {
    Range::new(value, value, value)
}

fn shrunk_hub() -> Option<f64> {
    let mm = Length::from_mm;
    let steel = Member { modulus: Stress::from_mpa(207_000.0), poisson: 0.292 };
    let fit = InterferenceFit {
        joint_diameter: mm(50.0),
        joint_length: mm(60.0),
        hub_outside: mm(100.0),
        shaft_bore: Length::ZERO,
        hub: steel,
        shaft: steel,
        hub_yield: None,
        radial_interference: exactly(mm(0.025)),
        friction: exactly(0.15),
        after_service: 1.0,
    };
    interference_fit(&mut NoLines, &fit).ok().map(|found| found.stress.contact_pressure.mpa())
}

fn bent_sheet() -> Option<f64> {
    let mm = Length::from_mm;
    let bend = AirBending {
        die: DieKind::VDie,
        die_opening: mm(25.0),
        width: mm(44.5),
        thickness: mm(3.2),
        tensile_strength: exactly(Stress::from_mpa(450.0)),
    };
    air_bending(&mut NoLines, &bend).ok().map(|(force, _)| force.greatest.n())
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn validate_every_known_value() {
        let values = verification_values();
        assert!(12 <= values.len());
        for value in &values {
            assert!(value.holds, "{value:?}");
        }
        let ids: std::collections::BTreeSet<_> = values.iter().map(|value| value.id.as_str()).collect();
        assert_eq!(ids.len(), values.len());
    }

    #[test]
    fn verify_a_value_that_is_off_or_missing_does_not_hold() {
        let known = |compute| Known {
            id: "x",
            source: "x",
            standing: Standing::Definition,
            quantity: "x",
            unit: "1",
            reference: 10.0,
            tolerance: 0.5,
            compute,
        };
        assert!(known(|| Some(10.5)).computed().holds && known(|| Some(9.5)).computed().holds);
        assert!(!known(|| Some(10.6)).computed().holds && !known(|| Some(9.4)).computed().holds);
        assert!(!known(|| None).computed().holds && !known(|| Some(f64::NAN)).computed().holds);
    }
}
