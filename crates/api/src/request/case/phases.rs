//! What carries in each phase of a request.

use super::Reader;
use crate::problem::FaultCode;
use crate::read::Pointer;
use crate::request::case_wire::{PhaseSent, PointIds};
use crate::request::context::Context;
use crate::request::words::PhaseWord;
use crate::sent::Sent;
use ramwright_engine::check::{Phase, Source};
use ramwright_engine::load::{Carrier, OwnBearing, PhasePlan};

impl Reader<'_> {
    /// The phases, in the order in which they were sent; none if none were.
    pub(super) fn phases(&self, context: &mut Context<'_>) -> Option<Vec<PhasePlan>> {
        let Some(sent) = &self.sent.phases else {
            context.assume_choice(
                &self.at.field("phases"),
                "the rams of every point carry by themselves, not linked with those of another",
                Source::definition("default phases"),
            );
            return Some(Vec::new());
        };
        let here = self.at.field("phases");
        if !sent.0.iter().any(|phase| phase.phase == PhaseWord::Raising) {
            context.inconsistent(
                &here,
                "no phase says what carries while the load is raised",
                "add one with `\"phase\": \"raising\"`",
            );
            return None;
        }
        // Every phase is read, so that no fault hides another.
        let read: Vec<Option<PhasePlan>> =
            sent.0.iter().enumerate().map(|(index, phase)| self.phase(phase, &here.item(index), context)).collect();
        read.into_iter().collect()
    }

    fn phase(&self, sent: &PhaseSent, here: &Pointer, context: &mut Context<'_>) -> Option<PhasePlan> {
        let mut carriers: Vec<Option<Carrier>> = vec![None; self.points.len()];
        let mut sound = true;
        let lists = [
            ("on_collars", &sent.on_collars, Carrier::Collar),
            ("on_packing", &sent.on_packing, Carrier::Packing),
            ("not_carrying", &sent.not_carrying, Carrier::Nothing),
        ];
        for (name, list, carrier) in lists {
            let Some(list) = list else { continue };
            sound &= self.claim(list, carrier, &mut carriers, &here.field(name), context).is_some();
        }
        let mut linked = Vec::new();
        for (index, group) in sent.linked.iter().flat_map(|groups| &groups.0).enumerate() {
            let at = here.field("linked").item(index);
            match self.claim(group, Carrier::Ram, &mut carriers, &at, context) {
                Some(points) => {
                    sound &= self.areas(&points, &at, context);
                    linked.push(points);
                }
                None => sound = false,
            }
        }
        let own_bearings = self.own_bearings(sent, here, context)?;
        let phase = match sent.phase {
            PhaseWord::Raising => Phase::Raising,
            PhaseWord::Pause => Phase::Pause,
            PhaseWord::Holding => Phase::Holding,
            PhaseWord::Lowering => Phase::Lowering,
        };
        let carriers = carriers.into_iter().map(|carrier| carrier.unwrap_or(Carrier::Ram)).collect();
        let name = sent.name.as_ref().map(|name| name.0.clone());
        // One point alone is linked with nothing.
        linked.retain(|group| 1 < group.len());
        sound.then_some(PhasePlan { phase, name, carriers, linked, own_bearings })
    }

    /// The indices of the points of a list, none of which may be in another list of the phase.
    fn claim(
        &self,
        list: &PointIds,
        carrier: Carrier,
        carriers: &mut [Option<Carrier>],
        here: &Pointer,
        context: &mut Context<'_>,
    ) -> Option<Vec<usize>> {
        let mut found = Vec::new();
        let mut sound = true;
        for (position, id) in list.0.iter().enumerate() {
            let at = here.item(position);
            let Some(index) = self.index_of(&id.0) else {
                let near = crate::read::nearest(&id.0, self.points.iter().map(|point| point.id.0.as_str()));
                let fault = at.fault(FaultCode::UnknownId, format!("there is no point `{}`", id.0));
                context.faults.push(fault.with_given(id.0.as_str()).with_nearest(near));
                sound = false;
                continue;
            };
            if let Some(slot @ None) = carriers.get_mut(index) {
                *slot = Some(carrier);
                found.push(index);
            } else {
                let detail = format!("the point `{}` is named twice in this phase", id.0);
                context.inconsistent(&at, detail, "each point carries in one way in a phase");
                sound = false;
            }
        }
        sound.then_some(found)
    }

    /// Whether linked points state their areas all or none; if none, equal ones are assumed.
    fn areas(&self, group: &[usize], here: &Pointer, context: &mut Context<'_>) -> bool {
        let stated = |index: &&usize| self.points.get(**index).is_some_and(|point| point.ram_area.is_some());
        let known = group.iter().filter(stated).count();
        if known == 0 && 1 < group.len() {
            context.assume_choice(
                here,
                "the rams of linked points have equal areas",
                Source::definition("default areas"),
            );
        }
        let sound = known == 0 || known == group.len();
        if !sound {
            context.inconsistent(
                here,
                "some of these points state their ram area and some do not",
                "give `ram_area` at every point of the group or at none",
            );
        }
        sound
    }

    fn own_bearings(&self, sent: &PhaseSent, here: &Pointer, context: &mut Context<'_>) -> Option<Vec<OwnBearing>> {
        let mut sound = true;
        let list = sent.own_bearings.as_ref().map_or(&[][..], |list| &list.0);
        for (index, own) in list.iter().enumerate() {
            let earlier = list.iter().take(index).any(|other| other.id == own.id);
            if earlier || self.index_of(&own.id.0).is_some() {
                let at = here.field("own_bearings").item(index).field("id");
                let fault = at.fault(FaultCode::DuplicateId, format!("the id `{}` is given twice", own.id.0));
                context.faults.push(fault.with_given(own.id.0.as_str()));
                sound = false;
            }
        }
        sound.then(|| {
            list.iter()
                .map(|own| OwnBearing {
                    id: own.id.0.clone(),
                    x: own.x.get(),
                    y: own.y.get(),
                    stiffness: own.stiffness.as_ref().map(Sent::get),
                })
                .collect()
        })
    }
}
