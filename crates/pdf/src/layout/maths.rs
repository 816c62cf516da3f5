//! Mathematics as pieces about a base line.

use crate::PdfError;
use crate::layout::desk::{Desk, refused};
use crate::layout::fonts::Face;
use crate::layout::ink::{Ink, Mark, Pen, moved};
use crate::layout::lines::Piece;
use crate::layout::shape::Run;
use crate::layout::tags::Tag;
use crate::layout::turned::turns;
use crate::layout::words::printable;
use ramwright_report::Math;

/// Deeper than this nothing is read.
const DEEPEST: usize = 40;
/// The height of the middle of signs above the line, in ems.
const AXIS_EM: f32 = 0.25;
/// The thickness of fraction rules and roots, in ems.
const RULE_EM: f32 = 0.05;
/// The size of what stands above or below the line.
const SCRIPT: f32 = 0.7;
const NARROW_SPACE: char = '\u{202f}';

/// With what mathematics is set.
#[derive(Clone, Copy)]
pub(crate) struct Press<'a> {
    pub(crate) desk: &'a Desk,
    pub(crate) tag: Tag,
    pub(crate) size: f32,
    pub(crate) depth: usize,
}

impl Press<'_> {
    const fn script(self) -> Self {
        Self { size: self.size * SCRIPT, ..self }
    }

    fn ink(self, x: f32, y: f32, ink: Ink) -> Mark {
        Mark { x, y, tag: self.tag, ink }
    }

    fn pen(self) -> Pen {
        Pen::black(self.size * RULE_EM)
    }

    pub(crate) fn deeper(self) -> Result<Self, PdfError> {
        let depth = self.depth + 1;
        if DEEPEST < depth { Err(refused("mathematics is nested too deeply")) } else { Ok(Self { depth, ..self }) }
    }

    pub(crate) fn text(self, text: &str, face: Face) -> Piece {
        let text = printable(text);
        let runs = if turns(&text) {
            crate::layout::turned::runs_of(&text, face)
        } else {
            self.desk.shaper.word(&text, face).runs.clone()
        };
        let descent = if text.contains(reaches_down) { 0.22 } else { 0.02 };
        let mut piece = Piece { ascent: 0.67 * self.size, descent: descent * self.size, ..Piece::default() };
        for run in runs {
            self.add(&mut piece, run);
        }
        piece
    }

    fn add(self, piece: &mut Piece, run: Run) {
        let width = run.width * self.size;
        piece.marks.push(self.ink(piece.width, 0.0, Ink::Text { run, size: self.size, grey: 0 }));
        piece.width += width;
    }
}

/// Letters that reach below the line.
fn reaches_down(mark: char) -> bool {
    !(mark.is_ascii_digit()
        || mark.is_ascii_uppercase()
        || "abcdehiklmnorstuvwxz.\u{202f} +\u{2212}\u{b7}\u{d7}=".contains(mark))
}

/// Sets a piece after another.
pub(crate) fn append(piece: &mut Piece, other: Piece, gap: f32) {
    piece.ascent = piece.ascent.max(other.ascent);
    piece.descent = piece.descent.max(other.descent);
    piece.marks.extend(moved(other.marks, piece.width + gap, 0.0));
    piece.width += gap + other.width;
}

/// Sets a piece of mathematics.
pub(crate) fn piece(press: Press<'_>, math: &Math) -> Result<Piece, PdfError> {
    let press = press.deeper()?;
    Ok(match math {
        Math::Row { .. } => crate::layout::formulas::row(press, math)?,
        Math::Sign { sign } => press.text(sign, Face::Regular),
        Math::Function { name } => press.text(name, Face::Regular),
        Math::Symbol { base, below } => symbol(press, base, below.as_deref()),
        Math::Number { text, power } => number(press, text, power.as_deref(), ""),
        Math::Quantity { text, power, unit } => number(press, text, power.as_deref(), unit),
        Math::Fraction { over, under } => fraction(press, piece(press, over)?, piece(press, under)?),
        Math::Parentheses { of } => parentheses(press, piece(press, of)?),
        Math::Root { of } => root(press, piece(press, of)?),
        Math::Power { of, power } => raised(press, piece(press, of)?, power),
    })
}

