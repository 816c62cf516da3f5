//! Which pieces may stand in a stack, with which others and how high: the checks of stacks as rules for the planner.
//!
//! What the planner counts as one stack is held against the same functions as a finished one: strength of every pair of
//! pieces that may lie on each other, overhang, slenderness, and plumb at the greatest height. What is not known rules
//! nothing out; the verification says so.

use super::kernel::KindSet;
use crate::catalogue::{Packing, PackingForm};
use crate::check::{NoLines, Status};
use crate::support::stack::{
    OffCentre, Stack, StackLoad, greatest_height, overhang_check, plumb_height, stack_bearing,
};
use crate::support::{DesignBasis, Face};
use ramwright_units::{Force, Length};

/// What presses on the stacks, as far as it is known; the worst of all points.
#[derive(Clone, Debug, PartialEq)]
pub struct StackDemand<'a> {
    /// By whose rules pieces are checked; nothing is known of their strength without it.
    pub basis: Option<&'a DesignBasis>,
    /// On a base stack, with what the stop pressure adds.
    pub on_base: Pressed,
    /// On a holding stack.
    pub on_holding: Pressed,
    /// What bears on the heads of the base stacks.
    pub heads: Vec<Face>,
    /// Crossings that carry in each pair of crib layers.
    pub contacts_loaded: Option<u32>,
    /// Pieces of which one must stand under each ram, since the foundation does not carry the ram itself; nothing if it does.
    pub base_feet: Option<Vec<String>>,
    /// Pieces that the foundation does not carry under the load.
    pub weak_feet: Vec<String>,
}

/// What presses on a stack of one place.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Pressed {
    /// The greatest force.
    pub force: Force,
    /// How far the greatest force stands off the middle.
    pub off: OffCentre,
    /// How far the least force does, which decides whether the stack is plumb enough.
    pub plumb: OffCentre,
}

impl Pressed {
    /// Nothing is known.
    pub const UNKNOWN: Self = Self { force: Force::ZERO, off: OffCentre::NONE, plumb: OffCentre::NONE };
}

impl Default for Pressed {
    fn default() -> Self {
        Self::UNKNOWN
    }
}

impl StackDemand<'_> {
    /// Nothing is known.
    pub const UNKNOWN: Self = StackDemand {
        basis: None,
        on_base: Pressed::UNKNOWN,
        on_holding: Pressed::UNKNOWN,
        heads: Vec::new(),
        contacts_loaded: None,
        base_feet: None,
        weak_feet: Vec::new(),
    };

    /// Whether it may rule out a stack that the rules without it allow.
    pub(crate) fn rules_out(&self) -> bool {
        let leans = |on: Pressed| on.plumb != OffCentre::NONE;
        // Without a basis no piece is found too weak, whatever presses on it.
        self.basis.is_some()
            || self.contacts_loaded.is_some()
            || self.base_feet.is_some()
            || !self.weak_feet.is_empty()
            || leans(self.on_base)
            || leans(self.on_holding)
    }
}

/// In what order the pieces of a holding stack lie.
#[derive(Clone, Copy, PartialEq, Eq)]
pub(super) enum Order {
    /// As they arrive.
    Arrival,
    /// The widest at the bottom: the stack is rebuilt.
    WidestBelow,
}

/// Rules for one kind of piece.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct KindRules {
    pub(super) base_limit: Length,
    pub(super) holding_limit: Length,
    /// Whether it may stand under a ram at all.
    pub(super) base: bool,
    /// Whether it may stand under the load at all.
    pub(super) holding: bool,
    pub(super) base_apart: KindSet,
    pub(super) holding_apart: KindSet,
    pub(super) spread_by: KindSet,
}

/// The kinds of which one must stand in every base stack; nothing if none must.
pub(super) fn base_feet(kinds: &[&Packing], demand: &StackDemand<'_>) -> Option<KindSet> {
    let feet = demand.base_feet.as_ref()?;
    Some(set(kinds.iter().enumerate().filter(|(_, piece)| feet.contains(&piece.id))))
}

