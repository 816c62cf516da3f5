//! A rigid load on one-sided springs: `R_i = max(0, k_i (a + b x_i + c y_i + e_i))` in equilibrium with the weight.
//!
//! `e_i` is the level error of support i, positive where it stands high; `a + b x + c y` is how far the load has come
//! down. A support carries nothing where the load does not touch it.
//!
//! # Method
//! Let `s_i = a + b x_i + c y_i + e_i`. Equilibrium is where the energy
//! `E(a, b, c) = 1/2 sum k_i max(0, s_i)² - W (a + b g_x + c g_y)`
//! has no slope. E is convex and has a continuous slope; between changes of contact it is a quadratic. With the centre
//! of gravity inside the hull of the supports E grows in every direction (moving the plane up everywhere costs weight
//! times rise, any other movement presses on a support), so it has a least value, and since each term is strictly
//! convex in the reaction it holds, the reactions at the least value are unique (the plane need not be: a load that
//! rocks on two supports under its centre).
//!
//! Each step takes the springs now in contact, finds the movement that would balance them were they two-sided (the
//! Newton step, in closed form on principal axes), and goes along it exactly to the least energy on that line, past as
//! many changes of contact as it takes. Springs in contact that lie on one line cannot balance a moment about it: the
//! step then either turns the load about that line, which leaves those springs as they are, until others take it up;
//! or balances all the rest; whichever is the greater part of the imbalance. The first guess comes from smaller level
//! errors, in a few stages.
//!
//! # Why it ends
//! Each step is a matrix times at least half of the imbalance (the slope of E), and the matrix is one of finitely many,
//! all positive definite on that part. So every step goes downhill at an angle bounded away from a right angle; with
//! the exact search E falls strictly until its slope vanishes, hence towards the least value. Close to it, every support
//! loaded there is in contact and every other one in contact has `s_i` near zero, so whichever of these quadratics is in
//! force has its least value at the same place, and the next Newton step lands on it: finitely many steps. If the supports loaded there lie on one line, the balanced reactions are reached
//! as a limit and the run stops at the stated residual. Reactions are never clipped: what is returned is checked to
//! be in equilibrium, otherwise the answer is [`ElasticError::NotConverged`].

mod minimum;

use core::fmt;

use self::minimum::Rest;
use super::geometry::{GREATEST_LENGTH_M, InputError, Vec2, check_points, convex_hull, mean, plan_size_m, tolerance_m};
use super::principal::Node;
use super::tipping::{Stance, TippingEdge, stance};

/// Greatest ratio of the stiffest to the softest support (dimensionless); beyond it digits are lost.
pub(crate) const GREATEST_STIFFNESS_RATIO: f64 = 1e9;

/// Residual of equilibrium of every answer, as a part of the weight (dimensionless).
pub(crate) const EQUILIBRIUM_TOLERANCE: f64 = 1e-12;

/// One support.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct Spring {
    /// Where it stands, in m.
    pub at: Vec2,
    /// Stiffness, in N/m; if the levels are all zero any common unit will do.
    pub stiffness_n_per_m: f64,
    /// Level error, in m: positive if the support stands higher than the others.
    pub level_m: f64,
}

/// How far the load has come down: `sink_m + slope . (x, y)`, in the coordinates of the caller.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct SettlementPlane {
    /// At the origin, in m.
    pub sink_m: f64,
    /// Along x and y (dimensionless).
    pub slope: Vec2,
}

/// The load at rest on its springs.
#[derive(Debug, Clone, PartialEq)]
pub(crate) struct ElasticState {
    /// Reaction of each support, in N (the unit of the weight).
    pub reactions_n: Vec<f64>,
    /// Whether the support is in contact, that is, its reaction is above zero.
    pub in_contact: Vec<bool>,
    /// Position of the load; with level errors that rounding removes digits from, less exact than the reactions. Where only supports in one line carry, the tilt about that line is one of several.
    pub plane: SettlementPlane,
    /// Greatest of unbalanced force over weight and unbalanced moment over weight times plan size (dimensionless).
    pub residual: f64,
}

