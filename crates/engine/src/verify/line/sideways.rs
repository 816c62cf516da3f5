//! What holds the load and its stacks sideways.

use super::super::raise::Raise;
use super::super::station::Station;
use super::stacks::{BASE, HOLDING, Which, worst_stack};
use super::{SEQUENCE, has_holding_stack};
use crate::catalogue::PackingMaterial;
use crate::check::{Finding, Ledger, Status};
use crate::load::LoadCase;
use crate::settings::Settings;
use crate::support::stack::{Sliding, Stack, friction_check, restraint_check};
use crate::support::{LineOfForce, Surface};
use ramwright_units::Force;

const RESTRAINT: &str = "line_of_force/restraint";

/// The horizontal force on the whole load against what its restraint takes.
pub(in super::super) fn restrained(case: &LoadCase, line: &LineOfForce, settings: &Settings) -> Finding {
    restraint_check(case.greatest_horizontal(), line.restraint.as_ref(), settings.follow_up_gap, RESTRAINT)
}

/// The same, asked at a point; it is one answer for all of them.
pub(super) fn restrained_at<L: Ledger>(station: &Station<'_>, _raise: &Raise, _book: &mut L) -> Finding {
    restrained(station.case, station.line, station.settings)
}

/// The column of a ram: load, ram with its plates, base stack, foundation.
pub(super) fn raised<L: Ledger>(station: &Station<'_>, _raise: &Raise, book: &mut L) -> Finding {
    slides(station, BASE, station.shares.least / f64::from(station.count), book)
}

/// The column of a holding stack.
pub(super) fn held<L: Ledger>(station: &Station<'_>, raise: &Raise, book: &mut L) -> Finding {
    match has_holding_stack(raise) {
        None => Finding::missing([SEQUENCE]),
        Some(false) => Finding::judged(Status::Pass, "no holding stack stands under the load"),
        Some(true) => slides(station, HOLDING, station.on_stacks().least / f64::from(station.count), book),
    }
}

fn slides<L: Ledger>(station: &Station<'_>, which: Which, least: Force, book: &mut L) -> Finding {
    let (Some(soffit), Some(foundation)) = (station.links.soffit, station.links.foundation) else {
        let absent = [(station.links.soffit.is_none(), "soffit"), (station.links.foundation.is_none(), "foundation")];
        return Finding::missing(absent.iter().filter(|(absent, _)| *absent).map(|(_, name)| station.link(name)));
    };
    // Rams and stacks take the horizontal force alike, whatever they carry.
    let columns = f64::from(station.rams_carrying);
    let horizontal = station.case.greatest_horizontal() / columns;
    worst_stack(station, which, book, |stack, page| {
        if stack.is_empty() && !which.under_a_ram {
            return Finding::judged(Status::Pass, "no holding stack stands under the load");
        }
        let surfaces = column(soffit.surface(), which.under_a_ram, stack, foundation.surface());
        let sliding = Sliding { surfaces: &surfaces, horizontal, least };
        friction_check(page, &sliding, station.line.restraint.as_ref(), RESTRAINT)
    })
}

fn column(soffit: Surface, with_ram: bool, stack: &Stack<'_>, foundation: Surface) -> Vec<Surface> {
    let mut surfaces = vec![soffit];
    surfaces.extend(with_ram.then_some(Surface::Steel));
    surfaces.extend(stack.pieces().rev().map(|piece| match piece.material {
        PackingMaterial::Steel => Surface::Steel,
        PackingMaterial::Hardwood | PackingMaterial::Softwood => Surface::Timber,
    }));
    surfaces.push(foundation);
    surfaces
}
