//! Which rams stand where.

use crate::load::{JackingPoint, LoadCase, LoadShares};
use crate::ram::Ram;
use ramwright_units::Force;
use serde::{Deserialize, Serialize};
use std::sync::Arc;
use utoipa::ToSchema;

/// The rams at a point, as they are answered.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, ToSchema)]
pub struct RamsAtPoint {
    /// The point.
    pub point: String,
    /// The model.
    pub ram: String,
    /// How many side by side.
    pub count: u32,
}

/// The rams at one point.
#[derive(Clone, Debug, PartialEq)]
pub struct PlacedRams {
    /// The model.
    pub ram: Arc<Ram>,
    /// How many stand side by side, linked and under a common head plate.
    pub count: u32,
}

/// The rams at all points, in the order of the points.
#[derive(Clone, Debug, PartialEq)]
pub struct RamSet {
    /// One entry a point.
    pub at_points: Vec<PlacedRams>,
}

impl RamSet {
    /// The same model and number at every point.
    pub fn everywhere(ram: &Ram, count: u32, points: usize) -> Self {
        Self { at_points: vec![PlacedRams { ram: Arc::new(ram.clone()), count }; points] }
    }

    /// What stands at each point of a case.
    pub fn named(&self, case: &LoadCase) -> Vec<RamsAtPoint> {
        let pairs = case.points.iter().zip(&self.at_points);
        let named = |(point, placed): (&JackingPoint, &PlacedRams)| RamsAtPoint {
            point: point.id.clone(),
            ram: placed.ram.id.clone(),
            count: placed.count,
        };
        pairs.map(named).collect()
    }

    /// How many rams there are.
    pub fn rams(&self) -> u32 {
        total(self.at_points.iter())
    }

    /// The greatest share that one ram, and so one stack, carries.
    pub fn heaviest_on_one_ram(&self, shares: &LoadShares) -> Force {
        let pairs = self.at_points.iter().zip(&shares.points);
        // A stack that stands elsewhere than the rams may carry more than they do.
        let held = |share: &crate::load::PointShare| share.held.map_or(Force::ZERO, |held| held.greatest);
        pairs
            .map(|(placed, share)| share.share.greatest.max(held(share)) / f64::from(placed.count))
            .fold(Force::ZERO, Force::max)
    }

    /// The most rams that stand at one point.
    pub fn most_at_a_point(&self) -> u32 {
        self.at_points.iter().map(|placed| placed.count).max().unwrap_or(0)
    }

    /// Whether one model does everywhere; if so, which.
    pub fn single_model(&self) -> Option<&Ram> {
        let (first, rest) = self.at_points.split_first()?;
        let same = |placed: &PlacedRams| Arc::ptr_eq(&placed.ram, &first.ram) || placed.ram.id == first.ram.id;
        rest.iter().all(same).then_some(&first.ram)
    }

    /// How many rams of the model with this id are used.
    pub fn rams_of(&self, id: &str) -> u32 {
        total(self.at_points.iter().filter(|placed| placed.ram.id == id))
    }

    /// The same of a ram of the set.
    pub(crate) fn rams_like(&self, ram: &Arc<Ram>) -> u32 {
        let same = |placed: &&PlacedRams| Arc::ptr_eq(&placed.ram, ram) || placed.ram.id == ram.id;
        total(self.at_points.iter().filter(same))
    }
}

/// More than can be counted is the greatest number.
fn total<'a>(placed: impl Iterator<Item = &'a PlacedRams>) -> u32 {
    placed.fold(0, |sum: u32, placed| sum.saturating_add(placed.count))
}
