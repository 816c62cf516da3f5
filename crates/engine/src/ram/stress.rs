//! Stress in the plunger with everything that bends it.

use super::model::Ram;
use super::section::ring_section;
use super::stability::{Extended, critical_of};
use crate::check::{Finding, Ledger, Source, Status};
use crate::line;
use ramwright_units::{Angle, Force, Length, Moment, Stress};

const COLUMN: Source = Source::published(
    "bending of a column grows by growth(r) = (1 + (4 / pi - 1) r) / (1 - r) with r = P / P_cr, at or above the secant formula: Timoshenko and Gere, Theory of Elastic Stability, beam-columns (the form of Perry and Robertson)",
);
const HALF_OF_YIELD: Source = Source::published(
    "ASME B30.1-2015, 1-2.1.2(c), second hand: stress in structural parts not above 50 % of yield at the rated load",
);

/// By how much the bending of a constant moment grows, as a function of force over critical load.
///
/// `(1 + (4 / pi - 1) r) / (1 - r)`: for a pinned column it is never below the exact `sec(pi sqrt(r) / 2)` and no more than
/// 0.9 % above it.
fn growth(ratio: f64) -> f64 {
    (1.0 + (4.0 / std::f64::consts::PI - 1.0) * ratio) / (1.0 - ratio)
}

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
/// `sigma = P / A + M c / I` with `M = (P e + (P tan a + H) l) (1 + 0.273 r) / (1 - r)`, `r = P / P_cr`: the off-centre force
/// as a constant moment, lean and sideways force with the arm from the head to the ram's foot.
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
    let below = share < critical;
    if !below {
        return Finding::judged(Status::Fail, "the force is not below the elastic critical load of the extended ram");
    }
    let (area, inertia) = ring_section(outside, hole);
    let arm = line!(book, l: Length = c + e_x; c = ram.closed_height, e_x = state.extension; Source::definition("from the head to the foot of the ram"));
    let growth = line!(book, m_P: f64 = growth(P / P_cr); P = share, P_cr = critical; COLUMN);
    let moment = line!(book, M: Moment = (P * e + (P * tan(a) + H) * l) * m_P; P = share, e = bending.off_centre, a = bending.lean.rad(), H = bending.sideways, l = arm, m_P = growth; COLUMN);
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

#[cfg(test)]
mod tests {
    use super::*;
    use crate::check::NoLines;
    use crate::ram::model::tests::ram;
    use crate::ram::{BaseFixity, Head};

    /// Secant formula, 100 mm solid round, 1 200 mm pinned, E 200 GPa, 500 kN at e = 10 mm: 119.6458 MPa (computed, any textbook).
    #[test]
    fn validate_secant_row() {
        let (area, inertia) = ring_section(Length::from_mm(100.0), Length::ZERO);
        let critical = 6_728.793e3;
        let found = |force: f64, e: f64| {
            let bent = force * e * growth(force / critical) * 0.05 / inertia.m4();
            (force / area.m2() + bent) / 1e6
        };
        let secant = |force: f64, e: f64| {
            let u = std::f64::consts::FRAC_PI_2 * (force / critical).sqrt();
            (force / area.m2() + force * e * 0.05 / inertia.m4() / libm::cos(u)) / 1e6
        };
        assert!((secant(500e3, 0.01) - 119.645_8).abs() < 5e-5);
        assert!(119.645_8 <= found(500e3, 0.01) && found(500e3, 0.01) < 119.645_8 * 1.002);
        for part in 1..100 {
            let force = critical * f64::from(part) / 100.0;
            let ratio = found(force, 0.01) / secant(force, 0.01);
            assert!((1.0..1.01).contains(&ratio), "{part}: {ratio}");
        }
    }

    /// Columns with an initial bow, whose bending grows by exactly 1 / (1 - r): at the strength that the curve gives, the
    /// stress is the yield strength. What is used here is never below it, and by no more than 4 / pi in the bending part.
    fn holds(strength: f64, imperfection: f64, elastic: f64, yield_strength: f64, printed: f64) {
        let ratio = strength / elastic;
        let exact = strength * (1.0 + imperfection / (1.0 - ratio));
        assert!((exact / yield_strength - 1.0).abs() < printed, "{strength}: {exact}");
        let found = strength * (1.0 + imperfection * growth(ratio));
        let most = strength * (1.0 + 4.0 / std::f64::consts::PI * imperfection / (1.0 - ratio));
        assert!(exact <= found * (1.0 + 1e-12) && found <= most, "{strength}");
    }

