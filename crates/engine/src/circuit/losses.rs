//! Pressure lost in the run of hoses to a ram: friction along it, and its fittings.

use super::input::{CircuitInput, Oil};
use super::kernel::friction::friction_factor_churchill_1977;
use super::kernel::run::{Run, SMOOTH, loss};
use super::kernel::viscosity::{OilViscosity, kinematic_viscosity_astm_d341};
use super::model::{FlowRegion, FrictionLaw, HoseRun};
use crate::catalogue::Hose;
use crate::check::{Ledger, Line, Lines, NoLines, Source};
use crate::text::Text;
use crate::{line, root_line};
use ramwright_units::{Flow, HoseLength, KinematicViscosity, Length, OilPressure};
use std::error::Error;
use std::f64::consts::PI;

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
    "Darcy and Weisbach: loss = f (L / d) rho v^2 / 2, v = 4 q / (pi d^2), rho in kg/m3; friction along the hoses",
);
const FITTINGS_STATED: Source =
    Source::stated("loss coefficients of couplers, valves and bends as stated: K rho v^2 / 2");
const FITTINGS: Source = Source::from_memory(
    "couplers: K rho v^2 / 2 with K = 5 for each coupler pair, a rough value from memory, one pair more than there are hoses; other valves and bends not included, and in laminar flow a fitting can lose more",
);
const WHOLE_RUN: Source = Source::definition("losses in series add up");

/// Loss coefficient of a pair of couplers. From memory, and rough.
const COUPLER_PAIR_K: f64 = 5.0;

/// Why the loss is not known.
#[derive(Clone, Debug, PartialEq)]
pub(super) struct Unknown {
    /// The input that is missing or outside what the formulas are valid for.
    pub(super) missing: Text,
    /// What is the matter with it.
    pub(super) reason: Text,
}

impl Unknown {
    pub(super) fn outside(missing: &'static str, error: &dyn Error) -> Self {
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
        self.run.region == FlowRegion::Transition
    }
}

/// Loss in the run to one ram when each pump delivers `pump_flow`.
///
/// # Source
/// ASTM D341 for the viscosity, Churchill 1977 for the friction factor, Darcy and Weisbach for the loss; the coefficient
/// of a coupler is from memory where none is stated.
///
/// # Validity
/// As the kernels say.
///
/// # Errors
/// [`Unknown`] without a hose, without rams, or outside the validity of a formula.
pub(super) fn hose_loss(input: &CircuitInput, pump_flow: Flow) -> Result<Loss, Unknown> {
    let mut lines = Lines::default();
    let run = of_pump_flow(&mut lines, input, pump_flow)?;
    Ok(Loss { run, lines: lines.0 })
}

/// The same without its calculation, for searches that ask for it many times.
///
/// # Errors
/// [`Unknown`] as [`hose_loss`].
pub(super) fn pressure_lost(input: &CircuitInput, pump_flow: Flow) -> Result<OilPressure, Unknown> {
    Ok(of_pump_flow(&mut NoLines, input, pump_flow)?.loss)
}

fn of_pump_flow(book: &mut impl Ledger, input: &CircuitInput, pump_flow: Flow) -> Result<HoseRun, Unknown> {
    let hose = stated_hose(input)?;
    let viscosity = viscosity(book, &input.oil)?;
    let flow = line!(book, q: Flow = n_p * Q_p / n; n_p = f64::from(input.pumps), Q_p = pump_flow, n = input.rams(); EQUAL_FLOW);
    run_loss(book, input, hose, flow, viscosity)
}

/// The run to one ram at a flow through it; its lines go into the book.
///
/// # Errors
/// [`Unknown`] as [`hose_loss`].
pub(super) fn loss_at(book: &mut impl Ledger, input: &CircuitInput, flow: Flow) -> Result<HoseRun, Unknown> {
    let hose = stated_hose(input)?;
    let viscosity = viscosity(book, &input.oil)?;
    run_loss(book, input, hose, flow, viscosity)
}

/// The hose, with a ram at its end.
fn stated_hose(input: &CircuitInput) -> Result<&Hose, Unknown> {
    let hose = input.hose.as_ref().ok_or_else(|| Unknown {
        missing: "circuit/hose".into(),
        reason: "No hose is stated, so that hose losses are not included.".into(),
    })?;
    if input.points.is_empty() {
        return Err(Unknown { missing: "circuit/points".into(), reason: "No point is stated.".into() });
    }
    Ok(hose)
}

/// The run to one ram with its oil, for the kernels.
///
/// # Errors
/// [`Unknown`] as [`hose_loss`].
pub(super) fn run_of(book: &mut impl Ledger, input: &CircuitInput) -> Result<Run, Unknown> {
    let hose = stated_hose(input)?;
    let viscosity = viscosity(book, &input.oil)?;
    Ok(run_with(book, input, hose, viscosity))
}

