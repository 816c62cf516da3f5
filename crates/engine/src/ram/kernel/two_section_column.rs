//! Elastic critical load of a straight column made of two sections, one on the other.
//!
//! Section 1 stands at the base, section 2 at the head; the axial compression `P` is the same in both and keeps its
//! direction. Elastic and slender: no yield, no self weight, no eccentricity, no play where the sections meet.
//!
//! # Why the load found is the first one
//!
//! Measure the deflection `w` from the line of thrust, along `s` from the head down. In each section `EI w'' = -P w`, and
//! `w = 0` at the head when it is free or pinned. The phase `theta` with `tan theta = k w / w'` and `k = sqrt(P / EI)` grows
//! by `u_i = l_i k_i` along a section. At the junction `w` and `w'` are continuous, so `tan theta` is divided by
//! `n = k2 / k1` while `theta` keeps its quadrant. With `R` for that rescaling, the phase at the base is
//! `Theta(P) = u1 + R(u2)`. Both `u_i` and `R` increase, so `Theta` increases with `P` from zero, and the first
//! critical load is the only load at which it meets
//!
//! - `pi / 2` for a fixed base (`w' = 0`),
//! - `pi` for a pinned base (`w = 0`),
//! - `atan(c k1 / P)`, which falls as `P` grows, for a base on a rotational spring `c` (`P w = c w'`).
//!
//! For a clamped base and a head that is held sideways, the head's reaction adds a straight line to `w`, which meets the
//! base where `tan Theta = L k1`. Holding a point more raises every critical load and no more than to the next one above: so
//! the first one lies between the first of the pinned column (`Theta = pi`) and the second of the column with a free head
//! (`Theta = 3 pi / 2`), and between those two there is no other. It is the only load at which `Theta` meets
//! `pi + atan(L k1)`; below it `Theta` is less, above it more. Here `Theta` itself is compared.
//!
//! A load is, for the other ends, below the first critical load exactly when both `u_i` are below the limit of the fixed or pinned
//! base and the characteristic function, a positive multiple of `sin(target - Theta)`, is positive. That test has one
//! change of sign over all loads, so halving cannot step over the first root or settle on a later one.

use core::f64::consts::{FRAC_PI_2, PI};
use core::fmt;
use core::ops::RangeInclusive;

/// Range of a flexural rigidity (in N m2), a length other than zero (in m) and a rotational stiffness (in N m/rad) for
/// which no product of the method leaves the range of `f64`. It is a numerical limit, not an engineering one.
pub(crate) const COMPUTABLE: RangeInclusive<f64> = 1e-50..=1e50;

/// Phase of a single section with a clamped base and a pinned head at its Euler load: the first root of `tan u = u`.
const FIXED_PINNED_PHASE: f64 = 4.493_409_457_909_064;

/// One prismatic section of the column.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct ColumnSection {
    /// Young's modulus, in Pa; greater than zero.
    pub youngs_modulus_pa: f64,
    /// Least second moment of area, in m4; greater than zero.
    pub second_moment_m4: f64,
    /// Length, in m; zero or more.
    pub length_m: f64,
}

/// How the two ends of the column are held.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) enum ColumnEnds {
    /// Base clamped, head free to move sideways and to turn.
    FixedFree,
    /// Base and head held sideways, both free to turn.
    PinnedPinned,
    /// Base clamped, head held sideways and free to turn.
    FixedPinned,
    /// Base held sideways and by a rotational spring, head free to move sideways and to turn.
    SpringFree {
        /// Moment per angle of the base, in N m/rad; greater than zero.
        rotational_stiffness_nm_per_rad: f64,
    },
}

