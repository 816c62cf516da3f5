//! What a search is asked, as it is sent.

use super::price_wire::MoneySent;
use super::wire::{FlowDivisionSent, OilSent};
use crate::read::List;
use crate::sent::{
    FittingsCoefficient, LengthOfHose, MassOfPiece, Name, OnHireCount, OptionsListed, PressureOrZero, PumpEfficiency,
    RamsInAll,
};
use crate::wire_struct;
use crate::wire_words;
use ramwright_engine::size::{Assignment, Objective};

wire_words!(Assignment: "uniform", "by_point", "mixed");
wire_words!(Objective: "rams", "packing_lifts", "cost", "mass", "utilisation", "time");

/// By what sets are compared, each once.
pub type Objectives = List<Objective, 1, 6>;
/// Rams that are out on hire.
pub type OnHire = List<OnHireSent, 0, MOST_ON_HIRE>;
/// The greatest number of models that a request may state as being out on hire.
pub const MOST_ON_HIRE: usize = 1000;

wire_struct! {
    /// Rams of the catalogue that are not in the yard.
    OnHireSent {
        /// The ram's id.
        ram: Name,
        /// How many are out.
        count: OnHireCount,
    }
}

wire_struct! {
    /// What a set may not exceed; what is left out is not limited.
    BudgetSent {
        /// Greatest number of rams in all.
        rams: Option<RamsInAll>,
        /// Greatest mass of one ram, such as people may carry.
        ram_mass: Option<MassOfPiece>,
        /// Greatest hire of rams, pumps and hoses for the hire period.
        hire: Option<MoneySent>,
    }
}

wire_struct! {
    /// Which sets are searched for, and how they are ranked.
    SearchSent {
        /// Which sets come into question: the same model and number at every point by default.
        assignment: Option<Assignment>,
        /// By what they are compared, the most important first: `rams`, `packing_lifts`, `cost`, `mass` by default.
        objectives: Option<Objectives>,
        /// How many options are listed, beside those that no other beats; 10 by default.
        options: Option<OptionsListed>,
        /// What a set may not exceed.
        budget: Option<BudgetSent>,
    }
}

wire_struct! {
    /// From what the circuit of a set is chosen: the pumps and hoses of the catalogue, and what is said here.
    SupplySent {
        /// How far the farthest ram is from the pumps, along the hoses; 10 m by default.
        hose_run: Option<LengthOfHose>,
        /// The oil.
        oil: Option<OilSent>,
        /// Sum of the loss coefficients of couplers, valves and bends in the run to one ram; 5 for each coupler pair by default.
        fittings_k: Option<FittingsCoefficient>,
        /// Pressure against which oil flows back into the pump; none by default.
        back_pressure: Option<PressureOrZero>,
        /// How the flow is divided over the points; without it `level_control` is not checked.
        flow_division: Option<FlowDivisionSent>,
        /// Power given to the oil over power taken from the motor; 0.75 by default.
        pump_efficiency: Option<PumpEfficiency>,
    }
}
