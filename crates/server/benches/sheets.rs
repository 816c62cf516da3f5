//! How long the sheets of the transformer take, once the lift is worked out.
//!
//! One line of JSON for each: the quickest of several runs, in milliseconds, and the size of what came out.

#![allow(
    clippy::expect_used,
    clippy::unwrap_used,
    clippy::print_stdout,
    clippy::disallowed_methods,
    missing_docs,
    reason = "a bench stops at what it does not expect, reads the clock and prints what it measured"
)]

#[path = "../../pdf/tests/support/mod.rs"]
mod support;

use ramwright_report::document::{Document, Paper};
use ramwright_report::{calculation, html, site_sheet};
use serde_json::json;
use std::time::Instant;

/// The quickest of so many runs counts: other work on the machine only makes them slower.
const TRIES: u32 = 20;

fn main() {
    support::with_material("transformer", Paper::A4, |material| {
        both("calculation", || calculation(material));
        both("site_sheet", || site_sheet(material));
    });
}

/// The sheet in each format that is built in.
fn both(name: &str, sheet: impl Fn() -> Document) {
    tell(name, "html", || html(&sheet()).text.len());
    #[cfg(feature = "pdf")]
    tell(name, "pdf", || ramwright_pdf::pdf(&sheet()).expect("it can be set").len());
}

fn tell(sheet: &str, format: &str, make: impl Fn() -> usize) {
    let mut times = Vec::new();
    let mut bytes = 0;
    for _ in 0..TRIES {
        let start = Instant::now();
        bytes = make();
        times.push(start.elapsed().as_secs_f64() * 1e3);
    }
    let first = times.first().copied().unwrap_or_default();
    let quickest = times.iter().copied().fold(f64::INFINITY, f64::min);
    println!(
        "{}",
        json!({"sheet": sheet, "format": format, "first_ms": first, "quickest_ms": quickest, "bytes": bytes})
    );
}
