//! Texts as lines: broken at spaces, at marked places and where a break is asked for.

use crate::layout::desk::Desk;
use crate::layout::fonts::{CAPITALS_EM, Face};
use crate::layout::ink::{Ink, Mark, QUIET, Slab, moved};
use crate::layout::shape::{Run, Word};
use crate::layout::tags::Tag;
use crate::layout::turned;
use crate::layout::words::{BREAK, Weight, breakable, printable};
use std::rc::Rc;

/// Widths are reckoned in single precision; so much is no more than that.
const TOLERANCE: f32 = 0.01;

/// How letters look.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) struct Style {
    pub(crate) face: Face,
    pub(crate) size: f32,
    pub(crate) grey: u8,
    /// How far above the line.
    pub(crate) rise: f32,
}

impl Style {
    pub(crate) const fn new(size: f32) -> Self {
        Self { face: Face::Regular, size, grey: 0, rise: 0.0 }
    }

    pub(crate) const fn face(self, face: Face) -> Self {
        Self { face, ..self }
    }

    pub(crate) const fn bold(self) -> Self {
        self.face(Face::Bold)
    }

    pub(crate) const fn quiet(self) -> Self {
        Self { grey: QUIET, ..self }
    }

    fn ascent(self) -> f32 {
        (CAPITALS_EM * self.size + self.rise).max(0.0)
    }
}

/// What stands in a line as one piece: its marks lie about the start of its base line.
#[derive(Clone, Default)]
pub(crate) struct Piece {
    pub(crate) width: f32,
    pub(crate) ascent: f32,
    pub(crate) descent: f32,
    pub(crate) marks: Vec<Mark>,
}

/// A part of a paragraph.
pub(crate) enum Inline<'a> {
    Text(&'a str, Style),
    Gap(f32),
    Piece(Piece),
}

/// How a paragraph is set.
#[derive(Clone, Copy)]
pub(crate) struct Setting {
    pub(crate) tag: Tag,
    pub(crate) width: f32,
    /// The gap between lines.
    pub(crate) leading: f32,
    /// Lines end at the right edge.
    pub(crate) right: bool,
}

impl Setting {
    pub(crate) fn new(tag: Tag, width: f32, size: f32) -> Self {
        Self { tag, width, leading: 0.5 * size, right: false }
    }
}

/// What a line is made of.
pub(crate) enum Body {
    Word(Rc<Word>, Style),
    Gap,
    Piece(Piece),
}

/// What no line tears apart.
pub(crate) struct Atom {
    pub(crate) body: Body,
    pub(crate) width: f32,
    /// The space after it, if any.
    pub(crate) space: f32,
    /// The line may end after it.
    ends: bool,
    /// The line must end after it.
    must: bool,
}

/// Sets a paragraph as its lines.
pub(crate) fn set(desk: &Desk, inlines: Vec<Inline<'_>>, setting: &Setting) -> Vec<Piece> {
    let mut atoms = Vec::new();
    let mut turns = false;
    for inline in inlines {
        match inline {
            Inline::Text(text, style) => {
                let text = printable(text);
                let text = if turned::turns(&text) { text } else { turned::without_controls(text) };
                turns |= turned::turns(&text);
                let text = breakable(&text, setting.width / style.size, Weight::of(style.face));
                split(desk, &text, style, &mut atoms);
            }
            Inline::Gap(width) => atoms.push(Atom { body: Body::Gap, width, space: 0.0, ends: true, must: false }),
            Inline::Piece(piece) => {
                let width = piece.width;
                atoms.push(Atom { body: Body::Piece(piece), width, space: 0.0, ends: false, must: false });
            }
        }
    }
    broken(atoms, setting.width)
        .into_iter()
        .map(|line| {
            let line = written(desk, line, setting.tag, turns);
            let right = if setting.right { (setting.width - line.width).max(0.0) } else { 0.0 };
            Piece { marks: moved(line.marks, right, 0.0), ..line }
        })
        .collect()
}

fn split(desk: &Desk, text: &str, style: Style, atoms: &mut Vec<Atom>) {
    let ends = |mark: char| matches!(mark, ' ' | '\t' | '\n' | BREAK);
    for part in text.split_inclusive(ends) {
        let last = part.chars().next_back().filter(|mark| ends(*mark));
        let word = part.strip_suffix(ends).unwrap_or(part);
        let space = match last {
            Some(' ' | '\t') => desk.shaper.word(" ", style.face).width * style.size,
            _ => 0.0,
        };
        let shaped = desk.shaper.word(word, style.face);
        let width = shaped.width * style.size;
        let body = Body::Word(shaped, style);
        atoms.push(Atom { body, width, space, ends: last.is_some(), must: last == Some('\n') });
    }
}

fn broken(atoms: Vec<Atom>, width: f32) -> Vec<Vec<Atom>> {
    let mut lines = vec![Vec::new()];
    let (mut used, mut together, mut together_width) = (0.0, Vec::new(), 0.0);
    for atom in atoms {
        together_width += atom.width;
        let Atom { space, ends, must, .. } = atom;
        together.push(atom);
        if !ends {
            together_width += space;
            continue;
        }
        take(&mut lines, &mut used, width, (&mut together, together_width));
        used += space;
        together_width = 0.0;
        if must {
            lines.push(Vec::new());
            used = 0.0;
        }
    }
    take(&mut lines, &mut used, width, (&mut together, together_width));
    lines
}

