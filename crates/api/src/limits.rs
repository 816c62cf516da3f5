//! Every limit of the service, for `GET /v1/limits`.

use crate::catalogue::{CATALOGUE_BOUNDS, MOST_INLINE};
use crate::digest::LONGEST_PERMALINK;
use crate::quick::rows::MOST_ROWS;
use crate::replay::ANSWER_TO_REQUEST;
use crate::request::{MOST_PARTS, MOST_PHASES, MOST_POINTS, MOST_SITE_READINGS, MOST_STRETCHES};
use crate::sent::{NAME_LENGTH, NUMBER_BOUNDS, QUANTITY_BOUNDS};
use ramwright_engine::defaults;
use serde::{Deserialize, Serialize};
use utoipa::ToSchema;

/// How deep `serde_json` reads: it stops at its 128th level.
const JSON_DEPTH: u64 = 127;

/// Bounds of a quantity that is sent.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, ToSchema)]
pub struct QuantityLimit {
    /// Name of the kind of field, as in the API description.
    pub name: String,
    /// The least value taken.
    pub least: f64,
    /// The greatest value taken.
    pub greatest: f64,
    /// The unit of both; other units are converted.
    pub unit: String,
}

/// Bounds of a plain number that is sent.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, ToSchema)]
pub struct NumberLimit {
    /// Name of the kind of field, as in the API description.
    pub name: String,
    /// The least value taken.
    pub least: f64,
    /// The greatest value taken.
    pub greatest: f64,
}

/// The limits of the service.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, ToSchema)]
pub struct Limits {
    /// Greatest body in bytes.
    pub body_bytes: u64,
    /// Greatest saved answer that is replayed, in bytes; the request in it may be as large as any.
    pub replay_bytes: u64,
    /// Longest permalink in bytes.
    pub permalink_bytes: u64,
    /// Most points of a load case.
    pub points: u64,
    /// Most parts of a load.
    pub parts: u64,
    /// Most phases of a load case.
    pub phases: u64,
    /// Most sections, and most loads, of a girder.
    pub stretches: u64,
    /// Most readings on site.
    pub site_readings: u64,
    /// Most rows of a table of enquiries.
    pub table_rows: u64,
    /// Most entries of each inline list.
    pub inline_entries: u64,
    /// Longest name in characters.
    pub name_characters: u64,
    /// Deepest nesting of a body.
    pub json_depth: u64,
    /// States that a search visits if the request does not say.
    pub search_states: u64,
    /// The same for a packing-lift sequence that is asked for by itself.
    pub sequence_states: u64,
    /// Bounds of quantities.
    pub quantities: Vec<QuantityLimit>,
    /// Bounds of plain numbers.
    pub numbers: Vec<NumberLimit>,
}

/// The limits, with the body limit that the server was started with.
pub fn limits(body_bytes: u64) -> Limits {
    let count = |number: usize| u64::try_from(number).unwrap_or(u64::MAX);
    let quantity = |&(name, least, greatest, unit): &(&str, f64, f64, &str)| QuantityLimit {
        name: name.into(),
        least,
        greatest,
        unit: unit.into(),
    };
    let number = |&(name, least, greatest): &(&str, f64, f64)| NumberLimit { name: name.into(), least, greatest };
    Limits {
        body_bytes,
        replay_bytes: body_bytes.saturating_mul(count(ANSWER_TO_REQUEST)),
        permalink_bytes: count(LONGEST_PERMALINK),
        points: count(MOST_POINTS),
        parts: count(MOST_PARTS),
        phases: count(MOST_PHASES),
        stretches: count(MOST_STRETCHES),
        site_readings: count(MOST_SITE_READINGS),
        table_rows: count(MOST_ROWS),
        inline_entries: count(MOST_INLINE),
        name_characters: count(NAME_LENGTH),
        json_depth: JSON_DEPTH,
        search_states: defaults::SEARCH_STATES,
        sequence_states: defaults::SEQUENCE_STATES,
        quantities: QUANTITY_BOUNDS.iter().chain(CATALOGUE_BOUNDS).map(quantity).collect(),
        numbers: NUMBER_BOUNDS.iter().map(number).collect(),
    }
}
