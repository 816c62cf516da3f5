//! The request types as they come over the wire.

use super::case_wire::{LoadCaseSent, MOST_POINTS};
use super::line_wire::LineOfForceSent;
use super::papers_wire::PapersSent;
use super::price_wire::PriceSent;
use super::search_wire::{OnHire, SearchSent, SupplySent};
use super::sequence_wire::SequenceSent;
use super::site_wire::{SiteGaugeSent, SiteReadingList};
use super::words::{FlowDivisionWord, OilGrade, PackingLiftsWord, StrokeUse};
use crate::catalogue::InlineCatalogue;
use crate::catalogue::Words;
use crate::read::List;
use crate::sent::{
    BulkModulus, CrewCount, DensityOfOil, FittingsCoefficient, Gap, HandlingTime, HeavierFactor, HeldDifference, Name,
    OilTemperature, PressureOrZero, PumpEfficiency, PumpFlow, RamsAtPoint, RamsTried, SafetyFactor, SearchStates,
    SplitError, Travel, UnitCount, Viscosity, WorkingLimit,
};
use crate::wire_struct;
use ramwright_units::Profile;

/// Ids of packing pieces.
pub type PieceIds = List<Name, 0, MOST_PIECES>;
/// The greatest number of kinds of packing piece that a request may choose.
pub const MOST_PIECES: usize = 64;
/// The rams at each point.
pub type RamsAtPoints = List<RamsAtPointSent, 1, MOST_POINTS>;

wire_struct! {
    /// Limits, gaps and methods; each has a default, which the answer lists.
    SettingsSent {
        /// Part of a ram's capacity that may be used; 0.8 by default.
        capacity_limit: Option<WorkingLimit>,
        /// Part of a ram's stroke that may be used; 0.8 by default.
        stroke_limit: Option<WorkingLimit>,
        /// Whether the stroke limit holds; `limited` by default.
        stroke_use: Option<StrokeUse>,
        /// Total thickness of head plate and base plate; none by default.
        plates: Option<Gap>,
        /// Gap needed to slide a ram in.
        entry_gap: Option<Gap>,
        /// Gap needed to slide a packing piece in.
        packing_gap: Option<Gap>,
        /// Greatest gap between the load and its next mechanical support.
        follow_up_gap: Option<Gap>,
        /// By how much the final height may exceed the wanted one.
        over_jack_allowance: Option<Gap>,
        /// By how much points that go up together may differ in height from what is planned.
        level_tolerance: Option<Gap>,
        /// How long the work takes, for the estimate of a sequence.
        handling: Option<HandlingSent>,
        /// Clear distance between rams side by side.
        side_by_side_spacing: Option<Gap>,
        /// Factor on the elastic critical load of the extended ram; 3.5 by default.
        stability_factor: Option<SafetyFactor>,
        /// By which factor the load is heavier in the scenario `load_heavier`; 1.1 by default.
        heavier_factor: Option<HeavierFactor>,
        /// Whether the lift may be done in packing lifts; allowed by default.
        packing_lifts: Option<PackingLiftsWord>,
        /// Ids of the packing pieces that are on site; all of the catalogue by default.
        packing: Option<PieceIds>,
        /// Greatest number of rams side by side that a search tries; 4 by default.
        rams_per_point: Option<RamsTried>,
        /// States that a search may visit.
        search_states: Option<SearchStates>,
    }
}

wire_struct! {
    /// How long the work of packing takes; each has a default.
    HandlingSent {
        /// To place or take out one piece.
        per_piece: Option<HandlingTime>,
        /// To set a ram, or to move it over.
        per_ram: Option<HandlingTime>,
        /// For the prove lift: preload, hold, readings.
        prove_lift: Option<HandlingTime>,
        /// At each hold point, until the next step is released.
        per_hold_point: Option<HandlingTime>,
        /// Crews that work at the same time; 1 by default.
        crews: Option<CrewCount>,
        /// Flow of all pumps together under load; without it the time of the pumps is left out.
        pump_flow: Option<PumpFlow>,
    }
}

