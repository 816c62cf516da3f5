//! Horizontal force on the ram.

use super::model::Ram;
use crate::check::{Finding, Ledger, Source};
use crate::line;
use ramwright_units::{Angle, Force};

/// What pushes a ram sideways.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Sideways {
    /// Horizontal force on the load.
    pub horizontal: Force,
    /// Rams that share it equally.
    pub rams: u32,
    /// Force along the ram.
    pub axial: Force,
    /// How far the ram leans from the force that it carries.
    pub lean: Angle,
}

/// The sideways force on one ram: its part of the horizontal force, and what its own force adds because it leans.
///
/// # Source
/// Statics; the equal sharing is an assumption for rams of one model at one extension.
///
/// # Validity
/// Small angles are not assumed: below 45 degrees.
pub fn sideways_force(book: &mut impl Ledger, sideways: &Sideways) -> Force {
    line!(book, H_1: Force = H / n + P * tan(a); H = sideways.horizontal, n = f64::from(sideways.rams), P = sideways.axial, a = sideways.lean.rad(); Source::definition("shared equally by rams of one model; a leaning ram pushes sideways with its own force"))
}

/// The sideways force on one ram against its own side load limit.
///
/// # Source
/// The limit is the catalogue's; see [`sideways_force`] for the demand.
///
/// # Validity
/// As for the demand.
pub fn side_load(book: &mut impl Ledger, ram: &Ram, sideways: &Sideways) -> Finding {
    let Some(ratio) = ram.side_load_limit_ratio else {
        return Finding::missing([format!("rams/{}/side_load_limit_ratio", ram.id)]);
    };
    let each = sideways_force(book, sideways);
    let limit = line!(book, H_lim: Force = eta * p * A; eta = ratio, p = ram.rated_pressure, A = ram.effective_area; Source::stated("side load limit as a share of capacity, from the catalogue"));
    Finding::compare(each, limit)
        .with_remedy(|| format!("no more than {:.1} kN sideways on each ram", (limit.kn() * 10.0).floor() / 10.0))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::check::{NoLines, Status};
    use crate::ram::model::tests::ram;

    fn pushed(horizontal: f64, lean: f64) -> Sideways {
        let kn = Force::from_kn;
        Sideways { horizontal: kn(horizontal), rams: 4, axial: kn(500.0), lean: Angle::from_deg(lean) }
    }

    /// Statics: 40 kN on four rams is 10 kN each; 500 kN that lean by 1 degree add 500 tan 1 deg = 8.7275 kN.
    #[test]
    fn verify_a_lean_adds_its_side_force() {
        let force = sideways_force(&mut NoLines, &pushed(40.0, 1.0));
        assert!((force.kn() - 18.7275).abs() < 5e-4, "{force:?}");
        // The limit is 0.03 x 700 kN = 21 kN.
        assert_eq!(side_load(&mut NoLines, &ram(), &pushed(49.0, 1.0)).status(), Status::Pass);
        assert_eq!(side_load(&mut NoLines, &ram(), &pushed(49.2, 1.0)).status(), Status::Fail);
        let unknown = Ram { side_load_limit_ratio: None, ..ram() };
        assert_eq!(side_load(&mut NoLines, &unknown, &pushed(1.0, 0.0)).status(), Status::NotChecked);
        assert_eq!(side_load(&mut NoLines, &ram(), &Sideways { rams: 0, ..pushed(1.0, 0.0) }).status(), Status::Fail);
    }
}
