//! A load that goes up.

use super::account::Account;
use super::carried_out;
use super::prove::{PROVE_LIFT_MOST, free_load, prove_lift};
use super::stand::{rebuild, stand};
use super::words::{FLUSH, LEVELS, OPERATOR, PACKERS, REST, SETTERS, STACKS_AND_RAMS, TOP};
use super::writer::{Held, Said, Standing, Writer};
use super::{Step, StepKind};
use crate::Text;
use crate::packing_lift::input::SequenceInput;
use crate::packing_lift::kernel::{Cycle, End, FollowUp, JointPlan, Range as Tenths};
use crate::packing_lift::problem::Posed;
use crate::packing_lift::sequence::{in_words_of, length};

/// One group's part of a packing lift.
struct Part {
    group: usize,
    cycle: Cycle,
    /// Whether it is the first of the group.
    first: bool,
    on_collars: bool,
}

/// All steps of a plan.
pub(in crate::packing_lift) fn steps_up(
    input: &SequenceInput<'_>,
    posed: &[Posed<'_>],
    plan: &JointPlan,
) -> (Vec<Step>, Account) {
    let none = Tenths { least: 0, greatest: 0 };
    let kinds = posed.first().map_or(0, |posed| posed.kinds.len());
    let start =
        Standing { rise: none, extension: none, base: vec![0; kinds], holding: vec![0; kinds], held: Held::OwnBearing };
    let mut writer = Writer::new(input, posed, vec![start; input.groups.len()]);
    let mut next = vec![0_usize; input.groups.len()];
    let mut at = None;
    for turn in &plan.turns {
        writer.cycle += 1;
        if let (Some(from), Some(to)) = (at, *turn)
            && from != to
        {
            move_rams(&mut writer, from, to);
        }
        at = *turn;
        let parts = parts(input, posed, plan, *turn, &mut next);
        lift(&mut writer, &parts);
    }
    writer.finish()
}

fn parts(
    input: &SequenceInput<'_>,
    posed: &[Posed<'_>],
    plan: &JointPlan,
    turn: Option<usize>,
    next: &mut [usize],
) -> Vec<Part> {
    let mut parts = Vec::new();
    for group in (0..input.groups.len()).filter(|group| turn.is_none_or(|turn| turn == *group)) {
        let (Some(own), Some(done), Some(posed)) = (plan.plans.get(group), next.get_mut(group), posed.get(group))
        else {
            continue;
        };
        let Some(cycle) = own.cycles.get(*done) else { continue };
        let last = *done + 1 == own.cycles.len();
        parts.push(Part {
            group,
            cycle: set_early(carried_out(cycle, posed.spare_stroke()), *done == 0 && posed.problem.first_stack_allowed),
            first: *done == 0,
            on_collars: last && own.end == End::OnCollars,
        });
        *done += 1;
    }
    parts
}

/// What has room under the load on its own bearing is placed before the first raise.
fn set_early(mut cycle: Cycle, allowed: bool) -> Cycle {
    if allowed {
        for stop in cycle.follow_up.iter().filter(|stop| stop.rise <= 0) {
            if let Some(count) = cycle.holding_before.get_mut(stop.piece) {
                *count += 1;
            }
        }
        cycle.follow_up.retain(|stop| 0 < stop.rise);
    }
    cycle
}

fn move_rams(writer: &mut Writer<'_>, from: usize, to: usize) {
    let text = format!(
        "Take the rams and their base stacks out at {} and bring them to {}.",
        writer.points(&[from]),
        writer.points(&[to])
    );
    writer.standing(from, |standing| {
        standing.base.iter_mut().for_each(|count| *count = 0);
        standing.extension = Tenths { least: 0, greatest: 0 };
    });
    writer.push(Said {
        kind: StepKind::MoveRams,
        who: SETTERS,
        text: text.into(),
        groups: vec![from, to],
        drop: None,
        check: "load at rest on every stack; nothing of the rams touches the load",
        hold_point: false,
    });
}

fn lift(writer: &mut Writer<'_>, parts: &[Part]) {
    for part in parts {
        set_rams(writer, part);
    }
    let moving: Vec<usize> = parts.iter().map(|part| part.group).collect();
    if parts.iter().any(|part| part.first) {
        prove(writer, parts, &moving);
    }
    let raised: Vec<(usize, i64)> = parts.iter().map(|part| (part.group, part.cycle.raise)).collect();
    if parts.iter().any(|part| part.on_collars) {
        raise_all(writer, parts, i64::MAX, None);
        stand(writer, &raised);
    } else if writer.input.rebuilds() {
        raise_all(writer, parts, i64::MAX, None);
        stand(writer, &raised);
        for part in parts {
            rebuild(writer, part.group, &part.cycle.holding_after);
        }
        lower(writer, parts, &moving);
    } else {
        follow_up(writer, parts);
        lower(writer, parts, &moving);
    }
}

fn set_rams(writer: &mut Writer<'_>, part: &Part) {
    let (base, holding) = (&part.cycle.base, &part.cycle.holding_before);
    let place = writer.points(&[part.group]);
    let first_stack = if part.first && holding.iter().any(|count| 0 < *count) {
        format!(" Place the first holding stacks: {}.", writer.named(holding))
    } else {
        String::new()
    };
    let text = format!("At {place}: set each ram on {}.{first_stack}", writer.named(base));
    writer.standing(part.group, |standing| {
        standing.base.clone_from(base);
        standing.holding.clone_from(holding);
        standing.extension = Tenths { least: 0, greatest: 0 };
    });
    writer.push(Said {
        kind: StepKind::SetRams,
        who: SETTERS,
        text: text.into(),
        groups: vec![part.group],
        drop: None,
        check: STACKS_AND_RAMS,
        hold_point: part.first,
    });
}

/// The load comes free, and is proved no higher than the first stop of the raise.
fn prove(writer: &mut Writer<'_>, parts: &[Part], moving: &[usize]) {
    for part in parts {
        writer.on_oil(part.group, &part.cycle, 0);
    }
    free_load(writer, moving);
    let stops = parts.iter().flat_map(|part| part.cycle.follow_up.iter().map(|stop| stop.rise));
    let tops = parts.iter().map(|part| part.cycle.raise);
    let gap = writer.posed.iter().map(|posed| posed.problem.follow_up_gap);
    let rise = stops.filter(|rise| 0 < *rise).chain(tops).chain(gap).fold(PROVE_LIFT_MOST, i64::min);
    if rise <= 0 {
        return;
    }
    for part in parts {
        writer.on_oil(part.group, &part.cycle, rise);
    }
    prove_lift(writer, moving, rise);
}

/// Raises all parts to a rise, each no farther than to its own top.
fn raise_all(writer: &mut Writer<'_>, parts: &[Part], rise: i64, pause: Option<&str>) {
    let target = |part: &Part| rise.min(part.cycle.raise);
    let moving: Vec<&Part> = parts.iter().filter(|part| writer.rise(part.group) < target(part)).collect();
    if moving.is_empty() {
        return;
    }
    let groups: Vec<usize> = moving.iter().map(|part| part.group).collect();
    let tops: Vec<String> = moving
        .iter()
        .map(|part| format!("{} to a rise of {}", writer.points(&[part.group]), in_words_of(length(target(part)))))
        .collect();
    for part in &moving {
        writer.on_oil(part.group, &part.cycle, target(part));
    }
    let all: Vec<usize> = parts.iter().map(|part| part.group).collect();
    let gap = in_words_of(writer.input.settings.follow_up_gap);
    let (how, drop) = match writer.input.second_support {
        _ if writer.input.ram.lock_collar => (format!(", the collars following within {gap}"), None),
        Some(second) => (format!(", {second} following within {gap}"), None),
        None => (String::new(), writer.greatest_drop(&all)),
    };
    let follows = writer.posed.iter().map(|posed| posed.problem.follow_up_gap).max();
    let text = format!("Raise {}{how}{}", tops.join(", "), pause.unwrap_or("."));
    writer.push(Said {
        kind: StepKind::Raise,
        who: OPERATOR,
        text: text.into(),
        groups,
        drop: drop.or(follows),
        check: if pause.is_some() { LEVELS } else { TOP },
        hold_point: false,
    });
}

fn follow_up(writer: &mut Writer<'_>, parts: &[Part]) {
    let mut stops: Vec<(&Part, &FollowUp)> =
        parts.iter().flat_map(|part| part.cycle.follow_up.iter().map(move |stop| (part, stop))).collect();
    stops.sort_by_key(|(part, stop)| (stop.rise, part.group));
    let groups: Vec<usize> = parts.iter().map(|part| part.group).collect();
    for (part, stop) in stops {
        let gap = in_words_of(length(stop.drop_before));
        let pause = format!(
            " and pause, or as soon as the gap over a stack at {} is {gap} if that is sooner.",
            writer.points(&[part.group])
        );
        raise_all(writer, parts, stop.rise, Some(&pause));
        add_piece(writer, part, stop, &groups);
    }
    raise_all(writer, parts, i64::MAX, None);
}

/// The others wait where they are, on oil as well.
fn add_piece(writer: &mut Writer<'_>, part: &Part, stop: &FollowUp, all: &[usize]) {
    // Before the piece is in.
    let drop = writer.greatest_drop(all);
    writer.standing(part.group, |standing| {
        if let Some(count) = standing.holding.get_mut(stop.piece) {
            *count += 1;
        }
    });
    let text = format!(
        "At {}: slide one {} on to each holding stack.",
        writer.points(&[part.group]),
        writer.piece(stop.piece)
    );
    writer.push(Said {
        kind: StepKind::AddPiece,
        who: PACKERS,
        text: text.into(),
        groups: vec![part.group],
        drop,
        check: FLUSH,
        hold_point: false,
    });
}

fn lower(writer: &mut Writer<'_>, parts: &[Part], moving: &[usize]) {
    let drop = writer.drop_while_lowering(moving);
    for part in parts {
        writer.standing(part.group, |standing| {
            standing.rise = part.cycle.rest;
            standing.extension = Tenths { least: 0, greatest: 0 };
            standing.held = Held::Stacks;
        });
    }
    let text = format!(
        "At {}: {}lower the load on to the holding stacks under metered flow, then retract the rams.{}",
        writer.points(moving),
        writer.freed(),
        retract(writer.input)
    );
    writer.push(Said {
        kind: StepKind::Lower,
        who: OPERATOR,
        text: Text::from(text),
        groups: moving.to_vec(),
        drop,
        check: REST,
        hold_point: true,
    });
}

pub(super) fn retract(input: &SequenceInput<'_>) -> &'static str {
    if input.ram.action == crate::ram::Action::SingleActingLoadReturn {
        " The rams do not retract by themselves once the load is off them: push them back by hand or with a bar."
    } else {
        ""
    }
}