/// The first elastic critical load and the quantities behind it.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct CriticalLoad {
    /// First elastic critical load, in N: the greatest `f64` at which the column is still found stable.
    pub load_n: f64,
    /// `l1 sqrt(P / (E1 I1))` at the critical load (in rad).
    pub u1: f64,
    /// `l2 sqrt(P / (E2 I2))` at the critical load (in rad).
    pub u2: f64,
    /// `sqrt(E1 I1 / (E2 I2))` (dimensionless).
    pub n: f64,
    /// Characteristic function at the critical load over the greatest size its terms can have (dimensionless).
    pub residual: f64,
}

/// Why there is no critical load.
#[derive(Debug, Clone, Copy, PartialEq)]
#[non_exhaustive]
pub(crate) enum ColumnError {
    /// An input, or a rigidity made from two of them, is infinite or not a number.
    NotFinite {
        /// The input.
        input: &'static str,
    },
    /// An input that must be greater than zero is not, or a length is below zero.
    NotPositive {
        /// The input.
        input: &'static str,
        /// Its value, in the SI unit of the input.
        value: f64,
    },
    /// An input, or a rigidity made from two of them, is outside [`COMPUTABLE`].
    OutsideComputable {
        /// The input.
        input: &'static str,
        /// Its value, in the SI unit of the input.
        value: f64,
    },
    /// Both sections have no length.
    NoLength,
}

impl fmt::Display for ColumnError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::NotFinite { input } => write!(f, "{input} is not a finite number"),
            Self::NotPositive { input, value } => write!(f, "{input} must be positive but is {value:e}"),
            Self::OutsideComputable { input, value } => {
                let (least, greatest) = (COMPUTABLE.start(), COMPUTABLE.end());
                write!(f, "{input} is {value:e}, outside {least:e} to {greatest:e}")
            }
            Self::NoLength => write!(f, "the column has no length"),
        }
    }
}

impl core::error::Error for ColumnError {}

/// First elastic critical load of a column of two sections, with `u_i = l_i sqrt(P / (E_i I_i))` and
/// `n = sqrt(E1 I1 / (E2 I2))` the least positive root `P` of
///
/// - fixed-free: `n cos u1 cos u2 - sin u1 sin u2 = 0`;
/// - pinned-pinned: `n sin u1 cos u2 + cos u1 sin u2 = 0`;
/// - fixed-pinned: `n sin u1 cos u2 + cos u1 sin u2 - L k1 (n cos u1 cos u2 - sin u1 sin u2) = 0`;
/// - spring-free: `n cos u1 cos u2 - sin u1 sin u2 - (P / (c k1)) (n sin u1 cos u2 + cos u1 sin u2) = 0`,
///   `k1 = sqrt(P / (E1 I1))`.
///
/// # Source
/// Euler's equation of the bent column solved in each section and matched at the junction: Timoshenko & Gere, Theory of
/// Elastic Stability, bars with changes in cross-section (from memory, for fixed-free and pinned-pinned); the spring base
/// is derived here from `E1 I1 y'' = c y'` at the base, and so is the clamped base with a pinned head. The proof that the root is the first is in the module head.
///
/// # Validity
/// Linear elastic, straight, concentric, constant compression. It is an upper bound for a real ram: no yield,
/// eccentricity, bearing play or self weight, and the caller applies the factor on it. Either length may be zero (a
/// single section). Rigidities, lengths other than zero and stiffness within [`COMPUTABLE`].
///
/// # Errors
/// [`ColumnError`] if an input is not finite, not positive (lengths: negative), or outside [`COMPUTABLE`], or if both
/// lengths are zero.
pub(crate) fn critical_load(
    base: &ColumnSection,
    head: &ColumnSection,
    ends: ColumnEnds,
) -> Result<CriticalLoad, ColumnError> {
    let column = Column::parse(base, head, ends)?;
    let (below, above) = column.bracket_n();
    let load_n = column.last_load_below_critical(below, above);
    let (u1, u2) = column.phases(load_n);
    Ok(CriticalLoad {
        load_n,
        u1,
        u2,
        n: column.n,
        residual: column.characteristic(load_n) / column.greatest_term(load_n),
    })
}

