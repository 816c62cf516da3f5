//! Weighed reactions fed back to weight and centre of gravity.

use super::Reader;
use super::load::Whole;
use crate::read::Pointer;
use crate::request::case_wire::{PointSent, ReadingSent};
use crate::request::context::Context;
use crate::sent::Sent;
use ramwright_engine::load::{Reading, Record, weigh};
use ramwright_engine::remark::Caution;
use ramwright_units::Length;

impl Reader<'_> {
    /// The load as the readings correct it; as it is where there are none. `None` after a fault.
    pub(super) fn weighed(
        &self,
        whole: Whole,
        positions: &[(Length, Length)],
        context: &mut Context<'_>,
    ) -> Option<Whole> {
        if self.points.iter().all(|point| point.reading.is_none()) {
            return Some(whole);
        }
        if self.sent.girder.is_some() {
            for (index, _) in self.sent.points.0.iter().enumerate().filter(|(_, point)| point.reading.is_some()) {
                let here = self.point_at(index).field("reading");
                context.inconsistent(&here, "the loads of a girder cannot be corrected by readings", "leave it out");
            }
            return None;
        }
        let readings: Vec<Option<Reading>> = self
            .points
            .iter()
            .zip(self.order)
            .map(|(point, index)| reading(point, &self.point_at(*index), context))
            .collect();
        let readings: Vec<Reading> = readings.into_iter().collect::<Option<_>>()?;
        match weigh(positions, &readings, whole.weight, &whole.centre) {
            Ok(weighed) => {
                if !weighed.misfit.agrees {
                    context.cautions.push(Caution::new(
                        "weighing_disagrees",
                        "The readings do not agree with weight and centre of gravity as stated, within the tolerances of both: find out why before the lift goes on.",
                    ));
                }
                let mut lines = whole.record.lines;
                lines.extend(weighed.lines.clone());
                Some(Whole {
                    weight: weighed.weight,
                    centre: weighed.centre,
                    record: Record { lines, weighed: Some(weighed), ..Record::default() },
                })
            }
            Err(error) => {
                let hint = "put the readings right, or leave them out";
                context.inconsistent(&self.at.field("points"), error.to_string(), hint);
                None
            }
        }
    }
}

fn reading(point: &PointSent, here: &Pointer, context: &mut Context<'_>) -> Option<Reading> {
    let at = here.field("reading");
    let Some(sent) = &point.reading else {
        context.inconsistent(
            &at,
            format!("the point `{}` was not read", point.id.0),
            "give what was read at every point or at none",
        );
        return None;
    };
    match (&sent.load, &sent.raising_pressure) {
        (Some(load), None) => by_cell(sent, load.get(), &at, context),
        (None, Some(raising)) => by_pressures(sent, point, raising.get(), here, context),
        _ => {
            context.inconsistent(
                &at,
                "a reading is that of a cell or that of a gauge",
                "give `load`, or `raising_pressure`",
            );
            None
        }
    }
}

fn by_cell(
    sent: &ReadingSent,
    load: ramwright_units::Force,
    at: &Pointer,
    context: &mut Context<'_>,
) -> Option<Reading> {
    let others = [
        (sent.lowering_pressure.is_some(), "lowering_pressure"),
        (sent.full_scale_pressure.is_some(), "full_scale_pressure"),
        (sent.seal_friction.is_some(), "seal_friction"),
    ];
    for (_, name) in others.iter().filter(|(given, _)| *given) {
        context.inconsistent(&at.field(name), "a cell reads the load itself, so this is not used", "leave it out");
    }
    let Some(full_scale) = &sent.full_scale_load else {
        context.inconsistent(&at.field("full_scale_load"), "the error of a cell is part of its full scale", "give it");
        return None;
    };
    Some(Reading::Cell { load, class: sent.class.get(), full_scale: full_scale.get() })
}

fn by_pressures(
    sent: &ReadingSent,
    point: &PointSent,
    raising: ramwright_units::OilPressure,
    here: &Pointer,
    context: &mut Context<'_>,
) -> Option<Reading> {
    let at = here.field("reading");
    if sent.full_scale_load.is_some() {
        let name = at.field("full_scale_load");
        context.inconsistent(&name, "a gauge has a full scale in pressure", "give `full_scale_pressure`");
    }
    let Some(full_scale) = &sent.full_scale_pressure else {
        let name = at.field("full_scale_pressure");
        context.inconsistent(&name, "the error of a gauge is part of its full scale", "give it");
        return None;
    };
    let Some(area) = &point.ram_area else {
        context.inconsistent(&here.field("ram_area"), "a pressure needs the area that it presses on", "give it");
        return None;
    };
    if sent.lowering_pressure.is_none() && sent.seal_friction.is_none() {
        context.inconsistent(
            &at.field("lowering_pressure"),
            "with a rising pressure alone nothing tells how much the seals take",
            "read the pressure while sinking too, or state `seal_friction`",
        );
        return None;
    }
    Some(Reading::Pressures {
        raising,
        lowering: sent.lowering_pressure.as_ref().map(Sent::get),
        area: area.get(),
        full_scale: full_scale.get(),
        class: sent.class.get(),
        seal_friction: sent.seal_friction.as_ref().map(crate::sent::Number::get),
    })
}
