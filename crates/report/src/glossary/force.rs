//! The words for estimates of the force that work in a machine frame needs.

use super::Section;

const JOINT: &str = "diameter of the joint";
const HUB: &str = "outside diameter of the hub";
const PLASTIC_MOMENT: &str = "plastic moment of the section";
const STRENGTH: &str = "strength of the bar at this end";

const FIT: &[Section] = &[
    Section::of(
        &["d / 2.0", "2.0 * pi * R * L"],
        &[
            ("R", "radius of the joint"),
            ("d", JOINT),
            ("A", "surface of the joint"),
            ("pi", "circumference over diameter of a circle"),
            ("L", "length of the joint"),
        ],
    ),
    Section::of(
        &["p * A * mu", "k_s * F"],
        &[
            ("F", "force that slides the joint"),
            ("p", "pressure between shaft and hub"),
            ("A", "surface of the joint"),
            ("mu", "coefficient of friction at this end"),
            ("F_greatest", "greatest force, after service"),
            ("k_s", "factor for a joint after service"),
        ],
    ),
    Section::of(
        &[
            "p * ((D * D + d * d) / (D * D - d * d))",
            "(D * D + d * d) / (D * D - d * d) + nu_o",
            "(d * d + b * b) / (d * d - b * b) - nu_i",
            "E_o * (delta_r / R) / (C_o + C_i * (E_o / E_i))",
        ],
        &[
            ("sigma_h", "hoop stress at the bore of the hub"),
            ("p", "pressure between shaft and hub"),
            ("D", HUB),
            ("d", JOINT),
            ("b", "bore of the shaft; 0 if solid"),
            ("C_o", "how much the hub gives way"),
            ("C_i", "how much the shaft gives way"),
            ("nu_o", "Poisson's ratio of the hub"),
            ("nu_i", "Poisson's ratio of the shaft"),
            ("E_o", "modulus of elasticity of the hub"),
            ("E_i", "modulus of elasticity of the shaft"),
            ("delta_r", "radial interference at this end"),
            ("R", "radius of the joint"),
        ],
    ),
    Section::of(
        &["sigma_h + p"],
        &[
            ("sigma", "equivalent stress at the hub's bore"),
            ("sigma_h", "greatest hoop stress at the hub's bore"),
            ("p", "greatest pressure between shaft and hub"),
        ],
    ),
];

const BENDING: &[Section] = &[
    Section::of(
        &["K_bf * R_m * (w * t) * (t / D)"],
        &[
            ("F", "force of the punch"),
            ("K_bf", "factor of the kind of die"),
            ("R_m", "tensile strength at this end"),
            ("w", "width of the bend"),
            ("t", "thickness of the sheet"),
            ("D", "opening of the die"),
        ],
    ),
    Section::of(
        &["4.0 * M_p / L"],
        &[("F", "force that bends the bar plastically"), ("M_p", PLASTIC_MOMENT), ("L", "span between the supports")],
    ),
    Section::of(
        &["f_y * (d * d) * (d / 6.0)", "f_y * (d * d) * (d / 6.0) - f_y * (b * b) * (b / 6.0)"],
        &[("M_p", PLASTIC_MOMENT), ("f_y", STRENGTH), ("d", "outside diameter of the bar"), ("b", "bore of the tube")],
    ),
    Section::of(
        &["f_y * (w * h) * (h / 4.0)"],
        &[("M_p", PLASTIC_MOMENT), ("f_y", STRENGTH), ("w", "width of the bar"), ("h", "depth along the force")],
    ),
    Section::of(
        &["f_y * (Z_over_m3 * A_1) * l_1"],
        &[
            ("M_p", PLASTIC_MOMENT),
            ("f_y", STRENGTH),
            ("Z_over_m3", "plastic section modulus, as a number of m3"),
            ("A_1", "one square metre"),
            ("l_1", "one metre"),
        ],
    ),
];

const CYCLE: &[Section] = &[
    Section::of(
        &["Q / (n * A)", "n * A * s", "s / v"],
        &[
            ("v", "speed of the rams"),
            ("Q", "flow of all pumps in this movement"),
            ("n", "number of rams"),
            ("A", "driven area of one ram"),
            ("V", "oil that all rams take"),
            ("s", "length of this movement"),
            ("t", "time of this movement"),
        ],
    ),
    Section::of(
        &["t_a + t_w + t_b"],
        &[
            ("t", "time of one cycle, without pauses"),
            ("t_a", "time of the approach"),
            ("t_w", "time of the work"),
            ("t_b", "time back"),
        ],
    ),
];

const FRAME: &[Section] = &[Section::of(
    &["D - h_w"],
    &[("S_0", "opening that the work leaves"), ("D", "daylight of the frame"), ("h_w", "height of the work")],
)];

/// Every section of forces in a frame.
pub(super) const SECTIONS: &[&[Section]] = &[FIT, BENDING, CYCLE, FRAME];
