//! What goes with a result: what was asked, what was assumed, and what identifies it.

use ramwright_engine::remark::{Assumption, Caution};
use serde_json::Value;

/// An answer without its result.
#[derive(Clone, Copy, Debug)]
pub struct Envelope<'a> {
    /// The calculation.
    pub operation: &'a str,
    /// Version of the engine.
    pub engine_version: &'a str,
    /// Name of the profile of default values.
    pub defaults: &'a str,
    /// Name and digest of the catalogue, where one is used.
    pub catalogue: Option<(&'a str, &'a str)>,
    /// The request as it was understood.
    pub request: &'a Value,
    /// SHA-256 of the request.
    pub request_digest: &'a str,
    /// SHA-256 of the result.
    pub result_digest: &'a str,
    /// Address that computes this again.
    pub permalink: Option<&'a str>,
    /// Values that were assumed.
    pub assumptions: &'a [Assumption],
    /// What a reader must know.
    pub cautions: &'a [Caution],
}

impl Envelope<'_> {
    /// What the user says of the job, a text of the request.
    pub(crate) fn said(&self, name: &str) -> Option<&str> {
        self.request.pointer(name)?.as_str()
    }
}
