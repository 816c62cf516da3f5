//! The weakest face in a stack.

use super::crib::crib_capacity;
use super::model::{Stack, sides};
use crate::catalogue::{Packing, PackingForm, PackingMaterial};
use crate::check::{Finding, Ledger, NoLines, Source};
use crate::line;
use crate::support::{Contact, DesignBasis, Face, Timber, resistance, steel_strength};
use ramwright_units::{Area, Force, Length, Stress};

/// What a stack carries, and how.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct StackLoad<'a> {
    /// The greatest force.
    pub force: Force,
    /// What bears on its head, and its name; nothing if the load covers the head.
    pub head: Option<(Face, &'a str)>,
    /// Crossings that carry in each pair of crib layers; all of them if not stated.
    pub contacts_loaded: Option<u32>,
}

/// A place where something bears on a piece.
struct Joint<'a> {
    above: String,
    below: String,
    sides: (Length, Length),
    crossings: Option<(u32, Length)>,
    pieces: Vec<&'a Packing>,
}

/// The greatest stress in any face of a stack against what that face may bear; the weakest is named.
///
/// # Source
/// Contact areas by geometry; timber and steel as their own checks; cribs by full crossings.
///
/// # Validity
/// Concentric pieces, the widest at the bottom; no spread of force inside a piece.
pub fn stack_bearing(book: &mut impl Ledger, stack: &Stack<'_>, load: &StackLoad<'_>, basis: &DesignBasis) -> Finding {
    let joints = match joints(stack, load) {
        Ok(joints) => joints,
        Err(missing) => return Finding::missing([missing]),
    };
    let mut worst: Option<(Finding, usize, usize)> = None;
    for (place, joint) in joints.iter().enumerate() {
        for (which, piece) in joint.pieces.iter().enumerate() {
            let finding = face(&mut NoLines, joint, piece, load, basis);
            if worst.as_ref().is_none_or(|(so_far, ..)| finding.is_worse_than(so_far)) {
                worst = Some((finding, place, which));
            }
        }
    }
    // The worst is worked out again, this time with its lines.
    let chosen = worst.and_then(|(_, place, which)| {
        let joint = joints.get(place)?;
        Some((joint, *joint.pieces.get(which)?))
    });
    let Some((joint, piece)) = chosen else { return Finding::missing(["a stack with pieces in it"]) };
    face(book, joint, piece, load, basis).with_note(format!(
        "weakest: {} under {}, the face of {}; the widest pieces are taken to lie at the bottom",
        joint.below, joint.above, piece.id
    ))
}

/// One face of a joint against its own strength.
fn face(
    book: &mut impl Ledger,
    joint: &Joint<'_>,
    piece: &Packing,
    load: &StackLoad<'_>,
    basis: &DesignBasis,
) -> Finding {
    let whole = joint.sides.0 * joint.sides.1;
    let part = loaded_part(joint, load.contacts_loaded);
    let area = line!(book, A: Area = part * (a * b); part = part, a = joint.sides.0, b = joint.sides.1; Source::definition("contact area: overlap of concentric pieces, or all crossings of two crib layers"));
    let strength = match piece.material {
        PackingMaterial::Steel => {
            let names = (
                &*format!("packing/{}/yield_strength", piece.id),
                "line_of_force/design_basis/allowable/steel_bearing",
            );
            steel_strength(piece.yield_strength, basis, names)
        }
        PackingMaterial::Hardwood | PackingMaterial::Softwood => {
            let timber = Timber { nds: piece.nds_species, en338: piece.en338_class };
            let names =
                (&*format!("packing/{}/", piece.id), "line_of_force/design_basis/allowable/timber_across_grain");
            // Nothing is known of ends and neighbours, so that nothing is gained from them.
            resistance(book, &Contact::bare(joint.sides.0, joint.sides.1), timber, basis, names)
                .map(|found| (found.strength, found.force_factor, found.source))
        }
    };
    let (strength, factor, source) = match strength {
        Ok(found) => found,
        Err(name) => return Finding::missing([name]),
    };
    let demand = line!(book, sigma: Stress = gamma * stress_on(F, A); gamma = factor, F = load.force, A = area; Source::definition("force over area"));
    let limit = line!(book, sigma_lim: Stress = f; f = strength; source);
    let needed = area.m2() * (demand / limit) * 1e4;
    let finding = Finding::compare(demand, limit)
        .with_remedy(|| format!("a contact area of {:.0} cm2 at {} under {}", needed.ceil(), joint.below, joint.above));
    match joint.crossings {
        Some((crossings, width)) => {
            let loaded = load.contacts_loaded.map_or(crossings, |loaded| loaded.min(crossings));
            finding.with_hand(
                "strength x member width squared x crossings loaded",
                crib_capacity(limit, width, loaded),
                Force::from_n(limit.pa() * area.m2()),
            )
        }
        None => finding.with_hand("force over contact area, F / A", whole.stress_under(load.force), demand),
    }
}

