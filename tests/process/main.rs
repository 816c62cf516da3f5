//! Tests that start the program `ramwright` as a process of its own.

#![expect(
    clippy::expect_used,
    clippy::panic,
    clippy::unwrap_used,
    reason = "what tests share may panic as they may; the lints know functions with #[test] only"
)]

mod command_line;
mod demo;
mod reload;
mod replay;
mod signals;
mod support;
