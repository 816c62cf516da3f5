//! How the cost of load shares grows with the number of points.
//!
//! Ratios within one run are what counts; `tests/reference/load_shares/beside_scipy.sh` runs the same cases by scipy.

use criterion::{BenchmarkId, Criterion, Throughput, criterion_group, criterion_main};
use ramwright_engine::load::{LoadCase, Method, envelope_alone, share_load};
use std::hint::black_box;
use std::time::Duration;

#[path = "load/plans.rs"]
mod plans;

/// Numbers of points.
const COUNTS: [u32; 4] = [4, 12, 50, 200];

fn group(criterion: &mut Criterion, name: &str, case: impl Fn(u32) -> LoadCase, work: impl Fn(&LoadCase)) {
    let mut group = criterion.benchmark_group(name);
    group.sample_size(10).warm_up_time(Duration::from_millis(300)).measurement_time(Duration::from_secs(2));
    for count in COUNTS {
        let case = case(count);
        group.throughput(Throughput::Elements(u64::from(count)));
        group.bench_with_input(BenchmarkId::from_parameter(count), &case, |bencher, case| bencher.iter(|| work(case)));
    }
    group.finish();
}

fn load(criterion: &mut Criterion) {
    let alone = |case: &LoadCase| {
        black_box(envelope_alone(black_box(case)).is_ok_and(|shares| shares.method != Method::Equal));
    };
    let whole = |case: &LoadCase| {
        black_box(share_load(black_box(case)).is_ok_and(|shares| shares.method != Method::Equal));
    };
    group(criterion, "load/envelope in contact", plans::in_contact, alone);
    group(criterion, "load/envelope with lift-off", plans::lifting_off, alone);
    group(criterion, "load/any equilibrium", plans::any_equilibrium, alone);
    group(criterion, "load/whole answer in contact", plans::in_contact, whole);
    group(criterion, "load/whole answer any equilibrium", plans::any_equilibrium, whole);
}

criterion_group!(benches, load);
criterion_main!(benches);
