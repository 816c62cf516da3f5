//! A run of hoses with its fittings: the pressure that a flow loses, the flow that a pressure drives, and the flow with
//! which a pressure that falls as the ram retracts can be replaced.

use super::hose::{HoseError, HoseFlow, hose_pressure_loss};
use core::f64::consts::PI;

/// A hose's bore is taken as smooth.
pub(crate) const SMOOTH: f64 = 0.0;
/// Halvings of the interval of pressures in [`mean_flow`]; even, for Simpson's rule with every second of them too.
pub(crate) const INTERVALS: u32 = 64;
/// How far off in its pressure a root may be (relative): the rounding of the logarithms.
const NARROW: f64 = 4e-15;
/// Far more steps than the search takes.
const MOST_STEPS: u32 = 200;

/// A run of hoses to one ram and the oil in it.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct Run {
    /// Inside diameter, in m.
    pub(crate) inside_diameter_m: f64,
    /// Length, in m.
    pub(crate) length_m: f64,
    /// Sum of the loss coefficients of couplers, valves and bends (dimensionless).
    pub(crate) fittings_k: f64,
    /// Density of the oil, in kg/m3.
    pub(crate) density_kg_per_m3: f64,
    /// Kinematic viscosity of the oil, in m2/s.
    pub(crate) kinematic_viscosity_m2_per_s: f64,
}

/// What a flow loses in a run.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct RunLoss {
    /// Reynolds number in the hose (dimensionless).
    pub(crate) reynolds: f64,
    /// Pressure lost along hoses and in fittings, in Pa.
    pub(crate) pressure_pa: f64,
}

/// Pressure loss of a flow: friction along the hoses by [`hose_pressure_loss`], and `K rho v^2 / 2` in the fittings.
///
/// # Source
/// Darcy and Weisbach with Churchill 1977; loss coefficients of fittings from any textbook of fluid mechanics.
///
/// # Validity
/// As [`hose_pressure_loss`]; loss coefficients belong to turbulent flow, in laminar flow a fitting can lose more.
///
/// # Errors
/// [`HoseError`] as there, and for a coefficient that is negative or not finite.
pub(crate) fn loss(run: &Run, flow_m3_per_s: f64) -> Result<RunLoss, HoseError> {
    if !(0.0 <= run.fittings_k && run.fittings_k.is_finite()) {
        return Err(HoseError::OutsideComputable { quantity: "loss of the fittings" });
    }
    let hose = hose_pressure_loss(&HoseFlow {
        flow_m3_per_s,
        inside_diameter_m: run.inside_diameter_m,
        length_m: run.length_m,
        roughness_m: SMOOTH,
        density_kg_per_m3: run.density_kg_per_m3,
        kinematic_viscosity_m2_per_s: run.kinematic_viscosity_m2_per_s,
    })?;
    let velocity = hose.velocity_m_per_s;
    let fittings_pa = run.fittings_k * (run.density_kg_per_m3 * velocity * velocity / 2.0);
    let pressure_pa = hose.pressure_loss_pa + fittings_pa;
    if !pressure_pa.is_normal() {
        return Err(HoseError::OutsideComputable { quantity: "pressure loss" });
    }
    Ok(RunLoss { reynolds: hose.reynolds, pressure_pa })
}

/// The flow (in m3/s) that a pressure drives through a run: the root of [`loss`] less the pressure.
///
/// Laminar flow without fittings would be more, by Hagen and Poiseuille: that bounds the root from above. The loss grows
/// faster than the flow, which bounds it from below.
///
/// # Source
/// The root of the loss; Hagen and Poiseuille's law for the bound.
///
/// # Validity
/// As [`loss`].
///
/// # Errors
/// [`HoseError`] as there, also for a pressure that is not greater than zero.
pub(crate) fn flow_at(run: &Run, pressure_pa: f64) -> Result<f64, HoseError> {
    if !pressure_pa.is_finite() {
        return Err(HoseError::NotFinite { input: "pressure" });
    }
    if pressure_pa <= 0.0 {
        return Err(HoseError::NotPositive { input: "pressure", value: pressure_pa });
    }
    let most = laminar_flow(run, pressure_pa);
    let at_most = loss(run, most)?.pressure_pa;
    // Logarithms, in which the loss is nearly straight.
    let wanted = libm::log(pressure_pa);
    let mut upper = (libm::log(most), libm::log(at_most) - wanted);
    if upper.1 <= NARROW {
        return Ok(most);
    }
    let start = upper.0 - upper.1;
    let mut lower = (start, off_by(run, start, wanted)?);
    let mut replaced_lower = None;
    for _ in 0..MOST_STEPS {
        let middle = next(lower, upper);
        let found = (middle, off_by(run, middle, wanted)?);
        if found.1.abs() <= NARROW || upper.0 - lower.0 <= f64::EPSILON * upper.0.abs() {
            return Ok(libm::exp(middle));
        }
        let below = found.1 < 0.0;
        // Illinois' rule: an end that stays twice counts half, so that both move.
        let again = replaced_lower == Some(below);
        if below {
            lower = found;
            upper.1 /= if again { 2.0 } else { 1.0 };
        } else {
            upper = found;
            lower.1 /= if again { 2.0 } else { 1.0 };
        }
        replaced_lower = Some(below);
    }
    // The lower end: rather too little flow, and so rather too long a time.
    Ok(libm::exp(lower.0))
}

