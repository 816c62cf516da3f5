//! What each point carries: published values, plain statics, brute force and what must hold of every answer.

#![allow(
    clippy::unwrap_used,
    clippy::expect_used,
    clippy::panic,
    clippy::indexing_slicing,
    reason = "tests stop at what they do not expect"
)]

mod load_actions;
mod load_continuity;
mod load_exactness;
mod load_girder;
mod load_inputs;
mod load_losses;
mod load_phases;
mod load_plan;
mod load_properties;
mod load_reference;
mod load_reference_girder;
#[path = "shares.rs"]
mod load_shares;
#[path = "../support/mod.rs"]
mod support;
