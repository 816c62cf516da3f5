//! The stacks under the ram and under the load, each at the step of the sequence in which it is worst.

use super::super::raise::Raise;
use super::super::station::Station;
use super::{SEQUENCE, basis, held, pushed};
use crate::check::{Finding, Ledger, Line, NoLines, Status};
use crate::ram::{Ram, ring_section};
use crate::support::Face;
use crate::support::stack::{
    OffCentre, RestraintKind, Stack, StackLoad, height_check, overhang_check, plumb_check, settlement_check,
    shortening, stack_bearing,
};
use ramwright_units::{Angle, Force, Length, Stiffness};

/// Which stack of a step is meant.
#[derive(Clone, Copy)]
pub(in super::super) struct Which {
    absent: &'static str,
    pub(super) under_a_ram: bool,
}

/// The stack under a ram.
pub(in super::super) const BASE: Which = Which { absent: "no base stack stands under the ram", under_a_ram: true };
/// The stack under the load.
pub(in super::super) const HOLDING: Which =
    Which { absent: "no holding stack stands under the load", under_a_ram: false };

/// Lines of the stack that is being looked at; a search looks without writing.
pub(super) enum Page {
    /// Nothing is kept.
    Blank,
    /// Lines are kept.
    Written(Vec<Line>),
}

impl Ledger for Page {
    const KEEPS: bool = true;

    fn keep(&mut self, line: impl FnOnce() -> Line) {
        if let Self::Written(lines) = self {
            lines.push(line());
        }
    }
}

/// Which times of a sequence are looked at.
#[derive(Clone, Copy, PartialEq, Eq)]
enum Times {
    /// All of them: at some a ram may stand on the foundation itself.
    All,
    /// Those at which the stack stands, if it ever does.
    Standing,
}

/// Every stack of the sequence that differs from the ones before it.
fn stacks<'a>(
    station: &Station<'a>,
    which: Which,
    times: Times,
) -> Result<impl Iterator<Item = &'a Stack<'a>>, Finding> {
    let there = station.stacks.ok_or_else(|| Finding::missing([SEQUENCE]))?;
    let all = if which.under_a_ram { &there.base } else { &there.holding };
    let all = all.as_ref().map_err(|unknown| Finding::missing([unknown.to_string()]))?;
    let ever = all.iter().any(|stack| !stack.is_empty());
    Ok(all.iter().filter(move |stack| times == Times::All || !ever || !stack.is_empty()))
}

