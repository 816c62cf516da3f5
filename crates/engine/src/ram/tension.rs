//! Stress in a plunger that pulls.

use super::model::Ram;
use super::section::ring_section;
use super::stress::Bending;
use crate::check::{Finding, Ledger, Source};
use crate::line;
use ramwright_units::{Force, Length, Moment, Stress};

const TENSION: Source = Source::published(
    "force over the net section and bending beside it, any textbook of strength of materials; that a pull straightens the plunger is left out, which is the safe side",
);
const HALF_OF_YIELD: Source = Source::published(
    "ASME B30.1-2015, 1-2.1.2(c), second hand: stress in structural parts not above 50 % of yield at the rated load",
);
const THREAD: &str = "thread, pin or eye by which the plunger pulls are weaker than its section and are not known here: see the maker's data for the pull that they take";

/// The greatest tensile stress in the plunger against half of its yield strength.
///
/// `sigma = P / A + M c / I` with `M = P e + (P tan a + H) l`; at best a caution, since what the plunger hangs on is not known.
///
/// # Source
/// Any textbook of strength of materials; half of yield from ASME B30.1-2015 at second hand.
///
/// # Validity
/// Elastic; the full section of the plunger, without its thread.
pub fn tension(book: &mut impl Ledger, ram: &Ram, share: Force, extension: Length, bending: &Bending) -> Finding {
    let (Some(outside), Some(hole)) = (ram.plunger_diameter, ram.plunger_bore) else {
        return Finding::missing([format!("rams/{}/plunger_diameter and plunger_bore", ram.id)]);
    };
    let Some(yield_strength) = ram.plunger_yield else {
        return Finding::missing([format!("rams/{}/plunger_yield", ram.id)]);
    };
    let (area, inertia) = ring_section(outside, hole);
    let arm = line!(book, l: Length = c + e_x; c = ram.closed_height, e_x = extension; Source::definition("from the head to the foot of the ram"));
    let moment = line!(book, M: Moment = P * e + (P * tan(a) + H) * l; P = share, e = bending.off_centre, a = bending.lean.rad(), H = bending.sideways, l = arm; TENSION);
    let found = line!(book, sigma: Stress = stress_on(P, A) + bending_in(M, d / 2.0, I); P = share, A = area, M = moment, d = outside, I = inertia; TENSION);
    let limit = line!(book, sigma_lim: Stress = 0.5 * f_y; f_y = yield_strength; HALF_OF_YIELD);
    Finding::compare(found, limit)
        .with_caution(THREAD)
        .with_hand("force over the plunger's own section, P / A", area.stress_under(share), found)
        .with_remedy(|| "less force on one ram, the pull nearer to the ram's axis, or a stronger ram")
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::check::{NoLines, Status};
    use crate::ram::model::tests::ram;
    use ramwright_units::Angle;

    /// 100 mm round: 78.54 cm2 take 2 356.19 kN at 300 MPa, half of the yield strength (by arithmetic); with a hole of 60 mm
    /// 0.64 of it. Off-centre by an eighth of the diameter doubles the stress of a solid round.
    #[test]
    fn verify_a_plunger_that_pulls() {
        let found = |ram: &Ram, kn: f64, off: f64| {
            let bending = Bending { off_centre: Length::from_mm(off), lean: Angle::ZERO, sideways: Force::ZERO };
            tension(&mut NoLines, ram, Force::from_kn(kn), Length::from_mm(100.0), &bending)
        };
        assert_eq!(found(&ram(), 2356.1, 0.0).status(), Status::Caution);
        assert_eq!(found(&ram(), 2356.3, 0.0).status(), Status::Fail);
        let hollow = Ram { plunger_bore: Some(Length::from_mm(60.0)), ..ram() };
        assert_eq!(found(&hollow, 1507.9, 0.0).status(), Status::Caution);
        assert_eq!(found(&hollow, 1508.1, 0.0).status(), Status::Fail);
        assert_eq!(found(&ram(), 1178.0, 12.5).status(), Status::Caution);
        assert_eq!(found(&ram(), 1178.2, 12.5).status(), Status::Fail);
        let unknown = Ram { plunger_yield: None, ..ram() };
        assert_eq!(found(&unknown, 1.0, 0.0), Finding::missing(["rams/r/plunger_yield"]));
    }
}
