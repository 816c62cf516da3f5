//! From letters to glyphs. A word that stands in a document again is shaped once.

use crate::layout::fonts::{Cut, FEATURES, Face, cut};
use krilla::text::{GlyphId, KrillaGlyph};
use rustybuzz::{Direction, UnicodeBuffer, script};
use std::cell::RefCell;
use std::collections::HashMap;
use std::rc::Rc;

/// The first mark after those that Latin texts are written with.
const AFTER_LATIN: char = '\u{250}';

/// Glyphs of one face side by side, from left to right, in ems.
#[derive(Clone, Debug)]
pub(crate) struct Run {
    pub(crate) face: Face,
    pub(crate) text: String,
    pub(crate) glyphs: Vec<KrillaGlyph>,
    pub(crate) width: f32,
}

impl Run {
    /// Sets another run of the same face after this one.
    pub(crate) fn extend(&mut self, other: &Self) {
        let start = self.text.len();
        self.text.push_str(&other.text);
        self.glyphs.extend(other.glyphs.iter().cloned().map(|mut glyph| {
            glyph.text_range = start + glyph.text_range.start..start + glyph.text_range.end;
            glyph
        }));
        self.width += other.width;
    }
}

/// A shaped word.
#[derive(Debug, Default)]
pub(crate) struct Word {
    pub(crate) text: String,
    pub(crate) runs: Vec<Run>,
    pub(crate) width: f32,
}

impl Word {
    fn of(text: &str, runs: Vec<Run>) -> Self {
        let width = runs.iter().map(|run| run.width).sum();
        Self { text: text.to_owned(), runs, width }
    }
}

/// Shapes words and remembers them.
#[derive(Default)]
pub(crate) struct Shaper {
    words: RefCell<HashMap<Face, HashMap<String, Rc<Word>>>>,
}

impl Shaper {
    /// A word in its own direction.
    pub(crate) fn word(&self, text: &str, face: Face) -> Rc<Word> {
        if let Some(word) = self.words.borrow().get(&face).and_then(|words| words.get(text)) {
            return Rc::clone(word);
        }
        let word = Rc::new(Word::of(text, runs(text, face, None)));
        self.words.borrow_mut().entry(face).or_default().insert(text.to_owned(), Rc::clone(&word));
        word
    }
}

/// A text as runs of faces that have its marks, in the order in which they are seen.
pub(crate) fn runs(text: &str, face: Face, right_to_left: Option<bool>) -> Vec<Run> {
    let mut parts: Vec<(Face, usize, usize)> = Vec::new();
    for (at, mark) in text.char_indices() {
        let end = at + mark.len_utf8();
        let with = face_for(mark, face, parts.last().map(|part| part.0));
        match parts.last_mut() {
            Some(part) if part.0 == with => part.2 = end,
            _ => parts.push((with, at, end)),
        }
    }
    if right_to_left == Some(true) {
        parts.reverse();
    }
    let shaped = parts.iter().filter_map(|(face, start, end)| shaped(text.get(*start..*end)?, *face, right_to_left));
    shaped.collect()
}

/// The face that has a mark; what none has is a box of the wanted one.
fn face_for(mark: char, wanted: Face, before: Option<Face>) -> Face {
    let has = |face: Face| cut(face).is_some_and(|cut| cut.has(mark));
    if stays_with_the_one_before(mark) {
        return before.unwrap_or(wanted);
    }
    if !has(wanted) && has(Face::Fallback) { Face::Fallback } else { wanted }
}

/// Marks that combine, and those that are not seen.
fn stays_with_the_one_before(mark: char) -> bool {
    matches!(mark, '\u{300}'..='\u{36f}' | '\u{200b}'..='\u{200f}' | '\u{2060}'..='\u{206f}' | '\u{fe00}'..='\u{fe0f}')
}

fn shaped(text: &str, face: Face, right_to_left: Option<bool>) -> Option<Run> {
    let Cut { shapes, latin, .. } = cut(face)?;
    let mut buffer = UnicodeBuffer::new();
    buffer.push_str(text);
    let buffer = if right_to_left != Some(true) && text.chars().all(|mark| mark < AFTER_LATIN) {
        buffer.set_direction(Direction::LeftToRight);
        buffer.set_script(script::LATIN);
        rustybuzz::shape_with_plan(shapes, latin, buffer)
    } else {
        buffer.guess_segment_properties();
        if let Some(right_to_left) = right_to_left {
            buffer.set_direction(if right_to_left { Direction::RightToLeft } else { Direction::LeftToRight });
        }
        rustybuzz::shape(shapes, FEATURES.as_slice(), buffer)
    };
    let em = units(shapes.units_per_em());
    let mut starts: Vec<_> =
        buffer.glyph_infos().iter().filter_map(|info| usize::try_from(info.cluster).ok()).collect();
    starts.push(text.len());
    starts.sort_unstable();
    starts.dedup();
    let mut glyphs = Vec::with_capacity(buffer.len());
    for (info, place) in buffer.glyph_infos().iter().zip(buffer.glyph_positions()) {
        let start = usize::try_from(info.cluster).ok()?;
        let next = starts.partition_point(|other| *other <= start);
        let end = starts.get(next).copied().unwrap_or(text.len());
        let [advance, right, up] = [place.x_advance, place.x_offset, place.y_offset].map(|number| units(number) / em);
        glyphs.push(KrillaGlyph::new(GlyphId::new(info.glyph_id), advance, right, up, 0.0, start..end, None));
    }
    let width = glyphs.iter().map(|glyph| glyph.x_advance).sum();
    Some(Run { face, text: text.to_owned(), glyphs, width })
}

#[expect(clippy::cast_precision_loss, reason = "units of a font are small whole numbers")]
const fn units(number: i32) -> f32 {
    number as f32
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn verify_no_mark_is_lost() {
        for text in
            ["plain", "e\u{301}", "\u{6f22}\u{e000}x", "\u{5d0}\u{5d1}", "\u{627}\u{644}", "fi\u{200d}\u{1f3d7}"]
        {
            for direction in [None, Some(true), Some(false)] {
                let runs = runs(text, Face::Regular, direction);
                assert_eq!(runs.iter().map(|run| run.text.len()).sum::<usize>(), text.len(), "{text}");
                for run in runs {
                    assert!(run.glyphs.iter().all(|glyph| run.text.is_char_boundary(glyph.text_range.end)));
                }
            }
        }
    }

    #[test]
    fn verify_a_word_is_as_wide_as_its_glyphs() {
        let shaper = Shaper::default();
        let word = shaper.word("words", Face::Regular);
        assert!(1.5 < word.width && word.width < 3.0);
        assert!(Rc::ptr_eq(&word, &shaper.word("words", Face::Regular)));
        assert!(word.width < shaper.word("words", Face::Bold).width);
    }
}
