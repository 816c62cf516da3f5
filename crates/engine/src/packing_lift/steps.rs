//! The steps for the crew.

use super::kernel::{Cycle, FollowUp, Plan, Range as Tenths};
use super::problem::{Posed, SequenceInput};
use super::sequence::{PieceCount, length};
use crate::Text;
use ramwright_units::{Length, LengthRange, Range};
use serde::{Deserialize, Serialize};
use utoipa::ToSchema;

/// What is done in a step.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize, ToSchema)]
#[serde(rename_all = "snake_case")]
pub enum StepKind {
    /// Rams go in on their base stacks.
    SetRams,
    /// The load is lifted a little, held and watched.
    ProveLift,
    /// The rams raise the load.
    Raise,
    /// A piece is added under the load.
    AddPiece,
    /// The lock collars take the load.
    LockCollars,
    /// The holding stacks are rebuilt under a load that stands on collars.
    RebuildStacks,
    /// The load goes down on to the holding stacks.
    Lower,
}

/// A step: what moves, where the load is, what holds it.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, ToSchema)]
pub struct Step {
    /// Its number, from 1.
    pub number: u32,
    /// The packing lift that it belongs to, from 1.
    pub cycle: u32,
    /// What is done.
    pub kind: StepKind,
    /// The same in words.
    pub text: Text,
    /// Height of the load over the foundation of the holding stack after the step.
    pub soffit: LengthRange,
    /// Extension of the rams after the step.
    pub extension: LengthRange,
    /// Pieces under each ram after the step.
    pub base_stack: Vec<PieceCount>,
    /// Pieces of each holding stack after the step.
    pub holding_stack: Vec<PieceCount>,
    /// What holds the load after the step.
    pub held_by: Text,
    /// Greatest drop to the next mechanical support during the step, if the load is on oil.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub drop: Option<Length>,
    /// What to check before going on.
    pub check: Text,
    /// Whether somebody must release the next step.
    pub hold_point: bool,
}

/// Greatest rise of a prove lift, in tenths of a millimetre (10 mm; common practice, no source).
const PROVE_LIFT_MOST: i64 = 100;
const ON_RAMS: &str = "the rams, on oil; nobody under the load";
const ON_COLLARS: &str = "the lock collars";
const ON_STACKS: &str = "the holding stacks";
const OWN_BEARING: &str = "the load's own bearing";

/// All steps of a plan.
pub(super) fn steps(input: &SequenceInput<'_>, posed: &Posed<'_>, plan: &Plan) -> Vec<Step> {
    let mut writer = Writer { input, posed, steps: Vec::new(), rest: Tenths { least: 0, greatest: 0 }, rise: 0 };
    let last = plan.cycles.len();
    for (index, cycle) in plan.cycles.iter().enumerate() {
        let number = u32::try_from(index).unwrap_or(u32::MAX).saturating_add(1);
        let ends_on_collars = index + 1 == last && plan.end == super::kernel::End::OnCollars;
        writer.cycle(number, &carried_out(cycle, posed.spare_stroke()), ends_on_collars);
    }
    writer.steps
}

struct Writer<'a> {
    input: &'a SequenceInput<'a>,
    posed: &'a Posed<'a>,
    steps: Vec<Step>,
    /// Rise at which the load rests.
    rest: Tenths,
    /// Rise after the last step.
    rise: i64,
}

/// A cycle as it is carried out: the stroke that frees a collar is kept, where the planner counts it as height.
pub(super) fn carried_out(cycle: &Cycle, spare: i64) -> Cycle {
    let shorter = |range: Tenths| Tenths { least: range.least - spare, greatest: range.greatest - spare };
    Cycle { raise: cycle.raise - spare, extension: shorter(cycle.extension), ..cycle.clone() }
}

/// What a step changes.
struct Change<'a> {
    kind: StepKind,
    text: Text,
    rise: Tenths,
    extension: Tenths,
    holding: &'a [u32],
    held_by: &'static str,
    drop: Option<i64>,
    check: &'static str,
    hold_point: bool,
}

