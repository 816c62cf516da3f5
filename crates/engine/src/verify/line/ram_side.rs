//! The ram: what bends it, what its oil does, who carries it.

use super::super::checks::{base_name, extended, upright};
use super::super::raise::Raise;
use super::super::station::Station;
use super::SEQUENCE;
use crate::check::{Finding, Ledger, NoLines, Source, Status};
use crate::defaults::{BULK_MODULUS, COLLAR_SPARE_STROKE};
use crate::load::Task;
use crate::ram::{
    Bending, Extended, Sideways, WarmOil, collar_release, handling, own_weight, pressure, return_pressure, rise,
    saddle_angle, saddle_off_centre, side_load, sideways_force, stress, tension, warm_oil,
};
use crate::support::Handling;
use ramwright_units::{Angle, Force, Length};

pub(super) fn stress_check<L: Ledger>(station: &Station<'_>, raise: &Raise, book: &mut L) -> Finding {
    if station.case.task == Task::Raise && raise.found().is_none() {
        return Finding::missing([SEQUENCE]);
    }
    let (Some(off_centre), Some(lean)) = (station.links.off_centre, station.links.lean) else {
        return missing_of(
            station,
            [(station.links.off_centre.is_none(), "off_centre"), (station.links.lean.is_none(), "lean")],
        );
    };
    // The lean adds its own moment in the formula, so only the load's sideways force enters here.
    let sideways = match station.case.task {
        Task::Raise => sideways_force(&mut NoLines, &pushed_sideways(station)),
        Task::Press | Task::Pull => Force::ZERO,
    };
    let state = extended(station, raise);
    let off_centre = match with_own_weight(station, &state, off_centre, book) {
        Ok(off_centre) => off_centre,
        Err(finding) => return finding,
    };
    let bending = Bending { off_centre, lean, sideways };
    if station.case.task == Task::Pull {
        return tension(book, station.ram, station.share_of_one(), state.extension, &bending);
    }
    stress(book, station.ram, station.share_of_one(), &state, &bending, &base_name(station))
}

/// How far off the axis the force bears, with what the own weight of a ram adds that does not stand plumb in its frame.
fn with_own_weight(
    station: &Station<'_>,
    state: &Extended,
    off_centre: Length,
    book: &mut impl Ledger,
) -> Result<Length, Finding> {
    if station.case.task == Task::Raise || station.point.from_plumb <= Angle::ZERO {
        return Ok(off_centre);
    }
    let off = own_weight(book, station.ram, state, station.point.from_plumb, station.share_of_one())?;
    Ok(
        crate::line!(book, e: Length = e_0 + e_w; e_0 = off_centre, e_w = off; Source::definition("off the axis, and as if off it by the ram's own weight")),
    )
}

/// What pushes one upright ram sideways: its part of the horizontal force, unless the load is held without play.
fn pushed_sideways(station: &Station<'_>) -> Sideways {
    let upright = upright(station);
    if station.line.holds_tight() { Sideways { horizontal: Force::ZERO, ..upright } } else { upright }
}

fn missing_of<const N: usize>(station: &Station<'_>, absent: [(bool, &str); N]) -> Finding {
    Finding::missing(absent.iter().filter(|(absent, _)| *absent).map(|(_, name)| station.link(name)))
}

pub(super) fn side_load_check<L: Ledger>(station: &Station<'_>, _raise: &Raise, book: &mut L) -> Finding {
    let Some(lean) = station.links.lean else { return missing_of(station, [(true, "lean")]) };
    if station.rams_of_model < station.rams {
        return Finding::missing([
            "one model of ram at every point; how several models share the horizontal force is not computed",
        ]);
    }
    side_load(book, station.ram, &Sideways { lean, ..pushed_sideways(station) })
}

pub(super) fn saddle_angle_check<L: Ledger>(station: &Station<'_>, _raise: &Raise, _book: &mut L) -> Finding {
    let names = (
        station.link_unless(station.links.soffit_angle.is_some(), "soffit_angle"),
        station.of_ram_unless(station.ram.saddle_tilt_limit.is_some(), "saddle_tilt_limit"),
    );
    saddle_angle(station.links.soffit_angle, station.ram.saddle_tilt_limit, (&names.0, &names.1))
}

pub(super) fn saddle_off_centre_check<L: Ledger>(station: &Station<'_>, _raise: &Raise, book: &mut L) -> Finding {
    let names = (
        station.link_unless(station.links.off_centre.is_some(), "off_centre"),
        station.of_ram_unless(station.ram.saddle_diameter.is_some(), "saddle_diameter"),
    );
    saddle_off_centre(book, station.links.off_centre, station.ram.saddle_diameter, (&names.0, &names.1))
}

pub(super) fn collar_check<L: Ledger>(station: &Station<'_>, raise: &Raise, book: &mut L) -> Finding {
    if !station.ram.lock_collar {
        return Finding::judged(Status::Pass, "the ram has no lock collar; the load is held on packing");
    }
    let Some(sequence) = raise.found() else { return Finding::missing([SEQUENCE]) };
    collar_release(book, sequence.greatest_extension, station.ram.stroke, COLLAR_SPARE_STROKE)
}

pub(super) fn warm_oil_check<L: Ledger>(station: &Station<'_>, raise: &Raise, book: &mut L) -> Finding {
    let Some(rise_k) = station.line.oil_temperature_rise_k else {
        return Finding::missing(["line_of_force/oil_temperature_rise_k"]);
    };
    let before = pressure(book, station.ram.effective_area, station.count, station.share());
    let oil = WarmOil {
        rise_k,
        pressure: before,
        rated: station.ram.rated_pressure,
        bulk_modulus: BULK_MODULUS,
        relief: station.line.thermal_relief,
    };
    if !L::KEEPS {
        return warm_oil(book, &oil);
    }
    let free = rise(book, raise.extension(station.ram, station.settings), rise_k);
    warm_oil(book, &oil).with_note(format!(
        "where the load is free to rise it rises by {:.1} mm instead, which is a difference of levels",
        free.mm()
    ))
}

pub(super) fn return_line<L: Ledger>(station: &Station<'_>, _raise: &Raise, book: &mut L) -> Finding {
    if station.case.task == Task::Pull {
        return Finding::judged(
            Status::Pass,
            "a ram that pulls returns its oil from the full bore, at less than the pressure on its annulus",
        );
    }
    let annulus = station.of_ram_unless(station.ram.annulus_area.is_some(), "annulus_area");
    let names = ("line_of_force/return_line", &*annulus);
    // A ram held back by its own oil takes all that the pump gives, whatever it carries.
    return_pressure(book, station.ram, station.ram.rated_pressure, station.line.return_line, names)
}

pub(super) fn handling_check<L: Ledger>(station: &Station<'_>, _raise: &Raise, book: &mut L) -> Finding {
    match station.line.handling {
        None => Finding::missing(["line_of_force/handling"]),
        Some(Handling::LiftingGear) => Finding::judged(Status::Pass, "rams are carried by lifting gear"),
        Some(Handling::ByHand(persons)) => {
            handling(book, station.ram.mass, persons, &station.of_ram_unless(station.ram.mass.is_some(), "mass"))
        }
    }
}