/// The rules for kinds of piece under a demand, for stacks no higher than `most`.
pub(super) fn rules(kinds: &[&Packing], demand: &StackDemand<'_>, order: Order, most: Length) -> Vec<KindRules> {
    let crib = kinds.iter().any(|piece| piece.form == PackingForm::CribLayer);
    let contacts = demand.contacts_loaded.filter(|_| crib);
    let limit = |piece: &Packing, under_a_ram: bool, off: OffCentre| {
        let slender = greatest_height(piece, under_a_ram, contacts);
        plumb_height(piece, off).map_or(slender, |plumb| slender.min(plumb))
    };
    let judge = Judge { demand, most };
    let base_apart = judge.pairs_apart(kinds, Place::Base, Order::WidestBelow);
    let holding_apart = judge.pairs_apart(kinds, Place::Holding, order);
    let of = |sets: &[KindSet], index: usize| sets.get(index).copied().unwrap_or_default();
    let of_kind = |(index, &piece): (usize, &&Packing)| {
        let needs = judge.needs(piece);
        let spreads = |&(_, other): &(usize, &&Packing)| judge.spreads(other, piece);
        let spread_by = if needs { set(kinds.iter().enumerate().filter(spreads)) } else { KindSet::default() };
        KindRules {
            base_limit: limit(piece, true, demand.on_base.plumb),
            holding_limit: limit(piece, false, demand.on_holding.plumb),
            base: judge.bears(&[piece], Place::Base) && !(needs && spread_by.is_empty()),
            holding: judge.bears(&[piece], Place::Holding) && !demand.weak_feet.contains(&piece.id),
            base_apart: of(&base_apart, index),
            holding_apart: of(&holding_apart, index),
            spread_by,
        }
    };
    kinds.iter().enumerate().map(of_kind).collect()
}

fn set<'a>(kinds: impl Iterator<Item = (usize, &'a &'a Packing)>) -> KindSet {
    kinds.fold(KindSet::default(), |set, (kind, _)| set.with(KindSet::one(kind)))
}

#[derive(Clone, Copy, PartialEq, Eq)]
enum Place {
    Base,
    Holding,
}

struct Judge<'a> {
    demand: &'a StackDemand<'a>,
    most: Length,
}

impl Judge<'_> {
    /// Whether pieces, from the bottom up and covered by what lies on them, are not found too weak.
    fn bears(&self, pieces: &[&Packing], place: Place) -> bool {
        let pressed = match place {
            Place::Base => self.demand.on_base,
            Place::Holding => self.demand.on_holding,
        };
        self.found(pieces, pressed, None)
    }

    fn found(&self, pieces: &[&Packing], pressed: Pressed, head: Option<Face>) -> bool {
        let Some(basis) = self.demand.basis else { return true };
        // The pair may lie at the foot of a stack, where the force stands farthest off.
        let load = StackLoad {
            force: pressed.force,
            head: head.map(|face| (face, "")),
            contacts_loaded: self.demand.contacts_loaded,
            off: OffCentre { at_head: pressed.off.at(self.most), per_height: 0.0 },
        };
        stack_bearing(&mut NoLines, &Stack::in_order(pieces), &load, basis).status() != Status::Fail
    }

    /// Whether a piece is too weak right under a ram.
    fn needs(&self, piece: &Packing) -> bool {
        self.demand.heads.iter().any(|&head| !self.under(&[piece], head))
    }

    /// Whether a piece lies above another in a base stack and spreads the force enough for it.
    fn spreads(&self, above: &Packing, below: &Packing) -> bool {
        let pieces = Stack::in_order(&[above, below]).widest_below();
        let in_this_order = above.id != below.id && pieces.head().is_some_and(|head| head.id == above.id);
        in_this_order && self.demand.heads.iter().all(|&head| self.under(&[below, above], head))
    }

    fn under(&self, pieces: &[&Packing], head: Face) -> bool {
        self.found(pieces, self.demand.on_base, Some(head))
    }

    /// For each kind those that may not lie on it, nor it on them: each pair is asked for once.
    fn pairs_apart(&self, kinds: &[&Packing], place: Place, order: Order) -> Vec<KindSet> {
        let mut sets = vec![KindSet::default(); kinds.len()];
        for (index, one) in kinds.iter().enumerate() {
            for (other_index, other) in kinds.iter().enumerate().skip(index + 1) {
                if self.apart(one, other, place, order) {
                    for (at, kind) in [(index, other_index), (other_index, index)] {
                        if let Some(set) = sets.get_mut(at) {
                            *set = set.with(KindSet::one(kind));
                        }
                    }
                }
            }
        }
        sets
    }

    /// Whether two kinds may not lie on each other.
    fn apart(&self, one: &Packing, other: &Packing, place: Place, order: Order) -> bool {
        let sorted = Stack::in_order(&[one, other]).widest_below();
        let pieces: Vec<&Packing> = sorted.pieces().collect();
        let reversed: Vec<&Packing> = sorted.pieces().rev().collect();
        let stands = |pieces: &[&Packing]| {
            let overhang = overhang_check(&mut NoLines, &Stack::in_order(pieces)).status() != Status::Fail;
            overhang && self.bears(pieces, place)
        };
        !stands(&pieces) || order == Order::Arrival && !stands(&reversed)
    }
}
