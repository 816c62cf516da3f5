//! The checks of the set as a whole, of its fit and of its circuit.

use super::super::{CheckId, Source};
use super::Entry;

/// The entry, if it is one of these.
pub(super) fn entry(id: CheckId) -> Option<Entry> {
    Some(match id {
        CheckId::Settings => Entry::new(
            "Limits, gaps and factors are no weaker than the defaults",
            "each setting on the safe side of its default",
            Source::common_practice("a limit, gap or factor on the weak side of its default needs a reason of its own"),
            "Every request.",
        )
        .tested("definition: comparison with the defaults", "verify_a_weaker_setting_is_a_caution"),
        CheckId::ClosedHeight => Entry::new(
            "The closed ram goes under the load",
            "closed height + plates + entry gap <= clearance",
            Source::definition("closed height + plates + entry gap <= clearance"),
            "The clearance is measured where the ram is slid in.",
        )
        .tested("arithmetic of heights", "verify_a_ram_that_just_goes_in")
        .of_room(),
        CheckId::Stroke => Entry::new(
            "The ram extends far enough",
            "extension needed <= stroke limit x stroke",
            Source::common_practice("extension needed <= stroke limit x stroke (limit 0.80 is common practice, no source)"),
            "One stroke, or the greatest of a sequence of packing lifts.",
        )
        .tested(
            "6 in of travel at 80 % need 7.5 in of stroke (common practice, no source)",
            "verify_six_inches_of_travel_need_seven_and_a_half_of_stroke",
        )
        .of_room(),
        CheckId::Footprint => Entry::new(
            "The rams stand on the pad",
            "n d + (n - 1) s <= side of the pad, both ways",
            Source::definition("ram bases with their spacing fit the pad"),
            "Round bases, upright rams, a rectangular grid.",
        )
        .tested("circles in a rectangle by arithmetic", "verify_circles_in_a_rectangle")
        .of_room(),
        CheckId::Stock => Entry::new(
            "The yard has the rams, pumps and hoses",
            "rams, pumps or hoses needed <= those in the catalogue that are not out on hire",
            Source::stated("rams, pumps or hoses needed <= those in the catalogue that are not out on hire"),
            "What the catalogue states.",
        )
        .tested("arithmetic", "verify_one_ram_too_few")
        .of_room()
        .supplementary(),
        CheckId::Budget => Entry::new(
            "The set keeps within what the request allows",
            "rams, mass of one ram, hire <= what the request allows",
            Source::stated("limits of the request's own"),
            "Searches; only what the request limits.",
        )
        .tested("arithmetic", "verify_a_budget_refuses_what_is_over_it")
        .of_room(),
        CheckId::Holding => Entry::new(
            "Something mechanical holds the load",
            "the load ends on lock collars or packing, and is never more than the follow-up gap above it",
            Source::published(
                "29 CFR 1926.305(d)(1)(i): a raised load is cribbed, blocked or otherwise secured at once; oil alone holds nothing",
            ),
            "Loads that are raised, with the packing on site.",
        )
        .tested("the rule of 29 CFR 1926.305(d)(1)(i), held in every state of every sequence", "verify_sequences_obey_the_rules"),
        CheckId::RamLost => Entry::new(
            "A ram that loses its oil",
            "the rest carry the load within their whole capacity, or its follow-up support catches it: F (1 + sqrt(1 + 2 h / d)) with a blow, F where its oil only leaks",
            Source::common_practice(
                "the rest carry the load within their capacity, or a mechanical support catches it within the follow-up gap (common practice, no source); the blow of a falling mass from any textbook of dynamics",
            ),
            "Each point in turn; a rigid load.",
        )
        .tested("each point lost in turn, by statics", "validate_each_point_lost_by_statics")
        .supplementary(),
        CheckId::PointLost => Entry::new(
            "A point that gives way",
            "the others hold the load within their whole capacity, or the answer says what hangs on this point alone",
            Source::common_practice("each point taken away in turn (common practice, no source)"),
            "Each point in turn; a rigid load; no blow.",
        )
        .tested("each point lost in turn, by statics", "validate_each_point_lost_by_statics")
        .supplementary(),
        _ => return None,
    })
}
