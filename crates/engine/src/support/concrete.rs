//! Bearing on concrete.

use super::basis::DesignBasis;
use crate::check::{Finding, Ledger, Source, Status};
use crate::line;
use ramwright_units::{Area, Force, Length, Stress};

const ACI: Source =
    Source::published("ACI 318, bearing: 0.85 f'c A1 sqrt(A2 / A1), no more than twice; phi 0.65; second hand");
const EC2: Source =
    Source::published("EN 1992-1-1, 6.7: F_Rdu = A_c0 f_cd sqrt(A_c1 / A_c0) <= 3 f_cd A_c0; second hand");
const OWN: Source = Source::stated("allowable bearing stress of the request, under service loads");

/// A rectangle that bears on concrete, and the concrete about it.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct ConcreteBearing {
    /// Sides of the loaded area.
    pub loaded: (Length, Length),
    /// Sides of the concrete that lies concentric about it; none known: no gain from spread.
    pub room: Option<(Length, Length)>,
    /// Depth of the concrete; not known: no gain from spread.
    pub depth: Option<Length>,
    /// Cylinder strength.
    pub strength: Stress,
}

/// A force on concrete against its bearing strength.
///
/// The force spreads into a larger area that is similar to the loaded one and concentric with it, as far as room and depth
/// allow.
///
/// # Source
/// ACI 318 by strength design with its load factor; EN 1992-1-1, 6.7 with `gamma_C` 1.5; or the allowable stress of the request.
///
/// # Validity
/// A solid, uncracked block; splitting reinforcement, edge distance beyond the room stated, and voids are not looked at.
pub fn concrete_bearing(
    book: &mut impl Ledger,
    force: Force,
    bearing: &ConcreteBearing,
    basis: &DesignBasis,
    missing: &str,
) -> Finding {
    let (a, b) = within_room(bearing);
    let bearing = &ConcreteBearing { loaded: (a, b), ..*bearing };
    let loaded = line!(book, A_1: Area = a * b; a = a, b = b; Source::definition("loaded area"));
    // An area that is none bears nothing, whatever its signs.
    if !(Length::ZERO < a && Length::ZERO < b) {
        return Finding::judged(Status::Fail, super::soffit::BEYOND_THE_EDGE);
    }
    let (demand, limit) = match basis {
        DesignBasis::NdsAsd(nds) => {
            let gain = spread(book, bearing, 2.0, ACI);
            let demand = line!(book, F_u: Force = gamma * F; gamma = nds.concrete_load_factor, F = force; Source::from_memory("load factor of ACI 318"));
            let limit = line!(book, phi_B_n: Force = 0.65 * 0.85 * f_c * A_1 * g; f_c = bearing.strength, A_1 = loaded, g = gain; ACI);
            (demand, limit)
        }
        DesignBasis::Eurocode(eurocode) => {
            let gain = spread(book, bearing, 3.0, EC2);
            let demand = line!(book, F_d: Force = gamma * F; gamma = eurocode.load_factor, F = force; Source::from_memory("partial factor of EN 1990"));
            let design = line!(book, f_cd: Stress = alpha_cc * f_ck / 1.5; alpha_cc = eurocode.alpha_cc, f_ck = bearing.strength; EC2);
            let limit = line!(book, F_Rdu: Force = f_cd * A_c0 * g; f_cd = design, A_c0 = loaded, g = gain; EC2);
            (demand, limit)
        }
        DesignBasis::Custom(allowable) => {
            let Some(allowable) = allowable.concrete_bearing else {
                return Finding::missing([missing.to_owned()]);
            };
            let limit = line!(book, F_all: Force = sigma * A_1; sigma = allowable, A_1 = loaded; OWN);
            (force, limit)
        }
    };
    let utilisation = demand / limit;
    Finding::compare(demand, limit)
        .with_hand("cylinder strength x loaded area, no spread and no factors", bearing.strength * loaded, limit)
        .with_remedy(|| {
            let needed = loaded.m2() * utilisation * 1e4;
            format!(
                "a loaded area of {:.0} cm2 in place of {:.0} cm2, with the same gain from spread",
                needed.ceil(),
                loaded.cm2().floor()
            )
        })
}

