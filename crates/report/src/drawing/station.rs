//! One jacking point from the side: foundation, stacks, plates, ram, underside of the load.

use super::look::{Fill, Stroke};
use super::scale::Scale;
use super::stacks::State;
use super::svg::{Area, At, Sheet};
use crate::Subject;
use ramwright_engine::catalogue::Packing;
use ramwright_engine::ram::Ram;

/// The plates at a point, thickness in mm.
#[derive(Clone, Copy, Debug)]
pub(super) struct Plates {
    /// Over the saddle.
    pub(super) head_mm: f64,
    /// Under the ram.
    pub(super) base_mm: f64,
    /// Whether it is known how the whole is divided between both.
    pub(super) divided: bool,
}

/// The plates of the point with this index.
pub(super) fn plates(subject: &Subject<'_>, index: usize) -> Plates {
    let total = subject.settings.plates.mm();
    let line = subject.line.at(index);
    let (head, base) =
        (line.head_plate.map(|plate| plate.thickness.mm()), line.base_plate.map(|plate| plate.thickness.mm()));
    match (head, base) {
        (Some(head), Some(base)) => Plates { head_mm: head, base_mm: base, divided: true },
        (Some(head), None) if head <= total => Plates { head_mm: head, base_mm: total - head, divided: true },
        (None, Some(base)) if base <= total => Plates { head_mm: total - base, base_mm: base, divided: true },
        _ => Plates { head_mm: total, base_mm: 0.0, divided: total <= 0.0 },
    }
}

/// Widths of a ram in mm; what is not stated is drawn in proportion, dashed.
#[derive(Clone, Copy, Debug)]
pub(super) struct Widths {
    pub(super) body: f64,
    pub(super) base: f64,
    pub(super) plunger: f64,
    pub(super) saddle: f64,
    pub(super) stated: bool,
}

pub(super) fn widths(ram: &Ram) -> Widths {
    let mm = |length: Option<ramwright_units::Length>| length.map(ramwright_units::Length::mm).filter(|mm| 0.0 < *mm);
    let body = mm(ram.body_diameter).or(mm(ram.base_diameter));
    let drawn = body.unwrap_or(ram.closed_height.mm() * 0.5);
    let plunger = mm(ram.plunger_diameter);
    Widths {
        body: drawn,
        base: mm(ram.base_diameter).unwrap_or(drawn),
        plunger: plunger.unwrap_or(drawn * 0.6),
        saddle: mm(ram.saddle_diameter).or(plunger).unwrap_or(drawn * 0.6),
        stated: body.is_some() && plunger.is_some(),
    }
}

/// The part of the closed height that is drawn as saddle: its form is a sketch, its top is to scale.
const SADDLE: f64 = 0.08;

/// One ram with its plates and what is under it, its axis at x and its foundation at y. Gives the heights on the sheet.
pub(super) struct Drawn {
    pub(super) on_stack: f64,
    pub(super) on_plate: f64,
    pub(super) closed_top: f64,
    pub(super) top: f64,
    pub(super) plate_top: f64,
}

