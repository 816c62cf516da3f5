//! The words for what circuits are worked out with: pressures, losses, oil, times.

use super::Section;
use ramwright_engine::check::CheckId;

const AREA: &str = "effective area of one ram; annulus when pulling";
const RAMS: &str = "number of rams on the circuit";
const PUMPS: &str = "number of pumps";
const HOSES: &str = "hoses joined end to end in one run";
const HOSE_LENGTH: &str = "length of one hose";
const RUN_LENGTH: &str = "length of the run of hoses";
const RUN_LOSS: &str = "pressure lost in hoses and fittings";
const BORE: &str = "bore of the hose";
const DENSITY: &str = "density of the oil (kg/m3)";
const VISCOSITY: &str = "kinematic viscosity of the oil";
const COEFFICIENTS: &str = "sum of loss coefficients of the fittings";
const PUMP_FLOW: &str = "flow of one pump";
const GREATEST_AT_RAMS: &str = "greatest oil pressure at the rams";
const STOP_FACTOR: &str = "stop pressure over greatest expected pressure";
const EXTENSION: &str = "greatest extension in one raise";
const APPROACH: &str = "extension before the ram touches the load";
const BESIDE: &str = "oil for compression and swelling";
const BACK_PRESSURE: &str = "pressure in the tank";
const FROM: &str = "extension from which the rams retract";
const DRIVEN: &str = "area of the driven side of the piston";
const EMPTIED: &str = "area of the side that empties";

const PRESSURES: &[Section] = &[
    Section::of(
        &["p_least = R / (n * A)"],
        &[
            ("p_least", "least oil pressure at the rams"),
            ("R", "least share of the point"),
            ("n", "number of rams at the point"),
            ("A", AREA),
        ],
    ),
    Section::of(
        &["p_exp = R / (n * A)"],
        &[
            ("p_exp", "expected oil pressure at the rams"),
            ("R", "expected share of the point"),
            ("n", "number of rams at the point"),
            ("A", AREA),
        ],
    ),
    Section::of(
        &["p_great = R / (n * A)"],
        &[
            ("p_great", GREATEST_AT_RAMS),
            ("R", "greatest share of the point"),
            ("n", "number of rams at the point"),
            ("A", AREA),
        ],
    ),
    Section::of(
        &["min(k * p_great, p_rated)"],
        &[
            ("p_stop", "pressure at which the crew stops"),
            ("k", STOP_FACTOR),
            ("p_great", GREATEST_AT_RAMS),
            ("p_rated", "least rated pressure of the circuit"),
        ],
    ),
    Section::of(
        &["p_great + dp", "max(p_slow, min(p_fast, p_co))", "p_pump * Q_p", "P / eta"],
        &[
            ("p_pump", "greatest oil pressure at the pump"),
            ("p_great", GREATEST_AT_RAMS),
            ("dp", RUN_LOSS),
            ("p_slow", "pump pressure in the slow stage"),
            ("p_fast", "pump pressure in the fast stage"),
            ("p_co", "change-over pressure of the pump"),
            ("P", "power that one pump gives the oil"),
            ("Q_p", "flow of one pump under load"),
            ("P_m", "power that the motor needs"),
            ("eta", "efficiency of the pump"),
        ],
    ),
    Section::of(
        &["Q_1 + (Q_2 - Q_1) * ((p - p_1) / (p_2 - p_1))"],
        &[
            ("Q_p", PUMP_FLOW),
            ("Q_1", "flow at the point of the curve below"),
            ("Q_2", "flow at the point of the curve above"),
            ("p", "oil pressure at the pump"),
            ("p_1", "pressure at the point of the curve below"),
            ("p_2", "pressure at the point of the curve above"),
        ],
    ),
    Section::of(
        &["k * p_great + dp", "min(p_r, min(p_p, p_h))"],
        &[
            ("p_low", "lowest setting of the relief valve"),
            ("p_high", "highest setting of the relief valve"),
            ("k", STOP_FACTOR),
            ("p_great", GREATEST_AT_RAMS),
            ("dp", RUN_LOSS),
            ("p_r", "rated pressure of the ram"),
            ("p_p", "rated pressure of the pump"),
            ("p_h", "rated pressure of the hose (ram, without hose)"),
        ],
    ),
    Section::of(
        &["10.0 * (max(p_r - p, p_0) / dp)"],
        &[
            ("dT_r", "warming that reaches the least rating (K)"),
            ("p_r", "least rated pressure of the circuit"),
            ("p", GREATEST_AT_RAMS),
            ("p_0", "no pressure"),
            ("dp", "pressure gained by warming of 10 K"),
        ],
    ),
];

