//! The planner on the instances of `tests/reference/packing_lifts`: one line of JSON for each, with the time it took, and at the
//! end what the whole run took. `tests/reference/packing_lifts/beside_solver.sh` sets the solver's times beside these.

#![allow(
    clippy::expect_used,
    clippy::print_stdout,
    clippy::disallowed_methods,
    missing_docs,
    reason = "a bench stops at what it does not expect, reads the clock and prints what it measured"
)]

#[path = "../tests/support/instances.rs"]
mod instances;

use instances::{Instance, Piece, instances};
use ramwright_engine::catalogue::PackingUse;
use serde_json::json;
use std::time::Instant;

/// Full effort: the most states that a request may ask for.
const STATES: u64 = 2_000_000_000;
/// Each instance is planned so often; the middle time counts.
const REPEAT: usize = 5;

/// Jobs of one yard that differ in one thing: how far the load goes, how many pieces there are, of how many kinds.
fn growing() -> Vec<(&'static str, u32, Instance)> {
    const KINDS: [(u32, u32); 8] = [(200, 80), (1000, 12), (100, 6), (50, 6), (400, 4), (30, 4), (150, 4), (20, 4)];
    let job = |travel: u32, times: u32, kinds: usize| Instance {
        name: "growth".into(),
        class: "growth".into(),
        points: 1,
        clearance: 2500,
        packing_clearance: 2500,
        travel,
        allowance: 100,
        closed_height: 2200,
        plates: 0,
        ram_gap: 50,
        usable_stroke: 800,
        packing_gap: 30,
        follow_up_gap: 250,
        lock_collar: false,
        cycles_at_most: 60,
        pieces: KINDS
            .iter()
            .take(kinds)
            .map(|&(thickness, stock)| Piece {
                id: format!("p{thickness}"),
                thickness,
                width: 9000,
                mass: thickness,
                members: 1,
                settlement_least: 0,
                settlement_greatest: 2,
                use_: PackingUse::Either,
                stock: stock * times,
            })
            .collect(),
    };
    let mut jobs = Vec::new();
    for travel in [2000, 4000, 8000, 12_000] {
        jobs.push(("travel", travel, job(travel, 1, 4)));
    }
    for times in [1, 2, 4] {
        jobs.push(("pieces", times, job(4000, times, 4)));
    }
    for kinds in [2, 4, 6, 8] {
        jobs.push(("kinds", kinds, job(4000, 1, usize::try_from(kinds).unwrap_or(0))));
    }
    jobs
}

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
    for (what, value, job) in growing().into_iter().filter(|_| wanted.is_empty()) {
        let start = Instant::now();
        let plan = job.plan(STATES);
        let ms = start.elapsed().as_secs_f64() * 1e3;
        println!(
            "{}",
            json!({"growth": what, "value": value, "ms": ms, "cycles": plan.cycles, "outcome": plan.outcome})
        );
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
