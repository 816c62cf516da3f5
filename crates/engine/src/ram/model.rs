//! A ram as the catalogue describes it.

use ramwright_units::{Angle, Area, Force, Length, OilPressure, PieceMass, Stress};
use serde::{Deserialize, Serialize};
use utoipa::ToSchema;

/// How a ram is extended and retracted.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize, ToSchema)]
#[serde(rename_all = "snake_case")]
pub enum Action {
    /// Oil extends it, the load pushes it back.
    SingleActingLoadReturn,
    /// Oil extends it, a spring pulls it back.
    SingleActingSpringReturn,
    /// Oil moves it both ways.
    DoubleActing,
}

/// What a ram's body is made of.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize, ToSchema)]
#[serde(rename_all = "snake_case")]
pub enum Material {
    /// Steel.
    Steel,
    /// Aluminium alloy.
    Aluminium,
}

impl Material {
    /// Modulus of elasticity.
    pub fn modulus(self) -> Stress {
        match self {
            Self::Steel => crate::defaults::STEEL_MODULUS,
            Self::Aluminium => crate::defaults::ALUMINIUM_MODULUS,
        }
    }
}

/// A ram. The nominal class is a label and is never computed with.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, ToSchema)]
pub struct Ram {
    /// Name in the catalogue.
    pub id: String,
    /// Family in the catalogue; empty if none.
    pub family: String,
    /// How it is extended and retracted.
    pub action: Action,
    /// What it is made of; the plunger counts as no stiffer.
    pub material: Material,
    /// Whether a lock collar holds it extended.
    pub lock_collar: bool,
    /// A label; empty if none.
    pub nominal_class: String,
    /// Area on which oil extends it.
    pub effective_area: Area,
    /// Area on which oil retracts it, if oil does.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub annulus_area: Option<Area>,
    /// Greatest oil pressure.
    pub rated_pressure: OilPressure,
    /// How far it extends.
    pub stroke: Length,
    /// Height at zero extension.
    pub closed_height: Length,
    /// Outside diameter of the body.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub body_diameter: Option<Length>,
    /// Diameter of the base.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub base_diameter: Option<Length>,
    /// Outside diameter of the plunger.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub plunger_diameter: Option<Length>,
    /// Diameter of the hole through the plunger; zero if solid.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub plunger_bore: Option<Length>,
    /// Yield strength of the plunger.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub plunger_yield: Option<Stress>,
    /// Diameter of the saddle.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub saddle_diameter: Option<Length>,
    /// By how much the saddle may tilt.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub saddle_tilt_limit: Option<Angle>,
    /// Side load that it may take, as a share of its capacity.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub side_load_limit_ratio: Option<f64>,
    /// Force of the return spring at full extension, the friction of the seals taken off.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub return_force: Option<Force>,
    /// Force of the return spring at zero extension, the friction of the seals taken off.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub return_preload: Option<Force>,
    /// Mass of the plunger and of what it carries, which helps to retract an upright ram.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub plunger_mass: Option<PieceMass>,
    /// Mass of one ram.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub mass: Option<PieceMass>,
    /// How many there are.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub stock: Option<u32>,
    /// Rate for a day, in the catalogue's currency.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub day_rate: Option<f64>,
    /// Rate for a week, in the catalogue's currency.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub week_rate: Option<f64>,
}

#[cfg(test)]
pub(crate) mod tests {
    use super::*;

    /// An invented ram of 700 kN with everything stated.
    pub(crate) fn ram() -> Ram {
        let mm = |value: f64| Some(Length::from_mm(value));
        Ram {
            id: "r".into(),
            family: String::new(),
            action: Action::SingleActingSpringReturn,
            material: Material::Steel,
            lock_collar: false,
            nominal_class: String::new(),
            effective_area: Area::from_cm2(100.0),
            annulus_area: None,
            rated_pressure: OilPressure::from_bar(700.0),
            stroke: Length::from_mm(150.0),
            closed_height: Length::from_mm(300.0),
            body_diameter: mm(160.0),
            base_diameter: mm(160.0),
            plunger_diameter: mm(100.0),
            plunger_bore: mm(0.0),
            plunger_yield: Some(Stress::from_mpa(600.0)),
            saddle_diameter: mm(80.0),
            saddle_tilt_limit: Some(Angle::from_deg(4.0)),
            side_load_limit_ratio: Some(0.03),
            return_force: None,
            return_preload: None,
            plunger_mass: None,
            mass: Some(PieceMass::from_kg(40.0)),
            stock: Some(8),
            day_rate: None,
            week_rate: None,
        }
    }
}