/// A column whose inputs have been checked.
struct Column {
    ei1_nm2: f64,
    ei2_nm2: f64,
    l1_m: f64,
    l2_m: f64,
    n: f64,
    ends: ColumnEnds,
}

impl Column {
    fn parse(base: &ColumnSection, head: &ColumnSection, ends: ColumnEnds) -> Result<Self, ColumnError> {
        let ei1_nm2 = rigidity_nm2(base, ["base Young's modulus", "base second moment", "base rigidity"])?;
        let ei2_nm2 = rigidity_nm2(head, ["head Young's modulus", "head second moment", "head rigidity"])?;
        let l1_m = length_m(base, "base length")?;
        let l2_m = length_m(head, "head length")?;
        if let ColumnEnds::SpringFree { rotational_stiffness_nm_per_rad } = ends {
            computable(rotational_stiffness_nm_per_rad, "rotational stiffness")?;
        }
        if l1_m + l2_m <= 0.0 {
            return Err(ColumnError::NoLength);
        }
        let n = (ei1_nm2 / ei2_nm2).sqrt();
        Ok(Self { ei1_nm2, ei2_nm2, l1_m, l2_m, n, ends })
    }

    /// Phase at which a single section reaches its Euler load between these ends; for the spring, its upper limit.
    fn greatest_phase(&self) -> f64 {
        match self.ends {
            ColumnEnds::FixedFree | ColumnEnds::SpringFree { .. } => FRAC_PI_2,
            ColumnEnds::PinnedPinned => PI,
            ColumnEnds::FixedPinned => FIXED_PINNED_PHASE,
        }
    }

    /// `L k1`, the head's reaction in the characteristic function.
    fn reaction_term(&self, load_n: f64) -> f64 {
        (self.l1_m + self.l2_m) * (load_n / self.ei1_nm2).sqrt()
    }

    /// The phase at the base; both parts below `3 pi / 2`.
    fn phase_at_base(&self, (u1, u2): (f64, f64)) -> f64 {
        let (sin2, cos2) = libm::sincos(u2);
        let rescaled = libm::atan2(sin2, self.n * cos2);
        u1 + if rescaled < 0.0 { rescaled + 2.0 * PI } else { rescaled }
    }

    fn phases(&self, load_n: f64) -> (f64, f64) {
        (self.l1_m * (load_n / self.ei1_nm2).sqrt(), self.l2_m * (load_n / self.ei2_nm2).sqrt())
    }

    /// `P / (c k1)`, the spring's part in the characteristic function; zero for a fixed base.
    fn spring_term(&self, load_n: f64) -> f64 {
        match self.ends {
            ColumnEnds::SpringFree { rotational_stiffness_nm_per_rad } => {
                load_n.sqrt() * self.ei1_nm2.sqrt() / rotational_stiffness_nm_per_rad
            }
            ColumnEnds::FixedFree | ColumnEnds::PinnedPinned | ColumnEnds::FixedPinned => 0.0,
        }
    }

    fn characteristic(&self, load_n: f64) -> f64 {
        let (u1, u2) = self.phases(load_n);
        let (sin1, cos1) = libm::sincos(u1);
        let (sin2, cos2) = libm::sincos(u2);
        let fixed = self.n * cos1 * cos2 - sin1 * sin2;
        let pinned = self.n * sin1 * cos2 + cos1 * sin2;
        match self.ends {
            ColumnEnds::FixedFree => fixed,
            ColumnEnds::PinnedPinned => pinned,
            ColumnEnds::FixedPinned => pinned - self.reaction_term(load_n) * fixed,
            ColumnEnds::SpringFree { .. } => fixed - self.spring_term(load_n) * pinned,
        }
    }

