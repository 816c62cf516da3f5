//! What a point says of its ram in a machine frame: how it is held, which way it lies, and the room it has.

use super::Reader;
use crate::read::Pointer;
use crate::request::case_wire::PointSent;
use crate::request::context::Context;
use crate::request::words::{AxisWord, BaseWord, HeadWord};
use crate::sent::Sent;
use ramwright_engine::check::{Lines, Source};
use ramwright_engine::line;
use ramwright_engine::load::Task;
use ramwright_engine::ram::Mounting;
use ramwright_units::{Angle, Length};

/// Room from which nothing is left is no room.
const LEAST_OPENING: Length = Length::from_mm(1.0);

impl Reader<'_> {
    /// Refuses what belongs to a machine frame where a load is raised.
    pub(super) fn nothing_of_frames(&self, context: &mut Context<'_>) {
        for (index, point) in self.sent.points.0.iter().enumerate() {
            let fields = [
                (point.mounting.is_some(), "mounting"),
                (point.axis.is_some(), "axis"),
                (point.axis_angle.is_some(), "axis_angle"),
                (point.daylight.is_some(), "daylight"),
                (point.work_height.is_some(), "work_height"),
                (point.estimated_reaction.is_some(), "estimated_reaction"),
            ];
            for (_, name) in fields.iter().filter(|(given, _)| *given) {
                let at = self.point_at(index).field(name);
                let hint = "leave it out, or use the task \"press\" or \"pull\"";
                context.inconsistent(&at, "it is used in a machine frame, and a load is raised", hint);
            }
        }
    }
}

/// The clearance as stated, or what the work leaves of the daylight.
pub(super) fn opening(
    sent: &PointSent,
    here: &Pointer,
    lines: &mut Lines,
    context: &mut Context<'_>,
) -> Option<Length> {
    match (&sent.clearance, &sent.daylight, &sent.work_height) {
        (clearance, None, None) => clearance.as_ref().map(Sent::get),
        (Some(_), _, _) => {
            let at = here.field("clearance");
            context.inconsistent(&at, "daylight and work height give it", "leave it out, or leave them out");
            None
        }
        (None, Some(daylight), Some(work)) => {
            let (daylight, work) = (daylight.get(), work.get());
            if daylight - work < LEAST_OPENING {
                let hint = "daylight counts from where the ram's foot bears to what the work stands on";
                context.inconsistent(&here.field("work_height"), "the work leaves no room for the ram", hint);
                return None;
            }
            Some(
                line!(lines, S_0: Length = D - h_w; D = daylight, h_w = work; Source::definition("what the work leaves of the daylight")),
            )
        }
        (None, given, _) => {
            let missing = if given.is_some() { "work_height" } else { "daylight" };
            let hint = "give both, or `clearance`";
            context.inconsistent(&here.field(missing), "daylight and work height count together", hint);
            None
        }
    }
}

/// How the ram is held, if it is said and goes with what else is said of its ends.
pub(super) fn mounting(sent: &PointSent, here: &Pointer, context: &mut Context<'_>) -> Option<Mounting> {
    let mounting = sent.mounting?;
    let hint = "leave it out, or leave the mounting out";
    if sent.base_stiffness.is_some() {
        let at = here.field("base_stiffness");
        context.inconsistent(&at, "the mounting says how the base is held", hint);
    }
    if sent.base == Some(BaseWord::Soft) || (sent.base.is_some() && mounting != Mounting::Base) {
        context.inconsistent(&here.field("base"), "it contradicts the mounting", hint);
    }
    if mounting == Mounting::Pins && sent.head == Some(HeadWord::Free) {
        let at = here.field("head");
        context.inconsistent(&at, "a pin holds the head sideways", "use the head \"restrained\", or leave it out");
    }
    Some(mounting)
}

/// The angle between the ram's axis and the plumb.
pub(super) fn from_plumb(sent: &PointSent, task: Task, here: &Pointer, context: &mut Context<'_>) -> Angle {
    let angle = sent.axis_angle.as_ref().map(Sent::get);
    if angle.is_some() && sent.axis != Some(AxisWord::Inclined) {
        let hint = "use the axis \"inclined\", or leave the angle out";
        context.inconsistent(&here.field("axis_angle"), "only an inclined axis has an angle", hint);
    }
    match sent.axis {
        Some(AxisWord::Vertical) => Angle::ZERO,
        Some(AxisWord::Horizontal) => Angle::from_deg(90.0),
        Some(AxisWord::Inclined) => angle.unwrap_or_else(|| {
            let hint = "give the angle between the ram's axis and the plumb";
            context.inconsistent(&here.field("axis_angle"), "an inclined axis needs its angle", hint);
            Angle::ZERO
        }),
        None => {
            if task != Task::Raise {
                let text = "the ram's axis is vertical: its own weight does not bend it";
                context.assume_choice(&here.field("axis"), text, super::PRACTICE);
            }
            Angle::ZERO
        }
    }
}
