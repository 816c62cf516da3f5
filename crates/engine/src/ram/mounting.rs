//! How a ram is held in a machine frame, and what its own weight does to it there.

use super::model::Ram;
use super::section::ring_section;
use super::stability::{Extended, Head};
use crate::check::{Finding, Ledger, Source};
use crate::line;
use ramwright_units::{Angle, Force, Length, Moment, STANDARD_GRAVITY_M_PER_S2};
use serde::{Deserialize, Serialize};
use utoipa::ToSchema;

/// How a ram is held in a machine frame.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize, ToSchema)]
#[serde(rename_all = "snake_case")]
pub enum Mounting {
    /// The body stands on the frame at its base or is bolted to it there: the base cannot turn.
    Base,
    /// The body is held at its front, so that it does not buckle: only the plunger does.
    FrontFlange,
    /// Clevis or trunnion at both ends: both ends turn, none moves sideways.
    Pins,
}

const UNIFORM: Source = Source::published(
    "uniform load on a simple span (W l / 8, 5 W l^3 / (384 E I)) or on a cantilever (W l / 2, W l^3 / (8 E I)), any textbook of strength of materials; the plunger's section over the whole length, which is the safe side",
);
const AS_OFF_CENTRE: Source =
    Source::definition("deflection, and the moment of the weight as the same moment of the force off its axis");

/// How far off its axis the force would have to bear to bend the ram as its own weight does: nothing where the ram is plumb.
///
/// The weight across the axis lies evenly over the whole length between the supports: a simple span where the head is held
/// sideways, a cantilever where it is free.
///
/// # Source
/// Uniform load on a simple span or a cantilever, any textbook of strength of materials.
///
/// # Validity
/// Elastic; the plunger's second moment is taken over the whole length, which is the safe side. What a tool on the head weighs
/// is left out.
///
/// # Errors
/// A finding that says which field of the ram is missing.
pub fn own_weight(
    book: &mut impl Ledger,
    ram: &Ram,
    state: &Extended,
    from_plumb: Angle,
    share: Force,
) -> Result<Length, Finding> {
    if from_plumb <= Angle::ZERO {
        return Ok(Length::ZERO);
    }
    let Some(mass) = ram.mass else { return Err(Finding::missing([format!("rams/{}/mass", ram.id)])) };
    let (Some(outside), Some(hole)) = (ram.plunger_diameter, ram.plunger_bore) else {
        return Err(Finding::missing([format!("rams/{}/plunger_diameter and plunger_bore", ram.id)]));
    };
    let (_, inertia) = ring_section(outside, hole);
    let weight = Force::from_n(mass.kg() * STANDARD_GRAVITY_M_PER_S2);
    let across = line!(book, W_s: Force = W * sin(a); W = weight, a = from_plumb.rad(); Source::definition("weight of the ram across its axis"));
    let length = line!(book, l: Length = t_p + c + e_x; t_p = state.plates, c = ram.closed_height, e_x = state.extension; Source::definition("the whole length of the extended ram"));
    let (of_moment, of_deflection) = match state.head {
        Head::Restrained => (1.0 / 8.0, 5.0 / 384.0),
        Head::Free => (1.0 / 2.0, 1.0 / 8.0),
    };
    let moment = line!(book, M_w: Moment = k_m * W_s * l; k_m = of_moment, W_s = across, l = length; UNIFORM);
    let deflection = line!(book, f_w: Length = k_f * l * (bending_in(W_s * l, l, I) / E); k_f = of_deflection, W_s = across, l = length, I = inertia, E = ram.material.modulus(); UNIFORM);
    let off = line!(book, e_w: Length = f_w + M_w / P; f_w = deflection, M_w = moment, P = share; AS_OFF_CENTRE);
    if off.m().is_finite() {
        Ok(off)
    } else {
        Err(Finding::missing(["a force above zero, beside which the ram's own weight can be put"]))
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::check::NoLines;
    use crate::ram::BaseFixity;
    use crate::ram::model::tests::ram;
    use ramwright_units::PieceMass;

    fn state(head: Head) -> Extended {
        Extended {
            base_stack: Length::ZERO,
            plates: Length::ZERO,
            extension: Length::from_mm(100.0),
            base: BaseFixity::Fixed,
            head,
            mounting: None,
            factor: 3.5,
        }
    }

    /// 40 kg over 400 mm, lying: W 392.266 N, simple span 19.6133 N.m and 5 W l^3 / (384 E I) = 0.3249 um on 100 mm round steel
    /// of 205 GPa (textbook formulas, by arithmetic); beside 10 kN that is 1.9613 mm and the deflection.
    #[test]
    fn verify_own_weight_of_a_lying_ram() {
        let off = |head, degrees: f64| {
            let angle = Angle::from_deg(degrees);
            own_weight(&mut NoLines, &ram(), &state(head), angle, Force::from_kn(10.0)).unwrap().mm()
        };
        let weight = 40.0 * STANDARD_GRAVITY_M_PER_S2;
        let inertia = std::f64::consts::PI / 64.0 * (0.1 * 0.1 * 0.1 * 0.1);
        let deflection = 5.0 / 384.0 * weight * 0.064 / (205e9 * inertia) * 1e3;
        assert!((off(Head::Restrained, 90.0) - (weight * 0.4 / 8.0 / 10e3 * 1e3 + deflection)).abs() < 1e-9);
        let deflection = weight * 0.064 / (8.0 * 205e9 * inertia) * 1e3;
        assert!((off(Head::Free, 90.0) - (weight * 0.4 / 2.0 / 10e3 * 1e3 + deflection)).abs() < 1e-9);
        assert!((off(Head::Free, 30.0) - off(Head::Free, 90.0) / 2.0).abs() < 1e-9);
        assert!(off(Head::Free, 0.0).abs() <= 0.0);
    }

    #[test]
    fn verify_an_unknown_mass_is_missing_unless_the_ram_is_plumb() {
        let unknown = Ram { mass: None, ..ram() };
        let found = |degrees: f64| {
            let angle = Angle::from_deg(degrees);
            own_weight(&mut NoLines, &unknown, &state(Head::Restrained), angle, Force::from_kn(10.0))
        };
        assert_eq!(found(90.0), Err(Finding::missing(["rams/r/mass"])));
        assert_eq!(found(0.0), Ok(Length::ZERO));
        let heavy = Ram { mass: Some(PieceMass::from_kg(80.0)), ..ram() };
        let twice = own_weight(&mut NoLines, &heavy, &state(Head::Free), Angle::from_deg(90.0), Force::from_kn(10.0));
        let once = own_weight(&mut NoLines, &ram(), &state(Head::Free), Angle::from_deg(90.0), Force::from_kn(10.0));
        assert!((twice.unwrap() / once.unwrap() - 2.0).abs() < 1e-12);
        assert!(own_weight(&mut NoLines, &ram(), &state(Head::Free), Angle::from_deg(90.0), Force::ZERO).is_err());
    }
}
