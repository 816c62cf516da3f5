//! The checks of the load as a whole.

use super::case::{Horizontal, LoadCase, Placed, Rule, Task};
use super::phase::Solved;
use super::phases::PhasePlan;
use super::result::Method;
use super::tipping::{Reach, finding};
use crate::check::{Check, CheckId, Finding, Lines, Phase, Place, Scenario, Status};
use crate::defaults::HORIZONTAL_SHARE;
use crate::force::hub_bore;

/// The checks where reactions are stated.
pub(super) fn of_stated(case: &LoadCase) -> Vec<Check> {
    if case.task != Task::Raise {
        return hub_bores(case);
    }
    let horizontal = Finding::judged(
        Status::Caution,
        "the stated reactions are taken to include the effect of every horizontal force",
    );
    vec![whole(CheckId::Tipping, no_positions()), whole(CheckId::HorizontalForce, horizontal)]
}

/// The hubs of the interference fits from which forces were estimated.
fn hub_bores(case: &LoadCase) -> Vec<Check> {
    let fits = case.record.estimates.iter().filter_map(|estimate| Some((&estimate.point, estimate.fit.as_ref()?)));
    fits.map(|(point, fit)| {
        let mut lines = Lines::default();
        let missing = format!("load_case/points/{point}/estimated_reaction/interference_fit/hub_yield");
        let finding = hub_bore(&mut lines, fit, &missing);
        in_phase(CheckId::HubBore, point, Phase::Raising, finding, lines)
    })
    .collect()
}

/// The checks where nothing says where the points are.
pub(super) fn without_positions() -> Vec<Check> {
    vec![whole(CheckId::Tipping, no_positions()), whole(CheckId::HorizontalForce, no_positions())]
}

fn no_positions() -> Finding {
    Finding::missing(["load_case/points/*/x and y", "load_case/centre_of_gravity"])
}

fn whole(id: CheckId, finding: Finding) -> Check {
    in_phase(id, "load", Phase::Raising, finding, Lines::default())
}

fn in_phase(id: CheckId, subject: &str, phase: Phase, finding: Finding, lines: Lines) -> Check {
    Check::new(&Place { id, subject, scenario: Scenario::AsPlanned, phase }, finding, lines)
}

