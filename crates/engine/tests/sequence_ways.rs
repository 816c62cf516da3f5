//! Sequences of groups that differ, of ends in turn, and of loads that go down, replayed step by step by an account that knows
//! only the rules.
//!
//! The rules are common practice, no source. Heights are taken as the pieces have them, not in the planner's tenths.

#![allow(
    clippy::unwrap_used,
    clippy::panic,
    clippy::indexing_slicing,
    reason = "tests stop at what they do not expect"
)]

mod support;

use proptest::prelude::*;
use ramwright_engine::Effort;
use ramwright_engine::catalogue::{Packing, PackingUse};
use ramwright_engine::packing_lift::{
    Cures, Direction, Ending, Manner, PackingSequence, PieceCount, PointsAlike, SequenceInput, SequenceOutcome,
    StackDemand, Step, StepAt, StepKind, sequence_packing_lifts,
};
use ramwright_engine::ram::Ram;
use ramwright_engine::settings::Settings;
use ramwright_units::Length;
use std::sync::atomic::AtomicBool;
use support::{kn, mm, settings, yard};

/// Too few for equal points to be taken apart, which a test by itself looks at.
const STATES: u64 = 3_000_000;
/// Slack for the rounding of numbers, in mm.
const SLACK: f64 = 1e-4;
/// Clearance, closed height and plates are each taken in tenths of a millimetre; so far may what is stated be off.
const TENTHS: f64 = 0.3;

#[derive(Clone, Debug)]
struct Job {
    groups: Vec<PointsAlike>,
    travel: Length,
    direction: Direction,
    manner: Manner,
    second_support: Option<String>,
    ram: Ram,
    settings: Settings,
    pieces: Vec<Packing>,
}

impl Job {
    fn sequence(&self) -> PackingSequence {
        self.within(STATES)
    }

    fn within(&self, states: u64) -> PackingSequence {
        let input = SequenceInput {
            groups: &self.groups,
            travel: self.travel,
            direction: &self.direction,
            manner: self.manner,
            ram: &self.ram,
            share: kn(100.0),
            base_room: None,
            stacks: StackDemand::UNKNOWN,
            second_support: self.second_support.as_deref(),
            settings: &self.settings,
            pieces: &self.pieces,
            cures: Cures::Sought,
        };
        let stop = AtomicBool::new(false);
        sequence_packing_lifts(&input, Effort { states, stop: &stop }).unwrap()
    }

    fn goes_down(&self) -> bool {
        matches!(self.direction, Direction::Lower { .. })
    }

    fn rebuilds(&self) -> bool {
        self.ram.lock_collar || self.second_support.is_some()
    }

    fn piece(&self, id: &str) -> &Packing {
        self.pieces.iter().find(|piece| piece.id == id).unwrap()
    }

    fn sum(&self, stack: &[PieceCount], of: impl Fn(&Packing) -> Length) -> f64 {
        stack.iter().map(|part| of(self.piece(&part.piece)).mm() * f64::from(part.count)).sum()
    }

    fn height(&self, stack: &[PieceCount]) -> f64 {
        self.sum(stack, |piece| piece.thickness)
    }

    fn lowest(&self, stack: &[PieceCount]) -> f64 {
        self.sum(stack, |piece| piece.thickness - piece.settlement_greatest)
    }

    /// Height of the load's bearing over the foundation of the holding stack: the own one, or the final one.
    fn bearing(&self, group: usize) -> f64 {
        let down = if self.goes_down() { self.travel.mm() } else { 0.0 };
        self.groups[group].packing_clearance.mm() - down
    }

    /// Height of the soffit over the foundation of the ram.
    fn over_ram(&self, group: usize, soffit: f64) -> f64 {
        soffit - self.groups[group].packing_clearance.mm() + self.groups[group].clearance.mm()
    }

    /// Whether the soffit is said no higher than the stack holds it at the least, and not much lower: settlements are rounded up.
    fn rests(&self, at: &StepAt) -> bool {
        let (said, real) = (at.soffit.least.mm(), self.lowest(&at.holding_stack));
        let pieces: u32 = at.holding_stack.iter().map(|part| part.count).sum();
        said <= real + SLACK && real <= said + 0.1 * f64::from(pieces) + TENTHS
    }

    fn ram_height(&self) -> f64 {
        self.ram.closed_height.mm() + self.settings.plates.mm()
    }
}

fn count(stack: &[PieceCount], id: &str) -> u32 {
    stack.iter().filter(|part| part.piece == id).map(|part| part.count).sum()
}

