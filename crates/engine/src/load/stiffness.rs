//! How far a support gives under its share: what stands in series, oil first.

use crate::check::{Ledger, Source, Standing};
use crate::line;
use ramwright_units::{Area, HoseLength, Length, OilPressure, OilVolume, Stiffness, Stress, Typed};
use thiserror::Error;

const COLUMN: Source = Source::definition("a column of oil shortens by p h / K under p = F / A");
const BLOCK: Source = Source::definition("a straight block shortens by F h / (E A)");
const SWELLING: Source =
    Source::definition("swelling grows with pressure; p A is the force, V / A is how far the ram sinks");
const LINKED: Source =
    Source::definition("linked rams have one pressure p (any; it cancels), and their volumes of oil add up");

/// Oil that is shut in under a ram.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct OilColumn {
    /// Effective area of the ram.
    pub area: Area,
    /// Height of the oil under the plunger: the extension.
    pub height: Length,
    /// All other oil up to the load-holding valve: under the retracted plunger, and in ports and hose. May be zero.
    pub dead_volume: OilVolume,
    /// Bulk modulus of the oil; [`crate::defaults::BULK_MODULUS`] where none is stated.
    pub bulk_modulus: OilPressure,
}

/// A hose between the ram and the load-holding valve, by what it swells.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct HoseSwelling {
    /// Effective area of the ram.
    pub area: Area,
    /// Oil that the hose takes in by swelling.
    pub swelling: OilVolume,
    /// The pressure at which it does.
    pub at_pressure: OilPressure,
}

/// Why there is no stiffness.
#[derive(Clone, Debug, PartialEq, Eq, Error)]
#[non_exhaustive]
pub enum StiffnessError {
    /// Nothing to add up.
    #[error("a support needs at least one part to have a stiffness")]
    NoParts,
    /// A value that must be above zero is not.
    #[error("{what} must be a number above zero")]
    NotPositive {
        /// Which one.
        what: String,
    },
    /// A value that may be zero is below it.
    #[error("{what} must be a number not below zero")]
    Negative {
        /// Which one.
        what: String,
    },
    /// A result too great or too small for a number.
    #[error("the stiffness cannot be computed with these values")]
    NotComputable,
}

/// Stiffness of the oil under a ram: k = K A / h, with the dead volume as so much more height.
///
/// # Source
/// Definition of the bulk modulus.
///
/// # Validity
/// Oil without air, and a stiff ram body and hose: what these give comes in series. The modulus is constant from zero
/// to the pressure. Leaving out dead volume makes the support stiffer than it is. Stiffer is the safe side for forces
/// from level errors as long as all supports are on oil; where others are not, a ram that is in truth softer leaves
/// them more, so give its true stiffness there.
///
/// # Errors
/// [`StiffnessError`] if area, modulus or total height is not above zero, or the dead volume is below it.
pub fn oil_stiffness(book: &mut impl Ledger, oil: &OilColumn) -> Result<Stiffness, StiffnessError> {
    positive("the effective area of the ram", oil.area)?;
    positive("the bulk modulus of the oil", oil.bulk_modulus)?;
    not_negative("the height of the oil", oil.height)?;
    not_negative("the dead volume of the oil", oil.dead_volume)?;
    let height = line!(book, h_o: Length = h + V / A; h = oil.height, V = oil.dead_volume, A = oil.area; COLUMN);
    positive("the height of the oil with its dead volume", height)?;
    let stiffness = line!(book, k_o: Stiffness = K * A / h_o; K = oil.bulk_modulus, A = oil.area, h_o = height; COLUMN);
    computable(stiffness)
}

/// What a hose of some length swells, from what a shorter or longer piece of it does at the same pressure.
///
/// # Source
/// Proportion.
///
/// # Validity
/// One kind of hose at one pressure.
///
/// # Errors
/// [`StiffnessError`] if any value is not above zero.
pub fn hose_swelling(
    book: &mut impl Ledger,
    swelling: OilVolume,
    of: HoseLength,
    length: HoseLength,
) -> Result<OilVolume, StiffnessError> {
    positive("the swelling of the piece of hose", swelling)?;
    positive("the length of the piece of hose", of)?;
    positive("the length of the hose", length)?;
    let whole = line!(book, V_h: OilVolume = V_1 * (l / l_1); V_1 = swelling, l = length, l_1 = of; Source::definition("in proportion to the length"));
    computable(whole)
}

/// Stiffness that the swelling of a hose gives a ram: k = A^2 / c with c = V / p.
///
/// # Source
/// Definition: the force is p A, and the ram sinks by V / A.
///
/// # Validity
/// Swelling in proportion to pressure. A hose that swells ever less stiffens, so take its swelling near the pressure
/// at which the load is held.
///
/// # Errors
/// [`StiffnessError`] if area, swelling or pressure is not above zero.
pub fn hose_stiffness(book: &mut impl Ledger, hose: &HoseSwelling) -> Result<Stiffness, StiffnessError> {
    positive("the effective area of the ram", hose.area)?;
    positive("the swelling of the hose", hose.swelling)?;
    positive("the pressure at which the hose swells so", hose.at_pressure)?;
    let stiffness =
        line!(book, k_h: Stiffness = p * A / (V / A); p = hose.at_pressure, A = hose.area, V = hose.swelling; SWELLING);
    computable(stiffness)
}

