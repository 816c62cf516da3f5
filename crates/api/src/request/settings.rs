//! Limits and gaps: what was sent, and the defaults for the rest.

use super::context::Context;
use super::sections::Section;
use super::wire::{HandlingSent, SettingsSent};
use super::words::{PackingLiftsWord, StrokeUse};
use crate::read::Pointer;
use crate::sent::{Gap, HandlingTime, Number, NumberBound};
use ramwright_engine::check::Source;
use ramwright_engine::defaults;
use ramwright_engine::settings::{Handling, PackingLifts, Settings, StrokeLimit};
use ramwright_units::{Length, Time};

const PRACTICE: Source = Source::common_practice("common practice, no source");
const MEMORY: Source = Source::from_memory("from memory");

/// The settings with every default noted; nothing if they were sent and could not be read.
///
/// `plates` is the total thickness of the plates that stand in the line of force, if any do.
pub(crate) fn parse_settings(
    section: &Section<SettingsSent>,
    plates: Option<Length>,
    context: &mut Context<'_>,
) -> Option<Settings> {
    let sent = match section {
        Section::Faulty => return None,
        Section::Absent => None,
        Section::Sent(sent) => Some(sent),
    };
    let mut reader = Reader { context, at: Pointer::default().field("settings") };
    let number = |field: fn(&SettingsSent) -> Option<f64>| sent.and_then(field);
    let gap = |field: fn(&SettingsSent) -> Option<Length>| sent.and_then(field);
    Some(Settings {
        capacity_limit: reader.number(
            "capacity_limit",
            number(|s| value(s.capacity_limit.as_ref())),
            defaults::CAPACITY_LIMIT,
            "part of the capacity that may be used",
            PRACTICE,
        ),
        stroke_limit: stroke_limit(sent, &mut reader),
        plates: total_plates(gap(|s| length(s.plates.as_ref())), plates, &mut reader),
        entry_gap: reader.gap(
            "entry_gap",
            gap(|s| length(s.entry_gap.as_ref())),
            defaults::ENTRY_GAP,
            "gap needed to slide a ram in",
            PRACTICE,
        ),
        packing_gap: reader.gap(
            "packing_gap",
            gap(|s| length(s.packing_gap.as_ref())),
            defaults::PACKING_GAP,
            "gap needed to slide a packing piece in",
            PRACTICE,
        ),
        follow_up_gap: reader.gap(
            "follow_up_gap",
            gap(|s| length(s.follow_up_gap.as_ref())),
            defaults::FOLLOW_UP_GAP,
            "greatest gap between the load and its next mechanical support",
            PRACTICE,
        ),
        over_jack_allowance: reader.gap(
            "over_jack_allowance",
            gap(|s| length(s.over_jack_allowance.as_ref())),
            defaults::OVER_JACK_ALLOWANCE,
            "by how much the final height may exceed the wanted one",
            PRACTICE,
        ),
        level_tolerance: reader.gap(
            "level_tolerance",
            gap(|s| length(s.level_tolerance.as_ref())),
            defaults::LEVEL_TOLERANCE,
            "by how much points that go up together may differ in height from what is planned",
            PRACTICE,
        ),
        handling: handling(sent, &mut reader),
        side_by_side_spacing: reader.gap(
            "side_by_side_spacing",
            gap(|s| length(s.side_by_side_spacing.as_ref())),
            defaults::SIDE_BY_SIDE_SPACING,
            "clear distance between rams side by side",
            PRACTICE,
        ),
        stability_factor: reader.number(
            "stability_factor",
            number(|s| value(s.stability_factor.as_ref())),
            defaults::STABILITY_FACTOR,
            "factor on the elastic critical load of the extended ram",
            MEMORY,
        ),
        heavier_factor: reader.number(
            "heavier_factor",
            number(|s| value(s.heavier_factor.as_ref())),
            defaults::HEAVIER_FACTOR,
            "by which factor the load is heavier in the scenario load_heavier",
            PRACTICE,
        ),
        packing_lifts: packing_lifts(sent, &mut reader),
        rams_per_point: sent.and_then(|s| s.rams_per_point.as_ref()).map_or(defaults::RAMS_PER_POINT, Number::count),
    })
}

/// How many states a search may visit.
pub(crate) fn parse_effort(section: &Section<SettingsSent>, default: u64) -> u64 {
    let states = section.sent().and_then(|sent| sent.search_states.as_ref());
    states.map_or(default, |states| u64::from(states.count()))
}

fn value<B: NumberBound>(number: Option<&Number<B>>) -> Option<f64> {
    number.map(Number::get)
}

fn length(gap: Option<&Gap>) -> Option<Length> {
    gap.map(crate::sent::Sent::get)
}

struct Reader<'c, 'a> {
    context: &'c mut Context<'a>,
    at: Pointer,
}

