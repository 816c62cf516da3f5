//! How the cost of load shares grows with the number of points.
//!
//! Ratios within one run are what counts; `tests/reference/load_shares/beside_scipy.sh` runs the same cases by scipy.

#![allow(
    clippy::expect_used,
    missing_docs,
    reason = "a bench stops at what it does not expect, and has no readers of its own"
)]

use criterion::{BenchmarkId, Criterion, Throughput, criterion_group, criterion_main};
use ramwright_engine::load::{LoadCase, LoadShares, Method, envelope_alone, share_load};
use std::hint::black_box;
use std::time::Duration;

#[path = "load/plans.rs"]
mod plans;
#[path = "load/written.rs"]
mod written;

/// Numbers of points.
const COUNTS: [u32; 4] = [4, 12, 50, 200];
/// Numbers of points of the search with lift-off that scipy also makes.
const FEW: [u32; 1] = [8];

fn group(
    criterion: &mut Criterion,
    name: &str,
    counts: &[u32],
    case: impl Fn(u32) -> LoadCase,
    work: impl Fn(&LoadCase),
) {
    let mut group = criterion.benchmark_group(name);
    group.sample_size(10).warm_up_time(Duration::from_millis(300)).measurement_time(Duration::from_secs(2));
    for &count in counts {
        let case = case(count);
        group.throughput(Throughput::Elements(u64::from(count)));
        group.bench_with_input(BenchmarkId::from_parameter(count), &case, |bencher, case| bencher.iter(|| work(case)));
    }
    group.finish();
}

/// Writes the cases that another program is to solve into the folder that `LOAD_CASES` names, if it names one.
fn write_cases() {
    let Some(folder) = std::env::var_os("LOAD_CASES").map(std::path::PathBuf::from) else { return };
    let solved = |counts: &[u32], case: fn(u32) -> LoadCase| -> Vec<(LoadCase, LoadShares)> {
        let cases = counts.iter().map(|count| case(*count));
        cases.filter_map(|case| envelope_alone(&case).ok().map(|shares| (case, shares))).collect()
    };
    let files = [
        ("elastic", solved(&COUNTS, plans::one_combination)),
        ("equilibrium", solved(&COUNTS, plans::any_equilibrium)),
        // A search over every way to lift off takes long elsewhere.
        ("envelope", solved(&[4, FEW[0]], plans::lifting_off)),
    ];
    for (kind, cases) in files {
        let path = folder.join(kind).with_extension("json");
        std::fs::write(&path, written::file(kind, &cases).to_string()).expect("the folder can be written");
    }
}

fn load(criterion: &mut Criterion) {
    write_cases();
    let alone = |case: &LoadCase| {
        black_box(envelope_alone(black_box(case)).is_ok_and(|shares| shares.method != Method::Equal));
    };
    let whole = |case: &LoadCase| {
        black_box(share_load(black_box(case)).is_ok_and(|shares| shares.method != Method::Equal));
    };
    group(criterion, "load/envelope in contact", &COUNTS, plans::in_contact, alone);
    group(criterion, "load/envelope with lift-off", &[FEW.as_slice(), &COUNTS].concat(), plans::lifting_off, alone);
    group(criterion, "load/any equilibrium", &COUNTS, plans::any_equilibrium, alone);
    group(criterion, "load/one combination", &COUNTS, plans::one_combination, alone);
    group(criterion, "load/whole answer in contact", &COUNTS, plans::in_contact, whole);
    group(criterion, "load/whole answer any equilibrium", &COUNTS, plans::any_equilibrium, whole);
}

criterion_group!(benches, load);
criterion_main!(benches);
