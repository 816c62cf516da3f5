//! Every load that must be held: its weight, the place of its centre of gravity, and what pushes it sideways.
//!
//! The load acts in the plane of the supports as a resultant: a weight W at the place `g + m / W`, with `g` the centre
//! of gravity in plan and `m` the moment of the horizontal forces about that plane, as a vector that points where they
//! push (N m). So `sum R_i = W` and `sum R_i p_i = W g + m`. The set of all (W, W g + m) is convex: it is described
//! here by what it reaches in a direction, `d . (W g + m) <= W per_weight_m(d) + push_nm(d)`.

use super::geometry::{GREATEST_LENGTH_M, InputError, Vec2, check_points};
use super::region::{CentreSpread, axes, polygon_normals};

/// Greatest force accepted, in N, and greatest moment, in N m: far above any load, far below where products overflow.
const GREATEST_LOAD: f64 = 1e15;

/// Moments of horizontal forces about the plane of the supports, whatever the weight is.
#[derive(Debug, Clone, PartialEq)]
pub(crate) struct PushSpread {
    radius_nm: f64,
    directed_nm: Vec<Vec2>,
}

impl PushSpread {
    /// No horizontal force.
    #[cfg(test)]
    pub(crate) const NONE: Self = Self { radius_nm: 0.0, directed_nm: Vec::new() };

    /// Forces of unknown direction with this moment together (N m), and forces of known direction, each with its moment
    /// as a vector where it pushes (N m); each may be of any size up to its greatest.
    ///
    /// # Errors
    /// [`InputError::Spread`] if a number is not finite, too large, or the radius is negative.
    pub(crate) fn new(radius_nm: f64, directed_nm: Vec<Vec2>) -> Result<Self, InputError> {
        let usable = |v: f64| v.abs() <= GREATEST_LOAD;
        let all = directed_nm.iter().all(|v| usable(v.x) && usable(v.y));
        if usable(radius_nm) && 0.0 <= radius_nm && all {
            Ok(Self { radius_nm, directed_nm })
        } else {
            Err(InputError::Spread)
        }
    }

    /// Greatest growth of the linear function `gradient . m`, in N m for a unit gradient: exact, with the true disc.
    ///
    /// # Source
    /// Support function of a disc and of segments; that of a sum of sets is the sum.
    ///
    /// # Validity
    /// Any finite gradient.
    pub(crate) fn reach(&self, gradient: Vec2) -> f64 {
        let directed = self.directed_nm.iter().fold(0.0, |sum, v| sum + gradient.dot(*v).max(0.0));
        gradient.length() * self.radius_nm + directed
    }

    /// The moment that lies farthest in a direction, in N m.
    fn farthest(&self, direction: Vec2) -> Vec2 {
        let round = direction.unit().map_or(Vec2::ZERO, |unit| unit * self.radius_nm);
        self.directed_nm.iter().filter(|v| 0.0 < direction.dot(**v)).fold(round, |sum, v| sum + *v)
    }
}

/// All weights and places of the resultant that must be held.
#[derive(Debug, Clone, PartialEq)]
pub(crate) struct LoadDomain {
    /// Least weight, in N.
    pub least_n: f64,
    /// Expected weight, in N.
    pub expected_n: f64,
    /// Greatest weight, in N.
    pub greatest_n: f64,
    /// Expected place of the centre of gravity, in m.
    pub expected_at: Vec2,
    /// Middle of the box in which the centre of gravity may be, in m.
    pub middle: Vec2,
    /// The box about its middle, and the disc of horizontal forces in proportion to the weight.
    pub spread: CentreSpread,
    /// Horizontal forces that do not depend on the weight.
    pub push: PushSpread,
}

impl LoadDomain {
    /// Refuses what cannot be computed with.
    ///
    /// # Errors
    /// [`InputError::Weight`] unless the weights are positive and in order; [`InputError::Coordinate`].
    pub(crate) fn check(&self) -> Result<(), InputError> {
        check_points(&[self.expected_at, self.middle])?;
        let ordered = 0.0 < self.least_n && self.least_n <= self.expected_n && self.expected_n <= self.greatest_n;
        if ordered && self.greatest_n <= GREATEST_LOAD { Ok(()) } else { Err(InputError::Weight) }
    }

    /// Greatest coordinate of the resultant in a direction for a weight of one, apart from the pushes, in m.
    pub(crate) fn per_weight_m(&self, direction: Vec2) -> f64 {
        direction.dot(self.middle) + self.spread.reach(direction)
    }

    /// Reach of the box alone from the expected centre, in m for a unit direction.
    pub(crate) fn box_reach_m(&self, direction: Vec2) -> f64 {
        direction.dot(self.middle - self.expected_at) + self.spread.box_reach(direction)
    }

    /// The resultant of this weight (N) that lies farthest in a direction, in m.
    pub(crate) fn member(&self, direction: Vec2, weight_n: f64) -> Vec2 {
        self.middle + self.spread.farthest(direction) + self.push.farthest(direction) * (1.0 / weight_n)
    }

    /// The same loads with a horizontal force in proportion to the weight that reaches farther by this, in m; `None` if
    /// that is no number.
    pub(crate) fn with_disc_wider(&self, by_m: f64) -> Option<Self> {
        Some(Self { spread: self.spread.with_disc_wider(by_m).ok()?, ..self.clone() })
    }

    /// The same loads with a greatest weight heavier by this part.
    #[must_use]
    pub(crate) fn with_greatest_heavier(&self, part: f64) -> Self {
        Self { greatest_n: self.greatest_n * (1.0 + part), ..self.clone() }
    }

    /// How far the resultant can get from the expected centre in a direction, in m, at the weight that lets it get farthest.
    pub(crate) fn reach_m(&self, direction: Vec2) -> f64 {
        direction.dot(self.middle - self.expected_at)
            + self.spread.reach(direction)
            + self.push.reach(direction) / self.least_n
    }

    /// Unit directions whose half planes together hold the region and little more: exact for boxes and forces of known
    /// direction; a disc is held by 32 of them, outward by less than 0.5 % of its radius.
    pub(crate) fn directions(&self) -> Vec<Vec2> {
        let round = self.spread.has_disc() || 0.0 < self.push.radius_nm;
        let mut directions = if round { polygon_normals() } else { axes().to_vec() };
        for push in self.push.directed_nm.iter().filter_map(|v| v.unit()) {
            directions.extend([push.turned_left(), push.turned_right()]);
        }
        directions
    }

    /// Whether there is one weight at one place and no more.
    pub(crate) fn is_one_load(&self) -> bool {
        let pushed = 0.0 < self.push.radius_nm || !self.push.directed_nm.is_empty();
        let off = self.middle - self.expected_at;
        self.greatest_n <= self.least_n && self.spread.is_none() && !pushed && off.length() <= 0.0
    }

    /// Whether no place of the region is farther than [`GREATEST_LENGTH_M`] from the origin.
    pub(crate) fn is_usable(&self) -> bool {
        axes().iter().all(|d| self.per_weight_m(*d).abs() + self.push.reach(*d) / self.least_n <= GREATEST_LENGTH_M)
    }
}
