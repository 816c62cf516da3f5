//! Oil pressure at each point: expected, greatest, where to stop, and the least rating.

use super::Drawing;
use super::bars::{Axis, grid_across, limited, row_top};
use super::look::{Fill, Look, Stroke, count};
use super::svg::{Anchor, SMALL, Sheet, Style, TEXT};
use crate::Subject;
use ramwright_engine::circuit::PointPressure;
use ramwright_units::{Kind, OilPressure, Quantity};

const MOST: usize = 30;
const PITCH: f64 = 6.5;
const LEFT: f64 = 34.0;
const RIGHT: f64 = 130.0;
const TOP: f64 = 8.0;

/// The drawing.
pub(super) fn draw(subject: &Subject<'_>, look: &Look) -> Option<Drawing> {
    let (_, assessment) = subject.circuit?;
    let mut points: Vec<(usize, &PointPressure)> = assessment.points.iter().enumerate().collect();
    let more = limited(points.len(), MOST, "highest");
    if more.is_some() {
        points.sort_by(|a, b| b.1.pressure.greatest.bar().total_cmp(&a.1.pressure.greatest.bar()));
        points.truncate(MOST);
    }
    let rating = |index: usize| Some(subject.set.as_ref()?.at_points.get(index)?.ram.rated_pressure);
    let value = |pressure: OilPressure| Quantity::from(pressure).value_in(look.units);
    let most = points.iter().map(|(index, point)| {
        value(point.stop_pressure).max(value(point.pressure.greatest)).max(rating(*index).map_or(0.0, value))
    });
    let title = "Oil pressure at the points".to_owned();
    let description = "For each point the pressure of its rams from the least to the greatest, the expected one, the stop pressure and the rated pressure of the ram.".to_owned();
    let mut sheet = Sheet::new(look, "pressure_chart", (180.0, 30.0), title, description);
    let bottom = TOP + PITCH * count(points.len());
    let axis = Axis::holding(most.fold(0.0, f64::max), LEFT, RIGHT)?;
    sheet.set_height(bottom + 40.0);
    grid_across(&mut sheet, &axis, (TOP, bottom), look.unit(Kind::OilPressure));
    for (row, (index, point)) in points.iter().enumerate() {
        bar(&mut sheet, &axis, row_top(TOP, PITCH, row) + PITCH / 2.0, point, rating(*index));
    }
    let mut notes = vec![
        "Bar: from the least to the greatest pressure in the rams, hose losses not included. Mark across it: expected. Triangle: stop and look for the reason. Thick upright line: rated pressure of the ram.".to_owned(),
        times(subject, look),
    ];
    notes.extend(more);
    let end = sheet.notes((6.0, bottom + 14.0), 168.0, &notes);
    sheet.set_height(end + 1.0);
    Some(sheet.finish())
}

fn bar(sheet: &mut Sheet<'_>, axis: &Axis, y: f64, point: &PointPressure, rating: Option<OilPressure>) {
    let units = sheet.look.units;
    let at = |pressure: OilPressure| axis.at(Quantity::from(pressure).value_in(units));
    let range = point.pressure;
    let fill = if rating.is_some_and(|rating| rating < range.greatest) { Fill::Dense } else { Fill::Body };
    sheet.rect((at(range.least), y - 1.6), (at(range.greatest), y + 1.6), Stroke::Medium, fill);
    let x = at(range.expected);
    sheet.rect((x - 0.35, y - 1.6), (x + 0.35, y + 1.6), Stroke::None, Fill::Solid);
    let x = at(point.stop_pressure);
    sheet.polygon(&[(x, y), (x - 1.1, y - 2.4), (x + 1.1, y - 2.4)], Stroke::None, Fill::Solid);
    if let Some(rating) = rating {
        sheet.line((at(rating), y - 2.8), (at(rating), y + 2.8), Stroke::Accent);
    }
    sheet.name((LEFT - 2.0, y + 0.9), Style::new(TEXT, Anchor::End), ("", &point.point, ""), 11.0);
    let text = format!("{}, stop {}", sheet.look.value(range.greatest), sheet.look.quantity(point.stop_pressure));
    sheet.text((RIGHT + 3.0, y + 0.9), Style::new(SMALL, Anchor::Start), &text);
}

fn times(subject: &Subject<'_>, look: &Look) -> String {
    let Some((_, assessment)) = subject.circuit else { return String::new() };
    let at_pump = assessment.pump_pressure.map_or_else(
        || "Pressure at the pump: not known.".to_owned(),
        |pressure| format!("At the pump, with the losses: {}.", look.quantity(pressure)),
    );
    let times = &assessment.times;
    format!(
        "{at_pump} Greatest raise: {} under load, {} in all, without pauses.",
        look.quantity(times.under_load),
        look.quantity(times.total)
    )
}
