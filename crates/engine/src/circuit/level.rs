//! The level difference that the division of the flow lets through.

use super::input::{CircuitInput, FlowDivision};
use super::model::UnequalPressures;
use crate::check::{Check, CheckId, Finding, Lines, Phase, Place, Scenario, Source, Status};
use crate::line;
use ramwright_units::Length;

const SPLIT: Source = Source::definition(
    "two points whose flows are off the mean by the error, to either side, come apart by twice the error x the rise between two levellings",
);
const MANIFOLD: Source = Source::definition(
    "on one open manifold the oil goes where the least pressure is: a point can run ahead of another by the whole raise",
);

/// Whether the level difference that can arise in a raise is within the level tolerance.
///
/// # Source
/// Definition.
///
/// # Validity
/// Equal rams; leaks and compression of the oil not counted. With one point there is nothing to keep level. Pressures
/// that are equal today do not hold points level on one open manifold: nothing brings back a point that runs ahead.
pub(super) fn level_control(input: &CircuitInput, unequal: Option<&UnequalPressures>) -> Check {
    let place =
        Place { id: CheckId::LevelControl, subject: "set", scenario: Scenario::AsPlanned, phase: Phase::Raising };
    let mut lines = Lines::default();
    let finding = if input.points.len() < 2 {
        Finding::judged(Status::Pass, "one point has no other to be level with")
    } else {
        divided(&mut lines, input, unequal)
    };
    Check::new(&place, finding, lines)
}

fn divided(book: &mut Lines, input: &CircuitInput, unequal: Option<&UnequalPressures>) -> Finding {
    let tolerance = input.level_tolerance;
    match input.conditions.flow_division {
        None => Finding::missing(["circuit/flow_division"]),
        Some(FlowDivision::Manifold) => {
            let apart = line!(book, dz: Length = s - a; s = input.extension, a = input.approach; MANIFOLD);
            let first = unequal.map_or_else(String::new, |unequal| {
                format!(
                    "{} rises first, {} last, which needs {:.0} bar more; ",
                    unequal.first,
                    unequal.heaviest,
                    unequal.difference.bar()
                )
            });
            Finding::compare(apart, tolerance)
                .with_note(format!("{first}nothing on one open manifold brings back a point that runs ahead"))
                .with_remedy(|| "a valve for each point, or a pump that splits the flow")
        }
        Some(FlowDivision::SplitFlow { error, levelled_every }) => {
            let raise = input.extension - input.approach;
            let rise = levelled_every.map_or(raise, |every| every.min(raise));
            let apart = line!(book, dz: Length = 2.0 * e * s; e = error, s = rise; SPLIT);
            Finding::compare(apart, tolerance).with_remedy(|| {
                format!("level all points after every {:.0} mm of rise", (tolerance.mm() / (2.0 * error)).floor())
            })
        }
        Some(FlowDivision::ValvePerPoint { held_within: None }) => {
            Finding::missing(["circuit/flow_division/held_within"])
        }
        Some(FlowDivision::ValvePerPoint { held_within: Some(held) }) => Finding::compare(held, tolerance)
            .with_note("within which difference the points are held is as stated: have the strokes read at each pause"),
    }
}
