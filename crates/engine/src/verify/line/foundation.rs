//! Concrete, steelwork and ground under the rams and the holding stacks.

use super::super::raise::Raise;
use super::super::station::Station;
use super::stacks::{BASE, HOLDING, Page, Which, off_centre, on_the_head, worst_stack};
use super::{ALLOWABLE, SEQUENCE, basis, has_holding_stack, held, pushed};
use crate::check::{Finding, Ledger, NoLines, Source, Status};
use crate::line;
use crate::support::stack::{OffCentre, Stack};
use crate::support::{
    ConcreteBearing, ConcreteFoundation, Face, Foundation, Ground, Spread, concrete_bearing, ground_pressure, punching,
    spread_side, steel_bearing,
};
use ramwright_units::{Force, Length};

pub(super) fn under_the_ram<L: Ledger>(station: &Station<'_>, raise: &Raise, book: &mut L) -> Finding {
    let force = pushed(station, book);
    at_the_foot(station, raise, BASE, force, book, |foot, page| bears(station, force, foot, page))
}

pub(super) fn under_the_stack<L: Ledger>(station: &Station<'_>, raise: &Raise, book: &mut L) -> Finding {
    let force = held(station, book);
    at_the_foot(station, raise, HOLDING, force, book, |foot, page| bears(station, force, foot, page))
}

pub(super) fn ground_under_the_ram<L: Ledger>(station: &Station<'_>, raise: &Raise, book: &mut L) -> Finding {
    let force = pushed(station, book);
    at_the_foot(station, raise, BASE, force, book, |foot, page| presses(station, force, foot, page))
}

pub(super) fn ground_under_the_stack<L: Ledger>(station: &Station<'_>, raise: &Raise, book: &mut L) -> Finding {
    let force = held(station, book);
    at_the_foot(station, raise, HOLDING, force, book, |foot, page| presses(station, force, foot, page))
}

pub(super) fn punching_under_the_ram<L: Ledger>(station: &Station<'_>, _raise: &Raise, book: &mut L) -> Finding {
    // All rams of a point stand on one slab.
    let force = pushed(station, book) * f64::from(station.count);
    punches(station, force)
}

pub(super) fn punching_under_the_stack<L: Ledger>(station: &Station<'_>, raise: &Raise, book: &mut L) -> Finding {
    match has_holding_stack(raise) {
        None => Finding::missing([SEQUENCE]),
        Some(false) => Finding::judged(Status::Pass, "no holding stack stands there"),
        Some(true) => {
            let force = held(station, book) * f64::from(station.count);
            punches(station, force)
        }
    }
}

/// Where a column bears on the foundation.
#[derive(Clone, Copy)]
struct Foot {
    /// Sides of the part of it that lies about the force.
    sides: (Length, Length),
    /// How far the force stands off its middle.
    off: Length,
}

/// A check of what the foot of every stack of the sequence bears on; a ram may stand on the foundation itself.
fn at_the_foot<L: Ledger>(
    station: &Station<'_>,
    raise: &Raise,
    which: Which,
    force: Force,
    book: &mut L,
    find: impl Fn(Foot, &mut Page) -> Finding,
) -> Finding {
    worst_stack(station, which, book, |stack: &Stack<'_>, page| {
        let off = off_centre(station, raise, which, force);
        match foot_of(station, which, off, stack) {
            Err(missing) => missing,
            Ok(Some(foot)) => find(foot, page),
            Ok(None) => Finding::judged(Status::Pass, "no holding stack stands there"),
        }
    })
}

/// Where a stack bears on the foundation, or a ram without one.
fn foot_of(station: &Station<'_>, which: Which, off: OffCentre, stack: &Stack<'_>) -> Result<Option<Foot>, Finding> {
    let head = on_the_head(station, which)?;
    let at_foot = off.at(stack.height());
    match (stack.foot_under(head, off), head) {
        (Err(missing), _) => Err(Finding::missing([missing])),
        (Ok(Some(sides)), _) => Ok(Some(Foot { sides, off: at_foot })),
        // The ram stands on the foundation itself.
        (Ok(None), Some((face, _))) => {
            let (long, short) = face.sides();
            let about = (short - 2.0 * at_foot).max(Length::ZERO);
            Ok(Some(Foot { sides: (long, about), off: at_foot }))
        }
        (Ok(None), None) => Ok(None),
    }
}

