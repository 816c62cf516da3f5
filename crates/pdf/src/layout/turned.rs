//! Texts that run from right to left, or have such parts in them.

use crate::layout::fonts::Face;
use crate::layout::lines::{Atom, Body};
use crate::layout::shape::{Run, Word, runs};
use std::borrow::Cow;
use std::rc::Rc;
use unicode_bidi::{BidiClass, BidiInfo, Level, bidi_class};

/// No mark before this one runs from right to left.
const FIRST: char = '\u{590}';

/// Whether some of a text runs from right to left.
pub(crate) fn turns(text: &str) -> bool {
    let turns = |mark| matches!(bidi_class(mark), BidiClass::R | BidiClass::AL | BidiClass::AN);
    text.chars().any(|mark| FIRST <= mark && turns(mark))
}

/// A text without the marks that only say in which direction others run.
pub(crate) fn without_controls(text: Cow<'_, str>) -> Cow<'_, str> {
    if text.chars().any(controls) { Cow::Owned(text.chars().filter(|mark| !controls(*mark)).collect()) } else { text }
}

const fn controls(mark: char) -> bool {
    matches!(mark, '\u{200e}' | '\u{200f}' | '\u{2066}'..='\u{2069}')
}

/// Words of one look joined into one, since those that run from right to left change their places.
pub(crate) fn joined_up(atoms: Vec<Atom>) -> Vec<Atom> {
    let mut joined: Vec<Atom> = Vec::with_capacity(atoms.len());
    for atom in atoms {
        if let Some(before) = joined.last_mut()
            && let (Body::Word(left, look), Body::Word(right, other)) = (&before.body, &atom.body)
            && look == other
        {
            let space = if 0.0 < before.space { " " } else { "" };
            let text = format!("{}{space}{}", left.text, right.text);
            let look = *look;
            before.width += before.space + atom.width;
            before.space = atom.space;
            before.body = Body::Word(Rc::new(Word { text, ..Word::default() }), look);
        } else {
            joined.push(atom);
        }
    }
    joined
}

/// A line as runs from left to right.
pub(crate) fn runs_of(text: &str, face: Face) -> Vec<Run> {
    let info = BidiInfo::new(text, Some(Level::ltr()));
    let mut seen = Vec::new();
    for paragraph in &info.paragraphs {
        let (levels, places) = info.visual_runs(paragraph, paragraph.range.clone());
        for place in places {
            let right_to_left = levels.get(place.start).is_some_and(Level::is_rtl);
            let part = without_controls(Cow::Borrowed(text.get(place).unwrap_or_default()));
            seen.extend(runs(&part, face, Some(right_to_left)));
        }
    }
    seen
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn verify_parts_stand_as_they_are_seen() {
        let seen = |text| runs_of(text, Face::Regular).into_iter().map(|run| run.text).collect::<Vec<_>>().concat();
        assert_eq!(seen("abc 123"), "abc 123");
        // The space after the two letters is seen before them.
        assert_eq!(seen("a \u{5d0}\u{5d1} 12 b"), "a 12\u{5d0}\u{5d1}  b");
        assert!(turns("\u{5d0}") && turns("\u{627}") && !turns("a\u{2066}b\u{6f22}"));
        assert_eq!(without_controls(Cow::Borrowed("\u{2068}a\u{2069}")), "a");
    }
}
