//! What the steps take: pieces, oil and time.

use super::StepKind;
use super::writer::{Said, Standing};
use crate::packing_lift::input::SequenceInput;
use crate::packing_lift::problem::Posed;
use crate::packing_lift::result::SequenceTotals;
use crate::packing_lift::sequence::length;
use ramwright_units::{Flow, OilVolume, Time};

/// What one step takes.
pub(super) struct Moved {
    pub(super) pieces: u32,
    pub(super) duration: Time,
}

/// What all steps so far have taken.
pub(in crate::packing_lift) struct Account {
    oil: OilVolume,
    pumping: Time,
    duration: Time,
    steps: u32,
    hold_points: u32,
}

impl Account {
    /// Nothing yet.
    pub(super) const NONE: Self =
        Self { oil: OilVolume::ZERO, pumping: Time::ZERO, duration: Time::ZERO, steps: 0, hold_points: 0 };

    /// Enters a step that leads from one state to another.
    pub(super) fn enter(
        &mut self,
        input: &SequenceInput<'_>,
        posed: &[Posed<'_>],
        before: &[Standing],
        now: &[Standing],
        said: &Said,
    ) -> Moved {
        let states = || before.iter().zip(now).zip(input.groups.iter().zip(posed));
        let pieces: u32 = states().map(|((a, b), (alike, posed))| alike.rams * changed(posed, a, b)).sum();
        let taken_in: OilVolume = states()
            .map(|((a, b), (alike, _))| {
                let out = length((b.extension.greatest - a.extension.greatest).max(0));
                input.ram.effective_area * out * f64::from(alike.rams)
            })
            .sum();
        let rams: u32 = said.groups.iter().filter_map(|&group| input.groups.get(group)).map(|alike| alike.rams).sum();
        let pumping = flow_of(input).map_or(Time::ZERO, |flow| taken_in / flow);
        let duration = at_work(input, said, pieces, rams) + pumping;
        self.oil = self.oil + taken_in;
        self.pumping = self.pumping + pumping;
        self.duration = self.duration + duration;
        self.steps = self.steps.saturating_add(1);
        self.hold_points = self.hold_points.saturating_add(u32::from(said.hold_point));
        Moved { pieces, duration }
    }

    /// The totals.
    pub(in crate::packing_lift) fn totals(&self, input: &SequenceInput<'_>) -> SequenceTotals {
        SequenceTotals {
            oil: self.oil,
            pump_time: flow_of(input).map(|_| self.pumping),
            duration: self.duration,
            steps: self.steps,
            hold_points: self.hold_points,
        }
    }
}

/// The flow of the pumps, if it is known and some.
fn flow_of(input: &SequenceInput<'_>) -> Option<Flow> {
    input.settings.handling.flow.filter(|flow| Flow::ZERO < *flow)
}

/// Parts moved at one pair of stacks.
fn changed(posed: &Posed<'_>, before: &Standing, now: &Standing) -> u32 {
    let of = |a: &[u32], b: &[u32]| -> u32 {
        a.iter().zip(b).zip(&posed.problem.pieces).map(|((a, b), piece)| a.abs_diff(*b) * piece.parts).sum()
    };
    of(&before.base, &now.base) + of(&before.holding, &now.holding)
}

/// Hands at work, the crews sharing pieces and rams.
fn at_work(input: &SequenceInput<'_>, said: &Said, pieces: u32, rams: u32) -> Time {
    let times = input.settings.handling;
    let crews = f64::from(times.crews.max(1));
    let setting = match said.kind {
        StepKind::SetRams | StepKind::MoveRams | StepKind::TakeOut => times.per_ram * f64::from(rams) / crews,
        StepKind::ProveLift => times.prove_lift,
        _ => Time::ZERO,
    };
    let held = if said.hold_point { times.per_hold_point } else { Time::ZERO };
    times.per_piece * f64::from(pieces) / crews + setting + held
}
