//! Stability of the extended ram.

use super::kernel::column_curve::critical_stress_pa;
use super::kernel::two_section_column::{ColumnEnds, ColumnSection, critical_load};
use super::model::Ram;
use super::mounting::Mounting;
use super::section::ring_section;
use crate::check::{Finding, Ledger, Source, Status};
use crate::{line, root_line};
use ramwright_units::{Force, Length, RotationalStiffness, SecondMoment, Typed};

const TWO_SECTIONS: Source = Source::published(
    "elastic stability of a bar of two sections: Timoshenko and Gere, Theory of Elastic Stability, bars with changes in cross-section",
);
const CIRCLE: Source =
    Source::published("second moment of area of a circle or ring, any textbook of strength of materials");

/// How the base of a ram is held against turning.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum BaseFixity {
    /// Full bearing on steel or concrete.
    Fixed,
    /// On something that gives, with its stiffness against turning.
    Spring(RotationalStiffness),
    /// On packing or ground whose stiffness was not stated.
    Unknown,
}

/// How the head of a ram is held sideways.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Head {
    /// Free to move sideways with the load.
    Free,
    /// Held sideways by guides or by the frame, free to turn.
    Restrained,
}

/// The state in which stability is checked.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Extended {
    /// Height of the base stack under the ram, which counts with the body.
    pub base_stack: Length,
    /// Thickness of head plate and base plate, which count with the body.
    pub plates: Length,
    /// Extension of the plunger.
    pub extension: Length,
    /// How the base is held.
    pub base: BaseFixity,
    /// How the head is held.
    pub head: Head,
    /// How the ram is held in a machine frame, if that is stated: held at its front, only the plunger can buckle.
    pub mounting: Option<Mounting>,
    /// Factor demanded on the elastic critical load.
    pub factor: f64,
}

/// The share on one ram against the elastic critical load of body and plunger, divided by a factor.
///
/// The body counts with its closed height and the base stack under it, the plunger with its extension.
///
/// # Source
/// Two-section column, see the lines; the factor of 3.5 is from memory.
///
/// # Validity
/// Elastic, straight, concentric; the stress with an initial eccentricity is a check of its own.
pub fn stability<L: Ledger>(book: &mut L, ram: &Ram, share: Force, state: &Extended, base_field: &str) -> Finding {
    let critical = match critical_of(book, ram, state, base_field) {
        Ok(critical) => critical,
        Err(finding) => return finding,
    };
    let limit = line!(book, P_lim: Force = P_cr / gamma; P_cr = critical, gamma = state.factor; Source::from_memory("factor on the elastic critical load; ISO/TS 13725 leaves it to the user"));
    let finding = Finding::compare(share, limit)
        .with_remedy(|| format!("no more than {:.0} kN on one ram, or less extension", limit.kn().floor()));
    if !L::KEEPS {
        return finding;
    }
    match plunger_alone(ram, state).filter(|_| state.mounting != Some(Mounting::FrontFlange)) {
        Some((words, alone)) => finding.with_hand(words, alone, critical),
        None => finding,
    }
}

/// What the plunger's section would carry over the whole length: by the curve of AISC 360, E3 where its yield strength is
/// known, else by Euler's formula. Either is below the critical load of the two sections.
fn plunger_alone(ram: &Ram, state: &Extended) -> Option<(&'static str, Force)> {
    let (area, inertia) = ring_section(ram.plunger_diameter?, ram.plunger_bore?);
    let (area, inertia) = (area.m2(), inertia.m4());
    let pi = std::f64::consts::PI;
    let length = (state.base_stack + state.plates + ram.closed_height + state.extension).m();
    let effective = match state.head {
        Head::Restrained => length,
        Head::Free => 2.0 * length,
    };
    let modulus = ram.material.modulus().pa();
    let slenderness = effective / (inertia / area).sqrt();
    Some(match ram.plunger_yield {
        Some(yield_strength) => (
            "plunger alone over the whole length (pinned, or fixed and free), AISC 360 E3: F_cr A",
            Force::from_n(critical_stress_pa(slenderness, yield_strength.pa(), modulus) * area),
        ),
        None => (
            "plunger alone over the whole length (pinned, or fixed and free), Euler: pi^2 E I / (K L)^2",
            Force::from_n(pi * pi * modulus * inertia / (effective * effective)),
        ),
    })
}

/// Elastic critical load of body and plunger, or what is missing for it.
pub(super) fn critical_of(
    book: &mut impl Ledger,
    ram: &Ram,
    state: &Extended,
    base_field: &str,
) -> Result<Force, Finding> {
    if state.mounting == Some(Mounting::FrontFlange) {
        return critical_of_plunger(book, ram, state);
    }
    let (Some(body), Some(plunger), Some(hole)) = (ram.body_diameter, ram.plunger_diameter, ram.plunger_bore) else {
        let name = format!("rams/{}/body_diameter, plunger_diameter and plunger_bore", ram.id);
        return Err(Finding::missing([name]));
    };
    let ends = match (state.head, state.base) {
        (Head::Restrained, BaseFixity::Fixed) => ColumnEnds::FixedPinned,
        // A base that gives is between fixed and pinned: pinned is the safe side.
        (Head::Restrained, BaseFixity::Spring(_) | BaseFixity::Unknown) => ColumnEnds::PinnedPinned,
        (Head::Free, BaseFixity::Fixed) => ColumnEnds::FixedFree,
        (Head::Free, BaseFixity::Spring(c)) => {
            ColumnEnds::SpringFree { rotational_stiffness_nm_per_rad: c.nm_per_rad() }
        }
        (Head::Free, BaseFixity::Unknown) => return Err(Finding::missing([base_field.to_owned()])),
    };
    let body_inertia = body_inertia(book, ram, body);
    let plunger_inertia = ring(book, plunger, hole);
    let body_length = line!(book, l_1: Length = h_B + t_p + c; h_B = state.base_stack, t_p = state.plates, c = ram.closed_height; Source::definition("base stack and closed ram count as the stiffer section"));
    // What the plunger of a light body is made of is not known: the lower modulus is the safe one.
    let section = |inertia: SecondMoment, length: Length| ColumnSection {
        youngs_modulus_pa: ram.material.modulus().pa(),
        second_moment_m4: inertia.m4(),
        length_m: length.m(),
    };
    let (lower, upper) = (section(body_inertia, body_length), section(plunger_inertia, state.extension));
    critical_of_column(book, &lower, &upper, ends)
}

