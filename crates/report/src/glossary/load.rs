//! The words for weight, centre of gravity, weighing, stiffness of supports and tipping.

use super::Section;

const FULL_SCALE: &str = "full scale of the load cell";
const GAUGE_ERROR: &str = "error of the gauge: class x full scale";
const RAM_AREA: &str = "effective area of the rams at the point";
const LEAST: &str = "least reaction at the point";
const EXPECTED: &str = "expected reaction at the point";
const GREATEST: &str = "greatest reaction at the point";
const RAISING: &str = "pressure read while the load rises";
const LOWERING: &str = "pressure read while the load sinks";

const READINGS: &[Section] = &[
    Section::of(
        &["max(R - c * R_fs, O)", "R + c * R_fs"],
        &[
            ("R_min", LEAST),
            ("R_max", GREATEST),
            ("R", "force read at the point"),
            ("c", "accuracy class, as a part of full scale"),
            ("R_fs", FULL_SCALE),
            ("O", "no force"),
        ],
    ),
    Section::of(
        &["(p_u + p_d) * A / 2.0", "(p_u - p_d) * A / 2.0", "max(R - e * A, O)", "R + e * A"],
        &[
            ("R_min", LEAST),
            ("R_max", GREATEST),
            ("R", EXPECTED),
            ("F", "friction of the seals"),
            ("p_u", RAISING),
            ("p_d", LOWERING),
            ("A", RAM_AREA),
            ("e", GAUGE_ERROR),
            ("O", "no force"),
        ],
    ),
    Section::of(
        &["p_u * A * (1.0 - f / 2.0)", "max((p_u - e) * A * (1.0 - f), O)", "(p_u + e) * A"],
        &[
            ("R_min", LEAST),
            ("R_max", GREATEST),
            ("R", EXPECTED),
            ("p_u", RAISING),
            ("A", RAM_AREA),
            ("f", "greatest part taken by seal friction"),
            ("e", GAUGE_ERROR),
            ("O", "no force"),
        ],
    ),
    Section::of(
        &["W_least = min(W_r, W_d)"],
        &[
            ("W_least", "least weight to go on with"),
            ("W_r", "least weight by the readings"),
            ("W_d", "least weight by the drawing"),
        ],
    ),
    Section::of(
        &["W_expected = max(W_r, W_d)", "W_r / W_d - 1.0"],
        &[
            ("W_expected", "expected weight to go on with"),
            ("W_r", "expected weight by the readings"),
            ("W_d", "expected weight by the drawing"),
            ("m", "by how much the readings say more"),
        ],
    ),
    Section::of(
        &["W_greatest = max(W_r, W_d)"],
        &[
            ("W_greatest", "greatest weight to go on with"),
            ("W_r", "greatest weight by the readings"),
            ("W_d", "greatest weight by the drawing"),
        ],
    ),
];

const STIFFNESS: &[Section] = &[
    Section::of(
        &["h + V / A", "K * A / h_o"],
        &[
            ("h_o", "height of the oil with dead volume"),
            ("h", "height of the oil under the plunger"),
            ("V", "dead volume of oil"),
            ("A", "effective area of the ram"),
            ("k_o", "stiffness of the oil"),
            ("K", "bulk modulus of the oil"),
        ],
    ),
    Section::of(
        &["V_1 * (l / l_1)"],
        &[
            ("V_h", "swelling of the whole hose"),
            ("V_1", "swelling of the piece of hose"),
            ("l", "length of the hose"),
            ("l_1", "length of the piece of hose"),
        ],
    ),
    Section::of(
        &["p * A / (V / A)"],
        &[
            ("k_h", "stiffness by swelling of the hose"),
            ("p", "pressure at which the hose swells so"),
            ("A", "effective area of the ram"),
            ("V", "swelling of the hose"),
        ],
    ),
    Section::of(
        &["E * A / h"],
        &[
            ("k_b", "stiffness of the block"),
            ("E", "modulus of elasticity of the block"),
            ("A", "area of the block"),
            ("h", "height of the block"),
        ],
    ),
    Section::of(
        &["k_a / (1.0 + k_a / k_b)"],
        &[
            ("k", "stiffness of the parts together"),
            ("k_a", "stiffness of the parts above"),
            ("k_b", "stiffness of the next part"),
        ],
    ),
    Section::of(
        &["S_0 + A", "V_0 + A * (p * A / k)", "p * S / (V / S)"],
        &[
            ("S", "sum of the areas of linked rams"),
            ("S_0", "sum of the areas so far"),
            ("A", "effective area of this ram"),
            ("V", "oil by which the rams give way"),
            ("V_0", "oil by which the rams before give way"),
            ("p", "any pressure; it cancels"),
            ("k", "stiffness of the support of this ram"),
            ("k_g", "stiffness of the group of linked rams"),
        ],
    ),
];

const TIPPING: &[Section] = &[Section::of(
    &["t + a"],
    &[
        ("s", "reach towards the edge of the supports"),
        ("t", "reach of the tolerance of the centre"),
        ("a", "reach of the horizontal forces"),
    ],
)];

/// Every section of loads that the macros write.
pub(super) const SECTIONS: &[&[Section]] = &[READINGS, STIFFNESS, TIPPING];

/// What the sums and centres over all parts, or over all readings, give.
const TOTALS: &[(&str, &str)] = &[
    ("W_min", "least weight of the whole load"),
    ("W", "expected weight of the whole load"),
    ("W_max", "greatest weight of the whole load"),
    ("x_g_min", "least x of the centre of gravity"),
    ("x_g", "expected x of the centre of gravity"),
    ("x_g_max", "greatest x of the centre of gravity"),
    ("y_g_min", "least y of the centre of gravity"),
    ("y_g", "expected y of the centre of gravity"),
    ("y_g_max", "greatest y of the centre of gravity"),
    ("z_g_min", "least height of the centre of gravity"),
    ("z_g", "expected height of the centre of gravity"),
    ("z_g_max", "greatest height of the centre of gravity"),
];

/// The numbered terms of those sums, by their letter: first where parts are added, then where readings are.
const NUMBERED: &[(&str, &str, &str)] = &[
    ("w", "weight of the part of this number", ""),
    ("R", "", "reaction of the reading of this number"),
    ("x", "x of the part of this number", "x of the reading of this number"),
    ("y", "y of the part of this number", "y of the reading of this number"),
    ("z", "height of the part of this number", ""),
];

/// The words for a symbol in a sum or a centre, whose expressions are as long as the list of parts or readings.
pub(super) fn in_sum(expression: &str, symbol: &str) -> Option<&'static str> {
    let of_parts = match expression.trim_start_matches('(').split('_').next()? {
        "w" => true,
        "R" => false,
        _ => return None,
    };
    if let Some((_, words)) = TOTALS.iter().find(|(total, _)| *total == symbol) {
        return Some(words);
    }
    let (letter, number) = symbol.split_once('_')?;
    number.parse::<u32>().ok()?;
    let (_, part, reading) = NUMBERED.iter().find(|(known, ..)| *known == letter)?;
    Some(if of_parts { part } else { reading }).copied().filter(|words| !words.is_empty())
}
