//! Extension and underside of the load over the steps.

use super::Drawing;
use super::bars::{Axis, grid_up};
use super::elevation::governing_point;
use super::look::{Fill, Look, Stroke, count, shown};
use super::stacks::at_point;
use super::svg::{Anchor, At, SMALL, Sheet, Style};
use crate::Subject;
use ramwright_units::{Kind, Length, Quantity};

const SIZE: (f64, f64) = (176.0, 96.0);
const LEFT: f64 = 22.0;
const RIGHT: f64 = 168.0;
const TOP: f64 = 12.0;
const BOTTOM: f64 = 72.0;
/// More steps than these are drawn as every second, third and so on.
const MOST: usize = 400;

/// The drawing.
pub(super) fn draw(subject: &Subject<'_>, look: &Look) -> Option<Drawing> {
    let sequence = subject.sequence()?;
    let index = governing_point(subject)?;
    let point = subject.case.points.get(index)?;
    let value = |length: Length| Quantity::from(length).value_in(look.units);
    let every = sequence.steps.len().div_ceil(MOST).max(1);
    let rows: Vec<(u32, f64, f64)> = sequence
        .steps
        .iter()
        .step_by(every)
        .filter_map(|step| {
            let at = at_point(step, &point.id)?;
            Some((step.number, value(at.soffit.expected), value(at.extension.expected)))
        })
        .collect();
    let title = "Heights over the steps".to_owned();
    let description =
        format!("Underside of the load and extension of the rams at point {} after each step.", shown(&point.id, 20.0));
    let mut sheet = Sheet::new(look, "heights_chart", SIZE, title, description);
    let most = rows.iter().map(|(_, soffit, extension)| soffit.max(*extension)).fold(0.0, f64::max);
    let axis = Axis::holding(most, BOTTOM, TOP)?;
    grid_up(&mut sheet, &axis, (LEFT, RIGHT), look.unit(Kind::Length));
    let pitch = (RIGHT - LEFT) / count(rows.len().max(1));
    let at = |place: usize| LEFT + pitch * (count(place) + 0.5);
    let label_every = rows.len().div_ceil(30).max(1);
    for (place, (number, _, extension)) in rows.iter().enumerate() {
        let x = at(place);
        let half = (pitch * 0.3).min(2.0);
        if 0.0 < *extension {
            sheet.rect((x - half, BOTTOM), (x + half, axis.at(*extension)), Stroke::Thin, Fill::Body);
        }
        if place % label_every == 0 {
            sheet.text((x, BOTTOM + 3.6), Style::new(SMALL, Anchor::Middle), &number.to_string());
        }
    }
    let line: Vec<At> = rows.iter().enumerate().map(|(place, (_, soffit, _))| (at(place), axis.at(*soffit))).collect();
    sheet.polyline(&line, Stroke::Outline);
    for dot in line.iter().filter(|_| rows.len() <= 60) {
        sheet.circle(*dot, 0.7, Stroke::None, Fill::Solid);
    }
    sheet.line((LEFT, BOTTOM), (RIGHT, BOTTOM), Stroke::Medium);
    sheet.text((f64::midpoint(LEFT, RIGHT), BOTTOM + 7.6), Style::new(SMALL, Anchor::Middle), "step");
    let mut notes = vec![format!(
        "Point {}, expected values. Line with dots: underside of the load over the foundation of the holding stack. Columns: extension of the rams.",
        shown(&point.id, 12.0)
    )];
    if 1 < every {
        notes.push(format!("Every {every}th step is drawn."));
    }
    let end = sheet.notes((6.0, BOTTOM + 13.0), 164.0, &notes);
    sheet.set_height(end + 1.0);
    Some(sheet.finish())
}
