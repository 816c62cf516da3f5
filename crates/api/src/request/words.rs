//! The closed lists of words in requests.

use crate::wire_words;
use ramwright_engine::force::DieKind;
use ramwright_engine::load::Task;
use ramwright_engine::ram::Mounting;
use ramwright_engine::support::{Duration, En338Class, GroundClass, NdsSpecies};
use ramwright_units::Profile;
use serde::{Deserialize, Serialize};
use utoipa::ToSchema;

wire_words!(Task: "raise", "press", "pull");
wire_words!(Mounting: "base", "front_flange", "pins");
wire_words!(DieKind: "v_die", "edge_die");
wire_words!(Profile: "metric", "us");
wire_words!(Duration: "permanent", "long", "medium", "short", "instantaneous");
wire_words!(NdsSpecies: "douglas_fir_larch", "hem_fir", "southern_pine", "southern_pine_dense", "southern_pine_non_dense", "spruce_pine_fir", "red_oak", "white_oak");
wire_words!(En338Class: "c16", "c18", "c24", "c30", "d30_2016", "d40_2016", "d60_2016", "d70_2016", "d30_2009", "d40_2009");
wire_words!(GroundClass: "crystalline_bedrock", "sedimentary_rock", "gravel", "sand", "clay", "soft_or_fill");

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

/// Which way the axis of a ram lies in a machine frame.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize, ToSchema)]
#[serde(rename_all = "snake_case")]
pub enum AxisWord {
    /// Plumb.
    Vertical,
    /// Level.
    Horizontal,
    /// Between both: give `axis_angle`.
    Inclined,
}
wire_words!(AxisWord: "vertical", "horizontal", "inclined");

/// How an interference is measured.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize, ToSchema)]
#[serde(rename_all = "snake_case")]
pub enum InterferenceWord {
    /// On the radius.
    Radial,
    /// On the diameter: twice the radial one.
    Diametral,
}
wire_words!(InterferenceWord: "radial", "diametral");

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

/// By whose rules strengths are worked out.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize, ToSchema)]
#[serde(rename_all = "snake_case")]
pub enum DesignRules {
    /// NDS and AISC 360 by allowable stresses, ACI 318 by strength design.
    NdsAsd,
    /// Eurocodes 2, 3 and 5.
    Eurocode,
    /// Allowable values of your own.
    Custom,
}
wire_words!(DesignRules: "nds_asd", "eurocode", "custom");

/// What the underside of a load is made of.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize, ToSchema)]
#[serde(rename_all = "snake_case")]
pub enum SoffitWord {
    /// Steel.
    Steel,
    /// Concrete.
    Concrete,
    /// Timber, pressed across the grain.
    Timber,
}
wire_words!(SoffitWord: "steel", "concrete", "timber");

/// What rams and stacks stand on.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize, ToSchema)]
#[serde(rename_all = "snake_case")]
pub enum FoundationWord {
    /// A solid block or plinth of concrete, in which nothing can punch through.
    ConcreteBlock,
    /// A slab of concrete.
    ConcreteSlab,
    /// Steelwork; what it carries as a whole is the point's `foundation_limit`.
    Steelwork,
    /// The ground itself.
    Ground,
}
wire_words!(FoundationWord: "concrete_block", "concrete_slab", "steelwork", "ground");

/// What holds a load sideways.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize, ToSchema)]
#[serde(rename_all = "snake_case")]
pub enum RestraintWord {
    /// Nothing but friction.
    None,
    /// Guides.
    Guides,
    /// Bracing.
    Bracing,
    /// Chocks.
    Chocks,
    /// Lashings.
    Lashings,
}
wire_words!(RestraintWord: "none", "guides", "bracing", "chocks", "lashings");

/// Where load-holding valves sit.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize, ToSchema)]
#[serde(rename_all = "snake_case")]
pub enum HoldingValveWord {
    /// On every ram: a burst hose lets nothing down.
    AtEachRam,
    /// Elsewhere, or there are none.
    Elsewhere,
}
wire_words!(HoldingValveWord: "at_each_ram", "elsewhere");

/// The return side of double-acting rams.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize, ToSchema)]
#[serde(rename_all = "snake_case")]
pub enum ReturnLineWord {
    /// Always open to the tank.
    Open,
    /// Protected by a relief valve: give `return_relief`.
    Relief,
    /// It can be blocked, as by a coupler that is not fully joined.
    CanBeBlocked,
}
wire_words!(ReturnLineWord: "open", "relief", "can_be_blocked");

/// How rams are brought to their places.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize, ToSchema)]
#[serde(rename_all = "snake_case")]
pub enum HandlingWord {
    /// By people.
    ByHand,
    /// By lifting gear or a truck.
    LiftingGear,
}
wire_words!(HandlingWord: "by_hand", "lifting_gear");

/// Which way a load goes.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize, ToSchema)]
#[serde(rename_all = "snake_case")]
pub enum WayWord {
    /// It is raised.
    Up,
    /// It is let down on to its final bearing.
    Down,
}
wire_words!(WayWord: "up", "down");

/// A grade of ISO 3448.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize, ToSchema)]
#[serde(rename_all = "snake_case")]
pub enum OilGrade {
    /// 15 mm2/s at 40 degC.
    #[serde(rename = "vg_15")]
    Vg15,
    /// 22 mm2/s at 40 degC.
    #[serde(rename = "vg_22")]
    Vg22,
    /// 32 mm2/s at 40 degC.
    #[serde(rename = "vg_32")]
    Vg32,
    /// 46 mm2/s at 40 degC.
    #[serde(rename = "vg_46")]
    Vg46,
    /// 68 mm2/s at 40 degC.
    #[serde(rename = "vg_68")]
    Vg68,
}
wire_words!(OilGrade: "vg_15", "vg_22", "vg_32", "vg_46", "vg_68");

/// What divides the flow over the points.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize, ToSchema)]
#[serde(rename_all = "snake_case")]
pub enum FlowDivisionWord {
    /// One open manifold.
    Manifold,
    /// A pump or divider that gives every point the same flow.
    SplitFlow,
    /// A valve for each point, worked by people or by a control.
    ValvePerPoint,
}
wire_words!(FlowDivisionWord: "manifold", "split_flow", "valve_per_point");
