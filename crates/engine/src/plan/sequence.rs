//! The packing-lift sequence of a ram set, up, down or end by end.

use super::tilt::{enter_tilted, follows, tilted};
use crate::EngineError;
use crate::defaults::STOP_PRESSURE_FACTOR;
use crate::effort::Effort;
use crate::load::envelope_alone;
use crate::packing_lift::{
    Cures, Direction, Manner, PackingSequence, PointsAlike, SequenceInput, sequence_packing_lifts,
};
use crate::ram::Ram;
use crate::verify::{VerifyInput, base_room, enter_shares, points_alike, points_of_ends, stack_demand};
use ramwright_units::Length;

/// Two ends that go up in turn.
#[derive(Clone, Debug, PartialEq)]
pub struct EndByEnd {
    /// The points of each end.
    pub ends: [Vec<String>; 2],
    /// By how much the ends may differ in height.
    pub greatest_difference: Length,
}

/// Which way a load goes, and how.
#[derive(Clone, Debug, PartialEq)]
pub struct HowItGoes {
    /// Up or down.
    pub direction: Direction,
    /// The ends, if they go up in turn.
    pub end_by_end: Option<EndByEnd>,
    /// What else carries the load while holding stacks are rebuilt.
    pub second_support: Option<String>,
}

impl HowItGoes {
    /// The points in the groups in which they are packed alike; what they carry is still to be entered.
    ///
    /// # Source
    /// None: only sorts.
    ///
    /// # Validity
    /// Any load case.
    ///
    /// # Errors
    /// What is missing, or what differs and may not.
    pub fn groups(&self, input: &VerifyInput) -> Result<Vec<PointsAlike>, &'static str> {
        match &self.end_by_end {
            Some(by_end) if !follows(&input.case, by_end) => Err(
                "the points of each end on one line, and both lines parallel: the load turns about the end that stands",
            ),
            Some(by_end) => points_of_ends(&input.case, &input.set, &by_end.ends),
            None => points_alike(&input.case, &input.set),
        }
    }
}

/// The packing-lift sequence of a set, with the greatest share of one ram from the load case.
///
/// # Source
/// See the planner.
///
/// # Validity
/// One model of ram; `groups` as [`HowItGoes::groups`] gives them.
///
/// # Errors
/// [`EngineError`]: no equilibrium at the expected values, or stopped by the caller.
pub fn sequence_lift(
    input: &VerifyInput,
    ram: &Ram,
    how: &HowItGoes,
    groups: &[PointsAlike],
    effort: Effort<'_>,
) -> Result<PackingSequence, EngineError> {
    let shares = envelope_alone(&input.case)?;
    let mut groups = groups.to_vec();
    let mut heaviest = input.set.heaviest_on_one_ram(&shares);
    match &how.end_by_end {
        None => enter_shares(&mut groups, &input.set, &shares),
        Some(by_end) => heaviest = enter_tilted(input, by_end, &mut groups)?.max(heaviest),
    }
    let mut stacks = stack_demand(input.context(), &shares);
    stacks.on_base.force = stacks.on_base.force.max(heaviest * STOP_PRESSURE_FACTOR);
    stacks.on_holding.force = stacks.on_holding.force.max(heaviest);
    let job = SequenceInput {
        groups: &groups,
        travel: input.case.travel,
        direction: &how.direction,
        manner: match &how.end_by_end {
            None => Manner::Together,
            Some(by_end) => Manner::EndByEnd { greatest_difference: by_end.greatest_difference },
        },
        ram,
        share: heaviest,
        stacks,
        base_room: base_room(&input.case, &input.set, &input.settings),
        second_support: how.second_support.as_deref(),
        settings: &input.settings,
        pieces: &input.packing,
        cures: Cures::Sought,
    };
    let mut sequence = sequence_packing_lifts(&job, effort)?;
    if let Some(by_end) = &how.end_by_end {
        sequence.tilted = tilted(input, by_end, &sequence)?;
    }
    Ok(sequence)
}