fn take(lines: &mut Vec<Vec<Atom>>, used: &mut f32, width: f32, (together, more): (&mut Vec<Atom>, f32)) {
    if width + TOLERANCE < *used + more && lines.last().is_some_and(|line| !line.is_empty()) {
        lines.push(Vec::new());
        *used = 0.0;
    }
    if let Some(line) = lines.last_mut() {
        line.append(together);
    }
    *used += more;
}

fn written(desk: &Desk, atoms: Vec<Atom>, tag: Tag, turns: bool) -> Piece {
    let mut line = Piece::default();
    let mut gap = 0.0;
    for atom in if turns { turned::joined_up(atoms) } else { atoms } {
        line.width += gap;
        match atom.body {
            Body::Gap => {}
            Body::Piece(piece) => {
                line.ascent = line.ascent.max(piece.ascent);
                line.descent = line.descent.max(piece.descent);
                line.marks.extend(moved(piece.marks, line.width, 0.0));
            }
            Body::Word(word, style) => {
                line.ascent = line.ascent.max(style.ascent());
                line.descent = line.descent.max(-style.rise);
                if turns {
                    let runs = turned::runs_of(&word.text, style.face);
                    write(desk, &mut line, &runs, (style, tag), 0.0);
                } else {
                    write(desk, &mut line, &word.runs, (style, tag), gap);
                }
            }
        }
        line.width += atom.width;
        gap = atom.space;
    }
    line
}

/// Writes runs at the end of a line; what looks the same as the mark before goes on from it, with its space.
fn write(desk: &Desk, line: &mut Piece, words: &[Run], (style, tag): (Style, Tag), gap: f32) {
    let mut at = line.width;
    for (index, run) in words.iter().enumerate() {
        let goes_on = line.marks.last_mut().filter(|mark| mark.tag == tag).and_then(|mark| match &mut mark.ink {
            Ink::Text { run: before, size, grey } => {
                let same = before.face == run.face && size.to_bits() == style.size.to_bits() && *grey == style.grey;
                let ends = mark.x + before.width * *size + if index == 0 { gap } else { 0.0 };
                let level = (mark.y + style.rise).abs() < TOLERANCE;
                (same && level && (ends - at).abs() < TOLERANCE && run.face == style.face).then_some(before)
            }
            _ => None,
        });
        if let Some(before) = goes_on {
            if index == 0 && 0.0 < gap {
                for space in &desk.shaper.word(" ", run.face).runs {
                    before.extend(space);
                }
            }
            before.extend(run);
        } else {
            let ink = Ink::Text { run: run.clone(), size: style.size, grey: style.grey };
            line.marks.push(Mark { x: at, y: -style.rise, tag, ink });
        }
        at += run.width * style.size;
    }
}

/// Lines as slabs; neither the first nor the last of them stands alone on a page.
pub(crate) fn slabs(lines: Vec<Piece>, leading: f32, gap: f32) -> Vec<Slab> {
    let count = lines.len();
    let slab = |(index, line): (usize, Piece)| Slab {
        height: line.ascent + line.descent,
        above: if index == 0 { gap } else { leading },
        below: if index + 1 == count { gap } else { leading },
        sticky: index + 1 < count && (index == 0 || index + 2 == count),
        marks: moved(line.marks, 0.0, line.ascent),
        ..Slab::default()
    };
    lines.into_iter().enumerate().map(slab).collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    fn texts(text: &str, width: f32) -> Vec<String> {
        let desk = Desk::new();
        let lines = set(&desk, vec![Inline::Text(text, Style::new(10.0))], &Setting::new(Tag::ARTIFACT, width, 10.0));
        let text_of = |mark: &Mark| match &mark.ink {
            Ink::Text { run, .. } => run.text.clone(),
            _ => String::new(),
        };
        for line in &lines {
            assert!(line.width <= width + TOLERANCE, "{text}");
        }
        lines.iter().map(|line| line.marks.iter().map(text_of).collect()).collect()
    }

    #[test]
    fn verify_lines_break_at_spaces_and_where_they_must() {
        assert_eq!(texts("one two", 500.0), ["one two"]);
        assert_eq!(texts("one two", 22.0), ["one", "two"]);
        assert_eq!(texts("one\ntwo", 500.0), ["one", "two"]);
        assert_eq!(texts("", 500.0), [""]);
    }

    #[test]
    fn verify_no_letter_is_lost_and_none_stands_outside() {
        for text in ["W".repeat(100), "\u{5d0}\u{5d1} ".repeat(50), "long/words_in:a-path".repeat(9)] {
            let plain = |text: &str| {
                let mut letters: Vec<_> = text.chars().filter(|mark| *mark != ' ').collect();
                letters.sort_unstable();
                letters
            };
            assert_eq!(plain(&texts(&text, 60.0).concat()), plain(&text));
        }
    }
}
