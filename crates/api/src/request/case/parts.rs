//! Weight and centre of gravity from a list of parts.

use super::Reader;
use super::centre::within;
use super::load::Whole;
use crate::problem::FaultCode;
use crate::request::case_wire::PartSent;
use crate::request::context::Context;
use crate::sent::Sent;
use ramwright_engine::load::{Part, Record, weigh_parts};
use ramwright_units::Length;

impl Reader<'_> {
    /// The load that the parts make.
    pub(super) fn parts_as_whole(&self, places: &[(Length, Length)], context: &mut Context<'_>) -> Option<Whole> {
        let beside =
            [(self.sent.weight.is_some(), "weight"), (self.sent.centre_of_gravity.is_some(), "centre_of_gravity")];
        let detail = "the parts give weight and centre of gravity, so this is not used";
        self.not_used(&beside, detail, "leave it out, or leave the parts out", context);
        let sent = self.sent.parts.as_ref()?;
        self.unique_parts(&sent.0, context);
        let here = self.at.field("parts");
        let lacks = |is_none: fn(&PartSent) -> bool| sent.0.iter().any(is_none);
        let weight_tolerance =
            if lacks(|part| part.weight_tolerance.is_none()) { self.weight_tolerance(context) } else { 0.0 };
        if !lacks(|part| part.weight_tolerance.is_none()) && self.sent.weight_tolerance.is_some() {
            context.inconsistent(
                &self.at.field("weight_tolerance"),
                "every part states its own, so this is not used",
                "leave it out",
            );
        }
        let tolerance = if lacks(|part| part.tolerance.is_none()) {
            self.place_tolerance(&here, "the place of a part", places, context)
        } else {
            Length::ZERO
        };
        let part = |part: &PartSent| {
            let tolerance = part.tolerance.as_ref().map_or(tolerance, Sent::get);
            Part {
                id: part.id.0.clone(),
                weight: within(
                    part.weight.get().force,
                    part.weight_tolerance.as_ref().map_or(weight_tolerance, crate::sent::Number::get),
                ),
                x: part.x.get(),
                y: part.y.get(),
                z: part.z.as_ref().map(Sent::get),
                tolerance,
                z_tolerance: tolerance,
            }
        };
        let parts: Vec<Part> = sent.0.iter().map(part).collect();
        match weigh_parts(&parts) {
            Ok(whole) => Some(Whole {
                weight: whole.weight,
                centre: whole.centre,
                record: Record { lines: whole.lines, weighed: None, ..Record::default() },
            }),
            Err(error) => {
                context.inconsistent(&here, error.to_string(), "give at least one part, each with a weight above zero");
                None
            }
        }
    }

    fn unique_parts(&self, parts: &[PartSent], context: &mut Context<'_>) {
        for (index, part) in parts.iter().enumerate() {
            if parts.iter().take(index).any(|other| other.id == part.id) {
                let here = self.at.field("parts").item(index).field("id");
                let fault = here.fault(FaultCode::DuplicateId, format!("the id `{}` is given twice", part.id.0));
                context.faults.push(fault.with_given(part.id.0.as_str()));
            }
        }
    }
}
