//! What is sent to each calculation, and how it becomes an engine input.

mod case;
mod case_wire;
mod circuit;
mod context;
mod force_wire;
mod line;
mod line_wire;
mod oil;
mod papers_wire;
mod price;
mod price_wire;
mod search;
mod search_wire;
mod sections;
mod sequence;
mod sequence_wire;
mod set;
mod settings;
mod site;
mod site_wire;
mod wire;
mod words;

pub use case_wire::{
    CentreSent, GirderLoadSent, GirderLoads, GirderSectionSent, GirderSections, GirderSent, HoseSwellingSent,
    LoadCaseSent, MOST_PARTS, MOST_PHASES, MOST_POINTS, MOST_STRETCHES, OilColumnSent, OwnBearingSent, OwnBearings,
    PadSent, PartSent, Parts, PhaseSent, Phases, PointGroups, PointIds, PointSent, Points, ReadingSent, SlopeSent,
    SpringsSent, StatedReactionSent, WindSent,
};
pub use context::{Context, Yard};
pub use force_wire::{
    AirBendingSent, BentSectionSent, EstimatedReactionSent, FrictionSent, InterferenceFitSent, InterferenceSent,
    StraighteningSent, StrengthRangeSent,
};
pub use line_wire::{
    AllowableSent, DesignBasisSent, FoundationSent, GroundSent, LineEverywhereSent, LineOfForceSent, PlateSent,
    PointLineSent, PointLines, RestraintSent, SoffitSent,
};
pub use papers_wire::PapersSent;
pub use price_wire::{CrewPriceSent, MoneySent, PriceSent, StandbyPriceSent, TimberPriceSent};
pub use search_wire::{BudgetSent, MOST_ON_HIRE, Objectives, OnHire, OnHireSent, SearchSent, SupplySent};
pub use sections::{Section, Sections};
pub use sequence_wire::{EndByEndSent, Ends, MOST_KINDS_IN_A_STACK, SequenceSent, StackPieceSent, StackPieces};
pub use site_wire::{MOST_SITE_READINGS, SiteGaugeSent, SiteReadingList, SiteReadingSent};
pub use wire::{
    AssessCircuitRequest, CircuitSent, FlowDivisionSent, HandlingSent, MOST_PIECES, OilSent, PieceIds, PlanLiftRequest,
    RamSetSent, RamsAtPointSent, RamsAtPoints, RamsEverywhereSent, SequenceRequest, SettingsSent, ShareLoadRequest,
    SizeRequest, VerifyRequest,
};

pub use words::{
    AxisWord, BaseWord, DataOrigin, DesignRules, FlowDivisionWord, FoundationWord, HandlingWord, HeadWord,
    HoldingValveWord, InterferenceWord, OilGrade, PackingLiftsWord, PhaseWord, RestraintWord, ReturnLineWord,
    SharingWord, SoffitWord, StrokeUse, WayWord,
};

pub(crate) use case::parse_case;
pub(crate) use circuit::parse_circuit;
pub(crate) use line::{parse_line, plates_of};
pub(crate) use price::parse_price;
pub(crate) use search::{parse_search, parse_supply};
pub(crate) use sequence::parse_sequence;
pub(crate) use set::{known_pieces, parse_set, single_model};
pub(crate) use settings::{parse_effort, parse_settings};
pub(crate) use site::parse_site;