    /// Perry and Robertson's strut curves (BS 5950, appendix C, from memory; values computed), E 205 GPa, in MPa.
    #[test]
    fn validate_perry_robertson_rows() {
        let rows = [
            (275.0, 50.0, [251.087, 236.571, 220.314, 203.545]),
            (275.0, 80.0, [203.354, 181.391, 161.245, 143.270]),
            (275.0, 100.0, [157.435, 140.787, 125.236, 111.239]),
            (275.0, 150.0, [80.103, 74.413, 68.239, 62.067]),
            (355.0, 50.0, [318.366, 297.527, 275.030, 252.518]),
            (355.0, 80.0, [235.385, 210.960, 188.450, 168.252]),
            (355.0, 100.0, [170.558, 155.477, 140.467, 126.370]),
            (355.0, 150.0, [82.570, 77.973, 72.732, 67.245]),
        ];
        let pi = std::f64::consts::PI;
        for (yield_strength, slenderness, row) in rows {
            let elastic = pi * pi * 205_000.0 / (slenderness * slenderness);
            let limit = 0.2 * (pi * pi * 205_000.0 / yield_strength).sqrt();
            for (curve, strength) in [2.0, 3.5, 5.5, 8.0].into_iter().zip(row) {
                holds(strength, curve * (slenderness - limit) / 1000.0, elastic, yield_strength, 2e-4);
            }
        }
    }

    /// Buckling curves of EN 1993-1-1 (formula second hand, values computed): reduction factors for five curves.
    #[test]
    fn validate_buckling_curve_rows() {
        let rows = [
            (0.3, [0.9859, 0.9775, 0.9641, 0.9491, 0.9235]),
            (0.8, [0.8533, 0.7957, 0.7245, 0.6622, 0.5797]),
            (1.0, [0.7253, 0.6656, 0.5970, 0.5399, 0.4671]),
            (1.4, [0.4461, 0.4179, 0.3817, 0.3492, 0.3055]),
            (2.0, [0.2323, 0.2229, 0.2095, 0.1962, 0.1766]),
            (3.0, [0.1063, 0.1036, 0.0994, 0.0951, 0.0882]),
        ];
        for (slenderness, row) in rows {
            let elastic = 1.0 / (slenderness * slenderness);
            for (curve, chi) in [0.13, 0.21, 0.34, 0.49, 0.76].into_iter().zip(row) {
                holds(chi, curve * (slenderness - 0.2), elastic, 1.0, 5e-3);
            }
        }
    }

    fn state() -> Extended {
        Extended {
            base_stack: Length::ZERO,
            plates: Length::ZERO,
            extension: Length::from_mm(100.0),
            base: BaseFixity::Fixed,
            head: Head::Free,
            mounting: None,
            factor: 3.5,
        }
    }

    fn found(ram: &Ram, kn: f64, bending: Bending) -> Finding {
        stress(&mut NoLines, ram, Force::from_kn(kn), &state(), &bending, "base")
    }

    fn off(mm: f64) -> Bending {
        Bending { off_centre: Length::from_mm(mm), lean: Angle::ZERO, sideways: Force::ZERO }
    }

    #[test]
    fn verify_just_passes_and_just_fails() {
        // 500 kN on 78.54 cm2 is 63.66 MPa; half of the yield strength leaves 236.3 MPa for bending.
        let (_, inertia) = ring_section(Length::from_mm(100.0), Length::ZERO);
        let critical = critical_of(&mut NoLines, &ram(), &state(), "base").unwrap().n();
        let most = (300e6 - 500e3 / (std::f64::consts::PI / 4.0 * 0.01)) * inertia.m4()
            / 0.05
            / (500e3 * growth(500e3 / critical));
        assert_eq!(found(&ram(), 500.0, off(most * 999.9)).status(), Status::Pass);
        assert_eq!(found(&ram(), 500.0, off(most * 1000.1)).status(), Status::Fail);
    }

    #[test]
    fn verify_what_bends_more_is_never_better() {
        let utilisation = |bending| found(&ram(), 500.0, bending).utilisation().unwrap();
        let straight = utilisation(off(0.0));
        assert!(straight < utilisation(off(1.0)));
        assert!(straight < utilisation(Bending { lean: Angle::from_deg(0.5), ..off(0.0) }));
        assert!(straight < utilisation(Bending { sideways: Force::from_kn(5.0), ..off(0.0) }));
        assert_eq!(found(&ram(), 1e9, off(0.0)).status(), Status::Fail);
        assert_eq!(found(&ram(), f64::NAN, off(0.0)).status(), Status::Fail);
        assert_eq!(
            found(&Ram { plunger_yield: None, ..ram() }, 1.0, off(0.0)),
            Finding::missing(["rams/r/plunger_yield"])
        );
    }
}
