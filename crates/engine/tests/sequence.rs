//! Packing-lift sequences, held step by step against the rules of the lift by an account of its own.
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
use ramwright_engine::catalogue::{Packing, PackingUse};
use ramwright_engine::defaults::{
    BASE_STACK_SLENDERNESS, COLLAR_SETTLEMENT, COLLAR_SPARE_STROKE, HOLDING_STACK_SLENDERNESS,
};
use ramwright_engine::packing_lift::{
    Cures, Direction, Ending, Manner, PackingSequence, PieceCount, PointsAlike, SequenceInput, StackDemand, StepKind,
    sequence_packing_lifts,
};
use ramwright_engine::ram::Ram;
use ramwright_engine::settings::Settings;
use ramwright_units::{Length, LengthRange};
use support::{effort, kn, mm, settings, yard};

/// Slack for the rounding of numbers, in mm.
const SLACK: f64 = 1e-4;

/// Clearance, closed height and plates are each taken in tenths of a millimetre; so far may what is stated be off.
const TENTHS: f64 = 0.3;

/// The heights of a lift at its points, all alike.
#[derive(Clone, Copy, Debug)]
struct Heights {
    clearance: Length,
    packing_clearance: Length,
    travel: Length,
}

/// A step at points that are all alike.
#[derive(Clone, Debug)]
struct Step {
    number: u32,
    cycle: u32,
    kind: StepKind,
    soffit: LengthRange,
    extension: LengthRange,
    base_stack: Vec<PieceCount>,
    holding_stack: Vec<PieceCount>,
    held_by: String,
    drop: Option<Length>,
}

fn steps_of(sequence: &PackingSequence) -> Vec<Step> {
    let step = |step: &ramwright_engine::packing_lift::Step| {
        let [at] = step.at.as_slice() else { panic!("one group of points: {step:#?}") };
        Step {
            number: step.number,
            cycle: step.cycle,
            kind: step.kind,
            soffit: at.soffit,
            extension: at.extension,
            base_stack: at.base_stack.clone(),
            holding_stack: at.holding_stack.clone(),
            held_by: at.held_by.to_string(),
            drop: step.drop,
        }
    };
    sequence.steps.iter().map(step).collect()
}

/// A lift, as it is asked for.
#[derive(Clone, Debug)]
struct Lift {
    geometry: Heights,
    ram: Ram,
    rams: u32,
    settings: Settings,
    pieces: Vec<Packing>,
}

impl Lift {
    fn sequence(&self) -> PackingSequence {
        let (settings, pieces) = (&self.settings, &self.pieces[..]);
        let groups = [PointsAlike {
            points: vec!["1".into()],
            rams: self.rams,
            clearance: self.geometry.clearance,
            packing_clearance: self.geometry.packing_clearance,
            on_one_ram: vec![support::exactly(kn(100.0))],
        }];
        let input = SequenceInput {
            groups: &groups,
            travel: self.geometry.travel,
            direction: &Direction::Raise,
            manner: Manner::Together,
            second_support: None,
            ram: &self.ram,
            share: kn(100.0),
            base_room: None,
            stacks: StackDemand::UNKNOWN,
            settings,
            pieces,
            cures: Cures::Sought,
        };
        sequence_packing_lifts(&input, effort()).unwrap()
    }

    fn piece(&self, id: &str) -> &Packing {
        self.pieces.iter().find(|piece| piece.id == id).unwrap()
    }

    /// A sum over the pieces of a stack, in mm.
    fn sum(&self, stack: &[PieceCount], of: impl Fn(&Packing) -> Length) -> f64 {
        stack.iter().map(|part| of(self.piece(&part.piece)).mm() * f64::from(part.count)).sum()
    }

    fn height(&self, stack: &[PieceCount]) -> f64 {
        self.sum(stack, |piece| piece.thickness)
    }

    fn lowest(&self, stack: &[PieceCount]) -> f64 {
        self.sum(stack, |piece| piece.thickness - piece.settlement_greatest)
    }

    fn highest(&self, stack: &[PieceCount]) -> f64 {
        self.sum(stack, |piece| piece.thickness - piece.settlement_least)
    }

