//! A spring that pushes the oil out.

use super::{RetractOutcome, Retraction, ReturnBy, drives, said};
use crate::check::{Lines, Source};
use crate::circuit::input::CircuitInput;
use crate::circuit::kernel::run::{Run, flow_at, loss, mean_flow as mean_flow_of};
use crate::circuit::losses::{Unknown, run_of};
use crate::circuit::model::FlowRegion;
use crate::load::Task;
use crate::{line, root_line};
use ramwright_units::{
    Flow, Force, HoseLength, KinematicViscosity, Length, OilPressure, STANDARD_GRAVITY_M_PER_S2, Time,
};

const SPRING: Source = Source::stated(
    "force of the return spring between zero and full extension, straight between them, seal friction taken off, as the catalogue states them",
);
const EQUILIBRIUM: Source = Source::definition(
    "equilibrium of the plunger: spring and weight of the plunger push the oil out against the pressure in the tank; an unknown weight counts as none",
);
const FLOW: Source = Source::definition(
    "the flow whose loss in the run is the pressure: Darcy and Weisbach with Churchill 1977, and K rho v^2 / 2",
);
const MEAN: Source = Source::definition(
    "the constant flow that takes as long: with u = ln p, (p_x - p_0) / ln(p_x / p_0) over the mean of p / q over u, by Simpson's rule in 64 intervals",
);
const INTEGRAL: Source = Source::definition(
    "integral of A dx / q over the extension; eps is by how much half as many intervals differ, and is added",
);

/// The two forces of a return spring.
struct Spring {
    preload: Force,
    full: Force,
}

/// How a spring-return ram retracts.
///
/// # Source
/// Equilibrium, and the integral of area / flow.
///
/// # Validity
/// A straight spring; the plunger's weight helps only where it stands upright, under a load that is raised.
pub(super) fn by_spring(input: &CircuitInput, from: Length) -> Retraction {
    let (preload, full) = match (input.ram.return_preload, input.ram.return_force) {
        (Some(preload), Some(full)) => (preload, full),
        (None, _) => {
            let why = "the catalogue does not state the force of the spring at zero extension.";
            return Retraction::missing(input, from, ReturnBy::Spring, "ram/return_preload", why);
        }
        (_, None) => {
            let why = "the catalogue does not state the force of the spring at full extension.";
            return Retraction::missing(input, from, ReturnBy::Spring, "ram/return_force", why);
        }
    };
    let spring = Spring { preload, full };
    let mut lines = Lines::default();
    let (at_start, at_end) = pressures(&mut lines, input, &spring, from);
    if !(drives(at_end) && drives(at_start)) {
        return too_weak(input, &spring, from, at_start, lines);
    }
    match timed(&mut lines, input, from, at_start, at_end) {
        Ok(found) => Retraction { lines: lines.0, ..found },
        Err(unknown) => Retraction::unknown(input, from, ReturnBy::Spring, &unknown, lines),
    }
}

/// Weight of the plunger of an upright ram, as far as it is known.
fn plunger_weight(input: &CircuitInput) -> Force {
    match (input.task, input.ram.plunger_mass) {
        (Task::Raise, Some(mass)) => Force::from_n(mass.kg() * STANDARD_GRAVITY_M_PER_S2),
        _ => Force::ZERO,
    }
}

/// Pressures that drive the oil at the extension and at none.
fn pressures(book: &mut Lines, input: &CircuitInput, spring: &Spring, from: Length) -> (OilPressure, OilPressure) {
    let (area, weight, back) = (input.ram.effective_area, plunger_weight(input), input.conditions.back_pressure);
    let force = line!(book, F_x: Force = F_0 + (F_s - F_0) * (x / s); F_0 = spring.preload, F_s = spring.full, x = from, s = input.ram.stroke; SPRING);
    let at_start =
        line!(book, p_x: OilPressure = (F_x + G) / A - p_b; F_x = force, G = weight, A = area, p_b = back; EQUILIBRIUM);
    let at_end = line!(book, p_0: OilPressure = (F_0 + G) / A - p_b; F_0 = spring.preload, G = weight, A = area, p_b = back; EQUILIBRIUM);
    (at_start, at_end)
}

fn too_weak(
    input: &CircuitInput,
    spring: &Spring,
    from: Length,
    at_start: OilPressure,
    mut lines: Lines,
) -> Retraction {
    let (weight, back) = (plunger_weight(input), input.conditions.back_pressure);
    let still = if OilPressure::ZERO < at_start {
        line!(&mut lines, x_0: Length = s * ((p_b * A - G - F_0) / (F_s - F_0)); s = input.ram.stroke, p_b = back, A = input.ram.effective_area, G = weight, F_0 = spring.preload, F_s = spring.full; EQUILIBRIUM)
    } else {
        from
    };
    let text = format!(
        "The rams never fully retract: at an extension of {:.0} mm the spring no longer pushes the oil out. Push them back by hand, lower the pressure in the tank, or take double-acting rams.",
        still.mm().max(0.0)
    );
    let blank = Retraction::without_time(input, from, ReturnBy::Spring, RetractOutcome::NeverFully, text.into());
    Retraction { stands_still_at: Some(still), lines: lines.0, ..blank }
}

