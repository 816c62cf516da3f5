//! The values used where a request gives none: one named, versioned profile that each answer echoes.
//!
//! Changing one of them changes answers, so it needs a new profile name.

use crate::price::{PriceTerms, Rates};
use crate::settings::Handling;
use crate::size::Objective;
use ramwright_units::{HoseLength, Length, OilPressure, Stress, Time};
use std::num::NonZeroU32;

/// The name of this profile.
pub const PROFILE: &str = "ramwright-2026-11";

/// Share of a ram's capacity that may be used. Common practice, no source.
pub const CAPACITY_LIMIT: f64 = 0.80;
/// Share of a ram's stroke that may be used. Common practice, no source.
pub const STROKE_LIMIT: f64 = 0.80;
/// Above this a working limit is a caution. Common practice, no source.
pub const LIMIT_OF_PRACTICE: f64 = 0.80;
/// Horizontal force as a share of the weight. Falsework practice, from memory.
pub const HORIZONTAL_SHARE: f64 = 0.025;
/// Factor on the elastic critical load of an extended ram. From memory.
pub const STABILITY_FACTOR: f64 = 3.5;
/// Stop pressure over the greatest expected pressure. Common practice, no source.
pub const STOP_PRESSURE_FACTOR: f64 = 1.10;
/// How much heavier the load is in the scenario `load_heavier`. Common practice, no source.
pub const HEAVIER_FACTOR: f64 = 1.10;
/// Load factor of ACI 318 for concrete where none is stated: that of a live load. From memory.
pub const ACI_LOAD_FACTOR: f64 = 1.6;
/// Partial factor on the force by the Eurocodes where none is stated: that of a variable action (EN 1990). From memory.
pub const EUROCODE_LOAD_FACTOR: f64 = 1.5;
/// Coefficient `alpha_cc` of EN 1992-1-1 where none is stated: the lower of those in use. From memory.
pub const EUROCODE_ALPHA_CC: f64 = 0.85;
/// By which factor the band of levels is wider in the scenario `level_error`. Common practice, no source.
pub const LEVEL_ACCIDENT_FACTOR: f64 = 2.0;
/// By which factor wind and horizontal force are greater in the scenario `horizontal_force`. Common practice, no source.
pub const HORIZONTAL_ACCIDENT_FACTOR: f64 = 1.5;
/// Greatest number of rams side by side at one point that `size` tries.
pub const RAMS_PER_POINT: u32 = 4;

/// By what ram sets are compared, the most important first. Common practice, no source.
pub const OBJECTIVES: [Objective; 4] = [Objective::Rams, Objective::PackingLifts, Objective::Cost, Objective::Mass];
/// How many options a search lists at most, beside those that no other beats.
pub const OPTIONS: u32 = 10;
/// How far the farthest ram is from the pumps, along the hoses. Common practice, no source.
pub const HOSE_RUN: HoseLength = HoseLength::from_m(10.0);

/// Gap needed to slide a ram under the load.
pub const ENTRY_GAP: Length = Length::from_mm(3.0);
/// Gap needed to slide a packing piece under the load.
pub const PACKING_GAP: Length = Length::from_mm(4.0);
/// Greatest gap between the load and its next mechanical support.
pub const FOLLOW_UP_GAP: Length = Length::from_mm(25.0);
/// By how much the final height may exceed the wanted one.
pub const OVER_JACK_ALLOWANCE: Length = Length::from_mm(10.0);
/// By how much points that go up together may differ in height from what is planned. Common practice, no source.
pub const LEVEL_TOLERANCE: Length = Length::from_mm(10.0);
/// Time to place or take out one packing piece. Common practice, no source.
pub const TIME_PER_PIECE: Time = Time::from_s(90.0);
/// Time to set a ram, or to move it over. Common practice, no source.
pub const TIME_PER_RAM: Time = Time::from_s(600.0);
/// Time of a prove lift: preload, hold, readings. Common practice, no source.
pub const TIME_OF_PROVE_LIFT: Time = Time::from_s(900.0);
/// Time at a hold point until the next step is released. Common practice, no source.
pub const TIME_PER_HOLD_POINT: Time = Time::from_s(180.0);
/// Crews that handle packing at the same time.
pub const CREWS: u32 = 1;
/// All of these; the flow of the pumps is not known.
pub const HANDLING: Handling = Handling {
    per_piece: TIME_PER_PIECE,
    per_ram: TIME_PER_RAM,
    prove_lift: TIME_OF_PROVE_LIFT,
    per_hold_point: TIME_PER_HOLD_POINT,
    crews: CREWS,
    flow: None,
};

