//! Pressing or pulling a shaft in or out of a hub that it fits with interference.
//!
//! Both are thick cylinders of equal length, elastic, the same along the joint. Interference is kept as the radial one; a
//! request says which one it gives.

use super::error::ForceError;
use super::range::{at, computable, positive, rising};
use crate::check::{HandCheck, Ledger, Source, Standing};
use crate::line;
use ramwright_units::{Area, Force, ForceRange, Length, LengthRange, Range, Stress};
use serde::{Deserialize, Serialize};
use utoipa::ToSchema;

/// Interference on the diameter over the diameter above which no elastic fit is worked out. No source: steel yields at a
/// tenth of it.
pub const GREATEST_FIT_STRAIN: f64 = 0.02;

const LAME: &str = "thick cylinders of Lame, any textbook of machine elements (interference fits)";
const CYLINDERS: Source = Source::published(LAME);
const HALF: Source = Source::definition("half of the diameter");
const SURFACE: Source = Source::definition("the surface of the joint");
const SERVICE: Source = Source::stated("by how much the joint has become tighter in service");
const HAND: &str =
    "as if the shaft were solid and of the hub's material: p = E_o d_r / d (1 - (d / D)^2), F = pi d L p mu";

/// Shaft or hub.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Member {
    /// Modulus of elasticity.
    pub modulus: Stress,
    /// Poisson's ratio (dimensionless).
    pub poisson: f64,
}

/// A shaft in a hub with interference.
#[derive(Clone, Debug, PartialEq)]
pub struct InterferenceFit {
    /// Diameter of the joint.
    pub joint_diameter: Length,
    /// Length of the joint.
    pub joint_length: Length,
    /// Outside diameter of the hub.
    pub hub_outside: Length,
    /// Diameter of the hole through the shaft; zero if solid.
    pub shaft_bore: Length,
    /// What the hub is made of.
    pub hub: Member,
    /// What the shaft is made of.
    pub shaft: Member,
    /// Yield strength of the hub, if known.
    pub hub_yield: Option<Stress>,
    /// Radial interference: half of that on the diameter.
    pub radial_interference: LengthRange,
    /// Coefficient of friction along the joint (dimensionless).
    pub friction: Range<f64>,
    /// By which factor the greatest force is greater where the joint has long been in service (dimensionless).
    pub after_service: f64,
}

/// Stresses of a fit at its greatest interference.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize, ToSchema)]
pub struct FitStress {
    /// Pressure between shaft and hub.
    pub contact_pressure: Stress,
    /// Hoop stress at the hub's bore, a tension.
    pub hub_bore_hoop: Stress,
    /// Yield strength of the hub, if it was stated.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub hub_yield: Option<Stress>,
}

/// What is found of a fit.
#[derive(Clone, Debug, PartialEq)]
pub struct FitFound {
    /// The force along the joint.
    pub force: ForceRange,
    /// Stresses at the greatest interference.
    pub stress: FitStress,
    /// The bound of a person with paper.
    pub hand: HandCheck,
}

/// How the two members give, for each unit of pressure, as factors of `R / E` (dimensionless).
#[derive(Clone, Copy, Debug)]
struct Give {
    hub: f64,
    shaft: f64,
}

/// The force along the joint at least, expected and greatest interference and friction, and the stresses in the hub.
///
/// `F = 2 pi R L p mu` with `p` from [`contact_pressure`]. Pressed in, this is reached at the end of the travel; pulled off,
/// at its beginning.
///
/// # Source
/// Lame's thick cylinders and Coulomb's friction, any textbook of machine elements.
///
/// # Validity
/// Elastic; both members as long as the joint and of one section; the interference on the diameter at most 2 % of the
/// diameter. Pressure peaks at the ends of a hub shorter than its shaft are left out, and so is what scuffing adds.
///
/// # Errors
/// [`ForceError`]: no wall, numbers out of order, or more interference than a fit has.
pub fn interference_fit(book: &mut impl Ledger, fit: &InterferenceFit) -> Result<FitFound, ForceError> {
    require(fit)?;
    let radius = line!(book, R: Length = d / 2.0; d = fit.joint_diameter; HALF);
    let give = give(book, fit);
    let surface =
        line!(book, A: Area = 2.0 * pi * R * L; pi = std::f64::consts::PI, R = radius, L = fit.joint_length; SURFACE);
    let (mut forces, mut greatest) = ([Force::ZERO; 3], Stress::ZERO);
    let cases = super::ends(&fit.radial_interference).into_iter().zip(super::ends(&fit.friction));
    for (slot, ((end, radial), (_, friction))) in forces.iter_mut().zip(cases) {
        greatest = pressure_at(book, fit, give, end, radial);
        let source = at(end, "Coulomb's friction on the surface of the joint", Standing::Published);
        *slot = line!(book, F: Force = p * A * mu; p = greatest, A = surface, mu = friction; source);
    }
    let [least, expected, alone] = forces;
    let most = if 1.0 < fit.after_service {
        line!(book, F_greatest: Force = k_s * F; k_s = fit.after_service, F = alone; SERVICE)
    } else {
        alone
    };
    let force = computable([least, expected, most])?;
    let hoop = hub_bore_hoop(book, fit, greatest)?;
    let stress = FitStress { contact_pressure: greatest, hub_bore_hoop: hoop, hub_yield: fit.hub_yield };
    Ok(FitFound { force, stress, hand: by_hand(fit, force.expected) })
}

