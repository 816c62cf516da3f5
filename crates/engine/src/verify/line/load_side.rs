//! The load's underside and the plates between it and the foundation.

use super::super::raise::Raise;
use super::super::station::Station;
use super::stacks::{HOLDING, worst_stack};
use super::{ALLOWABLE, SEQUENCE, basis, has_holding_stack, held, pushed};
use crate::check::{Finding, Ledger, NoLines, Source, Status};
use crate::line;
use crate::support::{Core, Face, SteelPlate, plate_bending, soffit_bearing, steel_bearing};
use ramwright_units::{Force, Length};

pub(super) fn soffit_over_the_ram<L: Ledger>(station: &Station<'_>, _raise: &Raise, book: &mut L) -> Finding {
    let face = match (station.links.head_plate, station.ram.saddle_diameter) {
        (Some(plate), _) => plate.face(),
        (None, Some(saddle)) => Face::Round(saddle),
        (None, None) => return Finding::missing([format!("rams/{}/saddle_diameter", station.ram.id)]),
    };
    let force = pushed(station, book);
    // What bears is the part about the force.
    let off = station.links.off_centre.unwrap_or(Length::ZERO);
    let (a, b) = face.sides();
    let about = line!(book, b_e: Length = max(b - 2.0 * e, zero); b = a.min(b), e = off, zero = Length::ZERO; Source::definition("the part of the face that lies concentric about the force"));
    on_soffit(station, force, Face::Rectangle(a.max(b), about), book)
}

/// The highest piece of the holding stack under the load, which is taken to cover it.
pub(super) fn soffit_over_the_stack<L: Ledger>(station: &Station<'_>, raise: &Raise, book: &mut L) -> Finding {
    match has_holding_stack(raise) {
        None => return Finding::missing([SEQUENCE]),
        Some(false) => return Finding::judged(Status::Pass, "no holding stack stands under the load"),
        Some(true) => {}
    }
    if let Err(missing) = basis(station) {
        return missing;
    }
    let force = held(station, book);
    worst_stack(station, HOLDING, book, |stack, book| match stack.head() {
        Some(top) => on_soffit(station, force, Face::Rectangle(top.length, top.width), book),
        None => Finding::judged(Status::Pass, "no holding stack stands under the load"),
    })
}

fn on_soffit<L: Ledger>(station: &Station<'_>, force: Force, face: Face, book: &mut L) -> Finding {
    let basis = match basis(station) {
        Ok(basis) => basis,
        Err(missing) => return missing,
    };
    let Some(soffit) = station.links.soffit else { return Finding::missing([station.link("soffit")]) };
    soffit_bearing(
        book,
        force,
        face,
        soffit,
        basis,
        (&station.link_unless(soffit.states_strength(), "soffit"), ALLOWABLE),
    )
}

pub(super) fn head_plate<L: Ledger>(station: &Station<'_>, _raise: &Raise, book: &mut L) -> Finding {
    let core = (station.ram.saddle_diameter, "saddle_diameter");
    bent(station, (station.links.head_plate, "head_plate"), core, book)
}

pub(super) fn base_plate<L: Ledger>(station: &Station<'_>, _raise: &Raise, book: &mut L) -> Finding {
    let core = (station.ram.base_diameter, "base_diameter");
    bent(station, (station.links.base_plate, "base_plate"), core, book)
}

fn bent<L: Ledger>(
    station: &Station<'_>,
    (plate, name): (Option<SteelPlate>, &str),
    (core, of_ram): (Option<Length>, &str),
    book: &mut L,
) -> Finding {
    let Some(plate) = plate else {
        let none_stated = station.links.head_plate.is_none() && station.links.base_plate.is_none();
        if none_stated && Length::ZERO < station.settings.plates {
            return Finding::missing([station.link(name)]);
        }
        return Finding::judged(Status::Pass, "no plate stands here");
    };
    let basis = match basis(station) {
        Ok(basis) => basis,
        Err(missing) => return missing,
    };
    let Some(core) = core else { return Finding::missing([format!("rams/{}/{of_ram}", station.ram.id)]) };
    let force = pushed(station, book);
    let yields = station.link_unless(plate.yield_strength.is_some(), &format!("{name}/yield_strength"));
    let (own_bending, own_bearing) = (format!("{ALLOWABLE}/plate_bending"), format!("{ALLOWABLE}/steel_bearing"));
    // A force off the middle presses the plate's edge more: the pressure there counts everywhere.
    let off = station.links.off_centre.unwrap_or(Length::ZERO);
    let edge = line!(book, F_e: Force = F * (1.0 + 6.0 * (e / b)); F = force, e = off, b = plate.length.min(plate.width); Source::published("pressure under an eccentric force, any textbook of strength of materials"));
    let bends = plate_bending(book, edge, Core::Round(core), &plate, basis, (&yields, &own_bending));
    let side = Face::Round(core).sides().0;
    let face = Face::Rectangle(side.min(plate.length), side.min(plate.width));
    let names = (&*yields, &*own_bearing);
    let bears = steel_bearing(&mut NoLines, force, face, plate.yield_strength, basis, names);
    if bears.is_worse_than(&bends) {
        steel_bearing(book, force, face, plate.yield_strength, basis, names)
    } else {
        bends
    }
}