/// Error of a gauge on site as a part of its full scale, where none is stated: class 1.6 of EN 837-1. Common practice, no source.
pub const SITE_GAUGE_CLASS: f64 = 0.016;

/// What a reading on site may be outside of what is expected, as a part of it, and still be put down to the gauge: as far as the
/// stop pressure is above the expected one. Common practice, no source.
pub const SITE_GAUGE_EXPLAINS: f64 = 0.10;

/// The same where the rams should carry nothing, as a part of their rated pressure. Common practice, no source.
pub const SITE_GAUGE_EXPLAINS_OF_RATED: f64 = 0.05;

/// Days for which everything is hired: one hire week. Common practice, no source.
pub const HIRE_DAYS: u32 = 7;
/// Fewest days that are charged. Common practice, no source.
pub const MINIMUM_HIRE_DAYS: u32 = 1;
/// Days in a hire week, counted as days of the calendar. Common practice, no source.
pub const WEEK_DAYS: NonZeroU32 = NonZeroU32::MIN.saturating_add(6);
/// Persons on the job, all crews together. Common practice, no source.
pub const CREW_PERSONS: u32 = 3;
/// Hours of the crew for setting up and taking down. Common practice, no source.
pub const SET_UP_TIME: Time = Time::from_s(4.0 * 3600.0);
/// Spares as a share of the hire of rams and pumps. Common practice, no source.
pub const SPARES_SHARE: f64 = 0.10;
/// Part of the timber in the stacks that is written off. Common practice, no source.
pub const TIMBER_CONSUMED_SHARE: f64 = 0.10;
/// Days of standby.
pub const STANDBY_DAYS: u32 = 0;
/// All of these; no money is stated, so that only what the catalogue has a rate for is priced.
pub const PRICE_TERMS: PriceTerms = PriceTerms {
    hire_days: HIRE_DAYS,
    minimum_hire_days: MINIMUM_HIRE_DAYS,
    week_days: WEEK_DAYS,
    crew_persons: CREW_PERSONS,
    set_up_time: SET_UP_TIME,
    spares_share: SPARES_SHARE,
    timber_consumed_share: TIMBER_CONSUMED_SHARE,
    standby_days: STANDBY_DAYS,
    rates: Rates {
        mobilisation: None,
        return_transport: None,
        person_hour: None,
        handling_plant_day: None,
        timber_m3: None,
        standby_day: None,
    },
};

/// Stroke kept to be able to back a lock collar off.
pub const COLLAR_SPARE_STROKE: Length = Length::from_mm(5.0);
/// Settlement of an engaged lock collar on its thread.
pub const COLLAR_SETTLEMENT: Length = Length::from_mm(1.0);
/// Clear distance between rams side by side.
pub const SIDE_BY_SIDE_SPACING: Length = Length::from_mm(20.0);

/// Greatest height of a holding stack over its least width. Common practice, no source.
pub const HOLDING_STACK_SLENDERNESS: f64 = 3.0;
/// Greatest height of a base stack over its least width. Common practice, no source.
pub const BASE_STACK_SLENDERNESS: f64 = 1.5;

/// Modulus of elasticity of steel (EN 1993-1-1 gives 210 GPa; the lower value commonly used for tubes and rods, from memory).
pub const STEEL_MODULUS: Stress = Stress::from_mpa(205_000.0);
/// Modulus of elasticity of aluminium alloy (EN 1999-1-1, 70 GPa).
pub const ALUMINIUM_MODULUS: Stress = Stress::from_mpa(70_000.0);

/// Bulk modulus of the oil where none is stated: the stiff end of what is found for mineral oil (1.4 to 2.0 GPa, from memory),
/// which is the safe side for level errors.
pub const BULK_MODULUS: OilPressure = OilPressure::from_bar(20_000.0);

/// Bulk modulus of the oil where none is stated, for how much oil is needed: the soft end of what is found for mineral oil
/// (1.4 to 2.0 GPa, from memory), which is the safe side there.
pub const BULK_MODULUS_FOR_VOLUMES: OilPressure = OilPressure::from_bar(14_000.0);
/// Power given to the oil over power taken from the motor of a pump, where it is not stated. From memory.
pub const PUMP_EFFICIENCY: f64 = 0.75;

/// States that the search for one packing-lift sequence may visit where nothing else is asked for.
pub const SEQUENCE_STATES: u64 = 200_000_000;
/// States that a packing-lift search may visit, once for each candidate of a search of ram sets.
pub const SEARCH_STATES: u64 = 2_000_000;
