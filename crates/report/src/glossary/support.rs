//! The words for the checks of what stands over and under the rams: underside, plates, stacks, foundation and ground.

use super::Section;
use ramwright_engine::check::CheckId;

const ONE_PLACE: &str = "force on one ram or stack";
const AS_AT_EDGE: &str = "force that presses evenly as at the edge";
const LOAD_FACTOR: &str = "load factor of the design basis";
const WIDTH: &str = "least width of the stack";
const MODULUS: &str = "modulus of elasticity of the piece";

const FORCES: &[Section] = &[
    Section::of(
        &["k_stop * R / n"],
        &[
            ("F", "greatest force of one ram"),
            ("k_stop", "stop pressure over greatest expected pressure"),
            ("R", "greatest share of the point"),
            ("n", "number of rams at the point"),
        ],
    ),
    Section::of(
        &["F = R / n"],
        &[
            ("F", "greatest force on one holding stack"),
            ("R", "greatest share on the stacks of the point"),
            ("n", "number of stacks at the point"),
        ],
    ),
    Section::at(
        &[CheckId::HeadPlate, CheckId::BasePlate],
        &["gamma * F"],
        &[("F_d", "design force"), ("gamma", LOAD_FACTOR), ("F", AS_AT_EDGE)],
    ),
    Section::of(
        &["gamma * F"],
        &[("F_u", "factored force"), ("F_d", "design force"), ("gamma", LOAD_FACTOR), ("F", ONE_PLACE)],
    ),
    Section::of(
        &["gamma * stress_on(F, A)", "f"],
        &[
            ("sigma", "bearing stress, with its load factor"),
            ("gamma", "load factor; 1 by allowable stress"),
            ("F", ONE_PLACE),
            ("A", "contact area that bears the force"),
            ("sigma_lim", "greatest bearing stress"),
            ("f", "bearing strength of the material"),
        ],
    ),
];

const CONCRETE: &[Section] = &[
    Section::of(
        &["a * b", "0.65 * 0.85 * f_c * A_1 * g", "alpha_cc * f_ck / 1.5", "f_cd * A_c0 * g", "sigma * A_1"],
        &[
            ("A_1", "loaded area of the concrete"),
            ("a", "one side of the loaded area"),
            ("b", "other side of the loaded area"),
            ("phi_B_n", "design bearing resistance (ACI 318)"),
            ("f_c", "cylinder strength of the concrete"),
            ("g", "gain by spread of the force"),
            ("f_cd", "design strength of the concrete"),
            ("alpha_cc", "coefficient for long-term effects"),
            ("f_ck", "characteristic cylinder strength"),
            ("F_Rdu", "design bearing resistance (EN 1992-1-1)"),
            ("A_c0", "loaded area of the concrete"),
            ("F_all", "allowable force on the concrete"),
            ("sigma", "allowable bearing stress of the concrete"),
        ],
    ),
    Section::of(
        &["max(1.0, min(cap, min(n_r, n_d)))"],
        &[
            ("g", "gain by spread of the force"),
            ("cap", "greatest gain that the standard allows"),
            ("n_r", "growth of a side that room allows"),
            ("n_d", "growth of a side that depth allows"),
        ],
    ),
];

const TIMBER: &[Section] = &[
    Section::of(
        &["l * b"],
        &[("A", "contact area"), ("l", "length of the contact along the grain"), ("b", "width of the contact")],
    ),
    Section::of(
        &["C_M * F_c_perp", "C_b * F_w", "l_b * b"],
        &[
            ("F_w", "strength across the grain, wet or dry"),
            ("C_M", "wet service factor; 1 if dry"),
            ("F_c_perp", "reference strength across the grain"),
            ("F_allow", "allowable stress across the grain"),
            ("C_b", "bearing area factor"),
            ("A", "contact area"),
            ("l_b", "length of the contact along the grain"),
            ("b", "width of the contact"),
        ],
    ),
    Section::of(
        &["k_mod * f_c_90_k / 1.3", "k_c_90 * f_c_90_d", "b * l_ef"],
        &[
            ("f_c_90_d", "design strength across the grain"),
            ("k_mod", "factor for load duration and moisture"),
            ("f_c_90_k", "characteristic strength across the grain"),
            ("f_lim", "greatest stress across the grain"),
            ("k_c_90", "factor for the kind of contact"),
            ("A_ef", "effective contact area"),
            ("b", "width of the contact"),
            ("l_ef", "effective contact length along the grain"),
        ],
    ),
];