fn timed(
    book: &mut Lines,
    input: &CircuitInput,
    from: Length,
    at_start: OilPressure,
    at_end: OilPressure,
) -> Result<Retraction, Unknown> {
    let run = run_of(book, input)?;
    let start = driven_flow(book, &run, at_start)?;
    let end = driven_flow(book, &run, at_end)?;
    let mean =
        mean_flow_of(&run, at_start.pa(), at_end.pa()).map_err(|error| Unknown::outside("circuit/hose", &error))?;
    let Terms { nu, length, bore, rho, k } = terms(&run);
    let flow = line!(book, q_m: Flow = mean_flow(p_x, p_0, nu, L, d, rho, K); p_x = at_start, p_0 = at_end, nu = nu, L = length, d = bore, rho = rho, K = k; MEAN);
    let time = line!(book, t: Time = A * x / q_m * (1.0 + eps); A = input.ram.effective_area, x = from, q_m = flow, eps = mean.integration_error; INTEGRAL);
    let (most, least) = (start.max(end), start.min(end));
    let slowest = if end <= start { Length::ZERO } else { from };
    let text = format!(
        "The springs retract the rams from {:.0} mm in {}, slowest at {:.0} mm.",
        from.mm(),
        said(time),
        slowest.mm()
    );
    Ok(Retraction {
        time: Some(time),
        slowest_at: Some(slowest),
        greatest_flow: Some(most),
        least_flow: Some(least),
        region: Some(region(&run, most)?),
        integration_error: Some(mean.integration_error),
        ..Retraction::without_time(input, from, ReturnBy::Spring, RetractOutcome::Retracts, text.into())
    })
}

/// What describes a run in the lines.
struct Terms {
    nu: KinematicViscosity,
    length: HoseLength,
    bore: Length,
    rho: f64,
    k: f64,
}

fn terms(run: &Run) -> Terms {
    Terms {
        nu: KinematicViscosity::from_m2_per_s(run.kinematic_viscosity_m2_per_s),
        length: HoseLength::from_m(run.length_m),
        bore: Length::from_m(run.inside_diameter_m),
        rho: run.density_kg_per_m3,
        k: run.fittings_k,
    }
}

/// The flow that a pressure drives through the run, with its line.
///
/// # Errors
/// [`Unknown`] outside the validity of a formula.
pub(super) fn driven_flow(book: &mut Lines, run: &Run, pressure: OilPressure) -> Result<Flow, Unknown> {
    let flow = flow_at(run, pressure.pa()).map_err(|error| Unknown::outside("circuit/hose", &error))?;
    let flow = Flow::from_m3_per_s(flow);
    let Terms { nu, length, bore, rho, k } = terms(run);
    root_line!(book, q = flow; loss_of_run(q, nu, L, d, rho, K) / p - 1.0; q = flow, nu = nu, L = length, d = bore, rho = rho, K = k, p = pressure; FLOW);
    Ok(flow)
}

/// The kind of flow in the run.
///
/// # Errors
/// [`Unknown`] outside the validity of a formula.
pub(super) fn region(run: &Run, flow: Flow) -> Result<FlowRegion, Unknown> {
    let loss = loss(run, flow.m3_per_s()).map_err(|error| Unknown::outside("circuit/hose", &error))?;
    Ok(FlowRegion::of(loss.reynolds))
}

fn run_from(nu: KinematicViscosity, length: HoseLength, bore: Length, rho: f64, k: f64) -> Run {
    Run {
        inside_diameter_m: bore.m(),
        length_m: length.m(),
        fittings_k: k,
        density_kg_per_m3: rho,
        kinematic_viscosity_m2_per_s: nu.m2_per_s(),
    }
}

/// Not a number outside validity, which the kernel has refused before.
fn loss_of_run(q: Flow, nu: KinematicViscosity, length: HoseLength, bore: Length, rho: f64, k: f64) -> OilPressure {
    let loss = loss(&run_from(nu, length, bore, rho, k), q.m3_per_s());
    OilPressure::from_pa(loss.map_or(f64::NAN, |loss| loss.pressure_pa))
}

/// Not a number outside validity, which the kernel has refused before.
fn mean_flow(
    from: OilPressure,
    to: OilPressure,
    nu: KinematicViscosity,
    length: HoseLength,
    bore: Length,
    rho: f64,
    k: f64,
) -> Flow {
    let mean = mean_flow_of(&run_from(nu, length, bore, rho, k), from.pa(), to.pa());
    Flow::from_m3_per_s(mean.map_or(f64::NAN, |mean| mean.flow_m3_per_s))
}
