//! What is put on paper: marks at places in points, y downwards, and slabs of them that no page tears apart.

use crate::layout::drawing::Drawing;
use crate::layout::shape::Run;
use crate::layout::tags::Tag;
use std::rc::Rc;

/// A millimetre in points.
pub(crate) const MM: f32 = 72.0 / 25.4;
/// The grey of what is not the matter itself.
pub(crate) const QUIET: u8 = 80;
/// The grey of thin rules.
const RULE_GREY: u8 = 150;

/// How a line is drawn.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) struct Pen {
    pub(crate) width: f32,
    pub(crate) grey: u8,
    pub(crate) dashed: bool,
}

impl Pen {
    /// The rule between rows.
    pub(crate) const RULE: Self = Self { width: 0.4, grey: RULE_GREY, dashed: false };

    pub(crate) const fn black(width: f32) -> Self {
        Self { width, grey: 0, dashed: false }
    }

    pub(crate) const fn dashed(width: f32) -> Self {
        Self { width, grey: 0, dashed: true }
    }
}

/// What a mark is.
#[derive(Clone)]
pub(crate) enum Ink {
    /// Glyphs from the place on, on the line.
    Text { run: Run, size: f32, grey: u8 },
    /// A stroke through points, each reckoned from the place.
    Stroke { points: Vec<(f32, f32)>, pen: Pen },
    /// An upright rectangle.
    Frame { width: f32, height: f32, pen: Pen },
    /// A curve: its start, two points that draw it, its end.
    Curve { points: [(f32, f32); 4], pen: Pen },
    /// A drawing.
    Picture { drawing: Rc<Drawing>, scale: f32 },
}

/// Ink at a place.
#[derive(Clone)]
pub(crate) struct Mark {
    pub(crate) x: f32,
    pub(crate) y: f32,
    pub(crate) tag: Tag,
    pub(crate) ink: Ink,
}

impl Mark {
    pub(crate) fn rule(x: f32, y: f32, width: f32, pen: Pen) -> Self {
        Self { x, y, tag: Tag::ARTIFACT, ink: Ink::Stroke { points: vec![(0.0, 0.0), (width, 0.0)], pen } }
    }

    pub(crate) fn frame(x: f32, y: f32, (width, height): (f32, f32), pen: Pen) -> Self {
        Self { x, y, tag: Tag::ARTIFACT, ink: Ink::Frame { width, height, pen } }
    }
}

/// Moves marks.
pub(crate) fn moved(mut marks: Vec<Mark>, right: f32, down: f32) -> Vec<Mark> {
    for mark in &mut marks {
        mark.x += right;
        mark.y += down;
    }
    marks
}

/// A frame that may go on over several pages.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) struct Border {
    /// Tells it from others.
    pub(crate) number: usize,
    pub(crate) pen: Pen,
    pub(crate) inset: f32,
}

/// Where an entry of the outline leads.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(crate) struct Entry {
    pub(crate) level: u8,
    pub(crate) text: String,
}

/// What no page tears apart.
#[derive(Clone, Default)]
pub(crate) struct Slab {
    pub(crate) height: f32,
    /// The least gap to what stands above; the greater of two gaps counts.
    pub(crate) above: f32,
    pub(crate) below: f32,
    /// Stands on the same page as the next.
    pub(crate) sticky: bool,
    /// Begins a page.
    pub(crate) breaks: bool,
    pub(crate) marks: Vec<Mark>,
    /// What stands above it where it begins a page.
    pub(crate) head: Option<Rc<Slab>>,
    pub(crate) border: Option<Border>,
    pub(crate) entries: Vec<Entry>,
}

/// Stacks slabs into one.
pub(crate) fn stacked(slabs: Vec<Slab>) -> Slab {
    let mut whole = Slab::default();
    let mut gap: Option<f32> = None;
    for slab in slabs {
        match gap {
            Some(gap) => whole.height += gap.max(slab.above),
            None => whole.above = slab.above,
        }
        whole.marks.extend(moved(slab.marks, 0.0, whole.height));
        whole.entries.extend(slab.entries);
        whole.height += slab.height;
        gap = Some(slab.below);
    }
    whole.below = gap.unwrap_or_default();
    whole
}

/// The height of slabs on one another, without what stands above and below.
pub(crate) fn height(slabs: &[Slab]) -> f32 {
    let heights: f32 = slabs.iter().map(|slab| slab.height).sum();
    heights + slabs.windows(2).map(gap).sum::<f32>()
}

fn gap(pair: &[Slab]) -> f32 {
    if let [upper, lower] = pair { upper.below.max(lower.above) } else { 0.0 }
}

/// Keeps all of them on one page, as far as a page holds them.
pub(crate) fn kept(mut slabs: Vec<Slab>) -> Vec<Slab> {
    let last = slabs.len().saturating_sub(1);
    for slab in slabs.iter_mut().take(last) {
        slab.sticky = true;
    }
    slabs
}

/// Sets the gaps around slabs.
pub(crate) fn spaced(mut slabs: Vec<Slab>, above: f32, below: f32) -> Vec<Slab> {
    if let Some(first) = slabs.first_mut() {
        first.above = above;
    }
    if let Some(last) = slabs.last_mut() {
        last.below = below;
    }
    slabs
}

/// Moves slabs to the right.
pub(crate) fn indented(slabs: Vec<Slab>, right: f32) -> Vec<Slab> {
    slabs.into_iter().map(|slab| Slab { marks: moved(slab.marks, right, 0.0), ..slab }).collect()
}
