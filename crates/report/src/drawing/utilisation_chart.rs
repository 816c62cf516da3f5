//! The greatest utilisation of each kind of check, against 1.

use super::Drawing;
use super::bars::{Axis, grid_across, row_top};
use super::look::{Fill, Look, Stroke, count, shown};
use super::svg::{Anchor, SMALL, Sheet, Style};
use crate::Subject;
use ramwright_engine::check::{Check, CheckId, Scenario, Status};
use std::collections::BTreeMap;

const PITCH: f64 = 5.4;
const LEFT: f64 = 52.0;
const RIGHT: f64 = 118.0;
const TOP: f64 = 8.0;

/// Whether anything was checked.
pub(super) fn has(subject: &Subject<'_>) -> bool {
    subject.checks().next().is_some()
}

/// The worst check of each kind as planned, and how often the kind was not checked.
struct Row<'a> {
    worst: &'a Check,
    /// The worst status of all of them, whichever has the greatest utilisation.
    status: Status,
    not_checked: u32,
}

fn rows<'a>(subject: &Subject<'a>) -> Vec<Row<'a>> {
    let mut by_id: BTreeMap<CheckId, Row<'a>> = BTreeMap::new();
    for check in subject.checks().filter(|check| check.scenario == Scenario::AsPlanned) {
        let open = u32::from(check.status == Status::NotChecked);
        match by_id.get_mut(&check.id) {
            Some(row) => {
                row.not_checked += open;
                row.status = row.status.max(check.status);
                if is_worse(check, row.worst) {
                    row.worst = check;
                }
            }
            None => {
                by_id.insert(check.id, Row { worst: check, status: check.status, not_checked: open });
            }
        }
    }
    let mut rows: Vec<Row<'a>> = by_id.into_values().collect();
    rows.sort_by(|a, b| rank(b.worst).total_cmp(&rank(a.worst)));
    rows
}

/// Failures first, then by utilisation: a bar shows the greatest, and the word beside it the worst status.
fn is_worse(check: &Check, than: &Check) -> bool {
    rank(than) < rank(check)
}

fn rank(check: &Check) -> f64 {
    let of_status = match check.status {
        Status::Fail => 2e6,
        Status::Pass | Status::Caution => 0.0,
        Status::NotChecked => -1.0,
    };
    of_status + check.utilisation.unwrap_or(0.0).clamp(0.0, 1e6)
}

/// The drawing.
pub(super) fn draw(subject: &Subject<'_>, look: &Look) -> Option<Drawing> {
    let rows = rows(subject);
    let title = "Utilisation by kind of check".to_owned();
    let description =
        "For each kind of check as planned the greatest utilisation, 1 being the limit, and its status in words."
            .to_owned();
    let mut sheet = Sheet::new(look, "utilisation_chart", (182.0, 30.0), title, description);
    let bottom = TOP + PITCH * count(rows.len());
    // Far over the limit is cut: the figure says how far.
    let most = rows.iter().filter_map(|row| row.worst.utilisation).fold(1.1, f64::max).min(2.0);
    let axis = Axis::holding(most, LEFT, RIGHT)?;
    sheet.set_height(bottom + 40.0);
    grid_across(&mut sheet, &axis, (TOP, bottom), "utilisation, demand / limit");
    let at_limit = axis.at(1.0);
    for (place, row) in rows.iter().enumerate() {
        bar(&mut sheet, &axis, row_top(TOP, PITCH, place) + PITCH / 2.0, row);
    }
    sheet.line((at_limit, TOP - 2.0), (at_limit, bottom), Stroke::Accent);
    sheet.text((at_limit, TOP - 3.0), Style::new(SMALL, Anchor::Middle), "limit");
    let others = subject.checks().filter(|check| check.scenario != Scenario::AsPlanned);
    let (all, failed) = others
        .fold((0, 0), |(all, failed): (u32, u32), check| (all + 1, failed + u32::from(check.status == Status::Fail)));
    let note = format!(
        "As planned, figures rounded up. Bar: greatest utilisation, at the point named last; word: worst status of the kind. Open bar: pass; wide hatching: caution or not checked; dense hatching: fail; no bar: no figure. {all} checks of other scenarios stand in the table of checks, {failed} of them fail."
    );
    let end = sheet.notes((6.0, bottom + 14.0), 170.0, &[note]);
    sheet.set_height(end + 1.0);
    Some(sheet.finish())
}

fn bar(sheet: &mut Sheet<'_>, axis: &Axis, y: f64, row: &Row<'_>) {
    let check = row.worst;
    let name = words(check.id);
    sheet.text((LEFT - 2.0, y + 0.8), Style::new(SMALL, Anchor::End), &name);
    let status = match row.status {
        Status::Pass => "pass",
        Status::Caution => "caution",
        Status::NotChecked => "not checked",
        Status::Fail => "FAIL",
    };
    if let Some(utilisation) = check.utilisation {
        let end = (axis.from, axis.at(utilisation));
        let fill = match row.status {
            Status::Fail => Fill::Dense,
            Status::Caution | Status::NotChecked => Fill::Ground,
            Status::Pass => Fill::Open,
        };
        sheet.rect((end.0, y - 1.5), (end.1, y + 1.5), Stroke::Medium, fill);
    }
    let figure = check.utilisation.map(|ratio| format!("{} ", sheet.look.utilisation(ratio))).unwrap_or_default();
    let open = match row.not_checked {
        0 => String::new(),
        number if row.status == Status::NotChecked => format!(" ({number})"),
        number => format!(", {number} not checked"),
    };
    let bold = row.status == Status::Fail;
    let style = Style { bold, ..Style::new(SMALL, Anchor::Start) };
    sheet.text((RIGHT + 3.0, y + 0.8), style, &format!("{figure}{status}{open}, {}", shown(&check.subject, 6.0)));
}

/// The name of a check in words.
fn words(id: CheckId) -> String {
    let name = format!("{id:?}");
    let mut out = String::new();
    for c in name.chars() {
        if c.is_ascii_uppercase() && !out.is_empty() {
            out.push(' ');
        }
        out.push(c.to_ascii_lowercase());
    }
    out
}
