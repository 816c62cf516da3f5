//! Bending of a steel plate beyond what stands on it.

use super::basis::DesignBasis;
use super::line_of_force::SteelPlate;
use crate::check::{Finding, Ledger, Source};
use crate::line;
use ramwright_units::{Area, Force, Length, Stress};

const CANTILEVER: Source = Source::published("cantilever method of AISC Design Guide 1, second hand");
const ALLOWABLE: Source = Source::published(
    "AISC Design Guide 1, allowable strength design: t = l sqrt(3.33 P / (F_y B N)), Omega 1.67; from memory",
);
const ELASTIC: Source =
    Source::published("EN 1993-1-1: elastic modulus t^2 / 6, gamma_M0 1.0 (safe side of the plastic t^2 / 4)");
const CORE: Source = Source::from_memory("of a round part 0.80 of its diameter counts as stiff");

/// What presses on a plate, and stays straight itself.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Core {
    /// A round part with its diameter.
    Round(Length),
    /// A rectangle.
    Rectangle(Length, Length),
}

/// Thickness that a plate needs by strength design: `t = l sqrt(2 P_u / (0.90 F_y B N))`.
///
/// # Source
/// AISC Design Guide 1, cantilever method, second hand.
///
/// # Validity
/// Uniform pressure under the plate.
pub fn thickness_by_strength(cantilever: Length, force: Force, plate: &SteelPlate, yield_strength: Stress) -> Length {
    let resistance = yield_strength * (plate.length * plate.width);
    cantilever * (2.0 * force.n() / (0.90 * resistance.n())).sqrt()
}

/// The thickness that a plate needs to spread a force, against the one it has.
///
/// # Source
/// AISC Design Guide 1 by allowable strength; EN 1993-1-1 by the elastic modulus; or the allowable stress of the request.
///
/// # Validity
/// Uniform pressure on the other side of the plate; `l` is the longer of the two cantilevers.
pub fn plate_bending(
    book: &mut impl Ledger,
    force: Force,
    core: Core,
    plate: &SteelPlate,
    basis: &DesignBasis,
    missing: (&str, &str),
) -> Finding {
    let cantilever = cantilever(book, core, plate);
    let area = line!(book, A: Area = B * N; B = plate.width, N = plate.length; Source::definition("area of the plate"));
    let needed = match basis {
        DesignBasis::Custom(allowable) => {
            let Some(allowable) = allowable.plate_bending else { return Finding::missing([missing.1.to_owned()]) };
            // q l^2 / 2 = sigma t^2 / 6
            line!(book, t_req: Length = l * sqrt(3.0 * (F / (sigma * A))); l = cantilever, F = force, sigma = allowable, A = area; Source::stated("allowable bending stress of the request"))
        }
        DesignBasis::NdsAsd(_) => {
            let Some(f_y) = plate.yield_strength else { return Finding::missing([missing.0.to_owned()]) };
            line!(book, t_req: Length = l * sqrt(3.33 * (F / (F_y * A))); l = cantilever, F = force, F_y = f_y, A = area; ALLOWABLE)
        }
        DesignBasis::Eurocode(eurocode) => {
            let Some(f_y) = plate.yield_strength else { return Finding::missing([missing.0.to_owned()]) };
            let design = line!(book, F_d: Force = gamma * F; gamma = eurocode.load_factor, F = force; Source::from_memory("partial factor of EN 1990"));
            line!(book, t_req: Length = l * sqrt(3.0 * (F_d / (f_y * A))); l = cantilever, F_d = design, f_y = f_y, A = area; ELASTIC)
        }
    };
    let by_strength = plate.yield_strength.map(|f_y| thickness_by_strength(cantilever, force * 1.6, plate, f_y));
    let finding =
        Finding::compare(needed, plate.thickness).with_remedy(|| format!("a plate {:.0} mm thick", needed.mm().ceil()));
    match by_strength {
        Some(thickness) if Length::ZERO < needed => {
            finding.with_hand("l sqrt(2 P_u / (0.90 F_y B N)) with 1.6 times the force", thickness, needed)
        }
        _ => finding,
    }
}