/// Elastic critical load of the plunger of a ram that is held at its front.
///
/// A plunger that its piston and the gland hold sideways, and that stands out with a free head, carries no less than one as
/// long as the whole of it that is fixed at one end: the slope of either part vanishes somewhere between piston and gland
/// (Rayleigh's quotient). Where the head is held too, taking the gland away leaves a bar on two pins. The plunger is no longer
/// than the closed ram, at any extension.
fn critical_of_plunger(book: &mut impl Ledger, ram: &Ram, state: &Extended) -> Result<Force, Finding> {
    let (Some(plunger), Some(hole)) = (ram.plunger_diameter, ram.plunger_bore) else {
        return Err(Finding::missing([format!("rams/{}/plunger_diameter and plunger_bore", ram.id)]));
    };
    let inertia = ring(book, plunger, hole);
    let length = line!(book, l: Length = c + t_p; c = ram.closed_height, t_p = state.plates; Source::definition("held at its front: the plunger alone, no longer than the closed ram with its plates; counted as two thirds and a third of one section"));
    let ends = match state.head {
        Head::Restrained => ColumnEnds::PinnedPinned,
        Head::Free => ColumnEnds::FixedFree,
    };
    let part = |of_length: f64| ColumnSection {
        youngs_modulus_pa: ram.material.modulus().pa(),
        second_moment_m4: inertia.m4(),
        length_m: length.m() * of_length,
    };
    critical_of_column(book, &part(2.0 / 3.0), &part(1.0 / 3.0), ends)
}

fn critical_of_column(
    book: &mut impl Ledger,
    lower: &ColumnSection,
    upper: &ColumnSection,
    ends: ColumnEnds,
) -> Result<Force, Finding> {
    let Ok(found) = critical_load(lower, upper, ends) else {
        let text = "the dimensions of the ram give no column that can be computed";
        return Err(Finding::judged(Status::Fail, text));
    };
    let critical = Force::from_n(found.load_n);
    keep_root(book, critical, ends, (lower, upper), found.n);
    Ok(critical)
}

/// The body's second moment: outside diameter less the bore that belongs to the effective area.
fn body_inertia(book: &mut impl Ledger, ram: &Ram, body: Length) -> SecondMoment {
    let area_m2 = ram.effective_area.m2();
    let bore = Length::from_m((4.0 * area_m2 / std::f64::consts::PI).sqrt());
    ring(book, body, bore)
}

/// Second moment of a ring.
fn ring(book: &mut impl Ledger, outside: Length, inside: Length) -> SecondMoment {
    // The fourth power of a length has no type of its own, so the diameters enter as ratios to one metre.
    let inertia = line!(book, I_over_m4: f64 = pi / 64.0 * (pow4(D) - pow4(d)); pi = std::f64::consts::PI, D = outside.m(), d = inside.m(); CIRCLE);
    SecondMoment::from_si(inertia)
}

/// Keeps the characteristic equation with its root.
fn keep_root(
    book: &mut impl Ledger,
    critical: Force,
    ends: ColumnEnds,
    sections: (&ColumnSection, &ColumnSection),
    n: f64,
) {
    let (lower, upper) = sections;
    let stiffness = |section: &ColumnSection| section.youngs_modulus_pa * section.second_moment_m4;
    let root = |section: &ColumnSection| section.length_m * (critical.n() / stiffness(section)).sqrt();
    let (u_1, u_2) = (root(lower), root(upper));
    match ends {
        ColumnEnds::FixedFree => {
            root_line!(book, P_cr = critical; n * cos(u_1) * cos(u_2) - sin(u_1) * sin(u_2); n = n, u_1 = u_1, u_2 = u_2; TWO_SECTIONS)
        }
        ColumnEnds::PinnedPinned => {
            root_line!(book, P_cr = critical; n * sin(u_1) * cos(u_2) + cos(u_1) * sin(u_2); n = n, u_1 = u_1, u_2 = u_2; TWO_SECTIONS)
        }
        ColumnEnds::FixedPinned => {
            let v = (lower.length_m + upper.length_m) * (critical.n() / stiffness(lower)).sqrt();
            root_line!(book, P_cr = critical; n * sin(u_1) * cos(u_2) + cos(u_1) * sin(u_2) - v * (n * cos(u_1) * cos(u_2) - sin(u_1) * sin(u_2)); n = n, u_1 = u_1, u_2 = u_2, v = v; TWO_SECTIONS)
        }
        ColumnEnds::SpringFree { rotational_stiffness_nm_per_rad } => {
            let q = (critical.n() * stiffness(lower)).sqrt() / rotational_stiffness_nm_per_rad;
            root_line!(book, P_cr = critical; n * cos(u_1) * cos(u_2) - sin(u_1) * sin(u_2) - q * (n * sin(u_1) * cos(u_2) + cos(u_1) * sin(u_2)); n = n, u_1 = u_1, u_2 = u_2, q = q; TWO_SECTIONS)
        }
    };
}