const LOSSES: &[Section] = &[
    Section::of(
        &["n_p * Q_p / n"],
        &[("q", "flow to one ram"), ("q_in", "flow into one ram"), ("n_p", PUMPS), ("Q_p", PUMP_FLOW), ("n", RAMS)],
    ),
    Section::of(&["n_h * l"], &[("L", RUN_LENGTH), ("n_h", HOSES), ("l", HOSE_LENGTH)]),
    Section::of(
        &["log10(log10(v + 0.7)) - (A - B * log10(T))"],
        &[
            ("nu", VISCOSITY),
            ("v", "kinematic viscosity as a number, in mm2/s"),
            ("A", "intercept of the viscosity line"),
            ("B", "slope of the viscosity line"),
            ("T", "temperature of the oil, in K"),
        ],
    ),
    Section::of(
        &[
            "4.0 / pi * (q / (nu * d))",
            "churchill(Re, e)",
            "darcy_weisbach(f, L, d, rho, q)",
            "fittings(K, d, rho, q)",
            "dp_f + dp_k",
        ],
        &[
            ("Re", "Reynolds number in the hose"),
            ("pi", "circumference over diameter of a circle"),
            ("q", "flow in the run"),
            ("nu", VISCOSITY),
            ("d", BORE),
            ("f", "Darcy friction factor"),
            ("e", "roughness over bore; 0 for smooth"),
            ("dp_f", "pressure lost along the hoses"),
            ("L", RUN_LENGTH),
            ("rho", DENSITY),
            ("dp_k", "pressure lost in the fittings"),
            ("K", COEFFICIENTS),
            ("dp", RUN_LOSS),
        ],
    ),
];

const OIL: &[Section] = &[
    Section::at(
        &[CheckId::OilVolume],
        &["n * A * s", "max(n * A_f * a, n * A * s)"],
        &[
            ("V", "oil that all rams take in"),
            ("n", RAMS),
            ("A", AREA),
            ("s", EXTENSION),
            ("A_f", "effective area of the full bore"),
            ("a", "extension before the pull"),
        ],
    ),
    Section::of(
        &["n * (pi / 4.0) * d * d * (n_h * l)", "w * l * (n * n_h) * (p / p_h)"],
        &[
            ("V_h", "oil in the runs to all rams"),
            ("V_s", "oil by which the hoses swell"),
            ("n", RAMS),
            ("pi", "circumference over diameter of a circle"),
            ("d", BORE),
            ("n_h", HOSES),
            ("l", HOSE_LENGTH),
            ("w", "swelling per length at rated pressure"),
            ("p", "greatest pressure in the circuit"),
            ("p_h", "rated pressure of the hose"),
        ],
    ),
    Section::of(
        &["compression(V + V_h, p, K)", "V + V_c + V_s"],
        &[
            ("V_c", "oil needed because oil compresses"),
            ("V", "oil that all rams take in"),
            ("V_h", "oil in the runs to all rams"),
            ("p", "greatest pressure in the circuit"),
            ("K", "bulk modulus of the oil"),
            ("V_n", "oil needed in all"),
            ("V_s", "oil by which the hoses swell"),
        ],
    ),
    Section::at(
        &[CheckId::OilVolume],
        &["n_p * V_p"],
        &[("V_use", "usable oil of all pumps"), ("n_p", PUMPS), ("V_p", "usable oil of one pump")],
    ),
    Section::at(
        &[CheckId::OilReturn],
        &["max(V_n - n * A_t * s, V_0)", "n_p * V_p"],
        &[
            ("V_r", "oil that flows back to the reservoirs"),
            ("V_n", "oil needed in all"),
            ("n", RAMS),
            ("A_t", "area of the side that fills meanwhile"),
            ("s", "way that the rams go back"),
            ("V_0", "no oil"),
            ("V_t", "content of all reservoirs"),
            ("n_p", PUMPS),
            ("V_p", "content of the reservoir of one pump"),
        ],
    ),
    Section::of(
        &["s - a", "2.0 * e * s"],
        &[
            ("dz", "level difference between two points"),
            ("s", "extension of a raise; rise between levellings"),
            ("a", APPROACH),
            ("e", "error of the flow divider"),
        ],
    ),
];

