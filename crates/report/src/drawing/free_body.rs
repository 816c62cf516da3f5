//! The load cut free: its weight, the horizontal force and the reactions of the points.

use super::Drawing;
use super::look::{Fill, Look, Stroke, count};
use super::places::{Place, extent, in_mm, placed};
use super::svg::{Anchor, At, SMALL, Sheet, Style, TEXT};
use crate::Subject;
use ramwright_engine::load::{LoadShares, PointShare, Task};
use ramwright_units::{Force, Kind};

/// More reactions than these hide each other.
const MOST: usize = 12;
/// Where the slab of the load lies: left front corner, width, and run of its depth.
const FRONT: At = (20.0, 64.0);
const WIDE: f64 = 66.0;
const DEEP: (f64, f64) = (18.0, -14.0);
const HIGH: f64 = 16.0;
/// The longest reaction.
const LONGEST: f64 = 18.0;

/// Whether shares are known.
pub(super) fn has(subject: &Subject<'_>) -> bool {
    subject.load_shares().is_some_and(|shares| !shares.points.is_empty())
}

/// From places in plan to the underside of the slab, in an oblique projection.
struct View {
    least: Place,
    size: Place,
}

impl View {
    fn at(&self, (x, y): Place) -> At {
        let part = |value: f64, least: f64, size: f64| if 0.0 < size { (value - least) / size } else { 0.5 };
        let (across, deep) = (part(x, self.least.0, self.size.0), part(y, self.least.1, self.size.1));
        // The points stand in from the edges of the slab.
        let (across, deep) = (0.06 + 0.88 * across, 0.1 + 0.8 * deep);
        (FRONT.0 + WIDE * across + DEEP.0 * deep, FRONT.1 + DEEP.1 * deep)
    }
}

/// The drawing.
pub(super) fn draw(subject: &Subject<'_>, look: &Look) -> Option<Drawing> {
    let shares = subject.load_shares()?;
    let title = "Free body of the load".to_owned();
    let description = format!(
        "The load with its weight, the horizontal force and the reactions of {} points, least, expected and greatest.",
        shares.points.len()
    );
    let mut sheet = Sheet::new(look, "free_body", (180.0, 104.0), title, description);
    let places: Vec<Place> = match placed(subject) {
        Some(placed) => placed.positions.iter().copied().map(in_mm).collect(),
        None => (0..shares.points.len()).map(|index| (count(index), 0.0)).collect(),
    };
    let (least, greatest) = extent(&places)?;
    let view = View { least, size: (greatest.0 - least.0, greatest.1 - least.1) };
    let mut order: Vec<usize> = (0..shares.points.len()).collect();
    if MOST < order.len() {
        let most = |index: usize| shares.share(index).map_or(0.0, |share| share.share.greatest.kn());
        order.sort_by(|a, b| most(*b).total_cmp(&most(*a)));
        order.truncate(MOST);
        order.sort_unstable();
    }
    let mut notes = Vec::new();
    if subject.case.task == Task::Raise {
        slab(&mut sheet);
        actions(&mut sheet, subject, shares, &view);
    } else {
        slab(&mut sheet);
        notes.push(
            "In a machine frame the forces are those of the work on the rams; their direction is that of the rams."
                .to_owned(),
        );
    }
    reactions(&mut sheet, shares, &view, &places, &order);
    axes(&mut sheet);
    table(&mut sheet, shares, &order);
    notes.extend(words(subject, shares, look, order.len()));
    let end = sheet.notes((6.0, 98.0), 168.0, &notes);
    sheet.set_height(end + 1.0);
    Some(sheet.finish())
}

fn slab(sheet: &mut Sheet<'_>) {
    let (x, y) = FRONT;
    let (dx, dy) = DEEP;
    sheet.rect((x, y), (x + WIDE, y - HIGH), Stroke::Medium, Fill::Load);
    sheet.polygon(
        &[(x, y - HIGH), (x + dx, y - HIGH + dy), (x + WIDE + dx, y - HIGH + dy), (x + WIDE, y - HIGH)],
        Stroke::Medium,
        Fill::Open,
    );
    sheet.polygon(
        &[(x + WIDE, y), (x + WIDE + dx, y + dy), (x + WIDE + dx, y - HIGH + dy), (x + WIDE, y - HIGH)],
        Stroke::Medium,
        Fill::Open,
    );
    sheet.polyline(&[(x, y), (x + dx, y + dy), (x + WIDE + dx, y + dy)], Stroke::Hidden);
    sheet.line((x + dx, y + dy), (x + dx, y - HIGH + dy), Stroke::Hidden);
}

