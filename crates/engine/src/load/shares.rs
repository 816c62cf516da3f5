//! The shares of the points, within all tolerances.
//!
//! Without level errors the contact does not depend on the weight, so a share is weight x r(centre): its greatest
//! value is the greatest weight times the greatest r over every place where the centre may be, and so for the least.
//! A horizontal force H at height z moves the centre by H z / W in its own direction.

use super::case::{Horizontal, Level, LoadCase, Placed, Rule, Sharing, Task};
use super::equilibrium::{NoEquilibrium, require};
use super::kernel::geometry::{plan_size_m, tolerance_m};
use super::kernel::{
    AffineShare, CentreSpread, ConvexRegion, Spring, Stance, TippingEdge, Vec2, equal_springs, full_contact_influence,
    share_bounds, static_shares, tipping,
};
use super::result::{LoadShares, Method, PointShare, Tipping};
use crate::Text;
use crate::check::{Check, CheckId, Finding, Lines, Phase, Place, Scenario, Source, Status};
use crate::line;
use ramwright_units::{Force, Length, Range};

/// Least, expected and greatest share of every point, and the distance from tipping.
///
/// # Source
/// Statics; elastic shares by the pile-group formula with contact; bound of all equilibria by convexity.
///
/// # Validity
/// A rigid load on points that only push. More than three points without level tolerance are given the worst equilibrium.
///
/// # Errors
/// [`NoEquilibrium`] if the load cannot stand at its expected weight and centre of gravity.
pub fn share_load(case: &LoadCase) -> Result<LoadShares, NoEquilibrium> {
    match &case.sharing {
        Sharing::Stated(shares) => Ok(stated(case, shares)),
        Sharing::Equal => Ok(equal(case)),
        Sharing::Placed(placed) => Plan::new(case, placed)?.shares(),
    }
}

/// The case without one of its points, as after the loss of everything that stands there.
///
/// Nothing can be said where shares are stated or equal, since then no positions are known.
pub fn without_point(case: &LoadCase, index: usize) -> Option<LoadCase> {
    let Sharing::Placed(placed) = &case.sharing else { return None };
    let mut rest = placed.clone();
    if rest.positions.len() <= index || case.points.len() <= index {
        return None;
    }
    rest.positions.remove(index);
    // What is left after a loss stands by chance, not on level supports.
    rest.rule = Rule::WorstEquilibrium;
    let mut points = case.points.clone();
    points.remove(index);
    Some(LoadCase { sharing: Sharing::Placed(rest), points, ..case.clone() })
}

fn stated(case: &LoadCase, shares: &[Range<Force>]) -> LoadShares {
    let points = case.points.iter().zip(shares);
    LoadShares {
        method: Method::Stated,
        why: Text::fixed("the request states the reaction of every point"),
        weight: case.weight,
        horizontal_force: case.greatest_horizontal(),
        points: points
            .map(|(point, share)| PointShare { point: point.id.clone(), share: *share, any_equilibrium: None })
            .collect(),
        tipping: None,
        checks: match case.task {
            Task::Raise => vec![
                whole(CheckId::Tipping, no_positions(), Lines::default()),
                whole(
                    CheckId::HorizontalForce,
                    Finding::judged(
                        Status::Caution,
                        "the stated reactions are taken to include the effect of every horizontal force",
                    ),
                    Lines::default(),
                ),
            ],
            Task::Press | Task::Pull => Vec::new(),
        },
    }
}

fn equal(case: &LoadCase) -> LoadShares {
    let count = f64::from(u32::try_from(case.points.len()).unwrap_or(u32::MAX));
    let each = Range::new(case.weight.least / count, case.weight.expected / count, case.weight.greatest / count);
    let points = case
        .points
        .iter()
        .map(|point| PointShare { point: point.id.clone(), share: each, any_equilibrium: None })
        .collect();
    LoadShares {
        method: Method::Equal,
        why: Text::fixed("no positions were given, so the total was divided by the number of points"),
        weight: case.weight,
        horizontal_force: case.greatest_horizontal(),
        points,
        tipping: None,
        checks: vec![
            whole(CheckId::Tipping, no_positions(), Lines::default()),
            whole(CheckId::HorizontalForce, no_positions(), Lines::default()),
        ],
    }
}

