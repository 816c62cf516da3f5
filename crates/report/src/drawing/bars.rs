//! Axes, ticks and bars that the charts share.

use super::look::{Stroke, count};
use super::svg::{Anchor, SMALL, Sheet, Style};

/// A straight axis from no value to a greatest one.
#[derive(Clone, Copy, Debug)]
pub(super) struct Axis {
    /// Where zero is on the sheet.
    pub(super) from: f64,
    /// Where the greatest value is.
    pub(super) to: f64,
    /// The greatest value.
    pub(super) most: f64,
    step: f64,
}

impl Axis {
    /// An axis that holds this value, its end a whole number of round steps; nothing if the value is no sensible one.
    pub(super) fn holding(value: f64, from: f64, to: f64) -> Option<Self> {
        if !value.is_finite() || 1e300 < value {
            return None;
        }
        let value = if value <= 0.0 { 1.0 } else { value };
        let mut decade = 1.0;
        while decade * 10.0 <= value {
            decade *= 10.0;
        }
        while value < decade {
            decade /= 10.0;
        }
        let step = [0.2, 0.5, 1.0, 2.0].into_iter().map(|part| part * decade).find(|step| value / step <= 6.0)?;
        Some(Self { from, to, most: (value / step - 1e-9).ceil() * step, step })
    }

    pub(super) fn at(&self, value: f64) -> f64 {
        self.from + (self.to - self.from) * (value / self.most).clamp(0.0, 1.0)
    }

    pub(super) fn ticks(&self) -> Vec<f64> {
        (0..=12_u32).map(|tick| f64::from(tick) * self.step).filter(|value| *value <= self.most * 1.000_001).collect()
    }
}

/// Upright lines with their values below.
pub(super) fn grid_across(sheet: &mut Sheet<'_>, axis: &Axis, (top, bottom): (f64, f64), unit: &str) {
    for tick in axis.ticks() {
        let x = axis.at(tick);
        sheet.line((x, top), (x, bottom + 1.0), Stroke::Thin);
        let text = sheet.look.number(tick);
        sheet.text((x, bottom + 4.0), Style::new(SMALL, Anchor::Middle), &text);
    }
    sheet.text((f64::midpoint(axis.from, axis.to), bottom + 8.0), Style::new(SMALL, Anchor::Middle), unit);
}

/// Level lines with their values to the left.
pub(super) fn grid_up(sheet: &mut Sheet<'_>, axis: &Axis, (left, right): (f64, f64), unit: &str) {
    for tick in axis.ticks() {
        let y = axis.at(tick);
        sheet.line((left - 1.0, y), (right, y), Stroke::Thin);
        let text = sheet.look.number(tick);
        sheet.text((left - 2.0, y + 0.8), Style::new(SMALL, Anchor::End), &text);
    }
    sheet.text((left - 2.0, axis.to - 4.0), Style::new(SMALL, Anchor::End), unit);
}

/// The rows that a chart has room for, and what to say of the others.
pub(super) fn limited(rows: usize, most: usize, what: &str) -> Option<String> {
    (most < rows).then(|| format!("Shown: the {most} {what} of {rows}."))
}

/// The top of a row.
pub(super) fn row_top(first: f64, pitch: f64, row: usize) -> f64 {
    first + pitch * count(row)
}