    fn greatest_term(&self, load_n: f64) -> f64 {
        let factor = match self.ends {
            ColumnEnds::FixedPinned => self.reaction_term(load_n),
            _ => self.spring_term(load_n),
        };
        self.n.max(1.0) * factor.max(1.0)
    }

    /// Whether the load is below the first critical load; the proof is in the module head.
    fn is_below_critical(&self, load_n: f64) -> bool {
        let (u1, u2) = self.phases(load_n);
        if self.ends == ColumnEnds::FixedPinned {
            let far = 3.0 * FRAC_PI_2;
            return u1 < far && u2 < far && self.phase_at_base((u1, u2)) < PI + libm::atan(self.reaction_term(load_n));
        }
        let limit = self.greatest_phase();
        u1 < limit && u2 < limit && 0.0 < self.characteristic(load_n)
    }

    /// Loads (in N) below and above the first critical load.
    ///
    /// By Rayleigh's quotient the critical load grows with the rigidity of every part, so it lies between the Euler loads
    /// of the weaker and of the stiffer section over the whole length. A base spring lowers it, by Dunkerley's rule to
    /// `1 / (1 / P_fixed + L / c)` or more. The factors of two leave room for rounding.
    fn bracket_n(&self) -> (f64, f64) {
        let length_m = self.l1_m + self.l2_m;
        let phase_per_m = self.greatest_phase() / length_m;
        let euler_n = |ei_nm2: f64| phase_per_m * phase_per_m * ei_nm2;
        let spring_flexibility_per_n = match self.ends {
            ColumnEnds::SpringFree { rotational_stiffness_nm_per_rad } => length_m / rotational_stiffness_nm_per_rad,
            ColumnEnds::FixedFree | ColumnEnds::PinnedPinned | ColumnEnds::FixedPinned => 0.0,
        };
        let weaker_n = euler_n(self.ei1_nm2.min(self.ei2_nm2));
        let stiffer_n = euler_n(self.ei1_nm2.max(self.ei2_nm2));
        (0.5 / (1.0 / weaker_n + spring_flexibility_per_n), 2.0 * stiffer_n)
    }

    /// Halves the bracket until its ends are neighbouring `f64`.
    ///
    /// The bit patterns of positive floats are in the order of their values, so halving the distance between patterns
    /// ends after at most 64 steps whatever the bracket, at full relative precision.
    fn last_load_below_critical(&self, below_n: f64, above_n: f64) -> f64 {
        let (mut below, mut above) = (below_n.to_bits(), above_n.to_bits());
        while 1 < above.saturating_sub(below) {
            let middle = below + (above - below) / 2;
            if self.is_below_critical(f64::from_bits(middle)) {
                below = middle;
            } else {
                above = middle;
            }
        }
        f64::from_bits(below)
    }
}

fn rigidity_nm2(section: &ColumnSection, names: [&'static str; 3]) -> Result<f64, ColumnError> {
    let [modulus, second_moment, rigidity] = names;
    positive(section.youngs_modulus_pa, modulus)?;
    positive(section.second_moment_m4, second_moment)?;
    computable(section.youngs_modulus_pa * section.second_moment_m4, rigidity)
}

fn length_m(section: &ColumnSection, input: &'static str) -> Result<f64, ColumnError> {
    // Minus zero passes as zero; the phase it gives is zero either way.
    if section.length_m.abs() <= 0.0 { Ok(0.0) } else { computable(section.length_m, input) }
}

fn positive(value: f64, input: &'static str) -> Result<f64, ColumnError> {
    if !value.is_finite() {
        return Err(ColumnError::NotFinite { input });
    }
    if value <= 0.0 {
        return Err(ColumnError::NotPositive { input, value });
    }
    Ok(value)
}

fn computable(value: f64, input: &'static str) -> Result<f64, ColumnError> {
    positive(value, input)?;
    if COMPUTABLE.contains(&value) { Ok(value) } else { Err(ColumnError::OutsideComputable { input, value }) }
}

#[cfg(test)]
mod tests;
