//! What carries the load in each phase.
//!
//! Rams whose oil is connected share one pressure: together they are one support, at the centroid of their areas, and
//! each takes its area's part of it. Every other ram, a locked collar, a stack and a bearing of the load's own is a support
//! by itself.

use super::case::{LoadCase, Placed};
use super::kernel::Vec2;
use super::stiffness::linked_stiffness;
use crate::check::{NoLines, Phase};
use ramwright_units::{Area, Length, Stiffness};
use serde::{Deserialize, Serialize};
use utoipa::ToSchema;

/// What carries at a point.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Carrier {
    /// Its rams, on their oil.
    Ram,
    /// Its rams, on their locked collars.
    Collar,
    /// Its holding stack.
    Packing,
    /// Nothing: the rams are retracted and no stack is under the load.
    Nothing,
}

/// A place where the load bears by itself.
#[derive(Clone, Debug, PartialEq)]
pub struct OwnBearing {
    /// Its name.
    pub id: String,
    /// Position in plan.
    pub x: Length,
    /// Position in plan.
    pub y: Length,
    /// Its stiffness, if known.
    pub stiffness: Option<Stiffness>,
}

/// What carries in one phase.
#[derive(Clone, Debug, PartialEq)]
pub struct PhasePlan {
    /// The phase.
    pub phase: Phase,
    /// Its name among phases of one kind.
    pub name: Option<String>,
    /// What carries at each point, in the order of the points.
    pub carriers: Vec<Carrier>,
    /// Points whose rams are linked, each by its index; every point in one group at most, and carried by its rams.
    pub linked: Vec<Vec<usize>>,
    /// Where the load bears by itself.
    pub own_bearings: Vec<OwnBearing>,
}

impl PhasePlan {
    /// Every ram carries by itself.
    pub fn independent(phase: Phase, points: usize) -> Self {
        Self { phase, name: None, carriers: vec![Carrier::Ram; points], linked: Vec::new(), own_bearings: Vec::new() }
    }

    /// Whether a point hangs on its rams, be it on their oil or on their locked collars.
    pub(super) fn on_rams(&self, index: usize) -> bool {
        matches!(self.carriers.get(index), Some(Carrier::Ram | Carrier::Collar))
    }

    /// How many supports there are in this phase.
    pub fn support_count(&self) -> usize {
        let alone = |index: usize| !self.linked.iter().any(|group| group.contains(&index));
        let single = self.carriers.iter().enumerate().filter(|(i, c)| **c != Carrier::Nothing && alone(*i)).count();
        single + self.linked.len() + self.own_bearings.len()
    }

    /// The phase in words.
    pub(super) fn title(&self) -> String {
        let kind = match self.phase {
            Phase::SettingUp => "setting up",
            Phase::Raising => "raising",
            Phase::Pause => "pause",
            Phase::Holding => "holding",
            Phase::Lowering => "lowering",
        };
        self.name.as_ref().map_or_else(|| kind.to_owned(), |name| format!("{kind} ({name})"))
    }

    /// The phase without what stands at a point: with it goes all that its oil holds.
    pub(super) fn without(&self, lost: usize) -> Self {
        let mut rest = self.clone();
        let group = self.linked.iter().find(|group| group.contains(&lost));
        let gone: Vec<usize> = group.cloned().unwrap_or_else(|| vec![lost]);
        for (index, carrier) in rest.carriers.iter_mut().enumerate() {
            if gone.contains(&index) {
                *carrier = Carrier::Nothing;
            }
        }
        rest.linked.retain(|group| !group.contains(&lost));
        rest
    }
}

/// What a support is.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize, ToSchema)]
#[serde(rename_all = "snake_case")]
pub enum SupportKind {
    /// The rams of one point, on their oil.
    Ram,
    /// The rams of several points, at one pressure.
    LinkedRams,
    /// The rams of one point, on their locked collars.
    Collar,
    /// A holding stack.
    Packing,
    /// A bearing of the load's own.
    OwnBearing,
}

/// A part of a support's reaction that one point takes.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Member {
    /// The point, by its index.
    pub(super) point: usize,
    /// Its part (dimensionless).
    pub(super) part: f64,
}

