//! One jacking point of a request.

use super::frame::{from_plumb, mounting, opening};
use super::{PRACTICE, Reader};
use crate::read::Pointer;
use crate::request::case_wire::{PointSent, SpringsSent};
use crate::request::context::Context;
use crate::request::words::{BaseWord, HeadWord};
use crate::sent::Sent;
use ramwright_engine::check::{Lines, Source};
use ramwright_engine::defaults::BULK_MODULUS;
use ramwright_engine::load::{
    HoseSwelling, JackingPoint, OilColumn, StiffnessError, Task, hose_stiffness, in_series, oil_stiffness,
};
use ramwright_engine::ram::{BaseFixity, Head, Mounting, Pad};
use ramwright_units::{Length, OilVolume, Stiffness};

impl PointSent {
    /// Whether the stiffness of its support is stated here, or what it is made of.
    pub(super) fn states_stiffness(&self) -> bool {
        self.stiffness.is_some() || self.springs.is_some()
    }
}

impl Reader<'_> {
    /// Refuses what points state that counts only where positions decide how they share.
    pub(super) fn nothing_of_places(&self, detail: &str, context: &mut Context<'_>) {
        for (index, point) in self.sent.points.0.iter().enumerate() {
            let fields = [
                (point.stiffness.is_some(), "stiffness"),
                (point.springs.is_some(), "springs"),
                (point.held_stiffness.is_some(), "held_stiffness"),
                (point.level.is_some(), "level"),
                (point.packing_x.is_some(), "packing_x"),
                (point.packing_y.is_some(), "packing_y"),
                (point.reading.is_some(), "reading"),
            ];
            for (_, name) in fields.iter().filter(|(given, _)| *given) {
                context.inconsistent(&self.point_at(index).field(name), detail, "leave it out");
            }
        }
    }

    /// A point as the engine knows it, from its place in the request.
    pub(super) fn jacking_point(
        &self,
        sent: &PointSent,
        index: usize,
        task: Task,
        lines: &mut Lines,
        context: &mut Context<'_>,
    ) -> JackingPoint {
        let here = self.point_at(index);
        let stiffness =
            own_stiffness(sent, &here, lines, context).or_else(|| self.sent.support_stiffness.as_ref().map(Sent::get));
        JackingPoint {
            id: sent.id.0.clone(),
            clearance: opening(sent, &here, lines, context),
            packing_clearance: sent.packing_clearance.as_ref().map(Sent::get),
            limit: sent.limit.as_ref().map(Sent::get),
            foundation_limit: sent.foundation_limit.as_ref().map(Sent::get),
            pad: sent.pad.as_ref().map(|pad| Pad { length: pad.length.get(), width: pad.width.get() }),
            base: base(sent, &here, context),
            head: head(sent, task, &here, context),
            mounting: mounting(sent, &here, context),
            from_plumb: from_plumb(sent, task, &here, context),
            stiffness,
            held_stiffness: sent.held_stiffness.as_ref().map(Sent::get),
            level: sent.level.as_ref().map_or(Length::ZERO, Sent::get),
            ram_area: sent.ram_area.as_ref().map(Sent::get),
            packing_at: packing_at(sent, &here, context),
            packing_limit: sent.packing_limit.as_ref().map(Sent::get),
            packing_foundation_limit: sent.packing_foundation_limit.as_ref().map(Sent::get),
        }
    }
}

fn packing_at(sent: &PointSent, here: &Pointer, context: &mut Context<'_>) -> Option<(Length, Length)> {
    match (&sent.packing_x, &sent.packing_y) {
        (Some(x), Some(y)) => Some((x.get(), y.get())),
        (None, None) => {
            let limits = [
                (sent.packing_limit.is_some(), "packing_limit"),
                (sent.packing_foundation_limit.is_some(), "packing_foundation_limit"),
            ];
            for (_, name) in limits.iter().filter(|(given, _)| *given) {
                context.inconsistent(
                    &here.field(name),
                    "the stack stands where the rams do, so `limit` and `foundation_limit` hold for it too",
                    "leave it out, or say where the stack stands by packing_x and packing_y",
                );
            }
            None
        }
        (given, _) => {
            let missing = if given.is_some() { "packing_y" } else { "packing_x" };
            context.inconsistent(&here.field(missing), "a place needs x and y", "give both or neither");
            None
        }
    }
}

