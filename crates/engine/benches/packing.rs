//! The planner on the instances of `tests/reference/packing_lifts`: one line of JSON for each, with the time it took, and at the
//! end what the whole run took. `tests/reference/packing_lifts/beside_solver.sh` sets the solver's times beside these.

#![allow(
    clippy::expect_used,
    clippy::print_stdout,
    dead_code,
    missing_docs,
    reason = "a bench stops at what it does not expect, prints what it measured, and uses a part of what tests share"
)]

#[path = "../tests/support/instances.rs"]
mod instances;

use instances::{Instance, instances};
use serde_json::json;
use std::time::Instant;

/// Full effort: the most states that a request may ask for.
const STATES: u64 = 200_000_000;
/// Each instance is planned so often; the middle time counts.
const REPEAT: usize = 5;

fn main() {
    let wanted: Vec<String> = std::env::args().skip(1).filter(|argument| !argument.starts_with('-')).collect();
    let chosen = |instance: &Instance| wanted.is_empty() || wanted.contains(&instance.name);
    let mut times = Vec::new();
    for instance in instances().iter().filter(|instance| chosen(instance)) {
        let mut runs: Vec<f64> = Vec::new();
        let mut plan = None;
        for _ in 0..REPEAT {
            let start = Instant::now();
            plan = Some(instance.plan(STATES));
            runs.push(start.elapsed().as_secs_f64() * 1e3);
            if runs.iter().sum::<f64>() > 2_000.0 {
                break;
            }
        }
        runs.sort_by(f64::total_cmp);
        let middle = runs.get(runs.len() / 2).copied().unwrap_or(0.0);
        times.push(middle);
        let plan = plan.expect("planned at least once");
        let line = json!({"name": instance.name, "class": instance.class, "ms": middle, "outcome": plan.outcome, "cycles": plan.cycles, "pieces_handled": plan.pieces_handled, "why": plan.why, "reason": plan.reason});
        println!("{line}");
    }
    times.sort_by(f64::total_cmp);
    let at = |share: usize| times.get((times.len().saturating_sub(1)) * share / 100).copied().unwrap_or(0.0);
    let line = json!({"instances": times.len(), "median_ms": at(50), "ms_95": at(95), "greatest_ms": at(100), "peak_mib": peak_mib()});
    println!("{line}");
}

/// The most memory that this process ever held, in MiB.
fn peak_mib() -> Option<f64> {
    let status = std::fs::read_to_string("/proc/self/status").ok()?;
    let line = status.lines().find(|line| line.starts_with("VmHWM:"))?;
    let kib: f64 = line.split_whitespace().nth(1)?.parse().ok()?;
    Some(kib / 1024.0)
}
