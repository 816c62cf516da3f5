//! The closed lists of words in requests.

use crate::wire_words;
use ramwright_engine::load::Task;
use ramwright_units::Profile;
use serde::{Deserialize, Serialize};
use utoipa::ToSchema;

wire_words!(Task: "raise", "press", "pull");
wire_words!(Profile: "metric", "us");

/// How the weight was come by; it decides the tolerances that were not stated.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize, ToSchema)]
#[serde(rename_all = "snake_case")]
pub enum DataOrigin {
    /// Weighed.
    Weighed,
    /// Calculated from drawings.
    Calculated,
    /// Read from a plate or a list.
    Nameplate,
}
wire_words!(DataOrigin: "weighed", "calculated", "nameplate");

/// By which rule more than three supports share the load.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize, ToSchema)]
#[serde(rename_all = "snake_case")]
pub enum SharingWord {
    /// A rigid body on springs that only push; equal ones where no stiffness is stated.
    Elastic,
    /// The worst of all equilibria.
    WorstEquilibrium,
}
wire_words!(SharingWord: "elastic", "worst_equilibrium");

/// A phase of a lift in which something carries.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize, ToSchema)]
#[serde(rename_all = "snake_case")]
pub enum PhaseWord {
    /// The rams move the load up.
    Raising,
    /// The rams stand still.
    Pause,
    /// The load stands on collars or packing.
    Holding,
    /// The rams let the load down.
    Lowering,
}
wire_words!(PhaseWord: "raising", "pause", "holding", "lowering");

/// What a ram stands on.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize, ToSchema)]
#[serde(rename_all = "snake_case")]
pub enum BaseWord {
    /// Steel, with full bearing.
    Steel,
    /// Concrete, with full bearing.
    Concrete,
    /// Packing or ground: give `base_stiffness` too.
    Soft,
}
wire_words!(BaseWord: "steel", "concrete", "soft");

/// How the head of a ram is held sideways.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize, ToSchema)]
#[serde(rename_all = "snake_case")]
pub enum HeadWord {
    /// Free to move sideways with the load.
    Free,
    /// Held sideways by guides or by a frame.
    Restrained,
}
wire_words!(HeadWord: "free", "restrained");

/// How much of the stroke may be used.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize, ToSchema)]
#[serde(rename_all = "snake_case")]
pub enum StrokeUse {
    /// Up to the stroke limit.
    Limited,
    /// All of it, in a confined clearance: a caution.
    WholeStroke,
}
wire_words!(StrokeUse: "limited", "whole_stroke");

/// Whether the lift may be done in packing lifts.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize, ToSchema)]
#[serde(rename_all = "snake_case")]
pub enum PackingLiftsWord {
    /// As many as are needed.
    Allowed,
    /// One stroke must do.
    NotAllowed,
}
wire_words!(PackingLiftsWord: "allowed", "not_allowed");
