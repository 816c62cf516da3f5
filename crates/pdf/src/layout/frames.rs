//! Frames whose lines say what a status is, in print without colours too.

use crate::layout::desk::Desk;
use crate::layout::fonts::Face;
use crate::layout::ink::{Border, Ink, Mark, Pen, Slab, height, indented, moved, stacked};
use crate::layout::lines::{Inline, Piece, Setting, Style, set};
use crate::layout::tags::Tag;

/// Frames slabs as their status wants it.
pub(crate) fn by_status(
    desk: &Desk,
    status: &str,
    thickness: f32,
    inset: f32,
    (slabs, width): (Vec<Slab>, f32),
) -> Vec<Slab> {
    let pen = match status {
        "fail" => Pen::black(thickness * 3.0),
        "not_checked" => Pen::dashed(thickness * 1.5),
        _ => Pen::black(thickness),
    };
    let slabs = framed(desk, pen, inset, (slabs, width));
    if status != "caution" {
        return slabs;
    }
    // A second frame around the first.
    let out = thickness * 2.0;
    slabs
        .into_iter()
        .map(|mut slab| {
            if slab.border.is_none() {
                let sizes = (width + 2.0 * out, slab.height + 2.0 * out);
                slab.marks.push(Mark::frame(-out, -out, sizes, pen));
            }
            slab
        })
        .collect()
}

/// Frames slabs: as one that no page tears apart, unless it is longer than a page.
pub(crate) fn framed(desk: &Desk, pen: Pen, inset: f32, (slabs, width): (Vec<Slab>, f32)) -> Vec<Slab> {
    let slabs = indented(slabs, inset);
    if height(&slabs) + 2.0 * inset <= desk.height {
        let whole = stacked(slabs);
        let high = whole.height + 2.0 * inset;
        let mut marks = moved(whole.marks, 0.0, inset);
        marks.push(Mark::frame(0.0, 0.0, (width, high), pen));
        return vec![Slab { height: high, marks, ..whole }];
    }
    let border = Border { number: desk.border(), pen, inset };
    slabs.into_iter().map(|slab| Slab { border: Some(border), ..slab }).collect()
}

/// The word of a status in its frame, for a line of text.
pub(crate) fn word(desk: &Desk, tag: Tag, status: &str, word: &str) -> Piece {
    let face = if status == "fail" { Face::Bold } else { Face::Semibold };
    let style = Style::new(8.5).face(face);
    let setting = Setting::new(tag, f32::MAX, style.size);
    let mut piece = set(desk, vec![Inline::Text(word, style)], &setting).pop().unwrap_or_default();
    let (beside, above) = (3.0, 2.5);
    let (width, ascent) = (piece.width + 2.0 * beside, piece.ascent);
    piece.marks = moved(piece.marks, beside, 0.0);
    let mut frame = |out: f32, over: f32, pen: Pen| {
        let ink = Ink::Frame { width: width + 2.0 * out, height: ascent + 2.0 * (above + over), pen };
        piece.marks.push(Mark { x: -out, y: -ascent - above - over, tag: Tag::ARTIFACT, ink });
    };
    match status {
        "fail" => frame(0.0, 0.0, Pen::black(2.0)),
        "not_checked" => frame(0.0, 0.0, Pen::dashed(1.2)),
        "caution" => {
            frame(0.0, 0.0, Pen::black(0.5));
            frame(1.5, 1.5, Pen::black(0.5));
        }
        _ => frame(0.0, 0.0, Pen::black(0.6)),
    }
    Piece { width, ..piece }
}