/// Draws it.
pub(super) fn ram_on_stack(
    sheet: &mut Sheet<'_>,
    (x, foundation): At,
    scale: Scale,
    (ram, plates, state): (&Ram, Plates, &State<'_>),
    outline: Stroke,
) -> Drawn {
    let on_stack = stack(sheet, (x, foundation), scale, (&state.base, cut_at_mm(ram)), Stroke::Medium);
    let mm = |value: f64| scale.on_sheet(value);
    let wide = widths(ram);
    let edge = if wide.stated { outline } else { Stroke::Hidden };
    let on_plate = on_stack - mm(plates.base_mm);
    let half_plate = mm(wide.base * 0.6);
    if 0.0 < plates.base_mm {
        sheet.rect((x - half_plate, on_stack), (x + half_plate, on_plate), Stroke::Medium, Fill::Piece);
    }
    let closed = mm(ram.closed_height.mm());
    let out = mm(state.extension_mm);
    let shoulder = on_plate - closed * (1.0 - SADDLE);
    let half = mm(wide.body) / 2.0;
    sheet.rect((x - half, on_plate), (x + half, shoulder), edge, Fill::Body);
    let foot = mm(wide.base) / 2.0;
    if half < foot {
        sheet.rect((x - foot, on_plate), (x + foot, on_plate - closed * 0.06), edge, Fill::Body);
    }
    let half = mm(wide.plunger) / 2.0;
    if 0.0 < out {
        sheet.rect((x - half, shoulder), (x + half, shoulder - out), edge, Fill::Open);
    }
    let half = mm(wide.saddle) / 2.0;
    let top = on_plate - closed - out;
    sheet.rect((x - half, shoulder - out), (x + half, top), edge, Fill::Piece);
    let plate_top = top - mm(plates.head_mm);
    if 0.0 < plates.head_mm {
        let half = mm(wide.saddle.max(wide.plunger)) * 0.65;
        let edge = if plates.divided { Stroke::Medium } else { Stroke::Hidden };
        sheet.rect((x - half, top), (x + half, plate_top), edge, Fill::Piece);
    }
    sheet.line((x, foundation + 1.5), (x, plate_top - 1.5), Stroke::Centre);
    Drawn { on_stack, on_plate, closed_top: on_plate - closed, top, plate_top }
}

/// A stack of pieces, seen from their narrow side, each cut at a width; gives the height of its top on the sheet.
pub(super) fn stack(
    sheet: &mut Sheet<'_>,
    (x, foundation): At,
    scale: Scale,
    (pieces, cut_at_mm): (&[&Packing], f64),
    edge: Stroke,
) -> f64 {
    let mut at = foundation;
    for piece in pieces {
        let narrow = narrow_mm(piece);
        let half = scale.on_sheet(narrow.min(cut_at_mm)) / 2.0;
        let top = at - scale.on_sheet(piece.thickness.mm());
        if cut_at_mm < narrow {
            sheet.rect((x - half, at), (x + half, top), Stroke::None, Fill::Piece);
            for side in [-half, half] {
                sheet.line((x + side, at), (x + side, top), Stroke::Hidden);
            }
            for y in [at, top] {
                sheet.line((x - half, y), (x + half, y), edge);
            }
        } else {
            sheet.rect((x - half, at), (x + half, top), edge, Fill::Piece);
        }
        at = top;
    }
    at
}

/// The narrow side of a piece.
pub(super) fn narrow_mm(piece: &Packing) -> f64 {
    piece.length.mm().min(piece.width.mm())
}

/// The width of a ram with its plates.
fn ram_mm(ram: &Ram) -> f64 {
    let wide = widths(ram);
    (wide.base * 1.2).max(wide.body).max(wide.saddle * 1.3).max(wide.plunger * 1.3)
}

/// Pieces wider than this are cut at their sides, so that the ram beside them can be seen.
pub(super) fn cut_at_mm(ram: &Ram) -> f64 {
    ram_mm(ram) * 1.05
}

/// The widest thing that is drawn at a point.
pub(super) fn widest_mm(ram: &Ram, pieces: &[&Packing]) -> f64 {
    pieces.iter().map(|piece| narrow_mm(piece).min(cut_at_mm(ram))).fold(ram_mm(ram), f64::max)
}

/// A foundation or frame: its surface, and hatching under it.
pub(super) fn foundation(sheet: &mut Sheet<'_>, (left, right): (f64, f64), y: f64, depth: f64) {
    sheet.take(Area(left, y - 0.3, right, y + depth));
    sheet.rect((left, y), (right, y + depth), Stroke::None, Fill::Ground);
    sheet.line((left, y), (right, y), Stroke::Outline);
}

/// The underside of the load, and the load above it.
pub(super) fn soffit(sheet: &mut Sheet<'_>, (left, right): (f64, f64), y: f64, height: f64) {
    sheet.take(Area(left, y - 0.4, right, y + 0.4));
    sheet.rect((left, y - height), (right, y), Stroke::None, Fill::Load);
    sheet.line((left, y), (right, y), Stroke::Outline);
}
