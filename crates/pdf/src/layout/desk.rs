//! What every part of a document is set with.

use crate::PdfError;
use crate::layout::ink::MM;
use crate::layout::shape::Shaper;
use crate::layout::tags::{Part, Tag, Tags};
use ramwright_report::document::Paper;
use std::cell::{Cell, RefCell};

/// The size of texts, in points.
pub(crate) const SIZE: f32 = 9.5;
/// The gap between blocks.
pub(crate) const GAP: f32 = 0.8 * SIZE;

/// A sheet of paper, in points.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) struct Sheet {
    pub(crate) width: f32,
    pub(crate) height: f32,
}

impl Sheet {
    pub(crate) const LEFT: f32 = 20.0 * MM;
    const RIGHT: f32 = 15.0 * MM;

    pub(crate) const fn of(paper: Paper) -> Self {
        match paper {
            Paper::A4 => Self { width: 210.0 * MM, height: 297.0 * MM },
            Paper::Letter => Self { width: 612.0, height: 792.0 },
        }
    }

    /// The width between the margins.
    pub(crate) fn room(self) -> f32 {
        self.width - Self::LEFT - Self::RIGHT
    }
}

/// What every part of a document is set with.
pub(crate) struct Desk {
    pub(crate) shaper: Shaper,
    pub(crate) tags: RefCell<Tags>,
    /// The height between head and foot of a page.
    pub(crate) height: f32,
    borders: Cell<usize>,
}

impl Desk {
    pub(crate) fn new() -> Self {
        Self { shaper: Shaper::default(), tags: RefCell::default(), height: 0.0, borders: Cell::new(0) }
    }

    /// A new part of another.
    pub(crate) fn part(&self, of: Tag, part: Part) -> Tag {
        self.tags.borrow_mut().add(of, part)
    }

    pub(crate) fn paragraph(&self, of: Tag) -> Tag {
        self.part(of, Part::Paragraph)
    }

    /// A number for a frame.
    pub(crate) fn border(&self) -> usize {
        self.borders.replace(self.borders.get() + 1)
    }
}

pub(crate) fn refused(why: impl Into<String>) -> PdfError {
    PdfError::Typesetting(why.into())
}
