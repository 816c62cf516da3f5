//! One phase solved: which method suits its supports, and what each carries within all tolerances.

use super::case::{LoadCase, Placed, Rule};
use super::equilibrium::{NoEquilibrium, Standing, require};
use super::kernel::geometry::{mean, plan_size_m, tolerance_m};
use super::kernel::{
    AffineShare, Bearing, LoadDomain, Stance, Vec2, equal_springs, reaction_bounds, static_shares, tipping,
};
use super::phases::{PhasePlan, Support, supports};
use super::result::{Exactness, Method};
use super::spread;
use crate::Text;
use ramwright_units::Force;

/// One end of what a support carries, and where it happens.
#[derive(Clone, Debug)]
pub(super) struct End {
    pub(super) reaction_n: f64,
    pub(super) weight_n: f64,
    /// The resultant, in m from the origin of the phase; `None` if it was not looked for.
    pub(super) resultant: Option<Vec2>,
    /// Level error of every support, in m; empty where levels do not matter.
    pub(super) levels_m: Vec<f64>,
}

/// What one support carries.
#[derive(Clone, Debug)]
pub(super) struct Carried {
    pub(super) least: End,
    pub(super) expected_n: f64,
    pub(super) greatest: End,
    pub(super) exactness: Exactness,
    /// Least and greatest of any equilibrium, in N, where it was not the method itself.
    pub(super) any_n: Option<(f64, f64)>,
}

/// A phase and its answer.
pub(super) struct Solved<'a> {
    pub(super) plan: &'a PhasePlan,
    pub(super) ground: Ground,
    pub(super) method: Method,
    pub(super) why: Text,
    pub(super) carried: Vec<Carried>,
}

/// The supports of a phase in plan and all loads on them, before any method is chosen.
pub(super) struct Ground {
    pub(super) supports: Vec<Support>,
    /// Origin of `at` and of every resultant, in the coordinates of the request, in m.
    pub(super) origin: Vec2,
    /// The supports in plan, in m from the origin.
    pub(super) at: Vec<Vec2>,
    pub(super) domain: LoadDomain,
    pub(super) stance: Stance,
}

impl Ground {
    /// What a phase stands on.
    ///
    /// # Errors
    /// [`NoEquilibrium`] if nothing carries or the numbers are no plan's.
    pub(super) fn of(case: &LoadCase, placed: &Placed, plan: &PhasePlan) -> Result<Self, NoEquilibrium> {
        let supports = supports(case, placed, plan);
        // Relative to the first support before the mean is taken, so that a far origin costs no digits twice.
        let first = supports.first().map(|support| support.at).ok_or(NoEquilibrium::NothingCarries)?;
        let relative: Vec<Vec2> = supports.iter().map(|support| support.at - first).collect();
        let centroid = mean(&relative);
        let at: Vec<Vec2> = relative.iter().map(|&p| p - centroid).collect();
        let origin = first + centroid;
        let centre = &placed.centre;
        let expected_at = Vec2::new(centre.x.expected.m(), centre.y.expected.m()) - first - centroid;
        let domain = case.domain(centre, expected_at)?;
        let stance = tipping(&at, &domain)?;
        Ok(Self { supports, origin, at, domain, stance })
    }

    pub(super) fn names(&self) -> Vec<&str> {
        self.supports.iter().map(|support| support.name.as_str()).collect()
    }

    /// Refuses what cannot stand at the expected weight and centre.
    pub(super) fn require(&self) -> Result<(), NoEquilibrium> {
        let linked: Vec<bool> = self.supports.iter().map(|support| 1 < support.members.len()).collect();
        let at: Vec<Vec2> = self.supports.iter().map(|support| support.at).collect();
        let standing = Standing {
            names: &self.names(),
            linked: &linked,
            at: &at,
            tolerance_m: tolerance_m(plan_size_m(&self.at)),
        };
        require(&self.stance, &standing)
    }