/// Where the chord crosses, or the middle where it does not do so inside.
fn next(lower: (f64, f64), upper: (f64, f64)) -> f64 {
    let chord = (lower.0 * upper.1 - upper.0 * lower.1) / (upper.1 - lower.1);
    if lower.0 < chord && chord < upper.0 { chord } else { f64::midpoint(lower.0, upper.0) }
}

fn off_by(run: &Run, log_flow: f64, wanted: f64) -> Result<f64, HoseError> {
    Ok(libm::log(loss(run, libm::exp(log_flow))?.pressure_pa) - wanted)
}

/// Hagen and Poiseuille: `pi d^4 p / (128 mu L)`.
fn laminar_flow(run: &Run, pressure_pa: f64) -> f64 {
    let d = run.inside_diameter_m;
    let dynamic = run.density_kg_per_m3 * run.kinematic_viscosity_m2_per_s;
    PI * d * d * (d * d) * pressure_pa / (128.0 * dynamic * run.length_m)
}

/// The flow that replaces one which a pressure drives that changes in proportion to the extension.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct MeanFlow {
    /// The constant flow that takes as long, in m3/s.
    pub(crate) flow_m3_per_s: f64,
    /// By how much half as many intervals would give another time (relative).
    pub(crate) integration_error: f64,
}

/// The constant flow (in m3/s) that empties a ram in the same time as one driven by a pressure that falls linearly with
/// the extension, from `from_pa` to `to_pa`.
///
/// The time is `integral of A dx / Q`. With the pressure linear in `x` and `u = ln p` it is
/// `A s / (p_s - p_0) x integral of (p / Q) du`: `p / Q` is the resistance of the run, constant while the flow is laminar, and
/// its mean over `u` is taken by Simpson's rule in [`INTERVALS`] intervals. So the flow is the log-mean pressure
/// `(p_s - p_0) / ln(p_s / p_0)` over the mean resistance; in laminar flow this is the closed form.
///
/// # Source
/// Definition of the time; Simpson's rule.
///
/// # Validity
/// As [`flow_at`], both pressures greater than zero.
///
/// # Errors
/// [`HoseError`] as there.
pub(crate) fn mean_flow(run: &Run, from_pa: f64, to_pa: f64) -> Result<MeanFlow, HoseError> {
    let (low, high) = if from_pa < to_pa { (from_pa, to_pa) } else { (to_pa, from_pa) };
    flow_at(run, low)?;
    let width = libm::log1p((high - low) / low);
    let (mut fine, mut coarse) = (0.0, 0.0);
    for step in 0..=INTERVALS {
        let pressure = low * libm::exp(width * f64::from(step) / f64::from(INTERVALS));
        let resistance = pressure / flow_at(run, pressure)?;
        fine += simpson(step, INTERVALS) * resistance;
        if step % 2 == 0 {
            coarse += simpson(step / 2, INTERVALS / 2) * resistance;
        }
    }
    let log_mean = if 0.0 < width { low * (libm::expm1(width) / width) } else { low };
    let flow_m3_per_s = log_mean / fine;
    if !flow_m3_per_s.is_normal() {
        return Err(HoseError::OutsideComputable { quantity: "mean flow" });
    }
    Ok(MeanFlow { flow_m3_per_s, integration_error: ((fine - coarse) / fine).abs() })
}