/// A check of what every stack of the sequence does, the worst of them with its lines. Under a ram the bare foundation counts
/// as a stack of nothing.
pub(super) fn worst_stack<L: Ledger>(
    station: &Station<'_>,
    which: Which,
    book: &mut L,
    find: impl Fn(&Stack<'_>, &mut Page) -> Finding,
) -> Finding {
    let times = if which.under_a_ram { Times::All } else { Times::Standing };
    worst_at(station, (which, times), book, find)
}

fn worst_at<L: Ledger>(
    station: &Station<'_>,
    (which, times): (Which, Times),
    book: &mut L,
    find: impl Fn(&Stack<'_>, &mut Page) -> Finding,
) -> Finding {
    let stacks = match stacks(station, which, times) {
        Ok(stacks) => stacks,
        Err(missing) => return missing,
    };
    let findings = stacks.map(|stack| (stack, find(stack, &mut Page::Blank)));
    let worst = findings.reduce(|worst, one| if one.1.is_worse_than(&worst.1) { one } else { worst });
    let Some((stack, finding)) = worst else { return Finding::missing([SEQUENCE]) };
    if !L::KEEPS {
        return finding;
    }
    let mut page = Page::Written(Vec::new());
    let finding = find(stack, &mut page);
    if let Page::Written(lines) = page {
        for line in lines {
            book.keep(|| line);
        }
    }
    finding
}

/// The same for stacks with pieces in them; a pass in words where there never is one.
fn worst_standing<L: Ledger>(
    station: &Station<'_>,
    which: Which,
    book: &mut L,
    find: impl Fn(&Stack<'_>, &mut Page) -> Finding,
) -> Finding {
    worst_at(station, (which, Times::Standing), book, |stack, page| {
        if stack.is_empty() { Finding::judged(Status::Pass, which.absent) } else { find(stack, page) }
    })
}

/// What presses on the head of a stack; nothing in particular where the load covers it.
pub(in super::super) fn on_the_head(
    station: &Station<'_>,
    which: Which,
) -> Result<Option<(Face, &'static str)>, Finding> {
    if !which.under_a_ram {
        return Ok(None);
    }
    match (station.links.base_plate, station.ram.base_diameter) {
        (Some(plate), _) => Ok(Some((plate.face(), "the base plate"))),
        (None, Some(base)) => Ok(Some((Face::Round(base), "the ram's base"))),
        (None, None) => Err(Finding::missing([format!("rams/{}/base_diameter", station.ram.id)])),
    }
}

fn bearing<L: Ledger>(station: &Station<'_>, raise: &Raise, which: Which, force: Force, book: &mut L) -> Finding {
    let head = match on_the_head(station, which) {
        Ok(head) => head,
        Err(missing) => return missing,
    };
    let off = off_centre(station, raise, which, force);
    let load = StackLoad { force, head, contacts_loaded: station.links.contacts_loaded, off };
    worst_standing(station, which, book, |stack, page| match basis(station) {
        Ok(basis) => stack_bearing(page, stack, &load, basis),
        Err(missing) => missing,
    })
}

pub(super) fn base_bearing<L: Ledger>(station: &Station<'_>, raise: &Raise, book: &mut L) -> Finding {
    let force = pushed(station, book);
    bearing(station, raise, BASE, force, book)
}

pub(super) fn holding_bearing<L: Ledger>(station: &Station<'_>, raise: &Raise, book: &mut L) -> Finding {
    let force = held(station, book);
    bearing(station, raise, HOLDING, force, book)
}

fn height<L: Ledger>(station: &Station<'_>, which: Which, book: &mut L) -> Finding {
    worst_standing(station, which, book, |stack, page| {
        height_check(page, stack, which.under_a_ram, station.links.contacts_loaded)
    })
}

pub(super) fn base_height<L: Ledger>(station: &Station<'_>, _raise: &Raise, book: &mut L) -> Finding {
    height(station, BASE, book)
}

pub(super) fn holding_height<L: Ledger>(station: &Station<'_>, _raise: &Raise, book: &mut L) -> Finding {
    height(station, HOLDING, book)
}

pub(super) fn base_overhang<L: Ledger>(station: &Station<'_>, _raise: &Raise, book: &mut L) -> Finding {
    worst_standing(station, BASE, book, |stack, page| overhang_check(page, stack))
}

pub(super) fn holding_overhang<L: Ledger>(station: &Station<'_>, _raise: &Raise, book: &mut L) -> Finding {
    worst_standing(station, HOLDING, book, |stack, page| overhang_check(page, stack))
}

/// How far the force stands off the middle at the head of a stack, and how that grows below: what is stated of centre and
/// lean, with the ram that stands on a base stack, and the sideways force where nothing else takes it.
///
/// What is not stated counts as none here; the checks of saddle, stress and plumb are not made then.
pub(super) fn off_centre(station: &Station<'_>, raise: &Raise, which: Which, force: Force) -> OffCentre {
    let extension = which.under_a_ram.then(|| raise.extension(station.ram, station.settings));
    off_centre_under(station, extension, force)
}

/// The same under a ram of this extension, or right under the load.
pub(in super::super) fn off_centre_under(station: &Station<'_>, extension: Option<Length>, force: Force) -> OffCentre {
    let lean = libm::tan(station.links.lean.unwrap_or(Angle::ZERO).rad());
    let sideways = station.case.greatest_horizontal() / f64::from(station.rams_carrying);
    // A stack that nothing presses is for the checks of plumb and of sliding.
    let pushes = !station.line.holds_tight() && Force::ZERO < force;
    let per_height = lean + if pushes { sideways / force } else { 0.0 };
    let above = extension.map_or(Length::ZERO, |extension| station.ram.closed_height + extension);
    OffCentre { at_head: station.links.off_centre.unwrap_or(Length::ZERO) + above * per_height, per_height }
}

/// Held against the least force: a stack that is pressed less is pushed over sooner.
fn plumb<L: Ledger>(station: &Station<'_>, raise: &Raise, which: Which, least: Force, book: &mut L) -> Finding {
    let absent = [(station.links.lean.is_none(), "lean"), (station.links.off_centre.is_none(), "off_centre")];
    if absent.iter().any(|(absent, _)| *absent) {
        return Finding::missing(absent.iter().filter(|(absent, _)| *absent).map(|(_, name)| station.link(name)));
    }
    let least = least / f64::from(station.count);
    let off = off_centre(station, raise, which, least);
    worst_standing(station, which, book, |stack, page| {
        if !station.line.holds_tight() && least <= Force::ZERO {
            let unknown = station
                .line
                .restraint
                .is_none_or(|restraint| restraint.kind != RestraintKind::None && restraint.play.is_none());
            let pushed = "nothing may press this stack while it is pushed sideways";
            return if unknown {
                Finding::missing([format!("line_of_force/restraint and its play: {pushed}")])
            } else {
                Finding::judged(Status::Fail, pushed)
            };
        }
        plumb_check(page, stack, off)
    })
}

pub(super) fn base_plumb<L: Ledger>(station: &Station<'_>, raise: &Raise, book: &mut L) -> Finding {
    plumb(station, raise, BASE, station.shares.least, book)
}

pub(super) fn holding_plumb<L: Ledger>(station: &Station<'_>, raise: &Raise, book: &mut L) -> Finding {
    plumb(station, raise, HOLDING, station.on_stacks().least, book)
}

pub(super) fn base_settlement<L: Ledger>(station: &Station<'_>, _raise: &Raise, book: &mut L) -> Finding {
    let force = station.share_of_one();
    worst_standing(station, BASE, book, |stack, page| settlement_check(page, stack, force))
}

pub(super) fn holding_settlement<L: Ledger>(station: &Station<'_>, _raise: &Raise, book: &mut L) -> Finding {
    let force = held(station, book);
    worst_standing(station, HOLDING, book, |stack, page| settlement_check(page, stack, force))
}

/// The least load limit of any piece in a holding stack; nothing if there is no such stack or a limit is not stated.
pub(in super::super) fn holding_limit(station: &Station<'_>) -> Option<Force> {
    let stacks = stacks(station, HOLDING, Times::Standing).ok()?;
    let limits: Option<Vec<Force>> = stacks.flat_map(Stack::pieces).map(|piece| piece.load_limit).collect();
    limits?.into_iter().reduce(Force::min)
}

/// The stiffness of what catches a ram's load: its own steel under a collar, else its stiffest holding stack. Everything else
/// that would give way is left out, which makes the blow too great rather than too small.
pub(in super::super) fn catching_stiffness(station: &Station<'_>) -> Option<Stiffness> {
    if station.ram.lock_collar {
        return steel_of(station.ram);
    }
    let force = station.share_of_one();
    let stacks = stacks(station, HOLDING, Times::Standing).ok()?;
    let standing = stacks.filter(|stack| !stack.is_empty());
    let least = standing.map(|stack| shortening(&mut NoLines, stack, force).ok()).collect::<Option<Vec<_>>>()?;
    least.into_iter().reduce(Length::min).map(|shortening| force / shortening)
}

/// The plunger's section over the closed height: shorter than the way of the force, and so stiffer.
fn steel_of(ram: &Ram) -> Option<Stiffness> {
    let (area, _) = ring_section(ram.plunger_diameter?, ram.plunger_bore?);
    Some(Stiffness::from_n_per_m(ram.material.modulus().pa() * area.m2() / ram.closed_height.m()))
}