    /// The supports as springs; `None` where a stiffness is not known.
    pub(super) fn springs(&self, half_band_m: f64) -> Option<Vec<Bearing>> {
        self.supports
            .iter()
            .zip(&self.at)
            .map(|(support, &at)| {
                Some(Bearing {
                    at,
                    stiffness_n_per_m: support.stiffness?.n_per_m(),
                    level_m: support.level_m,
                    half_band_m,
                })
            })
            .collect()
    }

    /// Equal springs at equal levels, for supports of which nothing is known.
    pub(super) fn equal(&self) -> Vec<Bearing> {
        let stiffness_n_per_m = self.domain.greatest_n / plan_size_m(&self.at).max(1e-3);
        self.at.iter().map(|&at| Bearing { at, stiffness_n_per_m, level_m: 0.0, half_band_m: 0.0 }).collect()
    }

    fn nothing_known(&self) -> bool {
        self.supports.iter().all(|support| support.stiffness.is_none() && support.level_m.abs() <= 0.0)
    }
}

impl Solved<'_> {
    /// The greatest share of a point at each support: of a linked group that of its heaviest, of a bearing of the load's own its
    /// reaction.
    pub(super) fn greatest_shares(&self) -> impl Iterator<Item = (&Support, Force)> {
        self.ground.supports.iter().zip(&self.carried).map(|(support, carried)| {
            let heaviest = support.members.iter().map(|member| member.part).reduce(f64::max).unwrap_or(1.0);
            (support, Force::from_n(carried.greatest.reaction_n * heaviest))
        })
    }
}

/// Solves one phase.
///
/// # Errors
/// [`NoEquilibrium`] if the load cannot stand at its expected weight and centre of gravity.
pub(super) fn solve<'a>(case: &LoadCase, placed: &Placed, plan: &'a PhasePlan) -> Result<Solved<'a>, NoEquilibrium> {
    let ground = Ground::of(case, placed, plan)?;
    let (method, why, carried) = match &placed.rule {
        Rule::Girder(girder) => super::girder::carried(girder, placed, &ground)?,
        rule => {
            ground.require()?;
            by_rule(rule, placed, &ground)?
        }
    };
    Ok(Solved { plan, ground, method, why, carried })
}

fn by_rule(rule: &Rule, placed: &Placed, ground: &Ground) -> Result<(Method, Text, Vec<Carried>), NoEquilibrium> {
    if ground.at.len() <= 3 {
        let why = "up to three supports: equilibrium alone gives the shares, whatever the levels are";
        return Ok((Method::Statics, Text::fixed(why), by_statics(ground)?));
    }
    let springs = placed.level_band.and_then(|_| ground.springs(placed.half_band_m()));
    match (rule, springs) {
        (Rule::Automatic, Some(springs)) => {
            elastic(ground, &springs, "more than three supports, and level tolerance and stiffness of each are known")
        }
        (Rule::Elastic, Some(springs)) => elastic(ground, &springs, "asked for"),
        (Rule::Elastic, None) if ground.nothing_known() && placed.level_band.is_none() => {
            elastic(ground, &ground.equal(), "asked for, on equal springs at equal level")
        }
        (Rule::Elastic, None) => match ground.springs(0.0) {
            Some(springs) if placed.level_band.is_none() => {
                elastic(ground, &springs, "asked for, at the levels stated and no others")
            }
            _ => worst(
                ground,
                "elastic shares were asked for, but the stiffness of a support is not known in this phase: the worst equilibrium bounds them",
            ),
        },
        (Rule::WorstEquilibrium, _) => worst(ground, "asked for"),
        (Rule::Automatic | Rule::Girder(_), _) => worst(
            ground,
            "more than three independent supports share by their levels, which are not known: the worst equilibrium is used; a level tolerance with the stiffness of the supports, or linked rams, would gain",
        ),
    }
}

