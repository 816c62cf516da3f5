//! Pressure loss of oil in a hose: friction along its length only.
//!
//! Couplers, bends and valves are not in it. One formula serves every kind of flow, Churchill 1977: there is no change
//! of formula at a limiting Reynolds number, so the loss has no jump. Below `Re` 1000 it is Hagen and Poiseuille's law to
//! better than one part in a million; towards 2300 it lies above it (by 11 % there), on the side of more loss.

use super::friction::{FrictionError, friction_factor_churchill_1977};
use core::fmt;

/// A steady flow of oil through one hose.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct HoseFlow {
    /// Volume flow, in m3/s; greater than zero (without flow there is no loss and no friction factor).
    pub(crate) flow_m3_per_s: f64,
    /// Inside diameter, in m; greater than zero.
    pub(crate) inside_diameter_m: f64,
    /// Length, in m; greater than zero.
    pub(crate) length_m: f64,
    /// Roughness of the bore, in m; zero for smooth, at most a twentieth of the inside diameter.
    pub(crate) roughness_m: f64,
    /// Density of the oil, in kg/m3; greater than zero.
    pub(crate) density_kg_per_m3: f64,
    /// Kinematic viscosity of the oil at its temperature, in m2/s; greater than zero.
    pub(crate) kinematic_viscosity_m2_per_s: f64,
}

/// The pressure loss of a hose and the quantities behind it.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct HoseLoss {
    /// Mean velocity, in m/s.
    pub(crate) velocity_m_per_s: f64,
    /// Reynolds number (dimensionless).
    pub(crate) reynolds: f64,
    /// Darcy friction factor (dimensionless).
    pub(crate) friction_factor: f64,
    /// Pressure loss, in Pa.
    pub(crate) pressure_loss_pa: f64,
}

/// Why there is no pressure loss.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) enum HoseError {
    /// An input is infinite or not a number.
    NotFinite {
        /// The input.
        input: &'static str,
    },
    /// An input that must be greater than zero is not.
    NotPositive {
        /// The input.
        input: &'static str,
        /// Its value, in the SI unit of the input.
        value: f64,
    },
    /// The flow has no friction factor.
    Friction(FrictionError),
    /// A quantity computed on the way is zero or greater than any `f64`.
    OutsideComputable {
        /// The quantity.
        quantity: &'static str,
    },
}

impl fmt::Display for HoseError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::NotFinite { input } => write!(f, "{input} is not a finite number"),
            Self::NotPositive { input, value } => write!(f, "{input} must be greater than zero but is {value:e}"),
            Self::Friction(_) => write!(f, "the hose has no friction factor"),
            Self::OutsideComputable { quantity } => write!(f, "{quantity} cannot be computed"),
        }
    }
}

impl core::error::Error for HoseError {
    fn source(&self) -> Option<&(dyn core::error::Error + 'static)> {
        match self {
            Self::Friction(error) => Some(error),
            _ => None,
        }
    }
}

/// Pressure loss `f (L / d) rho v^2 / 2` of a hose, `f` by Churchill 1977 for laminar and turbulent flow alike.
///
/// # Source
/// Darcy and Weisbach's equation (textbook); `f` from [`friction_factor_churchill_1977`].
///
/// # Validity
/// Full round bore of constant diameter, steady developed flow of a Newtonian oil, friction along the length only.
/// Reynolds number and roughness as for [`friction_factor_churchill_1977`]. The bore at working pressure is a little wider
/// than at rest, which is left out: the loss found is on the high side.
///
/// # Errors
/// [`HoseError`] if an input is not finite or not positive (roughness: negative), if Reynolds number or roughness is
/// outside the range of the friction factor, or if a result leaves the range of `f64`.
pub(crate) fn hose_pressure_loss(hose: &HoseFlow) -> Result<HoseLoss, HoseError> {
    for (value, input) in [
        (hose.flow_m3_per_s, "flow"),
        (hose.inside_diameter_m, "inside diameter"),
        (hose.length_m, "length"),
        (hose.density_kg_per_m3, "density"),
        (hose.kinematic_viscosity_m2_per_s, "kinematic viscosity"),
    ] {
        positive(value, input)?;
    }
    if !hose.roughness_m.is_finite() {
        return Err(HoseError::NotFinite { input: "roughness" });
    }
    let diameter_m = hose.inside_diameter_m;
    let bore_m2 = computable(core::f64::consts::PI / 4.0 * diameter_m * diameter_m, "bore area")?;
    let velocity_m_per_s = computable(hose.flow_m3_per_s / bore_m2, "velocity")?;
    let reynolds = computable(velocity_m_per_s * diameter_m / hose.kinematic_viscosity_m2_per_s, "Reynolds number")?;
    let friction_factor =
        friction_factor_churchill_1977(reynolds, hose.roughness_m / diameter_m).map_err(HoseError::Friction)?;
    let velocity_pressure_pa = hose.density_kg_per_m3 * velocity_m_per_s * velocity_m_per_s / 2.0;
    let pressure_loss_pa =
        computable(friction_factor * (hose.length_m / diameter_m) * velocity_pressure_pa, "pressure loss")?;
    Ok(HoseLoss { velocity_m_per_s, reynolds, friction_factor, pressure_loss_pa })
}

