//! What is sent to each calculation, and how it becomes an engine input.

mod case;
mod circuit;
mod context;
mod sections;
mod set;
mod settings;
mod wire;
mod words;

pub use context::{Context, Yard};
pub use sections::{Section, Sections};
pub use wire::{
    AssessCircuitRequest, CentreSent, CircuitSent, LoadCaseSent, MOST_PIECES, MOST_POINTS, OilSent, PadSent, PieceIds,
    PlanLiftRequest, PointSent, Points, RamSetSent, RamsAtPointSent, RamsAtPoints, RamsEverywhereSent, SequenceRequest,
    SettingsSent, ShareLoadRequest, SizeRequest, StatedReactionSent, VerifyRequest,
};

pub use words::{BaseWord, DataOrigin, HeadWord, PackingLiftsWord, SharingWord, StrokeUse};

pub(crate) use case::parse_case;
pub(crate) use circuit::parse_circuit;
pub(crate) use set::{known_pieces, parse_set, single_model};
pub(crate) use settings::{parse_effort, parse_settings};
