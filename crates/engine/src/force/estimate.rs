//! An estimate as it stands in place of a stated reaction.

use super::air_bending::{AirBending, DieKind, air_bending};
use super::error::ForceError;
use super::fit::{FitStress, InterferenceFit, interference_fit};
use super::straightening::{Straightening, straightening};
use crate::Text;
use crate::check::{Finding, HandCheck, Ledger, Line, Lines, Source, Standing};
use crate::line;
use ramwright_units::{ForceRange, Stress};
use serde::{Deserialize, Serialize};
use utoipa::ToSchema;

/// The work that a ram is to do in a frame.
#[derive(Clone, Debug, PartialEq)]
pub enum Work {
    /// A shaft in a hub with interference, pressed together or pulled apart.
    InterferenceFit(InterferenceFit),
    /// A sheet bent in air.
    AirBending(AirBending),
    /// A bar bent back.
    Straightening(Straightening),
}

/// By which method a force was estimated.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize, ToSchema)]
#[serde(rename_all = "snake_case")]
pub enum EstimateMethod {
    /// Thick cylinders and friction.
    InterferenceFit,
    /// Air bending over a die.
    AirBending,
    /// Plastic hinge in three-point bending.
    Straightening,
}

/// The force that the work at a point needs, as estimated.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, ToSchema)]
pub struct ForceEstimate {
    /// The point.
    pub point: String,
    /// The method.
    pub method: EstimateMethod,
    /// Least, expected and greatest force. The greatest governs.
    pub force: ForceRange,
    /// What the estimate does not know.
    pub open: Text,
    /// Stresses of an interference fit at its greatest interference.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub fit: Option<FitStress>,
    /// The simple bound that a person would work out, beside the expected force.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub hand_check: Option<HandCheck>,
    /// The calculation, line by line.
    pub lines: Vec<Line>,
}

const FIT: &str = "friction is not known better than its range, and scuffing, misalignment or dirt can add to it; the elastic fit says nothing once hub or shaft yields";
const V_BEND: &str = "the force is that of air bending: bottoming or coining takes several times as much, and so does a sheet stronger than stated";
const EDGE_BEND: &str =
    "the factor for edge bending is from memory, and the force that holds the sheet down is not in it";
const STRAIGHT: &str = "a bar that hardens as it bends, or that was hardened by the bend that is taken out, needs up to the greatest force; springing back is not worked out";

/// The force that the work at a point needs.
///
/// # Source
/// See the method of each kind of work.
///
/// # Validity
/// As for each kind of work.
///
/// # Errors
/// [`ForceError`]: as for each kind of work.
pub fn estimate(point: &str, work: &Work) -> Result<ForceEstimate, ForceError> {
    let mut lines = Lines::default();
    let (method, open, force, fit, hand) = match work {
        Work::InterferenceFit(fit) => {
            let found = interference_fit(&mut lines, fit)?;
            (EstimateMethod::InterferenceFit, FIT, found.force, Some(found.stress), Some(found.hand))
        }
        Work::AirBending(bend) => {
            let (force, hand) = air_bending(&mut lines, bend)?;
            let open = if bend.die == DieKind::VDie { V_BEND } else { EDGE_BEND };
            (EstimateMethod::AirBending, open, force, None, hand)
        }
        Work::Straightening(bar) => {
            let (force, hand) = straightening(&mut lines, bar)?;
            (EstimateMethod::Straightening, STRAIGHT, force, None, hand)
        }
    };
    Ok(ForceEstimate {
        point: point.to_owned(),
        method,
        force,
        open: Text::fixed(open),
        fit,
        hand_check: hand.filter(|hand| hand.ratio.is_finite() && hand.value.value_si.is_finite()),
        lines: lines.0,
    })
}

/// The hub at its bore against its yield strength: hoop tension and contact pressure together, after Tresca.
///
/// # Source
/// Lame's thick cylinders and Tresca's criterion, any textbook of strength of materials.
///
/// # Validity
/// Elastic: beyond yield the estimate of the force does not hold either.
pub fn hub_bore(book: &mut impl Ledger, fit: &FitStress, missing: &str) -> Finding {
    const TRESCA: Source =
        Source::new("greatest difference of principal stresses (Tresca), any textbook", Standing::Published);
    let Some(yield_strength) = fit.hub_yield else { return Finding::missing([missing.to_owned()]) };
    let found = line!(book, sigma: Stress = sigma_h + p; sigma_h = fit.hub_bore_hoop, p = fit.contact_pressure; TRESCA);
    Finding::compare(found, yield_strength)
        .with_remedy(|| format!("no more than {:.2} of the greatest interference", floor_2(yield_strength / found)))
}

fn floor_2(value: f64) -> f64 {
    (value * 100.0).floor() / 100.0
}
