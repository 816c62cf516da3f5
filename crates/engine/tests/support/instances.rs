//! The generated instances under `tests/reference/packing_lifts`, asked of the planner.

#![allow(
    dead_code,
    clippy::struct_excessive_bools,
    reason = "test and bench each read a part of the files as they are"
)]

use ramwright_engine::Effort;
use ramwright_engine::catalogue::{Packing, PackingForm, PackingMaterial, PackingUse};
use ramwright_engine::defaults;
use ramwright_engine::packing_lift::{
    Cures, Direction, Manner, PackingSequence, PointsAlike, SequenceInput, StackDemand, sequence_packing_lifts,
};
use ramwright_engine::ram::{Action, Material, Ram};
use ramwright_engine::settings::{PackingLifts, Settings, StrokeLimit};
use ramwright_units::{Area, Force, Length, OilPressure, PieceMass, Range};
use serde::Deserialize;
use std::path::{Path, PathBuf};
use std::sync::atomic::AtomicBool;

/// One instance, per point, in tenths of a millimetre and of a kilogram.
#[derive(Debug, Clone, Deserialize)]
pub(crate) struct Instance {
    pub(crate) name: String,
    pub(crate) class: String,
    pub(crate) points: u32,
    pub(crate) clearance: u32,
    pub(crate) packing_clearance: u32,
    pub(crate) travel: u32,
    pub(crate) allowance: u32,
    pub(crate) closed_height: u32,
    pub(crate) plates: u32,
    pub(crate) ram_gap: u32,
    pub(crate) usable_stroke: u32,
    pub(crate) packing_gap: u32,
    pub(crate) follow_up_gap: u32,
    pub(crate) lock_collar: bool,
    pub(crate) cycles_at_most: u32,
    pub(crate) pieces: Vec<Piece>,
}

/// A kind of piece.
#[derive(Debug, Clone, Deserialize)]
pub(crate) struct Piece {
    pub(crate) id: String,
    pub(crate) thickness: u32,
    pub(crate) width: u32,
    pub(crate) mass: u32,
    pub(crate) members: u32,
    pub(crate) settlement_least: u32,
    pub(crate) settlement_greatest: u32,
    #[serde(rename = "use")]
    pub(crate) use_: PackingUse,
    pub(crate) stock: u32,
}

/// The answer of the constraint solver.
#[derive(Debug, Clone, Deserialize)]
pub(crate) struct Solved {
    pub(crate) name: String,
    pub(crate) status: String,
    #[serde(default)]
    pub(crate) cycles: Option<u32>,
    #[serde(default)]
    pub(crate) cycles_proven: bool,
    #[serde(default)]
    pub(crate) pieces: Option<u64>,
    #[serde(default)]
    pub(crate) pieces_proven: bool,
    #[serde(default)]
    pub(crate) mass: Option<u64>,
    #[serde(default)]
    pub(crate) mass_proven: bool,
    #[serde(default)]
    pub(crate) height: Option<u64>,
    #[serde(default)]
    pub(crate) height_proven: bool,
    #[serde(default)]
    pub(crate) lower_bound_cycles: Option<u32>,
    #[serde(default)]
    pub(crate) seconds_total: f64,
}

fn folder() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("../../tests/reference/packing_lifts")
}

fn read<T: serde::de::DeserializeOwned>(name: &str) -> Vec<T> {
    let text = std::fs::read_to_string(folder().join(name)).expect("a reference file");
    serde_json::from_str(&text).expect("a list of the reference")
}

/// All instances.
pub(crate) fn instances() -> Vec<Instance> {
    read("instances.json")
}

/// The solver's answers.
pub(crate) fn solved() -> Vec<Solved> {
    read("answers.json")
}

fn tenths(value: u32) -> Length {
    Length::from_mm(f64::from(value) / 10.0)
}

impl Instance {
    fn ram(&self) -> Ram {
        Ram {
            id: "invented".into(),
            family: String::new(),
            action: Action::DoubleActing,
            material: Material::Steel,
            lock_collar: self.lock_collar,
            nominal_class: String::new(),
            effective_area: Area::from_cm2(50.0),
            annulus_area: None,
            rated_pressure: OilPressure::from_bar(600.0),
            stroke: tenths(self.usable_stroke),
            closed_height: tenths(self.closed_height),
            body_diameter: None,
            base_diameter: None,
            plunger_diameter: None,
            plunger_bore: None,
            plunger_yield: None,
            saddle_diameter: None,
            saddle_tilt_limit: None,
            side_load_limit_ratio: None,
            return_force: None,
            return_preload: None,
            plunger_mass: None,
            mass: None,
            stock: Some(100),
            day_rate: None,
            week_rate: None,
        }
    }

    fn settings(&self) -> Settings {
        Settings {
            capacity_limit: defaults::CAPACITY_LIMIT,
            stroke_limit: StrokeLimit::Waived,
            plates: tenths(self.plates),
            entry_gap: tenths(self.ram_gap),
            packing_gap: tenths(self.packing_gap),
            follow_up_gap: tenths(self.follow_up_gap),
            over_jack_allowance: tenths(self.allowance),
            level_tolerance: defaults::LEVEL_TOLERANCE,
            handling: defaults::HANDLING,
            side_by_side_spacing: defaults::SIDE_BY_SIDE_SPACING,
            stability_factor: defaults::STABILITY_FACTOR,
            heavier_factor: defaults::HEAVIER_FACTOR,
            packing_lifts: PackingLifts::Allowed,
            rams_per_point: 1,
        }
    }

    fn packing(&self) -> Vec<Packing> {
        let piece = |piece: &Piece| Packing {
            id: piece.id.clone(),
            description: "invented".into(),
            material: PackingMaterial::Steel,
            form: PackingForm::Block,
            thickness: tenths(piece.thickness),
            length: tenths(piece.width),
            width: tenths(piece.width),
            mass: PieceMass::from_kg(f64::from(piece.mass) / 10.0),
            settlement_least: tenths(piece.settlement_least),
            settlement_greatest: tenths(piece.settlement_greatest),
            load_limit: Some(Force::from_kn(1e6)),
            nds_species: None,
            en338_class: None,
            yield_strength: None,
            members: Some(piece.members),
            member_width: None,
            use_: piece.use_,
            stock: piece.stock,
            day_rate: None,
            week_rate: None,
        };
        self.pieces.iter().map(piece).collect()
    }

    /// The planner's answer within so many states.
    pub(crate) fn plan(&self, states: u64) -> PackingSequence {
        let (ram, settings, pieces) = (self.ram(), self.settings(), self.packing());
        let nothing = Force::ZERO;
        let groups = [PointsAlike {
            points: (1..=self.points).map(|point| point.to_string()).collect(),
            rams: self.points,
            clearance: tenths(self.clearance),
            packing_clearance: tenths(self.packing_clearance),
            on_one_ram: vec![Range::new(nothing, nothing, nothing); usize::try_from(self.points).unwrap_or(0)],
        }];
        let input = SequenceInput {
            groups: &groups,
            travel: tenths(self.travel),
            direction: &Direction::Raise,
            manner: Manner::Together,
            second_support: None,
            ram: &ram,
            share: Force::from_n(1.0),
            base_room: None,
            stacks: StackDemand::UNKNOWN,
            settings: &settings,
            pieces: &pieces,
            cures: Cures::Sought,
        };
        let stop = AtomicBool::new(false);
        sequence_packing_lifts(&input, Effort { states, stop: &stop }).expect("not stopped")
    }
}
