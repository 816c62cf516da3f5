//! Checks and the lines of their working.

use crate::PdfError;
use crate::layout::blocks::{SMALL, headed, paragraph, text};
use crate::layout::desk::{Desk, SIZE};
use crate::layout::fonts::Face;
use crate::layout::formulas::{lines as formulas, spoken};
use crate::layout::frames::word;
use crate::layout::ink::{MM, Mark, Pen, QUIET, Slab, height, indented, spaced, stacked};
use crate::layout::lines::{Inline, Piece, Setting, Style, set, slabs};
use crate::layout::maths::Press;
use crate::layout::tables::{Look, table};
use crate::layout::tags::{Part, Tag};
use ramwright_report::document::{CheckBlock, Meaning};
use ramwright_report::{Math, WorkedLine};

/// What stands to the right of the number of a line.
const HANGING: f32 = 9.0 * MM;
/// The gap between the parts of a root.
const BETWEEN_PARTS: f32 = 1.2 * SIZE;
/// The size of what says where a formula comes from.
const SOURCE: f32 = 7.0;
/// The size of what symbols mean.
const MEANINGS: f32 = 7.5;

/// A check with its working; its head stays with the first line of it.
pub(crate) fn check(desk: &Desk, it: &CheckBlock, first: usize, width: f32) -> Result<Vec<Slab>, PdfError> {
    let of = desk.part(Tag::DOCUMENT, Part::Section);
    let rule = Mark::rule(0.0, 0.0, width, Pen::RULE);
    let mut all = vec![Slab { above: 1.2 * SIZE, sticky: true, marks: vec![rule], ..Slab::default() }];
    all.extend(title(desk, of, it, width));
    let mut head = text(desk, of, &it.asks, Style::new(SMALL).quiet(), width);
    if let Some(it) = &it.compared {
        let words = format!("Demand {}, limit {}, utilisation {}.", it.demand, it.limit, it.utilisation);
        head.extend(text(desk, of, &words, Style::new(SIZE), width));
    }
    all.extend(head.into_iter().map(|slab| Slab { sticky: true, ..slab }));
    all.extend(lines(desk, of, (&it.lines, first), &it.symbols, width)?);
    all.extend(text(desk, of, &it.basis, Style::new(SMALL).quiet(), width));
    for (name, words) in &it.notes {
        let style = Style::new(SIZE);
        let inlines = vec![Inline::Text(name, style.bold()), Inline::Text(" ", style), Inline::Text(words, style)];
        all.extend(paragraph(desk, of, inlines, SIZE, width));
    }
    if let Some(others) = &it.others {
        all.extend(table(desk, of, others, Look::plain(width)));
    }
    Ok(all)
}

fn title(desk: &Desk, of: Tag, it: &CheckBlock, width: f32) -> Vec<Slab> {
    let style = Style::new(10.5).bold();
    let tag = desk.part(of, Part::Heading { level: 3, text: it.title.clone() });
    let setting = Setting::new(tag, width, style.size);
    let status = word(desk, tag, it.status, it.status_word);
    let inlines = vec![Inline::Text(&it.title, style), Inline::Gap(0.8 * style.size), Inline::Piece(status)];
    headed(slabs(set(desk, inlines, &setting), setting.leading, 0.0), 3, &it.title, style.size)
}

/// Lines of a calculation, and what the symbols in them mean.
pub(crate) fn lines(
    desk: &Desk,
    of: Tag,
    (lines, first): (&[WorkedLine], usize),
    symbols: &[Meaning],
    width: f32,
) -> Result<Vec<Slab>, PdfError> {
    let mut all = Vec::new();
    for (line, number) in lines.iter().zip(first..) {
        all.extend(worked(desk, of, line, number, width)?);
    }
    if !symbols.is_empty() {
        all.extend(meanings(desk, of, symbols, width)?);
    }
    Ok(all)
}

