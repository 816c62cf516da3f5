//! Whether the request made limits, gaps or factors weaker than the defaults.

use crate::check::{Finding, Status};
use crate::defaults;
use crate::settings::Settings;
use ramwright_units::Length;

/// A caution that names every setting on the weak side of its default; capacity and stroke limits have cautions of their own.
pub(crate) fn settings_finding(settings: &Settings) -> Finding {
    let weaker = |set: Length, default: Length| (set - default).m() < -1e-9;
    let named = [
        (weaker(settings.entry_gap, defaults::ENTRY_GAP), "entry_gap"),
        (weaker(settings.packing_gap, defaults::PACKING_GAP), "packing_gap"),
        (weaker(defaults::FOLLOW_UP_GAP, settings.follow_up_gap), "follow_up_gap"),
        (weaker(defaults::OVER_JACK_ALLOWANCE, settings.over_jack_allowance), "over_jack_allowance"),
        (settings.stability_factor < defaults::STABILITY_FACTOR, "stability_factor"),
        (settings.heavier_factor < defaults::HEAVIER_FACTOR, "heavier_factor"),
    ];
    let weak: Vec<&str> = named.iter().filter(|(weak, _)| *weak).map(|(_, name)| *name).collect();
    if weak.is_empty() {
        return Finding::judged(Status::Pass, "limits, gaps and factors are at least those of the defaults");
    }
    Finding::judged(
        Status::Caution,
        format!("weaker than the defaults: {}; somebody must answer for that", weak.join(", ")),
    )
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::settings::{PackingLifts, StrokeLimit};

    #[test]
    fn verify_a_weaker_setting_is_a_caution() {
        let ordinary = Settings {
            capacity_limit: defaults::CAPACITY_LIMIT,
            stroke_limit: StrokeLimit::Share(defaults::STROKE_LIMIT),
            plates: Length::ZERO,
            entry_gap: defaults::ENTRY_GAP,
            packing_gap: defaults::PACKING_GAP,
            follow_up_gap: defaults::FOLLOW_UP_GAP,
            over_jack_allowance: defaults::OVER_JACK_ALLOWANCE,
            side_by_side_spacing: defaults::SIDE_BY_SIDE_SPACING,
            stability_factor: defaults::STABILITY_FACTOR,
            heavier_factor: defaults::HEAVIER_FACTOR,
            packing_lifts: PackingLifts::Allowed,
            rams_per_point: 1,
        };
        assert_eq!(settings_finding(&ordinary).status(), Status::Pass);
        let weak = Settings { stability_factor: 3.0, ..ordinary.clone() };
        assert_eq!(settings_finding(&weak).status(), Status::Caution);
        let strict = Settings { follow_up_gap: Length::from_mm(10.0), ..ordinary };
        assert_eq!(settings_finding(&strict).status(), Status::Pass);
    }
}
