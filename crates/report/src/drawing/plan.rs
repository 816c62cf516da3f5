//! The plan: points, supports, centre of gravity, distance from tipping, dimensions.

use super::Drawing;
use super::look::{Fill, Look, Stroke, shown, width_in_em};
use super::places::{Place, extent, hull, in_mm, of_support, phase_shown, placed};
use super::plan_dimensions::{axes, chains, scale_bar};
use super::scale::Scale;
use super::svg::{Anchor, Area, At, SMALL, Sheet, Style, TEXT};
use crate::Subject;
use ramwright_engine::load::Tipping;

const SIZE: (f64, f64) = (180.0, 136.0);
/// Room for the places themselves.
const ROOM: (f64, f64) = (100.0, 68.0);
/// The middle of that room on the sheet.
const MIDDLE: At = (98.0, 52.0);
/// More labels than these hide each other.
const MOST_LABELS: usize = 40;
/// More points than these are not told apart.
const MOST_POINTS: usize = 600;

/// From places in mm to places on the sheet.
#[derive(Clone, Copy, Debug)]
pub(super) struct View {
    pub(super) scale: Scale,
    pub(super) least: Place,
    pub(super) greatest: Place,
}

impl View {
    pub(super) fn at(&self, (x, y): Place) -> At {
        let middle = (f64::midpoint(self.least.0, self.greatest.0), f64::midpoint(self.least.1, self.greatest.1));
        (MIDDLE.0 + self.scale.on_sheet(x - middle.0), MIDDLE.1 - self.scale.on_sheet(y - middle.1))
    }
}

/// Whether the points have places.
pub(super) fn has(subject: &Subject<'_>) -> bool {
    placed(subject).is_some_and(|placed| !placed.positions.is_empty())
}

/// The drawing.
pub(super) fn draw(subject: &Subject<'_>, look: &Look) -> Option<Drawing> {
    let placed = placed(subject)?;
    let points: Vec<Place> = placed.positions.iter().copied().map(in_mm).collect();
    let title = "Plan of the jacking points";
    let description = format!(
        "Plan with {} points, the centre of gravity with its tolerance, the polygon of the supports and the dimensions.",
        points.len()
    );
    let mut sheet = Sheet::new(look, "plan", SIZE, title.to_owned(), description);
    let centre = (&placed.centre.x, &placed.centre.y);
    let mut all = points.clone();
    all.extend([(centre.0.least.mm(), centre.1.least.mm()), (centre.0.greatest.mm(), centre.1.greatest.mm())]);
    all.extend(subject.case.points.iter().filter_map(|point| point.packing_at).map(in_mm));
    all.extend(supports(subject));
    let (least, greatest) = extent(&all)?;
    let Some(scale) = Scale::fitting((greatest.0 - least.0, greatest.1 - least.1), ROOM) else {
        sheet.set_height(24.0);
        let why = "The plan cannot be drawn to scale: all points are in one place, or too far apart.";
        sheet.notes((6.0, 9.0), SIZE.0 - 12.0, &[why.to_owned()]);
        return Some(sheet.finish());
    };
    let view = View { scale, least, greatest };
    let mut notes = vec![format!("Scale {}.", scale.words())];
    supports_and_centre(&mut sheet, subject, &view);
    mark_points(&mut sheet, subject, &view, &points, &mut notes);
    axes(&mut sheet, &view);
    chains(&mut sheet, &view, &points, &mut notes);
    tipping(&mut sheet, subject, &view, &mut notes);
    label_points(&mut sheet, subject, &view, &points, &mut notes);
    scale_bar(&mut sheet, scale);
    let end = sheet.notes((6.0, 124.0), 168.0, &notes);
    sheet.set_height(end.max(SIZE.1 - 4.0) + 1.0);
    Some(sheet.finish())
}

fn supports(subject: &Subject<'_>) -> Vec<Place> {
    phase_shown(subject).map_or_else(Vec::new, |phase| {
        phase.supports.iter().filter_map(|support| of_support(subject, support)).collect()
    })
}