impl Writer<'_> {
    fn cycle(&mut self, number: u32, cycle: &Cycle, ends_on_collars: bool) {
        self.set_rams(number, cycle);
        if number == 1 {
            self.prove_lift(number, cycle);
        }
        if ends_on_collars {
            self.end_on_collars(number, cycle);
        } else if self.input.ram.lock_collar {
            self.raise_on_collars(number, cycle);
        } else {
            self.raise_and_follow(number, cycle);
        }
        self.rest = cycle.rest;
    }

    fn set_rams(&mut self, number: u32, cycle: &Cycle) {
        let held_by = if number == 1 { OWN_BEARING } else { ON_STACKS };
        let first_stack = if number == 1 && cycle.holding_before.iter().any(|count| 0 < *count) {
            format!(" Place the first holding stacks: {}.", self.named(&cycle.holding_before))
        } else {
            String::new()
        };
        let text = format!("Set each ram on {}.{first_stack}", self.named(&cycle.base));
        self.push(
            number,
            cycle,
            Change {
                kind: StepKind::SetRams,
                text: text.into(),
                rise: self.rest,
                extension: Tenths { least: 0, greatest: 0 },
                holding: &cycle.holding_before,
                held_by,
                drop: None,
                check: "stacks plumb, full bearing, rams upright under their points, hoses free",
                hold_point: number == 1,
            },
        );
    }

    fn prove_lift(&mut self, number: u32, cycle: &Cycle) {
        // No higher than the first stop of the raise, and at most 10 mm.
        let stops = cycle.follow_up.iter().map(|stop| stop.rise).filter(|rise| 0 < *rise);
        let rise = stops.fold(cycle.raise.min(PROVE_LIFT_MOST), i64::min);
        let less = cycle.raise - rise;
        let extension = Tenths { least: cycle.extension.least - less, greatest: cycle.extension.greatest - less };
        self.push(number, cycle, Change {
            kind: StepKind::ProveLift,
            text: Text::fixed("Preload in steps, then lift until the load is free by at most 10 mm; stop and hold. If it is not free at the stop pressure, stop: it is caught or heavier than stated."),
            rise: Tenths { least: rise, greatest: rise },
            extension,
            holding: &cycle.holding_before,
            held_by: ON_RAMS,
            drop: Some(self.drop_at(rise, &cycle.holding_before)),
            check: "pressures within the computed ranges, levels, leaks, ground; go on only inside the ranges",
            hold_point: true,
        });
    }

    fn raise_and_follow(&mut self, number: u32, cycle: &Cycle) {
        let mut holding = cycle.holding_before.clone();
        for stop in &cycle.follow_up {
            if self.rise < stop.rise {
                self.raise_to_stop(number, cycle, stop, &holding);
            }
            if let Some(count) = holding.get_mut(stop.piece) {
                *count += 1;
            }
            self.add_piece(number, cycle, stop, &holding);
        }
        if self.rise < cycle.raise {
            self.raise_to_top(number, cycle, &holding, cycle.greatest_drop);
        }
        self.lower(number, cycle);
    }

    fn raise_to_stop(&mut self, number: u32, cycle: &Cycle, stop: &FollowUp, holding: &[u32]) {
        let change = Change {
            kind: StepKind::Raise,
            text: Text::from(format!("Raise to a rise of {:.1} mm and pause.", length(stop.rise).mm())),
            rise: Tenths { least: stop.rise, greatest: stop.rise },
            extension: stop.extension,
            holding,
            held_by: ON_RAMS,
            drop: Some(stop.drop_before),
            check: "levels within tolerance, pressures within range",
            hold_point: false,
        };
        self.push(number, cycle, change);
    }

    fn add_piece(&mut self, number: u32, cycle: &Cycle, stop: &FollowUp, holding: &[u32]) {
        // A piece that goes in with the load hardly lifted goes in where the prove lift has left it.
        let over = (self.rise - stop.rise).max(0);
        let id = self.posed.kinds.get(stop.piece).map_or("", |piece| piece.id.as_str());
        let change = Change {
            kind: StepKind::AddPiece,
            text: Text::from(format!("Slide one {id} on to each holding stack.")),
            rise: Tenths { least: stop.rise + over, greatest: stop.rise + over },
            extension: Tenths { least: stop.extension.least + over, greatest: stop.extension.greatest + over },
            holding,
            held_by: ON_RAMS,
            drop: Some(stop.drop_after + over),
            check: "piece flush with the stack, hands clear",
            hold_point: false,
        };
        self.push(number, cycle, change);
    }

    fn raise_on_collars(&mut self, number: u32, cycle: &Cycle) {
        self.raise_to_top(number, cycle, &cycle.holding_before, None);
        self.lock(number, cycle, &cycle.holding_before);
        self.push(
            number,
            cycle,
            Change {
                kind: StepKind::RebuildStacks,
                text: Text::from(format!(
                    "Rebuild each holding stack as {}; take out before putting in.",
                    self.named(&cycle.holding_after)
                )),
                rise: self.on_collars(cycle),
                extension: cycle.extension,
                holding: &cycle.holding_after,
                held_by: ON_COLLARS,
                drop: None,
                check: "stacks plumb, full bearing, all collars still tight",
                hold_point: true,
            },
        );
        self.lower(number, cycle);
    }

    fn end_on_collars(&mut self, number: u32, cycle: &Cycle) {
        self.raise_to_top(number, cycle, &cycle.holding_after, None);
        self.lock(number, cycle, &cycle.holding_after);
    }

    fn raise_to_top(&mut self, number: u32, cycle: &Cycle, holding: &[u32], drop: Option<i64>) {
        let text = if self.input.ram.lock_collar {
            format!(
                "Raise to a rise of {:.1} mm, the collars following within {:.1} mm.",
                length(cycle.raise).mm(),
                self.input.settings.follow_up_gap.mm()
            )
        } else {
            format!("Raise to a rise of {:.1} mm.", length(cycle.raise).mm())
        };
        let drop = if self.input.ram.lock_collar { Some(self.posed.problem.follow_up_gap) } else { drop };
        self.push(
            number,
            cycle,
            Change {
                kind: StepKind::Raise,
                text: text.into(),
                rise: Tenths { least: cycle.raise, greatest: cycle.raise },
                extension: cycle.extension,
                holding,
                held_by: ON_RAMS,
                drop,
                check: "levels within tolerance, pressures within range, stroke indicator",
                hold_point: false,
            },
        );
    }

    fn lock(&mut self, number: u32, cycle: &Cycle, holding: &[u32]) {
        self.push(
            number,
            cycle,
            Change {
                kind: StepKind::LockCollars,
                text: Text::fixed("Screw every collar down and let the load settle on to the collars."),
                rise: self.on_collars(cycle),
                extension: cycle.extension,
                holding,
                held_by: ON_COLLARS,
                drop: None,
                check: "every collar tight, pressure gone from every ram",
                hold_point: true,
            },
        );
    }

    fn lower(&mut self, number: u32, cycle: &Cycle) {
        let retract = if self.input.ram.action == crate::ram::Action::SingleActingLoadReturn {
            " The rams do not retract by themselves once the load is off them: push them back by hand or with a bar."
        } else {
            ""
        };
        self.push(
            number,
            cycle,
            Change {
                kind: StepKind::Lower,
                text: Text::from(format!(
                    "Lower the load on to the holding stacks under metered flow, then retract the rams.{retract}"
                )),
                rise: cycle.rest,
                extension: Tenths { least: 0, greatest: 0 },
                holding: &cycle.holding_after,
                held_by: ON_STACKS,
                drop: None,
                check: "load at rest on every stack, settlement even, rams free",
                hold_point: true,
            },
        );
    }

    /// Rise at which the load stands on the engaged collars.
    fn on_collars(&self, cycle: &Cycle) -> Tenths {
        let sink = self.posed.problem.ends_on_collars.map_or(0, |end| end.collar_settlement);
        Tenths { least: cycle.raise - sink, greatest: cycle.raise }
    }

    /// Drop at a rise over a stack, or on to the load's own bearing.
    fn drop_at(&self, rise: i64, holding: &[u32]) -> i64 {
        let height: i64 = holding
            .iter()
            .zip(&self.posed.problem.pieces)
            .map(|(count, kind)| i64::from(*count) * kind.thickness)
            .sum();
        rise - (height - self.posed.problem.packing_clearance).max(0)
    }

    fn push(&mut self, number: u32, cycle: &Cycle, change: Change<'_>) {
        let soffit = |rise: i64| self.input.geometry.packing_clearance + length(rise);
        let step = Step {
            number: u32::try_from(self.steps.len()).unwrap_or(u32::MAX).saturating_add(1),
            cycle: number,
            kind: change.kind,
            text: change.text,
            soffit: Range::new(
                soffit(change.rise.least),
                (soffit(change.rise.least) + soffit(change.rise.greatest)) / 2.0,
                soffit(change.rise.greatest),
            ),
            extension: middle(change.extension),
            base_stack: self.counted(&cycle.base),
            holding_stack: self.counted(change.holding),
            held_by: Text::fixed(change.held_by),
            drop: change.drop.map(|drop| length(drop + self.posed.rounding)),
            check: Text::fixed(change.check),
            hold_point: change.hold_point,
        };
        self.rise = change.rise.greatest;
        self.steps.push(step);
    }

    fn counted(&self, counts: &[u32]) -> Vec<PieceCount> {
        let pairs = counts.iter().zip(&self.posed.kinds);
        pairs
            .filter(|(count, _)| 0 < **count)
            .map(|(count, piece)| PieceCount { piece: piece.id.clone(), count: *count })
            .collect()
    }

    fn named(&self, counts: &[u32]) -> String {
        let parts: Vec<String> =
            self.counted(counts).iter().map(|part| format!("{} x {}", part.count, part.piece)).collect();
        if parts.is_empty() { "the bare foundation".into() } else { parts.join(" + ") }
    }
}

fn middle(range: Tenths) -> LengthRange {
    let (least, greatest) = (length(range.least), length(range.greatest));
    Range::new(least, (least + greatest) / 2.0, greatest)
}
