//! A document on its pages, with what stands at the head and foot of each.

use crate::PdfError;
use crate::layout::blocks;
use crate::layout::desk::{Desk, Sheet};
use crate::layout::ink::{MM, Mark, Pen, moved, stacked};
use crate::layout::lines::{Inline, Setting, Style, set, slabs};
use crate::layout::pages::paged;
use crate::layout::tags::Tag;
use crate::layout::write::write;
use ramwright_report::document::Document;

const HEAD_SIZE: f32 = 8.0;
const FOOT_SIZE: f32 = 6.5;
/// The edges that no printer prints on.
const EDGE: f32 = 9.0 * MM;
/// The gaps between the text and what stands above and below it.
const UNDER_HEAD: f32 = 6.6 * MM;
const OVER_FOOT: f32 = 3.0 * MM;
/// The least margins.
const TOP: f32 = 22.0 * MM;
const BOTTOM: f32 = 20.0 * MM;
/// The room of the page's number beside the foot.
const NUMBER: f32 = 24.0 * MM;

/// What stands on every page: its marks lie about the left edge of the text.
struct Running {
    height: f32,
    marks: Vec<Mark>,
}

pub(crate) fn typeset(document: &Document) -> Result<Vec<u8>, PdfError> {
    let sheet = Sheet::of(document.paper);
    let room = sheet.room();
    let mut desk = Desk::new();
    let head = head(&desk, document, room);
    let foot = foot(&desk, document, room);
    let top = TOP.max(EDGE + head.height + UNDER_HEAD).min(sheet.height / 3.0);
    let bottom = BOTTOM.max(EDGE + foot.height + OVER_FOOT).min(sheet.height / 3.0);
    desk.height = sheet.height - top - bottom;
    let content = blocks::document(&desk, document, room)?;
    let pages = paged(content, (room, desk.height));
    let count = pages.len();
    let (head_top, foot_top) = (top - UNDER_HEAD - head.height, sheet.height - bottom + OVER_FOOT);
    let title = format!("{}: {}", document.heading, document.title);
    write(desk, sheet, top, title, pages, |desk, page| {
        let mut marks = moved(head.marks.clone(), Sheet::LEFT, head_top);
        marks.extend(moved(foot.marks.clone(), Sheet::LEFT, foot_top));
        marks.extend(moved(number(desk, page + 1, count), Sheet::LEFT + room - NUMBER, foot_top));
        marks
    })
}

fn head(desk: &Desk, document: &Document, room: f32) -> Running {
    let style = Style::new(HEAD_SIZE).quiet();
    let inlines = vec![
        Inline::Text(document.heading, style.bold()),
        Inline::Gap(HEAD_SIZE),
        Inline::Text(&document.running_head, style),
    ];
    let setting = Setting::new(Tag::ARTIFACT, room, HEAD_SIZE);
    let slab = stacked(slabs(set(desk, inlines, &setting), setting.leading, 0.0));
    let height = slab.height + 2.0;
    let mut marks = slab.marks;
    marks.push(Mark::rule(0.0, height, room, Pen::RULE));
    Running { height, marks }
}

fn foot(desk: &Desk, document: &Document, room: f32) -> Running {
    let style = Style::new(FOOT_SIZE).quiet();
    let setting =
        Setting { leading: 0.35 * FOOT_SIZE, ..Setting::new(Tag::ARTIFACT, room - NUMBER - 4.0 * MM, FOOT_SIZE) };
    let lines = document.running_foot.iter().flat_map(|text| set(desk, vec![Inline::Text(text, style)], &setting));
    let slab = stacked(slabs(lines.collect(), setting.leading, 0.0));
    Running { height: slab.height, marks: slab.marks }
}

fn number(desk: &Desk, page: usize, count: usize) -> Vec<Mark> {
    let text = format!("page {page} of {count}");
    let setting = Setting { right: true, ..Setting::new(Tag::ARTIFACT, NUMBER, HEAD_SIZE) };
    let lines = set(desk, vec![Inline::Text(&text, Style::new(HEAD_SIZE).quiet())], &setting);
    stacked(slabs(lines, 0.0, 0.0)).marks
}