impl Reader<'_, '_> {
    fn number(&mut self, name: &str, sent: Option<f64>, default: f64, text: &'static str, source: Source) -> f64 {
        self.context.or_assumed(sent, &self.at.field(name), text, default, source)
    }

    fn gap(&mut self, name: &str, sent: Option<Length>, default: Length, text: &'static str, source: Source) -> Length {
        self.context.or_assumed(sent, &self.at.field(name), text, default, source)
    }
}

/// The plates count in the height of the ram: what is set and what stands in the line of force must agree.
fn total_plates(sent: Option<Length>, standing: Option<Length>, reader: &mut Reader<'_, '_>) -> Length {
    match (sent, standing) {
        (Some(sent), Some(standing)) if 1e-9 < (sent - standing).m().abs() => {
            let detail = "head and base plate in line_of_force have another thickness together";
            reader.context.inconsistent(&reader.at.field("plates"), detail, "leave it out, or make it their sum");
            sent
        }
        (Some(sent), _) => sent,
        (None, Some(standing)) => reader.gap(
            "plates",
            None,
            standing,
            "head plate and base plate as in line_of_force",
            Source::definition("thicknesses add up"),
        ),
        (None, None) => reader.gap("plates", None, Length::ZERO, "no head plate or base plate", PRACTICE),
    }
}

fn stroke_limit(sent: Option<&SettingsSent>, reader: &mut Reader<'_, '_>) -> StrokeLimit {
    let share = sent.and_then(|sent| value(sent.stroke_limit.as_ref()));
    if sent.and_then(|sent| sent.stroke_use) == Some(StrokeUse::WholeStroke) {
        if share.is_some() {
            let hint = "leave out stroke_limit, or use stroke_use \"limited\"";
            reader.context.inconsistent(
                &reader.at.field("stroke_limit"),
                "the whole stroke is to be used, so a limit means nothing",
                hint,
            );
        }
        return StrokeLimit::Waived;
    }
    StrokeLimit::Share(reader.number(
        "stroke_limit",
        share,
        defaults::STROKE_LIMIT,
        "part of the stroke that may be used",
        PRACTICE,
    ))
}

/// By what the duration of a sequence is estimated.
fn handling(sent: Option<&SettingsSent>, reader: &mut Reader<'_, '_>) -> Handling {
    let sent = sent.and_then(|sent| sent.handling.as_ref());
    let at = reader.at.field("handling");
    let crews = crews(sent, &at.field("crews"), reader);
    let mut time = |name: &str, stated: Option<&HandlingTime>, default: Time, text: &'static str| {
        stated.map_or_else(
            || {
                reader.context.assume(&at.field(name), text, default, PRACTICE);
                default
            },
            crate::sent::Sent::get,
        )
    };
    let field = |of: fn(&HandlingSent) -> Option<&HandlingTime>| sent.and_then(of);
    Handling {
        per_piece: time(
            "per_piece",
            field(|s| s.per_piece.as_ref()),
            defaults::TIME_PER_PIECE,
            "time to place or take out one piece",
        ),
        per_ram: time(
            "per_ram",
            field(|s| s.per_ram.as_ref()),
            defaults::TIME_PER_RAM,
            "time to set a ram, or to move it over",
        ),
        prove_lift: time(
            "prove_lift",
            field(|s| s.prove_lift.as_ref()),
            defaults::TIME_OF_PROVE_LIFT,
            "time of a prove lift",
        ),
        per_hold_point: time(
            "per_hold_point",
            field(|s| s.per_hold_point.as_ref()),
            defaults::TIME_PER_HOLD_POINT,
            "time at a hold point until the next step is released",
        ),
        crews,
        flow: sent.and_then(|s| s.pump_flow.as_ref()).map(crate::sent::Sent::get),
    }
}

fn crews(sent: Option<&HandlingSent>, at: &Pointer, reader: &mut Reader<'_, '_>) -> u32 {
    let stated = sent.and_then(|sent| sent.crews.as_ref()).map(Number::count);
    stated.unwrap_or_else(|| {
        let text = "crews that handle packing at the same time";
        reader.context.assume(at, text, f64::from(defaults::CREWS), PRACTICE);
        defaults::CREWS
    })
}

fn packing_lifts(sent: Option<&SettingsSent>, reader: &mut Reader<'_, '_>) -> PackingLifts {
    match sent.and_then(|sent| sent.packing_lifts) {
        Some(PackingLiftsWord::NotAllowed) => PackingLifts::NotAllowed,
        Some(PackingLiftsWord::Allowed) => PackingLifts::Allowed,
        None => {
            let field = reader.at.field("packing_lifts");
            reader.context.assume_choice(&field, "packing lifts are allowed", PRACTICE);
            PackingLifts::Allowed
        }
    }
}
