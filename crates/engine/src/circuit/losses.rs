//! Pressure lost by friction in the run of hoses to a ram.

use super::kernel::friction::friction_factor_churchill_1977;
use super::kernel::hose::{HoseFlow, hose_pressure_loss};
use super::kernel::viscosity::{OilViscosity, kinematic_viscosity_astm_d341};
use super::model::{CircuitInput, HoseRun, Oil};
use crate::catalogue::Hose;
use crate::check::{Line, Lines, Source};
use crate::text::Text;
use crate::{line, root_line};
use ramwright_units::{Flow, HoseLength, KinematicViscosity, Length, OilPressure};
use std::error::Error;
use std::f64::consts::PI;
use std::ops::RangeInclusive;

/// Between laminar and turbulent no formula is reliable (any textbook of fluid mechanics).
const TRANSITION: RangeInclusive<f64> = 2000.0..=4000.0;
/// A hose's bore is taken as smooth.
const SMOOTH: f64 = 0.0;

const EQUAL_FLOW: Source = Source::definition("the flow of all pumps divides equally over all rams, one run to each");
const D341: Source = Source::published(
    "ASTM D341, short form: log10 log10(v + 0.7) = A - B log10 T, v in mm2/s, T in K, line through 40 and 100 degrees Celsius",
);
const LENGTHS: Source = Source::definition("hoses joined end to end");
const REYNOLDS: Source = Source::published("Reynolds number = velocity x bore / viscosity = 4 q / (pi d nu)");
const CHURCHILL: Source = Source::published(
    "Churchill 1977 (Chemical Engineering, 7 November, pp. 91-92): f = 8 ((8 / Re)^12 + 1 / (A + B)^1.5)^(1/12), A = (2.457 ln(1 / ((7 / Re)^0.9 + 0.27 e)))^16, B = (37530 / Re)^16; e = 0, a smooth bore",
);
const DARCY: Source = Source::published(
    "Darcy and Weisbach: loss = f (L / d) rho v^2 / 2, v = 4 q / (pi d^2), rho in kg/m3; friction along the hoses only, without couplers, valves and bends",
);

/// Why the loss is not known.
#[derive(Clone, Debug, PartialEq)]
pub(super) struct Unknown {
    /// The input that is missing or outside what the formulas are valid for.
    pub(super) missing: Text,
    /// What is the matter with it.
    pub(super) reason: Text,
}

impl Unknown {
    fn outside(missing: &'static str, error: &dyn Error) -> Self {
        let cause = error.source().map(|source| format!(": {source}")).unwrap_or_default();
        Self { missing: missing.into(), reason: format!("The hose loss is not known: {error}{cause}.").into() }
    }
}

/// A run at one flow, with its calculation.
#[derive(Clone, Debug, PartialEq)]
pub(super) struct Loss {
    /// The run.
    pub(super) run: HoseRun,
    /// The calculation.
    pub(super) lines: Vec<Line>,
}

impl Loss {
    /// Whether the flow is between laminar and turbulent.
    pub(super) fn in_transition(&self) -> bool {
        TRANSITION.contains(&self.run.reynolds)
    }
}

/// Loss in the run to one ram when each pump delivers `pump_flow`.
///
/// # Source
/// ASTM D341 for the viscosity, Churchill 1977 for the friction factor, Darcy and Weisbach for the loss.
///
/// # Validity
/// As the kernels say; friction along the hoses only.
///
/// # Errors
/// [`Unknown`] without a hose, without rams, or outside the validity of a formula.
pub(super) fn hose_loss(input: &CircuitInput, pump_flow: Flow) -> Result<Loss, Unknown> {
    let hose = input.hose.as_ref().ok_or_else(|| Unknown {
        missing: "circuit/hose".into(),
        reason: "No hose is stated, so that hose losses are not included.".into(),
    })?;
    if input.points.is_empty() {
        return Err(Unknown { missing: "circuit/points".into(), reason: "No point is stated.".into() });
    }
    let mut lines = Lines::default();
    let viscosity = viscosity(&mut lines, &input.oil)?;
    let flow = line!(&mut lines, q: Flow = n_p * Q_p / n; n_p = f64::from(input.pumps), Q_p = pump_flow, n = input.rams(); EQUAL_FLOW);
    let run = run(&mut lines, hose, input.hose_count_in_series, flow, viscosity, input.oil.density_kg_per_m3)?;
    Ok(Loss { run, lines: lines.0 })
}

fn viscosity(book: &mut Lines, oil: &Oil) -> Result<KinematicViscosity, Unknown> {
    let OilViscosity { kinematic_viscosity_m2_per_s, intercept_a, slope_b } =
        kinematic_viscosity_astm_d341(oil.viscosity_40.m2_per_s(), oil.viscosity_100.m2_per_s(), oil.temperature.k())
            .map_err(|error| Unknown::outside("circuit/oil", &error))?;
    let viscosity = KinematicViscosity::from_m2_per_s(kinematic_viscosity_m2_per_s);
    root_line!(book, nu = viscosity; log10(log10(v + 0.7)) - (A - B * log10(T)); v = viscosity.mm2_per_s(), A = intercept_a, B = slope_b, T = oil.temperature.k(); D341);
    Ok(viscosity)
}

fn run(
    book: &mut Lines,
    hose: &Hose,
    in_series: u32,
    flow: Flow,
    viscosity: KinematicViscosity,
    density_kg_per_m3: f64,
) -> Result<HoseRun, Unknown> {
    let length = line!(book, L: HoseLength = n_h * l; n_h = f64::from(in_series), l = hose.length; LENGTHS);
    // The kernel judges the inputs; the lines then show the same formulas term by term.
    hose_pressure_loss(&HoseFlow {
        flow_m3_per_s: flow.m3_per_s(),
        inside_diameter_m: hose.bore.m(),
        length_m: length.m(),
        roughness_m: SMOOTH,
        density_kg_per_m3,
        kinematic_viscosity_m2_per_s: viscosity.m2_per_s(),
    })
    .map_err(|error| Unknown::outside("circuit/hose", &error))?;
    let reynolds =
        line!(book, Re: f64 = 4.0 / pi * (q / (nu * d)); pi = PI, q = flow, nu = viscosity, d = hose.bore; REYNOLDS);
    let factor = line!(book, f: f64 = churchill(Re, e); Re = reynolds, e = SMOOTH; CHURCHILL);
    let loss = line!(book, dp: OilPressure = darcy_weisbach(f, L, d, rho, q); f = factor, L = length, d = hose.bore, rho = density_kg_per_m3, q = flow; DARCY);
    Ok(HoseRun { length, flow, viscosity, reynolds, loss })
}

fn log10(x: f64) -> f64 {
    libm::log10(x)
}

/// Not a number outside validity, which the kernel has refused before.
fn churchill(reynolds: f64, relative_roughness: f64) -> f64 {
    friction_factor_churchill_1977(reynolds, relative_roughness).unwrap_or(f64::NAN)
}

fn darcy_weisbach(factor: f64, length: HoseLength, bore: Length, density_kg_per_m3: f64, flow: Flow) -> OilPressure {
    let bore_m = bore.m();
    let velocity_m_per_s = flow.m3_per_s() / (PI / 4.0 * bore_m * bore_m);
    OilPressure::from_pa(
        factor * (length.m() / bore_m) * (density_kg_per_m3 * velocity_m_per_s * velocity_m_per_s / 2.0),
    )
}