fn by_statics(ground: &Ground) -> Result<Vec<Carried>, NoEquilibrium> {
    let domain = &ground.domain;
    let shares = static_shares(&ground.at, domain.expected_at).map_err(|_| NoEquilibrium::Unusable)?;
    let carried = |share: &AffineShare| {
        let (least, greatest) = share.reaction_range(domain, domain.expected_at);
        let end = |reaction_n: f64, direction: Vec2| {
            // A reaction is linear in the vertical load, so its end is at one of the load's ends.
            let at = |weight_n: f64| domain.member(direction, weight_n);
            let value =
                |weight_n: f64| weight_n * (share.share + share.gradient_per_m.dot(at(weight_n) - domain.expected_at));
            let near = |weight_n: f64| (value(weight_n) - reaction_n).abs();
            let weight_n =
                if near(domain.greatest_n) <= near(domain.least_n) { domain.greatest_n } else { domain.least_n };
            // A share below zero means that the support lifts off: it carries nothing then.
            End { reaction_n: reaction_n.max(0.0), weight_n, resultant: Some(at(weight_n)), levels_m: Vec::new() }
        };
        Carried {
            least: end(least, -share.gradient_per_m),
            expected_n: (domain.expected_n * share.share).max(0.0),
            greatest: end(greatest, share.gradient_per_m),
            exactness: Exactness::Exact,
            any_n: None,
        }
    };
    Ok(shares.iter().map(carried).collect())
}

fn elastic(ground: &Ground, springs: &[Bearing], reason: &str) -> Result<(Method, Text, Vec<Carried>), NoEquilibrium> {
    let bounds = bounds(ground)?;
    let Some((carried, in_contact)) = spread::elastic(springs, &ground.domain, &bounds) else {
        return worst(
            ground,
            "elastic shares could not be computed within rounding, or part of the tolerances tips the load: the worst equilibrium, which bounds them, is used",
        );
    };
    let safe = carried.iter().any(|one| one.exactness == Exactness::SafeSide);
    let contact = match (in_contact, safe) {
        (true, _) => {
            "every support keeps its load within the tolerances, so the shares are linear and exact at known ends"
        }
        (false, false) => {
            "a support can lose its load within the tolerances; the exact extremes were searched for and proven"
        }
        (false, true) => {
            "a support can lose its load within the tolerances; where the search for the extreme was cut short its bound on the safe side stands"
        }
    };
    Ok((Method::Elastic, Text::from(format!("{reason}; {contact}")), carried))
}

/// Least and greatest of any equilibrium, as ends.
pub(super) fn bounds(ground: &Ground) -> Result<Vec<(End, End)>, NoEquilibrium> {
    bounds_of(&ground.at, &ground.domain)
}

/// The same for supports and loads in plan.
pub(super) fn bounds_of(at: &[Vec2], domain: &LoadDomain) -> Result<Vec<(End, End)>, NoEquilibrium> {
    let bounds = reaction_bounds(at, domain)?.ok_or(NoEquilibrium::Unusable)?;
    let end = |bound: super::kernel::BoundExtreme| End {
        reaction_n: bound.reaction_n.max(0.0),
        weight_n: bound.weight_n,
        resultant: bound.resultant,
        levels_m: Vec::new(),
    };
    Ok(bounds.into_iter().map(|bound| (end(bound.least), end(bound.greatest))).collect())
}

fn worst(ground: &Ground, why: &'static str) -> Result<(Method, Text, Vec<Carried>), NoEquilibrium> {
    // What to expect where levels are not known: the springs stated, or equal ones.
    let expected = ground
        .springs(0.0)
        .and_then(|springs| spread::expected(&springs, &ground.domain))
        .map_or_else(|| equal_shares(ground), Ok)?;
    let carried = bounds(ground)?
        .into_iter()
        .zip(expected)
        .map(|((least, greatest), expected_n)| Carried {
            least,
            expected_n,
            greatest,
            exactness: Exactness::Exact,
            any_n: None,
        })
        .collect();
    Ok((Method::WorstEquilibrium, Text::fixed(why), carried))
}

fn equal_shares(ground: &Ground) -> Result<Vec<f64>, NoEquilibrium> {
    let shares = equal_springs(&ground.at, ground.domain.expected_at).map_err(|_| NoEquilibrium::Unusable)?;
    Ok(shares.into_iter().map(|share| share * ground.domain.expected_n).collect())
}
