//! Material values with their sources.

use crate::Text;
use crate::check::Source;
use crate::defaults::{ALUMINIUM_MODULUS, BULK_MODULUS, STEEL_MODULUS};
use crate::ram::{OIL_EXPANSION_PER_K, STEEL_EXPANSION_PER_K};
use ramwright_units::{GroundPressure, Quantity, Stress};
use serde::{Deserialize, Serialize};
use utoipa::ToSchema;

/// Species groups of the NDS Supplement.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize, ToSchema)]
#[serde(rename_all = "snake_case")]
pub enum NdsSpecies {
    /// Douglas fir-larch.
    DouglasFirLarch,
    /// Hem-fir.
    HemFir,
    /// Southern pine without a density qualifier.
    SouthernPine,
    /// Southern pine, dense.
    SouthernPineDense,
    /// Southern pine, non-dense.
    SouthernPineNonDense,
    /// Spruce-pine-fir.
    SprucePineFir,
    /// Red oak.
    RedOak,
    /// White oak and mixed oak.
    WhiteOak,
}

/// Strength classes of EN 338, each with the edition where editions differ.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize, ToSchema)]
#[serde(rename_all = "snake_case")]
pub enum En338Class {
    /// C16.
    C16,
    /// C18.
    C18,
    /// C24.
    C24,
    /// C30.
    C30,
    /// D30 of EN 338:2016.
    #[serde(rename = "d30_2016")]
    D30Edition2016,
    /// D40 of EN 338:2016.
    #[serde(rename = "d40_2016")]
    D40Edition2016,
    /// D60 of EN 338:2016.
    #[serde(rename = "d60_2016")]
    D60Edition2016,
    /// D70 of EN 338:2016.
    #[serde(rename = "d70_2016")]
    D70Edition2016,
    /// D30 of EN 338:2009, which is superseded.
    #[serde(rename = "d30_2009")]
    D30Edition2009,
    /// D40 of EN 338:2009, which is superseded.
    #[serde(rename = "d40_2009")]
    D40Edition2009,
}

/// Classes of ground with a presumptive bearing pressure (International Building Code 2012, table 1806.2).
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize, ToSchema)]
#[serde(rename_all = "snake_case")]
pub enum GroundClass {
    /// Crystalline bedrock.
    CrystallineBedrock,
    /// Sedimentary and foliated rock.
    SedimentaryRock,
    /// Sandy gravel and gravel.
    Gravel,
    /// Sand, silty or clayey sand, silty or clayey gravel.
    Sand,
    /// Clay, sandy or silty clay, clayey silt, silt, sandy silt.
    Clay,
    /// Mud, organic silt or clay, peat, unprepared fill.
    SoftOrFill,
}

/// A value with where it comes from.
#[derive(Clone, Debug, PartialEq)]
pub struct Valued<T> {
    /// The value.
    pub value: T,
    /// Where it comes from.
    pub source: Source,
}

/// A value of a material as it is listed.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, ToSchema)]
pub struct MaterialValue {
    /// The material.
    pub material: Text,
    /// What the value is.
    pub property: Text,
    /// Its symbol.
    pub symbol: Text,
    /// The value.
    #[schema(inline = false)]
    pub value: Quantity,
    /// Where it comes from.
    pub source: Source,
}

const PSI_PA: f64 = 44_482_216_152_605.0 / 6_451_600_000.0;
const PSF_PA: f64 = 44_482_216_152_605.0 / 929_030_400_000.0;

const NDS_SECOND_HAND: Source = Source::published("NDS Supplement, table 4A, second hand");
const NDS_METRIC: Source =
    Source::published("NDS Supplement, table 4A: second hand as a rounded metric value; the value in psi from memory");
const NDS_MEMORY: Source = Source::from_memory("NDS Supplement, timbers of hardwood; from memory");
const EN_2016: Source = Source::published("EN 338:2016, second hand");
const EN_2009: Source = Source::from_memory("EN 338:2009, superseded; from memory");
const IBC: Source = Source::published("International Building Code 2012, table 1806.2, second hand");

impl NdsSpecies {
    /// Every species group.
    pub const ALL: [Self; 8] = [
        Self::DouglasFirLarch,
        Self::HemFir,
        Self::SouthernPine,
        Self::SouthernPineDense,
        Self::SouthernPineNonDense,
        Self::SprucePineFir,
        Self::RedOak,
        Self::WhiteOak,
    ];

    fn row(self) -> (&'static str, f64, Source) {
        match self {
            Self::DouglasFirLarch => ("Douglas fir-larch", 625.0, NDS_SECOND_HAND),
            Self::HemFir => ("hem-fir", 405.0, NDS_SECOND_HAND),
            Self::SouthernPine => ("southern pine", 565.0, NDS_SECOND_HAND),
            Self::SouthernPineDense => ("southern pine, dense", 660.0, NDS_METRIC),
            Self::SouthernPineNonDense => ("southern pine, non-dense", 480.0, NDS_METRIC),
            Self::SprucePineFir => ("spruce-pine-fir", 425.0, NDS_SECOND_HAND),
            Self::RedOak => ("red oak", 820.0, NDS_MEMORY),
            Self::WhiteOak => ("white oak, mixed oak", 800.0, NDS_MEMORY),
        }
    }

