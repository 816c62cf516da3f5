//! Sequences that have been planned, by what the planner was asked.

use super::input::SequenceInput;
use super::kernel::{Cures, Problem};
use super::problem::Posed;
use super::result::{PackingSequence, PieceCount, Stopped};
use super::sequence::{posed, sequence_posed};
use crate::effort::Effort;
use std::collections::BTreeMap;
use std::rc::Rc;

/// A sequence, and the different stacks that stand at each point in the course of it: checks ask for them again and again.
#[derive(Clone, Debug, PartialEq)]
pub(crate) struct Planned {
    pub(crate) sequence: PackingSequence,
    /// Stacks of groups of points that are named together.
    groups: Vec<(Vec<String>, Stacks)>,
}

/// Different stacks of one place, each as its pieces, in the order in which they first stand there.
#[derive(Clone, Debug, Default, PartialEq)]
struct Stacks {
    base: Vec<Vec<PieceCount>>,
    holding: Vec<Vec<PieceCount>>,
}

impl Planned {
    fn new(sequence: PackingSequence) -> Self {
        let mut groups: Vec<(Vec<String>, Stacks)> = Vec::new();
        for at in sequence.steps.iter().flat_map(|step| &step.at) {
            let known = groups.iter().position(|(points, _)| *points == at.points).unwrap_or_else(|| {
                groups.push((at.points.clone(), Stacks::default()));
                groups.len() - 1
            });
            let Some((_, stacks)) = groups.get_mut(known) else { continue };
            for (list, pieces) in [(&mut stacks.base, &at.base_stack), (&mut stacks.holding, &at.holding_stack)] {
                if !list.contains(pieces) {
                    list.push(pieces.clone());
                }
            }
        }
        Self { sequence, groups }
    }

    fn at<'p>(&'p self, point: &'p str) -> impl Iterator<Item = &'p Stacks> {
        let here = move |(points, _): &&(Vec<String>, Stacks)| points.iter().any(|other| other == point);
        self.groups.iter().filter(here).map(|(_, stacks)| stacks)
    }

    /// The stacks under a ram of a point.
    pub(crate) fn base_stacks<'p>(&'p self, point: &'p str) -> impl Iterator<Item = &'p [PieceCount]> {
        self.at(point).flat_map(|stacks| &stacks.base).map(Vec::as_slice)
    }

    /// The stacks under the load at a point.
    pub(crate) fn holding_stacks<'p>(&'p self, point: &'p str) -> impl Iterator<Item = &'p [PieceCount]> {
        self.at(point).flat_map(|stacks| &stacks.holding).map(Vec::as_slice)
    }

    /// The ids of the pieces that ever stand under a ram, some of them more than once.
    pub(crate) fn base_pieces(&self) -> impl Iterator<Item = &str> {
        self.groups.iter().flat_map(|(_, stacks)| &stacks.base).flatten().map(|part| part.piece.as_str())
    }

    /// Whether a stack ever stands under the load.
    pub(crate) fn holds_on_stacks(&self) -> bool {
        self.groups.iter().flat_map(|(_, stacks)| &stacks.holding).any(|pieces| !pieces.is_empty())
    }
}

/// What the planner is asked: the pieces by name, and the problem of each group of points with its rams.
type Asked = (Vec<String>, Vec<(u32, Problem)>);

/// Sequences by what the planner was asked, all for one load case and one list of settings.
///
/// Rams of equal closed height, usable stroke and limits of their pieces share one: its heights, pieces and extensions are
/// theirs too, while pressures and oil in it are those of the ram that was asked for first.
pub(crate) struct PlanBook {
    made: BTreeMap<Asked, Rc<Planned>>,
    /// Whether those who ask want least changes.
    pub(crate) cures: Cures,
}

impl PlanBook {
    /// A book with nothing in it.
    pub(crate) fn new(cures: Cures) -> Self {
        Self { made: BTreeMap::new(), cures }
    }

    /// The sequence, planned if it is not in the book.
    ///
    /// # Errors
    /// [`Stopped`] if the caller stopped the work.
    pub(crate) fn sequence(&mut self, input: &SequenceInput<'_>, effort: Effort<'_>) -> Result<Rc<Planned>, Stopped> {
        let posed = posed(input);
        let asked = asked(&posed);
        if let Some(made) = self.made.get(&asked) {
            return Ok(Rc::clone(made));
        }
        let planned = Rc::new(Planned::new(sequence_posed(input, &posed, effort)?));
        self.made.insert(asked, Rc::clone(&planned));
        Ok(planned)
    }
}

fn asked(posed: &[Posed<'_>]) -> Asked {
    let kinds = posed.first().map_or_else(Vec::new, |posed| posed.kinds.iter().map(|kind| kind.id.clone()).collect());
    (kinds, posed.iter().map(|posed| (posed.rams, posed.problem.clone())).collect())
}
