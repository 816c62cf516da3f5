//! The words for the checks of rams.

use super::Section;
use ramwright_engine::check::CheckId;

const SHARE: &str = "greatest share of the point";
const RAMS: &str = "number of rams at the point";
const ONE_RAM: &str = "force on one ram";
const AREA: &str = "effective area of one ram";
const CLOSED: &str = "closed height of the ram";
const PLATES: &str = "thickness of head and base plate";
const EXTENSION: &str = "extension of the ram";
const OFF: &str = "distance of the force off the axis";
const LEAN: &str = "lean of the ram, in radians";
const CRITICAL: &str = "elastic critical load of the ram";
const OUTSIDE: &str = "outside diameter of the plunger";
const INERTIA: &str = "second moment of the plunger";
const OIL_EXPANSION: &str = "thermal expansion of oil (1/K)";
const STEEL_EXPANSION: &str = "thermal expansion of steel, linear (1/K)";

const FORCE: &[Section] = &[
    Section::of(
        &["p * A", "phi * Q"],
        &[
            ("Q", "capacity of one ram"),
            ("p", "rated pressure"),
            ("A", "effective area; annulus in a pull"),
            ("F_lim", "force that one ram may carry"),
            ("phi", "part of the capacity that may be used"),
        ],
    ),
    Section::at(
        &[CheckId::Capacity, CheckId::RamLost, CheckId::PointLost],
        &["F = R / n"],
        &[("F", ONE_RAM), ("R", SHARE), ("n", RAMS)],
    ),
    Section::of(&["P = R / n"], &[("P", ONE_RAM), ("R", SHARE), ("n", RAMS)]),
    Section::of(
        &["k_stop * R"],
        &[
            ("F_stop", "greatest force before the crew stops"),
            ("k_stop", "stop pressure over greatest expected; stack: 1"),
            ("R", "greatest share, on rams or stacks"),
        ],
    ),
    Section::of(
        &["H / n + P * tan(a)", "eta * p * A"],
        &[
            ("H_1", "sideways force on one ram"),
            ("H", "horizontal force on the load"),
            ("n", "number of rams that share it"),
            ("P", "force along the ram"),
            ("a", LEAN),
            ("H_lim", "sideways force that one ram bears"),
            ("eta", "side load limit over capacity"),
            ("p", "rated pressure"),
            ("A", AREA),
        ],
    ),
    Section::of(
        &["F / k", "impact_factor(h, d)", "phi * F"],
        &[
            ("d", "deflection under the load at rest"),
            ("F", SHARE),
            ("k", "stiffness of what catches the load"),
            ("phi", "impact factor"),
            ("h", "height of the fall: follow-up gap"),
            ("F_max", "greatest force of the fall"),
        ],
    ),
    Section::of(
        &["m / n"],
        &[("m_1", "mass that one person carries"), ("m", "mass of one ram"), ("n", "number of persons")],
    ),
];

const LENGTHS: &[Section] = &[
    Section::of(
        &["c + t_p + g_r", "c + t_p + T"],
        &[
            ("h", "height that the closed ram needs"),
            ("c", CLOSED),
            ("t_p", PLATES),
            ("g_r", "gap to bring the ram in"),
            ("T", "travel of the pull"),
        ],
    ),
    Section::of(
        &["phi_s * s"],
        &[("U", "usable stroke"), ("phi_s", "part of the stroke that may be used"), ("s", "stroke of the ram")],
    ),
    Section::of(
        &["S_0 - c - t_p + T", "S_0 - c - t_p"],
        &[
            ("e", "extension that the ram needs"),
            ("S_0", "opening in the frame before the travel"),
            ("c", CLOSED),
            ("t_p", PLATES),
            ("T", "travel of the work"),
        ],
    ),
    Section::of(
        &["e + s_0"],
        &[
            ("s_req", "stroke that is needed"),
            ("e", "greatest extension of the sequence"),
            ("s_0", "spare stroke to free the collar"),
        ],
    ),
    Section::of(
        &["n_1 * d + (n_1 - 1.0) * s", "n_2 * d + (n_2 - 1.0) * s"],
        &[
            ("b_1", "length that the rams take up"),
            ("b_2", "width that the rams take up"),
            ("n_1", "rams along the pad"),
            ("n_2", "rams across the pad"),
            ("d", "diameter of the base of a ram"),
            ("s", "spacing between two rams"),
        ],
    ),
    Section::of(&["d / 8.0"], &[("e_lim", "kern radius of the saddle"), ("d", "diameter of the saddle")]),
];

