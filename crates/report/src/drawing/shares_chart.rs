//! What each point carries: least, expected and greatest, against what its rams may carry.

use super::Drawing;
use super::bars::{Axis, grid_across, limited, row_top};
use super::look::{Fill, Look, Stroke, count};
use super::svg::{Anchor, SMALL, Sheet, Style, TEXT};
use crate::Subject;
use ramwright_engine::check::{CheckId, Scenario};
use ramwright_engine::load::PointShare;
use ramwright_units::{Kind, Quantity};

const MOST: usize = 30;
const PITCH: f64 = 6.5;
const LEFT: f64 = 34.0;
const RIGHT: f64 = 148.0;
const TOP: f64 = 8.0;

/// What the rams of a point may carry, as the check of the plan has it.
fn limit_at(subject: &Subject<'_>, point: &str) -> Option<Quantity> {
    let of_point = |check: &&ramwright_engine::check::Check| {
        check.id == CheckId::Capacity && check.scenario == Scenario::AsPlanned && check.subject == point
    };
    subject.checks().find(of_point).and_then(|check| check.limit).filter(|limit| limit.kind == Kind::Force)
}

/// The drawing.
pub(super) fn draw(subject: &Subject<'_>, look: &Look) -> Option<Drawing> {
    let shares = subject.load_shares()?;
    let mut points: Vec<(&PointShare, Option<Quantity>)> = shares.points.iter().map(|share| (share, None)).collect();
    let more = limited(points.len(), MOST, "most heavily loaded");
    if more.is_some() {
        points.sort_by(|a, b| b.0.share.greatest.kn().total_cmp(&a.0.share.greatest.kn()));
        points.truncate(MOST);
    }
    for (share, limit) in &mut points {
        *limit = limit_at(subject, &share.point);
    }
    let value = |quantity: Quantity| quantity.value_in(look.units);
    let most = points.iter().map(|(share, limit)| value(share.share.greatest.into()).max(limit.map_or(0.0, value)));
    let title = "Shares of the points".to_owned();
    let description = format!(
        "For each of {} points the least, expected and greatest share, and the limit of its rams.",
        shares.points.len()
    );
    let mut sheet = Sheet::new(look, "shares_chart", (176.0, 30.0), title, description);
    let bottom = TOP + PITCH * count(points.len());
    let axis = Axis::holding(most.fold(0.0, f64::max), LEFT, RIGHT)?;
    sheet.set_height(bottom + 28.0);
    grid_across(&mut sheet, &axis, (TOP, bottom), look.unit(Kind::Force));
    for (row, (share, limit)) in points.iter().enumerate() {
        let y = row_top(TOP, PITCH, row) + PITCH / 2.0;
        bar(&mut sheet, &axis, y, share, *limit);
    }
    let limits = if points.iter().all(|(_, limit)| limit.is_none()) { " No limit was checked." } else { "" };
    let mut notes = vec![format!(
        "Bar: from the least to the greatest share. Mark across it: the expected share. Thick upright line: capacity limit of the rams there. The figure is the greatest share.{limits}"
    )];
    notes.extend(more);
    let end = sheet.notes((6.0, bottom + 14.0), 164.0, &notes);
    sheet.set_height(end + 1.0);
    Some(sheet.finish())
}

fn bar(sheet: &mut Sheet<'_>, axis: &Axis, y: f64, share: &PointShare, limit: Option<Quantity>) {
    let units = sheet.look.units;
    let value = |quantity: Quantity| quantity.value_in(units);
    let (least, expected, greatest) =
        (value(share.share.least.into()), value(share.share.expected.into()), value(share.share.greatest.into()));
    let limit = limit.map(value);
    let fill = if limit.is_some_and(|limit| limit < greatest) { Fill::Dense } else { Fill::Body };
    sheet.rect((axis.at(least), y - 1.6), (axis.at(greatest), y + 1.6), Stroke::Medium, fill);
    let x = axis.at(expected);
    sheet.rect((x - 0.35, y - 1.6), (x + 0.35, y + 1.6), Stroke::None, Fill::Solid);
    if let Some(limit) = limit {
        let x = axis.at(limit);
        sheet.line((x, y - 2.8), (x, y + 2.8), Stroke::Accent);
    }
    sheet.name((LEFT - 2.0, y + 0.9), Style::new(TEXT, Anchor::End), ("", &share.point, ""), 11.0);
    let text = sheet.look.quantity(share.share.greatest);
    sheet.text((RIGHT + 3.0, y + 0.9), Style::new(SMALL, Anchor::Start), &text);
}
