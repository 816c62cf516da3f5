//! A load that is let down: the planner's cycles from the last to the first, each from its top to its foot.

use super::account::Account;
use super::carried_out;
use super::prove::{PROVE_LIFT_MOST, free_load, prove_lift};
use super::raise::retract;
use super::stand::{rebuild, stand};
use super::words::{OPERATOR, OUT, PACKERS, REST, SETTERS, STACKS_AND_RAMS, TOP};
use super::writer::{Held, Said, Standing, Writer};
use super::{Step, StepKind};
use crate::packing_lift::input::SequenceInput;
use crate::packing_lift::kernel::{Cycle, FollowUp, Plan, Range as Tenths};
use crate::packing_lift::problem::Posed;
use crate::packing_lift::sequence::{in_words_of, length};

/// All points go down together.
const ALL: [usize; 1] = [0];
const NOTHING: Tenths = Tenths { least: 0, greatest: 0 };

/// All steps of a plan, seen from its end.
pub(in crate::packing_lift) fn steps_down(
    input: &SequenceInput<'_>,
    posed: &[Posed<'_>],
    plan: &Plan,
) -> (Vec<Step>, Account) {
    let Some((last, own)) = plan.cycles.last().zip(posed.first()) else { return (Vec::new(), Account::NONE) };
    let start = Standing {
        rise: last.rest,
        extension: NOTHING,
        base: vec![0; own.kinds.len()],
        holding: last.holding_after.clone(),
        held: Held::Stacks,
    };
    let mut writer = Writer::new(input, posed, vec![start]);
    let spare = own.spare_stroke();
    for (index, cycle) in plan.cycles.iter().enumerate().rev() {
        writer.cycle += 1;
        let to = index.checked_sub(1).and_then(|before| plan.cycles.get(before)).map(|cycle| cycle.rest);
        let first = index + 1 == plan.cycles.len();
        let_down(&mut writer, &carried_out(cycle, spare), first, to);
    }
    take_out(&mut writer);
    writer.finish()
}

fn let_down(writer: &mut Writer<'_>, cycle: &Cycle, first: bool, to: Option<Tenths>) {
    set_rams(writer, cycle, first);
    if first {
        prove(writer, cycle);
    }
    lift_off(writer, cycle);
    if writer.input.rebuilds() {
        stand(writer, &[(0, cycle.raise)]);
        rebuild(writer, 0, &cycle.holding_before);
    } else {
        // What has room under the load on its final bearing is left until it rests there.
        for stop in cycle.follow_up.iter().rev().filter(|stop| to.is_some() || 0 < stop.rise) {
            pause(writer, cycle, stop);
            remove_piece(writer, stop);
        }
    }
    lower(writer, to);
}

fn set_rams(writer: &mut Writer<'_>, cycle: &Cycle, first: bool) {
    let text = format!("At {}: set each ram on {}.", writer.points(&ALL), writer.named(&cycle.base));
    writer.standing(0, |standing| {
        standing.base.clone_from(&cycle.base);
        standing.extension = NOTHING;
    });
    writer.push(Said {
        kind: StepKind::SetRams,
        who: SETTERS,
        text: text.into(),
        groups: ALL.to_vec(),
        drop: None,
        check: STACKS_AND_RAMS,
        hold_point: first,
    });
}

/// The load is taken off its stacks for the first time.
fn prove(writer: &mut Writer<'_>, cycle: &Cycle) {
    let rest = writer.rise(0);
    writer.on_oil(0, cycle, rest);
    free_load(writer, &ALL);
    let gap = writer.posed.first().map_or(0, |posed| posed.problem.follow_up_gap);
    let rise = cycle.raise.min(rest + PROVE_LIFT_MOST.min(gap));
    if rest < rise {
        writer.on_oil(0, cycle, rise);
        prove_lift(writer, &ALL, rise - rest);
    }
}

fn lift_off(writer: &mut Writer<'_>, cycle: &Cycle) {
    if cycle.raise <= writer.rise(0) {
        return;
    }
    writer.on_oil(0, cycle, cycle.raise);
    let follows = writer.posed.first().map(|posed| posed.problem.follow_up_gap);
    let drop = if writer.input.rebuilds() { follows } else { writer.greatest_drop(&ALL) };
    let text = format!(
        "Raise the load off its stacks to a rise of {} over its final bearing.",
        in_words_of(length(cycle.raise))
    );
    writer.push(Said {
        kind: StepKind::Raise,
        who: OPERATOR,
        text: text.into(),
        groups: ALL.to_vec(),
        drop,
        check: TOP,
        hold_point: false,
    });
}

fn pause(writer: &mut Writer<'_>, cycle: &Cycle, stop: &FollowUp) {
    if writer.rise(0) <= stop.rise {
        return;
    }
    let drop = writer.greatest_drop(&ALL);
    writer.on_oil(0, cycle, stop.rise);
    let text = format!(
        "Lower under metered flow to a rise of {} over the final bearing and pause. The most loaded point sinks first: watch it.",
        in_words_of(length(stop.rise))
    );
    writer.push(Said {
        kind: StepKind::LowerToPause,
        who: OPERATOR,
        text: text.into(),
        groups: ALL.to_vec(),
        drop,
        check: TOP,
        hold_point: false,
    });
}

fn remove_piece(writer: &mut Writer<'_>, stop: &FollowUp) {
    writer.standing(0, |standing| {
        if let Some(count) = standing.holding.get_mut(stop.piece) {
            *count = count.saturating_sub(1);
        }
    });
    let text = format!("At {}: draw one {} out of each holding stack.", writer.points(&ALL), writer.piece(stop.piece));
    writer.push(Said {
        kind: StepKind::RemovePiece,
        who: PACKERS,
        text: text.into(),
        groups: ALL.to_vec(),
        drop: writer.greatest_drop(&ALL),
        check: OUT,
        hold_point: false,
    });
}

/// Down on to the stacks, or at last on to the final bearing.
fn lower(writer: &mut Writer<'_>, to: Option<Tenths>) {
    let drop = writer.drop_while_lowering(&ALL);
    writer.standing(0, |standing| {
        standing.rise = to.unwrap_or(NOTHING);
        standing.extension = NOTHING;
        standing.held = if to.is_some() { Held::Stacks } else { Held::FinalBearing };
    });
    let on = if to.is_some() { "on to the holding stacks" } else { "on to its final bearing" };
    let freed = writer.freed();
    let text = format!(
        "At {}: {freed}lower the load {on} under metered flow, the most loaded point watched first, then retract the rams.{}",
        writer.points(&ALL),
        retract(writer.input)
    );
    writer.push(Said {
        kind: StepKind::Lower,
        who: OPERATOR,
        text: text.into(),
        groups: ALL.to_vec(),
        drop,
        check: REST,
        hold_point: true,
    });
}

fn take_out(writer: &mut Writer<'_>) {
    writer.standing(0, |standing| {
        standing.base.iter_mut().for_each(|count| *count = 0);
        standing.holding.iter_mut().for_each(|count| *count = 0);
    });
    writer.push(Said {
        kind: StepKind::TakeOut,
        who: SETTERS,
        text: "Take out the rams, their base stacks and what is left of the holding stacks.".into(),
        groups: ALL.to_vec(),
        drop: None,
        check: "load at rest on its final bearing everywhere",
        hold_point: false,
    });
}