fn number(press: Press<'_>, text: &str, power: Option<&str>, unit: &str) -> Piece {
    let unit = match unit {
        "" => String::new(),
        "\u{b0}" => unit.to_owned(),
        _ => format!("{NARROW_SPACE}{unit}"),
    };
    let Some(power) = power else {
        return press.text(&format!("{text}{unit}"), Face::Regular);
    };
    let mut whole = press.text(text, Face::Regular);
    append(&mut whole, press.text("\u{d7}", Face::Regular), 0.2 * press.size);
    let ten = press.text("10", Face::Regular);
    append(&mut whole, raised(press, ten, power), 0.2 * press.size);
    if !unit.is_empty() {
        append(&mut whole, press.text(&unit, Face::Regular), 0.0);
    }
    whole
}

fn symbol(press: Press<'_>, base: &str, below: Option<&str>) -> Piece {
    let face = if base.chars().count() == 1 { Face::Italic } else { Face::Regular };
    let mut whole = press.text(base, face);
    if let Some(below) = below {
        let below = lifted(press.script().text(below, Face::Regular), -0.17 * press.size);
        append(&mut whole, below, 0.03 * press.size);
        whole.width += 0.04 * press.size;
    } else if face == Face::Italic {
        // Slanted letters lean into what follows.
        whole.width += 0.05 * press.size;
    }
    whole
}

fn raised(press: Press<'_>, mut base: Piece, power: &str) -> Piece {
    let rise = (0.36 * press.size).max(base.ascent - 0.35 * press.size);
    let power = lifted(press.script().text(power, Face::Regular), rise);
    append(&mut base, power, 0.02 * press.size);
    base
}

fn lifted(piece: Piece, up: f32) -> Piece {
    Piece { ascent: piece.ascent + up, descent: piece.descent - up, marks: moved(piece.marks, 0.0, -up), ..piece }
}

fn fraction(press: Press<'_>, over: Piece, under: Piece) -> Piece {
    let (em, pen) = (press.size, press.pen());
    let width = over.width.max(under.width) + 0.2 * em;
    let axis = AXIS_EM * em;
    let gap = 0.16 * em;
    let up = axis + gap + over.descent;
    let down = gap + under.ascent - axis;
    let (ascent, descent) = (up + over.ascent, down + under.descent);
    let mut marks = moved(over.marks, (width - over.width) / 2.0, -up);
    marks.push(press.ink(0.03 * em, -axis, Ink::Stroke { points: vec![(0.0, 0.0), (width - 0.06 * em, 0.0)], pen }));
    marks.extend(moved(under.marks, (width - under.width) / 2.0, down));
    Piece { width, ascent, descent, marks }
}

fn parentheses(press: Press<'_>, of: Piece) -> Piece {
    let em = press.size;
    if of.ascent <= 0.95 * em && of.descent <= 0.4 * em {
        let mut whole = press.text("(", Face::Regular);
        append(&mut whole, of, 0.0);
        append(&mut whole, press.text(")", Face::Regular), 0.0);
        return whole;
    }
    let half = (of.ascent - AXIS_EM * em).max(of.descent + AXIS_EM * em) + 0.05 * em;
    let bulge = (0.12 * half).clamp(0.16 * em, 0.5 * em);
    let side = bulge + 0.14 * em;
    let pen = Pen::black(1.3 * RULE_EM * em);
    let arc = |way: f32| Ink::Curve {
        points: [(0.0, -half), (-way * bulge * 1.33, -half * 0.45), (-way * bulge * 1.33, half * 0.45), (0.0, half)],
        pen,
    };
    let axis = -AXIS_EM * em;
    let width = of.width + 2.0 * side;
    let mut marks = vec![press.ink(side - 0.04 * em, axis, arc(1.0))];
    marks.extend(moved(of.marks, side, 0.0));
    marks.push(press.ink(width - side + 0.04 * em, axis, arc(-1.0)));
    Piece { width, ascent: half + AXIS_EM * em, descent: half - AXIS_EM * em, marks }
}

fn root(press: Press<'_>, of: Piece) -> Piece {
    let (em, pen) = (press.size, press.pen());
    let top = of.ascent + 0.14 * em;
    let bottom = of.descent.max(0.05 * em);
    let (sign, tail) = (0.55 * em, 0.1 * em);
    let width = sign + of.width + tail;
    let knee = (bottom - 0.45 * (top + bottom)).min(0.0).max(-0.4 * em);
    let points =
        vec![(0.02 * em, knee + 0.05 * em), (0.14 * em, knee), (0.3 * em, bottom), (sign, -top), (width, -top)];
    let mut marks = vec![press.ink(0.0, 0.0, Ink::Stroke { points, pen })];
    marks.extend(moved(of.marks, sign + 0.04 * em, 0.0));
    Piece { width: width + 0.06 * em, ascent: top + 0.08 * em, descent: bottom, marks }
}
