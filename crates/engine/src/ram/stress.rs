//! Stress in the plunger with everything that bends it.

use super::model::Ram;
use super::stability::{Extended, critical_of};
use crate::check::{Finding, Ledger, Source, Status};
use crate::line;
use ramwright_units::{Angle, Area, Force, Length, Moment, SecondMoment, Stress, Typed};

const COLUMN: Source = Source::published(
    "bending of a column grows by about 1 / (1 - P / P_cr): Timoshenko and Gere, Theory of Elastic Stability, beam-columns; Perry and Robertson's form",
);
const HALF_OF_YIELD: Source = Source::published(
    "ASME B30.1-2015, 1-2.1.2(c), second hand: stress in structural parts not above 50 % of yield at the rated load",
);

/// First term of the sine series of a constant moment, 4 / pi: above the exact amplification at every load.
const CONSTANT_MOMENT: f64 = 4.0 / std::f64::consts::PI;

/// What bends a plunger.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Bending {
    /// How far the load bears off the ram's axis.
    pub off_centre: Length,
    /// How far the ram leans from the force that it carries.
    pub lean: Angle,
    /// Sideways force on its head, from the load.
    pub sideways: Force,
}

/// The greatest compressive stress in the plunger against half of its yield strength.
///
/// `sigma = P / A + M c / I` with `M = (P e m + (P tan a + H) l) / (1 - P / P_cr)`: the off-centre force as a constant
/// moment (m = 4 / pi, an upper bound), lean and sideways force with the arm from the head to the ram's foot.
///
/// # Source
/// Beam-column by amplification; half of yield from ASME B30.1-2015 at second hand.
///
/// # Validity
/// Elastic, below the critical load; the plunger is taken to bear the moment with the arm of the whole ram, which is the safe
/// side: the body takes part of it.
pub fn stress(
    book: &mut impl Ledger,
    ram: &Ram,
    share: Force,
    state: &Extended,
    bending: &Bending,
    base_field: &str,
) -> Finding {
    let (Some(outside), Some(hole)) = (ram.plunger_diameter, ram.plunger_bore) else {
        return Finding::missing([format!("rams/{}/plunger_diameter and plunger_bore", ram.id)]);
    };
    let Some(yield_strength) = ram.plunger_yield else {
        return Finding::missing([format!("rams/{}/plunger_yield", ram.id)]);
    };
    let critical = match critical_of(book, ram, state, base_field) {
        Ok(critical) => critical,
        Err(finding) => return finding,
    };
    // Written so that a load that is no number fails.
    if !(share < critical) {
        return Finding::judged(Status::Fail, "the force is not below the elastic critical load of the extended ram");
    }
    let (area, inertia) = section(outside, hole);
    let arm = line!(book, l: Length = c + e_x; c = ram.closed_height, e_x = state.extension; Source::definition("from the head to the foot of the ram"));
    let growth = line!(book, m_P: f64 = 1.0 / (1.0 - P / P_cr); P = share, P_cr = critical; COLUMN);
    let moment = line!(book, M: Moment = (m * (P * e) + (P * tan(a) + H) * l) * m_P; m = CONSTANT_MOMENT, P = share, e = bending.off_centre, a = bending.lean.rad(), H = bending.sideways, l = arm, m_P = growth; COLUMN);
    let found = line!(book, sigma: Stress = stress_on(P, A) + bending_in(M, d / 2.0, I); P = share, A = area, M = moment, d = outside, I = inertia; COLUMN);
    let limit = line!(book, sigma_lim: Stress = 0.5 * f_y; f_y = yield_strength; HALF_OF_YIELD);
    Finding::compare(found, limit)
        .with_hand("force over the plunger's own section, P / A", area.stress_under(share), found)
        .with_remedy(|| {
            let straight = area.stress_under(share);
            if limit <= straight {
                format!("no more than {:.0} kN on one ram", (limit * area).kn().floor())
            } else {
                "the load nearer to the ram's axis, the ram nearer to plumb, or less extension".to_owned()
            }
        })
}

/// Area and second moment of a ring.
fn section(outside: Length, inside: Length) -> (Area, SecondMoment) {
    let (outer, inner) = (outside.m(), inside.m());
    let area = std::f64::consts::PI / 4.0 * (outer * outer - inner * inner);
    let fourth = |x: f64| x * x * x * x;
    (Area::from_m2(area), SecondMoment::from_si(std::f64::consts::PI / 64.0 * (fourth(outer) - fourth(inner))))
}