/// The loaded area, no larger than the concrete under it; how that lies is not known, so the worse way counts.
fn within_room(bearing: &ConcreteBearing) -> (Length, Length) {
    let (a, b) = bearing.loaded;
    let Some((c, d)) = bearing.room else { return (a, b) };
    let cut = |room: (Length, Length)| (a.min(room.0), b.min(room.1));
    let (one, other) = (cut((c, d)), cut((d, c)));
    if (one.0 * one.1) <= (other.0 * other.1) { one } else { other }
}

/// The gain `sqrt(A_2 / A_1)` from the greatest similar concentric area within room and depth, limited.
fn spread(book: &mut impl Ledger, bearing: &ConcreteBearing, cap: f64, source: Source) -> f64 {
    let (Some(room), Some(depth)) = (bearing.room, bearing.depth) else { return 1.0 };
    let (a, b) = bearing.loaded;
    // Similar in shape: one scale for both sides, the room lying the worse way round.
    let scale = |room: (Length, Length)| (room.0 / a).min(room.1 / b);
    let by_room = scale(room).min(scale((room.1, room.0)));
    // Each side may grow by no more than the depth.
    let by_depth = 1.0 + depth / a.max(b);
    line!(book, g: f64 = max(1.0, min(cap, min(n_r, n_d))); cap = cap, n_r = by_room, n_d = by_depth; source)
}

