//! What a yard owns: rams, pumps, hoses and packing pieces.

use crate::ram::Ram;
use crate::support::{En338Class, NdsSpecies};
use ramwright_units::{
    Flow, Force, HoseLength, Length, OilPressure, OilVolume, PieceMass, Power, Stress, VolumePerLength,
};
use serde::{Deserialize, Serialize};
use std::collections::BTreeMap;
use utoipa::ToSchema;

/// What drives a pump.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize, ToSchema)]
#[serde(rename_all = "snake_case")]
pub enum Drive {
    /// An electric motor.
    Electric,
    /// Compressed air.
    Air,
    /// A petrol engine.
    Petrol,
    /// A person.
    Hand,
}

/// What a pump delivers at a pressure.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize, ToSchema)]
pub struct FlowPoint {
    /// Pressure at the pump.
    pub pressure: OilPressure,
    /// Flow at that pressure.
    pub flow: Flow,
}

/// A pump.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, ToSchema)]
pub struct Pump {
    /// Name in the catalogue.
    pub id: String,
    /// What drives it.
    pub drive: Drive,
    /// Greatest pressure.
    pub rated_pressure: OilPressure,
    /// Flow below the change-over pressure.
    pub flow_fast: Flow,
    /// Pressure above which only the slow stage delivers; absent for a single stage.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub changeover_pressure: Option<OilPressure>,
    /// Flow under load.
    pub flow_slow: Flow,
    /// Flow against pressure, from no pressure to the rated one, never rising; empty where only the stages are known.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub flow_curve: Vec<FlowPoint>,
    /// Oil that one stroke of a hand pump gives below the change-over pressure.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub stroke_volume_fast: Option<OilVolume>,
    /// Oil that one stroke of a hand pump gives under load.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub stroke_volume_slow: Option<OilVolume>,
    /// Oil that may be drawn.
    pub usable_oil: OilVolume,
    /// Oil that the reservoir holds when it is full.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub reservoir: Option<OilVolume>,
    /// Motor power.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub power: Option<Power>,
    /// How many hoses can be connected.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub outlets: Option<u32>,
    /// Mass of one pump.
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

/// A hose.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, ToSchema)]
pub struct Hose {
    /// Name in the catalogue.
    pub id: String,
    /// Inside diameter.
    pub bore: Length,
    /// Length.
    pub length: HoseLength,
    /// Greatest pressure.
    pub rated_pressure: OilPressure,
    /// By how much it swells at its rated pressure.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub swelling: Option<VolumePerLength>,
    /// Mass of one hose.
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

/// Which stack a packing piece may stand in.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize, ToSchema)]
#[serde(rename_all = "snake_case")]
pub enum PackingUse {
    /// Under the ram only.
    Base,
    /// Under the load only.
    Holding,
    /// Under either.
    Either,
}

/// What a packing piece is made of.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize, ToSchema)]
#[serde(rename_all = "snake_case")]
pub enum PackingMaterial {
    /// Steel.
    Steel,
    /// Hardwood.
    Hardwood,
    /// Softwood.
    Softwood,
}

/// The form of a packing piece.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize, ToSchema)]
#[serde(rename_all = "snake_case")]
pub enum PackingForm {
    /// A plate.
    Plate,
    /// A block or beam.
    Block,
    /// A complete layer of a crib.
    CribLayer,
}

/// A packing piece.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, ToSchema)]
pub struct Packing {
    /// Name in the catalogue.
    pub id: String,
    /// What people call it.
    pub description: String,
    /// What it is made of.
    pub material: PackingMaterial,
    /// Its form.
    pub form: PackingForm,
    /// Height that it adds, not loaded.
    pub thickness: Length,
    /// Length in plan.
    pub length: Length,
    /// Width in plan.
    pub width: Length,
    /// Mass of one piece.
    pub mass: PieceMass,
    /// Least loss of height each time it is loaded.
    pub settlement_least: Length,
    /// Greatest loss of height each time it is loaded.
    pub settlement_greatest: Length,
    /// Force that one piece may carry.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub load_limit: Option<Force>,
    /// Species group in the tables of the NDS, if it is timber.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub nds_species: Option<NdsSpecies>,
    /// Strength class of EN 338, if it is timber.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub en338_class: Option<En338Class>,
    /// Yield strength, if it is steel.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub yield_strength: Option<Stress>,
    /// Members side by side in a crib layer.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub members: Option<u32>,
    /// Width of one member of a crib layer.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub member_width: Option<Length>,
    /// Which stack it may stand in.
    #[serde(rename = "use")]
    pub use_: PackingUse,
    /// How many there are.
    pub stock: u32,
    /// Rate for a day, in the catalogue's currency.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub day_rate: Option<f64>,
    /// Rate for a week, in the catalogue's currency.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub week_rate: Option<f64>,
}

/// A yard's lists, each by id.
#[derive(Clone, Debug, Default, PartialEq, Serialize, Deserialize, ToSchema)]
pub struct Catalogue {
    /// Name by which requests choose it.
    pub name: String,
    /// A line for people.
    pub title: String,
    /// Where the data come from.
    pub origin: String,
    /// Currency of its rates, by its ISO 4217 code.
    pub currency: String,
    /// Rams by id.
    pub rams: BTreeMap<String, Ram>,
    /// Pumps by id.
    pub pumps: BTreeMap<String, Pump>,
    /// Hoses by id.
    pub hoses: BTreeMap<String, Hose>,
    /// Packing pieces by id.
    pub packing: BTreeMap<String, Packing>,
}

/// An amount of money.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, ToSchema)]
pub struct Money {
    /// How much.
    pub amount: f64,
    /// Of what, by its ISO 4217 code.
    pub currency: String,
}