/// Whether what a stack stands on is not found too weak for it.
pub(in super::super) fn foot_holds(
    station: &Station<'_>,
    which: Which,
    (force, off): (Force, OffCentre),
    stack: &Stack<'_>,
) -> bool {
    let Ok(Some(foot)) = foot_of(station, which, off, stack) else { return true };
    let found = [bears(station, force, foot, &mut NoLines), presses(station, force, foot, &mut NoLines)];
    found.iter().all(|finding| finding.status() != Status::Fail)
}

fn bears<L: Ledger>(station: &Station<'_>, force: Force, Foot { sides, .. }: Foot, book: &mut L) -> Finding {
    let basis = match basis(station) {
        Ok(basis) => basis,
        Err(missing) => return missing,
    };
    match station.links.foundation {
        None => Finding::missing([station.link("foundation")]),
        Some(Foundation::Ground(..)) => {
            Finding::judged(Status::Pass, "it stands on the ground itself; see the pressure on it")
        }
        Some(Foundation::Steelwork(yield_strength)) => {
            let names = (
                station.link_unless(yield_strength.is_some(), "foundation/yield_strength"),
                format!("{ALLOWABLE}/steel_bearing"),
            );
            let face = Face::Rectangle(sides.0, sides.1);
            steel_bearing(book, force, face, yield_strength, basis, (&names.0, &names.1))
        }
        Some(Foundation::Concrete(concrete, _)) => {
            let Some(strength) = concrete.strength else {
                return Finding::missing([station.link("foundation/concrete_strength")]);
            };
            // Rams side by side share the room about them: the longer side is divided.
            let room = concrete.room.map(|(a, b)| (a.max(b) / f64::from(station.count), a.min(b)));
            let bearing = ConcreteBearing { loaded: sides, room, depth: concrete.depth, strength };
            concrete_bearing(book, force, &bearing, basis, &format!("{ALLOWABLE}/concrete_bearing"))
        }
    }
}

fn punches(station: &Station<'_>, force: Force) -> Finding {
    match station.links.foundation {
        None => Finding::missing([station.link("foundation")]),
        Some(Foundation::Concrete(ConcreteFoundation { slab: true, punching_resistance, .. }, _)) => punching(
            force,
            punching_resistance,
            &station.link_unless(punching_resistance.is_some(), "foundation/punching_resistance"),
        ),
        Some(_) => Finding::judged(Status::Pass, "there is no slab that could be punched through"),
    }
}

fn presses<L: Ledger>(station: &Station<'_>, force: Force, Foot { sides, off }: Foot, book: &mut L) -> Finding {
    let (ground, spread) = match station.links.foundation {
        None => return Finding::missing([station.link("foundation")]),
        Some(Foundation::Steelwork(_)) => {
            return Finding::judged(Status::Pass, "it stands on steelwork; see the limit of the foundation");
        }
        Some(Foundation::Concrete(concrete, ground)) => (ground, (concrete.depth, Spread::Block)),
        Some(Foundation::Ground(ground, depth)) => (ground, (depth, Spread::Layer)),
    };
    let Some(ground) = ground else { return Finding::missing([station.link("foundation/ground")]) };
    let (depth, spread) = spread;
    let depth = depth.unwrap_or(Length::ZERO);
    let longer = ground.length.max(ground.width);
    let shorter = ground.length.min(ground.width);
    if sides.1 <= Length::ZERO {
        return Finding::judged(Status::Fail, "the force stands on the edge of the foot of its stack, or beyond it");
    }
    // No larger area bears than the force can reach from the foot of the stack.
    let length = spread_side(book, sides.0.max(sides.1), longer, spread, depth);
    let width = spread_side(book, sides.0.min(sides.1), shorter, spread, depth);
    // Rams side by side press on one area: each reaches its own, and together no more than there is.
    let count = f64::from(station.count);
    let width = line!(book, B_n: Length = min(n * B_g, B * (L / L_g)); n = count, B_g = width, L = longer, B = shorter, L_g = length; Source::definition("areas of the rams of a point together, at most the area stated"));
    let all = line!(book, F_n: Force = n * F; n = count, F = force; Source::definition("rams of the point together"));
    // A column that leans or is pushed stands off the middle of its foundation by as much.
    let reached = Ground { length, width, off_centre: ground.off_centre + off, ..ground };
    let name = station.link_unless(ground.allowable.is_some(), "foundation/ground/allowable or class");
    ground_pressure(book, all, &reached, station.line.basis.as_ref(), &name)
}