fn on_oil(at: &StepAt) -> bool {
    at.held_by.as_str().contains("oil")
}

/// Pieces by which two stacks differ: put in, taken out.
fn changes(job: &Job, before: &[PieceCount], now: &[PieceCount]) -> (Vec<String>, Vec<String>) {
    let mut both = (Vec::new(), Vec::new());
    for piece in &job.pieces {
        let (a, b) = (count(before, &piece.id), count(now, &piece.id));
        both.0.extend((a..b).map(|_| piece.id.clone()));
        both.1.extend((b..a).map(|_| piece.id.clone()));
    }
    both
}

#[track_caller]
fn stock(job: &Job, step: &Step) {
    for piece in &job.pieces {
        let used: u32 = step
            .at
            .iter()
            .zip(&job.groups)
            .map(|(at, group)| group.rams * (count(&at.base_stack, &piece.id) + count(&at.holding_stack, &piece.id)))
            .sum();
        assert!(used <= piece.stock, "{used} of {} in use: {step:#?}", piece.id);
        assert_eq!(used, count(&step.pieces_in_use, &piece.id), "{step:#?}");
    }
}

#[track_caller]
fn level(job: &Job, step: &Step) {
    let within = match job.manner {
        _ if job.goes_down() => return,
        Manner::Together => job.settings.level_tolerance.mm(),
        Manner::EndByEnd { greatest_difference } => greatest_difference.mm(),
    };
    let rises = |of: fn(&StepAt) -> f64| step.at.iter().enumerate().map(move |(g, at)| of(at) - job.bearing(g));
    let high = rises(|at| at.soffit.greatest.mm()).fold(f64::NEG_INFINITY, f64::max);
    let low = rises(|at| at.soffit.least.mm()).fold(f64::INFINITY, f64::min);
    assert!(high - low <= within + TENTHS, "{} apart: {step:#?}", high - low);
}

/// What holds for one group of points from one step to the next.
#[track_caller]
fn at_points(job: &Job, group: usize, before: &StepAt, step: &Step) {
    let at = &step.at[group];
    let here = step.points.iter().any(|point| at.points.contains(point));
    let soffit = at.soffit.greatest.mm();
    let (gap, follow) = (job.settings.packing_gap.mm(), job.settings.follow_up_gap.mm());
    let used_in = |stack: &[PieceCount], not: PackingUse| stack.iter().all(|part| job.piece(&part.piece).use_ != not);
    assert!(used_in(&at.base_stack, PackingUse::Holding) && used_in(&at.holding_stack, PackingUse::Base), "{step:#?}");
    if on_oil(at) {
        let extension = job.over_ram(group, soffit) - job.ram_height() - job.lowest(&at.base_stack);
        assert!(extension <= job.settings.stroke_limit.usable(job.ram.stroke).mm() + SLACK, "out of reach: {step:#?}");
        let pieces: u32 = at.base_stack.iter().map(|part| part.count).sum();
        let (said, rounding) = (at.extension.greatest.mm(), 0.1 * f64::from(pieces) + TENTHS);
        assert!(extension <= said + TENTHS && said <= extension + rounding, "{extension}: {step:#?}");
        if !job.rebuilds() {
            let drop = soffit - job.height(&at.holding_stack).max(job.bearing(group));
            let seen = soffit - job.height(&before.holding_stack).max(job.bearing(group));
            let worst = if step.kind == StepKind::AddPiece { drop } else { drop.max(seen) };
            assert!(worst <= follow + TENTHS, "a drop of {worst}: {step:#?}");
            assert!(drop <= step.drop.unwrap().mm() + TENTHS, "a drop of {drop} is not said: {step:#?}");
        }
    }
    let (put, taken) = changes(job, &before.holding_stack, &at.holding_stack);
    let changed = !put.is_empty() || !taken.is_empty();
    let room = |stack: &[PieceCount], over: f64| job.height(stack) + gap <= over + TENTHS;
    match step.kind {
        StepKind::AddPiece if here => {
            assert!(put.len() == 1 && taken.is_empty(), "{step:#?}");
            assert!(job.piece(&put[0]).thickness.mm() + gap <= follow + SLACK, "too thick: {step:#?}");
            assert!(on_oil(at) && room(&at.holding_stack, soffit), "no room: {step:#?}");
        }
        StepKind::RemovePiece if here => {
            assert!(taken.len() == 1 && put.is_empty(), "{step:#?}");
            assert!(on_oil(at) && room(&before.holding_stack, soffit), "still loaded: {step:#?}");
            let Direction::Lower { stands_on } = &job.direction else { panic!("{step:#?}") };
            let top = stands_on.iter().rfind(|part| 0 < count(&before.holding_stack, &part.piece)).unwrap();
            assert_eq!(top.piece, taken[0], "not the highest piece: {step:#?}");
        }
        StepKind::SetRams if here => {
            assert!(taken.is_empty() && !on_oil(at), "{step:#?}");
            assert!(!changed || room(&at.holding_stack, job.bearing(group)), "no room for the first stack: {step:#?}");
            let entry = job.ram_height() + job.height(&at.base_stack) + job.settings.entry_gap.mm();
            let over = job.over_ram(group, at.soffit.least.mm());
            assert!(entry <= over + SLACK, "the ram does not enter: {entry} under {over}: {step:#?}");
        }
        StepKind::RebuildStacks if here => {
            assert!(job.rebuilds() && !on_oil(at), "{step:#?}");
            assert!(room(&at.holding_stack, at.soffit.least.mm()), "no room: {step:#?}");
        }
        StepKind::TakeOut => assert!(at.base_stack.is_empty() && at.holding_stack.is_empty(), "{step:#?}"),
        _ => assert!(!changed, "a stack changes: {step:#?}"),
    }
    let base_moves = matches!(step.kind, StepKind::SetRams | StepKind::MoveRams | StepKind::TakeOut) && here;
    assert!(base_moves || before.base_stack == at.base_stack, "a base stack changes: {step:#?}");
    if step.kind == StepKind::Lower && here && at.held_by.as_str().contains("stacks") {
        assert!(!at.holding_stack.is_empty(), "{step:#?}");
        assert!(job.rests(at), "{step:#?}");
        let over = job.over_ram(group, at.soffit.least.mm());
        let under = job.ram_height() + job.height(&before.base_stack) + job.settings.entry_gap.mm();
        assert!(!job.goes_down() || under <= over + TENTHS, "the ram does not come out: {step:#?}");
    }
}