/// How far a plate stands out beyond what presses on it, the longer way.
fn cantilever(book: &mut impl Ledger, core: Core, plate: &SteelPlate) -> Length {
    let stiff = match core {
        Core::Round(diameter) => {
            let stiff = line!(book, d_c: Length = 0.80 * D; D = diameter; CORE);
            (stiff, stiff)
        }
        // The longer side lies along the longer side.
        Core::Rectangle(a, b) => (a.max(b), a.min(b)),
    };
    let (long, short) = (plate.length.max(plate.width), plate.length.min(plate.width));
    line!(book, l: Length = max(max(N - d_1, B - d_2) / 2.0, zero); N = long, d_1 = stiff.0, B = short, d_2 = stiff.1, zero = Length::ZERO; CANTILEVER)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::check::{NoLines, Status};
    use crate::support::{Allowable, Duration, Eurocode, Nds, ServiceClass};

    fn plate(side_mm: f64, thickness_mm: f64, mpa: f64) -> SteelPlate {
        let mm = Length::from_mm;
        SteelPlate {
            length: mm(side_mm),
            width: mm(side_mm),
            thickness: mm(thickness_mm),
            yield_strength: Some(Stress::from_mpa(mpa)),
        }
    }

    fn needed(core: Core, plate: &SteelPlate, kn: f64, basis: &DesignBasis) -> f64 {
        match plate_bending(&mut NoLines, Force::from_kn(kn), core, plate, basis, ("f_y", "own")) {
            Finding::Compared { demand, .. } => demand.value_si * 1e3,
            other => panic!("{other:?}"),
        }
    }

    const ASD: DesignBasis = DesignBasis::NdsAsd(Nds { wet: true, concrete_load_factor: 1.6 });

    fn eurocode(load_factor: f64) -> DesignBasis {
        let (duration, service_class) = (Duration::Medium, ServiceClass::Three);
        DesignBasis::Eurocode(Eurocode { load_factor, duration, service_class, alpha_cc: 0.85 })
    }

    /// 300 x 300 under 150 mm round, 450 kN, 250 MPa (computed by the strength formula of AISC Design Guide 1):
    /// 18.97367 mm with the core of 0.8 D, 15.81139 mm from the full diameter. W12x96 on 22 x 20 in, 700 kip, 36 ksi: l 5.12 in,
    /// t 1.60448 in (Design Guide 1, example 4.1, data from memory).
    #[test]
    fn validate_plate_rows() {
        let wide = plate(300.0, 20.0, 250.0);
        let strength =
            |l: f64| thickness_by_strength(Length::from_mm(l), Force::from_kn(450.0), &wide, Stress::from_mpa(250.0));
        assert!((strength(90.0).mm() - 18.973_67).abs() < 5e-6);
        assert!((strength(75.0).mm() - 15.811_39).abs() < 5e-6);
        let inch = |value: f64| Length::from_mm(value * 25.4);
        let guide = SteelPlate { length: inch(22.0), width: inch(20.0), thickness: inch(2.0), yield_strength: None };
        let ksi = Stress::from_pa(36.0 * 6_894_757.293_168_36);
        let t = thickness_by_strength(inch(5.12), Force::from_n(700.0 * 4_448.221_615_260_5), &guide, ksi);
        assert!((t.mm() / 25.4 - 1.604_48).abs() < 5e-6);
        // The cantilever of the first row comes from the core.
        let l = cantilever(&mut NoLines, Core::Round(Length::from_mm(150.0)), &wide);
        assert!((l.mm() - 90.0).abs() < 1e-9);
        // The allowable form is the strength form with 2 / 0.90 replaced by 2 x 1.67 rounded to 3.33.
        let ratio = needed(Core::Round(Length::from_mm(150.0)), &wide, 450.0, &ASD) / strength(90.0).mm();
        assert!((ratio * ratio - 3.33 * 0.90 / 2.0).abs() < 1e-9);
    }

    #[test]
    fn verify_just_passes_and_just_fails() {
        let core = Core::Round(Length::from_mm(150.0));
        for basis in [ASD, eurocode(1.5)] {
            let t = needed(core, &plate(300.0, 1.0, 250.0), 450.0, &basis);
            let status = |mm: f64| {
                plate_bending(&mut NoLines, Force::from_kn(450.0), core, &plate(300.0, mm, 250.0), &basis, ("f", "o"))
                    .status()
            };
            assert_eq!(status(t * 1.0001), Status::Pass);
            assert_eq!(status(t * 0.9999), Status::Fail);
        }
        // Elastic bending by hand: q l^2 / 2 = f_y t^2 / 6 with q = 1.5 x 450 kN / 0.09 m2 and l = 90 mm.
        let by_hand = (3.0 * 1.5 * 450e3 / 0.09 * 0.09 * 0.09 / 250e6_f64).sqrt() * 1e3;
        assert!((needed(core, &plate(300.0, 1.0, 250.0), 450.0, &eurocode(1.5)) - by_hand).abs() < 1e-9);
        let unknown = SteelPlate { yield_strength: None, ..plate(300.0, 30.0, 1.0) };
        let found = plate_bending(&mut NoLines, Force::from_kn(1.0), core, &unknown, &ASD, ("f_y", "own"));
        assert_eq!(found, Finding::missing(["f_y"]));
        let own = DesignBasis::Custom(Allowable::default());
        assert_eq!(
            plate_bending(&mut NoLines, Force::from_kn(1.0), core, &unknown, &own, ("f", "own")).status(),
            Status::NotChecked
        );
    }

    #[test]
    fn verify_a_plate_no_larger_than_its_core_does_not_bend() {
        let covered = Core::Rectangle(Length::from_mm(320.0), Length::from_mm(300.0));
        assert!(needed(covered, &plate(300.0, 1.0, 250.0), 450.0, &ASD).abs() < 1e-12);
    }
}
