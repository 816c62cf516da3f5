//! The search over yards of many rams, beside a plain enumeration of the same yards in the same run.
//!
//! One line of JSON for each job: the quickest of several searches, and the time to verify every set of the yard one after
//! the other, measured on a sample. `one stroke` allows no packing lifts; no two rams of a yard are alike, so that with packing
//! lifts none share a plan. Every ram of these yards is invented by a counter.

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
use ramwright_engine::load::{Actions, Horizontal, LoadCase, PhasePlan, Sharing};
use ramwright_engine::ram::{Action, Ram};
use ramwright_engine::settings::{PackingLifts, Settings};
use ramwright_engine::size::{SearchTerms, SizeInput, Sizing, size_ram_set};
use ramwright_engine::verify::{RamSet, VerifyInput, verify_ram_set};
use ramwright_units::{Angle, Length, PieceMass, Range};
use serde_json::json;
use std::sync::Arc;
use std::sync::atomic::AtomicBool;
use std::time::Instant;

/// The quickest of so many runs counts: other work on the machine only makes them slower.
const TRIES: u32 = 5;

/// Sets that enumeration verifies at most.
const SAMPLE: usize = 200;

static NEVER: AtomicBool = AtomicBool::new(false);

const EFFORT: Effort<'static> = Effort { states: 2_000_000, stop: &NEVER };

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

fn input(rams: &[Arc<Ram>], points: u32, travel_mm: f64, packing_lifts: PackingLifts) -> SizeInput {
    let count = usize::try_from(points).expect("few points");
    let mut line = support::line::line(count);
    if let Some(restraint) = &mut line.restraint {
        restraint.capacity = Some(support::kn(400.0));
    }
    SizeInput {
        case: case(points, travel_mm),
        line,
        settings: Settings { packing_lifts, ..support::settings() },
        rams: rams.to_vec(),
        search: SearchTerms { options: 10, ..support::every_set() },
        supply: None,
        price: ramwright_engine::defaults::PRICE_TERMS,
        packing: support::yard::pieces(),
        currency: "EUR".into(),
    }
}

/// What a search took and found.
struct Searched {
    ms: f64,
    sizing: Sizing,
}

fn searched(input: &SizeInput) -> Searched {
    let mut best = Searched { ms: f64::MAX, sizing: size_ram_set(input, EFFORT).expect("stands") };
    for _ in 0..TRIES {
        let start = Instant::now();
        let sizing = size_ram_set(input, EFFORT).expect("stands");
        let ms = start.elapsed().as_secs_f64() * 1e3;
        if ms < best.ms {
            best = Searched { ms, sizing };
        }
    }
    best
}

/// Time to verify every model and number one after the other, in ms: of a sample spread evenly over the yard, in proportion.
fn enumerated_ms(input: &SizeInput) -> f64 {
    let points = input.case.points.len();
    let counts = 1..=input.settings.rams_per_point;
    let all: Vec<_> = input.rams.iter().flat_map(|ram| counts.clone().map(move |count| (ram, count))).collect();
    let sample: Vec<_> = all.iter().step_by(all.len().div_ceil(SAMPLE)).collect();
    let start = Instant::now();
    for (ram, count) in &sample {
        let proposal = VerifyInput {
            case: input.case.clone(),
            set: RamSet::everywhere(ram, *count, points),
            line: input.line.clone(),
            settings: input.settings.clone(),
            packing: input.packing.clone(),
            site: None,
        };
        verify_ram_set(&proposal, EFFORT).expect("stands");
    }
    let part = f64::from(u32::try_from(all.len()).expect("few")) / f64::from(u32::try_from(sample.len()).expect("few"));
    start.elapsed().as_secs_f64() * 1e3 * part
}

fn main() {
    let jobs = [("one stroke", 20.0, PackingLifts::NotAllowed), ("packing lifts", 300.0, PackingLifts::Allowed)];
    for (lift, travel, packing_lifts) in jobs {
        for rams_in_yard in [60, 1_000, 20_000] {
            let yard = rams(rams_in_yard);
            for points in [1, 4, 12] {
                let input = input(&yard, points, travel, packing_lifts);
                let Searched { ms, sizing } = searched(&input);
                let enumerated = enumerated_ms(&input);
                let line = json!({
                    "lift": lift, "rams": rams_in_yard, "points": points, "search_ms": ms,
                    "each_model_us": ms * 1e3 / f64::from(rams_in_yard), "enumerated_ms": enumerated,
                    "times_faster": enumerated / ms, "found": sizing.found, "passed_over": sizing.passed_over,
                    "models_refused": sizing.models_refused,
                    "best": sizing.options.first().map(|best| (&best.set, best.verdict.status)),
                });
                println!("{line}");
            }
        }
    }
}