#[track_caller]
fn replay(job: &Job, sequence: &PackingSequence) {
    let first = &sequence.steps[0].at;
    let mut before: Vec<StepAt> = first.clone();
    for (group, at) in before.iter_mut().enumerate() {
        (at.base_stack, at.holding_stack) = (Vec::new(), Vec::new());
        if let Direction::Lower { stands_on } = &job.direction {
            at.holding_stack.clone_from(stands_on);
            assert!(job.rests(at), "{at:#?}");
        } else {
            assert!((at.soffit.greatest.mm() - job.bearing(group)).abs() <= TENTHS);
        }
    }
    let mut moved = 0;
    for (step, number) in sequence.steps.iter().zip(1..) {
        assert_eq!(step.number, number);
        stock(job, step);
        level(job, step);
        for (group, old) in before.iter().enumerate() {
            at_points(job, group, old, step);
            let at = &step.at[group];
            for (a, b) in [(&old.base_stack, &at.base_stack), (&old.holding_stack, &at.holding_stack)] {
                let (put, taken) = changes(job, a, b);
                moved += u64::from(job.groups[group].rams) * u64::try_from(put.len() + taken.len()).unwrap();
            }
        }
        before.clone_from(&step.at);
    }
    assert_eq!(moved, sequence.pieces_handled, "{sequence:#?}");
    let last = sequence.steps.last().unwrap();
    for (group, at) in last.at.iter().enumerate() {
        let risen = at.soffit.least.mm() - job.bearing(group);
        if job.goes_down() {
            assert!(risen.abs() <= TENTHS && sequence.ending == Some(Ending::OnFinalBearing), "{at:#?}");
            continue;
        }
        assert!(job.travel.mm() <= risen + TENTHS, "ends at {risen}: {at:#?}");
        let most = (job.travel + job.settings.over_jack_allowance).mm();
        let high = at.soffit.greatest.mm() - job.bearing(group);
        assert!(sequence.ending == Some(Ending::OnLockCollars) || high <= most + TENTHS, "ends at {high}: {at:#?}");
    }
    let rams: u32 = job.groups.iter().map(|group| group.rams).sum();
    let most = job.groups.iter().map(|group| group.rams).max().unwrap();
    assert_eq!(sequence.rams, if job.manner == Manner::Together { rams } else { most });
}

