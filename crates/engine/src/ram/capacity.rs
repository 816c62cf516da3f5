//! What a ram may carry, and the pressure that a share needs.

use super::model::{Action, Ram};
use crate::check::{Finding, Ledger, Source};
use crate::defaults::LIMIT_OF_PRACTICE;
use crate::line;
use ramwright_units::{Area, Force, OilPressure};

const PRESSURE_BY_AREA: Source = Source::definition("force = pressure x area");
const SHARED: Source =
    Source::definition("rams of equal area on one linked circuit under a common head plate share equally");
/// More rams than this do not stand side by side at a point.
const MOST_SIDE_BY_SIDE: f64 = 12.0;
const LIMITED: Source =
    Source::common_practice("only part of the capacity is used (0.80 is common practice, no source)");

/// Greatest share at a point against what its rams may carry: capacity limit x effective area x rated pressure, for each ram.
///
/// The nominal class takes no part.
///
/// # Source
/// Pressure x area by definition; the limit is common practice, no source.
///
/// # Validity
/// `count` rams of one model, linked, under a common head plate. A limit above 0.80 turns a pass into a caution;
/// the limit of 1.0 for accidental scenarios does not (`ordinary` names the limit that the caution is about).
pub fn capacity(book: &mut impl Ledger, ram: &Ram, count: u32, share: Force, limit: CapacityLimit) -> Finding {
    on_area(book, ram, ram.effective_area, count, share, limit)
}

/// The same when pulling, on the annulus.
///
/// # Source
/// Pressure x area by definition.
///
/// # Validity
/// Double-acting rams; others have no area to pull with and fail. An annulus that is not stated is not checked.
pub fn pull_capacity(book: &mut impl Ledger, ram: &Ram, count: u32, share: Force, limit: CapacityLimit) -> Finding {
    match (ram.action, ram.annulus_area) {
        (Action::DoubleActing, Some(annulus)) => on_area(book, ram, annulus, count, share, limit),
        (Action::DoubleActing, None) => Finding::missing([format!("rams/{}/annulus_area", ram.id)]),
        _ => Finding::judged(crate::check::Status::Fail, "a single-acting ram cannot pull"),
    }
}

/// Which share of the capacity may be used, and in which kind of scenario.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum CapacityLimit {
    /// The working limit of ordinary use.
    Working(f64),
    /// The whole capacity, for accidental scenarios.
    Accidental,
}

fn on_area<L: Ledger>(book: &mut L, ram: &Ram, area: Area, count: u32, share: Force, limit: CapacityLimit) -> Finding {
    let full = line!(book, Q: Force = p * A; p = ram.rated_pressure, A = area; PRESSURE_BY_AREA);
    let each = line!(book, F: Force = R / n; R = share, n = f64::from(count); SHARED);
    let phi = match limit {
        CapacityLimit::Working(phi) => phi,
        CapacityLimit::Accidental => 1.0,
    };
    let usable = line!(book, F_lim: Force = phi * Q; phi = phi, Q = full; LIMITED);
    let remedy = || {
        let most = floor_kn(usable * f64::from(count));
        let needed = (share / usable).ceil();
        // More rams than stand side by side at one point are no remedy.
        if needed <= MOST_SIDE_BY_SIDE {
            format!("no more than {most:.1} kN at the point, or {needed:.0} such rams in place of {count}")
        } else {
            format!("no more than {most:.1} kN at the point, or a greater ram")
        }
    };
    // A search asks for thousands, and tells in its own words what one lacks.
    let finding = Finding::compare(each, usable);
    let finding = if L::KEEPS { finding.with_remedy(remedy) } else { finding };
    match limit {
        CapacityLimit::Working(phi) if LIMIT_OF_PRACTICE < phi => {
            finding.with_caution("the capacity limit is above 0.80, the share that common practice uses at most")
        }
        _ => finding,
    }
}

/// In kN to one digit, rounded down: what is printed passes.
pub(super) fn floor_kn(force: Force) -> f64 {
    (force.kn() * 10.0).floor() / 10.0
}

/// Oil pressure in each of `count` linked rams that carry a share.
///
/// # Source
/// Pressure = force / area.
///
/// # Validity
/// Rams of equal area on one circuit.
pub fn pressure(book: &mut impl Ledger, area: Area, count: u32, share: Force) -> OilPressure {
    line!(book, p: OilPressure = R / (n * A); R = share, n = f64::from(count), A = area; PRESSURE_BY_AREA)
}
