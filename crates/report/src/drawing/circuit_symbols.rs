//! Hydraulic symbols by ISO 1219-1, from general knowledge of that standard.

use super::look::{Fill, Stroke};
use super::svg::{Anchor, At, SMALL, Sheet, Style};

/// A pump that delivers one way: a circle, its filled triangle points along the flow, which leaves at the top.
pub(super) fn pump(sheet: &mut Sheet<'_>, (x, y): At) {
    sheet.circle((x, y), 4.0, Stroke::Medium, Fill::Open);
    sheet.polygon(&[(x, y - 4.0), (x - 1.5, y - 1.5), (x + 1.5, y - 1.5)], Stroke::None, Fill::Solid);
}

/// What drives the pump: a circle with M, or a lever where a hand pump's strokes are known.
pub(super) fn drive(sheet: &mut Sheet<'_>, (x, y): At, by_hand: bool) {
    for by in [-0.5, 0.5] {
        sheet.line((x + 4.0, y + by), (x + 9.0, y + by), Stroke::Thin);
    }
    if by_hand {
        sheet.line((x + 9.0, y + 3.0), (x + 12.0, y - 4.0), Stroke::Medium);
        sheet.circle((x + 12.0, y - 4.4), 0.6, Stroke::Thin, Fill::Open);
    } else {
        sheet.rect((x + 9.0, y - 3.2), (x + 15.4, y + 3.2), Stroke::Medium, Fill::Open);
        sheet.text((x + 12.2, y + 0.9), Style::new(SMALL, Anchor::Middle), "M");
    }
}

/// A reservoir open to the air, its line ending in it.
pub(super) fn reservoir(sheet: &mut Sheet<'_>, (x, y): At) {
    sheet.polyline(&[(x - 3.0, y - 1.4), (x - 3.0, y + 1.4), (x + 3.0, y + 1.4), (x + 3.0, y - 1.4)], Stroke::Medium);
}

/// A relief valve: a square with an offset arrow, a spring on one side, its own pressure on the other. Oil comes from above.
pub(super) fn relief_valve(sheet: &mut Sheet<'_>, (x, y): At) {
    sheet.rect((x - 2.6, y - 2.6), (x + 2.6, y + 2.6), Stroke::Medium, Fill::Open);
    sheet.arrow((x + 0.9, y - 2.6), (x + 0.9, y + 2.6), Stroke::Thin, 1.6);
    let zigzag =
        [(2.6, 0.0), (3.2, -1.0), (3.9, 1.0), (4.6, -1.0), (5.3, 1.0), (5.8, 0.0)].map(|(dx, dy)| (x + dx, y + dy));
    sheet.polyline(&zigzag, Stroke::Thin);
    // The setting can be changed.
    sheet.arrow((x + 2.8, y + 2.6), (x + 6.2, y - 2.6), Stroke::Thin, 1.4);
    sheet.polyline(&[(x, y - 4.6), (x - 3.8, y - 4.6), (x - 3.8, y), (x - 2.6, y)], Stroke::Hidden);
}

/// A pressure gauge: a circle with an oblique arrow.
pub(super) fn gauge(sheet: &mut Sheet<'_>, (x, y): At) {
    sheet.circle((x, y), 2.3, Stroke::Medium, Fill::Open);
    sheet.arrow((x + 1.3, y + 1.5), (x - 1.3, y - 1.5), Stroke::Thin, 1.5);
}

/// A needle valve in an upright line: an adjustable restriction.
pub(super) fn needle_valve(sheet: &mut Sheet<'_>, (x, y): At) {
    sheet.bend((x - 1.7, y - 2.2), (x, y), (x - 1.7, y + 2.2), Stroke::Medium);
    sheet.bend((x + 1.7, y - 2.2), (x, y), (x + 1.7, y + 2.2), Stroke::Medium);
    sheet.arrow((x - 2.8, y + 2.0), (x + 2.8, y - 2.0), Stroke::Thin, 1.4);
}

/// A load-holding valve in an upright line: a check valve that opens towards the ram above, and by a pilot or by hand back.
pub(super) fn load_holding_valve(sheet: &mut Sheet<'_>, (x, y): At) {
    sheet.rect((x - 3.4, y - 3.0), (x + 3.4, y + 3.0), Stroke::Thin, Fill::Open);
    sheet.polyline(&[(x - 1.4, y - 0.9), (x, y + 1.3), (x + 1.4, y - 0.9)], Stroke::Medium);
    sheet.circle((x, y - 0.6), 0.9, Stroke::Medium, Fill::Open);
    sheet.line((x, y + 1.3), (x, y + 3.0), Stroke::Medium);
    sheet.line((x, y - 1.5), (x, y - 3.0), Stroke::Medium);
    sheet.polyline(&[(x - 5.6, y + 1.9), (x - 3.4, y + 1.9)], Stroke::Hidden);
}

/// A joint of hoses: a pair of couplers, and the hose as a hanging curve between two ends.
pub(super) fn hose(sheet: &mut Sheet<'_>, from: At, to: At) {
    for (x, y) in [from, to] {
        sheet.circle((x, y), 0.7, Stroke::Thin, Fill::Solid);
    }
    sheet.bend(from, (from.0 + 7.0, f64::midpoint(from.1, to.1)), to, Stroke::Medium);
}

/// How a cylinder comes back.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Return {
    Load,
    Spring,
    Oil,
}

/// A cylinder that stands upright, its oil coming in from below at (x, y); gives the place of its second port.
pub(super) fn cylinder(sheet: &mut Sheet<'_>, (x, y): At, back: Return) -> At {
    let (top, half) = (y - 15.0, 3.2);
    sheet.rect((x - half, y), (x + half, top), Stroke::Medium, Fill::Open);
    let piston = y - 5.0;
    sheet.rect((x - half, piston), (x + half, piston - 2.0), Stroke::Medium, Fill::Open);
    sheet.rect((x - 1.0, piston - 2.0), (x + 1.0, top - 5.0), Stroke::Medium, Fill::Open);
    if back == Return::Spring {
        let side = |sign: f64| {
            [(1.6, -2.0), (2.8, -3.2), (1.6, -4.6), (2.8, -6.0), (1.6, -7.4), (2.8, -8.8), (1.6, -10.0)]
                .map(|(dx, dy)| (x + sign * dx, piston + dy))
        };
        sheet.polyline(&side(1.0), Stroke::Thin);
        sheet.polyline(&side(-1.0), Stroke::Thin);
    }
    (x + half, top + 1.6)
}
