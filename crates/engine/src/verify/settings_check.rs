//! Whether the request made limits, gaps or factors weaker than the defaults.

use crate::check::{Finding, Status};
use crate::defaults;
use crate::settings::Settings;
use crate::support::DesignBasis;
use ramwright_units::Length;

/// A caution that names every setting on the weak side of its default; capacity and stroke limits have cautions of their own.
pub(crate) fn settings_finding(settings: &Settings, basis: Option<&DesignBasis>) -> Finding {
    let weaker = |set: Length, default: Length| (set - default).m() < -1e-9;
    let named = [
        (weaker(settings.entry_gap, defaults::ENTRY_GAP), "entry_gap"),
        (weaker(settings.packing_gap, defaults::PACKING_GAP), "packing_gap"),
        (weaker(defaults::FOLLOW_UP_GAP, settings.follow_up_gap), "follow_up_gap"),
        (weaker(defaults::OVER_JACK_ALLOWANCE, settings.over_jack_allowance), "over_jack_allowance"),
        (settings.stability_factor < defaults::STABILITY_FACTOR, "stability_factor"),
        (settings.heavier_factor < defaults::HEAVIER_FACTOR, "heavier_factor"),
    ];
    let of_basis = match basis {
        Some(DesignBasis::NdsAsd(nds)) => {
            vec![(nds.concrete_load_factor < defaults::ACI_LOAD_FACTOR, "design_basis/concrete_load_factor")]
        }
        Some(DesignBasis::Eurocode(eurocode)) => vec![
            (eurocode.load_factor < defaults::EUROCODE_LOAD_FACTOR, "design_basis/load_factor"),
            (defaults::EUROCODE_ALPHA_CC < eurocode.alpha_cc, "design_basis/alpha_cc"),
        ],
        Some(DesignBasis::Custom(_)) | None => Vec::new(),
    };
    let weak: Vec<&str> = named.iter().chain(&of_basis).filter(|(weak, _)| *weak).map(|(_, name)| *name).collect();
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
            level_tolerance: crate::defaults::LEVEL_TOLERANCE,
            handling: crate::defaults::HANDLING,
            side_by_side_spacing: defaults::SIDE_BY_SIDE_SPACING,
            stability_factor: defaults::STABILITY_FACTOR,
            heavier_factor: defaults::HEAVIER_FACTOR,
            packing_lifts: PackingLifts::Allowed,
            rams_per_point: 1,
        };
        assert_eq!(settings_finding(&ordinary, None).status(), Status::Pass);
        let weak = Settings { stability_factor: 3.0, ..ordinary.clone() };
        assert_eq!(settings_finding(&weak, None).status(), Status::Caution);
        let strict = Settings { follow_up_gap: Length::from_mm(10.0), ..ordinary };
        assert_eq!(settings_finding(&strict, None).status(), Status::Pass);
    }
}