/// What a check of the load as a whole says where nothing tells where the points are.
fn no_positions() -> Finding {
    Finding::missing(["load_case/points/*/x and y", "load_case/centre_of_gravity"])
}

fn whole(id: CheckId, finding: Finding, lines: Lines) -> Check {
    Check::new(&Place { id, subject: "load", scenario: Scenario::AsPlanned, phase: Phase::Raising }, finding, lines)
}

/// A load in plan, with its coordinates shifted to the mean of the points.
struct Plan<'a> {
    case: &'a LoadCase,
    placed: &'a Placed,
    points: Vec<Vec2>,
    centre: Vec2,
    spread: CentreSpread,
    /// How far the horizontal force moves the centre; nothing if its height is not known.
    radius_m: Option<f64>,
}

impl<'a> Plan<'a> {
    fn new(case: &'a LoadCase, placed: &'a Placed) -> Result<Self, NoEquilibrium> {
        let raw: Vec<Vec2> = placed.positions.iter().map(|(x, y)| Vec2::new(x.m(), y.m())).collect();
        // Relative to the first point before the mean is taken, so that a far origin costs no digits twice.
        let first = raw.first().copied().ok_or(NoEquilibrium::Unusable)?;
        let relative: Vec<Vec2> = raw.iter().map(|&p| p - first).collect();
        let mean = super::kernel::geometry::mean(&relative);
        let points: Vec<Vec2> = relative.iter().map(|&p| p - mean).collect();
        let centre = Vec2::new(placed.centre.x.m(), placed.centre.y.m()) - first - mean;
        let radius_m = placed.centre.z.map(|z| horizontal_arm_m(case, z));
        let tolerance = placed.centre.tolerance.m();
        let spread = CentreSpread::new(tolerance, tolerance, radius_m.unwrap_or(0.0))?;
        Ok(Self { case, placed, points, centre, spread, radius_m })
    }

    fn ids(&self) -> Vec<&str> {
        self.case.points.iter().map(|point| point.id.as_str()).collect()
    }

    fn shares(&self) -> Result<LoadShares, NoEquilibrium> {
        let stance = tipping(&self.points, self.centre, self.spread)?;
        let tolerance = tolerance_m(plan_size_m(&self.points));
        require(&stance, &self.ids(), tolerance)?;
        let (method, why, points) = self.by_rule()?;
        let tipping = self.tipping_result(&stance);
        let checks = self.checks(&stance, method);
        Ok(LoadShares {
            method,
            why,
            weight: self.case.weight,
            horizontal_force: self.case.greatest_horizontal(),
            points,
            tipping,
            checks,
        })
    }

    fn by_rule(&self) -> Result<(Method, Text, Vec<PointShare>), NoEquilibrium> {
        if self.points.len() <= 3 {
            let shares = static_shares(&self.points, self.centre).map_err(|_| NoEquilibrium::Unusable)?;
            let why = Text::fixed("up to three points: equilibrium alone gives the shares, whatever the levels are");
            return Ok((Method::Statics, why, self.affine(&shares, |_| 0.0)));
        }
        match self.placed.rule {
            Rule::Elastic(level) => self.elastic(level),
            Rule::Automatic => {
                let why = "more than three independent points share by their levels, which are not known: the worst equilibrium is used; a level tolerance with the stiffness of the supports, or linked rams, would gain";
                self.worst(Text::fixed(why))
            }
            Rule::WorstEquilibrium => self.worst(Text::fixed("asked for")),
        }
    }

    /// Envelope of shares that are linear in the centre, each with a half width for level errors in N.
    fn affine(&self, shares: &[AffineShare], level_n: impl Fn(usize) -> f64) -> Vec<PointShare> {
        let weight = self.case.weight;
        let ids = self.case.points.iter().zip(shares).enumerate();
        ids.map(|(index, (point, share))| {
            let (least, greatest) = share.envelope(self.spread);
            let level = Force::from_n(level_n(index));
            // A share below zero means that the point lifts off: it carries nothing then.
            let least = weight.least * least.max(0.0) - level;
            let range = Range::new(
                least.max(Force::ZERO),
                weight.expected * share.share.max(0.0),
                weight.greatest * greatest.max(0.0) + level,
            );
            PointShare { point: point.id.clone(), share: range, any_equilibrium: None }
        })
        .collect()
    }