fn supports_and_centre(sheet: &mut Sheet<'_>, subject: &Subject<'_>, view: &View) {
    let corners: Vec<At> = hull(&supports(subject)).into_iter().map(|place| view.at(place)).collect();
    if 2 < corners.len() {
        sheet.polygon(&corners, Stroke::Outline, Fill::Load);
    } else {
        sheet.polyline(&corners, Stroke::Outline);
    }
    let Some(placed) = placed(subject) else { return };
    let (x, y) = (&placed.centre.x, &placed.centre.y);
    let box_from = view.at((x.least.mm(), y.least.mm()));
    let box_to = view.at((x.greatest.mm(), y.greatest.mm()));
    let centre = view.at((x.expected.mm(), y.expected.mm()));
    sheet.rect(box_from, box_to, Stroke::Hidden, Fill::Open);
    sheet.centre_of_gravity(centre, 2.0);
    sheet.take(Area(centre.0 - 2.6, centre.1 - 2.6, centre.0 + 2.6, centre.1 + 2.6));
}

fn mark_points(sheet: &mut Sheet<'_>, subject: &Subject<'_>, view: &View, points: &[Place], notes: &mut Vec<String>) {
    if MOST_POINTS < points.len() {
        notes.push(format!("{MOST_POINTS} of {} points are drawn; the polygon holds all of them.", points.len()));
    }
    let mut elsewhere = false;
    for (place, point) in points.iter().zip(&subject.case.points).take(MOST_POINTS) {
        let (x, y) = view.at(*place);
        sheet.circle((x, y), 1.4, Stroke::Medium, Fill::Open);
        sheet.line((x - 2.2, y), (x + 2.2, y), Stroke::Thin);
        sheet.line((x, y - 2.2), (x, y + 2.2), Stroke::Thin);
        sheet.take(Area(x - 2.3, y - 2.3, x + 2.3, y + 2.3));
        if let Some(at) = point.packing_at {
            let (x, y) = view.at(in_mm(at));
            sheet.rect((x - 1.2, y - 1.2), (x + 1.2, y + 1.2), Stroke::Medium, Fill::Piece);
            sheet.take(Area(x - 1.4, y - 1.4, x + 1.4, y + 1.4));
            elsewhere = true;
        }
    }
    notes.push(
        "Circle with cross: jacking point, its greatest share beside it. Quartered circle: centre of gravity, dashed its tolerance."
            .to_owned(),
    );
    if elsewhere {
        notes.push("Square: holding stack, where it does not stand at the rams.".to_owned());
    }
}

/// The points in the order in which they get a label, the heaviest first.
fn heaviest_first(subject: &Subject<'_>) -> Vec<(usize, Option<f64>)> {
    let share = |index| Some(subject.load_shares()?.share(index)?.share.greatest.kn());
    let mut order: Vec<_> = (0..subject.case.points.len()).map(|index| (index, share(index))).collect();
    order.sort_by(|a, b| b.1.unwrap_or(0.0).total_cmp(&a.1.unwrap_or(0.0)));
    order
}

fn label_points(sheet: &mut Sheet<'_>, subject: &Subject<'_>, view: &View, points: &[Place], notes: &mut Vec<String>) {
    let middle = view.at((f64::midpoint(view.least.0, view.greatest.0), f64::midpoint(view.least.1, view.greatest.1)));
    let mut left_out = points.len().saturating_sub(MOST_LABELS);
    for (index, _) in heaviest_first(subject).into_iter().take(MOST_LABELS) {
        let (Some(point), Some(place)) = (subject.case.points.get(index), points.get(index)) else { continue };
        let share = subject.load_shares().and_then(|shares| shares.share(index));
        let second = share.map(|share| sheet.look.quantity(share.share.greatest)).unwrap_or_default();
        if !label(sheet, view.at(*place), middle, &point.id, &second) {
            left_out += 1;
        }
    }
    if 0 < left_out {
        notes.push(format!(
            "{left_out} points have no label here, since it would hide another; the table of shares names all."
        ));
    }
}

