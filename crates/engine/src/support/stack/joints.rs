//! Where something bears on a piece, and how much of the face the force reaches.
//!
//! From what bears on the head the force spreads at 45 degrees through each piece, in timber along the grain only, and no
//! farther than the piece goes (common practice, no source). A force
//! off the middle counts on the part of the face that lies concentric about it: a side less twice the distance.

use super::model::{Stack, sides};
use crate::catalogue::{Packing, PackingForm, PackingMaterial};
use crate::support::Face;
use ramwright_units::Length;

/// How far a force stands off the middle of a column, and how that grows on the way down.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct OffCentre {
    /// At the head of the stack.
    pub at_head: Length,
    /// More of it for each unit of height below: lean, and sideways force over force.
    pub per_height: f64,
}

impl OffCentre {
    /// In the middle all the way.
    pub const NONE: Self = Self { at_head: Length::ZERO, per_height: 0.0 };

    /// At a depth below the head.
    pub fn at(self, depth: Length) -> Length {
        self.at_head + depth * self.per_height
    }
}

/// A place where something bears on a piece.
pub(super) struct Joint<'a> {
    pub(super) above: &'a str,
    pub(super) below: &'a str,
    /// Sides of the area that bears.
    pub(super) sides: (Length, Length),
    /// Crossings of two crib layers, and the width of a member.
    pub(super) crossings: Option<(u32, Length)>,
    /// The piece below, and the one above if it is one.
    pub(super) pieces: (&'a Packing, Option<&'a Packing>),
}

impl<'a> Joint<'a> {
    /// The pieces whose faces bear here.
    pub(super) fn faces(&self) -> impl Iterator<Item = &'a Packing> + use<'a> {
        std::iter::once(self.pieces.0).chain(self.pieces.1)
    }
}

/// Every joint of a stack from the head down; in place of one that cannot be worked out, what is missing.
pub(super) fn joints<'a>(
    stack: &Stack<'a>,
    head: Option<(Face, &'a str)>,
    off: OffCentre,
) -> Vec<Result<Joint<'a>, String>> {
    let mut joints = Vec::new();
    let Some(top) = stack.head() else { return joints };
    let (mut reach, name) = match head {
        Some((face, name)) => (ordered(face.sides()), name),
        None => (sides(top), "the load"),
    };
    let mut depth = Length::ZERO;
    let mut above: Option<&Packing> = None;
    for piece in stack.pieces().rev() {
        joints.push(joint(above, piece, name, reach, off.at(depth)));
        reach = spread(reach, piece);
        depth = depth + piece.thickness;
        above = Some(piece);
    }
    if let Some(bottom) = above {
        joints.push(bearing(bottom, reach, off.at(depth)).map(|sides| Joint {
            above: &bottom.id,
            below: "the foundation",
            sides,
            crossings: None,
            pieces: (bottom, None),
        }));
    }
    joints
}

impl Stack<'_> {
    /// Sides of the area in which the foot of the stack bears on the foundation.
    ///
    /// # Errors
    /// What is missing.
    pub fn foot_under(&self, head: Option<(Face, &str)>, off: OffCentre) -> Result<Option<(Length, Length)>, String> {
        match joints(self, head, off).pop() {
            None => Ok(None),
            Some(joint) => joint.map(|joint| Some(joint.sides)),
        }
    }
}

fn ordered((a, b): (Length, Length)) -> (Length, Length) {
    (a.max(b), a.min(b))
}

/// The face that a force has below a piece: 45 degrees, and no farther than the piece. Timber spreads it along the grain only.
fn spread(reach: (Length, Length), piece: &Packing) -> (Length, Length) {
    let (long, short) = sides(piece);
    let across = match piece.material {
        PackingMaterial::Steel => piece.thickness,
        PackingMaterial::Hardwood | PackingMaterial::Softwood => Length::ZERO,
    };
    let grown = (reach.0 + 2.0 * piece.thickness, reach.1 + 2.0 * across);
    (grown.0.min(long), grown.1.min(short))
}

fn joint<'a>(
    above: Option<&'a Packing>,
    below: &'a Packing,
    name: &'a str,
    reach: (Length, Length),
    off: Length,
) -> Result<Joint<'a>, String> {
    let made = |sides, crossings| Joint {
        above: above.map_or(name, |piece| &piece.id),
        below: &below.id,
        sides,
        crossings,
        pieces: (below, above),
    };
    if let Some(above) = above.filter(|above| [above.form, below.form] == [PackingForm::CribLayer; 2]) {
        let ((n, w), (m, v)) = (members(below)?, members(above)?);
        // All crossings of both outlines, in the proportion in which the force reaches the outlines.
        let outline = overlap(sides(above), sides(below));
        let reached = about(overlap(outline, reach), off);
        let all = (w * f64::from(n), v * f64::from(m));
        let part = (reached.0 / outline.0, reached.1 / outline.1);
        return Ok(made((all.0 * part.0, all.1 * part.1), Some((n.saturating_mul(m), w.min(v)))));
    }
    let face = above.map_or(reach, |above| overlap(sides(above), reach));
    let under = bearing(below, face, off)?;
    let least = match above {
        None => under,
        Some(above) => {
            let onto = bearing(above, overlap(sides(below), reach), off)?;
            if (under.0 * under.1) <= (onto.0 * onto.1) { under } else { onto }
        }
    };
    Ok(made(least, None))
}

fn overlap(a: (Length, Length), b: (Length, Length)) -> (Length, Length) {
    (a.0.min(b.0), a.1.min(b.1))
}

/// The part of an area that lies concentric about a force off its middle, the shorter way.
fn about((long, short): (Length, Length), off: Length) -> (Length, Length) {
    (long, (short - 2.0 * off).max(Length::ZERO))
}

fn members(layer: &Packing) -> Result<(u32, Length), String> {
    let count = layer.members.ok_or_else(|| format!("packing/{}/members", layer.id))?;
    let width = layer.member_width.ok_or_else(|| format!("packing/{}/member_width", layer.id))?;
    Ok((count, width))
}

/// Where a face bears on a piece: of a crib layer on its members alone.
fn bearing(piece: &Packing, face: (Length, Length), off: Length) -> Result<(Length, Length), String> {
    let (long, short) = sides(piece);
    let met = overlap(face, (long, short));
    if piece.form != PackingForm::CribLayer {
        return Ok(about(met, off));
    }
    let (count, width) = members(piece)?;
    let timber = short.min(width * f64::from(count));
    // Members with gaps between them: how many of them a narrow face meets is not known.
    let gaps = Length::from_mm(0.5) < short - timber;
    if gaps && met.1 < short {
        return Err(format!("a piece that reaches across all members of packing/{}", piece.id));
    }
    let met = about(met, off);
    Ok((met.0, met.1 * (timber / short)))
}
