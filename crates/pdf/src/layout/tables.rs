//! Tables: rows that no page tears apart, and a head that stands again on every page.

use crate::layout::columns::{Head, Measures, measures};
use crate::layout::desk::{Desk, GAP};
use crate::layout::ink::{MM, Mark, Pen, Slab, moved, spaced, stacked};
use crate::layout::lines::{Inline, Piece, Setting, Style, set, slabs};
use crate::layout::tags::{Part, Tag};
use ramwright_report::document::Table;
use std::rc::Rc;

/// The size of letters in tables.
pub(crate) const TABLE_SIZE: f32 = 8.0;
/// The margins of a cell on one side, in ems.
const ASIDE_EM: f32 = 0.45;
const ABOVE_EM: f32 = 0.4;
/// An empty cell is high enough to write in.
const BY_HAND: f32 = 9.0 * MM;
/// A row higher than this part of a page is torn apart after all.
pub(crate) const HIGHEST_ROW: f32 = 0.6;

/// How a table looks.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) struct Look {
    pub(crate) size: f32,
    pub(crate) width: f32,
    /// Every cell has a frame, and empty ones are written in by hand.
    pub(crate) boxed: bool,
}

impl Look {
    pub(crate) const fn plain(width: f32) -> Self {
        Self { size: TABLE_SIZE, width, boxed: false }
    }

    pub(crate) const fn boxed(width: f32, size: f32) -> Self {
        Self { size, width, boxed: true }
    }
}

/// The columns of a table in points.
struct Grid<'a> {
    desk: &'a Desk,
    look: Look,
    style: Style,
    /// The width of each column, and whether it holds numbers.
    columns: Vec<(f32, bool)>,
}

/// Sets a table.
pub(crate) fn table(desk: &Desk, of: Tag, table: &Table, look: Look) -> Vec<Slab> {
    let heads: Vec<_> = table.columns.iter().map(|it| Head { text: &it.head, numbers: it.numbers }).collect();
    let rows: Vec<Vec<&str>> = table.rows.iter().map(|row| row.iter().map(String::as_str).collect()).collect();
    let Measures { scale, widths_em } = measures(&heads, &rows, look.width / look.size);
    let size = look.size * scale;
    let mut all = caption(desk, of, &table.caption, size, look.width);
    if heads.is_empty() {
        return all;
    }
    let columns = widths_em.iter().zip(&heads).map(|(width, head)| (width * size, head.numbers)).collect();
    let grid = Grid { desk, look, style: Style::new(size), columns };
    let part = desk.part(of, Part::Table);
    let texts: Vec<_> = heads.iter().map(|head| head.text).collect();
    let head = stacked(grid.row(part, &texts, &Part::Head));
    let again = Rc::new(stacked(grid.row(Tag::ARTIFACT, &texts, &Part::Head)));
    let mut body = vec![Slab { sticky: !rows.is_empty(), ..head }];
    for row in &rows {
        let slabs = grid.row(part, row, &Part::Cell);
        body.extend(slabs.into_iter().map(|slab| Slab { head: Some(Rc::clone(&again)), ..slab }));
    }
    let above = if all.is_empty() { GAP } else { 0.4 * size };
    all.extend(spaced(body, above, GAP));
    all
}

fn caption(desk: &Desk, of: Tag, text: &str, size: f32, width: f32) -> Vec<Slab> {
    if text.is_empty() {
        return Vec::new();
    }
    let setting = Setting::new(desk.paragraph(of), width, size);
    let lines = set(desk, vec![Inline::Text(text, Style::new(size).bold())], &setting);
    let slabs = slabs(lines, setting.leading, GAP).into_iter().map(|slab| Slab { sticky: true, ..slab });
    spaced(slabs.collect(), GAP, 0.4 * size)
}

impl Grid<'_> {
    /// A row as one slab, or as several where no page holds it.
    fn row(&self, table: Tag, texts: &[&str], kind: &Part) -> Vec<Slab> {
        let of = self.desk.part(table, Part::Row);
        let style = if *kind == Part::Head { self.style.bold() } else { self.style };
        let size = style.size;
        let mut cells = Vec::new();
        for (index, (width, numbers)) in self.columns.iter().enumerate() {
            let text = texts.get(index).copied().unwrap_or_default();
            let tag = self.desk.part(of, kind.clone());
            let setting = Setting { right: *numbers, ..Setting::new(tag, width - 2.0 * ASIDE_EM * size, size) };
            let lines =
                if text.is_empty() { Vec::new() } else { set(self.desk, vec![Inline::Text(text, style)], &setting) };
            cells.push(lines);
        }
        let most = self.desk.height * HIGHEST_ROW / (1.15 * size);
        let longest = cells.iter().map(Vec::len).max().unwrap_or_default();
        let mut torn = Vec::new();
        let mut from = 0;
        loop {
            let to = (from..longest)
                .take_while(|line| lines_before(line - from) < most)
                .last()
                .map_or(longest, |line| line + 1);
            torn.push(self.slab(&cells, from..to, *kind == Part::Head));
            from = to;
            if longest <= to {
                return torn;
            }
        }
    }

    fn slab(&self, cells: &[Vec<Piece>], lines: std::ops::Range<usize>, head: bool) -> Slab {
        let size = self.style.size;
        let by_hand = self.look.boxed && !head;
        let mut contents = Vec::new();
        for cell in cells {
            let lines = cell.iter().skip(lines.start).take(lines.len()).cloned().collect();
            let stack = stacked(slabs(lines, 0.5 * size, 0.0));
            let high = if by_hand && cell.is_empty() { BY_HAND } else { stack.height };
            contents.push((high, stack));
        }
        let least = 0.645 * size;
        let inner = contents.iter().map(|(high, _)| *high).fold(least, f32::max);
        let high = inner + 2.0 * ABOVE_EM * size;
        let mut marks = Vec::new();
        let mut x = 0.0;
        for ((width, _), (own, stack)) in self.columns.iter().zip(contents) {
            let down = if self.look.boxed { (inner - own) / 2.0 } else { 0.0 };
            marks.extend(moved(stack.marks, x + ASIDE_EM * size, ABOVE_EM * size + down));
            if self.look.boxed {
                marks.push(Mark::frame(x, 0.0, (*width, high), Pen::black(0.6)));
            }
            x += width;
        }
        if !self.look.boxed {
            marks.push(Mark::rule(0.0, high, x, Pen::RULE));
        }
        Slab { height: high, marks, ..Slab::default() }
    }
}

fn lines_before(count: usize) -> f32 {
    f32::from(u16::try_from(count).unwrap_or(u16::MAX))
}
