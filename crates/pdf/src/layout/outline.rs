//! The outlines of shapes in drawings, with the rectangle that each lies in: left, top, right, bottom.

use crate::PdfError;
use crate::layout::desk::refused;
use crate::layout::drawing::numbers;
use krilla::geom::{Path, PathBuilder, Rect};

/// A place in a drawing.
pub(crate) type At = (f32, f32);
type Outline = (Option<Path>, [f32; 4]);

/// By so much of its radius a quarter of a circle is drawn by the points beside its ends.
const QUARTER: f32 = 0.552_285;

/// Builds an outline and minds where it lies.
struct Pen {
    path: PathBuilder,
    bounds: [f32; 4],
    at: At,
}

impl Pen {
    fn new() -> Self {
        Self { path: PathBuilder::new(), bounds: [f32::MAX, f32::MAX, f32::MIN, f32::MIN], at: (0.0, 0.0) }
    }

    fn mind(&mut self, (x, y): At) {
        let [left, top, right, bottom] = self.bounds;
        self.bounds = [left.min(x), top.min(y), right.max(x), bottom.max(y)];
        self.at = (x, y);
    }

    fn start(&mut self, to: At) {
        self.path.move_to(to.0, to.1);
        self.mind(to);
    }

    fn line(&mut self, to: At) {
        self.path.line_to(to.0, to.1);
        self.mind(to);
    }

    fn bend(&mut self, by: At, to: At) {
        self.path.quad_to(by.0, by.1, to.0, to.1);
        self.mind(by);
        self.mind(to);
    }

    /// A quarter of a circle, clockwise.
    fn quarter(&mut self, to: At) {
        let from = self.at;
        let (across, down) = (to.0 - from.0, to.1 - from.1);
        let centre = (from.0 + (across - down) / 2.0, from.1 + f32::midpoint(down, across));
        let [leaves, arrives] = [from, to].map(|(x, y)| (-(y - centre.1) * QUARTER, (x - centre.0) * QUARTER));
        let (x1, y1) = (from.0 + leaves.0, from.1 + leaves.1);
        let (x2, y2) = (to.0 - arrives.0, to.1 - arrives.1);
        self.path.cubic_to(x1, y1, x2, y2, to.0, to.1);
        self.mind(to);
    }

    fn finish(self) -> Outline {
        (self.path.finish(), self.bounds)
    }
}

pub(crate) fn lines(points: &[At], closed: bool) -> Outline {
    let mut pen = Pen::new();
    for (index, point) in points.iter().enumerate() {
        if index == 0 { pen.start(*point) } else { pen.line(*point) }
    }
    if closed {
        pen.path.close();
    }
    pen.finish()
}

pub(crate) fn rectangle((x, y): At, width: f32, height: f32) -> Outline {
    let mut path = PathBuilder::new();
    if let Some(rect) = Rect::from_xywh(x, y, width, height) {
        path.push_rect(rect);
    }
    (path.finish(), [x, y, x + width, y + height])
}

pub(crate) fn circle((x, y): At, radius: f32) -> Outline {
    let mut pen = Pen::new();
    pen.start((x, y - radius));
    for to in [(x + radius, y), (x, y + radius), (x - radius, y), (x, y - radius)] {
        pen.quarter(to);
    }
    pen.path.close();
    pen.finish()
}

/// What a path says: moves, lines, bends by one point and quarters of circles, all by places.
pub(crate) fn path(text: &str) -> Result<Outline, PdfError> {
    let mut pen = Pen::new();
    let commands = |mark: char| mark.is_ascii_alphabetic();
    let mut rest = text.trim();
    while let Some(command) = rest.chars().next() {
        let after = rest.get(command.len_utf8()..).unwrap_or_default();
        let end = after.find(commands).unwrap_or(after.len());
        let (own, others) = after.split_at(end);
        match (command, numbers(own)?.as_slice()) {
            ('M', &[x, y]) => pen.start((x, y)),
            ('L', &[x, y]) => pen.line((x, y)),
            ('Q', &[x, y, to_x, to_y]) => pen.bend((x, y), (to_x, to_y)),
            ('A', &[radius, other, .., clockwise, x, y]) if is_quarter(pen.at, (x, y), [radius, other, clockwise]) => {
                pen.quarter((x, y));
            }
            ('Z', []) => pen.path.close(),
            _ => return Err(refused(format!("a drawing has the path {text:?}"))),
        }
        rest = others.trim_start();
    }
    Ok(pen.finish())
}

fn is_quarter(from: At, to: At, [radius, other, clockwise]: [f32; 3]) -> bool {
    let chord = (to.0 - from.0).hypot(to.1 - from.1);
    let wanted = radius * std::f32::consts::SQRT_2;
    // Places are rounded to hundredths.
    0.5 < clockwise && (radius - other).abs() < 0.01 && (chord - wanted).abs() < 0.03
}
