//! How the rams get through the travel: in one stroke, in packing lifts, or not.

use super::demand::stack_demand;
use super::points_alike::{enter_shares, points_alike};
use super::set::RamSet;
use super::station::Context;
use crate::check::{Finding, Ledger, Status};
use crate::effort::Effort;
use crate::load::{LoadCase, LoadShares, Task};
use crate::packing_lift::{
    Direction, Manner, PackingSequence, PlanBook, Planned, SequenceInput, SequenceOutcome, StackDemand, Stopped,
};
use crate::ram::{Pad, Ram, extension_before_a_pull, extension_in_frame, room_of_one, stroke};
use crate::settings::Settings;
use ramwright_units::Length;
use std::rc::Rc;

/// How the travel is made.
#[derive(Clone, Debug, PartialEq)]
pub(crate) enum Raise {
    /// In a machine frame: one stroke from the opening.
    InFrame,
    /// A load raised and packed.
    Sequence(Rc<Planned>),
    /// Inputs for a sequence are missing.
    Unknown(Vec<&'static str>),
}

impl Raise {
    /// The highest base stack under a ram.
    pub(crate) fn base_stack(&self) -> Length {
        match self {
            Self::Sequence(planned) => planned.sequence.greatest_base_stack,
            Self::InFrame | Self::Unknown(_) => Length::ZERO,
        }
    }

    /// The sequence with its stacks, if there is one, whether it can be carried out or not.
    fn of_stacks(&self) -> Option<&Planned> {
        match self {
            Self::Sequence(planned) => Some(planned),
            Self::InFrame | Self::Unknown(_) => None,
        }
    }

    /// The sequence, if there is one, whether it can be carried out or not.
    pub(crate) fn sequence(&self) -> Option<&PackingSequence> {
        self.of_stacks().map(|planned| &planned.sequence)
    }

    /// The sequence with its stacks, if it is one that can be carried out.
    pub(crate) fn planned(&self) -> Option<&Planned> {
        self.of_stacks().filter(|planned| planned.sequence.cycles.is_some())
    }

    /// The sequence, if it is one that can be carried out.
    pub(crate) fn found(&self) -> Option<&PackingSequence> {
        self.planned().map(|planned| &planned.sequence)
    }

    /// The ids of the pieces that ever stand under a ram.
    pub(crate) fn base_pieces(&self) -> impl Iterator<Item = &str> {
        self.of_stacks().into_iter().flat_map(Planned::base_pieces)
    }