fn alike(id: &str, rams: u32, clearance: Length, packing_clearance: Length) -> PointsAlike {
    PointsAlike {
        points: vec![id.into()],
        rams,
        clearance,
        packing_clearance,
        on_one_ram: vec![support::exactly(kn(100.0))],
    }
}

fn pieces() -> impl Strategy<Value = Vec<Packing>> {
    let thin = prop::sample::select(vec![10.0, 15.0, 16.0, 20.0, 12.7]);
    let other = prop::sample::select(vec![5.0, 50.0, 100.0, 3.175, 20.0]);
    let piece = |id: &'static str, stock: std::ops::Range<u32>| {
        (stock, 0.0f64..0.4, 0.0f64..1.0).prop_map(move |(stock, settlement, least)| Packing {
            id: id.into(),
            use_: PackingUse::Either,
            stock,
            settlement_greatest: mm(settlement),
            settlement_least: mm(settlement * least),
            ..yard::pieces()[0].clone()
        })
    };
    (thin, other, piece("a", 30..90), piece("b", 2..12), prop::option::of(piece("c", 2..9))).prop_map(
        |(thin, other, a, b, c)| {
            let mut pieces = vec![Packing { thickness: mm(thin), ..a }, Packing { thickness: mm(other), ..b }];
            pieces.extend(c.map(|c| Packing { thickness: mm(5.0), ..c }));
            pieces
        },
    )
}

fn jobs(in_turn: bool) -> impl Strategy<Value = Job> {
    let ram = (110.0f64..200.0, 150.0f64..200.0, prop::bool::weighted(0.25), prop::bool::weighted(0.2));
    let room =
        (5.0f64..40.0, prop::sample::select(vec![-20.0_f64, 0.0, 10.0, 16.0, 35.0]), 20.0f64..110.0, 9.0f64..25.0);
    (ram, room, pieces(), (1u32..3, 1u32..3), 6.0f64..60.0).prop_map(move |(ram, room, pieces, rams, within)| {
        let (stroke, closed, lock_collar, second) = ram;
        let (over, step, travel, allowance) = room;
        let settings = Settings {
            follow_up_gap: mm(25.0),
            over_jack_allowance: mm(allowance),
            level_tolerance: mm(within / 2.0),
            ..settings()
        };
        let clearance = mm(closed + over) + settings.plates;
        let other = clearance + mm(step.max(3.0 - over));
        let manner =
            if in_turn { Manner::EndByEnd { greatest_difference: mm(within + 10.0) } } else { Manner::Together };
        Job {
            groups: vec![alike("1", rams.0, clearance, clearance), alike("2", rams.1, other, other)],
            travel: mm(travel),
            direction: Direction::Raise,
            manner,
            second_support: second.then(|| "the climbing frame".into()),
            ram: Ram { lock_collar, ..yard::ram("r", 71.0, stroke, closed) },
            settings,
            pieces,
        }
    })
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(600))]

    #[test]
    fn verify_groups_together_obey_the_rules(job in jobs(false)) {
        let sequence = job.sequence();
        if sequence.cycles.is_some() {
            replay(&job, &sequence);
        }
    }

    #[test]
    fn verify_ends_in_turn_obey_the_rules(job in jobs(true)) {
        let sequence = job.sequence();
        if sequence.cycles.is_some() {
            replay(&job, &sequence);
        }
    }

    /// What a lift has ended on comes down by the rules, the thickest pieces at the bottom.
    #[test]
    fn verify_what_went_up_comes_down(job in jobs(false)) {
        let up = Job { groups: job.groups[..1].to_vec(), ..job };
        let lift = up.sequence();
        let stands = lift.steps.last().filter(|_| lift.ending == Some(Ending::OnPacking));
        if let Some(at) = stands.and_then(|last| last.at.first()) {
            let high = up.groups[0].clone();
            let raised = Length::from_mm(at.soffit.least.mm()) - high.packing_clearance;
            let mut stands_on = at.holding_stack.clone();
            let thickness = |part: &PieceCount| up.piece(&part.piece).thickness.mm();
            stands_on.sort_by(|a, b| thickness(b).total_cmp(&thickness(a)));
            let down = Job {
                groups: vec![PointsAlike {
                    clearance: high.clearance + raised,
                    packing_clearance: high.packing_clearance + raised,
                    ..high
                }],
                travel: raised,
                direction: Direction::Lower { stands_on },
                ..up
            };
            let sequence = down.sequence();
            // It may not: the pieces need not lie as they arrived.
            if sequence.cycles.is_some() {
                replay(&down, &sequence);
            }
        }
    }
}