/// The pressure between shaft and hub for a radial interference `delta_r`:
/// `p = delta_r / (R [C_o / E_o + C_i / E_i])` with `C_o = (D^2 + d^2) / (D^2 - d^2) + nu_o` and
/// `C_i = (d^2 + b^2) / (d^2 - b^2) - nu_i`.
///
/// # Source
/// Lame's thick cylinders, any textbook of machine elements.
///
/// # Validity
/// Elastic, plane stress, no axial force.
///
/// # Errors
/// [`ForceError`]: as for [`interference_fit`].
pub fn contact_pressure(book: &mut impl Ledger, fit: &InterferenceFit, radial: Length) -> Result<Stress, ForceError> {
    require(fit)?;
    let give = give(book, fit);
    let found = pressure_at(book, fit, give, "stated", radial);
    if found.pa().is_finite() && 0.0 <= found.pa() { Ok(found) } else { Err(ForceError::NotComputable) }
}

/// Hoop stress at the hub's bore under a pressure: `p (D^2 + d^2) / (D^2 - d^2)`.
///
/// # Source
/// Lame's thick cylinders, any textbook of strength of materials.
///
/// # Validity
/// Elastic.
///
/// # Errors
/// [`ForceError`]: the hub has no wall, or nothing comes out of the numbers.
pub fn hub_bore_hoop(book: &mut impl Ledger, fit: &InterferenceFit, pressure: Stress) -> Result<Stress, ForceError> {
    require_walls(fit)?;
    let hoop = line!(book, sigma_h: Stress = p * ((D * D + d * d) / (D * D - d * d)); p = pressure, D = fit.hub_outside, d = fit.joint_diameter; at("greatest", LAME, Standing::Published));
    if hoop.pa().is_finite() { Ok(hoop) } else { Err(ForceError::NotComputable) }
}

fn give(book: &mut impl Ledger, fit: &InterferenceFit) -> Give {
    let (hub, joint, hole) = (fit.hub_outside, fit.joint_diameter, fit.shaft_bore);
    let hub = line!(book, C_o: f64 = (D * D + d * d) / (D * D - d * d) + nu_o; D = hub, d = joint, nu_o = fit.hub.poisson; CYLINDERS);
    let shaft = line!(book, C_i: f64 = (d * d + b * b) / (d * d - b * b) - nu_i; d = joint, b = hole, nu_i = fit.shaft.poisson; CYLINDERS);
    Give { hub, shaft }
}

fn pressure_at(book: &mut impl Ledger, fit: &InterferenceFit, give: Give, end: &'static str, radial: Length) -> Stress {
    line!(book, p: Stress = E_o * (delta_r / R) / (C_o + C_i * (E_o / E_i)); E_o = fit.hub.modulus, delta_r = radial, R = fit.joint_diameter / 2.0, C_o = give.hub, C_i = give.shaft, E_i = fit.shaft.modulus; at(end, LAME, Standing::Published))
}

/// What a person works out: one material, a solid shaft.
fn by_hand(fit: &InterferenceFit, computed: Force) -> HandCheck {
    let diametral = fit.radial_interference.expected * 2.0;
    let ratio = fit.joint_diameter / fit.hub_outside;
    let pressure = fit.hub.modulus * (diametral / (fit.joint_diameter * 2.0)) * (1.0 - ratio * ratio);
    let surface = fit.joint_diameter * fit.joint_length * std::f64::consts::PI;
    let force = pressure * surface * fit.friction.expected;
    HandCheck { text: HAND.into(), value: force.into(), ratio: force / computed }
}

fn require(fit: &InterferenceFit) -> Result<(), ForceError> {
    positive(fit.joint_length, "the length of the joint")?;
    require_walls(fit)?;
    for member in [fit.hub, fit.shaft] {
        positive(member.modulus, "a modulus of elasticity")?;
        if !(0.0..0.5).contains(&member.poisson) {
            return Err(ForceError::PoissonRatio);
        }
    }
    rising(&fit.friction, "friction")?;
    if !(1.0 <= fit.after_service && fit.after_service.is_finite()) {
        return Err(ForceError::NotPositive { what: "what long service adds to the force" });
    }
    let Range { least, expected, greatest } = fit.radial_interference;
    positive(greatest, "the greatest interference")?;
    if !(Length::ZERO <= least && least <= expected && expected <= greatest) {
        return Err(ForceError::NotInOrder { what: "interference" });
    }
    let strain = greatest * 2.0 / fit.joint_diameter;
    if GREATEST_FIT_STRAIN < strain {
        return Err(ForceError::TooTight { percent: strain * 100.0 });
    }
    Ok(())
}

fn require_walls(fit: &InterferenceFit) -> Result<(), ForceError> {
    positive(fit.joint_diameter, "the diameter of the joint")?;
    positive(fit.hub_outside, "the hub's outside diameter")?;
    if fit.hub_outside <= fit.joint_diameter {
        return Err(ForceError::NoHub);
    }
    if !(Length::ZERO <= fit.shaft_bore && fit.shaft_bore < fit.joint_diameter) {
        return Err(ForceError::NoShaft);
    }
    Ok(())
}
