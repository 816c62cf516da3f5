//! Bending a sheet over a die without bottoming.

use super::error::ForceError;
use super::range::{at, computable, positive, rising_si};
use crate::check::{HandCheck, Ledger, Source};
use crate::line;
use ramwright_units::{Force, ForceRange, Length, Range, Stress};
use serde::{Deserialize, Serialize};
use utoipa::ToSchema;

/// Least opening of a V die over the thickness at which the formula is used. Common practice, no source: 6 to 12 times; a
/// narrower die takes more force than the formula says.
pub const LEAST_V_OPENING: f64 = 6.0;
/// The same of an edge die, whose opening is radius, clearance and thickness together.
pub const LEAST_EDGE_OPENING: f64 = 1.0;
/// Greatest opening over the thickness at which the formula is used. No source: wider dies were not looked at.
pub const GREATEST_OPENING: f64 = 50.0;

const SHOP_RULE: &str = "1.444 R_m w t^2 / D: the metric shop rule 650 S^2 L / V (kN, S and V in mm, L in m, 450 MPa)";

/// What the sheet is bent over.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize, ToSchema)]
#[serde(rename_all = "snake_case")]
pub enum DieKind {
    /// A V die, on both of whose edges the sheet rests.
    VDie,
    /// An edge over which one flange is wiped, the rest being held down.
    EdgeDie,
}

impl DieKind {
    /// The factor on `R_m w t^2 / D`, and where it comes from.
    fn factor(self) -> (f64, Source) {
        match self {
            Self::VDie => (1.33, Source::published("K_bf 1.33 for V bending: textbooks of manufacturing, second hand")),
            Self::EdgeDie => (0.33, Source::from_memory("K_bf 0.33 for edge bending: textbooks of manufacturing")),
        }
    }

    fn least_opening(self) -> f64 {
        match self {
            Self::VDie => LEAST_V_OPENING,
            Self::EdgeDie => LEAST_EDGE_OPENING,
        }
    }
}

/// A sheet bent in air.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct AirBending {
    /// What it is bent over.
    pub die: DieKind,
    /// Opening of the die.
    pub die_opening: Length,
    /// Length of the bend.
    pub width: Length,
    /// Thickness of the sheet.
    pub thickness: Length,
    /// Tensile strength of the sheet.
    pub tensile_strength: Range<Stress>,
}

/// The force of the punch: `F = K_bf R_m w t^2 / D`.
///
/// # Source
/// Textbooks of manufacturing (Groover, Fundamentals of Modern Manufacturing, sheet metalworking), second hand.
///
/// # Validity
/// Air bending: bottoming or coining takes several times as much. A V die from 6 to 50 times as wide as the sheet is thick, an
/// edge die from 1 to 50 times.
///
/// # Errors
/// [`ForceError`]: a number that is not above zero, or a die outside these widths.
pub fn air_bending(book: &mut impl Ledger, bend: &AirBending) -> Result<(ForceRange, Option<HandCheck>), ForceError> {
    positive(bend.die_opening, "the die opening")?;
    positive(bend.width, "the width of the bend")?;
    positive(bend.thickness, "the thickness")?;
    rising_si(&bend.tensile_strength, "tensile strength")?;
    let (ratio, least) = (bend.die_opening / bend.thickness, bend.die.least_opening());
    if !(least <= ratio && ratio <= GREATEST_OPENING) {
        return Err(ForceError::DieOpening { ratio, least, greatest: GREATEST_OPENING });
    }
    let (factor, source) = bend.die.factor();
    let mut forces = [Force::ZERO; 3];
    for (slot, (end, strength)) in forces.iter_mut().zip(super::ends(&bend.tensile_strength)) {
        let source = at(end, source.text.as_str(), source.standing);
        *slot = line!(book, F: Force = K_bf * R_m * (w * t) * (t / D); K_bf = factor, R_m = strength, w = bend.width, t = bend.thickness, D = bend.die_opening; source);
    }
    let force = computable(forces)?;
    Ok((force, (bend.die == DieKind::VDie).then(|| shop_rule(bend, force.expected))))
}

fn shop_rule(bend: &AirBending, computed: Force) -> HandCheck {
    const FACTOR: f64 = 650.0 / 450.0;
    let AirBending { width, thickness, die_opening, tensile_strength, .. } = *bend;
    let force = tensile_strength.expected * (width * thickness) * (thickness / die_opening) * FACTOR;
    HandCheck { text: SHOP_RULE.into(), value: force.into(), ratio: force / computed }
}
