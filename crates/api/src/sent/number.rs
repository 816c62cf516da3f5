//! Plain numbers within bounds.

use crate::json::Node;
use crate::problem::FaultCode;
use crate::read::{Faults, Pointer, Read, wrong_type};
use serde_json::{Value, json};
use std::borrow::Cow;
use std::marker::PhantomData;
use utoipa::openapi::schema::{ObjectBuilder, Type};
use utoipa::openapi::{RefOr, Schema};
use utoipa::{PartialSchema, ToSchema};

/// The bounds of a plain number.
pub trait NumberBound: Clone + std::fmt::Debug + PartialEq {
    /// The name of its schema.
    const NAME: &'static str;
    /// The least value.
    const LEAST: f64;
    /// The greatest value.
    const GREATEST: f64;
    /// Whether only whole numbers are taken.
    const WHOLE: bool;
    /// What a sender is told about it.
    const WORDS: &'static str;
}

/// A plain number within bounds.
#[derive(Clone, Debug, PartialEq)]
pub struct Number<B> {
    value: f64,
    bound: PhantomData<B>,
}

impl<B: NumberBound> Number<B> {
    /// The number.
    pub fn get(&self) -> f64 {
        self.value
    }

    /// The number as a count; a fraction cannot get here where `B` takes whole numbers only.
    #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "bounds keep whole numbers within u32")]
    pub fn count(&self) -> u32 {
        self.value as u32
    }
}

impl<B: NumberBound> Read for Number<B> {
    fn read(node: &Node, at: &Pointer, faults: &mut Faults) -> Option<Self> {
        let wanted = if B::WHOLE { "a whole number" } else { "a plain number" };
        let value = match node {
            Node::Number(value) if !B::WHOLE || value.fract().abs() <= 0.0 => *value,
            other => {
                faults.push(wrong_type(other, wanted, at));
                return None;
            }
        };
        if B::LEAST <= value && value <= B::GREATEST {
            return Some(Self { value, bound: PhantomData });
        }
        let mut fault =
            at.fault(FaultCode::OutOfRange, format!("{value} is out of range: from {} to {}", B::LEAST, B::GREATEST));
        fault.given = Some(value.to_string());
        fault.limit = Some(if value < B::LEAST { B::LEAST } else { B::GREATEST }.to_string());
        fault.hint = Some(B::WORDS.to_owned());
        faults.push(fault);
        None
    }

    #[expect(clippy::cast_possible_truncation, reason = "bounds keep whole numbers within i64")]
    fn canonical(&self) -> Option<Value> {
        Some(if B::WHOLE { json!(self.value as i64) } else { json!(self.value + 0.0) })
    }
}

impl<B: NumberBound> PartialSchema for Number<B> {
    fn schema() -> RefOr<Schema> {
        let base = if B::WHOLE { Type::Integer } else { Type::Number };
        ObjectBuilder::new()
            .schema_type(base)
            .description(Some(B::WORDS))
            .minimum(Some(B::LEAST))
            .maximum(Some(B::GREATEST))
            .build()
            .into()
    }
}

impl<B: NumberBound> ToSchema for Number<B> {
    fn name() -> Cow<'static, str> {
        format!("{}Number", B::NAME).into()
    }
}

