//! Which rams stand where.

use crate::load::LoadShares;
use crate::ram::Ram;
use ramwright_units::Force;

/// The rams at one point.
#[derive(Clone, Debug, PartialEq)]
pub struct PlacedRams {
    /// The model.
    pub ram: Ram,
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
        Self { at_points: vec![PlacedRams { ram: ram.clone(), count }; points] }
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
        rest.iter().all(|placed| placed.ram.id == first.ram.id).then_some(&first.ram)
    }

    /// How many rams of the model with this id are used.
    pub fn rams_of(&self, id: &str) -> u32 {
        total(self.at_points.iter().filter(|placed| placed.ram.id == id))
    }
}

/// More than can be counted is the greatest number.
fn total<'a>(placed: impl Iterator<Item = &'a PlacedRams>) -> u32 {
    placed.fold(0, |sum: u32, placed| sum.saturating_add(placed.count))
}