/// Why there is no elastic answer.
#[derive(Debug, Clone, Copy, PartialEq)]
#[non_exhaustive]
pub(crate) enum ElasticError {
    /// A coordinate is not usable.
    Input(InputError),
    /// The weight is not positive and finite.
    Weight,
    /// The stiffness of the support with this index is not positive and finite.
    Stiffness {
        /// Index of the support.
        index: usize,
    },
    /// The stiffest support is more than [`GREATEST_STIFFNESS_RATIO`] times as stiff as the softest.
    StiffnessRatio {
        /// The ratio (dimensionless).
        ratio: f64,
    },
    /// The level error of the support with this index is not finite or too large.
    Level {
        /// Index of the support.
        index: usize,
    },
    /// No supports.
    NoSupport,
    /// All supports at one place.
    Coincident {
        /// From the supports to the centre of gravity, in m.
        offset_m: Vec2,
    },
    /// All supports in line: nothing resists tipping about it.
    Collinear {
        /// Index of the support at one end.
        from: usize,
        /// Index of the support at the other end.
        to: usize,
        /// From the line to the centre of gravity, at right angles, in m.
        offset_m: Vec2,
    },
    /// The centre of gravity is not inside the hull of the supports: the load tips about this edge.
    Tips(TippingEdge),
    /// The search did not reach equilibrium within rounding: greatest stiffness times level error is more than about
    /// 1e6 times the weight.
    NotConverged,
}

impl From<InputError> for ElasticError {
    fn from(error: InputError) -> Self {
        Self::Input(error)
    }
}

impl fmt::Display for ElasticError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::Input(_) => f.write_str("the supports or the centre of gravity are not usable"),
            Self::Weight => f.write_str("the weight is not positive"),
            Self::Stiffness { index } => write!(f, "the stiffness of support {index} is not positive"),
            Self::StiffnessRatio { ratio } => write!(f, "the stiffnesses differ by a factor of {ratio}"),
            Self::Level { index } => write!(f, "the level error of support {index} is not usable"),
            Self::NoSupport => f.write_str("there is no support"),
            Self::Coincident { .. } => f.write_str("the supports are at one place"),
            Self::Collinear { .. } => f.write_str("the supports are in line"),
            Self::Tips(_) => f.write_str("the centre of gravity is not inside the hull of the supports"),
            Self::NotConverged => f.write_str("no equilibrium was found"),
        }
    }
}

impl core::error::Error for ElasticError {
    fn source(&self) -> Option<&(dyn core::error::Error + 'static)> {
        match self {
            Self::Input(error) => Some(error),
            _ => None,
        }
    }
}

/// Rigid load of the given weight (in N) and centre of gravity (in m) on one-sided springs.
///
/// # Source
/// Equilibrium and linear springs; method and why it ends in the text of the module. With all supports in contact it is
/// the pile-group formula of foundation engineering textbooks.
///
/// # Validity
/// A load that is stiff against its supports; small tilts. At least three supports that are not in line, the centre of
/// gravity inside their hull by more than 1e-9 of the plan size. Stiffness ratio up to [`GREATEST_STIFFNESS_RATIO`];
/// greatest stiffness times level error up to about 1e6 times the weight.
///
/// # Errors
/// See [`ElasticError`].
pub(crate) fn solve(springs: &[Spring], weight_n: f64, centre: Vec2) -> Result<ElasticState, ElasticError> {
    if !is_positive(weight_n) {
        return Err(ElasticError::Weight);
    }
    let scales = checked_scales(springs, centre)?;
    if scales.edge.distance_m <= tolerance_m(scales.size_m) {
        return Err(ElasticError::Tips(scales.edge));
    }
    let length_m = weight_n / scales.stiffness_n_per_m;
    let nodes: Vec<Node> = springs.iter().map(|s| Node { level: s.level_m / length_m, ..scales.node(s) }).collect();
    let Rest { reactions, plane, residual } =
        minimum::rest(nodes, scales.scaled(centre)).ok_or(ElasticError::NotConverged)?;
    if residual.is_nan() || EQUILIBRIUM_TOLERANCE < residual {
        return Err(ElasticError::NotConverged);
    }
    let slope = plane.slope * (length_m / scales.size_m);
    Ok(ElasticState {
        in_contact: reactions.iter().map(|&r| 0.0 < r).collect(),
        reactions_n: reactions.iter().map(|r| r * weight_n).collect(),
        plane: SettlementPlane { sink_m: plane.sink * length_m - slope.dot(scales.centroid), slope },
        residual,
    })
}

