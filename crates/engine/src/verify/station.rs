//! A point with what stands there and what it carries, and the rules that can be held against it.

use super::raise::Raise;
use super::set::RamSet;
use crate::catalogue::Packing;
use crate::check::{CheckId, Finding, Phase};
use crate::defaults::STOP_PRESSURE_FACTOR;
use crate::load::{JackingPoint, LoadCase, LoadShares};
use crate::packing_lift::PieceCount;
use crate::ram::{CapacityLimit, Ram};
use crate::settings::Settings;
use crate::support::stack::{Stack, UnknownPiece};
use crate::support::{LineOfForce, PointLine};
use ramwright_units::{Force, ForceRange};

/// What every scenario is made from.
#[derive(Clone, Copy)]
pub(crate) struct Context<'a> {
    pub(crate) case: &'a LoadCase,
    pub(crate) set: &'a RamSet,
    pub(crate) settings: &'a Settings,
    pub(crate) packing: &'a [Packing],
    pub(crate) line: &'a LineOfForce,
    /// The stacks at each point, once they are planned; none where nothing is packed.
    pub(crate) stacks: &'a [PointStacks<'a>],
}

/// The different stacks that stand at a point in the course of a sequence, or the piece that is not known.
pub(crate) struct PointStacks<'a> {
    pub(crate) base: Result<Vec<Stack<'a>>, UnknownPiece>,
    pub(crate) holding: Result<Vec<Stack<'a>>, UnknownPiece>,
}

/// Which reserves a check asks for.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Reserve {
    /// Those of ordinary use: working limits, and what the stop pressure adds.
    Ordinary,
    /// Those of an accident: the whole capacity, and the share as it is.
    Accidental,
}

/// A point with what stands there and what it carries.
#[derive(Clone, Copy)]
pub(crate) struct Station<'a> {
    pub(crate) case: &'a LoadCase,
    pub(crate) point: &'a JackingPoint,
    pub(crate) ram: &'a Ram,
    pub(crate) count: u32,
    /// Rams in the whole set, and of this model.
    pub(crate) rams: u32,
    pub(crate) rams_of_model: u32,
    /// Rams that take the horizontal force, in the phase in which fewest do.
    pub(crate) rams_carrying: u32,
    /// The shares of the point's rams.
    pub(crate) shares: ForceRange,
    /// The phase that loads its rams most.
    pub(crate) phase: Phase,
    /// The shares of its holding stack, where they are known apart from the rams'.
    pub(crate) held: Option<ForceRange>,
    pub(crate) settings: &'a Settings,
    pub(crate) packing: &'a [Packing],
    /// What stands over and under all rams, and at this point.
    pub(crate) line: &'a LineOfForce,
    pub(crate) links: &'a PointLine,
    /// The stacks that stand at this point, once they are planned.
    pub(crate) stacks: Option<&'a PointStacks<'a>>,
    pub(crate) reserve: Reserve,
}

/// A check that can be made at a station.
pub(crate) struct Rule<L> {
    pub(crate) id: CheckId,
    /// The phase it belongs to; [`Phase::Raising`] stands for the phase that loads the rams most.
    pub(crate) phase: Phase,
    /// Whether its outcome is the same however the travel is made, so that it can be asked for before that is planned.
    pub(crate) planless: bool,
    pub(crate) check: fn(&Station<'_>, &Raise, &mut L) -> Finding,
}

impl<L> Rule<L> {
    pub(crate) const fn new(id: CheckId, phase: Phase, check: fn(&Station<'_>, &Raise, &mut L) -> Finding) -> Self {
        Self { id, phase, planless: false, check }
    }

    /// The same, its outcome being the same however the travel is made.
    pub(crate) const fn planless(self) -> Self {
        Self { planless: true, ..self }
    }

    /// The phase in which the rule is made at a station.
    pub(crate) fn phase_at(&self, station: &Station<'_>) -> Phase {
        if self.phase == Phase::Raising { station.phase } else { self.phase }
    }
}

impl<'a> Context<'a> {
    /// The stacks of a sequence at each point; every check of stacks asks for them.
    pub(crate) fn stacks_of(self, raise: &Raise) -> Vec<PointStacks<'a>> {
        let Some(planned) = raise.planned() else { return Vec::new() };
        let of = |counts: &mut dyn Iterator<Item = &[PieceCount]>| counts.map(|c| Stack::of(c, self.packing)).collect();
        let at = |point: &JackingPoint| PointStacks {
            base: of(&mut planned.base_stacks(&point.id)),
            holding: of(&mut planned.holding_stacks(&point.id)),
        };
        self.case.points.iter().map(at).collect()
    }

