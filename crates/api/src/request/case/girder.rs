//! A girder of a request.

use super::Reader;
use super::centre::{about, within};
use super::load::Whole;
use crate::read::Pointer;
use crate::request::case_wire::{GirderLoadSent, GirderSent};
use crate::request::context::Context;
use crate::sent::Sent;
use ramwright_engine::load::{Centre, GirderLoad, GirderModel, GirderSection, Record, Rule};
use ramwright_units::{Force, Length, Range};

impl Reader<'_> {
    /// Weight and centre of gravity of the girder's loads, and the girder as the rule by which its supports share.
    pub(super) fn girder(
        &self,
        sent: &GirderSent,
        places: &[(Length, Length)],
        context: &mut Context<'_>,
    ) -> Option<(Whole, Rule)> {
        let beside = [
            (self.sent.weight.is_some(), "weight"),
            (self.sent.centre_of_gravity.is_some(), "centre_of_gravity"),
            (self.sent.parts.is_some(), "parts"),
            (self.sent.sharing.is_some(), "sharing"),
        ];
        self.not_used(&beside, "the girder's loads give it", "leave it out, or leave the girder out", context);
        let here = self.at.field("girder");
        let tolerance = sent.tolerance.as_ref().map_or_else(
            || self.place_tolerance(&here.field("tolerance"), "the place of each load of the girder", places, context),
            Sent::get,
        );
        let by = self.weight_tolerance(context);
        let stiff = self.sent.support_stiffness.is_some() || self.points.iter().all(|point| point.states_stiffness());
        if !stiff {
            context.inconsistent(
                &self.at.field("support_stiffness"),
                "a girder shares by the stiffness of its supports, and it is not known at every point",
                "give it, or `stiffness` or `springs` at every point",
            );
        }
        let model = model(sent, &here, context).filter(|_| stiff)?;
        let weight: Force = model.loads.iter().map(GirderLoad::weight).sum();
        let middle = model.loads.iter().fold(Length::ZERO, |sum, load| sum + load.middle() * (load.weight() / weight));
        let y = places.first().map_or(Length::ZERO, |place| place.1);
        let whole = Whole {
            weight: within(weight, by),
            // Across itself a girder is not looked at; see the check of tipping.
            centre: Centre { x: about(middle, tolerance), y: Range::new(y, y, y), z: sent.z.as_ref().map(Sent::get) },
            record: Record::default(),
        };
        Some((whole, Rule::Girder(model)))
    }
}

fn model(sent: &GirderSent, here: &Pointer, context: &mut Context<'_>) -> Option<GirderModel> {
    let (from, to) = (sent.from.get(), sent.to.get());
    if to <= from {
        context.inconsistent(&here.field("to"), "the girder ends before it begins", "give `to` greater than `from`");
        return None;
    }
    let sections: Vec<GirderSection> = sent
        .sections
        .0
        .iter()
        .map(|section| GirderSection {
            from: section.from.get(),
            modulus: section.modulus.get(),
            second_moment: section.second_moment.get(),
        })
        .collect();
    let mut sound = true;
    for (index, section) in sections.iter().enumerate() {
        let in_order = match index.checked_sub(1).and_then(|before| sections.get(before)) {
            None => section.from.m().to_bits() == from.m().to_bits(),
            Some(before) => before.from < section.from && section.from < to,
        };
        if !in_order {
            sound = false;
            context.inconsistent(
                &here.field("sections").item(index).field("from"),
                "sections follow each other from the beginning of the girder",
                "the first begins where the girder does, each next one farther on",
            );
        }
    }
    let loads: Vec<Option<GirderLoad>> = sent
        .loads
        .0
        .iter()
        .enumerate()
        .map(|(index, load)| stretch(load, (from, to), &here.field("loads").item(index), context))
        .collect();
    let loads: Option<Vec<GirderLoad>> = loads.into_iter().collect();
    Some(GirderModel { from, to, sections, loads: loads.filter(|_| sound)? })
}

fn stretch(
    sent: &GirderLoadSent,
    (begins, ends): (Length, Length),
    here: &Pointer,
    context: &mut Context<'_>,
) -> Option<GirderLoad> {
    let weight = sent.weight.get().force;
    let on = |at: Length| begins <= at && at <= ends;
    match (&sent.x, &sent.from, &sent.to) {
        (Some(x), None, None) if on(x.get()) => Some(GirderLoad::Point { at: x.get(), weight }),
        (None, Some(from), Some(to)) if on(from.get()) && on(to.get()) && from.get() < to.get() => {
            Some(GirderLoad::Uniform { from: from.get(), to: to.get(), weight })
        }
        _ => {
            context.inconsistent(
                here,
                "a load stands at `x`, or evenly between `from` and `to`, on the girder",
                "give `x` alone, or `from` and a greater `to`, within the ends of the girder",
            );
            None
        }
    }
}
