//! The checks of what stands over and under the ram; also whatever has no other place.

use super::super::{CheckId, Source};
use super::Entry;

/// The entry.
pub(super) fn entry(id: CheckId) -> Entry {
    of_stacks(id).unwrap_or_else(|| of_the_rest(id))
}

fn of_the_rest(id: CheckId) -> Entry {
    match id {
        CheckId::SoffitBearing => Entry::new(
            "Pressure of the ram's head on the load's underside",
            "F / A <= strength of steel, concrete or timber by the design basis",
            Source::published(
                "steel: AISC 360 J7 or f_y / gamma_M0; concrete: ACI 318 or EN 1992-1-1, 6.7; timber: NDS 3.10 or EN 1995-1-1, 6.1.5",
            ),
            "Full contact of saddle or head plate; no spread into the load.",
        )
        .tested("as the checks of timber and concrete", "validate_soffit_rows"),
        CheckId::HeadPlate => plate("Bending of the plate between ram and load"),
        CheckId::JackingPointLimit => Entry::new(
            "What the jacking point may take",
            "k_stop R <= limit stated for the jacking point",
            Source::stated("greatest share, and stop pressure x area, <= the limit stated for the jacking point"),
            "Stop pressure 10 % over the greatest expected pressure (common practice, no source).",
        )
        .tested("arithmetic", "verify_a_limit_stated_is_held_against_the_stop_pressure"),
        CheckId::BasePlate => plate("Bending of the plate under the ram"),
        CheckId::FoundationBearing => Entry::new(
            "Bearing on concrete or steelwork under rams and stacks",
            "ACI 318: F_u <= 0.65 x 0.85 f_c A_1 min(sqrt(A_2 / A_1), 2); EN 1992-1-1, 6.7: F_d <= A_c0 f_cd min(sqrt(A_c1 / A_c0), 3); steelwork: 0.9 F_y or f_y / gamma_M0",
            Source::published("ACI 318 (bearing) and EN 1992-1-1, 6.7, both second hand"),
            "Concentric room stated; no gain without it, nor beyond the depth.",
        )
        .tested(
            "18 in column on an 11 ft 2 in footing, 3 ksi: 1 070 kip (Wight, Reinforced Concrete Mechanics and Design, 7th ed., example 15-2, second hand)",
            "validate_wight_example",
        ),
        CheckId::Punching => Entry::new(
            "A slab that could be punched through",
            "F <= punching resistance stated",
            Source::stated("greatest force <= the punching resistance stated by whoever designed the slab"),
            "Slabs; a solid block cannot be punched through.",
        )
        .tested("arithmetic", "verify_punching"),
        CheckId::GroundPressure => Entry::new(
            "Pressure on the ground",
            "F / ((B + z)(L + z)) <= allowable; off-centre within the middle third, beyond it a triangle",
            Source::published(
                "2:1 spread (Bowles; Das; NAVFAC DM-7, second hand); International Building Code 2012, table 1806.2 for presumptive values, second hand",
            ),
            "Presumptive values assume proper footings; small boards on loose sand carry far less.",
        )
        .tested(
            "500 kN on 1 m x 1 m at 1 m depth: 125 kPa (2:1 spread, exact)",
            "validate_spread_rows",
        ),
        CheckId::FoundationLimit => Entry::new(
            "What the foundation may take",
            "k_stop R <= limit stated for the foundation",
            Source::stated("greatest share, and stop pressure x area, <= the limit stated for the foundation under the point"),
            "Stop pressure 10 % over the greatest expected pressure (common practice, no source).",
        )
        .tested("arithmetic", "verify_a_limit_stated_is_held_against_the_stop_pressure"),
        CheckId::Sideways => Entry::new(
            "Friction against sliding",
            "H <= mu R_least / 1.5 at every face; steel on steel fails",
            Source::from_memory("friction of dry surfaces at the low end of textbook values; factor 1.5 from memory"),
            "Without restraint; dry surfaces.",
        )
        .tested("arithmetic", "verify_friction"),
        _ => Entry::new(
            "What holds the load sideways",
            "H <= capacity of guides, bracing, chocks or lashings; play <= follow-up gap",
            Source::stated("horizontal force <= the capacity stated of the restraint"),
            "Restraints whose capacity somebody states for every direction.",
        )
        .tested("arithmetic", "verify_restraint"),
    }
}

fn of_stacks(id: CheckId) -> Option<Entry> {
    Some(match id {
        CheckId::StackBearing => Entry::new(
            "The weakest face in a stack",
            "F / A <= strength of either face, at every face; cribs: A = members x members x width x width",
            Source::published(
                "timber across the grain: NDS 3.10 with its supplement, or EN 1995-1-1, 6.1.5 with EN 338; cribs: urban search-and-rescue rule of full crossings, second hand",
            ),
            "Pieces concentric, the widest at the bottom; crib layers crossed; spread at 45 degrees, in timber along the grain only (common practice, no source); what is off the middle counts on the part of a face about it.",
        )
        .tested(
            "box cribs at 500 psi: 24 000, 55 000, 60 000 and 136 000 lb (urban search-and-rescue guidance, second hand, rounded down)",
            "validate_crib_capacities",
        ),
        CheckId::StackHeight => Entry::new(
            "Height of a stack against its width",
            "h <= 3 b (holding) or 1.5 b (under a ram); 1.5 b on two contacts, 1 b on one",
            Source::common_practice(
                "3 times the least width for a stack at rest (urban search-and-rescue guidance, second hand), half of that under a working ram (no source)",
            ),
            "Plumb stacks in full bearing.",
        )
        .tested("height = 3 x least width (second hand)", "validate_height_to_width"),
        CheckId::StackOverhang => Entry::new(
            "Pieces that stand out beyond those under them",
            "overhang of a piece <= its own thickness",
            Source::common_practice("force spreads at 45 degrees: no piece stands out by more than its thickness (common practice, no source)"),
            "Pieces concentric, the widest at the bottom.",
        )
        .tested("arithmetic", "verify_overhang")
        .of_room(),
        CheckId::StackPlumb => Entry::new(
            "A stack that leans",
            "e + h (tan(lean) + H / P) <= b / 6, h from the load down, H only where nothing holds the load without play",
            Source::published("middle third, any textbook of strength of materials: within b / 6 all of a rectangular face stays pressed"),
            "Rectangular faces.",
        )
        .tested("middle third b / 6 (textbook)", "validate_the_middle_third"),
        CheckId::Settlement => Entry::new(
            "Loss of height of a stack against what the sequence took",
            "sum of sigma h / E <= sum of the greatest settlements stated of the pieces",
            Source::published("elastic shortening, any textbook of strength of materials; E across the grain from EN 338, second hand"),
            "Elastic; bedding is in the settlement that the pieces state.",
        )
        .tested("1.5 m at 1.0 MPa, E 370 MPa: 4.0541 mm (computed)", "validate_shortening_row")
        .of_room(),
        _ => return None,
    })
}

fn plate(title: &'static str) -> Entry {
    Entry::new(
        title,
        "t >= l sqrt(3.33 F / (F_y B N)) (allowable stress), sigma = q l^2 / 2 / (t^2 / 6) <= f_y / gamma_M0 (Eurocode)",
        Source::published("cantilever method of AISC Design Guide 1, second hand; EN 1993-1-1 with the elastic modulus"),
        "Uniform pressure under the plate; a round part counts with 0.80 of its diameter (from memory).",
    )
    .tested("300 x 300 under 150 mm round, 450 kN, 250 MPa: 18.97367 mm (computed)", "validate_plate_rows")
}