macro_rules! number_bounds {
    ($($(#[doc = $words:literal])+ $name:ident: $least:literal ..= $greatest:literal, $whole:literal;)+) => {
        $(
            $(#[doc = $words])+
            pub type $name = Number<numbers::$name>;

            impl NumberBound for numbers::$name {
                const NAME: &'static str = stringify!($name);
                const LEAST: f64 = $least;
                const GREATEST: f64 = $greatest;
                const WHOLE: bool = $whole;
                const WORDS: &'static str = concat!($($words),+).trim_ascii();
            }
        )+

        /// Markers that carry the bounds.
        pub mod numbers {
            $($(#[doc = $words])+ #[derive(Clone, Debug, PartialEq)] pub struct $name;)+
        }

        /// Name, least and greatest of every bounded plain number, for `GET /v1/limits`.
        pub const NUMBER_BOUNDS: &[(&str, f64, f64)] = &[$((stringify!($name), $least, $greatest),)+];
    };
}

number_bounds! {
    /// A tolerance as a fraction: 0.05 is 5 %.
    ToleranceFraction: 0.0 ..= 0.5, false;
    /// A share of the weight as a fraction: 0.025 is 2.5 %.
    WeightFraction: 0.0 ..= 1.0, false;
    /// The part of capacity or stroke that may be used: 0.8 is 80 %.
    WorkingLimit: 0.05 ..= 1.0, false;
    /// A factor on the elastic critical load.
    SafetyFactor: 1.0 ..= 20.0, false;
    /// By which factor the load is heavier than stated.
    HeavierFactor: 1.0 ..= 2.0, false;
    /// The greatest vertical load over the weight when a load is moved.
    DynamicFactor: 1.0 ..= 1.5, false;
    /// The error of a cell or gauge as a fraction of its full scale: 0.016 is 1.6 %.
    GaugeClass: 0.0001 ..= 0.1, false;
    /// The part of a ram's force that its seals take.
    SealFriction: 0.0 ..= 0.5, false;
    /// A coefficient of friction.
    FrictionCoefficient: 0.01 ..= 1.0, false;
    /// A Poisson's ratio.
    PoissonRatio: 0.0 ..= 0.49, false;
    /// By which factor a joint takes more to pull off after long service.
    AfterServiceFactor: 1.0 ..= 10.0, false;
    /// A side load limit as a share of capacity.
    SideRatio: 0.0 ..= 0.5, false;
    /// A rate of money.
    Rate: 0.0 ..= 1_000_000.0, false;
    /// How many rams stand at one point.
    RamsAtPoint: 1.0 ..= 12.0, true;
    /// How many there are in stock.
    StockCount: 0.0 ..= 100_000.0, true;
    /// How many hoses a pump takes.
    OutletCount: 1.0 ..= 64.0, true;
    /// How many rams side by side a search tries.
    RamsTried: 1.0 ..= 8.0, true;
    /// How many options a search lists.
    OptionsListed: 1.0 ..= 500.0, true;
    /// How many rams a set may have in all.
    RamsInAll: 1.0 ..= 10_000.0, true;
    /// How many rams of a model are out on hire.
    OnHireCount: 0.0 ..= 100_000.0, true;
    /// How many pumps or hoses there are.
    UnitCount: 1.0 ..= 50.0, true;
    /// A density of oil in kg/m3.
    DensityOfOil: 500.0 ..= 1500.0, false;
    /// The sum of the loss coefficients of couplers, valves and bends.
    FittingsCoefficient: 0.0 ..= 10_000.0, false;
    /// How far the flow of a point may be off the mean as a fraction: 0.04 is 4 %.
    SplitError: 0.001 ..= 0.5, false;
    /// Power given to the oil over power taken from the motor: 0.75 is 75 %.
    PumpEfficiency: 0.2 ..= 1.0, false;
    /// A factor on the force in the design of a part.
    LoadFactor: 1.0 ..= 3.0, false;
    /// The coefficient of EN 1992-1-1 for the long-term strength of concrete.
    AlphaCc: 0.5 ..= 1.0, false;
    /// A service class of EN 1995-1-1.
    ServiceClassNumber: 1.0 ..= 3.0, true;
    /// By how much oil warms up, in K.
    TemperatureRise: 0.0 ..= 100.0, false;
    /// How many persons carry one ram.
    PersonCount: 1.0 ..= 8.0, true;
    /// How many members lie side by side in a crib layer.
    MemberCount: 1.0 ..= 50.0, true;
    /// How many pieces of one kind stand in a stack.
    StackCount: 1.0 ..= 1000.0, true;
    /// The number of a step.
    StepNumber: 1.0 ..= 100_000.0, true;
    /// How many crews handle packing at the same time.
    CrewCount: 1.0 ..= 20.0, true;
    /// An amount of money.
    MoneyAmount: 0.0 ..= 1_000_000_000.0, false;
    /// For how many days things are hired.
    HireDays: 1.0 ..= 1000.0, true;
    /// How many days a hire week has.
    WeekDays: 1.0 ..= 7.0, true;
    /// How many days of standby there are.
    StandbyDays: 0.0 ..= 1000.0, true;
    /// How many persons are on the job.
    CrewPersons: 1.0 ..= 200.0, true;
    /// A share of a price or of an amount of timber: 0.1 is 10 %.
    PriceShare: 0.0 ..= 1.0, false;
    /// How many states a search may visit.
    SearchStates: 1_000.0 ..= 2_000_000_000.0, true;
}
