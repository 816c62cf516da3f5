//! What acts on the load beside its weight.

use super::{PRACTICE, Reader};
use crate::request::context::Context;
use crate::sent::Sent;
use ramwright_engine::check::Source;
use ramwright_engine::defaults::HORIZONTAL_SHARE;
use ramwright_engine::load::{Actions, Horizontal, Slope, Task, Wind};

impl Reader<'_> {
    /// Horizontal force, wind, slope and dynamic factor.
    pub(super) fn actions(&self, task: Task, context: &mut Context<'_>) -> Option<Actions> {
        let wind = self.sent.wind.as_ref().map(|wind| Wind {
            pressure: wind.pressure.get(),
            area: wind.area.get(),
            height: wind.height.get(),
            toward: wind.toward.as_ref().map(Sent::get),
        });
        let slope = self
            .sent
            .slope
            .as_ref()
            .map(|slope| Slope { angle: slope.angle.get(), toward: slope.toward.as_ref().map(Sent::get) });
        let any_direction = |context: &mut Context<'_>, name: &str, unknown: bool| {
            if unknown {
                let here = self.at.field(name).field("toward");
                context.assume_choice(&here, "it may act in any direction", Source::definition("the safe side"));
            }
        };
        any_direction(context, "wind", wind.is_some_and(|wind| wind.toward.is_none()));
        any_direction(context, "slope", slope.is_some_and(|slope| slope.toward.is_none()));
        if self.sent.dynamic_factor.is_none() && task == Task::Raise {
            let text = "the load is raised slowly and set down softly: no dynamic factor";
            context.assume(&self.at.field("dynamic_factor"), text, 1.0, PRACTICE);
        }
        let dynamic_factor = self.sent.dynamic_factor.as_ref().map_or(1.0, crate::sent::Number::get);
        Some(Actions { horizontal: self.horizontal(task, context)?, wind, slope, dynamic_factor })
    }

    fn horizontal(&self, task: Task, context: &mut Context<'_>) -> Option<Horizontal> {
        match (&self.sent.horizontal_share, &self.sent.horizontal_force) {
            (Some(_), Some(_)) => {
                context.inconsistent(
                    &self.at.field("horizontal_force"),
                    "both a share and a force are given",
                    "give one of them",
                );
                None
            }
            (Some(share), None) => Some(Horizontal::ShareOfWeight(share.get())),
            (None, Some(force)) => Some(Horizontal::Stated(force.get())),
            (None, None) => {
                if task == Task::Raise {
                    let source = Source::from_memory("falsework practice");
                    let text = "horizontal force at the centre of gravity as a fraction of the weight, or wind and slope where they are more";
                    context.assume(&self.at.field("horizontal_share"), text, HORIZONTAL_SHARE, source);
                }
                Some(Horizontal::AtLeast(HORIZONTAL_SHARE))
            }
        }
    }
}