    fn elastic(&self, level: Option<Level>) -> Result<(Method, Text, Vec<PointShare>), NoEquilibrium> {
        let stiffness = level.map_or(1.0, |level| level.stiffness.n_per_m());
        let springs: Vec<Spring> =
            self.points.iter().map(|&at| Spring { at, stiffness_n_per_m: stiffness, level_m: 0.0 }).collect();
        let contact = full_contact_influence(&springs, self.centre).map_err(|_| NoEquilibrium::Unusable)?;
        let half_band_m = level.map_or(0.0, |level| level.band.m() / 2.0);
        let level_n: Vec<f64> = contact
            .level_stiffness_n_per_m
            .iter()
            .map(|row| half_band_m * row.iter().fold(0.0, |sum, element| sum + element.abs()))
            .collect();
        let level_at = |index: usize| level_n.get(index).copied().unwrap_or(0.0);
        let least_weight_n = self.case.weight.least.n();
        let all_in_contact = contact
            .shares
            .iter()
            .enumerate()
            .all(|(index, share)| 0.0 <= share.envelope(self.spread).0 * least_weight_n - level_at(index));
        if !all_in_contact {
            let why = "a point can lift off within the tolerances, where elastic shares are no longer linear: the worst equilibrium, which bounds them, is used";
            return self.worst(Text::fixed(why));
        }
        let why = "asked for; every point stays in contact within the tolerances, so the shares are linear and exact at the corners";
        let mut shares = self.affine(&contact.shares, level_at);
        self.add_bounds(&mut shares)?;
        Ok((Method::Elastic, Text::fixed(why), shares))
    }

    fn worst(&self, why: Text) -> Result<(Method, Text, Vec<PointShare>), NoEquilibrium> {
        let mut shares =
            self.affine(&vec![AffineShare { share: 0.0, gradient_per_m: Vec2::ZERO }; self.points.len()], |_| 0.0);
        self.add_bounds(&mut shares)?;
        for point in &mut shares {
            if let Some(bound) = point.any_equilibrium {
                point.share = bound;
            }
        }
        Ok((Method::WorstEquilibrium, why, shares))
    }

    /// Adds what any equilibrium can bring to each point, with the share on equal springs as the expected one.
    fn add_bounds(&self, shares: &mut [PointShare]) -> Result<(), NoEquilibrium> {
        let region = ConvexRegion::new(self.centre, self.spread)?;
        let bounds = share_bounds(&self.points, &region)?.ok_or(NoEquilibrium::Unusable)?;
        let expected = equal_springs(&self.points, self.centre).map_err(|_| NoEquilibrium::Unusable)?;
        let weight = self.case.weight;
        for ((point, bound), expected) in shares.iter_mut().zip(bounds).zip(expected) {
            point.any_equilibrium = Some(Range::new(
                weight.least * bound.least.max(0.0),
                weight.expected * expected,
                weight.greatest * bound.greatest,
            ));
        }
        Ok(())
    }

    fn governing_edge(stance: &Stance) -> Option<TippingEdge> {
        match stance {
            Stance::Polygon { governing, .. } => Some(*governing),
            Stance::Line { end, .. } => Some(*end),
            Stance::NoSupport | Stance::Point { .. } => None,
        }
    }

    fn tipping_result(&self, stance: &Stance) -> Option<Tipping> {
        let edge = Self::governing_edge(stance)?;
        let ids = self.ids();
        let name = |index: usize| ids.get(index).copied().unwrap_or_default().to_owned();
        let (first, second) = (edge.from.min(edge.to), edge.from.max(edge.to));
        Some(Tipping {
            from: name(first),
            to: name(second),
            distance: Length::from_m(edge.distance_m),
            reach: Length::from_m(edge.reach_m),
            margin: Length::from_m(edge.margin_m()),
        })
    }