fn run_with(book: &mut impl Ledger, input: &CircuitInput, hose: &Hose, viscosity: KinematicViscosity) -> Run {
    let length =
        line!(book, L: HoseLength = n_h * l; n_h = f64::from(input.hose_count_in_series), l = hose.length; LENGTHS);
    Run {
        inside_diameter_m: hose.bore.m(),
        length_m: length.m(),
        fittings_k: fittings_k(input),
        density_kg_per_m3: input.oil.density_kg_per_m3,
        kinematic_viscosity_m2_per_s: viscosity.m2_per_s(),
    }
}

/// Sum of the loss coefficients in the run to one ram.
fn fittings_k(input: &CircuitInput) -> f64 {
    input.conditions.fittings_k.unwrap_or_else(|| COUPLER_PAIR_K * (f64::from(input.hose_count_in_series) + 1.0))
}

fn viscosity(book: &mut impl Ledger, oil: &Oil) -> Result<KinematicViscosity, Unknown> {
    let OilViscosity { kinematic_viscosity_m2_per_s, intercept_a, slope_b } =
        kinematic_viscosity_astm_d341(oil.viscosity_40.m2_per_s(), oil.viscosity_100.m2_per_s(), oil.temperature.k())
            .map_err(|error| Unknown::outside("circuit/oil", &error))?;
    let viscosity = KinematicViscosity::from_m2_per_s(kinematic_viscosity_m2_per_s);
    root_line!(book, nu = viscosity; log10(log10(v + 0.7)) - (A - B * log10(T)); v = viscosity.mm2_per_s(), A = intercept_a, B = slope_b, T = oil.temperature.k(); D341);
    Ok(viscosity)
}

fn run_loss(
    book: &mut impl Ledger,
    input: &CircuitInput,
    hose: &Hose,
    flow: Flow,
    viscosity: KinematicViscosity,
) -> Result<HoseRun, Unknown> {
    let run = run_with(book, input, hose, viscosity);
    let (length, density_kg_per_m3) = (HoseLength::from_m(run.length_m), run.density_kg_per_m3);
    // The kernel judges the inputs; the lines then show the same formulas term by term.
    loss(&run, flow.m3_per_s()).map_err(|error| Unknown::outside("circuit/hose", &error))?;
    let reynolds =
        line!(book, Re: f64 = 4.0 / pi * (q / (nu * d)); pi = PI, q = flow, nu = viscosity, d = hose.bore; REYNOLDS);
    let factor = line!(book, f: f64 = churchill(Re, e); Re = reynolds, e = SMOOTH; CHURCHILL);
    let friction = line!(book, dp_f: OilPressure = darcy_weisbach(f, L, d, rho, q); f = factor, L = length, d = hose.bore, rho = density_kg_per_m3, q = flow; DARCY);
    let source = if input.conditions.fittings_k.is_some() { FITTINGS_STATED } else { FITTINGS };
    let fittings = line!(book, dp_k: OilPressure = fittings(K, d, rho, q); K = fittings_k(input), d = hose.bore, rho = density_kg_per_m3, q = flow; source);
    let loss = line!(book, dp: OilPressure = dp_f + dp_k; dp_f = friction, dp_k = fittings; WHOLE_RUN);
    Ok(HoseRun {
        temperature: input.oil.temperature,
        length,
        flow,
        viscosity,
        reynolds,
        region: FlowRegion::of(reynolds),
        friction_law: FrictionLaw::Churchill1977,
        friction_loss: friction,
        fittings_loss: fittings,
        loss,
    })
}

fn log10(x: f64) -> f64 {
    libm::log10(x)
}

/// Not a number outside validity, which the kernel has refused before.
fn churchill(reynolds: f64, relative_roughness: f64) -> f64 {
    friction_factor_churchill_1977(reynolds, relative_roughness).unwrap_or(f64::NAN)
}

fn darcy_weisbach(factor: f64, length: HoseLength, bore: Length, density_kg_per_m3: f64, flow: Flow) -> OilPressure {
    let velocity_pressure_pa = velocity_pressure_pa(bore, density_kg_per_m3, flow);
    OilPressure::from_pa(factor * (length.m() / bore.m()) * velocity_pressure_pa)
}

fn fittings(coefficient: f64, bore: Length, density_kg_per_m3: f64, flow: Flow) -> OilPressure {
    OilPressure::from_pa(coefficient * velocity_pressure_pa(bore, density_kg_per_m3, flow))
}

/// `rho v^2 / 2`.
fn velocity_pressure_pa(bore: Length, density_kg_per_m3: f64, flow: Flow) -> f64 {
    let bore_m = bore.m();
    let velocity_m_per_s = flow.m3_per_s() / (PI / 4.0 * bore_m * bore_m);
    density_kg_per_m3 * velocity_m_per_s * velocity_m_per_s / 2.0
}
