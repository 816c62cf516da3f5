//! A stack as layers from the bottom up.

use crate::catalogue::{Packing, PackingForm};
use crate::packing_lift::PieceCount;
use ramwright_units::Length;
use thiserror::Error;

/// A stack names a piece that is not on site.
#[derive(Clone, Debug, PartialEq, Eq, Error)]
#[error("packing/{0}")]
pub struct UnknownPiece(pub String);

/// Pieces from the bottom up.
#[derive(Clone, Debug, PartialEq)]
pub struct Stack<'a> {
    pub(super) layers: Vec<&'a Packing>,
}

/// Layers for which room is made at once.
const MOST_AT_ONCE: usize = 64;

impl<'a> Stack<'a> {
    /// The stack of so many pieces of each kind: the widest at the bottom, those of one area by their ids.
    ///
    /// # Errors
    /// [`UnknownPiece`].
    pub fn of(counts: &[PieceCount], packing: &'a [Packing]) -> Result<Self, UnknownPiece> {
        let pieces = counts.iter().fold(0, |sum: u32, count| sum.saturating_add(count.count));
        let mut layers = Vec::with_capacity(usize::try_from(pieces).unwrap_or(0).min(MOST_AT_ONCE));
        for count in counts {
            let piece = packing.iter().find(|piece| piece.id == count.piece);
            let piece = piece.ok_or_else(|| UnknownPiece(count.piece.clone()))?;
            layers.extend((0..count.count).map(|_| piece));
        }
        Ok(Self { layers }.widest_below())
    }

    /// Pieces as they lie, from the bottom up.
    pub(crate) fn in_order(pieces: &[&'a Packing]) -> Self {
        Self { layers: pieces.to_vec() }
    }

    /// The same pieces with the widest at the bottom, those of one area by their ids.
    pub(crate) fn widest_below(mut self) -> Self {
        self.layers.sort_by(|a: &&Packing, b: &&Packing| {
            let area = |piece: &Packing| (piece.length * piece.width).m2();
            area(b).total_cmp(&area(a)).then_with(|| a.id.cmp(&b.id))
        });
        self
    }

    /// Whether nothing stands there.
    pub fn is_empty(&self) -> bool {
        self.layers.is_empty()
    }

    /// Height, not loaded.
    pub fn height(&self) -> Length {
        self.layers.iter().map(|piece| piece.thickness).sum()
    }

    /// Least side of any piece; nothing for an empty stack.
    pub fn least_width(&self) -> Option<Length> {
        self.layers.iter().map(|piece| piece.length.min(piece.width)).reduce(Length::min)
    }

    /// The highest piece.
    pub fn head(&self) -> Option<&'a Packing> {
        self.layers.last().copied()
    }

    /// Its pieces from the bottom up.
    pub fn pieces(&self) -> impl DoubleEndedIterator<Item = &'a Packing> {
        self.layers.iter().copied()
    }

    /// Whether layers of a crib are in it.
    pub fn has_crib(&self) -> bool {
        self.layers.iter().any(|piece| piece.form == PackingForm::CribLayer)
    }
}

/// Sides of a piece in plan, the longer first.
pub(super) fn sides(piece: &Packing) -> (Length, Length) {
    (piece.length.max(piece.width), piece.length.min(piece.width))
}
