//! Why a force cannot be estimated.

use thiserror::Error;

/// Why a force cannot be estimated.
#[derive(Clone, Debug, PartialEq, Error)]
#[non_exhaustive]
pub enum ForceError {
    /// A number that must be above zero and finite is not.
    #[error("{what} must be above zero")]
    NotPositive {
        /// What it is.
        what: &'static str,
    },
    /// Least, expected and greatest do not rise.
    #[error("least, expected and greatest {what} must not fall")]
    NotInOrder {
        /// What they are.
        what: &'static str,
    },
    /// The hub has no wall.
    #[error("the hub's outside diameter must be greater than the diameter of the joint")]
    NoHub,
    /// The shaft has no wall.
    #[error("the hole through the shaft must be smaller than the diameter of the joint")]
    NoShaft,
    /// A Poisson's ratio that no solid has.
    #[error("a Poisson's ratio lies from 0 to below 0.5")]
    PoissonRatio,
    /// More interference than a fit has.
    #[error(
        "the interference on the diameter is {percent:.2} % of the diameter, and the elastic formula is not used above 2 %"
    )]
    TooTight {
        /// Interference on the diameter over the diameter, in percent.
        percent: f64,
    },
    /// A die too narrow or too wide for the sheet.
    #[error(
        "the die opening is {ratio:.2} times the thickness, and the formula is used from {least} to {greatest} times"
    )]
    DieOpening {
        /// Opening over thickness.
        ratio: f64,
        /// The least at which the formula is used.
        least: f64,
        /// The greatest at which the formula is used.
        greatest: f64,
    },
    /// A tube whose hole leaves no wall.
    #[error("the hole through the bar must be smaller than the bar")]
    NoWall,
    /// A bar too short for simple bending.
    #[error("the span is {ratio:.2} times the depth of the bar, and simple bending is not used below 4 times")]
    TooShort {
        /// Span over depth.
        ratio: f64,
    },
    /// Numbers so large or small that nothing comes out of them.
    #[error("these numbers give no force that can be computed")]
    NotComputable,
}