/// A label in two lines beside a point, away from the middle, with a leader; false if there is no room.
fn label(sheet: &mut Sheet<'_>, at: At, middle: At, id: &str, second: &str) -> bool {
    let away = (if at.0 < middle.0 { -1.0 } else { 1.0 }, if at.1 <= middle.1 { -1.0 } else { 1.0 });
    let wide = (width_in_em(&shown(id, 9.0)) * TEXT * 1.08).max(width_in_em(second) * SMALL);
    let high = TEXT + SMALL + 1.2;
    for (along, up) in
        [(4.0, 3.5), (3.0, -1.0), (4.0, 8.0), (9.0, 4.0), (8.0, 12.0), (14.0, 7.0), (3.0, -6.0), (12.0, 16.0)]
    {
        for side in [away.0, -away.0] {
            let x = at.0 + side * along;
            let y = at.1 + away.1 * up;
            let area = if side < 0.0 {
                Area(x - wide, y - high / 2.0, x, y + high / 2.0)
            } else {
                Area(x, y - high / 2.0, x + wide, y + high / 2.0)
            };
            if !sheet.is_free(&area) {
                continue;
            }
            let anchor = if side < 0.0 { Anchor::End } else { Anchor::Start };
            sheet.line((at.0 + side * 1.1, at.1 + (y - at.1).clamp(-1.0, 1.0)), (x - side * 0.4, y), Stroke::Thin);
            sheet.name((x, y - 0.2), Style::new(TEXT, anchor).bold(), ("", id, ""), 9.0);
            sheet.text((x, y + SMALL + 0.1), Style::new(SMALL, anchor), second);
            return true;
        }
    }
    false
}

fn tipping(sheet: &mut Sheet<'_>, subject: &Subject<'_>, view: &View, notes: &mut Vec<String>) {
    let shown_phase = phase_shown(subject);
    let tipping = shown_phase.and_then(|phase| phase.tipping.as_ref());
    let (Some(phase), Some(tipping), Some(placed)) = (shown_phase, tipping, placed(subject)) else {
        notes.push("Distance from tipping: none is stated for these supports.".to_owned());
        return;
    };
    let find = |name: &str| of_support(subject, phase.supports.iter().find(|support| support.support == name)?);
    let (Some(from), Some(to)) = (find(&tipping.from), find(&tipping.to)) else { return };
    let (a, b) = (view.at(from), view.at(to));
    let centre = view.at((placed.centre.x.expected.mm(), placed.centre.y.expected.mm()));
    sheet.line(a, b, Stroke::Accent);
    let (dx, dy) = (b.0 - a.0, b.1 - a.1);
    let long = dx * dx + dy * dy;
    // On one line the load tips over a point, not over an edge.
    let part = if 0.0 < long { ((centre.0 - a.0) * dx + (centre.1 - a.1) * dy) / long } else { 0.0 };
    if part.is_finite() {
        let foot = (a.0 + dx * part, a.1 + dy * part);
        sheet.line(foot, centre, Stroke::Thin);
        sheet.arrow_head(foot, (foot.0 - centre.0, foot.1 - centre.1), 1.8);
        let middle = (f64::midpoint(foot.0, centre.0), f64::midpoint(foot.1, centre.1));
        let text = sheet.look.quantity(tipping.distance);
        let places = [(middle.0 + 1.2, middle.1), (middle.0 + 1.2, middle.1 + 4.0), (middle.0 + 3.0, middle.1 - 4.0)];
        if !sheet.first_free(Style::new(SMALL, Anchor::Start), &text, &places) {
            notes.push(format!("The distance to the edge is {text}."));
        }
    }
    notes.push(words_of(sheet.look, tipping));
}

fn words_of(look: &Look, tipping: &Tipping) -> String {
    let over = if tipping.from == tipping.to {
        format!("It would tip over {} first.", shown(&tipping.from, 9.0))
    } else {
        format!("Thick: edge of tipping, from {} to {}.", shown(&tipping.from, 9.0), shown(&tipping.to, 9.0))
    };
    format!(
        "{over} Distance {}, reach of tolerance and horizontal force {}, margin {}.",
        look.quantity(tipping.distance),
        look.quantity(tipping.reach),
        look.quantity(tipping.margin)
    )
}