/// A line with its number before it and its source below; none of it is parted.
fn worked(desk: &Desk, of: Tag, line: &WorkedLine, number: usize, width: f32) -> Result<Vec<Slab>, PdfError> {
    let leading = 0.6 * SIZE;
    let room = width - HANGING;
    let formula = set_formula(desk, of, line, room)?;
    let mut all = indented(slabs(formula, leading, 0.0), HANGING);
    let (tag, style) = (desk.paragraph(of), Style::new(8.0).quiet());
    let label = format!("({number})");
    let label =
        set(desk, vec![Inline::Text(&label, style)], &Setting::new(tag, f32::MAX, 8.0)).pop().unwrap_or_default();
    match all.first_mut() {
        // The number stands on the base line of the formula.
        Some(first) => {
            let base = first_base(first);
            first.marks.extend(crate::layout::ink::moved(label.marks, 0.0, base));
        }
        None => all.extend(slabs(vec![label], leading, 0.0)),
    }
    let source = format!("{} ({})", line.source, line.standing);
    let style = Style { grey: QUIET, ..Style::new(SOURCE) };
    let setting = Setting { leading, ..Setting::new(desk.paragraph(of), room, SOURCE) };
    let source = slabs(set(desk, vec![Inline::Text(&source, style)], &setting), leading, leading);
    all.extend(indented(source, HANGING));
    let all = spaced(all, 0.9 * SIZE, 0.9 * SIZE);
    Ok(if height(&all) < desk.height { vec![stacked(all)] } else { all })
}

/// Where the base line lies of a slab made of one line.
fn first_base(slab: &Slab) -> f32 {
    let texts = slab.marks.iter().filter(|mark| matches!(mark.ink, crate::layout::ink::Ink::Text { .. }));
    texts.map(|mark| mark.y).next().unwrap_or(slab.height)
}

fn set_formula(desk: &Desk, of: Tag, line: &WorkedLine, room: f32) -> Result<Vec<Piece>, PdfError> {
    let parts = [&line.formula, &line.substitution, &line.result];
    let press = |tag| Press { desk, tag, size: SIZE, depth: 0 };
    if !line.root {
        let words = parts.iter().map(|part| spoken(part)).collect::<Vec<_>>().join(" ");
        return formulas(press(desk.part(of, Part::Formula { words })), &parts, room);
    }
    let mut inlines = Vec::new();
    for part in parts.into_iter().filter(|part| !matches!(part, Math::Row { items } if items.is_empty())) {
        let tag = desk.part(of, Part::Formula { words: spoken(part) });
        for piece in formulas(press(tag), &[part], room)? {
            if !inlines.is_empty() {
                inlines.push(Inline::Gap(BETWEEN_PARTS));
            }
            inlines.push(Inline::Piece(piece));
        }
    }
    Ok(set(desk, inlines, &Setting::new(Tag::ARTIFACT, room, SIZE)))
}

fn meanings(desk: &Desk, of: Tag, symbols: &[Meaning], width: f32) -> Result<Vec<Slab>, PdfError> {
    let style = Style::new(MEANINGS).quiet();
    let mut inlines = Vec::new();
    for (index, meaning) in symbols.iter().enumerate() {
        if 0 < index {
            inlines.push(Inline::Text("; ", style));
        }
        match &meaning.symbol {
            Math::Symbol { base, below } => {
                let face = if base.chars().count() == 1 { Face::Italic } else { Face::Regular };
                inlines.push(Inline::Text(base, style.face(face)));
                if let Some(below) = below {
                    let lowered = Style { size: 0.7 * style.size, rise: -0.17 * style.size, ..style };
                    inlines.push(Inline::Text(below, lowered));
                }
            }
            // Such as a number that stands for a quantity over a power of the metre.
            other => {
                let tag = desk.part(of, Part::Formula { words: spoken(other) });
                let press = Press { desk, tag, size: MEANINGS, depth: 0 };
                inlines.extend(formulas(press, &[other], width)?.into_iter().map(Inline::Piece));
            }
        }
        inlines.push(Inline::Text(" ", style));
        inlines.push(Inline::Text(&meaning.words, style));
    }
    Ok(paragraph(desk, of, inlines, MEANINGS, width))
}
