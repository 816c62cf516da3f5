//! The checks of the ram itself.

use super::super::{CheckId, Source};
use super::Entry;

/// The entry, if it is one of these.
pub(super) fn entry(id: CheckId) -> Option<Entry> {
    Some(match id {
        CheckId::Capacity => Entry::new(
            "Greatest share against the capacity of the rams",
            "R / n <= capacity limit x effective area x rated pressure",
            Source::common_practice(
                "greatest share <= capacity limit x effective area x rated pressure (limit 0.80 is common practice, no source)",
            ),
            "Rams of one model at a point, linked, under a common head plate; pulling counts the annulus.",
        )
        .tested(
            "72 short tons at 80 % need 90 short tons of capacity (common practice, no source)",
            "verify_seventy_two_short_tons_need_ninety",
        ),
        CheckId::Stability => Entry::new(
            "Elastic stability of the extended ram",
            "P <= P_cr / gamma; fixed-free: k_1 sin(u_1) sin(u_2) = k_2 cos(u_1) cos(u_2), pinned-pinned: k_2 sin(u_1) cos(u_2) = -k_1 cos(u_1) sin(u_2), fixed-pinned: the lateral reaction of the head added; first root",
            Source::published(
                "elastic critical load of a two-section column (Timoshenko and Gere, Theory of Elastic Stability, bars with changes in cross-section); factor on it from memory",
            ),
            "Straight and concentric; body with base stack and plates as one section, plunger as the other.",
        )
        .tested(
            "tables of stepped columns, fixed-free, pinned-pinned and fixed-pinned, to 1e-4 (computed by transcendental equation, finite elements and finite differences; Timoshenko and Gere's three-part bar from memory)",
            "validate_fixed_free_table",
        ),
        CheckId::Stress => Entry::new(
            "Stress in the plunger with all that bends it",
            "P / A + M / W x amplification <= 0.5 f_y; pulling, without amplification",
            Source::published(
                "amplified bending of a column with an initial eccentricity (Perry and Robertson's form); half of the yield strength at the rated load from ASME B30.1-2015, 1-2.1.2(c), second hand",
            ),
            "Elastic; below the critical load. Of a ram that pulls, its section without thread or pin: at best a caution.",
        )
        .tested(
            "secant formula, 100 mm round, 1 200 mm, 500 kN, e = 10 mm: 119.6458 MPa (computed with a general library)",
            "validate_secant_row",
        ),
        CheckId::SideLoad => Entry::new(
            "Sideways force on the ram against its own limit",
            "H / n + P tan(lean) <= side load ratio x rated pressure x effective area",
            Source::stated("horizontal force shared equally by the rams, and what a lean of the ram adds, <= the ram's own side load limit"),
            "Rams of one model at one extension.",
        )
        .tested("statics of a leaning column by hand", "verify_a_lean_adds_its_side_force"),
        CheckId::Action => Entry::new(
            "The ram can do what is asked",
            "a single-acting ram pushes only; nothing but the load returns a load-return ram",
            Source::definition("a ram pushes on its full bore and pulls on its annulus"),
            "Every ram.",
        )
        .tested("definition", "verify_only_double_acting_rams_pull"),
        CheckId::SaddleAngle => Entry::new(
            "Angle between the load's underside and the ram",
            "angle <= tilt limit of the saddle",
            Source::stated("angle between load and ram <= the tilt limit of the saddle, from the catalogue"),
            "What the catalogue states of the saddle.",
        )
        .tested("definition", "verify_saddle_tilt_at_its_limit"),
        CheckId::SaddleOffCentre => Entry::new(
            "How far the load bears off the ram's axis",
            "e <= d / 8",
            Source::published("kern of a circle, any textbook of strength of materials: within d / 8 all of the saddle stays pressed"),
            "A round, plane saddle.",
        )
        .tested("kern of a circle d / 8 (textbook)", "validate_the_kern_of_a_circle"),
        CheckId::CollarRelease => Entry::new(
            "A lock collar can be backed off",
            "greatest extension + spare stroke <= stroke",
            Source::common_practice("a collar at the end of the stroke cannot be backed off: spare stroke is kept (5 mm by default, no source)"),
            "Rams with lock collars.",
        )
        .tested("arithmetic", "verify_a_collar_at_the_end_of_the_stroke_fails")
        .of_room(),
        CheckId::WarmOil => Entry::new(
            "Oil that warms up while it is shut in",
            "p + K (beta_oil - 3 alpha_steel) dT <= rated pressure, or a relief valve set no higher",
            Source::from_memory("thermal expansion of oil in a closed steel vessel; constants from memory"),
            "Oil shut in behind a valve; the vessel unrestrained.",
        )
        .tested("300 mm of oil warmed by 20 K rise by about 4 mm (design figure, by arithmetic)", "validate_warm_oil_rise"),
        CheckId::ReturnLine => Entry::new(
            "Pressure on the return side of a double-acting ram",
            "p A / A_annulus <= rated pressure if the return can be blocked",
            Source::definition("a blocked return multiplies the pressure by the ratio of the areas"),
            "Double-acting rams.",
        )
        .tested("ratio of areas by arithmetic", "verify_a_blocked_return_fails"),
        CheckId::Handling => Entry::new(
            "Mass of a ram that people carry",
            "mass / persons <= 25 kg",
            Source::from_memory("25 kg per person, a commonly quoted guideline"),
            "Carried by hand; more is a caution, never a failure.",
        )
        .tested("arithmetic", "verify_a_heavy_ram_is_a_caution")
        .of_room()
        .supplementary(),
        _ => return None,
    })
}
