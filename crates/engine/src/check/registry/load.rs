//! The checks of the load as a whole.

use super::super::{CheckId, Source};
use super::Entry;

const STATICS: &str = "Rigid load on supports that only push.";

/// The entry, if it is one of these.
pub(super) fn entry(id: CheckId) -> Option<Entry> {
    Some(match id {
        CheckId::Tipping => Entry::new(
            "The centre of gravity stays inside the supports",
            "reach of the resultant (tolerance + H h / W) <= distance of the centre of gravity from the edge of the polygon of supports",
            Source::definition(
                "statics: the centre of gravity, with its tolerance and the horizontal force's moment, stays inside the polygon of supports",
            ),
            STATICS,
        )
        .tested(
            "distance from tipping worked out by hand (statics)",
            "validate_distance_from_tipping_by_hand",
        ),
        CheckId::HorizontalForce => Entry::new(
            "A horizontal force was taken into account",
            "H >= 0.025 W at the centre of gravity",
            Source::from_memory("a horizontal force of at least 2.5 % of the weight at the centre of gravity (falsework practice)"),
            "Loads that are raised; wind and slope count towards it.",
        )
        .tested("2.5 % of the weight by hand", "validate_the_least_horizontal_force"),
        CheckId::LevelErrors => Entry::new(
            "Level differences between the supports were taken into account",
            "R_i = k_i (a + b x_i + c y_i + e_i), R_i >= 0, with every e_i in the band",
            Source::definition(
                "more than three independent supports share by their levels; without a level tolerance only the worst equilibrium is safe",
            ),
            STATICS,
        )
        .tested(
            "one of four equal springs raised by d changes each share by k d / 4 (statics of the warping of a rigid body)",
            "validate_level_errors_of_four_points",
        ),
        CheckId::Tolerances => Entry::new(
            "Weight and centre of gravity have a tolerance, and the place is no guess",
            "tolerance of weight and centre > 0",
            Source::common_practice("no weight and no centre of gravity is known exactly (common practice, no source)"),
            "Every load.",
        )
        .tested("definition: shares widen with the tolerance", "verify_wider_tolerances_never_narrow_a_share"),
        CheckId::Contact => Entry::new(
            "Every support keeps its load",
            "least R_i > 0",
            Source::definition(
                "a support pushes or carries nothing: one that loses its load within the tolerances leaves it to the others, and a load-return ram there does not follow",
            ),
            STATICS,
        )
        .tested(
            "four supports at (+-3, +-2) ft, 100 at (2, 1): the fourth lifts off and 58.333, 25, 16.667 remain (published forum example, solved again by statics)",
            "validate_three_left_after_uplift",
        ),
        CheckId::Phases => Entry::new(
            "What carries is known in every phase",
            "linked rams are one support at the centroid of their areas; all others stand alone",
            Source::definition(
                "valves, collars and stacks decide in each phase which supports are independent, and so how they share",
            ),
            "As the request states valves, collars and stacks.",
        )
        .tested("two linked rams of unequal area by hand (one pressure)", "validate_linked_rams_of_unequal_area_by_hand"),
        CheckId::HubBore => Entry::new(
            "Stress at the bore of a hub that is pressed on or pulled off",
            "p (D^2 + d^2) / (D^2 - d^2) + p <= f_y at the greatest interference",
            Source::published(
                "thick cylinders of Lame with Tresca's criterion, any textbook of strength of materials",
            ),
            "Where the force of an interference fit is estimated; elastic, plane stress; the shaft is not looked at.",
        )
        .tested(
            "steel in steel, 50 mm in 100 mm, 0.050 mm on the diameter: p 77.6250 MPa, hoop stress 129.3750 MPa (computed, the pressure by a boundary problem too)",
            "verify_the_hub_yields_at_its_bore",
        )
        .supplementary(),
        CheckId::Weighing => Entry::new(
            "Weighed reactions agree with the drawing",
            "weighed weight and centre, within the error of the gauges, meet those of the drawing within their tolerance",
            Source::definition("weighed weight and centre of gravity against those of the drawing"),
            "Load cells, or pressures raising and lowering.",
        )
        .tested("weighed forces by hand", "validate_cells_take_the_place_of_the_drawing"),
        _ => return None,
    })
}
