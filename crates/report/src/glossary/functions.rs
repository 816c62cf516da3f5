//! What the named functions in the expressions compute, so that they can be worked out with a calculator.

/// Name and definition; SI units throughout.
const FUNCTIONS: &[(&str, &str)] = &[
    (
        "bending_in",
        "bending_in(M, y, I) = M y / I: bending stress in Pa of a moment M (N m) at the distance y (m) from the neutral axis, I (m4) being the second moment of area.",
    ),
    (
        "churchill",
        "churchill(Re, e) = 8 ((8 / Re)^12 + 1 / (A + B)^1.5)^(1/12) with A = (2.457 ln(1 / ((7 / Re)^0.9 + 0.27 e)))^16 and B = (37530 / Re)^16: Darcy friction factor, Re the Reynolds number, e roughness over bore. Churchill 1977 (Chemical Engineering, 7 November, pp. 91-92).",
    ),
    (
        "compression",
        "compression(V, p, K) = V (exp(p / K) - 1): oil in m3 needed beyond a volume V (m3) to fill it at the pressure p (Pa), K (Pa) being the bulk modulus, taken as constant. Definition of the bulk modulus.",
    ),
    (
        "darcy_weisbach",
        "darcy_weisbach(f, L, d, rho, q) = f (L / d) rho v^2 / 2 with v = 4 q / (pi d^2): pressure in Pa lost along a hose of length L (m) and bore d (m) by a flow q (m3/s) of density rho (kg/m3), f being the Darcy friction factor. Darcy and Weisbach.",
    ),
    (
        "fittings",
        "fittings(K, d, rho, q) = K rho v^2 / 2 with v = 4 q / (pi d^2): pressure in Pa lost in couplers, valves and bends with the sum K of loss coefficients, for a flow q (m3/s) of density rho (kg/m3) in the bore d (m).",
    ),
    (
        "growth",
        "growth(r) = (1 + (4 / pi - 1) r) / (1 - r) with r = force / critical load: by how much the bending of a column grows, at or above the secant formula. Timoshenko and Gere, Theory of Elastic Stability, beam-columns.",
    ),
    (
        "impact_factor",
        "impact_factor(h, d) = 1 + sqrt(1 + 2 h / d): force of a mass that falls by h (m) on to a spring, over its weight, d (m) being the deflection under the weight at rest. Energy, any textbook of dynamics.",
    ),
    ("log10", "log10(x): logarithm of x to the base 10."),
    (
        "loss_of_run",
        "loss_of_run(q, nu, L, d, rho, K) = (f L / d + K) rho v^2 / 2 with v = 4 q / (pi d^2), Re = v d / nu and f = churchill(Re, 0): pressure in Pa lost by a flow q (m3/s) of viscosity nu (m2/s) and density rho (kg/m3) in a run of length L (m) and bore d (m) whose fittings have the sum K of loss coefficients. Darcy and Weisbach with Churchill 1977.",
    ),
    (
        "mean_flow",
        "mean_flow(p_x, p_0, nu, L, d, rho, K) = (p_x - p_0) / ln(p_x / p_0) over the mean of p / q(p): constant flow in m3/s that empties a ram in the same time as a pressure that changes evenly over the extension from p_x to p_0 (Pa). q(p) is the flow with loss_of_run(q, nu, L, d, rho, K) = p; the mean is taken over ln p between p_0 and p_x by Simpson's rule in 64 equal intervals. Where p_x = p_0 it is q(p_0).",
    ),
    ("pow4", "pow4(x) = x^4."),
    ("pressure_on", "pressure_on(N, A) = N / A: pressure in Pa of a force N (N) on an area A (m2)."),
    ("stress_on", "stress_on(F, A) = F / A: stress in Pa of a force F (N) on an area A (m2)."),
];

/// What a named function computes; nothing for arithmetic that every calculator has, such as `sqrt`, `tan` or `max`.
pub(crate) fn function_definition(name: &str) -> Option<&'static str> {
    FUNCTIONS.iter().find(|(known, _)| *known == name).map(|(_, definition)| *definition)
}

/// The names that have a definition.
#[cfg(test)]
pub(super) fn names() -> impl Iterator<Item = &'static str> {
    FUNCTIONS.iter().map(|(name, _)| *name)
}