/// The part of a crib joint that carries.
fn loaded_part(joint: &Joint<'_>, contacts_loaded: Option<u32>) -> f64 {
    match (joint.crossings, contacts_loaded) {
        (Some((crossings, _)), Some(loaded)) if loaded < crossings => f64::from(loaded) / f64::from(crossings),
        _ => 1.0,
    }
}

/// Every joint of a stack from the head down.
fn joints<'a>(stack: &Stack<'a>, load: &StackLoad<'_>) -> Result<Vec<Joint<'a>>, String> {
    let mut joints = Vec::new();
    if let (Some((face, name)), Some(top)) = (load.head, stack.head()) {
        let overlap = over(face, top)?;
        joints.push(Joint {
            above: name.to_owned(),
            below: top.id.clone(),
            sides: overlap,
            crossings: None,
            pieces: vec![top],
        });
    } else if let Some(top) = stack.head() {
        let below = top.id.clone();
        joints.push(Joint {
            above: "the load".into(),
            below,
            sides: bearing_sides(top)?,
            crossings: None,
            pieces: vec![top],
        });
    }
    for pair in stack.layers.windows(2).rev() {
        let [below, above] = pair else { continue };
        joints.push(between(below, above)?);
    }
    if let Some(bottom) = stack.layers.first() {
        let below = "the foundation".to_owned();
        joints.push(Joint {
            above: bottom.id.clone(),
            below,
            sides: bearing_sides(bottom)?,
            crossings: None,
            pieces: vec![bottom],
        });
    }
    Ok(joints)
}

fn between<'a>(below: &'a Packing, above: &'a Packing) -> Result<Joint<'a>, String> {
    let names = (above.id.clone(), below.id.clone());
    let joint =
        |sides, crossings| Joint { above: names.0, below: names.1, sides, crossings, pieces: vec![below, above] };
    if let (PackingForm::CribLayer, PackingForm::CribLayer) = (below.form, above.form) {
        let ((n, w), (m, v)) = (members(below)?, members(above)?);
        let sides = (w * f64::from(n), v * f64::from(m));
        return Ok(joint(sides, Some((n.saturating_mul(m), w.min(v)))));
    }
    let face = Face::Rectangle(sides(above).0, sides(above).1);
    let under = over(face, below)?;
    let onto = over(Face::Rectangle(sides(below).0, sides(below).1), above)?;
    let least = if (under.0 * under.1) <= (onto.0 * onto.1) { under } else { onto };
    Ok(joint(least, None))
}

fn members(layer: &Packing) -> Result<(u32, Length), String> {
    let count = layer.members.ok_or_else(|| format!("packing/{}/members", layer.id))?;
    let width = layer.member_width.ok_or_else(|| format!("packing/{}/member_width", layer.id))?;
    Ok((count, width))
}

/// Sides of what a piece offers to something that covers it: of an open crib layer, its members only.
fn bearing_sides(piece: &Packing) -> Result<(Length, Length), String> {
    let (long, short) = sides(piece);
    if piece.form != PackingForm::CribLayer {
        return Ok((long, short));
    }
    let (count, width) = members(piece)?;
    Ok((long, short.min(width * f64::from(count))))
}

/// The overlap of a face with the piece under it, concentric.
fn over(face: Face, piece: &Packing) -> Result<(Length, Length), String> {
    let (a, b) = face.sides();
    let (long, short) = (a.max(b), a.min(b));
    let offered = bearing_sides(piece)?;
    // Members with gaps between them: how many of them a narrow face meets is not known.
    let gaps = Length::from_mm(0.5) < sides(piece).1 - offered.1;
    if gaps && short < sides(piece).1 {
        return Err(format!("a piece that reaches across all members of packing/{}", piece.id));
    }
    Ok((long.min(offered.0), short.min(offered.1)))
}

#[cfg(test)]
#[path = "bearing/tests.rs"]
pub(super) mod tests;
