//! Axes, chain dimensions, overall dimensions and the scale bar of the plan.

use super::look::Stroke;
use super::places::{Place, extent};
use super::plan::View;
use super::scale::Scale;
use super::svg::{Anchor, SMALL, Sheet, Style, TEXT};
use ramwright_units::Length;

/// More dimensions in a chain than these hide each other.
const MOST_IN_CHAIN: usize = 12;
/// How far from the picture the chains stand: below, and to the left, clear of the labels.
const CHAIN: (f64, f64) = (13.0, 20.0);
/// The same of the overall dimensions.
const OVERALL: (f64, f64) = (19.5, 27.0);

/// The axes with their origin: at the origin itself if it lies in the picture, else as directions only.
pub(super) fn axes(sheet: &mut Sheet<'_>, view: &View) {
    let inside = |value: f64, least: f64, greatest: f64| least <= value && value <= greatest;
    let here = inside(0.0, view.least.0, view.greatest.0) && inside(0.0, view.least.1, view.greatest.1);
    let origin = (8.0, 117.0);
    sheet.arrow(origin, (origin.0 + 9.0, origin.1), Stroke::Medium, 2.0);
    sheet.arrow(origin, (origin.0, origin.1 - 9.0), Stroke::Medium, 2.0);
    sheet.text((origin.0 + 10.0, origin.1 + 0.8), Style::new(TEXT, Anchor::Start), "x");
    sheet.text((origin.0, origin.1 - 10.0), Style::new(TEXT, Anchor::Middle), "y");
    if here {
        let at = view.at((0.0, 0.0));
        sheet.line((at.0 - 5.0, at.1), (at.0 + 5.0, at.1), Stroke::Centre);
        sheet.line((at.0, at.1 - 5.0), (at.0, at.1 + 5.0), Stroke::Centre);
        let places =
            [(at.0 + 2.6, at.1 - 2.8), (at.0 + 2.6, at.1 + 5.0), (at.0 - 4.6, at.1 - 2.8), (at.0 - 4.6, at.1 + 5.0)];
        sheet.first_free(Style::new(TEXT, Anchor::Start), "O", &places);
    }
}

/// The distinct values along one axis, those nearer than a thousandth of a mm as one.
fn distinct(values: impl Iterator<Item = f64>) -> Vec<f64> {
    let mut sorted: Vec<f64> = values.collect();
    sorted.sort_by(f64::total_cmp);
    sorted.dedup_by(|b, a| (*b - *a).abs() < 1e-3);
    sorted
}

/// Chain and overall dimensions along x below the picture and along y to its left.
pub(super) fn chains(sheet: &mut Sheet<'_>, view: &View, points: &[Place], notes: &mut Vec<String>) {
    let Some((least, greatest)) = extent(points) else { return };
    let length = |sheet: &Sheet<'_>, from: f64, to: f64| sheet.look.value(Length::from_mm(to - from));
    let (below, left) = (view.at(least).1 + 3.0, view.at(least).0 - 3.0);
    let mut left_out = 0;
    let xs = distinct(points.iter().map(|place| place.0));
    let ys = distinct(points.iter().map(|place| place.1));
    let chain_x = 2 < xs.len() && xs.len() <= MOST_IN_CHAIN;
    let chain_y = 2 < ys.len() && ys.len() <= MOST_IN_CHAIN;
    for pair in xs.windows(2).filter(|_| chain_x) {
        let [from, to] = pair else { continue };
        let text = length(sheet, *from, *to);
        let ends = (view.at((*from, 0.0)).0, view.at((*to, 0.0)).0);
        left_out += u32::from(!sheet.dimension_across(ends, (below, below + CHAIN.0), &text));
    }
    for pair in ys.windows(2).filter(|_| chain_y) {
        let [from, to] = pair else { continue };
        let text = length(sheet, *from, *to);
        let ends = (view.at((0.0, *from)).1, view.at((0.0, *to)).1);
        left_out += u32::from(!sheet.dimension_up(ends, (left, left - CHAIN.1), &text));
    }
    if 1 < xs.len() {
        let text = length(sheet, least.0, greatest.0);
        let from = if chain_x { below + CHAIN.0 + 1.0 } else { below };
        sheet.dimension_across((view.at(least).0, view.at(greatest).0), (from, below + OVERALL.0), &text);
    }
    if 1 < ys.len() {
        let text = length(sheet, least.1, greatest.1);
        let from = if chain_y { left - CHAIN.1 - 1.0 } else { left };
        sheet.dimension_up((view.at(least).1, view.at(greatest).1), (from, left - OVERALL.1), &text);
    }
    notes.push(format!("Dimensions in {}.", sheet.look.unit(ramwright_units::Kind::Length)));
    if 0 < left_out || MOST_IN_CHAIN < xs.len() || MOST_IN_CHAIN < ys.len() {
        notes.push("Dimensions too close to be read are left out.".to_owned());
    }
}

/// A bar of a round length beside its scale.
pub(super) fn scale_bar(sheet: &mut Sheet<'_>, scale: Scale) {
    let (x, y) = (136.0, 117.0);
    let real = scale.one_to * 20.0;
    for (part, fill) in [(0.0, super::look::Fill::Solid), (10.0, super::look::Fill::Open)] {
        sheet.rect((x + part, y - 1.2), (x + part + 10.0, y), Stroke::Thin, fill);
    }
    let text = sheet.look.quantity(Length::from_mm(real));
    sheet.text((x - 1.0, y), Style::new(SMALL, Anchor::End), "0");
    sheet.text((x + 21.0, y), Style::new(SMALL, Anchor::Start), &text);
    sheet.text((x + 10.0, y - 2.4), Style::new(SMALL, Anchor::Middle), &scale.words());
}
