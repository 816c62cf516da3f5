//! The search under attack: yards full of near ties and gaps, scant effort, circuits that are not known, hostile numbers.
//!
//! No source is needed: every set is verified by itself, and what the search says is held against all of them.

#![allow(
    clippy::unwrap_used,
    clippy::expect_used,
    clippy::panic,
    clippy::indexing_slicing,
    reason = "tests stop at what they do not expect"
)]

mod beside;
mod circuits;
mod hostile;
mod misses;
mod sets;
#[path = "../support/mod.rs"]
mod support;
mod yards;