/// Shares of the weight (dimensionless) on equal springs at exactly equal level, the centre of gravity in m.
///
/// # Source
/// [`solve`] with unit weight and unit stiffness.
///
/// # Validity
/// As [`solve`].
///
/// # Errors
/// As [`solve`].
pub(crate) fn equal_springs(points: &[Vec2], centre: Vec2) -> Result<Vec<f64>, ElasticError> {
    let springs: Vec<Spring> = points.iter().map(|&at| Spring { at, stiffness_n_per_m: 1.0, level_m: 0.0 }).collect();
    solve(&springs, 1.0, centre).map(|state| state.reactions_n)
}

/// Whether a number is above zero, finite and not so small that it has lost digits.
fn is_positive(value: f64) -> bool {
    value.is_normal() && 0.0 < value
}

/// What the scaled model is measured in.
pub(super) struct Scales {
    pub(super) centroid: Vec2,
    pub(super) size_m: f64,
    pub(super) stiffness_n_per_m: f64,
    /// The governing edge for the centre of gravity.
    edge: TippingEdge,
}

impl Scales {
    pub(super) fn scaled(&self, at: Vec2) -> Vec2 {
        let r = at - self.centroid;
        Vec2::new(r.x / self.size_m, r.y / self.size_m)
    }

    /// The support in scaled coordinates, without its level.
    pub(super) fn node(&self, s: &Spring) -> Node {
        Node { at: self.scaled(s.at), stiffness: s.stiffness_n_per_m / self.stiffness_n_per_m, level: 0.0 }
    }
}

/// Checks everything but the place of the centre of gravity within the hull.
pub(super) fn checked_scales(springs: &[Spring], centre: Vec2) -> Result<Scales, ElasticError> {
    let points: Vec<Vec2> = springs.iter().map(|s| s.at).collect();
    check_points(&[centre])?;
    let hull = convex_hull(&points)?;
    let mut least = f64::INFINITY;
    let mut greatest = 0.0_f64;
    for (index, s) in springs.iter().enumerate() {
        if !is_positive(s.stiffness_n_per_m) {
            return Err(ElasticError::Stiffness { index });
        }
        if s.level_m.is_nan() || GREATEST_LENGTH_M < s.level_m.abs() {
            return Err(ElasticError::Level { index });
        }
        least = least.min(s.stiffness_n_per_m);
        greatest = greatest.max(s.stiffness_n_per_m);
    }
    if GREATEST_STIFFNESS_RATIO < greatest / least {
        return Err(ElasticError::StiffnessRatio { ratio: greatest / least });
    }
    let size_m = plan_size_m(&points);
    match stance(&hull, size_m, centre) {
        Stance::NoSupport => Err(ElasticError::NoSupport),
        Stance::Point { offset_m, .. } => Err(ElasticError::Coincident { offset_m }),
        Stance::Line { from, to, offset_m, .. } => Err(ElasticError::Collinear { from, to, offset_m }),
        Stance::Polygon { governing, .. } => {
            Ok(Scales { centroid: mean(&points), size_m, stiffness_n_per_m: greatest, edge: governing })
        }
    }
}

#[cfg(test)]
mod tests;