    /// A station of each point.
    pub(crate) fn stations(self, shares: &'a LoadShares, reserve: Reserve) -> impl Iterator<Item = Station<'a>> {
        let rams = self.set.rams();
        let at_points = &self.set.at_points;
        let rams_carrying = self.case.fewest_carrying(|index| at_points.get(index).map_or(0, |placed| placed.count));
        let triples = self.case.points.iter().zip(at_points).zip(&shares.points).enumerate();
        triples.map(move |(index, ((point, placed), share))| Station {
            case: self.case,
            point,
            ram: &placed.ram,
            count: placed.count,
            rams,
            rams_carrying,
            rams_of_model: self.set.rams_like(&placed.ram),
            shares: share.share,
            phase: governing_phase(shares, share.governing_phase),
            held: share.held,
            settings: self.settings,
            packing: self.packing,
            line: self.line,
            links: self.line.at(index),
            stacks: self.stacks.get(index),
            reserve,
        })
    }
}

fn governing_phase(shares: &LoadShares, index: Option<u32>) -> Phase {
    let index = index.and_then(|index| usize::try_from(index).ok());
    index.and_then(|index| shares.phases.get(index)).map_or(Phase::Raising, |phase| phase.phase)
}

impl Station<'_> {
    /// The greatest share of the point.
    pub(crate) fn share(&self) -> Force {
        self.shares.greatest
    }

    /// The greatest share of one ram.
    pub(crate) fn share_of_one(&self) -> Force {
        self.share() / f64::from(self.count)
    }

    /// The shares of the holding stacks of the point: their own where they are known apart, else those of the rams.
    pub(crate) fn on_stacks(&self) -> ForceRange {
        self.held.unwrap_or(self.shares)
    }

    /// The part of the capacity that counts.
    pub(crate) fn capacity_limit(&self) -> CapacityLimit {
        match self.reserve {
            Reserve::Ordinary => CapacityLimit::Working(self.settings.capacity_limit),
            Reserve::Accidental => CapacityLimit::Accidental,
        }
    }

    /// By how much a ram that meets resistance goes on pushing: its stop would end an accident.
    pub(crate) fn stop_factor(&self) -> f64 {
        match self.reserve {
            Reserve::Ordinary => STOP_PRESSURE_FACTOR,
            Reserve::Accidental => 1.0,
        }
    }

    /// The name of a field of the point.
    pub(crate) fn field(&self, name: &str) -> String {
        format!("load_case/points/{}/{name}", self.point.id)
    }

    /// The same where it is missing; searches ask often, and mostly for what is known.
    pub(crate) fn field_unless(&self, known: bool, name: &str) -> String {
        if known { String::new() } else { self.field(name) }
    }

    /// The name of a value of the ram, where it is missing.
    pub(crate) fn of_ram_unless(&self, known: bool, name: &str) -> String {
        if known { String::new() } else { format!("rams/{}/{name}", self.ram.id) }
    }

    /// The name of a field of the line of force, where it is missing.
    pub(crate) fn link_unless(&self, known: bool, name: &str) -> String {
        if known { String::new() } else { self.link(name) }
    }

    /// The name of a field of what stands in the line of force at the point.
    pub(crate) fn link(&self, name: &str) -> String {
        format!("line_of_force/everywhere/{name} or line_of_force/at_points/{}/{name}", self.point.id)
    }
}