fn positive(value: f64, input: &'static str) -> Result<(), HoseError> {
    if !value.is_finite() {
        return Err(HoseError::NotFinite { input });
    }
    if value <= 0.0 {
        return Err(HoseError::NotPositive { input, value });
    }
    Ok(())
}

/// Products of positive inputs are positive; one that vanished or overflowed has no meaning.
fn computable(value: f64, quantity: &'static str) -> Result<f64, HoseError> {
    if value.is_normal() { Ok(value) } else { Err(HoseError::OutsideComputable { quantity }) }
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    const L_PER_MIN: f64 = 1e-3 / 60.0;

    fn hose(l_per_min: f64, bore_mm: f64, length_m: f64, viscosity_mm2_per_s: f64, density: f64) -> HoseFlow {
        HoseFlow {
            flow_m3_per_s: l_per_min * L_PER_MIN,
            inside_diameter_m: bore_mm / 1e3,
            length_m,
            roughness_m: 0.0,
            density_kg_per_m3: density,
            kinematic_viscosity_m2_per_s: viscosity_mm2_per_s * 1e-6,
        }
    }

    #[track_caller]
    fn assert_relative(got: f64, want: f64, tolerance: f64) {
        assert!((got / want - 1.0).abs() <= tolerance, "got {got}, want {want} within {tolerance:e}");
    }

    /// Source: plain formulas computed independently, laminar `f = 64 / Re`. Rows print six figures: 5e-6.
    #[test]
    fn validate_laminar_rows() {
        for (flow, velocity, reynolds, friction_factor, loss_bar) in [
            (hose(2.0, 6.35, 10.0, 46.0, 870.0), 1.05255, 145.297, 0.440_476, 3.34288),
            (hose(4.0, 6.35, 10.0, 46.0, 870.0), 2.10509, 290.594, 0.220_238, 6.68576),
            (hose(1.0, 6.35, 20.0, 32.0, 870.0), 0.526_273, 104.432, 0.612_837, 2.32548),
            (hose(20.0, 10.0, 10.0, 46.0, 870.0), 4.24413, 922.637, 0.069_366_4, 5.43520),
        ] {
            let loss = hose_pressure_loss(&flow).unwrap();
            assert_relative(loss.velocity_m_per_s, velocity, 5e-6);
            assert_relative(loss.reynolds, reynolds, 5e-6);
            assert_relative(loss.friction_factor, friction_factor, 5e-6);
            assert_relative(loss.pressure_loss_pa, loss_bar * 1e5, 5e-6);
        }
    }

    /// Source: as above; at `Re` 2179 Churchill's curve has begun to leave `64 / Re`, upwards. At 11 140 the row is
    /// Colebrook's, smooth: 3 % is the spread between formulas.
    #[test]
    fn validate_transition_and_turbulent_rows() {
        let transition = hose_pressure_loss(&hose(60.0, 12.7, 10.0, 46.0, 870.0)).unwrap();
        assert_relative(transition.velocity_m_per_s, 7.89410, 5e-6);
        assert_relative(transition.reynolds, 2179.46, 5e-6);
        let above_laminar = transition.pressure_loss_pa / 6.26790e5;
        assert!((1.0..=1.05).contains(&above_laminar), "{above_laminar}");
        let turbulent = hose_pressure_loss(&hose(100.0, 12.7, 10.0, 15.0, 860.0)).unwrap();
        assert_relative(turbulent.velocity_m_per_s, 13.1568, 5e-6);
        assert_relative(turbulent.reynolds, 11_139.5, 5e-6);
        assert_relative(turbulent.friction_factor, 0.030_018_1, 0.03);
        assert_relative(turbulent.pressure_loss_pa, 17.5934e5, 0.03);
    }

    /// Source: computed independently: return flow through one hose, laminar, at 2 and 5 bar.
    #[test]
    fn validate_return_flow_rows() {
        for (l_per_min, bar) in [(1.196_572, 2.0), (2.991_431, 5.0)] {
            let loss = hose_pressure_loss(&hose(l_per_min, 6.35, 10.0, 46.0, 870.0)).unwrap();
            assert_relative(loss.pressure_loss_pa, bar * 1e5, 1e-6);
        }
    }

    #[test]
    fn verify_errors() {
        let good = hose(2.0, 6.35, 10.0, 46.0, 870.0);
        let result = |change: fn(&mut HoseFlow)| {
            let mut changed = good;
            change(&mut changed);
            hose_pressure_loss(&changed)
        };
        assert!(matches!(result(|h| h.flow_m3_per_s = 0.0), Err(HoseError::NotPositive { input: "flow", .. })));
        assert!(matches!(result(|h| h.length_m = -1.0), Err(HoseError::NotPositive { input: "length", .. })));
        assert!(matches!(result(|h| h.density_kg_per_m3 = f64::NAN), Err(HoseError::NotFinite { .. })));
        assert!(matches!(result(|h| h.roughness_m = f64::NAN), Err(HoseError::NotFinite { .. })));
        assert!(matches!(result(|h| h.roughness_m = -1e-6), Err(HoseError::Friction(_))));
        assert!(matches!(result(|h| h.roughness_m = 1e-3), Err(HoseError::Friction(_))));
        assert!(matches!(result(|h| h.flow_m3_per_s = 1e3), Err(HoseError::Friction(_))));
        assert!(matches!(result(|h| h.inside_diameter_m = 1e-200), Err(HoseError::OutsideComputable { .. })));
    }

    fn any_hose() -> impl Strategy<Value = HoseFlow> {
        (0.01..200.0, 3.0..40.0, 0.1..100.0, 2.0..3000.0, 800.0..950.0)
            .prop_map(|(q, d, l, v, rho)| hose(q, d, l, v, rho))
    }

    proptest! {
        #[test]
        fn verify_never_below_hagen_poiseuille(flow in any_hose()) {
            let d = flow.inside_diameter_m;
            let viscosity_pa_s = flow.kinematic_viscosity_m2_per_s * flow.density_kg_per_m3;
            let laminar_pa =
                128.0 * viscosity_pa_s * flow.length_m * flow.flow_m3_per_s / (core::f64::consts::PI * d * d * d * d);
            let loss = hose_pressure_loss(&flow).unwrap();
            prop_assert!(laminar_pa * (1.0 - 1e-12) <= loss.pressure_loss_pa);
            if loss.reynolds < 1000.0 {
                prop_assert!(loss.pressure_loss_pa <= laminar_pa * (1.0 + 1e-6));
            }
        }

        /// More flow and more length lose more; a wider bore loses less.
        #[test]
        fn verify_monotone(flow in any_hose(), factor in 1.01_f64..2.0) {
            let loss = |h: HoseFlow| hose_pressure_loss(&h).unwrap().pressure_loss_pa;
            let faster = loss(HoseFlow { flow_m3_per_s: flow.flow_m3_per_s * factor, ..flow });
            prop_assert!(loss(flow) < faster);
            let longer = loss(HoseFlow { length_m: flow.length_m * factor, ..flow });
            prop_assert!((longer / (loss(flow) * factor) - 1.0).abs() <= 1e-12);
            let wider = loss(HoseFlow { inside_diameter_m: flow.inside_diameter_m * factor, ..flow });
            prop_assert!(wider < loss(flow));
        }

        #[test]
        fn verify_any_float_gives_error_or_finite_loss(v in any::<[f64; 6]>()) {
            let flow = HoseFlow {
                flow_m3_per_s: v[0],
                inside_diameter_m: v[1],
                length_m: v[2],
                roughness_m: v[3],
                density_kg_per_m3: v[4],
                kinematic_viscosity_m2_per_s: v[5],
            };
            let good = hose(2.0, 6.35, 10.0, 46.0, 870.0);
            for flow in [flow, HoseFlow { roughness_m: 0.0, ..flow }, HoseFlow { length_m: v[2], ..good }] {
                if let Ok(loss) = hose_pressure_loss(&flow) {
                    prop_assert!(loss.pressure_loss_pa.is_finite() && 0.0 < loss.pressure_loss_pa);
                }
            }
        }
    }
}
