//! The blocks of a document.

use crate::PdfError;
use crate::layout::desk::{Desk, GAP, SIZE};
use crate::layout::drawing::picture;
use crate::layout::fonts::Face;
use crate::layout::forms::{facts, sign_off};
use crate::layout::frames::by_status;
use crate::layout::ink::{Entry, Slab, indented, spaced};
use crate::layout::lines::{Inline, Setting, Style, set, slabs};
use crate::layout::tables::{Look, table};
use crate::layout::tags::{Part, Tag};
use crate::layout::{checks, steps};
use ramwright_report::document::{Block, Document, Figure};

/// Small letters.
pub(crate) const SMALL: f32 = 8.5;

/// All that stands in a document.
pub(crate) fn document(desk: &Desk, document: &Document, width: f32) -> Result<Vec<Slab>, PdfError> {
    let mut all = title(desk, document, width);
    let mut line = 1;
    let mut breaks = false;
    for block in &document.blocks {
        if *block == Block::PageBreak {
            breaks = true;
            continue;
        }
        let mut slabs = set_block(desk, block, line, width)?;
        line += lines_in(block);
        if let Some(first) = slabs.first_mut() {
            first.breaks = std::mem::take(&mut breaks);
        }
        all.extend(slabs);
    }
    Ok(all)
}

fn title(desk: &Desk, document: &Document, width: f32) -> Vec<Slab> {
    let of = Tag::DOCUMENT;
    let mut all = text(desk, of, document.heading, Style::new(SIZE).bold(), width);
    all.extend(heading(desk, of, 1, &document.title, Style::new(15.0), width));
    all.extend(text(desk, of, &document.running_head, Style::new(SMALL).quiet(), width));
    let rule = crate::layout::ink::Mark::rule(0.0, 0.0, width, crate::layout::ink::Pen::black(1.5));
    all.push(Slab { above: GAP, below: GAP, marks: vec![rule], ..Slab::default() });
    all
}

fn lines_in(block: &Block) -> usize {
    match block {
        Block::Lines { lines, .. } => lines.len(),
        Block::Check(check) => check.lines.len(),
        _ => 0,
    }
}

fn set_block(desk: &Desk, block: &Block, line: usize, width: f32) -> Result<Vec<Slab>, PdfError> {
    let of = Tag::DOCUMENT;
    Ok(match block {
        Block::Heading { level, text, .. } => {
            let (level, size) = if *level <= 2 { (2, 12.5) } else { (3, 10.5) };
            heading(desk, of, level, text, Style::new(size), width)
        }
        Block::Paragraph { text: words } => text(desk, of, words, Style::new(SIZE), width),
        Block::Banner { status, word, text } => banner(desk, (status, word, text), width),
        Block::Facts { rows } => facts(desk, of, rows, width),
        Block::Table(it) => table(desk, of, it, Look::plain(width)),
        Block::List { large, items } => list(desk, *large, items, width),
        Block::Lines { lines, symbols } => checks::lines(desk, of, (lines, line), symbols, width)?,
        Block::Check(check) => checks::check(desk, check, line, width)?,
        Block::Figure(figure) => drawn(desk, of, figure, width)?,
        Block::Step(step) => steps::step(desk, step, width)?,
        Block::Address { text: address } => text(desk, of, address, Style::new(6.5).quiet(), width),
        Block::SignOff { roles, fields } => sign_off(desk, of, roles, fields, width),
        Block::PageBreak => Vec::new(),
    })
}

/// A paragraph of one look.
pub(crate) fn text(desk: &Desk, of: Tag, text: &str, style: Style, width: f32) -> Vec<Slab> {
    paragraph(desk, of, vec![Inline::Text(text, style)], style.size, width)
}

/// A paragraph.
pub(crate) fn paragraph(desk: &Desk, of: Tag, inlines: Vec<Inline<'_>>, size: f32, width: f32) -> Vec<Slab> {
    let setting = Setting::new(desk.paragraph(of), width, size);
    slabs(set(desk, inlines, &setting), setting.leading, 0.8 * size)
}

/// A heading: it stays with what follows.
pub(crate) fn heading(desk: &Desk, of: Tag, level: u8, text: &str, style: Style, width: f32) -> Vec<Slab> {
    let part = Part::Heading { level: u16::from(level), text: text.to_owned() };
    let setting = Setting::new(desk.part(of, part), width, style.size);
    let lines = set(desk, vec![Inline::Text(text, style.bold())], &setting);
    headed(slabs(lines, setting.leading, 0.0), level, text, style.size)
}

/// Slabs that are a heading.
pub(crate) fn headed(slabs: Vec<Slab>, level: u8, text: &str, size: f32) -> Vec<Slab> {
    let slabs = slabs.into_iter().map(|slab| Slab { sticky: true, ..slab }).collect();
    let mut slabs = spaced(slabs, 1.2 * size, 0.6 * size);
    if let Some(first) = slabs.first_mut().filter(|_| 1 < level) {
        first.entries.push(Entry { level, text: text.to_owned() });
    }
    slabs
}

fn banner(desk: &Desk, (status, word, words): (&str, &str, &str), width: f32) -> Vec<Slab> {
    let inset = 10.0;
    let of = desk.part(Tag::DOCUMENT, Part::Section);
    let mut inner = text(desk, of, word, Style::new(24.0).bold(), width - 2.0 * inset);
    inner.extend(text(desk, of, words, Style::new(11.0), width - 2.0 * inset));
    let inner = spaced(inner, GAP, GAP);
    by_status(desk, status, 1.2, inset, (inner, width))
}

fn list(desk: &Desk, large: bool, items: &[String], width: f32) -> Vec<Slab> {
    let style = if large { Style::new(12.0).face(Face::Semibold) } else { Style::new(SIZE) };
    let list = desk.part(Tag::DOCUMENT, Part::List);
    let indent = 0.85 * style.size;
    let mut all = Vec::new();
    for item in items {
        let tag = desk.part(list, Part::Item);
        let setting = Setting::new(tag, width - indent, style.size);
        let lines = set(desk, vec![Inline::Text(item, style)], &setting);
        let mut item = indented(slabs(lines, setting.leading, 0.6 * style.size), indent);
        let bullet = set(desk, vec![Inline::Text("\u{2022}", style)], &setting);
        if let (Some(first), Some(bullet)) = (item.first_mut(), slabs(bullet, 0.0, 0.0).pop()) {
            first.marks.splice(0..0, bullet.marks);
        }
        all.extend(item);
    }
    spaced(all, GAP, GAP)
}

/// A drawing with its caption.
fn drawn(desk: &Desk, of: Tag, figure: &Figure, width: f32) -> Result<Vec<Slab>, PdfError> {
    let setting = Setting::new(desk.paragraph(of), width, SMALL);
    let caption = if figure.caption.is_empty() {
        Vec::new()
    } else {
        let lines = set(desk, vec![Inline::Text(&figure.caption, Style::new(SMALL).quiet())], &setting);
        spaced(slabs(lines, setting.leading, 0.0), 0.4 * SMALL, GAP)
    };
    let high = desk.height - crate::layout::ink::height(&caption) - 2.0 * GAP;
    let picture = picture(desk, of, figure, (None, width), high.max(desk.height / 2.0))?;
    let mut all = slabs(vec![picture], 0.0, GAP);
    if !caption.is_empty() {
        all = spaced(all, GAP, 0.0);
        all.extend(caption);
    }
    Ok(crate::layout::ink::kept(all))
}