/// The resistance against punching that somebody states, against a force.
///
/// # Source
/// Stated.
///
/// # Validity
/// As whoever stated it says.
pub fn punching(force: Force, resistance: Option<Force>, missing: &str) -> Finding {
    match resistance {
        Some(resistance) => Finding::compare(force, resistance)
            .with_remedy(|| format!("a punching resistance of {:.0} kN", force.kn().ceil())),
        None => Finding::missing([missing.to_owned()]),
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::check::NoLines;
    use crate::support::{Allowable, Duration, Eurocode, Nds, ServiceClass};

    const KIP_N: f64 = 4_448.221_615_260_5;
    const KSI_PA: f64 = 6_894_757.293_168_36;

    fn limit(bearing: &ConcreteBearing, basis: &DesignBasis) -> f64 {
        match concrete_bearing(&mut NoLines, Force::from_n(1.0), bearing, basis, "x") {
            Finding::Compared { limit, .. } => limit.value_si,
            other => panic!("{other:?}"),
        }
    }

    fn square(side_mm: f64, room_mm: f64, strength: Stress) -> ConcreteBearing {
        let mm = Length::from_mm;
        ConcreteBearing {
            loaded: (mm(side_mm), mm(side_mm)),
            room: Some((mm(room_mm), mm(room_mm))),
            depth: Some(Length::from_m(10.0)),
            strength,
        }
    }

    fn aci() -> DesignBasis {
        DesignBasis::NdsAsd(Nds { wet: true, concrete_load_factor: 1.6 })
    }

    fn ec2(alpha_cc: f64) -> DesignBasis {
        DesignBasis::Eurocode(Eurocode {
            load_factor: 1.5,
            duration: Duration::Medium,
            service_class: ServiceClass::Three,
            alpha_cc,
        })
    }

    /// Wight, Reinforced Concrete Mechanics and Design, 7th ed., example 15-2 (second hand): an 18 in column on a footing of
    /// 11 ft 2 in, f'c 3 ksi: 1 070 kip printed; the arithmetic gives 1 074.06. Further rows by plain arithmetic.
    #[test]
    fn validate_wight_example() {
        let rows = [
            (18.0, 134.0, 3.0, 1_074.06, 0.005),
            (12.0, 20.0, 4.0, 530.400, 0.0005),
            (16.0, 36.0, 4.0, 1_131.520, 0.0005),
        ];
        for (side, room, ksi, kip, printed) in rows {
            let found = limit(&square(side * 25.4, room * 25.4, Stress::from_pa(ksi * KSI_PA)), &aci()) / KIP_N;
            assert!((found - kip).abs() <= printed, "{found} for {kip}");
        }
        let book = limit(&square(18.0 * 25.4, 134.0 * 25.4, Stress::from_pa(3.0 * KSI_PA)), &aci()) / KIP_N;
        assert!((book - 1_070.0).abs() <= 5.0);
    }

    /// EN 1992-1-1, 6.7 by plain arithmetic; no published worked answer was found.
    #[test]
    fn validate_eurocode_rows() {
        let rows =
            [(300.0, 700.0, 30.0, 0.85, 3570.0), (300.0, 700.0, 30.0, 1.0, 4200.0), (200.0, 600.0, 25.0, 0.85, 1700.0)];
        for (side, room, mpa, alpha, kn) in rows {
            let found = limit(&square(side, room, Stress::from_mpa(mpa)), &ec2(alpha)) / 1e3;
            assert!((found - kn).abs() < 5e-3, "{found} for {kn}");
        }
    }

    #[test]
    fn verify_no_gain_without_room_or_depth() {
        let full = square(200.0, 600.0, Stress::from_mpa(30.0));
        let bare = limit(&ConcreteBearing { room: None, ..full }, &aci());
        assert!((limit(&ConcreteBearing { depth: None, ..full }, &aci()) - bare).abs() < 1e-6);
        let shallow = limit(&ConcreteBearing { depth: Some(Length::from_mm(50.0)), ..full }, &aci());
        assert!((shallow / bare - 1.25).abs() < 1e-12);
        // No more bears than there is concrete under it.
        let tight = ConcreteBearing { room: Some((Length::from_mm(100.0), Length::from_mm(100.0))), ..full };
        assert!((limit(&tight, &aci()) - bare / 4.0).abs() < 1e-6);
    }

    #[test]
    fn verify_just_passes_and_just_fails() {
        let bearing = square(300.0, 300.0, Stress::from_mpa(30.0));
        for basis in [aci(), ec2(0.85)] {
            let factor = if matches!(basis, DesignBasis::NdsAsd(_)) { 1.6 } else { 1.5 };
            let most = limit(&bearing, &basis) / factor;
            let status = |n: f64| concrete_bearing(&mut NoLines, Force::from_n(n), &bearing, &basis, "x").status();
            assert_eq!(status(most * 0.9999), Status::Pass);
            assert_eq!(status(most * 1.0001), Status::Fail);
        }
        let own = |stress| DesignBasis::Custom(Allowable { concrete_bearing: stress, ..Allowable::default() });
        let found =
            |stress| concrete_bearing(&mut NoLines, Force::from_kn(900.0), &bearing, &own(stress), "x").status();
        assert_eq!(found(Some(Stress::from_mpa(10.0))), Status::Pass);
        assert_eq!(found(Some(Stress::from_mpa(9.99))), Status::Fail);
        assert_eq!(found(None), Status::NotChecked);
        let flat = ConcreteBearing { loaded: (Length::ZERO, Length::from_mm(300.0)), ..bearing };
        assert_eq!(concrete_bearing(&mut NoLines, Force::from_kn(1.0), &flat, &aci(), "x").status(), Status::Fail);
    }

    #[test]
    fn verify_punching() {
        let kn = Force::from_kn;
        assert_eq!(punching(kn(500.0), Some(kn(500.0)), "x").status(), Status::Pass);
        assert_eq!(punching(kn(500.1), Some(kn(500.0)), "x").status(), Status::Fail);
        assert_eq!(punching(kn(1.0), None, "x"), Finding::missing(["x"]));
    }
}