/// The checks of all phases: tipping, levels and contact in each, the rest once.
pub(super) fn of_phases(case: &LoadCase, placed: &Placed, solved: &[Solved<'_>]) -> Vec<Check> {
    if case.task != Task::Raise {
        return Vec::new();
    }
    let mut checks = Vec::new();
    for phase in solved {
        let mut lines = Lines::default();
        let reach = Reach::of(&phase.ground.stance, &phase.ground.domain);
        let tips = finding(case, placed, &phase.ground.stance, &reach, &mut lines);
        let subject = subject(phase.plan);
        checks.push(in_phase(CheckId::Tipping, &subject, phase.plan.phase, tips, lines));
        let others = [(CheckId::LevelErrors, levels(placed, phase)), (CheckId::Contact, contact(phase))];
        for (id, finding) in others {
            checks.extend(finding.map(|f| in_phase(id, &subject, phase.plan.phase, f, Lines::default())));
        }
    }
    checks.push(whole(CheckId::HorizontalForce, horizontal(case, placed)));
    checks.push(whole(CheckId::Tolerances, tolerances(case, placed)));
    checks.extend(weighing(case).map(|finding| whole(CheckId::Weighing, finding)));
    checks.extend(phases(case, solved).map(|finding| whole(CheckId::Phases, finding)));
    checks
}

fn subject(plan: &PhasePlan) -> String {
    plan.name.clone().unwrap_or_else(|| "load".to_owned())
}

fn horizontal(case: &LoadCase, placed: &Placed) -> Finding {
    if case.lacks_height(&placed.centre) {
        return Finding::missing(["load_case/centre_of_gravity/z"]);
    }
    let least_wanted = case.weight.greatest * HORIZONTAL_SHARE;
    let rounding = 1.0 - 1e-12;
    if case.greatest_horizontal() < least_wanted * rounding {
        return Finding::judged(
            Status::Caution,
            "the request sets the horizontal force below 2.5 % of the weight; use that only where guides or the place rule more out",
        );
    }
    if let Horizontal::AtLeast(_) = case.actions.horizontal {
        return Finding::judged(
            Status::Pass,
            "2.5 % of the weight in any direction, or wind and slope where they are more, in every share and in the distance from tipping",
        );
    }
    Finding::judged(Status::Pass, "taken into account in every share and in the distance from tipping")
}

fn tolerances(case: &LoadCase, placed: &Placed) -> Finding {
    let weight = case.weight;
    let centre = [placed.centre.x, placed.centre.y].map(|range| (range.greatest - range.least).m());
    // A girder's loads stand in one line, so there is nothing across it.
    let exactly = match placed.rule {
        Rule::Girder(_) => centre.iter().all(|width| *width <= 0.0),
        _ => centre.iter().any(|width| *width <= 0.0),
    };
    if (weight.greatest - weight.least).n() <= 0.0 || exactly {
        return Finding::judged(
            Status::Caution,
            "a tolerance of zero for weight or centre of gravity: nothing is known so well",
        );
    }
    if case.record.guessed_centre {
        return Finding::judged(
            Status::Caution,
            "the place of the centre of gravity is a guess: find it, or weigh the load, before the lift",
        );
    }
    Finding::judged(Status::Pass, "weight and centre of gravity are taken within their tolerances")
}

fn levels(placed: &Placed, phase: &Solved<'_>) -> Option<Finding> {
    match phase.method {
        Method::Elastic | Method::Girder if placed.level_band.is_none() => {
            Some(Finding::missing(["load_case/level_tolerance", "load_case/support_stiffness or points/*/stiffness"]))
        }
        Method::Elastic | Method::Girder if placed.half_band_m() <= 0.0 => {
            Some(Finding::judged(Status::Caution, "a level tolerance of zero: nothing stands so level"))
        }
        Method::Elastic | Method::Girder => {
            Some(Finding::judged(Status::Pass, "the level band was taken into account at every support"))
        }
        Method::WorstEquilibrium => {
            Some(Finding::judged(Status::Pass, "the worst equilibrium covers every level error"))
        }
        Method::Statics | Method::Stated | Method::Equal => None,
    }
}

/// Whether every support keeps its load; where any equilibrium is allowed for, a least share of nothing says little.
fn contact(phase: &Solved<'_>) -> Option<Finding> {
    if phase.method == Method::WorstEquilibrium || phase.ground.supports.len() < 3 {
        return None;
    }
    let lifts = phase.carried.iter().any(|carried| carried.least.reaction_n <= 0.0);
    Some(if lifts {
        Finding::judged(
            Status::Caution,
            "a support can lose its load within the tolerances: the others take it, a ram there does not retract by itself under no load, and its packing must be kept in touch",
        )
    } else {
        Finding::judged(Status::Pass, "every support keeps some of the load within all tolerances")
    })
}

fn weighing(case: &LoadCase) -> Option<Finding> {
    let weighed = case.record.weighed.as_ref()?;
    Some(if weighed.misfit.agrees {
        Finding::judged(Status::Pass, "the readings agree with the drawing within the tolerances of both")
    } else {
        Finding::judged(
            Status::Caution,
            "the readings do not agree with the drawing within the tolerances of both: find out why before the lift goes on",
        )
    })
}

/// Linked rams stand by themselves as soon as their valves are shut, so a pause needs its own answer.
fn phases(case: &LoadCase, solved: &[Solved<'_>]) -> Option<Finding> {
    let carries = |index: usize| solved.iter().any(|phase| phase.plan.on_rams(index));
    // Rams that carry in no phase stated have no share, which must not be read as a pass.
    if let Some((_, idle)) = case.points.iter().enumerate().find(|(index, _)| !carries(*index)) {
        return Some(Finding::missing([format!("load_case/phases: one in which the rams of point {} carry", idle.id)]));
    }
    let linked = solved.iter().any(|phase| !phase.plan.linked.is_empty());
    if !linked {
        return None;
    }
    let still = solved.iter().any(|phase| matches!(phase.plan.phase, Phase::Pause | Phase::Holding));
    Some(if still {
        Finding::judged(Status::Pass, "what carries while the rams stand still is stated")
    } else {
        Finding::missing(["load_case/phases: what carries in a pause, when the valves between linked rams may be shut"])
    })
}
