//! What acts on the load, as the set of resultants that the supports must hold.

use super::case::{Actions, Horizontal, LoadCase, Task};
use super::centre::Centre;
use super::kernel::{CentreSpread, InputError, LoadDomain, PushSpread, Vec2};
use ramwright_units::{Angle, Force, Length, Range};

impl LoadCase {
    /// The vertical load: weight, dynamic factor and slope.
    ///
    /// A slope takes part of the weight off the supports, at most; a dynamic factor adds as much as it takes away.
    pub fn vertical(&self) -> Range<Force> {
        let Actions { slope, dynamic_factor, .. } = self.actions;
        let cosine = slope.map_or(1.0, |slope| libm::cos(slope.angle.rad()));
        Range::new(
            self.weight.least * (cosine * (2.0 - dynamic_factor)),
            self.weight.expected,
            self.weight.greatest * dynamic_factor,
        )
    }

    /// The greatest horizontal force; none in a frame.
    pub fn greatest_horizontal(&self) -> Force {
        if self.task != Task::Raise {
            return Force::ZERO;
        }
        let weight = self.weight.greatest * self.actions.dynamic_factor;
        let slope = self.actions.slope.map_or(Force::ZERO, |slope| weight * libm::sin(slope.angle.rad()));
        let others = self.wind_force() + slope;
        match self.actions.horizontal {
            Horizontal::AtLeast(share) => others.max(weight * share),
            Horizontal::ShareOfWeight(share) => weight * share + others,
            Horizontal::Stated(force) => force + others,
        }
    }

    /// Whether the height of the centre of gravity is needed and not known.
    pub(super) fn lacks_height(&self, centre: &Centre) -> bool {
        let sideways = match self.actions.horizontal {
            Horizontal::AtLeast(share) | Horizontal::ShareOfWeight(share) => 0.0 < share,
            Horizontal::Stated(force) => 0.0 < force.n(),
        };
        let slopes = self.actions.slope.is_some_and(|slope| 0.0 < slope.angle.rad());
        self.task == Task::Raise && centre.z.is_none() && (sideways || slopes)
    }

    fn wind_force(&self) -> Force {
        self.actions.wind.map_or(Force::ZERO, |wind| Force::from_n(wind.pressure.pa() * wind.area.m2()))
    }

    /// Every load that must be held, with its expected centre at `expected_at`. Where the height of the centre of gravity is not known, what acts
    /// there is left out, and the check of tipping says so.
    pub(super) fn domain(&self, centre: &Centre, expected_at: Vec2) -> Result<LoadDomain, InputError> {
        let vertical = self.vertical();
        let height_m = centre.z.map_or(0.0, |z| z.m().abs());
        let sideways = Sideways::of(self, height_m, vertical.greatest);
        let domain = LoadDomain {
            least_n: vertical.least.n(),
            expected_n: vertical.expected.n(),
            greatest_n: vertical.greatest.n(),
            expected_at,
            middle: expected_at + Vec2::new(off_middle_m(&centre.x), off_middle_m(&centre.y)),
            spread: CentreSpread::new(half_m(&centre.x), half_m(&centre.y), sideways.arm_m)?,
            push: PushSpread::new(sideways.radius_nm, sideways.directed_nm)?,
        };
        domain.check()?;
        Ok(domain)
    }
}

/// The moments of all horizontal forces about the plane of the supports.
struct Sideways {
    /// In proportion to the vertical load and in any direction, in m.
    arm_m: f64,
    /// In any direction, in N m.
    radius_nm: f64,
    /// In known directions, in N m.
    directed_nm: Vec<Vec2>,
}

impl Sideways {
    fn of(case: &LoadCase, height_m: f64, greatest: Force) -> Self {
        let mut all = Self { arm_m: 0.0, radius_nm: 0.0, directed_nm: Vec::new() };
        if case.task != Task::Raise {
            return all;
        }
        let mut cosine = 1.0;
        if let Some(slope) = case.actions.slope {
            cosine = libm::cos(slope.angle.rad());
            let tangent = libm::tan(slope.angle.rad());
            match slope.toward {
                None => all.arm_m += tangent * height_m,
                Some(toward) => all.push(toward, greatest.n() * tangent * height_m),
            }
        }
        if let Some(wind) = case.actions.wind {
            let moment_nm = case.wind_force().n() * wind.height.m().abs();
            match wind.toward {
                None => all.radius_nm += moment_nm,
                Some(toward) => all.push(toward, moment_nm),
            }
        }
        // The vertical load is less than the weight on a slope, the horizontal force is not.
        match case.actions.horizontal {
            // What acts in any direction counts towards the least; what acts in one direction leaves the others bare.
            Horizontal::AtLeast(share) => {
                let have_m = all.arm_m + all.radius_nm / greatest.n();
                all.arm_m += (share * height_m / cosine - have_m).max(0.0);
            }
            Horizontal::ShareOfWeight(share) => all.arm_m += share * height_m / cosine,
            Horizontal::Stated(force) => all.radius_nm += force.n() * height_m,
        }
        all
    }

    fn push(&mut self, toward: Angle, moment_nm: f64) {
        self.directed_nm.push(Vec2::new(libm::cos(toward.rad()), libm::sin(toward.rad())) * moment_nm);
    }
}

/// From the expected place to the middle of the tolerance: nothing where it is the same either way.
fn off_middle_m(range: &Range<Length>) -> f64 {
    f64::midpoint((range.least - range.expected).m(), (range.greatest - range.expected).m())
}

fn half_m(range: &Range<Length>) -> f64 {
    // Rounding of a far origin must not turn a tolerance of zero negative.
    ((range.greatest.m() - range.least.m()) / 2.0).max(0.0)
}
