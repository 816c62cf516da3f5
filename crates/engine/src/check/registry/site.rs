//! The checks of what was read on site.

use super::super::{CheckId, Source};
use super::Entry;

/// The entry, if it is one of these. How near a reading is to its limit says nothing of how hard anything is worked.
pub(super) fn entry(id: CheckId) -> Option<Entry> {
    Some(match id {
        CheckId::SiteReading => Entry::new(
            "A reading on site is what the sequence expects",
            "p_least - e <= p <= min(p_great + e, p_stop), e = class x full scale; extension and level within the expected range and the level tolerance, the extension never beyond the usable stroke; p <= e where the rams carry nothing",
            Source::common_practice(
                "outside of the expected range, widened by the error of the gauge (what only that explains is a caution within 10 %, beyond it not checked) or by the level tolerance and never beyond stop pressure and usable stroke, the lift is stopped (common practice, no source)",
            ),
            "Readings after a step, the load at rest. Seals and guides are not counted: a pressure read after a raise is somewhat high for what is carried.",
        )
        .tested("pressure of a share by hand: 480 kN on 100 cm2 are 480 bar", "validate_the_pressure_of_a_share_by_hand")
        .of_room(),
        CheckId::SiteLevels => Entry::new(
            "The levels read on site lie within the band of the load case",
            "greatest (level - planned) - least (level - planned) <= level tolerance of the load case",
            Source::definition("the band of levels on which the shares of more than three supports rest"),
            "Two levels or more after one step; without a level tolerance of the load case it is not checked.",
        )
        .tested("levels subtracted by hand", "validate_the_spread_of_levels_by_hand")
        .of_room()
        .supplementary(),
        CheckId::SiteWeight => Entry::new(
            "The pressures read on site weigh the load that was stated",
            "W_least - E <= sum of p A n <= W_great + E, E = class x full scale x sum of A n",
            Source::definition("statics: what the rams press together is the weight on them, where nothing else carries"),
            "Pressures at every point after one step, the load on its rams alone and at rest. Seals and guides are not counted: a weight read after a raise is somewhat high.",
        )
        .tested(
            "three rams of 100 cm2 at 480, 600 and 420 bar carry 1500 kN, by hand (statics)",
            "validate_the_weight_by_three_pressures_by_hand",
        )
        .of_room(),
        _ => return None,
    })
}