const TIMES: &[Section] = &[
    Section::of(
        &["n_p * Q_p", "n * A * a / Q_a", "(n * A * (s - a) + V_b) / Q_l", "t_a + t_l"],
        &[
            ("Q_a", "flow of all pumps before contact"),
            ("Q_l", "flow of all pumps under load"),
            ("Q", "flow of all pumps"),
            ("n_p", PUMPS),
            ("Q_p", PUMP_FLOW),
            ("t_a", "time of the approach"),
            ("t_l", "time under load"),
            ("t", "time of the raise, without pauses"),
            ("n", RAMS),
            ("A", "area that the pumps fill in one ram"),
            ("a", APPROACH),
            ("s", "extension at the end of the raise"),
            ("V_b", BESIDE),
        ],
    ),
    Section::of(
        &["n * A * a / (n_p * V_1)", "(n * A * (s - a) + V_b) / (n_p * V_1)"],
        &[
            ("N_a", "strokes of one pump before contact"),
            ("N_l", "strokes of one pump under load"),
            ("n", RAMS),
            ("A", "area that the pumps fill in one ram"),
            ("a", APPROACH),
            ("s", EXTENSION),
            ("V_b", BESIDE),
            ("n_p", PUMPS),
            ("V_1", "oil of one stroke of the pump"),
        ],
    ),
];

const RETRACTING: &[Section] = &[
    Section::of(
        &["q_in * (A_o / A_d)", "(dp + p_b) * (A_o / A_d)", "p_d + dp", "n * A_d * x / Q"],
        &[
            ("q_in", "flow into one ram"),
            ("q_out", "flow out of one ram"),
            ("A_o", EMPTIED),
            ("A_d", DRIVEN),
            ("p_d", "oil pressure on the driven side"),
            ("dp", "pressure lost in the run passed through"),
            ("p_b", BACK_PRESSURE),
            ("p_pump", "oil pressure at the pump"),
            ("t", "time to retract"),
            ("n", RAMS),
            ("x", FROM),
            ("Q", "flow of all pumps"),
        ],
    ),
    Section::of(
        &["R / (n * A) - p_b", "A * x / q"],
        &[
            ("p_r", "pressure that drives the oil back"),
            ("R", "least share of the point"),
            ("n", "number of rams at the point"),
            ("A", "effective area of one ram"),
            ("p_b", BACK_PRESSURE),
            ("t", "time to come down under the load"),
            ("x", FROM),
            ("q", "flow out of one ram"),
        ],
    ),
    Section::of(
        &[
            "F_0 + (F_s - F_0) * (x / s)",
            "(F_x + G) / A - p_b",
            "(F_0 + G) / A - p_b",
            "s * ((p_b * A - G - F_0) / (F_s - F_0))",
            "mean_flow(p_x, p_0, nu, L, d, rho, K)",
            "A * x / q_m * (1.0 + eps)",
            "loss_of_run(q, nu, L, d, rho, K) / p - 1.0",
        ],
        &[
            ("F_x", "force of the spring at that extension"),
            ("F_0", "force of the spring at no extension"),
            ("F_s", "force of the spring at full stroke"),
            ("x", FROM),
            ("s", "stroke of the ram"),
            ("p_x", "driving pressure at that extension"),
            ("p_0", "driving pressure at no extension"),
            ("G", "weight of the plunger, as far as known"),
            ("A", "effective area of one ram"),
            ("p_b", BACK_PRESSURE),
            ("x_0", "extension at which the rams stand still"),
            ("q_m", "constant flow that takes as long"),
            ("nu", VISCOSITY),
            ("L", RUN_LENGTH),
            ("d", BORE),
            ("rho", DENSITY),
            ("K", COEFFICIENTS),
            ("t", "time to retract"),
            ("eps", "relative error of the integration"),
            ("q", "flow out of one ram"),
            ("p", "pressure that drives the oil back"),
        ],
    ),
];

/// Every section of circuits.
pub(super) const SECTIONS: &[&[Section]] = &[PRESSURES, LOSSES, OIL, TIMES, RETRACTING];