    /// Reference design value across the grain, dry, of the NDS.
    pub fn across_grain(self) -> Valued<Stress> {
        let (_, psi, source) = self.row();
        Valued { value: Stress::from_pa(psi * PSI_PA), source }
    }
}

impl En338Class {
    /// Every class.
    pub const ALL: [Self; 10] = [
        Self::C16,
        Self::C18,
        Self::C24,
        Self::C30,
        Self::D30Edition2016,
        Self::D40Edition2016,
        Self::D60Edition2016,
        Self::D70Edition2016,
        Self::D30Edition2009,
        Self::D40Edition2009,
    ];

    /// Name, strength across the grain and mean modulus across the grain, both in MPa, and the source of the strength.
    fn row(self) -> (&'static str, f64, f64, Source) {
        match self {
            Self::C16 => ("C16", 2.2, 270.0, EN_2016),
            Self::C18 => ("C18", 2.2, 300.0, EN_2016),
            Self::C24 => ("C24", 2.5, 370.0, EN_2016),
            Self::C30 => ("C30", 2.7, 400.0, EN_2016),
            Self::D30Edition2016 => ("D30, 2016 edition", 5.3, 730.0, EN_2016),
            Self::D40Edition2016 => ("D40, 2016 edition", 5.5, 870.0, EN_2016),
            Self::D60Edition2016 => ("D60, 2016 edition", 10.5, 1130.0, EN_2016),
            Self::D70Edition2016 => ("D70, 2016 edition", 12.0, 1330.0, EN_2016),
            // The moduli are those of the later edition: the earlier were not at hand.
            Self::D30Edition2009 => ("D30, 2009 edition", 8.0, 730.0, EN_2009),
            Self::D40Edition2009 => ("D40, 2009 edition", 8.3, 870.0, EN_2009),
        }
    }

    /// Characteristic strength across the grain.
    pub fn across_grain(self) -> Valued<Stress> {
        let (_, mpa, _, source) = self.row();
        Valued { value: Stress::from_mpa(mpa), source }
    }

    /// Mean modulus of elasticity across the grain.
    pub fn modulus_across_grain(self) -> Valued<Stress> {
        let (_, _, mpa, _) = self.row();
        Valued { value: Stress::from_mpa(mpa), source: EN_2016 }
    }

    /// Whether it is a softwood, for which alone EN 1995-1-1 raises the strength at bearings.
    pub fn is_softwood(self) -> bool {
        matches!(self, Self::C16 | Self::C18 | Self::C24 | Self::C30)
    }
}

impl GroundClass {
    /// Every class.
    pub const ALL: [Self; 6] =
        [Self::CrystallineBedrock, Self::SedimentaryRock, Self::Gravel, Self::Sand, Self::Clay, Self::SoftOrFill];

    fn row(self) -> (&'static str, f64) {
        match self {
            Self::CrystallineBedrock => ("crystalline bedrock", 12_000.0),
            Self::SedimentaryRock => ("sedimentary and foliated rock", 4_000.0),
            Self::Gravel => ("sandy gravel, gravel", 3_000.0),
            Self::Sand => ("sand, silty or clayey sand or gravel", 2_000.0),
            Self::Clay => ("clay, sandy or silty clay, silt", 1_500.0),
            Self::SoftOrFill => ("mud, organic silt or clay, peat, unprepared fill", 0.0),
        }
    }
}

/// Presumptive bearing pressure of a class of ground.
pub fn presumptive(class: GroundClass) -> Valued<GroundPressure> {
    Valued { value: GroundPressure::from_pa(class.row().1 * PSF_PA), source: IBC }
}

/// A surface that rests on another.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize, ToSchema)]
#[serde(rename_all = "snake_case")]
pub enum Surface {
    /// Steel.
    Steel,
    /// Timber or plywood.
    Timber,
    /// Concrete.
    Concrete,
    /// Ground.
    Ground,
}

impl Surface {
    const ALL: [Self; 4] = [Self::Steel, Self::Timber, Self::Concrete, Self::Ground];

    fn word(self) -> &'static str {
        match self {
            Self::Steel => "steel",
            Self::Timber => "timber",
            Self::Concrete => "concrete",
            Self::Ground => "ground",
        }
    }
}

/// Coefficient of friction between two dry surfaces, at the low end of what textbooks give.
pub fn friction(a: Surface, b: Surface) -> Valued<f64> {
    use Surface::{Concrete, Ground, Steel, Timber};
    let (first, second) = if a <= b { (a, b) } else { (b, a) };
    let value = match (first, second) {
        (Steel, Steel) => 0.10,
        (Steel, Timber | Concrete | Ground) => 0.20,
        (Timber, Timber) => 0.25,
        _ => 0.30,
    };
    Valued { value, source: Source::from_memory("dry surfaces, low end of textbook values, from memory") }
}