const OIL: &[Section] = &[
    Section::of(
        &["p * A / A_a"],
        &[
            ("p_a", "pressure on the return side"),
            ("p", "rated pressure of the ram"),
            ("A", AREA),
            ("A_a", "annulus area of the ram"),
        ],
    ),
    Section::of(&["p = R / (n * A)"], &[("p", "oil pressure before it warms"), ("R", SHARE), ("n", RAMS), ("A", AREA)]),
    Section::of(
        &["K * ((beta - 3.0 * alpha) * dT)", "p + dp", "min(p_w, p_v)"],
        &[
            ("dp", "pressure gained by warming"),
            ("K", "bulk modulus of the oil"),
            ("beta", OIL_EXPANSION),
            ("alpha", STEEL_EXPANSION),
            ("dT", "rise of the oil's temperature (K)"),
            ("p_w", "pressure of the warm oil"),
            ("p", "oil pressure before it warms"),
            ("p_k", "pressure that the relief valve leaves"),
            ("p_v", "setting of the relief valve"),
        ],
    ),
    Section::of(
        &["l * ((beta - 2.0 * alpha) * dT)"],
        &[
            ("dh", "rise of a load free to rise"),
            ("l", "height of the oil: the extension"),
            ("beta", OIL_EXPANSION),
            ("alpha", STEEL_EXPANSION),
            ("dT", "rise of the oil's temperature (K)"),
        ],
    ),
];

const COLUMN: &[Section] = &[
    Section::of(
        &["P_cr / gamma"],
        &[("P_lim", "force that one ram may carry"), ("P_cr", CRITICAL), ("gamma", "factor on the critical load")],
    ),
    Section::of(
        &["h_B + t_p + c"],
        &[
            ("l_1", "length of the lower, stiffer section"),
            ("h_B", "height of the base stack"),
            ("t_p", PLATES),
            ("c", CLOSED),
        ],
    ),
    Section::of(&["c + t_p"], &[("l", "length that counts for the plunger"), ("c", CLOSED), ("t_p", PLATES)]),
    Section::of(
        &["pi / 64.0 * (pow4(D) - pow4(d))"],
        &[
            ("I_over_m4", "second moment of the ring, in m4"),
            ("pi", "circumference over diameter of a circle"),
            ("D", "outside diameter of the ring, in m"),
            ("d", "inside diameter of the ring, in m"),
        ],
    ),
    Section::of(
        &[
            "n * cos(u_1) * cos(u_2) - sin(u_1) * sin(u_2)",
            "n * sin(u_1) * cos(u_2) + cos(u_1) * sin(u_2)",
            "n * sin(u_1) * cos(u_2) + cos(u_1) * sin(u_2) - v * (n * cos(u_1) * cos(u_2) - sin(u_1) * sin(u_2))",
            "n * cos(u_1) * cos(u_2) - sin(u_1) * sin(u_2) - q * (n * sin(u_1) * cos(u_2) + cos(u_1) * sin(u_2))",
        ],
        &[
            ("P_cr", CRITICAL),
            ("n", "sqrt(E I_1 / (E I_2)) of the sections"),
            ("u_1", "l_1 sqrt(P_cr / (E I_1)), lower section"),
            ("u_2", "l_2 sqrt(P_cr / (E I_2)), upper section"),
            ("v", "(l_1 + l_2) sqrt(P_cr / (E I_1))"),
            ("q", "sqrt(P_cr E I_1) over stiffness of the base"),
        ],
    ),
    Section::of(
        &[
            "c + e_x",
            "growth(P / P_cr)",
            "(P * e + (P * tan(a) + H) * l) * m_P",
            "P * e + (P * tan(a) + H) * l",
            "stress_on(P, A) + bending_in(M, d / 2.0, I)",
            "0.5 * f_y",
        ],
        &[
            ("l", "length from head to foot"),
            ("c", CLOSED),
            ("e_x", EXTENSION),
            ("m_P", "growth of the bending by the force"),
            ("P", ONE_RAM),
            ("P_cr", CRITICAL),
            ("M", "bending moment in the plunger"),
            ("e", OFF),
            ("a", LEAN),
            ("H", "sideways force on the head"),
            ("sigma", "greatest stress in the plunger"),
            ("A", "area of the plunger's section"),
            ("d", OUTSIDE),
            ("I", INERTIA),
            ("sigma_lim", "stress that the plunger may have"),
            ("f_y", "yield strength of the plunger"),
        ],
    ),
];

const OWN_WEIGHT: &[Section] = &[
    Section::of(
        &["W * sin(a)", "t_p + c + e_x", "k_m * W_s * l", "k_f * l * (bending_in(W_s * l, l, I) / E)", "f_w + M_w / P"],
        &[
            ("W_s", "weight of the ram across its axis"),
            ("W", "weight of the ram"),
            ("a", "angle of the ram from plumb, in radians"),
            ("l", "whole length of the extended ram"),
            ("t_p", PLATES),
            ("c", CLOSED),
            ("e_x", EXTENSION),
            ("M_w", "greatest moment of the ram's weight"),
            ("k_m", "factor of the moment, by the supports"),
            ("f_w", "deflection by the ram's weight"),
            ("k_f", "factor of the deflection, by the supports"),
            ("I", INERTIA),
            ("E", "modulus of elasticity of the ram"),
            ("e_w", "distance off axis that bends as much"),
            ("P", ONE_RAM),
        ],
    ),
    Section::of(
        &["e = e_0 + e_w"],
        &[("e", OFF), ("e_0", "distance off the axis as stated"), ("e_w", "distance off axis for the ram's weight")],
    ),
];

/// Every section of rams.
pub(super) const SECTIONS: &[&[Section]] = &[FORCE, LENGTHS, OIL, COLUMN, OWN_WEIGHT];
