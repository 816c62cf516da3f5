//! Names with values beside them, and room to write in.

use crate::layout::desk::{Desk, GAP, SIZE};
use crate::layout::ink::{MM, Mark, Pen, Slab, height, indented, kept, moved, spaced, stacked};
use crate::layout::lines::{Inline, Setting, Style, set, slabs};
use crate::layout::tables::HIGHEST_ROW;
use crate::layout::tags::{Part, Tag};

/// The height of a cell that somebody signs in.
const TO_SIGN: f32 = 11.0 * MM;
/// The margin of the cells of a form.
const INSET: f32 = 5.0;
/// The lines of a form.
const LINE: Pen = Pen::black(0.6);

/// Names with values beside them.
pub(crate) fn facts(desk: &Desk, of: Tag, rows: &[(String, String)], width: f32) -> Vec<Slab> {
    let style = Style::new(SIZE);
    let gutter = style.size;
    let names = (width - gutter) / 3.6;
    let above = 0.35 * style.size;
    let part = desk.part(of, Part::Table);
    let rows = rows.iter().map(|(name, value)| {
        let row = desk.part(part, Part::Row);
        let cell = |text: &str, style: Style, width: f32, kind| {
            let setting = Setting::new(desk.part(row, kind), width, style.size);
            slabs(set(desk, vec![Inline::Text(text, style)], &setting), setting.leading, 0.0)
        };
        let name = cell(name, style.quiet(), names, Part::Head);
        let value = cell(value, style, width - names - gutter, Part::Cell);
        if desk.height * HIGHEST_ROW < height(&value) {
            return beside(name, value, names + gutter);
        }
        let (name, value) = (stacked(name), stacked(value));
        let high = name.height.max(value.height) + 2.0 * above;
        let mut marks = moved(name.marks, 0.0, above);
        marks.extend(moved(value.marks, names + gutter, above));
        for (x, wide) in [(0.0, names), (names + gutter, width - names - gutter)] {
            marks.push(Mark::rule(x, high, wide, Pen::RULE));
        }
        vec![Slab { height: high, marks, ..Slab::default() }]
    });
    spaced(rows.flatten().collect(), GAP, GAP)
}

/// A value longer than a page, with its name beside the first lines of it.
fn beside(name: Vec<Slab>, value: Vec<Slab>, right: f32) -> Vec<Slab> {
    let mut slabs = indented(value, right);
    for (slab, name) in slabs.iter_mut().zip(name) {
        slab.marks.extend(name.marks);
    }
    slabs
}

/// Room for signatures: who signs, and what each fills in.
pub(crate) fn sign_off(desk: &Desk, of: Tag, roles: &[String], fields: &[String], width: f32) -> Vec<Slab> {
    let count = fields.iter().map(|_| 1.0).sum::<f32>();
    let one = width / (1.2 + count);
    let part = desk.part(of, Part::Table);
    let row = |texts: &mut dyn Iterator<Item = &str>, least: f32| {
        let row = desk.part(part, Part::Row);
        let mut cells = Vec::new();
        for (index, text) in texts.enumerate() {
            let wide = if index == 0 { 1.2 * one } else { one };
            let setting = Setting::new(desk.part(row, Part::Head), wide - 2.0 * INSET, SIZE);
            let lines = set(desk, vec![Inline::Text(text, Style::new(SIZE).bold())], &setting);
            cells.push((wide, stacked(slabs(lines, setting.leading, 0.0))));
        }
        let inner = cells.iter().map(|(_, cell)| cell.height).fold(least, f32::max);
        let (mut marks, mut x) = (Vec::new(), 0.0);
        for (wide, cell) in cells {
            marks.push(Mark::frame(x, 0.0, (wide, inner + 2.0 * INSET), LINE));
            marks.extend(moved(cell.marks, x + INSET, INSET + (inner - cell.height) / 2.0));
            x += wide;
        }
        Slab { height: inner + 2.0 * INSET, marks, ..Slab::default() }
    };
    let head = row(&mut std::iter::once("").chain(fields.iter().map(String::as_str)), 0.0);
    let blank = |role: &'_ String| row(&mut std::iter::once(role.as_str()).chain(fields.iter().map(|_| "")), TO_SIGN);
    let rows = std::iter::once(head).chain(roles.iter().map(blank));
    spaced(kept(rows.collect()), GAP, GAP)
}

/// A line to fill in: each name with a blank beside it, whose share of the width is given; none takes 24 mm.
pub(crate) fn blanks(desk: &Desk, of: Tag, names: &[(&str, bool)], width: f32) -> Slab {
    let gutter = 2.0 * MM;
    let fixed = 24.0 * MM;
    let style = Style::new(SIZE);
    let tag = desk.paragraph(of);
    let mut words = Vec::new();
    let (mut taken, mut wide) = (-gutter, 0.0);
    for (name, grows) in names {
        let setting = Setting::new(tag, f32::MAX, SIZE);
        let piece = set(desk, vec![Inline::Text(name, style)], &setting).pop().unwrap_or_default();
        taken += piece.width + 2.0 * gutter + if *grows { 0.0 } else { fixed };
        wide += if *grows { 1.0 } else { 0.0 };
        words.push((piece, *grows));
    }
    let share = if 0.0 < wide { (width - taken).max(0.0) / wide } else { 0.0 };
    let high = 9.0 * MM;
    let (mut marks, mut x) = (Vec::new(), 0.0);
    for (piece, grows) in words {
        let blank = if grows { share } else { fixed };
        marks.extend(moved(piece.marks, x, high));
        x += piece.width + gutter;
        marks.push(Mark::rule(x, high, blank, LINE));
        x += blank + gutter;
    }
    Slab { height: high, above: GAP, below: GAP, marks, ..Slab::default() }
}