/// Every value, for `GET /v1/materials`.
///
/// # Source
/// Each entry names its own.
///
/// # Validity
/// As its source says; a value from memory is not confirmed.
pub fn materials() -> Vec<MaterialValue> {
    let listed =
        |material: &'static str, property: &'static str, symbol: &'static str, value: Quantity, source: Source| {
            MaterialValue { material: material.into(), property: property.into(), symbol: symbol.into(), value, source }
        };
    let mut list = Vec::new();
    for species in NdsSpecies::ALL {
        let found = species.across_grain();
        list.push(listed(
            species.row().0,
            "design value across the grain, dry (NDS)",
            "F_c_perp",
            found.value.into(),
            found.source,
        ));
    }
    for class in En338Class::ALL {
        let (name, ..) = class.row();
        let (strength, modulus) = (class.across_grain(), class.modulus_across_grain());
        list.push(listed(
            name,
            "characteristic strength across the grain (EN 338)",
            "f_c_90_k",
            strength.value.into(),
            strength.source,
        ));
        list.push(listed(
            name,
            "mean modulus of elasticity across the grain (EN 338)",
            "E_90_mean",
            modulus.value.into(),
            modulus.source,
        ));
    }
    for class in GroundClass::ALL {
        let found = presumptive(class);
        list.push(listed(class.row().0, "presumptive bearing pressure", "q_pres", found.value.into(), found.source));
    }
    for (index, a) in Surface::ALL.into_iter().enumerate() {
        for b in Surface::ALL.into_iter().skip(index) {
            let found = friction(a, b);
            list.push(MaterialValue {
                material: format!("{} on {}", a.word(), b.word()).into(),
                property: "coefficient of friction, dry".into(),
                symbol: "mu".into(),
                value: found.value.into(),
                source: found.source,
            });
        }
    }
    let steel =
        Source::from_memory("EN 1993-1-1 gives 210 GPa; the lower value commonly used for tubes and rods, from memory");
    list.push(listed("steel", "modulus of elasticity", "E", STEEL_MODULUS.into(), steel));
    let aluminium = Source::published("EN 1999-1-1");
    list.push(listed("aluminium alloy", "modulus of elasticity", "E", ALUMINIUM_MODULUS.into(), aluminium));
    let oil = Source::from_memory("mineral oil, the stiff end of 1.4 to 2.0 GPa");
    list.push(listed("mineral oil", "bulk modulus", "K", BULK_MODULUS.into(), oil));
    let expansion = Source::from_memory("from memory");
    list.push(listed(
        "mineral oil",
        "volumetric expansion per K",
        "beta_oil",
        OIL_EXPANSION_PER_K.into(),
        expansion.clone(),
    ));
    list.push(listed("steel", "linear expansion per K", "alpha_steel", STEEL_EXPANSION_PER_K.into(), expansion));
    list
}

#[cfg(test)]
mod tests {
    use super::*;

    /// NDS Supplement, table 4A (second hand; oak from memory), in psi and MPa.
    #[test]
    fn validate_nds_values() {
        let mpa = [4.309_22, 2.792_38, 3.895_54, 4.550_54, 3.309_48, 2.930_27, 5.653_70, 5.515_81];
        for (species, mpa) in NdsSpecies::ALL.into_iter().zip(mpa) {
            assert!((species.across_grain().value.mpa() - mpa).abs() < 5e-6, "{species:?}");
        }
    }

    /// International Building Code 2012, table 1806.2 (second hand), in kPa.
    #[test]
    fn validate_presumptive_values() {
        let kpa = [574.563, 191.521, 143.641, 95.761, 71.820, 0.0];
        for (class, kpa) in GroundClass::ALL.into_iter().zip(kpa) {
            assert!((presumptive(class).value.kpa() - kpa).abs() < 6e-4, "{class:?}");
        }
    }

    /// EN 338:2016 (second hand): the strength of hardwood below D60 fell by a third from the 2009 edition.
    #[test]
    fn validate_editions_differ() {
        let mpa = |class: En338Class| class.across_grain().value.mpa();
        assert!((mpa(En338Class::D30Edition2016) - 5.3).abs() < 1e-12);
        assert!((mpa(En338Class::D40Edition2016) - 5.5).abs() < 1e-12);
        assert!(mpa(En338Class::D30Edition2016) < 0.7 * mpa(En338Class::D30Edition2009));
    }

    #[test]
    fn verify_friction_is_the_same_both_ways_and_every_value_is_listed() {
        for a in Surface::ALL {
            for b in Surface::ALL {
                assert_eq!(friction(a, b), friction(b, a));
            }
        }
        assert_eq!(materials().len(), 8 + 20 + 6 + 10 + 5);
        assert!(materials().iter().all(|value| !value.source.text.as_str().is_empty()));
    }
}
