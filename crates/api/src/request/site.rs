//! Readings on site: what was sent, as the engine takes it.

use super::case_wire::LoadCaseSent;
use super::context::Context;
use super::sections::{Section, Sections};
use super::site_wire::{SiteGaugeSent, SiteReadingList, SiteReadingSent};
use crate::problem::FaultCode;
use crate::read::Pointer;
use crate::sent::{Number, Sent};
use ramwright_engine::check::Source;
use ramwright_engine::defaults;
use ramwright_engine::load::{LoadCase, Task};
use ramwright_engine::verify::{SiteGauge, SiteReading, SiteReadings};
use std::collections::BTreeSet;

const PRACTICE: Source = Source::common_practice("common practice, no source");

/// The readings, or none; an error after a fault, which is collected.
///
/// `case` is the parsed load case, if it could be parsed.
pub(crate) fn parse_site(
    sections: &Sections,
    case: Option<&LoadCase>,
    context: &mut Context<'_>,
) -> Result<Option<SiteReadings>, ()> {
    let at = Pointer::default().field("site_readings");
    let readings = match &sections.site_readings {
        Section::Faulty => return Err(()),
        Section::Absent => {
            if sections.site_gauge != Section::Absent {
                let gauge = Pointer::default().field("site_gauge");
                context.inconsistent(
                    &gauge,
                    "nothing was read with these gauges",
                    "give `site_readings`, or leave it out",
                );
            }
            return Ok(None);
        }
        Section::Sent(readings) => readings,
    };
    if case.is_some_and(|case| case.task != Task::Raise) {
        let hint = "leave the readings out, or use the task \"raise\"";
        context.inconsistent(&at, "a reading belongs to a step, and only a load that is raised goes in steps", hint);
    }
    look_through(readings, sections.load_case.sent(), &at, context);
    let gauge = gauge(&sections.site_gauge, context).ok_or(())?;
    let readings = readings.0.iter().map(reading).collect();
    Ok(Some(SiteReadings { readings, gauge }))
}

/// Faults of readings that are empty, stand twice or belong to no point.
fn look_through(readings: &SiteReadingList, case: Option<&LoadCaseSent>, at: &Pointer, context: &mut Context<'_>) {
    let points: Option<BTreeSet<&str>> =
        case.map(|case| case.points.0.iter().map(|point| point.id.0.as_str()).collect());
    let mut seen = BTreeSet::new();
    for (index, sent) in readings.0.iter().enumerate() {
        let (here, id) = (at.item(index), sent.point.0.as_str());
        if sent.pressure.is_none() && sent.extension.is_none() && sent.level.is_none() {
            context.inconsistent(&here, "nothing was read", "give `pressure`, `extension` or `level`");
        }
        if let Some(points) = points.as_ref().filter(|points| !points.contains(id)) {
            let near = crate::read::nearest(id, points.iter().copied());
            let fault = here.field("point").fault(FaultCode::UnknownId, format!("the load case has no point `{id}`"));
            context.faults.push(fault.with_given(id).with_nearest(near));
        }
        if !seen.insert((sent.step.count(), id)) {
            let detail = format!("the point `{id}` was read twice in step {}", sent.step.count());
            context.faults.push(here.field("point").fault(FaultCode::DuplicateId, detail));
        }
    }
}

fn reading(sent: &SiteReadingSent) -> SiteReading {
    SiteReading {
        step: sent.step.count(),
        point: sent.point.0.clone(),
        pressure: sent.pressure.as_ref().map(Sent::get),
        extension: sent.extension.as_ref().map(Sent::get),
        level: sent.level.as_ref().map(Sent::get),
    }
}

/// The gauges with what is assumed of them; nothing if they were sent and could not be read.
fn gauge(section: &Section<SiteGaugeSent>, context: &mut Context<'_>) -> Option<SiteGauge> {
    let sent = match section {
        Section::Faulty => return None,
        Section::Absent => None,
        Section::Sent(sent) => Some(sent),
    };
    let at = Pointer::default().field("site_gauge");
    let class = sent.and_then(|sent| sent.class.as_ref()).map(Number::get);
    let text = "error of the gauges on site as a part of full scale";
    let class = context.or_assumed(class, &at.field("class"), text, defaults::SITE_GAUGE_CLASS, PRACTICE);
    let full_scale = sent.and_then(|sent| sent.full_scale_pressure.as_ref()).map(Sent::get);
    if full_scale.is_none() {
        let text = "the full scale of the gauges on site is the rated pressure of the rams";
        context.assume_choice(&at.field("full_scale_pressure"), text, PRACTICE);
    }
    Some(SiteGauge { class, full_scale })
}