wire_struct! {
    /// One model and one number at every point.
    RamsEverywhereSent {
        /// The ram's id.
        ram: Name,
        /// How many side by side; 1 by default.
        count: Option<RamsAtPoint>,
    }
}

wire_struct! {
    /// The rams at one point.
    RamsAtPointSent {
        /// The point's id.
        point: Name,
        /// The ram's id.
        ram: Name,
        /// How many side by side; 1 by default.
        count: Option<RamsAtPoint>,
    }
}

wire_struct! {
    /// A proposed ram set: either `everywhere` or `at_points`.
    RamSetSent {
        /// The same at every point.
        everywhere: Option<RamsEverywhereSent>,
        /// Point by point, each point once.
        at_points: Option<RamsAtPoints>,
    }
}

wire_struct! {
    /// The oil, by its grade or by two viscosities; mineral oil of ISO VG 32 at 20 degC by default.
    OilSent {
        /// Grade of ISO 3448, for an oil of usual viscosity index; instead of both viscosities.
        grade: Option<OilGrade>,
        /// Kinematic viscosity at 40 degC.
        viscosity_40: Option<Viscosity>,
        /// Kinematic viscosity at 100 degC.
        viscosity_100: Option<Viscosity>,
        /// Temperature.
        temperature: OilTemperature,
        /// The coldest that it may be; the worse of both counts.
        coldest: Option<OilTemperature>,
        /// Density in kg/m3; 870 by default.
        density_kg_per_m3: Option<DensityOfOil>,
        /// Bulk modulus; 1.4 GPa by default for how much oil is needed, 2.0 GPa for oil that is shut in.
        bulk_modulus: Option<BulkModulus>,
    }
}

wire_struct! {
    /// How the flow is divided over the points.
    FlowDivisionSent {
        /// By what.
        kind: FlowDivisionWord,
        /// With `split_flow`: how far the flow of a point may be off the mean.
        error: Option<SplitError>,
        /// With `split_flow`: the rise after which all points are levelled again; the whole raise by default.
        levelled_every: Option<Travel>,
        /// With `valve_per_point`: within which height difference the points are held.
        held_within: Option<HeldDifference>,
    }
}

