//! Drawings on a page.

use crate::layout::drawing::{Colour, Drawing, Filling, Line, Shape};
use crate::layout::fonts::cut;
use krilla::color::{luma, rgb};
use krilla::geom::{Path, PathBuilder, Point, Rect, Transform};
use krilla::num::NormalizedF32;
use krilla::paint::{Fill, FillRule, Paint, Stroke, StrokeDash};
use krilla::surface::Surface;

/// No sheet is larger than this; what reaches further is not hatched.
const MOST_HATCHED: f32 = 100_000.0;

/// Draws a drawing with its upper left corner at a place.
pub(crate) fn draw(surface: &mut Surface<'_>, drawing: &Drawing, (x, y): (f32, f32), scale: f32) {
    let [left, top, across, down] = drawing.view;
    let (wide, high) = (drawing.width * scale / across, drawing.height * scale / down);
    surface.push_transform(&Transform::from_row(wide, 0.0, 0.0, high, x - left * wide, y - top * high));
    let mut sheet = PathBuilder::new();
    if let Some(rect) = Rect::from_xywh(left, top, across, down) {
        sheet.push_rect(rect);
    }
    let sheet = sheet.finish();
    if let Some(sheet) = &sheet {
        surface.push_clip_path(sheet, &FillRule::NonZero);
    }
    for shape in &drawing.shapes {
        put(surface, shape);
    }
    if sheet.is_some() {
        surface.pop();
    }
    surface.pop();
}

fn put(surface: &mut Surface<'_>, shape: &Shape) {
    match shape {
        Shape::Area { path, filling, line, bounds } => {
            let fill = match filling {
                Filling::None => None,
                Filling::Colour { colour, opacity } => Some(fill(*colour, *opacity)),
                Filling::Hatch { step, width, colour } => {
                    let line = Line { colour: *colour, width: *width, dashes: Vec::new() };
                    hatch(surface, path, *bounds, (*step, &line));
                    None
                }
            };
            let stroke = line.as_ref().map(stroke);
            if fill.is_some() || stroke.is_some() {
                surface.set_fill(fill);
                surface.set_stroke(stroke);
                surface.draw_path(path);
            }
        }
        Shape::Text { runs, at: (x, y), size, colour, upward } => {
            if *upward {
                surface.push_transform(&Transform::from_row(0.0, -1.0, 1.0, 0.0, *x, *y));
            } else {
                surface.push_transform(&Transform::from_translate(*x, *y));
            }
            surface.set_stroke(None);
            surface.set_fill(Some(fill(*colour, 1.0)));
            let mut right = 0.0;
            for run in runs {
                if let Some(cut) = cut(run.face).filter(|_| !run.glyphs.is_empty()) {
                    let at = Point::from_xy(right, 0.0);
                    surface.draw_glyphs(at, &run.glyphs, cut.font.clone(), &run.text, *size, false);
                }
                right += run.width * size;
            }
            surface.pop();
        }
    }
}

/// Lines at half a right angle within an outline; the same places are hatched alike all over the drawing.
fn hatch(surface: &mut Surface<'_>, path: &Path, [left, top, right, bottom]: [f32; 4], (step, line): (f32, &Line)) {
    let apart = step * std::f32::consts::SQRT_2;
    if MOST_HATCHED < right - left + bottom - top {
        return;
    }
    let mut lines = PathBuilder::new();
    let mut sum = ((left + top) / apart).floor() * apart;
    while sum <= right + bottom {
        // On each line x + y is the same.
        lines.move_to(sum - bottom, bottom);
        lines.line_to(sum - top, top);
        sum += apart;
    }
    let Some(lines) = lines.finish() else { return };
    surface.push_clip_path(path, &FillRule::NonZero);
    surface.set_fill(None);
    surface.set_stroke(Some(stroke(line)));
    surface.draw_path(&lines);
    surface.pop();
}

fn paint([red, green, blue]: Colour) -> Paint {
    if red == green && green == blue { luma::Color::new(red).into() } else { rgb::Color::new(red, green, blue).into() }
}

fn fill(colour: Colour, opacity: f32) -> Fill {
    let opacity = NormalizedF32::new(opacity).unwrap_or(NormalizedF32::ONE);
    Fill { paint: paint(colour), opacity, ..Fill::default() }
}

fn stroke(line: &Line) -> Stroke {
    let dash = (!line.dashes.is_empty()).then(|| StrokeDash { array: line.dashes.clone(), offset: 0.0 });
    Stroke { paint: paint(line.colour), width: line.width, dash, ..Stroke::default() }
}