/// Stiffness of a straight block, such as packing or a strut: k = E A / h.
///
/// # Source
/// Hooke's law.
///
/// # Validity
/// One material under even stress, pieces bedded: the first closing of gaps between pieces is softer and not in it.
///
/// # Errors
/// [`StiffnessError`] if any value is not above zero.
pub fn block_stiffness(
    book: &mut impl Ledger,
    modulus: Stress,
    area: Area,
    height: Length,
) -> Result<Stiffness, StiffnessError> {
    positive("the modulus of elasticity", modulus)?;
    positive("the area of the block", area)?;
    positive("the height of the block", height)?;
    let stiffness = line!(book, k_b: Stiffness = E * A / h; E = modulus, A = area, h = height; BLOCK);
    computable(stiffness)
}

/// Stiffness of parts that stand on one another, each with its name: `1/k = sum of 1/k_i`.
///
/// # Source
/// One force, and displacements that add up.
///
/// # Validity
/// Every part carries the whole share. A part left out makes the support stiffer than it is.
///
/// # Errors
/// [`StiffnessError`] for no parts, or one whose stiffness is not above zero (the part is named).
pub fn in_series(book: &mut impl Ledger, parts: &[(&str, Stiffness)]) -> Result<Stiffness, StiffnessError> {
    for (name, stiffness) in parts {
        positive(&format!("the stiffness of {name}"), *stiffness)?;
    }
    let Some(((first, start), rest)) = parts.split_first() else { return Err(StiffnessError::NoParts) };
    let mut total = *start;
    let mut upper = (*first).to_owned();
    for (name, stiffness) in rest {
        let source = || Source {
            text: format!("1/k = 1/k_a + 1/k_b: {upper}, then {name}").into(),
            standing: Standing::Definition,
        };
        total = line!(book, k: Stiffness = k_a / (1.0 + k_a / k_b); k_a = total, k_b = *stiffness; source());
        upper = format!("{upper} and {name}");
    }
    computable(total)
}

/// Stiffness of a group of linked rams at the centroid of their areas: `k = (sum A)^2 / sum (A^2 / k_i)`.
///
/// Open valves give all rams of the group one pressure p, so ram i carries `F_i = p A_i` and the group F = p sum A, at
/// the centroid of the areas. Oil flows between them, so no single ram has a place of its own, but the oil is shut in:
/// whatever each head does, `u_i` downwards, the volumes add up to what all give way,
/// `sum A_i u_i = sum A_i F_i / k_i = p sum A_i^2 / k_i`. For a rigid load `sum A_i u_i = u sum A`, with u the sinking
/// of the centroid. So `k = F / u = (sum A)^2 / sum (A_i^2 / k_i)`. Rams of one area and stiffness: n k.
///
/// # Source
/// Derived above.
///
/// # Validity
/// A rigid load and rams that stay linked while the load comes on. Each `k_i` is that of the ram's whole support, its
/// oil as if shut in alone. The group resists no tilt about its centroid.
///
/// # Errors
/// [`StiffnessError`] for no rams, or an area or stiffness that is not above zero.
pub fn linked_stiffness(book: &mut impl Ledger, rams: &[(Area, Stiffness)]) -> Result<Stiffness, StiffnessError> {
    const ANY_PRESSURE: OilPressure = OilPressure::from_bar(100.0);
    if rams.is_empty() {
        return Err(StiffnessError::NoParts);
    }
    let mut area = Area::ZERO;
    let mut volume = OilVolume::ZERO;
    for (index, (ram_area, stiffness)) in rams.iter().enumerate() {
        positive(&format!("the effective area of linked ram {}", index + 1), *ram_area)?;
        positive(&format!("the stiffness under linked ram {}", index + 1), *stiffness)?;
        area = line!(book, S: Area = S_0 + A; S_0 = area, A = *ram_area; LINKED);
        volume = line!(book, V: OilVolume = V_0 + A * (p * A / k); V_0 = volume, A = *ram_area, p = ANY_PRESSURE, k = *stiffness; LINKED);
    }
    positive("the oil by which the linked rams give way", volume)?;
    let stiffness = line!(book, k_g: Stiffness = p * S / (V / S); p = ANY_PRESSURE, S = area, V = volume; LINKED);
    computable(stiffness)
}

fn positive(what: &str, value: impl Typed) -> Result<(), StiffnessError> {
    let si = value.si();
    if 0.0 < si && si.is_finite() { Ok(()) } else { Err(StiffnessError::NotPositive { what: what.to_owned() }) }
}

fn not_negative(what: &str, value: impl Typed) -> Result<(), StiffnessError> {
    let si = value.si();
    if 0.0 <= si && si.is_finite() { Ok(()) } else { Err(StiffnessError::Negative { what: what.to_owned() }) }
}

fn computable<T: Typed>(value: T) -> Result<T, StiffnessError> {
    if 0.0 < value.si() && value.si().is_finite() { Ok(value) } else { Err(StiffnessError::NotComputable) }
}

#[cfg(test)]
mod tests;