wire_struct! {
    /// Pumps, hoses and oil.
    CircuitSent {
        /// The pump's id.
        pump: Name,
        /// How many pumps feed the rams together; 1 by default.
        pumps: Option<UnitCount>,
        /// The hose's id; without it the losses are not checked.
        hose: Option<Name>,
        /// How many hoses are joined end to end to each ram; 1 by default.
        hoses_in_series: Option<UnitCount>,
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

wire_struct! {
    /// A load case whose shares are asked for.
    ShareLoadRequest {
        /// A title for people.
        title: Option<Words>,
        /// Units of the answer; `metric` by default.
        units: Option<Profile>,
        /// What is to be moved.
        load_case: LoadCaseSent,
    }
}

wire_struct! {
    /// A load case for which ram sets are sought.
    SizeRequest {
        /// A title for people.
        title: Option<Words>,
        /// Units of the answer; `metric` by default.
        units: Option<Profile>,
        /// The catalogue's name; `demo_yard` by default unless entries are sent inline.
        catalogue: Option<Name>,
        /// Entries sent with the request.
        inline: Option<InlineCatalogue>,
        /// Rams of the catalogue that are out on hire, and so not in stock.
        on_hire: Option<OnHire>,
        /// What is to be moved.
        load_case: LoadCaseSent,
        /// What stands over and under the rams; what is left out is not checked.
        line_of_force: Option<LineOfForceSent>,
        /// Which sets are searched for, and how they are ranked.
        search: Option<SearchSent>,
        /// From what the circuit is chosen.
        supply: Option<SupplySent>,
        /// Limits, gaps and methods.
        settings: Option<SettingsSent>,
        /// By which terms the job is priced; each has a default, which the answer lists.
        price: Option<PriceSent>,
    }
}

wire_struct! {
    /// A load case and a ram set that is proposed for it.
    VerifyRequest {
        /// A title for people.
        title: Option<Words>,
        /// What calculation and site sheet say of themselves.
        papers: Option<PapersSent>,
        /// Units of the answer; `metric` by default.
        units: Option<Profile>,
        /// The catalogue's name; `demo_yard` by default unless entries are sent inline.
        catalogue: Option<Name>,
        /// Entries sent with the request.
        inline: Option<InlineCatalogue>,
        /// Rams of the catalogue that are out on hire, and so not in stock.
        on_hire: Option<OnHire>,
        /// What is to be moved.
        load_case: LoadCaseSent,
        /// The rams.
        ram_set: RamSetSent,
        /// What stands over and under the rams; what is left out is not checked.
        line_of_force: Option<LineOfForceSent>,
        /// Limits, gaps and methods.
        settings: Option<SettingsSent>,
        /// What the crew read on site, held against the sequence that this request gives.
        site_readings: Option<SiteReadingList>,
        /// With what pressures were read on site.
        site_gauge: Option<SiteGaugeSent>,
    }
}

wire_struct! {
    /// A load case and the rams that move it, of one model.
    SequenceRequest {
        /// A title for people.
        title: Option<Words>,
        /// Units of the answer; `metric` by default.
        units: Option<Profile>,
        /// The catalogue's name; `demo_yard` by default unless entries are sent inline.
        catalogue: Option<Name>,
        /// Entries sent with the request.
        inline: Option<InlineCatalogue>,
        /// What is to be raised, or let down.
        load_case: LoadCaseSent,
        /// The rams.
        ram_set: RamSetSent,
        /// Which way the load goes, and how; up and all points together by default.
        sequence: Option<SequenceSent>,
        /// What stands over and under the rams; the strength of stacks is then minded in the sequence.
        line_of_force: Option<LineOfForceSent>,
        /// Limits, gaps and methods.
        settings: Option<SettingsSent>,
    }
}

wire_struct! {
    /// A load case, the rams of one model that move it, and the circuit that feeds them.
    AssessCircuitRequest {
        /// A title for people.
        title: Option<Words>,
        /// Units of the answer; `metric` by default.
        units: Option<Profile>,
        /// The catalogue's name; `demo_yard` by default unless entries are sent inline.
        catalogue: Option<Name>,
        /// Entries sent with the request.
        inline: Option<InlineCatalogue>,
        /// What is to be moved.
        load_case: LoadCaseSent,
        /// The rams.
        ram_set: RamSetSent,
        /// Pumps, hoses and oil.
        circuit: CircuitSent,
        /// Limits, gaps and methods.
        settings: Option<SettingsSent>,
    }
}

wire_struct! {
    /// The whole job in one.
    PlanLiftRequest {
        /// A title for people.
        title: Option<Words>,
        /// What calculation and site sheet say of themselves.
        papers: Option<PapersSent>,
        /// Units of the answer; `metric` by default.
        units: Option<Profile>,
        /// The catalogue's name; `demo_yard` by default unless entries are sent inline.
        catalogue: Option<Name>,
        /// Entries sent with the request.
        inline: Option<InlineCatalogue>,
        /// Rams of the catalogue that are out on hire, and so not in stock.
        on_hire: Option<OnHire>,
        /// What is to be moved.
        load_case: LoadCaseSent,
        /// The rams to be used; without them the recommended set is.
        ram_set: Option<RamSetSent>,
        /// What stands over and under the rams; what is left out is not checked.
        line_of_force: Option<LineOfForceSent>,
        /// Pumps, hoses and oil; without them they are chosen out of the catalogue.
        circuit: Option<CircuitSent>,
        /// Which sets are searched for, and how they are ranked.
        search: Option<SearchSent>,
        /// From what the circuit is chosen where `circuit` states none.
        supply: Option<SupplySent>,
        /// Limits, gaps and methods.
        settings: Option<SettingsSent>,
        /// By which terms the job is priced; each has a default, which the answer lists.
        price: Option<PriceSent>,
        /// What the crew read on site, of the rams that `ram_set` names, held against the sequence that this request gives.
        site_readings: Option<SiteReadingList>,
        /// With what pressures were read on site.
        site_gauge: Option<SiteGaugeSent>,
    }
}
