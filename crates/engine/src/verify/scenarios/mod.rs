//! What happens when the load is heavier than stated, when levels or horizontal forces go beyond what was planned, and when
//! a ram or a point is lost. Each of these is an accident: the whole capacity may be used, the stop pressure adds nothing.

mod lost;

pub(super) use lost::lost_in_turn;

use super::checks::capacity_check;
use super::raise::Raise;
use super::rules::{tips, worst_of};
use super::sink::Sink;
use super::station::{Context, Reserve};
use super::worked::{Otherwise, Worked};
use crate::check::{CheckId, Finding, NoLines};
use crate::load::Task;

/// The scenarios in which the whole load acts otherwise than planned.
pub(super) fn load_otherwise<S: Sink>(context: Context<'_>, worked: &Worked, raise: &Raise, sink: &mut S) {
    for otherwise in &worked.otherwise {
        if sink.is_full() {
            return;
        }
        of_case(Context { case: &otherwise.case, ..context }, otherwise, raise, sink);
    }
}

/// The capacity where a load that acts otherwise asks most of it: what no working limit changes.
pub(crate) fn capacity_otherwise(context: Context<'_>, worked: &Worked) -> Option<Finding> {
    let findings = worked.otherwise.iter().filter_map(|otherwise| {
        let shares = otherwise.shares.as_ref().ok()?;
        let stations = Context { case: &otherwise.case, ..context }.stations(shares, Reserve::Accidental);
        let findings = stations.map(|station| capacity_check(&station, &Raise::Unknown(Vec::new()), &mut NoLines));
        findings.reduce(worse)
    });
    findings.reduce(worse)
}

fn worse(a: Finding, b: Finding) -> Finding {
    if b.is_worse_than(&a) { b } else { a }
}

/// Everything that the forces decide, at the point where it is worst, and what the load as a whole then does.
fn of_case<S: Sink>(context: Context<'_>, otherwise: &Otherwise, raise: &Raise, sink: &mut S) {
    let scenario = otherwise.scenario;
    let shares = match &otherwise.shares {
        Ok(shares) => shares,
        Err(reason) => return tips(scenario, reason, sink),
    };
    if context.case.task == Task::Raise {
        for check in shares.checks.iter().filter(|check| check.id == CheckId::Tipping) {
            sink.of_load(check, scenario);
        }
    }
    let stations: Vec<_> = context.stations(shares, Reserve::Accidental).collect();
    worst_of(&stations, context.case.task, raise, scenario, sink);
}