    fn usable_stroke(&self) -> f64 {
        self.settings.stroke_limit.usable(self.ram.stroke).mm()
    }

    /// Height of the closed ram with its plates.
    fn ram_height(&self) -> f64 {
        self.ram.closed_height.mm() + self.settings.plates.mm()
    }

    /// Soffit over the ram's foundation, where the steps say it over that of the holding stack.
    fn over_ram(&self, soffit: Length) -> f64 {
        soffit.mm() - self.geometry.packing_clearance.mm() + self.geometry.clearance.mm()
    }
}

fn count(stack: &[PieceCount], id: &str) -> u32 {
    stack.iter().filter(|part| part.piece == id).map(|part| part.count).sum()
}

fn on_oil(step: &Step) -> bool {
    step.held_by.contains("oil")
}

/// What holds at every step by itself.
#[track_caller]
fn every_step(lift: &Lift, step: &Step) {
    assert!(step.extension.greatest.mm() <= lift.usable_stroke() + SLACK, "beyond the usable stroke: {step:#?}");
    for piece in &lift.pieces {
        let used = count(&step.base_stack, &piece.id) + count(&step.holding_stack, &piece.id);
        assert!(used <= piece.stock / lift.rams, "{used} of {} in use: {step:#?}", piece.id);
    }
    let used_in = |stack: &[PieceCount], not: PackingUse| stack.iter().all(|part| lift.piece(&part.piece).use_ != not);
    assert!(
        used_in(&step.base_stack, PackingUse::Holding) && used_in(&step.holding_stack, PackingUse::Base),
        "{step:#?}"
    );
    for (stack, slenderness) in
        [(&step.base_stack, BASE_STACK_SLENDERNESS), (&step.holding_stack, HOLDING_STACK_SLENDERNESS)]
    {
        let widths = stack.iter().map(|part| lift.piece(&part.piece)).map(|piece| piece.length.min(piece.width).mm());
        if let Some(width) = widths.reduce(f64::min) {
            assert!(lift.height(stack) <= slenderness * width + SLACK, "too high for its width: {step:#?}");
        }
    }
    let moves_on_oil = on_oil(step) || step.kind == StepKind::Lower;
    assert_eq!(moves_on_oil, step.drop.is_some(), "a drop belongs to a load on oil: {step:#?}");
}

/// Drop in mm on to the stack as it stands, or on to the load's own bearing.
fn true_drop(lift: &Lift, soffit: Length, stack: &[PieceCount]) -> f64 {
    soffit.mm() - lift.height(stack).max(lift.geometry.packing_clearance.mm())
}

#[track_caller]
fn drops(lift: &Lift, steps: &[Step]) {
    let gap = lift.settings.follow_up_gap.mm();
    let mut before: &[PieceCount] = &[];
    for step in steps {
        if on_oil(step) && !lift.ram.lock_collar {
            let stated = step.drop.unwrap().mm();
            assert!(stated <= gap + SLACK, "a drop above the gap: {step:#?}");
            let stack = if step.kind == StepKind::AddPiece { &step.holding_stack[..] } else { before };
            let real = true_drop(lift, step.soffit.greatest, stack);
            assert!(real <= gap + SLACK, "a drop of {real} above the gap: {step:#?}");
            assert!(real <= stated + SLACK, "a drop of {real} and not {stated}: {step:#?}");
        }
        if step.kind == StepKind::AddPiece {
            let added: Vec<&Packing> = lift
                .pieces
                .iter()
                .filter(|piece| count(before, &piece.id) < count(&step.holding_stack, &piece.id))
                .collect();
            assert_eq!(added.len(), 1, "one piece at a time: {step:#?}");
            assert!(added[0].thickness.mm() + lift.settings.packing_gap.mm() <= gap + SLACK, "too thick: {step:#?}");
            let room = step.soffit.greatest.mm() - lift.settings.packing_gap.mm();
            assert!(lift.height(&step.holding_stack) <= room + SLACK, "the piece does not go in: {step:#?}");
        }
        before = &step.holding_stack;
    }
}

