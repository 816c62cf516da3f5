//! From pages to the bytes of a PDF.

use crate::PdfError;
use crate::layout::desk::{Desk, Sheet, refused};
use crate::layout::fonts::cut;
use crate::layout::ink::{Entry, Ink, Mark, Pen};
use crate::layout::pages::Page;
use crate::layout::picture::draw;
use crate::layout::tags::{Tag, Tags};
use krilla::color::luma;
use krilla::destination::XyzDestination;
use krilla::geom::{PathBuilder, Point, Rect};
use krilla::metadata::Metadata;
use krilla::outline::{Outline, OutlineNode};
use krilla::page::PageSettings;
use krilla::paint::{Fill, Stroke, StrokeDash};
use krilla::surface::Surface;
use krilla::tagging::{Artifact, ContentTag};

/// Writes pages: each with its own head and foot, which are made when it is known how many there are.
pub(crate) fn write(
    desk: Desk,
    sheet: Sheet,
    top: f32,
    title: String,
    pages: Vec<Page>,
    around: impl Fn(&Desk, usize) -> Vec<Mark>,
) -> Result<Vec<u8>, PdfError> {
    let mut pdf = krilla::Document::new();
    let settings = PageSettings::from_wh(sheet.width, sheet.height).ok_or_else(|| refused("the paper has no size"))?;
    let mut headings = Vec::new();
    for (number, content) in pages.into_iter().enumerate() {
        headings.extend(content.entries.into_iter().map(|(y, entry)| (number, y + top, entry)));
        let mut page = pdf.start_page_with(settings.clone());
        let mut surface = page.surface();
        put(&mut surface, &desk.tags, &around(&desk, number), (0.0, 0.0));
        put(&mut surface, &desk.tags, &content.marks, (Sheet::LEFT, top));
        surface.finish();
        page.finish();
    }
    pdf.set_outline(outline(headings));
    let metadata = Metadata::new().title(title).language("en".to_owned()).creator("Ramwright".to_owned());
    pdf.set_metadata(metadata);
    pdf.set_tag_tree(desk.tags.into_inner().into_tree());
    pdf.finish().map_err(|error| refused(format!("{error:?}")))
}

fn outline(headings: Vec<(usize, f32, Entry)>) -> Outline {
    let mut outline = Outline::new();
    let mut part: Option<OutlineNode> = None;
    for (page, y, Entry { level, text }) in headings {
        let node = OutlineNode::new(text, XyzDestination::new(page, Point::from_xy(Sheet::LEFT, y)));
        match &mut part {
            Some(part) if 2 < level => part.push_child(node),
            _ => {
                if let Some(part) = part.replace(node) {
                    outline.push_child(part);
                }
            }
        }
    }
    if let Some(part) = part {
        outline.push_child(part);
    }
    outline
}

/// Puts marks on a page, those of one part together.
fn put(surface: &mut Surface<'_>, tags: &std::cell::RefCell<Tags>, marks: &[Mark], (right, down): (f32, f32)) {
    for together in marks.chunk_by(|one, other| one.tag == other.tag) {
        let Some(tag) = together.first().map(|mark| mark.tag) else { continue };
        let content = if tag == Tag::ARTIFACT { ContentTag::Artifact(Artifact::default()) } else { ContentTag::Other };
        let identifier = surface.start_tagged(content);
        for mark in together {
            ink(surface, mark, mark.x + right, mark.y + down);
        }
        surface.end_tagged();
        if tag != Tag::ARTIFACT {
            tags.borrow_mut().hold(tag, identifier);
        }
    }
}

fn ink(surface: &mut Surface<'_>, mark: &Mark, x: f32, y: f32) {
    match &mark.ink {
        Ink::Text { run, size, grey } => {
            let Some(cut) = cut(run.face).filter(|_| !run.glyphs.is_empty()) else { return };
            surface.set_stroke(None);
            surface.set_fill(Some(Fill { paint: luma::Color::new(*grey).into(), ..Fill::default() }));
            surface.draw_glyphs(Point::from_xy(x, y), &run.glyphs, cut.font.clone(), &run.text, *size, false);
        }
        Ink::Stroke { points, pen } => {
            let mut path = PathBuilder::new();
            for (index, (right, down)) in points.iter().enumerate() {
                if index == 0 { path.move_to(x + right, y + down) } else { path.line_to(x + right, y + down) }
            }
            stroke(surface, path, *pen);
        }
        Ink::Frame { width, height, pen } => {
            let mut path = PathBuilder::new();
            if let Some(rect) = Rect::from_xywh(x, y, *width, *height) {
                path.push_rect(rect);
            }
            stroke(surface, path, *pen);
        }
        Ink::Curve { points: [start, first, second, end], pen } => {
            let mut path = PathBuilder::new();
            path.move_to(x + start.0, y + start.1);
            path.cubic_to(x + first.0, y + first.1, x + second.0, y + second.1, x + end.0, y + end.1);
            stroke(surface, path, *pen);
        }
        Ink::Picture { drawing, scale } => draw(surface, drawing, (x, y), *scale),
    }
}

fn stroke(surface: &mut Surface<'_>, path: PathBuilder, pen: Pen) {
    let Some(path) = path.finish() else { return };
    let dash = pen.dashed.then(|| StrokeDash { array: vec![3.0, 3.0], offset: 0.0 });
    surface.set_fill(None);
    surface.set_stroke(Some(Stroke {
        paint: luma::Color::new(pen.grey).into(),
        width: pen.width,
        dash,
        ..Stroke::default()
    }));
    surface.draw_path(&path);
}
