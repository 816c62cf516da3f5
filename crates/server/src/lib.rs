//! The Ramwright service: HTTP around the lifting engine.
//!
//! [`spawn`] starts it in the background on a free port; [`Server`] is the same for a program of its own.

pub mod catalogues;
pub mod cli;
pub mod config;
pub mod demo;
pub mod healthcheck;
pub mod logging;
pub mod replay;
pub mod signals;

mod audit;
mod batch;
mod body;
mod cell;
mod connection;
mod format;
mod formula;
mod handlers;
pub mod keys;
mod metrics;
mod middleware;
mod openapi;
mod parameters;
mod pool;
mod problem;
mod router;
mod self_test;
mod sent_table;
mod serve;
mod spans;
mod state;
mod unread;
mod validate_only;
mod view;

pub use config::Config;
pub use openapi::{description_3_0, description_3_1};
pub use serve::{Reloader, Running, Server, StartError, spawn};

/// Bytes as lower-case hexadecimal digits.
fn hex(bytes: &[u8]) -> String {
    use std::fmt::Write;
    bytes.iter().fold(String::new(), |mut text, byte| {
        // Writing to a string cannot fail.
        let _ = write!(text, "{byte:02x}");
        text
    })
}