/// A cycle from one rest to the next; gives the rest.
#[track_caller]
fn cycle(lift: &Lift, steps: &[Step], rest: f64) -> f64 {
    let set = &steps[0];
    assert_eq!(set.kind, StepKind::SetRams);
    let base = &set.base_stack;
    assert!(steps.iter().all(|step| step.base_stack == *base), "the base changes under a load");
    let start = lift.geometry.clearance.mm() + rest - lift.geometry.packing_clearance.mm();
    let entry = lift.ram_height() + lift.height(base) + lift.settings.entry_gap.mm();
    assert!(entry <= start + SLACK, "the ram does not enter: {entry} under {start}");
    let top = steps.iter().rfind(|step| on_oil(step)).unwrap();
    let needed = lift.over_ram(top.soffit.greatest) - lift.ram_height() - lift.lowest(base);
    // A collar can be backed off only with some stroke to spare.
    let spare = if lift.ram.lock_collar { COLLAR_SPARE_STROKE.mm() } else { 0.0 };
    assert!(needed + spare <= lift.usable_stroke() + SLACK, "out of reach: {needed}");
    assert!(needed <= top.extension.greatest.mm() + TENTHS, "{needed} and not {:?}", top.extension);
    let raised = steps.iter().filter(|step| on_oil(step));
    let mut soffit = rest;
    for step in raised {
        assert!(soffit <= step.soffit.least.mm() + SLACK, "the soffit falls: {step:#?}");
        soffit = step.soffit.least.mm();
    }
    let last = steps.last().unwrap();
    if last.kind == StepKind::LockCollars {
        let held = top.soffit.least - COLLAR_SETTLEMENT;
        assert!(last.soffit.least.mm() <= held.mm() + SLACK, "{last:#?}");
        return held.mm();
    }
    assert_eq!(last.kind, StepKind::Lower);
    let loss = if lift.ram.lock_collar { COLLAR_SETTLEMENT.mm() } else { 0.0 };
    let room = top.soffit.least.mm() - loss - lift.settings.packing_gap.mm();
    assert!(lift.height(&last.holding_stack) <= room + SLACK, "the stack does not go in: {last:#?}");
    if !lift.ram.lock_collar {
        let kept = set.holding_stack.iter().all(|part| part.count <= count(&last.holding_stack, &part.piece));
        assert!(kept, "taken out under a load on oil: {last:#?}");
    }
    let (lowest, highest) = (lift.lowest(&last.holding_stack), lift.highest(&last.holding_stack));
    assert!(last.soffit.least.mm() <= lowest + SLACK && highest <= last.soffit.greatest.mm() + TENTHS, "{last:#?}");
    assert!(rest <= last.soffit.least.mm() + SLACK, "the load comes to rest lower than before: {last:#?}");
    last.soffit.least.mm()
}

#[track_caller]
fn obeys(lift: &Lift, sequence: &PackingSequence) {
    let steps = &steps_of(sequence);
    for step in steps {
        every_step(lift, step);
    }
    assert!(steps.iter().zip(1..).all(|(step, number)| step.number == number));
    let cycles = sequence.cycles.unwrap();
    assert_eq!(steps.last().unwrap().cycle, cycles);
    assert!(sequence.lower_bound <= cycles);
    let mut rest = lift.geometry.packing_clearance.mm();
    for number in 1..=cycles {
        let of_it: Vec<Step> = steps.iter().filter(|step| step.cycle == number).cloned().collect();
        drops(lift, &of_it);
        rest = cycle(lift, &of_it, rest);
    }
    let risen = rest - lift.geometry.packing_clearance.mm();
    assert!(lift.geometry.travel.mm() <= risen + SLACK, "the load ends at a rise of {risen}");
    let allowed = (lift.geometry.packing_clearance + lift.geometry.travel + lift.settings.over_jack_allowance).mm();
    if sequence.ending == Some(Ending::OnPacking) {
        let end = lift.highest(&steps.last().unwrap().holding_stack);
        assert!(end <= allowed + SLACK, "the load ends at {end}, beyond {allowed}");
    }
    let extension = steps.iter().map(|step| step.extension.greatest.mm()).fold(0.0, f64::max);
    assert!(support::close(extension, sequence.greatest_extension.mm(), 1e-12, 0.0));
    let base = steps.iter().map(|step| lift.height(&step.base_stack)).fold(0.0, f64::max);
    assert!(base <= sequence.greatest_base_stack.mm() + SLACK);
    handled(lift, sequence);
}

