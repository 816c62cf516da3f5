//! What the checks on pumps, hoses and oil rest on.

use super::super::{CheckId, Source};
use super::Entry;

pub(super) fn entry(id: CheckId) -> Option<Entry> {
    Some(match id {
        CheckId::PumpPressure => Entry::new(
            "The pressure of the pump stays within every rating",
            "p_ram + losses <= rated pressure of pump, hose and ram",
            Source::definition("pressure at the rams + losses <= rated pressure of pump, hose and ram"),
            "Losses by Darcy and Weisbach with Churchill's friction factor (1977), couplers by a loss coefficient; at the worse of the temperatures stated.",
        )
        .tested(
            "hose rows recomputed with the library fluids (laminar, 3.34288 bar at 2 L/min)",
            "validate_hose_row_reaches_the_pump_pressure",
        ),
        CheckId::ReliefSetting => Entry::new(
            "The relief valve can be set between what the lift needs and every rating",
            "1.10 p_great + losses <= setting <= least rated pressure of pump, hose and ram",
            Source::common_practice(
                "a relief valve is set above the stop pressure with the losses and no higher than the least rated pressure (common practice, no source)",
            ),
            "One relief valve at each pump; only the stop pressure above the rating is a caution.",
        )
        .tested("pressures added by hand", "verify_the_window_of_the_relief_valve")
        .supplementary(),
        CheckId::OilVolume => Entry::new(
            "There is enough oil",
            "n A s + V (exp(p / K) - 1) + swelling <= usable oil",
            Source::definition(
                "oil of the rams, and what compression and swelling of the hoses take, <= usable oil",
            ),
            "Hoses and rams are full; swelling as far as the catalogue states it.",
        )
        .tested(
            "bore 130 mm, stroke 150 mm, four rams: 7.963937 L (computed, definition)",
            "validate_oil_volume_and_force",
        ),
        CheckId::OilReturn => Entry::new(
            "The reservoir holds the oil that comes back",
            "oil of the raise - annulus x extension of double-acting rams <= content of the reservoirs",
            Source::definition("oil that flows back when the rams retract <= content of the reservoirs"),
            "A caution where usable oil and returning oil together are more: then it is filled with the rams retracted.",
        )
        .tested("volumes by hand", "verify_what_comes_back_against_the_reservoir")
        .supplementary(),
        CheckId::LevelControl => Entry::new(
            "The division of the flow keeps the points level",
            "2 e x rise between two levellings <= level tolerance; the whole raise on one open manifold",
            Source::definition(
                "two points whose flows are off the mean by e, to either side, come apart by 2 e x rise <= level tolerance",
            ),
            "Equal rams; what valves and people hold is as stated.",
        )
        .tested("2 x 0.04 x 100 mm = 8 mm by hand", "verify_what_the_division_of_the_flow_lets_through")
        .supplementary(),
        _ => return None,
    })
}
