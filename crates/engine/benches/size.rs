//! The search over yards of many rams, beside a plain enumeration of the same yards in the same run.
//!
//! One line of JSON for each job. Every ram of these yards is invented by a counter.

#![allow(
    clippy::expect_used,
    clippy::print_stdout,
    clippy::disallowed_methods,
    missing_docs,
    reason = "a bench stops at what it does not expect, reads the clock and prints what it measured"
)]

#[path = "../tests/support/mod.rs"]
mod support;

use ramwright_engine::Effort;
use ramwright_engine::check::Phase;
use ramwright_engine::load::{Actions, Horizontal, LoadCase, PhasePlan, Sharing, share_load};
use ramwright_engine::ram::{Action, Ram};
use ramwright_engine::size::{SearchTerms, SizeInput, size_ram_set};
use ramwright_units::{Angle, Length, PieceMass, Range};
use serde_json::json;
use std::sync::Arc;
use std::sync::atomic::AtomicBool;
use std::time::Instant;

/// The quickest of so many runs counts: other work on the machine only makes them slower.
const TRIES: u32 = 5;

static NEVER: AtomicBool = AtomicBool::new(false);

/// Numbers between zero and one, always the same.
struct Counter(u64);

impl Counter {
    fn next(&mut self) -> f64 {
        self.0 = self.0.wrapping_mul(6_364_136_223_846_793_005).wrapping_add(1_442_695_040_888_963_407);
        f64::from(u32::try_from(self.0 >> 33).unwrap_or(0)) / f64::from(1_u32 << 31)
    }
}

/// Rams from 50 to 3000 kN, no two alike.
fn rams(count: u32) -> Vec<Arc<Ram>> {
    let mut counter = Counter(7);
    (0..count)
        .map(|index| {
            let area = 7.0 * libm::exp(counter.next() * 4.1);
            let stroke = 20.0 + 300.0 * counter.next() * counter.next();
            let closed = 60.0 + 0.4 * area.sqrt() * 10.0 + stroke * (1.0 + 0.3 * counter.next());
            let ram = support::yard::ram(&format!("r{index:05}"), area, stroke, closed);
            let action = if counter.next() < 0.5 { Action::DoubleActing } else { Action::SingleActingSpringReturn };
            Arc::new(Ram {
                action,
                stock: Some(60),
                saddle_tilt_limit: Some(Angle::from_deg(4.0)),
                lock_collar: counter.next() < 0.25,
                mass: Some(PieceMass::from_kg(area * closed * 0.0022 * (0.8 + 0.4 * counter.next()))),
                day_rate: Some(5.0 + area * 0.2 * (0.7 + 0.6 * counter.next())),
                ..ram
            })
        })
        .collect()
}

/// One point whose share is stated; or points on two lines, one line linked and the other in two halves, so that statics
/// say what each carries: about 480 kN.
fn case(points: u32, travel_mm: f64) -> LoadCase {
    let count = usize::try_from(points).expect("few points");
    let places: Vec<(f64, f64)> =
        (0..points).map(|index| (f64::from(index / 2) * 1.6, f64::from(index % 2) * 2.3)).collect();
    let middle = (f64::from(points.max(2) / 2 - 1) * 0.8 + 0.02, 1.17);
    let mut case = support::placed(support::kn(480.0 * f64::from(points)), &places, middle);
    case.travel = Length::from_mm(travel_mm);
    if points == 1 {
        case.sharing = Sharing::Stated(vec![Range::new(support::kn(460.0), support::kn(480.0), support::kn(500.0))]);
        return case;
    }
    support::set_tolerance(&mut case, Length::from_mm(30.0));
    case.actions = Actions::only(Horizontal::ShareOfWeight(0.025));
    let (near, far): (Vec<usize>, Vec<usize>) = (0..count).partition(|index| index % 2 == 0);
    let (left, right) = far.split_at(far.len() / 2);
    let linked = vec![near, left.to_vec(), right.to_vec()];
    let linked = linked.into_iter().filter(|group| 1 < group.len()).collect();
    support::plan_of(&mut case).phases = vec![PhasePlan { linked, ..PhasePlan::independent(Phase::Raising, count) }];
    case
}

fn input(rams: &[Arc<Ram>], points: u32, travel_mm: f64) -> SizeInput {
    let count = usize::try_from(points).expect("few points");
    let mut line = support::line::line(count);
    if let Some(restraint) = &mut line.restraint {
        restraint.capacity = Some(support::kn(400.0));
    }
    SizeInput {
        case: case(points, travel_mm),
        line,
        settings: support::settings(),
        rams: rams.to_vec(),
        search: SearchTerms { options: 10, ..support::every_set() },
        supply: None,
        price: ramwright_engine::defaults::PRICE_TERMS,
        packing: support::yard::pieces(),
        currency: "EUR".into(),
    }
}

fn main() {
    let effort = Effort { states: 2_000_000, stop: &NEVER };
    let only = std::env::var("ONLY").ok();
    for (travel, sizes) in [(20.0, [60, 1_000, 20_000]), (300.0, [60, 300, 1_000])] {
        for rams_in_yard in sizes {
            let yard = rams(rams_in_yard);
            for points in [1, 4, 12] {
                if only.as_ref().is_some_and(|o| *o != format!("{travel}-{rams_in_yard}-{points}")) {
                    continue;
                }
                let input = input(&yard, points, travel);
                let start = Instant::now();
                let shares = share_load(&input.case).expect("stands");
                let sharing = start.elapsed();
                let mut searched = std::time::Duration::MAX;
                let mut sizing = size_ram_set(&input, effort).expect("stands");
                for _ in 0..TRIES {
                    let start = Instant::now();
                    sizing = size_ram_set(&input, effort).expect("stands");
                    searched = searched.min(start.elapsed());
                }
                let line = json!({
                    "travel_mm": travel, "rams": rams_in_yard, "points": points,
                    "shares_ms": sharing.as_secs_f64() * 1e3, "search_ms": searched.as_secs_f64() * 1e3,
                    "options": sizing.options.len(), "found": sizing.found, "passed_over": sizing.passed_over, "pareto": sizing.options.iter().filter(|o| o.pareto).count(), "refused": sizing.models_refused, "verdict": sizing.options.first().map(|o| o.verdict.status),
                    "refusals": sizing.refusals.iter().map(|r| (r.check, r.models)).collect::<Vec<_>>(), "bad": sizing.options.first().map(|o| o.checks.iter().filter(|c| c.status > ramwright_engine::check::Status::Caution).cloned().collect::<Vec<_>>()), "share": shares.points.first().map(|p| p.share.greatest.kn()),
                });
                println!("{line}");
                if searched.as_secs_f64() > 20.0 {
                    return;
                }
            }
        }
    }
}
