//! Pressure on the ground.

use super::basis::DesignBasis;
use super::materials::{GroundClass, presumptive};
use crate::check::{Finding, Ledger, Source, Status};
use crate::line;
use ramwright_units::{Area, Force, GroundPressure, Length};

const SPREAD: Source = Source::published("2:1 spread: Bowles; Das; NAVFAC DM-7, second hand");
const BLOCK: Source =
    Source::common_practice("force spreads at 45 degrees in a solid block of concrete (common practice, no source)");
const ECCENTRIC: Source = Source::published(
    "pressure under an eccentric force: trapezium within the middle third, triangle beyond it, any textbook of foundations",
);

/// The area in which a foundation bears on the ground.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Ground {
    /// One side.
    pub length: Length,
    /// The other side.
    pub width: Length,
    /// What the ground may carry, if somebody answers for a value.
    pub allowable: Option<GroundPressure>,
    /// Its class in a table of presumptive values.
    pub class: Option<GroundClass>,
    /// How far the force stands off the middle, in any direction.
    pub off_centre: Length,
    /// Weight of the foundation.
    pub own_weight: Force,
}

/// How a force spreads on its way down.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Spread {
    /// 45 degrees, in a solid block of concrete: a side grows by twice the depth.
    Block,
    /// 2:1, in a mat or a layer: a side grows by the depth.
    Layer,
}

/// A side of the area that a force reaches at a depth, no greater than the side that is there.
///
/// # Source
/// 2:1 spread (Bowles; Das; NAVFAC DM-7), second hand; 45 degrees in a block is common practice, no source.
///
/// # Validity
/// One rectangle; spreads of neighbours do not overlap.
pub fn spread_side(book: &mut impl Ledger, side: Length, there: Length, spread: Spread, depth: Length) -> Length {
    let (growth, source) = match spread {
        Spread::Block => (2.0, BLOCK),
        Spread::Layer => (1.0, SPREAD),
    };
    line!(book, B_z: Length = min(B_0, B + n * z); B_0 = there, B = side, n = growth, z = depth; source)
}