fn step_in_the_floor(lock_collar: bool, manner: Manner) -> Job {
    let clearance = mm(240.0);
    let higher = mm(270.0);
    Job {
        groups: vec![alike("1", 2, clearance, clearance), alike("2", 2, higher, higher)],
        travel: mm(120.0),
        direction: Direction::Raise,
        manner,
        second_support: None,
        ram: Ram { lock_collar, ..yard::ram("r", 71.0, 125.0, 200.0) },
        settings: settings(),
        pieces: yard::pieces().into_iter().map(|piece| Packing { stock: 4 * piece.stock, ..piece }).collect(),
    }
}

/// Several packing lifts of every kind, so that the properties are not of single strokes only.
#[test]
fn verify_long_jobs_of_every_kind() {
    let in_turn = Manner::EndByEnd { greatest_difference: mm(60.0) };
    for (lock_collar, manner, least) in [(false, Manner::Together, 2), (true, Manner::Together, 2), (false, in_turn, 4)]
    {
        let job = step_in_the_floor(lock_collar, manner);
        let sequence = job.sequence();
        assert!(least <= sequence.cycles.unwrap_or(0), "{:?} {:?}", sequence.outcome, sequence.reason);
        replay(&job, &sequence);
    }
}

/// What cannot be done is said, with a code to branch on.
#[test]
fn verify_reasons() {
    let job = step_in_the_floor(false, Manner::Together);
    let codes = |job: &Job| {
        let sequence = job.sequence();
        assert_eq!(sequence.outcome, SequenceOutcome::Infeasible);
        sequence.reason.map(|reason| reason.code.to_string()).unwrap()
    };
    let mut low = job.clone();
    low.groups[1].clearance = mm(205.0);
    assert_eq!(codes(&low), "ram_does_not_enter");
    let down = |stands_on: &[(&str, u32)]| Job {
        groups: job.groups[..1].to_vec(),
        direction: Direction::Lower {
            stands_on: stands_on.iter().map(|(id, count)| PieceCount { piece: (*id).into(), count: *count }).collect(),
        },
        travel: mm(60.0),
        ..job.clone()
    };
    assert_eq!(codes(&down(&[("p1", 3)])), "stack_of_another_height");
    assert_eq!(codes(&down(&[("p4", 3)])), "stack_not_usable");
    let level = Job { settings: Settings { level_tolerance: mm(0.0), ..settings() }, ..job };
    assert_ne!(level.sequence().outcome, SequenceOutcome::Optimal);
}

/// Five pieces of 20 mm and two of 10 mm for two points: equal stacks are too low, three of 20 mm at one point are not.
#[test]
fn verify_equal_points_with_other_pieces() {
    let clearance = mm(240.0);
    let piece = |id: &str, thickness: f64, stock: u32| Packing {
        id: id.into(),
        thickness: mm(thickness),
        stock,
        use_: PackingUse::Holding,
        settlement_greatest: mm(0.0),
        settlement_least: mm(0.0),
        ..yard::pieces()[0].clone()
    };
    let both = PointsAlike {
        points: vec!["1".into(), "2".into()],
        on_one_ram: vec![support::exactly(kn(100.0)), support::exactly(kn(150.0))],
        ..alike("1", 2, clearance, mm(3.0))
    };
    let job = Job {
        groups: vec![both],
        travel: mm(56.0),
        settings: Settings { over_jack_allowance: mm(2.0), ..settings() },
        pieces: vec![piece("a", 20.0, 5), piece("b", 10.0, 2)],
        ..step_in_the_floor(false, Manner::Together)
    };
    assert_eq!(job.sequence().outcome, SequenceOutcome::Infeasible);
    let sequence = job.within(20_000_000);
    assert_eq!((sequence.cycles, sequence.groups.len()), (Some(1), 2), "{:?}", sequence.reason);
    // Each point keeps its own pressure: 150 kN on 71 cm2.
    let on_oil = sequence.steps.iter().find(|step| step.kind == StepKind::FreeLoad).unwrap();
    let of_second = &on_oil.at[1].pressures[0];
    assert_eq!(of_second.point, "2");
    assert!((of_second.expected.greatest.bar() - 150.0 / 71.0 * 100.0).abs() < 1e-6, "{of_second:?}");
    let apart = Job {
        groups: sequence.groups.iter().map(|group| alike(&group.points[0], 1, clearance, mm(3.0))).collect(),
        ..job
    };
    replay(&apart, &sequence);
}