/// Weight of a node of Simpson's rule, as a part of the whole.
fn simpson(step: u32, intervals: u32) -> f64 {
    let weight = if step == 0 || step == intervals {
        1.0
    } else if step % 2 == 1 {
        4.0
    } else {
        2.0
    };
    weight / (3.0 * f64::from(intervals))
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    const L_PER_MIN: f64 = 1e-3 / 60.0;

    fn run(bore_mm: f64, length_m: f64, viscosity_mm2_per_s: f64, fittings_k: f64) -> Run {
        Run {
            inside_diameter_m: bore_mm / 1e3,
            length_m,
            fittings_k,
            density_kg_per_m3: 870.0,
            kinematic_viscosity_m2_per_s: viscosity_mm2_per_s * 1e-6,
        }
    }

    #[track_caller]
    fn near(found: f64, wanted: f64, relative: f64) {
        assert!((found / wanted - 1.0).abs() <= relative, "{found}, not {wanted} within {relative:e}");
    }

    /// Source: Hagen and Poiseuille's law computed independently: 2 bar drive 1.196572 L/min through 10 m of 6.35 mm at
    /// 46 mm2/s, 5 bar drive 2.991431 L/min; 1.995 L then take 100.036 s and 40.0143 s.
    #[test]
    fn validate_retract_rows() {
        for (bar, l_per_min, seconds) in [(2.0, 1.196_572, 100.036), (5.0, 2.991_431, 40.014_3)] {
            let flow = flow_at(&run(6.35, 10.0, 46.0, 0.0), bar * 1e5).unwrap();
            near(flow / L_PER_MIN, l_per_min, 5e-7);
            near(1.995e-3 / flow, seconds, 5e-6);
        }
    }

    /// Source: `K rho v^2 / 2` computed independently, 870 kg/m3 at 4 m/s: 3 480, 6 960 and 13 920 Pa for K 0.5, 1 and 2.
    #[test]
    fn validate_minor_losses() {
        let flow = 4.0 * PI / 4.0 * 0.01 * 0.01;
        let bare = loss(&run(10.0, 10.0, 46.0, 0.0), flow).unwrap().pressure_pa;
        for (k, pa) in [(0.5, 3_480.0), (1.0, 6_960.0), (2.0, 13_920.0)] {
            near(loss(&run(10.0, 10.0, 46.0, k), flow).unwrap().pressure_pa - bare, pa, 1e-9);
        }
    }

    /// A constant pressure needs no mean; a falling one in laminar flow has the closed form `ln(p_s / p_0) / (p_s - p_0)`.
    #[test]
    fn verify_the_closed_forms() {
        let laminar = run(6.35, 10.0, 46.0, 0.0);
        let constant = mean_flow(&laminar, 2e5, 2e5).unwrap();
        near(constant.flow_m3_per_s, flow_at(&laminar, 2e5).unwrap(), 1e-12);
        let falling = mean_flow(&laminar, 4e5, 1e5).unwrap();
        near(falling.flow_m3_per_s, flow_at(&laminar, 3e5 / libm::log(4.0)).unwrap(), 1e-9);
        assert!(falling.integration_error < 1e-9);
        assert!(mean_flow(&laminar, 0.0, 1e5).is_err() && flow_at(&laminar, -1.0).is_err());
        assert!(loss(&run(6.35, 10.0, 46.0, -1.0), 1e-5).is_err());
    }

    proptest! {
        #[test]
        fn verify_the_flow_is_the_root(decade in -2.0..3.0, bore in 2.0..25.0, length in 0.5..200.0, nu in 5.0..2000.0, k in 0.0..50.0) {
            let (run, pressure) = (run(bore, length, nu, k), libm::exp10(decade) * 1e5);
            let Ok(flow) = flow_at(&run, pressure) else { return Ok(()) };
            let back = loss(&run, flow).unwrap().pressure_pa;
            prop_assert!((back / pressure - 1.0).abs() <= 1e-12, "{back} for {pressure}");
        }

        /// The mean lies between the flows at both ends.
        #[test]
        fn verify_the_mean_flow_lies_between(low in 0.05..5.0, more in 0.0..20.0, bore in 4.0..20.0, nu in 10.0..800.0, k in 0.0..30.0) {
            let run = run(bore, 20.0, nu, k);
            let (least, most) = (low * 1e5, (low + more) * 1e5);
            let mean = mean_flow(&run, most, least).unwrap();
            prop_assert!(flow_at(&run, least).unwrap() <= mean.flow_m3_per_s * (1.0 + 1e-12));
            prop_assert!(mean.flow_m3_per_s <= flow_at(&run, most).unwrap() * (1.0 + 1e-12));
            prop_assert!(mean.integration_error < 1e-3, "{}", mean.integration_error);
        }
    }
}