/// The greatest pressure of foundation and force on the ground, against what it may carry.
///
/// # Source
/// Middle third and triangle from any textbook of foundations; presumptive values from the International Building Code 2012,
/// table 1806.2, second hand.
///
/// # Validity
/// A stiff rectangle; a force off the middle in any direction: `b = 1 / sqrt(1 / B^2 + 1 / L^2)` stands for its side. Presumptive values assume proper footings at depth: a small
/// board on loose sand carries a tenth of them, so a pass by them is a caution.
pub fn ground_pressure(
    book: &mut impl Ledger,
    force: Force,
    ground: &Ground,
    basis: Option<&DesignBasis>,
    missing: &str,
) -> Finding {
    let own = match basis {
        Some(DesignBasis::Custom(allowable)) => allowable.ground,
        _ => None,
    };
    let (limit, presumed) = match (ground.allowable.or(own), ground.class) {
        (Some(allowable), None) => (allowable, false),
        // A class that is stated beside a value of the user's own is no reason to believe the greater of both.
        (Some(allowable), Some(class)) => (allowable.min(presumptive(class).value), true),
        (None, Some(class)) => (presumptive(class).value, true),
        (None, None) => return Finding::missing([missing.to_owned()]),
    };
    if limit <= GroundPressure::ZERO {
        return Finding::judged(
            Status::Fail,
            "no bearing pressure is presumed for such ground: it must be investigated",
        );
    }
    let total = line!(book, N: Force = F + G; F = force, G = ground.own_weight; Source::definition("forces add up"));
    if !(Length::ZERO < ground.length && Length::ZERO < ground.width) {
        return Finding::judged(Status::Fail, "no part of the foundation lies about the force");
    }
    let area =
        line!(book, A: Area = L * B; L = ground.length, B = ground.width; Source::definition("area of the foundation"));
    // In whichever direction the force stands off the middle: that of the diagonal does most.
    let side = line!(book, b: Length = B / sqrt(1.0 + B / L * (B / L)); B = ground.width.min(ground.length), L = ground.length.max(ground.width); ECCENTRIC);
    // The foundation's own weight stands in the middle.
    let off = line!(book, e: Length = e_F * (F / N); e_F = ground.off_centre, F = force, N = total; Source::definition("moment over force"));
    let stands = off < side / 2.0;
    if !stands {
        return Finding::judged(Status::Fail, "the force stands on the edge of its foundation or beyond it");
    }
    let greatest = if off <= side / 6.0 {
        line!(book, q: GroundPressure = pressure_on(N, A) * (1.0 + 6.0 * (e / b)); N = total, A = area, e = off, b = side; ECCENTRIC)
    } else {
        line!(book, q: GroundPressure = pressure_on(N, A) * (4.0 * b / (3.0 * (b - 2.0 * e))); N = total, A = area, e = off, b = side; ECCENTRIC)
    };
    let ratio = greatest / limit;
    let finding = Finding::compare(greatest, limit)
        .with_hand("force over area, N / A", area.ground_pressure_under(total), greatest)
        .with_remedy(|| {
            format!(
                "an area of {:.3} m2 that the force reaches and loads in its middle; it reaches {:.3} m2",
                (area.m2() * ratio * 1e3).ceil() / 1e3,
                area.m2()
            )
        });
    if presumed {
        return finding.with_caution(
            "the value is presumptive: such tables assume proper footings, and a small board on loose sand carries a tenth of them; have the ground looked at",
        );
    }
    finding
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::check::NoLines;

    /// 2:1 spread: 500 kN on 1 x 1 m at 1 m: 125 kPa; 300 kN on 0.4 x 0.4 m at 0 and 0.3 m: 1 875 and 612.2449 kPa
    /// (exact arithmetic of the rule).
    #[test]
    fn validate_spread_rows() {
        for (kn, side, depth, kpa) in
            [(500.0, 1.0, 1.0, 125.0), (300.0, 0.4, 0.0, 1875.0), (300.0, 0.4, 0.3, 612.244_9)]
        {
            let metres = Length::from_m;
            let reached = |there| spread_side(&mut NoLines, metres(side), metres(there), Spread::Layer, metres(depth));
            let found = (reached(100.0) * reached(100.0)).ground_pressure_under(Force::from_kn(kn)).kpa();
            assert!((reached(0.2).m() - 0.2).abs() < 1e-12, "no more than is there");
            assert!((found - kpa).abs() < 5e-5, "{found} for {kpa}");
        }
    }

    fn ground(off_mm: f64) -> Ground {
        Ground {
            length: Length::from_m(2.0),
            width: Length::from_m(1.2),
            allowable: Some(GroundPressure::from_kpa(200.0)),
            class: None,
            off_centre: Length::from_mm(off_mm),
            own_weight: Force::ZERO,
        }
    }

    fn greatest(force_kn: f64, ground: &Ground) -> f64 {
        match ground_pressure(&mut NoLines, Force::from_kn(force_kn), ground, None, "x") {
            Finding::Compared { demand, .. } => demand.value_si / 1e3,
            other => panic!("{other:?}"),
        }
    }

    /// Middle third (any textbook of foundations): at e = b / 6 the greatest pressure is twice the mean and the least none;
    /// beyond it 2 N / (3 L (b / 2 - e)).
    #[test]
    fn validate_middle_third() {
        // A strip so long that its width alone counts; 120 kN for each metre of it.
        let strip = |off: f64| Ground { length: Length::from_m(1e6), ..ground(off) };
        assert!((greatest(120e6, &strip(0.0)) - 100.0).abs() < 1e-6);
        assert!((greatest(120e6, &strip(200.0)) - 200.0).abs() < 1e-6);
        let triangle = 2.0 * 120.0 / (3.0 * (0.6 - 0.3));
        assert!((greatest(120e6, &strip(300.0)) - triangle).abs() < 1e-6);
        let status = |off: f64| ground_pressure(&mut NoLines, Force::from_n(10.0), &strip(off), None, "x").status();
        assert_eq!(status(599.0), Status::Pass);
        assert_eq!(status(600.1), Status::Fail);
        // A square off the middle along its diagonal: 1 + 6 e sqrt(2) / b.
        let square = Ground { length: Length::from_m(1.2), ..ground(50.0) };
        let mean = 144.0 / 1.44;
        assert!((greatest(144.0, &square) - mean * (1.0 + 6.0 * 0.05 * 2.0_f64.sqrt() / 1.2)).abs() < 1e-9);
    }

    #[test]
    fn verify_just_passes_and_just_fails() {
        let status =
            |kn: f64, ground: &Ground| ground_pressure(&mut NoLines, Force::from_kn(kn), ground, None, "x").status();
        assert_eq!(status(480.0, &ground(0.0)), Status::Pass);
        assert_eq!(status(480.1, &ground(0.0)), Status::Fail);
        assert_eq!(status(470.0, &Ground { own_weight: Force::from_kn(11.0), ..ground(0.0) }), Status::Fail);
        let classed = |class| Ground { allowable: None, class: Some(class), ..ground(0.0) };
        assert_eq!(status(100.0, &classed(GroundClass::Sand)), Status::Caution);
        assert_eq!(status(1.0, &classed(GroundClass::SoftOrFill)), Status::Fail);
        let unknown = Ground { allowable: None, ..ground(0.0) };
        assert_eq!(status(1.0, &unknown), Status::NotChecked);
        assert_eq!(status(f64::NAN, &ground(0.0)), Status::Fail);
    }
}
