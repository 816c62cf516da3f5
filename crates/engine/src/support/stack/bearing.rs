//! The weakest face in a stack.

use super::crib::crib_capacity;
use super::joints::{Joint, OffCentre, joints};
use super::model::Stack;
use crate::catalogue::{Packing, PackingMaterial};
use crate::check::{Finding, Ledger, NoLines, Source, Status};
use crate::line;
use crate::support::{Contact, DesignBasis, Face, Timber, resistance, steel_strength, unconfirmed};
use ramwright_units::{Area, Force, Stress};

/// What a stack carries, and how.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct StackLoad<'a> {
    /// The greatest force.
    pub force: Force,
    /// What bears on its head, and its name; nothing if the load covers the head.
    pub head: Option<(Face, &'a str)>,
    /// Crossings that carry in each pair of crib layers; all of them if not stated.
    pub contacts_loaded: Option<u32>,
    /// How far the force stands off the middle.
    pub off: OffCentre,
}

/// The greatest stress in any face of a stack against what that face may bear; the weakest is named.
///
/// # Source
/// Contact areas by geometry, spread at 45 degrees from face to face and reduced to the area about the force; timber and steel
/// as their own checks; cribs by full crossings.
///
/// # Validity
/// Concentric pieces, the widest at the bottom. A face of which something is not known is not checked, unless another fails.
pub fn stack_bearing<L: Ledger>(book: &mut L, stack: &Stack<'_>, load: &StackLoad<'_>, basis: &DesignBasis) -> Finding {
    let joints = joints(stack, load.head, load.off);
    let mut worst: Option<(Finding, usize, usize)> = None;
    for (place, joint) in joints.iter().enumerate() {
        let mut note = |finding: Finding, which: usize| {
            if worst.as_ref().is_none_or(|(so_far, ..)| finding.is_worse_than(so_far)) {
                worst = Some((finding, place, which));
            }
        };
        match joint {
            Ok(joint) => {
                let faces = joint.faces().map(|piece| face(&mut NoLines, joint, piece, load, basis));
                faces.enumerate().for_each(|(which, finding)| note(finding, which));
            }
            Err(missing) => note(Finding::missing([missing.clone()]), 0),
        }
    }
    if !L::KEEPS {
        return worst.map_or_else(|| Finding::missing(["a stack with pieces in it"]), |(finding, ..)| finding);
    }
    // The worst is worked out again, this time with its lines.
    let chosen = worst.and_then(|(finding, place, which)| match joints.get(place)? {
        Ok(joint) => Some(Ok((joint, joint.faces().nth(which)?))),
        Err(_) => Some(Err(finding)),
    });
    match chosen {
        None => Finding::missing(["a stack with pieces in it"]),
        Some(Err(unknown)) => unknown,
        Some(Ok((joint, piece))) => face(book, joint, piece, load, basis).with_note(format!(
            "weakest: {} under {}, the face of {}; the widest pieces are taken to lie at the bottom",
            joint.below, joint.above, piece.id
        )),
    }
}

/// One face of a joint against its own strength.
fn face<L: Ledger>(
    book: &mut L,
    joint: &Joint<'_>,
    piece: &Packing,
    load: &StackLoad<'_>,
    basis: &DesignBasis,
) -> Finding {
    let whole = joint.sides.0 * joint.sides.1;
    // Written so that an area that is no number bears nothing.
    let bears = Area::ZERO < whole;
    if !bears {
        return Finding::judged(
            Status::Fail,
            format!("the force stands beyond the edge of {} under {}", joint.below, joint.above),
        );
    }
    let part = loaded_part(joint, load.contacts_loaded);
    let area = line!(book, A: Area = part * (a * b); part = part, a = joint.sides.0, b = joint.sides.1; Source::definition("contact area about the force: overlap of concentric pieces as far as the force spreads, or all crossings of two crib layers"));
    let strength = match piece.material {
        PackingMaterial::Steel => {
            let own = "line_of_force/design_basis/allowable/steel_bearing";
            let name = named(piece.yield_strength.is_some(), || format!("packing/{}/yield_strength", piece.id));
            steel_strength(piece.yield_strength, basis, (&name, own))
        }
        PackingMaterial::Hardwood | PackingMaterial::Softwood => {
            let timber = Timber { nds: piece.nds_species, en338: piece.en338_class };
            let own = "line_of_force/design_basis/allowable/timber_across_grain";
            let known = timber.nds.is_some() && timber.en338.is_some();
            let name = named(known, || format!("packing/{}/", piece.id));
            // Nothing is known of ends and neighbours, so that nothing is gained from them.
            resistance(book, &Contact::bare(joint.sides.0, joint.sides.1), timber, basis, (&name, own))
                .map(|found| (found.strength, found.force_factor, found.source))
        }
    };
    let (strength, factor, source) = match strength {
        Ok(found) => found,
        Err(name) => return Finding::missing([name]),
    };
    let timber = piece.material != PackingMaterial::Steel;
    let strength_source = source.clone();
    let demand = line!(book, sigma: Stress = gamma * stress_on(F, A); gamma = factor, F = load.force, A = area; Source::definition("force over area"));
    let limit = line!(book, sigma_lim: Stress = f; f = strength; source);
    let needed = area.m2() * (demand / limit) * 1e4;
    let finding = Finding::compare(demand, limit)
        .with_remedy(|| format!("a contact area of {:.0} cm2 at {} under {}", needed.ceil(), joint.below, joint.above));
    let finding = if timber { unconfirmed(finding, &strength_source) } else { finding };
    if !L::KEEPS {
        return finding;
    }
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

/// The name of an input, which is made only where it is missing: searches ask for many faces.
fn named(known: bool, name: impl FnOnce() -> String) -> String {
    if known { String::new() } else { name() }
}

/// The part of a crib joint that carries.
fn loaded_part(joint: &Joint<'_>, contacts_loaded: Option<u32>) -> f64 {
    match (joint.crossings, contacts_loaded) {
        (Some((crossings, _)), Some(loaded)) if loaded < crossings => f64::from(loaded) / f64::from(crossings),
        _ => 1.0,
    }
}

#[cfg(test)]
#[path = "bearing/tests.rs"]
pub(super) mod tests;