/// The stiffness stated for this point, or made of what it states.
fn own_stiffness(sent: &PointSent, here: &Pointer, lines: &mut Lines, context: &mut Context<'_>) -> Option<Stiffness> {
    match (&sent.stiffness, &sent.springs) {
        (Some(_), Some(_)) => {
            context.inconsistent(
                &here.field("springs"),
                "the stiffness is stated as well",
                "give the stiffness, or what it is made of",
            );
            None
        }
        (Some(stiffness), None) => Some(stiffness.get()),
        (None, Some(springs)) => made_of(springs, &here.field("springs"), lines, context),
        (None, None) => None,
    }
}

fn made_of(sent: &SpringsSent, here: &Pointer, lines: &mut Lines, context: &mut Context<'_>) -> Option<Stiffness> {
    if sent.oil.bulk_modulus.is_none() {
        context.assume(
            &here.field("oil").field("bulk_modulus"),
            "bulk modulus of the oil, at the stiff end of what is found for mineral oil, which is the safe side for level errors",
            BULK_MODULUS,
            Source::from_memory("mineral oil, 1.4 to 2.0 GPa"),
        );
    }
    match in_line(sent, lines) {
        Ok(stiffness) => Some(stiffness),
        Err(error) => {
            context.inconsistent(here, error.to_string(), "give the stiffness of the support instead");
            None
        }
    }
}

/// Oil, hose, ram, packing and ground, as far as they are stated, in series.
fn in_line(sent: &SpringsSent, lines: &mut Lines) -> Result<Stiffness, StiffnessError> {
    let area = sent.oil.area.get();
    let oil = OilColumn {
        area,
        height: sent.oil.height.get(),
        dead_volume: sent.oil.dead_volume.as_ref().map_or(OilVolume::ZERO, Sent::get),
        bulk_modulus: sent.oil.bulk_modulus.as_ref().map_or(BULK_MODULUS, Sent::get),
    };
    let mut parts = vec![("k_oil", oil_stiffness(lines, &oil)?)];
    if let Some(hose) = &sent.hose {
        let hose = HoseSwelling { area, swelling: hose.swelling.get(), at_pressure: hose.at_pressure.get() };
        parts.push(("k_hose", hose_stiffness(lines, &hose)?));
    }
    let others = [("k_ram", &sent.ram), ("k_packing", &sent.packing), ("k_ground", &sent.ground)];
    parts.extend(others.into_iter().filter_map(|(name, part)| Some((name, part.as_ref()?.get()))));
    in_series(lines, &parts)
}

fn base(sent: &PointSent, here: &Pointer, context: &mut Context<'_>) -> BaseFixity {
    if sent.mounting == Some(Mounting::Base) {
        return BaseFixity::Fixed;
    }
    match (sent.base, &sent.base_stiffness) {
        (Some(BaseWord::Steel | BaseWord::Concrete), Some(_)) => {
            let hint = "leave the stiffness out, or use the base \"soft\"";
            context.inconsistent(
                &here.field("base_stiffness"),
                "a base of steel or concrete counts as fixed, so a stiffness means nothing",
                hint,
            );
            BaseFixity::Unknown
        }
        (Some(BaseWord::Steel | BaseWord::Concrete), None) => BaseFixity::Fixed,
        (_, Some(stiffness)) => BaseFixity::Spring(stiffness.get()),
        (Some(BaseWord::Soft) | None, None) => BaseFixity::Unknown,
    }
}

fn head(sent: &PointSent, task: Task, here: &Pointer, context: &mut Context<'_>) -> Head {
    match (sent.head, task) {
        (Some(HeadWord::Restrained), _) => Head::Restrained,
        (Some(HeadWord::Free), _) => Head::Free,
        (None, Task::Raise) => {
            context.assume_choice(
                &here.field("head"),
                "the ram's head is free to move sideways",
                Source::definition("the safe side"),
            );
            Head::Free
        }
        (None, Task::Press | Task::Pull) if sent.mounting == Some(Mounting::Pins) => Head::Restrained,
        (None, Task::Press | Task::Pull) => {
            context.assume_choice(&here.field("head"), "the frame holds the ram's head sideways", PRACTICE);
            Head::Restrained
        }
    }
}