const PLATE: &[Section] = &[
    Section::of(
        &["F * (1.0 + 6.0 * (e / b))"],
        &[
            ("F_e", AS_AT_EDGE),
            ("F", "greatest force of one ram"),
            ("e", "distance of the force off the axis"),
            ("b", "shorter side of the plate"),
        ],
    ),
    Section::of(
        &[
            "B * N",
            "l * sqrt(3.0 * (F / (sigma * A)))",
            "l * sqrt(3.33 * (F / (F_y * A)))",
            "l * sqrt(3.0 * (F_d / (f_y * A)))",
        ],
        &[
            ("A", "area of the plate"),
            ("B", "width of the plate"),
            ("N", "length of the plate"),
            ("t_req", "thickness that the plate needs"),
            ("l", "longer cantilever of the plate"),
            ("F", AS_AT_EDGE),
            ("F_d", "design force"),
            ("sigma", "allowable bending stress of the plate"),
            ("F_y", "yield strength of the plate"),
            ("f_y", "yield strength of the plate"),
        ],
    ),
    Section::of(
        &["0.80 * D", "max(max(N - d_1, B - d_2) / 2.0, zero)"],
        &[
            ("d_c", "diameter that counts as stiff"),
            ("D", "diameter of what presses on the plate"),
            ("l", "longer cantilever of the plate"),
            ("N", "longer side of the plate"),
            ("B", "shorter side of the plate"),
            ("d_1", "stiff part along the longer side"),
            ("d_2", "stiff part along the shorter side"),
            ("zero", "no length"),
        ],
    ),
    Section::of(
        &["max(b - 2.0 * e, zero)"],
        &[
            ("b_e", "side of the face about the force"),
            ("b", "shorter side of the face"),
            ("e", "distance of the force off the axis"),
            ("zero", "no length"),
        ],
    ),
];

const STACK: &[Section] = &[
    Section::of(
        &["part * (a * b)"],
        &[
            ("A", "contact area about the force"),
            ("part", "part of the area that is loaded"),
            ("a", "one side of the contact"),
            ("b", "other side of the contact"),
        ],
    ),
    Section::of(
        &["mu * R_min / 1.5"],
        &[
            ("H_lim", "horizontal force that friction holds"),
            ("mu", "least coefficient of friction"),
            ("R_min", "least force pressing the faces together"),
        ],
    ),
    Section::of(
        &["h * (stress_on(F, A) / E)"],
        &[
            ("delta_i", "shortening of one piece"),
            ("h", "thickness of the piece"),
            ("F", "force on the stack"),
            ("A", "area on which the piece carries"),
            ("E", MODULUS),
        ],
    ),
    Section::of(&["delta = s"], &[("delta", "shortening of the stack"), ("s", "sum over all pieces")]),
    Section::of(
        &["delta_lim = s"],
        &[
            ("delta_lim", "loss of height that the sequence expects"),
            ("s", "greatest settlements of the pieces, added"),
        ],
    ),
    Section::of(
        &["n * b", "h_s"],
        &[
            ("h_lim", "greatest height of the stack"),
            ("n", "greatest height over width"),
            ("b", WIDTH),
            ("h", "height of the stack"),
            ("h_s", "thicknesses of the pieces, added"),
        ],
    ),
    Section::of(
        &["o_s", "t"],
        &[
            ("o", "how far the piece stands out"),
            ("o_s", "half the difference of the sides"),
            ("o_lim", "how far it may stand out"),
            ("t", "thickness of the piece that stands out"),
        ],
    ),
    Section::of(
        &["e_0 + h * t", "b / 6.0"],
        &[
            ("e", "distance off the middle at the foot"),
            ("e_0", "distance off the axis at the head"),
            ("h", "height of the stack"),
            ("t", "distance off the axis per height"),
            ("e_lim", "middle third: a sixth of the width"),
            ("b", WIDTH),
        ],
    ),
];

const GROUND: &[Section] = &[
    Section::of(
        &["min(B_0, B + n * z)"],
        &[
            ("B_z", "side of the area reached below"),
            ("B_0", "side of the foundation that is there"),
            ("B", "side of the area under the force"),
            ("n", "growth of a side per depth"),
            ("z", "depth of the spread"),
        ],
    ),
    Section::of(
        &["min(n * B_g, B * (L / L_g))", "n * F"],
        &[
            ("B_n", "width reached by all of the point"),
            ("n", "number of rams at the point"),
            ("B_g", "width reached by one"),
            ("B", "shorter side of the area stated"),
            ("L", "longer side of the area stated"),
            ("L_g", "length reached by one"),
            ("F_n", "force of all rams of the point"),
            ("F", ONE_PLACE),
        ],
    ),
    Section::of(
        &["F + G", "L * B", "e_F * (F / N)"],
        &[
            ("N", "whole force on the ground"),
            ("F", "force of all rams of the point"),
            ("G", "own weight of the foundation"),
            ("A", "area of the foundation that bears"),
            ("L", "length of the area that bears"),
            ("B", "width of the area that bears"),
            ("e", "distance of the whole force off the middle"),
            ("e_F", "distance of the force off the middle"),
        ],
    ),
    Section::of(
        &[
            "B / sqrt(1.0 + B / L * (B / L))",
            "pressure_on(N, A) * (1.0 + 6.0 * (e / b))",
            "pressure_on(N, A) * (4.0 * b / (3.0 * (b - 2.0 * e)))",
        ],
        &[
            ("b", "side that counts for an eccentric force"),
            ("B", "shorter side of the area that bears"),
            ("L", "longer side of the area that bears"),
            ("q", "greatest pressure on the ground"),
            ("N", "whole force on the ground"),
            ("A", "area of the foundation that bears"),
            ("e", "distance of the whole force off the middle"),
        ],
    ),
];

/// Every section of supports.
pub(super) const SECTIONS: &[&[Section]] = &[FORCES, CONCRETE, TIMBER, PLATE, STACK, GROUND];
