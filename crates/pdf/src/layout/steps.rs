//! Steps for the crew: each in a frame of its own, on one page as long as a page holds it.

use crate::PdfError;
use crate::layout::blocks::{headed, paragraph, text};
use crate::layout::desk::{Desk, SIZE};
use crate::layout::drawing::picture;
use crate::layout::forms::blanks;
use crate::layout::frames::framed;
use crate::layout::ink::{Ink, MM, Mark, Pen, Slab, height, indented, kept, moved, spaced, stacked};
use crate::layout::lines::{Inline, Piece, Setting, Style, set, slabs};
use crate::layout::tables::{Look, table};
use crate::layout::tags::{Part, Tag};
use ramwright_report::document::StepRow;

/// The size of what is done, and of the heading above it.
const LARGE: f32 = 14.0;
const MIDDLE: f32 = 11.0;
/// The size of letters in readings.
const READINGS: f32 = 8.5;
const INSET: f32 = 3.0 * MM;
/// The width of the picture of a step, and the gap beside it.
const PICTURE: f32 = 45.0 * MM;
const BESIDE: f32 = 5.0 * MM;

/// A step in its frame.
pub(crate) fn step(desk: &Desk, it: &StepRow, width: f32) -> Result<Vec<Slab>, PdfError> {
    let of = desk.part(Tag::DOCUMENT, Part::Section);
    let room = width - 2.0 * INSET;
    let mut all = title(desk, of, it, room);
    all.extend(told(desk, of, it, room)?);
    all.extend(table(desk, of, &it.readings, Look::boxed(room, READINGS)));
    for line in &it.stands {
        all.extend(text(desk, of, line, Style::new(SIZE), room));
    }
    if it.hold_point {
        let style = Style::new(MIDDLE);
        let inlines =
            vec![Inline::Text("Hold point.", style.bold()), Inline::Text(" Go on only when released.", style)];
        let mut hold = paragraph(desk, of, inlines, MIDDLE, room);
        hold.push(blanks(desk, of, &[("Name", true), ("Time", false), ("Signature", true)], room));
        all.extend(kept(hold));
    }
    let pen = Pen::black(if it.hold_point { 3.0 } else { 1.0 });
    Ok(spaced(framed(desk, pen, INSET, (all, width)), 5.0 * MM, 5.0 * MM))
}

fn title(desk: &Desk, of: Tag, it: &StepRow, room: f32) -> Vec<Slab> {
    let style = Style::new(LARGE).bold();
    let words = format!("{} {}", it.number, it.title);
    let tag = desk.part(of, Part::Heading { level: 3, text: words.clone() });
    let setting = Setting::new(tag, room, LARGE);
    let number = boxed(desk, tag, &it.number, style);
    let inlines = if number.width < room / 2.0 {
        vec![Inline::Piece(number), Inline::Gap(0.5 * LARGE), Inline::Text(&it.title, style)]
    } else {
        vec![Inline::Text(&words, style)]
    };
    let slabs = slabs(set(desk, inlines, &setting), setting.leading, 0.0);
    spaced(headed(slabs, 3, &words, LARGE), 0.0, 4.0 * MM)
}

fn boxed(desk: &Desk, tag: Tag, number: &str, style: Style) -> Piece {
    let (beside, above) = (5.0, 3.0);
    let setting = Setting::new(tag, f32::MAX, style.size);
    let piece = set(desk, vec![Inline::Text(number, style)], &setting).pop().unwrap_or_default();
    let width = piece.width + 2.0 * beside;
    let mut marks = moved(piece.marks, beside, 0.0);
    let ink = Ink::Frame { width, height: piece.ascent + 2.0 * above, pen: Pen::black(1.0) };
    marks.push(Mark { x: 0.0, y: -piece.ascent - above, tag: Tag::ARTIFACT, ink });
    Piece { width, marks, ..piece }
}

/// What is done, by whom, and what to look at, beside the picture.
fn told(desk: &Desk, of: Tag, it: &StepRow, room: f32) -> Result<Vec<Slab>, PdfError> {
    let words = |width: f32| {
        let mut words = text(desk, of, &it.text, Style::new(LARGE), width);
        words.extend(text(desk, of, &it.who, Style::new(MIDDLE), width));
        words.extend(text(desk, of, &it.check, Style::new(MIDDLE), width));
        words
    };
    let Some(figure) = &it.figure else { return Ok(words(room)) };
    let picture = picture(desk, of, figure, (Some(PICTURE), room), desk.height / 2.0)?;
    let picture = stacked(slabs(vec![picture], 0.0, 0.0));
    let words = indented(words(room - PICTURE - BESIDE), PICTURE + BESIDE);
    if desk.height * 0.8 < height(&words) {
        let mut all = vec![picture];
        all.extend(words);
        return Ok(all);
    }
    let words = stacked(words);
    let high = picture.height.max(words.height);
    let marks = picture.marks.into_iter().chain(words.marks).collect();
    Ok(vec![Slab { height: high, above: words.above, below: words.below, marks, ..Slab::default() }])
}