/// A support in one phase.
#[derive(Clone, Debug, PartialEq)]
pub(super) struct Support {
    pub(super) kind: SupportKind,
    pub(super) name: String,
    /// Where it acts, in the coordinates of the request, in m.
    pub(super) at: Vec2,
    pub(super) stiffness: Option<Stiffness>,
    /// Known level error, in m.
    pub(super) level_m: f64,
    /// The points that take its reaction; none for a bearing of the load's own.
    pub(super) members: Vec<Member>,
}

/// The supports of a phase: points and groups in the order of the points, then the load's own bearings.
pub(super) fn supports(case: &LoadCase, placed: &Placed, plan: &PhasePlan) -> Vec<Support> {
    let mut all: Vec<Support> = Vec::new();
    for index in 0..case.points.len() {
        match plan.linked.iter().find(|group| group.contains(&index)) {
            // A group stands where its first point stands.
            Some(group) if group.iter().min() == Some(&index) => all.extend(linked(case, placed, group)),
            Some(_) => {}
            None => all.extend(single(case, placed, plan, index)),
        }
    }
    all.extend(plan.own_bearings.iter().map(|own| Support {
        kind: SupportKind::OwnBearing,
        name: own.id.clone(),
        at: Vec2::new(own.x.m(), own.y.m()),
        stiffness: own.stiffness,
        level_m: 0.0,
        members: Vec::new(),
    }));
    all
}

fn single(case: &LoadCase, placed: &Placed, plan: &PhasePlan, index: usize) -> Option<Support> {
    let point = case.points.get(index)?;
    let &(x, y) = placed.positions.get(index)?;
    let (kind, (x, y), stiffness) = match plan.carriers.get(index)? {
        Carrier::Ram => (SupportKind::Ram, (x, y), point.stiffness),
        Carrier::Collar => (SupportKind::Collar, (x, y), point.held_stiffness),
        Carrier::Packing => (SupportKind::Packing, point.packing_at.unwrap_or((x, y)), point.held_stiffness),
        Carrier::Nothing => return None,
    };
    Some(Support {
        kind,
        name: point.id.clone(),
        at: Vec2::new(x.m(), y.m()),
        stiffness,
        level_m: point.level.m(),
        members: vec![Member { point: index, part: 1.0 }],
    })
}

/// Linked rams: `R_i = p A_i`, so the reaction acts at the centroid of the areas.
fn linked(case: &LoadCase, placed: &Placed, group: &[usize]) -> Option<Support> {
    let mut group = group.to_vec();
    group.sort_unstable();
    let points: Vec<_> = group.iter().filter_map(|index| case.points.get(*index)).collect();
    let known: Option<Vec<Area>> = points.iter().map(|point| point.ram_area).collect();
    // Equal rams are asked for where areas are not stated; the request says so.
    let areas = known.unwrap_or_else(|| vec![Area::from_m2(1.0); points.len()]);
    let whole: f64 = areas.iter().map(|area| area.m2()).sum();
    if points.len() != group.len() || whole <= 0.0 {
        return None;
    }
    let members: Vec<Member> =
        group.iter().zip(&areas).map(|(&point, area)| Member { point, part: area.m2() / whole }).collect();
    let at = members.iter().try_fold(Vec2::ZERO, |sum, member| {
        let (x, y) = placed.positions.get(member.point)?;
        Some(sum + Vec2::new(x.m(), y.m()) * member.part)
    })?;
    let springs: Option<Vec<(Area, Stiffness)>> =
        points.iter().zip(&areas).map(|(point, &area)| Some((area, point.stiffness?))).collect();
    Some(Support {
        kind: SupportKind::LinkedRams,
        name: points.iter().map(|point| point.id.as_str()).collect::<Vec<_>>().join("+"),
        at,
        stiffness: springs.and_then(|springs| linked_stiffness(&mut NoLines, &springs).ok()),
        // The oil levels itself: a ram that stands high takes no more of the load than its area's part.
        level_m: points.iter().zip(&members).map(|(point, member)| point.level.m() * member.part).sum(),
        members,
    })
}