fn actions(sheet: &mut Sheet<'_>, subject: &Subject<'_>, shares: &LoadShares, view: &View) {
    let at = placed(subject).map_or((FRONT.0 + f64::midpoint(WIDE, DEEP.0), FRONT.1 + DEEP.1 / 2.0), |placed| {
        view.at((placed.centre.x.expected.mm(), placed.centre.y.expected.mm()))
    });
    let centre = (at.0, at.1 - HIGH / 2.0);
    sheet.arrow((centre.0, 16.0), centre, Stroke::Outline, 3.0);
    sheet.centre_of_gravity(centre, 1.8);
    let weight = format!("W = {}", sheet.look.quantity(shares.weight.expected));
    sheet.text((centre.0 + 1.5, 18.0), Style::new(TEXT, Anchor::Start).bold(), &weight);
    if Force::ZERO < shares.horizontal_force {
        let text = format!("H = {}", sheet.look.quantity(shares.horizontal_force));
        sheet.arrow((4.0, centre.1), (18.0, centre.1), Stroke::Outline, 3.0);
        sheet.line((18.0, centre.1), centre, Stroke::Centre);
        sheet.text((3.0, centre.1 - 3.0), Style::new(SMALL, Anchor::Start).bold(), &text);
    }
}

fn reactions(sheet: &mut Sheet<'_>, shares: &LoadShares, view: &View, places: &[Place], order: &[usize]) {
    let most = shares.points.iter().map(|share| share.share.greatest.kn()).fold(0.0, f64::max);
    for index in order {
        let (Some(share), Some(place)) = (shares.share(*index), places.get(*index)) else { continue };
        let (x, y) = view.at(*place);
        let long = |force: Force| if 0.0 < most { (force.kn() / most).clamp(0.0, 1.0) * LONGEST } else { 0.0 };
        let (expected, greatest) = (long(share.share.expected), long(share.share.greatest));
        sheet.line((x, y + greatest), (x, y + expected), Stroke::Thin);
        sheet.line((x - 1.0, y + greatest), (x + 1.0, y + greatest), Stroke::Thin);
        sheet.arrow((x, y + expected.max(3.0)), (x, y), Stroke::Outline, 2.4);
        let at = [
            (x + 1.4, y + greatest.max(3.0) + 1.5),
            (x + 1.4, y + greatest + 4.6),
            (x - 6.0, y + greatest + 1.5),
            (x + 1.4, y + greatest + 7.6),
        ];
        let label = format!("R {}", super::look::shown(&share.point, 6.0));
        sheet.first_free(Style::new(SMALL, Anchor::Start).bold(), &label, &at);
    }
}

fn axes(sheet: &mut Sheet<'_>) {
    let at = (8.0, 88.0);
    sheet.arrow(at, (at.0 + 8.0, at.1), Stroke::Medium, 1.8);
    sheet.arrow(at, (at.0 + 5.0, at.1 - 4.0), Stroke::Medium, 1.8);
    sheet.arrow(at, (at.0, at.1 - 8.0), Stroke::Medium, 1.8);
    for (dx, dy, name) in [(9.0, 0.8, "x"), (6.0, -4.0, "y"), (-1.8, -8.0, "z")] {
        sheet.text((at.0 + dx, at.1 + dy), Style::new(SMALL, Anchor::Start), name);
    }
}

fn table(sheet: &mut Sheet<'_>, shares: &LoadShares, order: &[usize]) {
    let columns = [134.0, 148.0, 162.0, 177.0];
    let style = Style::new(SMALL, Anchor::End);
    let unit = sheet.look.unit(Kind::Force);
    sheet.text((columns[3], 12.0), style, &format!("reactions in {unit}"));
    for (x, head) in columns.into_iter().zip(["point", "least", "expected", "greatest"]) {
        sheet.text((x, 17.0), style.bold(), head);
    }
    sheet.line((118.0, 18.5), (178.0, 18.5), Stroke::Thin);
    for (row, index) in order.iter().enumerate() {
        let Some(PointShare { point, share, .. }) = shares.share(*index) else { continue };
        let y = 22.5 + 4.4 * count(row);
        sheet.name((columns[0], y), style, ("", point, ""), 8.0);
        for (x, force) in columns.into_iter().skip(1).zip([share.least, share.expected, share.greatest]) {
            let text = sheet.look.value(force);
            sheet.text((x, y), style, &text);
        }
    }
}

fn words(subject: &Subject<'_>, shares: &LoadShares, look: &Look, drawn: usize) -> Vec<String> {
    let mut notes = vec![
        "Not to scale. x and y in plan, z up; a reaction is positive where the support pushes. Length of an arrow: expected reaction, thin on to the greatest.".to_owned(),
    ];
    if subject.case.task == Task::Raise {
        notes.push(format!(
            "Weight {} to {}, vertical load {} to {}. H acts at the centre of gravity{}.",
            look.value(shares.weight.least),
            look.quantity(shares.weight.greatest),
            look.value(shares.vertical_load.least),
            look.quantity(shares.vertical_load.greatest),
            if shares.horizontal_force <= Force::ZERO {
                "; there is none"
            } else {
                ", here drawn along x; the shares take the worst direction that is not stated"
            }
        ));
    }
    if placed(subject).is_none() {
        notes.push("The positions of the points are not stated; they are drawn side by side.".to_owned());
    }
    if drawn < shares.points.len() {
        notes.push(format!("The {drawn} most heavily loaded of {} points are drawn.", shares.points.len()));
    }
    notes
}
