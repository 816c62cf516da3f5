//! How wide a text is, and where a long word may break.

use crate::layout::fonts::{Face, cut};
use std::borrow::Cow;
use std::sync::LazyLock;

/// Stands where a line may break and is not seen.
pub(crate) const BREAK: char = '\u{200b}';
/// Marks up to here are measured.
const MEASURED: u32 = 0x2100;
/// Those that the font lacks come from another font, or show as an empty box.
const LACKING_EM: f32 = 1.0;

/// How heavy letters are.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Weight {
    Regular,
    Bold,
}

impl Weight {
    /// The weight of a face, for its widths.
    pub(crate) fn of(face: Face) -> Self {
        if matches!(face, Face::Bold | Face::Semibold) { Self::Bold } else { Self::Regular }
    }
}

/// How wide the marks are of the font that texts are set in.
struct Advances {
    regular: Vec<f32>,
    bold: Vec<f32>,
}

static ADVANCES: LazyLock<Advances> =
    LazyLock::new(|| Advances { regular: advances(Face::Regular), bold: advances(Face::Bold) });

fn advances(face: Face) -> Vec<f32> {
    let Some(cut) = cut(face) else { return Vec::new() };
    let em = f32::from(u16::try_from(cut.shapes.units_per_em()).unwrap_or(u16::MAX));
    let advance = |code: u32| {
        let glyph = cut.shapes.glyph_index(char::from_u32(code)?)?;
        Some(f32::from(cut.shapes.glyph_hor_advance(glyph)?) / em)
    };
    (0..MEASURED).map(|code| advance(code).unwrap_or(LACKING_EM)).collect()
}

/// The width of a text in ems.
pub(crate) fn width_em(text: &str, weight: Weight) -> f32 {
    let advances = match weight {
        Weight::Regular => &ADVANCES.regular,
        Weight::Bold => &ADVANCES.bold,
    };
    let advance = |mark: char| usize::try_from(u32::from(mark)).ok().and_then(|code| advances.get(code));
    text.chars().map(|mark| advance(mark).copied().unwrap_or(LACKING_EM)).sum()
}

/// The width of its longest word in ems.
pub(crate) fn longest_word_em(text: &str, weight: Weight) -> f32 {
    text.split(is_gap).map(|word| width_em(word, weight)).fold(0.0, f32::max)
}

/// The text with places to break in the words that are wider than the room: after marks that part them, and before every
/// mark of a part that is still too wide.
pub(crate) fn breakable(text: &str, room_em: f32, weight: Weight) -> Cow<'_, str> {
    if longest_word_em(text, weight) <= room_em {
        return Cow::Borrowed(text);
    }
    let mut broken = String::with_capacity(text.len() * 2);
    for word in text.split_inclusive(is_gap) {
        if width_em(word.trim_end_matches(is_gap), weight) <= room_em {
            broken.push_str(word);
            continue;
        }
        for (index, part) in word.split_inclusive(parts).enumerate() {
            if index > 0 {
                broken.push(BREAK);
            }
            break_part(part, room_em, weight, &mut broken);
        }
    }
    Cow::Owned(broken)
}

fn break_part(part: &str, room_em: f32, weight: Weight, broken: &mut String) {
    let breaks = room_em < width_em(part, weight);
    for (index, mark) in part.chars().enumerate() {
        if breaks && index > 0 && starts_a_line(mark) {
            broken.push(BREAK);
        }
        broken.push(mark);
    }
}

/// A text without the marks that no page can show.
pub(crate) fn printable(text: &str) -> Cow<'_, str> {
    let shown = |mark| if matches!(mark, '\t' | '\n') { mark } else { ramwright_report::printable(mark) };
    if text.chars().all(|mark| shown(mark) == mark) {
        return Cow::Borrowed(text);
    }
    text.chars().map(shown).collect()
}

/// Spaces at which a line breaks; the others hold a number together.
const fn is_gap(mark: char) -> bool {
    matches!(mark, ' ' | '\t' | '\n')
}

/// Marks after which a long word breaks best.
const fn parts(mark: char) -> bool {
    matches!(mark, '/' | '_' | ':' | '-')
}

/// Marks that combine with the one before must stay with it.
fn starts_a_line(mark: char) -> bool {
    mark.is_alphanumeric() || mark.is_ascii_graphic()
}

#[cfg(test)]
mod tests {
    use super::Weight::{Bold, Regular};
    use super::*;

    #[test]
    fn verify_the_fonts_of_texts_are_there() {
        for weight in [Regular, Bold] {
            assert!(width_em("i", weight) < width_em("W", weight));
            assert!((width_em("0", weight) - width_em("1", weight)).abs() < 1e-6, "digits are not equally wide");
        }
        assert!(width_em("words", Regular) < width_em("words", Bold));
    }

    #[test]
    fn verify_only_words_that_are_too_wide_break() {
        assert_eq!(breakable("a plain sentence", 5.0, Regular), "a plain sentence");
        assert_eq!(
            breakable("ok aaaaaaa ok", 2.0, Regular),
            "ok a\u{200b}a\u{200b}a\u{200b}a\u{200b}a\u{200b}a\u{200b}a ok"
        );
        assert_eq!(breakable("e\u{301}e\u{301}", 0.1, Regular), "e\u{301}\u{200b}e\u{301}");
        assert_eq!(breakable("load/weight_tolerance", 5.0, Regular), "load/\u{200b}weight_\u{200b}tolerance");
        assert_eq!(breakable("", 0.0, Regular), "");
    }

    #[test]
    fn verify_marks_that_no_page_can_show_are_seen() {
        assert_eq!(printable("a\u{0}b\u{7f}\tc\n"), "a\u{fffd}b\u{fffd}\tc\n");
    }
}
