//! What is sent to each calculation, and how it becomes an engine input.

mod case;
mod circuit;
mod context;
mod sections;
mod set;
mod settings;
mod wire;

pub use context::{Context, Yard};
pub use sections::{Section, Sections};
pub use wire::{
    AssessCircuitRequest, BaseWord, CentreSent, CircuitSent, DataOrigin, HeadWord, LoadCaseSent, MOST_PIECES,
    MOST_POINTS, OilSent, PackingLiftsWord, PadSent, PieceIds, PlanLiftRequest, PointSent, Points, RamSetSent,
    RamsAtPointSent, RamsAtPoints, RamsEverywhereSent, SequenceRequest, SettingsSent, ShareLoadRequest, SharingWord,
    SizeRequest, StatedReactionSent, StrokeUse, VerifyRequest,
};

pub(crate) use case::parse_case;
pub(crate) use circuit::parse_circuit;
pub(crate) use set::{known_pieces, parse_set, single_model};
pub(crate) use settings::{parse_effort, parse_settings};
