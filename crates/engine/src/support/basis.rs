//! The design basis: by whose rules strengths are worked out.
//!
//! One check follows one basis from its demand to its limit; nothing is mixed inside a check.

use crate::Text;
use ramwright_units::{GroundPressure, Stress};
use serde::{Deserialize, Serialize};
use utoipa::ToSchema;

/// By whose rules strengths of timber, plates and concrete are worked out.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum DesignBasis {
    /// NDS for timber and AISC 360 for steel, both by allowable stresses; ACI 318 for concrete, by strength design.
    NdsAsd(Nds),
    /// Eurocodes 2, 3 and 5 with partial factors.
    Eurocode(Eurocode),
    /// The user's own allowable values under service loads.
    Custom(Allowable),
}

/// What NDS, AISC 360 and ACI 318 need to know.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Nds {
    /// Whether the timber is wet in service (moisture content above 19 %).
    pub wet: bool,
    /// Load factor of strength design for concrete (dimensionless, 1 or more).
    pub concrete_load_factor: f64,
}

/// What the Eurocodes need to know.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Eurocode {
    /// Partial factor on the force (dimensionless, 1 or more).
    pub load_factor: f64,
    /// How long the load acts.
    pub duration: Duration,
    /// Moisture of the timber in service.
    pub service_class: ServiceClass,
    /// Coefficient of EN 1992-1-1, 3.1.6, for the long-term strength of concrete (dimensionless, 0.8 to 1.0).
    pub alpha_cc: f64,
}

/// Allowable values of the user's own; what is absent is not checked.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Allowable {
    /// Timber across the grain.
    pub timber_across_grain: Option<Stress>,
    /// Steel plates in bending.
    pub plate_bending: Option<Stress>,
    /// Steel in bearing.
    pub steel_bearing: Option<Stress>,
    /// Concrete in bearing.
    pub concrete_bearing: Option<Stress>,
    /// Ground.
    pub ground: Option<GroundPressure>,
}

/// Load-duration classes of EN 1995-1-1, 2.3.1.2.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize, ToSchema)]
#[serde(rename_all = "snake_case")]
pub enum Duration {
    /// More than ten years.
    Permanent,
    /// Six months to ten years.
    Long,
    /// A week to six months.
    Medium,
    /// Less than a week.
    Short,
    /// An instant.
    Instantaneous,
}

/// Service classes of EN 1995-1-1, 2.3.1.3.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize, ToSchema)]
pub enum ServiceClass {
    /// Indoors, heated.
    #[serde(rename = "1")]
    One,
    /// Under cover.
    #[serde(rename = "2")]
    Two,
    /// In the open.
    #[serde(rename = "3")]
    Three,
}

/// The design basis as it is answered.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, ToSchema)]
pub struct DesignBasisUsed {
    /// `nds_asd`, `eurocode` or `custom`.
    pub rules: Text,
    /// The choice with its factors, in words.
    pub words: Text,
}

impl DesignBasisUsed {
    /// A basis in words.
    pub fn of(basis: &DesignBasis) -> Self {
        match basis {
            DesignBasis::NdsAsd(nds) => Self {
                rules: Text::fixed("nds_asd"),
                words: format!(
                    "NDS for {} timber and AISC 360 for steel by allowable stresses; ACI 318 for concrete with a load factor of {}",
                    if nds.wet { "wet" } else { "dry" },
                    nds.concrete_load_factor
                )
                .into(),
            },
            DesignBasis::Eurocode(eurocode) => Self {
                rules: Text::fixed("eurocode"),
                words: format!(
                    "Eurocodes 2, 3 and 5 with a factor of {} on the force; timber in service class {}, load duration {}; alpha_cc {}",
                    eurocode.load_factor,
                    eurocode.service_class.number(),
                    eurocode.duration.words(),
                    eurocode.alpha_cc
                )
                .into(),
            },
            DesignBasis::Custom(_) => Self {
                rules: Text::fixed("custom"),
                words: Text::fixed("allowable values of the request, under service loads"),
            },
        }
    }
}

impl Duration {
    fn words(self) -> &'static str {
        match self {
            Self::Permanent => "permanent",
            Self::Long => "long",
            Self::Medium => "medium",
            Self::Short => "short",
            Self::Instantaneous => "instantaneous",
        }
    }
}

impl ServiceClass {
    fn number(self) -> u8 {
        match self {
            Self::One => 1,
            Self::Two => 2,
            Self::Three => 3,
        }
    }
}