    fn checks(&self, stance: &Stance, method: Method) -> Vec<Check> {
        if self.case.task != Task::Raise {
            return Vec::new();
        }
        let mut lines = Lines::default();
        let tipping = self.tipping_finding(stance, &mut lines);
        let mut checks = vec![
            whole(CheckId::Tipping, tipping, lines),
            whole(CheckId::HorizontalForce, self.horizontal_finding(), Lines::default()),
        ];
        checks.push(whole(CheckId::Tolerances, self.tolerance_finding(), Lines::default()));
        if let Some(finding) = self.level_finding(method) {
            checks.push(whole(CheckId::LevelErrors, finding, Lines::default()));
        }
        checks
    }

    fn tipping_finding(&self, stance: &Stance, lines: &mut Lines) -> Finding {
        match stance {
            Stance::Polygon { governing, .. } => {
                let (n_x, n_y) = (governing.outward.x.abs(), governing.outward.y.abs());
                let tolerance = self.placed.centre.tolerance;
                let arm = Length::from_m(self.radius_m.unwrap_or(0.0));
                let reach = line!(lines, s: Length = n_x * t + n_y * t + a; n_x = n_x, n_y = n_y, t = tolerance, a = arm;
                    Source::definition("support function of the box of the centre's tolerance and of the disc of the horizontal force (a = H z / W)"));
                let finding = Finding::compare(reach, Length::from_m(governing.distance_m));
                // What the horizontal force adds is not known, and it can only make this worse.
                let unknown = self.radius_m.is_none() && 0.0 < self.case.greatest_horizontal().n();
                if unknown && finding.status() != Status::Fail {
                    return Finding::missing(["load_case/centre_of_gravity/z"]);
                }
                finding
            }
            Stance::Line { .. } | Stance::Point { .. } | Stance::NoSupport => Finding::judged(
                Status::Fail,
                "the points hold the load along one line at most: any error of the centre of gravity tips it over that line unless guides hold it",
            ),
        }
    }

    fn horizontal_finding(&self) -> Finding {
        if self.radius_m.is_none() && 0.0 < self.case.greatest_horizontal().n() {
            return Finding::missing(["load_case/centre_of_gravity/z"]);
        }
        let least_wanted = self.case.weight.greatest * crate::defaults::HORIZONTAL_SHARE;
        let rounding = 1.0 - 1e-12;
        if self.case.greatest_horizontal() < least_wanted * rounding {
            return Finding::judged(
                Status::Caution,
                "the request sets the horizontal force below 2.5 % of the weight; use that only where guides or the place rule more out",
            );
        }
        Finding::judged(Status::Pass, "taken into account in every share and in the distance from tipping")
    }

    fn tolerance_finding(&self) -> Finding {
        let weight = self.case.weight;
        if (weight.greatest - weight.least).n() <= 0.0 || self.placed.centre.tolerance.m() <= 0.0 {
            return Finding::judged(
                Status::Caution,
                "a tolerance of zero for weight or centre of gravity: nothing is known so well",
            );
        }
        Finding::judged(Status::Pass, "weight and centre of gravity are taken within their tolerances")
    }

    fn level_finding(&self, method: Method) -> Option<Finding> {
        match (method, self.placed.rule) {
            (Method::Elastic, Rule::Elastic(None)) => {
                Some(Finding::missing(["load_case/level_tolerance", "load_case/support_stiffness"]))
            }
            (Method::Elastic, _) => {
                Some(Finding::judged(Status::Pass, "the level band was taken into account at every point"))
            }
            (Method::WorstEquilibrium, _) => {
                Some(Finding::judged(Status::Pass, "the worst equilibrium covers every level error"))
            }
            _ => None,
        }
    }
}

/// How far the horizontal force moves the line of action in the plane of the supports.
fn horizontal_arm_m(case: &LoadCase, z: Length) -> f64 {
    let share = match case.horizontal {
        Horizontal::ShareOfWeight(share) => share,
        // The least weight is the one that the force moves farthest.
        Horizontal::Stated(force) => force.n() / case.weight.least.n(),
    };
    share * z.m().abs()
}