/// Pieces placed and removed, counted from the steps.
#[track_caller]
fn handled(lift: &Lift, sequence: &PackingSequence) {
    let (mut base, mut holding): (Vec<PieceCount>, Vec<PieceCount>) = (Vec::new(), Vec::new());
    let mut moves = 0;
    for step in steps_of(sequence) {
        for piece in &lift.pieces {
            moves += count(&base, &piece.id).abs_diff(count(&step.base_stack, &piece.id));
            moves += count(&holding, &piece.id).abs_diff(count(&step.holding_stack, &piece.id));
        }
        (base, holding) = (step.base_stack, step.holding_stack);
    }
    assert_eq!(sequence.pieces_handled, u64::from(moves) * u64::from(lift.rams));
}

fn pieces() -> impl Strategy<Value = Vec<Packing>> {
    let thickness = prop::sample::select(vec![5.0, 10.0, 15.0, 16.0, 20.0, 50.0, 100.0, 3.175, 12.7, 15.875, 9.99]);
    let use_ =
        prop::sample::select(vec![PackingUse::Base, PackingUse::Holding, PackingUse::Either, PackingUse::Either]);
    let piece = (thickness, use_, 3u32..40, 0.0f64..0.4, 0.0f64..1.0);
    prop::collection::vec(piece, 2..5).prop_map(|rows| {
        let made = rows.into_iter().enumerate().map(|(index, (thickness, use_, stock, settlement, least))| Packing {
            id: format!("p{index}"),
            thickness: mm(thickness),
            use_,
            stock,
            settlement_greatest: mm(settlement),
            settlement_least: mm(settlement * least),
            ..yard::pieces()[0].clone()
        });
        made.collect()
    })
}

fn lifts() -> impl Strategy<Value = Lift> {
    let ram = (60.0f64..200.0, 120.0f64..260.0, prop::bool::weighted(0.3));
    let room = (4.0f64..120.0, -30.0f64..30.0, 8.0f64..200.0, 8.0f64..40.0);
    (ram, room, 1u32..4, pieces(), 20.0f64..40.0).prop_map(|(ram, room, rams, pieces, gap)| {
        let (stroke, closed, lock_collar) = ram;
        let (over, offset, travel, allowance) = room;
        let settings = Settings { follow_up_gap: mm(gap), over_jack_allowance: mm(allowance), ..settings() };
        let clearance = mm(closed + over) + settings.plates;
        let geometry = Heights { clearance, packing_clearance: clearance + mm(offset), travel: mm(travel) };
        Lift { geometry, ram: Ram { lock_collar, ..yard::ram("r", 71.0, stroke, closed) }, rams, settings, pieces }
    })
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(1500))]

    #[test]
    fn verify_sequences_obey_the_rules(lift in lifts()) {
        let sequence = lift.sequence();
        if sequence.cycles.is_some() {
            obeys(&lift, &sequence);
        } else {
            prop_assert!(sequence.steps.is_empty());
        }
    }
}

/// Several cycles of both kinds, so that the property is not one of single strokes only.
#[test]
fn verify_long_sequences_obey_the_rules() {
    for (lock_collar, least) in [(false, 2), (true, 2)] {
        let clearance = mm(240.0);
        let lift = Lift {
            geometry: Heights { clearance, packing_clearance: clearance, travel: mm(200.0) },
            ram: Ram { lock_collar, ..yard::ram("r", 71.0, 125.0, 200.0) },
            rams: 1,
            settings: settings(),
            pieces: yard::pieces(),
        };
        let sequence = lift.sequence();
        assert!(least <= sequence.cycles.unwrap_or(0), "{:?} {:?}", sequence.outcome, sequence.reason);
        obeys(&lift, &sequence);
    }
}
