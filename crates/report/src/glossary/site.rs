//! The words for what the crew reads on site.

use super::Section;

const GAUGE: &str = "error of the gauge";
const LEVELS: &str = "level tolerance of the settings";

const PRESSURES: &[Section] = &[
    Section::of(
        &["S * c"],
        &[("e", GAUGE), ("S", "full scale of the gauge"), ("c", "class of the gauge over full scale")],
    ),
    Section::of(
        &["p_least - e", "min(p_great + e, p_stop)"],
        &[
            ("p_low", "least pressure that may be read"),
            ("p_max", "greatest pressure that may be read"),
            ("p_least", "least pressure expected"),
            ("p_great", "greatest pressure expected"),
            ("e", GAUGE),
            ("p_stop", "stop pressure of the step"),
        ],
    ),
];

const HEIGHTS: &[Section] = &[
    Section::of(
        &["x_least - t", "min(x_great + t, s_use)"],
        &[
            ("x_low", "least extension that may be read"),
            ("x_max", "greatest extension that may be read"),
            ("x_least", "least extension expected"),
            ("x_great", "greatest extension expected"),
            ("t", LEVELS),
            ("s_use", "usable stroke of the ram"),
        ],
    ),
    Section::of(
        &["h_least - t", "h_great + t"],
        &[
            ("h_low", "least height that may be read"),
            ("h_max", "greatest height that may be read"),
            ("h_least", "least height expected"),
            ("h_great", "greatest height expected"),
            ("t", LEVELS),
        ],
    ),
    Section::of(
        &["h - h_plan", "d_high - d_low"],
        &[
            ("d_high", "height above plan where it is highest"),
            ("d_low", "height above plan where it is lowest"),
            ("d", "difference of the levels farthest apart"),
            ("h", "height read"),
            ("h_plan", "height planned"),
        ],
    ),
];

const WEIGHT: &[Section] = &[
    Section::of(
        &["W_0 + p * A * n"],
        &[
            ("W", "weight read so far"),
            ("W_0", "weight read at the points before"),
            ("p", "pressure read at the point"),
            ("A", "effective area of one ram"),
            ("n", "rams at the point"),
        ],
    ),
    Section::of(
        &["e * A * n", "W_least - E", "W_great + E"],
        &[
            ("E", "error of the weight read"),
            ("e", GAUGE),
            ("A", "effective area of one ram"),
            ("n", "rams that were read"),
            ("W_low", "least weight that may be read"),
            ("W_max", "greatest weight that may be read"),
            ("W_least", "least weight of the load case"),
            ("W_great", "greatest weight of the load case"),
        ],
    ),
];

/// Every section of readings.
pub(super) const SECTIONS: &[&[Section]] = &[PRESSURES, HEIGHTS, WEIGHT];