    /// The greatest extension, as far as it is known: at worst the whole usable stroke.
    pub(crate) fn extension(&self, ram: &Ram, settings: &Settings) -> Length {
        self.found().map_or_else(|| settings.stroke_limit.usable(ram.stroke), |sequence| sequence.greatest_extension)
    }
}

/// Finds how the travel is made: by the sequence whose stacks carry or, if there is none, by the best of all others, of which
/// the checks say what is too weak.
///
/// # Errors
/// [`Stopped`] if the caller stopped the work.
pub(crate) fn plan_raise(
    context: Context<'_>,
    shares: &LoadShares,
    book: &mut PlanBook,
    effort: Effort<'_>,
) -> Result<Raise, Stopped> {
    let demand = stack_demand(context, shares);
    let rules_out = demand.rules_out();
    let raise = plan_with(context, (shares, demand), book, effort)?;
    if !rules_out || raise.sequence().is_none() || raise.found().is_some() {
        return Ok(raise);
    }
    let other = plan_with(context, (shares, StackDemand::UNKNOWN), book, effort)?;
    Ok(if other.found().is_some() { other } else { raise })
}

fn plan_with(
    context: Context<'_>,
    (shares, stacks): (&LoadShares, StackDemand<'_>),
    book: &mut PlanBook,
    effort: Effort<'_>,
) -> Result<Raise, Stopped> {
    let Context { case, set, settings, packing, .. } = context;
    if case.task != Task::Raise {
        return Ok(Raise::InFrame);
    }
    let mut groups = match points_alike(case, set) {
        Ok(groups) => groups,
        Err(missing) => return Ok(Raise::Unknown(vec![missing])),
    };
    enter_shares(&mut groups, set, shares);
    let Some(ram) = set.single_model() else {
        return Ok(Raise::Unknown(vec!["one model of ram at every point; a sequence for several models is not made"]));
    };
    let input = SequenceInput {
        groups: &groups,
        travel: case.travel,
        direction: &Direction::Raise,
        manner: Manner::Together,
        ram,
        share: set.heaviest_on_one_ram(shares),
        base_room: base_room(case, set, settings),
        stacks,
        second_support: None,
        settings,
        pieces: packing,
        cures: book.cures,
    };
    book.sequence(&input, effort).map(Raise::Sequence)
}

/// The least room that a base stack has on any pad that is known.
pub(crate) fn base_room(case: &LoadCase, set: &RamSet, settings: &Settings) -> Option<Pad> {
    let rooms = case.points.iter().zip(&set.at_points).filter_map(|(point, placed)| {
        room_of_one(placed.ram.base_diameter, placed.count, settings.side_by_side_spacing, point.pad?)
    });
    rooms.reduce(|a, b| Pad { length: a.length.min(b.length), width: a.width.min(b.width) })
}

/// The stroke check for one ram.
pub(crate) fn stroke_finding(
    book: &mut impl Ledger,
    case: &LoadCase,
    clearance: Option<Length>,
    ram: &Ram,
    settings: &Settings,
    raise: &Raise,
) -> Finding {
    match raise {
        Raise::Unknown(missing) => Finding::missing(missing.iter().copied()),
        Raise::InFrame => {
            let Some(opening) = clearance else {
                return Finding::missing(["load_case/points/*/clearance"]);
            };
            let (closed, plates) = (ram.closed_height, settings.plates);
            let needed = match case.task {
                Task::Pull => extension_before_a_pull(book, opening, closed, plates),
                Task::Raise | Task::Press => extension_in_frame(book, opening, closed, plates, case.travel),
            };
            stroke(book, needed, ram.stroke, settings.stroke_limit)
        }
        Raise::Sequence(planned) => match planned.sequence.outcome {
            SequenceOutcome::Optimal | SequenceOutcome::WithinEffort => {
                stroke(book, planned.sequence.greatest_extension, ram.stroke, settings.stroke_limit)
            }
            SequenceOutcome::NotFound => Finding::missing(["settings/search_states: more of them"]),
            SequenceOutcome::Infeasible => match reason_code(&planned.sequence) {
                "no_progress" | "packing_lifts_not_allowed" => {
                    Finding::judged(Status::Fail, reason_text(&planned.sequence))
                }
                // Without a sequence the extension is not known; the holding check says what stands in the way.
                _ => Finding::missing(["a sequence; see the check of holding"]),
            },
        },
    }
}

/// The holding check.
pub(crate) fn holding_finding(raise: &Raise, stacks_at_a_point: u32) -> Finding {
    match raise {
        Raise::InFrame => Finding::judged(Status::Pass, "nothing is held up: the ram works in a frame"),
        Raise::Unknown(missing) => Finding::missing(missing.iter().copied()),
        Raise::Sequence(planned) => match planned.sequence.outcome {
            SequenceOutcome::Optimal | SequenceOutcome::WithinEffort if 1 < stacks_at_a_point => Finding::judged(
                Status::Caution,
                "several stacks stand at one point and share by their heights: pack them to one level, or let each carry the whole share",
            ),
            SequenceOutcome::Optimal | SequenceOutcome::WithinEffort => match planned.sequence.ending {
                Some(crate::packing_lift::Ending::OnLockCollars) => {
                    Finding::judged(Status::Pass, "the load ends on the lock collars; see the sequence")
                }
                _ => Finding::judged(Status::Pass, "the load ends on its holding stacks; see the sequence"),
            },
            SequenceOutcome::NotFound => Finding::missing(["settings/search_states: more of them"]),
            SequenceOutcome::Infeasible => Finding::judged(Status::Fail, reason_text(&planned.sequence)),
        },
    }
}

pub(crate) fn reason_code(sequence: &PackingSequence) -> &str {
    sequence.reason.as_ref().map_or("", |reason| reason.code.as_str())
}

/// The reason with the first of its least changes.
pub(crate) fn reason_text(sequence: &PackingSequence) -> String {
    let Some(reason) = &sequence.reason else { return String::new() };
    match reason.least_changes.first() {
        Some(change) => format!("{}; it would do with {change}", reason.text),
        None => reason.text.to_string(),
    }
}
